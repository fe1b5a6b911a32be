#!/bin/sh
# Every paper is one that archives keep: PDF/A-3, level U (ISO 19005-3:2012), by the list of pdfa.py; and planted faults are named.
set -u
. "$(dirname "$0")/../need.sh"
need qpdf /usr/bin/python3 pdfinfo pdftotext pdfimages pdftoppm
. "$(dirname "$0")/moments.sh"
export TENTERBOOK_BOOK=book.db

/usr/bin/python3 "$here/photographs.py" . || { echo "not ok - photographs are drawn"; exit 1; }
{
	at 1792900000 new --code M --name "Mill Lane <shed> & Co" --country GB
	at 1792900001 set flame yes
	printf 'Bolt No,Length m,Article,Composition,Unit price EUR\nB1,50,crepe 9,100%% Seide,18\nB2,48.5,crepe 9,100%% 蚕丝,18\n' >list.csv
	at 1792900002 receive list.csv --supplier "Ohm Weavers & Töchter" --note N-1 --on 2026-10-05 --yes
	at 1792910000 cut B1 --part whole --kept "drawer 4"
	at 1792910100 burn M26-001.01.01 --saw in_flame:melts,residue_form:hard_bead,smoke:black --not odour:burning_hair --photo alpha.png --photo grey.png
	at 1792910200 burn M26-001.01.01 --saw in_flame:melts,residue_form:hard_bead --photo colour.jpg --photo fourinks.jpg
	at 1793000000 case M26-001.01 --answer-by 2026-11-20 --out case.pdf
	at 1793000000 case M26-001.01 --notice --answer-by 2026-11-20 --on 2026-10-26 --out notice.pdf
	at 1793000000 sheet --month 2026-10 --market eu --out month.xlsx
	at 1793000000 tags M26-001.01 --anchor --out tags.pdf
} >log 2>&1
[ -s case.pdf ] && [ -s notice.pdf ] && [ -s month.pdf ] && [ -s tags.pdf ]; say $? "case, notice, month and tags are written" "$(cat log)"
for paper in case notice month tags; do
	/usr/bin/python3 "$here/pdfa.py" $paper.pdf >found 2>&1; say $? "the $paper is PDF/A-3, level U" "$(cat found)"
	qpdf --check $paper.pdf >found 2>&1; say $? "and qpdf finds nothing wrong with it" "$(cat found)"
done
for paper in case notice month tags; do pdfinfo $paper.pdf | grep -q 'Tagged: *yes' || echo $paper; done >untagged
[ ! -s untagged ]; say $? "all are tagged, for those who have them read out" "$(cat untagged)"
pdftotext case.pdf - | grep -q 'fourinks.jpg (image/jpeg) is in the attached data; it cannot be shown here' && pdfimages -list case.pdf | grep -q ' jpeg '
say $? "a photograph of four inks, which mean nothing to such a paper, is named and not shown" "$(pdfimages -list case.pdf)"

# Eight cameras held in eight ways: on the page all stand alike.
{
	for i in 1 2 3 4 5 6 7 8; do at 179300100$i burn M26-001.01.01 --saw residue_form:hard_bead --photo upright-$i.jpg || break; done
	at 1793002000 case M26-001.01 --out turned.pdf
} >log 2>&1
pdftoppm -r 72 -gray turned.pdf page >>log 2>&1
/usr/bin/python3 - page-*.pgm >found 2>&1 <<'SEEN'
import sys
shapes = []
for path in sys.argv[1:]:
    data = open(path, "rb").read()
    width, height = [int(x) for x in data.split(b"\n", 3)[1].split()]
    pixels = data[-width * height:]
    row = [pixels[y * width:(y + 1) * width] for y in range(height)]
    for y in range(height - 64):  # 32 points wide and 64 high, at the left edge of the words; its lower right is light grey
        x = 54
        box = [r[x:x + 32] for r in row[y:y + 64]]
        inside = lambda a, b, c, d: [v for r in box[b + 2:d - 2] for v in r[a + 2:c - 2]]
        light = inside(16, 0, 32, 64) + inside(0, 48, 32, 64)
        dark = inside(0, 0, 16, 24) + inside(0, 0, 8, 48)
        if max(dark) < 120 and 200 < min(light) and max(light) < 245:
            shapes.append((path, y))
groups = [s for i, s in enumerate(shapes) if i == 0 or s[0] != shapes[i - 1][0] or s[1] - shapes[i - 1][1] > 9]
print(groups)
sys.exit(len(groups) != 8)
SEEN
say $? "photographs stand upright, whichever of the eight orientations of EXIF their camera wrote" "$(cat log found)"

# A list that finds nothing anywhere would pass too: each fault is planted into a paper that has none.
planted() {
	/usr/bin/python3 - "$1" "$2" "$3" <<'PLANT' || { echo "not ok - $5 (nothing to plant it in)"; return; }
import sys
paper, old, new = sys.argv[1], *(bytes(a, "latin-1").decode("unicode_escape").encode("latin-1") for a in sys.argv[2:4])
pdf = open(paper, "rb").read()
if old not in pdf:
    sys.exit(1)
open("planted.pdf", "wb").write(pdf.replace(old, new, 1))
PLANT
	/usr/bin/python3 "$here/pdfa.py" planted.pdf >found 2>&1; rc=$?
	[ $rc = 1 ] && grep -q "^planted.pdf: $4: " found; say $? "$5" "$rc $(cat found)"
}
planted case.pdf '/ID [<' '/IX [<' 6.1.3 "a missing identifier is named"
planted case.pdf '%%EOF\n' '%%EOF\nmore' 6.1.3 "so are bytes behind the end"
planted case.pdf '\nendstream' ' endstream' 6.1.7.1 "so is a stream that ends within a line"
planted case.pdf '/GTS_PDFA1' '/GTS_PDFX1' 6.2.3 "so are colours without a meaning"
planted case.pdf '/N 3' '/N 4' 6.2.3 "so is a profile of another number of colours"
planted case.pdf '/CIDToGIDMap /Identity' '/CIDToGIDMax /Identity' 6.2.11.3.2 "so is a font whose numbers mean nothing"
planted case.pdf '/FontFile2' '/FontFilex' 6.2.11.4.1 "so is a font that is not in the file"
planted case.pdf '/ToUnicode' '/ToUnicodx' 6.2.11.7.2 "so is a font that does not say its letters"
planted case.pdf '/Widths [ 348' '/Widths [ 399' 6.2.11.5 "so are letters of another width"
planted case.pdf '/BitsPerComponent 8 /ColorSpace /DeviceRGB' '/Interpolate  true /ColorSpace /DeviceRGB' 6.2.8 "so is a picture that is to be smoothed"
planted case.pdf '/ColorSpace /DeviceRGB' '/ColorSpace /DeviceCMYK' 6.2.4.3 "so is a picture of four inks"
planted case.pdf '<pdfaid:part>3' '<pdfaid:part>2' 6.6.4 "so are metadata of another part"
planted case.pdf '</dc:title>' '?</dc:title>' 6.6.3 "so is a title that is told in two ways"
planted case.pdf '/AFRelationship' '/AFRelationshix' 6.8 "so is a file that goes with nothing"
planted case.pdf '/ModDate' '/ModDatx' 6.8 "so is a file without a day"
planted case.pdf '/Type /Catalog' '/OpenAction 3 0 R /Type /Catalog' 6.5.1 "so is an action"
planted case.pdf '/Type /Catalog' '/AcroForm << >> /Type /Catalog' 6.4.1 "so is a form to fill in"
planted case.pdf '/Lang (en)' '/Lanx (en)' 6.7.4 "so are tagged pages without a language"
planted month.pdf '/Alt (' '/Alx (' 14.9.3 "so is a chart that says nothing to those who cannot see it"
