#!/bin/sh
# assay: exit code, output and errors.
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need /usr/bin/python3 pdftotext
t=$(cd "$1" && pwd)/tenterbook
manual=$(cd "$(dirname "$0")/../../docs" && pwd)/laboratory.md
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_CLOCK=1795694400 # 2026-11-26 12:00 UTC, whatever day it is

misses() { is 0 && ! grep -qF -- "$1" out; }
# the numbers that are only remembered, without the words that say so
is_free_of_memory() { is 0 && ! grep -qE 'ISO 1833-(21|28)([^0-9]|$)' spoken; }
refused() { is 1 && [ ! -s out ] && [ "$(cat err)" = "tenterbook: $1" ]; }
misused() { is 2 && [ ! -s out ] && [ "$(head -1 err)" = "tenterbook: $1" ]; }
json() { is 0 && /usr/bin/python3 -c "import json,sys; j=json.load(open('out')); sys.exit(0 if ($1) else 1)"; }

run assay --plan "60% cotton 40% polyester"
ok "a plan says what goes and what stays" has " 1. dissolve the cotton, weigh the polyester"
ok "a plan names the reagent" has "method 7: sulphuric acid 75 +- 2 % m/m"
ok "a plan names the hazard" has "hazard: sulphuric acid 75 %, warm: burns skin and eyes"
ok "a plan says how a number was looked up" has "ISO 1833-11:2017 (number read second-hand)"
ok "a plan says what it costs" has "effort: a laboratory order"
ok "a plan foretells the residue of dry mass" has "specimen 1 residue 0.4161"
ok "a plan sends reagents to the laboratory" has "licensed laboratory with a hood"
run assay --plan "60% cotton 40% polyester" --json
ok "the JSON of a plan holds method, factor and limit" json "j['ways'][0]['methods'][0]['number'] == 7 and j['ways'][0]['factors'] == [1.0] and j['ways'][0]['limits'] == [1.0, 1.0]"
run assay --plan "wool 40 nylon 30 cotton 30" --json
ok "three fibres are planned by variants of the table" json "{w['route'] for w in j['ways'] if not w['derived']} >= {'variant_1', 'variant_4'}"
run assay --plan "60% cotton 40% polyester" --mass-per-area 200
ok "a plan says how much cloth a specimen takes" has "A specimen of 1 g takes 50 cm2 of this cloth"
run assay --plan "acetate wool"
ok "a plan without a standard beyond the Regulation offers none" misses "Ways by published standards"
run assay --plan "polyester triexta"
ok "a mixture nothing separates is said to be so" refused "no method in the tables separates polyester from triexta: where yarns or plies differ, separate them by hand; a laboratory may know more"
run assay --plan "50% linen 50% viscose"
ok "linen and viscose are sent to the part for flax" has " 1. dissolve viscose with zinc chloride in formic acid, weigh what is left: ISO 1833-22:2020"
ok "whose figures are the laboratory's" has "the laboratory has the standard"
run assay --plan "cotton 60 lyocell 40"
ok "cotton and lyocell are sent to the part for both" has "dissolve lyocell with zinc chloride in formic acid, weigh what is left: EN ISO 1833-6:2010"
ok "with a test of the lyocell first" has "only some kinds of the dissolved fibre go"
run assay --plan "62% polyester 35% cotton 3% elastane"
ok "elastane goes first" has " 1. dissolve elastane with dimethylacetamide, weigh what is left: ISO 1833-20:2018"
ok "then the cotton" has "    dissolve cotton with sulphuric acid, weigh what is left: ISO 1833-11:2017 (number read second-hand)"
ok "joined for three fibres" has "    joined for three fibres by ISO 1833-2:2020"
ok "or by hand" has "separate them by hand and weigh (ISO 1833-1:2020, seen)"
run assay --plan "95% acrylic 5% elastane"
ok "elastane beside acrylic is not sent to dimethylacetamide" misses "dimethylacetamide"
ok "a number that nobody read is not printed" has "a part of ISO 1833 (its number is not verified)"
run assay --plan "wool cashmere"
ok "wool and cashmere are sent to the microscope" has " 1. tell wool and cashmere apart: ISO 17751-1:2023"
ok "or to an electron microscope" has "tell wool and cashmere apart: ISO 17751-2:2023"
ok "which says what it costs" has "effort: an hour or more at a microscope for somebody trained, or a laboratory order"
ok "and what it can say" has "tells: which animal, and the share of each by counting and measuring fibres"
ok "and warns of no reagent" misses "These reagents"
run assay --plan "wool cashmere" --json
ok "the JSON of a standard has status and source" json "j['ways'] == [] and j['standards'][0]['steps'][0]['standard']['status'] == 'seen' and 'iTeh' in j['standards'][0]['steps'][0]['standard']['source']"
run assay --plan "chitin cotton" --json
ok "the JSON holds a number from memory as such" json "all(s['standard']['number'] is None and s['standard']['number_from_memory'] == 'ISO 1833-28' for s in j['standards'][0]['steps'])"
for pair in "elastane wool" "chlorofibre cotton" "chitin wool" "elastane cotton" "modacrylic wool" "triacetate wool" "chitin polyester wool" "acetate cotton"; do
	run assay --plan "$pair"
	sed 's/; ISO 1833-20:2018 names the part for some elastane//' out >spoken
	ok "no number from memory stands as a fact in a plan for $pair" is_free_of_memory
done
run assay --plan "cotton"
ok "one fibre is no mixture" refused "one fibre needs no separating: a laboratory says which it is (ISO/TR 11827); name the two or three that may be mixed"

# The Regulation's worked examples, Annex VIII chapter 3, IV
run assay --variant 1 --method 2 --method 4 --mixture "wool / nylon / cotton" --condition cotton=unbleached --d 1,1.03,1,1 --specimen 1.6000 --residue 1.4166 --specimen2 1.8000 --residue2 0.9000
ok "the first worked example comes out as printed" has "Found: 11.0 % wool, 48.4 % polyamide, 40.6 % cotton (EU agreed allowances)."
run assay --variant 4 --method 2 --method 3 --mixture "wool / viscose / cotton" --condition cotton=unbleached --d 1,1.03,0.99 --specimen 1.6000 --residue 1.4166 --residue2 0.6630
ok "the second worked example comes out as printed" has "Found: 10.6 % wool, 48.6 % viscose, 40.8 % cotton (EU agreed allowances)."

two="--mixture cotton/polyester --dissolved cotton --specimen 1.002 --residue 0.403 --specimen 0.998 --residue 0.399"
run assay $two --declared "60% cotton 40% polyester"
ok "the answer comes first in plain words" [ "$(sed -n 2p out)" = 'Declared "60% cotton 40% polyester": conforms (us, ca, eu, gb).' ]
ok "a regain from memory is marked where it is used" has "US commercial regain, figures from memory: check them"
ok "the law is left to those who decide it" has "Information, not legal advice"
run assay --found "100% cotton" --uncertainty 0.5 --declared "100% cotton" --market us
ok "a pure label without a tolerance conforms where nothing else was found" has "conforming from 100.00 to 100.00 %"
run assay --found "100% cotton" --uncertainty 0.5 --declared "100% cotton" --market us --json
ok "and the JSON has that range, open above" json "j['conformity'][0]['answer'] == 'conforms' and j['conformity'][0]['fibres'][0]['accept'] == [100, None]"
run assay --found "99% cotton 1% polyester" --uncertainty 0.5 --declared "100% cotton" --market us
ok "and not where another fibre was found" has 'Declared "100% cotton": does not conform (us).'
run assay $two --declared "62.5% cotton 37.5% polyester" --market eu --basis dry
ok "near a limit nothing is said" has "cannot be said (eu)"
run assay $two --declared "70% cotton 30% polyester"
ok "what is far off does not conform" has "does not conform (us, ca, eu, gb)"
run assay $two --declared "60% cotton 40% polyester" --market eu --json
ok "the JSON holds bases, budget and decision" json "len(j['bases']['eu']) == 2 and j['bases']['eu'][0]['budget']['method'] > 0.5 and j['conformity'][0]['answer'] == 'conforms' and j['conformity'][0]['fibres'][0]['allowed'] == [57.0, 63.0]"
ok "the JSON says the percentages sum to a hundred" json "abs(sum(s['rounded'] for s in j['bases']['eu']) - 100) < 1e-9"
run assay --mixture cotton/polyester --method 7 --specimen 1 --residue 0.4
ok "one determination is not enough, and that is said" has "the Regulation asks for at least two"
run assay --mixture cotton/polyester --method 7 --specimen 1 --residue 0.4 --specimen 1 --residue 0.43
ok "determinations too far apart are flagged" has "lie further apart than chance explains (more than 1.41 points)"
run assay --variant 1 --mixture "wool nylon cotton" --d 1,1.03,1,1.02 --specimen 1 --residue 0.78543689 --specimen2 1 --residue2 0.69019608
ok "the bias of the legal formula is reported" has "wool             exact 20.000 %, the formula differs by +0.029 points"
run assay --nitrogen --mixture "jute wool" --specimen 1 --acid 12.307142857 --blank 0.5 --normality 0.02 --json
ok "nitrogen tells jute from wool" json "abs(j['bases']['dry'][0]['percent'] - 40) < 1e-6 and j['bases']['dry'][0]['fibre'] == 'wool'"
run assay --by-hand --mixture "cotton polyester nylon" --weights 0.5,0.3,0.2 --weights 0.5,0.3,0.2 --json
ok "parts weighed by hand are shares of their sum" json "[round(s['percent'], 9) for s in j['bases']['dry']] == [50, 30, 20]"
run assay --by-hand --mixture cotton/polyester --weights 0.3,0.7 --declared "60% cotton 40% polyester" --json
ok "one weighing by hand says nothing either way" json "all(c['withheld'] and c['answer'] == 'cannot_be_said' for c in j['conformity'])"
run assay --found "55% cotton 45% polyester" --uncertainty 0.5 --declared "60% cotton 40% polyester" --market us --market ca
ok "a laboratory's own percentages are compared too" has 'does not conform (us); cannot be said (ca).'

# Tables
printf 'note;residue;specimen\nfirst;0,403;1,002\nsecond;0,399;0,998\n' >m.csv
run assay --mixture cotton/polyester --method 7 --masses m.csv --json
ok "a table with semicolons and decimal commas is read" json "j['determinations'] == [[1.002, 0.403], [0.998, 0.399]]"
printf 'specimen,residue\n1.0,0.4\n1.0,1.2\n' >m.csv
run assay --mixture cotton/polyester --method 7 --masses m.csv
ok "a residue above the specimen is refused by line" refused "m.csv: line 3: residue (1.2 g) is more than specimen (1 g)"
printf 'specimen,rest\n1.0,0.4\n' >m.csv
run assay --mixture cotton/polyester --method 7 --masses m.csv
ok "an unknown column is refused by name" refused "m.csv: line 1: no reading is called 'rest'; the columns are specimen, residue"
: >m.csv
run assay --mixture cotton/polyester --method 7 --masses m.csv
ok "an empty table is refused" refused "m.csv: the file is empty"
run assay --mixture cotton/polyester --method 7 --masses nowhere.csv
ok "a table that is not there is refused" is 1

# Refusals
for v in -1 0 nan 1e999 abc ""; do
	run assay --mixture cotton/polyester --method 7 --specimen 1 --residue "$v"
	ok "a residue of '$v' is refused" is 1
done
printf 'specimen,resid\033[2J\n1,1\n' >m.csv
run assay --mixture cotton/polyester --method 7 --masses m.csv
ok "control characters of a file do not reach the terminal" refused "m.csv: line 1: no reading is called 'resid [2J'; the columns are specimen, residue"
run assay --mixture cotton/polyester --method 99 --specimen 1 --residue 0.4
ok "an unknown method is refused" refused "--method is '99'; the methods are numbered 1 to 17"
run assay --mixture cotton/polyester --method 2 --specimen 1 --residue 0.4
ok "a method that does not serve is refused" is 1
run assay --mixture cotton/polyester --method 7 --specimen 1 --residue 0.4 --specimen 1
ok "a determination without its residue is refused" refused "determination 2 has no residue; every determination needs them all (--residue G)"
run assay --mixture "acetate / cotton" --specimen 1 --residue 0.4
ok "several possible methods are asked about" is 1
run assay --mixture cotton/polyester --method 7 --condition cotton=blue --specimen 1 --residue 0.4
ok "a condition no table knows is refused" refused "no table knows 'blue' for cotton (--condition FIBRE=WORD)"
run assay --mixture cotton/polyester --method 7 --specimen 1 --residue 0.4 --declared "60% cotton" 
ok "a declaration that is short is refused" is 1
run assay $two --declared "60% cotton 40% polyester" --market xx
ok "an unknown market is refused" is 1
run assay
ok "assay without anything is misuse" misused 'say which fibres were separated, such as "cotton / polyester" (--mixture TEXT)'
run assay --mixture cotton/polyester --method 7
ok "no masses is misuse" misused "there are no masses: give a table of them, or specimen, residue once for every determination (--masses FILE --specimen G --residue G)"
run assay --mixture cotton/polyester --by-hand --variant 2
ok "two ways of parting at once is misuse" misused "--variant, --by-hand and --nitrogen exclude one another"
run assay --found "55% cotton 45% polyester" --declared "60% cotton 40% polyester"
ok "percentages without their uncertainty are misuse" is 2

# In the book
export TENTERBOOK_BOOK="$dir/b.db" TENTERBOOK_WHO="Ada Fell"
"$t" new --code W --name "Westgate shed" >/dev/null
printf 'article,colour,composition,bolt,metres\nPlain 40,blue,60%% cotton 40%% polyester,001,50\nStripe,red,warp cotton; weft linen,003,40\n' >p.csv
"$t" receive p.csv --supplier "Harrow Mill" --note N-1 --on 2026-10-05 >/dev/null
lot=$("$t" lots | awk '$1 ~ /\.01$/ { print $1; exit }')
run assay "$lot"
ok "a lot without analyses says so" has "no analysis is recorded"
run assay "$lot" --method 7 --specimen 1.002 --residue 0.503 --specimen 0.998 --residue 0.5 --laboratory "Fellside laboratory" --report F-77 --on 2026-10-09
ok "a result is compared with what the lot declares" has 'Declared "60% cotton 40% polyester": does not conform (us, ca, eu, gb).'
ok "a result that does not conform holds the lot" has "The lot is now held: no bolt of it goes into use until somebody settles it (tenterbook settle $lot --as ... --why ...)."
ok "a result is recorded" has "Recorded for lot $lot as analysis"
run assay "$lot" --json
ok "a recorded result is listed with all its figures" json "j['analyses'][0]['found'] == '48.5 % polyester, 51.5 % cotton' and j['analyses'][0]['laboratory'] == 'Fellside laboratory' and j['analyses'][0]['detail']['conformity'][0]['answer'] == 'does_not_conform'"
id=$(/usr/bin/python3 -c "import json; print(json.load(open('out'))['analyses'][0]['id'])")
run assay "$lot" --found "57% cotton 43% polyester" --uncertainty 0.5 --corrects "$id" --json
ok "a correction is recorded" json "j['analysis'] != '$id'"
run assay "$lot" --json
ok "what was corrected no longer counts" json "[a['route'] for a in j['analyses']] == ['reported']"
run assay "$lot" --found "57% cotton 43% polyester" --uncertainty 0.5 --corrects "$id"
ok "a record is corrected once" refused "analysis $id was corrected already; correct the later record"
run assay 003 --found "100% flax" --uncertainty 0.3
ok "a cloth of several parts is asked which part" is 1
run assay 003 --part weft --found "100% flax" --uncertainty 0.3 --market eu
ok "one part is compared with its own words" has "flax: declared 100 %, found 100.00 %"
run assay "$lot" --declared "50% cotton 50% polyester" --method 7 --specimen 1 --residue 0.5
ok "a lot has its own declaration" misused "a lot has its own declaration; leave --declared out"
run assay "$lot" --method 7 --specimen 1 --residue 1.5
ok "a refused result leaves nothing behind" is 1
# Beside what burns say of the same lot
"$t" set flame yes >/dev/null
tag=$("$t" cut 001 --lot "$lot" | sed -n 's/^Swatch \([^:]*\):.*/\1/p' | head -1)
run burn "$tag" --saw odour:burning_hair,residue_form:crushable_bead
run judge "$lot"
ok "a verdict says first what a laboratory found" has 'by a laboratory not named: 57 % cotton, 43 % polyester. Whether the declaration conforms to that cannot be said in every market (us: cannot be said, ca: conforms, eu: cannot be said, gb: cannot be said).'
ok "... and which of the two weighs more" has "A laboratory's result weighs more than any burn; the burns by themselves:"
ok "... and counts no lots like this one" misses "Of such lots with burns like these"
ok "... and is not sent to a laboratory again" misses "send a swatch to a laboratory"
run assay "$lot" --found "60% cotton 40% polyester" --uncertainty 0.5
run judge "$lot"
ok "where the two differ, it is said" has "What the burns say differs from that. A laboratory's result weighs more"
run judge "$lot" --json
ok "a program is told the same" json "j['laboratory']['answer'] == 'conforms' and j['laboratory']['weighs_more'] and j['laboratory']['analyses'][-1]['found'] == '60 % cotton, 40 % polyester' and j['base_rate'] is None and 'laboratory' not in [n['test'] for n in j['next']]"
run lots
ok "no list names a test to confirm what a laboratory answered" misses "is held; the confirming test"
ok "... though the lot is held" has "held"
run assay "$lot" --found "50% cotton 50% polyester" --uncertainty 0.5
ok "a report that says the opposite of another does not decide of the lot without a word" is 1
run assay "$lot" --found "50% cotton 50% polyester" --uncertainty 0.5 --anyway
ok "of a lot that is held nobody is told how to hold it" misses "tenterbook settle $lot --as held"
ok "... though the result does not conform" has 'Declared "60% cotton 40% polyester": does not conform'
run judge "${lot%.01}.02" --json
ok "a lot without an analysis has no answer" json "j['laboratory'] is None or j['laboratory']['answer'] == 'cannot_be_said'"
# A sample goes to a laboratory: its way is on every page, and in the data of the case.
second=${lot%.01}.02
tag=$("$t" cut 003 --lot "$second" | sed -n 's/^Swatch \([^:]*\):.*/\1/p' | head -1)
run assay "$second" --sent-to "Weir Lane Laboratory" --swatches "$tag"
ok "a sending is recorded with what to do next" has "tenterbook todo lists it until its report is recorded: tenterbook assay $second --found ... --laboratory ..."
run assay "$second" --sent-to "Weir Lane Laboratory" --swatches "$tag"
ok "the same swatch does not go twice" grep -qF "swatch $tag went to Weir Lane Laboratory on 2026-11-26, and no report answers that yet" err
run assay "$second" --sent-to "Weir Lane Laboratory"
ok "which swatches, is asked" refused "say which swatches went to Weir Lane Laboratory (--swatches TAGS)"
run assay "$second" --sent-to "Weir Lane Laboratory" --swatches "$tag" --found "100% cotton"
ok "sending and report are two records" misused "--sent-to says that a sample went to the laboratory; what came back (--found) is recorded by itself"
run assay --sent-to "Weir Lane Laboratory" --swatches "$tag"
ok "a sending is of a lot" misused "--sent-to takes the lot whose swatches went to the laboratory"
run todo
ok "it waits in the list of what is left to do" has "$second of " "1 swatch is at Weir Lane Laboratory"
ok "... and nobody is told to burn what is not here" misses "$tag of "
run look "$second"
ok "the page of the lot says where it is" has "Sent to Weir Lane Laboratory on 2026-11-26: $tag" "no report answers it yet"
run sheet --month "2026-11" --out month.xlsx
ok "the month counts it" grep -q "Laboratories,Samples not answered yet,1,.*the oldest since 2026-11-26, 0 days" month-summary.csv
run case "$second" --out case.pdf
run prove --case case.pdf --against "$TENTERBOOK_BOOK"
ok "the case of such a lot proves" has "and the book holds nothing else of this lot"
pdftotext -layout case.pdf case.txt
ok "its chain of custody tells of it" grep -q "sent to Weir Lane" case.txt
run assay "$second" --part weft --found "100% linen" --uncertainty 0.3 --laboratory "weir lane laboratory"
ok "the report that answers closes it" misses "still waits for its report"
run assay "$second" --json
ok "... by the day it was analysed" json "[(s['laboratory'], s['answered_on'] is not None, [w['swatch'] for w in s['swatches']]) for s in j['sendings']] == [('Weir Lane Laboratory', True, ['$tag'])]"
run todo
ok "... and nothing waits for a laboratory any more" misses "is at Weir Lane Laboratory"
run prove
ok "the journal covers the analyses" is 0
unset TENTERBOOK_BOOK

# The examples of the manual: after each command stands the first line it prints.
/usr/bin/python3 - "$manual" >examples <<'P'
import sys
lines = open(sys.argv[1]).read().splitlines()
for at, line in enumerate(lines):
    if line.startswith("$ tenterbook "):
        print(line[13:] + "\n" + lines[at + 1])
P
while IFS= read -r command && IFS= read -r first; do
	eval "run $command"
	ok "the manual's example prints: $first" [ "$(head -1 out)" = "$first" ]
done <examples
