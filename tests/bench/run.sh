#!/bin/sh
# Run every benchmark and print what it measured beside its bare baseline of the same run: tests/bench/run.sh BUILD
# Ratios, never pass or fail: a shared machine runs at several speeds.
set -u
build=${1:?BUILD}
here=$(cd "$(dirname "$0")" && pwd)
echo "machine: $(nproc) cores, $(sed -n 's/^model name[^:]*: //p' /proc/cpuinfo | head -1), Linux $(uname -r)"
for b in "$build"/tests/bench/bench_*; do
	case "$b" in *.d | *.o) continue ;; esac
	[ -x "$b" ] || continue
	echo
	echo "== $(basename "$b")"
	"$b" || echo "$(basename "$b") ended with $?"
done
for p in "$here"/bench_*.py; do
	[ -e "$p" ] || continue
	echo
	echo "== $(basename "$p")"
	/usr/bin/python3 "$p" "$build" || echo "$(basename "$p") ended with $?"
done
