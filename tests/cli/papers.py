"""papers.py PROGRAM LIBRARY FOLDER: every command that writes files, with the n-th request to their folder failing or the
program killed there. After a failure the old files stand, or all new ones; after a kill the next command that writes there
makes it so. Prints ok and not ok lines. TB_PAPERS: so many of the requests of a command are tried (0: all)."""
import os, re, shutil, subprocess, sys

program, library, base = sys.argv[1:]
most = int(os.environ.get("TB_PAPERS", "8"))
here, kept = os.path.join(base, "out"), os.path.join(base, "shed.db")
mark = os.path.join(base, "mark")
pdf, keep = ["--replace"], []


def files(folder):
    return {f: open(os.path.join(folder, f), "rb").read() for f in os.listdir(folder)}


def run(args, at=0, kill=False, book=kept):
    env = dict(os.environ, LD_PRELOAD=library, TB_FAULT_UNDER=here + "/", TB_FAULT_AT=str(at), TB_FAULT_COUNT=mark,
               TENTERBOOK_BOOK=book)
    if kill:
        env["TB_FAULT_KILL"] = "1"
    if os.path.exists(mark):
        os.remove(mark)
    r = subprocess.run([program] + args, env=env, capture_output=True, text=True, cwd=base)
    return r.returncode, r.stderr, open(mark).read() if os.path.exists(mark) else ""


def fresh(before):
    shutil.rmtree(here, ignore_errors=True)
    os.mkdir(here)
    for name, content in before.items():
        with open(os.path.join(here, name), "wb") as f:
            f.write(content)


def rows(book):
    return int(subprocess.run(["sqlite3", "-batch", book, "SELECT count(*) FROM journal"], capture_output=True, text=True).stdout)


def points(total):
    if not most or total <= most:
        return range(1, total + 1)
    return sorted({1 + i * (total - 1) // (most - 1) for i in range(most)})


def wrong_after_failure(code, err, before, after, old, new):
    """What is wrong after a request failed: None, or a few words. `before` and `after` are counts of journal rows."""
    now = files(here)
    if code == 0:
        return None if same(now, new) else "exit 0 and not all files are there: " + differs(now, new)
    if len(err.splitlines()) != 1 or not err.startswith("tenterbook: "):
        return "not one sentence: " + err
    if code not in (1, 3) or (code == 3) != (after > before) or (code == 3) != ("recorded all the same" in err):
        return f"exit {code}, {after - before} rows recorded: {err}"
    return None if same(now, old) else "the old files do not stand: " + differs(now, old)


drawn = False  # what is made twice differs in what is drawn for it: keys, a nonce


def is_whole(name, content):
    """Of what is drawn anew each time: a book proves, a key is its three lines for its owner alone, a request is as long as it says."""
    path = os.path.join(here, name)
    if name.endswith(".db"):
        return subprocess.run([program, "--book", path, "prove"], capture_output=True).returncode == 0
    if name.endswith(".key"):
        return os.stat(path).st_mode & 0o777 == 0o600 and bool(re.fullmatch(rb"tenterbook signing key 1\npublic [0-9a-f]{64}\nsecret [0-9a-f]{64}\n", content))
    return name.endswith(".tsq") and content[0] == 0x30 and content[1] < 0x80 and len(content) == 2 + content[1]  # DER, X.690 8.1.3


def same(now, want):
    if drawn and want and now != want:
        return sorted(now) == sorted(want) and not any(c.startswith(b"old words") for c in now.values()) and all(is_whole(f, c) for f, c in now.items())
    return now == want


def differs(now, want):
    return ", ".join(sorted(f for f in now.keys() | want.keys() if now.get(f) != want.get(f)))[:300]


def walk(name, args, old, next_args, act=False, made=False):
    """A command, from a folder with these files; `next_args` writes something else there, after a kill."""
    global drawn
    drawn = made
    fresh(old)
    book = os.path.join(base, "try.db")
    copy = lambda: shutil.copy(kept, book)
    copy()
    code, err, total = run(args, book=book)
    new = files(here)
    bad = [] if code == 0 and new != old else [f"it fails by itself: exit {code} {err}"]
    tried = {False: 0, True: 0}
    for kill in (False, True):
        for at in points(int(total)) if not bad else ():
            fresh(old)
            if act:
                copy()
            before = rows(book)
            code, err, told = run(args, at, kill, book)
            after = rows(book) if act else before
            tried[kill] += told == "fault"
            if kill:
                run(next_args)
                now = {f: c for f, c in files(here).items() if not f.startswith("next.")}
                if not (same(now, old) or same(now, new)):
                    bad.append(f"killed at {at}: neither the old files nor the new ones: " + differs(now, new))
            else:
                why = wrong_after_failure(code, err, before, after, old, new)
                bad += [f"request {at} failed: {why}"] if why else []
    print(f"# {name}: {total} requests; {tried[False]} failed, {tried[True]} killed; survived {sum(tried.values()) - len(bad)} of {sum(tried.values())}")
    print(("not ok" if bad else "ok") + f" - {name}")
    for b in bad[:10]:
        print("# " + b.strip())


def old_files(args):
    """What the command writes, each file with older words in it."""
    fresh({})
    run(args)
    return {f: b"old words of " + f.encode() for f in files(here)}


def at(name):
    return os.path.join(here, name)


nxt = ["tags", "W26-001.01", "--out", at("next.pdf"), "--replace"]
papers = [("tags", ["tags", "W26-001.01", "--out", at("t.pdf"), "--replace"]),
          ("a curve", ["draw", "--bolts", "20", "--false", "4", "--curve", at("c.svg"), "--replace"]),
          ("a notice", ["case", "W26-001.01", "--notice", "--out", at("n.pdf"), "--replace"]),
          ("a case", ["case", "W26-001.01", "--out", at("c.pdf"), "--replace"]),
          ("a month", ["sheet", "--month", "2026-10", "--out", at("m.xlsx"), "--replace"])]
for name, args in papers:
    walk(name + ", into an empty folder", args, {}, nxt)
    walk(name + ", over old files", args, old_files(args), nxt)
walk("a recorded draw with its curve", ["draw", "W26-001", "--seed", "s", "--curve", at("c.svg")], {}, nxt, act=True)
for name, old in (", into an empty folder", {}), (", over an old one", {"h.tsq": b"old words"}):
    walk("a request for a time stamp" + name, ["anchor", "--request", at("h.tsq"), "--replace"], old, nxt, made=True)
walk("a signing key", ["key", "--make", at("k.key")], {}, ["key", "--make", at("k.key")], made=True)
walk("a copy of the book", ["keep", at("k.db")], {}, ["keep", at("k.db")], made=True)
walk("a new book", ["--book", at("k.db"), "new"], {}, ["--book", at("k.db"), "new"], made=True)
