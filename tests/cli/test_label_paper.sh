#!/bin/sh
# The label itself (label --out) and the labels of bolts (tags --bolts --standing --roll). Invented trade.
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need pdfinfo pdftotext pdftoppm zbarimg /usr/bin/python3
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_CLOCK=1795694400 # 2026-11-26 12:00 UTC, whatever day it is
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=Boss LC_ALL=C.UTF-8
misused() { is 2 && [ "$(head -1 err)" = "tenterbook: $1" ]; }
# What stands on a page, its lines joined.
stands() { pdftotext -f "$2" -l "$2" "$1" - | tr -s '\n\f ' ' ' | sed 's/ $//'; }
pages() { pdfinfo "$1" | sed -n "s/^$2: *//p"; }

run new --code W
run set flame yes
{
	echo "supplier,delivery note,date,article,colour,bolt no,length m,composition,origin"
	for i in 1 2; do echo "Alder Mill,N-1,2026-11-20,Q1,navy,A$i,$((40 + i)),65% polyester 35% cotton,Deutschland"; done
	for i in 3 4; do echo "Alder Mill,N-1,2026-11-20,Q2,navy,A$i,$((40 + i)),100% silk,Italy"; done
	echo "Alder Mill,N-1,2026-11-20,Q3,navy,A5,45,100% cotton,Italy"
	echo "Alder Mill,N-1,2026-11-20,Q4,navy,A6,46,60% cotton 40% polyester,Italy"
} >list.csv
run receive list.csv --on 2026-11-20
ok "the list is received" is 0

# --- goods that wait ---
run label W26-001.01 --market eu
ok "what the law says is told of any lot" has "European Union (eu): the words may stand"
ok "with how it stands" has "Standing: waiting"
ok "and what is concluded of it" has "Conclusion: open; nothing was looked at"
ok "and that no label of it is made so" has "  No label of these goods as they stand: the lot waits, and nothing of it was looked at."
run label W26-001.01 --market eu --json
ok "a script is told, too" /usr/bin/python3 -c "import json; j=json.load(open('out')); assert j['in_the_way'] == 'nothing looked at' and j['standing'] == 'waiting' and j['conclusion']['word'] == 'open', j"
run label W26-001.01 --market eu --lang de --out de.pdf
ok "goods that nobody looked at get no label" refused "lot W26-001.01 waits, and nothing of it was looked at: its label waits until it is released (--anyway)"
run label W26-001.01 --market eu --lang de --out anyway.pdf --anyway
ok "unless somebody says that it shall be made" has "Written: anyway.pdf with 1 label."
ok "which is told with it" has "  The label is made all the same: the lot waits, and nothing of it was looked at."
run label W26-001.01 --market eu --anyway
ok "which goes with a file" misused "--size, --replace and --anyway go with --out"
run settle W26-001.01 --as released --why "wanted at once"
run label W26-001.01 --market eu --json
ok "of released goods nothing is in the way" /usr/bin/python3 -c "import json; j=json.load(open('out')); assert j['in_the_way'] is None and j['standing'] == 'released', j"

# --- the label ---
run label W26-001.01 --market eu --lang de --out de.pdf --size 62x29
ok "the label of a lot is written" has "Written: de.pdf with 1 label. Print it at 100 %, not fitted to the page."
ok "what the law says of the words is told besides" has "European Union (eu)"
ok "it has the lawful words and the origin in the language of the label" [ "$(stands de.pdf 1)" = "65 % Polyester, 35 % Baumwolle Ursprungsland: Deutschland" ]
ok "it has the size that was asked for" [ "$(pages de.pdf 'Page size')" = "175.748 x 82.2047 pts" ]
run label W26-001.01 --market us,gb,ca --out three.pdf
ok "several markets are a page each" has "Written: three.pdf with 3 labels, one a page."
ok "Made in Germany, never Made in Deutschland" [ "$(stands three.pdf 1)" = "65% polyester, 35% cotton Made in Germany" ]
ok "both languages of a market stand on its label" [ "$(stands three.pdf 3)" = "65% polyester / polyester, 35% cotton / coton Made in Germany / Pays d'origine : Allemagne" ]
ok "without a size it has 60 x 40 mm" [ "$(pages three.pdf 'Page size')" = "170.079 x 113.386 pts" ]
ok "whose title names the lot and the markets" [ "$(pages three.pdf Title)" = "Label W26-001.01 (us, gb, ca)" ]
# No line of a label ends in a figure, or in a percent sign, whose fibre stands on the next.
for size in 62x29 40x20 30x30 25x25 24x40; do
	run label W26-001.01 --market eu --lang de --out torn.pdf --size $size --replace && pdftotext -layout torn.pdf - | grep -e '[0-9] *$' -e '% *$'
	run label --market ca --text "97% cotton 3% spandex" --origin "United Kingdom" --out torn.pdf --size $size --replace && pdftotext -layout torn.pdf - | grep -e '[0-9] *$' -e '% *$' -e '- *$'
done >torn
ok "a figure is never torn off its fibre, nor a name at its hyphen" [ "$code" = 0 -a ! -s torn ]
run label W26-001.01 --market eu --lang de --out torn.pdf --size 40x20 --replace
ok "lines end behind the commas" [ "$(pdftotext -layout torn.pdf - | head -2 | tr '\n' '|')" = "65 % Polyester,|35 % Baumwolle|" ]
run label W26-001.01 --market gb --out placard.pdf --size 297x210
ok "a placard is a label of another size" is 0
run label W26-001.01 --market eu --lang fr --out fr.png --size 50x25.4
ok "a picture is written" is 0
/usr/bin/python3 - >dots <<'EOF'
import struct, zlib
b = open("fr.png", "rb").read()
at, seen = 8, []
while at < len(b):
    n, kind = struct.unpack(">I4s", b[at:at + 8])
    data = b[at + 8:at + 8 + n]
    assert zlib.crc32(kind + data) == struct.unpack(">I", b[at + 8 + n:at + 12 + n])[0], kind
    if kind in (b"IHDR", b"pHYs"):
        seen.append(struct.unpack(">II", data[:8]))
    at += 12 + n
print(seen)
EOF
ok "it is of 300 dots an inch, and says so" [ "$(cat dots)" = "[(591, 300), (11811, 11811)]" ]
run label --market us --text "60% cotton 40% polyester" --origin PT --out words.pdf
ok "words alone make a label, too" [ "$(stands words.pdf 1)" = "60% cotton, 40% polyester Made in Portugal" ]
run label --market eu --text "60% cotton 40% polyester" --out without.pdf
ok "without an origin where the law does not ask for one" [ "$(stands without.pdf 1)" = "60 % cotton, 40 % polyester" ]

# --- what is refused ---
run label W26-001.01 --market us --out three.pdf
ok "an earlier paper is not written over" is 1
run label W26-001.01 --market us --out three.pdf --replace
ok "unless that is asked for" [ "$(pages three.pdf Pages)" = 1 ]
run label W26-001.01 --market us --out shed.db --replace
ok "a book never is" is 1
run label W26-001.01 --market us,gb --out two.png
ok "a picture holds one label" refused "a picture holds one label, and these are 2: name one market, or write a PDF"
run label W26-001.01 --market us --out label.jpg
ok "another kind of file is refused" is 1
run label W26-001.01 --market cn --out cn.pdf
ok "no label is made for a market that is not known well enough" refused "no label for China: the rules known here do not say whether the words may stand"
run label W26-001.01 --market us,cn --out both.pdf
ok "nor for it among others" refused "no label for China: the rules known here do not say whether the words may stand"
run label --market us --text "60% cotton 40% polyester" --out nowhere.pdf
ok "nor without an origin where the law asks for one (15 USC 70b(b)(4))" refused "no label for United States: the country of origin has to stand on it: say which it is (--origin COUNTRY)"
run label --market us --text "100% cotton" --origin Atlantis --out sunken.pdf
ok "nor with a place that is no country" refused "no label for United States: 'Atlantis' is no country known here: give the one it is from in English or by its two letters (--origin), or have it printed as it stands (--unchecked)"
run label --market us --text "100% cotton" --origin "भारत भूमि" --unchecked --out boxes.pdf
ok "nor with boxes in the place of letters" refused "no typeface of this program has all letters of 'Made in भारत भूमि'; a label with boxes in their place is not written"
run label --market us --text "60% cotton 30% polyester" --out short.pdf
ok "nor of words that give no wording" is 1
run label W26-001.01 --market us --out small.pdf --size 10x10
ok "words that would be too small are refused" refused "the words do not fit on a label of 10 x 10 mm in letters that can be read: a larger one is needed"
run label W26-001.01 --market us --out small.pdf --size 9x40
ok "a size out of range is refused" refused "a label is 10 to 500 mm wide and high, not 9 x 40"
run label W26-001.01 --market us --out small.pdf --size wide
ok "a size that is no pair is a misuse" misused "--size: 'wide' is not a pair of millimetres; write it like 70x37"
run label W26-001.01 --market us --size 60x40
ok "a size goes with a file" misused "--size, --replace and --anyway go with --out"
run cut A3
run burn W26-001.02.01 --saw approach:shrinks_away,in_flame:drips,smoke:black,odour:chemical_plastic,residue_form:hard_bead --not odour:burning_hair
run label W26-001.02 --market us
ok "of a lot that does not conform it is said" has "  No label of these goods as they stand: the lot does not conform to its declaration."
ok "with the conclusion" has "Conclusion: does not conform, by the burns of 2026-11-26: contradicts"
run label W26-001.02 --market us --out silk.pdf
ok "it gets no label" refused "lot W26-001.02 does not conform to its declaration: settle it first, relabelled with what it is"
run label W26-001.02 --market us --out silk.pdf --anyway
ok "whoever asks" refused "lot W26-001.02 does not conform to its declaration: settle it first, relabelled with what it is"
run settle W26-001.02 --as released --why "sold as it is, for lining"
run label W26-001.02 --market us --out silk.pdf
ok "released against what was seen it is asked about" refused "lot W26-001.02 is released although what was seen contradicts its declaration: say that its label shall have these words all the same (--anyway)"
run assay W26-001.03 --found "98.5% cotton 1.5% polyester" --uncertainty 0.2 --laboratory Ring --market us --market ca --market gb
run label W26-001.03 --market gb
ok "what a laboratory found broken holds the lot" has "  No label of these goods as they stand: the lot is held, or a bolt of it."
run settle W26-001.03 --as released --why "for gb"
run label W26-001.03 --market gb
ok "what a laboratory found broken elsewhere is not in the way of a market that allows it" [ "$(grep -c "No label of these goods" out)" = 0 ]
ok "whose words stand" has "Great Britain (gb): the words may stand"
run label W26-001.03 --market us
ok "where it is broken it is in the way" has "  No label of these goods as they stand: the lot does not conform to its declaration."
run label W26-001.03 --market gb --out gb.pdf
ok "one answer holds for words and paper" has "Written: gb.pdf with 1 label."
run label W26-001.03 --market us --out silk.pdf --anyway
ok "released or not, a laboratory weighs more" refused "lot W26-001.03 does not conform to its declaration: settle it first, relabelled with what it is"
run label W26-001.03 --market gb,us --out silk.pdf
ok "one market of several is enough" is 1
run assay W26-001.04 --found "57.4% cotton 42.6% polyester" --uncertainty 1.5 --laboratory Ring --market eu
run settle W26-001.04 --as released --why "wanted at once"
run label W26-001.04 --market eu --out silk.pdf
ok "an open answer of a laboratory is asked about, released or not" refused "a laboratory could not say whether lot W26-001.04 conforms: its label waits until that is known (--anyway)"
run settle W26-001.04 --as held --why "a second sample is sent"
run label W26-001.04 --market eu --out silk.pdf
ok "and so is a lot that is held" refused "lot W26-001.04 is held, or a bolt of it: its label waits until that is settled (--anyway)"
run sheet --month 2026-11 --market "eu us" --out month.xlsx
/usr/bin/python3 - >states <<'EOF'
import csv
print(*[r["market"] + " " + r["lot"][-2:] + " " + r["state"] for r in csv.DictReader(open("month-labels.csv", encoding="utf-8-sig"))], sep="; ")
EOF
cp states out
ok "the sheet Labels says the same, and of a market no laboratory was asked about what was answered elsewhere" [ "$(cat states)" = "eu 01 yes, worded so; eu 02 ask: contradicted by what was seen; eu 03 hold: see conclusion; eu 04 hold: see conclusion; us 01 yes, worded so; us 02 ask: contradicted by what was seen; us 03 hold: see conclusion; us 04 hold: see conclusion" ]
for f in two.png label.jpg cn.pdf both.pdf nowhere.pdf short.pdf small.pdf silk.pdf; do [ ! -e $f ] || echo $f; done >left
ok "nothing is left of a refusal" [ ! -s left ]
run settle W26-001.02 --as relabelled --new "100% polyester" --goods-of "own stock" --why "what burning shows"
run label W26-001.02 --market us --out silk.pdf
ok "relabelled it has a label of its new words" [ "$(stands silk.pdf 1)" = "100% polyester Made in Italy" ]

run assay W26-001.02 --found "100% polyester" --uncertainty 0.3 --laboratory Ring --market us
run todo
ok "a laboratory that finds what our label says leaves nothing to do" [ "$code" = 0 -a "$(grep -c "our new label" out)" = 0 ]
first=$("$t" look W26-001.02 | sed -n 's/^Analysis \([a-z0-9]*\):.*/\1/p')
run assay W26-001.02 --found "70% polyester 30% nylon" --uncertainty 0.3 --laboratory Ring --market us --anyway
run label W26-001.02 --market us --out silk2.pdf
ok "where laboratories say opposite things of our label it is asked about" refused "laboratories disagree about lot W26-001.02, of which one found 100 % polyester and another 70 % polyester, 30 % polyamide: say what it is (--actual TEXT)"
run void "$first" --why "a report of another lot" --yes
run todo
ok "one that refutes our label does" has "W26-001.02 of Alder Mill, since 2026-11-26 by Boss: what a laboratory found is not as our new label says: relabel it again"
run settle W26-001.02 --as relabelled --new "70% polyester 30% nylon" --goods-of "own stock" --why "what a laboratory found"
run todo
ok "until it has another" [ "$code" = 0 -a "$(grep -c "our new label" out)" = 0 ]

# --- labels of bolts ---
run settle W26-001.01 --as held --why "waits for the laboratory"
run tags W26-001.01 --bolts --standing --roll 62x29 --out held.pdf
ok "bolts that are held have labels for a roll" has "Written: held.pdf with 2 tags."
ok "their title names the bolts" [ "$(pages held.pdf Title)" = "Bolt labels W26-001.01 A1 to W26-001.01 A2" ]
ok "one a page, without margins" [ "$(pages held.pdf Pages) $(pages held.pdf 'Page size')" = "2 175.748 x 82.2047 pts" ]
ok "they say HELD, of which day" [ "$(pdftotext held.pdf - | tr "\f" "\n" | grep -c -e '^HELD' -e '^2026-11-26')" = 4 ]
pdftoppm -r 203 -gray -png -f 2 -l 2 -singlefile held.pdf held
ok "a printer of 203 dots an inch prints codes that a scanner reads" [ "$(zbarimg -q --raw held.png | sort -u)" = "W26-001.01 A2" ]
for roll in 29x62 45x45 25x25 38x90; do
	run tags W26-001.01 --bolts --standing --roll $roll --out upright.pdf --replace
	pdftotext -bbox upright.pdf words.xml
	pdftoppm -r 203 -gray -png -f 2 -l 2 -singlefile upright.pdf upright
	[ "$(zbarimg -q --raw upright.png 2>/dev/null | sort -u)" = "W26-001.01 A2" ] && /usr/bin/python3 - <<'SEEN' || echo $roll
import re
page = re.findall(r'<page width="([\d.]+)" height="([\d.]+)">(.*?)</page>', open("words.xml").read(), re.S)
for width, height, words in page:
    word = {w: [float(n) for n in box] for *box, w in re.findall(r'xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">([^<]*)<', words)}
    x0, y0, x1, y1 = word["HELD"]
    assert x1 - x0 > float(width) / 3 and 0 < x0 and x1 < float(width), word
    assert 0 <= word["2026-11-26"][0] and word["2026-11-26"][2] < float(width), word
SEEN
done >wrong 2>&1
ok "on labels that stand the word is as large, with its whole day" [ ! -s wrong ]
run settle W26-001.01 --as released --why "the laboratory found it as declared"
run tags W26-001.01 --bolts --standing --out sheet.pdf
ok "on a sheet they say RELEASED" [ "$(pdftotext sheet.pdf - | tr "\f" "\n" | grep -c '^RELEASED')" = 2 ]
run tags W26-001.01 --bolts --out plain.pdf
ok "without --standing they say nothing of it" [ "$(pdftotext plain.pdf - | grep -c -e RELEASED -e HELD)" = 0 ]
run tags W26-001.01 --standing --out no.pdf
ok "swatches have no standing" misused "--standing is about bolts: it goes with --bolts"
run tags W26-001.01 --bolts --roll 62x29 --label 70x37 --out no.pdf
ok "a roll has one measure" misused "--roll says all measures: leave out --page, --label, --edge and --gap"
run tags W26-001.01 --bolts --roll 20x29 --out no.pdf
ok "a roll too narrow for a code is refused" is 1
