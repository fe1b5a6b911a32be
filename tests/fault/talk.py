"""Conversations of commands (tests/said, tests/fault/acts.txt) gone through step by step, each command in a copy of the folder
as often as one likes: what walk.py and storms.py share."""
import hashlib, os, re, shlex, shutil, sqlite3, subprocess, sys, tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
sys.dont_write_bytecode = True
sys.path.insert(0, os.path.join(HERE, "..", "said"))
from converse import at, env, tidy

BOOK = "shed.db"
PROGRAM = re.compile(r"""(?:"[^"]*"|'[^']*'|[^"'|;&>])*""")  # a command up to what is done with its output


class Talk:
    def __init__(self, build, tmp):
        self.build, self.tmp = os.path.abspath(build), tmp
        self.new = os.path.join(tmp, "new")
        os.mkdir(self.new)
        os.symlink(os.path.join(HERE, "../../sample-data"), os.path.join(self.new, "sample"))
        os.symlink(os.path.join(HERE, "../books"), os.path.join(self.new, "books"))

    def start(self, command, folder, preload=None, **more):
        """The process of a command; `more` is set, and the library preloaded, for the program alone and not for the shell that may have to start it."""
        e = dict(env, PATH=self.build + ":" + env["PATH"])
        if preload:
            more = dict(more, LD_PRELOAD=os.path.join(self.build, "tests/fault", preload))
        if re.search(r"[|&;<>$`(*\\\n]|^\w+=", command):
            alone = not re.search(r"[|&;<>*\\\n]", command)  # then the shell gives its place to the program, so that a kill strikes that
            line = "env %s %s" % (" ".join("%s='%s'" % i for i in more.items()), command) if more else command
            words = ["sh", "-c", "exec env " + line.removeprefix("env ") if alone else line]
        else:
            words, e = shlex.split(command), dict(e, **{k: str(v) for k, v in more.items()})
        if words[0] == "tenterbook":
            words[0] = os.path.join(self.build, words[0])
        return subprocess.Popen(words, cwd=folder, env=e, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE)

    def run(self, command, folder, preload=None, **more):
        p = self.start(command, folder, preload, **more)
        try:
            said, told = p.communicate(timeout=120)
        except subprocess.TimeoutExpired:
            p.kill()
            return (-1,) + tuple(x.decode(errors="replace") + "\n(it did not end)" for x in p.communicate())
        return p.returncode, said.decode(errors="replace"), told.decode(errors="replace")

    def copy(self, folder):
        to = tempfile.mkdtemp(dir=self.tmp)
        shutil.copytree(folder, to, symlinks=True, dirs_exist_ok=True)
        return to

    def commands(self, path, preload=None, **more):
        """Goes through a conversation: for each command of the program (command, the folder before it, (code, said, told), what is
        held before it, what after it). `preload` and `more` are for the run that shows how it ends when nothing fails."""
        folder = self.copy(self.new)
        before = held(folder)
        for line in open(path, encoding="utf-8"):
            command = line[2:].strip()
            if not line.startswith("$ "):
                continue
            if command.startswith("at "):
                at(command[3:])
                continue
            if not command.startswith("tenterbook "):
                self.run(command, folder)
                before = held(folder)
                continue
            command = PROGRAM.match(command).group()
            start = self.copy(folder)
            good = self.run(command, folder, preload, **more)
            after = held(folder)
            yield command, start, good, before, after
            shutil.rmtree(start)
            before = after
        shutil.rmtree(folder)


def counts(db):
    tables = [t for (t,) in db.execute("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name")]
    return tuple((t, db.execute('SELECT COUNT(*) FROM "%s"' % t).fetchone()[0]) for t in tables)


def dump(path):
    db = sqlite3.connect(path)
    try:
        return hashlib.sha256("\n".join(db.iterdump()).encode()).hexdigest()
    finally:
        db.close()


def digest(path):
    """Of what a file holds. A book may lie otherwise in its file, or in part in the log beside it, and hold the same. "whole" for
    what is drawn anew each time, where it is: a signing key, for its owner alone, and a request with its nonce, which is as long
    as it says (DER, X.690 8.1.3)."""
    with open(path, "rb") as f:
        text = f.read()
    if text.startswith(b"SQLite format 3\0"):
        with tempfile.TemporaryDirectory() as there:
            for tail in ("", "-wal"):
                if os.path.exists(path + tail):
                    shutil.copy(path + tail, os.path.join(there, "book" + tail))
            try:
                return dump(os.path.join(there, "book"))
            except sqlite3.Error:
                pass  # it is damaged, and its bytes say how
    if re.fullmatch(rb"tenterbook signing key 1\npublic [0-9a-f]{64}\nsecret [0-9a-f]{64}\n", text) and os.stat(path).st_mode & 0o777 == 0o600:
        return "whole"
    if path.endswith(".tsq") and text[:1] == b"0" and len(text) > 40 and text[1] < 0x80 and len(text) == 2 + text[1]:
        return "whole"
    return hashlib.sha256(text).hexdigest()


def held(folder):
    """What the book holds, and its files: ((journal rows, rows of each table, digest of all), {file: digest})"""
    book, files = "", {}
    path = os.path.join(folder, BOOK)
    if os.path.exists(path):
        db = sqlite3.connect(path)
        book = (db.execute("SELECT COUNT(*) FROM journal").fetchone()[0], counts(db), dump(path))
        db.close()
    for d, _, names in os.walk(folder):
        for n in names:
            if not n.startswith(BOOK) or n[len(BOOK):] not in ("", "-wal", "-shm"):
                files[os.path.relpath(os.path.join(d, n), folder)] = digest(os.path.join(d, n))
    return book, files
