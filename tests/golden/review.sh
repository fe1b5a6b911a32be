#!/bin/sh
# Show what differs from the committed expectations, one file at a time, and take it over where that is meant.
#   tests/golden/review.sh BUILD
# Expectations of programs stand in tests/golden, conversations on the command line in tests/said.
set -u
build=${1:?BUILD}
here=$(cd "$(dirname "$0")" && pwd)
fresh=$(mktemp -d) || exit 1
trap 'rm -rf "$fresh"' EXIT
mkdir "$fresh/golden" "$fresh/said"
for t in "$build"/tests/unit/test_*_golden; do
	[ -x "$t" ] && TB_GOLDEN_NEW=$fresh/golden "$t" >/dev/null 2>&1
done
TB_GOLDEN_NEW=$fresh/said sh "$here/../cli/test_said.sh" "$build" >/dev/null 2>&1
left=0
for f in "$fresh"/*/*; do
	[ -e "$f" ] || continue
	old=$here/../$(basename "$(dirname "$f")")/$(basename "$f")
	cmp -s "$f" "$old" && continue
	diff -u "$old" "$f" 2>/dev/null || [ -e "$old" ] || echo "new: $(basename "$f")"
	printf 'Is this meant? Take %s over? [y/N] ' "$(basename "$f")"
	read -r answer || answer=
	case $answer in [yY]*) cp "$f" "$old" ;; *) left=$((left + 1)) ;; esac
done
[ "$left" = 0 ] && echo "Nothing differs any more." || echo "$left files differ and were left."
