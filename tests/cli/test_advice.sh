#!/bin/sh
# What receive advises works: the line it prints, word for word, takes the list in as it stands there, and asks nothing again.
set -u
. "$(dirname "$0")/../need.sh"
need /usr/bin/python3
t=$(cd "$1" && pwd)/tenterbook
lists=$(cd "$(dirname "$0")/../lists" && pwd)
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_CLOCK=1795694400 TENTERBOOK_BOOK="$dir/none.db" TENTERBOOK_WHO=tester
PATH=$(dirname "$t"):$PATH
export PATH
/usr/bin/python3 - "$lists/advice.txt" <<'PY'
import json, re, shlex, subprocess, sys

# "== NAME | what is advised, "-" for no line | what is read with it", then the list itself
for part in open(sys.argv[1], encoding="utf-8").read().split("\n== ")[1:]:
    head, text = part.split("\n", 1)
    name, advised, want = (x.strip() for x in head.split("|"))
    open(name, "w", encoding="utf-8").write(text)
    first = ["tenterbook", "receive", name, "--supplier", "Any Mill", "--note", "7", "--on", "2026-09-20", "--dry-run"]
    p = subprocess.run(first, capture_output=True, text=True)
    asked = [l for l in p.stderr.split("\n") if l.startswith(name + ": ")]
    lines = [l.strip() for l in p.stderr.split("\n") if l.startswith("    tenterbook receive ")]
    given = lines[0].split(" --dry-run", 1)[1].strip() if lines else "-"
    good = p.returncode == 1 and given == advised
    if lines and good:
        q = subprocess.run(lines[0] + " --json", shell=True, capture_output=True, text=True)
        good = q.returncode == 0 and not q.stderr
        got = " + ".join("%s/%s/%s %d %.2f" % (l["article"], l["colour"], l["dye_lot"], l["bolts"], l["metres"])
                         for d in json.loads(q.stdout)["files"][0]["deliveries"] for l in d["lots"]) if good else q.stderr
        good = good and got == want
    else:
        got = p.stderr
        good = good and want in p.stderr  # why there is none, and what to do instead
    print("%s - what is advised of %s works: %s" % ("ok" if good else "not ok", name, advised))
    if not good:
        print("# advised %s\n# %s" % (given, got.replace("\n", "\n# ")))
PY
