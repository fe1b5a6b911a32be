# What tests of a command ask of its answer: read this file with `.` in a folder of the test's own, where out and err may lie.
# $t is the program, b.db the book.

# ok SENTENCE COMMAND...: says whether the command holds; if not, with what the program told last
ok() {
	said_=$1; shift
	if "$@"; then echo "ok - $said_"; else echo "not ok - $said_"; sed 's/^/# /' out err; fi
}
run() { "$t" "$@" >out 2>err; code=$?; }
is() { [ "$code" = "$1" ]; }
has() { is 0 && grep -qF -- "$1" out; }
refused() { is 1 && [ "$(cat err)" = "tenterbook: $1" ]; }
misused() { is 2 && [ "$(head -1 err)" = "tenterbook: $1" ]; }
# edit a copy of the book behind the program's back
bent() {
	rm -f bent.db*; cp b.db bent.db
	sqlite3 -batch bent.db "PRAGMA foreign_keys=OFF; $1" || exit 1
}
