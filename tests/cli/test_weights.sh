#!/bin/sh
# weights: knitted goods are listed by length and weight and invoiced by the kilogram. An invented mill.
# 20.5 + 19.5 + 10 kg are 50 kg, at 8.00 EUR 400.00; K3 alone 10 kg, 80.00; K1 and K2 320.00: by hand.
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need /usr/bin/python3 pdftotext
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=Ada LC_ALL=C.UTF-8

today() { export TENTERBOOK_CLOCK=$(date -u -d "$1T12:00:00Z" +%s); }
asks() { [ "$code" = 1 ] && grep -qF -- "$1" err; }
json() { is 0 && /usr/bin/python3 -c "import json,sys; j=json.load(open('out')); sys.exit(0 if ($1) else 1)"; }
paper() { tr -s ' \n' '  ' <"$1" | grep -qF -- "$2"; }
melts=approach:shrinks_away,smoke:black,residue_form:hard_bead,odour:sweet

today 2026-10-05
run new --code W --name "Westgate shed" --country DE
run set flame yes
run set market eu
run terms --all --open 5 --hidden 30
printf 'Bolt No;Weight (kg);Length (m);Article;Price per kg;Currency;Composition\nK1;20,5;80;jersey;8,00;EUR;100%% cotton\nK2;19,5;78;jersey;8,00;EUR;100%% cotton\nK3;10;40;jersey;8,00;EUR;100%% cotton\nTotal;50,0;198;;;;\n' >kg.csv
run receive kg.csv --supplier "Hill Mill" --note N-1 --dry-run
ok "both columns are shown as they were read" sh -c 'tr -s " " <out | grep -qF "B Weight (kg) net weight kg" && tr -s " " <out | grep -qF "C Length (m) length m"'
sed 's/^Total;50,0/Total;51,0/' kg.csv >off.csv
run receive off.csv --supplier "Hill Mill" --note N-1 --dry-run
ok "the total of the kilograms is checked as that of the metres" has "line 5: the total says 51.00 kg, the 3 bolts above it come to 50.00 kg: a difference of +1.00 kg"
sed 's/^K2;19,5/K2;/' kg.csv >some.csv
run receive some.csv --supplier "Hill Mill" --note N-1 --dry-run
ok "a bolt without a weight is named" has "1 bolt has no weight (K2): what its lot is worth by the kilogram is not known"
sed 's/Weight (kg)/Gross kg/' kg.csv >gross.csv
run receive gross.csv --supplier "Hill Mill" --note N-1 --yes
ok "gross weights alone are asked about" asks "the only weight is gross ('Gross kg')"
run receive kg.csv --supplier "Hill Mill" --note N-1 --yes
ok "the note at the door has both" has "3 bolts, 198.00 m, 50.00 kg"
ok "and says what each is for" has "sums and samples go by the length, the value by the kilograms"
run look W26-001.01
ok "the value is that of the kilograms, with metres beside" has "  3 bolts, 198.00 m, 50.00 kg; invoiced: 50.00 kg at 8.00 EUR a kg, 400.00 EUR in all"
run look W26-001.01 --json
ok "for programs each bolt has both" json "[(b['metres'], b['weight_kg'], b['kg']) for b in j['bolt_list']] == [(80, 20.5, None), (78, 19.5, None), (40, 10, None)] and (j['metres'], j['weight_kg'], j['bolts_weighed'], j['kg']) == (198, 50, 3, None)"

# --- a burn contradicts, a dispute is opened, one bolt goes back ---
run cut K1
run burn W26-001.01.01 --saw $melts
run cut K2
TENTERBOOK_WHO=Ben run burn W26-001.01.02 --saw $melts
run dispute W26-001.01 --opened --words "not cotton" --amount 900 --currency EUR
ok "an amount far above the value by weight is asked about" asks "900.00 EUR, but all of lot W26-001.01 was invoiced at 400.00"
run dispute W26-001.01 --opened --words "not cotton" --amount 400 --currency EUR
run settle W26-001.01 --bolt K3 --as returned --why "goes back"
run dispute --json
ok "the bolt that went back is worth its kilograms" json "[(x['awaited'], x['invoiced_returned'], x['metres_claimed']) for x in j] == [(80.0, {'amount': 80.0, 'currency': 'EUR'}, 198.0)]"
run dispute W26-001.01
ok "the lot says what went back" has "Went back: invoiced at 80.00 EUR"
run money --json
ok "which is what is awaited" json "[(r['claimed'], r['awaited']) for r in j['rows']] == [(400, 80)]"
run case W26-001.01 --out c.pdf
pdftotext c.pdf c.txt
ok "page one reckons in the unit of the invoice" paper c.txt "400.00 EUR = 50.00 kg at 8.00 EUR a kg"
ok "with metres beside" paper c.txt "3 bolts, 198.0 m, 50.00 kg as declared"
run prove --case c.pdf
ok "the case proves" is 0
run case W26-001.01 --notice --out n.pdf
pdftotext n.pdf n.txt
ok "the letter has metres and kilograms" paper n.txt "3 bolts, 198.00 m, 50.00 kg"
ok "of each bolt that was looked at too" paper n.txt "K1 (80.00 m, 20.50 kg), K2 (78.00 m, 19.50 kg)"
ok "and what they come to" paper n.txt "At your price of 8.00 EUR per kg, 50.00 kg come to 400.00 EUR."
run case W26-001.01 --notice --language de --out nd.pdf
pdftotext nd.pdf nd.txt
ok "in German too" paper nd.txt "3 Stück, 198,00 m, 50,00 kg"
run sheet --month 2026-10 --out s.xlsx
ok "the sheet multiplies, and what is held is worth its kilograms" /usr/bin/python3 -c 'import csv; r = next(csv.DictReader(open("s-lots.csv"))); assert [float(r[k]) for k in ("length_m", "quantity", "price", "value", "held_m", "held_value", "net_kg")] == [198, 50, 8, 400, 158, 320, 50], r'
ok "no bolt counts as weighed alone" /usr/bin/python3 -c 'import csv; assert [(r["length_m"], r["weight_kg"], r["net_kg"], r["length_kind"]) for r in csv.DictReader(open("s-bolts.csv"))] == [("80", "", "20.5", ""), ("78", "", "19.5", ""), ("40", "", "10", "")]'
run sheet --month 2026-10 --json --out s2.xlsx
ok "nor does the month" json "j['kg_without_length'] == 0 and j['metres'] == 198"
run prove
ok "the book proves" is 0

# --- of a bolt that was cut the rest goes back: 10 of 40 m are gone, 7.5 of 10 kg are left, 60.00 EUR ---
sed "s/^K/P/" kg.csv >rest.csv
run receive rest.csv --supplier "Vale Knits" --note N-9 --yes
run use P3 --lot W26-002.01 --metres 10
run settle W26-002.01 --bolt P3 --as returned --why "goes back"
run dispute --json
ok "what was cut off a bolt does not go back with it" json "[(x['awaited'], x['metres_cut_off_returned']) for x in j if x['lot'] == 'W26-002.01'] == [(60.0, 10.0)]"
run dispute W26-002.01
ok "and what is left is said to be reckoned" has "  without 10.00 m that were cut off here before; what is left is reckoned from the metres"
run settle W26-002.01 --as returned --why "all of it"
run dispute --json
ok "so it is where the whole lot went back: 47.5 kg" json "[x['awaited'] for x in j if x['lot'] == 'W26-002.01'] == [380.0]"

# --- some without a weight ---
today 2026-10-06
sed 's/^K/L/; s/^L2;19,5/L2;/' kg.csv >some.csv
run receive some.csv --supplier "Hill Mill" --note N-2 --yes
run look W26-003.01
ok "where a weight is missing no value is made up" has "  3 bolts, 198.00 m, 30.50 kg (bolts that were weighed: 2); invoiced at 8.00 EUR a kg"
run void L3 --why "typed twice"
run look W26-003.01
ok "a void bolt weighs nothing" has "  2 bolts, 158.00 m, 20.50 kg (bolts that were weighed: 1); invoiced at 8.00 EUR a kg"
run settle W26-003.01 --bolt L1 --as returned --why "not cotton"
run settle W26-003.01 --bolt L2 --as returned --why "not cotton"
run dispute --json
ok "nor of bolts that went back" json "[x['awaited'] for x in j if x['lot'] == 'W26-003.01'] == [None]"
