#!/bin/sh
# case --notice: a letter that can be posted and mailed, in the supplier's language, that asks for what is still open. Invented mills.
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need pdftotext pdfinfo pdffonts /usr/bin/python3
here=$(cd "$(dirname "$0")" && pwd)
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO="Ada Fell"

today() { export TENTERBOOK_CLOCK=$(date -u -d "$1T12:00:00Z" +%s); }
json() { is 0 && /usr/bin/python3 -c "import json,sys; j=json.load(open('out')); sys.exit(0 if ($1) else 1)"; }
in_text() { tr -s ' \n' '  ' <"$1" >flat.txt; grep -qF -- "$2" flat.txt; }
not_in_text() { tr -s ' \n' '  ' <"$1" >flat.txt; ! grep -qF -- "$2" flat.txt; }
notice() { rm -f n.pdf n.txt n.eml; run case W26-001.01 --notice --out n.pdf "$@"; }

today 2026-10-05
cat >list.csv <<'END'
Supplier,Delivery note,Order,Article,Colour,Bolt,Length yd,Composition,Price/yd,Currency
Mühle am Ältesten Wehr,N-1,4471,Plain 40,red,001,60,100% cotton,3.20,EUR
Mühle am Ältesten Wehr,N-1,4471,Plain 40,red,002,50,100% cotton,3.20,EUR
END
run new --code W --name "Westgate shed" --country GB
run set flame yes
run receive list.csv
run cut 001 --part warp
run burn W26-001.01.01 --saw smoke:black,residue_form:hard_bead --not odour:burning_paper --at-hand water --sample-mm 40
run cut 002
run burn W26-001.01.02 --saw smoke:black,residue_form:hard_bead --not odour:burning_paper --at-hand water --sample-mm 40

# --- what is missing is said, with what sets it
notice
ok "terms that are not set are said" has 'No terms are set for Mühle am Ältesten Wehr, so nobody knows by when this notice is due: tenterbook terms "Mühle am Ältesten Wehr"'
ok "an address that is missing is said, with the command that sets it" has 'The address of Mühle am Ältesten Wehr is not known: tenterbook address "Mühle am Ältesten Wehr" --street LINE'
ok "our own too" has "Our own address is not set: tenterbook address --ours --street LINE"
ok "a language that is missing too" has "No language is set for Mühle am Ältesten Wehr, so the notice is in English"
ok "without a sender's address there is no mail, and that is said" has "Our e-mail address is not set, so there is no mail: tenterbook address --ours --email ADDRESS"
ok "nor is one written" [ -f n.pdf -a -f n.txt -a ! -e n.eml ]
ok "what is said before stands before what is written" [ "$(grep -n '^No terms' out | cut -d: -f1)" -lt "$(grep -n '^Written' out | cut -d: -f1)" ]
notice --json
ok "programs find it" json "j['missing'] == {'sender': True, 'recipient': True, 'language': True, 'mail': True} and j['mail'] is None and j['language'] == 'en' and j['claim']['due'] is None"

run address --ours --name "Westgate Cloth Ltd" --street "12 Quay Road" --postcode "LE1 1AA" --place Leicester --country GB --email cloth@example.com --phone "+44 116 496 0001"
run address "Mühle am Ältesten Wehr" --street "Am Wehr 3" --postcode 08209 --place Auerbach --country DE --contact "Frau Düren" --email "qualitaet@example.org" --language de
run terms "Mühle am Ältesten Wehr" --country DE --open 14 --in "order 4471"
notice --answer-by 2026-10-20 --remedy credit
ok "by when it is due is said" has "This notice is due by Monday 2026-10-19, in 14 days (own term with Mühle am Ältesten Wehr (order 4471))."
ok "nothing is missing any more" [ "$(grep -c 'tenterbook address' out)" = 0 ]
ok "all three are written" has "Written: n.pdf, the same as text in n.txt, and as a mail that is not sent yet in n.eml."
ok "on one page with its fonts inside" sh -c 'pdfinfo n.pdf | grep -q "^Pages: *1$" && ! pdffonts n.pdf | tail -n +3 | grep -qw no$'

# --- the letter
pdftotext -layout n.pdf page.txt
for f in n.txt page.txt; do
	ok "$f: sender" in_text $f "12 Quay Road"
	ok "$f: a code behind a British place, the country in capitals across a border" in_text $f "Leicester LE1 1AA"
	ok "$f: recipient, and for whom" in_text $f "z. Hd. Frau Düren"
	ok "$f: a German place behind its code" in_text $f "08209 Auerbach"
	ok "$f: place and day as German writes them" in_text $f "Leicester, den 5. Oktober 2026"
	ok "$f: subject" in_text $f "Mängelanzeige: Ware entspricht nicht der Deklaration (Partie W26-001.01)"
	ok "$f: their note and our order" in_text $f "4471"
	ok "$f: as it was invoiced, and in metres beside it" in_text $f "110,00 yd = 100,58"
	ok "$f: what was declared, in their words" in_text $f "100% cotton"
	ok "$f: how sure it is" in_text $f "widerspricht der Deklaration: Es ist mindestens"
	ok "$f: a part by its name" in_text $f "Stück 001 (Kette), Probe W26-001.01.01, Brennprobe am 5. Oktober 2026 durch Ada Fell: schwarzer Rauch"
	ok "$f: what was looked for and not there" in_text $f "Gesucht und nicht festgestellt: Geruch nach verbranntem Papier."
	ok "$f: what the goods come to, with the decimal comma" in_text $f "3,20 EUR je yd ergeben 110,00 yd einen Betrag von 352,00 EUR"
	ok "$f: the remedy asked" in_text $f "Wir bitten um eine Gutschrift."
	ok "$f: by when" in_text $f "Bitte antworten Sie bis zum 20. Oktober 2026."
	ok "$f: rights are reserved" in_text $f "Wir behalten uns alle Rechte aus Vertrag und Gesetz vor."
	ok "$f: who signs" in_text $f "Mit freundlichen Grüßen"
done
ok "the country stands below where the letter crosses a border" grep -qx "DEUTSCHLAND" n.txt
ok "and so does ours" grep -qx "VEREINIGTES KÖNIGREICH" n.txt
LC_ALL=en_GB.UTF-8 LANGUAGE=fr "$t" case W26-001.01 --notice --out again.pdf --answer-by 2026-10-20 --remedy credit >out 2>err; code=$?
ok "the reader's locale changes nothing" cmp -s n.pdf again.pdf

# --- the mail
mkdir mail
/usr/bin/python3 "$here/read_mail.py" n.eml mail >out 2>err; code=$?
ok "a mail program reads the mail, and finds no fault in it" is 0
ok "it comes from us" has "From name: Westgate Cloth Ltd; address: cloth@example.com"
ok "it goes to the supplier, whose name is not ASCII" has "To name: Mühle am Ältesten Wehr; address: qualitaet@example.org"
ok "its subject is that of the letter" has "Subject: Mängelanzeige: Ware entspricht nicht der Deklaration (Partie W26-001.01)"
ok "its day is that of the letter, in no time zone" has "Moment: 2026-10-05T00:00:00"
ok "its language is that of the letter" has "Content-Language: de"
ok "it is not sent yet" has "X-Unsent: 1"
ok "the page is attached" has "Attached: n.pdf, application/pdf"
ok "byte for byte" cmp -s n.pdf mail/attached.pdf
ok "its text is the text" cmp -s n.txt mail/body.txt
run case W26-001.01 --notice --out "anzeige für wehr.pdf" --answer-by 2026-10-20
/usr/bin/python3 "$here/read_mail.py" "anzeige für wehr.eml" mail >out 2>err; code=$?
ok "a name of a file that is not ASCII is attached under it" has "Attached: anzeige für wehr.pdf, application/pdf"
run address "Mühle am Ältesten Wehr" --name 'Wehr "alt" \ Co., Ltd' --email ""
notice
/usr/bin/python3 "$here/read_mail.py" n.eml mail >out 2>err; code=$?
ok "without the supplier's address the mail has no recipient" has "To: None"
run address "Mühle am Ältesten Wehr" --email "qualitaet@example.org"
notice
/usr/bin/python3 "$here/read_mail.py" n.eml mail >out 2>err; code=$?
ok "a name with signs that mean something in a head is the same name" has 'To name: Wehr "alt" \ Co., Ltd; address: qualitaet@example.org'

# --- every language
for l in en de es fr it pl pt tr zh; do
	notice --language $l --answer-by 2026-10-20 --remedy return
	ok "$l: it is written on one page" sh -c 'pdfinfo n.pdf | grep -q "^Pages: *1$"'
	pdftotext n.pdf page.txt
	ok "$l: no letter is missing" sh -c "! grep -q '$(printf '\357\277\275')' page.txt"
	rm -rf mail && mkdir mail && /usr/bin/python3 "$here/read_mail.py" n.eml mail >out 2>err; code=$?
	ok "$l: a mail program reads it" has "Content-Language: $l"
	[ $l = en ] || ok "$l: no sentence is left in English" sh -c '! grep -qwE "burnt|Please|We|What|Dear|bolts?|swatch|black smoke|Looked|cotton," n.txt'
	ok "$l: no line of it is too long" /usr/bin/python3 -c "
import sys, unicodedata
for l in open('n.txt', encoding='utf-8'):
    w = sum(2 if unicodedata.east_asian_width(c) in 'WF' else 1 for c in l.rstrip())
    assert w <= 78 or ' ' not in l.strip(), l"
done
notice --language la
ok "a language papers are not written in is refused" refused "papers are not written in 'la'; the languages are en, de, es, fr, it, pl, pt, tr and zh (--language XX)"
run case W26-001.01 --remedy return
ok "a remedy belongs to a notice" [ "$code" = 2 ]
ok "and is named" grep -q "^tenterbook: --remedy is of a --notice" err
notice --remedy gift
ok "a remedy there is not is refused" [ "$code" != 0 -a ! -e n.pdf ]

notice --language fr --answer-by 2026-10-20
ok "a French label has a blank before its colon, and the values stand below one another" sh -c "grep -q '^Votre bon de livraison : N-1' n.txt && grep -q '^Notre commande :         4471' n.txt"
notice --language zh --answer-by 2026-10-20
ok "a Chinese label has the colon of its language, and no blank stands between sentences" sh -c "grep -q '^我方订单：  *4471' n.txt && ! grep -q '。 ' n.txt"

# --- only what has not happened yet
notice --language en
ok "records are asked for" in_text n.txt "Please send us your records of this lot"
ok "but no joint sample where no swatch is kept" not_in_text n.txt "joint sample"
ok "what was smelled and what was left say what they are" in_text n.txt "black smoke; residue: hard bead that fingers cannot crush. Looked for and not there: smell: burnt paper."
ok "the first letter follows none" not_in_text n.txt "This letter follows"
run dispute W26-001.01 --opened --words "not cotton" --amount 352 --currency EUR
for n in 1 2; do run cut 001 --kept "drawer 4"; done
run cut 001 --part weft --kept "drawer 4"
notice --language en
ok "nor where too few of one part are" not_in_text n.txt "joint sample"
run cut 001 --kept "drawer 4"
notice --language en
ok "with a swatch for each side a joint sample is asked for" in_text n.txt "Please take part in a joint sample"
run share W26-001.01 --seed abc
notice --language en
ok "what is claimed is said" in_text n.txt "We claim 352.00 EUR."
ok "a joint sample that was dealt is not asked for again" not_in_text n.txt "Please take part in a joint sample"
ok "but what is found in it" in_text n.txt "The joint sample was dealt on 5 October 2026 by the seed abc, 1 swatch for you. Please tell us what is found in it."
run dispute W26-001.01 --notified --by post --proof RR1
today 2026-10-08
run dispute W26-001.01 --answered --words "we regret"
notice --language en
ok "that the supplier was told already is said" has "The supplier was told on 2026-10-05 already."
ok "records are not asked for after an answer" not_in_text n.txt "Please send us your records"
ok "but how it is to be settled" in_text n.txt "Your answer of 8 October 2026 is with us. Please tell us how you propose to settle this."
ok "a second letter names the first" in_text n.txt "as you declared them. This letter follows our notice of 5 October 2026."
run dispute W26-001.01 --agreed credit --amount 300 --currency EUR --due 2026-10-15
notice --language en --remedy credit
ok "what was agreed is said" in_text n.txt "On 8 October 2026 it was agreed: a credit note, 300.00 EUR."
ok "and not claimed any more" not_in_text n.txt "We claim"
ok "it is asked to be carried out" in_text n.txt "Please carry out by 15 October 2026 what was agreed."
ok "and asked for no more" not_in_text n.txt "We ask for a credit note."
today 2026-10-20
notice --language en
ok "after it what is late is said" has "Late now: remedy awaited, due by 2026-10-15, 5 days ago (agreement)."
ok "after what was written" [ "$(grep -n '^Late' out | cut -d: -f1)" -gt "$(grep -n '^Written' out | cut -d: -f1)" ]

# --- a claim that is settled
run case W26-001.01 --again
ok "--again belongs to a notice" [ "$code" = 2 ]
run dispute W26-001.01 --recovered --amount 300 --currency EUR --words "credit note 9"
notice
ok "where all that was agreed has come in, a notice is refused, with the way out" refused "all that was agreed about lot W26-001.01 has come in; a notice now claims more (--again)"
ok "and none is written" [ ! -e n.pdf ]
run dispute W26-001.01 --closed --words "credit note 9"
notice
ok "so it is where the dispute was closed" refused "the dispute about lot W26-001.01 was closed on 2026-10-20; a notice now claims it anew (--again)"
notice --again --language de
ok "said again, it is written" [ -f n.pdf ]
ok "and follows the first" in_text n.txt "Dieses Schreiben folgt auf unsere Anzeige vom 5. Oktober 2026."

# --- goods in kilograms, which went back
cat >kilograms.csv <<'END'
Supplier,Delivery note,Order,Article,Colour,Bolt,Net kg,Composition,EUR/kg
Alder Mill,K-1,4472,Jersey 30,red,K1,21.25,100% cotton,8.40
Alder Mill,K-1,4472,Jersey 30,red,K2,20.50,100% cotton,8.40
END
today 2026-10-05
run receive kilograms.csv
run cut K1 --kept "drawer 4"
run burn W26-002.01.01 --saw smoke:black,residue_form:hard_bead --not odour:burning_paper --at-hand water --sample-mm 40
for n in 1 2 3; do run cut K2 --kept "drawer 4"; done
run case W26-002.01 --notice --language en --out k.pdf
ok "kilograms are said once" in_text k.txt "2 bolts, 41.75 kg, length not known"
ok "the share that was burnt is one of kilograms" in_text k.txt "Swatches of 1 of 2 bolts, 21.25 of 41.75 kg, were burnt or tested: K1 (21.25 kg, length not known)."
ok "so is the value" in_text k.txt "At your price of 8.40 EUR per kg, 41.75 kg come to 350.70 EUR."
ok "a joint sample can be dealt" in_text k.txt "Please take part in a joint sample"
run settle W26-002.01 --as returned --why "sent back"
run case W26-002.01 --notice --language en --out k.pdf --replace
ok "of goods that went back none is asked for" sh -c 'tr -s " \n" "  " <k.txt | grep -qF "We have sent the goods back to you." && ! grep -q "joint" k.txt'

# --- a notice that comes too late
today 2026-10-05
sed 's/N-1/N-2/; s/,00/,20/' list.csv >second.csv
run receive second.csv
run cut 201
run burn W26-003.01.01 --saw smoke:black,residue_form:hard_bead --not odour:burning_paper --at-hand water --sample-mm 40
today 2026-10-21
run case W26-003.01 --notice --out late.pdf
ok "a notice that is late is said to be, before it is written" has "This notice is late: it was due by Monday 2026-10-19, 2 days ago (own term with Mühle am Ältesten Wehr (order 4471))."
ok "and after it" has "Late now: tell the supplier, due by 2026-10-19, 2 days ago"

# --- a laboratory, and a doubt
run case W26-003.01 --notice --language fr --out late.pdf --replace --ask "Merci de rappeler."
ok "what a person asks stands in their own words, and nothing else is asked" in_text late.txt "Merci de rappeler."
ok "nor is a joint sample" not_in_text late.txt "échantillonnage contradictoire"

# --- a length as invoiced, with the decimal sign of the letter
cat >half.csv <<'END'
Supplier,Delivery note,Order,Article,Colour,Bolt,Length yd,Composition
Half Mill,N-9,4472,Plain 40,red,909,60.5,100% cotton
END
run receive half.csv
lot=$(sed -n 's/.*\(W26-[0-9]*\.01\).*/\1/p' out | head -n 1)
run cut 909
run burn $lot.01 --saw smoke:black,residue_form:hard_bead --at-hand water --sample-mm 40
run case $lot --notice --language de --out half.pdf
ok "a length as invoiced has the decimal sign of the letter" in_text half.txt "909 (60,5 yd = 55,32"
run case $lot --notice --language en --out whole.pdf
ok "and in English a point" in_text whole.txt "909 (60.5 yd = 55.32"
run amend ${lot%.01} --unit m --yes --why "the list is in metres"
run case $lot --notice --language en --out metres.pdf
ok "where they were metres after all, no yards are left" in_text metres.txt "909 (60.50"
ok "in the bolts nor in the sum" not_in_text metres.txt " yd"
sed -e 's/Length yd/Length m/' -e 's/N-9,4472/N-10,4473/' -e 's/909/910/' half.csv >turned.csv
run receive turned.csv
lot=$(sed -n 's/.*\(W26-[0-9]*\.01\).*/\1/p' out | head -n 1)
run amend ${lot%.01} --unit yd --yes --why "the list is in yards"
run cut 910
run burn $lot.01 --saw smoke:black,residue_form:hard_bead --at-hand water --sample-mm 40
run case $lot --notice --language de --out turned.pdf
ok "and where they were yards, they stand as yards" in_text turned.txt "910 (60,5 yd = 55,32"
ok "in the sum too" in_text turned.txt "60,50 yd = 55,32"
run case $lot --language de --out turned-case.pdf --replace
ok "the case says it in words" sh -c 'pdftotext turned-case.pdf - | tr "\n" " " | grep -q "Einheit der Längen, .Yard., war .wie die Liste gelesen wurde."'
