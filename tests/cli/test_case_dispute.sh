#!/bin/sh
# A dispute to its end and photographs of unburnt cloth, on the pages of a case and in its proof.
set -u
. "$(dirname "$0")/../need.sh"
need pdftotext pdfimages pdfdetach /usr/bin/python3
. "$(dirname "$0")/moments.sh"
words() { pdftotext -layout "$1" - | tr -s '\n ' ' '; }
/usr/bin/python3 "$here/photographs.py" . || { echo "not ok - photographs are drawn"; exit 1; }

at 1792900000 new --code M --name "Mill Lane shed" --country GB >log 2>&1 && at 1792900001 set flame yes >>log 2>&1
printf 'Bolt No,Length m,Article,Composition,Unit price EUR\nB1,50,crepe 9,100%% Seide,18\nB2,48,crepe 9,100%% Seide,18\nC1,60,drill,100%% cotton,4\n' >list.csv
at 1792900002 receive list.csv --supplier "Ohm Weavers" --note N-1 --on 2026-10-05 >>log 2>&1
say $? "a list is received" "$(cat log)"

at 1792910000 cut B1 --kept "drawer 4" --photo upright-6.jpg >out 2>err; say $? "a swatch is cut, with a photograph of the unburnt cloth" "$(cat out err)"
at 1792910001 cut B1 B2 --photo alpha.png >out 2>err; rc=$?
[ $rc = 2 ] && grep -q 'a photograph shows one swatch: with --photo, name one bolt' err; say $? "one photograph of two swatches is refused" "$rc $(cat out err)"
echo text >text.jpg
at 1792910002 cut B2 --photo text.jpg >out 2>err; rc=$?
[ $rc != 0 ] && grep -q 'text.jpg is neither JPEG, PNG nor PDF' err && ! at 1792910003 look M26-001.01 | grep -q 'M26-001.01.02'
say $? "a photograph that is none is refused, and nothing is cut" "$rc $(cat out err)"
at 1792910100 burn M26-001.01.01 --saw in_flame:melts,residue_form:hard_bead,smoke:black --not odour:burning_hair >log 2>&1
at 1792910200 burn --to M26-001.01.01 --unburnt --photo alpha.png >out 2>err && grep -qx 'Photographs of the unburnt cloth kept with swatch M26-001.01.01: 1\.' out
say $? "another one that comes later is kept with the swatch" "$(cat out err)"
at 1792910201 burn --to M26-001.01.01 --unburnt --photo alpha.png >out 2>err; rc=$?
[ $rc != 0 ] && grep -q 'photograph alpha.png is kept with this swatch already, as alpha.png' err; say $? "and is not kept twice" "$rc $(cat out err)"
at 1792910202 burn --unburnt --photo alpha.png >out 2>err; rc=$?
[ $rc = 2 ] && grep -q -- '--unburnt goes with --to SWATCH and --photo FILE' err; say $? "--unburnt without a swatch is refused" "$rc $(cat out err)"
at 1792910203 cut C1 >>log 2>&1

d() { when=$1 lot=$2; shift 2; at "$when" dispute "$lot" "$@" >>log 2>&1; }
echo '%PDF-1.4' >letter.pdf
d 1792920000 M26-001.02 --opened --words "stains on the drill" --amount 77 --currency GBP --on 2026-10-24 &&
	d 1792920001 M26-001.01 --opened --words "not silk" --amount 1480 --currency EUR --on 2026-10-25 &&
	d 1793100000 M26-001.01 --notified --by post --proof RR12345 --due 2026-11-10 --on 2026-10-26 &&
	d 1793400000 M26-001.01 --answered --words "we will look at it" --amount 300 --currency USD --on 2026-10-30
say $? "two disputes are opened, and one goes on" "$(cat log)"
at 1793500000 case M26-001.01 --out open.pdf >out 2>err
d 1793600000 M26-001.01 --agreed credit --amount 900 --currency EUR --due 2026-12-01 --on 2026-11-02 &&
	d 1793700000 M26-001.01 --recovered --amount 900 --currency EUR --words "credit note 77" --on 2026-11-03 &&
	d 1793800000 M26-001.01 --closed --words "settled" --on 2026-11-04
say $? "and to its end" "$(tail -3 log)"
at 1793900000 case M26-001.01 --out ended.pdf >out 2>err; say $? "a case of it is made" "$(cat out err)"
words ended.pdf >text
for w in 'The dispute so far' '1480.00 EUR' '"not silk"' 'by post, proof of posting RR12345, answer asked by 2026-11-10' '300.00 USD' '"we will look at it"' \
	'900.00 EUR' 'to be done by 2026-12-01' '"credit note 77"' '"settled"' 'swatch M26-001.01.01 of bolt B1, unburnt, cut 2026-10-25 by Ines Okonjo'; do
	grep -qF -- "$w" text || echo "not on the pages: $w"
done >missing
[ ! -s missing ]; say $? "its pages tell each step with day, money and words, and the unburnt cloth with bolt, day and person" "$(cat missing; grep -o 'The dispute so far.\{600\}' text)"
! grep -qE 'stains|GBP|77\.00' text && pdfdetach -save 1 -o data.json ended.pdf 2>err && grep -q 'we will look at it' data.json && ! grep -qE 'stains on the drill|GBP' data.json
say $? "neither its pages nor its data tell of the dispute about another lot"
[ "$(pdfimages -list ended.pdf | grep -cE ' image +')" -ge 2 ]; say $? "both photographs are on the pages" "$(pdfimages -list ended.pdf)"
for f in open ended; do
	at 1793900001 prove --case $f.pdf --against book.db >out 2>err && grep -q 'Everything that was checked agrees' out
	say $? "the case ($f) agrees with itself and with the book" "$(cat out err)"
done
at 1793900002 case M26-001.02 --out other.pdf >out 2>err && words other.pdf >text && grep -q 'stains on the drill' text && ! grep -q 'not silk' text
say $? "the other lot's case tells its own" "$(cat out err)"
