#!/usr/bin/python3
"""Sampling against SciPy and extended-precision sums: /usr/bin/python3 tests/oracle/test_sampling.py BUILD

Every figure is asked of the program itself (--json, 17 digits) over a wide grid: lots to 1,000,000 bolts, shares to
1e-6. Hypergeometric sums are made here in extended precision from ratios of neighbouring terms, because SciPy's own
point masses are differences of log-gammas and good to nine digits only in lots of that size.
"""
import json
import os
import subprocess
import sys
import tempfile

try:
    import numpy as np
    from scipy import optimize, special, stats
except ImportError:
    sys.exit("not ok - test_sampling.py needs NumPy and SciPy: the Debian packages python3-numpy and python3-scipy")

os.environ["TENTERBOOK_DIGITS"] = "17"  # all digits
PROGRAM = os.path.join(sys.argv[1], "tenterbook")
NEAR = 1e-10
LD = np.longdouble


def ask(*words):
    done = subprocess.run([PROGRAM, *map(str, words), "--json"], capture_output=True, text=True)
    if done.returncode or done.stderr:
        raise RuntimeError(" ".join(map(str, words)) + ": " + done.stderr)
    return json.loads(done.stdout)


def log_masses(lot, bad, cut):
    """log P(j false ones drawn), j = least .. most, in extended precision"""
    least, most = max(0, cut - (lot - bad)), min(bad, cut)
    if most - least > 20000:  # only what lies within 40 deviations of the mean counts
        mean, spread = cut * bad / lot, (cut * bad / lot * (1 - bad / lot) * (1 - cut / lot)) ** 0.5
        least, most = max(least, int(mean - 40 * spread - 50)), min(most, int(mean + 40 * spread + 50))
    j = np.arange(least, most, dtype=LD)
    ratio = np.log(LD(bad) - j) + np.log(LD(cut) - j) - np.log(j + 1) - np.log(LD(lot - bad - cut) + j + 1)
    log = np.concatenate(([LD(0)], np.cumsum(ratio)))
    return np.arange(least, most + 1), log - np.logaddexp.reduce(log)


def shown(lot, bad, cut, catch, accept=0):
    """P(at most `accept` shown) and its complement, each summed by itself"""
    j, log = log_masses(lot, bad, cut)
    mass = np.exp(log)
    if catch >= 1:
        low = (j <= accept).astype(LD)
        high = 1 - low
    elif accept == 0:
        low = np.exp(j.astype(LD) * np.log1p(LD(-catch)))
        high = -np.expm1(j.astype(LD) * np.log1p(LD(-catch)))
    else:
        low, high = stats.binom.cdf(accept, j, catch), stats.binom.sf(accept, j, catch)
    return float(np.sum(mass * low)), float(np.sum(mass * high))


def near(got, want, floor=0.0):
    return abs(got - want) <= NEAR * max(abs(want), floor)


def discovery():
    for lot in (1, 2, 7, 50, 999, 20000, 1000000):
        for bad in sorted({1, min(2, lot), max(1, lot // 1000), max(1, lot // 10), lot}):
            for sure in (0.9, 0.999):
                for catch in (1, 0.9, 0.01):
                    got = ask("draw", "--bolts", lot, "--false", bad, "--sure", sure, "--catch", catch)
                    cut, slack = got["cut"], 1e-11
                    if cut is None:
                        if shown(lot, bad, lot, catch)[0] <= (1 - sure) * (1 - slack):
                            return f"{lot} {bad} {sure} {catch}: null, yet the whole lot is enough"
                        continue
                    if shown(lot, bad, cut, catch)[0] > (1 - sure) * (1 + slack):
                        return f"{lot} {bad} {sure} {catch}: {cut} is not enough"
                    if cut > 1 and shown(lot, bad, cut - 1, catch)[0] <= (1 - sure) * (1 - slack):
                        return f"{lot} {bad} {sure} {catch}: {cut - 1} would do, not {cut}"
                    if not near(got["chance"], shown(lot, bad, cut, catch)[1]):
                        return f"{lot} {bad} {sure} {catch}: chance {got['chance']!r}"
    return None


def curve(*words, accept=0, rare=0.0):
    got = ask("draw", *words)
    for point in got["curve"]:
        want = shown(got["bolts"], point["false"], got["cut"], got["catch"], got.get("refuse", accept + 1) - 1)[1]
        # a refusal is the complement of an acceptance: absolute digits below `rare`
        if not near(point["chance"], want, rare):
            return f"{words}: {point} is not {want!r}"
    return None


def curves():
    for lot in (10, 300, 5000, 1000000):
        for share in ("0.000001", "0.001", "0.1", "0.9"):
            for catch in (1, 0.8, 0.05):
                bad = curve("--bolts", lot, "--share", share, "--catch", catch)
                if bad:
                    return bad
    for lot in (90, 1000, 35000, 1000000):
        for aql in ("0.10", "1.0", "4.0"):
            for catch in (1, 0.8):
                bad = curve("--bolts", lot, "--aql", aql, "--catch", catch, rare=1e-4)
                if bad:
                    return bad
    return None


def proofs():
    for lot in (5, 100, 4000, 1000000):
        for burned in sorted({1, lot // 20 or 1, lot // 3 or 1, lot - 1, lot}):
            for found in sorted({0, 1, burned // 10} & set(range(burned + 1))):
                for catch in (1, 0.85, 0.4):
                    got = ask("draw", "--bolts", lot, "--burned", burned, "--found", found, "--catch", catch)
                    most, alpha = got["most_false"], 1 - got["sure"]
                    if most > found and shown(lot, most, burned, catch, found)[0] <= alpha * (1 - 1e-9):
                        return f"{lot} {burned} {found} {catch}: {most} is too many"
                    if most < lot and shown(lot, most + 1, burned, catch, found)[0] > alpha * (1 + 1e-9):
                        return f"{lot} {burned} {found} {catch}: {most} is too few"
                    least = got["least_false"]
                    many = lambda bad: 1 - shown(lot, bad, burned, 1, found - 1)[0] if found else 1
                    if many(least) <= alpha * (1 - 1e-9):
                        return f"{lot} {burned} {found} {catch}: {least} is too few at the least"
                    if least > found and many(least - 1) > alpha * (1 + 1e-6):
                        return f"{lot} {burned} {found} {catch}: {least} is too many at the least"
    return None


def intervals():
    for n in (1, 2, 10, 97, 1000, 50000, 1000000):
        for k in sorted({0, 1, n // 100, n // 3, n // 2, n - 1, n}):
            for conf in (0.8, 0.999):
                got = ask("record", "--lots", n, "--wrong", k, "--confidence", conf)
                tail = (1 - conf) / 2
                half = (k + 0.5, n - k + 0.5)
                for key, a, b in (("exact", (k, n - k + 1), (k + 1, n - k)), ("jeffreys", half, half)):
                    lo = 0.0 if k == 0 else stats.beta.ppf(tail, *a)
                    hi = 1.0 if k == n else stats.beta.isf(tail, *b)
                    if not near(got[key]["lo"], lo) or not near(got[key]["hi"], hi):
                        return f"{key} {k} of {n} at {conf}: {got[key]}, not {lo!r} {hi!r}"
                post = got["posterior"]
                lo, hi = stats.beta.ppf(tail, post["a"], post["b"]), stats.beta.isf(tail, post["a"], post["b"])
                if not near(post["lo"], lo) or not near(post["hi"], hi):
                    return f"posterior {k} of {n} at {conf}: {post}, not {lo!r} {hi!r}"
    return None


def log_likelihood(a, b, lots, wrong):
    return float(np.sum(special.betaln(a + wrong, b + lots - wrong) - special.betaln(a, b)))


def score(p, lots, wrong):
    """derivatives in ln a and ln b, over extended-precision sums where the counts are whole"""
    a, b = np.exp(p)

    def rise(x, n):
        return np.array([float(np.sum(1 / (LD(x) + np.arange(k, dtype=LD)))) for k in n])

    da = rise(a, wrong) - rise(a + b, lots)
    db = rise(b, lots - wrong) - rise(a + b, lots)
    return [a * da.sum(), b * db.sum()]


def fits():
    random = np.random.default_rng(1907)
    for case in range(25):
        mean, weight = random.uniform(0.02, 0.5), np.exp(random.uniform(0, 3.5))
        share = random.beta(mean * weight, (1 - mean) * weight, 40)
        lots = random.integers(1, 60, 40)
        wrong = random.binomial(lots, share)
        if wrong.sum() in (0, lots.sum()):
            continue
        with tempfile.NamedTemporaryFile("w", suffix=".csv") as f:
            f.write("supplier,lots,wrong\n" + "".join(f"s{i},{n},{k}\n" for i, (n, k) in enumerate(zip(lots, wrong))))
            f.flush()
            prior = ask("record", "--from", f.name)["prior"]
        if prior["from"] != "site":
            return f"case {case}: the site's own record was not used"
        got = np.array([prior["a"], prior["b"]])
        best = optimize.minimize(lambda p: -log_likelihood(*np.exp(p), lots, wrong), np.log([1.0, 3.0]),
                                 method="Nelder-Mead", options=dict(xatol=1e-9, fatol=1e-12, maxiter=4000))
        if not 0.11 < np.exp(best.x).sum() < 990:
            continue  # the maximum lies at the edge of what is kept
        if log_likelihood(*got, lots, wrong) < -best.fun - 1e-9:
            return f"case {case}: {got} is less likely than {np.exp(best.x)}"
        root = optimize.root(score, best.x, args=(lots, wrong), tol=1e-14, method="hybr")
        if not (near(got[0], np.exp(root.x[0])) and near(got[1], np.exp(root.x[1]))):
            return f"case {case}: {got} is not {np.exp(root.x)}"
    return None


def shares():
    """The mixture over every beta that the tallies leave likely, summed over a dense grid"""
    random = np.random.default_rng(1763)
    s, u = np.linspace(1000 ** -0.5, 0.1 ** -0.5, 601), np.linspace(-12, 9, 211)
    weight, mean = (s ** -2)[:, None], (1 / (1 + np.exp(-u)))[None, :]
    a, b = mean * weight, (1 - mean) * weight
    for spread in (3.0, 30.0, 1e6):
        lots = random.integers(3, 20, 15)
        wrong = random.binomial(lots, random.beta(0.18 * spread, 0.82 * spread, 15))
        with tempfile.NamedTemporaryFile("w", suffix=".csv") as f:
            f.write("supplier,lots,wrong\n" + "".join(f"s{i},{n},{k}\n" for i, (n, k) in enumerate(zip(lots, wrong))))
            f.flush()
            told = ask("record", "--from", f.name)["suppliers"]
        log = np.log(mean) + np.log1p(-mean) + sum(special.betaln(a + k, b + n - k) - special.betaln(a, b)
                                                   for k, n in zip(wrong, lots))
        share = np.exp(log - log.max())
        share[[0, -1]] /= 2
        share /= share.sum()
        some = share > 1e-9 * share.max()
        aa, bb, p = a[some], b[some], share[some]
        for i in (0, 7):
            def below(q):
                return (p * special.betainc(aa + wrong[i], bb + lots[i] - wrong[i], q)).sum()
            want = ((p * (aa + wrong[i]) / (aa + bb + lots[i])).sum(),
                    optimize.brentq(lambda q: below(q) - 0.025, 1e-9, 1 - 1e-9, xtol=1e-8),
                    optimize.brentq(lambda q: below(q) - 0.975, 1e-9, 1 - 1e-9, xtol=1e-8))
            got = tuple(told[i][key] for key in ("mean", "lo", "hi"))
            if max(abs(x - y) for x, y in zip(got, want)) > 5e-6:
                return f"weight {spread}, {wrong[i]} of {lots[i]}: {got}, not {want}"
    return None


CHECKS = (
    ("the number of bolts to cut is the exact smallest one", discovery),
    ("operating characteristics agree to 1e-10", curves),
    ("the bound on false bolts is the exact one", proofs),
    ("exact, Jeffreys and posterior intervals agree with SciPy to 1e-10", intervals),
    ("the fitted record is the maximum SciPy finds, to 1e-10", fits),
    ("shares over all likely spreads of suppliers agree with SciPy to 5e-6", shares),
)

for number, (sentence, check) in enumerate(CHECKS, 1):
    wrong = check()
    print(f"{'not ok' if wrong else 'ok'} {number} - {sentence}")
    if wrong:
        print(f"# {wrong}")
