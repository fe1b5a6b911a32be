#!/bin/sh
# Time stamps in a case file: by when its records were in the book, checked on the paper alone. The authority is one the test makes.
# usage: tests/cli/test_stamped_case.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"
. "$(dirname "$0")/told.sh"
need openssl cc pdftotext sqlite3 /usr/bin/python3
build=$(cd "${1:?BUILD}" && pwd)
here=$(cd "$(dirname "$0")" && pwd)
t=$build/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export LC_ALL=C.UTF-8 TENTERBOOK_WHO="Ada Fell" TENTERBOOK_BOOK=b.db
unset TENTERBOOK_KEY TENTERBOOK_DEBUG TENTERBOOK_CLOCK SOURCE_DATE_EPOCH
. "$here/authority.sh"

refused_with() { is 1 && [ "$(wc -l <err)" = 1 ] && grep -qE -- "$1" out; }
last() { [ "$(tail -1 out)" = "$1" ]; }
says() { grep -qE -- "$1" out; }
rows() { sqlite3 "${1:-b.db}" 'SELECT max(number) FROM journal'; }
# stamp AUTHORITY: of the last row, taken in
stamp() {
	run anchor --request q.tsq --replace; reply "$1" q.tsq q.tsr
	run anchor --stamp q.tsr --request q.tsq --authority "$1.pem"; is 0 || { echo "not ok - a time stamp is taken in"; cat err; exit 1; }
}
authority Alder 365
authority Birch 365

printf 'Bolt No,Length m,Article,Composition\nB1,50,crepe 9,100%% Seide\nB2,60,drill 10,warp cotton weft linen\n' >list.csv
run new --code M --country GB
run set flame yes
run receive list.csv --supplier "Ohm Weavers" --note N-1 --on 2026-10-05
run case M26-001.01 --out none.pdf
run prove --case none.pdf --authority Alder.pem
ok "where nothing was stamped, certificates are said to show nothing" last "What was checked agrees; 1 thing could not be checked here."
ok "with the reason" says '^Not checked: when the records were in the book; no time stamp in the file covers one$'
run prove --authority Alder.pem
ok "of a book likewise" has "The book holds no time stamp: the certificates in Alder.pem show nothing."

stamp Alder
first=$(($(rows) - 1))
sleep 1
stamp Alder
run cut B1 --lot M26-001.01 --part whole
sleep 1
stamp Alder
second=$(($(rows) - 1))
run burn M26-001.01.01 --saw in_flame:melts,residue_form:hard_bead
run case M26-001.01 --out case.pdf
ok "a case is made of a book with time stamps" is 0
pdftotext -layout case.pdf text
ok "its page says who stamped which row when" sh -c "tr -s ' \n' ' ' <text | grep -qE 'Time-stamped journal row $first and every row before it, by Alder clock on 20[0-9-]+T[0-9:]+Z, serial number 02 journal row $second and every row before it, by Alder clock on 20[0-9-]+T[0-9:]+Z, serial number 04'"
ok "its workbook too" grep -qE "Time-stamped,\"?journal row $first and every row before it, by Alder clock" case-case.csv
run prove --case case.pdf
covered=$(sed -n 's/ records are covered.*//p' out)
ok "without certificates it is told, as not checked" says "^Not checked: who signed 2 time stamps, since no certificates are named \(--authority\)$"
ok "and never called agreement" last "What was checked agrees; 2 things could not be checked here."
run prove --case case.pdf --authority Alder.pem
ok "with them the file alone shows by when its records were there" last "Everything that was checked agrees. Whether settings, known cloth or another spelling of the supplier were left out, and whether the book went on after journal row $(rows), only the book can show: --against BOOK"
ok "of the stamps that show nothing earlier none is carried" [ "$(grep -c '^Time stamp of' out)" = 2 ]
ok "what a stamp of an earlier row covers is counted" sh -c "grep -qE '^Time stamp of journal row $first: [0-9]+ of the $covered covered records were in the book by 20[0-9-]+T[0-9:]+Z, says Alder clock \(serial number 02\)\.$' out && [ \"\$(sed -n 's/^Time stamp of journal row $first: \([0-9]*\) .*/\1/p' out)\" -lt \"\$(sed -n 's/^Time stamp of journal row $second: \([0-9]*\) .*/\1/p' out)\" ]"
ok "and records of later rows are not among them" sh -c "[ \"\$(sed -n 's/^Time stamp of journal row $second: \([0-9]*\) .*/\1/p' out)\" -lt $covered ]"
ok "of a stamp that fits the clocks no clock is named" sh -c '! grep -q "clock of the computer" out'
run prove --case case.pdf --authority Alder.pem --json
ok "programs are told too" /usr/bin/python3 -c 'import json; d = json.load(open("out")); s = d["time_stamps"]; assert len(s) == 2 and s[0]["signature_checked"] and s[0]["facts"] < s[1]["facts"] < d["facts"] and d["unchecked"]["time_stamps"] == 0, d'
run prove --case case.pdf --authority Birch.pem
ok "by other certificates they are refused" refused_with "the time stamp of journal row $first is not trusted: no certificate in Birch.pem vouches for the authority"
run prove --case case.pdf --authority list.csv
ok "a file without certificates is refused" refused "case.pdf: list.csv: it holds no certificate (PEM)"
run prove --case case.pdf --authority no.pem
ok "so is one that is not there" sh -c '[ "$(wc -l <err)" = 1 ] && grep -q "no.pem: " err'
run prove --case case.pdf --against b.db --authority Alder.pem
ok "it agrees with its book" last "Everything that was checked agrees, and the book holds nothing else of this lot."
stamp Alder
run prove --case case.pdf --against b.db --authority Alder.pem
ok "also once that has a later time stamp" last "Everything that was checked agrees, and the book holds nothing else of this lot."
run case M26-001.02 --out still.pdf
run prove --case still.pdf --authority Alder.pem
ok "a lot of which nothing was recorded since has one time stamp, the earliest" sh -c "[ \"\$(grep -c '^Time stamp of' out)\" = 1 ] && grep -q '^Time stamp of journal row $first: ' out"
stamp Birch
run case M26-001.01 --out two.pdf
cat Alder.pem Birch.pem >both.pem
run prove --case two.pdf --authority both.pem
ok "each authority counts for itself" says '^Time stamp of journal row [0-9]+: .* says Birch clock '
run prove --case two.pdf --authority Alder.pem
ok "and who trusts one of two is told of which the other is" refused_with 'the time stamp of journal row [0-9]+ is not trusted: no certificate in Alder.pem vouches'

# --- what somebody does to a case ------------------------------------------------------------------------------
forged() {
	/usr/bin/python3 "$here/forge_case.py" case.pdf forged.pdf "$1" ${4:-} || { echo "not ok - $2 (not forged)"; return; }
	run prove --case forged.pdf --against b.db
	ok "$2" refused_with "$3"
}
run anchor --request other.tsq --replace; reply Alder other.tsq other.tsr
"$t" --book c.db new >/dev/null 2>&1
run --book c.db anchor --request foreign.tsq; reply Alder foreign.tsq foreign.tsr
wrong="the time stamp of journal row $first does not fit: it is of another row or of another book, or shows something else than the file says"
forged restamped "the time stamp of another row is found" "$wrong" other.tsr
forged restamped "that of another book is found" "$wrong" foreign.tsr
forged redated "another moment than the reply shows is found" "$wrong"
forged renamed "another authority than the reply names is found" "$wrong"
forged renumbered "a time stamp that is said to be of a later row is found" "the time stamp of journal row $((first + 1)) does not fit"
forged beyond "one of a row that the file does not tell is found" "the file holds a time stamp of journal row $((first + 1000)) and does not tell that row"
forged unread "bytes that are no reply are found" "the time stamp of journal row $first cannot be read: it is not the reply of a time-stamping authority"
forged unstamped "that a time stamp was cut out shows against the book" "the book held a time stamp of journal row $second that shows .* when the case was made, and it is not in the file"
forged before_stamps "and so it does in a file of the form before, which told none" "the book held a time stamp of journal row $second that shows .* when the case was made, and it is not in the file"
forged stamped_twice "one that is told twice is found" "the file holds a time stamp of journal row $first twice"
for form in older formless; do
	/usr/bin/python3 "$here/forge_case.py" case.pdf forged.pdf $form
	run prove --case forged.pdf
	ok "a file that takes the other form's rule is refused ($form)" refused "forged.pdf: the data are not those of a case"
done
run prove --case two.pdf --against b.db
run prove --case case.pdf --against c.db --authority Alder.pem
ok "another book gives it no time stamps" refused_with 'the file holds a time stamp of journal row [0-9]+ that the book does not give it'

# --- clocks and ends -------------------------------------------------------------------------------------------
past_clock
cp list.csv early.csv
export TENTERBOOK_BOOK=early.db
run new --code M --country GB
run receive early.csv --supplier "Ohm Weavers" --note N-1 --on 2026-10-05
run anchor --request past.tsq
LD_PRELOAD=$dir/past.so reply Alder past.tsq past.tsr
run anchor --stamp past.tsr --request past.tsq --authority Alder.pem
run case M26-001.01 --out past.pdf
run prove --case past.pdf
ok "a row that says it is younger than its time stamp is told" says '^Journal row [0-9]+ says that it was written at 20[0-9-]+T[0-9:]+Z, after that moment: the clock of the computer was ahead\.$'
run prove --case past.pdf --authority Alder.pem
ok "a certificate that was not good at the moment shown vouches for nothing" refused_with 'is not trusted: no certificate in Alder.pem vouches for the authority \(Verify error:certificate is not yet valid\)'

cp "$here/../books/form-3-case.pdf" old.pdf
run prove --case old.pdf --authority Alder.pem
ok "a case of an older program is read, and said to hold no time stamp" sh -c "grep -q '^Not checked: when the records were in the book; no time stamp in the file covers one$' out && tail -1 out | grep -q '^What was checked agrees; '"

# --- over rows of an older program -----------------------------------------------------------------------------
cp "$here/../books/shape-4.db" mixed.db
export TENTERBOOK_BOOK=mixed.db
stamp Alder
run cut B1 --lot M26-001.01 --part whole
stamp Alder
run judge M26-001.01
run case M26-001.01 --out mixed.pdf
run prove --case mixed.pdf --authority Alder.pem
# the book has 23 rows of the older program; the last is told in full, with 4 records, and one more is of the cut after it (who cut is
# shown by the name in that row); two of the 51 are the dispute and its step, and two the verdict that was judged again, with its grade
ok "records before rows that stand there by their digest alone are not counted" sh -c "grep -q '^Time stamp of journal row 23: 4 of the 51 covered ' out && grep -q '^Time stamp of journal row 25: 5 of the 51 covered ' out"
