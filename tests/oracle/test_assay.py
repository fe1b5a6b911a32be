#!/usr/bin/python3
"""assay against NumPy and SciPy: percentages, uncertainty, probabilities, over random analyses."""
import json
import os
import subprocess
import sys

try:
    import numpy as np
    from scipy import stats
except ImportError:
    sys.exit("not ok - test_assay.py needs NumPy and SciPy: the Debian packages python3-numpy and python3-scipy")

program = sys.argv[1] + "/tenterbook"
os.environ["TENTERBOOK_DIGITS"] = "17"  # all digits
rng = np.random.default_rng(20261125)


def adjust(dry, factor):
    p = np.asarray(dry) * factor
    return 100 * p / p.sum()


def dissolve(x, d):
    p = 100 * x[1] * d[0] / x[0]
    return [p, 100 - p]


def variant_1(x, d):
    q1, q2 = x[1] / x[0], x[3] / x[2]
    p1 = 100 * (d[1] / d[0] - d[1] * q1 + q2 * (1 - d[1] / d[0]))
    p2 = 100 * (d[3] / d[2] - d[3] * q2 + q1 * (1 - d[3] / d[2]))
    return [p1, p2, 100 - p1 - p2]


def exact_1(x, d):
    rows = [[0, 1 / d[0], 1 / d[1]], [1 / d[2], 0, 1 / d[3]], [1, 1, 1]]
    return 100 * np.linalg.solve(rows, [x[1] / x[0], x[3] / x[2], 1])


def variant_4(x, d):
    p3 = 100 * d[2] * x[2] / x[0]
    p2 = 100 * d[0] * x[1] / x[0] - d[0] / d[1] * p3
    return [100 - p2 - p3, p2, p3]


# route, options, names of the readings, formula, allowance + loss, 95 % limits, how the masses come from shares
CASES = [
    ("dissolve", ["--mixture", "polyester / cotton", "--method", "7"], ["specimen", "residue"], dissolve,
     [1, 1], [1.015, 1.085], [1, 1], lambda s, d: [1, s[0] / d[0]]),
    ("variant_1", ["--variant", "1", "--method", "2", "--method", "4", "--mixture", "wool / nylon / cotton",
                   "--condition", "cotton=unbleached", "--d", "1.01,1.03,1.02,1.04"],
     ["specimen", "residue", "specimen2", "residue2"], variant_1, [1.01, 1.03, 1.02, 1.04], [1.17, 1.0625, 1.125],
     [1, 1, 2], lambda s, d: [1, s[1] / d[0] + s[2] / d[1], 1, s[0] / d[2] + s[2] / d[3]]),
    ("variant_4", ["--variant", "4", "--method", "2", "--method", "4", "--mixture", "wool / nylon / cotton",
                   "--condition", "cotton=unbleached"],
     ["specimen", "residue", "residue2"], variant_4, [1, 1.03, 1.03], [1.17, 1.0625, 1.125], [1, 2, 2],
     lambda s, d: [1, s[1] / d[0] + s[2] / d[1], s[2] / d[2]]),
]


def expected(formula, x, d, factor, limit):
    """Mean, u and freedom of each share, derivatives by central differences."""
    results = np.array([adjust(formula(row, d), factor) for row in x])
    n = len(x)
    u_mass = 0.0002 / np.sqrt(3) * np.sqrt(2)
    weigh = np.zeros(results.shape[1])
    for row in x:
        for k in range(len(row)):
            up, down = np.array(row), np.array(row)
            up[k] += 1e-6
            down[k] -= 1e-6
            slope = (adjust(formula(up, d), factor) - adjust(formula(down, d), factor)) / 2e-6
            weigh += (slope * u_mass) ** 2
    repeat2 = results.var(axis=0, ddof=1) / n
    u2 = repeat2 + weigh / n ** 2 + (np.array(limit) / stats.norm.ppf(0.975)) ** 2
    return results.mean(axis=0), np.sqrt(u2), (n - 1) * (u2 / repeat2) ** 2


def one(case):
    route, options, names, formula, d, factor, limit, masses = case
    fibres = len(factor)
    shares = rng.dirichlet(np.full(fibres, 8.0))
    n = int(rng.integers(2, 5))
    x = [[round(m * w, 6) for m in masses(shares, d)] for w in rng.uniform(0.9, 1.1, n)]
    x = [[m + e for m, e in zip(row, rng.normal(0, 5e-4, len(row)))] for row in x]
    x = [[float("%.6f" % m) for m in row] for row in x]
    args = [program, "assay", "--json"] + options
    for row in x:
        for name, value in zip(names, row):
            args += ["--" + name, "%.6f" % value]
    fibre_keys = {"dissolve": ["polyester", "cotton"]}.get(route, ["wool", "nylon", "cotton"])
    declared = np.round(100 * shares).astype(int)
    declared[-1] = 100 - declared[:-1].sum()
    args += ["--declared", ", ".join("%d%% %s" % (p, k) for p, k in zip(declared, fibre_keys)), "--market", "eu"]
    got = json.loads(subprocess.run(args, check=True, capture_output=True, text=True).stdout)
    mean, u, freedom = expected(formula, np.array(x), np.array(d), np.array(factor), limit)
    assert [s["fibre"] for s in got["bases"]["eu"]] == fibre_keys
    for s, m, v, f in zip(got["bases"]["eu"], mean, u, freedom):
        assert abs(s["percent"] - m) < 1e-9, (s, m)
        assert abs(s["u"] / v - 1) < 1e-6, (s, v)
        real = np.inf if s["freedom"] is None else s["freedom"]
        assert f > 1e6 if np.isinf(real) else abs(real / f - 1) < 1e-5, (s, f)
        k = stats.norm.ppf(0.975) if np.isinf(real) else stats.t.ppf(0.975, f)
        assert abs(s["high"] - min(100, m + k * v)) < 1e-5, (s, k)
    if route == "variant_1":
        true = np.mean([exact_1(row, d) for row in x], axis=0)
        assert np.allclose(got["exact"], true, atol=1e-9)
        assert np.allclose(got["bias"], np.mean([formula(row, d) for row in x], axis=0) - true, atol=1e-9)
    for line, m, v, f, p in zip(got["conformity"][0]["fibres"], mean, u, freedom, declared):
        chance = stats.t.cdf((p + 3 - m) / v, f) - stats.t.cdf((p - 3 - m) / v, f)
        assert abs(line["probability"] - chance) < 1e-5, (line, chance)
        word = "conforms" if chance >= 0.95 else "does_not_conform" if chance <= 0.05 else "cannot_be_said"
        assert line["answer"] == word or min(abs(chance - 0.95), abs(chance - 0.05)) < 1e-4


for case in CASES:
    sentence = "%s agrees with NumPy and SciPy on 40 random analyses" % case[0]
    try:
        for _ in range(40):
            one(case)
        print("ok - " + sentence)
    except (AssertionError, subprocess.CalledProcessError) as wrong:
        print("not ok - " + sentence)
        print("# %r %s" % (wrong, getattr(wrong, "stderr", "")))
