#!/usr/bin/python3
"""How many planted faults do the tests find? tests/mutate/mutate.py [--count N] [--seed S] [--jobs J] [PATH...]

Takes N mutants at random (the same for the same seed and sources) from src, or from the files and folders named, compiles each
in a copy of the tree under build/mutate, and runs the unit tests and the command tests that reach the line, the quick ones
first, until one fails. A mutant that no test notices has survived: it is printed with its line. Sanitizers are off. A mutant
that hangs is noticed; one that does not compile, or compiles to the very same code, does not count.

Prints one line for each mutant and closes with the kill rate. tests/mutate/equal.txt names mutants that are no fault."""
import argparse, concurrent.futures, fnmatch, hashlib, json, os, random, re, resource, shutil, signal, subprocess, sys, tempfile, threading, time

sys.dont_write_bytecode = True
HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.dirname(os.path.dirname(HERE))
sys.path.insert(0, HERE)
import mutants as find

# not run: crash moments are drawn in time; a market of its own builds the program anew
NOT_RUN = {"test_kill.sh", "test_market.sh"}


def sh(args, cwd, **more):
    return subprocess.run(args, cwd=cwd, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, errors="replace", **more)


def copy_tree(to):
    """The tracked and new files of the working tree, copied where they differ."""
    names = sh(["git", "ls-files", "-co", "--exclude-standard"], ROOT).stdout.split("\n")
    keep = set()
    for n in filter(None, names):
        source, target = os.path.join(ROOT, n), os.path.join(to, n)
        if not os.path.isfile(source):
            continue
        keep.add(n)
        os.makedirs(os.path.dirname(target), exist_ok=True)
        if not os.path.exists(target) or open(source, "rb").read() != open(target, "rb").read():
            shutil.copy(source, target)
    for d, _, files in os.walk(to):
        for f in files:
            n = os.path.relpath(os.path.join(d, f), to)
            if not n.startswith("build") and n not in keep:
                os.remove(os.path.join(to, n))


def fingerprint(tree):
    """Of all that decides which test reaches which line."""
    all_of = hashlib.sha256()
    for top in ("src", "include", "sql", "tests", "sample-data"):
        for d, _, files in sorted(os.walk(os.path.join(tree, top))):
            for f in sorted(files):
                all_of.update(f.encode() + b"\0" + open(os.path.join(d, f), "rb").read())
    return all_of.hexdigest()[:16]


def make(tree, build, flags, *targets):
    """The library is linked as a shared one, so that a mutant costs one compilation and one link."""
    env = {k: v for k, v in os.environ.items() if k not in ("MAKEFLAGS", "MFLAGS")}
    shared = ["LIB=" + build + "/libmutant.so", "AR=" + os.path.join(tree, "tests/mutate/link.sh"),
              "CFLAGS=%s -fPIC -Wl,-rpath,%s" % (flags, os.path.join(tree, build))]
    return sh(["make", "-j2", "--no-print-directory", "WARN=-w", "BUILD=" + build] +
              (["CFLAGS=" + flags] if "--coverage" in flags else shared) + list(targets), tree, env=env)


def all_tests(tree, build):
    """name -> command"""
    out = {}
    for kind in ("unit", "vectors"):
        for f in sorted(os.listdir(os.path.join(tree, "tests", kind))):
            if f.startswith("test_") and f.endswith(".c"):
                out[f"{kind}/{f[:-2]}"] = [f"{build}/tests/{kind}/{f[:-2]}"]
    for f in sorted(os.listdir(os.path.join(tree, "tests/cli"))):
        if f.startswith("test_") and f.endswith(".sh") and f not in NOT_RUN:
            out["cli/" + f] = ["sh", "tests/cli/" + f, build]
    return out


def limits():
    resource.setrlimit(resource.RLIMIT_AS, (8 << 30, 8 << 30))
    resource.setrlimit(resource.RLIMIT_FSIZE, (256 << 20, 256 << 20))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def run_test(tree, command, seconds, tmp, env_more=None):
    """(passed, seconds it took). Whatever it started is ended with it."""
    env = dict(os.environ, CMOCKA_MESSAGE_OUTPUT="TAP", LC_ALL="C.UTF-8", TMPDIR=tmp, **(env_more or {}))
    began = time.time()
    with tempfile.TemporaryFile(dir=tmp) as out:
        p = subprocess.Popen(command, cwd=tree, stdout=out, stderr=subprocess.STDOUT, stdin=subprocess.DEVNULL, env=env,
                             start_new_session=True, preexec_fn=limits)
        try:
            code = p.wait(seconds)
        except subprocess.TimeoutExpired:
            code = None
        try:
            os.killpg(p.pid, signal.SIGKILL)
        except ProcessLookupError:
            pass
        p.wait()
        out.seek(0)
        said = out.read().decode(errors="replace")
    passed = code == 0 and not re.search(r"^not ok ", said, re.M) and re.search(r"^ok ", said, re.M)
    return bool(passed), time.time() - began, said


def coverage(tree, jobs):
    """source -> line -> the tests that reach it"""
    build = "build/cover"
    done = make(tree, build, "-O0 --coverage", "all", "tests")
    if done.returncode:
        sys.exit("the tree does not build:\n" + done.stdout[-3000:])
    reach = {}
    with tempfile.TemporaryDirectory() as tmp:
        def one(item):
            name, command = item
            own = os.path.join(tmp, name.replace("/", "-"))
            where = os.path.join(own, "cov")
            os.makedirs(os.path.join(own, "tmp"))
            # passed or not: a limit on file sizes that a test sets keeps the counts from being written
            run_test(tree, command, 900, os.path.join(own, "tmp"), {"GCOV_PREFIX": where})
            seen = reached(tree, where)
            shutil.rmtree(own, ignore_errors=True)
            return name, seen
        with concurrent.futures.ThreadPoolExecutor(jobs) as pool:
            for name, seen in pool.map(one, all_tests(tree, build).items()):
                for f, n in seen:
                    reach.setdefault(f, {}).setdefault(n, []).append(name)
    return reach


def reached(tree, where):
    """(source, line) of all that ran, out of the counts under a folder."""
    data, out = [], set()
    for d, _, files in os.walk(where):
        data += [os.path.join(d, f) for f in files if f.endswith(".gcda")]
    for f in data:  # gcov wants the notes beside the counts
        note = f[len(where):-5] + ".gcno"
        if os.path.exists(note):
            os.symlink(note, f[:-5] + ".gcno")
    for i in range(0, len(data), 40):
        p = subprocess.run(["gcov", "--json-format", "--stdout"] + data[i:i + 40], cwd=tree, stdout=subprocess.PIPE,
                           stderr=subprocess.DEVNULL)
        for text in p.stdout.decode(errors="replace").split("\n"):
            if text.startswith("{"):
                for f in json.loads(text)["files"]:
                    out.update((f["file"], l["line_number"]) for l in f["lines"] if l["count"])
    return out


class Worker(threading.Thread):
    def __init__(self, tree, run):
        super().__init__(daemon=True)
        self.tree, self.run_of, self.build = tree, run, "build/plain"
        self.tmp, self.said = os.path.join(tree, "build/tmp"), {}

    def compiled(self, path):
        return os.path.join(self.tree, self.build, path[:-2] + ".o")

    def commands(self, path):
        """What compiles a source and what links it, as make says it; asked once for each source."""
        if path not in self.said:
            lines = make(self.tree, self.build, FLAGS, "-n", "V=1", "-W", path, "all").stdout.replace("\\\n", " ").split("\n")
            link = " -o %s/tenterbook " % self.build if path.startswith("src/cli/") else "link.sh rcs "
            self.said[path] = [next(l for l in lines if l.endswith("-c -o %s/%s.o %s" % (self.build, path[:-2], path))),
                               next(l for l in lines if link in l)]
        return self.said[path]

    def try_one(self, mutant):
        path, line, at, length, new = mutant
        source = os.path.join(self.tree, path)
        compiles, links = self.commands(path)
        text = open(source, encoding="utf-8").read()
        good = open(self.compiled(path), "rb").read()
        raw = text.encode()
        byte_at = len(text[:at].encode())
        open(source, "wb").write(raw[:byte_at] + new.encode() + raw[byte_at + len(text[at:at + length].encode()):])
        try:
            if sh(["sh", "-c", compiles], self.tree).returncode:
                return "not compiled", ""
            if open(self.compiled(path), "rb").read() == good:
                return "same code", ""
            if sh(["sh", "-c", links], self.tree).returncode:
                return "not compiled", ""
            return self.tested(path, line)
        finally:
            open(source, "wb").write(raw)
            open(self.compiled(path), "wb").write(good)
            sh(["sh", "-c", links], self.tree)

    def tested(self, path, line):
        for name in self.run_of.order(path, line):
            shutil.rmtree(self.tmp, ignore_errors=True)
            os.makedirs(self.tmp)
            ok, _, _ = run_test(self.tree, self.run_of.tests[name], 20 + 5 * self.run_of.took[name], self.tmp)
            if not ok:
                at = name, os.path.dirname(path)
                self.run_of.kills[at] = self.run_of.kills.get(at, 0) + 1
                return "killed", name
        return "SURVIVED", ""

    def run(self):
        while True:
            with self.run_of.lock:
                if self.run_of.counted >= self.run_of.count or not self.run_of.waiting:
                    return
                mutant = self.run_of.waiting.pop()
                self.run_of.counted += 1
            result, name = self.try_one(mutant)
            self.run_of.note(self.tree, mutant, result, name)


class Run:
    """What the workers share."""

    def __init__(self, count, chosen, tests, took, reach):
        self.lock, self.count, self.counted, self.waiting = threading.Lock(), count, 0, chosen[::-1]
        self.tests, self.took, self.reach, self.kills = tests, took, reach, {}
        self.results = {"killed": [], "SURVIVED": [], "same code": [], "not compiled": []}

    def order(self, path, line):
        """The tests that reach the line: those that killed in this folder before, then the quick ones."""
        reached = self.reach.get(path, {}).get(line)
        if reached is None:  # a line that makes no code of its own: what reaches any line near it
            near = [n for n in self.reach.get(path, {}) if abs(n - line) <= 6]
            reached = sorted({t for n in near for t in self.reach[path][n]})
        at = os.path.dirname(path)
        return sorted((t for t in reached if t in self.tests),
                      key=lambda t: self.took[t] / (1 + 3 * self.kills.get((t, at), 0)))

    def note(self, tree, mutant, result, name):
        path, line, at, length, new = mutant
        with self.lock:
            if result in ("same code", "not compiled"):
                self.counted -= 1
            self.results[result].append(mutant)
            if result in ("killed", "SURVIVED"):
                text = open(os.path.join(tree, path), encoding="utf-8").read()
                before = text.rfind("\n", 0, at) + 1
                whole = text[before:text.find("\n", at)].strip()
                print(f"{result:8} {path}:{line}: '{text[at:at + length]}' made '{new}' in: {whole}" + (f"   [{name}]" if name else ""), flush=True)


def equal_mutants():
    out = set()
    path = os.path.join(HERE, "equal.txt")
    for l in open(path, encoding="utf-8") if os.path.exists(path) else []:
        if l.strip() and not l.startswith("#"):
            out.add(tuple(x.strip() for x in l.split(" => "))[:2])
    return out


def all_mutants(tree, paths, rng):
    names = sorted(os.path.relpath(os.path.join(d, f), tree) for d, _, files in os.walk(os.path.join(tree, "src"))
                   for f in files if f.endswith(".c"))
    equal, out = equal_mutants(), []
    for n in names:
        if n.startswith("src/gen/"):
            continue
        if paths and not any(n == p or n.startswith(p.rstrip("/") + "/") or fnmatch.fnmatch(n, p) for p in paths):
            continue
        text = open(os.path.join(tree, n), encoding="utf-8").read()
        for at, length, new in find.mutants(text, rng):
            line = text.count("\n", 0, at) + 1
            whole = text[text.rfind("\n", 0, at) + 1:text.find("\n", at)]
            begin = at - (text.rfind("\n", 0, at) + 1)
            if (whole.strip(), (whole[:begin] + new + whole[begin + length:]).strip()) not in equal:
                out.append((n, line, at, length, new))
    return out


FLAGS = "-O1"


def main():
    a = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    a.add_argument("--count", type=int, default=200)
    a.add_argument("--seed", type=int, default=1)
    a.add_argument("--jobs", type=int, default=2)
    a.add_argument("--list", action="store_true", help="print the mutants that would be tried, and try none")
    a.add_argument("paths", nargs="*")
    a = a.parse_args()
    rng = random.Random(a.seed)
    trees = [os.path.join(ROOT, "build/mutate", "tree%d" % i) for i in range(a.jobs)]
    began = time.time()
    for t in trees:
        copy_tree(t)
    chosen = all_mutants(trees[0], a.paths, rng)
    total = len(chosen)
    rng.shuffle(chosen)
    if a.list:
        for m in chosen[:a.count]:
            print(m)
        return 0
    for t in trees:
        done = make(t, "build/plain", FLAGS, "all", "tests")
        if done.returncode:
            sys.exit("the tree does not build:\n" + done.stdout[-3000:])
        os.makedirs(os.path.join(t, "build/tmp"), exist_ok=True)
    tests = all_tests(trees[0], "build/plain")
    took = {}
    for name, command in tests.items():
        ok, took[name], said = run_test(trees[0], command, 600, os.path.join(trees[0], "build/tmp"))
        if not ok:
            sys.exit(f"{name} fails without any mutant:\n{said[-2000:]}")
    kept = os.path.join(ROOT, "build/mutate/reach-%s.json" % fingerprint(trees[0]))
    if os.path.exists(kept):
        reach = {f: {int(n): t for n, t in l.items()} for f, l in json.load(open(kept)).items()}
    else:
        reach = coverage(trees[0], a.jobs)
        json.dump(reach, open(kept, "w"))
    print(f"{total} mutants to choose from, seed {a.seed}; made ready in {time.time() - began:.0f} s", flush=True)
    run = Run(a.count, chosen, tests, took, reach)
    workers = [Worker(t, run) for t in trees]
    for w in workers:
        w.start()
    for w in workers:
        w.join()
    killed, survived = len(run.results["killed"]), len(run.results["SURVIVED"])
    n = killed + survived
    print(f"{len(run.results['same code'])} made the same code and {len(run.results['not compiled'])} did not compile; {time.time() - began:.0f} s")
    print(f"kill rate: {killed} of {n} ({100 * killed / max(n, 1):.0f} %)")
    return 0


sys.exit(main())
