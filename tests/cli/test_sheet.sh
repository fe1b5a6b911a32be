#!/bin/sh
# The month's workbook: opened by LibreOffice, recalculated, compared with its CSV twins; printed; hostile names.
set -u
. "$(dirname "$0")/../need.sh"
need sqlite3 pdftotext pdfinfo pdffonts libreoffice unzip /usr/bin/python3
build=$(cd "${1:?BUILD}" && pwd)
tb=$build/tenterbook
here=$(cd "$(dirname "$0")" && pwd)
sample=$here/../../sample-data
dir=$(mktemp -d) || exit 1
trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_BOOK="$dir/book.db" TENTERBOOK_WHO="Ines Okonjo" TENTERBOOK_CLOCK=1793000000 HOME="$dir" LC_ALL=C.UTF-8
say() { if [ "$1" = 0 ]; then echo "ok - $2"; else echo "not ok - $2"; [ -z "${3:-}" ] || echo "# $3"; fi; }
office() { libreoffice --headless -env:UserInstallation="file://$dir/office" --convert-to "$1" --outdir "$2" "$3" >office.log 2>&1; }

"$tb" new --code M --name "Mill Lane shed" --country GB >/dev/null 2>&1 || { echo "not ok - a book can be made"; exit 1; }
for list in brindlewick-4471.csv quellgrund-26-0871.csv almtjarn-fs-615.csv yuntang-YT260919.xlsx; do
	"$tb" receive "$sample/$list" --on 2026-10-05 >receive.log 2>&1 || { echo "not ok - $list is received"; sed 's/^/# /' receive.log; }
done
# names that a spreadsheet would take for formulas, and names in other scripts
cat >hostile.csv <<'EOF'
Supplier,Delivery note,Bolt,Length m,Article,Colour,Composition
=HYPERLINK(A1),N-1,=1+1,20,@SUM(A1),+red,100% cotton
=HYPERLINK(A1),N-1,-2,21.5,@SUM(A1),+red,100% cotton
=HYPERLINK(A1),N-1,B3,22,綢布 حرير,Шёлк Υφάσματα,100% silk
EOF
"$tb" receive hostile.csv --note N-1 --on 2026-10-06 >receive.log 2>&1
say $? "names that look like formulas are received" "$(head -1 receive.log)"

# a few burns, so that there are verdicts of each kind
"$tb" set flame yes >/dev/null 2>&1
# in the book of the sample trade these two lists are the fifth and the sixth
sed -n -e '/^lot/p' -e 's/^M26-005/M26-001/p' -e 's/^M26-006/M26-002/p' "$sample/burns-2026-10.csv" >burns.csv
TENTERBOOK_CLOCK=1793300000 "$tb" burn --from burns.csv >burn.log 2>&1; say $? "burns are recorded" "$(tail -3 burn.log)"

"$tb" sheet --month 2026-10 --market "eu us" --out month.xlsx >out 2>err
say $? "a month's workbook is written" "$(cat err)"
[ ! -s err ]; say $? "nothing is said on stderr" "$(cat err)"
grep -q '^Came in, 2026-10: deliveries 5, ' out && grep -q '^Written: month.xlsx, ' out
say $? "the command says what it counted and where it wrote" "$(cat out)"
[ "$(find . -name 'month*' | wc -l)" = 15 ] && [ -z "$(find . -name '.tenterbook*')" ]
say $? "a workbook, its page, thirteen CSV files and nothing else are left" "$(ls)"

/usr/bin/python3 - <<'EOF'
import csv
from math import comb
read = lambda f: list(csv.DictReader(open(f, encoding="utf-8", newline="")))
lots, summary = read("month-lots.csv"), {(r["section"], r["item"]): r["figure"] for r in read("month-summary.csv")}
n = lambda v: sum(l["verdict"] == v for l in lots)
judged, k = len(lots) - n(""), n("contradicts")
say = lambda good, what: print(("ok" if good else "not ok") + " - " + what)
bench = "Judged by burning and testing alone"
say(judged > 4 and all(int(summary[bench, i]) == v for i, v in
    (("fit", n("fits")), ("contradict", k), ("undecided", n("undecided")))), "the summary counts the verdicts of the lots")
told = "Concluded, of the supplier's words, from all that is known"
c = lambda v: sum(l["conclusion"] == v for l in lots)
say(all(int(summary[told, i]) == v for i, v in
    (("Lots looked at", judged), ("do not conform", c("does not conform")), ("no finding against the words", c("no finding against it")),
     ("conform, after laboratory", c("conforms")))) and c("does not conform") == k, "and what is concluded of them")
share = "Not conforming, by all that is known"
at_least = lambda k, p: sum(comb(judged, i) * p ** i * (1 - p) ** (judged - i) for i in range(k, judged + 1))
def root(k, want):  # the share at which k or more would be seen with this chance: rising in p
    a, b = 0.0, 1.0
    for _ in range(80):
        a, b = ((a + b) / 2, b) if at_least(k, (a + b) / 2) < want else (a, (a + b) / 2)
    return a
low, high = 0 if k == 0 else root(k, .025), 1 if k == judged else root(k + 1, .975)
say(abs(float(summary[share, "Share of lots looked at that do not conform"]) - k / judged) < 1e-6 and
    abs(float(summary[share, "  at least, with 95 % confidence"]) - low) < 1e-6 and
    abs(float(summary[share, "  at most, with 95 % confidence"]) - high) < 1e-6,  # six digits are printed
    "the share and its exact interval are those of the binomial tails")
EOF
mkdir sheets
office 'csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1' sheets month.xlsx
found=$(find sheets -name '*.csv' | wc -l)
[ "$found" = 14 ]; say $? "LibreOffice opens the workbook and finds its 14 sheets" "found $found: $(ls sheets | tr '\n' ' ') $(cat office.log)"
/usr/bin/python3 "$here/compare_twins.py" "$dir/month" "$dir/sheets"
# the same without the stored values: what LibreOffice shows then it has worked out itself
mkdir bare again; /usr/bin/python3 - <<'EOF'
import re, zipfile
with zipfile.ZipFile("month.xlsx") as old, zipfile.ZipFile("bare/month.xlsx", "w", zipfile.ZIP_DEFLATED) as new:
    for name in old.namelist():
        part = old.read(name)
        if name.startswith("xl/worksheets/sheet"):
            part = re.sub(rb"(</f>)<v>[^<]*</v>", rb"\1", part)
        new.writestr(name, part)
EOF
office 'csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1' again bare/month.xlsx
/usr/bin/python3 "$here/compare_twins.py" "$dir/month" "$dir/again" | sed 's/^\(not ok\|ok\) - \(.*\)$/\1 - worked out anew: \2/'
grep -q '=HYPERLINK' sheets/*Lots.csv && grep -q "'=HYPERLINK" month-lots.csv
say $? "a supplier's name that looks like a formula stays words in both"

/usr/bin/python3 - <<'EOF'
import csv
lots = {r["lot"]: r for r in csv.DictReader(open("month-lots.csv", encoding="utf-8-sig"))}
us = [r for r in csv.DictReader(open("month-labels.csv", encoding="utf-8-sig")) if r["market"] == "us" and r["supplier"].endswith("HYPERLINK(A1)")]
assert us and {r["state"] for r in us} == {"no: its origin is missing"}, us
assert any(r["state"] in ("yes, worded so", "this wording only") for r in csv.DictReader(open("month-labels.csv", encoding="utf-8-sig")) if r["market"] == "eu")
EOF
say $? "the sheet Labels asks for the origin that a label of that market needs, as label does"
refused=0
for lot in $(/usr/bin/python3 -c 'import csv; print(*[r["lot"] for r in csv.DictReader(open("month-labels.csv", encoding="utf-8-sig")) if r["state"] == "no: its origin is missing"])'); do
	"$tb" label "$lot" --market us --out "$lot.pdf" >out 2>err && refused=1
done
[ $refused = 0 ] && grep -q 'the country of origin has to stand on it' err; say $? "and label refuses each of them" "$(cat out err)"

unzip -p month.xlsx 'xl/worksheets/*.xml' >parts.xml
[ "$(grep -o '<f>[^<]*' parts.xml | grep -c -v -e '^<f>SUBTOTAL(109,' -e '^<f>COUNT' -e '^<f>SUM(' -e '^<f>SUMIFS(' -e '^<f>IF(\$' -e '^<f>\$[A-Z]*[0-9]*[*/]\$[A-Z]*[0-9]*$' -e '^<f>\$[A-Z]*[0-9]*/\$[A-Z]*[0-9]*\*\$[A-Z]*[0-9]*$' -e '^<f>0$')" = 0 ]
say $? "the workbook holds no formula but its own" "$(grep -o '<f>[^<]*' parts.xml | sort | uniq -c | sort -rn | head -3 | tr '\n' ' ')"
ok=0
for csv in month-*.csv; do
	/usr/bin/python3 - "$csv" <<'EOF' || ok=1
import csv, re, sys
for row in csv.reader(open(sys.argv[1], encoding="utf-8", newline="")):
    for cell in row:
        if cell[:1] in "=+@\t\r" and cell or cell[:1] == "-" and not re.fullmatch(r"-\d+(\.\d+)?", cell):
            sys.exit(f"# {sys.argv[1]}: {cell}")
EOF
done
say $ok "no field of a CSV file can start a formula"

cp month.pdf page.pdf
pdfinfo page.pdf | grep -q 'Pages: *1$' && pdfinfo page.pdf | grep -q 'Tagged: *yes' && ! pdffonts page.pdf | tail -n +3 | grep -v ' yes yes yes '
say $? "the summary is one tagged page with its fonts in it" "$(pdffonts page.pdf)"
pdftotext page.pdf - | tr -s '\n' ' ' >page.txt
grep -q 'Cloth received, 2026-10' page.txt && grep -q ' of [0-9]* bolts tested: a verdict speaks of the bolts tested' page.txt && grep -q 'not legal advice' page.txt && grep -q 'Labels: [0-9]* looked at, one for each lot in each of 2 markets' page.txt
say $? "its text can be taken out: figures, bolts burnt, labels, cautions" "$(cat page.txt)"
unzip -l month.xlsx >parts.txt; [ "$(grep -c 'xl/charts/chart' parts.txt)" -ge 2 ] && ! unzip -p month.xlsx 'xl/charts/*.xml' | grep -q 'solidFill><a:srgbClr val="FF0000"'
say $? "the workbook has charts of its own"
mkdir printed; office pdf printed month.xlsx; mv printed/month.pdf printed.pdf
[ "$(pdffonts printed.pdf 2>/dev/null | wc -l)" -gt 2 ] && pdftotext printed.pdf - | tr -s ' \n' '  ' | grep -q ' 1 \?/ \?[0-9]'
say $? "the workbook prints, with page numbers"
pdfinfo printed.pdf | grep -q 'Page size: *841.* x 595.*A4'
say $? "pages lie on their side, A4" "$(pdfinfo printed.pdf | grep 'Page size')"
[ "$(pdftotext -layout printed.pdf - | grep -c 'Bolt *Lot *Arrived')" = 0 ]
say $? "bolts are not printed unless they are asked for"
"$tb" sheet --month 2026-10 --market "eu us" --print-all --out whole.xlsx >out 2>err
say $? "a workbook can be made to be printed whole" "$(cat err)"
for f in month-*.csv; do cmp "$f" "whole${f#month}" || echo "$f"; done >differ 2>&1
[ ! -s differ ]; say $? "its sheets hold the same" "$(cat differ)"
office pdf printed whole.xlsx
[ "$(pdftotext -layout printed/whole.pdf - | grep -c 'Bolt *Lot *Arrived')" -ge 2 ]
say $? "the heading row is repeated on every page of the bolt list"
rm -rf whole*
pdftotext printed.pdf - | grep -q 'of 8 bolts burnt'; say $? "N of M bolts burnt is printed"

cp month.xlsx first.xlsx; cp page.pdf first.pdf
"$tb" sheet --month 2026-10 --market eu,us --out month.xlsx >out 2>err; rc=$?
[ $rc = 1 ] && [ ! -s out ] && grep -q '^tenterbook: month.pdf is there already; --replace writes over it$' err && cmp -s first.xlsx month.xlsx
say $? "papers that are there are not written over unasked" "$rc $(cat err)"
"$tb" sheet --month 2026-10 --market eu,us --out month.xlsx --replace >/dev/null 2>&1; cmp -s first.xlsx month.xlsx && cmp -s first.pdf month.pdf
say $? "the same book at the same moment gives the same bytes"

"$tb" sheet --month 2026-10 --market atlantis --out m.xlsx >out 2>err; rc=$?
[ $rc = 1 ] && [ ! -s out ] && [ "$(wc -l <err)" = 1 ] && grep -q atlantis err && [ ! -e m.xlsx ] && [ ! -e m.pdf ]
say $? "a market that is none is refused in one sentence, and nothing is written" "$rc $(cat err)"
"$tb" set market "eu gb" >/dev/null 2>&1; "$tb" sheet --month 2026-10 --out set.xlsx >out 2>err
grep -q '^gb,' set-labels.csv && grep -q '^eu,' set-labels.csv && ! grep -q '^us,' set-labels.csv
say $? "without --market the markets are those of the setting" "$(cut -c1-20 set-labels.csv | head -3)"
"$tb" sheet --month 2026-13 >out 2>err; rc=$?
[ $rc = 2 ] && [ ! -s out ] && grep -q "'2026-13' is not a month" err && grep -q '^usage: tenterbook' err
say $? "a month that is none is a misuse" "$rc $(cat err)"
"$tb" sheet --month 2026-10 --out /no/such/folder/m.xlsx >out 2>err; rc=$?
[ $rc = 1 ] && [ ! -s out ] && [ "$(wc -l <err)" = 1 ] && grep -q 'cannot be written: No such file' err
say $? "a folder that is not there is refused in one sentence" "$rc $(cat err)"
"$tb" sheet --month 2026-10 --out m.ods >out 2>err; rc=$?
[ $rc = 1 ] && grep -q 'ends in .xlsx' err; say $? "a name that does not end in .xlsx is refused" "$rc $(cat err)"
"$tb" sheet --from 2026-01 --to 2026-12 --out year.xlsx --json >out 2>err; rc=$?
[ $rc = 0 ] && [ ! -s err ] && /usr/bin/python3 -c 'import glob,json,sys; j=json.load(open("out")); sys.exit(j["deliveries"] != 5 or sorted(j["csv"]) != sorted(glob.glob("year-*.csv")) or j["page"] != "year.pdf" or j["span"] != "2026-01..2026-12")'
say $? "a longer span is written, and told as JSON with every CSV file" "exit code $rc, files $(ls year-*.csv | tr '\n' ' ') $(cat err out)"
"$tb" sheet --month 2026-09 --out empty.xlsx >out 2>err; rc=$?
[ $rc = 0 ] && grep -q '^Came in, 2026-09: nothing; the book begins later: its first delivery arrived on 2026-10-' out && mkdir none && office 'csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1' none empty.xlsx && found=$(find none -name '*.csv' | wc -l) && [ "$found" = 14 ]
say $? "an empty month is a workbook of 14 sheets too" "exit code $rc, found $found sheets: $(ls none | tr '\n' ' ') $(cat err)"
cp book.db rotten.db && sqlite3 rotten.db "UPDATE lot SET colour = colour || 's' WHERE id = (SELECT min(id) FROM lot)"
"$tb" --book rotten.db sheet --month 2026-10 --out rotten.xlsx >out 2>err; rc=$?
[ $rc = 1 ] && [ ! -s out ] && [ "$(wc -l <err)" = 1 ] && grep -q 'the book does not fit its journal, and no paper is made of it: .*table lot' err && [ -z "$(ls rotten*.csv rotten.xlsx 2>/dev/null)" ]
say $? "a book in which a letter changed gives no sheets" "$rc $(cat err)"
"$tb" --book rotten.db sheet --month 2026-10 --out rotten.xlsx --unproved >out 2>err; rc=$?
[ $rc = 0 ] && grep -qx 'The book was not proved: what these sheets show may not be what was recorded.' out && [ -s rotten.xlsx ]
say $? "unless they are wanted all the same, which is said" "$rc $(cat err)"
"$tb" --book rotten.db sheet --month 2026-10 --out rotten.xlsx --unproved --replace --json >out 2>err && grep -q '"proved": false' out
say $? "in JSON too" "$(cat out err)"
if [ -e /dev/full ]; then
	mkdir tiny
	if mount -t tmpfs -o size=64k tmpfs tiny 2>/dev/null; then
		"$tb" sheet --month 2026-10 --out tiny/m.xlsx >out 2>err; rc=$?
		[ $rc = 1 ] && [ "$(wc -l <err)" = 1 ] && [ -z "$(ls tiny)" ]
		say $? "a full disk is told in one sentence and leaves nothing" "$rc $(cat err) $(ls tiny)"
		umount tiny
	fi
fi
