#!/bin/sh
# Where the pages of a case break, of a lot with many swatches: no row of a table and no heading stands alone. An invented mill.
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need pdftotext pdfinfo /usr/bin/python3
t=$(cd "$1" && pwd)/tenterbook
here=$(cd "$(dirname "$0")" && pwd)
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO="Ada Fell"

now=1792900000
t() { now=$((now + 60)) && TENTERBOOK_CLOCK=$now "$t" "$@" >out 2>err || { echo "not ok - tenterbook $*" && sed 's/^/# /' err; }; }
t new --code W --name "Westgate shed" --country GB
t set flame yes
/usr/bin/python3 -c 'print("article,roll,length m,composition,price,currency")
for i in range(1, 15): print("Crepe 9,%03d,50,100%% silk,18,EUR" % i)' >list.csv
t receive list.csv --supplier "Weaver Inlet" --note 7 --on 2026-10-05
/usr/bin/python3 -c 'print("bolt,saw,not")
for i in range(1, 12): print("%03d,in_flame:melts residue_form:hard_bead,odour:burning_hair" % i)' >burns.csv
t burn --from burns.csv
# each swatch more moves all that stands below it
for language in en en en de zh; do
	t cut 012 --lot W26-001.01
	papers="${papers:-} $language-$now.pdf"
	t case W26-001.01 --language $language --out "$language-$now.pdf"
done
# shellcheck disable=SC2086 # a word each
/usr/bin/python3 "$here/page_breaks.py" $papers >found
ok "no row of a table and no heading of a long case stands alone, in three languages" [ ! -s found ]
sed 's/^/# /' found
