#!/bin/sh
# Options as people type them: tests/cli/test_options.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"
need /usr/bin/python3
t=$(cd "$1" && pwd)/tenterbook
told=$(cd "$(dirname "$0")" && pwd)/told.sh
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
. "$told"
export TENTERBOOK_WHO="Ada Fell" TENTERBOOK_CLOCK=1791187200 # 2026-10-05T08:00:00Z
unset TENTERBOOK_BOOK

printf 'Supplier,Delivery note,Article,Bolt,Length m,Composition\nAlder Mill,N-1,crepe,0018,50,100%% silk\nAlder Mill,N-1,crepe,19,48,100%% silk\n' >list.csv
"$t" --book b.db new --code W >/dev/null && "$t" --book b.db set flame yes >/dev/null

run receive list.csv --book b.db --on 2026-10-02
ok "the book may be named behind the command" has "W26-001: Alder Mill"
run cut 0018 --as-person "Ben Oake" --book=b.db
ok "so may the person" has "Swatch W26-001.01.01"
run --book b.db look W26-001.01.01
ok "whose name is then recorded" has "cut by Ben Oake at"
run --as-person Cleo --book b.db cut 19
ok "both may still stand before it" has "Swatch W26-001.01.02"
run --book b.db lots --book b.db
ok "a book named twice is refused" misused "--book is given twice; it takes one value"
run lots --as-person A --as-person B --book b.db
ok "so is a person" misused "--as-person is given twice; it takes one value"
run --json lots --book b.db
ok "what every command takes may stand before it" has '"lot": "W26-001.01"'
run --loud lots
ok "what only one takes may not" misused "there is no option --loud before the command"
run --book
ok "an option at the end lacks its value" misused "--book needs a value"

run -h
ok "-h lists the commands" has "commands:"
run burn -h
ok "behind a command it explains the command" has "usage: tenterbook [--book FILE] burn "
run -h burn
ok "and before it too" has "usage: tenterbook [--book FILE] burn "
run lots -x
ok "another letter is no option" misused "lots has no option -x"
run burn W26-001.01.01 --sa smoke:black --book b.db
ok "where several options begin so they are named" misused "burn has no option --sa; so begin --saw, --sample-mm"

run --book b.db burn W26-001.01.01 --saw smoke:black --saw in_flame:drips --not odour:burning_hair --not residue_form:hard_bead
ok "a list may be given twice" has "Recorded burn "
run --book b.db look W26-001.01.01 --json
ok "and adds up: all that was seen is in the book" /usr/bin/python3 -c '
import json
cues = {(c["cue"], c["seen"]) for c in json.load(open("out"))["burn_list"][0]["cues"]}
assert cues == {("smoke:black", True), ("in_flame:drips", True), ("odour:burning_hair", False), ("residue_form:hard_bead", False)}, cues'
run --book b.db burn W26-001.01.01 --saw smoke:black --saw '!smoke:black'
ok "what contradicts itself across two lists is refused" refused "'smoke:black' is given both as seen and as absent"
run --book b.db burn W26-001.01.01 --saw smoke:black --note one --note two
ok "an option of one value given twice is refused" misused "--note is given twice; it takes one value"
run --book b.db burn --from x.csv --again --again
ok "so is a switch" misused "--again is given twice"
run --book b.db look W26-001.01.01
ok "and nothing is recorded of either" [ "$(grep -c '^Burn ' out)" = 1 ]

run --book b.db use 19 --metres 12,5 --anyway --why "a sample"
ok "a decimal comma is taken" is 0
run --book b.db look W26-001.01
ok "as what it is" has "12.5"
run --book b.db use 19 --metres 1,250
ok "what may be thousands as well is refused with both" refused "--metres is '1,250'; that may be 1.25 or 1250: write the decimal sign as a point"
run --book b.db use 19 --metres 5%
ok "metres are no percentage" refused "--metres is '5%'; it takes a number from 0 to 1e+06"
run draw --bolts 200 --share 65%
ok "a share may be a percentage" has "Cut 130 of 200 bolts."
run draw --bolts 200 --share "6,5 %"
ok "of a decimal comma" has "Cut 13 of 200 bolts."
run draw --bolts 200 --share 650%
ok "above one it is none" refused "--share is '650%'; it takes a chance like 0.95 or 95 %, above 0 and at most 100 %"
run draw --bolts 200 --share 65
ok "a whole figure is a percentage" has "Cut 130 of 200 bolts."
run draw --bolts 200 --share 1.2
ok "between one and two it may be either, and is neither" refused "--share is '1.2'; it takes a chance like 0.95 or 95 %, above 0 and at most 100 %"
echo >./-x.csv
run --book b.db receive --on 2026-10-02 -x.csv
ok "a file whose name begins with a dash is told how to be named" is 2
ok "by its own name" grep -q "^tenterbook: receive has no option -x.csv; a file of that name is given as ./-x.csv$" err
run --book b.db cut -x
ok "where no file is asked for it is an option alone" grep -q "^tenterbook: cut has no option -x$" err
for month in 2026-10 10/2026 10.2026 2026-010 2026/10; do
	run --book b.db lots --month "$month"
	case $month in
	2026-010) ok "a month that is none stays refused" is 2 ;;
	*) ok "a month is read as it was written: $month" has "W26-001.01" ;;
	esac
done
run --book b.db drill show --saw odour:acrid
ok "what a drill would not hear is refused" is 2
ok "and told where it belongs" grep -q "^tenterbook: --saw goes with drill answer$" err
run draw --bolts 200 --aql 1,5%
ok "an option that takes percent keeps its figure" is 0
run --book b.db set base_rate 12,5%
ok "a setting reads both" has "base_rate is now 0.125."
run --book b.db set base_rate 1,125
ok "and refuses what it cannot be" refused "base_rate is '1,125'; it takes a number from 0.0001 to 0.9"

run --book b.db amend W26-001 --on 3.10.2026 --why "slip"
ok "a day may be written as lists have it" has "2026-10-03"
run --book b.db amend W26-001 --on 3/10/2026 --why "slip"
ok "a day of two readings is refused with both" refused "--on is '3/10/2026'; that may be 2026-10-03 or 2026-03-10: write it like one of them"
run --book b.db amend W26-001 --on "1 Oct 2026" --why "slip"
ok "a month may have its name" has "2026-10-01"
run --book b.db amend W26-001 --on 2016-10-03 --why "slip"
ok "a day years away is refused with the way to insist" refused "--on is 2016-10-03, which is 10 years from today; if that is meant, add --far-off"
run --book b.db amend W26-001 --on 2016-10-03 --why "an old paper" --far-off
ok "and taken by whoever insists" has "2016-10-03"
run --book b.db cut 19 --at "4.10.2026 14:30"
ok "a moment may have such a day" is 0
run --book b.db look W26-001.01.03
ok "and is recorded as one" has "at 2026-10-04T14:30:00Z"
run --book b.db cut 19 --at "2022-10-04 14:30"
ok "a moment years away is refused" refused "--at is 2022-10-04, which is 4 years from today; if that is meant, add --far-off"
run --book b.db dispute W26-001.01 --opened --words x --on 2036-10-05
ok "so is a day to come" refused "--on is 2036-10-05, which is 10 years from today; if that is meant, add --far-off"
run label --market us --text "100% silk" --on 2010-10-05
ok "a day from which a law holds may be any" is 0

# --- what people type for what the book writes ---
run --book b.db look w26-1.1
ok "a reference is found without regard to case and leading zeros" has "Lot W26-001.01: "
run --book b.db look w26-001.1.1
ok "so is a tag" has "Swatch W26-001.01.01: "
run --book b.db amend w26-1 --note N-2 --why "slip"
ok "so is a delivery" has "Delivery W26-001: amended"
run --book b.db cut 18
ok "a bolt is found without the zeros before its number" has "of bolt 0018, lot W26-001.01"
printf 'Supplier,Delivery note,Article,Bolt,Length m,Composition\nBrook Mill,N-9,plain,018,50,100%% wool\nBrook Mill,N-9,plain,00018,48,100%% wool\n' >more.csv
run --book b.db receive more.csv --on 2026-10-02
run --book b.db cut 18
ok "where several may be meant it is a question" refused "bolt 18 is in several lots: W26-001.01, W26-002.01; name the lot"
run --book b.db cut 18 --lot w26-2.1
ok "within a lot as well" refused "lot W26-002.01: bolt 18 may be 00018 or 018 of this lot; write it as on the bolt"
run --book b.db cut 018
ok "what stands there as it was typed is meant" has "of bolt 018, lot W26-002.01"
run --book b.db look w26-9.9
ok "what is not there is still refused" refused "there is no delivery, lot, bolt or swatch w26-9.9 in this book; did you mean W26-001.01 or W26-002.01?"
