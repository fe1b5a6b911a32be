#!/bin/sh
# label: what is printed and refused, on a text and on a lot of the book.
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need /usr/bin/python3
here=$(cd "$(dirname "$0")/../.." && pwd)
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_CLOCK=1795694400 # 2026-11-26 12:00 UTC, whatever day it is
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=tester

prints() { grep -qF -- "$1" out; }
misused() { is 2 && [ ! -s out ] && [ "$(head -1 err)" = "tenterbook: $1" ]; }
answers() { /usr/bin/python3 -c "import json,sys; j=json.load(open('out')); sys.exit(0 if ($1) else 1)"; }
json() { is 0 && answers "$1"; }

run label --market us --text "60% cotton 40% polyester"
ok "a text needs no book" is 0
ok "the answer comes first" [ "$(head -1 out)" = "United States (us, textile): the words may stand" ]
ok "the line a label may carry is printed" has "a label may say: 60% cotton, 40% polyester"
ok "it says that it is no legal advice" has "Information, not legal advice: the official text and local counsel decide."
ok "years of records are shown" has "15 USC 70d(a); 68d(b); 16 CFR 303.39: Maker keeps records"
ok "the country of origin is asked for" has "the country of origin stands on the label: say which it is (--origin)"
run label --market us --text "96% cotton 4% polyester"
ok "a small fibre is a fault" has "fault   15 USC 70b(b)(1)-(2); 16 CFR 303.3(a): polyester at 4 % is below 5 %"
run label --market us --text "96% cotton 4% polyester" --functional polyester --origin Portugal
ok "unless it serves a purpose" has "the words may stand"
ok "the origin is printed" has "Made in Portugal"
run label --market us --text "100% cotton" --actual "cotton 97; rayon 3"
ok "a claim of one fibre has no tolerance" has "a claim of one fibre has no tolerance [rule read second-hand]"
ok "the wording is then of what was found" has "97% cotton, 3% other fiber"
run label --market us --text "60% cotton 40% polyester" --json
ok "the JSON is one object with findings and wording" \
	json "j['market'] == 'us' and j['ok'] is True and j['wording'] == ['60% cotton, 40% polyester'] and all(set(f) >= {'clause','severity','message'} for f in j['findings'])"
ok "faults come before advice and advice before notes" \
	json "[f['severity'] for f in j['findings']] == sorted((f['severity'] for f in j['findings']), key=['fault','advice','note'].index)"
run label --market us --market eu --market ca --text "60% rayon 40% polyester" --json
ok "several markets are an array in their order" \
	json "[a['market'] for a in j] == ['us','eu','ca'] and [a['ok'] for a in j] == [True, False, False]"
run label --market ca --text "60% Cotton / Coton, 40% Polyester / Polyester" --actual "cotton 65; polyester 35"
ok "five points are within in Canada" has "Canada (ca): the words may stand"
run label --market eu --text "60% cotton, 40% polyester" --actual "cotton 65; polyester 35"
ok "and outside in the Union" has "5 points off, more than the 3 allowed"
run label --market eu --text "100% wool" --actual "wool 96; nylon 4"
ok "it is asked whether the cloth was carded" has "if the cloth went through carding, 4 % of unnamed fibre may pass: say so (--carded)"
run label --market eu --text "100% wool" --actual "wool 96; nylon 4" --carded
ok "and then it passes" has "European Union (eu): the words may stand"
run label --market eu --lang de --text "60 % Baumwolle, 40 % Polyester"
ok "a German label is in German" has "a label may say: 60 % Baumwolle, 40 % Polyester"
run label --market eu --lang hr --text "100% flax"
ok "a name from memory is not printed" has "is a word from memory that nobody looked up"
run label --market eu --lang hr --text "100% flax" --unchecked
ok "unless that is asked for" has "a label may say: 100 % lan"
run label --market br --text "100% algodão"
ok "a market known in part says so" prints "the rules of this market are known only in part here"
ok "and that it is not known whether the words may stand" prints "Brazil (br): not known, for the rules that are known here do not decide it"
ok "which is no success" is 1
ok "and is said in one sentence" [ "$(cat err)" = "tenterbook: the rules known here do not say whether the words may stand: Brazil" ]
run label --market us,br,kr --text "100% cotton" --json
ok "of several markets those that do not know are named" [ "$(cat err)" = "tenterbook: the rules known here do not say whether the words may stand: Brazil, Korea" ]
ok "and the answers of all are there" answers "[a['ok'] for a in j] == [True, None, None]"
run label --market br --text "60% algodão 45% poliéster"
ok "a fault is a fault in a market known in part" has "Brazil (br): the words may not stand"
ok "and that is an answer" is 0
run label --market gb --text "100 % ull"
ok "a foreign word is told what to say" has "'ull' is not a name used in Great Britain: say 'wool'"
ok "and worded" has "a label may say: 100 % wool"

run label --market eu --on 2010-01-01 --text "120% botu"
ok "before its rules were in force a market says that none was looked at" prints "European Union (eu): not known, for no rule was looked at"
ok "and has no wording" prints "no wording: no rule of this market was in force that says what a label holds"
run label --market eu --on 2010-01-01 --text "120% botu" --json
ok "which is no leave" answers "j['ok'] is None and j['rules'] == 0"
ok "and no success" is 1

markets=$(/usr/bin/python3 -c "import csv, sys
print(', '.join('%s (%s)' % (r['key'], r['name']) for r in csv.DictReader(open(sys.argv[1])) if r['coverage'] != 'base'))" \
	"$here/sql/reference/market.csv")
run label --market zz --text "100% cotton"
ok "an unknown market names those there are" \
	refused "there is no market 'zz'; the markets are $markets"
run label --market us --market zz --text "100% cotton"
ok "nothing is printed when one of several is unknown" is 1
ok "not even the first" [ ! -s out ]
run label --market us
ok "no text and no lot is misuse" misused "label needs a LOT or --text TEXT"
run label --text "100% cotton"
ok "no market is misuse" misused "name the market of the label (us, ca, eu, gb, ...) (--market M,..)"
run label --market us --text "100% cotton" --actual "zorblon"
ok "what was found must be readable" is 1
run label --market us --text "96% cotton 4% x" --functional zorblon
ok "a purpose is of a fibre there is" refused "--functional 'zorblon' is not the name of a fibre"
run label --market us --text "100% cotton" --share weft=x
ok "a share of a part is a number" refused "--share is given as PART=PERCENT, such as weft=45, not 'weft=x'"
run label --market us --text "100% cotton" --micron nan
ok "no number is no diameter" [ "$code" != 0 ]
run label --market us --text "$(head -c 9000 /dev/zero | tr '\0' x)"
ok "a very long text is refused" refused "the text is 9000 bytes long; a label is read up to 8192"

run label W26-001.01 --market us
ok "a lot needs a book" is 1
cat >plain.csv <<'CSV'
supplier,delivery note,date,order no,article,colour,dye lot,bolt no,length m,composition,origin
Alder Mill,N-1,2026-03-14,PO 7,Q10,navy,L1,0001,100,"60% cotton, 40% polyester",Portugal
Alder Mill,N-1,2026-03-14,PO 7,Q11,navy,L2,0002,100,CO 100,Portugal
Alder Mill,N-1,2026-03-14,PO 7,Q12,navy,L3,0003,100,,Portugal
CSV
run new --code W
run receive plain.csv --on 2026-03-16
ok "a delivery is taken in" is 0
run label W26-001.01 --market us --market gb
ok "the words of a lot are its declaration" has 'Lot W26-001.01: "60% cotton, 40% polyester"'
ok "its origin is the lot's" has "Made in P"
run label W26-001.02 --market gb
ok "a code is not a name for a label" has "'CO' is not a name that a label may carry: say 'cotton'"
ok "but the wording is known" has "a label may say: 100 % cotton"
run label W26-001.03 --market gb
ok "a lot without words asks for them" refused "lot W26-001.03 has no declaration; give the words of the label (--text TEXT)"
run assay W26-001.01 --found "cotton 50; polyester 50" --uncertainty 0.5
ok "a laboratory result is recorded" is 0
run label W26-001.01 --market us
ok "what a laboratory found is held against the words" has "cotton is stated at 60 % and found at 50 %: 10 points off, more than the 3 allowed"
ok "and shown" has "A laboratory found: 50 % cotton, 50 % polyester"
run label W26-001.01 --market us --json
ok "the JSON of a lot names it" json "j['lot'] == 'W26-001.01' and j['ok'] is False and '50' in j['actual']"
run label W26-009.09 --market us
ok "an unknown lot is refused" is 1
run label --market us,eu --market "us gb" --text "100% cotton" --json
ok "markets may be named together, and each is asked once" json "[a['market'] for a in j] == ['us', 'eu', 'gb']"
run label W26-001.02
ok "a lot without a market asks for one" misused "name the market of the label (us, ca, eu, gb, ...), or the setting market (--market M,..)"
run set market "gb eu"
run label W26-001.02 --json
ok "the markets of the site are the lot's" json "[a['market'] for a in j] == ['gb', 'eu']"
run label W26-001.02 --market us --json
ok "unless one is named" json "j['market'] == 'us'"
