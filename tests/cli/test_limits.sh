#!/bin/sh
# What is beyond the limits of the book is refused with one sentence that names the place and the limit, and nothing of it is
# recorded; what is at the limit is taken. docs/book.md has the table: tests/cli/test_limits.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"
need sqlite3
t=$(cd "$1" && pwd)/tenterbook
docs=$(cd "$(dirname "$0")/../../docs" && pwd)
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=Ada TENTERBOOK_CLOCK=1793664000
ok() {
	if [ "$1" = 0 ]; then echo "ok - $2"; else echo "not ok - $2"; cat out err 2>/dev/null | head -5 | cut -c1-300 | sed 's/^/# /'; fi
}
rows() { sqlite3 -batch shed.db 'SELECT count(*) FROM journal'; }
long() { head -c "$1" /dev/zero | tr '\0' x; }
"$t" new --code W >/dev/null && "$t" set flame yes >/dev/null

# a packing list of one bolt: header, row; then the words that must be said of it
list() {
	{ printf 'Supplier,Delivery note,Article,Roll,Length m,Composition%s\n' "$1"; printf '%s\n' "$2"; } >list.csv
	shift 2
	"$t" receive list.csv "$@" >out 2>err
}
refused() {
	what=$1 words=$2; shift 2
	before=$(rows)
	list "$@"; rc=$?
	[ $rc = 1 ] && [ "$(rows)" = "$before" ] && grep -q -- "$words" err; ok $? "$what is refused where it stands, with the limit"
}
taken() {
	what=$1; shift
	before=$(rows)
	list "$@"; rc=$?
	[ $rc = 0 ] && [ "$(rows)" = $((before + 1)) ]; ok $? "$what is taken"
}
K='Kestrel Weaving'
refused "a bolt of 0.0000001 m" "line 2, .*0.0000001.*no bolt is shorter than 0.01 m" "" "$K,N-1,Plain,001,0.0000001,silk"
refused "a bolt of 100,000.1 m" "no bolt is longer than 100,000 m" "" "$K,N-1,Plain,001,100000.1,silk"
refused "a bolt of 1e300 m" "line 2, " "" "$K,N-1,Plain,001,1e300,silk"
refused "a bolt of 300 digits" "line 2, " "" "$K,N-1,Plain,001,$(long 300 | tr x 9),silk"
refused "a bolt of minus 5 m" "a length below zero" "" "$K,N-1,Plain,001,-5,silk"
refused "cloth 11 m wide" "no cloth is that wide: it takes 1 to 1000 cm" ",Width cm" "$K,N-1,Plain,001,50,silk,1100"
refused "cloth of 5001 g/m2" "no cloth weighs that: it takes 1 to 5000 g/m2" ",Weight g/m2" "$K,N-1,Plain,001,50,silk,5001"
refused "cloth of 0.1 g/m2" "no cloth weighs that: it takes 1 to 5000 g/m2" ",Weight g/m2" "$K,N-1,Plain,001,50,silk,0.1"
refused "a price without end" "no cloth costs more than 1,000,000,000 a metre" ",Price EUR/m" "$K,N-1,Plain,001,50,silk,1000000001"
refused "a bolt number of 81 bytes" "a bolt number of more than 80 bytes" "" "$K,N-1,Plain,$(long 81),50,silk"
refused "a composition of 100 kB" "a value of more than 4000 bytes" "" "$K,N-1,Plain,001,50,$(long 100000)"
refused "a supplier of 201 bytes" "the name of the supplier has 201 bytes; it takes at most 200" "" "$(long 201),N-1,Plain,001,50,silk"
refused "a note of the year 9999" "9999" ",Date" "$K,N-1,Plain,001,50,silk,9999-01-01"
refused "a note of the year 1989" "the book takes days from 1990-01-01 to 2199-12-31" ",Date" "$K,N-1,Plain,001,50,silk,1989-12-31"
refused "an arrival in 1989" "--on is '1989-12-31'; it takes a day from 1990-01-01 to 2199-12-31" "" "$K,N-1,Plain,001,50,silk" --on 1989-12-31
refused "an arrival in 9999" "--on is '9999-01-01'" "" "$K,N-1,Plain,001,50,silk" --on 9999-01-01
taken "all at its limit" ",Width cm,Weight g/m2,Price EUR/m,Date" "$(long 200),N-1,Plain,$(long 80),0.01,silk,1000,5000,1000000000,1990-01-01" --on 1990-01-01 --far-off
taken "a bolt of 100,000 m" "" "$K,N-2,Plain,A1,100000,100% silk" --on 2026-10-20

# by hand and in settings
hand() {
	what=$1 words=$2 want=$3; shift 3
	before=$(rows)
	"$t" "$@" >out 2>err; rc=$?
	[ $rc = "$want" ] && [ "$(rows)" = "$before" ] && [ ! -s out ] && grep -v '^usage' err >one && [ "$(wc -l <one)" = 1 ] && grep -q -- "$words" one
	ok $? "$what is refused in one sentence with the limit"
}
hand "a person of 100 kB" "has 100000 bytes; it takes at most 16000" 2 --as-person "$(long 100000)" cut A1
hand "a person of 201 bytes" "the name of who writes has 201 bytes; it takes at most 200" 1 --as-person "$(long 201)" cut A1
hand "a header word of 201 bytes" "the value of header: has 201 bytes; it takes at most 200" 1 set header:x "$(long 201)"
hand "a setting beyond its range" "it takes a whole number from 1 to 365" 1 set answer_days 1e300
hand "a use of 10,000,000 m" "it takes a number from 0 to 1e+06" 1 use A1 --metres 1e7
hand "a burn of the year 1989" "the book takes moments from 1990-01-01 on" 1 burn W26-002.01.01 --saw smoke:black --at 1989-12-31T10:00
hand "a dispute about 1e300" "it takes a number from 0 to 1e+12" 1 dispute W26-002.01 --opened --words x --amount 1e300
hand "a lot of more bolts than can be counted" "it takes a whole number from 1 to 1000000000" 1 draw --bolts 99999999999999999999
"$t" --book other.db new --name "$(long 201)" >out 2>err; rc=$?
[ $rc = 1 ] && [ ! -e other.db ] && grep -q 'the name of the warehouse has 201 bytes; it takes at most 200' err
ok $? "a warehouse of 201 bytes is refused, and no book is made"
"$t" prove >out 2>err; ok $? "the book proves afterwards"

# the table for people names every limit of the header
missing=
for figure in '0.01 to 100,000 m' '1 to 1,000 cm' '1 to 5,000 g/m2' 'at most 1,000,000,000' 'at most 1,000,000,000,000' '1990-01-01 to 2199-12-31' \
	'200 bytes' '80 bytes' '4,000 bytes' '16,000 bytes'; do
	grep -q -- "$figure" "$docs/book.md" || missing="$missing '$figure'"
done
echo "$missing" >out; : >err
[ -z "$missing" ]; ok $? "the table of limits names them all"
