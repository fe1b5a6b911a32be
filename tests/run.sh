#!/bin/sh
# Run every test and print one closing line "N passed, N failed": tests/run.sh [--unit] BUILD
# Unit and vector programs run plain and, where BUILD/asan exists, under sanitizers too; scripts in tests/cli
# run against both binaries where they say so; fuzzers run briefly over committed seeds.
set -u
unit_only=
[ "${1:-}" = --unit ] && { unit_only=1; shift; }
build=${1:?BUILD}
here=$(cd "$(dirname "$0")" && pwd)
passed=0 failed=0
log=$build/test.log
# NumPy and SciPy are the system's packages: another python3 in the path may lack them.
python=python3; [ -x /usr/bin/python3 ] && python=/usr/bin/python3
: >"$log"
export CMOCKA_MESSAGE_OUTPUT=TAP LC_ALL=C.UTF-8
export ASAN_OPTIONS=detect_leaks=1:abort_on_error=0 UBSAN_OPTIONS=print_stacktrace=1

# Count the "ok" and "not ok" lines of one program; a program that dies counts as a failure.
take() {
	name=$1; shift
	if ! "$@" >"$build/test.out" 2>&1; then died=1; else died=0; fi
	cat "$build/test.out" >>"$log"
	ok=$(grep -c '^ok ' "$build/test.out"); no=$(grep -c '^not ok ' "$build/test.out")
	[ "$died" = 1 ] && [ "$no" = 0 ] && no=1
	[ "$ok" = 0 ] && [ "$no" = 0 ] && { no=1; echo "ran no test" >>"$build/test.out"; }
	passed=$((passed + ok)) failed=$((failed + no))
	if [ "$no" = 0 ]; then echo "  pass  $name ($ok)"; else
		echo "  FAIL  $name"; grep -v '^ok ' "$build/test.out" | head -60; fi
}

for dir in "$build" ${unit_only:+} $([ -n "$unit_only" ] || echo "$build/asan"); do
	[ -d "$dir/tests" ] || continue
	for t in "$dir"/tests/unit/test_* "$dir"/tests/vectors/test_*; do
		case "$t" in *.d | *.o) continue ;; esac
		[ -x "$t" ] && take "${t#"$build"/}" "$t"
	done
done
if [ -z "$unit_only" ]; then
	for s in "$here"/cli/test_*.sh; do
		[ -e "$s" ] && take "cli/$(basename "$s")" sh "$s" "$build"
	done
	for s in "$here"/oracle/test_*.py; do
		[ -e "$s" ] && take "oracle/$(basename "$s")" "$python" "$s" "$build"
	done
	for f in "$build"/fuzz/fuzz_*; do
		case "$f" in *.d | *.o) continue ;; esac
		[ -x "$f" ] || continue
		seeds=$here/fuzz/seeds/$(basename "$f" | sed 's/^fuzz_//')
		work=$build/fuzz/corpus/$(basename "$f"); mkdir -p "$work"
		take "fuzz/$(basename "$f")" sh -c '"$1" -max_total_time="${TB_FUZZ_SECONDS:-10}" -rss_limit_mb=2048 -timeout=10 -print_final_stats=0 -artifact_prefix="$2/" "$2" "$3" >/dev/null 2>"$2.log" && echo "ok 1 - $(basename "$1") found no fault" || { echo "not ok 1 - $(basename "$1")"; tail -40 "$2.log"; }' sh "$f" "$work" "$seeds"
	done
fi
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
