#!/bin/sh
# A dispute to its end and photographs of unburnt cloth, on the pages of a case and in its proof.
set -u
. "$(dirname "$0")/../need.sh"
need pdftotext pdfimages pdfdetach sqlite3 /usr/bin/python3
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
for w in 'The dispute so far' '1480.00 EUR' '"not silk"' 'by post, proof of posting RR12345, answer awaited by 2026-11-10' '300.00 USD' '"we will look at it"' \
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
grep -q 'What is asked Nothing: this dispute was closed on 2026-11-04\.' text; say $? "a dispute that was closed asks for nothing any more" "$(grep -o 'What is asked.\{200\}' text)"
words open.pdf >text2 && grep -q 'What is asked You are asked for 1480\.00 EUR, as claimed on 2026-10-25\. Your answer of 2026-10-30 is with us\. Please tell us how you propose to settle this\. Please say whether you agree to a joint sample' text2
say $? "one that was answered asks how it is to be settled, and not for records again" "$(grep -o 'What is asked.\{300\}' text2)"
grep -q '1764.00 EUR = 98.00 m at 18.00 EUR a m' text; say $? "the value is price times length" "$(grep -o 'Value.\{60\}' text)"
# what it gives away
at 1793900000 case M26-001.01 --out told.pdf >out 2>err && sed -n 1,6p out >told &&
	[ "$(sed -n 1p told)" = "Whoever gets this file gets, besides what was seen of the cloth:" ] &&
	grep -qxF '  - the dispute, 6 steps with their words and amounts (--without-dispute keeps it back)' told &&
	grep -qxF '  - 1 remark that people typed: "drawer 4"' told && grep -qxF '  - photographs: 2, papers: 0: "upright-6.jpg", "alpha.png"' told &&
	grep -qxF '  - the price that was invoiced' told && [ "$(grep -n '^Written' out | cut -d: -f1)" -gt 6 ]
say $? "before it is written it is said what the file gives away" "$(cat out err)"
at 1793900000 --json case M26-001.01 --out told2.pdf >out 2>err && /usr/bin/python3 -c 'import json,sys; g=json.load(open("out"))["gives_away"]; sys.exit((g["dispute_steps"], g["typed"], g["photographs"], g["price"]) != (6, ["drawer 4"], 2, True))'
say $? "for programs too" "$(cat out err)"
at 1793900000 case M26-001.01 --without-dispute --out kept.pdf >out 2>err && ! grep -q 'the dispute' out && words kept.pdf >text2 && ! grep -qE 'not silk|RR12345|1480|credit note 77|look at it' text2 &&
	pdfdetach -save 1 -o kept.json kept.pdf && ! grep -qE 'not silk|RR12345|credit note 77|look at it' kept.json
say $? "the dispute can be kept back, on the pages and in the data" "$(cat out err)"
! grep -qiE 'dispute|kept back' text2
say $? "and no page tells that there is one" "$(grep -iE 'dispute|kept back' text2)"
at 1793900001 prove --case kept.pdf --against book.db >out 2>err; rc=$?
[ $rc = 0 ] && grep -qx 'Not checked: the file keeps back 7 records of disputes about this lot, which its journal rows name' out && grep -q '^the pages are those that the data give$' out &&
	grep -qx 'What was checked agrees; 7 things could not be checked here\.' out
say $? "and the proof says how many records are missing" "$rc $(cat out err)"
at 1793900000 case M26-001.02 --without-dispute --notice >out 2>err; rc=$?
[ $rc = 2 ] && grep -q -- '--without-dispute is of a case, not of a --notice' err; say $? "a letter without the dispute is refused" "$rc $(cat out err)"
forged() { # WHAT SENTENCE ANSWER
	/usr/bin/python3 "$here/forge_case.py" ended.pdf forged.pdf "$1" || { echo "not ok - $2 (not forged)"; return; }
	at 1793900001 prove --case forged.pdf >out 2>err; rc=$?
	[ $rc != 0 ] && cat out err | grep -q "$3"; say $? "$2" "$rc $(cat out err)"
}
forged undisputed "a case set back to the form without disputes is found: its pages tell what its data do not" 'Not checked: the file keeps back 7 records of disputes'
grep -q 'Does not agree' out && grep -q 'page' err; say $? "and it does not agree" "$(cat out err)"
forged no_steps "a case whose dispute was emptied is found" 'rows of table dispute_step were recorded, 0 are here'
at 1793900002 case M26-001.02 --out other.pdf >out 2>err && words other.pdf >text && grep -q 'stains on the drill' text && ! grep -q 'not silk' text
say $? "the other lot's case tells its own" "$(cat out err)"
# what came later than what it shows, and the papers of a dispute that is kept back
TENTERBOOK_WHO="Ada Quill" at 1794100000 burn --to M26-001.01.01 --photo upright-6.jpg >out 2>err && at 1794100001 case M26-001.01 --out late.pdf >>out 2>>err && words late.pdf >text &&
	grep -qF 'burn of swatch M26-001.01.01, bolt B1, 2026-10-25, Ines Okonjo; this file was recorded on 2026-11-08 by Ada Quill' text
say $? "a photograph that was kept later, by somebody else, says when and by whom" "$(cat out err; grep -o 'burn of swatch.\{160\}' text)"
[ "$(grep -o 'this file was recorded' text | wc -l)" = 1 ]; say $? "and one that was kept the same day says nothing of it" "$(grep -o '.\{60\}this file was recorded.\{40\}' text)"
printf '%%PDF-1.4\n%%%%EOF\n' >whole-letter.pdf
d 1794200000 M26-001.02 --notified --by post --document whole-letter.pdf --due 2026-12-01 --on 2026-11-08; say $? "a notice is kept with the dispute" "$(tail -2 log)"
at 1794200001 case M26-001.02 --out with.pdf >out 2>err && pdfdetach -save 1 -o told.json with.pdf && grep -q 'whole-letter.pdf' told.json; say $? "a notice that was kept is in the case" "$(cat out err)"
at 1794200001 case M26-001.02 --without-dispute --out kept1.pdf >out 2>err && pdfdetach -save 1 -o kept.json kept1.pdf && words kept1.pdf >text && ! grep -qE 'letter\.pdf|JVBERi0xLjQ' kept.json text out
say $? "and goes with the dispute where that is kept back" "$(cat out err; grep -o '.\{40\}letter.pdf.\{40\}' kept.json text)"
at 1794200002 prove --case kept1.pdf --against book.db >out 2>err && grep -qx 'Not checked: the file keeps back 4 records of disputes about this lot, which its journal rows name' out; say $? "the proof counts it" "$(cat out err)"
step=$(sqlite3 book.db "SELECT id FROM dispute_step WHERE step = 'notified' ORDER BY entry DESC LIMIT 1")
at 1794200003 void "$step" --why "sent to another mill" --yes >out 2>err && at 1794200004 case M26-001.02 --without-dispute --out kept2.pdf >>out 2>>err && pdfdetach -save 1 -o kept.json kept2.pdf && words kept2.pdf >text && ! grep -q 'another mill' kept.json text
say $? "the reason of a step that is void is kept back with it" "$(cat out err; grep -o '.\{40\}another mill.\{40\}' kept.json text)"
at 1794200005 prove --case kept2.pdf --against book.db >out 2>err && grep -q '^Not checked: the file keeps back 5 records' out; say $? "and counted" "$(cat out err)"
