#!/bin/sh
# The month against the month before, the year before and the site's target; months without deliveries. Invented trade.
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need pdftotext pdfinfo /usr/bin/python3
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=Boss
at() { TENTERBOOK_CLOCK=$(date -u -d "$1" +%s) && export TENTERBOOK_CLOCK; }
# summary ITEM WORDS: the note, or the figure, of the line with this item
summary() { /usr/bin/python3 -c 'import csv,sys; print(next((r["figure"] + "|" + r["note"] for r in csv.DictReader(open(sys.argv[1], newline="")) if r["item"] == sys.argv[2]), "none"))' "$1" "$2"; }

at "2025-10-01"
run new --code W
run set flame yes
for month in 2025-10 2026-07 2026-10; do
	at "$month-15 12:00"
	{
		echo "supplier,delivery note,date,article,colour,bolt no,length m,composition"
		for i in 1 2 3; do echo "Alder Mill,N-$month,$month-10,Q$i,navy,B$month$i,$((40 + i)),100% silk"; done
	} >list.csv
	run receive list.csv --on $month-12
	run cut B${month}1 --json
	tag=$(/usr/bin/python3 -c 'import json; print(json.load(open("out"))["swatch"])')
	if [ $month = 2026-10 ]; then
		run burn "$tag" --saw odour:burning_hair,residue_form:crushable_bead,approach:curls_away --not odour:chemical_plastic
	else
		run burn "$tag" --saw approach:shrinks_away,in_flame:drips,smoke:black,odour:chemical_plastic,residue_form:hard_bead --not odour:burning_hair
	fi
done
at "2026-11-02 12:00"

# --- the target ---
run set target:2026-13-01 "5 %"
ok "a target needs a day" refused "'2026-13-01' is not a valid date; a target is set from a day on: target:2026-01-01"
for words in "few" "0 %" "100 %" "5" "% at most"; do run set target:2026-01-01 "$words"; [ "$code" = 1 ] || echo "$words"; done >taken
ok "and a share" [ ! -s taken ]
run sheet --month 2026-10 --out none.xlsx
ok "without a target the summary says how one is set" [ "$(summary none-summary.csv "Target of the site")" = '|none is set: set target:2026-01-01 "5 % in your own words"' ]
run set target:2025-01-01 "20 % while we learn"
run set target:2026-08-01 "2,5 % as agreed with purchasing"
ok "a target may have a decimal comma" is 0
run sheet --month 2026-10 --out now.xlsx
ok "the sheets are written" is 0
ok "the latest target counts, in the words of the site" [ "$(summary now-summary.csv "Target of the site: at most")" = "0.025|kept by the lots looked at; the 95 % interval reaches to 97.5 %; from 2026-08-01 on: as agreed with purchasing" ]
/usr/bin/python3 - now.xlsx >cards <<'CARDS'
import re, sys, zipfile
book = zipfile.ZipFile(sys.argv[1])
names = re.findall(r'<sheet name="([^"]*)"', book.read("xl/workbook.xml").decode())
sheet = book.read(f"xl/worksheets/sheet{names.index('Scorecards') + 1}.xml").decode()
for row in re.findall(r"<row .*?</row>", sheet, re.S):
    print("|".join(a or b for a, b in re.findall(r"<t[^>]*>([^<]*)</t>|<v>([^<]*)</v>", row)))
print(len(re.findall("<drawing ", sheet)), "drawing", len(re.findall("<autoFilter", sheet)), "filter")
charts = [book.read(n).decode() for n in book.namelist() if n.startswith("xl/charts/")]
print(sum("lineChart" in c and "'Scorecards'!" in c.replace("Scorecards!", "'Scorecards'!") for c in charts), "chart of a card")
CARDS
ok "a card begins with its supplier" grep -qE '^Alder Mill$' cards
ok "its months end with what they come to" grep -qE '^In all\|13 months\|9\|3\|0\|1\|2\|0\|0.66666' cards
ok "held against the target of the site" grep -qF 'Target: at most 2.5 %, from 2026-08-01 on: missed: the whole 95 % interval is above it' cards
ok "with the money of its claims" grep -qF 'Claims: no amount was named in these months' cards
ok "and a chart of its own, with the target beside" eval 'grep -q "1 drawing 0 filter" cards && grep -q "^1 chart of a card" cards'
ok "the target of each month stands beside its share" [ "$(cut -d, -f1,12 now-months.csv | tr -d '\r' | tr '\n' ' ')" = "month,target 2025-10,0.2 2025-11,0.2 2025-12,0.2 2026-01,0.2 2026-02,0.2 2026-03,0.2 2026-04,0.2 2026-05,0.2 2026-06,0.2 2026-07,0.2 2026-08,0.025 2026-09,0.025 2026-10,0.025 " ]
run sheet --month 2026-07 --out july.xlsx
ok "a month before it keeps the earlier one" [ "$(summary july-summary.csv "Target of the site: at most")" = "0.2|missed by the lots looked at; the 95 % interval begins at 2.5 %; from 2025-01-01 on: while we learn" ]
run set target:2026-09-01 ""
run sheet --month 2026-10 --out again.xlsx
ok "a target ends on a day, too" [ "$(summary again-summary.csv "Target of the site" | cut -c1-13)" = "|none is set:" ]

# --- other months ---
ok "a month without a delivery is told" [ "$(summary now-summary.csv "Last month, 2026-09")" = "|no delivery arrived in that month" ]
ok "the year before is told with counts, interval and what may be chance" [ "$(summary now-summary.csv "Last year, 2025-10")" = "1|1 of 1 looked at, 95 % interval 2.5 to 100.0 %; this month -100.0 points; the 95 % intervals overlap, so it may be chance" ]
ok "what lies before the book is not called empty" [ "$(summary july-summary.csv "Last year, 2025-07")" = "|the book has nothing of that month, and nothing before it" ]
cut -d, -f1,2 now-months.csv | tr -d '\r' | tr '\n' ' ' >months
ok "every month has its place" [ "$(cat months)" = "month,lots 2025-10,3 2025-11,0 2025-12,0 2026-01,0 2026-02,0 2026-03,0 2026-04,0 2026-05,0 2026-06,0 2026-07,3 2026-08,0 2026-09,0 2026-10,3 " ]
ok "those without a delivery say so" [ "$(grep -c 'no delivery arrived' now-months.csv)" = 10 ]
pdftotext now.pdf - | tr -s '\n ' ' ' >page
ok "the page says it in one sentence" grep -qF "Not conforming in 2026-10: 0.0 % (0 of 1); last month, 2026-09: no delivery; last year, 2025-10: 100.0 % (1 of 1); target: at most 2.5 %, kept by the lots looked at; the 95 % interval reaches to 97.5 %." page
ok "under the first of thirteen months its year is whole, and no count is cut" eval 'grep -qF "’25" page && ! grep -qF "…" page'
ok "the chart says what its broken line is" grep -qF "broken line: the target of the site" page
ok "and is still one page" [ "$(pdfinfo now.pdf | sed -n 's/^Pages: *//p')" = 1 ]
run sheet --month 2026-11 --out empty.xlsx
ok "a month in which nothing came in is compared, too" [ "$(summary empty-summary.csv "Last month, 2026-10")" = "0|0 of 1 looked at, 95 % interval 0.0 to 97.5 %; no delivery arrived in this month: there is nothing to compare" ]
ok "the summary says that nothing came in" [ "$(summary empty-summary.csv Deliveries)" = "0|no delivery arrived" ]
run sheet --month 2026-11 --out empty.xlsx --replace
ok "and so does the answer" has "Came in, 2026-11: nothing; no delivery arrived."
ok "and nothing of zeros" [ "$(grep -c "Lots looked at" out)" = 0 ]
pdftotext empty.pdf - | tr -s '\n ' ' ' >page
ok "and the page" grep -qF "no delivery arrived 0 of 0 bolts tested" page
ok "which compares it, too" grep -qF "Not conforming in 2026-11: no delivery; last month, 2026-10: 0.0 % (0 of 1)" page
run sheet --month 2025-07 --out early.xlsx
ok "a month before the first delivery is told as such" has "Came in, 2025-07: nothing; the book begins later: its first delivery arrived on 2025-10-12."
ok "in the summary, too" [ "$(summary early-summary.csv Deliveries)" = "0|the book begins later: its first delivery arrived on 2025-10-12" ]
run sheet --month 2028-03 --out late.xlsx
ok "long after the last delivery the months keep their place" [ "$(tail -n 1 late-months.csv | cut -d, -f1,2)" = "2028-03,0" ]
ok "and are not before the book" [ "$(summary late-summary.csv "Last year, 2027-03")" = "|no delivery arrived in that month" ]

# --- laboratories ---
at "2026-11-02 13:00"
for b in B2026-102 B2026-103; do for k in 1 2 3; do run cut $b --kept "shelf 4"; done; done
run share W26-002.02 --laboratory "Ring Street Laboratory" --seed a
ok "a sample goes to a laboratory" is 0
at "2026-11-05 13:00"
run share W26-002.03 --laboratory "Ring Street Laboratory" --seed b
at "2026-11-14 09:00"
run assay W26-002.02 --found "100% silk" --uncertainty 0.5 --laboratory "Ring Street Laboratory" --on 2026-11-13
ok "and is answered" is 0
at "2026-11-20 09:00"
run sheet --month 2026-11 --out lab.xlsx
ok "the time from sample to answer is told" [ "$(summary lab-summary.csv "From sample to answer")" = "11|median of 1 answers in the span, the longest 11 days; from sending, else from cutting" ]
ok "and what waits, and since when" [ "$(summary lab-summary.csv "Samples not answered yet")" = "1|with a laboratory; the oldest since 2026-11-05, 15 days" ]
ok "analyses count by their day" [ "$(summary lab-summary.csv "Analyses")" = "1|by the day of the analysis" ]
run sheet --month 2026-11 --as-of 2026-11-10 --out labthen.xlsx
ok "as known before the answer, both wait" [ "$(summary labthen-summary.csv "Samples not answered yet")" = "2|with a laboratory; the oldest since 2026-11-02, 8 days" ]
run cut B2026-101 --kept "shelf 4"
at "2026-11-28 09:00"
run assay W26-002.01 --found "100% silk" --uncertainty 0.5 --laboratory "Ring Street Laboratory" --on 2026-11-27
ok "what was sent without a joint sample is answered" is 0
run sheet --month 2026-11 --out lab2.xlsx
ok "its time counts from the day its swatch was cut" [ "$(summary lab2-summary.csv "From sample to answer")" = "9|median of 2 answers in the span, the longest 11 days; from sending, else from cutting" ]
