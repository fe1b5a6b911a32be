#!/bin/sh
# claims: terms, the clock in look and lots, use, dispute, share, the notice. An invented mill.
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need pdftotext pdfinfo pdffonts /usr/bin/python3
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=Ada

today() { export TENTERBOOK_CLOCK=$(date -u -d "$1T12:00:00Z" +%s); }
hasnt() { is 0 && ! grep -qF -- "$1" out; }
misused() { is 2 && [ ! -s out ] && [ "$(head -1 err)" = "tenterbook: $1" ]; }
json() { is 0 && /usr/bin/python3 -c "import json,sys; j=json.load(open('out')); sys.exit(0 if ($1) else 1)"; }

today 2026-10-05 # a Monday
cat >list.csv <<'END'
Supplier,Delivery note,Article,Roll,Length m,Composition,Price,Currency
Υφαντουργία Αιγαίου,N-1,Plain 40,001,50,100% cotton,3.20,EUR
Υφαντουργία Αιγαίου,N-1,Plain 40,002,48,100% cotton,3.20,EUR
Υφαντουργία Αιγαίου,N-1,Plain 40,003,52,100% cotton,3.20,EUR
END
run new --code W --name "Westgate shed" --country GB
run receive list.csv
ok "the receipt reads received unexamined" has "arrived 2026-10-05: 1 lot, 3 bolts, 150.00 m, received unexamined"
sed 's/N-1/N-2/; s/,00/,10/' list.csv >second.csv
run receive second.csv --remark "two bolts wet" --json
ok "what was seen at the door stands after it" json "j['files'][0]['deliveries'][0]['remark'] == 'received unexamined; two bolts wet'"

run look W26-001.01
ok "a lot without terms says so" has "Claim: no terms are set for Υφαντουργία Αιγαίου; tenterbook terms shows what there is"
run terms --offer
ok "every row names its source" has "[seen; ticaretkanunu.net]"
ok "a row nobody looked up is marked" has "[memory; own recollection of the usual reading]"
ok "it is no advice" has "Information, not legal advice: the contract, the official text and local counsel decide."
run terms "Υφαντουργία Αιγαίου" --country IT --law it_1495 --law cisg --open 5 --working --in "order 4471"
ok "terms are set" has "Υφαντουργία Αιγαίου (IT): own term 5 working days from arrival (order 4471); laws and customs: it_1495 cisg"
run terms "Υφαντουργία Αιγαίου" --hidden 3
ok "what nothing new is said of stays" has "own term 5 working days from arrival, 3 working days from discovery if hidden (order 4471)"
run terms --country TR --law tr_23
run terms --all --open 20
run terms --json
ok "all terms are listed" json "[(x['supplier'], x['country'], x['open_days']) for x in j] == [('Υφαντουργία Αιγαίου','IT',5), (None,'TR',None), (None,'',20)]"
run terms Nobody --open 3
ok "an unknown supplier is refused" refused "no supplier is called 'Nobody'"
run terms --country TR --law no_law
ok "an unknown law is refused" is 1
run terms --open 3
ok "for whom?" misused "name a supplier, --country XX or --all, and what to set for them"
run terms --all --open -3
ok "days below none are refused" is 1
run look W26-001.01
ok "the earliest day counts, working days pass over the weekend" has "Claim: notice is due by Monday 2026-10-12, in 7 days"
ok "and the row that says so is named" has "a fault that an examination shows: by Monday 2026-10-12 (own term with Υφαντουργία Αιγαίου (order 4471))"
ok "words without days are shown" has "UN sales convention (CISG), art. 38, 39: Examine within as short a period"
ok "the last day of all" has "last day of all: 2027-10-05, to sue (Italy, Civil Code art. 1495)"
run look W26-001.01 --json
ok "as JSON" json "j['claim']['due']['day'] == '2026-10-12' and j['claim']['due']['days_left'] == 7 and j['claim']['due']['status'] == 'own' and j['claim']['from_discovery'] is None"
run lots
ok "no column of claims while none is open" hasnt "CLAIM"

run use 001 --lot W26-001.01 --metres 12
ok "cutting a lot nobody released is recorded, with a word" has "Nobody released this lot yet."
run use 001 --lot W26-001.01 --metres 60
ok "no more than the bolt has" refused "60 m cannot be cut from bolt 001, which has 50.00 m"
run use 001 --lot W26-001.01 --metres 38.5
ok "nor by and by" refused "38.5 m cannot be cut from bolt 001, which had 50.00 m, of which 12.00 m were cut off before; the last record of it can be taken back (--back)"
run use 001 --lot W26-001.01 --back --why "it was bolt 101"
ok "a mistake is taken back" has "Bolt 001 of lot W26-001.01 is not cut into: the record is taken back."
run use 001 --lot W26-001.01 --back
ok "once" refused "bolt 001 was not cut into"

today 2026-10-06
run case W26-001.01 --notice
ok "a notice without particulars is refused" refused "lot W26-001.01 was neither burnt, tested nor analysed: a notice without particulars may count as none"
ok "and nothing is written" [ ! -e notice-W26-001.01.pdf ]
run set flame yes
for b in 001 002 003; do run cut $b --lot W26-001.01 --kept "box 4"; done
run burn W26-001.01.01 --saw residue_form:hard_bead,smoke:black,in_flame:melts --not odour:burning_paper
ok "it is held" has "The lot is now held"
run use 002 --lot W26-001.01
ok "a held lot is not cut" refused "lot W26-001.01: it is held, and the right to claim usually ends with the first cut; leave it whole, or say why it is cut anyway (--anyway --why TEXT)"
run use 002 --lot W26-001.01 --anyway
ok "not without a reason" refused "lot W26-001.01: it is held; cutting it all the same needs a reason (--why TEXT)"
run lots
ok "an open claim is listed with its day" has "tell the supplier 2026-10-09"
run dispute
ok "and among the claims" has "W26-001.01  Υφαντουργία Αιγαίου  does not conform  tell the supplier  2026-10-09  in 3 days"
run dispute W26-001.01 --notified
ok "nothing to tell before it is opened" refused "no dispute about lot W26-001.01 is open; open one, and say what is claimed (--opened --words TEXT)"
run dispute W26-001.01 --opened
ok "a claim is put in words" refused "lot W26-001.01: say in words what is claimed, what was answered, or how it ended"
run dispute W26-001.01 --opened --words "not cotton" --amount 480
ok "an amount has its money" refused "lot W26-001.01: an amount needs its money, three letters like EUR"
run dispute W26-001.01 --opened --closed
ok "one step at a time" misused "one step at a time: --opened or --closed"
run dispute W26-001.01 --opened --words "not cotton" --amount 480 --currency EUR
ok "a dispute is opened" has "2026-10-06 opened, 480.00 EUR (Ada): not cotton"
run dispute W26-001.01 --opened --words again
ok "one at a time" refused "lot W26-001.01: a dispute is open since 2026-10-06"

run case W26-001.01 --notice --answer-by 2026-10-20
ok "what the packing list does not say of the lot is not mentioned" grep -qx "Lot:  *W26-001.01: article Plain 40" notice-W26-001.01.txt
ok "the notice is written" has "Written: notice-W26-001.01.pdf, and the same as text in notice-W26-001.01.txt."
pdftotext -layout notice-W26-001.01.pdf pdf.txt
cp pdf.txt out
ok "the page names the supplier" grep -q "Υφαντουργία Αιγαίου" pdf.txt
ok "the words as declared" grep -q "100% cotton" pdf.txt
ok "how many of how many, and which" grep -q "Swatches of 1 of 3 bolts, 50.00 of 150.00 m, were burnt or tested: 001 (50.00 m)." pdf.txt
ok "what was seen" grep -q "hard bead" pdf.txt
ok "and when an answer is asked" grep -q "Please answer by 20 October 2026." pdf.txt
ok "the text says the same" grep -q "Swatches of 1 of 3 bolts, 50.00 of 150.00 m, were burnt or tested: 001" notice-W26-001.01.txt
ok "on one page with its fonts inside" sh -c 'pdfinfo notice-W26-001.01.pdf | grep -q "^Pages: *1$" && ! pdffonts notice-W26-001.01.pdf | tail -n +3 | grep -qw no$'
run case W26-001.01 --notice --answer-by 2026-10-20 --out again.pdf
ok "the same notice has the same bytes" cmp -s notice-W26-001.01.pdf again.pdf
run case W26-001.01 --notice --ask "$(head -c 1300 /dev/zero | tr '\0' x)"
ok "too much asked is refused" refused "what is asked takes 1300 bytes; a notice has room for 1200"
run case W26-001.01 --on 2026-10-06
ok "a day belongs to a notice" misused "--on is the day of a --notice"

run dispute W26-001.01 --notified --by post --proof RR123 --document notice-W26-001.01.pdf
ok "the supplier is told, with proof and an answer due" has "2026-10-06 supplier told, by post, proof RR123, due 2026-10-20 (Ada)"
ok "the very document is kept by its digest" has "document notice-W26-001.01.pdf, SHA-256 $(sha256sum notice-W26-001.01.pdf | cut -d' ' -f1)"
today 2026-10-20
run dispute --overdue
ok "on the last day it is open and not overdue" has "1 claim is open, and it is not overdue."
today 2026-10-21
run dispute --overdue --json
ok "a day later it is" json "[(x['lot'], x['state'], x['days_left'], x['overdue']) for x in j] == [('W26-001.01','answer',-1,True)]"
run use 002 --lot W26-001.01 --anyway --why "rush order"
ok "cut all the same, with its reason" has "The lot was cut although that may end a claim; the reason is kept."

run share W26-001.01 --seed abc --laboratory "Ring Street Laboratory" --rule "ISO 1833-11"
ok "a joint sample is dealt" has "Joint sample 1: 3 retained swatches dealt at 2026-10-21T12:00:00Z by Ada, seed abc"
# by hand: SHA-256 of "abc/whole-supplier/1" over three places, then "abc/whole-laboratory/1" over the two left
/usr/bin/python3 - >want <<'END'
import hashlib
def draw(label, n):
    i = 1
    while True:
        v = int.from_bytes(hashlib.sha256(f"abc/{label}/{i}".encode()).digest()[:8], "big")
        if v <= 2**64 - 1 - (2**64 % n): return v % n
        i += 1
tags = ["W26-001.01.01", "W26-001.01.02", "W26-001.01.03"]
first = tags.pop(draw("whole-supplier", 3))
k = draw("whole-laboratory", 2)  # more than half of two is not cut: one of two is drawn as it stands
second = tags.pop(k)
print("  to the supplier: " + first)
print("  Ring Street Laboratory: " + second)
print("  own shelf: " + tags[0])
END
ok "as anybody can deal it again" sh -c 'sed -n 2,4p out | cmp -s - want'
run share W26-001.01
ok "a swatch is dealt once" refused "lot W26-001.01: there are 0 retained swatches to deal, and it takes three of one part of the cloth; cut more and say where they are kept (tenterbook cut)"
run share W26-001.01 --show --json
ok "it can be looked at again" json "len(j['joint_samples']) == 1 and sorted(p['holder'] for p in j['joint_samples'][0]['pieces']) == ['laboratory','own','supplier']"

run share W26-001.01 --show
line=$(sed -n 's/^The anchor of the book, for both sides to keep (prove --since): //p' out)
run prove --since "$line"
ok "both sides can keep the anchor of the book in which it stands" has "has the digest that was noted: nothing up to it was cut off or rewritten. 0 rows came after it."

run dispute W26-001.01 --answered --words "we regret" --on 2026-10-21
run dispute W26-001.01 --agreed haircut
ok "an unknown remedy is refused" refused "'haircut' is not a remedy; agreed are credit, return, relabel or replacement"
run dispute W26-001.01 --agreed credit --amount 300 --currency EUR --due 2026-10-30
ok "a remedy is agreed" has "Lot W26-001.01, Υφαντουργία Αιγαίου: remedy awaited, due 2026-10-30, in 9 days"
run settle W26-001.01 --as released --why "credit agreed"
ok "whoever lets it go is told that the dispute is open" has "Note: the dispute about it, opened on 2026-10-06, is still open (tenterbook dispute W26-001.01)."
run dispute W26-001.01 --closed --words "credit note 77" --on 2026-11-30
ok "nothing is recorded before it happened" refused "2026-11-30 is later than today, 2026-10-21 (--on DAY)"
run dispute W26-001.01 --closed --words "credit note 77"
ok "closed, and kept by the longest rule, which says that nobody looked it up" has "The file is kept until 2032-10-21 (United Kingdom, Limitation Act 1980 s. 5; from memory, nobody looked it up)."
run dispute
ok "nothing is open any more" has "No claims are open."
run prove
ok "the book is proved" has "Everything fits."
run case W26-001.01
run prove --case case-W26-001.01.pdf
ok "so is its case" is 0
pdftotext -layout case-W26-001.01.pdf out
ok "which says where the dealt swatches went" grep -q "dealt to the supplier" out
ok "and what was cut into" grep -q "bolt cut into" out
ok "and how the dispute ended" grep -q "closed .*\"credit note 77\"" out
