#!/bin/sh
# amend: what the figures of a list are of is said, and lengths follow from the figures as written. Invented trade.
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need /usr/bin/python3
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_CLOCK=1795694400 # 2026-11-26 12:00 UTC, whatever day it is
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=Ada LC_ALL=C.UTF-8

json() { /usr/bin/python3 -c "import json; d = json.load(open('out')); x = ($1); print(x)"; }
came() { run lots --json; json '[round(x["metres"], 2) for x in d if x["lot"].startswith("'"$1"'")]'; }

# Metres a yard: 0.9144, international yard, 1959.
printf 'Bolt No,Length m,Article,Composition,Price EUR/m\nB1,52,crepe 9,100%% cotton,4\n' >metres.csv
printf 'Bolt No,Yards,Article,Composition,Price EUR/yd\nC1,50,drill 10,100%% cotton,1.75\n' >yards.csv
printf 'Bolt No,Yards,Article,Composition,Price EUR/m\nD1,50,drill 10,100%% cotton,1.75\n' >mixed.csv
printf 'Bolt No,Length,Article,Composition\nE1,50 yd,drill 11,100%% cotton\nE2,50 m,drill 11,100%% cotton\n' >both.csv
run new --code M --name "Mill Lane" --country GB
for list in metres yards mixed both; do
	run receive $list.csv --supplier "Ohm Weavers" --note "N-$list" --on 2026-10-05 --yes
	[ "$code" = 0 ] || cat err
done
run amend M26-001 --unit m --why "metres it is"
ok "metres that are said to be metres change nothing" refused "delivery M26-001 is so already: nothing is amended"
ok "and the lengths are those of the list" [ "$(came M26-001)" = "[52.0]" ]
run amend M26-001 --unit yd --why "yards they were"
ok "another unit than the list was read in is asked about" grep -q "come to 52.00 m so far; with its figures in yd they come to 47.55 m" err
ok "and nothing is recorded before it is known" [ "$code" != 0 -a "$(came M26-001)" = "[52.0]" ]
run amend M26-001 --unit yd --yes --why "yards they were"
ok "what the lengths come to is said" has "The lengths of the delivery come to 47.55 m; they came to 52.00 m. Prices of a unit follow, so that its value stays."
ok "so they are in the book" [ "$(came M26-001)" = "[47.55]" ]
run amend M26-001 --unit yd --yes --why "yards once more"
ok "the same said twice is not added up" refused "delivery M26-001 is so already: nothing is amended"
run amend M26-001 --unit m --why "metres after all"
ok "metres give the figures of the list again" [ "$(came M26-001)" = "[52.0]" ]
run amend M26-002 --unit yd --why "yards"
ok "yards that were read as yards stay so" refused "delivery M26-002 is so already: nothing is amended"
ok "and come to what they came to" [ "$(came M26-002)" = "[45.72]" ]
run amend M26-002 --unit m --yes --why "metres under a head of yards"
ok "yards that were metres have the figures of the list" [ "$(came M26-002)" = "[50.0]" ]
run lots --json
ok "and the price of a unit follows" [ "$(json '[round(x["unit_price"], 4) for x in d if x["lot"].startswith("M26-002")]')" = "[1.75]" ]
run amend M26-003 --unit m --yes --why "metres"
ok "what is priced by another unit than it is measured in is received anew" grep -q "was measured in yd and priced by the m" err
run amend M26-004 --unit m --yes --why "metres"
ok "so is what was written in several units" grep -q "were written in several units" err
ok "neither is changed" [ "$(came M26-003)$(came M26-004)" = "[45.72][95.72]" ]
run prove
ok "the book proves" [ "$code" = 0 ]

# --- a note that another delivery has, written nearly so ---
run amend M26-002 --note 0881 --why "misread"
ok "a note that nobody has is taken" is 0
run amend M26-001 --note 881 --why "misread"
ok "one that is written nearly like another's is refused" refused "note 881 of Ohm Weavers is written nearly like note 0881, which was taken in before, as M26-002; say why it comes again, if it is another delivery (--again --why TEXT)"
run amend M26-001 --note 881 --again --why "two notes of one number"
ok "unless it is another one" is 0
