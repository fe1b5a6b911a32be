#!/bin/sh
# An answer that cannot be written: what is recorded is said to be recorded, with its reference; what is not, is not.
set -u
. "$(dirname "$0")/../need.sh"
need sqlite3 /usr/bin/python3
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=Ada TENTERBOOK_CLOCK=1793664000
ok() {
	if [ "$1" = 0 ]; then echo "ok - $2"; else echo "not ok - $2"; cat out err 2>/dev/null | sed 's/^/# /'; fi
}
rows() { sqlite3 -batch shed.db 'SELECT count(*) FROM journal'; }
cat >list.csv <<'END'
Supplier,Delivery note,Article,Roll,Length m,Composition
Kestrel Weaving,N-1,Plain 40,001,50,100% silk
Kestrel Weaving,N-1,Plain 40,002,48,100% silk
END
cat >gone.py <<'END'
"""gone.py COMMAND...: its output goes into a pipe that nobody reads; prints the exit code, -13 for SIGPIPE."""
import os, subprocess, sys
r, w = os.pipe()
os.close(r)
print(subprocess.run(sys.argv[1:], stdout=w, stderr=open("err", "w"), restore_signals=True).returncode)
END
if [ ! -c /dev/full ]; then echo "ok - an answer that cannot be written # SKIP this machine has no /dev/full"; exit 0; fi

# each act: what is typed, and how the journal row is told
act() {
	what=$1 row=$2 words=$3; shift 3
	before=$(rows)
	"$t" "$@" 2>err >/dev/full; rc=$?
	: >out
	[ $rc = 3 ] && [ "$(wc -l <err)" = 1 ] && [ "$(rows)" = "$row" ] && [ "$before" = $((row - 1)) ] &&
		grep -q "^tenterbook: the output could not be written; it is recorded all the same: journal row $row, $words\$" err
	ok $? "$what: that it is recorded is said when the answer cannot be"
}
"$t" new --code W 2>err >/dev/full; rc=$?
[ $rc = 3 ] && grep -q '^tenterbook: the output could not be written; what was asked for is done all the same$' err && [ -f shed.db ]
ok $? "new: the book is there, and that is said, when the answer cannot be written"
act "set" 2 "set flame" set flame yes
act "receive" 3 "receive W26-001" receive list.csv --on 2026-10-20
act "cut" 4 "cut W26-001.01.01" cut 001
act "burn" 5 "burn W26-001.01.01" burn W26-001.01.01 --saw residue_form:hard_bead --json
act "settle" 6 "settle W26-001.01" settle W26-001.01 --as held --why "it melts"
act "draw" 7 "draw W26-001" draw W26-001
before=$(rows)
"$t" settle W26-001.01 --as lost --why slip 2>err >/dev/full; rc=$?
[ $rc = 1 ] || [ $rc = 2 ]; ok $? "an act that is refused keeps its own exit code"
[ "$(rows)" = "$before" ] && ! grep -q recorded err; ok $? "and nothing of it is recorded"

"$t" cut 002 2>err >&-; rc=$?
[ $rc = 3 ] && grep -q 'recorded all the same: journal row 8, cut W26-001.01.02$' err && [ "$(rows)" = 8 ]
ok $? "the same with an output that is closed from the start"
"$t" tags W26-001.01 --out t.pdf 2>err >&-; rc=$?
[ $rc = 3 ] && head -c 5 t.pdf | grep -q '%PDF-'; ok $? "what is printed never goes into a file that was opened in place of a closed output"
"$t" prove >out 2>err; ok $? "the book proves afterwards"
[ "$(/usr/bin/python3 gone.py "$t" use 002 --anyway --why "kept for show")" = 3 ] && grep -q "journal row 9, use W26-001.01\$" err && [ "$(rows)" = 9 ]
ok $? "the same when the reader of a pipe has gone"

[ "$(/usr/bin/python3 gone.py "$t" lots)" = -13 ] && [ ! -s err ]
ok $? "a command that only reads ends quietly when its reader has gone"
"$t" lots 2>err >/dev/full; rc=$?
[ $rc = 1 ] && [ "$(cat err)" = "tenterbook: the output could not be written" ]; ok $? "and says that a full disk took no answer"

"$t" draw W26-001 --seed x --curve c.svg >out 2>err
"$t" draw W26-001 --seed y --curve c.svg >out 2>err; rc=$?
[ $rc = 1 ] && [ ! -s out ] && grep -q '^tenterbook: c.svg is there already; --replace writes over it$' err && [ "$(rows)" = 10 ]
ok $? "a draw whose curve has no place is not recorded"
TENTERBOOK_CLOCK=1793653200 "$t" draw W26-001 --seed z >out 2>err
grep -q '^The clock went back by 3 hours from the record before; the journal shows it.$' out && [ ! -s err ]; ok $? "a draw tells that the clock went back"
TENTERBOOK_CLOCK=1793653200 "$t" draw W26-001 --seed z >out 2>err; ! grep -q clock out; ok $? "and says nothing of a clock that went on"
"$t" prove >out 2>err; grep -q '^The clock went back 1 time from one record to the next: by 3 hours, before journal row 11.$' out; ok $? "prove tells it too"
mkdir small && if mount -t tmpfs -o size=4k tmpfs small 2>/dev/null; then
	"$t" draw W26-001 --seed y --curve small/c.svg >out 2>err; rc=$?
	[ $rc = 3 ] && [ ! -s out ] && grep -q '^tenterbook: small/c.svg cannot be written: .*; it is recorded all the same: journal row 13, draw W26-001$' err &&
		[ -z "$(ls -A small)" ]
	ok $? "a draw whose curve finds the disk full says that the draw is recorded"
	umount small
fi
