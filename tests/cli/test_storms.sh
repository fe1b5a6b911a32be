#!/bin/sh
# Each writing command on a disk that fails, tears, fills or loses its power: tests/cli/test_storms.sh BUILD
# tests/fault/storms.py says what must hold. A fixed part of what can go wrong is tried; all of it where TENTERBOOK_SOAK is set.
set -u
. "$(dirname "$0")/../need.sh"
need /usr/bin/python3
tests=$(cd "$(dirname "$0")/.." && pwd)
storm() { /usr/bin/python3 "$tests/fault/storms.py" "$build" "$@" || failed=1; }
build=${1:?BUILD} failed=0 soak=${TENTERBOOK_SOAK:+1}

# That every command that writes is among them: the table of commands says which do.
for f in $(grep -l TB_WRITES -r "$tests/../src/cli" --include=*.c); do
	name=$(sed -n 's/^    \.name = "\(.*\)",$/\1/p' "$f")
	[ -z "$name" ] || grep -q "^\$ tenterbook \(--as-person \"[^\"]*\" \)\?$name" "$tests/fault/acts.txt" || { echo "not ok - $name is tried too"; failed=1; }
done
storm disk "${soak:-60}" "$tests/fault/acts.txt"
exit $failed
