#!/usr/bin/python3
"""judge as a whole process: a lot of a book, and tables of burns whose observations repeat or all differ. Beside each the bare start
of the program. Wall time of the quickest of five runs, and what it cost in seconds of one processor, which a busy machine
lengthens less."""
import csv, json, os, random, resource, subprocess, sys, tempfile, time

build, here = os.path.abspath(sys.argv[1]), os.path.dirname(os.path.abspath(__file__))
program = build + "/tenterbook"
random.seed(7)


def run(*args, times=1, **options):
    best, cost = 1e9, 1e9
    for _ in range(times):
        before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
        subprocess.run([program, *args], stdout=subprocess.DEVNULL, check=True, **options)
        best, after = min(best, time.perf_counter() - start), resource.getrusage(resource.RUSAGE_CHILDREN)
        cost = min(cost, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return best, cost


bare, bare_cost = run("--version", times=5)
print("the program starts and ends: %.1f ms, %.1f ms of processor" % (1e3 * bare, 1e3 * bare_cost))

PAPER, HAIR = "odour:burning_paper,residue_form:light_fluffy_ash", "odour:burning_hair,residue_form:crushable_bead"
LOTS = (  # declared, and what each bolt did: a fit, a contradiction, a lot of many bolts, a blend of three; then by two persons and three
    ("100% cotton", [PAPER + ",removed:afterglow"], ("Ada",)),
    ("100% silk", [PAPER + ",removed:afterglow"], ("Ada",)),
    ("65% polyester 35% cotton", ["in_flame:melts,smoke:black,residue_form:hard_bead"] * 3 + ["odour:burning_paper,smoke:black"] * 2, ("Ada",)),
    ("40% wool 30% nylon 30% viscose", [HAIR, "in_flame:melts,odour:celery"], ("Ada",)),
    ("100% silk", [PAPER + ",removed:afterglow", PAPER + ",in_flame:burns_fast"], ("Ada", "Bob")),
    ("65% polyester 35% cotton", [HAIR, HAIR + ",smoke:black", "odour:burning_hair,in_flame:sizzles"], ("Ada", "Bob", "Cid")),
    # what is at odds: persons, and two bench tests of one kind
    ("100% cotton", [PAPER + ",removed:afterglow", PAPER, PAPER + ",in_flame:burns_fast", "in_flame:melts,residue_form:hard_bead",
                     "in_flame:melts,smoke:black"], ("Ada", "Bob", "Cid", "Dan", "Eve")),
    ("100% acetate", ["in_flame:melts,residue_form:hard_bead", "in_flame:melts,odour:vinegar"], ("Ada", "Bob")),
)
TESTS = ((7, 0, "acetone", "dissolves"), (7, 1, "acetone", "stays"))  # number of the lot, of its bolt, a test and its result
MANY = 400  # lots in the book, all judged
with tempfile.TemporaryDirectory() as folder:
    def book_as(person):
        return ["--book", folder + "/book.db", "--as-person", person]

    book = book_as("Ada")
    with open(folder + "/list.csv", "w", encoding="utf-8") as out:
        out.write("article,colour,roll,metres,composition\n")
        for n, (declared, bolts, persons) in enumerate(LOTS):
            for b in range(len(bolts)):
                out.write("A%d,ecru,B%d-%d,50,%s\n" % (n, n, b, declared))
    run(*book, "new", "--code", "W", "--name", "bench", "--country", "GB")
    run(*book, "set", "flame", "yes")
    run(*book, "receive", folder + "/list.csv", "--supplier", "A mill", "--note", "1", "--yes")
    for n, (declared, bolts, persons) in enumerate(LOTS):
        lot = "W%s-001.%02d" % (time.strftime("%y"), n + 1)
        for b, saw in enumerate(bolts):
            tag = subprocess.run([program, *book, "cut", "B%d-%d" % (n, b), "--json"], capture_output=True, text=True, check=True)
            swatch = json.loads(tag.stdout)["swatch"]
            run(*book_as(persons[b % len(persons)]), "burn", swatch, "--saw", saw)
            for of, bolt, test, result in TESTS:
                if (of, bolt) == (n, b):
                    run(*book, "try", swatch, "--test", test, "--result", result)
        best, cost = run(*book, "judge", lot, times=5)
        print("judge of a lot of %d bolts, burned by %d, declared %s: %.1f ms, %.1f ms of processor; %.1f times a bare start" %
              (len(bolts), len(persons), declared, 1e3 * best, 1e3 * cost, best / bare))

    # what a book holds must not make a verdict slower: its base rate is of all lots
    with open(folder + "/many.csv", "w", encoding="utf-8") as out:
        out.write("article,roll,metres,composition\n" + "".join("M%d,M%d,50,100%% cotton\n" % (i, i) for i in range(MANY)))
    with open(folder + "/many_burns.csv", "w", encoding="utf-8") as out:
        out.write("lot,bolt,saw\n" + "".join('W%s-002.%02d,M%d,"%s"\n' % (time.strftime("%y"), i + 1, i, PAPER) for i in range(MANY)))
    few = [run(*book, *what, times=5)[1] for what in (("judge", "W%s-001.01" % time.strftime("%y")), ("todo",), ("lots",))]
    run(*book, "receive", folder + "/many.csv", "--supplier", "Another mill", "--note", "2", "--yes")
    run(*book, "burn", "--from", folder + "/many_burns.csv")
    for i, what in enumerate((("judge", "W%s-001.01" % time.strftime("%y")), ("todo",), ("lots",))):
        cost = run(*book, *what, times=5)[1]
        print("%s, %d judged lots in the book: %.1f ms of processor; with %d: %.1f ms, %.2f times" %
              (what[0], len(LOTS), 1e3 * few[i], len(LOTS) + MANY, 1e3 * cost, cost / few[i]))

    cues = {}
    for row in csv.DictReader(open(os.path.join(here, "../../sql/reference/cue.csv"), encoding="utf-8")):
        if row["nothing:integer"] == "0":
            cues.setdefault(row["channel"], []).append(row["key"])
    burning = ("approach", "in_flame", "removed", "flame_colour", "smoke", "odour", "residue_form", "residue_colour")
    declared = ("65% polyester 35% cotton", "100% cotton", "100% wool", "50% wool 50% acrylic", "100% polyester", "60% cotton 40% viscose",
                "97% cotton 3% elastane", "100% viscose", "80% wool 20% nylon", "55% linen 45% viscose")

    def table(rows):
        with open(folder + "/burns.csv", "w", encoding="utf-8") as out:
            out.write("id,declared,saw\n" + "".join("%d,%s,%s\n" % (i, d, s) for i, (s, d) in enumerate(rows)))

    def time_table(rows, what):
        table(rows)
        best, cost = run("judge", "--from", folder + "/burns.csv", times=2)
        print("judge --from, %d rows, %s: %.0f rows a second here; %.2f ms of processor a row, %.0f a second on two idle ones" %
              (len(rows), what, len(rows) / best, 1e3 * cost / len(rows), 2 * len(rows) / cost))

    # a row that contradicts is judged again with every result of its confirming test, so it is counted apart
    for times, n in ((1, 500), (10, 1000)):
        saw = [" ".join(random.choice(cues[c]) for c in burning) for _ in range(n // times)]
        rows = [(saw[i // times], random.choice(declared)) for i in range(n)]
        random.shuffle(rows)
        table(rows)
        said = subprocess.run([program, "judge", "--from", folder + "/burns.csv"], capture_output=True, text=True, check=True).stdout
        stands = {}
        for line in said.splitlines():
            verdict = json.loads(line)
            if verdict["verdict"] != "contradicts":
                stands.setdefault(rows[int(verdict["id"])][0], []).append(rows[int(verdict["id"])])
        kind = "observations ten times each" if times > 1 else "all different"
        some = [r[i % len(r)] for r in stands.values() for i in range(times)]
        random.shuffle(some)
        time_table(some, kind + ", none contradicts")
        time_table(rows, "%s, %.0f in 100 contradict" % (kind, 100 - 100 * sum(map(len, stands.values())) / n))
