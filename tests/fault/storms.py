#!/usr/bin/python3
"""Each command of a conversation in bad weather: tests/fault/storms.py BUILD WEATHER SHARE CONVERSATION...

  disk     an operation of SQLite on the book's files fails, once or by half, or the disk is full from there on, or the power
           goes and takes of the unsynced writes what it likes (tests/fault/vfs.c)
  memory   there is no memory, once or from there on (tests/fault/memory.c)
  kill     the program is killed at some moment of its run

Each try begins in a fresh copy of the folder. However the command ends, afterwards the book opens and proves and holds all of
the act or nothing of it; what was acknowledged, by exit code 0 or 3 or by a whole answer, is there. A command that ends by
itself and did not do what it does in fair weather says so in a sentence. Where nothing is held, the same command does it
afterwards, and nothing is left over from the try. SHARE 3 tries every third of what can be tried."""
import concurrent.futures, os, random, re, shutil, sys, tempfile, time

sys.dont_write_bytecode = True
from talk import BOOK, Talk, held, tidy

NOT_AFTER_ALL = "nothing was recorded", "nothing was half-written", "stays as it was"


def ends(code, said, told, good):
    """How it ended: 'same' as in fair weather, 'failed' with a sentence, 'after' the act with one, 'killed', or what is wrong."""
    if code in (-9, 99):  # 99: a library fell over (memory.c), which is as good as a kill
        return "killed"
    if code == good[0] and tidy(said) == tidy(good[1]) and tidy(told) == tidy(good[2]):
        return "same"
    if code == 0 == good[0] and "It cannot be read" in said:
        return "after"  # of a book that is set aside no more can be said
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


def again(command, there, good, after):
    """What is wrong when the command is run once more where nothing was held, or ''."""
    code, said, told = talk.run(command, there)
    if code != good[0]:
        return "run again: exit code %d: %s%s" % (code, said[-300:], told[-300:])
    now = held(there)
    if not all_of_it(now, after):
        return "run again, something else is recorded"
    extra = {f for f in set(now[1]) - set(after[1]) if ".before-" not in f}  # what an upgrade kept, it kept twice
    return "run again, this is left over: " + ", ".join(sorted(extra)) if extra else ""


def wrong(command, start, good, before, after, do):
    """One try, made by do(folder): (whether the weather struck, what is wrong or '')"""
    there = talk.copy(start)
    try:
        struck, code, said, told = do(there)
        how = ends(code, said, told, good)
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
        if not before[0] == after[0] or set(now[1]) != set(after[1]) or how == "killed":  # a copy that is whole is not made again
            return struck, again(command, there, good, after) if good[0] == 0 else ""
        return struck, ""
    finally:
        shutil.rmtree(there)


# --- the weathers: each gives the tries of a command, as (name, function of the folder) -----------------------------

SEEN = set()


def log_of(name, *path):
    return open(os.path.join(talk.tmp, "log"), encoding="utf-8", errors="replace").read().split("\n")[:-1]


def disk(command, start, good, number):
    def one(at, how, seed):
        def do(there):
            return (True,) + talk.run(command, there, "vfs.so", TB_DISK_AT=at, TB_DISK_HOW=how, TB_DISK_SEED=seed)
        return "operation %d%s %s, seed %d" % (at, " (%s)" % ops[at - 1] if at <= len(ops) else "", how, seed), do
    talk.run(command, talk.copy(start), "vfs.so", TB_DISK_LOG=os.path.join(talk.tmp, "log"))
    ops = log_of("disk")
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


def memory(command, start, good, number):
    """A way to where memory is asked for is tried once, whichever command takes it."""
    def one(at, gone):
        def do(there):
            return (True,) + talk.run(command, there, "memory.so", TB_MEMORY_AT=at, **({"TB_MEMORY_GONE": 1} if gone else {}))
        return "no memory at %d%s" % (at, ", nor ever after" if gone else ""), do
    talk.run(command, talk.copy(start), "memory.so", TB_MEMORY_LOG=os.path.join(talk.tmp, "log"))
    for n, way in enumerate(log_of("memory"), 1):
        if way not in SEEN:
            SEEN.add(way)
            yield one(n, len(SEEN) % 2)


def kill(command, start, good, number):
    """Moments from before its beginning to beyond its end, as long as it takes by itself."""
    there = talk.copy(start)
    began = time.monotonic()
    talk.run(command, there)
    took = time.monotonic() - began
    moments = random.Random(number)

    def one(at):
        def do(there):
            p = talk.start(command, there)
            time.sleep(at)
            p.kill()
            said, told = p.communicate(timeout=120)
            return p.returncode == -9, p.returncode, said.decode(errors="replace"), told.decode(errors="replace")
        return "killed after %.1f ms" % (at * 1000), do
    for i in range(BLOWS):
        yield one(moments.uniform(0, took))


def walk(weather, path, share, pool):
    """Tries every SHARE-th: (how many struck, [(command, try, what is wrong)])"""
    struck, bad, number, turn = 0, [], 0, 0
    for command, start, good, before, after in talk.commands(path):
        number += 1
        tries = []
        for t in weather(command, start, good, number):
            turn += 1
            if turn % share == 0:
                tries.append(t)
        for (name, _), (s, what) in zip(tries, pool.map(lambda t: wrong(command, start, good, before, after, t[1]), tries)):
            struck += s
            if what:
                bad.append((command, name, what))
    return struck, number, bad


BLOWS = int(os.environ.get("TB_BLOWS") or 4)
SAID = {"disk": "a disk that fails, tears, fills or loses its power", "memory": "no memory left", "kill": "a kill without warning"}
tmp = tempfile.mkdtemp()
try:
    talk = Talk(sys.argv[1], tmp)
    weather, share = {"disk": disk, "memory": memory, "kill": kill}[sys.argv[2]], int(sys.argv[3])
    tried = lost = 0
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        for path in sys.argv[4:]:
            n, commands, bad = walk(weather, path, share, pool)
            tried, lost = tried + n, lost + len(bad)
            for b in bad:
                print("# %s\n#   %s" % b[:2])
                print("".join("#   %s\n" % l for l in b[2].split("\n")), end="")
            print("%s - %s: nothing is lost or half done by %s: %d tried, %d survived" % (
                "ok" if n and not bad else "not ok", os.path.basename(path), SAID[sys.argv[2]], n, n - len(bad)), flush=True)
    sys.exit(lost > 0 or not tried)
finally:
    shutil.rmtree(tmp)
