"""typed.py PROGRAM: asks for a pass phrase at a terminal of its own, and sends what somebody may do there. Prints ok and not ok
lines; whatever happens, the terminal shows what is typed afterwards."""
import fcntl, os, pty, select, signal, subprocess, sys, termios, time

program = sys.argv[1]


def echoes(fd):
    return bool(termios.tcgetattr(fd)[3] & termios.ECHO)


def wait_for(master, words, hidden):
    """What the terminal shows until it has these words and hides what is typed, or does not."""
    shown, end = b"", time.monotonic() + 20
    while time.monotonic() < end:
        if select.select([master], [], [], 0.02)[0]:
            try:
                shown += os.read(master, 4096)
            except OSError:
                break
        if words in shown and echoes(master) != hidden:
            break
    return shown


def ask(file):
    """The program at a terminal, in a group of processes that its terminal can stop: (process, the terminal's other end)"""
    master, slave = pty.openpty()

    def begin():
        os.setsid()
        fcntl.ioctl(slave, termios.TIOCSCTTY, 0)
        for s in (signal.SIGINT, signal.SIGQUIT, signal.SIGTSTP):
            signal.signal(s, signal.SIG_DFL)
    # the shell leads the session: who is stopped has somebody who may wake it
    p = subprocess.Popen(["sh", "-m", "-c", 'trap : INT; "$0" key --make "$1" --locked; echo "ended with $?"; echo over; read word; fg; echo "then $?"', program, file],
                         stdin=slave, stdout=slave, stderr=slave, preexec_fn=begin, env={k: v for k, v in os.environ.items() if k != "TENTERBOOK_PASS_FD"})
    os.close(slave)
    return p, master


def tell(what, good, shown):
    print("%s - %s" % ("ok" if good else "not ok", what))
    if not good:
        print("# %r" % shown)


for name, key, code in ("Ctrl-C", b"\x03", 130), ("Ctrl-\\", b"\x1c", 131):
    p, master = ask("a.key")
    shown = wait_for(master, b"pass phrase", True)
    hidden = not echoes(master)
    os.write(master, b"secr" + key)
    shown += wait_for(master, b"over", False)
    tell("%s at the pass phrase ends the program, and the terminal shows what is typed" % name,
         hidden and echoes(master) and b"ended with %d" % code in shown and b"secr" not in shown and not os.path.exists("a.key"), shown)
    p.kill()
    p.wait()
    os.close(master)

p, master = ask("b.key")
shown = wait_for(master, b"pass phrase", True)
os.write(master, b"secr\x1a")
shown += wait_for(master, b"over", False)
tell("Ctrl-Z stops it, and the terminal shows what is typed meanwhile", echoes(master) and not os.path.exists("b.key"), shown)
os.write(master, b"\n")
shown += wait_for(master, b"", True)
hidden = not echoes(master)
os.write(master, b"quiet\n")
shown += wait_for(master, b"then 0", False)
tell("brought back, it goes on asking and does not show the pass phrase", hidden and echoes(master) and b"then 0" in shown and b"quiet" not in shown and os.path.exists("b.key"), shown)
p.kill()
p.wait()
os.close(master)
