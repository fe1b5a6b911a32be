"""What is void counts nowhere: two books, one with a record that was made by mistake and voided, one without it ever.

usage: void_twins.py TENTERBOOK, in an empty folder. Every page must say the same of both, but for the history: ids, rows of the
journal and digests, and what is said to be void. Prints a sentence for each kind of record.
"""
import csv
import glob
import json
import os
import re
import subprocess
import sys
import time

TB = sys.argv[1]
COTTON = "odour:burning_paper,residue_form:light_fluffy_ash,in_flame:burns_fast"
POLYESTER = "approach:shrinks_away,smoke:black,residue_form:hard_bead,odour:sweet"
LIST = """Bolt No,Length m,Article,Composition,Unit price EUR
B1,50,crepe 9,100% cotton,18
B2,48.5,crepe 9,100% cotton,18
B3,51,crepe 9,100% cotton,18
B4,60.25,drill 10,100% cotton,4
B5,61,drill 10,100% cotton,4
"""


DAY = 24 * 60 * 60


class Book:
    def __init__(self, folder):
        os.mkdir(folder)
        self.folder = folder
        self.clock = 1795694400  # 2026-11-26T12:00:00Z

    def run(self, *args, fine=True):
        self.clock += 60
        env = dict(os.environ, TENTERBOOK_CLOCK=str(self.clock), TENTERBOOK_WHO="Ada", TENTERBOOK_BOOK="shed.db", LC_ALL="C.UTF-8")
        p = subprocess.run([TB, *args], cwd=self.folder, env=env, capture_output=True, text=True)
        if fine and p.returncode != 0:
            sys.exit(f"{self.folder}: {args}: {p.returncode} {p.stderr}")
        return p.stdout

    def skip(self):
        """The moment passes without a record."""
        self.clock += 60

    def moment(self):
        return time.strftime("%Y-%m-%dT%H:%M:%SZ", time.gmtime(self.clock))

    def json(self, *args):
        return json.loads(self.run(*args, "--json"))

    def receive(self, name, text, supplier, note, day="2026-10-05"):
        with open(f"{self.folder}/{name}", "w") as f:
            f.write(text)
        self.run("receive", name, "--supplier", supplier, "--note", note, "--on", day, "--yes")

    def burn(self, tag, cues):
        return self.json("burn", tag, "--saw", cues)["burn"]

    def void(self, name, *more):
        self.run("void", name, "--why", "by mistake", "--yes", *more)


def begin(b, first, wrong):
    b.run("new", "--code", "M", "--name", "Mill Lane", "--country", "GB")
    b.run("set", "flame", "yes")
    b.receive("one.csv", first, *(("Ohm Weevers", "N-7", "2026-11-02") if wrong else ("Ohm Weavers", "N-1")))
    b.receive("more.csv", LIST.replace("\nB", "\nM").replace("crepe", "satin"), "Ohm Weavers", "N-2")
    b.run("terms", "Ohm Weavers", "--country", "DE", "--open", "5", "--hidden", "5", "--in", "order 4471")
    b.run("cut", "B1", "--lot", "M26-001.01")
    b.burn("M26-001.01.01", COTTON)
    b.run("cut", "B4", "--lot", "M26-001.02")
    b.run("settle", "M26-001.02", "--as", "released", "--why", "needed")


def end(b):
    """What goes on after the mistake was put right: the same in both books."""
    b.clock = 1795694400 + 7 * DAY
    b.run("cut", "B3", "--lot", "M26-001.01", "--kept", "drawer 4")
    b.burn("M26-001.01.%02d" % (len(b.json("look", "M26-001.01")["swatch_list"])), COTTON)
    b.run("draw", "M26-001.01", "--seed", "2026-a")
    b.run("use", "B3", "--lot", "M26-001.01", "--metres", "2", fine=False)


# Each: what only the first book does, between begin() and end(). The second lets the same moments pass.
def wrong_burn(b):
    b.void(b.burn("M26-001.02.01", POLYESTER))


def wrong_test(b):
    b.void(b.json("try", "M26-001.02.01", "--test", "acetone", "--result", "dissolves")["bench_test"])


def wrong_correction(b):
    first = b.json("look", "M26-001.01")["burn_list"][0]["burn"]
    b.void(b.json("burn", "M26-001.01.01", "--saw", POLYESTER, "--corrects", first, "--rest")["burn"])


def seen_wrong(b):
    """Corrected, not void: the page of the lot tells of it, and nothing else does."""
    slip = b.burn("M26-001.01.01", POLYESTER)
    b.clock += 2 * DAY
    b.json("burn", "M26-001.01.01", "--saw", COTTON, "--corrects", slip, "--afresh")


def seen_right(b):
    b.skip()
    at = b.moment()
    b.clock += 2 * DAY
    b.run("burn", "M26-001.01.01", "--saw", COTTON, "--at", at)


def tested_wrong(b):
    slip = b.json("try", "M26-001.01.01", "--test", "acetone", "--result", "dissolves")["bench_test"]
    b.json("try", "M26-001.01.01", "--test", "acetone", "--result", "stays", "--corrects", slip)


def tested_right(b):
    b.skip()
    at = b.moment()
    b.run("try", "M26-001.01.01", "--test", "acetone", "--result", "stays", "--at", at)


def wrong_swatch(b):
    b.run("cut", "B5", "--lot", "M26-001.02", "--kept", "drawer 9")
    b.burn("M26-001.02.02", POLYESTER)
    b.run("try", "M26-001.02.02", "--test", "acetone", "--result", "dissolves")
    b.void("M26-001.02.02")


def wrong_bolt(b):
    b.run("cut", "B9", "--lot", "M26-001.02")
    b.burn("M26-001.02.02", POLYESTER)
    b.run("use", "B9", "--lot", "M26-001.02", "--anyway", "--why", "slip")
    b.void("B9", "--lot", "M26-001.02")


def wrong_decided_bolt(b):
    b.run("settle", "M26-001.02", "--bolt", "B9", "--as", "returned", "--why", "slip")
    b.void("b9", "--lot", "m26-1.2")


def wrong_lot(b):
    b.run("cut", "G1")
    b.burn("M26-001.03.01", POLYESTER)
    b.void("M26-001.03")


def wrong_delivery(b):
    b.receive("ghost.csv", LIST.replace("\nB", "\nG").replace("crepe", "voile"), "Ghost Mill", "N-3")
    b.run("cut", "G1", "--lot", "M26-003.01")
    b.burn("M26-003.01.01", POLYESTER)
    b.run("settle", "M26-003.02", "--as", "returned", "--why", "slip")
    b.void("M26-003")


def wrong_void(b):
    b.void("M26-001.01.01")
    b.run("void", "M26-001.01.01", "--back", "--why", "it was right")


def wrong_facts(b):
    b.run("amend", "M26-001", "--on", "2026-10-05", "--note", "N-1", "--supplier", "Ohm Weavers", "--why", "slips")


def wrong_spelling(b):
    b.run("amend", "M26-001", "--on", "2026-10-05", "--note", "N-1", "--why", "slips")
    b.run("supplier", "Ohm Weevers", "--same-as", "Ohm Weavers", "--why", "letterhead")


KINDS = [
    (wrong_burn, LIST, "a void burn counts nowhere, and the hold it made is lifted"),
    (wrong_test, LIST, "a void bench test counts nowhere"),
    (seen_wrong, LIST, "a burn that was typed wrong and corrected is as if it had been typed right", seen_right),
    (tested_wrong, LIST, "a bench test that was typed wrong and corrected is as if it had been typed right", tested_right),
    (wrong_correction, LIST, "a void correction leaves the burn it corrected as it was"),
    (wrong_swatch, LIST, "a void swatch counts nowhere, with its burns and tests"),
    (wrong_bolt, LIST + "B9,17,drill 10,100% cotton,4\n", "a void bolt counts nowhere, with all that was done with it"),
    (wrong_decided_bolt, LIST + "B9,17,drill 10,100% cotton,4\n", "a void bolt counts nowhere, with what was decided about it"),
    (wrong_lot, LIST + "G1,70,voile 3,100% cotton,4\n", "a void lot counts nowhere, with all that was done with it"),
    (wrong_delivery, LIST, "a void delivery counts nowhere, with its lots and its supplier"),
    (wrong_void, LIST, "what was voided by mistake and counts again is as it was"),
    (wrong_facts, LIST, "a delivery that was amended is what it would be had it been written so at first"),
    (wrong_spelling, LIST, "two spellings of a supplier are one everywhere"),
]


HISTORY = ("supplier_on_papers", "void", "voidings", "amended", "written", "journal_row", "corrects", "corrected_burns", "corrected_tests")


def plain(value):
    """Without ids and without the history."""
    if isinstance(value, dict):
        return {k: plain(v) for k, v in value.items() if k not in HISTORY}
    if isinstance(value, list):
        return [plain(v) for v in value if not (isinstance(v, dict) and (v.get("void") is True or v.get("in_force") is False))]
    if isinstance(value, str):
        return re.sub(r"\b[0-9a-v]{26}\b", "(id)", re.sub(r"\b[0-9a-f]{64}\b", "(digest)", value))
    return value


def tables(b, pattern):
    """The CSV twins of a paper, without the lines that tell where the journal ends and who wrote when."""
    out = {}
    for path in sorted(glob.glob(f"{b.folder}/{pattern}")):
        if "custody" in path:
            continue
        with open(path, newline="", encoding="utf-8-sig") as f:
            rows = [[plain(c) for c in row] for row in csv.reader(f)]
        out[os.path.basename(path)] = [r for r in rows if not any("journal" in c or "(digest)" in c for c in r)]
    return out


def pages(b):
    """Everything the program says of a book."""
    out = {}
    lots = b.json("lots")
    for name, args in {
        "lots": ["lots"],
        "judge --all": ["judge", "--all"],
        "record": ["record"],
        "record of the supplier": ["record", "Ohm Weavers"],
        "day": ["day", "--hours", "8"],
        "draw": ["draw", "M26-001.01", "--proof"],
        "claims": ["dispute"],
        "todo": ["todo"],
        "look at a delivery": ["look", "M26-001"],
        "look at a swatch": ["look", "M26-001.01.01"],
        "terms": ["terms"],
    }.items():
        out[name] = b.json(*args)
    for ref in ("M26-001.01", "M26-001.02"):
        out["look " + ref] = b.json("look", ref)
        out["judge " + ref] = b.json("judge", ref)
    b.run("sheet", "--month", "2026-10", "--market", "eu", "--out", "oct.xlsx")
    b.run("sheet", "--month", "2026-11", "--market", "eu", "--out", "nov.xlsx")
    b.run("case", "M26-001.01", "--out", "c.pdf")
    out.update(tables(b, "oct*.csv"))
    out.update(tables(b, "nov*.csv"))
    out.update(tables(b, "c*.csv"))
    out["refs"] = [x["lot"] for x in lots]
    return plain(out)


def differences(a, b, at=""):
    if type(a) is not type(b):
        return [f"{at}: {a!r} and {b!r}"]
    if isinstance(a, dict):
        return [d for k in sorted(set(a) | set(b)) for d in differences(a.get(k), b.get(k), f"{at}/{k}")]
    if isinstance(a, list):
        if len(a) != len(b):
            return [f"{at}: {len(a)} and {len(b)}: {a!r} and {b!r}"]
        return [d for i, (x, y) in enumerate(zip(a, b)) for d in differences(x, y, f"{at}[{i}]")]
    return [] if a == b else [f"{at}: {a!r} and {b!r}"]


bad = 0
for act, first, sentence, *instead in [k for k in KINDS if k[0].__name__ in sys.argv[2:] or not sys.argv[2:]]:
    one, other = Book(act.__name__), Book(act.__name__ + "-never")
    for b, its_list in ((one, first), (other, LIST)):
        begin(b, its_list, b is one and act in (wrong_facts, wrong_spelling))
        if b is one:
            act(b)
        else:
            for right in instead:
                right(b)
        end(b)
    found = differences(pages(one), pages(other))
    if "Everything fits" not in one.run("prove"):
        found.append("the book does not prove")
    print(("not ok - " if found else "ok - ") + sentence)
    for d in found[:20]:
        print("# " + d[:300])
    bad += bool(found)
sys.exit(1 if bad else 0)
