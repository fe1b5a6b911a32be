#!/usr/bin/python3
"""Each command of a conversation in bad weather: tests/fault/storms.py BUILD WEATHER SHARE CONVERSATION...

  disk     an operation of SQLite on the book's files fails, once or by half, or the disk is full from there on, or the power
           goes and takes of the unsynced writes what it likes (tests/fault/vfs.c)
  memory   there is no memory, once or from there on (tests/fault/memory.c)
  kill     the program is killed at some moment of its run

Each try begins in a fresh copy of the folder. However the command ends, afterwards the book opens and proves and holds all of
the act or nothing of it; what was acknowledged, by exit code 0 or 3 or by a whole answer, is there. A file under its own name is
the one of before or the whole one of fair weather. Only a kill and a loss of power end a command without a sentence: whoever
else did not do what it does in fair weather says so, and ends by itself. Where nothing is held, the same command does it
afterwards, and nothing is left over from the try. SHARE 3 tries every third of what can be tried, and one of each command at
least; 3:1 every third from the second on."""
import concurrent.futures, os, random, re, shutil, sys, tempfile, time

sys.dont_write_bytecode = True
from talk import BOOK, Talk, held, tidy

NOT_AFTER_ALL = "nothing was recorded", "nothing was half-written", "stays as it was"


def ends(code, said, told, good, deadly):
    """How it ended: 'same' as in fair weather, 'failed' with a sentence, 'after' the act with one, 'killed', or what is wrong."""
    if code == -9 and deadly:
        return "killed"
    if code == good[0] and tidy(said) == tidy(good[1]) and tidy(told) == tidy(good[2]):
        return "same"
    if code not in (1, 3):
        return "exit code %d: %s%s" % (code, said[-300:], told[-300:])
    if not re.search(r"^tenterbook: \S.*\S$", told, re.M):
        return "no sentence: %r" % told
    return "failed" if code == 1 else "after"


def all_of_it(now, after):
    return now[0][:2] == after[0][:2]


def nothing_of_it(now, before):
    """The same to the last row; a book that was brought up to date meanwhile has tables that it lacked, with nothing in them."""
    if not before[0] or not now[0] or [t for t, n in now[0][1]] == [t for t, n in before[0][1]]:
        return now[0] == before[0]
    have = dict(now[0][1])
    return all(have.pop(t, None) == n for t, n in before[0][1]) and not any(have.values())


def torn(now, before, after, steady):
    """The first file that is neither as it was nor as it becomes, or ''; what differs from run to run has to be there only."""
    for name, digest in now[1].items():
        if name in after[1] and steady.get(name) == after[1][name] and digest not in (before[1].get(name), after[1][name]):
            return name
    return ""


def again(command, there, good, before, after, steady):
    """What is wrong when the command is run once more where nothing was held, or ''. Files that were to get their names together and
    did not all get them are given them first; then they are there already, which is no less."""
    code, said, told = talk.run(command, there)
    finished = code == 1 and "is there already" in told
    if code != good[0] and not finished:
        return "run again: exit code %d: %s%s" % (code, said[-300:], told[-300:])
    now = held(there)
    if not all_of_it(now, after):
        return "run again, something else is recorded"
    if finished and (set(now[1]) != set(after[1]) or torn(now, before, after, steady)):
        return "run again, some are there and some are not: %s; %s" % (", ".join(sorted(set(now[1]) ^ set(after[1]))), told)
    extra = {f for f in set(now[1]) - set(after[1]) if ".before-" not in f}  # what an upgrade kept, it kept twice
    return "run again, this is left over: " + ", ".join(sorted(extra)) if extra else ""


def wrong(command, start, good, before, after, steady, do, deadly):
    """One try, made by do(folder): (whether the weather struck, what is wrong or '')"""
    there = talk.copy(start)
    try:
        struck, code, said, told = do(there)
        how = ends(code, said, told, good, deadly)
        if how not in ("same", "failed", "after", "killed"):
            return struck, how
        whole = how in ("same", "after") or (how == "killed" and said and tidy(said) == tidy(good[1]))
        now = held(there) if how != "killed" else None
        if os.path.exists(os.path.join(there, BOOK)):
            c, s, t = talk.run("tenterbook prove", there)
            if c:
                return struck, "%s, and the book does not prove: %s" % (how, t)
        elif before[0]:
            return struck, "%s, and the book is gone" % how
        now = now or held(there)
        if torn(now, before, after, steady):
            return struck, "%s, and %s is neither what it was nor what it becomes: %s%s" % (how, torn(now, before, after, steady), said[-300:], told[-300:])
        if whole and not all_of_it(now, after):
            return struck, "%s with exit code %d, and not all of it is there: %s%s" % (how, code, said[-300:], told[-300:])
        if all_of_it(now, after) and before[0] != after[0]:
            if how == "failed" and "brought up to date" not in told and any(w in told for w in NOT_AFTER_ALL):
                return struck, "it is recorded, and this is said: " + told
            return struck, ""
        if not nothing_of_it(now, before):
            return struck, "%s: half of it is recorded: %r, before %r, after %r; %s" % (how, now[0], before[0], after[0], told)
        if how in ("same", "after"):
            return struck, "" if set(now[1]) == set(after[1]) else "the same is said, and other files are there: %s" % ", ".join(set(now[1]) ^ set(after[1]))
        if before[0] != after[0] or set(now[1]) != set(after[1]) or now[1] == before[1]:  # a copy or a key that is whole is not made again
            return struck, again(command, there, good, before, after, steady)
        return struck, ""
    finally:
        shutil.rmtree(there)


# --- the weathers: each gives the tries of a command, as (name, function of the folder, whether it may end without a word); it
# --- begins with a run in fair weather in the folder `fair`

SEEN = set()


def log_of(command, fair, preload, name):
    log = os.path.join(talk.tmp, "log")
    talk.run(command, fair, preload, **{name: log})
    return open(log, encoding="utf-8", errors="replace").read().split("\n")[:-1]


def disk(command, fair, number):
    ops = log_of(command, fair, "vfs.so", "TB_DISK_LOG")

    def one(at, how, seed):
        def do(there):
            return (True,) + talk.run(command, there, "vfs.so", TB_DISK_AT=at, TB_DISK_HOW=how, TB_DISK_SEED=seed)
        return "operation %d%s %s, seed %d" % (at, " (%s)" % ops[at - 1] if at <= len(ops) else "", how, seed), do, how == "power"
    for n, op in enumerate(ops, 1):
        kind = op.split()[0]
        if kind not in ("rename", "link"):  # those that fail are walk.py's
            yield one(n, "fail", 0)
        if kind in ("read", "write"):
            yield one(n, "half", 0)
        if kind in ("write", "open", "map"):
            yield one(n, "full", 0)
        if kind in ("write", "sync", "truncate", "delete", "rename", "link"):
            for seed in range(2):
                yield one(n, "power", 10 * n + seed)
    for seed in range(4):
        yield one(len(ops) + 1, "power", seed)


def memory(command, fair, number):
    """A way to where memory is asked for is tried once, whichever command takes it."""
    def one(at, gone):
        def do(there):
            return (True,) + talk.run(command, there, "memory.so", TB_MEMORY_AT=at, **({"TB_MEMORY_GONE": 1} if gone else {}))
        return "no memory at %d%s" % (at, ", nor ever after" if gone else ""), do, False
    for n, way in enumerate(log_of(command, fair, "memory.so", "TB_MEMORY_LOG"), 1):
        if way not in SEEN:
            SEEN.add(way)
            yield one(n, len(SEEN) % 2)


def kill(command, fair, number):
    """Moments from before its beginning to beyond its end, as long as it takes by itself."""
    began = time.monotonic()
    talk.run(command, fair)
    took = time.monotonic() - began
    moments = random.Random(number)

    def one(at):
        def do(there):
            p = talk.start(command, there)
            time.sleep(at)
            p.kill()
            said, told = p.communicate(timeout=120)
            return p.returncode == -9, p.returncode, said.decode(errors="replace"), told.decode(errors="replace")
        return "killed after %.1f ms" % (at * 1000), do, True
    for i in range(BLOWS):
        yield one(moments.uniform(0, took))


def chosen(all_of_them, turn, share, first):
    """Every share-th, counted on over the commands; where none of a command would be, the one in the middle."""
    them = list(all_of_them)
    some = [t for n, t in enumerate(them, turn + 1) if n % share == first % share]
    return some or them[len(them) // 2:][:1], turn + len(them)


def walk(weather, path, share, first, pool):
    """Tries every share-th: (how many struck, [(command, try, what is wrong)])"""
    struck, bad, turn = 0, [], 0
    for number, (command, start, good, before, after) in enumerate(talk.commands(path), 1):
        if good[0]:  # then no weather would ever strike what it writes
            bad.append((command, "in fair weather", "exit code %d: %s" % (good[0], good[2])))
            continue
        fair = talk.copy(start)
        tries, turn = chosen(weather(command, fair, number), turn, share, first)
        steady = held(fair)[1]
        shutil.rmtree(fair)
        for (name, _, _), (s, what) in zip(tries, pool.map(lambda t: wrong(command, start, good, before, after, steady, *t[1:]), tries)):
            struck += s
            if what:
                bad.append((command, name, what))
    return struck, bad


BLOWS = int(os.environ.get("TB_BLOWS") or 4)
SAID = {"disk": "a disk that fails, tears, fills or loses its power", "memory": "no memory left", "kill": "a kill without warning"}
tmp = tempfile.mkdtemp()
try:
    talk = Talk(sys.argv[1], tmp)
    weather, (share, _, first) = {"disk": disk, "memory": memory, "kill": kill}[sys.argv[2]], sys.argv[3].partition(":")
    tried = lost = 0
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        for path in sys.argv[4:]:
            n, bad = walk(weather, path, int(share), int(first or 0), pool)
            tried, lost = tried + n, lost + len(bad)
            for b in bad:
                print("# %s\n#   %s" % b[:2])
                print("".join("#   %s\n" % l for l in b[2].split("\n")), end="")
            print("%s - %s: nothing is lost or half done by %s: %d tried, %d survived" % (
                "ok" if n and not bad else "not ok", os.path.basename(path), SAID[sys.argv[2]], n, n - len(bad)), flush=True)
    sys.exit(lost > 0 or not tried)
finally:
    shutil.rmtree(tmp)
