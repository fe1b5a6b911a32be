#!/bin/sh
# A case file that another program saved anew is told apart from one that was changed, and what did not change is said.
set -u
. "$(dirname "$0")/../need.sh"
need qpdf gs pdftocairo /usr/bin/python3
. "$(dirname "$0")/moments.sh"
export TENTERBOOK_BOOK=book.db
/usr/bin/python3 "$here/photographs.py" . || { echo "not ok - photographs are drawn"; exit 1; }
{
	at 1792900000 new --code M --name "Mill Lane shed" --country GB
	at 1792900001 set flame yes
	printf 'Bolt No,Length m,Article,Composition,Unit price EUR\nB1,50,crepe 9,100%% Seide,18\nB2,48.5,crepe 9,100%% Seide,18\n' >list.csv
	at 1792900002 receive list.csv --supplier "Ohm Weavers & Töchter" --note N-1 --on 2026-10-05 --yes
	at 1792910000 cut B1 --part whole
	at 1792910100 burn M26-001.01.01 --saw in_flame:melts,residue_form:hard_bead,smoke:black --not odour:burning_hair --photo alpha.png --photo upright-6.jpg
	at 1793000000 case M26-001.01 --answer-by 2026-11-20 --out case.pdf
} >log 2>&1
[ -s case.pdf ]; say $? "a case is written" "$(cat log)"
prove() { "$tb" prove --case "$1" >out 2>err; rc=$?; }

same='the pages are those that the data give: another program saved the file anew, and the data attached and what each page draws, its words, lines, type faces and pictures, did not change'
anew() {
	prove "$1"
	[ $rc = 0 ] && [ ! -s err ] && grep -qxF "$same" out && tail -1 out | grep -q '^Everything that was checked agrees\.'; say $? "$2" "$rc $(cat out err)"
}
qpdf case.pdf one.pdf && anew one.pdf "saved anew by a program for PDF, nothing on its pages changed"
qpdf --linearize --object-streams=generate --recompress-flate --compression-level=1 case.pdf two.pdf && anew two.pdf "nor where it was packed and ordered otherwise"
qpdf --qdf --normalize-content=n --object-streams=disable case.pdf three.pdf && anew three.pdf "nor where it was unpacked"
{ printf 'gateway\r\n'; cat case.pdf; printf '\r\n-- scanned --\r\n'; } >four.pdf && anew four.pdf "nor where a gateway put words around it"
prove two.pdf --json; "$tb" prove --case two.pdf --json >out 2>err
/usr/bin/python3 -c 'import json; d = json.load(open("out")); assert d["agrees"] and d["pages"] and d["saved_anew"] and not d["notes"], d' 2>>err
say $? "programs are told too" "$(cat out err)"
"$tb" prove --case case.pdf --json >out 2>err && /usr/bin/python3 -c 'import json; d = json.load(open("out")); assert d["pages"] and not d["saved_anew"], d' 2>>err
say $? "and that the file as it was made is not one" "$(cat out err)"

note='Not checked: the file was saved anew by a program that draws pages in its own way: on every page the words are those that the data give, and it looks the same at a dot a point'
gs -q -sDEVICE=pdfwrite -o drawn.pdf case.pdf >log 2>&1; prove drawn.pdf
[ $rc = 0 ] && grep -qF "$note" out && [ "$(tail -1 out)" = "What was checked agrees; 1 thing could not be checked here." ]
say $? "a program that draws the pages its own way leaves words and look, and what is finer is counted as not checked" "$rc $(cat log out err)"
pdftocairo -pdf case.pdf printed.pdf; prove printed.pdf
[ $rc = 1 ] && [ "$(wc -l <err)" = 1 ] && grep -q 'no data of a case are attached to this PDF: it is another paper, or a program that saved it anew left them out' err
say $? "one that leaves the data out is refused with that reason" "$rc $(cat out err)"

# The same tools in another hand: change a page, or the data, and save it as a sound PDF.
cat >change.py <<'PY'
"""change.py IN.pdf OUT.pdf PAGE add CONTENT, or PAGE swap OLD NEW (bytes of the content, in latin-1)"""
import base64, json, subprocess, sys
source, target, page, how, *words = sys.argv[1:]
d = json.loads(subprocess.run(["qpdf", "--json=2", "--json-stream-data=inline", "--decode-level=generalized", source], capture_output=True).stdout)
objects = d["qpdf"][1]
where = objects["obj:" + d["pages"][int(page) - 1]["contents"][0]]["stream"]
content = base64.b64decode(where["data"]).decode("latin-1")
if how == "add":
    content += "\n" + words[0] + "\n"
else:
    assert words[0] in content, content[:2000]
    content = content.replace(words[0], words[1], 1)
where["data"] = base64.b64encode(content.encode("latin-1")).decode()
json.dump({"version": 2, "parameters": d["parameters"], "qpdf": d["qpdf"]}, open("changed.json", "w"))
subprocess.run(["qpdf", "--json-input", "changed.json", target], check=True)
PY
changed() { # FILE PAGE, sentence
	prove "$1"
	[ $rc = 1 ] && [ "$(wc -l <err)" = 1 ] && grep -q "the pages are not those that the data give: the file was changed, first on page $2\$" err
	say $? "$3" "$rc $(cat out err)"
}
covered() { # FILE PAGE, sentence: what did not change is said, too
	prove "$1"
	[ $rc = 1 ] && [ "$(wc -l <err)" = 1 ] && grep -q "page $2 does not look as the data give it: .*; on every page each word is the one that the data give, at its place\$" err && grep -q "the data and every word of the case file agree, and the look of a page does not: page $2 " err && grep -qx "The data and every word agree; the look of a page does not:" out
	say $? "$3" "$rc $(cat out err)"
}
for base in case drawn; do
	/usr/bin/python3 change.py $base.pdf c.pdf 2 add 'q 1 0 0 1 0 0 cm 1 1 1 rg 54 60 400 700 re f Q' && covered c.pdf 2 "a white box over the words of a page is found ($base)"
	/usr/bin/python3 change.py $base.pdf c.pdf 1 add 'q 0 0 0 RG 2 w 60 400 m 300 400 l S Q' && covered c.pdf 1 "so is a line through them ($base)"
	qpdf $base.pdf --pages . 1-z,1 -- c.pdf; prove c.pdf
	[ $rc = 1 ] && grep -q 'the pages are not those that the data give: there are more or fewer of them' err; say $? "and a page more ($base)" "$rc $(cat out err)"
done
/usr/bin/python3 change.py case.pdf c.pdf 1 swap '[(C)' '[(G)' 2>log || sed 's/^/# /' log
changed c.pdf 1 "a letter changed and saved anew is found"
qpdf case.pdf --rotate=90:2 c.pdf && changed c.pdf 2 "so is a page that was turned"
qpdf case.pdf --overlay drawn.pdf --from=1 --to=3 -- c.pdf && changed c.pdf 3 "so is a page laid over another"
