#!/bin/sh
# The tour of the README runs as it is printed: tests/cli/test_readme.sh BUILD
# Every line "$ command" inside a code block of the tour is run, in one shell as it were: what a line exports holds for the next.
# The program is found as the tour says, not by the test. Each must succeed with nothing on standard error and
# print what stands below it. "..." in the README stands for anything (keys, digests, what was left out).
set -u
. "$(dirname "$0")/../need.sh"
need /usr/bin/python3
build=$(cd "${1:?BUILD}" && pwd)
here=$(cd "$(dirname "$0")/../.." && pwd)
dir=$(mktemp -d); trap 'rm -rf "$dir"' EXIT
ln -s "$here/sample-data" "$dir/sample-data"; ln -s "$build" "$dir/build"
cd "$dir" || exit 1
TENTERBOOK_WHO="Ada Fell" TENTERBOOK_CLOCK=1791190800 exec /usr/bin/python3 - "$here/README.md" <<'P'
import re, subprocess, sys
text = open(sys.argv[1], encoding="utf-8").read()
tour = text[text.index("## A tour"):]
tour = tour[:tour.index("\n## ", 5)]
n = 0
for block in re.findall(r"^```\n(.*?)^```", tour, re.S | re.M):
    for piece in re.split(r"^\$ ", block, flags=re.M)[1:]:
        command, _, shown = piece.partition("\n")
        n += 1
        p = subprocess.run(f"[ ! -f .exported ] || . ./.exported\n{command}\ncode=$?; export -p >.exported; exit $code",
                           shell=True, capture_output=True, text=True)
        # the tour is told by a clock that is given; a reader's runs
        got = [l for l in p.stdout.rstrip("\n").split("\n") if "dated by a clock given by hand" not in l]
        faults = []
        if p.returncode or p.stderr:
            faults.append(f"exit {p.returncode}, standard error: {p.stderr}")
        want = "\n".join(re.escape(l).replace(r"\.\.\.", ".*") for l in shown.rstrip("\n").split("\n"))
        if not re.fullmatch(want, "\n".join(got), re.S):
            faults.append("printed:\n" + p.stdout)
        print(("not ok" if faults else "ok") + f" - the tour's command does what it shows: {command[:60]}")
        for f in faults:
            print("# " + f.replace("\n", "\n# "))
if n < 8:
    print("not ok - the tour has its commands")
P
