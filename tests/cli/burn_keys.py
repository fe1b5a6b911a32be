"""burn_keys.py PROGRAM: a burn asked for at a terminal, with keys as somebody presses them. Prints ok and not ok lines."""
import json, os, pty, re, select, struct, subprocess, sys, termios, time, zlib

tb = sys.argv[1]
env = dict(os.environ, TENTERBOOK_BOOK="b.db", TENTERBOOK_WHO="Ada Fell", TENTERBOOK_CLOCK="1791187200", LC_ALL="C.UTF-8")  # 2026-10-05T08:00:00Z


def run(*args):
    return subprocess.run([tb, *args], env=env, capture_output=True, text=True)


def converse(args, steps):
    """Each step: words to wait for, then what is typed: all at once, or a byte every so many seconds. All that was shown, the exit code, and whether the terminal shows typing again."""
    master, slave = pty.openpty()
    p = subprocess.Popen([tb, *args], stdin=slave, stdout=slave, stderr=slave, env=env, start_new_session=True)
    shown, end = "", time.monotonic() + 60
    steps, at = list(steps), 0
    while time.monotonic() < end:
        if select.select([master], [], [], 0.05)[0]:
            try:
                shown += os.read(master, 65536).decode(errors="replace").replace("\r\n", "\n")
            except OSError:
                break
        elif p.poll() is not None:
            break
        while steps and steps[0][0] in shown[at:]:
            words, keys = steps.pop(0)
            at += shown[at:].index(words) + len(words)
            time.sleep(0.05)
            for key in ([keys] if isinstance(keys, str) else keys[0]):
                os.write(master, key.encode())
                time.sleep(0 if isinstance(keys, str) else keys[1])
    p.kill() if p.poll() is None else None
    code = p.wait()
    echoes = bool(termios.tcgetattr(slave)[3] & termios.ECHO)
    os.close(slave)
    os.close(master)
    return shown, code, echoes, steps


def tell(what, good, shown=""):
    print("%s - %s" % ("ok" if good else "not ok", what))
    if not good:
        print("# " + str(shown).replace("\n", "\n# "))


def burns(tag):
    return json.loads(run("look", tag, "--json").stdout)["burn_list"]


open("list.csv", "w").write("Supplier,Delivery note,Article,Bolt,Length m,Composition\nAlder Mill,N-1,crepe,1,50,100% silk\nAlder Mill,N-1,crepe,2,50,100% silk\n"
                            "Alder Mill,N-1,crepe,3,50,100% silk\nAlder Mill,N-1,crepe,4,50,100% silk\n")
run("new", "--code", "W"), run("set", "flame", "yes"), run("receive", "list.csv", "--on", "2026-10-02")
for bolt in "1234":
    run("cut", bolt)
next_page = "q: leave"
shown, code, echoes, left = converse(["burn", "W26-001.01.01"], [
    (next_page, " "), (next_page, "1"), (next_page, "\r"), (next_page, " "), (next_page, " "), (next_page, "!"), (next_page, "\r"),
    (next_page, "!"), (next_page, "1"), (next_page, "\r"), (next_page, "?"), (next_page, " "), ("Enter records it", "\r")])
tell("a burn is recorded key by key", code == 0 and not left and "Recorded burn " in shown, shown)
tell("its cautions stand before the first question, and only there",
     shown.count("Cautions:") == 1 and 0 <= shown.find("Cautions:") < shown.find("1 of 8"), shown)
tell("the terminal shows what is typed afterwards", echoes)
one = burns("W26-001.01.01")
tell("with what was pressed: seen, denied, looked at, not looked at, not to be judged",
     len(one) == 1 and sorted(c["seen"] for c in one[0]["cues"]) == [False, True] and set(one[0]["looked"].split()) == {"in_flame", "smoke", "odour"}
     and one[0]["could_not"] == "residue_form", one)
smell = [l for l in shown.split("\n") if "burnt hair" in l]
tell("what tells most of silk comes first: the smell of burnt hair has the figure 1", bool(smell) and re.match(r"\s+1 \[", smell[0]) is not None, smell)
tell("and is what was denied", any(c["cue"] == "odour:burning_hair" and not c["seen"] for c in one[0]["cues"]), one)

shown, code, echoes, left = converse(["burn", "W26-001.01.02"], [(next_page, "1"), (next_page, "q")])
tell("who leaves records nothing", code == 1 and echoes and burns("W26-001.01.02") == [] and "nothing of it is recorded" in shown, shown)

shown, code, echoes, left = converse(["burn", "W26-001.01.01"], [(next_page, "q")])
tell("who burns a swatch again is told what is recorded of it, before and on the page",
     not left and "This swatch is burned already:" in shown and one[0]["burn"] in shown and "BURNED ALREADY, last by Ada Fell at 2026-10-05" in shown, shown)
shown, code, echoes, left = converse(["burn", "W26-001.01.01", "--corrects", one[0]["burn"]], [(next_page, "q")])
tell("but not who corrects that record", not left and "BURNED ALREADY" not in shown and "already" not in shown, shown)

skip = [(next_page, " ")] * 4
shown, code, echoes, left = converse(["burn", "W26-001.01.02"], [(next_page, "\x1b[3~"), ("does nothing here", "\x1b[15~"), ("does nothing here", "W26-001.01.03\r"), ("is passed over", "q")])
tell("neither a key of several bytes nor a tag that is scanned marks anything", not left and "[x]" not in shown and shown.count("is passed over") == 1
     and "2 of 8" not in shown and burns("W26-001.01.02") == [], shown)
shown, code, echoes, left = converse(["burn", "W26-001.01.02"], skip + [(next_page, "!"), (next_page, "\r")] + [(next_page, " ")] * 3 + [("Enter records it", "W26-001.01.03\r"), ("is passed over", "q")])
tell("nor does the Enter of such a tag record the burn", code == 1 and not left and burns("W26-001.01.02") == [], shown)

for pace in 0.05, 0.1:
    shown, code, echoes, left = converse(["burn", "W26-001.01.02"], [(next_page, ("W26-001.01.03\r", pace)), ("is passed over", "q")])
    tell("nor does a tag of a scanner that takes %g ms a byte" % (1000 * pace), not left and "[x]" not in shown and "2 of 8" not in shown
         and shown.count("is passed over") == 1, shown)
for end in "\r", "\r\n":
    shown, code, echoes, left = converse(["burn"], [("Enter alone ends", "W26-001.01.02" + end + "1"), ("[x]", "q"), ("Enter alone ends", "\r")])
    tell("a key pressed right behind a scan counts, " + ("also where the scan ends in two bytes" if end == "\r\n" else "before its question is shown"),
         not left and "Nothing is marked" not in shown and "1 of 8" in shown, shown)

# each answer is typed only when its question is seen with "> " behind it
shown, code, echoes, left = converse(["receive", "--by-hand", "--on", "2026-10-03"], [("\n> ", "Birch Mill\n"), ("\n> ", "N-2\n"), ("\n> ", "\x04"), ("to drop it.\n> ", "\n")])
tell("typing a list by hand, each question is seen before it is answered", not left and code == 1, shown)
open("open.csv", "w").write("Supplier,Delivery note,Article,Bolt,Length,Composition\nAlder Mill,N-3,crepe,5,50,100% silk\n")
shown, code, echoes, left = converse(["receive", "open.csv", "--on", "2026-10-03"], [("\n> ", "\n"), ("Take it in? Enter takes it in, n leaves it.\n> ", "n\n")])
tell("what a list leaves open is seen before it is answered, and so is what is taken in", not left and code == 1 and "the list was left" in shown, shown)
shown, code, echoes, left = converse(["void", "W26-001", "--why", "tried"], [("Enter leaves it.\n> ", "\n")])
tell("and what hangs on what is made void", not left and code == 1 and "it was left as it is" in shown, shown)

shown, code, echoes, left = converse(["burn", "W26-001.01.02"], skip + [(next_page, "!"), (next_page, "\r")] + [(next_page, " ")] * 3 + [
    ("Enter records it", "0"), (next_page, "0"), (next_page, "0"), (next_page, "0"), (next_page, " "), (next_page, "!"), (next_page, "\r"), (next_page, " "), (next_page, " "),
    ("Enter records it", "\r")])
tell("0 goes back, from the summary too, and what is answered anew counts", code == 0 and burns("W26-001.01.02")[0]["looked"] == "odour", shown)

shown, code, echoes, left = converse(["burn"], [("Enter alone ends", "W26-001.01.03\r")] + skip + [(next_page, "!"), (next_page, "\r")] + [(next_page, " ")] * 3 + [
    ("Enter records it", "\r"), ("Enter alone ends", "W26-001.01.99\r"), ("Enter alone ends", "W26-001.01.04\r")] + skip + [(next_page, "!"), (next_page, "\r")] + [(next_page, " ")] * 3 + [
    ("Enter records it", "\r"), ("Enter alone ends", "\r")])
tell("a scanner's tags are taken one after the other", not left and len(burns("W26-001.01.03")) == 1 and len(burns("W26-001.01.04")) == 1, shown)
tell("one that is not there does not end the others, and is told at the end", code == 1 and "1 of 3 swatches were not recorded" in shown, shown)
tell("the cautions of one kind of cloth are said once", shown.count("Cautions:") == 1, shown)

last = burns("W26-001.01.04")[0]["burn"]
shown, code, echoes, left = converse(["burn", "W26-001.01.04", "--corrects", last], [(next_page, " ")] + [(next_page, " ")] * 3 + [(next_page, "\r"), (next_page, "1"), (next_page, "\r")] + [(next_page, " ")] * 2 + [
    ("Enter records it", "\r")])
now = burns("W26-001.01.04")
tell("a correction begins with the record it corrects", code == 0 and len(now) == 1 and now[0]["corrects"] == last and set(now[0]["looked"].split()) == {"smoke", "odour"}, shown)

p = run("burn", "--last")
tell("--last shows what was recorded last, and what can be done with it", p.returncode == 0 and now[0]["burn"] in p.stdout and "--corrects " + now[0]["burn"] in p.stdout, p.stdout + p.stderr)
p = run("burn", "W26-001.01.03", "--like", now[0]["burn"])
again = burns("W26-001.01.03")
tell("--like records the same as a burn of its own, and says so", p.returncode == 0 and "says the same as burn " + now[0]["burn"] in p.stdout and len(again) == 2
     and again[1]["looked"] == now[0]["looked"] and again[1]["cues"] == now[0]["cues"] and again[1]["note"] == "the same as burn " + now[0]["burn"], p.stdout + p.stderr)
p = run("burn", "W26-001.01.03", "--like", now[0]["burn"], "--saw", "smoke:black")
tell("--like and --saw together are refused", p.returncode == 2, p.stdout + p.stderr)
p = run("burn", "W26-001.01.03", "--like", "nothing")
tell("--like of no burn is refused", p.returncode == 1 and "there is no burn nothing" in p.stderr, p.stderr)



def chunk(kind, data):
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


open("a.png", "wb").write(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", 1, 1, 8, 0, 0, 0, 0)) + chunk(b"IDAT", zlib.compress(b"\0\0")) + chunk(b"IEND", b""))
p = run("burn", "--last", "--photo", "a.png")
tell("a photograph comes later to the last burn", p.returncode == 0 and "Photographs kept with burn " + again[1]["burn"] in p.stdout, p.stdout + p.stderr)
p = run("burn", "--to", last, "--photo", "a.png")
tell("none goes to a burn that was corrected", p.returncode == 1, p.stdout + p.stderr)
p = run("burn", "--to", now[0]["burn"], "--photo", "a.png")
tell("it goes to any other by its name", p.returncode == 0, p.stdout + p.stderr)
p = run("burn", "--last", "--saw", "smoke:black")
tell("--last records nothing of its own", p.returncode == 2, p.stdout + p.stderr)
p = run("--as-person", "Nobody", "burn", "--last")
tell("who recorded nothing has no last burn", p.returncode == 1 and "no burn of Nobody" in p.stderr, p.stderr)
run("cut", "4")
tag = sorted(set(re.findall(r"W26-001\.01\.[0-9]+", run("look", "W26-001.01", "--json").stdout)))[-1]
before = run("burn", tag, "--saw", "smoke:black").returncode
shown, code, echoes, left = converse(["burn", tag], [(next_page, " "), (next_page, "")])
figures = dict((m[1], m[0]) for m in re.findall(r"  ([1-9]) \[ \] (liquefies while burning|molten or burning drops fall)", shown.split("in the flame\n")[-1]))
shown, code, echoes, left = converse(["burn", tag], [(next_page, " "), (next_page, figures["molten or burning drops fall"]), (next_page, "!"), (next_page, figures["liquefies while burning"]), (next_page, "q")])
tell("what is there by its meaning cannot be denied at the terminal", code == 1 and "liquefies while burning (there by its meaning: molten or burning drops fall" in shown and "cannot be said not to be" in shown, shown)
p = run("burn", tag, "--saw", "in_flame:drips", "--not", "in_flame:melts")
tell("nor in options", p.returncode == 1 and "means in_flame:melts" in p.stderr, p.stderr)
p = run("case", "W26-001.01", "--out", "c.pdf")
p = run("prove", "--case", "c.pdf", "--against", "b.db")
tell("a case of such a lot proves", p.returncode == 0, p.stdout + p.stderr)
p = run("prove")
tell("and so does the book", p.returncode == 0 and "Everything fits." in p.stdout, p.stdout + p.stderr)
p = run("burn")
tell("without a terminal it asks nothing", p.returncode == 2 and "burn takes a swatch, or --from FILE.csv" in p.stderr, p.stderr)
