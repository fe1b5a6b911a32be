#!/usr/bin/python3
"""Where the pages of a paper break: page_breaks.py FILE.pdf ...

A table that goes on over pages has its heading and two rows at least on each of them (a table of one row has one), and no heading stands
alone at a page's foot. Tables and headings are those that the paper is tagged with. Prints what is wrong, a line each, and fails then.
"""
import re
import subprocess
import sys
import xml.etree.ElementTree as tree

FOOT = 841.89 - 60  # points from the top: below it stands the foot of the page (src/report/draw/page.h)


def out(*args):
    return subprocess.run(args, check=True, stdout=subprocess.PIPE, text=True).stdout


def plain(words):
    return re.sub(r"\s+", "", words)


def tables(struct):
    """Each table as tagged: the words of its heading, how many rows stand below it."""
    found, at = [], None
    for line in struct.splitlines():
        kind = line.strip().split(" ")[0]
        if kind == "Table":
            at = [[], -1]
            found.append(at)
        elif kind == "TR" and at:
            at[1] += 1
        elif kind in ("H1", "H2", "P", "Figure"):
            at = None
        elif at and at[1] == 0 and line.strip().startswith('"'):
            at[0].append(plain(line))
    return found


def headings(struct):
    found, inside = [], False
    for line in struct.splitlines():
        kind = line.strip().split(" ")[0]
        if kind in ("H1", "H2"):
            inside = True
        elif line.strip().startswith('"'):
            if inside:
                found.append(plain(line).strip('"'))
        elif kind:
            inside = False
    return found


def wrong(path):
    struct = out("pdfinfo", "-struct-text", path)
    all_tables = tables(struct)
    for i, (head, rows) in enumerate(all_tables):
        beside = [t for t in all_tables[max(0, i - 1):i + 2] if t[0] == head]
        if rows < 1 or (rows < 2 and len(beside) > 1):
            yield "%s: %d row of the table %s stands alone" % (path, rows, "".join(head)[:60])
    heads = set(headings(struct))
    pages = tree.fromstring(re.sub(r'xmlns="[^"]*"', "", out("pdftotext", "-bbox-layout", path, "-"), count=1)).iter("page")
    for number, page in enumerate(pages, 1):
        lines = [x for x in page.iter("line") if float(x.get("yMax")) < FOOT]
        if not lines:
            continue
        last = max(lines, key=lambda x: float(x.get("yMax")))
        words = plain("".join(w.text or "" for w in last.iter("word")))
        if words in heads:
            yield "%s: the heading '%s' stands alone at the foot of page %d" % (path, words, number)
    if not all_tables or not heads:
        yield "%s: no table or no heading was found" % path


bad = [w for path in sys.argv[1:] for w in wrong(path)]
for words in bad:
    print(words)
sys.exit(1 if bad or not sys.argv[1:] else 0)
