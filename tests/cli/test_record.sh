#!/bin/sh
# draw, record, day and drill on a book: what is recorded, printed and refused. Invented trade.
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need sqlite3 /usr/bin/python3
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_CLOCK=1795694400 # 2026-11-26 12:00 UTC, whatever day it is
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=Boss

misused() { is 2 && [ ! -s out ] && [ "$(head -1 err)" = "tenterbook: $1" ]; }
rows() { [ "$(sqlite3 shed.db "SELECT count(*) FROM $1")" = "$2" ]; }
json() { /usr/bin/python3 -c "import json; d = json.load(open('out')); x = ($1); print(x)"; }

run new --code W
{
	echo "supplier,delivery note,date,article,colour,dye lot,bolt no,length m,composition,unit price,currency"
	for i in $(seq 1 20); do echo "Alder Mill,N-1,2026-03-14,Q10,navy,L1,A$i,$((40 + i)),100% cotton,3.00,EUR"; done
	for i in $(seq 1 10); do echo "Alder Mill,N-1,2026-03-14,Q10,ecru,L2,B$i,50,\"warp cotton, weft linen\",3.00,EUR"; done
} >list.csv
run receive list.csv --on 2026-03-16
ok "the list is received" is 0

# --- draw ---
run draw W26-001.01 --false 4 --sure 0.9 --catch 0.9 --seed one
ok "a draw on a lot says how many bolts to cut" has "Cut 10 of 20 bolts."
ok "a draw tells its seed" has "Seed one draws the same bolts again."
ok "a draw is recorded with its bolts" rows draw_bolt 10
ok "a seed given by hand is called one" has "The seed was given by hand: whoever tries several can choose among the bolts."
cp out first
run draw W26-001.01 --false 4 --sure 0.9 --catch 0.9 --seed one --dry-run
ok "a second draw tells of the first" has "They were drawn from before: 1 draw, by Boss on 2026-11-26 with seed one. Every draw is in the journal."
ok "the seed of an earlier draw is not one given by hand" [ "$(grep -c 'by hand' out)" = 0 ]
ok "a dry run draws the same and records nothing" [ "$(grep -c '^W26-001.01  A' first)" = "$(grep -Fxf first out | grep -c '^W26-001.01  A')" ]
ok "a dry run says that it records nothing" has "Not recorded."
run draw W26-001.01 --again
ok "a recorded draw is drawn again and compared" has "drawn again now: the seed gives the same 10 bolts."
run draw A7 --again
ok "however a lot is called, the draw is about the lot" has "drawn again now: the seed gives the same 10 bolts."
run draw W26-001.01 --dry-run --json
tried=$(json 'd["seed"]')
ok "what a dry run shows cannot pass for a draw's own seed" [ "${tried#try-}" != "$tried" ]
run draw W26-001.01 --seed "$tried" --dry-run --json
ok "a seed tried before is one given by hand" [ "$(json 'd["seed_from"], d["drawn_before"]')" = "('given', 1)" ]
run draw W26-001.01 --seed 0123456789abcdef
ok "a seed that looks made and belongs to no draw is refused" refused "seed 0123456789abcdef looks like one that was made for a draw, and no draw of these bolts has it; leave the seed out and one is made (--seed TEXT)"
run draw W26-001.02 --proof
ok "no draw is told from bolts chosen by hand" refused "no bolts were drawn from W26-001.02 at random: bolts chosen by hand prove nothing of the others"
run draw W26-001 --false 6 --sure 0.9 --catch 0.9 --json
ok "a seed of the program's own is said to be made" [ "$(json 'd["seed_from"]')" = made ]
cp out both
run draw W26-001.02 --proof
ok "a lot drawn with others is sent to that draw" refused "bolts of W26-001.02 were drawn together with others; ask what the draw of W26-001 proves (--proof)"
cp both out
ok "a delivery is drawn from over its shades" [ "$(json 'len({b["lot"] for b in d["drawn"]})')" = 2 ]
ok "parts that burn apart are told" [ "$(json '{b["parts"] for b in d["drawn"] if b["lot"].endswith("02")}')" = "{'warp, weft'}" ]
ok "the chance holds" [ "$(json 'd["chance"] >= 0.9')" = True ]
run draw W26-001 --aql 15 --dry-run
ok "a plan that accepts some false bolts claims nothing of where they are" has "the chance is that of bolts drawn from all of them together."
run draw W26-001.02 --every --catch 1
ok "every bolt can be asked for" has "Cut 10 of 10 bolts."
run draw W26-001.01 --aql 2.5 --json
ok "an acceptance plan on a lot gives its letter and numbers" [ "$(json 'd["code"], d["inspection"], d["accept"], d["refuse"]')" = "('C', 'normal', 0, 1)" ]
run draw W26-001.02 --proof
ok "before a burn nothing is proved" has "None of the 10 bolts drawn was burned yet: nothing is proved."
run draw W26-002
ok "a lot that is not there is refused" refused "there is no lot and no bolt W26-002 in this book"
run draw W26-001.01 W26-001.01
ok "a lot named twice is a misuse" misused "lot W26-001.01 is named twice"
run draw W26-001.01 --again --proof
ok "two questions at once are a misuse" misused "--again and --proof are two questions; ask one"
run draw W26-001.01 --bolts 5
ok "a lot and a number of bolts are a misuse" misused "give a lot of the book or --bolts, not both"

run draw W26-001.01 --dry-run --json
ok "the chance to catch a swap comes from the evidence model and is no certainty" [ "$(json '"by the evidence model" in d["catch_from"] and 0 < d["catch"] < 1')" = True ]
run draw W26-001.01 --against viscose --dry-run
ok "a swap that burns alike is refused" refused "100 % viscose burns like what is declared: no number of burns shows that swap"
run draw W26-001.01 --against polyester --catch 0.5
ok "two answers to how well a burn shows it are a misuse" misused "--catch and --against both say how well a burn shows the swap; give one"

# --- what burns prove ---
run set flame yes
run draw W26-001.01 --share 0.5 --catch 1 --seed two --json
drawn=$(json '" ".join(b["bolt"] for b in d["drawn"])')
n=0
for b in $drawn; do
	n=$((n + 1))
	[ $n = 10 ] && continue
	run cut "$b" --lot W26-001.01 --json
	tag=$(json 'd["swatch"]')
	run burn "$tag" --saw odour:burning_paper,residue_form:ash --looked smoke
done
run cut A$([ "${drawn#A1 }" = "$drawn" ] && echo 1 || echo 2) --lot W26-001.01 --json
tag=$(json 'd["swatch"]')
run burn "$tag" --saw odour:burning_paper
run draw W26-001.01 --proof --json
ok "only bolts that were drawn at random and burned count" [ "$(json 'd["drawn"], d["burned"], d["found"]')" = "(10, 9, 0)" ]
# 9 of 20 burned, none false: C(20-D,9)/C(20,9) is 0.050 for D = 4 and 0.098 for D = 3, by hand
"$t" draw --bolts 20 --burned 9 --catch 1 --json >err
ok "the bound is that of the bolts burned" [ "$(json 'd["most_false"]')" = "$(/usr/bin/python3 -c 'import json; print(json.load(open("err"))["most_false"])')" ]
run draw W26-001.01 --proof
ok "the bound is told in metres of the delivered length" grep -q 'bolts drawn from are false, and they hold no more than [0-9.]* of the 1010.0 m' out
ok "drawn bolts that are not burned yet are told" has "1 of the drawn bolts is not burned yet"
last=${drawn##* }
run cut "$last" --lot W26-001.01 --json
tag=$(json 'd["swatch"]')
run burn "$tag" --saw odour:burning_hair,residue_form:crushable_bead
run draw W26-001.01 --proof --json
ok "a bolt whose own burns contradict is counted as false" [ "$(json 'd["burned"], d["found"]')" = "(10, 1)" ]
ok "a proof tells how many draws there were" [ "$(json 'd["draws"], d["seed"]')" = "(4, 'two')" ]
run draw W26-001.01 --proof
ok "a proof tells that others could have been chosen" has "4 draws of these bolts are in the journal; this is the one of 2026-11-26 by Boss."
ok "a proof tells that its seed was given by hand" has "Its seed two was given by hand: whoever tries several can choose among the bolts."

# --- record ---
run record
ok "without a record of its own the site borrows published rates" has "published rates of market samples take its place, an upper guide."
run record "alder mill"
ok "a supplier is found whatever the case" has "Alder Mill: 2 lots, "
ok "the next delivery is advised on" has "Next delivery: "
ok "it says what counts as not as declared" has "A lot counts as not as declared when a laboratory found its words broken in a market, or, where none has answered, when what was burnt and tested contradicts them"
ok "no line ends in a blank" sh -c '! grep -q " $" out'
ok "the record never enters the evidence" has "This stands beside the evidence of a burn and is never part of it."
run record --lots 20 --wrong 3 --json
ok "counts alone give the exact interval" [ "$(json 'round(d["exact"]["lo"], 4), round(d["exact"]["hi"], 4)')" = "(0.0321, 0.3789)" ]
printf 'supplier,lots,wrong\nA,12,1\nB,9,0\nC,20,6\nD,7,1\nE,4,0\n' >suppliers.csv
run record --from suppliers.csv
ok "a table of suppliers borrows strength across them" has "Strength is borrowed across these suppliers."
printf 'supplier,lots,wrong\nA,12,13\n' >odd.csv
run record --from odd.csv
ok "more wrong lots than lots are refused with the line" refused "odd.csv: line 2: '13' wrong of '12' lots is not a record"
run record --lots 3 --wrong 4
ok "more wrong than judged is refused" refused "--wrong is '4'; it takes a whole number from 0 to 3"
run record --lots 3 --wrong 1 --confidence 1
ok "a confidence of one is refused" refused "--confidence is '1'; it takes a chance like 0.95 or 95 %, above 0 and below 100 %"
run record "No Such Mill"
ok "a supplier that is not there is refused" is 1

# --- day ---
run day --hours 4 --minutes 5
ok "the day lists the waiting lots most worth a minute" grep -q '^W26-001.0[12]' out
run day --hours 1 --from /dev/null
ok "an empty table is no crash" [ "$code" -le 1 ]
printf 'lot,value,chance,catch,minutes\na,1000,0.1,0.9,30\nb,500,0.5,0.9,60\nc,100,0.1,1,10\n' >day.csv
run day --hours 1 --from day.csv --json
ok "the lot most worth a minute comes first" [ "$(json '[l["lot"] for l in d["lots"]], d["gain"], d["most"]')" = "(['b'], 225.0, 225.0)" ]
printf 'lot,value,chance,catch,minutes\na,1000,1.5,0.9,30\n' >day.csv
run day --hours 1 --from day.csv
ok "a chance above one is refused with the line" refused "day.csv: line 2: '1.5' is not a chance"
run day --hours 4 --currency eur
ok "money is known whatever the case" grep -q '^W26-001.0[12]' out
run day --hours 4 --currency USD
ok "money that no lot is priced in is told" has "No lot priced in that money is waiting for a burn."
run day --hours 3 --minutes 5 --from day.csv
ok "minutes beside a table that has its own are a misuse" misused "--minutes is for the lots of a book; a table says it lot by lot"
run day
ok "a day without hours is a misuse" misused "say how many hours there are at the bench with --hours"
run day --hours 0
ok "no hours are refused" refused "no hours at the bench leave nothing to plan"

# --- drill ---
run drill deal --to Wren
ok "without known cloth nothing is dealt" refused "there are no known cloths to deal from; register swatches of known composition first (tenterbook cut)"
for k in "100% cotton" "100% wool" "100% polyester"; do run cut --known "$k"; done
run drill deal --to Wren --count 6 --seed abc
ok "cards are dealt without telling what they are" [ "$(grep -c '^card 1-0' out)" = 6 ]
ok "the list does not tell the composition" [ "$(grep -c 'cotton' out)" = 0 ]
run drill answer 1-01 --class cellulose --saw odour:burning_paper
ok "only the tester answers" refused "card 1-01 was dealt to Wren; only they answer it (--as-person NAME)"
run set flame no
run --as-person Wren drill answer 1-01 --class cellulose --saw odour:burning_paper
ok "no burn is recorded where flame work is not permitted" refused "flame work is not permitted at this bench; where the local fire code and the employer's rules allow it: tenterbook set flame yes; without a flame: tenterbook try"
ok "a refused answer leaves nothing behind" rows drill_answer 0
run set flame yes
right=0
for i in 1 2 3 4 5 6; do
	run --as-person Wren drill answer 1-0$i --class cellulose --saw odour:burning_paper --looked smoke
	grep -q ': right\.' out && right=$((right + 1))
done
ok "the truth is told after the answer" has "Card 1-06 is recorded. It was "
ok "answers are burns" rows burn 17
run --as-person Wren drill answer 1-01 --class protein --saw odour:burning_hair
ok "an answer is not changed" refused "card 1-01 was answered already; an answer is not changed"
ok "a refused answer leaves no burn behind" rows burn 17
run drill show Wren --json
ok "the page counts what was named right" [ "$(json 'd["answered"], d["right"]')" = "(6, $right)" ]
ok "six answers are too few for rates of one's own" [ "$(json 'd["rates_enough"], d["needed"]')" = "(False, 30)" ]
ok "the confusion adds up" [ "$(json 'sum(map(sum, d["confusion"]))')" = 6 ]
run drill show Wren
ok "the page says what to practise" has "was named cellulose"
ok "the page says that rates are not used" has "verdicts weigh cues by the published rates."
ok "one answer for every swatch leaves no interval" has "Agreement beyond chance: kappa 0.00, slight; answers that never vary leave no interval."
run drill
ok "all testers stand on one page" has "6 cards were dealt, 6 answered."
ok "an interval that is none is not shown" [ "$(grep -c '0.00 \.\.' out)" = 0 ]
run drill answer 1-99 --class wool --saw odour:burning_hair
ok "a card never dealt is refused" refused "no card 1-99 was ever dealt"
run drill answer 1x --class wool --saw odour:burning_hair
ok "a word that is not a card is refused" refused "'1x' is not a card; cards are called like 3-07"
for card in "1- 1" 1--1 +1-1; do
	run --as-person Wren drill answer "$card" --class wool --saw odour:burning_hair
	ok "a card has one name, and it is not '$card'" refused "'$card' is not a card; cards are called like 3-07"
done
run --as-person Wren drill answer 1-01 --class felt --saw odour:burning_hair
ok "a class that is not there is refused" is 1

run prove
ok "the journal covers draws and drills" has "Everything fits."

# --- bolts known to be false though no draw took them; several lots of unlike cloth ---
export TENTERBOOK_BOOK="$dir/third.db"
run new --code X
run set flame yes
{
	echo "supplier,delivery note,date,article,bolt no,length m,composition"
	for i in 1 2 3 4 5 6; do echo "Alder Mill,N-1,2026-03-14,Q10,A$i,10,100% cotton"; done
	for i in 1 2 3 4 5 6; do echo "Alder Mill,N-1,2026-03-14,Q11,B$i,10,80% wool 20% polyamide"; done
} >list.csv
run receive list.csv --on 2026-03-16
run draw X26-001.02 --dry-run --json
ok "where no number of bolts is enough none is drawn" [ "$(json 'd["cut"], d["drawn"], d["recorded"]')" = "(None, [], False)" ]
weak=$(json 'd["catch"]')
ok "the burns of a blend show less" [ "$(json 'd["catch"] < 0.9')" = True ]
run draw X26-001.01 X26-001.02 --dry-run --json
ok "of several lots the one whose burns show too little is left out, and named" [ "$(json '[l["lot"] for l in d["left_out"]]')" = "['X26-001.02']" ]
ok "with what they show" [ "$(json 'd["left_out"][0]["catch"]')" = "$weak" ]
run draw X26-001.02 X26-001.01 --dry-run --json
ok "in whatever order they are named" [ "$(json '[l["lot"] for l in d["left_out"]]')" = "['X26-001.02']" ]
run draw X26-001.01 --share 0.5 --catch 1 --json
drawn=$(json '" ".join(b["bolt"] for b in d["drawn"])')
# cut before the first contradiction holds the lot
for b in A1 A2 A3 A4 A5 A6; do run cut $b --lot X26-001.01; done
for b in A1 A2 A3 A4 A5 A6; do
	case " $drawn " in
	*" $b "*) saw=odour:burning_paper,residue_form:ash ;;
	*) saw=odour:burning_hair,residue_form:crushable_bead ;;
	esac
	run burn X26-001.01.0${b#A} --saw $saw --looked smoke
done
run draw X26-001.01 --proof --json
# three of six are known to be false; C(6-D,3)/C(6,3) is 0.05 for D = 3, so the draw alone would say two
ok "bolts seen to be false are never more than the bound" [ "$(json 'd["found"], d["found_besides"], d["most_false"], d["most_metres"]')" = "(0, 3, 3, 30.0)" ]
run draw X26-001.01 --proof
ok "they are told" has "3 bolts that this draw did not take were shown false too."

# --- a supplier that changed ---
export TENTERBOOK_BOOK="$dir/other.db"
kept() { run assay "$1" --found "100% cotton" --uncertainty 0.3 --market eu; }
broken() { run assay "$1" --found "100% polyester" --uncertainty 0.3 --market eu; }
run new --code V
for i in 1 2 3 4 5 6 7 8 9; do
	printf 'supplier,delivery note,date,article,bolt no,length m,composition,unit price,currency\nTarn Weavers,N-%s,2026-0%s-02,Q1,T%s,50,100%% cotton,3.00,EUR\n' "$i" "$i" "$i" >n$i.csv
	run receive n$i.csv --on 2026-0$i-03
	if [ $i -ge 6 ]; then broken V26-00$i.01; else kept V26-00$i.01; fi
done
run record "Tarn Weavers" --usual 0.1 --json
ok "lots whose words a laboratory found broken count as wrong" [ "$(json 'd["judged"], d["wrong"]')" = "(9, 4)" ]
ok "two lots of five refused tighten the inspection" [ "$(json 'd["inspection"], d["advice"]')" = "('tightened', 'tighten')" ]
ok "the change is dated by the sum" [ "$(json 'd["change"]["began"]')" = 2026-06-03 ]
run settle V26-005.01 --as returned --why "weeks late"
run settle V26-006.01 --as released --why "for linings"
run record "Tarn Weavers" --usual 0.1 --json
ok "what was decided of a lot changes nothing in it" [ "$(json 'd["judged"], d["wrong"]')" = "(9, 4)" ]
run record "Tarn Weavers" --usual 0.1
ok "the change is told with its date" has "A change for the worse began about 2026-06-03 and was noticed with lot "
ok "the advice gives its reason" has "Next delivery: tighten the inspection: two of five or fewer lots in a row were refused."
run draw V26-009.01 --aql 2.5 --dry-run
ok "a draw takes the inspection that the history asks for" has "tightened inspection after Tarn Weavers's history"
for i in 10 11 12; do
	printf 'supplier,delivery note,date,article,bolt no,length m,composition,unit price,currency\nTarn Weavers,N-%s,2026-%s-02,Q1,T%s,50,100%% cotton,3.00,EUR\n' "$i" "$i" "$i" >n$i.csv
	run receive n$i.csv --on 2026-10-$i
	broken V26-0$i.01
done
run record "Tarn Weavers" --json
ok "five lots refused under tightened inspection stop the supplier" [ "$(json 'd["advice"]')" = stop ]
run record "Tarn Weavers" --resume
ok "to let a supplier in again takes a reason" misused "--resume needs a supplier and --why with what was put right"
run record "Tarn Weavers" --resume --why "spinner changed"
ok "a supplier whose cause was put right is let in again" is 0
run record "Tarn Weavers" --json
ok "it comes back under tightened inspection" [ "$(json 'd["inspection"], d["advice"]')" = "('tightened', 'tighten')" ]
run record "Tarn Weavers" --resume --why "again"
ok "a supplier that is not stopped is not let in again" refused "Tarn Weavers is not stopped: there is nothing to resume"
# lots that are taken in on the day of the resumption or later: five more refused stop it again, and for good
for i in 13 14 15 16 17 18; do
	printf 'supplier,delivery note,date,article,bolt no,length m,composition,unit price,currency\nTarn Weavers,N-%s,2026-10-02,Q1,T%s,50,100%% cotton,3.00,EUR\n' "$i" "$i" >n$i.csv
	run receive n$i.csv --on 2026-11-26
	broken V26-0$i.01
	run record "Tarn Weavers" --json
	[ $i = 16 ] && ok "four refused after the resumption do not stop it" [ "$(json 'd["advice"]')" = tighten ]
	[ $i = 17 ] && ok "five refused after the resumption stop it again" [ "$(json 'd["advice"]')" = stop ]
done
ok "a stop is not ended by an earlier resumption" [ "$(json 'd["advice"]')" = stop ]
run draw V26-018.01 --aql 2.5 --dry-run
ok "a draw tells that the supplier is stopped" has "tightened inspection after Tarn Weavers's history: five lots were refused under tightened inspection"
run record "Tarn Weavers" --resume --why "other spinner"
ok "two resumptions of one day are refused" refused "Tarn Weavers was let in again today and stopped once more; it can be let in again tomorrow"
# the lot that brings the stop arrives on the very day the cause is put right
for i in 19 20 21 22 23 24 25; do
	printf 'supplier,delivery note,date,article,bolt no,length m,composition,unit price,currency\nFell Mill,N-%s,2026-10-02,Q1,F%s,50,100%% cotton,3.00,EUR\n' "$i" "$i" >n$i.csv
	run receive n$i.csv --on 2026-11-26
	broken V26-0$i.01
done
run record "Fell Mill" --resume --why "other spinner"
run record "Fell Mill" --json
ok "a stop of the same day is ended" [ "$(json 'd["advice"]')" = tighten ]
run draw V26-025.01 --aql 2.5 --dry-run
ok "a draw tells that it was let in again" has "history: what went wrong was put right: tightened inspection begins again."
run record "Tarn Weavers" --usual 0.7
ok "the sum names the share that it was tuned to" has "(Against a usual share of 40 %;"
# --- a supplier that never failed: sixteen lots accepted, two points each, make the score of thirty ---
for i in $(seq 26 41); do
	printf 'supplier,delivery note,date,article,bolt no,length m,composition,unit price,currency\nMoor Mill,N-%s,2026-10-02,Q1,M%s,50,100%% cotton,3.00,EUR\n' "$i" "$i" >n$i.csv
	run receive n$i.csv --on 2026-10-20
	kept V26-0$i.01
done
run draw V26-041.01 --aql 2.5 --dry-run
ok "reduced inspection is allowed, not taken" has "Moor Mill's history allows reduced inspection: the switching score has reached 30"
ok "and the plan says which one it is" has "This plan is the normal one; --inspection reduced takes the other."
run draw V26-041.01 V26-025.01 --aql 2.5 --dry-run --json
ok "of several suppliers the strictest inspection counts" [ "$(json 'd["inspection"]')" = tightened ]
run draw V26-041.01 V26-025.01 --aql 2.5 --dry-run
ok "each of their histories is told" has "tightened inspection after Fell Mill's history:"
run prove
ok "the journal covers that too" has "Everything fits."
