#!/bin/sh
# What the data attached to a case say, word by word: nothing of other suppliers and lots, of who was logged in, of the share of
# false lots at the site, of a label of our own; and whatever of that the book keeps is proved there.
set -u
. "$(dirname "$0")/../need.sh"
need pdfdetach pdftotext sqlite3 /usr/bin/python3
. "$(dirname "$0")/moments.sh"
quiet() { at "$@" >log 2>&1 || { echo "not ok - $*"; cat log; }; }

# Five suppliers, each with a note, an article and bolts of its own; the first is the one that gets the case.
quiet 1792900000 new --code M --name "Mill Lane shed" --country GB
quiet 1792900001 set flame yes
quiet 1792900002 set base_rate 0.13713
n=0
for supplier in "Ohm Weavers" "Brenner Tuche" "Calloway & Sons" "Duarte Tecidos" "Egede Vaev"; do
	n=$((n + 1))
	printf 'Bolt No,Length m,Article,Composition\nQ%s1,50,article-q%s,100%% Seide\nQ%s2,48,article-q%s,100%% Seide\nR%s1,60,drill-r%s,100%% cotton\n' $n $n $n $n $n $n >list$n.csv
	quiet 179290001$n receive list$n.csv --supplier "$supplier" --note "NOTE-77$n" --on 2026-10-05
done
# one burn of each, recorded together: a journal row of five lots
for n in 1 2 3 4 5; do quiet 179291000$n cut Q${n}1 --lot M26-00$n.01; done
{
	echo 'lot,bolt,saw,not'
	for n in 1 2 3 4 5; do echo "M26-00$n.01,Q${n}1,\"in_flame:melts,residue_form:hard_bead,smoke:black\",odour:burning_hair"; done
} >"brenner tuche.csv"
quiet 1792910100 burn --from "brenner tuche.csv"
TENTERBOOK_WHO="Jo Marsh" quiet 1792910150 cut Q22 --lot M26-002.01
# somebody whose first records were of others, and of whom the case tells
TENTERBOOK_WHO="Zeno Ruud" quiet 1792910160 address "Calloway & Sons" --street "Quay 3" --postcode 1234 --place Holm --country DK
TENTERBOOK_WHO="Zeno Ruud" quiet 1792910170 cut Q42 --lot M26-004.01
TENTERBOOK_WHO="Zeno Ruud" quiet 1792910180 cut Q12 --lot M26-001.01
at 1792910200 case M26-001.01 --out before.pdf >out 2>err; say $? "a case is made while it is disputed" "$(cat out err)"
quiet 1792910300 settle M26-001.01 --as relabelled --new "97% polyester 3% elastane" --goods-of "Zanker Retail" --why "as it burns"
quiet 1792910500 burn M26-001.01.02 --saw in_flame:melts,residue_form:hard_bead,smoke:black,approach:shrinks_away --not odour:burning_hair
quiet 1792910600 judge --all
at 1792910700 case M26-001.01 --out after.pdf >out 2>err; say $? "and after it was relabelled and burnt again" "$(cat out err)"
before=$(sqlite3 book.db "SELECT MAX(v.entry) FROM verdict v JOIN lot l ON l.id = v.lot WHERE l.ref = 'M26-001.01' AND v.entry < (SELECT entry FROM standing WHERE standing = 'relabelled')")
at 1792910700 judge M26-001.01 --as-of "$before" >out 2>err
grep -q 'this site says of its own (base_rate) that 14 in 100 lots are not as declared' out; say $? "the book tells the share that a verdict was told with, as of its row" "$(cat out err)"
at 1792910700 look M26-001.01 >out 2>err
grep -q 'label was "100% Seide", is "97% polyester 3% elastane", goods of Zanker Retail' out && grep -q "logged in as $(id -un)" out
say $? "and the label, whose goods they are, and who was logged in" "$(cat out err)"
for f in before after; do
	pdfdetach -save 1 -o $f.json $f.pdf && /usr/bin/python3 "$here/gives_away.py" $f.json 0.13713 >found 2>&1
	say $? "the data of the case ($f) hold nothing that is not for the other side" "$(cat found)"
	at 1792910800 prove --case $f.pdf >out 2>err && grep -q 'Everything that was checked agrees' out && grep -q '^the pages are those that the data give$' out
	say $? "the case ($f) agrees with itself" "$(cat out err)"
	at 1792910800 prove --case $f.pdf --against book.db >out 2>err && grep -q 'Everything that was checked agrees' out
	say $? "the case ($f) agrees with the book" "$(cat out err)"
done

# what stands beside, changed by other means
changed() { # WHAT STATEMENT SENTENCE
	cp book.db whole.db && sqlite3 book.db "$2" || { echo "not ok - $1 (not changed)"; return; }
	at 1792910900 prove >out 2>err; rc=$?
	[ $rc != 0 ] && grep -q "$3" err; say $? "$1 is found" "$rc $(cat out err)"
	at 1792910900 prove --case after.pdf --against book.db >out 2>err; rc=$?
	[ $rc != 0 ] && grep -q "$3" err; say $? "$1 is found where a case is held against the book" "$rc $(cat out err)"
	at 1792910900 case M26-001.01 --out none.pdf >out 2>err; rc=$?
	[ $rc != 0 ] && [ ! -e none.pdf ]; say $? "$1 ends in no case" "$rc $(cat out err)"
	mv whole.db book.db
}
beside='what stands beside it is not what was recorded'
changed "another login" "UPDATE journal SET aside = replace(aside, '\"login\":\"$(id -un)\"', '\"login\":\"mallory\"') WHERE number = $before" "$beside"
changed "another share of false lots" "UPDATE journal SET aside = replace(aside, '0.13713', '0.03713') WHERE number = $before" "$beside"
changed "a row without what stands beside it" "UPDATE journal SET aside = '' WHERE number = 2" "$beside"
changed "another label" "UPDATE standing_label SET new_words = '100% polyester'" 'a row of table standing_label is not what was recorded'
changed "another owner of the goods" "UPDATE standing_label SET goods_of = 'own stock'" 'a row of table standing_label is not what was recorded'
changed "other words of ours" "UPDATE declaration SET text = '100% polyester' WHERE origin = 'relabel'" 'a row of table declaration is not what was recorded'

# booked under another supplier by mistake, whose name two of its spellings and an address had told before
rm -f book.db book.db.key
quiet 1793000000 new --code M --name "Mill Lane shed" --country GB
quiet 1793000001 set flame yes
printf 'Bolt No,Length m,Article,Composition\nQ31,50,article-q3,100%% Seide\n' >third.csv
TENTERBOOK_WHO="Zeno Ruud" quiet 1793000001 receive third.csv --supplier "Brenner Tuche" --note NOTE-773 --on 2026-10-05
TENTERBOOK_WHO="Zeno Ruud" quiet 1793000002 address "Brenner Tuche" --street "Quay 3" --postcode 1234 --place Holm --country DK
printf 'Bolt No,Length m,Article,Composition\nQ11,50,article-q1,100%% Seide\n' >mine.csv
printf 'Bolt No,Length m,Article,Composition\nQ21,50,article-q2,100%% Seide\n' >other.csv
quiet 1793000003 receive other.csv --supplier "Brenner Tuche GmbH" --note NOTE-772 --on 2026-10-05 --another-supplier
quiet 1793000004 supplier "Brenner Tuche GmbH" --same-as "Brenner Tuche" --why "one house"
quiet 1793000005 receive mine.csv --supplier "Brenner Tuche GmbH" --note NOTE-771 --on 2026-10-05
quiet 1793000006 cut Q11
quiet 1793000007 burn M26-003.01.01 --saw in_flame:melts,residue_form:hard_bead,smoke:black --not odour:burning_hair
quiet 1793000008 amend M26-003 --supplier "Calloway & Sons" --another-supplier --why "typed wrongly" --yes
quiet 1793000009 amend M26-003 --supplier "Ohm Weavers" --another-supplier --why "typed wrongly again" --yes
quiet 1793000010 amend M26-003 --on 2026-10-06 --why "came a day later" --yes
at 1793000011 case M26-003.01 --out renamed.pdf >out 2>err; say $? "a case of a delivery that was booked under others first is made" "$(cat out err)"
pdfdetach -save 1 -o renamed.json renamed.pdf && ! grep -qiE 'brenner|calloway' renamed.json && grep -q 'Ohm Weavers' renamed.json
say $? "its data name the supplier and no other" "$(grep -oiE '.{60}(brenner|calloway).{20}' renamed.json)"
pdftotext renamed.pdf renamed.txt && ! grep -qiE 'brenner|calloway' renamed.txt && grep -q 'Ohm Weavers' renamed.txt && grep -q 'day of arrival' renamed.txt
say $? "nor do its pages, which tell the other amendment" "$(grep -iE 'brenner|calloway|amended' renamed.txt)"
at 1793000012 prove --case renamed.pdf >out 2>err && grep -q 'Everything that was checked agrees' out && grep -q '^the pages are those that the data give$' out
say $? "it agrees with itself" "$(cat out err)"
grep -q 'of them, of another supplier under whom the delivery was booked by mistake, are there by their digests alone' out
say $? "and says that this is kept back" "$(cat out)"
at 1793000012 prove --case renamed.pdf --against book.db >out 2>err && grep -q 'Everything that was checked agrees' out
say $? "it agrees with the book" "$(cat out err)"
at 1793000013 case M26-001.01 --out others.pdf >out 2>err && pdfdetach -save 1 -o others.json others.pdf && ! grep -qiE 'ohm|calloway' others.json
say $? "the one it was first booked under is not told of it" "$(cat out err)"
