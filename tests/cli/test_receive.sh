#!/bin/sh
# receive: what is stored, what is printed, what is refused with which words.
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need sqlite3 /usr/bin/python3
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_CLOCK=1795694400 # 2026-11-26 12:00 UTC, whatever day it is
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=tester

misused() { is 2 && [ ! -s out ] && [ "$(head -1 err)" = "tenterbook: $1" ]; }
bolts() { sqlite3 shed.db 'SELECT count(*) FROM bolt'; }

cat >plain.csv <<'CSV'
supplier,delivery note,date,order no,article,colour,dye lot,bolt no,length yd,width,g/m2,composition,origin,price per yd,currency
Alder Mill,N-1,2026-03-14,PO 7,Q10,navy,L1,0001,100,150,180,"60% cotton, 40% polyester",PT,2.50,EUR
Alder Mill,N-1,2026-03-14,PO 7,Q10,navy,L1,0002,50.5,150,180,"60% cotton, 40% polyester",PT,2.50,EUR
Alder Mill,N-1,2026-03-14,PO 7,Q11,ecru,L2,0003,20,150,180,100% PE,PT,2.50,EUR
CSV
run receive plain.csv --dry-run
ok "a dry run needs no book" has "Nothing was stored."
ok "a dry run shows how each column is understood" grep -qF "H  bolt no        bolt number" out
ok "a dry run makes no book" [ ! -e shed.db ]
run receive plain.csv
ok "without a book receive is refused" is 1
run new --code W
run receive plain.csv --on 2026-03-16
ok "a delivery is summed up in one line" \
	has "W26-001: Alder Mill, note N-1 of 2026-03-14, arrived 2026-03-16: 2 lots, 3 bolts, 155.91 m, order PO 7"
ok "its lots are listed with what is declared" \
	grep -q 'W26-001.01  Q10  navy  L1  2 bolts  137.62 m  60% cotton, 40% polyester' out
ok "a doubt in a declaration is said for its lot" grep -q 'W26-001.02: "100% PE": ' out
ok "yards are kept as metres, with what was written" \
	[ "$(sqlite3 shed.db "SELECT metres || '|' || said FROM bolt WHERE number = '0001'")" = "91.44|100 yd" ]
ok "a price per yard becomes a price per metre" \
	[ "$(sqlite3 shed.db "SELECT round(unit_price, 4) || currency FROM lot WHERE ref = 'W26-001.01'")" = "2.734EUR" ]
run prove
ok "the journal proves what was received" has "Everything fits."

run receive plain.csv
ok "the same file again is refused by its digest" \
	refused "plain.csv: this very file was taken in before, as W26-001 on 2026-11-26; say why it comes again, if it is another delivery (--again --why TEXT)"
ok "with what is there" grep -q '^  there: W26-001, note ' err
run receive plain.csv --again
ok "and --again alone gives no reason" is 1
cp plain.csv copy.csv
run receive copy.csv
ok "a copy under another name is the same file" is 1
run receive plain.csv --again --why "a second truck" --json
ok "with a reason it is taken in once more" has '"delivery": "W26-'
ok "the JSON is one object with the lots" \
	[ "$(/usr/bin/python3 -c 'import json;d=json.load(open("out"));print(len(d["files"][0]["deliveries"][0]["lots"]))')" = 2 ]

before=$(bolts)
cat >bad.csv <<'CSV'
article,colour,dye lot,bolt no,length m,composition
Q10,navy,L1,7,100,100% cotton
Q10,navy,L1,7,100,100% cotton
Q10,navy,L1,3,-4,100% cotton
Q10,navy,L1,4,many,100% cotton
CSV
run receive bad.csv --supplier "Alder Mill" --note N-2
ok "a file with bad values is refused whole" \
	refused "bad.csv: 3 values cannot be taken; nothing of this file is stored"
ok "a repeated bolt number is named with both its lines" \
	grep -qF "bad.csv: line 3, column D 'bolt no', value '7': this bolt number stands on line 2 already" err
ok "a negative length is named" grep -qF "bad.csv: line 4, column E 'length m', value '-4': a length below zero" err
ok "words for a length are named" grep -qF "bad.csv: line 5, column E 'length m', value 'many': this is not a length" err
ok "nothing of it is stored" [ "$(bolts)" = "$before" ]
run receive bad.csv --supplier "Alder Mill" --note N-2 --json
ok "bad values are in the JSON too" grep -q '"bad_count": 3' out

sed 's/,N-1,/,N-9,/' plain.csv >other.csv
run receive other.csv bad.csv --supplier "Birch Weavers" --note N-9
ok "of several files the good ones are stored" is 1
ok "and the last sentence counts the refused" \
	[ "$(tail -1 err)" = "tenterbook: 1 of 2 files were refused; the others are in the book" ]
ok "the good file is in the book" [ "$(bolts)" = $((before + 3)) ]

printf 'article;bolt;length m;TKG\nQ1;1;1,500;100 CO\n' >two.csv
run receive two.csv --supplier A --note 1
ok "two readings of a figure are asked about, with both" \
	refused "two.csv: '1,500' in the column 'length m', line 2, can be read as 1.5 or as 1500; say --decimal comma or --decimal point"
run receive two.csv --supplier A --note 1 --decimal comma --dry-run
ok "and taken once it is said" has "1 bolt, 1.50 m"
printf 'article,bolt,qty,composition\nQ1,1,30,100 CO\n' >unit.csv
run receive unit.csv --supplier A --note 1
ok "lengths without a unit are asked about" \
	refused "unit.csv: the lengths in the column 'qty' ('30') do not say whether they are metres or yards; say --unit m or --unit yd"
printf 'article,nummer,metres\nQ1,1,30\n' >columns.csv
run receive columns.csv --supplier A --note 1
ok "missing columns are named with the headers seen" \
	grep -qFx "columns.csv: no column was found for: bolt number, declared composition (or --declared). The headers seen on line 1 are 'article', 'nummer', 'metres'; --map \"HEADER=FIELD\" says what one of them means, --without bolt-numbers that the bolts have none and are given some" err
run receive columns.csv --supplier A --note 1 --map nummer=bolt --declared "100% wool" --dry-run
ok "--map and --declared fill in" has "1 bolt, 30.00 m"
run set header:nummer bolt
run receive columns.csv --supplier A --note 1 --declared "100% wool" --dry-run
ok "a word the site has taught is understood" has "1 bolt, 30.00 m"

# --- everything at once ---------------------------------------------------------------------------------------
# follow: runs the command line that the last refusal printed, with "$@" after it
follow() {
	sed -n '/^With all of that as it stands here:$/{n;s/^ *tenterbook //p;}' err >advice
	eval "set -- $(cat advice) \"\$@\"" && run "$@"
}
printf 'Weberei Rinnthal\nDatum: KW 14/26\nBestell-Nr.: 8/26\nWare;Rolle;Menge;Breite\nA1;1;20,500;58\nA1;2;31,500;60\nZusammen;;52,000;\n' >open-77.csv
run receive open-77.csv --on 2026-10-01
ok "a list that leaves much open asks for all of it at once" \
	[ "$(grep -c '^open-77.csv: ' err)$(grep -c '^    \(likely\|proposed\): --' err)" = 77 ]
ok "each with what is likely" grep -qx "    likely: --decimal comma" err
ok "a name is proposed from the title" grep -qx "    proposed: --supplier 'Weberei Rinnthal'" err
ok "a number from the name of the file" grep -qx "    proposed: --note 77" err
ok "a date nobody can read in a title is a question, not a refusal of every row" grep -qx "    likely: --without note-date" err
ok "and the last sentence counts them" [ "$(tail -1 err)" = "tenterbook: open-77.csv: 7 things are left open; nothing of this file is stored" ]
ok "nothing of it is stored yet" [ "$(sqlite3 shed.db "SELECT count(*) FROM delivery WHERE file_name = 'open-77.csv'")" = 0 ]
follow --dry-run
ok "what the printed line gives is taken" has "2 bolts, 52.00 m"
run receive open-77.csv --on 2026-10-01
follow
ok "and stored, as printed" grep -q "^W[0-9-]*: Weberei Rinnthal, note 77, arrived 2026-10-01: 1 lot, 2 bolts, 52.00 m" out
run receive open-77.csv --on 2026-10-01 --again --why tried --json
ok "the questions are in the JSON, for whoever shows them" /usr/bin/python3 -c '
import json
q = json.load(open("out"))["files"][0]["questions"]
assert len(q) == 7 and all(a["option"] and "value" in a for x in q for a in x["answers"]), q'
for odd in two.csv unit.csv columns.csv; do
	run receive "$odd" --supplier "O'Hara & Sons" --note 'x; rm *'
	follow --dry-run
	ok "the advice for $odd works, with quotes where a shell needs them" has "O'Hara & Sons, note x; rm *"
done
run receive plain.csv --without weather
ok "only what a list can do without is left out" misused "--without is 'weather'; it takes one of: note-date order width mass price origin bolt-numbers"
run receive plain.csv --again --why tried --dry-run --without price --without width
ok "what is left out is not a column of it" grep -q "^  J  width " out
run receive plain.csv --again --why tried --dry-run --note-date 2026-03-15
ok "the day of the note can be said" has "note N-1 of 2026-03-15"
run receive plain.csv --note-date 14.3.2026
ok "as a day" misused "--note-date is '14.3.2026'; it takes a day from 1990-01-01 to 2199-12-31"

# --- at a terminal --------------------------------------------------------------------------------------------
cat >talk.py <<'PY'
import os, pty, sys
answers = sys.argv[1].encode().decode("unicode_escape").encode()
command = sys.argv[2:]
pid, fd = pty.fork()
if pid == 0:
    os.execv(command[0], command)
os.write(fd, answers)
seen = b""
while True:
    try:
        more = os.read(fd, 65536)
    except OSError:
        break
    if not more:
        break
    seen += more
sys.stdout.write(seen.decode().replace("\r", "").replace("\033[K", ""))
sys.exit(os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1]))
PY
talk() { a=$1; shift; /usr/bin/python3 talk.py "$a" "$t" "$@" >out 2>err; code=$?; }
sed 's/A1;2;31,500/A1;2;32,500/;s/52,000/53,000/' open-77.csv >open-78.csv
before=$(bolts)
talk '100% Seide\nRinnthal GmbH\n\n\n\n\n\nn\n' receive open-78.csv --on 2026-10-01
ok "at a terminal the list can be left after it was shown" [ "$code" = 1 ] && grep -q "left; nothing of it is stored" out
ok "and is not stored then" [ "$(bolts)" = "$before" ]
talk '100% Seide\nRinnthal GmbH\n\n\n\n\n\n\n\n' receive open-78.csv --on 2026-10-01
ok "at a terminal each thing is asked by itself, and Enter takes the likely answer" is 0
ok "what was typed counts" grep -q "^> W[0-9-]*: Rinnthal GmbH, note 78, " out
ok "what would be taken in is shown before it is stored" grep -q "^> Would be taken in: Rinnthal GmbH, note 78, .*53.00 m" out
ok "and is stored then" [ "$(bolts)" = $((before + 2)) ]
talk '' receive plain.csv --again --why tried --yes --dry-run
ok "--yes does not ask" is 0

# --- totals ---------------------------------------------------------------------------------------------------
printf 'article;lot;bolt;length m;TKG\nQ1;L1;101;10;100 CO\nQ1;L1;102;20;100 CO\nQ1;L1;Semua;31;\n' >wrong.csv
run receive wrong.csv --supplier A --note 1
ok "a word where the numbers stand, with a length that is no sum, is asked about" \
	refused "wrong.csv: line 4: 'Semua' with 31.00 m is unlike the other bolts, and not the sum of those above; say --total-line 4 if it is a total, --bolt-line 4 if it is a bolt"
run receive wrong.csv --supplier A --note 1 --dry-run --total-line 4
ok "said to be a total, it is none of the bolts" has "2 bolts, 30.00 m"
ok "and its difference is said" has "line 4: the total says 31.00 m, the 2 bolts above it add up to 30.00 m: a difference of +1.00 m"
run receive wrong.csv --supplier A --note 1 --dry-run --map Semua=total
ok "its word can be taught instead" has "2 bolts, 30.00 m"
run receive wrong.csv --supplier A --note 1 --dry-run --bolt-line 4
ok "said to be a bolt, it is one" has "3 bolts, 61.00 m"
run receive wrong.csv --supplier A --note 1 --total-line four
ok "a line is a number" misused "--total-line is 'four'; it takes the number of a line, or SHEET:LINE"

run receive
ok "no file is misuse" is 2
run receive plain.csv --unit furlong
ok "an unknown unit is misuse" misused "--unit is 'furlong'; it takes one of: m yd ft kg"
run receive plain.csv --map x=y
ok "an unknown field is misuse" is 2
run receive plain.csv --on 2999-01-01
ok "goods still to come are refused" is 1
run receive missing.csv
ok "a file that is not there is named" refused "missing.csv: the file cannot be opened: No such file or directory"

# --- the same goods in other bytes ----------------------------------------------------------------------------
sed 's/Q10/Q-10/' plain.csv >bytes.csv
run receive bytes.csv
ok "the same note in other bytes is refused, and says how it can come again" [ "$code" = 1 ]
ok "with what is there beside what is here" grep -q '^  there: W26-' err
ok "and a reason asked for" grep -q '(--again --why TEXT)$' err
run receive bytes.csv --again --why "the other half" --json
ok "which is kept" grep -q 'taken in again: the other half' out

talk '\n' receive bytes.csv
ok "at a terminal it is shown beside what is there" grep -q '  there: W26-' out
ok "and Enter leaves it" [ "$code" = 1 ]
talk 'n\n\n\n' receive bytes.csv
ok "a letter is no reason, and Enter after it leaves the list" [ "$code" = 1 ]
ok "which is said, and nothing is taken in" [ "$(grep -c "'n' is no reason" out)" = 1 -a "$(grep -c 'taken in again' out)" = 0 ]
run receive bytes.csv --again --why n
ok "nor is it one as an option" [ "$code" = 1 ]
talk 'the second half\n\n' receive plain.csv
ok "the very same file asks for a reason there" grep -q 'Type why it comes again, if it is another delivery; Enter leaves it' out
ok "and comes in with it" grep -q 'taken in again: the second half' out

# --- what a supplier may put into a file, and what comes out of it again --------------------------------------
printf 'Supplier,Delivery note no.,Date,Article,Roll No.,Length (m),Composition\n"Ev\033[31mil Mills",K 2,2026-10-09,=1+1,17,50,100%% cotton\n' >"$(printf 'K\366per.csv')"
run receive "$(printf 'K\366per.csv')" --on 2026-10-05
ok "a supplier's control characters do not reach the terminal" grep -q '^W[0-9-]*: Ev \[31mil Mills, note K 2 of 2026-10-09, arrived 2026-10-05: 1 lot, 1 bolt, ' out
ok "a note dated after the arrival is remarked on" has "  - note K 2 is dated 2026-10-09, after the arrival on 2026-10-05: one of the two days is wrong"
lot=$(sed -n 's/^  \(W[0-9-]*\.01\) .*/\1/p' out)
run case "$lot" --out evil.pdf
ok "a file whose name is not UTF-8 does not keep the case from being written" is 0
ok "and every part of its workbook is XML" /usr/bin/python3 -c '
import zipfile, xml.dom.minidom as m
for n in (z := zipfile.ZipFile("evil.xlsx")).namelist():
    m.parseString(z.read(n))'
run record "Ev [31mil Mills"
ok "one lot is one lot" grep -q '^Ev \[31mil Mills: 1 lot, 0 judged, 0 not as declared\.$' out
run look "$lot"
ok "one bolt is one bolt" grep -q '^  1 bolt, 50.00 m$' out
printf 'Article,Dye lot,Roll No.,Length (m),Composition\nQ1,L1,1,10,100%% wool\nQ1,L2,1,10,100%% wool\nQ1,L1,1,21,100%% wool\n' >twice.csv
run receive twice.csv --supplier A --note 1 --dry-run
ok "a number that stands twice may start again in every dye lot" grep -q "line 3: the bolt number '1' stands in another dye lot already; if numbers start again in every dye lot, say --numbers-by-lot: they are kept as LOT/NUMBER$" err
run receive twice.csv --supplier A --note 1 --dry-run --numbers-by-lot
ok "and in one dye lot it is a slip, whoever has said so" [ "$(grep -c '^twice.csv: line' err)$(grep -c "line 4, column C 'Roll No.', value '1': this bolt number stands on line 2 already, in the same dye lot$" err)" = 11 ]
/usr/bin/python3 -c 'print("Article,Roll No.,Length (m),Composition\n" + "A" * 5000 + ",1,10,100% wool")' >long.csv
run receive long.csv --supplier A --note 1
ok "a value nobody would type is refused with its place" grep -q "^long.csv: line 2, column A 'Article', value 'A*': a value of more than 4000 bytes$" err
