#!/bin/sh
# names: words for labels out of a saved copy of the law, shown, kept, printed, forgotten. tests/cli/test_names.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need /usr/bin/python3 sqlite3
here=$(cd "$(dirname "$0")/../.." && pwd)
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_CLOCK=1795694400 # 2026-11-26 12:00 UTC, whatever day it is
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=Ada
prints() { grep -qF -- "$1" out; }
answers() { /usr/bin/python3 -c "import json,sys; j=json.load(open('out')); sys.exit(0 if ($1) else 1)"; }
rows() { sqlite3 -batch shed.db 'SELECT count(*) FROM journal'; }

# a copy in the structure of the consolidated text, around the names the program holds for Polish
/usr/bin/python3 - "$here/sql/reference" <<'P'
import csv, sys
read = lambda name: list(csv.DictReader(open(sys.argv[1] + "/" + name + ".csv", encoding="utf-8")))
def copy(lang, other, rows):
    held = {}
    for n in read("law_name"):
        if (n["market"], n["lang"]) == ("eu", lang) and not n["marks"]:
            held.setdefault(n["fibre"], n["name"])
    if lang == "pl":
        held["protein"], held["cotton"] = "białkowe", "bawełna"
    cells = {}
    for r in read("annex_row"):
        cells.setdefault(int(r["number:integer"]), []).append(held.get(r["fibre"], "słowo-" + r["fibre"]))
    cells.update(rows)
    out = "<html><body>"
    for a in range(1, 29):
        out += "<p>Artykuł %d</p><p>tekst</p>" % a
        if a == 9:
            out += "<p>to są „%s”</p>" % other
    for k in range(1, 51):
        out += "<tr><td><p>%d</p></td><td><p>%s</p></td><td><p>opis</p></td></tr>" % (k, ", ".join(cells.get(k, ["dowolne"])))
    open(lang + ".html", "w", encoding="utf-8").write(out + "</body></html>")
    return out
copy("en", "other fibres", {30: ["nylon or polyamide"]})
out = copy("pl", "inne włókna", {7: ["len"], 30: ["poliamid lub nylon"]})
open("short.html", "w", encoding="utf-8").write(out[:out.index("<td><p>12")])
P
digest=$(sha256sum pl.html | cut -d' ' -f1)

run names pl.html --market eu --language pl
ok "names need a book" is 1
run new --code W
run names pl.html --market jp --language ja --yes
ok "a market whose languages are not known takes no copy" grep -q "names for Japan cannot be read from a copy: its languages are not known here" err
run label --market eu --lang pl --text "100% cotton"
ok "a name from memory is not printed" prints "'bawełna' (pl) is a word from memory that nobody looked up"
before=$(rows)
run names pl.html --market eu --language pl
ok "the words of the copy are shown beside those that were held" grep -q "^no. 5 *cotton *bawełna" out
ok "with how far these were to be trusted" grep -q "bawełna *bawełna *memory *the same" out
ok "what the copy has otherwise is told" grep -q "protein *białkowe .*new" out
ok "the words of the articles stand among them" grep -q "Art. 9 *other_fibres *inne włókna *inne włókna *memory" out
ok "nothing is kept before somebody said so" grep -q "^Nothing was kept. Read the words beside those held until now; --yes then keeps them.$" err
ok "nor recorded" [ "$(rows)" = "$before" ]
run names pl.html --market eu --language pl --json
ok "the JSON has each word with what was held" answers "j['kept'] == 0 and j['digest'] == '$digest' and [w['text'] for w in j['words'] if w['number'] == 30] == ['poliamid', 'nylon']"

run names pl.html --market eu --language pl --without 23 --yes
ok "after a yes they are kept" has "words, from the copy with SHA-256 $digest."
ok "the journal has the digest of the copy" [ "$(sqlite3 -batch shed.db 'SELECT subject FROM journal ORDER BY number DESC LIMIT 1')" = "name:eu:pl sha256:$digest" ]
run label --market eu --lang pl --text "60% cotton 40% nylon"
ok "from then on they are printed" has "a label may say: 60 % bawełna, 40 % poliamid"
run label --market eu --lang pl --text "90% cotton 10% other fibres"
ok "the words of the articles too" has "10 % inne włókna"
run label --market eu --lang pl --text "100 % bawełna"
ok "and read as names that were seen" has "European Union (eu): the words may stand"
ok "without a note on memory" [ "$(grep -c "from memory" out)" = 0 ]
run label --market eu --lang pl --text "100% azlon"
ok "a row that was left out is not printed" prints "no name of"
run label --market eu --lang de --text "100% cotton"
ok "other languages stay as they were" has "100 % Baumwolle"
run prove
ok "the book proves" is 0

run names pl.html --market eu --language pl --yes
run label --market eu --lang pl --text "100% azlon"
ok "taken over again, it is" prints "100 % białkowe"
run set name:eu:pl:cotton ""
ok "a name can be forgotten" is 0
run label --market eu --lang pl --text "100% cotton"
ok "and is held from memory again" prints "is a word from memory that nobody looked up"
run set name:eu:pl:cotton "bawełna biała"
ok "a name is not typed in" refused "a name of the law is taken over from a saved copy of it (tenterbook names); it can only be set to nothing"

printf 'bolt;length m;declared;article\nB1;50;100%% nylon;lining 10\n' >list.csv
run receive list.csv --supplier "Ohm Weavers" --note N-1 --on 2026-11-20
labels() { run sheet --month 2026-11 --market eu --out month.xlsx --replace && cp month-labels.csv out; }
labels
ok "the sheet of the month words a lot as the program knows the law" has "100 % polyamide"
run names en.html --market eu --language en --yes
labels
ok "and by the copy once it was taken over" has "100 % nylon"

# marks of amendments, as a consolidated text has them around rows that came later; a table out of step; a text
marked() { sed -e 's/<td><p>\(12\|50\)<\/p>/<td><p>►M2 \1 ◄<\/p>/g' -e 's/>len</>►C1 len◄</' -e 's/<td><p>8</▼M3<td><p>8</' pl.html; }
marked >marked.html
run names pl.html --market eu --language pl --json; cp out plain.json
run names marked.html --market eu --language pl --json
ok "marks of amendments are no words, and hide no row" /usr/bin/python3 -c "import json; a, b = json.load(open('plain.json')), json.load(open('out')); assert a['words'] == b['words'] and len(a['words']) > 40, b"
/usr/bin/python3 - <<'P'
import re
page = open("pl.html", encoding="utf-8").read()
open("step.html", "w", encoding="utf-8").write(re.sub("(<td><p>25</p></td><td><p>)[^<]*", "\\1Poliester", page))
open("pl.txt", "w", encoding="utf-8").write(re.sub("opis", lambda m, n=iter(range(1, 99)): "opis %d" % next(n), re.sub("\n+", "\n", re.sub("<[^>]*>", "\n", page))))
open("none.html", "w", encoding="utf-8").write(page.replace("„", "(").replace("<td><p>50<", "<td><p>52<"))
P
run names step.html --market eu --language pl
ok "a word that two rows have is told" grep -q "^no. 25 *viscose *Poliester .*the word for polyester" out
before=$(rows)
run names step.html --market eu --language pl --yes
ok "and not taken over" grep -qx "tenterbook: row 25 calls viscose 'Poliester', which is the word for polyester: the rows are out of step, or one is wrong; leave that row out (--without N)" err
ok "nor anything else of the copy" [ "$(rows)" = "$before" ]
run names step.html --market eu --language pl --without 25 --yes
ok "unless the row is left out" has "words, from the copy with SHA-256"
run names pl.txt --market eu --language pl --json
ok "a text yields the words of the articles, too, whatever is numbered below the annex" answers "[w['text'] for w in j['words'] if w['in'] == 'article'] == ['inne włókna'] and j['articles'] and len(j['words']) > 40"
run names none.html --market eu --language pl
ok "what is not found is told: rows" prints "No name was found in the copy for these rows of the annex: 50"
ok "and articles" prints 'No words of Articles 7 to 12 were found between quotation marks in the copy: "other fibres" and the like stay as they are held.'
run names pl.html --market eu --language pl --yes

before=$(rows)
run names short.html --market eu --language pl --yes
ok "half a copy is refused" refused "short.html: Annex I was not found: no table has rows numbered 1 to 18; save the page of the consolidated text in HTML, as UTF-8"
run names pl.html --market eu --language xx --yes
ok "so is a language the market has not" is 1
run names pl.html --market us --language en --yes
ok "so is a market whose names have no numbered rows" refused "pl.html: the names of the United States do not stand in numbered rows that are known here"
run names nothing.html --market eu --language pl --yes
ok "so is a file that is not there" is 1
run names shed.db --market eu --language pl --yes
ok "so is a file of another kind" is 1
run names pl.html --market eu --language pl --without x --yes
ok "a row is a number" refused "--without is 'x'; it takes the number of a row"
run names pl.html --market eu --language pl --without 99 --yes
ok "one that the copy has not cannot be left out" grep -qx "tenterbook: the copy gives no name in row 99 (--without N)" err
iconv -t ISO-8859-2//TRANSLIT pl.html >latin.html
run names latin.html --market eu --language pl --yes
ok "a copy in another code page would lose letters, and is refused" refused "latin.html: the copy is not in UTF-8, so that letters of its names would be lost: save the page as UTF-8"
run names pl.html --language pl
ok "a market is named" is 2
ok "nothing of all that is recorded" [ "$(rows)" = "$before" ]
