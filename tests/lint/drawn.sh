#!/bin/sh
# Print the files that are drawn, one in ONE_IN, by what they say: tests/lint/drawn.sh ONE_IN FILE...
set -u
one_in=${1:?ONE_IN}
shift
cksum "$@" | while read -r sum size file; do
	[ $((sum % one_in)) = 0 ] && echo "$file"
done
exit 0
