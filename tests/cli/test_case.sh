#!/bin/sh
# The case file: what is on it, that it is the same each time, and that a forged one is found. Tags of its swatches.
set -u
. "$(dirname "$0")/../need.sh"
need python:scipy sqlite3 pdftotext pdfinfo pdffonts pdfimages pdfdetach pdftoppm zbarimg libreoffice /usr/bin/python3
. "$(dirname "$0")/moments.sh"

at 1792900000 new --code M --name "Mill Lane shed" --country GB >/dev/null 2>&1 || { echo "not ok - a book can be made"; exit 1; }
at 1792900001 set flame yes >/dev/null 2>&1
cat >list.csv <<'EOF'
Bolt No,Length m,Article,Composition,Unit price EUR
B1,50,crepe 9,100% Seide,18
B2,48.5,crepe 9,100% Seide,18
B3,51,crepe 9,100% Seide,18
B4,60,drill 10,warp cotton weft linen,4
EOF
at 1792900002 receive list.csv --supplier "Ohm Weavers & Töchter" --note N-1 --on 2026-10-05 >log 2>&1 || { echo "not ok - a list is received"; sed 's/^/# /' log; }
/usr/bin/python3 - <<'EOF'
import struct, zlib
chunk = lambda t, d: struct.pack(">I", len(d)) + t + d + struct.pack(">I", zlib.crc32(t + d))
raw = b"".join(b"\0" + bytes(v for x in range(90) for v in (x * 2, y * 3, 99)) for y in range(60))
open("photo.png", "wb").write(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", 90, 60, 8, 2, 0, 0, 0)) +
                              chunk(b"IDAT", zlib.compress(raw)) + chunk(b"IEND", b""))
EOF
at 1792910000 cut B1 --lot M26-001.01 --part whole --kept "drawer 4" >/dev/null 2>log || sed 's/^/# /' log
at 1792910100 burn M26-001.01.01 --saw in_flame:melts,residue_form:hard_bead,smoke:black --not odour:burning_hair --photo photo.png >/dev/null 2>log || sed 's/^/# /' log
at 1792910200 cut B2 --lot M26-001.01 --part whole >/dev/null 2>&1
at 1792910300 burn M26-001.01.02 --saw residue_form:hard_bead --not odour:burning_hair >/dev/null 2>log || sed 's/^/# /' log

at 1792920000 set dates dmy >/dev/null 2>&1 # a record that is about no lot

at 1793000000 case M26-001.01 --answer-by 2026-11-20 --out claim.pdf >out 2>err
say $? "a case is written" "$(cat err)"
[ ! -s err ] && grep -q '^Written: claim.pdf' out; say $? "it says where, and nothing on stderr" "$(cat out err)"
mkdir sheets
libreoffice --headless -env:UserInstallation="file://$dir/office" \
	--convert-to 'csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1' --outdir sheets claim.xlsx >office.log 2>&1
/usr/bin/python3 "$here/compare_twins.py" "$dir/claim" "$dir/sheets" case
pdftotext -layout claim.pdf text
for words in '100% Seide' 'Ohm Weavers & Töchter' 'contradicts' '2 of 3 bolts burnt' '98.5 of 149.5 metres' 'what was left: hard bead' \
	'expressly not there' 'unburnt half kept: drawer 4' '2691.00 EUR' '2026-11-20' 'not legal advice' 'Chain of custody' 'Below 1/20'; do
	grep -qF -- "$words" text || echo "# not on the pages: $words"
done >missing
! grep -qE 'residue_form:|odour:|tweezers|ember' text || echo "# keys or cautions of the bench are on the pages" >>missing
[ ! -s missing ]; say $? "the pages hold the claim, the finding, its rule, the burns, the bolts, custody, stake and what is asked" "$(cat missing)"
! grep -E '^(B[0-9]|Evidence ratio|the declaration\.)' text | grep -qE '[0-9]e[-+][0-9]' && grep -qE 'Evidence ratio +1/[0-9]+ or less$' text
say $? "a ratio is a figure without an exponent" "$(grep -E '[0-9]e[-+][0-9]|Evidence ratio' text)"
grep -A12 'If it were instead' text | grep -q ' 95 % .* 95 %' && ! grep -A12 'If it were instead' text | grep -q ' 100 % .* 100 %'
say $? "no burn is said to catch every false cloth" "$(grep -A12 'If it were instead' text)"
tr '\n' ' ' <text | grep -q 'showed it with a chance of 95 %: one careful burn of 100 % polyester, by the evidence model' && ! grep -q '80 %' text
say $? "what the bolts prove rests on the same chance" "$(grep -B6 'evidence model' text)"
sed -n '/^Burn alike/,/^How often/p' text | grep -q 'polyester, triexta' && ! sed -n '/^Burn alike/,/^How often/p' text | grep -q _
say $? "fibres bear the names people read" "$(grep 'Burn alike' -A2 text)"
pdftotext -l 1 -layout claim.pdf first
for words in '"100% Seide", by Ohm' 'Likeliest by bench' 'verdict of the bench: contradicts' 'bolts are false' 'At stake' '2691.00 EUR' 'What is asked' 'Signature'; do
	grep -qF -- "$words" first || echo "# not on page one: $words"
done >missing
[ ! -s missing ]; say $? "page one says what was declared, what was found, how sure that is, what is at stake and asked, and is signed" "$(cat missing first)"
/usr/bin/python3 - "$(tr '\n' ' ' <text | tr -s ' ')" <<'BOUNDS'; say $? "how many bolts are false, at least and at most, is what SciPy computes of them" "$(grep -A4 'at least' text)"
import re, sys
from scipy import stats
m = re.search(r"Judged alone, (\d+) of the burnt bolts contradict and (\d+) fit\. .*?at least (\d+) and at most (\d+) of (\d+) bolts are false.*?with a chance of (\d+) %", sys.argv[1])
bad, fit, least, most, lot = (int(v) for v in m.groups()[:5])
catch, drawn = int(m[6]) / 100, bad + fit
def chance(false, caught, c):  # of so many shown, of the false ones among those drawn at random
    return sum(stats.hypergeom.pmf(f, lot, false, drawn) * stats.binom.pmf(caught, f, c) for f in range(caught, drawn + 1))
at_most = lambda d: sum(chance(d, x, catch) for x in range(bad + 1))
at_least = lambda d: sum(chance(d, x, 1) for x in range(bad, drawn + 1))
assert most == max(d for d in range(bad, lot + 1) if at_most(d) > 0.05), most
assert least == min(d for d in range(bad, lot + 1) if at_least(d) > 0.05), least
BOUNDS
pdffonts claim.pdf | tail -n +3 | grep -qv ' yes yes yes '; [ $? = 1 ]
say $? "all type faces are embedded, with text that can be copied" "$(pdffonts claim.pdf)"
pdfinfo claim.pdf | grep -q 'Tagged: *yes'; say $? "the PDF is tagged" "$(pdfinfo claim.pdf 2>&1 | grep -i tag)"
pdfimages -list claim.pdf | grep -q ' 90 *60 '; say $? "the photograph is on a page" "$(pdfimages -list claim.pdf)"
pdfdetach -save 1 -o data.json claim.pdf 2>/dev/null && /usr/bin/python3 -c 'import json; d = json.load(open("data.json")); assert d["lot"] == "M26-001.01" and len(d["extract"]["facts"]["burn"]) == 2'
say $? "any PDF program can take the attached data out"
cp claim.pdf first.pdf; at 1793000000 case M26-001.01 --answer-by 2026-11-20 --out claim.pdf --replace >/dev/null 2>&1; cmp -s first.pdf claim.pdf
say $? "the same book at the same moment gives the same bytes"
[ -s claim.xlsx ] && [ "$(ls claim-*.csv | wc -l)" = 5 ] && grep -q '^M26-001.01.02,B2,whole,' claim-burns.csv
say $? "a workbook and its CSV twins lie beside it" "$(ls)"

"$tb" prove --case claim.pdf >out 2>err; rc=$?
[ $rc = 0 ] && [ ! -s err ] && grep -q 'Everything that was checked agrees' out && grep -q '^the pages are those' out && grep -q '^verdict computed again' out
say $? "without any book it is proved: digests, pages and verdict" "$rc $(cat out err)"
row=$(sed -n 's/.*computed again, the last is \([0-9]*\),.*/\1/p' out)
[ "$(tail -1 out)" = "Everything that was checked agrees. Whether settings, known cloth or another spelling of the supplier were left out, and whether the book went on after journal row $row, only the book can show: --against BOOK" ]
say $? "the last line says what only the book can show" "$(tail -1 out)"
"$tb" prove --case claim.pdf --against book.db >out 2>err && grep -q 'which has 0 journal rows after' out && grep -q "^$(sed -n 's/ records are covered.*//p' out) records compared with the book" out
say $? "it agrees with the book it came from, record by record" "$(cat out err)"
! grep -Eq 'drill 10|warp cotton|M26-001\.02|"B4"' data.json && ! grep -q '"salt"' data.json
say $? "it holds nothing of the other lot of the delivery, and no salt from which that could be guessed" "$(grep -En 'drill 10|warp cotton|M26-001\.02|"B4"|"salt"' data.json)"
forged() {
	/usr/bin/python3 "$here/forge_case.py" claim.pdf forged.pdf "$1" || { echo "not ok - $2 (not forged)"; return; }
	"$tb" prove --case forged.pdf >out 2>err; rc=$?
	[ $rc = 1 ] && [ "$(wc -l <err)" = 1 ] && grep -q "$3" out
	say $? "$2" "$rc $(cat out err)"
}
forged word "a changed observation is found and named" 'a row of table cue_seen is not what was recorded'
forged burn "a burn taken out is found and named" '1 rows of table burn were recorded, 0 are here'
forged photo "a swapped photograph is found and named" 'photo.png is not the one that was recorded'
forged journal "a journal row taken out is found and named" 'are missing'
forged hidden "another row among those told by their digests is found" 'does not end in row .* with the digest that the file names'
forged row "another name in a journal row is found and named" 'by Somebody else, .*) itself was changed'
forged weight "another weight of a cue is found and named" "says something else at 'cues\[1\].weight_db' than its burns give"
forged infinite "a ratio without end is found" 'from its burns it is'
forged silent "a verdict that is no longer told is found" 'the file says nothing of a verdict; from its burns there is one'
forged verdict "a verdict made milder is found and named" 'from its burns it is'
forged verdict "pages with another verdict than the attached data are found" 'the pages say the log ratio is -5\.[0-9]*, recorded at .*; in the attached data it is 5'
forged asked "words asked that are not on the pages are found" 'the pages are not those that the data give'
forged page "a changed byte on a page is found" 'page 3 does not look as the data give it: something lies over it'
forged order "rows that do not stand in the order of the journal are found" 'the rows of table verdict do not stand in the order of the journal'
forged reference "figures that nobody can compute again are found where the recorded verdict can be" 'the verdict of the file names reference sha256:0000.*; the one that was recorded last names'
# What two readers could take in two ways is read by none.
refused_as() {
	/usr/bin/python3 "$here/forge_case.py" claim.pdf forged.pdf "$1" || { echo "not ok - $2 (not forged)"; return; }
	(ulimit -v 1000000; timeout 20 "$tb" prove --case forged.pdf >out 2>err); rc=$?
	[ $rc = 1 ] && [ "$(wc -l <err)" = 1 ] && [ ! -s out ] && grep -qF "$3" err
	say $? "$2" "$rc $(cat out err)"
}
other='with another member, or another kind of value, than such records have'
refused_as both "a photograph told both by its bytes and as left out is refused" "the data hold a record of table attachment $other"
refused_as member "so is a record with a member that no digest covers" "the data hold a record of table bolt $other"
refused_as moment "and a moment that is none" "the data hold a record of table verdict $other"
refused_as set_back "rows of a rule that the form of the file never had are refused" 'otherwise than cases of their form do'
refused_as elsewhere "a file that says it is of something else is refused" 'and say that they are of B1'
refused_as nested "what a journal row says does not unpack to very much" 'one text with more than 500000; no case has so many'
refused_as texts "nor do the details of a verdict" 'one text with more than 500000; no case has so many'
refused_as asked_long "what is asked is not longer than anything that can be asked" 'the data hold a longer text than a case has'
refused_as note_long "no record is longer than anything that can be typed" 'a record of table burn with another member, or another kind of value'
refused_as long "what a journal row says is not longer than any is" 'otherwise than cases of their form do'
for bomb in many huge; do
	/usr/bin/python3 "$here/forge_case.py" claim.pdf bomb.pdf $bomb
	(ulimit -v 1000000; "$tb" prove --case bomb.pdf >out 2>err); rc=$?
	[ $rc = 1 ] && [ "$(wc -l <err)" = 1 ] && [ ! -s out ] && grep -q 'no case has so many' err
	say $? "a small file that would unpack to very much is refused before it does ($bomb)" "$rc $(ls -l bomb.pdf) $(cat out err)"
done
rm -f bomb.pdf
/usr/bin/python3 "$here/forge_case.py" claim.pdf faces.pdf faces && "$tb" prove --case faces.pdf >out 2>err; rc=$?
[ $rc = 0 ] && [ "$(tail -1 out)" = "What was checked agrees; 1 thing could not be checked here." ] && grep -q 'Not checked: the pages were drawn .* with another library' out && ! grep -q '^the pages are those' out
say $? "pages drawn with other type faces are not called wrong, and not called right" "$rc $(cat out err)"
at 1793000100 new --code Z --name Other --country FR >/dev/null 2>&1
TENTERBOOK_CLOCK=1793000200 "$tb" --book other.db new --code Z --name Other --country FR >/dev/null 2>&1
"$tb" prove --case claim.pdf --against other.db >out 2>err; rc=$?
[ $rc = 1 ] && grep -q 'is another one in the book' out && grep -q 'journal rows of the file are not in the book' out
say $? "another book is told apart" "$rc $(cat out err)"
cp book.db changed.db
sqlite3 changed.db "UPDATE cue_seen SET cue = 'smoke:white' WHERE cue = 'smoke:black'"
"$tb" --book changed.db case M26-001.01 --out changed.pdf >out 2>err; rc=$?
[ $rc = 1 ] && grep -q 'no case is made of it: journal row .* a row of table cue_seen is not what was recorded' err && [ ! -e changed.pdf ]
say $? "no case is made of a book that was changed behind the program's back" "$rc $(cat out err)"
"$tb" --book changed.db case M26-001.01 --notice --out changed.pdf >out 2>err; rc=$?
[ $rc = 1 ] && grep -q 'no paper is made of it: journal row .* a row of table cue_seen is not what was recorded' err && [ ! -e changed.pdf ] && [ ! -e changed.txt ]
say $? "nor a notice" "$rc $(cat out err)"
"$tb" prove --case claim.pdf --against changed.db >out 2>err; rc=$?
[ $rc = 1 ] && grep -q 'a row of table cue_seen of journal row .* is another one in the book' out
say $? "a record that the book tells otherwise is named" "$rc $(cat out err)"
cp book.db more.db
"$tb" --book more.db cut B3 --lot M26-001.01 --part whole >/dev/null 2>&1
"$tb" prove --case claim.pdf --against more.db >out 2>err; rc=$?
[ $rc = 0 ] && grep -q 'which has 1 journal row after' out && grep -q '^Later in the book, about this lot: journal row [0-9]* (cut M26-001.01.03 by Ines Okonjo, 20.*)$' out &&
	[ "$(tail -1 out)" = "Everything that was checked agrees; the book went on, and has 1 later journal row about this lot." ]
say $? "what the book recorded of the lot later is named and counted, and no difference" "$rc $(cat out err)"
"$tb" --book more.db set flame no >/dev/null 2>&1
"$tb" prove --case claim.pdf --against more.db --json >out 2>err; rc=$?
[ $rc = 0 ] && /usr/bin/python3 -c 'import json; d = json.load(open("out")); assert d["agrees"] and d["later_rows"] == 2 and len(d["later_rows_of_lot"]) == 1, d'
say $? "programs are told which of the later rows are about the lot" "$rc $(cat out err)"
# The book itself: what says nothing of this lot, and leaves every row of the case as it is.
cp book.db unsound.db; sqlite3 unsound.db "UPDATE bolt SET metres = 500 WHERE number = 'B4'"
"$tb" prove --case claim.pdf --against unsound.db >out 2>err; rc=$?
[ $rc = 1 ] && [ "$(wc -l <err)" = 1 ] && grep -q 'the book does not fit its journal: journal row .* a row of table bolt is not what was recorded' err && [ "$(tail -2 out | head -1)" = "Does not agree:" ]
say $? "a book that does not prove shows nothing of a case" "$rc $(cat out err)"
/usr/bin/python3 "$here/forge_case.py" claim.pdf forged.pdf word && "$tb" prove --case forged.pdf --against unsound.db >out 2>err; rc=$?
[ $rc = 1 ] && [ "$(wc -l <err)" = 1 ] && grep -q 'the case file does not agree with itself or with the book: .* table cue_seen' err && grep -q 'a row of table cue_seen is not what was recorded' out && tail -1 out | grep -q '^the book does not fit its journal: '
say $? "a forged case is named also where the book fails" "$rc $(cat out err)"
"$tb" prove --case forged.pdf --against book.db --since "$("$tb" --book other.db anchor)" >out 2>err; rc=$?
[ $rc = 1 ] && grep -q 'table cue_seen' err && tail -1 out | grep -q '^the book is not what was noted of it elsewhere: '
say $? "and where the book is not what was noted" "$rc $(cat out err)"

# What was noted elsewhere shows of a case what it shows of a book, as far as the case goes.
held() { "$tb" prove --case "$@" >out 2>err; rc=$?; }
key=$("$tb" --book book.db key | sed -n 's/^Signing key //p')
line=$("$tb" --book book.db anchor)
rows=${line#*:}; rows=${rows%%:*}
cp book.db gone.db; cp book.db.key gone.db.key; "$tb" --book gone.db cut B3 --lot M26-001.01 --part whole >/dev/null 2>&1
held claim.pdf --since "$line" --signed-by "$key"
[ $rc = 0 ] && [ ! -s err ] && grep -q "^Journal row $rows has the digest that was noted: what the case tells .* It tells 0 rows after it\.$" out &&
	grep -q '^The key that is known signed the last row of the case' out && tail -1 out | grep -q '^Everything that was checked agrees'
say $? "a case is held against a noted row and a key, without the book" "$rc $(cat out err)"
# What a scanner reads on a paper: one code among its pages.
scanned() { rm -f scan-*.png; pdftoppm -r 200 -gray -png "$1" scan && zbarimg -q --raw -Sdisable -Sqrcode.enable scan-*.png 2>/dev/null; }
code=$(scanned claim.pdf)
[ "$code" = "$line" ]; say $? "the code on its pages is the anchor of the book, letter by letter" "$code"
"$tb" --book book.db prove --since "$code" >out 2>err && grep -q "^Journal row $rows has the digest that was noted" out && grep -qF "$line" claim-case.csv
say $? "prove --since takes what is read, and the workbook says the same" "$(cat out err)"
at 1793000000 --book book.db case M26-001.01 --notice --on 2026-10-26 --out letter.pdf >out 2>err
[ "$(scanned letter.pdf)" = "$line" ] && grep -qxF "$line" letter.txt; say $? "the notice has the code, and its text the line" "$(cat out err; tail -3 letter.txt)"
TENTERBOOK_CLOCK=1793000000 "$tb" --book book.db sheet --month 2026-10 --out month.xlsx >out 2>err
[ "$(scanned month.pdf)" = "$line" ] && grep -qF "$line" month-summary.csv; say $? "so has the page of the month, and its summary the line" "$(cat out err; tail -2 month-summary.csv)"
held claim.pdf --since "3:$(sqlite3 book.db 'SELECT digest FROM journal WHERE number = 3')"
[ $rc = 0 ] && grep -q "It tells $((rows - 3)) rows after it\.$" out
say $? "an earlier note holds too, and what it says nothing of is counted" "$rc $(cat out err)"
held claim.pdf --since "3:$(sqlite3 book.db 'SELECT digest FROM journal WHERE number = 4')"
[ $rc = 1 ] && [ "$(wc -l <err)" = 1 ] && grep -q 'journal row 3 has the digest .* in the file, and another one was noted elsewhere' err
say $? "a case of a book that was written anew is refused by who noted a row" "$rc $(cat out err)"
held claim.pdf --since "$("$tb" --book gone.db anchor)"
[ $rc = 0 ] && grep -q "^Not checked: 1 noted row came after the last row of the case, which is $rows$" out && [ "$(tail -1 out)" = "What was checked agrees; 1 thing could not be checked here." ]
say $? "a note of a later row is counted as not checked" "$rc $(cat out err)"
held claim.pdf --against gone.db --since "$("$tb" --book gone.db anchor)" --signed-by "$key"
[ $rc = 0 ] && ! grep -q 'Not checked' out
say $? "the book it is held against answers for that row" "$rc $(cat out err)"
held claim.pdf --against book.db --since "$("$tb" --book gone.db anchor)"
[ $rc = 1 ] && [ "$(wc -l <err)" = 1 ] && grep -q 'what came after it was cut off' err
say $? "a book from which that row was cut off does not" "$rc $(cat out err)"
held claim.pdf --signed-by "$(echo "$key" | tr 0-9a-f 1-9a-f0)"
[ $rc = 1 ] && [ "$(wc -l <err)" = 1 ] && grep -q "the last row is signed by the key $key, and the known key did not vouch for it" err
say $? "a case that another key signed is refused" "$rc $(cat out err)"
"$tb" key --make next.key >/dev/null 2>&1 && "$tb" --book gone.db key --take next.key >/dev/null 2>&1 && "$tb" --book gone.db case M26-001.01 --out next.pdf >/dev/null 2>log
held next.pdf --signed-by "$key"
[ $rc = 0 ] && grep -q 'The key that is known signed' out; say $? "who knows the key before trusts what the next signed" "$rc $(cat log out err)"
held next.pdf --since "$("$tb" --book gone.db anchor)" --json
[ $rc = 0 ] && /usr/bin/python3 -c 'import json; d = json.load(open("out")); assert d["agrees"] and len(d["held_since"]) == 1 and d["unchecked"]["noted_rows"] == 0'
say $? "programs are told which rows it was held against" "$rc $(cat out err)"
mv gone.db.key away.key 2>/dev/null
TENTERBOOK_KEY=away.key "$tb" --book gone.db set flame no >/dev/null 2>&1; TENTERBOOK_KEY=none.key "$tb" --book gone.db case M26-001.01 --out unsigned.pdf >/dev/null 2>log
held unsigned.pdf --signed-by "$key"
[ $rc = 1 ] && grep -qE 'journal row [0-9]+, the last of the file, is not signed' err; say $? "a case whose last row is not signed is refused where the key is known" "$rc $(cat log out err)"
forged signature "a changed signature of the last row is found" 'the signature of journal row .*, the last of the file, does not fit'

"$tb" prove --case "$here/../books/shape-4-case.pdf" >out 2>err; rc=$?
[ $rc = 0 ] && [ ! -s err ] && grep -q '^46 records are covered' out && grep -q '^Not checked: 5 records were recorded by an older program' out &&
	grep -q '^Not checked: the file keeps back 2 records of disputes about this lot' out &&
	[ "$(tail -1 out)" = "What was checked agrees; $((5 - 1 + 2 - 1 + $(grep -c '^Not checked: ' out))) things could not be checked here." ]
say $? "a case of an older program is proved by its own rule, and what that leaves open is counted" "$rc $(cat out err)"
cp "$here/../books/shape-4.db" old.db
"$tb" --book old.db prove >out 2>err; rc=$?
[ $rc = 0 ] && [ -e old.db.before-$(ls "$here"/../../sql/schema | wc -l) ] && grep -q '^23 of the journal rows have one digest for each table, as older programs made them' out
say $? "a book of an older program is brought up to date, and proving it says which rule its rows keep" "$rc $(cat out err)"
cp "$here/../books/shape-5.db" trees.db
"$tb" --book trees.db case M26-001.02 --out trees.pdf >out 2>err; rc=$?
[ $rc = 1 ] && grep -q 'judge the lot again first' err && [ ! -e trees.pdf ]; say $? "a verdict of an older program is judged again before a case is made" "$rc $(cat out err)"
"$tb" --book trees.db judge M26-001.02 >/dev/null 2>err && "$tb" --book trees.db case M26-001.02 --out trees.pdf >out 2>>err && "$tb" prove --case trees.pdf >out 2>>err; rc=$?
[ $rc = 0 ] && grep -q '^Not checked: 1 journal row of an older program recorded several lots, and does not show whether all it recorded of this one is here$' out && tail -1 out | grep -q '^What was checked agrees; '
say $? "a delivery that an older program recorded does not show that all of the lot is there, which is counted" "$rc $(cat out err)"
at 1793300000 --book old.db burn M26-001.01.02 --saw residue_form:hard_bead >/dev/null 2>err && at 1793300001 --book old.db case M26-001.01 --out mixed.pdf >out 2>>err &&
	"$tb" prove --case mixed.pdf --against old.db >out 2>>err && grep -q '^Not checked: 5 records were recorded by an older program' out && tail -1 out | grep -q '^What was checked agrees; '
say $? "a case of its lot goes over rows of both rules" "$(cat out err)"
/usr/bin/python3 - <<'EOF'
import struct, zlib
chunk = lambda t, d: struct.pack(">I", len(d)) + t + d + struct.pack(">I", zlib.crc32(t + d))
open("huge.png", "wb").write(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", 8000, 8000, 1, 0, 0, 0, 0)) +
                             chunk(b"IDAT", zlib.compress(bytes(1001 * 8000))) + chunk(b"IEND", b""))
EOF
at 1793300002 --book old.db burn M26-001.02.01 --saw residue_form:light_fluffy_ash --photo huge.png >/dev/null 2>err &&
	at 1793300003 --book old.db case M26-001.02 --out huge.pdf >out 2>>err && pdftotext huge.pdf - | grep -q 'huge.png (image/png) is in the attached data; it cannot be shown here'
say $? "a picture that a few bytes blow up to 64 million pixels is named and not drawn" "$(cat out err)"
head -c 60000 claim.pdf >half.pdf; "$tb" prove --case half.pdf >out 2>err; rc=$?
[ $rc = 1 ] && [ "$(wc -l <err)" = 1 ] && [ ! -s out ]; say $? "half a file is refused in one sentence" "$rc $(cat err)"
"$tb" prove --case list.csv >out 2>err; rc=$?
[ $rc = 1 ] && grep -q 'list.csv: this is not a PDF file' err; say $? "a file that is no PDF is refused" "$rc $(cat err)"
at 1793000000 case M26-009.01 >out 2>err; rc=$?
[ $rc = 1 ] && [ "$(wc -l <err)" = 1 ] && [ ! -e case-M26-009.01.pdf ]; say $? "a lot that is not there is refused" "$rc $(cat err)"
at 1793000000 case M26-001.02 >out 2>err && pdftotext case-M26-001.02.pdf - | grep -q 'No verdict is recorded' && "$tb" prove --case case-M26-001.02.pdf >/dev/null 2>err
say $? "a lot that was never burnt has a case too" "$(cat err)"
cp book.db tested.db
tried() { SOURCE_DATE_EPOCH=$1; export SOURCE_DATE_EPOCH; shift; "$tb" --book tested.db "$@"; }
tried 1792990000 cut B4 --lot M26-001.02 --part warp >/dev/null 2>&1
tried 1792990100 try M26-001.02.01 --test acetone --result stays >/dev/null 2>log
tried 1793000000 case M26-001.02 --out tested.pdf >/dev/null 2>err && pdftotext -layout tested.pdf - | tr -s '\n ' ' ' | grep -q 'Nothing was burnt; 1 test without a flame was recorded.' && "$tb" prove --case tested.pdf >/dev/null 2>>err
say $? "a case of a lot that was only tested says so" "$(cat log err)"

at 1793000000 tags M26-001.01 --out tags.pdf >out 2>err && grep -q 'with 2 tags' out && pdftoppm -r 300 -gray -H 800 -png -singlefile tags.pdf page &&
	[ "$(zbarimg -q --raw -Sdisable -Sqrcode.enable page.png 2>/dev/null | sort | tr '\n' ' ')" = "M26-001.01.01 M26-001.01.02 " ]
say $? "the tags of its swatches are read by a scanner" "$(cat out err)"
line=$("$tb" --book book.db anchor)
at 1793000000 tags M26-001.01 --anchor --out anchored.pdf >out 2>err && [ "$(scanned anchored.pdf | sort)" = "$(printf 'M26-001.01.01\nM26-001.01.02\n%s\n' "$line" | sort)" ]
say $? "with --anchor one more label bears the anchor of the book, letter by letter" "$(scanned anchored.pdf; cat out err)"
at 1793000000 tags M26-001.01 --anchor --skip 22 --out turned.pdf >out 2>err && [ "$(pdfinfo turned.pdf 2>/dev/null | sed -n 's/^Pages: *//p')" = 2 ] && [ "$(scanned turned.pdf | grep -c :)" = 1 ]
say $? "on the next sheet where this one is full" "$(cat out err)"
at 1793000000 tags M26-001.01 --anchor --label 38x21 --out small.pdf >out 2>err; rc=$?
[ $rc = 1 ] && grep -q 'a label of 38 x 21 mm has no room for the anchor, which takes 28 mm each way' err && [ ! -e small.pdf ]; say $? "a label that is too small for it is refused" "$rc $(cat out err)"
at 1793000000 tags M26-001.01 --anchor --label 30x37 --out narrow.pdf >out 2>err && scanned narrow.pdf | grep -qxF "$line"; say $? "on a narrow one the code stands alone" "$(cat out err)"
at 1793000000 tags M26-001.01.02 --label 63.5x38.1 --edge 7.2x15.1 --gap 2.5x0 --skip 4 --out one.pdf >out 2>err && grep -q 'with 1 tag\.' out
say $? "one swatch is printed on the label that is left" "$(cat out err)"
at 1793000000 tags M26-001.02 >out 2>err; rc=$?
[ $rc = 1 ] && grep -q 'there is no swatch to print a tag for' err; say $? "a lot without swatches is refused" "$rc $(cat err)"
at 1793000000 tags M26-001.01 --label 70 >out 2>err; rc=$?
[ $rc = 2 ] && grep -q "'70' is not a pair of millimetres" err; say $? "a measure that is none is a misuse" "$rc $(cat err)"

at 1792910400 cut B4 --lot M26-001.02 --part warp >/dev/null 2>&1
at 1792910500 burn M26-001.02.01 --saw odour:burning_paper,residue_form:light_fluffy_ash,removed:afterglow --not residue_form:hard_bead >/dev/null 2>log
at 1793000000 case M26-001.02 --out fits.pdf >/dev/null 2>err && pdftotext -layout fits.pdf - | tr -s '\n ' ' ' | grep -q 'fits the declaration: it is .* Nothing was found against the declaration; that never confirms it' && "$tb" prove --case fits.pdf >/dev/null 2>>err
say $? "a case of a lot that fits does not say that a burn confirms it" "$(cat log err)"
cp book.db other-rule.db
TENTERBOOK_CLOCK=1792990000 "$tb" --book other-rule.db set fits_above 999999999 >/dev/null 2>&1
TENTERBOOK_CLOCK=1793000000 "$tb" --book other-rule.db case M26-001.02 --out stale.pdf >out 2>err; rc=$?
[ $rc = 1 ] && grep -q "the verdict of 2026-10-25 on lot M26-001.02 is 'fits', and by what is known now it would be 'undecided': judge the lot again first (tenterbook judge M26-001.02)" err && [ ! -e stale.pdf ]
say $? "no case is made of a verdict that no longer follows from what is known" "$rc $(cat out err)"
TENTERBOOK_CLOCK=1792990001 "$tb" --book other-rule.db judge M26-001.02 >/dev/null 2>&1
TENTERBOOK_CLOCK=1793000000 "$tb" --book other-rule.db case M26-001.02 --out again.pdf >out 2>err && "$tb" prove --case again.pdf >out 2>>err
say $? "once the lot is judged again it is made, and agrees" "$(cat out err)"
cp book.db strict.db
TENTERBOOK_CLOCK=1792990000 "$tb" --book strict.db set speaks_below 0.06 >/dev/null 2>&1
TENTERBOOK_CLOCK=1792990001 "$tb" --book strict.db judge M26-001.02 >/dev/null 2>&1
TENTERBOOK_CLOCK=1793000000 "$tb" --book strict.db case M26-001.02 --out strict.pdf >out 2>err && pdftotext -layout strict.pdf - | tr -s '\n ' ' ' | grep -q 'else below 1/16.7 it speaks against it'
say $? "the rule on its pages is that of the settings in force" "$(cat out err)"

# Each of these people writes for the first time, about this lot: the case holds them, or its journal does not add up.
by() { when=$1 who=$2; shift 2; at "$when" --as-person "$who" "$@" >>log 2>&1; }
: >log
by 1793100000 Zoe declare M26-001.01 --text "100% silk" --slip --anyway --why "read wrongly: their letter in English" && by 1793100001 Yuri draw M26-001.01 &&
	by 1793100002 Xenia settle M26-001.01 --as held --why "asked the supplier" && by 1793100003 Wim use B3 --anyway --why "sample for the buyer" &&
	by 1793100004 Vera try M26-001.01.01 --test acetone --result stays && by 1793100005 Uri cut B3 --lot M26-001.01 --part whole --kept "drawer 5" &&
	by 1793100006 Tora cut B2 --lot M26-001.01 --part whole --kept "drawer 6" && by 1793100007 Sol share M26-001.01 &&
	by 1793100008 Rhea dispute M26-001.01 --opened --words "not silk" --document photo.png &&
	by 1793100009 Quin assay M26-001.01 --found "100% polyester" --uncertainty 0.5 &&
	by 1793100010 Pia burn M26-001.01.03 --saw residue_form:hard_bead --could-not odour && by 1793100011 Olga judge M26-001.01
say $? "twelve people write about a lot, each for the first time" "$(tail -3 log)"
at 1793200000 case M26-001.01 --out people.pdf >out 2>err && pdftotext -layout people.pdf - | grep -q "Clock" && ! pdftotext people.pdf - | grep -q " as $(id -un)" && "$tb" prove --case people.pdf >out 2>>err && grep -q 'Everything that was checked agrees' out
say $? "a case holds whoever wrote about its lot, and proves itself" "$(cat out err)"
pdftotext -layout -f 1 -l 1 people.pdf - | tr -s '\n ' ' ' | grep -q 'put right here from: "'
say $? "page one says from what the words of a list were put right here" "$(pdftotext -layout -f 1 -l 1 people.pdf -)"
pdftotext -layout people.pdf - | tr -s '\n ' ' ' | grep -q 'Could not be judged: the smell'
say $? "the page of burns says what could not be judged"

# Cloth that nothing is declared of: the file says what it is likeliest to be, and proves. A laboratory's answer stands first.
printf 'bolt,metres,article,composition\nU1,20,Plain,\nU2,20,Knit,60%% cotton 40%% polyester\n' >plain.csv
at 1793200000 receive plain.csv --supplier Fenn --note F-9 --on 2026-10-05 --yes >log 2>&1
plain=$(awk '/nothing declared/ { print $1; exit }' log)
at 1793200001 cut U1 >out 2>&1
grep -q "of bolt U1, lot $plain, of which nothing is declared\.$" out
say $? "a swatch of cloth without a declaration is told so" "$(cat log out)"
at 1793200002 burn "$plain.01" --saw smoke:black,residue_form:hard_bead >out 2>&1 &&
	grep -q "^Lot $plain, of which nothing is declared: undecided" out && grep -q '^The test to make next, to see whether it is 100 % polyester: ' out
say $? "its burn names the test that would tell whether it is the likeliest" "$(cat out)"
at 1793200003 case "$plain" --out plain.pdf >out 2>err && "$tb" prove --case plain.pdf >out 2>>err && grep -qx 'verdict computed again: what was seen cannot be held against a declaration' out
say $? "its case proves" "$(cat out err)"
pdftotext -layout plain.pdf - | tr -s '\n ' ' ' >text
grep -q 'Fenn declares nothing of what this cloth is made of\. ' text && grep -q 'Likeliest to be polyester ([0-9]* in 100)' text &&
	grep -q ', to see whether it is 100 % polyester' text && ! grep -q 'Evidence ratio' text && ! grep -q 'evidence ratio says how' text
say $? "its page says what it is likeliest to be, and no ratio" "$(cat text)"
at 1793200004 assay "$plain" --found "100% polyester" --uncertainty 0.5 --laboratory "Ring Street" >log 2>&1
at 1793200005 case "$plain" --out found.pdf >out 2>err && pdftotext -layout -f 1 -l 1 found.pdf - | tr -s '\n ' ' ' >text && grep -q 'by Ring Street: 100 % polyester\. It was compared with no declaration\. A laboratory.s result weighs more' text && grep -q 'Verdict of the burns undecided' text
say $? "what a laboratory found stands on the first page, before the burns" "$(cat err text)"
"$tb" prove --case found.pdf >out 2>err
say $? "and the case proves all the same" "$(cat err)"
at 1793200006 assay U2 --found "100% polyester" --uncertainty 0.5 >log 2>&1
at 1793200007 sheet --month 2026-10 --out sheets.xlsx >out 2>err && grep -q "^$plain,.*,undecided,polyester ([0-9]* in 100),100 % polyester," sheets-lots.csv
say $? "the month's list has the likeliest of cloth without a declaration" "$(cat err; grep "^$plain" sheets-lots.csv)"
grep -q '^M.*,a laboratory found that it does not conform: decide,held,' sheets-open.csv
say $? "a lot whose analysis does not conform is to be decided, not released" "$(cat sheets-open.csv)"
grep -q '^"Not conforming, by all that is known",Share of all lots taken not to be as declared,0\.[0-9]*,,' sheets-summary.csv
say $? "the summary says which base rate is taken, and where it comes from" "$(cat sheets-summary.csv)"
