#!/usr/bin/python3
"""Run the commands of a conversation anew and print it with what is said now: converse.py FILE, in an empty folder.

A line "$ COMMAND" is a command, run by sh; "$ at MOMENT" sets the clock for those that follow; a line "#: ..." tells a
reader what comes; all else in FILE is what was said before, and is left out. JSON is printed with a member or an element to
a line and six figures of a number; identities, digests and made seeds, which are new each time, by their kind."""
import datetime, json, os, re, subprocess, sys

env = dict(os.environ, LC_ALL="C.UTF-8", TENTERBOOK_WHO="Ada Fell", TENTERBOOK_BOOK="shed.db")
env.pop("TENTERBOOK_DEBUG", None)


def at(moment):
    env["TENTERBOOK_CLOCK"] = str(int(datetime.datetime.fromisoformat(moment.replace("Z", "+00:00")).timestamp()))


def rounded(v):
    if isinstance(v, float):
        return float("%.6g" % v)
    if isinstance(v, list):
        return [rounded(x) for x in v]
    return {k: rounded(x) for k, x in v.items()} if isinstance(v, dict) else v


def flat(v):
    return json.dumps(v, ensure_ascii=False)


def as_json(v):
    """A member or an element to a line; of a list of objects, each object."""
    if isinstance(v, list):
        return ["["] + ["  " + flat(x) for x in v] + ["]"]
    out = ["{"]
    for k, x in v.items():
        if isinstance(x, list) and x and isinstance(x[0], dict):
            out += [f"  {flat(k)}: ["] + ["    " + flat(y) for y in x] + ["  ]"]
        else:
            out.append(f"  {flat(k)}: {flat(x)}")
    return out + ["}"]


def tidy(text):
    try:
        v = json.loads(text)
        if isinstance(v, (dict, list)):
            text = "\n".join(as_json(rounded(v))) + "\n"
    except ValueError:
        text = re.sub(r"(\d\.\d{6})\d{4,}", r"\1", text)
    text = re.sub(r"logged in as .*\.$", "logged in as LOGIN.", text, flags=re.M)
    text = re.sub(r'"login": "[^"]*"', '"login": "LOGIN"', text)
    text = re.sub(r"\b[0-9a-f]{128}\b", "SIGNATURE", text)
    text = re.sub(r"\b[0-9a-f]{64}\b", "DIGEST", text)
    text = re.sub(r"\b[0-9a-f]{16,63}\b", "HEX", text)
    return re.sub(r"\b0[0-9a-v]{25}\b", "ID", text)


at("2026-10-05T08:00:00Z")


def main():
    for line in open(sys.argv[1], encoding="utf-8"):
        if line.startswith("#:"):
            print(line, end="")
        if not line.startswith("$ "):
            continue
        print(line, end="")
        command = line[2:].strip()
        if command.startswith("at "):
            at(command[3:])
            continue
        p = subprocess.run(["sh", "-c", command], env=env, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        said = tidy(p.stdout.decode(errors="replace")) + tidy(p.stderr.decode(errors="replace"))
        print(said, end="" if said.endswith("\n") or not said else "\n")
        if p.returncode:
            print(f"[exit code {p.returncode}]")


if __name__ == "__main__":
    main()
