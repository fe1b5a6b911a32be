#!/usr/bin/python3
"""An independent evidence model, written from docs/method.md: agrees with the program to 1e-9 in log evidence.

    test_evidence.py BUILD       TAP lines. Needs NumPy; without it the tests are skipped, and say so.
"""
import csv, itertools, json, os, random, re, subprocess, sys, tempfile

try:
    import numpy as np
except ImportError:
    sys.exit("not ok - test_evidence.py needs NumPy: the Debian package python3-numpy")

BUILD = sys.argv[1]
os.environ["TENTERBOOK_DIGITS"] = "17"  # all digits
REF = os.path.join(os.path.dirname(os.path.abspath(__file__)), "../../sql/reference")
read = lambda name: list(csv.DictReader(open(os.path.join(REF, name + ".csv"), encoding="utf-8")))
FIG = {r["key"]: float(r["value:number"]) for r in read("burn_figure")}
CHANNEL = read("channel")
CUE = read("cue")
KEY = [c["key"] for c in CUE]
AT = {k: i for i, k in enumerate(KEY)}
WHERE = [c["channel"] for c in CUE]
CH = {c["key"]: c for c in CHANNEL}
V = np.array([int(CH[w]["quarters:integer"]) / 4 for w in WHERE])
LAW = [c["law"] for c in CUE]
TELL = np.array([c["telling:integer"] == "1" for c in CUE])
COUNTS_AS = {AT[c["key"]]: AT[c["kind_of"]] for c in CUE if c["as_general:integer"] == "1"}
GENERAL = [AT[c["kind_of"]] if c["kind_of"] and AT[c["key"]] not in COUNTS_AS else -1 for c in CUE]
KINDS = {g: [i for i, x in enumerate(GENERAL) if x == g] for g in set(GENERAL) if g >= 0}
IMPLIED = [(j, AT[w.lstrip("!")], w[0] != "!") for j, c in enumerate(CUE) for w in c["implies"].split()]
NOTHING = {j for j, c in enumerate(CUE) if c["nothing:integer"] == "1"}  # refused beside another cue of its channel
APART = {frozenset((j, k)) for j, k, there in IMPLIED if not there}  # refused: both cannot be seen in one burn
MEANS = {j: {k for i, k, there in IMPLIED if i == j and there} | ({AT[c["kind_of"]]} if c["kind_of"] else set()) for j, c in enumerate(CUE)}


def meant(j):
    """What is there too where this cue was seen: to deny it is refused."""
    return MEANS[j].union(*(meant(k) for k in MEANS[j]))


EXCLUSIVE = {c["key"] for c in CHANNEL if c["exclusive:integer"] == "1"}
FIBRE = read("burn_fibre")
NAME = [r["fibre"] for r in FIBRE]
CLASS = [r["burn_class"] for r in FIBRE]
F, C = len(NAME), len(CUE)


def chances():
    s, u = np.zeros((F, C)), np.zeros((F, C))
    for r in read("burn_count"):
        s[NAME.index(r["fibre"]), AT[r["cue"]]] += float(r["said:number"])
        u[NAME.index(r["fibre"]), AT[r["cue"]]] += float(r["unsaid:number"])
    for r in read("bench_count"):
        m = FIG["memory_weight"]
        s[NAME.index(r["fibre"]), AT[r["cue"]]] += float(r["said_seen:number"]) + m * float(r["said_memory:number"])
        u[NAME.index(r["fibre"]), AT[r["cue"]]] += float(r["unsaid_seen:number"]) + m * float(r["unsaid_memory:number"])
    base = (s.sum(0) + FIG["base_weight"] * FIG["base_rate"]) / ((s + u).sum(0) + FIG["base_weight"])
    bench = np.array([CH[w]["kind"] == "bench" for w in WHERE])
    base = np.where(TELL | bench, FIG["base_telling"], base)
    for ch in EXCLUSIVE:
        j = [i for i in range(C) if WHERE[i] == ch]
        base[j] = 1 / len(j)
    of_class = np.where(bench, FIG["bench_weight"], FIG["class_weight"])
    of_fibre = np.where(bench, FIG["bench_weight"], FIG["fibre_weight"])
    same = np.array([[a == b for b in CLASS] for a in CLASS], float)
    heard = lambda n: np.where(bench, 1, n / (n + FIG["thin"]))
    cs, cu = same @ s, same @ u
    mean = (cs + of_class * base) / (cs + heard(cs + cu) * cu + of_class)
    q = np.minimum(FIG["q_most"], (s + of_fibre * mean) / (s + heard(s + u) * u + of_fibre))
    q[np.outer([r["mineral:integer"] == "1" for r in FIBRE], [c["fire:integer"] == "1" for c in CUE])] = 0
    for ch in EXCLUSIVE:
        j = [i for i in range(C) if WHERE[i] == ch]
        q[:, j] /= q[:, j].sum(1, keepdims=True)
    return q, base


Q, BASE = chances()
BENCH = [CH[w]["kind"] == "bench" for w in WHERE]
RAMP = [(float(c["shows_from:number"]), float(c["shows_to:number"])) for c in CUE]
LEAST = [FIG["mount"] if CH[w]["kind"] == "bench" and w not in EXCLUSIVE else 1 for w in WHERE]
ramp = lambda w, c: np.clip((np.asarray(w) - RAMP[c][0]) / (RAMP[c][1] - RAMP[c][0]), 0, 1) * (LEAST[c] + (1 - LEAST[c]) * np.asarray(w))


FINISH = read("finish")
EFFECT = read("finish_effect")


def effects(z, f, named):
    """(channels silenced, cue -> chance) of finish z on fibre f; None where the table says nothing of it."""
    rows = [r for r in EFFECT if r["finish"] == FINISH[z]["key"] and (named or r["status"] != "memory")
            and {"*", NAME[f], CLASS[f]} & set(r["fibres"].split("|"))]
    made = {}
    for r in rows:
        if r["of"] in AT:
            made[AT[r["of"]]] = max(made.get(AT[r["of"]], 0), float(r["chance:number"]))
    return ({r["of"] for r in rows if r["of"] not in AT}, made) if rows else None


EFFECTS = {(z, f, n): effects(z, f, n) for z in range(len(FINISH)) for f in range(F) for n in (False, True)}
UNNAMED = [float(r["unnamed:number"]) for r in FINISH]
ON_PURE = [[z for z in range(len(FINISH)) if UNNAMED[z] > 0 and EFFECTS[z, f, False]] for f in range(F)]


def on(z, named, fibres, shares):
    return [EFFECTS[z, f, named] for f, s in zip(fibres, shares) if s >= 0.0999 and EFFECTS[z, f, named]]


def finished_T_R(t, z, named, fibres, shares):
    """log T, log R and those of the bench tests of one composition (fibre numbers, shares) that burns with finish z."""
    T = R = 0
    tests = {WHERE[c]: 0 for c, _ in t if CH[WHERE[c]]["kind"] == "bench"}
    parts = on(z, named, fibres, shares)
    for c, seen in t:
        firm = TELL[c] or CH[WHERE[c]]["kind"] == "bench"
        p = cue_chance(c, np.array([fibres]), np.array([shares], float))[0]
        if any(WHERE[c] in silent for silent, _ in parts) and not TELL[c]:
            p = BASE[c]
        p = 1 - (1 - p) * (1 - max([made.get(c, 0) for _, made in parts] + [0]))
        x = V[c] * np.log(p if seen else 1 - p)
        if WHERE[c] in tests:
            tests[WHERE[c]] += x
        elif firm:
            T += x
        else:
            R += x
    return T, R, tests


def cue_chance(c, fibres, shares):
    """p of cue c for compositions: arrays [n, size] of fibre numbers and shares."""
    n = fibres.shape[1]
    q, d = Q[fibres, c], ramp(shares, c)
    noise = FIG["bench_slip"] if WHERE[c] in EXCLUSIVE else FIG["noise_pure"] if n == 1 else FIG["noise_blend"]
    if LAW[c] == "any":
        leak = FIG["leak_telling"] if TELL[c] else (FIG["leak_pure"] if n == 1 else FIG["leak_blend"]) * BASE[c] + FIG["leak_floor"]
        return 1 - (1 - leak) * np.prod(1 - q * d, axis=1)
    if LAW[c] == "share":
        p = (q * shares).sum(1)
    elif LAW[c] == "all":
        p = np.prod(1 - (1 - q) * d, axis=1)
    else:
        p = np.ones(len(fibres))
        for k in range(C):
            if WHERE[k] == WHERE[c] and LAW[k] == "all":
                p -= np.prod(1 - (1 - Q[fibres, k]) * d, axis=1)
        p = np.maximum(p, 0)
    return (1 - noise) * p + noise * BASE[c]


def terms(seen, denied, looked):
    out = []
    seen = {COUNTS_AS.get(i, i) for i in seen}
    denied = {i for i in denied if i not in COUNTS_AS and i not in seen}
    for ch in looked:
        cues = [i for i in range(C) if WHERE[i] == ch]
        if ch in EXCLUSIVE:
            got = [i for i in cues if i in seen]
            out += [(i, True) for i in got] if got else [(i, False) for i in cues if i in denied]
            continue
        for i in cues:
            if i in COUNTS_AS:
                continue
            if i not in seen and any(k == i and j in seen and not (there and i in denied) for j, k, there in IMPLIED):
                continue
            kinds, g = KINDS.get(i, []), GENERAL[i]
            if kinds:
                if any(k in seen for k in kinds):
                    continue
                if i in seen:
                    out.append((i, True))
                elif i in denied:
                    out.append((i, False))
            elif i in seen:
                out.append((i, True))
            elif g >= 0 and i not in denied and g in seen and not any(k in seen for k in KINDS[g]):
                continue
            else:
                out.append((i, False))
    return out


def log_T_R(t, fibres, shares):
    T, R = np.zeros(len(fibres)), np.zeros(len(fibres))
    tests = {WHERE[c]: np.zeros(len(fibres)) for c, _ in t if CH[WHERE[c]]["kind"] == "bench"}
    for c, seen in t:
        p = cue_chance(c, fibres, shares)
        x = V[c] * np.log(p if seen else 1 - p)
        if WHERE[c] in tests:
            tests[WHERE[c]] += x
        elif TELL[c]:
            T += x
        else:
            R += x
    return T, R, tests


SHARE = np.array([float(r["share_percent:number"]) for r in FIBRE])
CLASS_SHARE = np.array([sum(SHARE[k] for k in range(F) if CLASS[k] == CLASS[f]) for f in range(F)])


def flat(power):
    t = CLASS_SHARE ** power * SHARE / CLASS_SHARE
    return t / t.sum()


P, ODD = flat(FIG["share_power"]), flat(FIG["odd_power"])
ALONE = P * np.array([float(r["alone:number"]) for r in FIBRE])
ALONE /= ALONE.sum()
PROTECTIVE = [int(r["protective:integer"]) for r in FIBRE]
lse = np.logaddexp.reduce
SINGLE = np.arange(F).reshape(-1, 1), np.ones((F, 1))


# Ways to share out three fibres that stand for all, in any order of them (docs/method.md, section 5)
STAND_FOR = {(2, 2, 16): 2.06, (2, 6, 12): 5.67, (3, 4, 13): 4.592, (4, 8, 8): 17.416, (1, 2, 17): 124 / 117, (1, 4, 15): 44 / 13, (1, 8, 11): 32 / 9, (1, 1, 18): 1}
STANDING_FAR = 0.02  # of the natural logarithm that the sums over those ways may be from the sums over all


def space(most, whole=False):
    """[(fibres, shares, log prior)] by size; whole: of three fibres all ways, and not those that stand for them."""
    z = np.array([FIG["one_fibre"], FIG["two_fibres"], FIG["three_fibres"]][:most])
    z = z / z.sum()
    out = [(*SINGLE, np.log(z[0] * ALONE))]
    for n in range(2, most + 1):
        sets = np.array(list(itertools.combinations(range(F), n)))
        ways = [k for k in itertools.product(range(1, 20), repeat=n) if sum(k) == 20]
        if n == 3 and not whole:
            ways = [k for k in ways if tuple(sorted(k)) in STAND_FOR]
        times = np.array([STAND_FOR[tuple(sorted(k))] if n == 3 and not whole else 1.0 for k in ways])
        weight = P[sets].prod(1)
        fibres = np.repeat(sets, len(ways), axis=0)
        shares = np.tile(np.array(ways) / 20, (len(sets), 1))
        out.append((fibres, shares, np.log(np.outer(weight, times).ravel() * z[n - 1] / weight.sum() / times.sum())))
    return out


BIT = {k: 1 << i for i, k in enumerate(dict.fromkeys(CLASS))}
CLASS_BIT = np.array([BIT[k] for k in CLASS])
SPACE = {n: space(n) for n in (1, 2, 3)} | {"whole": space(3, True)}
SHOWN = {n: [np.bitwise_or.reduce(np.where(s >= 0.0999, CLASS_BIT[f], 0), axis=1) for f, s, _ in SPACE[n]] for n in SPACE}


MIXUP = FIG["bench_error"] * FIG["mixup_part"]
BURN_ERROR = (FIG["bench_error"] - MIXUP) / (1 - MIXUP)


def mistake(e, own, other):
    return np.logaddexp(np.log1p(-e) + own, np.log(e) + other)


def strange_of(t, T, R, tests):
    """From the pure fibres: an odd burn, a mistake in burning, a swatch of another cloth; any result of each test alike."""
    mistaken = {}
    for k in tests:
        n = WHERE.count(k)
        mistaken[k] = sum(np.log(1 / n if seen else 1 - 1 / n) for c, seen in t if WHERE[c] == k)
    return lse(np.log(ODD) + R), lse(np.log(ODD) + T + R), mistaken, lse(np.log(ODD) + T + R + sum(tests.values()))


def join(T, R, tests, strange, n):
    odd, burn, test, any_cloth = strange
    pi = FIG["odd_pure"] if n == 1 else FIG["odd_blend"]
    own = mistake(BURN_ERROR, T + np.logaddexp(np.log1p(-pi) + R, np.log(pi) + odd), burn)
    return mistake(MIXUP, own + sum(mistake(FIG["test_error"], x, test[k]) for k, x in tests.items()), any_cloth)


def likelihood(t, strange, fibres, shares):
    return join(*log_T_R(t, fibres, shares), strange, fibres.shape[1])


def finished(t, strange, z, named, fibres, shares):
    return join(*finished_T_R(t, z, named, fibres, shares), strange, len(fibres))


def pure_likelihood(t, strange):
    """Of every pure cloth, bare and with the finishes it may have unnamed."""
    bare = likelihood(t, strange, *SINGLE)
    out = []
    for f in range(F):
        rest = 1 - sum(UNNAMED[z] for z in ON_PURE[f])
        out.append(lse([np.log(rest) + bare[f]] + [np.log(UNNAMED[z]) + finished(t, strange, z, False, [f], [1]) for z in ON_PURE[f]]))
    return np.array(out)


def declared_log(t, strange, declared, finishes):
    """log P(seen | declared), of [(model fibre, percent)]."""
    shown = [f for f, p in declared if p >= 10]
    minor = [f for f, p in declared if p < 10]
    exact = np.array([[f for f, _ in declared]]), np.array([[p / 100 for _, p in declared]])
    values = []
    for r in range(len(minor) + 1):
        for extra in itertools.combinations(minor, r):
            if len(shown) + r > 3:
                continue
            n = len(shown) + r
            grid = [k for k in itertools.product(range(1, 21), repeat=n) if sum(k) == 20 and all(x <= 2 for x in k[len(shown):])]
            fibres = np.tile(np.array(shown + list(extra)), (len(grid), 1))
            like = likelihood(t, strange, fibres, np.array(grid) / 20)
            values.append(lse(like) - np.log(len(grid)))
    known = likelihood(t, strange, *exact)[0]
    bare = known if not values else np.logaddexp(known, lse(values) - np.log(len(values))) - np.log(2)
    said = [f for f, _ in declared], [p / 100 for _, p in declared]
    named = [z for z in finishes if on(z, True, *said)]
    most_named = FIG["finish_named"] if named else 0
    states = [(most_named / len(named), finished(t, strange, z, True, *said)) for z in named]
    states += [((1 - most_named) * UNNAMED[z], finished(t, strange, z, False, *said)) for z in range(len(FINISH))
               if z not in finishes and UNNAMED[z] > 0 and on(z, False, *said)]
    return lse([np.log(1 - sum(w for w, _ in states)) + bare] + [np.log(w) + x for w, x in states])


def shows(declared):
    """The classes that have to be shown, and those that may be, as bits."""
    must = may = 0
    for f, p in declared:
        may |= CLASS_BIT[f]
        must |= CLASS_BIT[f] if p >= 10 else 0
    return must, may


def judge(declared, finishes, seen, denied, looked, most):
    """declared: [(model fibre, percent)]. Returns log P(seen | declared), log P(seen | else)."""
    t = terms(seen, denied, looked)
    strange = strange_of(t, *log_T_R(t, *SINGLE))
    dec = declared_log(t, strange, declared, finishes)
    must, may = shows(declared)
    top, bottom = [], []
    for (fibres, shares, prior), mask in zip(SPACE[most], SHOWN[most]):
        other = ~(((mask & must) == must) & ((mask & ~may) == 0))
        like = pure_likelihood(t, strange)[other] if fibres.shape[1] == 1 else likelihood(t, strange, fibres[other], shares[other])
        top.append(lse(like + prior[other]))
        bottom.append(lse(prior[other]))
    return dec, lse(top) - lse(bottom)


def described():
    """Families that described each channel: of the fibre, or of the best described that burns like it."""
    n = np.zeros((F, C))
    for r in read("burn_count"):
        n[NAME.index(r["fibre"]), AT[r["cue"]]] += float(r["said:number"]) + float(r["unsaid:number"])
    for r in read("bench_count"):
        n[NAME.index(r["fibre"]), AT[r["cue"]]] += sum(float(r[k + "_seen:number"]) + FIG["memory_weight"] * float(r[k + "_memory:number"]) for k in ("said", "unsaid"))
    return {(f, ch): max(n[k, c] for k in range(F) if CLASS[k] == CLASS[f] for c in range(C) if WHERE[c] == ch) for f in range(F) for ch in CH}


def published():
    """Cues that somebody said of the fibre, or of one that burns like it."""
    said = {(NAME.index(r["fibre"]), AT[r["cue"]]) for r in read("burn_count") if float(r["said:number"]) > 0}
    said |= {(NAME.index(r["fibre"]), AT[r["cue"]]) for r in read("bench_count") if float(r["said_seen:number"]) + float(r["said_memory:number"]) > 0}
    return {(f, c) for f in range(F) for k, c in said if CLASS[k] == CLASS[f]}


DESCRIBED = described()
PUBLISHED = published()
BURNS_ON = {AT["removed:continues_to_burn"], AT["in_flame:burns_fast"]}
GRADED_MOST = 30  # of each batch, so that it stays quick


def against(declared, finishes, seen, denied, looked):
    """What stands between one burn that goes far enough and a contradiction: "one look", "few", a finish or nothing."""
    everything = terms(seen, denied, looked)
    channels = {WHERE[c] for c, _ in everything}
    must, may = shows(declared)
    other = [f for f in range(F) if (CLASS_BIT[f] & must) != must or CLASS_BIT[f] & ~may]
    said = np.array([[f for f, _ in declared]]), np.array([[p / 100 for _, p in declared]])
    tests = {ch for ch in channels if CH[ch]["kind"] == "bench"}

    def ratio(keep):
        t = [x for x in everything if WHERE[x[0]] in keep]
        if not t:
            return 0
        strange = strange_of(t, *log_T_R(t, *SINGLE))
        prior = np.log(ALONE[other])
        return declared_log(t, strange, declared, finishes) - (lse(prior + likelihood(t, strange, *SINGLE)[other]) - lse(prior))

    strange = strange_of(everything, *log_T_R(everything, *SINGLE))
    bare = likelihood(everything, strange, *SINGLE)
    rival = max(other, key=lambda f: bare[f])
    loud = {ch: 0 for ch in channels - tests}
    for c, sight in everything:
        if WHERE[c] in loud:
            p, q = cue_chance(c, *said)[0], cue_chance(c, np.array([[rival]]), np.ones((1, 1)))[0]
            loud[WHERE[c]] += V[c] * np.log((q if sight else 1 - q) / (p if sight else 1 - p))
    looks = [{ch for ch in loud if loud[ch] == max(loud.values()) > 0}] + [{ch} for ch in tests]
    told = {c for c, sight in everything if any((f, c) in PUBLISHED for f, _ in declared)}
    strange_seen = {WHERE[c] for c, sight in everything if sight and (c not in told or cue_chance(c, *said)[0] < FIG["ordinary"])}
    ordinary = {WHERE[c] for c, sight in everything if sight} - strange_seen
    limit = -np.log(FIG["rest_against"])
    rest = lambda keep: all(ratio(part - gone) <= limit for part in (keep, keep - ordinary) for gone in looks)
    if not rest(channels):
        return "one look"
    shown = [f for f, p in declared if p >= 10]
    well = {ch for ch in channels if all(DESCRIBED[f, ch] > 0 and (ch in tests or DESCRIBED[f, ch] >= FIG["described_by"]) for f in shown)}
    belied = all(PROTECTIVE[f] for f in shown) and any(sight and c in BURNS_ON for c, sight in everything)
    if not belied and well != channels and not any(ratio({ch}) <= limit for ch in tests & well) and not rest(well):
        return "few"
    fibres, shares = [f for f, _ in declared], [p / 100 for _, p in declared]
    like = {FINISH[z]["key"]: finished(everything, strange, z, False, fibres, shares) for z in range(len(FINISH))
            if z not in finishes and UNNAMED[z] > 0 and on(z, False, fibres, shares)}
    best = max(like, key=like.get, default="")
    cheap = max((f for f in other if not PROTECTIVE[f]), key=lambda f: bare[f], default=None)
    return best if best and (cheap is None or like[best] >= bare[cheap] + np.log(FIG["excuse"])) else ""


# A coating of one material is named as a part of the cloth, and mercerising as a mark of its fibre.
SAYABLE = [z for z, r in enumerate(FINISH) if r["key"] not in ("coating_pu", "coating_pvc", "mercerised")]


def cases(rng, n, most):
    burning = [c["key"] for c in CHANNEL if c["kind"] == "burn"]
    bench = [c["key"] for c in CHANNEL if c["kind"] != "burn"]
    for i in range(n):
        size = rng.choice([1, 1, 2, 2, 3, 4]) if most > 2 else rng.choice([1, 1, 2, 2, 3])
        fibres = rng.sample([k for k in range(F) if NAME[k] != "weighted_silk"], size)
        while True:
            cut = sorted(rng.sample(range(1, 100), size - 1))
            percent = [b - a for a, b in zip([0] + cut, cut + [100])]
            if max(percent) >= 10:
                break
        looked = rng.sample(burning, rng.randint(1, 8)) + rng.sample(bench, rng.choice([0, 0, 1, 2]))
        seen, denied = [], []
        for ch in looked:
            cues = [j for j in range(C) if WHERE[j] == ch]
            pick = rng.sample(cues, 1 if ch in EXCLUSIVE else rng.choice([0, 1, 1, 2, 3]) % (len(cues) + 1))
            for j in [j for j in pick if j in NOTHING][:1] or pick:
                seen += [j] if not any(frozenset((j, k)) in APART for k in seen) else []
            if ch not in EXCLUSIVE and rng.random() < 0.3:
                denied += [j for j in rng.sample(cues, 1) if j not in seen]
        denied = [j for j in denied if j not in seen and not any(j in meant(k) for k in seen)]
        finishes = rng.sample(SAYABLE, rng.choice([1, 2])) if rng.random() < 0.3 else []
        yield "c%d" % i, list(zip(fibres, percent)), seen, denied, looked, finishes


def compare(number, n, most, seed, what):
    rng = random.Random(seed)
    batch = list(cases(rng, n, most))
    with tempfile.NamedTemporaryFile("w", suffix=".csv", delete=False, encoding="utf-8") as f:
        w = csv.writer(f)
        w.writerow(["id", "declared", "saw", "not", "looked"])
        for ident, declared, seen, denied, looked, finishes in batch:
            words = ", ".join(["%d%% %s" % (p, WORDS.get(NAME[k], NAME[k])) for k, p in declared] + [FINISH[z]["name"] for z in finishes])
            w.writerow([ident, words, " ".join(KEY[j] for j in seen), " ".join(KEY[j] for j in denied), " ".join(looked)])
    run = subprocess.run([BUILD + "/tenterbook", "judge", "--from", f.name, "--fibres", str(most)], capture_output=True, text=True)
    os.unlink(f.name)
    worst, whole, graded, bad = 0.0, 0.0, 0, [] if run.returncode == 0 else [run.stderr.strip()]
    for case, line in zip(batch, run.stdout.splitlines()):
        got = json.loads(line)
        if got.get("log_ratio") is None:
            bad.append("%s: %s" % (got.get("declared", {}).get("text"), got.get("reason") or got.get("error")))
            continue
        dec, other = judge(case[1], case[5], set(case[2]), set(case[3]), case[4], most)
        if min(got["limits"]["of_many_looks"]["lowest"], 1) < 1 / 20 and got["sort_log_ratio"] < np.log(1 / 20) and graded < GRADED_MOST:
            why = against(case[1], case[5], set(case[2]), set(case[3]), case[4])
            said = "one look" if got["one_look"] else "few" if got["few_tell"] else got["excused"] or ""
            graded += 1
            if why != said or (why and got["grade"] == "contradicts"):
                bad.append("%s: %s, %s, program says %r, oracle %r" % (case[0], got["declared"]["text"], got["grade"], said, why))
        far = max(abs(dec - got["sort_log_declared"]), abs(other - got["sort_log_else"]))
        worst = max(worst, far)
        if most == 3:
            whole = max(whole, abs(judge(case[1], case[5], set(case[2]), set(case[3]), case[4], "whole")[1] - got["sort_log_else"]))
        if not far < 1e-9:
            bad.append("%s: %s, program %.12f %.12f, oracle %.12f %.12f" % (case[0], got["declared"]["text"], got["sort_log_declared"], got["sort_log_else"], dec, other))
    if len(run.stdout.splitlines()) != n:
        bad.append("%d lines came back" % len(run.stdout.splitlines()))
    if not whole < STANDING_FAR:
        bad.append("%.4f from the sums over all ways of three fibres" % whole)
    what += ", %.4f from all ways of three" % whole if most == 3 else ""
    print("%s %d - %s (worst difference %.1e; %d of them go far enough to contradict)" % ("not ok" if bad else "ok", number, what, worst, graded))
    for b in bad[:10]:
        print("# " + b)
    return not bad


def room(number, what):
    """How much of another fibre a pure cloth that fits may hold: the parts that the note names, and none beyond."""
    common = np.array([float(r["common:number"]) for r in FIBRE])
    common /= common.sum()
    burns = [("wool", "approach:curls_away in_flame:burns_slow removed:self_extinguishes odour:burning_hair residue_form:crushable_char residue_colour:black"),
             ("wool", "odour:burning_hair residue_form:crushable_char"), ("cotton", "odour:burning_paper residue_form:light_fluffy_ash"),
             ("polyester", "approach:melts in_flame:melts in_flame:drips smoke:black odour:sweet residue_form:hard_bead"),
             ("nylon", "approach:melts in_flame:melts odour:celery residue_form:hard_bead")]
    bad, parts = [], 0
    for fibre, saw in burns:
        words = WORDS.get(fibre, fibre)
        run = subprocess.run([BUILD + "/tenterbook", "judge", "--declared", "100% " + words, "--saw", saw, "--json"], capture_output=True, text=True)
        got = json.loads(run.stdout)
        note = [n for n in got["notes"] if "is all there is" in n]
        said = {k: int(p) for p, k in re.findall(r"(\d+) % (\w+)", note[0].split(": ", 1)[1])} if note else {}
        t = terms({AT[k] for k in saw.split()}, set(), [k.split(":")[0] for k in saw.split()])
        strange, f = strange_of(t, *log_T_R(t, *SINGLE)), NAME.index(fibre)
        least = declared_log(t, strange, [(f, 100)], []) + np.log(1 / 20)
        want = {}
        for k in sorted(range(F), key=lambda k: -common[k]):
            if common[k] < 0.01 or CLASS[k] == CLASS[f] or any(CLASS[NAME.index(n)] == CLASS[k] for n in want):
                continue
            part = 0
            while part < 50 and likelihood(t, strange, np.array([[f, k]]), np.array([[1 - (part + 5) / 100, (part + 5) / 100]]))[0] >= least:
                part += 5
            want[NAME[k]] = part
        want = {WORDS.get(k, k): p for k, p in want.items() if p}
        parts += len(want)
        if got["grade"] != "fits" or said != want:
            bad.append("%s, %s: program says %r, oracle %r" % (fibre, got["grade"], said, want))
    print("%s %d - %s (%d parts)" % ("not ok" if bad else "ok", number, what, parts))
    for b in bad:
        print("# " + b)
    return not bad


def could_be(number, what):
    """What the cloth is likeliest to show, and which fibres are in it: sets by how common they are in trade (docs/method.md, section 5)."""
    common = np.array([float(r["common:number"]) for r in FIBRE])
    trade = common * np.array([float(r["alone:number"]) for r in FIBRE])
    trade /= trade.sum()
    pair = lambda w: (lambda m: m / np.triu(m, 1).sum())(np.outer(w, w))
    times = pair(common) / pair(P)
    burns = [("silk", "approach:shrinks_away smoke:black odour:sweet residue_form:hard_bead"), ("silk", "odour:burning_hair"),
             ("acrylic", "in_flame:burns_fast smoke:sooty odour:fishy residue_form:hard_bead"), ("cotton", "odour:burning_paper smoke:black")]
    bad, lines = [], 0
    for fibre, saw in burns:
        run = subprocess.run([BUILD + "/tenterbook", "judge", "--declared", "100% " + fibre, "--saw", saw, "--fibres", "2", "--json"], capture_output=True, text=True)
        got = json.loads(run.stdout)
        t = terms({AT[k] for k in saw.split()}, set(), [k.split(":")[0] for k in saw.split()])
        strange, chance = strange_of(t, *log_T_R(t, *SINGLE)), {}
        for fibres, shares, prior in SPACE[2]:
            like = pure_likelihood(t, strange) if fibres.shape[1] == 1 else likelihood(t, strange, fibres, shares)
            for f, w, x in zip(fibres, shares, np.exp(like + prior)):
                shown = tuple(int(k) for k, part in zip(f, w) if part >= 0.0999)
                chance[shown] = chance.get(shown, 0) + x * (trade[shown[0]] / ALONE[shown[0]] if len(shown) == 1 else times[shown])
        total = sum(chance.values())
        want = {NAME[k]: sum(x for s, x in chance.items() if k in s) / total for k in range(F)}
        said = {p["fibre"]: p["probability"] for p in got["present"]}
        lists = [(f, said.get(f, 0), x) for f, x in want.items() if x >= 0.00501 or f in said]
        lists += [(s, l["probability"], chance[s] / total) for l in got["likeliest"] for s in [tuple(sorted(NAME.index(f["fibre"]) for f in l["fibres"]))]]
        lines += len(lists)
        bad += ["%s, %r: program says %g, oracle %g" % (saw, f, a, b) for f, a, b in lists if abs(a - b) > 1e-5]
        first = got["likeliest"][0]
        bad += ["%s: %s is less likely than the cloth it leads" % (saw, f["fibre"]) for f in first["fibres"] if said[f["fibre"]] < first["probability"] - 1e-9]
    print("%s %d - %s (%d figures)" % ("not ok" if bad or not lines else "ok", number, what, lines))
    for b in bad[:10]:
        print("# " + b)
    return not bad


WORDS = {"nylon": "polyamide", "chlorofibre": "chlorofibre", "protein": "azlon"}
if __name__ == "__main__":
    n = int(os.environ.get("TB_CASES", "80"))  # half a second each; the first of as many as somebody asks for
    ok = compare(1, n, 2, 7, "log evidence agrees on %d random cases, one and two fibres" % n)
    ok &= compare(2, 1 + n // 80, 3, 8, "log evidence agrees on %d random cases, up to three fibres" % (1 + n // 80))
    ok &= room(3, "a fit says how much of another fibre the cloth may hold")
    ok &= could_be(4, "what the cloth could be, and which fibres are in it, are one order")
    sys.exit(0 if ok else 1)
