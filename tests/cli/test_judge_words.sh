#!/bin/sh
# judge without a book: words, tables of burns, refusals
t=$1/tenterbook
d=$(mktemp -d)
trap 'rm -rf "$d"' EXIT
say() { if [ "$1" = 0 ]; then echo "ok - $2"; else echo "not ok - $2"; sed 's/^/# /' "$d/out" "$d/err"; fi; }
run() { "$t" "$@" >"$d/out" 2>"$d/err"; rc=$?; }

run judge --declared "100% silk" --saw odour:burning_paper,residue_form:light_fluffy_ash
[ $rc = 0 ] && [ ! -s "$d/err" ] && grep -q '^What was seen contradicts the declaration' "$d/out" && grep -q '^Against it: ' "$d/out" &&
	grep -q 'no verdict here confirms a label' "$d/out"
say $? "a burn that smells of paper contradicts silk, with its reasons and its limits"

run judge --declared "100% wool" --saw odour:burning_hair,residue_form:crushable_bead --json
[ $rc = 0 ] && [ ! -s "$d/err" ] && grep -q '"verdict": "fits"' "$d/out" && grep -q '"reference": "sha256:' "$d/out"
say $? "a fitting burn is told in JSON with the digest of the reference"

run judge --declared "100% wool" --saw smoke:none,smoke:black
[ $rc = 1 ] && [ ! -s "$d/out" ] && grep -qx 'tenterbook: smoke:none (no smoke) and smoke:black (black smoke) cannot both be seen in one burn' "$d/err"
say $? "no smoke and black smoke in one burn are refused"
run judge --from "$d/burns.csv" --saw smoke:black
[ $rc = 2 ] && [ ! -s "$d/out" ] && grep -q '^tenterbook: --saw goes with --declared: a lot has its burns in the book, a table in its rows$' "$d/err"
say $? "cues beside a table are refused, not left unheard"
run judge --declared "100% wool" --saw smoke:black --as-of 3
[ $rc = 2 ] && grep -q '^tenterbook: --as-of goes with a lot$' "$d/err"
say $? "a journal row beside bare words is refused"
run judge --declared "100% acetate" --looked acetone
[ $rc = 0 ] && grep -q '^Undecided: nothing was looked at: no cue and no channel is recorded' "$d/out"
say $? "a test without a result says nothing, and it is said"

run judge --declared "100% wool" --saw odour:burnin_hair
[ $rc = 1 ] && [ ! -s "$d/out" ] && grep -q "no cue 'odour:burnin_hair'; the nearest: odour:burning_hair" "$d/err"
say $? "an unknown cue is refused and the nearest offered"

run judge --declared "100% wool" --saw smoke:black --outcomes
[ $rc = 2 ] && grep -q -- '--outcomes goes with --from' "$d/err"
say $? "what a lone verdict says already is not asked for"
run judge --declared "100% wool" --from x.csv
[ $rc = 2 ] && grep -q '^usage: ' "$d/err"
say $? "two questions at once are a misuse"

printf 'id,declared,saw,not,looked\na,100%% wool,odour:burning_hair,,smoke\n"b,1",100%% wool,odour:nothing_like_it,,\nc,65/35 polyester/cotton,smoke:black odour:acrid,residue_form:hard_bead,\n' >"$d/burns.csv"
run judge --from "$d/burns.csv"
[ $rc = 1 ] && [ "$(wc -l <"$d/out")" = 3 ] && sed -n 2p "$d/out" | grep -q '"id":"b,1","line":3,"error":"there is no cue' &&
	sed -n 3p "$d/out" | grep -q '"verdict":' && grep -q '1 of 3 rows could not be judged, the first on line 3' "$d/err"
say $? "a bad row of a table is named and the others are judged all the same"

run judge --from "$d/burns.csv"; cp "$d/out" "$d/first"
run judge --from - <"$d/burns.csv"
cmp -s "$d/out" "$d/first"
say $? "the same table on standard input gives the same bytes"

printf 'id,declared,saw\na,100%% silk,residue_form:hard_bead;smoke:black;odour:chemical_plastic\nb,100%% silk,odour:burning_hair\n' >"$d/next.csv"
run judge --from "$d/next.csv"
[ $rc = 0 ] && [ "$(grep -c '"next":\[{"part":"whole","test":"' "$d/out")" = 2 ] && [ "$(grep -c '"confirm":null' "$d/out")" = 2 ]
say $? "every row that is no fit names the tests worth making next"
run judge --from "$d/next.csv" --outcomes
[ $rc = 0 ] && sed -n 1p "$d/out" | grep -q '"verdict":"contradicts".*"confirm":{"part":"whole","test":".*"outcomes":\[{' && sed -n 2p "$d/out" | grep -q '"confirm":{"part":"whole","test":".*"outcomes":\[{'
say $? "asked for, a row that is no fit says what the results of the test to make next would do"

printf 'name,words\n' >"$d/other.csv"
run judge --from "$d/other.csv"
[ $rc = 1 ] && [ ! -s "$d/out" ] && grep -q 'line 1: the columns declared, saw must be there; it may have id, declared, saw, not, looked, could-not$' "$d/err"
say $? "a table without its columns is refused"
