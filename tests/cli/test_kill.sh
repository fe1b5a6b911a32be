#!/bin/sh
# receive, killed without warning at fifty moments spread over its whole run: after each the book opens, the
# journal proves, and the file is wholly in or wholly out. The same book takes all the blows.
# Then each command that writes, at four moments of its run from a fixed seed (tests/fault/storms.py); at a hundred with TENTERBOOK_SOAK.
set -u
. "$(dirname "$0")/../need.sh"
need sqlite3 openssl /usr/bin/python3
t=$(cd "$1" && pwd)/tenterbook
tests=$(cd "$(dirname "$0")/.." && pwd)
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_CLOCK=1795694400 # 2026-11-26 12:00 UTC, whatever day it is
bolts=20000 blows=50
[ -z "${TENTERBOOK_SOAK:-}" ] || bolts=60000

ok() {
	what=$1; shift
	if "$@"; then echo "ok - $what"; else echo "not ok - $what"; sed 's/^/# /' bad 2>/dev/null; fi
}
now() { date +%s%3N; }
facts() { if "$t" --book kill.db prove --json >proved 2>bad; then sed -n 's/^ *"facts": \([0-9]*\),$/\1/p' proved; else echo "it does not prove"; fi; }
count() { sqlite3 -batch kill.db "SELECT COUNT(*) FROM $1"; }
all() { sqlite3 -batch kill.db 'SELECT (SELECT COUNT(*) FROM bolt), (SELECT COUNT(*) FROM lot), (SELECT COUNT(*) FROM delivery)'; }
fresh() { rm -f kill.db kill.db-*; cp empty.db kill.db; }

awk -v n="$bolts" 'BEGIN {
	srand(20261005)
	print "Supplier,Delivery note no.,Date,Article,Colour,Dye lot,Roll No.,Length (m),Composition,Origin"
	for (i = 0; i < n; i++)
		printf "Kestrel Weaving,KW 60,2026-10-05,Cloth %d,shade %d,D%d,K%06d,%.2f,%s,Nederland\n", i / 600, i / 300,
			i / 100, i, 20 + rand() * 60, i % 2400 < 1200 ? "100% cotton" : "60% wool 40% polyester"
}' >list.csv

"$t" --book empty.db new --code K >/dev/null || exit 1
fresh
sqlite3 kill.db "UPDATE site SET name = 'elsewhere'"
ok "a book that does not prove is seen" [ "$(facts)" = "it does not prove" ]
fresh
before=$(facts)
began=$(now)
"$t" --book kill.db receive list.csv >/dev/null 2>bad
ok "the list is received when nobody interrupts" [ "$(count bolt)" = "$bolts" ]
took=$(($(now) - began)) first=$took
after=$(facts) whole=$(all)
ok "the journal covers every bolt" [ "$((after - before))" -gt "$bolts" ]
fresh

# Moments: one at random in each of fifty equal slices of the run, round after round until fifty blows have struck. A
# run that was done before its blow was faster than the one measured: it is the measure from then on.
awk -v n="$blows" 'BEGIN { srand(20261006); for (i = 0; i < 4 * n; i++) printf "%d\n", (i % n + rand()) / n * 100000 }' >moments
struck=0 in=0 out=0 torn=0
while read -r share && [ "$struck" -lt "$blows" ]; do
	ms=$((share * took / 100000)) moment=$((share * took / 100000000)).$(printf %03d $((ms % 1000)))
	began=$(now)
	"$t" --book kill.db receive list.csv >/dev/null 2>&1 &
	pid=$!
	sleep "$moment"
	kill -9 "$pid" 2>/dev/null
	wait "$pid" 2>/dev/null
	if [ "$?" = 137 ]; then
		struck=$((struck + 1))
	elif [ $(($(now) - began)) -lt "$took" ]; then
		took=$(($(now) - began))
	fi
	have=$(facts)/$(all)
	if [ "$have" = "$before/0|0|0" ]; then
		out=$((out + 1))
	elif [ "$have" = "$after/$whole" ]; then
		in=$((in + 1))
		fresh
	else
		torn=$((torn + 1))
		echo "# after $moment s of $took ms: '$have' is neither $before/0|0|0 nor $after/$whole"
		sed 's/^/# /' bad
		fresh
	fi
done <moments
echo "# a whole run takes $first ms, $took ms at its fastest; $struck blows struck it running; $out times wholly out, $in times wholly in"
ok "fifty blows struck while it ran" [ "$struck" -ge "$blows" ]
ok "after every blow the book opens, proves, and holds the whole file or nothing of it" [ "$torn" = 0 ]
"$t" --book kill.db receive list.csv >/dev/null 2>bad
ok "the book takes the file in afterwards" [ "$(count bolt)" = "$bolts" ]
ok "and its journal proves" [ "$(facts)" = "$after" ]
ok "and SQLite finds it sound" [ "$(sqlite3 -batch kill.db 'PRAGMA integrity_check')" = ok ]
TB_BLOWS=${TENTERBOOK_SOAK:+100} /usr/bin/python3 "$tests/fault/storms.py" "${t%/*}" kill 1 "$tests/fault/acts.txt"
