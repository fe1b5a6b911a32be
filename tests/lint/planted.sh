#!/bin/sh
# Do the tools that read the code see anything? tests/lint/planted.sh BUILD
# Each file in tests/lint/planted names which check of which tool must find its fault. Then every source of the
# program gets a fault at its end: a tool that loses its place in one of them would not find it there.
set -u
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
build=$(cd "${1:?BUILD}" && pwd)
cd "$root" || exit 1
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
ok() { if [ "$1" = 0 ]; then echo "ok - $2"; else echo "not ok - $2"; sed 's/^/# /' "$dir/out"; fi; }

for f in "$here"/planted/*.c; do
	what=$(sed -n 's/^ \* A planted fault: \(.*\)\.$/\1/p' "$f")
	want=$(sed -n 's/^ \* clang-tidy: //p' "$f")
	if [ -n "$want" ]; then
		clang-tidy --quiet "$f" -- -std=c11 -Iinclude >"$dir/out" 2>&1
		[ $? != 0 ] && grep -qF "[$want" "$dir/out"
		ok $? "clang-tidy finds that $what"
	fi
	want=$(sed -n 's/^ \* cppcheck: //p' "$f")
	"$here/cppcheck.sh" "$build" "$f" >"$dir/out" 2>&1
	[ $? != 0 ] && grep -qF "[$want]" "$dir/out"
	ok $? "cppcheck finds that $what"
done

mkdir "$dir/tree"
cp -r src "$dir/tree/src"
ln -s "$root/include" "$dir/tree/include"
cd "$dir/tree" || exit 1
find src -name '*.c' | sort >"$dir/sources"
while read -r f; do
	grep -v '^#\|^/\?\*\|^ \*\|^$' "$here/planted/null_after_json_loop.c" >>"$f"
done <"$dir/sources"
xargs "$here/cppcheck.sh" "$build" <"$dir/sources" >"$dir/found" 2>&1
sed -n 's/^\(src[^:]*\):[0-9:]* error: Null pointer dereference: place .*/\1/p' "$dir/found" | sort -u >"$dir/seen"
grep -vxFf "$dir/seen" "$dir/sources" >"$dir/out"
[ ! -s "$dir/out" ]
ok $? "cppcheck sees to the end of each of $(wc -l <"$dir/sources") sources"
