#!/bin/sh
# Every list and paper tells one story of a lot: histories of lots, walked by one_story.py. Invented trade.
set -u
. "$(dirname "$0")/../need.sh"
need /usr/bin/python3 pdftotext
t=$(cd "$1" && pwd)/tenterbook
walk=$(cd "$(dirname "$0")" && pwd)/one_story.py
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_CLOCK=1795694400 # 2026-11-26 12:00 UTC, whatever day it is
export TENTERBOOK_BOOK="$dir/shed.db" LC_ALL=C.UTF-8
/usr/bin/python3 "$walk" "$t"
