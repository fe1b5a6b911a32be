#!/bin/sh
# Figures in JSON have the digits they have: tests/cli/test_figures.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"
need /usr/bin/python3
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
/usr/bin/python3 "$(dirname "$0")/figures.py" "$1/tenterbook" "$dir"
