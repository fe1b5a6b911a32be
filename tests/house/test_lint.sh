#!/bin/sh
# The tools that read the code find nothing in it, and are not blind: tests/house/test_lint.sh BUILD
# They read one file in ten, which tests/lint/drawn.sh draws; `make lint` reads all of them.
set -u
here=$(cd "$(dirname "$0")" && pwd)
build=${1:?BUILD}
. "$here/../need.sh"
need clang-tidy cppcheck
out=$(mktemp) && trap 'rm -f "$out"' EXIT
# One make at a time works in a folder: tests/house/test_pot.sh takes the same lock.
if env -u MAKEFLAGS -u MFLAGS flock "$build/make.lock" make -C "$here/../.." -k -j2 --no-print-directory BUILD="$build" LINT_ONE_IN=10 lint-sources >"$out" 2>&1; then
	echo "ok - clang-tidy and cppcheck find nothing in the sources"
else
	echo "not ok - clang-tidy and cppcheck find nothing in the sources"
	grep -v '^  clang-tidy\|^  cc' "$out" | sed 's/^/# /' | head -60
fi
"$here/../lint/planted.sh" "$build"
