#!/bin/sh
# Each writing command without memory, at some of the ways on which it asks for it: tests/cli/test_memory.sh BUILD
# tests/fault/storms.py says what must hold. A fixed part of the ways is tried; all of them where TENTERBOOK_SOAK is set.
set -u
. "$(dirname "$0")/../need.sh"
need openssl /usr/bin/python3
soak=${TENTERBOOK_SOAK:+1}
tests=$(cd "$(dirname "$0")/.." && pwd)
exec /usr/bin/python3 "$tests/fault/storms.py" "${1:?BUILD}" memory "${soak:-450}" "$tests/fault/acts.txt"
