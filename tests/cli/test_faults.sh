#!/bin/sh
# A disk that fails and a book that cannot be read, at every step of every conversation: tests/cli/test_faults.sh BUILD
# tests/fault/walk.py says what must hold. TB_FAULTS=1 tries all that can fail, TB_FAULTS=2 every second of them.
set -u
. "$(dirname "$0")/../need.sh"
need /usr/bin/python3
tests=$(cd "$(dirname "$0")/.." && pwd)
exec /usr/bin/python3 "$tests/fault/walk.py" "${1:?BUILD}" "${TB_FAULTS:-15}" "$tests"/said/*.txt
