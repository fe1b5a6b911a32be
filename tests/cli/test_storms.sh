#!/bin/sh
# Each writing command on a disk that fails, tears, fills or loses its power: tests/cli/test_storms.sh BUILD
# tests/fault/storms.py says what must hold. A fixed part of what can go wrong is tried; all of it where TENTERBOOK_SOAK is set.
set -u
. "$(dirname "$0")/../need.sh"
need openssl /usr/bin/python3
tests=$(cd "$(dirname "$0")/.." && pwd)
storm() { /usr/bin/python3 "$tests/fault/storms.py" "$build" "$@" || failed=1; }
build=${1:?BUILD} failed=0 soak=${TENTERBOOK_SOAK:+1}

# That every command is among them but those that only read; and each way of writing that a command has.
acts() { sed -n 's/^\$ tenterbook \(--as-person "[^"]*" \)\?//p' "$tests/fault/acts.txt"; }
for name in $("$build/tenterbook" help | sed -n 's/^  \([a-z]*\)  .*/\1/p'); do
	case $name in day | help | label | look | lots | money | prove | todo) continue ;; esac
	acts | grep -q "^$name\b" || { echo "not ok - $name is tried too"; failed=1; }
done
for way in "anchor.* --request" "anchor.* --stamp" "burn.* --from" "burn.* --photo" "case.* --out" "dispute.* --opened" "dispute.* --notified" "draw.* --curve" \
	"drill deal" "drill answer" "judge.* --all" "keep.* --every" "key.* --make" "key.* --take" "record.* --resume" "restore.* --aside" "use.* --back"; do
	acts | grep -q "^$way" || { echo "not ok - '$way' is tried too"; failed=1; }
done
storm disk "${soak:-60}" "$tests/fault/acts.txt"
exit $failed
