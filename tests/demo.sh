#!/bin/sh
# Two months of sample trade through the whole program: tests/demo.sh BINARY DIR
# Says in plain words what it does, and stops at the first step that fails. What draws the photographs lies beside BINARY.
set -eu
t=${1:?BINARY}
dir=${2:?DIR}
draw=$(dirname "$t")/photograph
here=$(cd "$(dirname "$0")/.." && pwd)
data=$here/sample-data
book=$dir/mill-lane.db

say() { printf '\n== %s\n' "$*"; }
run() { "$t" --book "$book" --as-person "$who" "$@"; }
# The first line of an answer; a refusal ends the demonstration.
brief() {
	answer=$(run "$@")
	printf '%s\n' "$answer" | head -1
}
# The clock of the demonstration stands at a moment of 2026: month and day, hour.
clock() {
	TENTERBOOK_CLOCK=$(date -u -d "2026-$1T$2:00:00Z" +%s)
	export TENTERBOOK_CLOCK
}
person() { who=$1; }

# How to write to a supplier, and by when it has to be told of a fault: a line of suppliers.txt.
knows() {
	grep "^$1|" "$data/suppliers.txt" | {
		IFS='|' read -r name street postcode place country contact email language law open how where
		brief address "$name" --street "$street" --postcode "$postcode" --place "$place" --country "$country" --contact "$contact" \
			--email "$email" --language "$language" >/dev/null
		brief terms "$name" --country "$country" --law "$law" ${open:+--open "$open"} ${how:+"--$how"} ${where:+--in "$where"} >/dev/null
	}
}
# A list, and what its totals or its words leave open. `look` tells the rest. A supplier's first list brings its address and terms.
takes_in() {
	person "Odo Fenwright"
	clock "$1" 07
	list=$data/$2 day=$1 from=${3:-}
	shift $(($# > 3 ? 3 : $#))
	answer=$(run receive "$list" --on "2026-$day" --yes "$@")
	printf '%s\n' "$answer" | sed -n '1p; /the total says/p; /ask the supplier/p; /add up to [0-9.]*, not/p'
	[ -z "$from" ] || knows "$from"
}
# What the bench wrote down on a day goes into the book that evening; who looked a second time writes in what he saw.
bench_of() {
	awk -F, -v day="2026-$1" -v second="$2" '$1 == "lot" && !n++ || substr($4, 1, 10) == day && /second pair of eyes/ == second' \
		"$data"/burns-2026-*.csv >"$dir/bench.csv"
	[ "$(wc -l <"$dir/bench.csv")" -lt 2 ] || run burn --from "$dir/bench.csv"
}
evening() {
	person "Hettie Marlow"
	clock "$1" 17
	bench_of "$1" 0
	person "Odo Fenwright"
	bench_of "$1" 1
}
office() {
	person "Rosalind Okett"
	clock "$1" 18
}
settle() {
	lot=M26-$1 as=$2 why=$3
	shift 3
	brief settle "$lot" --as "$as" --why "$why" "$@"
}
cuts() {
	answer=$(run cut "$@")
	printf '%s\n' "$answer" | grep '^Swatch'
}
release() {
	lots=
	for lot in "$@"; do
		lots="$lots M26-$lot"
	done
	answer=$(run settle $lots --as released --why "nothing against it on the bench; needed for cutting")
	echo "Released: $(printf '%s\n' "$answer" | grep -c '^Lot .* is released') lots that nothing on the bench speaks against."
}
# What a laboratory found: the answer, without the reckoning behind it.
found() {
	lot=M26-$1 day=$2 report=$3
	shift 3
	answer=$(run assay "$lot" "$@" --laboratory "Halm Street test house" --report "$report" --on "2026-$day" --market gb --market eu)
	printf '%s: ' "$lot"
	printf '%s\n' "$answer" | head -2 | paste -sd ' ' -
}
# One step of a dispute: the last line of its story that the step wrote.
step() {
	lot=M26-$1
	shift
	answer=$(run dispute "$lot" "$@")
	echo "$lot: $(printf '%s\n' "$answer" | grep -E '^ *2026-' | tail -1 | sed 's/^ *//')"
}
photograph() {
	name=$1
	shift
	"$draw" "$dir/$name.jpg" "$@"
}
# What was written, without the rest of the answer.
paper() {
	answer=$(run "$@")
	printf '%s\n' "$answer" | grep '^Written'
}
letter() {
	lot=M26-$1
	shift
	paper case "$lot" --notice --out "$dir/notice-$lot.pdf" "$@"
}

mkdir -p "$dir"
rm -f "$book" "$book"-* "$book".key "$dir"/*.csv "$dir"/*.xlsx "$dir"/*.pdf "$dir"/*.txt "$dir"/*.eml "$dir"/*.jpg

say "A new book for the Mill Lane shed, an invented warehouse with invented suppliers"
person "Odo Fenwright"
clock 09-01 06
run new --code M --name "Mill Lane shed" --country GB
run set flame yes
run set dates dmy
run set target:2026-09-01 "10 % at most one lot in ten, the aim of this year"
run set money GBP
run set rate:EUR 0.86
run set rate:USD 0.79

brief address --ours --street "Mill Lane 2" --postcode "HB9 4ZZ" --place Harrowbeck --country GB --contact "Rosalind Okett" \
	--email cloth@milllane.example --phone "01632 960417" --language en

say "September 2026: four packing lists, each as its mill writes it, and every evening what the bench burned"
takes_in 09-03 brindlewick-4419.csv "Brindlewick Weaving"
evening 09-03
evening 09-04
takes_in 09-10 monteluppio-ddt-288.csv "Tessitura Monteluppio"
evening 09-10

say "Silk by its label, and it burns like paper: photographs, a letter to the mill the next morning, and how it ended"
evening 09-11
photograph unburnt-avorio EFE6CF unburnt "M26-002.03.01"
photograph burnt-avorio EFE6CF ash "M26-002.03.01"
office 09-11
run burn --to M26-002.03.01 --unburnt --photo "$dir/unburnt-avorio.jpg"
run burn --to M26-002.03.01 --photo "$dir/burnt-avorio.jpg"
step 002.03 --opened --words "sold as 100 % silk; it burns like viscose or cotton, with a smell of paper and a soft ash" --amount 5657.13 --currency EUR
letter 002.03 --remedy credit --answer-by 2026-09-18
step 002.03 --notified --by e-mail --proof "message 20260911.0903@milllane.example" --document "$dir/notice-M26-002.03.pdf" --due 2026-09-18
office 09-16
step 002.03 --answered --words "the finisher mixed up two pieces; the mill offers a part of the price" --amount 3500 --currency EUR
takes_in 09-17 quellgrund-26-0790.csv "Weberei Quellgrund"
evening 09-17
evening 09-18
office 09-21
step 002.03 --agreed credit --amount 4100 --currency EUR --due 2026-10-15 --words "the cloth stays here and is sold as viscose"
settle 002.03 relabelled "agreed with the mill on 2026-09-21" --new "100% viscose" --goods-of "own stock"
takes_in 09-24 yuntang-YT260825.csv "Yuntang Weave Works"
evening 09-24
evening 09-25
office 09-28
release 001.01 001.02 001.03 001.04 002.01 002.04 003.01 003.02 004.01 004.02 004.03
office 09-30
run sheet --month 2026-09 --market gb --market eu --out "$dir/cloth-2026-09.xlsx"

say "October 2026, first days: three lists; a bolt of silk shrinks from the flame and drips"
takes_in 10-01 brindlewick-4471.csv
evening 10-01
takes_in 10-02 quellgrund-26-0871.csv
evening 10-02
takes_in 10-05 monteluppio-ddt-312.csv
evening 10-05

say "One lot looked at closely: silk by its label (tenterbook judge M26-006.03)"
run judge M26-006.03

say "The same lot: swatches kept for a laboratory, photographs, and the letter to the mill, in German"
photograph unburnt-bordeaux 7A1F33 unburnt "M26-006.03.04" turned
photograph burnt-bordeaux 7A1F33 beads "M26-006.03.02"
office 10-05
cuts 71853 --lot M26-006.03 --kept "drawer 4" --photo "$dir/unburnt-bordeaux.jpg"
cuts 71854 71858 71859 --lot M26-006.03 --kept "drawer 4"
run burn --to M26-006.03.02 --photo "$dir/burnt-bordeaux.jpg"
step 006.03 --opened --words "sold as 100 % silk; it melts, drips and leaves hard beads, as polyester does" --amount 5285.57 --currency EUR
letter 006.03 --remedy return --answer-by 2026-10-14
step 006.03 --notified --by post --proof "RN 4417 2093 0GB" --document "$dir/notice-M26-006.03.pdf" --due 2026-10-14

say "Second week: four lists. Pieces of the silk go to a laboratory, and two more suppliers are told"
takes_in 10-06 sarikuyu-ceki-2210.csv "Sarıkuyu Dokuma"
evening 10-06
takes_in 10-07 yuntang-YT260919.xlsx
evening 10-07
office 10-07
step 008.02 --opened --words "sold as 100 % cotton; it melts like polyester" --amount 1832.80 --currency EUR
letter 008.02 --remedy relabel --answer-by 2026-10-14
step 008.02 --notified --by e-mail --proof "message 20261007.1815@milllane.example" --document "$dir/notice-M26-008.02.pdf" --due 2026-10-14
takes_in 10-08 orgelaine-bl-1187.csv "Tissages de l'Orgelaine"
evening 10-08
office 10-08
run share M26-006.03 --laboratory "Halm Street test house" --rule "microscope and ISO 1833-11; more than 3 points off is a fault" \
	--present "Rosalind Okett" --present "Jost Tiefenbach (Weberei Quellgrund)" --seed 2610
takes_in 10-09 chandorpur-inv-088.xlsx "Chandorpur Handlooms"
evening 10-09
office 10-09
step 002.03 --recovered --amount 4100 --currency EUR --words "credit note 288/R"
step 002.03 --closed --words "settled as agreed"
cuts 20326 20329 20331 --lot M26-007.03 --kept "drawer 4"
step 007.03 --opened --words "sold as 100 % virgin wool; what is left is a hard bead, and nothing smells of hair" --amount 3955.92 --currency EUR
letter 007.03 --remedy replacement --answer-by 2026-10-23
step 007.03 --notified --by e-mail --proof "message 20261009.1802@milllane.example" --document "$dir/notice-M26-007.03.pdf" --due 2026-10-23
brief share M26-007.03 --laboratory "Halm Street test house" --rule "ISO 1833-12" --present "Rosalind Okett" --seed 2611

say "Third week: five lists, the laboratory's answer about the silk, and goods that go back"
takes_in 10-12 ribeira-funda-romaneio.txt "Têxteis Ribeira Funda"
evening 10-12
office 10-12
found 006.03 10-12 "HS 26-1187" --found "100% polyester" --uncertainty 0.4
step 009.03 --opened --words "sold as 100 % silk; it burns like viscose" --amount 2959.60 --currency USD
step 009.03 --notified --by e-mail --proof "message 20261012.1830@milllane.example" --due 2026-10-26
takes_in 10-13 penalmora-albaran-7702.csv "Tejidos Peñalmora"
evening 10-13
office 10-13
step 006.03 --answered --words "two tickets were mixed up in the dye house; the mill takes the goods back" --amount 4800 --currency EUR
step 008.02 --answered --words "the mill admits a mixed-up ticket and asks that the cloth be kept"
takes_in 10-14 wierzbowek-wz-0419.csv "Tkalnia Wierzbówek"
evening 10-14
office 10-14
step 006.03 --agreed return --amount 5100 --currency EUR --due 2026-11-15 --words "goods go back at the mill's cost"
settle 006.03 returned "Weberei Quellgrund takes it back, as agreed on 2026-10-14"
step 008.02 --agreed relabel --amount 620 --currency EUR --due 2026-11-20 --words "sold as polyester, a third of the price credited"
settle 008.02 relabelled "the mill admits a mixed-up ticket; sold as what it is" --new "100% polyester" --goods-of "own stock"
takes_in 10-15 sabzgarh-pl-1903.csv "Sabzgarh Fabrics" --price-unit yd
evening 10-15
takes_in 10-16 songmul-26-55.xlsx "Songmul Fabrics"
evening 10-16

say "Fourth week: five lists, a burn that was a mistake, and three answers of the laboratory that no burn could give"
takes_in 10-19 zeelterdam-pakbon.txt "Weverij Zeelterdam"
evening 10-19
office 10-19
found 006.02 10-19 "HS 26-1203" --mixture "polyester / cotton" --dissolved cotton --method 7 --specimen 1.0034 --residue 0.5011 --specimen 0.9987 --residue 0.4972
takes_in 10-20 horni-tune-dl-0933.csv "Tkalcovna Horní Tůně"
evening 10-20
clock 10-20 18
cuts Z90 --lot M26-017.03
brief burn M26-017.03.02 --saw approach:ignites_easily,in_flame:burns_fast,odour:burning_paper,residue_form:light_fluffy_ash
run void last --yes --why "a piece of the canvas that lay beside it was burned, not this blanket"
office 10-20
step 006.02 --opened --words "declared 65 % polyester and 35 % cotton; a laboratory found half and half" --amount 425.60 --currency EUR --found 2026-10-19
letter 006.02 --remedy credit --answer-by 2026-11-04
step 006.02 --notified --by post --proof "RN 4417 2131 1GB" --document "$dir/notice-M26-006.02.pdf" --due 2026-11-04
takes_in 10-21 brindlewick-4496.csv
evening 10-21
takes_in 10-22 quellgrund-26-0902.xlsx
evening 10-22
takes_in 10-23 yuntang-YT261004.csv
evening 10-23
office 10-23
settle 016.02 returned "Songmul Fabrics takes it back by the next boat, credit note to follow"
found 005.03 10-23 "HS 26-1219" --found "57.4% cotton 42.6% polyester" --uncertainty 0.6
found 014.03 10-23 "HS 26-1220" --mixture "wool / polyester" --dissolved wool --method 2 --specimen 1.0012 --residue 0.4151 --specimen 1.0047 --residue 0.4170

say "Last week: three lists; what suppliers answered"
takes_in 10-26 monteluppio-ddt-340.xlsx
evening 10-26
office 10-26
step 009.03 --answered --words "the mill offers a part of the price and asks for a sample" --amount 1200 --currency USD
takes_in 10-27 chandorpur-inv-097.csv
evening 10-27
office 10-27
brief declare M26-016.03 --text "100% polyester"
brief declare M26-015.03 --text "65% polyester 35% cotton"
evening 10-28
office 10-28
step 006.03 --recovered --amount 5100 --currency EUR --words "credit note G 26-0418"
takes_in 10-29 almtjarn-fs-615.csv "Väveri Almtjärn"
office 10-29
step 006.03 --closed --words "goods back, credit received"
say "The whole story of that lot for the other side: its case, and what it gives away"
run judge M26-006.03 >/dev/null
run case M26-006.03 --out "$dir/case-M26-006.03.pdf"
run judge M26-006.02 >/dev/null
paper case M26-006.02 --language en --out "$dir/case-M26-006.02.pdf" --answer-by 2026-11-04

say "The last day: one more answer of the laboratory, and what is decided of the lots"
evening 10-30
office 10-30
found 018.03 10-30 "HS 26-1231" --found "46.1% wool 53.9% polyester" --uncertainty 0.5
settle 018.03 released "the laboratory found what is declared; the bench had missed the smell of the wool"
brief settle M26-015.01 --bolt SG2205 --as released --why "this bolt was burned and is needed for cutting; the others wait"
release 005.01 005.02 005.04 007.01 007.05 009.01 010.01 010.03 010.04 010.05 011.01 011.02 013.01 014.01 014.02 014.03 \
	017.01 018.01 019.01 019.02 019.03 020.01 024.01

say "What is claimed, and what came in (tenterbook dispute, tenterbook money)"
run dispute
run money

say "The month's workbook for the manager"
run sheet --month 2026-10 --market gb --market eu --out "$dir/cloth-2026-10.xlsx"

say "A label for a lot that may be sold, and tags for bolts and swatches"
paper label M26-005.01 --market gb --market eu --lang en --out "$dir/label-M26-005.01.pdf"
run tags M26-015.01 --bolts --standing --roll 62x29 --out "$dir/bolts-M26-015.01.pdf"
run tags M26-006.03 --out "$dir/swatches-M26-006.03.pdf"

say "Does every record still fit the journal?"
run prove

rm -f "$dir/bench.csv"

say "What to open now, all in $dir"
while IFS='|' read -r file what; do
	[ -e "$dir/$file" ] || { echo "$file is missing" >&2; exit 1; }
	printf '%-24s %s\n' "$file" "$what"
done <<'E'
cloth-2026-10.pdf|the month on one page
cloth-2026-10.xlsx|the month's workbook; each of its sheets lies beside it as CSV
cloth-2026-09.xlsx|the month before
case-M26-006.03.pdf|silk that is polyester, from the first burn to the credit note; for the supplier, in German
case-M26-006.02.pdf|65/35 that a laboratory found half and half, which no burn can show
notice-M26-006.03.pdf|a letter to a mill, in German; notice-*: Italian and Turkish, each as text and as a mail too
label-M26-005.01.pdf|a label for two markets
bolts-M26-015.01.pdf|tags for the bolts of a lot that is released in part
swatches-M26-006.03.pdf|tags for swatches
mill-lane.db|the book
E
echo
echo "Look further with:"
echo "  $t --book $book look M26-006.03"
echo "  $t --book $book todo"
echo "The packing lists are in $data."
