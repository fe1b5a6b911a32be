#!/usr/bin/python3
"""sql/reference/burn_count.csv and bench_count.csv from the published profiles and bench results.

    tests/fit/counts.py           rewrites both tables; tests/fit/counts.py --check fails when they would change

A row that names a cue, a fibre or a source which is in no table stops it: nothing would count such a word. Cues of
which no profile speaks are listed, since the model can learn nothing of them.
A lineage family counts once for each fibre, whatever its sources repeat (docs/method.md, section 1)."""
import csv, io, os, sys

REF = os.path.join(os.path.dirname(os.path.abspath(__file__)), "../../sql/reference")
read = lambda name: list(csv.DictReader(open(os.path.join(REF, name + ".csv"), encoding="utf-8")))
cues, fibres = read("cue"), read("burn_fibre")
channels = [r["key"] for r in read("channel") if r["kind"] == "burn"]
as_general = {c["key"]: c["kind_of"] for c in cues if c["as_general:integer"] == "1"}
implied = {}  # cue -> those of which any, when it was said, leaves it open
for c in cues:
    for key in c["implies"].split():
        if key[0] != "!":
            implied.setdefault(key, set()).add(c["key"])
kinds = {}
for c in cues:
    if c["kind_of"] and c["key"] not in as_general:
        kinds.setdefault(c["kind_of"], []).append(c["key"])


def check_profiles():
    """One sentence for each word of burn_profile.csv that no table has."""
    sources = {r["source"]: r["lineage"] for r in read("burn_source")}
    known, burnt, wrong = {c["key"] for c in cues}, {r["burn_key"] for r in fibres}, []
    for n, r in enumerate(read("burn_profile"), 2):
        where = "burn_profile.csv row %d (%s, %s): " % (n, r["source"], r["fibre"])
        if r["source"] not in sources:
            wrong.append(where + "the source '%s' is not in burn_source.csv" % r["source"])
        elif r["lineage"] != sources[r["source"]]:
            wrong.append(where + "the lineage '%s' is not that of burn_source.csv: '%s'" % (r["lineage"], sources[r["source"]]))
        if r["fibre"] not in burnt:
            wrong.append(where + "the fibre '%s' is no burn_key of burn_fibre.csv" % r["fibre"])
        for ch in channels:
            names = sorted(k.split(":")[1] for k in known if k.startswith(ch + ":"))
            wrong += [where + "%s is '%s'; cue.csv has %s" % (ch, t, ", ".join(names)) for t in words(r[ch])
                      if ch + ":" + t.lstrip("!") not in known]
    return wrong


def words(cell):
    return [t.strip() for t in cell.split(";") if t.strip()]


def accounts():
    """(family, fibre) -> cues said, cues denied, channels described."""
    by_key, out = {r["burn_key"]: r["fibre"] for r in fibres}, {}
    for r in read("burn_profile"):
        said, denied, described = out.setdefault((r["lineage"], by_key[r["fibre"]]), (set(), set(), set()))
        for ch in channels:
            for t in words(r[ch]):
                described.add(ch)
                key = ch + ":" + t.lstrip("!")
                if key not in as_general:
                    (denied if t[0] == "!" else said).add(key)
                elif t[0] != "!":
                    said.add(as_general[key])
    return out


def burn_counts():
    n = {}
    for (_, fibre), (said, denied, described) in accounts().items():
        for c in cues:
            key, sub, general = c["key"], kinds.get(c["key"], []), c["kind_of"]
            if c["channel"] not in described or key in as_general:
                continue
            cell = n.setdefault((fibre, key), [0, 0])
            if key in said or any(s in said for s in sub):
                cell[0] += 1
            elif general and general in said and key not in denied and not any(s in said for s in kinds[general]):
                continue
            elif implied.get(key, set()) & said and key not in denied:
                continue
            else:
                cell[1] += 1
    rows = [["fibre", "cue", "said:number", "unsaid:number"]]
    for f in fibres:
        for c in cues:
            if any(n.get((f["fibre"], c["key"]), [0, 0])):
                rows.append([f["fibre"], c["key"], *n[f["fibre"], c["key"]]])
    return rows


def bench_counts():
    n, results = {}, {}
    for c in cues:
        results.setdefault(c["channel"], []).append(c["key"])
    for r in read("bench_result"):
        column = 0 if r["status"] == "seen" else 1
        for key in results[r["cue"].split(":")[0]]:
            n.setdefault((r["fibre"], key), [0, 0, 0, 0])[(0 if key == r["cue"] else 2) + column] += 1
    head = ["fibre", "cue", "said_seen:number", "said_memory:number", "unsaid_seen:number", "unsaid_memory:number"]
    return [head] + [[*k, *v] for k, v in sorted(n.items())]


wrong = check_profiles()
if wrong:
    sys.exit("counts.py: " + "\ncounts.py: ".join(wrong))
spoken = {c for said, denied, _ in accounts().values() for c in said | denied}
silent = [c["key"] for c in cues if c["channel"] in channels and c["key"] not in spoken and c["key"] not in as_general]
if silent:
    print("no profile speaks of " + ", ".join(silent))
stale = []
for name, rows in (("burn_count", burn_counts()), ("bench_count", bench_counts())):
    path, text = os.path.join(REF, name + ".csv"), io.StringIO()
    csv.writer(text, lineterminator="\n").writerows(rows)
    if open(path, encoding="utf-8").read() != text.getvalue():
        stale.append(name)
        if "--check" not in sys.argv:
            open(path, "w", encoding="utf-8", newline="").write(text.getvalue())
names = " and ".join(name + ".csv" for name in stale)
if not stale:
    print("the counts are those of the published rows")
elif "--check" in sys.argv:
    print(names + " is not what the published rows give: run 'make counts', then 'make calibrate'")
else:
    print("written anew: " + names)
sys.exit(1 if stale and "--check" in sys.argv else 0)
