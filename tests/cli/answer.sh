# What the command line answered: read this file with `.`, set t to the program, and work in a folder of your own.
# run keeps what was said in the files out and err and the exit code in $code; the others ask about that.

# ok SENTENCE CONDITION...
ok() {
	what=$1; shift
	if "$@"; then echo "ok - $what"; else echo "not ok - $what"; sed 's/^/# /' out err; fi
}
run() { "$t" "$@" >out 2>err; code=$?; }
# is CODE: the exit code and, on success, an empty standard error
is() { [ "$code" = "$1" ] && { [ "$1" != 0 ] || [ ! -s err ]; }; }
has() { is 0 && grep -qF -- "$1" out; }
# Nothing was done, and the last line says why.
refused() { is 1 && [ ! -s out ] && [ "$(tail -1 err)" = "tenterbook: $1" ]; }
