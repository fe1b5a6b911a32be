#!/bin/sh
# A market from rows alone: the program with the rows of tests/market behind the tables, and nothing else changed.
# The market "xx", its two codes, its language and its clauses are made up; docs/law.md goes through the same steps.
set -u
here=$(cd "$(dirname "$0")/../.." && pwd)
ours=$(cd "$1" && pwd)/tenterbook
t=$(cd "$1" && pwd)/market/tenterbook
[ -x "$t" ] || { echo "not ok - ${0##*/} needs $1/market/tenterbook, which 'make tests' builds"; exit 1; }
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_CLOCK=1795694400 # 2026-11-26 12:00 UTC, whatever day it is
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=tester

# ok SENTENCE CONDITION...
ok() {
	what=$1; shift
	if "$@"; then echo "ok - $what"; else echo "not ok - $what"; sed 's/^/# /' out err; fi
}
run() { "$t" "$@" >out 2>err; code=$?; }
label() { run label --market xx "$@"; }
is() { [ "$code" = "$1" ] && { [ "$1" != 0 ] || [ ! -s err ]; }; }
has() { is 0 && grep -qxF -- "$1" out; }
lacks() { is 0 && ! grep -qF -- "$1" out; }
stands() { has "Teksio (xx, $1): the words may stand"; }
falls() { has "Teksio (xx, $1): the words may not stand"; }
refused() { is 1 && [ ! -s out ] && [ "$(tail -1 err)" = "tenterbook: $1" ]; }

# names
label --text "60% kotono, 40% poliestero"
ok "a label in the market's own names stands" stands cloth
ok "the wording is in its names" has "  a label may say: 60% kotono, 40% poliestero"
ok "a rule that is always shown is shown" has "  note    Cloth Code s. 11: Records are kept for nine years."
label --text "60% cotton, 40% poliestero"
ok "another market's name is a fault, and its own is offered" has "  fault   Cloth Code s. 2: 'cotton' is not a name used in Teksio: say 'kotono'"
ok "the language is called by its name" has "  fault   Cloth Code s. 7: the composition is not given in Esperanto"
label --text "100% rajono"
ok "a second name is accepted" stands cloth
ok "and the first of two is printed" has "  a label may say: 100% viskozo"
label --text "100% viskozo" --actual "100% modal"
ok "a fibre that goes under another's name may be that one" stands cloth
label --text "100% lano" --actual "100% cashmere"
ok "a name takes in the fibre of its group" stands cloth
label --text "60% kotono, 40% elastano"
ok "a name from memory is no fault" has "  note    Cloth Code s. 2: 'elastano' is taken as a name from memory: nobody looked it up"
ok "and is not printed" has "  no wording: 'elastano' (eo) is a word from memory that nobody looked up: it is not printed unless you say so (--unchecked); the command names takes such words over from an official copy"
label --text "60% kotono, 40% elastano" --unchecked
ok "whoever has it printed is told which words nobody looked up, and the way out" has "  note    Cloth Code s. 2: 'elastano' (eo) is printed from memory: nobody looked it up; the command names takes such words over from an official copy"
label --text "60% kotono, 40% acrylic" --unchecked
ok "a fibre without a name has no wording" has "  no wording: no name of acrylic for a label in Teksio (eo) is known"

# clauses and their numbers
label --text "60% kotono, 40% poliestero" --actual "cotton 64; polyester 36"
ok "four points are within its tolerance" stands cloth
label --text "60% kotono, 40% poliestero" --actual "cotton 65; polyester 35"
ok "five are outside" has "  fault   Cloth Code s. 6: cotton is stated at 60 % and found at 65 %: 5 points off, more than the 4 allowed"
label --text "100% kotono" --actual "cotton 99; nylon 1"
ok "a claim of one fibre has no tolerance" has "  fault   Cloth Code s. 6(2): cotton is stated at 100 % and found at 99 %: a claim of one fibre has no tolerance"
label --text "95% kotono, 5% nilono"
ok "its own line for small shares is drawn" falls cloth
ok "and its own words for them are printed" has "  a label may say: 95% kotono, 5% alia fibro"
label --text "95% kotono, 5% elastano"
ok "a fibre of its own group is named by its purpose" has "  note    Cloth Code s. 5(4): elastano may be named at 5 %: it serves a purpose"
label --text "95% kotono, 5% elastodiene"
ok "which stands in place of the group that serves all" has "  fault   Cloth Code s. 5: elastodiene at 5 % is below 10 %: call it alia fibro, unless it serves a purpose (--functional elastodiene)"
label --text "90% kotono, 10% nilono"
ok "a share at the line is named" stands cloth
label --text "94% kotono, 6% alia fibro" --actual "94 cotton 3 nylon 3 polyester"
ok "several have its words for several" has "  fault   Cloth Code s. 5(3): 2 fibres stand behind 'alia fibro': it is 'aliaj fibroj'"
label --text "40% kotono, 60% poliestero"
ok "the larger share comes first" falls cloth
label --text "100% bamboo"
ok "what it would have said is said" has "  fault   Cloth Code s. 8: 'bamboo' is usually viscose made from bamboo pulp: say viskozo el bambuo"
label --text "100% lano" --actual "100% recycled wool"
ok "its word for recycled fibre stands where its language has it" has "  a label may say: 100% lano reciklita"
ok "and the finding says where" has "  fault   Cloth Code s. 9: 100 % of wool was reclaimed and the label does not say so: 'reciklita' stands behind the name"
label --text "100% kotono, subŝtofo: 100% poliestero"
ok "a lining has its word" has "                 subŝtofo: 100% poliestero"
label --text "100% kotono sen elasto" --left-out 3 --origin Portugal
ok "what may be left out is said in its words" has "  a label may say: 100% kotono, sen elasto"
ok "so is the origin" has "                 farita en Portugal"
label --text "100% kotono sen elasto" --left-out 4
ok "too much left out is a fault" falls cloth

# two codes
label --text "97% kotono, 3% silko"
ok "a group of fibres brings the other code" stands silk
ok "and the codes have their names" has "  note    Cloth Code s. 1: there is silk in it, or it is said to be: the Silk Code applies, not the Cloth Code"
ok "a clause of the one is not quoted under the other" lacks "is below 10 %"
label --text "100% kotono" --actual "cotton 97; silk 3"
ok "a clause of the other is" has "  fault   Silk Code s. 1: silk was found at 3 % and is not named: silk is named however little there is"

# everywhere a market may be named
label --lang de --text "100% kotono"
ok "another language is refused" refused "a label in Teksio is not in 'de'; its languages are eo"
run assay --found "cotton 65 polyester 35" --uncertainty 0.3 --declared "60% cotton 40% polyester" --market xx
ok "a laboratory's figures are held against its tolerance" has 'Declared "60% cotton 40% polyester": does not conform (xx).'
run new >/dev/null
run set market "us xx"
ok "the site may sell there" is 0
run label --market zz --text "100% cotton"
ok "it is among the markets there are" sh -c 'tail -1 err | grep -q "), xx (Teksio)$"'

# and nothing else is changed
for m in us ca eu gb cn; do
	run label --market $m --text "60% rayon, 36% coton, 4% polyester" --actual "viscose 60; cotton 36; wool 4"
	mv out with
	"$ours" label --market $m --text "60% rayon, 36% coton, 4% polyester" --actual "viscose 60; cotton 36; wool 4" >out 2>err
	ok "the answer for $m is the same with it and without" cmp -s out with
done
"$ours" label --market xx --text "100% kotono" >out 2>err; code=$?
ok "the program as it is knows no such market" is 1

# a market's key in C would be a market that rows cannot make
: >out; : >err
for m in $(sed 1d "$here/sql/reference/market.csv" | cut -d, -f1); do
	grep -rnE "str(n|case|ncase)?cmp\([^;]*\"$m\"|list_has\([^;]*\"$m\"" "$here/src" --include='*.[ch]' >>out
done
ok "no line of C compares anything with the key of a market" [ ! -s out ]
