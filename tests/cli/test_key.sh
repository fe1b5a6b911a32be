#!/bin/sh
# The signing key on the command line: made with a book, signing its rows, lost, changed, and what prove says of it.
# usage: tests/cli/test_key.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/told.sh"
need sqlite3 /usr/bin/python3
build=$(cd "${1:?BUILD}" && pwd)
here=$(cd "$(dirname "$0")" && pwd)
books=$here/../books
t=$build/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export LC_ALL=C.UTF-8 TENTERBOOK_WHO="Ada Fell" TENTERBOOK_BOOK=b.db
unset TENTERBOOK_KEY TENTERBOOK_DEBUG

# --- made with the book --------------------------------------------------------------------------------------
run new
ok "a new book has a key beside it" test -f b.db.key
ok "that only its owner may read" [ "$(stat -c %a b.db.key)" = 600 ]
ok "and nothing else lies there" [ "$(ls)" = "b.db
b.db.key
err
out" ]
run key
key=$(sed -n 's/^Signing key \([0-9a-f]\{64\}\)$/\1/p' out)
ok "the public key is told" [ -n "$key" ]
ok "with where the secret one is" has "It is in b.db.key: what is recorded is signed."
secret=$(sed -n 's/^secret //p' b.db.key)
ok "the secret is not in the book" sh -c "! sqlite3 b.db .dump | grep -qi '$secret'"
run set flame yes
run prove
ok "rows are signed as they are written" has "The last row is signed, and with it every row before it: key $key"
ok "each of them" [ "$(sqlite3 b.db 'SELECT count(*) FROM signature')" = 2 ]
run prove --signed-by "$key"
ok "who knows the public key is told that it signed" has "The key that is known signed it, or vouched for the one that did."
run prove --signed-by b.db.key
ok "the file of the key names it too" has "The key that is known signed it"
run prove --json --signed-by "$key"
ok "programs are told what is signed" has '"last_signed": 2'

# --- a line for others -----------------------------------------------------------------------------------------
run anchor
line=$(cat out)
ok "the end of the journal is one line: site, row, digest, key, signature" grep -qx "W:2:[0-9a-f]\{64\}:$key:[0-9a-f]\{128\}" out
run prove --since "$line"
ok "prove takes it" has "Journal row 2 has the digest that was noted"
run prove --since "$(echo "$line" | tr a-f A-F)"
ok "in capitals too" is 0
run anchor --spell
ok "number and digest can be read out" grep -qxE "2:( [0-9a-f]{4}){16}" out
run prove --since "$(cat out)"
ok "and are taken with their blanks" has "Journal row 2 has the digest that was noted"
run anchor --json
ok "programs get its parts" has '"number": 2'
run prove --since "$(echo "$line" | sed 's/^W/X/')"
ok "a line of another site is refused" refused "the book is not what was noted of it elsewhere: the note is of a book of site X, and this one is of site W"
run prove --since "$(echo "$line" | sed 's/^W:2/W:1/')"
ok "a line that was changed is not believed" refused "--since: the note of journal row 1 does not fit its own signature: it was changed, or a digit is wrong"
for bad in "$line:" "W:$line" "$(echo "$line" | sed 's/:[^:]*$//')" "w:$(echo "$line" | sed 's/^W://')" "WWWWW:$(echo "$line" | sed 's/^W://')"; do
	run prove --since "$bad"
	ok "a line with other parts is refused" sh -c 'grep -q "does not name a journal row" err'
done
"$t" --book w.db new && "$t" --book w.db set flame yes
run --book w.db prove --since "$line"
ok "the line of another book is refused" sh -c 'grep -q "journal row 2 has the digest [0-9a-f]*, and another one was noted elsewhere" err'
rm -f w.db*
cp b.db.key k; rm b.db.key; cp b.db unsigned.db
"$t" --book unsigned.db set flame no
run --book unsigned.db anchor
ok "a row that is not signed gives a shorter line" grep -qx "W:3:[0-9a-f]\{64\}" out
run --book unsigned.db prove --since "$(cat out)"
ok "which is taken too" is 0
mv k b.db.key; rm -f unsigned.db*

# --- what is refused -----------------------------------------------------------------------------------------
other=$(echo "$key" | tr 0-9a-f 1-9a-f0)
run prove --signed-by "$other"
ok "another key than the known one is refused" refused "the book is not what was noted of it elsewhere: the known key never was a key of this book"
run prove --signed-by "${key}0"
ok "a text that is no key is looked for as a file" refused "--signed-by: the key ${key}0 cannot be read: No such file or directory"
run prove --signed-by out
ok "a file that holds no key is refused" refused "--signed-by: out does not hold a signing key"
bent "UPDATE signature SET signature = (SELECT signature FROM signature WHERE number = 1) WHERE number = 2"
run --book bent.db prove
ok "the signature of another row does not fit" refused "the book does not fit its journal: the signature of journal row 2 does not fit: it is of another row, or by another key"
run --book bent.db sheet --month 2026-10
ok "and no paper is made of such a book" refused "the book does not fit its journal, and no paper is made of it: the signature of journal row 2 does not fit: it is of another row, or by another key"
bent "UPDATE signature SET signature = upper(signature) WHERE number = 2"
run --book bent.db prove
ok "nor does one that is written otherwise" is 1
bent "UPDATE signature SET signature = signature || char(0) || 'and more' WHERE number = 2"
run --book bent.db prove
ok "nor one that goes on behind its end" refused "the book does not fit its journal: journal row 2: a text in column signature of table signature goes on behind its end"
bent "UPDATE signature SET signature = CAST(signature AS BLOB) WHERE number = 2"
run --book bent.db prove
ok "nor one that is no text" refused "the book does not fit its journal: journal row 2: column signature of table signature does not hold what such a column holds"
bent "DELETE FROM signature WHERE number = 2"
run --book bent.db prove
ok "a signature taken away is told" has "From row 2 on no row is signed"
run --book bent.db prove --signed-by "$key"
ok "and refused where the key is known" refused "the book is not what was noted of it elsewhere: the journal ends with row 2, and the last one that is signed is row 1"
bent "UPDATE signature SET signature = upper(signature) WHERE number = 1"
run --book bent.db prove
ok "prove looks at the signatures of earlier rows too" is 1
run --book bent.db sheet --month 2026-10
ok "a paper needs the last one only, which covers them" is 0
bent "DELETE FROM signature WHERE number = 1"
run --book bent.db prove --signed-by "$key"
ok "a signature at the end covers rows that have none" is 0

# --- without the key -----------------------------------------------------------------------------------------
mv b.db.key away
run set flame no
ok "without its key a book is written all the same" is 0
ok "and no other key is made in its place" [ ! -e b.db.key ]
run key
ok "it is said that the key is missing" has "It is not at hand, and what is recorded is not signed: the key b.db.key cannot be read: No such file or directory."
run prove
ok "prove says from which row on none is signed" has "From row 3 on no row is signed: the key $key was not at hand."
run prove --signed-by "$key"
ok "and who knows the key refuses it" refused "the book is not what was noted of it elsewhere: the journal ends with row 3, and the last one that is signed is row 2"
TENTERBOOK_KEY=away run set flame yes
run prove --signed-by "$key"
ok "TENTERBOOK_KEY names it elsewhere, and the next signature covers all" is 0
echo "not a key" >b.db.key
run set flame no
ok "a file that is no key stops nobody" is 0
run key
ok "but is told" has "It is not at hand, and what is recorded is not signed: b.db.key does not hold a signing key."
sed 's/^public ..../public 0000/' away >b.db.key; chmod 600 b.db.key
run key
ok "a key whose halves do not belong together is none" has "b.db.key does not hold a signing key"
rm b.db.key
TENTERBOOK_KEY=out run --book n.db new
ok "a new book is not made where its key cannot be" refused "out does not hold a signing key"
ok "and nothing is left of it" [ "$(ls | grep -c '^n')" = 0 ]
TENTERBOOK_KEY=no/where run --book n.db new
ok "nor in a folder that is not there" refused "no/where cannot be made: No such file or directory"
ok "and nothing is left of it either" [ "$(ls | grep -c '^n')" = 0 ]
TENTERBOOK_KEY=away run --book two.db new
run --book two.db prove --signed-by "$key"
ok "one key may sign all books of a site" is 0

# --- on another disk, and for nobody else ---------------------------------------------------------------------
rm -f o.db*; "$t" --book o.db new >/dev/null 2>&1
mkdir stick
run --book o.db set key_file stick/o.key
ok "where the key lies is a full path" refused "key_file is 'stick/o.key'; it takes a full path, which begins with /"
run --book o.db set key_file "$dir/stick/o.key"
ok "the book says where its key lies" is 0
run --book o.db key
ok "which is looked for there" has "what is recorded is not signed: the key $dir/stick/o.key cannot be read: No such file or directory."
mv o.db.key stick/o.key
run --book o.db set flame no
run --book o.db prove --signed-by stick/o.key
ok "and signs from there" has "The last row is signed"
rows=$(sqlite3 o.db 'SELECT count(*) FROM journal')
for mode in 640 604 620 602 677; do
	chmod $mode stick/o.key
	run --book o.db set flame yes
	ok "a key that others can read or change is refused, with what mends it ($mode)" refused "others than its owner can read or change the signing key $dir/stick/o.key: make it private first (chmod 600 $dir/stick/o.key), and take another key if they may have it"
done
ok "nothing is recorded" [ "$(sqlite3 o.db 'SELECT count(*) FROM journal')" = "$rows" ]
run --book o.db prove --signed-by stick/o.key
ok "its public half may be read" is 0
chmod 600 stick/o.key
run --book o.db set flame yes
ok "mended, it signs again" is 0
run --book o.db prove --signed-by stick/o.key
ok "as the sentence says" is 0
rm -rf stick o.db*

# --- another key ---------------------------------------------------------------------------------------------
run key --make next.key
next=$(sed -n 's/^Made the signing key \([0-9a-f]\{64\}\) in next.key\. .*/\1/p' out)
ok "another key is made" [ -n "$next" ]
run key --make next.key
ok "never over a file" refused "next.key cannot be made: File exists"
run key --make a --take b
ok "one after the other" misused "--make comes first, then --take the file it made"
run key --take nothing.key
ok "a key that is not there is not taken" refused "the key nothing.key cannot be read: No such file or directory"
cp away b.db.key
run key --take b.db.key
ok "nor the one that counts already" refused "b.db.key holds the key that the book has already"
cp b.db plain.db
run key --take next.key
ok "the one before vouches for the next" has "The book is signed with $next from here on; the key before it vouched for it."
run prove --signed-by "$key"
ok "who knows the first trusts the next" is 0
run prove --signed-by "$next"
ok "who knows the next does too" is 0
bent "UPDATE signing_key SET handover = '' WHERE handover <> ''"
run --book bent.db prove
ok "what it vouched for is a fact" is 1
run set flame yes
run key
ok "the old file is another one now" has "what is recorded is not signed: b.db.key holds another one."
mv next.key b.db.key
run set flame no
run prove --signed-by "$key"
ok "in its place the new one signs" is 0
run --book plain.db key --take b.db.key
ok "without the one before nobody vouches" has "from here on. The key before it was not at hand and did not vouch for it"
run --book plain.db prove
ok "which proves" is 0
run --book plain.db prove --signed-by "$key"
ok "but not to who knows the first" refused "the book is not what was noted of it elsewhere: from journal row 6 on another key signs, and the known one did not vouch for it"

# --- under a pass phrase -------------------------------------------------------------------------------------
with() { echo "$1" >words; shift; TENTERBOOK_PASS_FD=0 "$t" "$@" <words >out 2>err; code=$?; }
cp b.db.key open.key
with "nine grey bolts" key --make locked.key --locked
ok "a key is made under a pass phrase" grep -q "^Made the signing key [0-9a-f]\{64\} in locked.key" out
ok "its file holds no secret in clear" sh -c "! grep -q '^secret' locked.key && grep -qE '^locked [0-9a-f]{176}$' locked.key"
run key --make no.key --locked </dev/null
ok "without a pass phrase no key is made" refused "no pass phrase was given; no key is made"
ok "and no file" [ ! -e no.key ]
run key --locked
ok "only a key that is made is locked" misused "--locked goes with --make"
with "eight grey bolts" key --take locked.key
ok "another pass phrase does not take it" refused "the pass phrase does not open the key locked.key"
with "nine grey bolts" key --take locked.key
ok "its own does" has "from here on; the key before it vouched for it."
mv locked.key b.db.key
rows=$(sqlite3 b.db 'SELECT count(*) FROM journal')
with "nine grey bolts" set flame yes
ok "with it a record is made" is 0
run prove --signed-by b.db.key
ok "and signed, which is checked without it" is 0
with "eight grey bolts" set flame no
ok "with another nothing is recorded" refused "the pass phrase does not open the key b.db.key"
ok "not a row" [ "$(sqlite3 b.db 'SELECT count(*) FROM journal')" = $((rows + 1)) ]
run set flame no </dev/null
ok "where nobody gives one, it is recorded" is 0
run prove
ok "and not signed" has "From row $((rows + 2)) on no row is signed"
run key </dev/null
ok "which is told" has "what is recorded is not signed: the key b.db.key is locked, and nobody gave its pass phrase."
with "nine grey bolts" set flame yes
run prove --signed-by b.db.key
ok "the next signature covers it" is 0
TENTERBOOK_KEY=b.db.key with "nine grey bolts" --book three.db new
ok "a book is made with a locked key" is 0
run --book three.db prove --signed-by b.db.key
ok "and signed with it" is 0
sed -i 's/^locked ./locked g/' b.db.key
with "nine grey bolts" key
ok "a box with other signs in it is no key" has "b.db.key does not hold a signing key"
next=$(sed -n 's/^public //p' b.db.key)

# --- copies and older books ----------------------------------------------------------------------------------
run keep copy.db
ok "the key is not copied with the book" [ ! -e copy.db.key ]
run --book copy.db prove --signed-by "$next"
ok "what was signed is" is 0
for shape in 4 5; do
	cp "$books/shape-$shape.db" old.db
	run --book old.db prove
	ok "a book of shape $shape has no key" has "No row is signed: the book has no signing key yet."
	run --book old.db key
	ok "  which is told" has "The book has no signing key yet: the next record makes one in old.db.key."
	run --book old.db set flame yes
	run --book old.db prove --signed-by old.db.key
	ok "  until somebody writes: then all of it is signed" has "The last row is signed"
	rm -f old.db*
done

# --- a pass phrase that is typed ------------------------------------------------------------------------------------
/usr/bin/python3 "$here/typed.py" "$t"
