#!/bin/sh
# Packing lists in other kinds of file than CSV and XLSX: the same is read from each, and what cannot be read says the way
# out: tests/cli/test_kinds.sh BUILD
set -u
t=$(cd "$1" && pwd)/tenterbook
kinds=$(cd "$(dirname "$0")/../kinds" && pwd)
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_CLOCK=1795694400 TENTERBOOK_BOOK="$dir/none.db" TENTERBOOK_WHO=tester
ok() { what=$1; shift; if "$@"; then echo "ok - $what"; else echo "not ok - $what"; sed 's/^/# /' out err | head -30; fi; }
run() { "$t" "$@" >out 2>err; code=$?; }
is() { [ "$code" = "$1" ]; }
has() { grep -qF -- "$1" out; }
refused() { [ "$code" = 1 ] && [ ! -s out ] && [ "$(tail -1 err)" = "tenterbook: $1" ]; }

# --- workbooks ------------------------------------------------------------------------------------------------
read_whole() {
	has "Kirrane Weavers, note KW 204 of 2026-09-14" && has "2 lots, 3 bolts, 147.75 m" && has "1 total of the list agrees with its bolts." &&
		has "Serge 12  zeleň  L2   1 bolt  48.25 m  65% wool 35% polyester"
}
for kind in ods xls; do
	cp "$kinds/list.$kind" "list-$kind.dat"
	run receive "list-$kind.dat" --on 2026-09-20 --dry-run
	ok "a workbook of the kind $kind is told by its content and read whole" read_whole
	ok "$kind: zeros before a bolt number are kept, and what a spreadsheet may have lost is said" has "3 bolt numbers in the column 'Roll No.' are kept by the spreadsheet as numbers"
	run receive "list-$kind.dat" --on 2026-09-20 --dry-run --sheet Notes
	ok "$kind: a hidden sheet is read only where it is named" refused "list-$kind.dat: no row of this file looks like the header of a packing list (--by-hand)"
	head -c 3000 "$kinds/list.$kind" >"cut-$kind.dat"
	run receive "cut-$kind.dat" --dry-run
	ok "$kind: one that was cut short is refused" is 1
	ok "$kind: in one sentence" [ "$(wc -l <err)" = 1 ]
done
printf '<html><body><table><tr><td>Roll</td></tr></table></body></html>' >page.xls
run receive page.xls --dry-run
ok "a web page that is called a workbook is refused with the way out" refused "page.xls: this is a web page or another file of tags, whatever its name says; open it in a spreadsheet, save it as .xlsx or CSV and give that"

# --- PDF ------------------------------------------------------------------------------------------------------
cp "$kinds/list.pdf" list-pdf.dat
run receive list-pdf.dat --on 2026-09-20 --dry-run
ok "a PDF with text is read as the workbook it was printed from" read_whole
ok "its columns have letters, as those of a sheet have" has "  E  Length (m)   length                m"
run receive list-pdf.dat --dry-run --sheet List
ok "it has no sheets to choose from" refused "list-pdf.dat: this is not a workbook: it has no sheets to choose from"
run receive "$kinds/locked.pdf" --dry-run
ok "one that is locked with a password is refused with the way out" refused "$kinds/locked.pdf: the PDF is locked with a password; ask for one without, or for the list as XLSX, ODS or CSV (--by-hand)"
head -c 5000 "$kinds/list.pdf" >cut.pdf
run receive cut.pdf --dry-run
ok "one that was cut short is refused" is 1
ok "in one sentence" [ "$(wc -l <err)" = 1 ]
run receive "$kinds/../../sample-data/monteluppio-ddt-340.xlsx" --on 2026-10-26 --dry-run
grep '^    \|^Would' out >workbook
run receive "$kinds/ddt-340.pdf" --on 2026-10-26 --dry-run
grep '^    \|^Would' out >printed
ok "what was printed of a workbook, cell touching cell, is read as the workbook is" cmp workbook printed
run receive "$kinds/ddt-340-wide.pdf" --on 2026-10-26 --dry-run
ok "a table that was too wide for the paper is not read in part" refused "$kinds/ddt-340-wide.pdf: page 2 of the PDF seems to hold the right part of a table that was too wide for the paper; ask for the list as XLSX, ODS or CSV (--by-hand)"

whole() { has "3 lots, 14 bolts, 684.67 m" && has "bottle green  D7  5 bolts  213.70 m  98% cotton 2% elastane"; }
run receive "$kinds/touching.pdf" --supplier Any --note 7 --on 2026-09-20 --dry-run
ok "cells that touch in every row are read as they were set" whole
open_left() { [ "$code" = 1 ] && [ ! -s out ] && grep -qF "$1" err && grep -q "^No command line is printed" err; }
run receive "$kinds/box-beside.pdf" --supplier Any --note 7 --on 2026-09-20 --dry-run
ok "a box of totals beside the bolts is asked about, and no bolt is taken for a total" open_left "no header stands over the column 'F', which rows fill"
run receive "$kinds/two-lines.pdf" --supplier Any --note 7 --on 2026-09-20 --dry-run
ok "a header of two columns in one, as where each bolt has two lines, is asked about" open_left "the header 'Article Colour' names two columns, whose words touch on paper"

# --- text -----------------------------------------------------------------------------------------------------
pasted() { has "Kirrane Weavers, note KW 204 of 2026-09-14" && has "2 lots, 3 bolts, 1147.75 m" && has "65% wool, 35% polyester" && has "1 total of the list agrees with its bolts."; }
run receive "$kinds/mail.txt" --on 2026-09-20 --dry-run
ok "text that was pasted from a mail is read by where its columns stand" pasted
run receive - --on 2026-09-20 --dry-run <"$kinds/mail.txt"
ok "- is standard input" pasted
run receive - --dry-run </dev/null
ok "of which there must be something" refused "standard input: the file is empty"
iconv -f UTF-8 -t UTF-16 "$kinds/mail.txt" >wide.txt
run receive wide.txt --on 2026-09-20 --dry-run
ok "pasted text may be of any encoding that CSV may be of" pasted
sed 's/   100% wool/ 100% wool/' "$kinds/mail.txt" >close.txt
run receive close.txt --dry-run
ok "cells that stand as close as words are read by the edges of their columns" has "100% wool"
