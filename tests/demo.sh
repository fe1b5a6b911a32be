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
# The clock of the demonstration stands at a moment of October 2026: day of the month, hour.
clock() { export TENTERBOOK_CLOCK=$((1790812800 + (${1#0} - 1) * 86400 + $2 * 3600)); }
take() {
	clock "$1" 7
	run receive "$data/$2" --on "2026-10-$1" --yes
}
settle() {
	lot=$1 as=$2 why=$3
	shift 3
	run settle "$lot" --as "$as" --why "$why" "$@" | head -1
}

mkdir -p "$dir"
rm -f "$book" "$book"-* "$dir"/cloth-2026-10*

say "A new book for the Mill Lane shed, an invented warehouse with invented suppliers"
who="Odo Fenwright"
clock 01 6
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
clock 30 12
run burn --from "$data/burns.csv"

say "One lot looked at closely: silk by its label (tenterbook judge M26-002.03)"
run judge M26-002.03

say "Answers from suppliers about words that could not be read for certain"
run declare M26-012.03 --text "100% polyester"
run declare M26-011.03 --text "65% polyester 35% cotton"

say "What becomes of some of the lots"
who="Rosalind Okett"
clock 30 15
settle M26-002.03 returned "Weberei Quellgrund takes it back, credit note to follow"
settle M26-004.02 relabelled "the mill admits a mixed-up ticket; sold as what it is" \
	--new "100% polyester" --goods-of "own stock"
settle M26-003.03 held "a laboratory report is awaited"
settle M26-014.03 released "laboratory: wool 46 %, polyester 54 %; the bench had missed the smell of the wool"
for lot in 001.01 001.02 001.03 001.04 003.01 003.05 005.01 006.01 006.03 006.04 006.05 007.01 007.02 009.01 010.01 \
	010.02 013.01 014.01 015.01 015.02 015.03 016.01 020.01; do
	settle "M26-$lot" released "nothing against it on the bench; needed for cutting"
done

say "Every lot of the month with its verdict"
run lots --month 2026-10

say "The month's workbook for the manager"
run sheet --month 2026-10 --market gb --market eu --out "$pages"

say "Does every record still fit the journal?"
run prove

say "Where everything is"
echo "the book               $book"
echo "the month's workbook   $pages (and each of its sheets as CSV beside it)"
echo "the month on one page  ${pages%.xlsx}.pdf"
echo "the packing lists      $data"
echo "Look further with:     $t --book $book look M26-002.03"
