#!/usr/bin/python3
"""Forge a case file: change its attached data, or a byte of its pages, and write it so that it is a sound PDF again.

usage: forge_case.py IN.pdf OUT.pdf WHAT    
WHAT: word, burn, photo, journal, hidden, row, verdict, weight, infinite, silent, signature, asked, faces, page;
both, member, order, reference, set_back, undisputed, no_steps, moment, elsewhere, nested, texts, long, asked_long, note_long;
unstamped, restamped, stamped_twice, before_stamps, redated, renamed, renumbered, beyond, unread; older, formless; many, huge: no case at all
"""
import base64
import json
import re
import sys
import zlib


ATTACHED = rb"(?m)^(\d+) 0 obj\n<< /Params << /ModDate \([^)]*\) /Size (\d+) >> [^\n]* /Length (\d+) /Filter /FlateDecode >>\nstream\n"


def parts(pdf):
    m = re.search(ATTACHED, pdf)
    return m, zlib.decompress(pdf[m.end():m.end() + int(m[3])])


def build(pdf, m, data):
    """With other data; what lies behind them moves, and the table follows."""
    packed = zlib.compress(data, 9)
    size = len(data) if sys.argv[3] != "huge" else 1 << 30
    head = pdf[m.start():m.end()].replace(b"/Size " + m[2], b"/Size %d" % size).replace(b"/Length " + m[3], b"/Length %d" % len(packed))
    more = len(head) + len(packed) - (m.end() - m.start()) - int(m[3])
    table = pdf.rindex(b"\nxref\n") + 1
    moved = re.sub(rb"(\d{10}) 00000 n", lambda e: b"%010d 00000 n" % (int(e[1]) + (more if int(e[1]) > m.start() else 0)), pdf[table:])
    moved = re.sub(rb"startxref\n\d+", b"startxref\n%d" % (table + more), moved)
    return pdf[:m.start()] + head + packed + pdf[m.end() + int(m[3]):table] + moved


def forge(data, what):
    d = json.loads(data)
    facts, journal = d["extract"]["facts"], d["extract"]["journal"]
    if what == "word":
        facts["cue_seen"][0]["cue"] = "smoke:white"
    elif what == "burn":
        gone = facts["burn"].pop()["id"]
        facts["cue_seen"] = [c for c in facts["cue_seen"] if c["burn"] != gone]
    elif what == "photo":
        facts["attachment"][0]["bytes"]["base64"] = "iVBORw0KGgo="
    elif what == "journal":
        journal.pop(-2)
    elif what == "hidden":  # another row behind the 32 bytes of one that is told in no more
        run = next(j for j in journal if "rows" in j)
        old = base64.b64decode(run["rows"][0])
        run["rows"][0] = base64.b64encode(bytes([old[0] ^ 1]) + old[1:]).decode()
    elif what == "row":
        next(j for j in journal if j.get("verb") == "burn")["person"] = "Somebody else"
    elif what == "weight":
        d["verdict"]["cues"][0]["weight_db"] = -1.0
    elif what == "signature":
        s = d["extract"]["head"]["signature"]
        d["extract"]["head"]["signature"] = s[:-1] + ("1" if s[-1] == "0" else "0")
    elif what == "both":  # a photograph that the digest is not of, beside the size of the true one
        v = facts["attachment"][0]["bytes"]
        v["left_out"], v["base64"] = len(base64.b64decode(v["base64"])), "iVBORw0KGgo="
    elif what == "member":
        facts["bolt"][0]["remark"] = "wet"
    elif what == "order":
        facts["verdict"].reverse()
    elif what == "reference":  # what nobody can compute again
        d["verdict"]["reference"] = "sha256:" + "0" * 64
        d["verdict"]["cues"][0]["weight_db"] = -1.0
    elif what == "set_back":  # a form that never had such rows
        d["tenterbook_case"] = 2
        del d["extract"]["head"]["stamps"], facts["dispute"], facts["dispute_step"]
    elif what == "undisputed":  # the form before disputes were told, of the same program
        d["tenterbook_case"] = 4
        del facts["dispute"], facts["dispute_step"]
        d["extract"]["trees"] = [t for t in d["extract"]["trees"] if t["table"] not in ("dispute", "dispute_step")]
    elif what == "no_steps":
        facts["dispute"], facts["dispute_step"] = [], []
    elif what == "moment":
        facts["verdict"][-1]["judged_at"] = "2026-10-25T06:35:0\x1b"
    elif what == "elsewhere":
        d["lot"] = facts["bolt"][0]["number"]
    elif what == "nested":
        next(j for j in journal if "content" in j)["content"] = '{"act":{},"a":[' + "[]," * 6000000 + "0]}"
    elif what == "texts":  # JSON inside a text
        facts["verdict"][0]["detail"] = "[" + "[]," * 6000000 + "0]"
    elif what == "long":
        next(j for j in journal if "content" in j)["content"] = '{"act":{},"a":"' + "x" * 20000000 + '"}'
    elif what == "asked_long":  # laying it out took minutes
        d["asked"] = "A" * 5000000
    elif what == "note_long":
        facts["burn"][0]["note"] = "A" * 5000000
    elif what == "unstamped":
        d["extract"]["head"]["stamps"] = []
    elif what == "stamped_twice":
        d["extract"]["head"]["stamps"].append(d["extract"]["head"]["stamps"][0])
    elif what == "before_stamps":  # a form before, which told none
        d["tenterbook_case"] = 3
        del d["extract"]["head"]["stamps"], facts["dispute"], facts["dispute_step"]
    elif what == "restamped":  # the reply to another request
        d["extract"]["head"]["stamps"][0]["reply"] = base64.b64encode(open(sys.argv[4], "rb").read()).decode()
    elif what == "redated":
        d["extract"]["head"]["stamps"][0]["at"] = "2026-10-06T00:00:00Z"
    elif what == "renamed":
        d["extract"]["head"]["stamps"][0]["by"] = "Observatory"
    elif what == "renumbered":
        d["extract"]["head"]["stamps"][0]["number"] += 1
    elif what == "beyond":
        d["extract"]["head"]["stamps"][0]["number"] += 1000
    elif what == "unread":
        d["extract"]["head"]["stamps"][0]["reply"] = "AAAA"
    elif what == "older":  # a form without stamps that brings some all the same
        d["tenterbook_case"] = 3
        del facts["dispute"], facts["dispute_step"]
    elif what == "formless":
        del d["extract"]["head"]["stamps"]
    elif what == "infinite":
        d["verdict"]["sort_log_ratio"] = 1e308
    elif what == "silent":
        d["verdict"] = None
    elif what == "many":
        return b'{"tenterbook_case": 2, "more": [' + b"0," * 60000000 + b"0]}"
    elif what == "verdict":
        d["verdict"]["sort_log_ratio"] = 5.0
    elif what == "faces":
        d["drawn_with"] = "another library"
    elif what == "asked":
        d["asked"] = "Pay."
    return json.dumps(d, sort_keys=True, indent=1, ensure_ascii=False).encode()


def main():
    source, target, what = sys.argv[1:4]
    pdf = open(source, "rb").read()
    m, data = parts(pdf)
    if what == "page":
        at = pdf.index(b"\nstream\n", len(pdf) // 3) + 41  # "endstream" is none
        out = pdf[:at] + bytes([pdf[at] ^ 1]) + pdf[at + 1:]
    else:
        out = build(pdf, m, forge(data, what))
    open(target, "wb").write(out)


main()
