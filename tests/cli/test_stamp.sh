#!/bin/sh
# Time stamps (RFC 3161): asked for, taken in, checked by prove. The authority is one that this test makes; nothing is sent anywhere.
# usage: tests/cli/test_stamp.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/told.sh"
need sqlite3 openssl /usr/bin/python3
build=$(cd "${1:?BUILD}" && pwd)
here=$(cd "$(dirname "$0")" && pwd)
books=$here/../books
t=$build/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export LC_ALL=C.UTF-8 TENTERBOOK_WHO="Ada Fell" TENTERBOOK_BOOK=b.db
unset TENTERBOOK_KEY TENTERBOOK_DEBUG TENTERBOOK_CLOCK SOURCE_DATE_EPOCH

refused_with() { is 1 && [ "$(wc -l <err)" = 1 ] && grep -qE -- "$1" err; }

. "$here/authority.sh"
authority Alder 365
authority Birch 365

run new
run set flame yes
run anchor --request head.tsq
ok "a request for the last row is written" has "Written: head.tsq, a request for a time stamp of journal row 2."
openssl ts -query -in head.tsq -text >query 2>&1
ok "another program reads it: SHA-256, a nonce, the certificate is asked for" sh -c "grep -q 'Hash Algorithm: sha256' query && grep -q 'Nonce: 0x' query && grep -q 'Certificate required: yes' query"
run anchor --request head.tsq
ok "a request is not written over" is 1
run anchor --request head.txt
ok "nor under another ending" is 1
cp head.tsq first.tsq
run anchor --request head.tsq --replace
ok "but where that is asked for" is 0
ok "with another nonce" sh -c "! cmp -s head.tsq first.tsq"
reply Alder head.tsq head.tsr
ok "the authority answers" [ -s head.tsr ]

# --- what is refused ---------------------------------------------------------------------------------------------
rows() { sqlite3 "${1:-b.db}" 'SELECT count(*) FROM journal'; }
take() { run anchor --stamp "$1" --request "${2:-head.tsq}" --authority "${3:-Alder.pem}"; }
take head.tsr head.tsq Birch.pem
ok "under a certificate that is not trusted" refused_with 'head.tsr: no certificate in Birch.pem vouches for the authority \(Verify error:.*\)'
take head.tsr first.tsq
ok "with the nonce of another request" refused "head.tsr: the reply answers another request: its nonce is another one"
take head.tsr head.tsr
ok "a reply is no request" refused "head.tsr: it is not a request for a time stamp"
take head.tsq
ok "a request is no reply" refused "head.tsq: it is not the reply of a time-stamping authority"
head -c 700 head.tsr >short.tsr; take short.tsr
ok "a reply that was cut off" refused "short.tsr: it is not the reply of a time-stamping authority"
(cat head.tsr; echo more) >long.tsr; take long.tsr
ok "one with more behind it" refused "long.tsr: it is not the reply of a time-stamping authority"
/usr/bin/python3 - <<'EOP' || exit 1
b = bytearray(open("head.tsr", "rb").read()); b[-20] ^= 1; open("bent.tsr", "wb").write(b)
EOP
take bent.tsr
ok "one whose signature was changed" refused_with '^tenterbook: bent.tsr: '
truncate -s 100M huge.tsr; take huge.tsr
ok "one of 100 MB" refused_with '^tenterbook: huge.tsr: .*'
take head.tsr nothing.tsq
ok "without its request" refused_with '^tenterbook: nothing.tsq: '
take head.tsr head.tsq query
ok "with a file that holds no certificate" refused "query: it holds no certificate (PEM)"
: >empty.tsr; take empty.tsr
ok "an empty one" refused_with '^tenterbook: empty.tsr: '
"$t" --book other.db new >/dev/null 2>&1
run --book other.db anchor --stamp head.tsr --request head.tsq --authority Alder.pem
ok "in another book" refused "head.tsr: the time stamp is of no journal row of this book: it is of another book, or of rows that are gone"
openssl ts -query -data b.db -sha512 -cert -out foreign.tsq >/dev/null 2>&1; reply Alder foreign.tsq foreign.tsr
take foreign.tsr foreign.tsq
ok "of a digest of another kind" refused "foreign.tsr: it stamps a digest of another kind than SHA-256"
openssl ts -query -data b.db -sha256 -cert -out foreign.tsq >/dev/null 2>&1; reply Alder foreign.tsq foreign.tsr
take foreign.tsr foreign.tsq
ok "of something that is no journal row" refused "foreign.tsr: the time stamp is of no journal row of this book: it is of another book, or of rows that are gone"
take foreign.tsr
ok "a reply about something else than was asked" refused "foreign.tsr: the reply is about something else than was asked"
(cd Alder && sed 's/^digests = .*/digests = sha512/' ca.conf >strict.conf && openssl ts -reply -queryfile ../head.tsq -config strict.conf -section clock -signer tsa.crt -inkey tsa.key -out ../no.tsr) >/dev/null 2>&1
take no.tsr
ok "where the authority said no" refused "no.tsr: the authority gave no time stamp: it refused the request"
imprint=$(openssl asn1parse -inform DER -in head.tsq | sed -n 's/.*\[HEX DUMP\]://p' | tr A-F a-f)
asked() { openssl ts -query -digest "$imprint" -sha256 -no_nonce "$@" >/dev/null 2>&1; }
asked -cert -out plain.tsq && reply Alder plain.tsq plain.tsr && asked -cert -tspolicy 1.2.3.4.9 -out policy.tsq
take plain.tsr policy.tsq
ok "under another policy than was asked for" refused "plain.tsr: the reply was given under another policy than the request asks for"
take plain.tsr
ok "without the number of the request" refused "plain.tsr: the reply answers another request: its nonce is another one"
asked -out bare.tsq && reply Alder bare.tsq bare.tsr
take bare.tsr bare.tsq
ok "without the certificate of who signed it" refused "bare.tsr: the reply does not bring the certificate of who signed it"
(cd Alder && sed 's/^signer_digest = .*/signer_digest = sha1/' ca.conf >weak.conf && openssl ts -reply -queryfile ../head.tsq -config weak.conf -section clock -signer tsa.crt -inkey tsa.key -out ../weak.tsr) >/dev/null 2>&1
take weak.tsr
ok "signed over a SHA-1" refused "weak.tsr: the reply is signed over a digest that can be forged; it takes SHA-256 or longer"
authority Weak 365 -sha1 && reply Weak head.tsq chain.tsr
take chain.tsr head.tsq Weak.pem
ok "under a certificate that is signed over one" refused_with 'chain.tsr: no certificate in Weak.pem vouches for the authority \(Verify error:.*weak\)$'
# what the authority stamped, signed by a certificate under the same root that is not for time stamping
(cd Alder && printf '[plain]\nbasicConstraints = CA:FALSE\nkeyUsage = critical, digitalSignature\nextendedKeyUsage = emailProtection\n' >>ca.conf &&
	openssl ecparam -name prime256v1 -genkey -noout -out mail.key && openssl req -new -key mail.key -subj "/CN=Alder mail" -config ca.conf -out mail.csr &&
	openssl x509 -req -in mail.csr -CA ../Alder.pem -CAkey root.key -CAcreateserial -days 365 -extfile ca.conf -extensions plain -out mail.crt &&
	openssl ts -reply -in ../head.tsr -token_out -out token.der && openssl cms -verify -noverify -inform DER -in token.der -binary -out info.der &&
	openssl cms -sign -in info.der -binary -nodetach -cades -econtent_type 1.2.840.113549.1.9.16.1.4 -signer mail.crt -inkey mail.key -outform DER -out signed.der) >unfit.log 2>&1
/usr/bin/python3 - <<'EOP' || exit 1
length = lambda n: bytes([n]) if n < 128 else bytes([0x82, n >> 8, n & 255])
body = bytes.fromhex("3003020100") + open("Alder/signed.der", "rb").read()
open("unfit.tsr", "wb").write(b"\x30" + length(len(body)) + body)
b = open("head.tsr", "rb").read()
at = b.index(bytes.fromhex("3003020100")) + 4
open("both.tsr", "wb").write(b[:at] + b"\2" + b[at + 1:])
EOP
take unfit.tsr
ok "signed with a certificate that is not for time stamping" refused_with 'unfit.tsr: no certificate in Alder.pem vouches for the authority \(Verify error:.*purpose\)$'
take both.tsr
ok "a reply that says no and brings a time stamp" refused "both.tsr: it is not the reply of a time-stamping authority"
run anchor --stamp head.tsr --authority Alder.pem
ok "the request has to be named" misused "--stamp goes with --request, the request it answers, and --authority, certificates you trust"
run anchor --authority Alder.pem
ok "certificates are for a stamp" misused "--authority goes with --stamp"
run anchor --spell --request x.tsq
ok "a request is not spelled" misused "--spell is about the line, not about time stamps"
ok "of all that nothing is recorded" [ "$(rows)" = 2 ]

# --- taken in ------------------------------------------------------------------------------------------------------
take head.tsr
ok "a reply is taken in, and says when the row was there" sh -c 'grep -qxE "Took in a time stamp: journal row 2, and every row before it, was there at 20[0-9-]+T[0-9:]+Z, says Alder clock\." out'
ok "as one row" [ "$(rows)" = 3 ]
take head.tsr
ok "once" refused "head.tsr: the book has this time stamp of journal row 2 already"
/usr/bin/python3 -c 'b = bytearray(open("head.tsr", "rb").read()); b[b.index(bytes.fromhex("3003020100")) + 4] = 1; open("bent.tsr", "wb").write(b)'
take bent.tsr
ok "also with another byte that nobody signed" refused "bent.tsr: the book has this time stamp of journal row 2 already"
openssl ts -verify -queryfile head.tsq -in head.tsr -CAfile Alder.pem >verified 2>&1
ok "another program says of it what this one says" grep -q 'Verification: OK' verified
run prove
ok "prove tells the moment" sh -c 'grep -qE "^1 time stamp: journal row 2, and every row before it, was there at 20[0-9-]+T[0-9:]+Z, says Alder clock\.$" out'
ok "and that nobody looked who signed it" has "Not checked: who signed the time stamps, since no certificates are named (--authority)"
run prove --authority Alder.pem
ok "with certificates it is checked" has "Each is signed under a certificate in Alder.pem."
run prove --authority Birch.pem
ok "by others it is not" refused_with '^tenterbook: the book is not what was noted of it elsewhere: the time stamp of journal row 2 is not trusted: no certificate in Birch.pem vouches'
run prove --authority none.pem
ok "certificates that are not there are told" refused_with '^tenterbook: none.pem: '
run prove --json --authority Alder.pem
ok "programs are told too" grep -q '"time_stamps": 1' out
run anchor --request next.tsq
sleep 1
reply Alder next.tsq next.tsr
take next.tsr next.tsq
ok "a later row is stamped later" is 0
run prove --authority Alder.pem
ok "prove tells the first and the last" sh -c 'grep -q "^2 time stamps: journal row 3, " out && grep -q "^The first of them is of row 2, at " out'
run keep copy.db
ok "a copy has them" is 0
run --book copy.db prove --authority Alder.pem
ok "and they prove there" is 0

cp b.db mods.db; cp b.db.key mods.db.key
run --book mods.db anchor --request mods.tsq
reply Alder mods.tsq mods.tsr
/usr/bin/python3 - <<'EOP' || exit 1
b = bytearray(open("mods.tsr", "rb").read()); b[b.index(bytes.fromhex("3003020100")) + 4] = 1; open("mods.tsr", "wb").write(b)
EOP
run --book mods.db anchor --stamp mods.tsr --request mods.tsq --authority Alder.pem
ok "a reply that was granted with changes is taken in where it is what was asked" is 0
run --book mods.db prove --authority Alder.pem
ok "and proves" is 0

# --- clocks ----------------------------------------------------------------------------------------------------------
past_clock
run anchor --request past.tsq
LD_PRELOAD=$dir/past.so reply Alder past.tsq past.tsr
take past.tsr past.tsq
ok "a moment before one that the row holds is refused" refused_with '^tenterbook: past.tsr: it shows 2020-05-20T18:40:00Z, and journal row 4 holds a time stamp that shows 20[0-9TZ:-]+: one of the two clocks was wrong$'
"$t" --book early.db new >/dev/null 2>&1
run --book early.db anchor --request past.tsq --replace
LD_PRELOAD=$dir/past.so reply Alder past.tsq past.tsr
run --book early.db anchor --stamp past.tsr --request past.tsq --authority Alder.pem
ok "in a book that holds none it is taken in" is 0
run --book early.db prove
ok "and prove says that row and stamp differ" has "Journal row 1 says that it was written at 20"
run --book early.db prove --authority Alder.pem
ok "a certificate that was not good yet at that moment vouches for nothing" refused_with 'is not trusted: no certificate in Alder.pem vouches for the authority \(Verify error:certificate is not yet valid\)'

# --- changed behind the program's back ------------------------------------------------------------------------------
for change in "UPDATE time_stamp SET at = '2020-01-01T00:00:00Z' WHERE number = 2" "UPDATE time_stamp SET number = 1 WHERE number = 2" \
	"UPDATE time_stamp SET reply = (SELECT reply FROM time_stamp WHERE number = 3) WHERE number = 2" "DELETE FROM time_stamp WHERE number = 2"; do
	bent "$change"
	run --book bent.db prove
	ok "found: $change" refused_with '^tenterbook: the book does not fit its journal: '
done

# --- an authority that ends -------------------------------------------------------------------------------------------
authority Rowan 0
run anchor --request late.tsq
reply Rowan late.tsq late.tsr
sleep 1
take late.tsr late.tsq Rowan.pem
ok "a certificate that ended vouches for nothing" refused_with 'vouches for the authority \(Verify error:certificate has expired\)'

# --- an older book --------------------------------------------------------------------------------------------------
cp "$books/shape-4.db" old.db
run --book old.db anchor --request old.tsq
reply Alder old.tsq old.tsr
run --book old.db anchor --stamp old.tsr --request old.tsq --authority Alder.pem
ok "a book of an older program is stamped too" is 0
run --book old.db prove --authority Alder.pem
ok "and proves" has "1 time stamp: journal row "
