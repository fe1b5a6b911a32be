#!/usr/bin/python3
"""Look for what is not for the other side in the data of a case, also within texts that are JSON themselves.

usage: gives_away.py DATA.json BASE_RATE [KNOWN...]
Prints each place where such a thing stands and is not among those that may; fails where there is one. The words are those of
test_case_private.sh. KNOWN: places that are known to tell it, and have to.
"""
import getpass
import json
import re
import sys

WORDS = {
    "another supplier": "(?i)brenner|calloway|Duarte|Egede",
    "another note": "NOTE-77[2-5]",
    "another lot": r"M26-00[2-5]|M26-001\.02",
    "another article": "article-q[2-5]|drill-r[1-5]",
    "another bolt": r"\b[QR][2-5][12]\b|\bR11\b",
    "a person of another lot": "Jo Marsh",
    "our own words": "97 ?% ?polyester|3 ?% ?elastane",
    "whose goods they are": "Zanker",
    "a login": "^" + re.escape(getpass.getuser()) + "$",
}


def walk(value, path=""):
    if isinstance(value, dict):
        for key, one in value.items():
            yield path, key
            yield from walk(one, path + "." + key)
    elif isinstance(value, list):
        for one in value:
            yield from walk(one, path + "[]")
    else:
        yield path, value
        if isinstance(value, str) and value[:1] in "{[":
            try:
                yield from walk(json.loads(value), path + ":")
            except ValueError:
                pass


def main():
    data, rate, known = json.load(open(sys.argv[1])), float(sys.argv[2]), sys.argv[3:]
    wrong = 0
    for path, value in walk(data):
        found = [what for what, words in WORDS.items() if isinstance(value, str) and re.search(words, value)]
        if path.endswith(".login") or (isinstance(value, str) and value == "login"):
            found.append("a login")
        if isinstance(value, float) and abs(value - rate) < 1e-6:
            found.append("the share of false lots")
        if "a login" in found and value == "root" and re.search(r"content:\.\w+$", path):
            found.remove("a login")  # the member of that name: the root of a tree
        for what in found:
            if path not in known:
                print(path, what, repr(value)[:100])
                wrong += 1
    sys.exit(wrong > 0)


main()
