#!/usr/bin/python3
"""Fit the figures of the evidence model by leave-one-lineage-family-out log score: tests/fit/fit.py [SECONDS] [SEED], or TRIES SEED --nested

Needs NumPy. Walks at random over a grid of values from the figures that are in force, and prints every step that scores
better; it writes nothing: whoever takes a set over edits sql/reference/burn_figure.csv and the weights of channel.csv,
runs `make calibrate`, and commits both with the report. The walk works on compositions of one and two fibres at seven
fractions; the report is made by the program's own engine on the whole space.

The score is the mean of -log P(right answer) over (profile, declaration) pairs, true and false weighing the same, with
soft walls at the aims of docs/calibration.md. --nested starts from round numbers, fits on every other family by so many tries,
and prints as JSON what the families that had no say come out as: what the figures are worth on sources they were not chosen
on. It is the same in every run, and docs/calibration.md leads with it."""
import csv, itertools, json, math, multiprocessing, os, random, sys, time
import numpy as np

REF = os.path.join(os.path.dirname(os.path.abspath(__file__)), "../../sql/reference")
read = lambda name: list(csv.DictReader(open(os.path.join(REF, name + ".csv"), encoding="utf-8")))
FIG = {r["key"]: float(r["value:number"]) for r in read("burn_figure")}
CH = [r["key"] for r in read("channel") if r["kind"] == "burn"]
FIG["weights"] = [int(r["quarters:integer"]) for r in read("channel") if r["kind"] == "burn"]
CUE = [r for r in read("cue") if r["channel"] in CH and r["as_general:integer"] == "0"]
AS_GENERAL = {r["key"]: r["kind_of"] for r in read("cue") if r["as_general:integer"] == "1"}
AT = {r["key"]: i for i, r in enumerate(CUE)}
OF = np.array([CH.index(r["channel"]) for r in CUE])
LAW = np.array([["any", "all", "share"].index(r["law"]) for r in CUE])
FROM, TO = (np.array([float(r[k]) for r in CUE]) for k in ("shows_from:number", "shows_to:number"))
TELL = np.array([r["telling:integer"] == "1" for r in CUE])
KINDS = {}
for r in CUE:
    if r["kind_of"]:
        KINDS.setdefault(AT[r["kind_of"]], []).append(AT[r["key"]])
FIB = read("burn_fibre")
NAME, CLS = [r["fibre"] for r in FIB], [r["burn_class"] for r in FIB]
F, C = len(FIB), len(CUE)
SHARE, LONE = (np.array([float(r[k]) for r in FIB]) for k in ("share_percent:number", "alone:number"))
SAME = np.array([[a == b for b in CLS] for a in CLS], float)
CLASS_SHARE = SAME @ SHARE
FAM = {}
for r in read("burn_profile"):
    hit = [i for i, f in enumerate(FIB) if f["burn_key"] == r["fibre"]]
    for f in hit:
        said, denied, looked = FAM.setdefault((r["lineage"], f), (set(), set(), set()))
        for h in CH:
            for t in filter(None, (t.strip() for t in r[h].split(";"))):
                looked.add(CH.index(h))
                key = h + ":" + t.lstrip("!")
                if key not in AS_GENERAL:
                    (denied if t[0] == "!" else said).add(AT[key])
                elif t[0] != "!":
                    said.add(AT[AS_GENERAL[key]])


def split(said, denied, looked):
    """Terms that count as seen and as unseen."""
    said, skip = set(said), set()
    for g, sub in KINDS.items():
        if OF[g] not in looked:
            continue
        if any(x in said for x in sub):
            said.discard(g)
            skip.add(g)
        elif g in said:
            skip.update(x for x in sub if x not in denied)
        elif g not in denied:
            skip.add(g)
    return list(said), [j for j in range(C) if OF[j] in looked and j not in said and j not in skip]


TERMS = {k: split(*v) for k, v in FAM.items()}


def counts(leave):
    s, u = np.zeros((F, C)), np.zeros((F, C))
    for (family, f), (said, denied, looked) in FAM.items():
        if family == leave:
            continue
        for j in range(C):
            if OF[j] not in looked:
                continue
            general = next((g for g, sub in KINDS.items() if j in sub), None)
            if j in said or any(x in said for x in KINDS.get(j, [])):
                s[f, j] += 1
            elif general in said and j not in denied and not any(x in said for x in KINDS[general]):
                continue
            else:
                u[f, j] += 1
    return s, u


COUNTS = {k: counts(k) for k in sorted({k[0] for k in FAM})}
GRID = np.array([0.05, 0.15, 0.3, 0.5, 0.7, 0.85, 0.95])
PAIRS = list(itertools.combinations(range(F), 2))
H = np.array([(i, i) for i in range(F)] + [p for p in PAIRS for _ in GRID])
W = np.array([1.0] * F + [w for _ in PAIRS for w in GRID])
ONE = H[:, 0] == H[:, 1]
SHOWN = [frozenset(CLS[f] for f, w in ((a, w), (b, 1 - w if a != b else 1)) if w >= 0.1) for (a, b), w in zip(H.tolist(), W)]
DECLARED = "cotton wool silk polyester nylon acetate acrylic viscose flax".split()
LSE = np.logaddexp.reduce


def flat(a):
    t = CLASS_SHARE ** a * SHARE / CLASS_SHARE
    return t / t.sum()


def prior(P):
    p = flat(P["share_power"])
    alone = p * LONE / (p * LONE).sum()
    pair = np.array([p[i] * p[j] for i, j in PAIRS])
    z = P["one_fibre"] / (P["one_fibre"] + P["two_fibres"])
    return np.log(np.concatenate([z * alone, np.repeat((1 - z) * pair / pair.sum() / len(GRID), len(GRID))]))


def chances(s, u, P):
    heard = lambda n: n / (n + P["thin"])  # what the silence of n families counts
    b = np.where(TELL, P["base_telling"], (s.sum(0) + P["base_weight"] * P["base_rate"]) / ((s + u).sum(0) + P["base_weight"]))
    cs, cu = SAME @ s, SAME @ u
    mean = (cs + P["class_weight"] * b) / (cs + heard(cs + cu) * cu + P["class_weight"])
    q = np.minimum(P["q_most"], (s + P["fibre_weight"] * mean) / (s + heard(s + u) * u + P["fibre_weight"]))
    a, c, w, one = q[H[:, 0]], q[H[:, 1]], W[:, None], ONE[:, None]
    ramp = lambda x: np.clip((x - FROM) / (TO - FROM), 0, 1)
    da, dc = np.where(one, 1, ramp(w)), np.where(one, 0, ramp(1 - w))
    leak = np.where(TELL, P["leak_telling"], np.where(one, P["leak_pure"], P["leak_blend"]) * b + P["leak_floor"])
    k = np.where(one, P["noise_pure"], P["noise_blend"])
    both = (1 - (1 - a) * da) * (1 - (1 - c) * dc)
    share = np.where(one, a, w * a + (1 - w) * c)
    some = 1 - (1 - leak) * (1 - a * da) * (1 - c * dc)
    return np.where(LAW == 0, some, (1 - k) * np.where(LAW == 1, both, share) + k * b)


def score(P, families=None):
    """families: judge the profiles of these only; the counts always come from all the others."""
    lp0, v = prior(P), np.array(P["weights"])[OF] / 4
    odd_prior, pi = np.log(flat(P["odd_power"])), np.where(ONE, P["odd_pure"], P["odd_blend"])
    side = {}
    for d in DECLARED:
        i = NAME.index(d)
        own, other = (H[:, 0] == i) & ONE, np.array([s != frozenset([CLS[i]]) for s in SHOWN])
        side[d] = own, other, LSE(lp0[own]), LSE(lp0[other])
    right, prob, verdict = [], [], []
    for family, (s, u) in COUNTS.items():
        if families is not None and family not in families:
            continue
        p = chances(s, u, P)
        yes, no = v * np.log(p), v * np.log1p(-p)
        for (g, f), (seen, unseen) in TERMS.items():
            if g != family or len(FAM[g, f][0] | FAM[g, f][1]) < 4:
                continue
            pick = lambda keep: yes[:, [j for j in seen if TELL[j] == keep]].sum(1) + no[:, [j for j in unseen if TELL[j] == keep]].sum(1)
            T, R = pick(True), pick(False)
            own = T + np.logaddexp(np.log1p(-pi) + R, np.log(pi) + LSE(odd_prior + R[:F]))
            e = P["bench_error"]
            like = lp0 + np.logaddexp(np.log1p(-e) + own, np.log(e) + LSE(odd_prior + T[:F] + R[:F]))
            for d in DECLARED:
                own, other, z0, z1 = side[d]
                bf = LSE(like[own]) - z0 - LSE(like[other]) + z1
                right.append(CLS[NAME.index(d)] == CLS[f])
                prob.append(1 / (1 + math.exp(-bf)))
                verdict.append("contradicts" if bf < math.log(1 / 20) else "speaks against" if bf < math.log(P["speaks_below"])
                               else "fits" if bf > math.log(5) else "undecided")
    t, p, k = np.array(right), np.array(prob), np.array(verdict)
    weight = np.where(t, 0.5 / t.sum(), 0.5 / (~t).sum())
    r = dict(log_score=-(weight * np.log(np.where(t, p, 1 - p))).sum(), true_contradicted=(k[t] == "contradicts").mean(),
             false_caught=(k[~t] == "contradicts").mean(), false_fits=(k[~t] == "fits").mean())
    counts = {side: dict(judged=int(s.sum()), **{g: int((k[s] == g).sum()) for g in ("contradicts", "speaks against", "fits")})
              for side, s in (("true", t), ("false", ~t))}
    walls = 2 * max(0, r["true_contradicted"] - 0.008) + 3 * max(0, 0.924 - r["false_caught"]) + 6 * max(0, r["false_fits"] - 0.0135)
    return r["log_score"] + walls, r, counts


CHOICE = dict(leak_pure=[0.01, 0.02, 0.05, 0.1], leak_floor=[0.001, 0.003, 0.01], noise_pure=[0.01, 0.02, 0.03, 0.05, 0.1],
              class_weight=[0.5, 1, 2, 4], fibre_weight=[1, 2, 3, 4, 5, 8], thin=[1, 2, 5, 8, 12], base_weight=[2, 6, 12], base_rate=[0.03, 0.05, 0.1],
              share_power=[0.2, 0.3, 0.33, 0.35, 0.4, 0.5], odd_power=[0.3, 0.5, 0.7], odd_pure=[0.0005, 0.001, 0.002, 0.005])
# Where a walk starts that must not know the answer: round numbers, every channel at full weight.
PLAIN = dict(leak_pure=0.05, leak_floor=0.003, noise_pure=0.05, class_weight=2, fibre_weight=3, thin=4, base_weight=6, base_rate=0.05,
             share_power=0.5, odd_power=0.5, odd_pure=0.001, weights=[4] * len(CH))


def walk(P, going_on, rng, families=None, say=False):
    best = score(P, families)
    while going_on():
        Q = dict(P, weights=list(P["weights"]))
        for _ in range(rng.choice([1, 1, 2, 3])):
            if rng.random() < 0.3:
                Q["weights"][rng.randrange(len(CH))] = rng.randint(1, 4)
            else:
                k = rng.choice(list(CHOICE))
                Q[k] = rng.choice(CHOICE[k])
        now = score(Q, families)
        if now[0] < best[0] - 1e-6:
            best, P = now, Q
            if say:
                print("%.5f %s %s" % (*best[:2], {k: P[k] for k in [*CHOICE, "weights"]}), flush=True)
    return P


def nested(half, tries, seed):
    """Fit on every other family, report on the families that had no say in the fit."""
    held = set(sorted(COUNTS)[half::2])
    left = iter(range(tries))
    P = walk(dict(FIG, **PLAIN), lambda: next(left, None) is not None, random.Random(seed + half), set(COUNTS) - held)
    _, r, counts = score(P, held)
    return dict(families=len(held), log_score=round(float(r["log_score"]), 3), **counts)


if __name__ == "__main__":
    words = [a for a in sys.argv[1:] if a != "--nested"]
    seconds, seed = float(words[0]) if words else 600, int(words[1]) if len(words) > 1 else 1
    if "--nested" in sys.argv:
        with multiprocessing.Pool(2) as pool:
            halves = pool.starmap(nested, [(half, int(seconds), seed) for half in (0, 1)])
        print(json.dumps(dict(tries=int(seconds), halves=halves)))
    else:
        print("in force: %.5f %s" % score(FIG)[:2], flush=True)
        start = time.time()
        walk(FIG, lambda: time.time() - start < seconds, random.Random(seed), say=True)
