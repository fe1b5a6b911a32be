#!/bin/sh
# A book that is written anew as a whole, with the program itself and its clock set back: what shows it, and what does not
# (docs/proof.md). usage: tests/cli/test_written_anew.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/told.sh"
need openssl cc sqlite3
build=$(cd "${1:?BUILD}" && pwd)
here=$(cd "$(dirname "$0")" && pwd)
t=$build/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export LC_ALL=C.UTF-8 TENTERBOOK_WHO="Ada Fell"
unset TENTERBOOK_KEY TENTERBOOK_BOOK TENTERBOOK_DEBUG TENTERBOOK_CLOCK SOURCE_DATE_EPOCH
. "$here/authority.sh"
authority Alder 365

says() { grep -qE -- "$1" out; }
fails() { is 1 && [ "$(wc -l <err)" = 1 ] && grep -qE -- "$1" err; }
printf 'Bolt No,Length m,Article,Composition\nB1,50,crepe 9,100%% Seide\nB2,48,crepe 9,100%% Seide\n' >list.csv

# book FILE CUES: one lot, one burn, each row at the moment that TENTERBOOK_CLOCK says
book() {
	clock=1791200000
	at() { clock=$((clock + 60)); TENTERBOOK_CLOCK=$clock "$t" --book "$@" >log 2>&1 || { echo "not ok - a book can be made"; sed 's/^/# /' log; exit 1; }; }
	at "$1" new --code M --country GB; at "$1" set flame yes
	at "$1" receive list.csv --supplier "Ohm Weavers" --note N-1 --on 2026-10-05
	at "$1" cut B1 --lot M26-001.01 --part whole; at "$1" burn M26-001.01.01 --saw "$2"
}
book true.db in_flame:melts,residue_form:hard_bead
key=$("$t" --book true.db key | sed -n 's/^Signing key //p')
note=$("$t" --book true.db anchor)
run --book true.db anchor --request kept.tsq
reply Alder kept.tsq kept.tsr
run --book true.db anchor --stamp kept.tsr --request kept.tsq --authority Alder.pem
run --book true.db prove --since "$note" --signed-by "$key" --authority Alder.pem
ok "the book itself holds against note, key and authority" is 0

# --- by somebody who has the file and not the key ---------------------------------------------------------------
book forged.db in_flame:burns_fast,residue_form:crushable_bead
run --book forged.db prove
ok "a book written anew, with a key of its own, proves by itself" has "Everything fits."
run --book forged.db prove --since "$note"
ok "a note of the true one shows it" fails 'journal row 5 has the digest [0-9a-f]+, and another one was noted elsewhere'
run --book forged.db prove --since "${note%:*:*}"
ok "also one without key and signature" fails 'journal row 5 has the digest [0-9a-f]+, and another one was noted elsewhere'
run --book forged.db prove --signed-by "$key"
ok "so does the public key" fails 'the known key never was a key of this book'
run --book forged.db case M26-001.01 --out forged.pdf
run prove --case forged.pdf
ok "a case of it agrees with itself, and says that only the book can show more" says 'only the book can show'
run prove --case forged.pdf --since "$note"
ok "a note shows it" fails 'another one was noted elsewhere'
run prove --case forged.pdf --against true.db
ok "so does the book" fails 'is another one in the book'

# --- by the owner, who has the key as well ------------------------------------------------------------------------
cp true.db.key owner.key
export TENTERBOOK_KEY=$dir/owner.key
book owned.db in_flame:burns_fast,residue_form:crushable_bead
run --book owned.db prove --signed-by "$key"
ok "a book written anew by who holds the key is signed by it: nobody can tell from the key" is 0
run --book owned.db prove --since "$note"
ok "but a note does" fails 'journal row 5 has the digest [0-9a-f]+, and another one was noted elsewhere'
run --book owned.db anchor --stamp kept.tsr --request kept.tsq --authority Alder.pem
ok "and a time stamp that somebody kept fits none of its rows" refused "kept.tsr: the time stamp is of no journal row of this book: it is of another book, or of rows that are gone"
sleep 1
run --book owned.db anchor --request new.tsq
reply Alder new.tsq new.tsr
run --book owned.db anchor --stamp new.tsr --request new.tsq --authority Alder.pem
moment() { sed -n 's/.*was there at \(20[0-9TZ:-]*\), says.*/\1/p' out; }
run --book owned.db prove --authority Alder.pem
new=$(moment); said=$(sqlite3 owned.db 'SELECT at FROM journal WHERE number = 5')
run --book true.db prove --authority Alder.pem
ok "its own shows that its rows were there later than the true ones, whatever they say of themselves" sh -c "[ '$said' \< '$new' ] && [ '$(moment)' \< '$new' ]"
run --book owned.db case M26-001.01 --out owned.pdf
run prove --case owned.pdf --signed-by "$key" --authority Alder.pem
ok "a case of it agrees with key and authority" is 0
ok "which tell only from when on: the moment is the later one" says "were in the book by $new, says Alder clock"
run prove --case owned.pdf --since "$note"
ok "a note shows that too" fails 'another one was noted elsewhere'

unset TENTERBOOK_KEY

# --- cut off, back to a row that is signed ------------------------------------------------------------------------
cp true.db short.db
sqlite3 -batch short.db "PRAGMA foreign_keys=OFF; $(for f in $(sqlite3 short.db "SELECT m.name FROM sqlite_master m JOIN pragma_table_info(m.name) c ON c.name = 'entry' WHERE m.type = 'table'"); do echo "DELETE FROM $f WHERE entry > 4;"; done) DELETE FROM signature WHERE number > 4; DELETE FROM journal WHERE number > 4;"
run --book short.db prove --signed-by "$key"
ok "an end that was cut off back to a signed row, with its time stamp, does not show from the key" is 0
run --book short.db prove --signed-by "$key" --authority Alder.pem
ok "nor from certificates; that there is no time stamp is said" has "The book holds no time stamp: the certificates in Alder.pem show nothing."
run --book short.db prove --since "$note"
ok "it does from a note" fails 'what came after it was cut off'
run --book short.db anchor --stamp kept.tsr --request kept.tsq --authority Alder.pem
ok "and from a time stamp that somebody kept" fails 'it is of another book, or of rows that are gone$'
