#!/bin/sh
# money: what claims come to, what went back without a credit, and what may be late. An invented mill.
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need /usr/bin/python3 pdftotext
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=Ada LC_ALL=C.UTF-8

today() { export TENTERBOOK_CLOCK=$(date -u -d "$1T12:00:00Z" +%s); }
refuses() { is "$1" && [ ! -s out ] && grep -qF -- "$2" err; }
json() { is 0 && /usr/bin/python3 -c "import json,sys; j=json.load(open('out')); sys.exit(0 if ($1) else 1)"; }

today 2026-10-05
printf 'Bolt No,Length yd,Article,Price USD/yd,Composition\nA1,53,felt,3.20,100%% wool\nA2,47,felt,3.20,100%% wool\n' >yards.csv
printf 'Bolt No,Length m,Article,Price,Currency,Composition\nB1,50,drill,4.10,EUR,100%% cotton\nB2,50,drill,4.10,EUR,100%% cotton\n' >metres.csv
run new --code W --name "Westgate shed" --country GB
run receive yards.csv --supplier "Ohm Weavers" --note N-1 --yes
run receive metres.csv --supplier "Hill Mill" --note N-2 --yes
run money
ok "without amounts it says so" has "No amounts are recorded with disputes."

# --- what went back, and what nobody can say of ---
run settle W26-001.01 --bolt A2 --as returned --why "wool it is not"
run dispute --json
ok "a bolt that went back awaits its credit, at what it was invoiced: 47 yd at 3.20" json "[(x['lot'], x['state'], round(x['awaited'], 6), x['currency'], x['overdue']) for x in j] == [('W26-001.01', 'credit', 150.4, 'USD', False)]"
ok "which is told apart from what was claimed, offered and agreed" json "[(round(x['invoiced_returned']['amount'], 6), x['invoiced_returned']['currency'], x['claimed'], x['offered'], x['agreed']) for x in j] == [(150.4, 'USD', None, None, None)]"
ok "what is claimed is that bolt, with its conclusion beside" json "[(x['bolts_claimed'], round(x['metres_claimed'], 4), x['conclusion']['word']) for x in j] == [(1, 42.9768, 'open')]"
run sheet --month 2026-10 --out part.xlsx
ok "so it is in the sheet Claims" /usr/bin/python3 -c 'import csv; r = next(csv.DictReader(open("part-claims.csv"))); assert (r["bolts_claimed"], round(float(r["length_m"]), 3), r["conclusion"]) == ("1", 42.977, "open"), r'
ok "what is open is the other bolt: 53 yd at 3.20, of 100 yd at 3.20" /usr/bin/python3 -c 'import csv; r = next(csv.DictReader(open("part-open.csv"))); assert (r["lot"], r["open_bolts"], round(float(r["open_m"]), 4), round(float(r["open_value"]), 6), round(float(r["length_m"]), 4), round(float(r["value"]), 6)) == ("W26-001.01", "1", 48.4632, 169.6, 91.44, 320), r'
ok "and the list of lots multiplies in the unit invoiced" /usr/bin/python3 -c 'import csv; r = [x for x in csv.DictReader(open("part-lots.csv")) if x["lot"] == "W26-001.01"][0]; q, p, v = (float(r[k]) for k in ("quantity", "price", "value")); assert (round(q, 6), r["unit"], float(r["unit_metres"]), p, round(v, 6)) == (100, "yd", 0.9144, 3.2, 320), r'
run settle W26-001.01 --as returned --why "all of it"
run dispute --json
ok "and so does the whole lot: 100 yd at 3.20" json "[(x['state'], round(x['awaited'], 6)) for x in j] == [('credit', 320.0)]"
run money --json
ok "the money awaited is the same by supplier, month and currency" json "[(r['supplier'], r['month'], r['currency'], r['claimed'], round(r['awaited'], 6), r['disputes']) for r in j['rows']] == [('Ohm Weavers', '2026-10', 'USD', 0, 320.0, 0)]"
run money "Hill Mill" --json
ok "and another supplier's is none of it" json "j['rows'] == [] and j['totals'] == []"
run sheet --month 2026-10 --out part.xlsx --replace
ok "so it is on the summary of the month" grep -q '^"Claims on suppliers, amounts named in the span",Awaited,320,USD,' part-summary.csv
ok "on its sheet Money" grep -q '^Ohm Weavers,2026-10,USD,0,0,0,320,,' part-money.csv
ok "in the column of goods sent back, and in no other, of the sheet Claims" /usr/bin/python3 -c 'import csv; r = next(csv.DictReader(open("part-claims.csv"))); assert [r[k] for k in ("currency", "claimed", "offered", "agreed", "invoiced_returned", "recovered", "awaited")] == ["USD", "", "", "", "320", "0", "320"], r'
pdftotext part.pdf part.txt
ok "and on the page" sh -c 'tr -s " \n" "  " <part.txt | grep -qF "Amounts of claims named in the span: USD claimed 0, agreed 0, recovered 0, awaited 320"'
run settle W26-002.01 --as held --why "a smell of plastic"
run dispute --overdue
ok "where no terms are set nobody says that it is not overdue" has "Of 1 claim nobody can say whether it is overdue, since no term that names days is set: tenterbook terms"
ok "and the row says why" has "no terms set"
run dispute --overdue --json
ok "programs are told null" json "[(x['lot'], x['overdue'], x['why_no_day']) for x in j] == [('W26-002.01', None, 'no terms set')]"
run todo
ok "what is to be done says it too" has "tell the supplier; no term that names days is set, so nobody can say whether it is late: tenterbook terms"
run terms --all --open 5
run dispute --overdue
ok "with terms it can be said" has "2 claims are open, and none of them is overdue."
today 2026-10-12
run dispute --json
ok "what is overdue stands first" json "[(x['lot'], x['overdue']) for x in j] == [('W26-002.01', True), ('W26-001.01', False)]"

# --- claimed, agreed, recovered ---
run dispute W26-002.01 --recovered --amount 10 --currency EUR
ok "nothing comes in of a dispute that is not open" refuses 1 "no dispute about lot W26-002.01 is open"
run dispute W26-002.01 --opened --words "not cotton" --amount 410 --currency EUR
run dispute W26-002.01 --notified --by post
run dispute W26-002.01 --agreed credit --amount 300 --currency EUR --due 2026-11-30
today 2026-11-03
run dispute W26-002.01 --recovered
ok "what came in is said" refuses 1 "say what came in: an amount, or in words what it is"
run dispute W26-002.01 --recovered --amount 120 --words "credit note 76"
ok "an amount needs its money" refuses 1 "an amount needs its money"
run dispute W26-002.01 --recovered --amount 120 --currency EUR --words "credit note 76"
ok "the story of the dispute tells it" has "2026-11-03 came in, 120.00 EUR (Ada): credit note 76"
run dispute
ok "the list tells what is still awaited" has "180.00"
run dispute W26-002.01 --closed --words "all of it" --amount 300 --currency EUR
ok "what is in already is not counted again at the close" refuses 1 "120.00 EUR came in already, and with 300.00 more it is above the 300.00 agreed"
run dispute W26-002.01 --recovered --amount 180 --currency EUR
run dispute --json
ok "when all came in, the dispute is to be closed" json "[x['state'] for x in j if x['lot'] == 'W26-002.01'] == ['close']"
run dispute W26-001.01 --opened --words "not wool" --amount 320 --currency USD
run dispute --json
ok "goods that went back stay awaited while nothing is agreed in a dispute about them" json "[(x['state'], x['claimed']['amount'], round(x['invoiced_returned']['amount'], 6), round(x['awaited'], 6)) for x in j if x['lot'] == 'W26-001.01'] == [('tell', 320, 320, 320)]"
run money --json
ok "by supplier, month and currency" json "[(r['supplier'], r['month'], r['currency'], r['claimed'], r['agreed'], r['recovered'], r['awaited']) for r in j['rows']] == [('Hill Mill', '2026-10', 'EUR', 410, 300, 0, 0), ('Hill Mill', '2026-11', 'EUR', 0, 0, 300, 0), ('Ohm Weavers', '2026-10', 'USD', 0, 0, 0, 320), ('Ohm Weavers', '2026-11', 'USD', 320, 0, 0, 0)]"
ok "and each currency in all" json "[(r['currency'], r['claimed']) for r in j['totals']] == [('EUR', 410), ('USD', 320)]"
ok "nothing is converted by itself" json "j['converted'] is None"
run money
ok "and that is said" has "Nothing is converted: tenterbook set money EUR, and set rate:USD 0.92, say into what and at what rate."
run set money EUR
run money
ok "a currency without a rate is named, and is in no sum" has "USD has no rate and is not in it (tenterbook set rate:USD NUMBER)"
ok "which is then of the others" has "In EUR: claimed 410.00, agreed 300.00, recovered 300.00, awaited 0.00"
run set rate:USD 0.9
today 2026-11-20
run money
ok "with a rate they are added: 410 + 0.9 x 320" has "In EUR: claimed 698.00, agreed 300.00, recovered 300.00, awaited 288.00"
ok "and the rate is told with the day it counts from, and for which months" has "1 USD = 0.9 EUR, set from 2026-11-03 on, for 2026-10 to 2026-11"
today 2026-12-01
run set rate:USD 0.5
run money
ok "what is set in a later month changes no month before it" has "In EUR: claimed 698.00, agreed 300.00, recovered 300.00, awaited 288.00"
run dispute W26-001.01 --recovered --amount 100 --currency USD
run money
ok "each month is converted by the rate in force at its end: 300 + 0.5 x 100" has "In EUR: claimed 698.00, agreed 300.00, recovered 350.00, awaited 198.00"
ok "with the rate of each" has "1 USD = 0.5 EUR, set from 2026-12-01 on, for 2026-12 to 2026-12"
run set rate:USD:2026-11-10 0.8
run money
ok "a rate may be set from a day on: 410 + 0.8 x 320" has "In EUR: claimed 666.00, agreed 300.00, recovered 350.00, awaited 198.00"
run money --json
ok "with that day, for programs too" json "[(r['currency'], r['rate'], r['set_on'], r['first_month'], r['last_month']) for r in j['rates']] == [('USD', 0.9, '2026-11-03', '2026-10', '2026-10'), ('USD', 0.8, '2026-11-10', '2026-11', '2026-11'), ('USD', 0.5, '2026-12-01', '2026-12', '2026-12')]"
run set rate:USD:2026-11-31 0.8
ok "from a day that is none it is refused" refuses 1 "'2026-11-31' is not a valid date; a rate is set from a day on: rate:USD:2026-10-01"
run set rate:DOLLAR 0.8
ok "and so is what is no currency" refuses 1 "'DOLLAR' is not a currency; a rate is set for its code of three letters: rate:USD"
run set rate:GBP:2027-01-01 1.1
run dispute W26-001.01 --recovered --amount 10 --currency GBP
run money
ok "a rate that counts only from later on says so" has "1 GBP = 1.1 EUR, set from 2027-01-01 on, for 2026-12 to 2026-12, when none was set yet"
run set rate:GBP:2027-01-01 ""
run money
ok "and taken back, there is none" has "GBP has no rate and is not in it (tenterbook set rate:GBP NUMBER)"
today 2026-11-20
run money "Hill Mill" --from 2026-11
ok "of one supplier from a month on" has "Hill Mill  2026-11  EUR       0.00    0.00     300.00     0.00"
run money --from 2026-13
ok "a month that is none is refused" refuses 1 "'2026-13' is not a month; it is written 2026-10"
run money "Nobody"
ok "and a supplier who is not known" refuses 1 "Nobody"

# --- days that cannot be right ---
today 2026-12-01
printf 'Bolt No,Length m,Article,Composition\nC1,50,crepe,100%% cotton\nC2,50,crepe,100%% cotton\n' >crepe.csv
run receive crepe.csv --supplier "Hill Mill" --note N-3 --yes
today 2026-12-04
run assay W26-003.01 --found "100% polyester" --uncertainty 0.3 --market eu --on 2026-11-30
ok "an analysis of a day before the goods came is asked about" refuses 1 "analysed on 2026-11-30, but lot W26-003.01 arrived on 2026-12-01: say that this is known, where the day is right"
run assay W26-003.01 --found "100% polyester" --uncertainty 0.3 --market eu --on 2026-12-02
ok "one of the days since is not" is 0
run assay W26-003.01 --found "100% polyester" --uncertainty 0.3 --market eu --on 2026-11-30 --anyway
ok "and taken from a person who knows" is 0
run dispute W26-003.01 --opened --words "not cotton" --found 2026-12-03
ok "a fault found after the analysis that shows it is asked about" refuses 1 "found on 2026-12-03, but an analysis of 2026-11-30 shows it: say that this is known, where the day is right"
run dispute W26-003.01 --opened --words "not cotton" --found 2026-12-03 --anyway
ok "and taken from a person who knows" is 0
run cut C2
run assay W26-003.01 --found "100% polyester" --uncertainty 0.3 --market eu --on 2026-12-03 --report 8
ok "an analysis of a day before the first swatch was cut is asked about" refuses 1 "analysed on 2026-12-03, but the first swatch of lot W26-003.01 was cut on 2026-12-04: say that this is known, where the day is right (--on DAY --anyway)"
run assay W26-003.01 --found "100% polyester" --uncertainty 0.3 --market eu --on 2026-12-04 --report 8
ok "one of the day it was cut is not" is 0
run set flame yes
today 2026-12-05
sed 's/^C/D/' crepe.csv >drape.csv
run receive drape.csv --supplier "Hill Mill" --note N-4 --yes
run cut D1
run burn W26-004.01.01 --saw approach:shrinks_away,smoke:black,residue_form:hard_bead,odour:sweet
today 2026-12-07
run dispute W26-004.01 --opened --words "not cotton" --found 2026-12-06
ok "so is one found after the burn that shows it" refuses 1 "found on 2026-12-06, but what was seen contradicts the words since 2026-12-05"
run dispute W26-004.01 --opened --words "not cotton" --found 2026-12-05
ok "of the same day nothing is asked" is 0

# --- an analysis after a new label ---
run settle W26-003.01 --as relabelled --new "100% polyester" --goods-of own --why "analysed"
run assay W26-003.01 --found "100% polyester" --uncertainty 0.3 --market eu --on 2026-12-07
ok "answers the words of the supplier" has "Declared \"100% cotton\": does not conform (eu)."
ok "and our label beside" has "Our label \"100% polyester\": conforms (eu)."
run look W26-003.01 --json
ok "what is concluded stays that of the supplier's words" json "(j['conclusion']['word'], j['conclusion']['on']) == ('does not conform', '2026-12-07')"
run look W26-001.01
ok "figures multiply in the unit of the invoice, with metres beside" has "  2 bolts, 91.44 m; invoiced: 100.00 yd at 3.20 USD a yd, 320.00 USD in all (1 yd = 0.9144 m)"
run look W26-001.01 --json
ok "for programs too" json "(round(j['invoiced']['quantity'], 9), j['invoiced']['unit'], j['invoiced']['price'], round(j['invoiced']['value'], 9), j['invoiced']['metres_in_one']) == (100, 'yd', 3.2, 320, 0.9144)"
run amend W26-001 --unit m --why "the list says so"
ok "another unit than the list was read in is asked about" [ "$code" = 1 ]
run amend W26-001 --unit m --why "the list says so" --yes
run look W26-001.01
ok "where the lengths were metres after all, the figures are those of the list" has "  2 bolts, 100.00 m, 3.20 USD a metre, 320.00 USD in all"
printf 'Bolt No,Net weight kg,Article,Price EUR/kg,Composition\nK1,20,jersey,9.50,100%% wool\nK2,30,jersey,9.50,100%% wool\n' >kilos.csv
run receive kilos.csv --supplier "Hill Mill" --note N-5 --yes
run look W26-005.01
ok "a price a kilogram has a value, though no length is known" has "length not known; invoiced: 50.00 kg at 9.50 EUR a kg, 475.00 EUR in all"

# --- one dispute in two moneys: the month is written, and no column adds them up ---
sed 's/^B\([12]\)/E\1/' metres.csv >drill2.csv
run receive drill2.csv --supplier "Hill Mill" --note N-6 --yes
ok "another list is taken" is 0
run dispute W26-006.01 --opened --words "not cotton" --amount 400 --currency EUR
run dispute W26-006.01 --notified --by post --proof 1
run dispute W26-006.01 --answered --words "we offer" --amount 100 --currency USD
ok "offered is taken" is 0
run sheet --month 2026-12 --out two.xlsx
ok "a supplier who offers dollars does not stop the month" is 0
other='import csv,sys; r = next(r for r in csv.DictReader(open(sys.argv[1], newline="")) if r["lot"] == "W26-006.01"); print([r[k] for k in ("currency", "claimed", "offered", "agreed", "awaited", "other_money")])'
ok "each amount in its own money, and only one money in a column" [ "$(/usr/bin/python3 -c "$other" two-claims.csv)" = "['USD', '', '100', '', '', 'claimed 400.00 EUR']" ]
run dispute W26-006.01 --agreed credit --amount 450 --currency GBP --anyway
run dispute W26-006.01 --answered --words "and a rest" --amount 120 --currency USD
run sheet --month 2026-12 --out three.xlsx
ok "nor does an agreement in a third" is 0
ok "whose money is that of what is awaited" [ "$(/usr/bin/python3 -c "$other" three-claims.csv)" = "['USD', '', '120', '', '', 'claimed 400.00 EUR; agreed 450.00 GBP; awaited 450.00 GBP']" ]

# --- a bolt that went back of a lot that something speaks against ---
printf 'Bolt No,Length m,Article,Price,Currency,Composition\nT1,40,twill,10,EUR,100%% cotton\nT2,40,twill,10,EUR,100%% cotton\nT3,40,twill,10,EUR,100%% cotton\n' >twill.csv
run receive twill.csv --supplier "Turn Mill" --note N-7 --yes
lot=$(sed -n 's/^  \(W26-[0-9]*\.01\) .*/\1/p' out)
run cut T1
run burn $lot.01 --saw approach:melts,in_flame:melts,in_flame:drips,smoke:black,odour:sweet,residue_form:hard_bead --not odour:burning_paper
run settle $lot --bolt T1 --as returned --why "it is polyester"
run dispute --json
ok "the supplier is told, and its credit is awaited" json "[(x['state'], round(x['awaited'], 6)) for x in j if x['lot'] == '$lot'] == [('tell', 400.0)]"
run money "Turn Mill" --json
ok "in money too" json "[(r['currency'], r['awaited']) for r in j['totals']] == [('EUR', 400.0)]"
run settle $lot --bolt T2,T3 --as released --why "burned apart, and fit"
run todo --json
ok "where no bolt is held any more nobody decides of a hold" json "[x for x in j['items'] if x['lot'] == '$lot' and x['kind'] == 'held'] == []"
run dispute --json
ok "and the credit is what is open" json "[(x['state'], round(x['awaited'], 6)) for x in j if x['lot'] == '$lot'] == [('credit', 400.0)]"

# --- of goods by weight ---
printf 'Bolt No,Net weight kg,Article,Price EUR/kg,Composition\nU1,20.5,jersey,9.50,100%% wool\nU2,30,jersey,9.50,100%% wool\n' >weights.csv
run receive weights.csv --supplier "Weight Mill" --note N-8 --yes
lot=$(sed -n 's/^  \(W26-[0-9]*\.01\) .*/\1/p' out)
run settle $lot --bolt U1 --as returned --why "back"
run dispute --json
ok "a bolt by weight that went back is worth its kilograms: 20.5 x 9.50" json "[(x['state'], round(x['awaited'], 6)) for x in j if x['lot'] == '$lot'] == [('credit', 194.75)]"
printf 'Bolt No,Net weight kg,Article,Price EUR/m,Composition\nV1,20.5,jersey,9.50,100%% wool\nV2,30,jersey,9.50,100%% wool\n' >unknown.csv
run receive unknown.csv --supplier "Weight Mill" --note N-9 --yes
lot=$(sed -n 's/^  \(W26-[0-9]*\.01\) .*/\1/p' out)
run settle $lot --bolt V1 --as returned --why "back"
run dispute --json
ok "where its length is what is priced and not known, nobody says what it is worth" json "[(x['state'], x['awaited']) for x in j if x['lot'] == '$lot'] == [('credit', None)]"
