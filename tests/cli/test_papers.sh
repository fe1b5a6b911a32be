#!/bin/sh
# Papers and copies while the disk fails or the program is killed: all of a set or none, one sentence, nothing left behind.
set -u
. "$(dirname "$0")/../need.sh"
need cc sqlite3 /usr/bin/python3
t=$(cd "$1" && pwd)/tenterbook
here=$(cd "$(dirname "$0")" && pwd)
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=Ada TENTERBOOK_CLOCK=1793664000
cc -shared -fPIC -O1 -D_GNU_SOURCE -o fault.so "$here/papers.c" -ldl || { echo "not ok - the library that makes faults is built"; exit 1; }
cat >list.csv <<'END'
Supplier,Delivery note,Article,Roll,Length m,Composition
Kestrel Weaving,N-1,Plain 40,001,50,100% silk
Kestrel Weaving,N-1,Plain 40,002,48,100% silk
END
{ "$t" new --code W && "$t" set flame yes && "$t" receive list.csv --on 2026-10-20 && "$t" cut 001 &&
	"$t" burn W26-001.01.01 --saw residue_form:hard_bead; } >log 2>&1 || { echo "not ok - there is a book to try with"; sed 's/^/# /' log; exit 1; }
/usr/bin/python3 "$here/papers.py" "$t" "$dir/fault.so" "$dir"
