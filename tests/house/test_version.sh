#!/bin/sh
# A case whose pages changed is not of the version that was released: tests/house/test_version.sh BUILD
# tests/golden/released.txt: the version that was released last, and the SHA-256 of tests/golden/case.txt at that time.
set -u
root=$(cd "$(dirname "$0")/../.." && pwd)
ok() { if [ "$1" = 0 ]; then echo "ok - $2"; else echo "not ok - $2"; fi; }
# VERSION DIGEST: whether a program of that version may draw such pages
may() { [ "$1" != "$released" ] || [ "$2" = "$digest" ]; }

read -r released digest <"$root/tests/golden/released.txt"
version=$(sed -n 's/^VERSION := *//p' "$root/Makefile")
now=$(sha256sum <"$root/tests/golden/case.txt" | cut -d' ' -f1)
[ -n "$version" ] && [ "${#digest}" = 64 ] && may "$version" "$now"
ok $? "pages of a case that differ from those of version $released have another version ($version)"
! may "$released" "${digest%?}x"
ok $? "changed pages under the version that was released are noticed"
may "$released" "$digest" && may "$released.1" "${digest%?}x"
ok $? "the same pages may keep it, and a new version may change them as often as it likes"
