#!/bin/sh
# The bench on the command line: new, set, cut, burn, try, settle, declare, judge, lots, look, prove, keep.
# Exit code, output and errors; refusals as often as successes.
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need sqlite3 /usr/bin/python3
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_CLOCK=1792483200 # 2026-10-20 08:00 UTC
export TENTERBOOK_WHO="Hettie Marlow" TENTERBOOK_BOOK=b.db

said() { is 0 && [ "$(cat out)" = "$1" ]; }        # exactly this
begins() { is 0 && [ "$(head -"$1" out)" = "$2" ]; } # the first lines are exactly these
lacks() { is 0 && ! grep -qF -- "$1" out; }
refused() { is 1 && [ ! -s out ] && [ "$(cat err)" = "tenterbook: $1" ]; }
misused() { is 2 && [ ! -s out ] && [ "$(head -1 err)" = "tenterbook: $1" ] && grep -q '^usage: tenterbook ' err; }
json() { is 0 && /usr/bin/python3 -c "import json,sys; j=json.load(open('out')); sys.exit(0 if ($1) else 1)"; }
value() { sed -n "s/^ *\"$1\": \"\{0,1\}\([^\",]*\)\"\{0,1\},\{0,1\}$/\1/p" out | head -1; }
rows() { "$t" prove --json | sed -n 's/^ *"rows": \([0-9]*\),$/\1/p'; }

# --- new ---------------------------------------------------------------------------------------------------
run lots
ok "without a book a command says how to make one" refused "there is no book at b.db; make one with: tenterbook --book b.db new"
run new --code shed1
ok "a site code of small letters is refused" refused "the site code is 'shed1'; it takes 1 to 4 capital letters or digits"
run new --country England
ok "a country by name is refused" refused "the country is 'England'; it takes the two capital letters of one, like GB (ISO 3166-1)"
run new --country ZZ
ok "letters that no country has are refused" refused "the country is 'ZZ'; it takes the two capital letters of one, like GB (ISO 3166-1)"
ok "and no file is left behind" [ ! -e b.db ]
run new b.db
ok "new takes no file name" misused "new does not know what to do with 'b.db'"
run new --code M --name "Mill Lane shed" --country GB
ok "a new book says what comes before a burn" said "Made the book b.db.
Burns can be recorded once flame work is permitted at this bench by the local fire code and the employer's rules:
  tenterbook --book b.db set flame yes"
run new --code M
ok "a book is never overwritten" refused "b.db is there already; a book is never overwritten"
echo "not a book" >other.db
run --book other.db lots
ok "another file is not taken for a book" is 1
ok "and is told apart in a sentence" grep -q '^tenterbook: ' err
ok "and stays as it was" [ "$(cat other.db)" = "not a book" ]
run lots
ok "an empty book has no lots" said "No lots."

# --- set ---------------------------------------------------------------------------------------------------
run set
ok "the settings are listed with what they do" has "flame              no                   yes: flame work is permitted at this bench by the local fire code and the employer's rules"
run set --json
ok "as JSON too" [ "$(value flame)$(value fits_above)" = no3 ]
run set flam yes
ok "an unknown setting is answered with the nearest" refused "there is no setting 'flam'; did you mean 'flame'?"
run set colour red
ok "one that is near to nothing with where they are listed" refused "there is no setting 'colour'; 'tenterbook set' lists them"
run set flame perhaps
ok "a choice takes its choices" refused "flame is 'perhaps'; it takes one of yes|no"
run set fits_above 1
ok "a number takes its range" refused "fits_above is '1'; it takes a number from 1.01 to 1e+09"
run set site_weight much
ok "a number is a number" refused "site_weight is 'much'; it takes a number from 0 to 100"
run set flame
ok "a setting without a value is a misuse" misused "set needs a value for flame"
run set answer_days 1.5
ok "days are whole" refused "answer_days is '1.5'; it takes a whole number from 1 to 365"
run set hazards "flame acid"
ok "a danger nobody knows is refused" refused "hazards is 'flame acid'; it takes any of flame|flammable|toxic|corrosive|hot|none, separated by spaces"
run set market "gb zz"
ok "a market nobody knows is refused" grep -q "^tenterbook: there is no market 'zz'; the markets are us (United States), " err
run set header:Warenbild nonsense
ok "a field nobody knows is refused" refused "'nonsense' is not a field of a packing list; 'tenterbook help receive' lists them"
run set header: design
ok "a header word needs the word" refused "header: needs the word of your packing lists behind it: header:WORD"
run set header:Warenbild design
ok "a header word of one's own is kept" said "header:Warenbild is now design."
ok "one row of the journal a change" [ "$(rows)" = 2 ]

# --- lots to work on: a bolt number in two of them ---------------------------------------------------------
cat >one.csv <<'F'
Supplier,Delivery note no.,Article,Colour,Roll No.,Length (m),Composition
Kestrel Weaving,K 1,Poplin,white,17,50,100% cotton
Kestrel Weaving,K 1,Poplin,white,18,60,100% cotton
Kestrel Weaving,K 1,Poplin,white,19,40,100% cotton
Kestrel Weaving,K 1,Union,grey,20,40,"warp cotton, weft linen"
F
cat >two.csv <<'F'
Supplier,Delivery note no.,Article,Colour,Roll No.,Length (m),Composition
Ousel Mills,O 9,Tweed,moss,17,30,100% wool
Ousel Mills,O 9,Tweed,moss,21,31,100% wool
Ousel Mills,O 9,Lining,grey,22,80,PE 100%
F
run receive one.csv --on 2026-10-02
ok "the first list is received" is 0
run receive two.csv --on 2026-10-05
ok "the second too" is 0

# --- cut ---------------------------------------------------------------------------------------------------
run cut 17
ok "a bolt number in two lots asks for the lot" refused "bolt 17 is in several lots: M26-001.01, M26-002.01; name the lot"
run cut 99
ok "a bolt nobody has is refused" refused "there is no lot and no bolt 99 in this book"
run cut 18 --lot M26-002.01
ok "a bolt of another lot is refused" refused "lot M26-002.01: the lot has no bolt 18"
run cut 18 --lot M26-009.01
ok "a lot that is not there is refused" refused "there is no lot and no bolt M26-009.01 in this book; did you mean M26-001.01 or M26-002.01?"
run cut M26-001.01
ok "a lot is not a bolt" refused "M26-001.01 is a lot; name its bolts, and the lot apart (--lot LOT)"
run cut 18 --part hem
ok "a part that cloth does not have is refused" refused "'hem' is not a part of a cloth; parts are whole, warp, weft, pile, ground, face, back, coating, shell, lining, filling"
run cut 18 --at 2026-11-01T10:00
ok "nothing is cut in the future" refused "--at is '2026-11-01T10:00'; that is still to come (it is 2026-10-20T08:00:00Z)"
run cut 18 --at tomorrow
ok "a moment is a day and a time" refused "--at is 'tomorrow'; it takes a day and a time in UTC, like 2026-10-05T09:30"
run cut
ok "cut needs cloth" misused "cut takes a bolt, or --known COMPOSITION for known cloth"
run cut 18 --known "100% wool"
ok "a bolt is not known cloth" misused "cut takes a bolt, or --known COMPOSITION for known cloth"
run cut --known "100% bavlnna"
ok "known cloth must be known for certain" is 1
run cut 18 --at 2026-10-06T09:00
ok "a swatch gets its tag" begins 2 "Swatch M26-001.01.01: whole of bolt 18, lot M26-001.01, declared \"100% cotton\".
Write the number on the swatch, and keep an unburnt half."
ok "the cautions stand before the burn" has "Have water or sand within reach"
ok "the way without a flame is offered as an equal" has "Without a flame: microscope, float test, a drop of solvent where the site allows it (tenterbook try M26-001.01.01 --test ...), or a laboratory."
run cut 17 --lot M26-002.01 --at 2026-10-06T09:05 --json
ok "with the lot named the bolt is found" [ "$(value swatch)" = M26-002.01.01 ]
run cut 20 --part warp
ok "warp and weft are swatches apart: the warp" begins 1 "Swatch M26-001.02.01: warp of bolt 20, lot M26-001.02, declared \"warp cotton, weft linen\"."
run cut 20 --part weft
ok "and the weft" begins 1 "Swatch M26-001.02.02: weft of bolt 20, lot M26-001.02, declared \"warp cotton, weft linen\"."
run cut --known "100% wool"
ok "known cloth has tags of its own" begins 1 "Swatch M-K01: known cloth, 100% wool."
run look M-K01
ok "and is found by them" said "Swatch M-K01: known cloth, 100% wool, cut by Hettie Marlow at 2026-10-20T08:00:00Z
  not burnt and not tested yet"
run look --known
ok "known cloths are listed" said "SWATCH  KNOWN CLOTH  CUT         BY             KEPT
M-K01   100% wool    2026-10-20  Hettie Marlow"
run look --known --json
ok "and as JSON" json "[(x['swatch'], x['known']) for x in j] == [('M-K01', '100% wool')]"

# --- burn: before and after flame work is permitted --------------------------------------------------------
before=$(rows)
run burn M26-001.01.01 --saw odour:burning_paper
ok "no burn is recorded where flame work is not permitted" refused "flame work is not permitted at this bench; where the local fire code and the employer's rules allow it: tenterbook set flame yes; without a flame: tenterbook try"
run set flame yes
ok "flame work is permitted" said "flame is now yes."
run burn
ok "burn needs a swatch" misused "burn takes a swatch, or --from FILE.csv"
run burn M26-001.01.09 --saw smoke:black
ok "an unknown swatch is refused" refused "there is no swatch M26-001.01.09 in this book; did you mean M26-001.01.01?"
run burn M26-001.01.01 --saw smoke:blak
ok "an unknown cue is answered with the nearest" refused "there is no cue 'smoke:blak'; the nearest: smoke:black"
run burn M26-001.01.01 --saw black
ok "a cue without its channel that may be two is asked" refused "'black' may be any of smoke:black, residue_colour:black: say which"
run burn M26-001.01.01 --saw smoke:black --looked smel
ok "an unknown channel is answered with the nearest" grep -q "^tenterbook: there is no channel 'smel'; the nearest: " err
run burn M26-001.01.01 --saw acetone:dissolves
ok "a solvent is not seen in a flame" refused "'acetone' is a bench test, not something seen while burning; record it as one: tenterbook try"
run burn M26-001.01.01
ok "a burn of which nothing is said is refused" refused "a burn needs at least one thing seen or looked at (saw, not, looked)"
run burn M26-001.01.01 --saw smoke:black --not smoke:black
ok "seen and not seen at once is refused" refused "'smoke:black' is given both as seen and as absent"
run burn M26-001.01.01 --saw smoke:black --at 2026-10-21T09:00
ok "nothing burns in the future" refused "--at is '2026-10-21T09:00'; that is still to come (it is 2026-10-20T08:00:00Z)"
run burn M26-001.01.01 --saw smoke:black --at 2026-10-06T08:59
ok "nothing burns before it is cut" refused "swatch M26-001.01.01 was cut at 2026-10-06T09:00:00Z; it cannot have been burned at 2026-10-06T08:59:00Z"
run burn M26-001.01.01 --saw smoke:black --at 2026-10-06T09:10 --dead-at 2026-10-06T09:05
ok "the residue is not dead before the burn" refused "the residue cannot be dead (2026-10-06T09:05:00Z) before the burn (2026-10-06T09:10:00Z)"
run burn M26-001.01.01 --saw smoke:black --sample-mm 900
ok "a swatch of a metre is not burned" refused "--sample-mm is '900'; it takes a number from 1 to 200"
run burn M26-001.01.01 --saw smoke:black --photo nowhere.jpg
ok "a photograph that is not there is refused" refused "nowhere.jpg: the file cannot be opened: No such file or directory"
echo text >photo.jpg
run burn M26-001.01.01 --saw smoke:black --photo photo.jpg
ok "a file that is no picture is refused" refused "photo.jpg is neither JPEG, PNG nor PDF"
printf '\377\330\377\332\000\003\001picture\377\331' >"$(printf 'f\366to.jpg')"
run --book b.db keep photo.db
run --book photo.db burn M26-001.01.01 --saw smoke:black --photo "$(printf 'f\366to.jpg')"
ok "a photograph is kept whatever the bytes of its name" is 0
run --book photo.db burn M26-001.01.01 --saw smoke:black
run --book photo.db case M26-001.01 --notice
ok "a notice can be written" is 0
ok "it names a swatch that was burnt twice once" grep -q "^- Bolt 18, swatch M26-001.01.01, burnt on " notice-M26-001.01.txt
ok "of all these nothing was recorded but the setting" [ "$(rows)" = $((before + 1)) ]

run burn M26-001.01.01 --saw "odour:burning_paper residue_form:light_fluffy_ash" --not residue_form:hard_bead --at 2026-10-06T09:30
ok "a burn of honest cotton fits" grep -q '^Lot M26-001.01, declared "100% cotton": fits, at least [0-9]* to 1 for it; 1 of 3 bolts burnt.$' out
ok "and nothing stands on standard error" is 0
run burn M26-002.01.01 --saw odour:acrid,residue_form:hard_bead,smoke:black,in_flame:melts --not odour:burning_hair --at 2026-10-06T09:40
ok "wool that melts and smells of no hair is contradicted" grep -q '^Lot M26-002.01, declared "100% wool": contradicts, .* against it; 1 of 2 bolts burnt.$' out
ok "and held by itself" has "The lot is now held: no bolt of it goes into use until somebody settles it (tenterbook settle M26-002.01 --as ... --why ...)."
run lots --standing held
ok "the held lot is listed as such" grep -qE '^M26-002.01  2026-10-05  Ousel Mills  Tweed +moss +100% wool +1 of 2  does not conform  contradicts, at least .* held$' out
run burn M-K01 --saw odour:burning_hair,residue_form:crushable_bead --json
ok "a burn of known cloth judges no lot" lacks '"judged"'

# --- moments that cannot be, and days that hardly can ---------------------------------------------------------
run try M26-001.01.01 --test float --result sinks --at 2026-10-06T08:59
ok "nothing is tested before it is cut" refused "swatch M26-001.01.01 was cut at 2026-10-06T09:00:00Z; it cannot have been tested at 2026-10-06T08:59:00Z"
early="Note: 2026-09-03 is before delivery M26-001 arrived (2026-10-02): one of the two days is wrong, unless the cloth came ahead of the delivery."
run --book b.db keep early.db
run --book early.db cut 19 --at 2026-09-03T08:00
ok "a swatch cut before its delivery arrived is remarked on" has "$early"
run --book early.db burn M26-001.01.02 --saw odour:burning_paper --at 2026-09-03T08:30
ok "so is its burn" has "$early"
run --book early.db burn M26-001.01.02 --saw odour:burning_paper --at 2026-09-03T08:40 --json
ok "in JSON too" has '"note": "2026-09-03 is before delivery M26-001 arrived (2026-10-02)'
run --book early.db try M26-001.01.02 --test float --result sinks --at 2026-09-03T08:50
ok "so is a test" has "$early"
run --book early.db settle M26-001.01 --as released --why "looks good" --at 2026-09-03T09:00
ok "a decision before the goods came is refused" refused "decided at 2026-09-03T09:00:00Z, but lot M26-001.01 arrived on 2026-10-02 (--at MOMENT)"
run --book early.db use 19 --lot M26-001.01 --at 2026-09-03T09:00
ok "so is a bolt taken into use" has "$early"
run --book early.db cut 19 --at 2026-10-01T22:00
ok "the evening before by UTC may be the day itself: nothing is said of it" lacks "Note: 2026-10"
printf 'lot,bolt,at,saw\nM26-001.01,19,2026-09-05T10:00,smoke:black\nM26-001.01,19,2026-09-04T10:00,smoke:black\n' >order.csv
run --book early.db burn --from order.csv
ok "a file cannot burn a swatch before the row that cut it" grep -q '^order.csv line 3: the whole of bolt 19 was cut by 2026-09-05T10:00:00Z, as a row above says, and cannot have been burned at 2026-09-04T10:00:00Z; put the burns of a bolt in the order of time$' err
printf 'lot,bolt,at,saw\nM26-001.01,19,2026-09-04T10:00,smoke:black\nM26-001.01,19,2026-09-05T10:00,smoke:black\n' >order.csv
run --book early.db burn --from order.csv
ok "in order it is recorded, its counts read right" has "Recorded 2 burns of 1 swatch in 1 lot: "
ok "with how many are dated before the arrival" has "Burns dated before their delivery arrived: 2."

# --- text that could not be written again --------------------------------------------------------------------
run try M26-001.01.01 --test float --result sinks --note "$(printf 'bad \377')"
ok "bytes that are no text are refused" misused "--note holds bytes that are not UTF-8; is the terminal set to UTF-8?"
run settle M26-001.01 --as held --why "$(printf 'red \033[31m')"
ok "so is what a terminal would obey" misused "--why holds a control character"
run settle M26-001.01 --as held --why "$(head -c 20000 /dev/zero | tr '\0' x)"
ok "so is what nobody typed" misused "--why has 20000 bytes; it takes at most 16000"
run --as-person "$(printf 'B\366b')" cut 19
ok "a person's name is text" misused "the name of who writes holds bytes that are not UTF-8; is the terminal set to UTF-8?"
run --book "" lots
ok "an empty name is no book" misused "--book needs a value"
run --book . lots
ok "nor is a folder" refused ". is a folder; a book is one file in it"
(ulimit -f 8; "$t" --book small.db new) >out 2>err; code=$?
ok "a limit on file sizes is said, not died of" refused "the disk is full or failed: the book could not be read or written, and nothing was recorded"
ok "and nothing is left behind" [ -z "$(find . -name 'small.db*')" ]
for c in prove lots anchor; do
	run $c
	cp out full; mv err full.err
	(ulimit -f 0; exec "$t" $c 2>&1) | cat >out
	ok "a disk without any room takes nothing away from $c" cmp out full
done
(ulimit -f 0; "$t" set weekend sun 2>&1; echo "exit $?") | cat >out
ok "where nothing can be recorded, that is said" [ "$(cat out)" = "tenterbook: the disk is full or failed: the book could not be read or written, and nothing was recorded
exit 1" ]

# --- a log that lost its book --------------------------------------------------------------------------------
echo log >lost.db-wal
run --book lost.db new
ok "a new book does not read the log of another" refused "lost.db-wal is the log of a book that was there before; put that book back, or move its log away too"
run keep lost.db
ok "nor does a copy" refused "lost.db-wal is the log of a book that was there before; put that book back, or move its log away too"
ok "the log is left alone, and nothing is made" [ "$(cat lost.db-wal) $(find . -name 'lost.db*')" = "log ./lost.db-wal" ]
rm lost.db-wal

# --- corrections -------------------------------------------------------------------------------------------
run burn M26-001.01.01 --saw odour:burning_hair --json
wrong=$(value burn)
run look M26-001.01
ok "a slip of the pen is in the book" has "odour:burning_hair"
run burn M26-001.01.01 --saw odour:burning_paper --corrects "$wrong"
ok "a correction is recorded" grep -q '^Recorded burn [0-9a-v]* of swatch M26-001.01.01 (whole of bolt 18).$' out
run look M26-001.01
ok "what it corrects stays in the book, marked" [ "$(grep -A2 "^Burn $wrong: " out | tail -2 | sed 's/burn [0-9a-v]* /burn ID /')" = "  odour:burning_hair; looked at: odour
  corrected: burn ID stands in its place" ]
run look M26-001.01 --json
ok "and no longer counts" json "'$wrong' not in [b['burn'] for b in j['burn_list']] and [b['burn'] for b in j['corrected_burns']] == ['$wrong']"
run look M26-001.01.01
ok "a tag leads to its swatch" begins 1 "Swatch M26-001.01.01: whole of bolt 18, lot M26-001.01, cut by Hettie Marlow at 2026-10-06T09:00:00Z"
ok "with the corrected burn" has "Burn $wrong: "
ok "and to its lot" has "All about its lot: tenterbook look M26-001.01"
run burn M26-001.01.01 --saw odour:burning_paper --corrects "$wrong"
ok "a record is corrected once" refused "burn $wrong was corrected already; correct the later record"
run burn M26-002.01.01 --saw odour:burning_paper --corrects "$wrong"
ok "by a burn of the same swatch" refused "burn $wrong is of swatch M26-001.01.01; a correction stays with its swatch"
run burn M26-002.01.01 --saw odour:burning_paper --corrects 0000
ok "and only if it is there" refused "there is no burn 0000 in this book"

# --- burns of a file ---------------------------------------------------------------------------------------
head=lot,bolt,part,at,saw,not,looked,flame,note
cat >bad.csv <<F
$head
M26-001.01,19,whole,2026-10-07T09:30,odour:burning_paper,,,,
M26-001.01,99,whole,2026-10-07T09:30,odour:burning_paper,,,,
M26-001.01,19,hem,2026-10-07T09:30,odour:burning_paper,,,,
M26-001.01,19,whole,2026-10-27T09:30,odour:burning_paper,,,,
M26-001.01,19,whole,2026-10-07T09:30,odour:burning_papers,,,,
M26-001.01,19,whole,2026-10-07T09:30,,,,,
,17,whole,2026-10-07T09:30,odour:burning_paper,,,,
F
before=$(rows)
run burn --from bad.csv
ok "every wrong row of a file is named by its line" [ "$code$(cat out)$(cat err)" = "1bad.csv line 3: the lot has no bolt 99
bad.csv line 4: 'hem' is not a part of a cloth; parts are whole, warp, weft, pile, ground, face, back, coating, shell, lining, filling
bad.csv line 5: at is '2026-10-27T09:30'; that is still to come (it is 2026-10-20T08:00:00Z)
bad.csv line 6: there is no cue 'odour:burning_papers'; the nearest: odour:burning_paper
bad.csv line 7: a burn needs at least one thing seen or looked at (saw, not, looked)
bad.csv line 8: bolt 17 is in several lots: M26-001.01, M26-002.01; name the lot
tenterbook: bad.csv: 6 of 7 rows cannot be recorded; nothing of the file was" ]
ok "and nothing of it is recorded" [ "$(rows)" = "$before" ]
echo lot,bolt,smell >column.csv
run burn --from column.csv
ok "an unknown column is named" refused "column.csv: line 1: there is no column 'smell'; the columns are lot, bolt, part, at, saw, not, looked, flame, note, could-not"
echo lot,part >missing.csv
run burn --from missing.csv
ok "a missing column is named" refused "missing.csv: line 1: the columns bolt, saw must be there; it may have lot, bolt, part, at, saw, not, looked, flame, note, could-not"
echo "$head" >empty.csv
run burn --from empty.csv
ok "a file without a burn is refused" refused "empty.csv: there is no burn in it"
run burn --from nowhere.csv
ok "a file that is not there is refused" refused "nowhere.csv: the file cannot be opened: No such file or directory"
run burn M26-001.01.01 --from bad.csv
ok "a swatch and a file together are a misuse" misused "burn takes a swatch, or --from FILE.csv"
cat >good.csv <<F
$head
,19,,2026-10-07T09:30,"odour:burning_paper,residue_form:light_fluffy_ash",,,candle,ok
M26-001.02,20,warp,2026-10-07T09:40,odour:burning_paper residue_form:ash,residue_form:hard_bead,,,
M26-001.02,20,weft,2026-10-07T09:50,odour:burning_grass_rope residue_form:ash,residue_form:hard_bead,,,
F
run burn --from good.csv
ok "a good file is recorded in one go" said "Recorded 3 burns of 3 swatches in 2 lots: 2 fit, 0 contradict, 0 undecided; now held by these burns: 0."
run burn --from good.csv
ok "the same file again is noticed, with what records it all the same" refused "these very burns were recorded before, on 2026-10-20 from good.csv; say so to record them again (--again)"
printf 'bolt,saw\n19,odour:burning_paper\n' >plain.csv
"$t" keep again.db >/dev/null
run --book again.db burn --from plain.csv
ok "a file without moments is recorded" said "Recorded 1 burn of 1 swatch in 1 lot: 1 fit, 0 contradict, 0 undecided; now held by these burns: 0."
cp plain.csv copy.csv
run --book again.db burn --from copy.csv
ok "and not a second time, whatever it is called" refused "these very burns were recorded before, on 2026-10-20 from plain.csv; say so to record them again (--again)"
run --book again.db burn --from copy.csv --again
ok "unless that is said" is 0
run look 19
ok "a bolt leads to its lot" begins 1 "Lot M26-001.01: delivery M26-001, arrived 2026-10-02 from Kestrel Weaving"
ok "what was typed up on a later day is marked" grep -q 'whole of bolt 19, by Hettie Marlow at 2026-10-07T09:30:00Z (typed up later, 2026-10-20)$' out

# --- try ---------------------------------------------------------------------------------------------------
run try M26-001.01.01
ok "without a test the names are told" refused "say which test it was; bench tests are acetone, bleach, formic_acid, sulfuric_acid_70, hydrochloric_acid_20, sodium_hydroxide, dimethylformamide, melting, microscope, float (--test TEST)"
run try M26-001.01.01 --test vinegar
ok "an unknown test is refused with the names" refused "'vinegar' is not a bench test; bench tests are acetone, bleach, formic_acid, sulfuric_acid_70, hydrochloric_acid_20, sodium_hydroxide, dimethylformamide, melting, microscope, float (--test TEST)"
run try M26-001.01.01 --test acetone --result melts
ok "an unknown result is refused with the names" refused "'melts' is not a result; results of acetone are dissolves, partly, stays (--result RESULT)"
run try M26-001.01.09 --test acetone --result stays
ok "a test needs its swatch" refused "there is no swatch M26-001.01.09 in this book; did you mean M26-001.01.01 or M26-001.01.02?"
run try M26-001.01.01 --test acetone --result stays
ok "a test without a flame is recorded" grep -q '^Recorded test [0-9a-v]* of swatch M26-001.01.01: acetone leaves it as it was.$' out
ok "with the cautions of its own" has "Acetone is flammable"
run try M26-001.01.01 --test float --result floats --json
wrong=$(value bench_test)
run try M26-001.01.01 --test float --result sinks --corrects "$wrong"
ok "a test can be corrected" is 0
run try M26-001.01.01 --test float --result sinks --corrects "$wrong"
ok "once" refused "test $wrong was corrected already; correct the later record"
run try M26-002.01.01 --test float --result sinks --corrects "$wrong"
ok "on its own swatch" refused "test $wrong is of swatch M26-001.01.01; a correction stays with its swatch"
run try M26-002.01.01 --test float --result sinks --corrects 0000
ok "if it is there" refused "there is no test 0000 in this book"

# --- settle ------------------------------------------------------------------------------------------------
run settle M26-002.01
ok "settle needs a standing" misused "settle needs --as held, released, relabelled, returned or waiting"
run settle M26-002.01 --as sold --why "market day"
ok "a standing that does not exist is refused" refused "'sold' is not a standing; a lot is waiting, held, released, relabelled or returned"
run settle M26-002.01 --as released
ok "a decision needs its reason" refused "a standing needs its reason (--why TEXT)"
run settle M26-002.01 --as released --why "   "
ok "and blanks are none" refused "a standing needs its reason (--why TEXT)"
run settle M26-009.01 --as released --why "looks good"
ok "a decision needs its lot" refused "there is no lot and no bolt M26-009.01 in this book; did you mean M26-001.01 or M26-002.01?"
run settle M26-002.01 --as relabelled --why "laboratory 88"
ok "relabelling needs the new words" refused "relabelling needs the new label's words and whose goods they are (--new TEXT --goods-of NAME)"
run settle M26-002.01 --as relabelled --why "laboratory 88" --new "100% acrylic"
ok "and whose goods they are" refused "relabelling needs the new label's words and whose goods they are (--new TEXT --goods-of NAME)"
run settle M26-002.01 --as held --why "laboratory 88" --new "100% acrylic"
ok "new words belong to relabelling" refused "a label's old and new words, and whose goods they are, belong to relabelling (--old TEXT --new TEXT --goods-of NAME)"
run settle M26-001.01 --as released --why "needed for cutting"
ok "a decision says the verdict beside it" begins 1 "Lot M26-001.01 is released: needed for cutting."
ok "with its coverage" grep -q '^Lot M26-001.01, declared "100% cotton": fits, at least [0-9]* to 1 for it; 2 of 3 bolts burnt.$' out
run settle M26-002.01 --as released --why "wanted on Monday"
ok "a contradicted lot that is released is called contradicted" grep -q '^Lot M26-002.01, declared "100% wool": contradicts, .* against it; 1 of 2 bolts burnt.$' out
ok "and the note says so" has "Note: lot M26-002.01 is released although what was seen contradicts the declaration."
run settle M26-002.01 --as relabelled --why "laboratory 88" --new "100% acrylic" --goods-of "own stock"
ok "relabelling keeps the old words" has 'The old words ("100% wool"), the new ones, who, when and whose goods are kept; 15 U.S.C. 70d(b) asks for three years. The official text and local counsel decide.'
run look M26-002.01
ok "and shows them" has '  label was "100% wool", is "100% acrylic", goods of own stock'
ok "the history of standings stays" [ "$(grep -c '^Standing ' out)" = 3 ]
run settle M26-002.01 --as returned --why "goes back"
ok "a lot goes back" begins 1 "Lot M26-002.01 is returned: goes back."
run settle M26-002.01 --as released --why "found again"
ok "a returned lot is not released" refused "lot M26-002.01 was returned; if it is back, settle it as waiting first"
run settle M26-001.02 --as held --why "asked for by the buyer" --at 2026-11-02T09:00
ok "nothing is decided in the future" refused "--at is '2026-11-02T09:00'; that is still to come (it is 2026-10-20T08:00:00Z)"

# --- declare, judge, lots ------------------------------------------------------------------------------------
run lots --supplier "ousel mills"
ok "words that cannot be read for certain are shown as doubtful" grep -q '^M26-002.02  2026-10-05  Ousel Mills  .*  PE 100%  *0 of 1  open  *doubtful words  *waiting$' out
run declare M26-002.02
ok "declare needs the words" misused "declare needs --text with the composition"
run declare M26-002.02 --text "  "
ok "blanks are no words" misused "declare needs --text with the composition"
run declare M26-009.01 --text "100% cotton"
ok "and its lot" refused "there is no lot and no bolt M26-009.01 in this book; did you mean M26-001.01 or M26-002.01?"
run declare M26-002.02 --text "100% polyester"
ok "the supplier's answer counts from now on" said 'Lot M26-002.02 is now declared "100% polyester", read as: 100 % polyester.'
run look M26-002.02
ok "the words as received stay" grep -q '^Declared (in the packing list, .*: "PE 100%"$' out
run judge M26-009.01
ok "judge needs its lot" refused "there is no lot and no bolt M26-009.01 in this book; did you mean M26-001.01 or M26-002.01?"
run judge M26-001.01
ok "a verdict says how many bolts it rests on" begins 1 "Lot M26-001.01 of Kestrel Weaving, arrived 2026-10-02: 2 of 3 bolts burnt; the verdict speaks of those, and of the metres they hold, not of the rest."
run judge M26-001.01 --as-of 1
ok "a verdict before the first burn is refused" refused "lot M26-001.01 had no verdict by journal row 1"
run judge M26-001.01 --as-of "$(rows)"
ok "a verdict is computed again from the journal" grep -q '^What was seen fits the declaration' out

# --- judge --all: after known cloth was burned, or a setting changed ------------------------------------------
then=$(rows)
run judge M26-001.01 --json && cp out then.json
run judge --all
ok "lots judged by the model in force change nothing when weighed again" has "recorded because something changed: 0; now held: 0."
run judge M26-001.01 --all
ok "judge takes a lot or all of them" misused "judge takes a lot, or --all, or --declared TEXT, or --from FILE"
run judge --all --json
were=$(value fits)$(value undecided)
run set fits_above 100000
run judge --all
ok "under another setting all burnt lots are weighed again" grep -q '^M26-001.01: undecided, was fits.$' out
ok "and each change is recorded in one journal row" [ "$(rows)" = $((then + 2)) ]
run judge --all
ok "a second time there is nothing to record" [ "$(tail -1 out | sed 's/.*changed: //')$(rows)" = "0; now held: 0.$((then + 2))" ]
run judge M26-001.01 --as-of "$then" --json
ok "the verdict of before is computed again, by the setting of before" \
	[ "$(value verdict)$(value evidence_ratio)" = "$(value verdict <then.json)$(sed -n 's/^ *"evidence_ratio": \([^,]*\),$/\1/p' then.json)" ]
run set fits_above 3
run burn M-K01 --saw odour:burning_hair,removed:self_extinguishes
run judge --all --json
ok "after a burn of known cloth every burnt lot is weighed by the new counts" \
	[ "$(grep -c '"lot": "M26-' out)" = "$(value lots)" ]
ok "and the lots come back to what they were" [ "$(value fits)$(value undecided)" = "$were" ] && [ "$were" = 21 ]
run judge M26-001.01 --as-of "$then"
ok "a verdict of before the known cloth is computed again without it" grep -q '^What was seen fits the declaration' out
run lots --month 2026-13
ok "a month that is none is a misuse" misused "--month: '2026-13' is not a month; write it like 2026-03"
run lots --standing lost
ok "a standing that does not exist is refused by lots" refused "'lost' is not a standing; a lot is waiting, held, released, relabelled or returned"
run lots --supplier Nobody
ok "a supplier nobody knows is refused" refused "no supplier is called 'Nobody'"
run lots --month 2026-09
ok "a month without deliveries has no lots" said "No lots."
run lots --json
ok "lots are listed as JSON" [ "$(grep -c '^  "lot": "M26-' out)" = 4 ]
run lots extra
ok "lots takes no argument" misused "lots does not know what to do with 'extra'"
run look
ok "look needs something to show" misused "look takes a delivery, a lot, a bolt or a swatch, or --known"
run look 17 --known
ok "and not two things" misused "look takes a delivery, a lot, a bolt or a swatch, or --known"
run look nothere
ok "look needs one that is there" refused "there is no delivery, lot, bolt or swatch nothere in this book"
run looc 17
ok "a command that is none is a misuse, with those it may have been" [ "$code$(cat out)$(head -3 err)" = "2did you mean 'look'?
did you mean 'lots'?
tenterbook: there is no command 'looc'" ]

# --- keep, prove -------------------------------------------------------------------------------------------
run keep copy.db
ok "a copy is written, and proves" grep -qx "Copied the book to copy.db; the copy proves. Its journal ends with [0-9]*:[0-9a-f]\{64\}" out
noted=$(sed -n 's/^.* Its journal ends with //p' out)
run keep copy.db
ok "never over a file" is 1
ok "which the sentence says" grep -qx 'tenterbook: copy.db: is there already; a copy never replaces a file' err
run keep nowhere/copy.db
ok "a folder that is not there is refused" refused "nowhere/copy.db cannot be made: No such file or directory"
run --book copy.db prove --json
ok "the copy is a book and proves" [ "$(value fits)" = true ]
last=$(value rows)
run prove
ok "prove says what it walked and the digest to note elsewhere" grep -qx "Everything fits. The journal ends with $last:[0-9a-f]\{64\}" out
ok "it is what the copy said" has "$noted"

# --- prove --since -----------------------------------------------------------------------------------------
run prove --since "$noted"
ok "a book that holds what was noted is proved" has "Journal row $last has the digest that was noted: nothing up to it was cut off or rewritten. 0 rows came after it."
first=$(sqlite3 b.db "SELECT number || ', ' || upper(digest) FROM journal WHERE number = 1")
run prove --since "$noted" --since "$first"
ok "several notes may be given, and in capitals as typed from paper" has "Journal row 1 has the digest that was noted: nothing up to it was cut off or rewritten. $((last - 1)) rows came after it."
run prove --json --since "$noted"
ok "programs are told which rows were held against the notes" [ "$(value differs_from_notes)" = false ]
cp copy.db short.db
sqlite3 -batch short.db "PRAGMA foreign_keys=OFF; $(for f in $(sqlite3 short.db "SELECT m.name FROM sqlite_master m JOIN pragma_table_info(m.name) c ON c.name = 'entry' WHERE m.type = 'table'"); do echo "DELETE FROM $f WHERE entry = $last;"; done) DELETE FROM signature WHERE number = $last; DELETE FROM journal WHERE number = $last;"
run --book short.db prove
ok "a journal that was cut off proves by itself" has "Everything fits."
run --book short.db prove --since "$noted"
ok "but not against what was noted" is 1
ok "  and it is said what is missing" grep -qx "tenterbook: the book is not what was noted of it elsewhere: journal row $last was noted elsewhere and is not there: the journal ends with row $((last - 1)), and what came after it was cut off" err
other=$(echo "$noted" | tr 0-9a-f 1-9a-f0 | sed "s/^[^:]*/$last/")
run prove --since "$other"
ok "another digest than the noted one is refused" is 1
ok "  and it is said which row" grep -q "^tenterbook: the book is not what was noted of it elsewhere: journal row $last has the digest ${noted#*:}, and another one was noted elsewhere: the book was written anew up to that row, or the note is of another book$" err
for bad in 7 "${noted#*:}" "0:${noted#*:}" "$last:${noted#*:}0" "$last:x${noted#*:?}" "-1:${noted#*:}" "$noted and more"; do
	run prove --since "$bad"
	ok "a note that names no row is refused: $bad" refused "--since: '$bad' does not name a journal row; it takes NUMBER:DIGEST as prove prints it, the digest in 64 hexadecimal digits"
done
rm -f short.db short.db-*

# tampered WORDS SQL REASON: change a copy behind the program's back
tampered() {
	cp copy.db bent.db
	sqlite3 -batch bent.db "$2" || exit 1
	run --book bent.db prove
	ok "prove finds $1" [ "$code" = 1 ]
	ok "  and names it: $3" grep -q "^tenterbook: the book does not fit its journal: .*$3" err
	rm -f bent.db bent.db-*
}
tampered "a bolt made longer" "UPDATE bolt SET metres = metres + 1 WHERE number = '18'" \
	"journal row 3 (receive M26-001 by Hettie Marlow, .*): a row of table bolt is not what was recorded"
tampered "a declaration rewritten" "UPDATE declaration SET text = '100% silk' WHERE text = '100% wool'" \
	"a row of table declaration is not what was recorded"
tampered "a cue taken away" "DELETE FROM cue_seen WHERE id = (SELECT MIN(id) FROM cue_seen)" "of table cue_seen were recorded"
tampered "a verdict turned round" "UPDATE verdict SET verdict = 'fits' WHERE verdict = 'contradicts'" \
	"a row of table verdict is not what was recorded"
tampered "a standing turned round" "UPDATE standing SET standing = 'released' WHERE standing = 'returned'" \
	"a row of table standing is not what was recorded"
tampered "a setting turned round" "UPDATE setting SET value = 'no' WHERE name = 'flame'" "a row of table setting is not what was recorded"
tampered "a fact slipped in" "INSERT INTO setting SELECT substr(id, 1, 25) || 'z', 'flame', 'no', entry FROM setting WHERE name = 'flame'" \
	"of table setting were recorded"
tampered "another person in the journal" "UPDATE journal SET person = 'Nobody' WHERE number = 2" "journal row 2 .* itself was changed"
tampered "a row of the journal taken out" "DELETE FROM journal WHERE number = 3" "journal row 3 is missing"
tampered "the last row of the journal taken off" "DELETE FROM journal WHERE number = $last" "names journal row $last, which does not exist"
