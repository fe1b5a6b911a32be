#!/usr/bin/python3
"""What happens when a thing fails that hardly ever does: tests/fault/walk.py BUILD SHARE CONVERSATION...

Goes through a conversation of tests/said. Each of its commands is run once to see what it asks of the book and of the disk
(tests/fault/fail.c), and once more for each of these with that one failing, each time in a fresh copy of the folder. Then

  - it ends by itself, with exit code 1 and a sentence, and the book holds what it held and every file is as it was; or
  - what failed was of no matter: the same is said and the same is recorded as without it (not so of a paper); or
  - all is recorded as without it, and only what was to be said afterwards is missing, with exit code 1.

What is asked often in a command fails at its first and its last time. SHARE 3 tries every third of them."""
import concurrent.futures, os, re, shutil, sys, tempfile

sys.dont_write_bytecode = True
from talk import BOOK, Talk, held, tidy

SEEN = set()


def chosen(command, log):
    """The numbers of what is to fail: of the same thing asked often the first and the last, unless the same
    failed before under a command with the same options. Opening a book is the same for all commands."""
    like, by = " ".join(re.findall(r"^tenterbook \S+|--\S+", command)), {}
    opening = "tenterbook new" not in like
    for number, line in enumerate(tidy(log).split("\n")[:-1], 1):
        if line.strip() not in ("row", "sql"):  # SQLite reading its own tables
            by.setdefault(("" if opening else like, re.sub(r"^sql (CREATE|DROP|ALTER) .*", r"\1", line)), []).append(number)
        if line.startswith("sql PRAGMA temp_store"):
            opening = False
    out = set()
    for key, numbers in by.items():
        for which, n in (("first", numbers[0]), ("last", numbers[-1])):
            if key + (which,) not in SEEN:
                SEEN.add(key + (which,))
                out.add(n)
    return sorted(out)


def must_be_told(what):
    """Of a paper that is written no failure is passed over. What fails of a book may be of no matter: SQLite tidies up."""
    return re.match(r"(write|fwrite|fflush|fsync|fclose|close) .*\.part$|(rename|link) ", what) and BOOK not in what


def wrong(command, number, what, before, good, good_held, folder):
    """Runs the command in a copy of the folder with this one failing; answers what is wrong then, or ''."""
    there = talk.copy(folder)
    try:
        code, said, told = talk.run(command, there, "fail.so", TB_FAIL_DIR=there, TB_FAIL_AT=number)
        now = held(there)
        if code == good[0] and tidy(said) == tidy(good[1]) and tidy(told) == tidy(good[2]):
            if now[0][:2] != good_held[0][:2] or set(now[1]) != set(good_held[1]):
                return "the same is said, and something else is recorded"
            return "nobody is told" if must_be_told(what) and code == 0 else ""
        if code != 1:
            return "exit code %d: %s%s" % (code, said[-300:], told[-300:])
        if not re.search(r"^tenterbook: \S.*\S$", told, re.M):
            return "no sentence: %r" % told
        if now == before:
            return ""
        if now[0] == before[0] and all(now[1].get(f) in (d, good_held[1].get(f)) for f, d in before[1].items()) and \
                all(good_held[1].get(f) == d or f in before[1] for f, d in now[1].items()):
            return ""  # the file is whole, only that it is for good is not certain
        if "files were refused; the others are in the book" in told:
            return ""  # each file is one act, and which of them was refused is said
        if now[0][:2] != good_held[0][:2]:
            return "half of it is recorded: %r, before %r, %s" % (now, before, told)
        if "nothing was recorded" in told:
            return "it is recorded, and this is said: " + told
        code, said, told2 = talk.run("tenterbook prove", there)
        if code:
            return "the book does not prove: " + told2
        extra = set(now[1]) - set(good_held[1])
        if extra:
            return "left behind: %s, %s" % (", ".join(sorted(extra)), told)
        return "recorded, but: " + told if os.environ.get("TB_FAULT_STRICT") else ""
    finally:
        shutil.rmtree(there)


def walk(path, share, pool):
    tried, bad, commands = 0, [], 0
    log = os.path.join(talk.tmp, "log")
    for command, start, good, before, after in talk.commands(path, "fail.so", TB_FAIL_DIR=talk.tmp, TB_FAIL_LOG=log):
        could = open(log, encoding="utf-8", errors="replace").read()
        numbers = [n for n in chosen(command, could) if (n + commands) % share == 0]
        could = could.split("\n")
        commands += 1
        for n, what in zip(numbers, pool.map(lambda n: wrong(command, n, could[n - 1], before, good, after, start), numbers)):
            tried += 1
            if what:
                bad.append((command, could[n - 1][:90], what))
    return tried, bad


tmp = tempfile.mkdtemp()
try:
    talk = Talk(sys.argv[1], tmp)
    failed = 0
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        for path in sys.argv[3:]:
            tried, bad = walk(path, int(sys.argv[2]), pool)
            for b in bad:
                print("# %s\n#   with this failing: %s" % b[:2])
                print("".join("#   %s\n" % l for l in b[2].split("\n")), end="")
            good = tried and not bad
            failed |= not good
            print("%s - nothing is half done in tests/said/%s when one of %d things fails" % ("ok" if good else "not ok", os.path.basename(path), tried), flush=True)
    sys.exit(failed)
finally:
    shutil.rmtree(tmp)
