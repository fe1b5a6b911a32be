#!/bin/sh
# todo: who takes over sees what is left, the most urgent first, and nothing that is done. Invented trade.
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need /usr/bin/python3
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_CLOCK=1795694400 # 2026-11-26 12:00 UTC, whatever day it is
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=Ada LC_ALL=C.UTF-8

lacks() { [ "$code" = 0 ] && ! grep -qF -- "$1" out; }
json() { /usr/bin/python3 -c "import json,sys; j = json.load(open('out')); sys.exit(not ($1))"; }

printf 'Bolt No,Length m,Article,Composition\nB1,50,crepe 9,100%% cotton\nB2,48.5,crepe 9,100%% cotton\nB3,60,drill 10,100%% cotton\nB4,61,drill 10,100%% cotton\n' >list.csv
run new --code M --name "Mill Lane" --country GB
run set flame yes
run receive list.csv --supplier "Ohm Weavers" --note N-1 --on 2026-11-20 --yes
run todo
ok "of a book in which nothing was begun every lot waits to be drawn" [ "$code" = 0 -a "$(cat out)" = "Waiting, and nothing drawn (2):
  M26-001.01 of Ohm Weavers, since 2026-11-26 by Ada: 2 bolts; tenterbook draw M26-001.01 says which to cut
  M26-001.02 of Ohm Weavers, since 2026-11-26 by Ada: 2 bolts; tenterbook draw M26-001.02 says which to cut" -a ! -s err ]
run terms "Ohm Weavers" --hidden 8
ok "a term is set" is 0
run draw M26-001.02 --every
run cut B3 --kept "tin 4"
run burn M26-001.02.01 --saw smoke:black
run cut B1 --kept "tin 1"
run burn M26-001.01.01 --saw approach:shrinks_away,smoke:black,residue_form:hard_bead,odour:sweet
run cut B2 --kept "tin 2" --part warp
run todo
ok "a claim that runs comes first, with the day and the days left" [ "$(sed -n 1,2p out)" = "Claims that run (1):
  M26-001.01 of Ohm Weavers: tell the supplier by 2026-12-04, in 8 days" ]
ok "then the lot that is held, with the test that confirms" has "  M26-001.01 of Ohm Weavers, since 2026-11-26 by Ada: held by itself: what was seen contradicts the declaration; 1 of 2 bolts tested; the confirming test: look at the fibres under the microscope"
ok "one that is undecided, with the next test" grep -q "^  M26-001.02 of Ohm Weavers, since 2026-11-26 by Ada: 1 of 2 bolts tested; next: ." out
ok "a swatch that was not burned, with its bolt and part" has "  M26-001.01.02 of Ohm Weavers, since 2026-11-26 by Ada: warp of bolt B2"
ok "and what was drawn and not cut" has "  M26-001.02 of Ohm Weavers, since 2026-11-26 by Ada: 1 of 2 bolts drawn are not cut: B4"
run void B2 --why "of another list" --yes
run todo
ok "counts are those of now, not those of the day it was held" has "  M26-001.01 of Ohm Weavers, since 2026-11-26 by Ada: held by itself: what was seen contradicts the declaration; 1 of 1 bolts tested; the confirming test: look at the fibres under the microscope"
run void B2 --back --why "it was of this one"
run todo
ok "and a bolt that counts again is counted" has "  M26-001.01 of Ohm Weavers, since 2026-11-26 by Ada: held by itself: what was seen contradicts the declaration; 1 of 2 bolts tested; the confirming test: look at the fibres under the microscope"
run todo --json
ok "programs get all of it with the same order" json "[x['kind'] for x in j['items']] == ['claim','held','speaks_against','unburnt','uncut'] and j['items'][0]['days_left'] == 8 and j['count'] == dict(claim=1,held=1,held_bolt=0,decide=0,ground=0,speaks_against=1,undecided=0,words=0,unsettled=0,unburnt=1,uncut=1,undrawn=0,laboratory=0,joint=0) and j['today'] == '2026-11-26'"
TENTERBOOK_WHO=Wren run set commonness 1
run todo --by Wren --json
ok "of another person only the claim is left" json "[x['kind'] for x in j['items']] == ['claim']"
run todo --day 2026-11-25
ok "nothing began the day before, and no more than that is said" has "Nothing of what was asked for is left to do."
run todo --by Aad
ok "a name that nobody has hides no work, and the one that is meant is offered" refused "nobody called Aad wrote in this book; did you mean Ada?"
run todo --by Ada --json; cp out by_name
run todo --by ada --json
ok "a name in other capitals is the same person's" cmp -s out by_name
run todo --day 2026-11-31
ok "a day that does not exist is refused" [ "$code" = 1 -a ! -s out ]
run cut B1 --kept "tin 3"
run cut B1 --kept "tin 5"
run share M26-001.01 --seed abc --laboratory "Ring Street Laboratory"
ok "a joint sample is dealt" is 0
run todo
ok "what a laboratory has is awaited" has "  M26-001.01 of Ohm Weavers, since 2026-11-26 by Ada: joint sample 1 is at Ring Street Laboratory"
ok "and the own pieces are kept, with their place" grep -qE "^  M26-001.01 of Ohm Weavers, joint sample 1 of 2026-11-26 by Ada: M26-001.01.0[1-4] \(tin [0-9]\)" out
TENTERBOOK_CLOCK=1795867200 run todo
ok "two days later the claim has six days" has "  M26-001.01 of Ohm Weavers: tell the supplier by 2026-12-04, in 6 days"
export TENTERBOOK_CLOCK=1796558400
run todo
ok "and is overdue when the day is over" has "  M26-001.01 of Ohm Weavers: tell the supplier; OVERDUE: it was due by 2026-12-04, 2 days ago"
run settle M26-001.01 --as returned --why "taken back"
run todo --json
ok "what is returned waits for its credit note, and for nothing else" json "[(x['kind'], x['lot'], x['what']) for x in j['items']] == [('claim','M26-001.01','credit'),('speaks_against','M26-001.02',None),('uncut','M26-001.02','B4')]"
run dispute M26-001.01 --opened --words "100 % cotton"
run dispute M26-001.01 --closed --words "credit note 12"
run todo --json
ok "what is settled leaves the list, but for its pieces as long as its file is kept" json "[(x['kind'], x['lot']) for x in j['items']] == [('speaks_against','M26-001.02'),('uncut','M26-001.02'),('joint','M26-001.01')]"

# --- the page of a lot ---
printf 'Bolt No,Length m,Article,Colour,Width cm,Weight g/m2,Composition\nD1,50,felt 3,red,150,210,100%% wool\nD2,40,felt 3,red,148,215.5,100%% wool\n' >felt.csv
run receive felt.csv --supplier "Ohm Weavers" --note N-9 --on 2026-12-05 --remark "one bolt wet" --yes
run draw M26-002.01 --every --seed abc
run look M26-002.01
ok "the page of a lot has the widths" has "  width 148 to 150 cm"
ok "the masses" has "  mass 210 to 215.5 g/m2"
ok "what was seen at the door" has "  remark at the door: received unexamined; one bolt wet"
ok "and the draws with its bolts" has "Drawn 2026-12-06T12:00:00Z by Ada from M26-002.01 (every, seed abc): 2 bolts of this lot: D1, D2"
run look M26-002.01 --json
ok "programs get them bolt by bolt" json "[(b['number'], b['width_cm'], b['mass_gm2']) for b in j['bolt_list']] == [('D1',150,210),('D2',148,215.5)] and j['received']['remark'].endswith('one bolt wet') and j['draws'][0]['bolts_of_lot'] == 'D1, D2'"
run lots
ok "the list of lots has article and colour" grep -qE "^M26-002.01 .* felt 3 +red +100% wool" out

printf 'Bolt No,Length m,Article,Composition\n' >many.csv
for i in $(seq 10 34); do printf 'C%s,50,twill %s,100%% cotton\n' "$i" "$i"; done >>many.csv
run receive many.csv --supplier "Ohm Weavers" --note N-2 --on 2026-12-06 --yes
run draw M26-003 --every
run todo
ok "a long list is cut short, and says how much more there is" grep -qxF "  and 7 more" out
ok "and how to see it" [ "$(tail -1 out)" = "All of it: tenterbook todo --all" ]
run todo --all
ok "which shows it" has "1 of 1 bolts drawn are not cut: C34"

# --- the day: several moneys, and lots without a price ---
printf 'Bolt No,Length m,Article,Composition,Unit price,Currency\nE1,50,voile 1,100%% silk,4,EUR\nU1,50,voile 2,100%% silk,5,USD\nN1,70,voile 3,100%% silk,,\n' >money.csv
rm -f shed.db shed.db-*
run new --code M --name "Mill Lane" --country GB
run receive money.csv --supplier "Ohm Weavers" --note N-3 --on 2026-12-06 --yes
run day --hours 1
ok "what cannot be compared has a plan of its own, and that is said" [ "$(sed -n 1,2p out)" = "What cannot be compared has a plan of its own, each for all of the hours: EUR, USD, m.
Lots without a price are weighed by their metres (m)." ]
ok "each with its lots" grep -qE "^M26-001.03 .* 70.00 " out
run set money EUR
run set rate:USD 0.92
run day --hours 1
ok "with rates there is one plan of all that is priced, and the rates are said" has "Lots are compared in EUR, by the rates that are set: 1 USD = 0.92 EUR from 2026-12-06 on."
run set money GBP
run day --hours 1
ok "where there is no rate the money that lacks it is named" has "No rate into GBP is set for EUR (tenterbook set rate:CODE NUMBER says what one of it is worth)."
ok "and the rest is converted all the same" has "Lots are compared in GBP, by the rates that are set: 1 USD = 0.92 GBP from 2026-12-06 on."
run day --hours 1 --json
ok "programs find it" json "j['without_rate'] == 'EUR' and j['currency'] in ('EUR', 'GBP') and len(j['others']) == 2"
run set money EUR
run day --hours 1 --json
ok "programs find the other plans and the rates" json "[x['lot'] for x in j['lots']] == ['M26-001.02','M26-001.01'] and [x['currency'] for x in j['others']] == ['m'] and j['rates'] == '1 USD = 0.92 EUR from 2026-12-06 on'"
run day --hours 1 --by-metres
ok "one plan of all by metres is to be had" grep -qF "In 60 minutes: 3 of 3 lots" out
run day --hours 1 --by-metres --currency EUR
ok "not together with one money" [ "$code" = 2 -a ! -s out ]
run receive money.csv --supplier "Ohm Weaver Ltd." --note N-4 --on 2026-12-06 --yes --again --why "tried"
ok "a supplier with nearly the name of one in the book is said, and not taken for it" has '  - the supplier Ohm Weaver Ltd. is new, and Ohm Weavers is in the book already; if they are one, tenterbook supplier joins the two spellings (tenterbook help supplier)'
printf 'Bolt No,Length m,Article,Composition\nE1,30,old lagging,100%% asbestos\nE2,31,belt cloth,100%% PTFE\n' >lagging.csv
run receive lagging.csv --supplier "Ohm Weavers" --note N-2 --on 2026-12-06 --yes
run draw M26-003.01 --every
ok "what must not be cut is not counted as to cut" has "1 of 1 bolt is drawn for a licensed laboratory. Nothing is cut here."
run draw M26-003.02 --every
run todo
ok "nobody is told to cut asbestos: stop stands before it" grep -B1 "^  M26-003.01 of .*are not cut: E1$" out
ok "and why" has "  Stop, lot M26-003.01 of Ohm Weavers: do not cut, burn or fray it. Seal it, mark it, and ask a person or a laboratory licensed for it."
ok "nor to burn what frees toxic gas" has "    Do not burn it and do not heat it: test it without a flame, or send it to a laboratory."
run todo --json
ok "programs are told what may be done" json "[x['handling'] for x in j['items'] if x['lot'].startswith('M26-003')] == ['laboratory','flameless']"
run todo --by ""
ok "nobody is no person" [ "$code" = 2 -a ! -s out ]
printf 'Bolt No,Length m,Article,Composition\nF1,30,curtain,100%% cotton\nF2,30,curtain,100%% cotton\n' >curtain.csv
run receive curtain.csv --supplier "Ohm Weavers" --note N-5 --on 2026-12-06 --yes
lot=$(grep -oE "M26-[0-9]{3}" out | head -1).01
run assay "$lot" --found "100% asbestos" --laboratory "Weir Laboratory" --uncertainty 0.3
ok "a laboratory finds it" [ "$code" = 0 ]
run todo
ok "asbestos that a laboratory found where none was declared stops too" grep -q "^  Stop, lot $lot of Ohm Weavers: do not cut, burn or fray it" out
run cut "$lot" --bolt F1
ok "and it is not cut" [ "$code" != 0 ]

# Glass that fits is not stopped, and everybody who handles it is warned until a laboratory has named its fibres (caution.csv, row of
# asbestos: cloth that will not burn at all).
printf 'Bolt No,Length m,Article,Composition\nG1,30,screen,100%% glass\nG2,30,screen,100%% glass\nG3,30,screen,100%% glass\n' >glass.csv
run receive glass.csv --supplier "Ohm Weavers" --note N-6 --on 2026-12-06 --yes
lot=$(grep -oE "M26-[0-9]{3}" out | head -1).01
caution="Caution: it neither burned nor melted, and asbestos does neither too."
run set flame yes
run cut G1 --lot "$lot"
ok "before a burn nothing is said of that" lacks "$caution"
run burn "$lot.01" --saw approach:no_reaction,in_flame:does_not_burn,in_flame:glows,residue_form:keeps_shape,smoke:none,odour:faint_none
ok "glass that does not burn fits" has 'declared "100% glass": fits'
ok "and whoever burned it is warned of asbestos" has "$caution"
run look "$lot"
ok "so is whoever looks at the lot" has "  $caution"
run lots
ok "and whoever lists lots" grep -q "^$lot .*may be asbestos where it is old; " out
run lots --json
ok "programs too" json "[(x['handling'], x['neither_burned_nor_melted']) for x in j if x['lot'] == '$lot'] == [('any', True)] and not any(x['neither_burned_nor_melted'] for x in j if x['lot'] != '$lot') and 'laboratory' in [x['handling'] for x in j]"
run todo
ok "a line below what is to be done" has "    $caution"
run cut G2 --lot "$lot"
ok "and whoever cuts another swatch" has "$caution"
run cut G3 --lot "$lot" --json
ok "a program that cuts is told" json "j['neither_burned_nor_melted'] is True"
run assay "$lot" --found "100% glass" --laboratory "Weir Laboratory" --uncertainty 0.3
ok "a laboratory names the fibres" [ "$code" = 0 ]
run look "$lot"
ok "then nobody is warned any more" lacks "$caution"
