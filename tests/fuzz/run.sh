#!/bin/sh
# Run the fuzzers, each over its committed seeds: tests/fuzz/run.sh BUILD [SECONDS]
# Without SECONDS each makes the number of runs that tests/fuzz/runs names, starting from the seeds alone and from a
# fixed random number, with every part of the search switched off that depends on time or addresses: the same inputs
# are tried in the same order on each machine, and nothing is kept. With SECONDS each searches at random for so long
# and keeps what it learned in BUILD/fuzz/corpus. An input that fails is left in BUILD/fuzz/found.
set -u
build=${1:?BUILD} seconds=${2:-}
here=$(cd "$(dirname "$0")" && pwd)
found=$build/fuzz/found
mkdir -p "$found"
export ASAN_OPTIONS="${ASAN_OPTIONS:-detect_leaks=1}"
failed=0
for f in "$here"/fuzz_*.c; do
	name=$(basename "$f" .c) short=$(basename "$f" .c | sed 's/^fuzz_//')
	seeds=$here/seeds/$short
	if [ -n "$seconds" ]; then
		corpus=$build/fuzz/corpus/$name
		mkdir -p "$corpus"
		how="-max_total_time=$seconds" what="found no fault in $seconds seconds"
	else
		corpus=$(mktemp -d) || exit 1
		runs=$(sed -n "s/^$short //p" "$here/runs")
		how="-runs=${runs:=5000} -seed=1 -reload=0 -use_cmp=0 -entropic=0" what="found no fault in $runs runs"
	fi
	if "$build/fuzz/$name" $how -timeout=100 -rss_limit_mb=2048 -artifact_prefix="$found/$name-" \
		"$corpus" "$seeds" >"$found/$name.log" 2>&1; then
		echo "ok - $name $what"
	else
		echo "not ok - $name $what"
		tail -40 "$found/$name.log" | sed 's/^/# /'
		echo "# The input is kept in $found; once mended, add it to $seeds."
		failed=1
	fi
	[ -n "$seconds" ] || rm -rf "$corpus"
done
exit $failed
