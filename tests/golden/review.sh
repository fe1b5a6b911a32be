#!/bin/sh
# Show what differs from the committed expectations, one file at a time, and take it over where that is meant.
#   tests/golden/review.sh BUILD
set -u
build=${1:?BUILD}
here=$(cd "$(dirname "$0")" && pwd)
fresh=$(mktemp -d) || exit 1
trap 'rm -rf "$fresh"' EXIT
for t in "$build"/tests/unit/test_*_golden; do
	[ -x "$t" ] && TB_GOLDEN_NEW=$fresh "$t" >/dev/null 2>&1
done
left=0
for f in "$fresh"/*; do
	[ -e "$f" ] || continue
	old=$here/$(basename "$f")
	cmp -s "$f" "$old" && continue
	diff -u "$old" "$f" 2>/dev/null || [ -e "$old" ] || echo "new: $(basename "$f")"
	printf 'Is this meant? Take %s over? [y/N] ' "$(basename "$f")"
	read -r answer || answer=
	case $answer in [yY]*) cp "$f" "$old" ;; *) left=$((left + 1)) ;; esac
done
[ "$left" = 0 ] && echo "Nothing differs any more." || echo "$left files differ and were left."
