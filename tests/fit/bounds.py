#!/usr/bin/python3
"""sql/reference/burn_bound.csv from judgements: tests/fit/bounds.py SHORT < judgements (of BUILD/tests/fit/calibrate; SHORT: those
of `calibrate short`, for burns of which one, two or three channels were looked at, in columns of their own)

Empirical bounds of the evidence ratio after Vergeer et al., Science and Justice 56 (2016) 482, for thresholds a fiftieth of
a power of ten apart: how many families of sources have true declarations at or below a threshold, and false ones above it.
A family counts once on either side, whatever it describes: its judgements share one case. The first row and the last
stand for ratios of nothing and without limit, so they hold the number of families. Prints whether the table changed."""
import csv, io, math, os, sys

PATH = os.path.join(os.path.dirname(os.path.abspath(__file__)), "../../sql/reference/burn_bound.csv")
FROM, STEPS, EACH = -150, 301, 50
tests = {looks: ({}, {}) for looks in ("", "1", "2", "3")}
for r in [*csv.DictReader(sys.stdin), *csv.DictReader(open(sys.argv[1], encoding="utf-8"))]:
    tests[r.get("looks", "")][int(r["true"])].setdefault(r["family"], []).append(float(r["log_ratio"]) / math.log(10))
share = lambda side, wrong: sum(sum(map(wrong, v)) / len(v) for _, v in sorted(side.items()))
rows = [["log10_ratio:number"] + [c + (k and "_" + k) + ":number" for k in tests for c in ("true_at_or_below", "false_above")]]
for at in [-9.0] + [k / EACH for k in range(FROM, FROM + STEPS)] + [9.0]:
    rows.append(["%g" % at])
    for false, true in tests.values():
        rows[-1] += ["%.4g" % share(true, lambda x: x <= at), "%.4g" % share(false, lambda x: x > at)]
text = io.StringIO()
csv.writer(text, lineterminator="\n").writerows(rows)
if not os.path.exists(PATH) or open(PATH, encoding="utf-8").read() != text.getvalue():
    open(PATH, "w", encoding="utf-8", newline="").write(text.getvalue())
    print("written anew: burn_bound.csv")
