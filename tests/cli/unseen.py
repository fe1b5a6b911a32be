"""unseen.py PROGRAM FOLDER: what gives a terminal orders, or reads as something else, in every field and every file name of each
command. Nothing of it comes out raw, neither on standard output nor on standard error, nor does it begin a line of its own."""
import os, re, shutil, subprocess, sys, tempfile, unicodedata

program, base = os.path.abspath(sys.argv[1]), sys.argv[2]
os.chdir(base)
env = dict(os.environ, TENTERBOOK_BOOK="shed.db", TENTERBOOK_WHO="Ada Fell", TENTERBOOK_CLOCK="1793664000", TENTERBOOK_DEBUG="1", LC_ALL="C.UTF-8")
# ESC, C1, a direction, no width, a separator of lines, a line end, one that goes back: and a byte that is no text
MARKS = "\033[31m\u009b1m\u202e\u2066\u200b\u200d\ufeff\u00ad\u2028"
NAMES = [b"a" + MARKS.encode() + b"\nFAKE line\rFAKE\tz", b"a\xff\x9b31mz"]
SAID = ["a" + MARKS + "z", "a\nb\rc\tz\u202e\u200b\u2028\ufeff"]  # refused, and not
if os.environ.get("TENTERBOOK_SOAK"):
    NAMES += [b"a\033]0;title\007z", b"a\nFAKE\xc2\x9b31m"]
    SAID += ["a\u009b31mz", "a\u202ez", "a\u2067b\u2069z", "a\u00adb\U000e0041z", "a\nFAKE"]
tried, bad = 0, []
made = tempfile.TemporaryDirectory()


def raw(out, line_ends):
    """The first thing in an output that must not be there, or None."""
    try:
        text = out.decode()
    except UnicodeDecodeError as e:
        return "bytes that are no text: %r" % out[e.start - 10:e.end + 10]
    for i, c in enumerate(text):
        if c not in "\n\t" and unicodedata.category(c) in ("Cc", "Cf", "Zl", "Zp"):
            return "U+%04X in %r" % (ord(c), text[max(0, i - 30):i + 20])
    if not line_ends and re.search("^FAKE", text, re.M):
        return "a line of its own: %r" % text[-200:]
    return None


def run(args, line_ends=False, who=None, keep=False):
    global tried
    tried += 1
    e = dict(env)
    if who is not None:
        e["TENTERBOOK_WHO"] = who
    p = subprocess.run([program] + args, env=e, stdin=subprocess.DEVNULL, capture_output=True, timeout=60)
    for name, out in ("output", p.stdout), ("error", p.stderr):
        what = raw(out, line_ends)
        if what:
            bad.append("%r: standard %s has %s" % (args, name, what))
    if p.returncode not in (0, 1, 2, 3):
        bad.append("%r: exit code %d" % (args, p.returncode))
    return p.returncode


def tell(what, before):
    now = bad[before:]
    print(("not ok" if now else "ok") + " - " + what)
    for b in now[:12]:
        print("# " + b)


def book():
    """A book with one of everything, so that each command has something to answer about: made once, then copied."""
    for f in os.listdir("."):
        shutil.rmtree(f) if os.path.isdir(f) else os.remove(f)
    if os.listdir(made.name):
        return shutil.copytree(made.name, ".", dirs_exist_ok=True)
    for name, roll in ("list.csv", "00"), ("more.csv", "01"):
        with open(name, "w") as f:
            f.write("Supplier,Delivery note,Article,Roll,Length m,Composition,Unit price,Currency\n")
            f.write("Alder Mill,N-{0},Plain 40,{0}1,50,100% silk,9,EUR\nAlder Mill,N-{0},Plain 40,{0}2,48,100% silk,9,EUR\n".format(roll))
    for a in (["new", "--code", "W"], ["set", "flame", "yes"], ["receive", "list.csv"], ["cut", "001"], ["cut", "--known", "100% wool"],
              ["burn", "W26-001.01.01", "--saw", "residue_form:hard_bead"], ["cut", "001", "--kept", "a"], ["cut", "001", "--kept", "b"],
              ["cut", "001", "--kept", "c"], ["keep", "copy.db"], ["drill", "deal", "--to", "Wren", "--count", "1"]):
        if run(a):
            bad.append("%r: the book could not be made" % a)
    return shutil.copytree(".", made.name, dirs_exist_ok=True)


def options():
    """Of each command its options with a value: (command, option, what the value is called)"""
    names = re.findall(r"^  (\w+)  ", subprocess.run([program, "help"], capture_output=True, text=True).stdout, re.M)
    for c in names:
        for o, v in re.findall(r"^  --([\w-]+) ([A-Z]\S*)", subprocess.run([program, c, "--help"], capture_output=True, text=True).stdout, re.M):
            yield c, o, v


# What a command is given besides, so that it comes as far as looking at the option.
GIVEN = {"cut": ["002"], "burn": ["W26-001.01.01", "--saw", "smoke:black"], "try": ["W26-001.01.01", "--test", "acetone", "--result", "stays"],
         "settle": ["W26-001.01", "--as", "held", "--why", "slip"], "use": ["002", "--anyway", "--why", "slip"], "declare": ["W26-001.01", "--text", "100% wool", "--slip", "--anyway", "--why", "slip"],
         "dispute": ["W26-001.01", "--opened", "--words", "x"], "terms": ["Alder Mill", "--open", "5"], "share": ["W26-001.01", "--laboratory", "L", "--present", "P"],
         "drill": ["deal", "--to", "Wren", "--count", "1"], "assay": ["W26-001.01", "--found", "100% wool", "--uncertainty", "1", "--laboratory", "L"], "label": ["W26-001.01", "--market", "gb"],
         "judge": ["--declared", "100% wool"], "receive": ["more.csv", "--dry-run"], "look": ["W26-001.01"], "case": ["W26-001.01"], "tags": ["W26-001.01"],
         "draw": ["W26-001.01"], "keep": ["copies"], "restore": ["copy.db", "--aside", "--lacks", "1"], "record": ["Alder Mill"], "sheet": [], "prove": [], "lots": [],
         "day": ["--hours", "1"]}


def given(command, option):
    """The same without an option that is about to be tried: it is not asked for twice."""
    a = GIVEN.get(command, [])
    at = a.index("--" + option) if "--" + option in a else len(a)
    return a[:at] + a[at + 2:]


before = len(bad)
for c in GIVEN:
    book()
    if run([c] + GIVEN[c]):
        bad.append("%r fails by itself" % ([c] + GIVEN[c]))
tell("what a command is given besides is what it takes", before)

before = len(bad)
book()
for c, o, v in options():
    for s in SAID:
        value = "smoke:" + s if o in ("saw", "not") else s
        run([c] + given(c, o) + ["--" + o, value])
    run([c] + given(c, o) + ["--" + o, SAID[1], "--json"])
tell("what is said of anything comes out as text", before)

before = len(bad)
for c in sorted({c for c, _, _ in options()} | {"set", "anchor", "help", "nosuch"}):
    for s in SAID + NAMES:
        run([c, s])
        run([c] + GIVEN.get(c, [])[:1] + [s], line_ends=c in ("judge", "declare"))  # a declaration may have lines
    for s in NAMES:
        run([c, b"--" + s if isinstance(s, bytes) else "--" + s])
        run([c, "--json", s])
for s in NAMES:
    run([s])
    run([b"--" + s, "lots"])
    run(["--book", s, "lots"])
    run(["lots"], who=s)
    run(["cut", "002"], who=s)
for s in SAID:
    run(["cut", "002"], who=s)
    run(["set", "name", s])
for a in (["look", "W26-001.01"], ["look", "W26-001.01.01"], ["lots"], ["terms"], ["dispute"], ["record"], ["drill"], ["set"], ["prove"], ["look", "--known"], ["share", "W26-001.01", "--show"]):
    run(a, line_ends=True)  # a note may have lines
    run(a + ["--json"])
tell("arguments, options, names of people and of settings too, and all of it when it is looked at again", before)

before = len(bad)
for n in NAMES:
    at = lambda end: n + end
    book()
    shutil.copy("list.csv", at(b".csv"))
    with open(at(b".png"), "wb") as f:
        f.write(b"\x89PNG\r\n\x1a\n\0\0\0\0IEND\xae\x42\x60\x82")
    with open(at(b".burns.csv"), "w") as f:
        f.write("lot,bolt,part,at,saw,not,looked\nW26-001.09,002,,2026-10-05T07:00,odour:burning_paper,,\n")
    with open(at(b".bad.csv"), "w") as f:
        f.write("Supplier,Delivery note,Article,Roll,Length m,Composition\nA,N-2,P,x,long,100% silk\nA,N-2,P,x,5 m,100% silk\n")
    for json in ([], ["--json"])[:1 + (n is NAMES[0])]:
        for a in (["receive", at(b".csv"), "--dry-run"], ["receive", at(b".bad.csv")], ["receive", at(b".none.csv")], ["receive", at(b".png")],
                  ["burn", "W26-001.01.01", "--saw", "smoke:black", "--photo", at(b".png")], ["burn", "W26-001.01.01", "--saw", "smoke:black", "--photo", at(b".csv")],
                  ["burn", "--from", at(b".burns.csv")], ["burn", "--from", at(b".none")], ["judge", "--from", at(b".csv")], ["record", "--from", at(b".csv")],
                  ["day", "--hours", "1", "--from", at(b".csv")], ["assay", "--mixture", "cotton/polyester", "--dissolved", "cotton", "--masses", at(b".csv")],
                  ["dispute", "W26-001.01", "--opened", "--words", "x"], ["dispute", "W26-001.01", "--notified", "--by", "post", "--proof", "R", "--document", at(b".png")],
                  ["keep", at(b".db")], ["keep", at(b".db")], ["keep", "--every", "day", "--hold", "1", at(b".folder")], ["--book", at(b".new.db"), "new"], ["--book", at(b".new.db"), "new"],
                  ["--book", at(b".new.db"), "key"], ["--book", at(b".new.db"), "restore", at(b".db"), "--aside"], ["restore", at(b".none.db")], ["restore", at(b".csv"), "--aside"],
                  ["key", "--make", at(b".key")], ["key", "--make", at(b".key")], ["key", "--take", at(b".key")], ["key", "--take", at(b".csv")], ["prove", "--case", at(b".png")],
                  ["prove", "--case", at(b".none.pdf")], ["prove", "--case", at(b".pdf"), "--against", at(b".new.db")], ["draw", "--bolts", "20", "--false", "4", "--curve", at(b".svg")],
                  ["tags", "W26-001.01", "--out", at(b".pdf")], ["tags", "W26-001.01", "--out", at(b"/t.pdf")], ["case", "W26-001.01", "--out", at(b".pdf")], ["case", "W26-001.01", "--notice", "--out", at(b".pdf")],
                  ["sheet", "--month", "2026-10", "--out", at(b".xlsx")], ["sheet", "--month", "2026-10", "--out", at(b".csv")], ["look", "W26-001.01"], ["look", "W26-001.01.01"]):
            run(a + json)
        if not os.path.exists(at(b".folder")):
            os.mkdir(at(b".folder"))
tell("file names come out as one line of text", before)

before = len(bad)
for s in SAID + ["a\nFAKE line", "\033]0;title\007x"]:
    book()
    cell = '"%s"' % s
    for n, row in enumerate(("A,N-{n},{c},002,5,100% silk", "{c},N-{n},P,003,5,100% silk", "A,N-{n}{c},P,004,5,100% silk", "A,N-{n},P,{c},5,100% silk", "A,N-{n},P,005,{c},100% silk",
                             "A,N-{n},P,006,5,{c}", "A,N-{n},P,007,5,100% {c}")):
        with open("cell.csv", "w") as f:
            f.write("Supplier,Delivery note,Article,Roll,Length m,Composition\n" + row.format(n=n, c=cell) + "\n")
        run(["receive", "cell.csv", "--dry-run"], line_ends=True)
        run(["receive", "cell.csv"], line_ends=True)
    with open("cell.csv", "w") as f:
        f.write("Supplier,Delivery note,Article,%s,Length m,Composition\nA,N-9,P,1,5,100%% silk\n" % cell)
    run(["receive", "cell.csv"], line_ends=True)
    for a in ["lots"], ["look", "W26-002.01"], ["look", "W26-003.01"], ["draw", "W26-002"], ["terms"]:
        run(a, line_ends=True)
        run(a + ["--json"])
tell("so does what stands in a packing list", before)
print("# %d tried, %d survived" % (tried, tried - len(bad)))
sys.exit(bool(bad))
