#!/bin/sh
# The Makefile leaves nothing half-made, and scripts say what they need: tests/house/test_make.sh BUILD
set -u
root=$(cd "$(dirname "$0")/../.." && pwd)
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
ok() { if [ "$1" = 0 ]; then echo "ok - $2"; else echo "not ok - $2"; sed 's/^/# /' "$dir/out"; fi; }
bare_make() { env -u MAKEFLAGS -u MFLAGS make --no-print-directory "$@" >"$dir/out" 2>&1; }

mkdir -p "$dir/tree/src/gen" "$dir/tree/sql/reference"
cp "$root/Makefile" "$dir/tree"
cp "$root"/src/gen/*.[ch] "$dir/tree/src/gen"
cd "$dir/tree" || exit 1
printf 'key,name\na,"never closed\n' >sql/reference/broken.csv
bare_make build/gen/ref_broken.c
[ $? != 0 ] && [ ! -e build/gen/ref_broken.c ] && [ ! -e build/gen/ref_broken.h ]
ok $? "a reference table that cannot be read leaves no half-made file behind"
bare_make build/gen/ref_broken.c
[ $? != 0 ]; ok $? "and is refused again, instead of being taken for made"
printf 'key,name\na,"closed"\n' >sql/reference/broken.csv
bare_make build/gen/ref_broken.c && [ -s build/gen/ref_broken.c ]
ok $? "once it is mended it is made"

cd "$root" || exit 1
git ls-files tests .ci Makefile >"$dir/files" 2>/dev/null || find tests .ci Makefile -type f >"$dir/files"
grep -E '\.(sh|py)$|^Makefile$' "$dir/files" | xargs grep -nE '(^|[^/a-z])python3( |$)' | grep -v 'python3-\|package=python3' >"$dir/out"
[ ! -s "$dir/out" ]; ok $? "every script calls /usr/bin/python3, the one that has the packages"
for f in tests/cli/test_*.sh; do
	for tool in pdftotext pdffonts pdfdetach zbarimg mandoc libreoffice unzip sqlite3 /usr/bin/python3; do
		grep -v '^need \|^#' "$f" | grep -qE "(^|[^a-z./-])$tool " || continue
		grep -q "^need .*$tool" "$f" || echo "$f: $tool"
	done
done >"$dir/out"
[ ! -s "$dir/out" ]; ok $? "every script asks for the tools it uses before it starts"
PATH=/nowhere /bin/sh -c '. tests/need.sh; need zbarimg; echo "ok - went on"' /x/test_case.sh >"$dir/out" 2>&1
[ $? = 1 ] && [ "$(tail -1 "$dir/out")" = "not ok - test_case.sh needs zbarimg, which the Debian package zbar-tools brings" ]
ok $? "a tool that is not there is named with its package, in one sentence"
