#!/usr/bin/python3
"""Compare a workbook, as LibreOffice understands and recalculates it, with its CSV twins.

usage: compare_twins.py STEM FOLDER [case]    STEM-lots.csv ... against FOLDER/NAME-Lots.csv ... as LibreOffice wrote them
Prints one TAP line a sheet.
"""
import csv
import glob
import os
import re
import sys

TABS = {"summary": "Summary", "lots": "Lots", "bolts": "Bolts", "suppliers": "Suppliers", "open": "Held and open",
        "claims": "Claims", "money": "Money", "labels": "Labels", "months": "Months", "scorecards": "Scorecards", "stakes": "At stake", "found": "Found", "legend": "Legend"}
CASE = {"case": "Case", "bolts": "Bolts", "burns": "Burns", "cues": "Cues", "custody": "Custody"}
FORMS = {"summary", "legend", "case"}


def rows(path):
    with open(path, encoding="utf-8", newline="") as f:
        return [[c for c in r] for r in csv.reader(f)]


def plain(cell):
    """One apostrophe off what begins with one: how the twin keeps words from becoming formulas."""
    return cell[1:] if cell.startswith("'") else cell


def same(a, b):
    if a == b or (len(a) == 20 and a[10] == "T" and a.replace("T", " ")[:19] == b):  # a moment, as a sheet shows it
        return True
    try:
        x, y = (float(c[:-1]) / 100 if c.endswith("%") else float(c) for c in (a, b))
    except ValueError:
        return False
    # six digits are printed of what was computed (include/tenterbook/figure.h)
    return abs(x - y) <= 1e-6 * max(1.0, abs(x), abs(y))


def of_list(sheet):
    """Records under the heading row (third line), without the line of totals, where most cells are empty."""
    body = sheet[3:]
    if body and body[-1][0] == "None.":  # said below a list without rows, which its twin shows by having none
        return []
    return body[:-1] if body and body[-1][0] == "" else body


def of_cards(sheet):
    """The records of a list that has headings, sums and remarks between them: those with a month."""
    return [r for r in sheet[3:] if len(r) > 1 and re.fullmatch(r"\d{4}-\d\d", r[1])]


def of_form(sheet):
    """Items with the heading over them put in front, as the twin has them; a heading stands under an empty row."""
    out, section, air = [], "", False
    for r in sheet[2:]:
        if not any(r):
            air = True
        elif air:
            section, air = r[0], False
        else:
            out.append([section] + r)
    return out


def compare(key, twin, sheet):
    want = twin[1:]
    have = of_form(sheet) if key in FORMS else of_cards(sheet) if key == "scorecards" else of_list(sheet)
    if len(want) != len(have):
        return f"{len(want)} rows in the twin, {len(have)} in the workbook"
    for n, (a, b) in enumerate(zip(want, have), 2):
        for col, (x, y) in enumerate(zip(a, b + [""] * (len(a) - len(b)))):
            if not same(plain(x), y):
                return f"row {n}, {twin[0][col]}: '{x}' in the twin, '{y}' in the workbook"
    return None


def totals(twin, sheet):
    """The line of totals against sums over the twin."""
    if len(sheet) <= 3 or sheet[-1][0] != "":
        return None
    for col, cell in enumerate(sheet[-1]):
        if cell and not same(cell, str(sum(float(r[col] or 0) for r in twin[1:]))):
            return f"total of {twin[0][col]} is {cell}"
    return None


def main():
    stem, folder = sys.argv[1:3]
    name = os.path.basename(stem)
    tabs = CASE if sys.argv[3:] == ["case"] else TABS
    there = {os.path.basename(path)[len(name) + 1:-4] for path in glob.glob(f"{glob.escape(stem)}-*.csv")}
    strange = sorted(there ^ set(tabs))
    print(f"{'not ok' if strange else 'ok'} - every CSV twin is compared")
    if strange:
        print(f"# beside the workbook or in this script, not in both: {' '.join(strange)}")
    for key, tab in tabs.items():
        twin, sheet = rows(f"{stem}-{key}.csv"), rows(f"{folder}/{name}-{tab}.csv")
        wrong = compare(key, twin, sheet) or (None if key in FORMS else totals(twin, sheet))
        print(f"{'not ok' if wrong else 'ok'} - the sheet {key} holds what its CSV twin holds, totals and formulas included")
        if wrong:
            print(f"# {wrong}")


main()
