#!/bin/sh
# A burn at a terminal, one key a cue: tests/cli/test_burn_keys.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"
need /usr/bin/python3
t=$(cd "$1" && pwd)/tenterbook
keys=$(cd "$(dirname "$0")" && pwd)/burn_keys.py
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" && /usr/bin/python3 "$keys" "$t"
