"""one_story.py PROGRAM - histories of lots, and whether every list and paper tells one story of each.

Each history has a supplier and a lot of its own in one book, and says what must be concluded: the word, what it rests on, the
markets, why a lot is open, and how it stands. All names are invented.
"""
import csv
import json
import os
import subprocess
import sys

PROGRAM = os.path.abspath(sys.argv[1])
MELTS = "approach:shrinks_away,smoke:black,residue_form:hard_bead,odour:sweet"  # 1 to 46 against cotton
PAPER = "approach:ignites_easily,odour:burning_paper,residue_form:light_fluffy_ash,removed:afterglow"
DRIPS = "approach:shrinks_away,in_flame:drips,smoke:black,odour:chemical_plastic,residue_form:hard_bead"
SILK = "approach:shrinks_away,in_flame:burns_slow,removed:self_extinguishes,odour:burning_hair,residue_form:crushable_char"
UNSURE = "odour:burning_paper"
AGAINST = "smoke:black"


def run(*words, who="Ada", code=0):
    done = subprocess.run([PROGRAM, *words], capture_output=True, text=True, env={**os.environ, "TENTERBOOK_WHO": who})
    if done.returncode != code:
        sys.exit(f"not ok - {' '.join(words)}: exit {done.returncode}\n# {done.stderr}\n# {done.stdout}")
    return done.stdout


def burn(saw, who="Ada", swatch=1):
    return lambda lot: run("burn", f"{lot}.{swatch:02}", "--saw", saw, who=who)


def cut(*words):
    return lambda lot: run("cut", *words)


def found(what, u="0.3", *markets):
    return lambda lot: run("assay", lot, "--found", what, "--uncertainty", u, "--laboratory", "Weir Laboratory",
                           *[w for m in markets for w in ("--market", m)])


def settle(*words):
    return lambda lot: run("settle", lot, *words, "--why", "decided so")


def dispute(*words):
    return lambda lot: run("dispute", lot, *words)


def answered(words):
    """What the supplier writes of clear words is no declaration: it is refused, and the lot is measured as it came."""
    def act(lot):
        said = run("declare", lot, "--text", words, "--why", "the supplier wrote", code=1)
        if said:
            sys.exit(f"not ok - declare {lot}: answered {said}")
    return act


def void(what, which=0):
    """The record of a burn or of an analysis of the lot, by its place in the page of the lot."""
    def act(lot):
        story = json.loads(run("look", lot, "--json"))
        run("void", story[what][which]["burn"], "--why", "of another cloth", "--yes")
    return act


def test(name, result, swatch=1):
    return lambda lot: run("try", f"{lot}.{swatch:02}", "--test", name, "--result", result)


KNITTED = "knitted, listed by both, and a bolt of it went back"
CONFORMS, NOT, NOTHING, OPEN = "conforms", "does not conform", "no finding against it", "open"
COTTON = "100% cotton"
# name, declared, acts, word, by, markets, why open, standing
HISTORIES = [
    ("nothing was looked at", COTTON, [], OPEN, "", "", "nothing looked at", "waiting"),
    ("a burn fits", COTTON, [burn(PAPER)], NOTHING, "burning", "", "", "waiting"),
    ("a burn contradicts", COTTON, [burn(MELTS)], NOT, "burning", "", "", "held"),
    ("a burn speaks against", COTTON, [burn(AGAINST)], OPEN, "burning", "", "speaks against", "waiting"),
    ("a burn is undecided", COTTON, [burn(UNSURE)], OPEN, "burning", "", "undecided", "waiting"),
    ("it fits, and a laboratory finds it so", "65% cotton 35% polyester",
     [burn(PAPER), found("65% cotton 35% polyester", "0.3", "eu", "us")],
     CONFORMS, "laboratory", "eu us", "", "waiting"),
    ("it fits, and a laboratory finds other shares", "65% cotton 35% polyester",
     [burn(PAPER), found("50% cotton 50% polyester", "0.3", "eu", "us")], NOT, "laboratory", "eu us", "", "held"),
    ("it contradicts, and so does a laboratory", COTTON, [burn(MELTS), found("100% polyester", "0.3", "eu")],
     NOT, "laboratory", "eu", "", "held"),
    ("it speaks against, and a laboratory finds it kept", COTTON, [burn(AGAINST), found(COTTON, "0.3", "eu")],
     CONFORMS, "laboratory", "eu", "", "waiting"),
    ("aramid, undecided, that a laboratory finds to be cotton", "100% aramid",
     [burn(UNSURE), found(COTTON, "0.3", "eu", "us")], NOT, "laboratory", "eu us", "", "held"),
    ("a laboratory that cannot say within its uncertainty", "60% cotton 40% polyester",
     [burn(PAPER), found("57% cotton 43% polyester", "1.5", "eu")], OPEN, "laboratory", "eu", "laboratory undecided", "waiting"),
    ("two markets that differ", "100% cotton",
     [found("98% cotton 2% polyester", "0.1", "eu", "us")], NOT, "laboratory", "us", "", "held"),
    ("relabelled after it contradicts", COTTON,
     [burn(MELTS), settle("--as", "relabelled", "--new", "100% polyester", "--goods-of", "own")],
     NOT, "burning", "", "", "relabelled"),
    ("returned for being late", COTTON, [settle("--as", "returned")], OPEN, "", "", "nothing looked at", "returned"),
    ("the burn that contradicts is void, and the return stays", COTTON,
     [burn(MELTS), settle("--as", "returned"), void("burn_list")], OPEN, "", "", "nothing looked at", "returned"),
    ("the analysis is corrected", COTTON,
     [burn(PAPER), found("100% polyester", "0.3", "eu"),
      lambda lot: run("assay", lot, "--found", COTTON, "--uncertainty", "0.3", "--market", "eu", "--corrects",
                      json.loads(run("look", lot, "--json"))["analyses"][0]["id"])],
     CONFORMS, "laboratory", "eu", "", "waiting"),
    ("a second burn by another person", COTTON, [burn(UNSURE), burn(PAPER, who="Ben")], NOTHING, "burning", "", "", "waiting"),
    ("a test without a flame against a burn", COTTON, [burn(AGAINST), test("microscope", "twisted_ribbon")],
     None, "bench test", "", None, None),
    ("a burn typed days later", COTTON,
     [cut("{n}B", "--at", "2026-11-21T09:00"),
      lambda lot: run("burn", f"{lot}.02", "--saw", MELTS, "--at", "2026-11-22T09:00")], NOT, "burning", "", "", "held"),
    ("released in part", COTTON, [burn(PAPER), settle("--bolt", "{n}B", "--as", "released")],
     NOTHING, "burning", "", "", "released in part"),
    ("a single bolt is held in a released lot", COTTON,
     [burn(PAPER), settle("--as", "released"), settle("--bolt", "{n}B", "--as", "held")],
     NOTHING, "burning", "", "", "released in part"),
    ("one bolt of two contradicts", COTTON, [cut("{n}B"), burn(PAPER), burn(MELTS, swatch=2)], NOT, "burning", "", "", "held"),
    ("released, and a laboratory then finds it broken", COTTON,
     [burn(PAPER), settle("--as", "released"), found("100% polyester", "0.3", "eu")], NOT, "laboratory", "eu", "", "held"),
    ("words that nobody can read", "wonder fibre", [burn(PAPER)], OPEN, "burning", "", "words not readable", "waiting"),
    ("cloth without words", "", [], OPEN, "", "", "words not readable", "waiting"),
    ("asbestos is declared", "100% asbestos", [], OPEN, "", "", "nothing looked at", "waiting"),
    ("a blend that fits", "60% cotton 40% polyester", [burn("odour:burning_paper,residue_form:hard_bead,smoke:black")],
     None, "burning", "", None, None),
    ("two laboratories that contradict each other", COTTON,
     [burn(PAPER), found("100% polyester", "0.3", "eu"),
      lambda lot: run("assay", lot, "--found", COTTON, "--uncertainty", "0.3", "--market", "eu", "--laboratory", "Other Lab",
                      "--anyway")],
     OPEN, "laboratory", "eu", "laboratories disagree", "held"),
    ("one laboratory that cannot say, further from another than both allow", "65% polyester 35% cotton",
     [found("75% polyester 25% cotton", "1", "eu"),
      lambda lot: run("assay", lot, "--found", "67% polyester 33% cotton", "--uncertainty", "1", "--market", "eu", "--laboratory", "Other Lab",
                      "--anyway")],
     OPEN, "laboratory", "eu", "laboratories disagree", "held"),
    ("silk is declared, and it burns as polyester", "100% silk", [burn(DRIPS)], NOT, "burning", "", "", "held"),
    ("silk is declared, and a laboratory finds polyester", "100% silk", [burn(DRIPS), found("100% polyester", "0.3", "eu")],
     NOT, "laboratory", "eu", "", "held"),
    ("an answer before the first burn", "100% silk", [answered("100% polyester"), burn(DRIPS)], NOT, "burning", "", "", "held"),
    ("an answer while the swatch is at the laboratory", "100% silk",
     [lambda lot: run("assay", lot, "--sent-to", "Weir Laboratory", "--swatch", f"{lot}.01"), answered("100% polyester"),
      found("100% polyester", "0.3", "eu")], NOT, "laboratory", "eu", "", "held"),
    ("an answer after a burn that decides nothing", COTTON, [burn(AGAINST), answered("100% polyester"), burn(MELTS, who="Ben")],
     None, "burning", "", None, None),
    ("goods sent back as agreed, for no amount yet", COTTON,
     [burn(MELTS), dispute("--opened", "--words", "no cotton"), dispute("--notified", "--by", "post", "--proof", "RN 1"),
      dispute("--agreed", "return"), settle("--as", "returned")], NOT, "burning", "", "", "returned"),
    (KNITTED, COTTON,
     [burn(MELTS), dispute("--opened", "--words", "not cotton", "--amount", "240", "--currency", "EUR"),
      settle("--bolt", "{n}B", "--as", "returned")], NOT, "burning", "", "", "held in part"),
    ("one person burns silk, and then what melts", "100% silk", [cut("{n}A"), burn(SILK), burn(DRIPS, swatch=2)],
     OPEN, "burning", "", "undecided", "waiting"),
    ("what melts holds it, and the same person then burns silk", "100% silk", [cut("{n}A"), burn(DRIPS), burn(SILK, swatch=2)],
     OPEN, "burning", "", "undecided", "held"),
    ("and another person burns silk too", "100% silk",
     [cut("{n}A"), burn(DRIPS), burn(SILK, swatch=2), cut("{n}A"), burn(SILK, who="Ben", swatch=3)],
     OPEN, "burning", "", "undecided", "held"),
    ("and two other persons burn silk too", "100% silk",
     [cut("{n}A"), burn(DRIPS), burn(SILK, swatch=2), cut("{n}A"), burn(SILK, who="Ben", swatch=3),
      cut("{n}A"), burn(SILK, who="Cy", swatch=4)], NOTHING, "burning", "", "", "held"),
    ("and what melts was mixed up and is void", "100% silk",
     [cut("{n}A"), burn(DRIPS), burn(SILK, swatch=2), void("burn_list", 0)], NOTHING, "burning", "", "", "waiting"),
    ("two persons say opposite things of one bolt", "100% silk",
     [cut("{n}A"), burn(SILK), burn(DRIPS, who="Ben", swatch=2)], OPEN, "burning", "", "undecided", "waiting"),
    # the last: a lot that a laboratory clears narrows how far a ratio goes, and then no burn contradicts
    ("it contradicts, and a laboratory finds it kept", COTTON, [burn(MELTS), found(COTTON, "0.3", "eu")],
     CONFORMS, "laboratory", "eu", "", "held"),
]

# Burns of one bolt that cannot all be true of it: no page takes a side.
ODD = ("one person burns silk, and then what melts", "what melts holds it, and the same person then burns silk",
       "and another person burns silk too", "two persons say opposite things of one bolt")

count = 0


def ok(sentence, condition, *told):
    global count
    count += 1
    print(("ok - " if condition else "not ok - ") + sentence)
    if not condition:
        for t in told:
            print("# " + str(t).replace("\n", "\n# "))


def numbered(act, n):
    """Acts that name a bolt have a place for the number of the history."""
    if act.__closure__:
        words = [c.cell_contents for c in act.__closure__ if isinstance(c.cell_contents, (str, tuple))]
        if any("{n}" in str(w) for w in words):
            if act.__qualname__.startswith("settle"):
                return settle(*[w.format(n=n) for w in words[0]])
            return cut(*[w.format(n=n) for w in words[0]])
    return act


def make():
    run("new", "--code", "M", "--name", "Mill Lane", "--country", "GB")
    run("set", "flame", "yes")
    lots = {}
    for n, (name, declared, acts, *_) in enumerate(HISTORIES):
        path = f"{n}.csv"
        with open(path, "w") as f:
            if name == KNITTED: # 20 and 10 kg at 8 EUR are 240, the second 80
                f.write("Bolt No,Length m,Net kg,Price per kg,Currency,Article,Composition\n"
                        f"{n}A,50,20,8,EUR,cloth {n},{declared}\n{n}B,25,10,8,EUR,cloth {n},{declared}\nTotal,75,30,,,,\n")
            else:
                f.write("Bolt No,Length m,Article,Composition,Unit price,Currency\n" +
                        "".join(f"{n}{b},{m},cloth {n},{declared},4,EUR\n" for b, m in (("A", 50), ("B", 25))))
        run("receive", path, "--supplier", f"Supplier {n:02}", "--note", f"N-{n}", "--on", "2026-11-20", "--yes")
        lot = f"M26-{n + 1:03}.01"
        if acts:
            run("cut", f"{n}A")
        for act in acts:
            numbered(act, n)(lot)
        lots[lot] = HISTORIES[n]
    return lots


def table(text):
    return {line.split()[0]: line for line in text.splitlines() if line.startswith("M26-") and " 2026-11-20 " in line}


def text_of(path):
    done = subprocess.run(["pdftotext", "-layout", path, "-"], capture_output=True, text=True, check=True)
    return " ".join(done.stdout.split())


def tried(*words):
    return subprocess.run([PROGRAM, *words], capture_output=True, text=True, env={**os.environ, "TENTERBOOK_WHO": "Ada"})


UNRELEASED = {CONFORMS: "a laboratory found that it conforms", NOT: "contradicts its declaration",
              NOTHING: "what was seen fits its declaration", OPEN: "decides nothing yet"}


# What stands in large letters on the tag of each bolt: A, then B.
STAMPS = {"waiting": "WAITING WAITING", "held": "HELD HELD", "returned": "RETURNED RETURNED", "released": "RELEASED RELEASED",
          "relabelled": "RELABELLED RELABELLED"}
STAMPED = {KNITTED: "HELD RETURNED", "released in part": "WAITING RELEASED", "a single bolt is held in a released lot": "RELEASED HELD"}


def walk_stamps(name, lot, n, c, standing):
    """Bolts that must not be used say so, and no label is made of what is held, went back, or does not conform."""
    stamps = STAMPED.get(name) or STAMPS.get(standing)
    run("tags", lot, "--bolts", "--standing", "--out", f"stamps-{n}.pdf")
    told = [w for w in text_of(f"stamps-{n}.pdf").split() if w in {s for v in STAMPS.values() for s in v.split()}]
    if stamps:
        ok(f"{name}: the tag of each bolt says how it stands", sorted(told) == sorted(stamps.split()), told)
    barred = {"HELD", "RETURNED"} & set(told) or (c["word"] == NOT and standing != "relabelled")
    made = tried("label", lot, "--market", "eu", "--lang", "en", "--out", f"label-{n}.pdf")
    there = os.path.exists(f"label-{n}.pdf")
    ok(f"{name}: a label is made only of what may be sold as it is", there == (made.returncode == 0) and not (barred and there), told, made.stderr)
    if not barred and c["word"] in (CONFORMS, NOTHING):
        ok(f"{name}: and of that it is made", there, made.stderr)


def walk_papers(name, lot, n, c, declared, standing):
    """The case, the tags, the label, the record of a cut: what each says of the lot is what is concluded."""
    case = f"case-{n}.pdf"
    again = json.loads(run("look", lot, "--json"))["judge_again"] # seen without weighing; the case weighs
    made = tried("case", lot, "--out", case)
    if c["by"] != "laboratory":
        ok(f"{name}: whether it would be judged otherwise is seen before", (again == "otherwise") == ("by what is known now" in made.stderr),
           again, made.stderr)
    if made.returncode: # what was found of other lots since moved the limits
        ok(f"{name}: no case is made of a verdict that no longer follows", made.returncode == 1 and not os.path.exists(case) and
           f"judge the lot again first (tenterbook judge {lot})" in made.stderr, made.stderr)
        run("judge", lot)
        run("case", lot, "--out", case)
        c = json.loads(run("look", lot, "--json"))["conclusion"]
    paper = text_of(case)
    ok(f"{name}: the case says it", c["word"] in paper.lower(), c["word"], paper[:1500])
    if declared:
        ok(f"{name}: the case has the supplier's words", declared.replace(" ", "") in paper.replace(" ", ""), paper[:1500])
    ok(f"{name}: no other conclusion stands in the case",
       not any(f"Conclusion: {w}" in paper for w in (CONFORMS, NOT, NOTHING, OPEN) if w != c["word"]), paper[:1500])
    judged = tried("judge", lot).stdout
    if name == "one bolt of two contradicts": # cotton burns beside polyester: no cloth is told of all
        apart = f"bolt {n}A: fits the declaration; bolt {n}B: polyester 100 %"
        for where, said in (("case", paper), ("page of the lot", run("look", lot)), ("verdict", judged)):
            ok(f"{name}: the {where} says which bolt is what", apart in " ".join(said.split()), said[:3000])
        ok(f"{name}: and no page one cloth for all", "Likeliest by bench bolt" in paper, paper[:1500])
    if name == "a burn typed days later": # burnt on the 22nd, typed on the day of the clock
        ok(f"{name}: the day is that of the burn", (c["on"], c["typed_on"]) == ("2026-11-22", "2026-11-26"), c)
        for where, said in (("case", paper), ("page of the lot", run("look", lot))):
            ok(f"{name}: the {where} says both days", "by the burns of 2026-11-22 (typed up later, 2026-11-26)" in " ".join(said.split()), said[:1500])
        ok(f"{name}: so do its account of the burns and its chain of custody",
           "1 burn was made on 2026-11-22. 1 of these was typed up later, on 2026-11-26." in paper and "swatch burnt (typed up" in paper, paper)
    if name == KNITTED:
        said = "2 bolts, 75.00 m, 30.00 kg; invoiced: 30.00 kg at 8.00 EUR a kg, 240.00 EUR in all"
        ok(f"{name}: the page of the lot has both", said in run("look", lot), run("look", lot))
        ok(f"{name}: the case reckons in kilograms", "240.00 EUR = 30.00 kg at 8.00 EUR a kg" in paper, paper[:1500])
        claims = {x["lot"]: x for x in json.loads(run("dispute", "--json"))}
        ok(f"{name}: what went back is worth its kilograms", claims[lot]["awaited"] == 80, claims[lot])
        ok(f"{name}: the month multiplies", [float(month[lot][k]) for k in ("quantity", "price", "value", "held_m", "held_value", "net_kg")] ==
           [30, 8, 240, 50, 160, 30], month[lot])
        run("case", lot, "--notice", "--out", f"letter-{n}.pdf")
        letter = text_of(f"letter-{n}.pdf")
        ok(f"{name}: the letter has both, and what they come to",
           "2 bolts, 75.00 m, 30.00 kg" in letter and "8.00 EUR per kg, 30.00 kg come to 240.00 EUR" in letter, letter)
    if name in ODD:
        itself = "what was seen contradicts itself"
        for where, said in (("case", paper), ("page of the lot", run("look", lot)), ("verdict", judged), ("list", words[lot])):
            ok(f"{name}: the {where} says that what was seen contradicts itself", itself in said.lower(), said[:3000])
        for where, said in (("case", paper), ("list", words[lot])):
            ok(f"{name}: the {where} says no ratio, no likeliest cloth and nothing that is only for us",
               not any(w in said for w in (" to 1 ", "Evidence ratio", "Likeliest by bench", "tenterbook void", "mixed up")), said[:3000])
        ok(f"{name}: whoever judges it is told how to take back a slip",
           judged.count(f"tenterbook void {lot}.0") == 2 and "times likelier" not in judged, judged)
        notice = tried("case", lot, "--notice", "--out", f"odd-{n}.pdf")
        if notice.returncode == 0:
            said = text_of(f"odd-{n}.pdf")
            ok(f"{name}: the letter says it too", itself in said.lower() and "mixed up" not in said, said)
    if c["by"] == "laboratory":
        ok(f"{name}: judging it says first what the laboratory's result is",
           {NOT: "does not conform to that", CONFORMS: "conforms to that",
            OPEN: "contradict each other" if c["why_open"] == "laboratories disagree" else "cannot be said"}[c["word"]] in judged, judged)
    if "eu" in c["markets"] and standing != "relabelled" and c["word"] in (CONFORMS, NOT):
        label = tried("label", lot, "--market", "eu").stdout
        ok(f"{name}: the label may stand or not as the laboratory found", ("may not stand" in label) == (c["word"] == NOT), label)
    story = json.loads(run("look", lot, "--json"))
    if story["swatches"] if isinstance(story.get("swatches"), list) else story.get("burn_list"):
        tags = f"tags-{n}.pdf"
        run("tags", lot, "--out", tags)
        ok(f"{name}: its tags name the lot", lot in text_of(tags))
    walk_stamps(name, lot, n, c, standing)
    if c["by"] == "laboratory":
        used = tried("use", f"{n}B", "--metres", "1")
        said = used.stdout + used.stderr
        if used.returncode == 0 and standing in ("waiting", None):
            want = "A laboratory found" if c["word"] == NOT else UNRELEASED[c["word"]]
            ok(f"{name}: whoever cuts into it is told the same", want in said, said)


lots = make()
listed = {l["lot"]: l for l in json.loads(run("lots", "--json"))}
words = table(run("lots"))
todo = json.loads(run("todo", "--json"))["items"]
day = json.loads(run("day", "--hours", "24", "--by-metres", "--json"))
day.pop("judge_again") # that is judged again, not planned
day = json.dumps(day)
run("sheet", "--month", "2026-11", "--out", "month.xlsx")
month = {row["lot"]: row for row in csv.DictReader(open("month-lots.csv", encoding="utf-8-sig"))}
opened = {row["lot"]: row for row in csv.DictReader(open("month-open.csv", encoding="utf-8-sig"))}
suppliers = {row["supplier"]: row for row in csv.DictReader(open("month-suppliers.csv", encoding="utf-8-sig"))}
records = {s["supplier"]: s for s in json.loads(run("record", "--json"))["suppliers"]}

for n, (lot, (name, declared, acts, word, by, markets, why, standing)) in enumerate(lots.items()):
    c = listed[lot]["conclusion"]
    story = json.loads(run("look", lot, "--json"))
    told = run("look", lot)
    row = month[lot]
    if word is not None:
        ok(f"{name}: it is concluded so", (c["word"], c["by"] or "") == (word, by), c)
    if markets is not None:
        ok(f"{name}: in these markets", " ".join(c["markets"]) == markets, c)
    if why is not None:
        ok(f"{name}: and for this reason it is open", (c["why_open"] or "") == why, c)
    ok(f"{name}: the page of the lot says the same", story["conclusion"] == c and f"Conclusion: {c['word']}" in told,
       story["conclusion"], told)
    ok(f"{name}: the list says it in words", f"  {c['word']}  " in words[lot], words[lot])
    ok(f"{name}: the month says it",
       (row["conclusion"], row["concluded_by"], row["markets"], row["why_open"], row["concluded_on"]) ==
       (c["word"], c["by"] or "", " ".join(c["markets"]), c["why_open"] or "", c["on"] or ""), row)
    ok(f"{name}: the month has the supplier's words", row["declared"] == declared, row["declared"])
    if standing is not None:
        ok(f"{name}: and how it stands", row["standing"] == standing, row["standing"])
    s = suppliers[f"Supplier {n:02}"]
    place = {CONFORMS: "conforming", NOT: "not_conforming", NOTHING: "nothing_against", OPEN: "open"}[c["word"]]
    ok(f"{name}: the line of the supplier counts it there",
       all(s[k] == ("1" if k == place and c["by"] else "0") for k in ("conforming", "not_conforming", "nothing_against", "open")), s)
    r = records[f"Supplier {n:02}"]
    ok(f"{name}: the record of the supplier does",
       (r["judged"], r["wrong"]) == (0 if c["word"] == OPEN else 1, 1 if c["word"] == NOT else 0), r)
    kinds = {i["kind"] for i in todo if i["lot"] == lot}
    items = [i for i in todo if i["lot"] == lot]
    decide = c["by"] == "laboratory" and (listed[lot]["standing"] == "waiting" or
                                          listed[lot]["standing"] == "released" and c["word"] == NOT)
    ok(f"{name}: what is to be decided is on the list of things to do",
       ("decide" in kinds) == decide and not (c["by"] == "laboratory" and "undecided" in kinds), items)
    if c["by"] == "laboratory" and kinds & {"held", "decide"}:
        ok(f"{name}: with what the laboratory found, and no test at the bench",
           all(i["conclusion"] == c["word"] and not i.get("next") for i in items if i["kind"] in ("held", "decide")), items)
    for i in items:
        if i["kind"] == "held" and i["what"].startswith("held by itself: what was seen") and c["by"] == "burning":
            ok(f"{name}: what was held once is told with what is concluded now", (i["now"] or "") == ("" if c["word"] == NOT else c["word"]), i)
    held = listed[lot]["standing"] == "held" or listed[lot]["held_in_part"] > 0
    ok(f"{name}: a hold is on that list, of a single bolt too", bool(kinds & {"held", "held_bolt"}) == held, items)
    ok(f"{name}: a hold is found by its standing", (lot in table(run("lots", "--standing", "held"))) == held)
    walk_papers(name, lot, n, c, declared, standing)
    asked = c["word"] == OPEN and c["by"] == "burning" # burns left it open: more bolts may be burnt
    ok(f"{name}: nothing is planned at the bench for cloth that something was found of", not (c["by"] and not asked and lot in day), day)

singly = month["M26-021.01"]
ok("a bolt that is held is not among the metres released",
   (singly["held_m"], singly["released_m"], singly["bolts_held"]) == ("25", "50", "1"), singly)
ok("a lot of which a bolt is held is among what is open", opened["M26-021.01"]["matter"] == "single bolts are held: decide")
one = listed["M26-022.01"]["conclusion"]
ok("the bolt that contradicts by itself is named", one["bolts"] == ["21B"], one)

# 75 m at 4 EUR a metre: what went back is outstanding at that until an amount is agreed or came in, and is told as gone.
name = "goods sent back as agreed, for no amount yet"
back = next(lot for lot, h in lots.items() if h[0] == name)
case = text_of(f"case-{list(lots).index(back)}.pdf")
claim = next(d for d in json.loads(run("dispute", "--json")) if d["lot"] == back)
owing = {row["lot"]: row for row in csv.DictReader(open("month-claims.csv", encoding="utf-8-sig"))}[back]
run("case", back, "--notice", "--out", "back.pdf")
letter = text_of("back.pdf")
ok(f"{name}: the list of claims awaits a credit note for all of it", (claim["state"], claim["awaited"]) == ("credit", 300), claim)
ok(f"{name}: so does the month", (owing["invoiced_returned"], owing["awaited"]) == ("300", "300"), owing)
ok(f"{name}: so do the sums of the supplier", json.loads(run("money", f"Supplier {list(lots).index(back):02}", "--json"))["totals"][0]["awaited"] == 300)
for where, said in (("letter", letter), ("case", case)):
    ok(f"{name}: the {where} asks for the credit note, and not for the return",
       "a credit note for the goods that we have sent back: 300.00 EUR." in said and "carry out" not in said, said[:6000])
    ok(f"{name}: and says when they went", "The whole lot was sent back on " in said, said[:6000])
run("dispute", back, "--recovered", "--amount", "300", "--currency", "EUR")
claim = next(d for d in json.loads(run("dispute", "--json")) if d["lot"] == back)
ok(f"{name}: once the credit note came in nothing is awaited", (claim["state"], claim["awaited"]) == ("close", 0), claim)
sys.exit(0 if count else "not ok - nothing was tried")
