#!/bin/sh
# Run every test and print one closing line "N passed, N failed": tests/run.sh [--unit | --commands] BUILD
# --unit: only unit and vector programs; --commands: these and the scripts of tests/cli. Of a whole run the unit programs are those of
# BUILD/asan, under sanitizers, and the vector programs and those of tests/unit/plain, which compute for long, plain ones; otherwise all are plain.
# No test leans on another: as many run at once as there are processors (TB_JOBS says otherwise), in any order.
set -u
here=$(cd "$(dirname "$0")" && pwd)
export CMOCKA_MESSAGE_OUTPUT=TAP LC_ALL=C.UTF-8
export ASAN_OPTIONS=detect_leaks=1:abort_on_error=0 UBSAN_OPTIONS=print_stacktrace=1
export LSAN_OPTIONS=suppressions=$here/leaks.supp:print_suppressions=0
export GCOV_ERROR_FILE=/dev/null # of a build that counts lines: a limit on file sizes keeps the counts from being written

# One test: tests/run.sh --one DIRECTORY NAME COMMAND... Counts the "ok" and "not ok" lines; a program that dies counts
# as a failure, and so does one that ran no test. What it said goes to DIRECTORY, which the whole run adds up.
if [ "${1:-}" = --one ]; then
	name=$3 at=$2/$(echo "$3" | tr / -)
	shift 3
	began=$(date +%s)
	if "$@" >"$at.out" 2>&1; then died=; else died=1; fi
	took=$(($(date +%s) - began))
	[ "$took" -lt 20 ] && took= || took=" $took s" # what makes the whole run long is said
	ok=$(grep -a '^ok ' "$at.out" | grep -avc '# SKIP')
	no=$(grep -a '^not ok ' "$at.out" | grep -avc '# SKIP') # cmocka calls a skipped test "not ok" too
	skip=$(grep -acE '^(not )?ok .*# SKIP' "$at.out")
	[ -n "$died" ] && [ "$no" = 0 ] && no=1
	[ "$ok" = 0 ] && [ "$no" = 0 ] && [ "$skip" = 0 ] && { no=1; echo "ran no test" >>"$at.out"; }
	echo "$ok $no $skip" >"$at.count"
	{
		if [ "$no" = 0 ]; then echo "  pass  $name ($ok)$took"; else
			echo "  FAIL  $name$took"
			grep -av '^ok ' "$at.out" | head -60
		fi
		sed -nE 's/^(not )?ok .*# SKIP */  skip  /p' "$at.out"
	} >"$at.said"
	cat "$at.said" # at one blow, since others write too
	exit 0
fi

only=
case "${1:-}" in --*) only=$1; shift ;; esac
build=${1:?BUILD}
results=$(mktemp -d) || exit 1
trap 'rm -rf "$results"' EXIT

# What is to run, a line each: a name and a command. Those that take longest come first, so that none is waited for.
{
	scripts="$here/cli/test_*.sh $here/house/test_*.sh"
	case $only in --unit) scripts= ;; --commands) scripts="$here/cli/test_*.sh" ;; esac
	for s in $scripts; do
		[ -e "$s" ] && echo "$(basename "$(dirname "$s")")/$(basename "$s") sh $s $build"
	done
	if [ -z "$only" ]; then
		for s in "$here"/oracle/test_*.py; do
			[ -e "$s" ] && echo "oracle/$(basename "$s") /usr/bin/python3 $s $build"
		done
		echo "fuzz sh $here/fuzz/run.sh $build"
	fi
	[ -z "$only" ] && units=$build/asan || units=$build
	for c in "$here"/unit/test_*.c "$here"/vectors/test_*.c; do
		t=${c#"$here"/} t=tests/${t%.c}
		case "$t" in tests/unit/*) grep -qx "${t##*/}" "$here/unit/plain" && t=$build/$t || t=$units/$t ;; *) t=$build/$t ;; esac
		echo "${t#"$build"/} $t"
	done
} >"$results/all"
long=unit/test_tamper # more than a minute
{ grep "$long" "$results/all"; grep -v "$long" "$results/all"; } >"$results/list"
xargs -a "$results/list" -L 1 -P "${TB_JOBS:-$(nproc)}" "$0" --one "$results"

cat "$results"/*.out >"$build/test.log"
set -- $(cat "$results"/*.count | awk '{ ok += $1; no += $2; skip += $3; n++ } END { print ok + 0, no + 0, skip + 0, n + 0 }')
missing=$(($(wc -l <"$results/list") - $4))
[ "$missing" = 0 ] || echo "  FAIL  $missing tests left no result"
failed=$(($2 + missing))
echo "$1 passed, $failed failed$([ "$3" = 0 ] || echo ", $3 skipped")"
[ "$failed" = 0 ]
