#!/bin/sh
# settle: several lots, a delivery, single bolts; every list and paper says that a lot is released in part. Invented trade.
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need /usr/bin/python3 pdftotext
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_CLOCK=1795694400 # 2026-11-26 12:00 UTC, whatever day it is
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=Ada LC_ALL=C.UTF-8

json() { /usr/bin/python3 -c "import json,sys; j = json.load(open('out')); sys.exit(not ($1))"; }

printf 'Bolt No,Length m,Article,Composition\nB1,50,crepe 9,100%% cotton\nB2,48.5,crepe 9,100%% cotton\nB3,60,crepe 9,100%% cotton\nC1,60,drill 10,100%% wool\nD1,60,felt 4,100%% wool\n' >list.csv
run new --code M --name "Mill Lane" --country GB
run set flame yes
run receive list.csv --supplier "Ohm Weavers" --note N-1 --on 2026-11-20 --yes
run settle M26-001.02 M26-001.03 --as released --why "both fit"
ok "several lots are settled at once" [ "$code" = 0 -a ! -s err -a "$(cat out)" = "Lot M26-001.02 is released: both fit.
Note: lot M26-001.02 is released and its 1 bolt is neither burnt nor tested.
Lot M26-001.03 is released: both fit.
Note: lot M26-001.03 is released and its 1 bolt is neither burnt nor tested." ]
run settle M26-001.02 --as returned --why "a stain"
run settle M26-001 --as held --why "the whole delivery"
ok "a delivery with one lot that was returned is refused, and the lot is named" refused "lot M26-001.02 was returned; if it is back, settle it as waiting first"
run lots --standing held
ok "and nothing of it is held" has "No lots."
run settle M26-001.01 M26-001.03 --as relabelled --why slip --new silk --goods-of own
ok "a label is changed for one lot at a time" [ "$code" = 2 -a ! -s out ]
run settle --as held --why slip
ok "a lot is asked for" [ "$code" = 2 -a ! -s out ]

run cut B3
run burn M26-001.01.01 --saw approach:shrinks_away,smoke:black,residue_form:hard_bead,odour:sweet
ok "a lot is held" has "The lot is now held"
run settle M26-001.01 --bolt B1 --bolt B2 --as released --why "tested one by one"
ok "two of its bolts are released, and the rest is told" [ "$code" = 0 -a "$(sed -n '1,3p' out)" = "Bolt B1 of lot M26-001.01 is released: tested one by one.
Bolt B2 of lot M26-001.01 is released: tested one by one.
Lot M26-001.01 is released in part: 2 of 3 bolts; held: 1." ]
ok "with what speaks against it" has "Note: lot M26-001.01 is released although what was seen contradicts the declaration."
run settle --bolt B9 --as released --why slip
ok "a bolt that is not there is refused" refused "there is no lot and no bolt B9 in this book; did you mean B1, B2 or B3?"
run settle B1 --as released --why "tested"
ok "the number of a bolt in place of the lot is refused, and the way to settle it alone is named" refused "B1 is a bolt of lot M26-001.01: name that lot, and this bolt of it where the others are not meant (--bolt NUMBER)"
run settle M26-001.03 B1 --as released --why "tested"
ok "among several lots too" refused "B1 is a bolt of lot M26-001.01: name that lot, and this bolt of it where the others are not meant (--bolt NUMBER)"
run lots --standing held
ok "and the lot is held as before" has "M26-001.01"
run settle m26-1.3 --as released --why "both fit"
ok "a lot is settled by its short reference" has "Lot M26-001.03 is released: both fit."
run settle M26-001.01 --bolt B1 --as waiting --why slip
ok "so is what a single bolt cannot be" refused "single bolts of a lot are held, released or returned; a lot is waiting as a whole"
part="released in part: 2 of 3 bolts; held: 1"
run lots
ok "the list of lots says so" grep -qE "^M26-001.01 .* $part$" out
run look M26-001.01
ok "the page of the lot says so" has "  standing: $part"
ok "and which bolts, by whom and why" has "Bolt B1, 2026-11-26T12:00:00Z: released by Ada: tested one by one"
run look M26-001.01 --json
ok "programs find it" json "j['standing'] == 'held' and j['released_in_part'] == 2 and [(b['bolt'], b['standing'], b['in_force']) for b in j['standings_of_bolts']] == [('B1','released',True),('B2','released',True)]"
run use B3
ok "a bolt that is held is not cut" [ "$code" = 1 -a ! -s out ]
run use B1
ok "one that is released is" has "Bolt B1 of lot M26-001.01 is cut into."
run label M26-001.01 --market us
ok "a label says that it does not release the others" grep -qF "The lot is $part; a label does not release the others." out
run cut B1
run tags M26-001.01 --out tags.pdf
pdftotext -layout tags.pdf tags.txt
ok "a tag says how its bolt stands" grep -q "B1, released" tags.txt
ok "one of a held bolt that it is held" grep -q "B3, held" tags.txt
run case M26-001.01 --out case.pdf
pdftotext -layout case.pdf case.txt
ok "a case says so" grep -q "$part" case.txt
run prove --case case.pdf
ok "and proves it" has "the pages are those"
run case M26-001.01 --notice --out notice.pdf
[ -f notice.pdf ] && pdftotext notice.pdf - 2>/dev/null | tr '\n' ' ' >notice.txt
ok "a notice says so" grep -q "Bolts held back: 1; released for use: 2; sent back to you: 0." notice.txt
run sheet --month 2026-11
ok "the month's sheet is written" is 0
ok "its list of lots says so" grep -q "$part" cloth-2026-11-lots.csv
ok "its list of bolts has each as it stands" [ "$(/usr/bin/python3 -c "
import csv
rows = list(csv.reader(open('cloth-2026-11-bolts.csv')))
at = next(r for r in rows if 'standing' in r).index('standing')
print([(r[0], r[at]) for r in rows if r and r[0] in ('B1','B3')])")" = "[('B1', 'released'), ('B3', 'held')]" ]
run todo
ok "the held rest is left to do" grep -q "^  M26-001.01 of Ohm Weavers" out
ok "and how much of the lot is released" has "    It is released in part: 2 of 3 bolts."
run todo --json
ok "programs find that too" json "[i['released_in_part'] for i in j['items'] if i['kind'] == 'held'] == [2]"
run prove
ok "the book is proved" has "Everything fits"
run settle M26-001.01 --bolt B3 --as released --why "tested as well"
ok "with its last bolt the lot is released" has "With that all bolts are: lot M26-001.01 is released."
run look M26-001.01
ok "which is told without parts" has "  standing: released"
ok "and what was decided before stays on the page" has "Bolt B1, 2026-11-26T12:00:00Z: released by Ada: tested one by one (not in force any more)"

printf 'Supplier,Delivery note,Article,Bolt,Length m,Composition\nBrook Mill,N-9,plain,F1,50,100%% wool\nBrook Mill,N-9,plain,F2,48,100%% wool\n' >fine.csv
run receive fine.csv --on 2026-10-02 --json
lot=$(sed -n 's/^ *"lot": "\(.*\)",$/\1/p' out)
run settle "$lot" --as released --why "both fit"
run settle "$lot" --bolt F1 --as held --why "a stain"
ok "of a released lot one bolt is held, and of the others nothing wrong is said" [ "$(sed -n '2p' out)" = "Lot $lot is released in part: 1 of 2 bolts; held: 1." ]

# --- what stands against releasing a lot is said, whatever way it is released ---
printf 'Bolt No,Length m,Article,Composition\nW1,50,felt 9,Bamboo\nW2,50,felt 8,100%% wool\n' >doubt.csv
run receive doubt.csv --supplier "Ohm Weavers" --note N-75 --on 2026-11-20 --yes
doubt=$(grep -oE "^M26-[0-9]+" out)
run settle "$doubt.01" --as released --why "wanted"
ok "that the words of a released lot are in doubt is noted" has "Note: lot $doubt.01 is released although the words \"Bamboo\" are in doubt."
ok "and that nothing of it was tested" has "Note: lot $doubt.01 is released and its 1 bolt is neither burnt nor tested."
run settle "$doubt" --as released --why "wanted"
ok "of each lot of a delivery too" [ "$(grep -c "neither burnt nor tested" out)" = 2 -a "$(grep -c "are in doubt" out)" = 1 ]
run settle "$doubt.02" --as held --why "asked"
ok "nothing of it where a lot is held" [ "$code" = 0 -a "$(grep -c "^Note" out)" = 0 ]

# --- a bolt that is held by itself ---
printf 'Bolt No,Length m,Article,Composition\nS1,50,felt 4,100%% wool\nS2,48,felt 4,100%% wool\nS3,47,felt 4,100%% wool\n' >felt.csv
run receive felt.csv --supplier "Ohm Weavers" --note N-77 --on 2026-11-20 --yes
felt=$(grep -oE "^M26-[0-9]+" out)
run settle "$felt.01" --bolt S2 --as held --why "a stain"
run look "$felt.01"
ok "the page of the lot says beside its standing which bolt is held" [ "$(grep -A1 -x "  standing: .*" out | tail -1)" = "  held by itself: bolt S2" ]
run todo
ok "what is left to do names it, with the reason" grep -qE "^  bolt S2 of lot $felt.01 of Ohm Weavers, since [-0-9]+ by [A-Z][a-z]+: a stain" out
run settle "$felt.01" --bolt S2 --as released --why "washed out"
run todo
ok "and no more when it is released" [ "$code" = 0 -a "$(grep -c "bolt S2" out)" = 0 ]

# --- a decision about the whole lot after one about a bolt of it ---
run settle "$felt.01" --bolt S1 --as held --why "a stain"
run settle "$felt.01" --as released --why "wanted"
ok "whoever releases a lot is told which of its bolts stood otherwise" has "Note: this is of all bolts of lot $felt.01, and ends what was decided of single ones: S1 (held). What still is so of a bolt is settled again for that bolt."
run settle "$felt.01" --as released --why "wanted"
ok "once" [ "$code" = 0 -a "$(grep -c "single ones" out)" = 0 ]
run settle "$felt.01" --bolt S3 --as returned --why "too short"
run settle "$felt.01" --bolt S1 --as held --why "a stain"
run settle "$felt" --as released --why "asked" --json
ok "programs are told too, of each lot of a delivery" [ "$(/usr/bin/python3 -c "import json; l, = json.load(open('out'))['lots']; print([(b['bolt'], b['standing'], b['in_force']) for b in l['ended']])")" = "[('S1', 'held', False)]" ]
ok "a bolt that went back stays returned whatever is decided of the others" [ "$(/usr/bin/python3 -c "import json; l, = json.load(open('out'))['lots']; print(l['returned_in_part'], l['released_in_part'], l['held_in_part'])")" = "1 2 0" ]
run settle "$felt.01" --as held --why "asked"
ok "and that is said" has "Note: 1 bolt of lot $felt.01 was returned, and stays so."
run settle "$felt.01" --bolt S3 --as released --why "wanted"
ok "it is released again only after it is back" [ "$code" = 1 ]
run settle "$felt.01" --as waiting --why "S3 is back"
ok "which ends that it is returned, and is said" has "ends what was decided of single ones: S3 (returned)"
run settle "$felt.01" --as released --why "wanted"
run settle "$felt.01" --as released --why "wanted" --json
ok "what stood so already is not named" [ "$(/usr/bin/python3 -c "import json; print(json.load(open('out'))['ended'])")" = "[]" ]

# --- bolts of one lot that stand in four ways, and nothing burned
printf 'Bolt No,Length m,Article,Composition\nT1,50,twill 30,100%% cotton\nT2,51,twill 30,100%% cotton\nT3,52,twill 30,100%% cotton\nT4,53,twill 30,100%% cotton\n' >four.csv
run receive four.csv --supplier "Ohm Weavers" --note N-44 --on 2026-11-20 --yes
four=$(sed -n 's/^ *\(M26-[0-9]*\.01\) .*/\1/p' out | head -1)
run settle "$four" --bolt T1 --as released --why "for the sample room"
run settle "$four" --bolt T2 --as held --why "a stain"
run settle "$four" --bolt T3 --as returned --why "torn"
stands="released in part: 1 of 4 bolts; held: 1; returned: 1"
run lots
ok "a list of lots tells all of it, however long" grep -q "^$four .* $stands$" out
run case "$four" --out four.pdf
pdftotext -layout four.pdf four.txt
ok "a case of a lot that nobody judged says how it stands" grep -q "$stands" four.txt
run sheet --month 2026-11 --out fours.xlsx
ok "the proof on the sheet names what went back" grep -q "released in part: 1 of 4 bolts; held: 1 of 4 bolts; returned: 1 of 4 bolts" fours-lots.csv
run draw "$four" --every
ok "only what stands to be decided is drawn, and the rest is told" [ "$(grep -c "^$four" out)" = 1 -a "$(grep -c '^3 bolts are not drawn from: they were returned, or decided of by themselves.$' out)" = 1 ]
run settle "$four" --bolt t4 --as released --why "wanted"
ok "a bolt is told by the number that the book has" has "Bolt T4 of lot $four is released: wanted."
ok "and that nothing of it was looked at" has "Note: of lot $four something is released, and none of its 4 bolts is burnt or tested."
run cut T2
run burn T2 --saw smoke:none
ok "whoever names a bolt where a swatch is meant is told its swatches" refused "T2 is a bolt and no swatch; cut from it: $four.01"

# --- what a laboratory found weighs more than a burn ---
printf 'Bolt No,Length m,Article,Composition\nL1,50,felt 9,100%% cotton\nL2,48,felt 9,100%% cotton\n' >lab.csv
run receive lab.csv --supplier "Ohm Weavers" --note N-91 --on 2026-11-20 --yes
lab=$(grep -oE "^M26-[0-9]+" out)
run cut L1
run burn "$lab.01.01" --saw approach:shrinks_away,smoke:black,residue_form:hard_bead,odour:sweet
burn=$("$t" look "$lab.01" --json | /usr/bin/python3 -c "import json, sys; print(json.load(sys.stdin)['burn_list'][0]['burn'])")
run settle "$lab.01" --as released --why "wanted"
ok "a release against what was seen is told" has "Note: lot $lab.01 is released although what was seen contradicts the declaration."
run assay "$lab.01" --found "100% cotton" --uncertainty 0.3 --market eu
run settle "$lab.01" --as released --why "a laboratory found it so"
ok "after a laboratory found the words kept it stands against nothing" [ "$code" = 0 -a "$(grep -c "^Note" out)" = 0 ]
run assay "$lab.01" --found "100% polyester" --uncertainty 0.3 --market eu
ok "a second report that says the opposite is asked about" is 1
run assay "$lab.01" --found "100% polyester" --uncertainty 0.3 --market eu --anyway
run settle "$lab.01" --as released --why "wanted all the same"
ok "a release against what a laboratory found is told" has "Note: lot $lab.01 is released although laboratories disagree about it (eu)."
run void "$burn" --why "of another cloth" --yes
ok "where a record is void, a decision stays, and that is said" has "The lot stays released: that was decided on 2026-11-26, when what is void counted, and may rest on it. Decide again: tenterbook settle $lab.01 --as ..."

# --- a lot that stands in parts is told so everywhere; reasons, lists of bolts, what is void since ---
printf 'Bolt No,Length m,Article,Composition\nP1,50,felt 10,100%% cotton\nP2,48,felt 10,100%% cotton\nP3,40,felt 10,100%% cotton\nP4,42,felt 10,100%% cotton\n' >parts.csv
run receive parts.csv --supplier "Ohm Weavers" --note N-92 --on 2026-11-20 --yes
parts=$(grep -oE "^M26-[0-9]+" out)
for why in x n/a none - "  no  "; do
	run settle "$parts.01" --as held --why "$why"
	ok "'$why' is no reason to hold a lot" grep -q "is no reason: whoever reads the book later learns nothing from it" err
done
ok "and nothing is recorded" [ "$("$t" lots --json | /usr/bin/python3 -c "import json, sys; print([x['standing'] for x in json.load(sys.stdin) if x['lot'] == '$parts.01'])")" = "['waiting']" ]
run settle "$parts.01" --bolt P1,P2 --as returned --why "gone back"
ok "several bolts are named with commas" [ "$(grep -c "is returned: gone back" out)" = 2 ]
run settle "$parts.01" --bolt , --as returned --why "gone back"
ok "a comma names none" [ "$code" = 2 -a ! -s out ]
run sheet --month 2026-11 --out parts.xlsx
ok "the page of claims tells that a lot is returned in part" grep -q "^$parts.01,.*,returned in part," parts-claims.csv
run notice "$parts.01" --out parts.txt
run case "$parts.01" --out parts.case.pdf
pdftotext -layout parts.case.pdf parts.case.txt
ok "what is at stake tells how the bolts stand" grep -q "4 bolts, .* came in; length and value are of all of" parts.case.txt
run settle "$parts.01" --as relabelled --why "our own label" --new "100% polyester" --goods-of own
run look "$parts.01"
ok "what is relabelled beside it is counted" grep -q "returned in part: 2 of 4 bolts; relabelled: 2" out
run lots
ok "so it is in the list, under what the supplier declared" grep -q "^$parts.01 .*100% cotton .*returned in part: 2 of 4 bolts; relabelled: 2" out
run sheet --month 2036-11 --out far.xlsx
ok "a month years ahead is asked about" grep -q "years from today; if that is meant, add --far-off" err
ok "and nothing is written" [ ! -e far.xlsx ]
printf 'Bolt No,Length m,Article,Composition\nV1,50,felt 11,100%% cotton\nV2,48,felt 11,100%% cotton\nV3,48,felt 11,100%% cotton\n' >gone.csv
run receive gone.csv --supplier "Ohm Weavers" --note N-93 --on 2026-11-20 --yes
gone=$(grep -oE "^M26-[0-9]+" out)
run cut V1
run burn "$gone.01.01" --saw approach:shrinks_away,smoke:black,residue_form:hard_bead,odour:sweet
run settle "$gone.01" --bolt V2 --as released --why "fits well"
run void last --why "of another cloth" --yes
ok "a void tells of the bolt that was decided of by itself" has "1 bolt of $gone.01 is released, and what that rested on is void in part since 2026-11-26: see whether it still holds."
run todo
ok "so does what is left to do" grep -q "$gone.01 of Ohm Weavers, since 2026-11-26 by .*: 1 bolt of it is released; see whether that still holds" out
run look "$gone.01"
ok "and the page of the lot" grep -q "what a decision of 1 bolt by itself rested on is void in part since 2026-11-26" out
run settle "$gone.01" --bolt V3 --as held --why "a stain"
run use V3 --lot "$gone.01"
ok "a bolt held by itself is not told as a held lot" grep -q "lot $gone.01: this bolt of it is held" err
printf 'Bolt No,Length m,Article,Composition\nY1,50,felt 12,100%% cotton\nY2,48,felt 12,100%% cotton\nY3,48,felt 12,100%% cotton\nY4,48,felt 12,100%% cotton\nY5,48,felt 12,100%% cotton\nY6,48,felt 12,100%% cotton\n' >day.csv
run receive day.csv --supplier "Ohm Weavers" --note N-94 --on 2026-11-20 --yes
day=$(grep -oE "^M26-[0-9]+" out)
run day --hours 8 --by-metres --json
before=$(/usr/bin/python3 -c "import json; print([x['minutes'] for x in json.load(open('out'))['lots'] if x['lot'] == '$day.01'])" 2>&1)
run cut Y1
run burn "$day.01.01" --saw smoke:none
run day --hours 8 --by-metres --json
after=$(/usr/bin/python3 -c "import json; print([x['minutes'] for x in json.load(open('out'))['lots'] if x['lot'] == '$day.01'])" 2>&1)
ok "a lot that one burn did not decide stays in the plan of the day, with a burn less" [ "$before/$after" = "[36.0]/[30.0]" ]
