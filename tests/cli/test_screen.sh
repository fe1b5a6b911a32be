#!/bin/sh
# What a terminal of 80 columns gets, against what a file gets: tests/cli/test_screen.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"
need /usr/bin/python3
if ! /usr/bin/python3 -c 'import os, pty; [os.close(fd) for fd in pty.openpty()]' 2>/dev/null; then
	echo "ok - what a terminal shows # SKIP this machine gives no pseudo-terminal, so what a terminal shows is not tested"
	exit 0
fi
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=Ada TENTERBOOK_CLOCK=1793664000
cat >list.csv <<'END'
Supplier,Delivery note,Article,Roll,Length m,Composition
Υφαντουργία Αιγαίου και Υιοί,N-1,Plain 40,001,50,100% cotton
Υφαντουργία Αιγαίου και Υιοί,N-1,Plain 40,002,48,100% cotton
杭州云锦丝绸织造有限公司,N-2,素绉缎,A1,30,100% silk
END
cat >screen.py <<'END'
"""Runs a command on a terminal of so many columns: screen.py COLUMNS COMMAND... ; prints what arrived there."""
import fcntl, os, pty, struct, sys, termios
pid, fd = pty.fork()
if pid == 0:
    fcntl.ioctl(1, termios.TIOCSWINSZ, struct.pack("HHHH", 24, int(sys.argv[1]), 0, 0))
    os.execv(sys.argv[2], sys.argv[2:])
got = b""
while True:
    try:
        part = os.read(fd, 65536)
    except OSError:
        break
    if not part:
        break
    got += part
sys.stdout.buffer.write(got.replace(b"\r\n", b"\n"))
sys.exit(os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1]))
END
cat >compare.py <<'END'
"""compare.py COLUMNS SCREEN FILE: no line too wide but a command, no word lost or cut, in the same order unless --table."""
import sys, unicodedata
def columns(s):
    return sum(0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in s)
screen, file = open(sys.argv[2]).read(), open(sys.argv[3]).read()
wide = [l for l in screen.splitlines() if columns(l) > int(sys.argv[1]) and not l.split()[0] == "tenterbook"]
blanks = [l for l in screen.splitlines() if l.endswith(" ")] if "--table" not in sys.argv else []
a, b = screen.split(), file.split()
if "--table" in sys.argv:
    a, b = sorted(a), sorted(b)
if wide or blanks or a != b:
    print("# wide", wide, "blank at the end", blanks, "words", [x for x in zip(a, b) if x[0] != x[1]][:3])
    sys.exit(1)
END
# both SENTENCE COLUMNS [--table] -- ARGUMENTS...: the command writes the same words to a terminal and to a file
both() {
	what=$1 columns=$2 how=
	shift 2
	[ "$1" = --table ] && how=--table && shift
	shift
	"$t" "$@" >file 2>err && /usr/bin/python3 screen.py "$columns" "$t" "$@" >screen && /usr/bin/python3 compare.py "$columns" screen file $how
	if [ $? = 0 ]; then echo "ok - $what"; else echo "not ok - $what"; sed 's/^/# /' screen err; fi
}
ok() { if [ "$1" = 0 ]; then echo "ok - $2"; else echo "not ok - $2"; fi; }

"$t" new --code W --name "Westgate shed" --country GB >/dev/null
"$t" receive list.csv >/dev/null
"$t" set flame yes >/dev/null
"$t" cut 001 --lot W26-001.01 >/dev/null
"$t" burn W26-001.01.01 --saw in_flame:drips,residue_form:hard_bead,smoke:black --not odour:burning_paper >/dev/null
both "a verdict is told in lines that fit" 80 -- judge W26-001.01
both "all that is known of a lot fits" 80 -- look W26-001.01
both "the list of lots goes on below where it is wider than the terminal" 80 --table -- lots
[ "$(grep -cE '^W26-[0-9.]+  ' screen)" = 2 ] && [ "$(sed -n '2,/^W26-002/p' screen | grep -c '^    [^ ]')" -ge 1 ]
ok $? "every lot begins a line and what follows is set in"
both "a wide terminal shows a row in one line" 200 -- lots
cmp -s screen file; ok $? "as a file has it"
both "the settings fit" 80 --table -- set
both "a plan with its bars keeps to 80 columns" 80 -- draw --bolts 40 --false 3 --sure 0.9
[ "$(grep "#" screen)" = "$(grep "#" file)" ]; ok $? "a bar on the line of its figures"
both "an analysis fits" 80 -- assay --mixture "cotton / polyester" --dissolved cotton --specimen 1.002 --residue 0.403 --specimen 0.998 --residue 0.399
grep -q "^  cotton  .* [0-9.]* *[0-9.]*$" screen; ok $? "a fibre on a line"
both "settings fit a narrow terminal too" 60 -- judge W26-001.01
bad=
for c in $("$t" help | sed -n 's/^  \([a-z][a-z]*\) .*/\1/p'); do
	"$t" "$c" --help >file
	/usr/bin/python3 screen.py 80 "$t" "$c" --help >screen && /usr/bin/python3 compare.py 80 screen file || bad="$bad $c"
	sed '/^usage:/d; /^examples:/,$d' file | awk 'length > 80 { exit 1 }' || bad="$bad $c(file)"
done
[ -z "$bad" ]; ok $? "the help of every command fits 80 columns:$bad"
"$t" lots --json >file && /usr/bin/python3 screen.py 80 "$t" lots --json >screen && cmp -s file screen
ok $? "what programs read is never broken into lines"
printf 'id,declared,saw,not,looked\na,100%% silk,odour:burning_paper smoke:black residue_form:hard_bead,,\n' >rows.csv
"$t" judge --from rows.csv >file && /usr/bin/python3 screen.py 80 "$t" judge --from rows.csv >screen && cmp -s file screen
ok $? "nor are verdicts in JSON, one a line"
/usr/bin/python3 screen.py 80 "$t" case W26-001.01 --notice >screen; grep -q '^  tenterbook dispute W26-001.01 --notified --by CHANNEL --proof NUMBER --document notice-W26-001.01.pdf$' screen
ok $? "a command to be copied stays on one line"
/usr/bin/python3 screen.py 80 "$t" look W26-009.01 >screen; [ $? = 1 ] && grep -q '^tenterbook: ' screen
ok $? "a refusal is a refusal on a terminal too"
