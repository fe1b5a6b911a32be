#!/bin/sh
# void: what was recorded by mistake is named, taken back, told apart, and counts nowhere. Invented trade.
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need /usr/bin/python3 pdftotext
here=$(cd "$(dirname "$0")" && pwd)
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_CLOCK=1795694400 # 2026-11-26 12:00 UTC, whatever day it is
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=Ada LC_ALL=C.UTF-8

json() { /usr/bin/python3 -c "import json; d = json.load(open('out')); x = ($1); print(x)"; }

printf 'Bolt No,Length m,Article,Composition\nB1,50,crepe 9,100%% cotton\nB2,48.5,crepe 9,100%% cotton\nB3,60,drill 10,100%% cotton\n' >list.csv
run new --code M --name "Mill Lane" --country GB
run set flame yes
run receive list.csv --supplier "Ohm Weavers" --note N-1 --on 2026-10-05 --yes
run cut B1
run burn M26-001.01.01 --saw approach:shrinks_away,smoke:black,residue_form:hard_bead,odour:sweet --json
burn=$(json 'd["burn"]')
run void "$burn"
ok "a reason is asked for" [ "$code" = 2 -a ! -s out ]
run void M26-001.01.01 --why "another bolt"
ok "what hangs on a swatch is named, and nothing is recorded" refused "on M26-001.01.01 hangs what would not count any more either: say that this is known (--yes)"
ok "by its number and kind" grep -qxF "On M26-001.01.01 hang: 1 burn, 1 hold, with the verdict that made it and the term of a claim that runs from it. They would not count any more either." err
run void "$burn" --why "another bolt"
ok "the hold that goes with a burn is named first" refused "on M26-001.01.01 hangs what would not count any more either: say that this is known (--yes)"
ok "with what was seen of which swatch" grep -q "^Burn $burn: swatch M26-001.01.01, whole of bolt B1, by Ada" err
run void "$burn" --why "another bolt" --yes
ok "the hold of a void burn is lifted, and that is said" has "The hold is lifted: the verdict that made it does not count any more, and nothing else holds the lot. It is waiting."
ok "so is that nothing is left to judge by" has 'Lot M26-001.01, declared "100% cotton": nothing is left to judge it by.'
run look M26-001.01
ok "the page of the lot tells it apart, with who, when and why" has "Void: burn $burn of swatch M26-001.01.01, by Ada at 2026-11-26T12:00:00Z: another bolt"
ok "and the verdict that went with it" has "Void: the verdict 'contradicts' of 2026-11-26T12:00:00Z, since it rests on what does not count any more"
run look M26-001.01 --json
ok "programs find it under a key of its own" [ "$(json 'd["void"]["records"][0]["why"], d["burn_list"], d["void"]["burn_list"][0]["burn"] == "'"$burn"'", d["verdicts"], d["standing"]')" = "('another bolt', [], True, [], 'waiting')" ]
run look M26-001.01.01
ok "so does the page of the swatch" has "  void: it counts nowhere"
run void "$burn" --why "again"
ok "what is void is not voided again" refused "burn $burn is void already"
run case M26-001.01 --out case.pdf
pdftotext -layout case.pdf case.txt
ok "a case says what was taken back" grep -q "Recorded by mistake" case.txt
ok "who did so" grep -q "Void: burn $burn of swatch M26-001.01.01, by Ada at" case.txt
run prove --case case.pdf
ok "and is proved, its pages too" has "the pages are those"
run void M26-001.02 --why "of another list" --yes --json
ok "a lot is void with its bolts" [ "$(json 'd["void"][0]["about"], d["with_it"]["bolts"], d["left"]')" = "('lot', 1, None)" ]
run case M26-001.02 --out none.pdf
ok "no case is made of a void lot" refused "lot M26-001.02 is void: Ada voided it at 2026-11-26T12:00:00Z (of another list)"
run cut B3
ok "its bolts are cut no more" refused "lot M26-001.02 is void: Ada voided it at 2026-11-26T12:00:00Z (of another list)"
run look M26-001.02
ok "its page says that it is void" has "  void: it was recorded by mistake and counts nowhere"
run prove
ok "the book proves" has "Everything fits."

run void M26-001.02 --back --why "it was of this list"
ok "what was voided by mistake counts again" has "Counts again: M26-001.02."
run look M26-001.02
ok "and its page tells both" has "  taken back by Ada at 2026-11-26T12:00:00Z: it was of this list"
run void M26-001.02 --back --why "again"
ok "what is not void does not come back" refused "nothing that is void by itself is called M26-001.02"

# a hold comes back, and goods that were received anew do not count twice
export TENTERBOOK_BOOK="$dir/twice.db"
run new --code M --name "Mill Lane" --country GB
run set flame yes
run receive list.csv --supplier "Ohm Weavers" --note N-1 --on 2026-10-05 --yes
run cut B1
run burn M26-001.01.01 --saw approach:shrinks_away,smoke:black,residue_form:hard_bead,odour:sweet
ok "a lot is held by a burn" has "The lot is now held"
run void M26-001.01.01 --why "another bolt" --yes
run void M26-001.01.01 --back --why "it was this one"
ok "a hold that comes back with its burn is told" has "Held again, as before: M26-001.01. No bolt of it goes into use until somebody settles it (tenterbook settle)."
run settle M26-001.01 --as held --why "asked for"
run void M26-001.01.01 --why "another bolt" --yes
run void M26-001.01.01 --back --why "it was this one" --json
ok "one that a person made and that stood all along is not told anew" [ "$code" = 0 -a "$(json 'd["held_again"]')" = None ]
run void M26-001.01 --why "of another list" --yes
run void M26-001.01 --back --why "it was of this list"
ok "a hold that stands again is told" has "Held again, as before: M26-001.01. No bolt of it goes into use until somebody settles it (tenterbook settle)."
run void M26-001.02 --why "of another list" --yes
run void M26-001.02 --back --why "it was of this list" --json
ok "of a lot that was not held nothing is" [ "$code" = 0 -a "$(json 'd["held_again"]')" = None ]
run void M26-001 --why "wrong day" --yes
run receive list.csv --supplier "Ohm Weavers" --note N-1 --on 2026-10-06 --yes
ok "a void delivery is received anew" is 0
run void M26-001 --back --why "the day was right"
ok "and does not come back beside it unasked" refused "the same goods count as delivery M26-002: both would count; void that one, or say that M26-001 is another delivery (--again)"
run lots
ok "nothing is recorded" [ "$code" = 0 -a "$(grep -c '^M26-002\.' out)" = 2 -a "$(grep -c '^M26-001\.' out)" = 0 ]
run void M26-001 --why "the day was right" --again
ok "--again is refused where nothing comes back" [ "$code" = 2 -a ! -s out ]
run void M26-001 --back --again --why "it came twice" --json
ok "it comes back where both are meant, and its hold with it" [ "$code" = 0 -a "$(json 'd["back"], d["held_again"]')" = "(True, 'M26-001.01')" ]
run void M26-002 --why "twice" --yes
run void M26-001 --why "twice" --yes
run void M26-001 --back --why "it was this one"
ok "nothing is asked where the other one is void" has "Counts again: M26-001."
run prove
ok "the book of these proves" has "Everything fits."
export TENTERBOOK_BOOK="$dir/shed.db"

# a lot of which nothing was burned, and a bolt that is drawn in the place of a void one
export TENTERBOOK_BOOK="$dir/drawn.db"
{ printf 'Bolt No,Length m,Article,Composition\n'; for i in 1 2 3 4 5 6; do printf 'C%s,50,crepe 9,100%% cotton\n' $i; done; } >six.csv
run new --code M --name "Mill Lane" --country GB
run set flame yes
run receive six.csv --supplier "Ohm Weavers" --note N-6 --on 2026-10-05 --yes
run void C6 --why "of another list"
ok "of a lot that nobody burned nothing is said to be left" [ "$code" = 0 -a "$(cat out)" = "Void: C6. It stays in the book and counts nowhere." ]
run void C6 --back --why "it was of this one"
ok "nor when its bolt counts again" [ "$code" = 0 -a "$(cat out)" = "Counts again: C6." ]
run draw M26-001.01 --share 0.5 --seed abc --json
gone=$(json 'd["drawn"][0]["bolt"]')
run void "$gone" --why "of another list" --yes
run draw M26-001.01 --again --json
other=$(json 'd["void_since"][0]["instead"]')
run draw M26-001.01 --again
ok "what is drawn in the place of a void bolt is said to count as chosen by hand" has "Bolt $gone, which was drawn, is void since. The same seed draws bolt $other of lot M26-001.01 in its place: cut that one. It is not recorded as drawn: the proof counts it as one that was chosen by hand."
run cut "$other" --json
run burn M26-001.01.01 --saw approach:shrinks_away,smoke:black,residue_form:hard_bead,odour:sweet
run draw M26-001.01 --proof --json
ok "and so it does" [ "$(json 'd["burned"], d["found"], d["found_besides"]')" = "(0, 0, 1)" ]
export TENTERBOOK_BOOK="$dir/shed.db"

# move: two burns on each other's swatches
run cut B1 --json; one=$(json 'd["swatch"]')
run cut B2 --json; two=$(json 'd["swatch"]')
run burn "$one" --saw odour:burning_paper,residue_form:light_fluffy_ash --json; burn=$(json 'd["burn"]')
run move "$burn" --to "$two"
ok "a burn moves with a reason only" [ "$code" = 2 -a ! -s out ]
run move "$burn" --to "$two" --why "tags swapped"
ok "a burn moves with one command" has "Burn $burn of swatch $one is void; it is recorded as burn "
ok "and says of which swatch it is, by whom and when" grep -q "of swatch $two, burned by Ada at 2026-11-26T12:00:00Z" out
run move "$burn" --to "$two" --why "again"
ok "it moves once" refused "burn $burn is void already"
run cut B2 --json; three=$(json 'd["swatch"]')
run burn "$three" --like last --json
ok "the burn that was recorded last is named by that" [ "$code" = 0 ]
run burn "$three" --like last --json
run move "$three" --to "$two" --why "tags swapped"
ok "a swatch that was burned twice does not name one burn" refused "swatch $three was burned more than once; name the burn by its number, which look shows"
run move last --to "$two" --why "tags swapped"
ok "and the last one moves by that name" has " of swatch $three is void; it is recorded as burn "
# amend, supplier
run amend M26-001 --on 2026-10-04
ok "an amendment needs its reason" [ "$code" = 2 -a ! -s out ]
run amend M26-001 --on 2026-10-04 --supplier "Ohm Weevers" --why "slips"
ok "what is amended is told with what stood there" has '  day of arrival: "2026-10-04", was "2026-10-05"'
run look M26-001.01
ok "the page of each lot tells it" has 'Amended by Ada at 2026-11-26T12:00:00Z: supplier, "Ohm Weevers", was "Ohm Weavers": slips'
ok "and goes by it" has "Lot M26-001.01: delivery M26-001, arrived 2026-10-04 from Ohm Weevers"
run amend M26-001 --on 2026-10-04 --why "again"
ok "what is so already is not amended" refused "delivery M26-001 is so already: nothing is amended"
run supplier "Ohm Weevers" --same-as "Ohm Weavers" --why "letterhead"
ok "two spellings are made one" has "Ohm Weevers is the same as Ohm Weavers: deliveries, record and terms are those of Ohm Weavers now."
run look M26-001
ok "the page of a delivery says what its papers call the supplier" has "  its papers call the supplier Ohm Weevers"
run supplier "Ohm Weevers" --apart --why "another mill"
ok "and parted again" has "Ohm Weevers is a supplier on its own again."
run look M26-001
ok "and nothing of it where that is its name" sh -c '! grep -q "its papers" out'
run supplier "Ohm Weevers" --apart
ok "with a reason" [ "$code" = 2 -a ! -s out ]

/usr/bin/python3 "$here/void_twins.py" "$t" || echo "not ok - the books were walked"

# --- the last burn, by that word ---
printf 'Bolt No,Length m,Article,Composition\nL1,50,felt 5,100%% wool\n' >felt.csv
run receive felt.csv --supplier "Ohm Weavers" --note N-76 --on 2026-11-20 --yes
felt=$(grep -oE "^M26-[0-9]+" out)
run cut L1
run burn "$felt.01.01" --saw smoke:black --json
burn=$(json 'd["burn"]')
run cut L1
run void last --why "a slip"
ok "last does not slide back behind something else that was recorded" refused "Ada recorded something else after this burn of swatch $felt.01.01: name the burn by its number, or say that it is meant (--yes)"
run void last --why "a slip" --yes
ok "the burn recorded last is voided by that word" has "Void: $burn, of swatch $felt.01.01."
run look "$felt.01"
ok "and no other one" has "Void: burn $burn of swatch $felt.01.01"

# --- no term runs for what counts nowhere ---
printf 'Bolt No,Length m,Article,Composition\nV1,50,felt 7,100%% wool\n' >felt.csv
run terms "Ohm Weavers" --hidden 8
run receive felt.csv --supplier "Ohm Weavers" --note N-78 --on 2026-11-20 --yes
felt=$(grep -oE "^M26-[0-9]+" out)
run look "$felt.01"
ok "a term runs for a lot that counts" grep -q "^Claim: notice " out
run void "$felt" --why "not ours" --yes
run look "$felt.01"
ok "and none for a lot that is void" [ "$(grep "^Claim:" out)" = "Claim: no term runs, since the lot is void" ]
run look "$felt.01" --json
ok "programs find no day either" [ "$(json 'd["claim"]["due"]')" = None ]

# --- pages of what is void, in whole or in part, say who, when and why ---
printf 'Bolt No,Length m,Article,Composition\nW1,50,felt 8,100%% wool\nW2,50,felt 8,100%% wool\nW3,50,felt 9,100%% silk\n' >felt.csv
run receive felt.csv --supplier "Ohm Weavers" --note N-79 --on 2026-11-20 --yes
felt=$(grep -oE "^M26-[0-9]+" out)
run cut W1
run burn "$felt.01.01" --saw smoke:black
run void last --why "another swatch" --yes
run look "$felt.01.01"
ok "a swatch of which a burn is void" grep -qE "^Void: burn [a-z0-9]+ of swatch $felt.01.01, by Ada at .*: another swatch" out
ok "it waits for another burn" has "not burnt and not tested yet"
run void "$felt.02" --why "not ours" --yes
run look "$felt"
ok "a delivery of which a lot is void" grep -qE "^Void: lot $felt.02, by Ada at .*: not ours" out
run draw "$felt.01" --share 1
run void W2 --why "a roll of paper" --yes
run void 0w2 --back --why "cloth after all"
ok "a void bolt comes back by its number in small letters and with zeros" has "Counts again: W2"
run void W2 --why "a roll of paper" --yes
run cut 00w2
ok "who cuts one by such a number is told that it is void" grep -q "bolt W2 is void: Ada voided it at .* (a roll of paper)" err
run look "$felt.01"
ok "what was drawn stays what was drawn" grep -qE "^Drawn .*: 2 bolts of this lot: W1, W2$" out
ok "and the bolt that is void since is named" grep -qx "  void since: bolt W2" out
