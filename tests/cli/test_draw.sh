#!/bin/sh
# draw without a book: exit code, output and errors.
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need /usr/bin/python3
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_CLOCK=1795694400 # 2026-11-26 12:00 UTC, whatever day it is

refused() { is 1 && [ ! -s out ] && [ "$(cat err)" = "tenterbook: $1" ]; }
json() { /usr/bin/python3 -c "import json; d = json.load(open('out')); x = ($1); print(x)"; }
misused() { is 2 && [ ! -s out ] && [ "$(head -1 err)" = "tenterbook: $1" ]; }

run draw --bolts 100 --false 5 --sure 0.95 --catch 1
ok "a plan says first how many bolts to cut" has "Cut 45 of 100 bolts."
ok "a plan says what it would show" has "If 5 or more of the 100 bolts were false, this would show it with a chance of 95.4 %."
run draw --bolts 100 --false 5 --sure 0.95 --catch 0.9 --json
ok "the JSON of a plan gives the exact number" has '"cut": 50'
run draw --bolts 10 --false 1 --catch 0.8 --json
ok "a number that cannot be reached is null" has '"cut": null'
run draw --bolts 10 --false 1 --catch 0.8
ok "a number that cannot be reached is explained" has "Even cutting all 10 bolts would show 1 false among them with a chance of only 80 %, below the 95 % asked for."
run draw --bolts 1000 --level II --aql 2.5 --inspection normal --json
ok "an acceptance plan gives its code letter" has '"code": "J"'
ok "an acceptance plan gives its numbers" [ "$(json 'd["accept"], d["cut"], d["refuse"]')" = "(5, 80, 6)" ]
run draw --bolts 40 --level II --aql 0.65
ok "an arrow leads to its own number of bolts" has "Code letter D; the arrow of the table leads to the plan of letter F, 20 bolts."
run draw --bolts 100 --burned 45 --found 0 --catch 1
ok "what burns prove is a bound in words" has "With a confidence of 95 % no more than 4 of the 100 bolts (4 %) are false."
ok "what burns prove says how well they are taken to show it" has "It holds for burns that show a false bolt with a chance of 100 % (as given)."
run draw --bolts 100 --burned 45
ok "a guess is called assumed" has "a chance of 80 % (assumed; no burn test has a published rate)."
# one false of twenty is missed by nineteen in one case of twenty
run draw --bolts 20 --burned 19 --found 0 --catch 1
ok "a bound of none is a matter of confidence while one bolt is whole" has "With a confidence of 95 % none of the lot is false."
run draw --bolts 20 --burned 20 --found 0 --sure 0.5
ok "burns that miss some do not prove that none is false" has "With a confidence of 50 % none of the lot is false."
run draw --bolts 20 --burned 20 --found 0 --catch 1
ok "every bolt looked at by burns that miss none proves it" has "Every bolt was looked at: none of the lot is false."
run draw --bolts 1000000 --false 1 --catch 1
ok "a small share is not called nought" has "0.0001 %"
run draw --bolts 3000000 --false 3 --sure 0.5
ok "nor told with an exponent" sh -c 'grep -q "^ *1  0\.00003 %  " out && ! grep -qE "[0-9]e-[0-9]" out'
ok "and the columns stay under one another" [ "$(grep ' %  .*#' out | sed 's/ %  .*//' | awk '{ print length }' | sort -u | wc -l)" = 1 ]
run draw --bolts 100 --against polyester
ok "what needs a book is not passed over" misused "--against needs a lot of the book"
run draw --bolts 100 --burned 45 --aql 1.0
ok "a plan is not passed over where burns are asked about" misused "--aql belongs to a plan, not to what burns prove"
run draw W26-001.01 --burned 4
ok "burns of a lot are not given by hand" misused "--burned goes with --bolts; a lot of the book takes --proof"
run draw --bolts 100 --share 0.1 --seed W26 --json
cp out first
run draw --bolts 100 --share 0.1 --seed W26 --json
ok "the same seed draws the same bolts" cmp -s out first
# Drawn again without this program, as docs/sampling.md tells
/usr/bin/python3 - >places <<'P'
import hashlib
n, cut, seen, i = 100, 10, set(), 0
fair = (1 << 64) // n * n
while len(seen) < cut:
    i += 1
    v = int.from_bytes(hashlib.sha256(f"W26//{i}".encode()).digest()[:8], "big")
    if v < fair:
        seen.add(v % n + 1)
print(sorted(seen))
P
ok "anybody can draw the same bolts again from the seed" [ "$(json 'd["places"]')" = "$(cat places)" ]
run draw --bolts 50 --false 2 --curve curve.svg
ok "the curve is an SVG that says what it shows" grep -q '<desc>Chance that false bolts show, by their number\. .* bolts cut\. If 2 or more of the 50 bolts were false' curve.svg
ok "the SVG is well-formed" /usr/bin/python3 -c 'import xml.dom.minidom as x; x.parse("curve.svg")'
run draw --bolts 0
ok "a lot of no bolts is refused" refused "--bolts is '0'; it takes a whole number from 1 to 1000000000"
run draw --bolts 10 --sure 1
ok "a certainty is refused" refused "--sure is '1'; it takes a chance like 0.95 or 95 %, above 0 and below 100 %"
run draw --bolts 10 --share -0.1
ok "a negative share is refused" refused "--share is '-0.1'; it takes a chance like 0.95 or 95 %, above 0 and at most 100 %"
run draw --bolts 10 --false 11
ok "more false bolts than there are is refused" refused "--false is '11'; it takes a whole number from 1 to 10"
run draw --bolts 500 --aql 3
ok "an AQL that is not in the table is refused and its neighbours named" refused "an AQL of 3 % is not in the standard's table; take 2.5 or 4"
run draw --bolts 500 --aql 2.5 --level IV
ok "a level that is not there is refused" refused "there is no inspection level 'IV'; they are S-1 S-2 S-3 S-4 I II III"
run draw
ok "draw alone is a misuse" misused "say which lot to draw from, or how many bolts it has with --bolts"
run draw --bolts 10 --every --share 0.5
ok "two plans at once are a misuse" misused "--aql, --share and --every are three plans; give one of them"
run draw --bolts 10 --seed "a b" --every
ok "a seed with a space is refused" refused "a seed consists of letters, digits and signs without spaces or '/'; 'a b' does not"
run draw --bolts 5000 --aql 2.5 --inspection reduced --false 500 --catch 1 --json
# by hand: 80 drawn of 5000 with 500 false, refused at 8 or more; a count of 6 or 7 passes
ok "in the gap of a reduced plan the lot passes" [ "$(json 'd["accept"], d["refuse"], round(d["chance"], 3)')" = "$(/usr/bin/python3 -c '
from math import comb
p = sum(comb(500, j) * comb(4500, 80 - j) for j in range(8)) / comb(5000, 80)
print((5, 8, round(1 - p, 3)))')" ]
run draw --bolts 5000 --aql 2.5 --inspection reduced
ok "the gap is told" has "Between the two the lot passes, and the next one comes under normal inspection."
