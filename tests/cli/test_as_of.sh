#!/bin/sh
# sheet --as-of: an old month as it was known then, held against the sheets that were made that day. Invented trade.
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need sqlite3 unzip
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=Boss
at() { TENTERBOOK_CLOCK=$(date -u -d "$1" +%s) && export TENTERBOOK_CLOCK; }

at "2026-10-05 09:00"
run new --code W
run set flame yes
{
	echo "supplier,delivery note,date,article,colour,bolt no,length m,composition,unit price,currency"
	for i in 1 2 3 4; do echo "Alder Mill,N-1,2026-10-04,Q$i,navy,A$i,$((40 + i)),100% silk,3.00,EUR"; done
} >list.csv
run receive list.csv --on 2026-10-05
ok "the list is received" is 0
run cut A1
run burn W26-001.01.01 --saw approach:shrinks_away,in_flame:drips,smoke:black,odour:chemical_plastic,residue_form:hard_bead --not odour:burning_hair
ok "a burn contradicts and holds the lot" has "The lot is now held"
run set market eu

# the sheets of that evening
at "2026-10-06 23:59:59"
run sheet --month 2026-10 --out then.xlsx
ok "the sheets of that day are made" is 0

# everything that happened later
at "2026-10-20 09:00"
run void W26-001.01.01 --why "the wrong swatch was burnt" --yes
ok "the burn is void later" is 0
run cut A2
run burn W26-001.02.01 --saw odour:burning_hair,residue_form:crushable_bead,approach:curls --not odour:chemical_plastic
run settle W26-001.03 --as returned --why "came too late"
run set market gb
sed 's/N-1/N-2/; s/,A/,B/' list.csv >more.csv
run receive more.csv --note N-2 --on 2026-10-19
at "2026-11-02 09:00"
run sheet --month 2026-10 --out now.xlsx
ok "the month shows now what came later" [ "$(grep -c . now-lots.csv)" -gt "$(grep -c . then-lots.csv)" ]

run sheet --month 2026-10 --as-of 2026-10-06 --out again.xlsx
ok "an old month is made as it was known then" has "As it was known at the end of 2026-10-06 (UTC): nothing that was recorded later is in it."
n=0
for f in then-*.csv; do cmp -s "$f" "again${f#then}" && n=$((n + 1)); done
ok "each of its sheets is the one that was made that day, to the byte" [ "$n" = "$(find . -name 'then-*.csv' | wc -l)" ]
ok "and there is more than one" [ "$n" -gt 8 ]
unzip -p again.xlsx xl/worksheets/sheet1.xml >again.xml
ok "its first page says that nothing later is in it" grep -q "as they were known at 2026-10-06 23:59 UTC: nothing that was recorded later is in these sheets" again.xml
run sheet --month 2026-10 --as-of 2026-10-06 --json
ok "without a name it has the day in its name" [ -f cloth-2026-10-as-of-2026-10-06.xlsx ]
ok "JSON tells the day" has '"as_of": "2026-10-06"'

run sheet --month 2026-10 --as-of 2026-10-20 --out later.xlsx
ok "a later day has what was recorded up to it" [ "$(grep -c . later-lots.csv)" = "$(grep -c . now-lots.csv)" ]
rows=$(sqlite3 shed.db "SELECT count(*) FROM journal")
run prove
ok "the book is what it was" [ "$rows" = "$(sqlite3 shed.db "SELECT count(*) FROM journal")" ]
ok "and proves" is 0

run sheet --month 2026-10 --as-of 2026-11-02 --out no.xlsx
ok "a day that is not over is refused" refused "2026-11-02 is not over yet: what the book is then cannot be told"
run sheet --month 2026-10 --as-of 2026-09-30 --out no.xlsx
ok "a day before the span is refused" refused "on 2026-09-30 nothing was known of a span that begins with 2026-10"
run sheet --month 2026-10 --as-of 2026-10-04 --out no.xlsx
ok "a day before the book is refused" refused "the journal of this book has no row up to 2026-10-04"
run sheet --month 2026-10 --as-of yesterday --out no.xlsx
ok "a word that is no day is refused" [ "$code" != 0 ]
ok "nothing is left of a refusal" [ ! -e no.xlsx ]
