#!/usr/bin/python3
"""Bounds of a site with lots that a laboratory settled, written anew from docs/method.md, section 7.

    test_bounds.py BUILD       TAP lines. tests/vectors/test_site_bounds.c holds the program against the same figures.
    test_bounds.py --write     tests/vectors/site_bounds.json anew

Sources: Vergeer, van Es, de Jongh, Alberink, Stoel, Science and Justice 56 (2016) 482 (bounds); Begg and Greenes, Biometrics 39
(1983) 207-215 (verified cases are no sample: each is weighed by the cases with its test result that it stands for).
"""
import csv, json, math, os, random, sys

HERE = os.path.dirname(os.path.abspath(__file__))
TABLE = [{k.split(":")[0]: float(v) for k, v in r.items()} for r in csv.DictReader(open(HERE + "/../../sql/reference/burn_bound.csv", encoding="utf-8"))]
VECTORS = HERE + "/../vectors/site_bounds.json"
GRADES = ["fits", "undecided", "speaks against", "contradicts"]


def weights(settled, judged, of_unit):
    """settled: (unit, true, log10 ratio, grade); judged: lots by grade; of_unit: judged lots of each unit, sent or not."""
    sent = {g: sum(s[3] == g for s in settled) for g in GRADES}
    share = {g: sent[g] / max(sent[g], judged.get(g, 0)) if sent[g] else 1 / (judged.get(g, 0) + 1) for g in GRADES}
    least = min([share[g] for g in GRADES if sent[g] or judged.get(g, 0)] or [1])
    out = []
    for unit, true, _, grade in settled:
        same = sum(s[0] == unit and s[1] == true for s in settled)
        other = sum(s[0] == unit and s[1] != true for s in settled)
        out.append(least / share[grade] / max(same, of_unit.get(unit, 0) - other))
    return out


def bounds(settled, weight):
    n_true = TABLE[-1]["true_at_or_below"] + sum(w for s, w in zip(settled, weight) if s[1])
    n_false = TABLE[0]["false_above"] + sum(w for s, w in zip(settled, weight) if not s[1])

    def carried(row):
        at = row["log10_ratio"]
        wrong = row["true_at_or_below"] + sum(w for s, w in zip(settled, weight) if s[1] and s[2] <= at)
        above = row["false_above"] + sum(w for s, w in zip(settled, weight) if not s[1] and s[2] > at)
        return (wrong + 1) / (n_true + 1) + 10**at * (above + 1) / (n_false + 1) < min(10**at, 1)

    reach = []
    for side in [[r for r in reversed(TABLE[1:-1]) if r["log10_ratio"] < 0], [r for r in TABLE[1:-1] if r["log10_ratio"] > 0]]:
        at = 0.0
        for row in side:
            if not carried(row):
                break
            at = row["log10_ratio"]
        reach.append(at)
    return reach


def grade_of(ratio):
    return GRADES[3] if ratio < -1.301 else GRADES[2] if ratio < -0.921 else GRADES[0] if ratio > 0.477 else GRADES[1]


def site(rng, deliveries, misled, false, send):
    """A site whose true lots mislead in so many cases; send: by grade, the share that goes to the laboratory."""
    lots = []
    for d in range(deliveries):
        for _ in range(rng.randint(1, 4)):
            true = rng.random() >= false
            wrong = rng.random() < misled
            ratio = rng.gauss(1.5, 0.4) if true != wrong else rng.gauss(-1.8, 0.4)
            lots.append(("d%d" % d, true, round(ratio, 3), grade_of(ratio)))
    return lots, [x for x in lots if rng.random() < send[x[3]]]


def told(lots, settled):
    of_unit = {}
    for x in lots:
        of_unit[x[0]] = of_unit.get(x[0], 0) + 1
    return {g: sum(x[3] == g for x in lots) for g in GRADES}, of_unit


DOUBTED = {"contradicts": 1.0, "speaks against": 1.0, "undecided": 0.4, "fits": 0.05}
SENDS = [{g: 1.0 for g in GRADES}, DOUBTED, dict(DOUBTED, fits=0.0, undecided=0.0), {g: 0.2 for g in GRADES}]


def vectors():
    rng = random.Random(20261127)
    out = []
    for i in range(60):
        lots, settled = site(rng, rng.choice([1, 5, 30, 120]), rng.choice([0, 0.01, 0.1]), rng.choice([0, 0.1, 0.5]), SENDS[i % 4])
        judged, of_unit = told(lots, settled)
        if i % 7 == 6:
            judged, of_unit = {}, {}  # nobody counted
        w = weights(settled, judged, of_unit)
        low, high = bounds(settled, w)
        by = lambda unit: [sum(x[0] == unit and x[3] == g for x in lots) if of_unit else 0 for g in GRADES]
        out.append({"judged": [judged.get(g, 0) for g in GRADES], "lots": [[s[0], s[1], s[2], GRADES.index(s[3]) + 1, by(s[0])] for s in settled],
                    "low": round(low, 2), "high": round(high, 2), "cases": round(sum(w), 9)})
    return out


def text():
    return "[\n" + ",\n".join(json.dumps(v) for v in vectors()) + "\n]\n"


def simulated(send, runs=400):
    """Share of true lots that contradict: as the settled lots tell it, weighed and plain, and as all lots would if all were sent."""
    rng = random.Random(13)
    sums = {"weighed": [0, 0], "plain": [0, 0], "all": [0, 0]}
    for _ in range(runs):
        lots, settled = site(rng, 60, 0.03, 0.1, send)
        for name, group, count in (("weighed", settled, told(lots, settled)), ("plain", settled, ({}, {})), ("all", lots, ({}, {}))):
            for s, w in zip(group, weights(group, *count)):
                if s[1]:
                    sums[name][0] += w * (s[3] == "contradicts")
                    sums[name][1] += w
    return {k: a / b for k, (a, b) in sums.items()}


def main():
    if sys.argv[1] == "--write":
        open(VECTORS, "w", encoding="utf-8").write(text())
        return 0
    good = []

    def ok(n, fine, what, more):
        print("%s %d - %s (%s)" % ("ok" if fine else "not ok", n, what, more))
        good.append(fine)

    print("1..3")
    ok(1, open(VECTORS, encoding="utf-8").read() == text(), "the figures the program is held against are those of this page", "60 sites")
    s = simulated(DOUBTED)
    near = abs(s["weighed"] / s["all"] - 1)
    ok(2, near < 0.15 and s["plain"] > 5 * s["all"], "where the doubted lots are sent, the weighed rate of misled lots is that of all lots, and the plain rate is not",
       "all %.4f, weighed %.4f, plain %.4f" % (s["all"], s["weighed"], s["plain"]))
    s = simulated(SENDS[3])
    ok(3, abs(s["weighed"] / s["all"] - 1) < 0.15, "where every fifth lot is sent, whatever it burned like, it is so too", "all %.4f, weighed %.4f" % (s["all"], s["weighed"]))
    return 0 if all(good) else 1


if __name__ == "__main__":
    sys.exit(main())
