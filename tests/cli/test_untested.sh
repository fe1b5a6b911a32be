#!/bin/sh
# Of blends and finished cloth no set of burns has been published: no list, page or paper says "at least" of them. Invented trade.
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/answer.sh"
need pdftotext /usr/bin/python3
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=Ada LC_ALL=C.UTF-8
export TENTERBOOK_CLOCK=1791201600 # 2026-10-05 12:00 UTC

# What goes beyond the limits is said so of the pure cloth (tested) and never of the others.
bound='at least 3[06] \(to 1\|times\)\|at least 36\|1/30 or less\|at most [0-9]* in 100\|over 3[06] to 1'
says_at_least() { is 0 && grep -q "$bound" out; }
says_untested() { is 0 && ! grep -q "$bound" out && grep -q "limit not tested\|limit of its ratio is not tested\|argued, not tested" out; }
silent() { is 0 && ! grep -q "$bound" out; }
json() { is 0 && /usr/bin/python3 -c "import json,sys; j=json.load(open('out')); sys.exit(0 if ($1) else 1)"; }
row() { grep -F -- "$1" out >row && mv row out; }

cat >list.csv <<'END'
Supplier,Delivery note,Article,Roll,Length m,Composition,Price,Currency
Aldermere Mill,N-1,Plain,001,50,100% cotton,3.20,EUR
Aldermere Mill,N-1,Stretch,002,50,95% cotton 5% elastane,3.20,EUR
Aldermere Mill,N-1,Guard,003,50,100% cotton flame retardant,3.20,EUR
Aldermere Mill,N-1,Loden,004,50,100% wool,9.20,EUR
Aldermere Mill,N-1,Tweed,005,50,80% wool 20% polyamide,9.20,EUR
END
run new --code W --name "Westgate shed" --country GB
run set flame yes
run receive list.csv
paper=approach:scorches,in_flame:burns_fast,removed:afterglow,flame_colour:yellow,odour:burning_paper,residue_form:light_fluffy_ash,residue_colour:grey
melt=approach:shrinks_away,in_flame:melts,in_flame:drips,smoke:black,odour:chemical_plastic,residue_form:hard_bead
n=0
for saw in "$paper" "$paper" "$paper" "$melt" "$melt"; do
	n=$((n + 1))
	run cut "00$n" --lot "W26-001.0$n"
	run burn "W26-001.0$n.01" --saw "$saw" --not odour:burning_hair
	ok "lot $n is burned" is 0
done

for n in 1 4; do
	run judge "W26-001.0$n"
	ok "the verdict on the pure cloth $n goes as far as was tested" says_at_least
	run lots && row "W26-001.0$n"
	ok "so does the list on $n" says_at_least
	run judge "W26-001.0$n" --json
	ok "and the data on $n" json "j['limits']['reached'] and j['limits']['untested'] == []"
done
for n in 2 3 5; do
	run judge "W26-001.0$n" --json
	ok "the ratio of $n comes to its limit as well" json "j['limits']['reached'] and j['limits']['untested'] != []"
	run judge "W26-001.0$n"
	ok "the verdict on $n says that nothing tested stands behind it" says_untested
	run lots && row "W26-001.0$n"
	ok "so does the list on $n" says_untested
	run look "W26-001.0$n"
	ok "and all that is held about $n" says_untested
	run look "W26-001.0$n" --json
	ok "and its data" json "all(v['untested'] for v in j['verdicts'])"
	run case "W26-001.0$n" --out "c$n.pdf"
	pdftotext -layout "c$n.pdf" out
	ok "and the case of $n" says_untested
	cat "c$n"-case.csv "c$n"-bolts.csv >out
	ok "and its workbook" says_untested
	run settle "W26-001.0$n" --as held --why "kept for the laboratory"
	ok "and whoever settles $n is told" says_untested
done
run case W26-001.04 --out c4.pdf
pdftotext -layout c4.pdf out
ok "the case of the pure cloth goes as far as was tested" says_at_least
run lots
ok "the list says what the word means" has '"limit not tested": no set of burns of such cloth'
run sheet --month 2026-10
grep -h "Stretch\|Guard\|Tweed" cloth-2026-10-*.csv >out
ok "the month's sheets do not go further" says_untested
run day --hours 8
ok "nor does the day" silent
run todo
ok "nor does the list of what is left" silent
