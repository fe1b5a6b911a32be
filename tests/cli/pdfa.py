#!/usr/bin/python3
"""Hold a PDF against what ISO 19005-3:2012 (PDF/A-3, level U) asks for, as far as it can be read out of the file.

usage: pdfa.py FILE.pdf...    Prints one line for each thing that is not as asked, with its clause; exit 1 where there is any.
No validator is in Debian 12. Numbers and words of the clauses are from memory; those of ISO 32000-1 are named where they count.
The structure is read by qpdf (--json), the fonts and the colour profile here.
"""
import base64
import json
import re
import struct
import subprocess
import sys
import zlib
from xml.etree import ElementTree

RDF, DC = "{http://www.w3.org/1999/02/22-rdf-syntax-ns#}", "{http://purl.org/dc/elements/1.1/}"
XMP, PDF = "{http://ns.adobe.com/xap/1.0/}", "{http://ns.adobe.com/pdf/1.3/}"
ID = "{http://www.aiim.org/pdfa/ns/id/}"
BLENDS = {"Normal", "Compatible", "Multiply", "Screen", "Overlay", "Darken", "Lighten", "ColorDodge", "ColorBurn", "HardLight",
          "SoftLight", "Difference", "Exclusion", "Hue", "Saturation", "Color", "Luminosity"}
INTENTS = {"AbsoluteColorimetric", "RelativeColorimetric", "Saturation", "Perceptual"}
OPERATORS = set("b B b* B* BDC BI BMC BT BX c cm CS cs d d0 d1 Do DP EI EMC ET EX f F f* G g gs h i ID j J K k l m M MP n q Q re RG rg ri "
                "s S SC sc SCN scn sh T* Tc Td TD Tf Tj TJ TL Tm Tr Ts Tw Tz v w W W* y ' \"".split())


class File:
    def __init__(self, path):
        self.path = path
        self.raw = open(path, "rb").read()
        out = subprocess.run(["qpdf", "--json=2", "--json-stream-data=inline", "--decode-level=generalized", path], capture_output=True)
        both = json.loads(out.stdout)["qpdf"]
        self.head, self.objects = both[0], both[1]
        self.trailer = self.objects["trailer"]["value"]
        self.root = self.get(self.trailer["/Root"])
        self.wrong = []

    def no(self, clause, words):
        self.wrong.append(f"{clause}: {words}")

    def get(self, v):
        """The value, a reference followed; of a stream its dictionary."""
        seen = 0
        while isinstance(v, str) and re.fullmatch(r"\d+ \d+ R", v) and seen < 9:
            o = self.objects.get("obj:" + v, {"value": None})
            v, seen = o["value"] if "value" in o else o["stream"]["dict"], seen + 1
        return v

    def data(self, ref):
        return base64.b64decode(self.objects["obj:" + ref]["stream"]["data"])

    def dicts(self):
        """Every dictionary in the file, wherever it is, with its key."""
        def inside(key, v):
            if isinstance(v, dict):
                yield key, v
                for k, w in v.items():
                    yield from inside(k, w)
            elif isinstance(v, list):
                for w in v:
                    yield from inside(key, w)
        for name, o in self.objects.items():
            yield from inside(name, o["value"] if "value" in o else o["stream"]["dict"])

    def streams(self):
        return [(n[4:], o["stream"]["dict"]) for n, o in self.objects.items() if "stream" in o]


def file_structure(f):
    if not re.match(rb"%PDF-1\.[0-7][\r\n]", f.raw):
        f.no("6.1.2", "the header is not %PDF-1.n on a line of its own")
    second = f.raw.split(b"\n", 2)[1]
    if second[:1] != b"%" or len(second) < 5 or min(second[1:5]) < 128:
        f.no("6.1.2", "no comment of four bytes above 127 follows the header")
    identifier = f.trailer.get("/ID")
    if not (isinstance(identifier, list) and len(identifier) == 2):
        f.no("6.1.3", "the trailer has no ID")
    if "/Encrypt" in f.trailer:
        f.no("6.1.3", "the file is encrypted")
    if not re.search(rb"%%EOF\r?\n?$", f.raw):
        f.no("6.1.3", "data follow the end of the file")
    if re.search(rb"<[0-9A-Fa-f]+>", re.sub(rb"(?s)stream\r?\n.*?endstream", b"", f.raw)):
        for m in re.finditer(rb"(?<!<)<([0-9A-Fa-f\s]*)>(?!>)", re.sub(rb"(?s)stream\r?\n.*?endstream", b"", f.raw)):
            if len(re.sub(rb"\s", b"", m[1])) % 2:
                f.no("6.1.6", "a hexadecimal string has an odd number of digits")
    if re.search(rb"\nstream\r(?!\n)", f.raw) or len(re.findall(rb"(?<=[\r\n])endstream\b", f.raw)) != len(f.streams()):
        f.no("6.1.7.1", "a stream does not begin and end with an end of line")
    for m in re.finditer(rb"(?s)/Length (\d+)(?! \d+ R)[^\n]*>>\nstream\n", f.raw):
        if not re.match(rb"\r?\n?endstream", f.raw[m.end() + int(m[1]):m.end() + int(m[1]) + 11]):
            f.no("6.1.7.1", f"a stream is not {m[1].decode()} bytes long")
    for ref, d in f.streams():
        if {"/F", "/FFilter", "/FDecodeParms"} & set(d):
            f.no("6.1.7.1", f"stream {ref} lies in another file")
        for name in d["/Filter"] if isinstance(d.get("/Filter"), list) else [d.get("/Filter")]:
            if name in ("/LZWDecode", "/Crypt"):
                f.no("6.1.7.2", f"stream {ref} is packed by {name}")
    if not re.search(rb"(?m)^\d+ 0 obj\r?$", f.raw) or re.search(rb"\d obj[^\r\n]", re.sub(rb"(?s)stream\r?\n.*?endstream", b"", f.raw)):
        f.no("6.1.9", "an object does not begin on a line of its own")
    if "/Perms" in f.root:
        f.no("6.1.12", "the catalogue has permissions")
    limits(f)


def limits(f):
    """6.1.13, after ISO 32000-1, annex C"""
    def walk(v):
        if isinstance(v, dict):
            for k, w in v.items():
                if len(k.encode()) > 128:
                    f.no("6.1.13", "a name is longer than 127 bytes")
                walk(w)
        elif isinstance(v, list):
            for w in v:
                walk(w)
        elif isinstance(v, bool):
            pass
        elif isinstance(v, int) and not -2**31 <= v < 2**31:
            f.no("6.1.13", "a whole number is out of bounds")
        elif isinstance(v, str) and len(v.encode()) > 32767:
            f.no("6.1.13", "a string is longer than 32767 bytes")
    for o in f.objects.values():
        walk(o["value"] if "value" in o else o["stream"]["dict"])
    if len(f.objects) > 8388607:
        f.no("6.1.13", "there are too many objects")


def pages(f):
    found, todo = [], [f.root["/Pages"]]
    while todo:
        p = f.get(todo.pop(0))
        if p.get("/Type") == "/Pages":
            todo = p["/Kids"] + todo
        else:
            found.append(p)
    return found


def content(f):
    for p in pages(f):
        if "/Resources" not in p:
            f.no("6.2.2", "a page has no resources of its own")
        size = [float(x) for x in f.get(p.get("/MediaBox", [0, 0, 0, 0]))]
        if not (3 <= size[2] - size[0] <= 14400 and 3 <= size[3] - size[1] <= 14400):
            f.no("6.1.13", "a page is smaller than 3 or larger than 14400 points")
        what = p["/Contents"] if isinstance(p["/Contents"], list) else [p["/Contents"]]
        operators(f, b"\n".join(f.data(w) for w in what), f.get(p.get("/Resources", {})))
    for ref, d in f.streams():
        if d.get("/Subtype") == "/Form":
            if "/Resources" not in d:
                f.no("6.2.2", f"form {ref} has no resources of its own")
            if {"/OPI", "/Subtype2", "/PS", "/Ref"} & set(d):
                f.no("6.2.9", f"form {ref} has what none may have")
            operators(f, f.data(ref), f.get(d.get("/Resources", {})))
        if d.get("/Subtype") == "/PS":
            f.no("6.2.9", f"{ref} is a PostScript object")


def tokens(data):
    """Operators, and what stands before each."""
    before = []
    for m in re.finditer(rb"\((?:\\.|[^\\()])*\)|<<|>>|<[0-9A-Fa-f\s]*>|[\[\]]|/[^\s\[\]<>()/%]*|[^\s\[\]<>()/%]+", data, re.S):
        t = m[0]
        if re.match(rb"[A-Za-z'\"]", t) and t not in (b"true", b"false", b"null"):
            yield t.decode("latin-1"), before
            before = []
        else:
            before.append(t)


def operators(f, data, resources):
    depth, font = 0, None
    fonts = f.get(resources.get("/Font", {}))
    for op, before in tokens(data):
        if op not in OPERATORS:
            f.no("6.2.2", f"'{op}' is no operator")
        depth += (op == "q") - (op == "Q")
        if depth > 28:
            f.no("6.1.13", "states are saved more than 28 deep")
        if op in ("k", "K") or (op in ("cs", "CS") and before[-1] == b"/DeviceCMYK"):
            f.no("6.2.4.3", "a colour of four inks has no profile")
        if op == "ri" and before[-1][1:].decode() not in INTENTS:
            f.no("6.2.6", "an unknown rendering intent")
        if op == "BI":
            f.no("6.1.10", "a picture within the page, which is not looked into here")
        if op == "Tf":
            font = f.get(fonts.get(before[-2].decode()))
        if op in ("Tj", "TJ", "'", '"') and font and font.get("/Subtype") == "/Type0":
            for t in before:
                if t[:1] == b"<" and any(t[i:i + 4] == b"0000" for i in range(1, len(t) - 1, 4)):
                    f.no("6.2.11.8", "the shape of a letter that is not there is drawn")


def colours(f):
    intents = f.root.get("/OutputIntents")
    archived = [f.get(i) for i in intents or [] if f.get(i).get("/S") == "/GTS_PDFA1"]
    if len({i.get("/DestOutputProfile") for i in archived}) != 1:
        f.no("6.2.3", "there is no one output intent with a profile")
        return
    if any("/DestOutputProfileRef" in i for i in archived):
        f.no("6.2.3", "the profile is in another file")
    for i in archived:
        if "/OutputConditionIdentifier" not in i:
            f.no("6.2.3", "the output intent has no identifier (ISO 32000-1, table 365)")
    ref = archived[0]["/DestOutputProfile"]
    icc = f.data(ref)
    if len(icc) < 132 or struct.unpack(">I", icc[:4])[0] != len(icc) or icc[36:40] != b"acsp":
        f.no("6.2.3", "the colour profile is none")
        return
    if icc[12:16] not in (b"mntr", b"prtr") or icc[8] > 4:
        f.no("6.2.3", "the colour profile is of another kind or of a later version")
    n = {b"RGB ": 3, b"CMYK": 4, b"GRAY": 1}.get(icc[16:20])
    if f.get(ref).get("/N") != n:
        f.no("6.2.3", "the number of colours is not that of the profile")
    if n != 3:
        f.no("6.2.4.3", "the pages are in red, green and blue, the profile is not")
    for key, d in f.dicts():
        if d.get("/ColorSpace") == "/DeviceCMYK" or d.get("/CS") == "/DeviceCMYK":
            f.no("6.2.4.3", "a picture or a group of four inks has no profile")
        if key == "/ExtGState" or d.get("/Type") == "/ExtGState":
            for g in [d] if d.get("/Type") else [f.get(x) for x in d.values()]:
                graphics_state(f, g)


def graphics_state(f, g):
    if "/TR" in g or g.get("/TR2", "/Default") != "/Default" or "/HTP" in g:
        f.no("6.2.5", "a graphics state has a transfer function or a halftone")
    if g.get("/RI", "/Perceptual")[1:] not in INTENTS:
        f.no("6.2.6", "an unknown rendering intent")
    for b in g["/BM"] if isinstance(g.get("/BM"), list) else [g.get("/BM", "/Normal")]:
        if b[1:] not in BLENDS:
            f.no("6.2.10", "a way of blending that ISO 32000-1 does not have")


def pictures(f):
    for ref, d in f.streams():
        if d.get("/Subtype") != "/Image":
            continue
        if "/Alternates" in d or "/OPI" in d:
            f.no("6.2.8", f"picture {ref} has alternatives")
        if d.get("/Interpolate"):
            f.no("6.2.8", f"picture {ref} is to be smoothed")
        if d.get("/Intent", "/Perceptual")[1:] not in INTENTS:
            f.no("6.2.6", "an unknown rendering intent")
        if "/ImageMask" not in d and d.get("/BitsPerComponent", 8) not in (1, 2, 4, 8, 16):
            f.no("6.2.8", f"picture {ref} has {d['/BitsPerComponent']} bits a colour")


def sfnt(data):
    n = struct.unpack(">H", data[4:6])[0]
    return {data[12 + 16 * i:16 + 16 * i]: data[slice(*(lambda o, l: (o, o + l))(*struct.unpack(">II", data[20 + 16 * i:28 + 16 * i])))]
            for i in range(n)}


def advances(t):
    unit = struct.unpack(">H", t[b"head"][18:20])[0]
    many, glyphs = struct.unpack(">H", t[b"hhea"][34:36])[0], struct.unpack(">H", t[b"maxp"][4:6])[0]
    w = [struct.unpack(">H", t[b"hmtx"][4 * i:4 * i + 2])[0] * 1000 / unit for i in range(many)]
    return w + w[-1:] * (glyphs - many)


def shape_of(t, code):
    """By the table (3,1) of Unicode, format 4; None: no such table."""
    c = t.get(b"cmap", b"")
    for i in range(struct.unpack(">H", c[2:4])[0] if c else 0):
        platform, encoding, at = struct.unpack(">HHI", c[4 + 8 * i:12 + 8 * i])
        if (platform, encoding) != (3, 1) or c[at:at + 2] != b"\0\4":
            continue
        n = struct.unpack(">H", c[at + 6:at + 8])[0] // 2
        word = lambda p: struct.unpack(">H", c[p:p + 2])[0]
        for k in range(n):
            end, start = word(at + 14 + 2 * k), word(at + 16 + 2 * n + 2 * k)
            if start <= code <= end:
                delta, place = word(at + 16 + 4 * n + 2 * k), at + 16 + 6 * n + 2 * k
                offset = word(place)
                g = word(place + offset + 2 * (code - start)) if offset else code
                return (g + delta) % 65536 if g else 0
        return 0
    return None


def fonts(f):
    for name, d in f.dicts():
        if d.get("/Type") != "/Font":
            continue
        kind = d.get("/Subtype")
        if kind == "/Type0":
            under = f.get(d["/DescendantFonts"][0])
            if d.get("/Encoding") not in ("/Identity-H", "/Identity-V"):
                f.no("6.2.11.3.3", f"the letters of font {name} are found by a table that is not in the file")
            if under.get("/Subtype") == "/CIDFontType2" and under.get("/CIDToGIDMap") != "/Identity":
                f.no("6.2.11.3.2", f"font {name} does not say which shape each number means")
        elif kind in ("/CIDFontType2", "/CIDFontType0"):
            one_font(f, name, d, sum(([(d["/W"][i] + k, w) for k, w in enumerate(d["/W"][i + 1])] for i in range(0, len(d["/W"]), 2)), []))
            continue
        elif kind == "/Type3":
            f.no("6.2.11.4.1", f"font {name} is drawn by the page, which is not looked into here")
            continue
        else:
            one_font(f, name, d, [(d["/FirstChar"] + i, w) for i, w in enumerate(f.get(d["/Widths"]))])
        to_unicode(f, name, d)


def one_font(f, name, d, widths):
    what = f.get(d.get("/FontDescriptor", {}))
    if "/FontFile2" not in what:
        f.no("6.2.11.4.1", f"font {name} is not in the file, or is no TrueType font, which is not looked into here")
        return
    t = sfnt(f.data(what["/FontFile2"]))
    real = advances(t)
    simple = d["/Subtype"] == "/TrueType"
    if simple and (what["/Flags"] & 4 or d.get("/Encoding") not in ("/WinAnsiEncoding", "/MacRomanEncoding")):
        f.no("6.2.11.6", f"font {name} is symbolic, or has no encoding of its own")
    for code, w in widths:
        shape = shape_of(t, ord(bytes([code]).decode("cp1252", "replace"))) if simple else code
        if shape is None:
            f.no("6.2.11.6", f"font {name} has no table of Unicode letters")
            return
        if w and (shape >= len(real) or abs(real[shape] - w) > 1):
            f.no("6.2.11.5", f"letter {code} of font {name} is not as wide as the page says")


def to_unicode(f, name, d):
    if "/ToUnicode" not in d:
        f.no("6.2.11.7.2", f"font {name} does not say which letters it draws")
        return
    table = f.data(d["/ToUnicode"]).decode("latin-1")
    for block in re.findall(r"beginbf(?:char|range)(.*?)endbf", table, re.S):
        for line in block.strip().splitlines():
            for last in re.findall(r"<([0-9A-Fa-f]+)>", line)[-1:]:
                if last.upper() in ("0000", "FEFF", "FFFE"):
                    f.no("6.2.11.7.2", f"font {name} has a letter that is none")


def attached(f):
    all_files = [d for _, d in f.dicts() if "/EF" in d]
    af = [f.get(x) for x in f.get(f.root.get("/AF", []))]
    for d in all_files:
        if d.get("/AFRelationship") not in ("/Source", "/Data", "/Alternative", "/Supplement", "/Unspecified"):
            f.no("6.8", "a file does not say how it goes with the pages")
        if "/F" not in d or "/UF" not in d:
            f.no("6.8", "a file has no name")
        if d not in af:
            f.no("6.8", "a file goes with nothing in the document")
        stream = f.get(d["/EF"].get("/F"))
        if not re.fullmatch(r"/[\w.+-]+/[\w.+-]+", stream.get("/Subtype", "")):
            f.no("6.8", "a file does not say of which kind it is")
        if not re.fullmatch(r"u:D:\d{14}Z", stream.get("/Params", {}).get("/ModDate", "")):
            f.no("6.8", "a file has no day")


def never(f):
    for key, d in f.dicts():
        if key == "/Annots" or d.get("/Type") == "/Annot":
            f.no("6.3", "there is an annotation, which is not looked into here")
        if d.get("/S") in ("/Launch", "/Sound", "/Movie", "/ResetForm", "/ImportData", "/Hide", "/Rendition", "/Trans", "/JavaScript", "/URI"):
            f.no("6.5.1", "there is an action")
    for key, clause in (("/AcroForm", "6.4.1"), ("/OpenAction", "6.5.1"), ("/AA", "6.5.2"), ("/OCProperties", "6.9"), ("/Requirements", "6.11")):
        if key in f.root:
            f.no(clause, f"the catalogue has {key}")
    if "/AlternatePresentations" in f.get(f.root.get("/Names", {})) or any("/PresSteps" in p for p in pages(f)):
        f.no("6.10", "there are other presentations")
    if "/NeedsRendering" in f.root:
        f.no("6.4.2", "the pages have to be made first")


def metadata(f):
    if "/Metadata" not in f.root:
        f.no("6.6.2.1", "there are no metadata")
        return
    ref = f.root["/Metadata"]
    d, x = f.get(ref), f.data(ref)
    if d.get("/Type") != "/Metadata" or d.get("/Subtype") != "/XML":
        f.no("6.6.2.1", "the metadata are of another kind")
    if not x.startswith(b"<?xpacket begin=") or b"bytes=" in x.split(b"?>")[0] or b"encoding=" in x.split(b"?>")[0]:
        f.no("6.6.2.1", "the packet of the metadata begins otherwise")
    top = ElementTree.fromstring(x.decode("utf-8"))
    say = {}
    for part in top.iter(RDF + "Description"):
        for e in part:
            say[e.tag] = "".join(e.itertext()).strip()
            if not e.tag.startswith((DC, XMP, PDF, ID)):
                f.no("6.6.2.3", f"{e.tag} is of no scheme that is known")
    if (say.get(ID + "part"), say.get(ID + "conformance")) != ("3", "U"):
        f.no("6.6.4", "the metadata do not say PDF/A-3, level U")
    info = f.get(f.trailer.get("/Info", {}))
    plain = lambda key: (info.get(key) or "u:")[2:]
    if plain("/Title") != say.get(DC + "title"):
        f.no("6.6.3", "the title is another one in the metadata")
    if plain("/Producer") != say.get(PDF + "Producer"):
        f.no("6.6.3", "the producer is another one in the metadata")
    day = re.sub(r"\D", "", say.get(XMP + "CreateDate", ""))
    if not re.fullmatch(r"D:\d{14}Z", plain("/CreationDate")) or not day or not plain("/CreationDate")[2:].startswith(day):
        f.no("6.6.3", "the day is another one in the metadata")


def structure(f):
    """What level U does not ask for, and these pages promise all the same: whoever cannot see them has them read out."""
    if f.get(f.root.get("/MarkInfo", {})).get("/Marked") is True:
        if not f.root.get("/Lang", "").startswith("u:"):
            f.no("6.7.4", "the pages do not say their language")
        tags = f.get(f.get(f.root.get("/StructTreeRoot", {})).get("/K"))
        top = [f.get(t) for t in tags] if isinstance(tags, list) else [tags] if tags else []
        if not top:
            f.no("6.7.3", "the pages are called tagged and have no tags")
        # ISO 32000-1, 14.8.4.2: Document is the one root of a structure
        elif len(top) > 1 or top[0].get("/S") != "/Document":
            f.no("6.7.3", f"the tags have not one Document as their root, but {[t.get('/S') for t in top][:5]}")
        # ISO 32000-1, 14.9.3: what a picture shows, in words (memory)
        for _, d in f.dicts():
            if d.get("/S") == "/Figure" and len(d.get("/Alt", "")) < 10:
                f.no("14.9.3", "a figure does not say in words what it shows")


def check(path):
    f = File(path)
    for part in (file_structure, content, colours, pictures, fonts, attached, never, metadata, structure):
        try:
            part(f)
        except (KeyError, TypeError, IndexError, AttributeError, ValueError, struct.error, zlib.error, ElementTree.ParseError) as e:
            f.no(part.__name__, f"cannot be read: {e!r}")
    return sorted(set(f.wrong))


if __name__ == "__main__":
    bad = False
    for p in sys.argv[1:]:
        for line in check(p):
            print(f"{p}: {line}")
            bad = True
    sys.exit(bad)
