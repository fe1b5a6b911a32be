#!/bin/sh
# An act is called by commands and pages alike: what it says names no option (tb_about does). tests/house/test_acts.sh BUILD
set -u
here=$(cd "$(dirname "$0")" && pwd)
out=$(mktemp) && trap 'rm -f "$out"' EXIT
# in a text: quotes before it, and it is no comment
grep -nE '^[^*]*"[^"]*--[a-z]' "$here"/../../src/work/*.c "$here"/../../src/tell/*.c >"$out"
if [ -s "$out" ]; then
	echo "not ok - no sentence of an act names an option"
	sed 's/^/# /' "$out"
else
	echo "ok - no sentence of an act names an option"
fi
