#!/bin/sh
# Whole conversations with the program, word for word: tests/cli/test_said.sh BUILD
# Each file of tests/said holds commands and below each what was said (output, then errors, then an exit code that is not
# 0). They are run anew in a fresh folder, where sample/ is the sample data, and compared. To add one, write the command
# without its answer and take it over with `make golden-review` (TB_GOLDEN_NEW names a folder for what is said now).
set -u
. "$(dirname "$0")/../need.sh"
need /usr/bin/python3 pdftotext
build=$(cd "${1:?BUILD}" && pwd)
tests=$(cd "$(dirname "$0")/.." && pwd)
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
PATH=$build:$PATH
export PATH

for file in "$tests"/said/*.txt; do
	name=$(basename "$file")
	mkdir "$dir/work"
	ln -s "$tests/../sample-data" "$dir/work/sample"
	(cd "$dir/work" && /usr/bin/python3 "$tests/said/converse.py" "$file") >"$dir/now" 2>&1
	rm -rf "$dir/work"
	[ -n "${TB_GOLDEN_NEW:-}" ] && cp "$dir/now" "$TB_GOLDEN_NEW/$name"
	if cmp -s "$file" "$dir/now"; then
		echo "ok - the same is said as in tests/said/$name"
	else
		echo "not ok - the same is said as in tests/said/$name (make golden-review shows it)"
		diff -u "$file" "$dir/now" | head -40 | sed 's/^/# /'
	fi
done
