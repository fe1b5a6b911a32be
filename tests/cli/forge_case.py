#!/usr/bin/python3
"""Forge a case file: change its attached data, or a byte of its pages, and write it so that it is a sound PDF again.

usage: forge_case.py IN.pdf OUT.pdf WHAT    
WHAT: word, burn, photo, journal, hidden, row, verdict, weight, infinite, silent, signature, asked, faces, page;
both, member, order, reference, set_back, moment, elsewhere, nested, texts, long;
unstamped, restamped, stamped_twice, before_stamps, redated, renamed, renumbered, beyond, unread; older, formless; many, huge: no case at all
"""
import base64
import json
import re
import sys
import zlib


def parts(pdf):
    end = pdf.index(b"%%EOF\n") + 6
    base, update = pdf[:end], pdf[end:]
    m = re.search(rb"/Length (\d+) /Params << /Size \d+ >> >>\nstream\n", update)
    data = zlib.decompress(update[m.end():m.end() + int(m.group(1))])
    return base, update, m, data


def build(base, update, m, data):
    packed = zlib.compress(data, 9)
    old = int(m.group(1))
    size = len(data) if sys.argv[3] != "huge" else 1 << 30
    head = update[:m.start()] + b"/Length %d /Params << /Size %d >> >>\nstream\n" % (len(packed), size)
    body = head + packed + update[m.end() + old:]
    body = body[:body.rindex(b"xref\n", 0, body.rindex(b"startxref"))]
    place = {int(n): len(base) + body.index(b"%d 0 obj\n" % int(n)) for n in re.findall(rb"(?m)^(\d+) 0 obj$", body)}
    tail = update[update.rindex(b"xref\n", 0, update.rindex(b"startxref")):update.rindex(b"startxref")]
    root, stream, spec = [int(x) for x in (re.search(rb"xref\n(\d+) 1\n", tail).group(1),
                                            re.search(rb"\n(\d+) 2\n", tail).group(1), 0)]
    table = b"xref\n%d 1\n%010d 00000 n \n%d 2\n%010d 00000 n \n%010d 00000 n \n" % (
        root, place[root], stream, place[stream], place[stream + 1])
    trailer = tail[tail.index(b"trailer"):]
    return base + body + table + trailer + b"startxref\n%d\n%%%%EOF\n" % (len(base) + len(body))


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
        del d["extract"]["head"]["stamps"]
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
    elif what == "unstamped":
        d["extract"]["head"]["stamps"] = []
    elif what == "stamped_twice":
        d["extract"]["head"]["stamps"].append(d["extract"]["head"]["stamps"][0])
    elif what == "before_stamps":  # the form before, which told none
        d["tenterbook_case"] = 3
        del d["extract"]["head"]["stamps"]
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
    elif what == "formless":
        del d["extract"]["head"]["stamps"]
    elif what == "infinite":
        d["verdict"]["log_ratio"] = 1e308
    elif what == "silent":
        d["verdict"] = None
    elif what == "many":
        return b'{"tenterbook_case": 2, "more": [' + b"0," * 60000000 + b"0]}"
    elif what == "verdict":
        d["verdict"]["log_ratio"] = 5.0
    elif what == "faces":
        d["drawn_with"] = "another library"
    elif what == "asked":
        d["asked"] = "Pay."
    return json.dumps(d, sort_keys=True, indent=1, ensure_ascii=False).encode()


def main():
    source, target, what = sys.argv[1:4]
    pdf = open(source, "rb").read()
    base, update, m, data = parts(pdf)
    if what == "page":
        at = base.rindex(b"stream\n", 0, len(base) // 2) + 40
        out = base[:at] + bytes([base[at] ^ 1]) + base[at + 1:] + update
    else:
        out = build(base, update, m, forge(data, what))
    open(target, "wb").write(out)


main()
