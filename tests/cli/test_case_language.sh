#!/bin/sh
# The case file in the languages of papers: every word of its pages but people's own, days and figures as the language has them, the
# same data; and the file proves. Invented mills.
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need pdftotext pdfinfo pdffonts pdfdetach /usr/bin/python3
root=$(cd "$(dirname "$0")/../.." && pwd)
build=$(cd "$1" && pwd)
t=$build/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO="Ada Fell" USER=ada LOGNAME=ada

on() { export TENTERBOOK_CLOCK=$(date -u -d "$1T12:00:00Z" +%s); }
# must COMMAND...: a step of the story, which has to work
must() { run "$@"; [ "$code" = 0 ] || { echo "not ok - a step of the story: $*"; sed 's/^/# /' err; }; }
page() { pdftotext -layout "$1.pdf" - | tr -s '\n ' '  ' >"$1.words"; }
in_page() { grep -qF -- "$2" "$1.words"; }

# --- a lot with all that pages tell: burns, a void one, a test, kept halves, an analysis, a dispute, a joint sample, photographs
on 2026-10-05
cat >list.csv <<'END'
Supplier,Delivery note,Order,Article,Colour,Bolt,Length m,Composition,Price,Currency
Weberei Probe,N-1,4471,Atlas 40,ecru,001,60.5,100% Seide,18.5,EUR
Weberei Probe,N-1,4471,Atlas 40,ecru,002,50,100% Seide,18.5,EUR
Weberei Probe,N-1,4471,Atlas 40,ecru,003,1200,100% Seide,18.5,EUR
END
must new --code W --name "Westgate shed" --country GB
must set flame yes
must receive list.csv
must amend W26-001 --order 4472 --yes --why "Tippfehler"
must cut 001 --kept "Fach 4"
must burn W26-001.01.01 --saw smoke:black,residue_form:hard_bead,in_flame:melts --not odour:burning_hair --looked residue_colour --note "zweimal gerochen"
must cut 002 --kept "Fach 5"
must burn W26-001.01.02 --saw smoke:black,residue_form:hard_bead
must cut 003 --kept "Fach 6"
must burn W26-001.01.03 --saw smoke:black
burn=$(sed -n 's/^Recorded burn \([a-z0-9]*\) .*/\1/p' out)
must void "$burn" --why "Tag vertauscht" --yes
must try W26-001.01.01 --test acetone --result stays
must address "Weberei Probe" --street "Am Wehr 3" --postcode 08209 --place Auerbach --country DE --language de
must dispute W26-001.01 --opened --words "keine Seide" --amount 1200.5 --currency EUR
on 2026-10-12
must dispute W26-001.01 --notified --by Einschreiben --proof RR1 --due 2026-10-26
must share W26-001.01 --laboratory "Labor Ringstrasse" --present "Ada Fell, Herr Probe" --rule "zwei zu eins" --seed 77
must case W26-001.01 --language en --out en.pdf
must case W26-001.01 --out de.pdf
must case W26-001.01 --language zh --out zh.pdf
for l in de en zh; do page $l; done

# --- whose language it is
ok "the language of the supplier is that of the pages" in_page de "Fallakte W26-001.01"
ok "the option comes before it" in_page en "Case W26-001.01"
run case W26-001.01 --language la --out la.pdf
ok "a language papers are not written in is refused" refused "papers are not written in 'la'; the languages are en, de, es, fr, it, pl, pt, tr and zh (--language XX)"
ok "and nothing is written" [ ! -e la.pdf ]
run case W26-001.01 --json --out j.pdf
ok "programs are told the language" grep -q '"language": "de"' out

# --- words, days and figures
for words in "Was deklariert und was gefunden wurde" "„100% Seide“, von Weberei Probe" "am 5. Oktober 2026" "24.244,25 EUR = 1.310,50 m zu 18,50 EUR je m" \
	"1.310,5 m laut Deklaration" "gelesen als: 100 % Seide" "der Rauch: schwarzer Rauch" "harte Perle" "ein Tropfen Aceton" "bleibt in Aceton unverändert" \
	"zurückgehalten" "von selbst zurückgehalten: das Gesehene widerspricht der Deklaration" "ungebrannte Hälfte aufbewahrt: Fach 4" \
	"zweimal gerochen" "Tag vertauscht" "Bestellung, „4472“, war „4471“: Tippfehler" "„keine Seide“" "per Einschreiben" "Antwort erwartet bis 26. Oktober 2026" \
	"Rückstellproben" "Labor Ringstrasse" "Unter 1/20 widerspricht" "Das Evidenzverhältnis sagt" "keine Rechtsberatung"; do
	in_page de "$words" || echo "not on the German pages: $words"
done >missing
ok "words, days and figures are German, and people's own words as they wrote them" sh -c '[ ! -s missing ] || { cat missing; exit 1; }'
sed 's/^/# /' missing
# The joint of two words is not that of a place and a day, "Leicester, den 5. Oktober".
ok "the conclusion joins its words as German does" in_page de "widerspricht, mindestens 30 zu 1 dagegen"
ok "a Chinese day and figure" sh -c 'grep -qF "2026年10月5日" zh.words && grep -qF "24,244.25 EUR = 1,310.50 m，每 m 18.50 EUR" zh.words'
ok "no language has the words of another" sh -c '! grep -qF "Evidence ratio" de.words && ! grep -qF "Evidenz" en.words'

# --- no English sentence is left. On a Chinese page every word in Latin letters is somebody's own, a name, a unit or a command.
cat >own <<'END'
root ada Ada Fell Herr Probe Weberei Westgate shed Seide ecru Atlas Fach zweimal gerochen Tag vertauscht Tippfehler keine Einschreiben Labor
Ringstrasse zwei zu eins list csv GB EUR dB deciban UTC SHA sha tenterbook prove case FILE pdf against BOOK since cut known authority CERTS pem assay plan
void base rate Vergeer et al Science and Justice TENTERBOOK CLOCK RR
END
cat >latin.py <<'P'
import re, sys
own = set(open("own", encoding="utf-8").read().split())
text = open(sys.argv[1], encoding="utf-8").read()
# Digests and numbers of records, also what of them stands at the end or the start of a line.
text = re.sub(r"\b[0-9a-z]{20,}\b|[0-9a-f]{7,}|\b(?=[a-f]*[0-9])[0-9a-f]+\b|\b[a-f]{2,6}\b", " ", text)
text = re.sub(r"W26-[0-9.]+|N-1|T[0-9:]+Z", " ", text)
print(*sorted(set(re.findall(r"[A-Za-z]{2,}", text)) - own), sep="\n", end="")
P
/usr/bin/python3 latin.py zh.words >left
ok "no word in Latin letters is left on the Chinese pages but people's own, names and commands" [ ! -s left ]
sed 's/^/# left: /' left
{ cat zh.words; echo "What is asked"; } >planted
/usr/bin/python3 latin.py planted >left
ok "one that was not translated would be seen" grep -qx asked left
# A sentence of the English pages of four words and more that stands on the German ones, and is nobody's own, was not looked up.
/usr/bin/python3 - >left <<'P'
import re
words = lambda f: re.findall(r"[A-Za-zÄÖÜäöüß]+", re.sub(r"\b[0-9a-z]{20,}\b", " ", open(f, encoding="utf-8").read()))
english, german = words("en.words"), words("de.words")
runs = {tuple(german[i:i + 4]) for i in range(len(german) - 3)}
own = set(open("own", encoding="utf-8").read().split())
for i in range(len(english) - 3):
    run = tuple(english[i:i + 4])
    if run in runs and sum(w in own or len(w) < 3 for w in run) < 2 and not any(len(w) > 20 for w in run):
        print(*run)
P
ok "no four English words in a row are left on the German pages" [ ! -s left ]
sed 's/^/# left: /' left
# --- the data are the same in every language, and each file proves
data() { pdfdetach -save 1 -o "$1.json" "$1.pdf" >/dev/null 2>&1; /usr/bin/python3 -c "
import json, sys
j = json.load(open('$1.json'))
j.pop('language', None); j.pop('tenterbook_case'); j.pop('made')
print(json.dumps(j, sort_keys=True))" >"$1.data"; }
for l in de en zh; do data $l; done
ok "data of a case have no language but the name of it" sh -c 'cmp -s de.data en.data && cmp -s zh.data en.data && [ -s en.data ]'
ok "English is said by saying nothing, in the form that older programs read" sh -c "grep -q '\"tenterbook_case\": 5' en.json && ! grep -q '\"language\"' en.json"
ok "another language makes a later form, which older programs refuse by name" sh -c "grep -q '\"tenterbook_case\": 6' de.json && grep -q '\"language\": \"de\"' de.json"
for l in de zh; do
	run prove --case $l.pdf
	ok "a file in the language $l proves, its pages drawn again" has "the pages are those that the data give"
	ok "$l: fonts are inside, and the file names its language" sh -c "! pdffonts $l.pdf | tail -n +3 | grep -qw no\$ && grep -aq '/Lang ($l)' $l.pdf"
done

# --- with a laboratory's answer
on 2026-10-20
must assay W26-001.01 --found "88% polyester 12% silk" --uncertainty 0.8 --laboratory "Labor Ringstrasse" --report FA-1 --on 2026-10-19
must case W26-001.01 --out de2.pdf
must case W26-001.01 --language zh --out zh2.pdf
page de2
page zh2
for words in "88 % Polyester, 12 % Seide (ganze Ware; Standardunsicherheit bis zu 0,8 Prozentpunkte; Labor Ringstrasse, 19. Oktober 2026, Bericht FA-1)" \
	"Ergebnis: entspricht nicht (" "durch das Ergebnis des Labors vom 19. Oktober 2026" "98,0 oder mehr"; do
	in_page de2 "$words" || echo "not on the German pages: $words"
done >missing
ok "what a laboratory found is German, too" [ ! -s missing ]
sed 's/^/# /' missing
echo "FA Reg EU Art nd st para CFR USC us ca eu gb tr cn jp kr tw au nz br" >>own
/usr/bin/python3 latin.py zh2.words >left
ok "and Chinese, but for the citations of its clauses" sh -c '! grep -qiE "conform|found|analys|uncertain|allowed|answer|memory|second" left'

# --- every language: pages of about the same number, none nearly empty, and no word broken into two lines of a heading
for l in es fr it pl pt tr; do
	run case W26-001.01 --language $l --out $l.pdf
	[ "$code" = 0 ] && [ "$(pdfinfo $l.pdf | sed -n 's/^Pages: *//p')" -le 7 ] || echo "$l: $(pdfinfo $l.pdf | sed -n 's/^Pages: *//p') pages"
	last=$(pdftotext -layout -f "$(pdfinfo $l.pdf | sed -n 's/^Pages: *//p')" $l.pdf - | grep -c '[a-z]')
	[ "$last" -ge 8 ] || echo "$l: $last lines on the last page"
done >bad
ok "the other six are written, on seven pages at most, the last of them not nearly empty" [ ! -s bad ]
sed 's/^/# /' bad
