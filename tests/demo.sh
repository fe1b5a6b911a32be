#!/bin/sh
# A month of sample trade through the whole program: tests/demo.sh BINARY DIR
# Says in plain words what it does, and stops at the first step that fails.
set -eu
t=${1:?BINARY}
dir=${2:?DIR}
here=$(cd "$(dirname "$0")/.." && pwd)
data=$here/sample-data
book=$dir/mill-lane.db
pages=$dir/cloth-2026-10.xlsx

say() { printf '\n== %s\n' "$*"; }
run() { "$t" --book "$book" --as-person "$who" "$@"; }
take() { run receive "$data/$2" --on "2026-10-$1"; }
settle() {
	lot=$1 as=$2 why=$3
	shift 3
	run settle "$lot" --as "$as" --why "$why" "$@" | head -1
}

mkdir -p "$dir"
rm -f "$book" "$book"-* "$dir"/cloth-2026-10*

say "A new book for the Mill Lane shed, an invented warehouse with invented suppliers"
who="Odo Fenwright"
run new --code M --name "Mill Lane shed" --country GB
run set flame yes
run set dates dmy

say "October 2026: twenty packing lists come in, each as its mill writes it"
take 01 brindlewick-4471.csv
take 02 quellgrund-26-0871.csv
take 05 monteluppio-ddt-312.csv
take 06 sarikuyu-ceki-2210.csv
take 07 yuntang-YT260919.xlsx
take 08 orgelaine-bl-1187.csv
take 09 chandorpur-inv-088.xlsx
take 12 ribeira-funda-romaneio.txt
take 13 penalmora-albaran-7702.csv
take 14 wierzbowek-wz-0419.csv
take 15 sabzgarh-pl-1903.csv
take 16 songmul-26-55.xlsx
take 19 zeelterdam-pakbon.txt
take 20 horni-tune-dl-0933.csv
take 21 brindlewick-4496.csv
take 22 quellgrund-26-0902.xlsx
take 23 yuntang-YT261004.csv
take 26 monteluppio-ddt-340.xlsx
take 27 chandorpur-inv-097.csv
take 29 almtjarn-fs-615.csv

say "The bench burned swatches through the month and wrote down what it saw (sample-data/burns.csv)"
who="Hettie Marlow"
run burn --from "$data/burns.csv"

say "One lot looked at closely: silk by its label (tenterbook judge M26-002.03)"
run judge M26-002.03

say "Answers from suppliers about words that could not be read for certain"
run declare M26-012.03 --text "100% polyester"
run declare M26-011.03 --text "65% polyester 35% cotton"

say "What becomes of some of the lots"
who="Rosalind Okett"
settle M26-001.01 released "burned on two bolts, nothing against the label"
settle M26-001.02 released "same cloth and mill as M26-001.01"
settle M26-003.01 released "no objection from the bench"
settle M26-006.01 released "no objection from the bench"
settle M26-002.03 returned "Weberei Quellgrund takes the silk back, credit note to follow"
settle M26-004.02 relabelled "mill admits a mixed-up ticket; sold as what it is" \
	--new "100% polyester" --goods-of "own stock"
settle M26-003.03 held "laboratory report awaited"
settle M26-012.03 waiting "answered by the mill, still to be burned"

say "Every lot of the month with its verdict"
run lots --month 2026-10

say "The month's workbook for the manager"
run sheet --month 2026-10 --out "$pages"

say "Does every record still fit the journal?"
run prove

say "Where everything is"
echo "the book               $book"
echo "the month's workbook   $pages (and each of its sheets as CSV beside it)"
echo "the packing lists      $data"
echo "Look further with:     $t --book $book look M26-002.03"
