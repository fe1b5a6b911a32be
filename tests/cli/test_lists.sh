#!/bin/sh
# Packing lists as suppliers write them: most are read at once, and none is taken in wrongly.
set -u
. "$(dirname "$0")/../need.sh"
need /usr/bin/python3
t=$(cd "$1" && pwd)/tenterbook
lists=$(cd "$(dirname "$0")/../lists" && pwd)
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_CLOCK=1795694400 TENTERBOOK_BOOK="$dir/none.db" TENTERBOOK_WHO=tester

cat >compare.py <<'PY'
import json, subprocess, sys
tool, lists = sys.argv[1:]
want = {}
for line in open(lists + "/read.tsv", encoding="utf-8"):
    if not line.startswith("#"):
        name, *lot = line.rstrip("\n").split("\t")
        want.setdefault(name, []).append(lot)
right = 0
for name, lots in want.items():
    p = subprocess.run([tool, "receive", f"{lists}/{name}", "--supplier", "Any Mill", "--note", "7", "--note-date",
                        "2026-09-14", "--on", "2026-09-20", "--dry-run", "--json"], capture_output=True, text=True)
    if p.returncode == 0:
        got = [[l["article"], l["colour"], l["dye_lot"], l["declared"]["text"], str(l["bolts"]), f'{l["metres"]:.2f}']
               for d in json.loads(p.stdout)["files"][0]["deliveries"] for l in d["lots"]]
        same = got == lots
        right += same
        print(f"{'ok' if same else 'not ok'} - what is read of {name} is what a person reads")
        if not same:
            print(f"# got  {got}\n# want {lots}")
    else:
        asked = p.returncode == 1 and p.stderr.strip() != ""
        print(f"{'ok' if asked else 'not ok'} - {name} is asked about, and not taken")
        print("# " + p.stderr.strip().replace("\n", "\n# "))
print(f"{'ok' if right >= 33 and len(want) == 40 else 'not ok'} - of forty lists at least thirty-three are read right ({right})")
PY
/usr/bin/python3 compare.py "$t" "$lists"
