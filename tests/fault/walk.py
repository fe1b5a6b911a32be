#!/usr/bin/python3
"""What happens when a thing fails that hardly ever does: tests/fault/walk.py BUILD SHARE CONVERSATION...

Goes through a conversation of tests/said. Each of its commands is run once to see what it asks of the book and of the disk
(tests/fault/fail.c), and once more for each of these with that one failing, each time in a fresh copy of the folder. Then

  - it ends by itself, with exit code 1 and a sentence, and the book holds what it held and every file is as it was; or
  - what failed was of no matter: the same is said and the same is recorded as without it (not so of a paper); or
  - all is recorded as without it, and only what was to be said afterwards is missing, with exit code 1.

What is asked often in a command fails at its first and its last time. SHARE 3 tries every third of them."""
import concurrent.futures, hashlib, os, re, shlex, shutil, sqlite3, subprocess, sys, tempfile

sys.dont_write_bytecode = True
HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(HERE, "..", "said"))
from converse import at, env, tidy

BOOK = "shed.db"
PROGRAM = re.compile(r"""(?:"[^"]*"|'[^']*'|[^"'|;&>])*""")  # a command up to what is done with its output


def run(command, folder, **more):
    e = dict(env, PATH=BUILD + ":" + env["PATH"])
    if more:  # of the program alone, and not of the shell that may have to start it
        command = "env LD_PRELOAD='%s/tests/fault/fail.so' TB_FAIL_DIR='%s' %s %s" % (
            BUILD, folder, " ".join("%s='%s'" % i for i in more.items()), command)
    plain = not re.search(r"[|&;<>$`(*\\\n]|^\w+=", command)
    p = subprocess.run(shlex.split(command) if plain else ["sh", "-c", command], cwd=folder, env=e, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                       stderr=subprocess.PIPE, timeout=120)
    return p.returncode, p.stdout.decode(errors="replace"), p.stderr.decode(errors="replace")


def held(folder):
    """What the book holds, and its files: (digest of the book's rows, {file: digest})"""
    book, files = "", {}
    path = os.path.join(folder, BOOK)
    if os.path.exists(path):
        db = sqlite3.connect(path)
        book = hashlib.sha256("\n".join(db.iterdump()).encode()).hexdigest()
        rows = db.execute("SELECT COUNT(*) FROM journal").fetchone()[0]
        db.close()
        book = (rows, book)
    for d, _, names in os.walk(folder):
        for n in names:
            if not n.startswith(BOOK) or n[len(BOOK):] not in ("", "-wal", "-shm"):
                with open(os.path.join(d, n), "rb") as f:  # a signing key is drawn anew each time
                    files[os.path.relpath(os.path.join(d, n), folder)] = n.endswith(".key") or hashlib.sha256(f.read()).hexdigest()
    return book, files


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


def copy(folder):
    to = tempfile.mkdtemp(dir=TMP)
    shutil.copytree(folder, to, symlinks=True, dirs_exist_ok=True)
    return to


def must_be_told(what):
    """Of a paper that is written no failure is passed over. What fails of a book may be of no matter: SQLite tidies up."""
    return re.match(r"(write|fwrite|fflush|fsync|fclose|close) .*\.part$|(rename|link) ", what) and BOOK not in what


def wrong(command, number, what, before, good, good_held, folder):
    """Runs the command in a copy of the folder with this one failing; answers what is wrong then, or ''."""
    there = copy(folder)
    try:
        code, said, told = run(command, there, TB_FAIL_AT=number)
        now = held(there)
        if code == good[0] and tidy(said) == tidy(good[1]) and tidy(told) == tidy(good[2]):
            if now[0][:1] != good_held[0][:1] or set(now[1]) != set(good_held[1]):
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
        if now[0][:1] != good_held[0][:1]:
            return "half of it is recorded: %r, before %r, %s" % (now, before, told)
        if "nothing was recorded" in told:
            return "it is recorded, and this is said: " + told
        code, said, told2 = run("tenterbook prove", there)
        if code:
            return "the book does not prove: " + told2
        extra = set(now[1]) - set(good_held[1])
        if extra:
            return "left behind: %s, %s" % (", ".join(sorted(extra)), told)
        return "recorded, but: " + told if os.environ.get("TB_FAULT_STRICT") else ""
    finally:
        shutil.rmtree(there)


def walk(path, share, pool):
    folder, tried, bad, commands = copy(os.path.join(TMP, "new")), 0, [], 0
    before = held(folder)
    for line in open(path, encoding="utf-8"):
        command = line[2:].strip()
        if not line.startswith("$ "):
            continue
        if command.startswith("at "):
            at(command[3:])
            continue
        if not command.startswith("tenterbook "):
            run(command, folder)
            before = held(folder)
            continue
        command = PROGRAM.match(command).group()
        start = copy(folder)
        log = os.path.join(TMP, "log")
        good = run(command, folder, TB_FAIL_LOG=log)
        good_held = held(folder)
        could = open(log, encoding="utf-8", errors="replace").read()
        numbers = [n for n in chosen(command, could) if (n + commands) % share == 0]
        could = could.split("\n")
        commands += 1
        for n, what in zip(numbers, pool.map(lambda n: wrong(command, n, could[n - 1], before, good, good_held, start), numbers)):
            tried += 1
            if what:
                bad.append((command, could[n - 1][:90], what))
        shutil.rmtree(start)
        before = good_held
    shutil.rmtree(folder)
    return commands, tried, bad


BUILD = os.path.abspath(sys.argv[1])
TMP = tempfile.mkdtemp()
try:
    os.mkdir(os.path.join(TMP, "new"))
    os.symlink(os.path.join(HERE, "../../sample-data"), os.path.join(TMP, "new/sample"))
    failed = 0
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        for path in sys.argv[3:]:
            commands, tried, bad = walk(path, int(sys.argv[2]), pool)
            for b in bad:
                print("# %s\n#   with this failing: %s" % b[:2])
                print("".join("#   %s\n" % l for l in b[2].split("\n")), end="")
            good = tried and not bad
            failed |= not good
            print("%s - nothing is half done in tests/said/%s when one of %d things fails" % ("ok" if good else "not ok", os.path.basename(path), tried), flush=True)
    sys.exit(failed)
finally:
    shutil.rmtree(TMP)
