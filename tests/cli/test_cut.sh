#!/bin/sh
# cut: several bolts at once, and names as a scanner gives them: tests/cli/test_cut.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_CLOCK=1792483200 # 2026-10-20 08:00 UTC
export TENTERBOOK_WHO="Hettie Marlow" TENTERBOOK_BOOK=b.db

refused() { is 1 && [ ! -s out ] && [ "$(cat err)" = "tenterbook: $1" ]; }
counted() { [ "$(grep -c "$1" out)" = "$2" ]; }

printf 'Supplier,Delivery note,Article,Bolt,Length m,Composition\nAlder Mill,N-1,crepe,0071,50,100%% silk\nAlder Mill,N-1,crepe,0072,50,100%% silk\nAlder Mill,N-1,plain,0081,50,100%% cotton\nAlder Mill,N-1,screen,0091,50,100%% glass fibre\n' >list.csv
"$t" new --code W >/dev/null && "$t" receive list.csv --on 2026-10-02 >/dev/null || exit 1

run cut 71 72 --kept "drawer 4"
ok "several bolts are cut by one command" has "Swatch W26-001.01.02: whole of bolt 0072, lot W26-001.01, declared \"100% silk\"."
ok "the cautions of cloth declared alike are said once" counted "Hydrogen cyanide" 1
ok "and so is what is to be written" has "Write the numbers on the swatches, and keep an unburnt half of each."
run cut 0071 0081
ok "bolts of two lots get tags of their lots" has "Swatch W26-001.02.01: whole of bolt 0081, lot W26-001.02, declared \"100% cotton\"."
ok "a caution that both ask for is said once" counted "water or sand within reach" 1
ok "cotton has no dust of glass" counted "irritate skin, eyes and throat" 0
run cut 0091 # ILO and WHO, safety card 1769
ok "who cuts glass is told of its dust" counted "irritate skin, eyes and throat" 1
run cut 0071 0073
ok "where one cannot be cut none is" refused "there is no lot and no bolt 0073 in this book; did you mean 0071 or 0072?"
run cut 0071 71
ok "one that is named twice is mostly a slip" refused "bolt 0071 is named twice; a second swatch of it is cut by a command of its own"
run cut 71 72 --json
ok "as JSON they are a list" has '"swatch": "W26-001.01.05"'
ok "of which each is as one alone" counted '^  "swatch":' 2
run cut ']C10072 ' --json
ok "what a scanner puts around a number is no part of it" has '"swatch": "W26-001.01.06"'
run cut 0072 --lot 'w26-1.1 ' --json
ok "nor around the lot" has '"swatch": "W26-001.01.07"'
"$t" settle W26-001.01 --as released --why "fits" >/dev/null && "$t" settle W26-001.01 --bolt 72 --as returned --why "a hole" >/dev/null || exit 1
run cut 71 72
ok "a swatch of a bolt that was returned is recorded, and that is said" has "Bolt 0072 of lot W26-001.01 was returned: see that it is here."
ok "of the bolt alone" counted "was returned" 1
run cut 72 --json
ok "programs find it too" has '"standing": "returned"'
run cut --known "100% wool" --json
ok "known cloth has no standing" has '"standing": ""'
run prove
ok "each swatch has its journal row" has "Everything fits."
