#!/bin/sh
# Characters that a terminal obeys, or that make a name read as another, in every field and file name: tests/cli/test_unseen.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"
need /usr/bin/python3
here=$(cd "$(dirname "$0")" && pwd)
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
/usr/bin/python3 "$here/unseen.py" "${1:?BUILD}/tenterbook" "$dir"
