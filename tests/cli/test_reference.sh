#!/bin/sh
# A slip of the pen in sql/reference stops the build, and the sentence says where and what may stand there:
# tests/cli/test_reference.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"
need /usr/bin/python3
build=$(cd "${1:?BUILD}" && pwd)
here=$(cd "$(dirname "$0")/../.." && pwd)
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
check() { "$build/gen/refcheck" "$@" >out 2>err; code=$?; }
ok() {
	what=$1; shift
	if "$@"; then echo "ok - $what"; else echo "not ok - $what"; sed 's/^/# /' out err; fi
}
nothing_said() { [ "$code" = 0 ] && [ ! -s out ] && [ ! -s err ]; }
says() { [ "$code" = 1 ] && [ ! -s out ] && grep -qF -- "$1" err; }

check "$here/sql/reference"
ok "the tables as they are hold no slip" nothing_said
check "$here/sql/reference" "$here/tests/market"
ok "nor does a market behind them" nothing_said

# slip SENTENCE TABLE KEY COLUMN VALUE MESSAGE: the row whose first cell is KEY gets VALUE
slip() {
	rm -rf t; cp -r "$here/sql/reference" t
	/usr/bin/python3 - "t/$2.csv" "$3" "$4" "$5" <<'P'
import csv, sys
path, key, column, value = sys.argv[1:]
rows = list(csv.reader(open(path, encoding="utf-8", newline="")))
place = [c.split(":")[0] for c in rows[0]].index(column)
row = next(r for r in rows[1:] if r[0] == key)
row[place] = value
csv.writer(open(path, "w", encoding="utf-8", newline=""), lineterminator="\n").writerows(rows)
P
	check t
	ok "$1" says "($3): $6"
}
slip "a severity that is misspelt is refused" law_rule US-001 severity fualt "severity is 'fualt'; it may be fault, advice, note"
slip "a comparison turned round is refused" law_rule COMMON-SUM comparison "=<" "comparison is '=<'; it may be empty, =, <, <=, >, >="
slip "a unit in the singular is refused" law_rule US-009 unit point "unit is 'point'; it may be empty, %, points,"
slip "a day in another order is refused" law_rule EU-SCOPE-80 from_day 26-11-2026 \
	"from_day is '26-11-2026'; it may be empty, a day such as 2026-11-25"
slip "a kind of check nobody wrote is refused" law_rule US-001 kind nmaes "kind is 'nmaes'; it may be inform, names, words,"
slip "a condition nobody reads is refused" law_rule US-009 holds "single crded" "holds is 'crded'; it may be empty, single, blend,"
slip "a condition without its number is refused" law_rule US-009 holds "stated<=" "holds is 'stated<='; it may be"
slip "a condition on a group there is not is refused" law_rule US-009 holds "group=wolo" "holds is 'group=wolo'; it may be"
slip "a status that is not one is refused" law_rule US-001 status read \
	"status is 'read'; it may be seen, second-hand, reading, memory, common practice"
slip "an act the market has not is refused" law_rule CA-003 regime textile \
	"regime is 'textile'; it may be empty, a regime of law_regime.csv where its market is the market of this row"
slip "a rule from memory that makes a fault is refused" law_rule US-009 status memory \
	"a rule from memory makes no fault: its severity is advice or note"
slip "a rule of a market there is not is refused" law_rule US-001 market usa "market is 'usa'; it may be a key of market.csv"
slip "a rule without a source is refused" law_rule US-001 source "" "source is ''; it may be any text"
slip "a basis of shares nobody computes is refused" market us basis ez "basis is 'ez'; it may be eu, us, dry"
slip "a style of percentages there is not is refused" market us percent_style open "percent_style is 'open'; it may be before, close, spaced"
slip "a language without a name is refused" market ca langs "en+fx" "langs is 'fx'; it may be empty, a key of language.csv"
slip "a day in words is refused" market us as_of "26 Nov 2026" "as_of is '26 Nov 2026'; it may be a day such as 2026-11-25"
slip "an act of a market that has no such act is refused" market us regime txtile \
	"regime is 'txtile'; it may be empty, a regime of law_regime.csv where its market is the key of this row"
slip "a market known in full without rules is refused" market gb based_on "" \
	"no rule of kind 'names' in law_rule.csv: a market needs names, percent, sum and range, or based_on a market that has them, such as common"
slip "a market known in full without names is refused" market gb names "" \
	"a full market has langs, and in names a market with names of fibres in law_name.csv"
slip "a name in a language the market has not is refused" law_name us lang de \
	"lang is 'de'; it may be a langs of market.csv where its key is the market of this row"
slip "a name of no fibre is refused" law_name us fibre viskose "fibre is 'viskose'; it may be a key of fibre.csv"
slip "a phrase nobody looks up is refused" label_phrase us key other_fiber "key is 'other_fiber'; it may be other_fibre,"
slip "a group that is named after no fibre is refused" law_group us group_key named:wolo \
	"group_key is 'named:wolo'; with a colon it may be named: or cover: and a key of fibre.csv"
slip "a law of mixing that is none is refused" cue odour:burning_hair law al "law is 'al'; it may be any, all, share, partly"
slip "a cue that belongs to another channel is refused" cue odour:burning_hair channel smoke \
	"the key of a cue is its channel, a colon and a name: 'smoke:...'"
slip "a standard that dissolves no fibre is refused" lab_standard iso_1833_22 leaves linen \
	"leaves is 'linen'; it may be empty, a key of fibre.csv, a burn_key of fibre.csv"
slip "a standard that goes about it in no known way is refused" lab_standard iso_1833_22 means chemical "means is 'chemical'; it may be hand, chemistry,"
slip "a method like a standard there is not is refused" lab_method 3 standard iso_1833_66 "standard is 'iso_1833_66'; it may be a key of lab_standard.csv"
slip "a ramp that falls is refused" cue odour:burning_hair shows_from 0.9 \
	"shows_from and shows_to are shares of the mass, 0 <= shows_from < shows_to <= 1"

rm -rf t; cp -r "$here/sql/reference" t
sed -i 's/^US-002,/US-001,/' t/law_rule.csv
check t
ok "two rules of one name are refused" says "t/law_rule.csv row 9 (US-001): id 'US-001' stands in row 8 as well"

rm -rf t; cp -r "$here/sql/reference" t
awk 'NR > 1 && NR < 12 { sub(/,0\.03,0\.33,/, ",0.0" NR ",0.9,") } 1' "$here/sql/reference/cue.csv" >t/cue.csv
check t
ok "more ramps than the model holds are refused" says "are one more pair than the 8 the model holds"

rm -rf t; cp -r "$here/sql/reference" t
echo "residue_form:curled_skin,residue_form,a skin that curls,share,,,0,0,0,0,0.03,0.33,made up for a test" >>t/cue.csv
check t
ok "a cue that stands apart from its channel is refused" says \
	"t/cue.csv row $(wc -l <t/cue.csv) (residue_form:curled_skin): it stands apart from the cues of its channel: put it among the rows of 'residue_form'"

# The page's two tables are those of the rows: markets with their coverage and number of rules, kinds with theirs.
/usr/bin/python3 - "$here" >out 2>err <<'P'
import collections, csv, re, sys
here = sys.argv[1]
read = lambda name: list(csv.DictReader(open(here + "/sql/reference/" + name + ".csv", encoding="utf-8")))
page, rules, wrong = open(here + "/docs/law.md", encoding="utf-8").read(), read("law_rule"), []
of_market, of_kind = (collections.Counter(r[c] for r in rules) for c in ("market", "kind"))
rows = {m[1]: m[0] for m in re.findall(r"^(\| `([\w-]+)`.*\|)$", page, re.M)}
for m in read("market"):
    if m["coverage"] != "base":
        row = rows.get(m["key"], "")
        for part in ("| `%s` %s |" % (m["key"], m["name"]), " %s |" % m["as_of"], " %d |" % of_market[m["key"]], "| " + m["coverage"]):
            if part not in row:
                wrong.append("docs/law.md, Markets: the row of %s lacks '%s'" % (m["key"], part))
for kind, n in of_kind.items():
    if not rows.get(kind, "").startswith("| `%s` | %d |" % (kind, n)):
        wrong.append("docs/law.md, Kinds of check: the row of %s begins '| `%s` | %d |'" % (kind, kind, n))
print("\n".join(wrong))
sys.exit(bool(wrong))
P
ok "the page counts the rules as they are" [ "$?" = 0 ]
