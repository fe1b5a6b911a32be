#!/bin/sh
# The program as it is built by default resists what a fault in memory could be used for: tests/house/test_hardened.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"; need readelf objdump
tb=${1:-build}/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
ok() { if [ "$1" = 0 ]; then echo "ok - $2"; else echo "not ok - $2"; sed 's/^/# /' "$dir/out" | head -20; fi; }

readelf -hW "$tb" >"$dir/out"
grep -q 'Type: *DYN' "$dir/out"; ok $? "it lies at another address each time it runs (PIE)"
readelf -dlW "$tb" >"$dir/out"
grep -q GNU_RELRO "$dir/out" && grep -qE 'BIND_NOW|FLAGS_1.*NOW' "$dir/out"; ok $? "its tables of addresses are read-only once it runs (full RELRO)"
grep 'GNU_STACK' "$dir/out" | grep -q 'RW ' ; ok $? "nothing on its stack is ever run as code"
readelf -sW --dyn-syms "$tb" >"$dir/out"
grep -q __stack_chk_fail "$dir/out"; ok $? "a function sees when its frame was overwritten (stack protector)"
grep -qE '__(memcpy|snprintf|fprintf|vsnprintf|vfprintf)_chk' "$dir/out"; ok $? "copies and prints know the size of what they fill (FORTIFY_SOURCE)"
readelf -dW "$tb" | grep NEEDED >"$dir/out"
[ "$(wc -l <"$dir/out")" -gt 5 ] && ! grep -qE 'cairo|pango|glib|fontconfig|icu|stdc\+\+|crypto|zip|xlsxwriter|uchardet|poppler|qpdf' "$dir/out"
ok $? "what only some commands need is not loaded by the others"
case $(uname -m) in
x86_64)
	# only functions that others may call by a pointer begin with it: of static ones the compiler knows every call
	nm --defined-only "$tb" | awk '$2 == "T" && $3 ~ /^(main|tb_)/ { print "<" $3 ">:" }' >"$dir/shared"
	objdump -d --no-show-raw-insn "$tb" | awk 'NR == FNR { shared[$1] = 1; next }
		$2 in shared { name = $2; getline; if ($2 != "endbr64") print name }' "$dir/shared" - >"$dir/out"
	[ "$(wc -l <"$dir/shared")" -gt 500 ] &&
	[ "$(objdump -d --no-show-raw-insn "$tb" | grep -c '<main>:$')" = 1 ] && [ ! -s "$dir/out" ]
	ok $? "a call may land only where a function begins (control-flow enforcement)"
	objdump -d --no-show-raw-insn "$tb" | grep -c 'orq *$0x0,(%rsp)' >"$dir/out"
	[ "$(cat "$dir/out")" -gt 0 ]; ok $? "a large frame touches each page of the stack in turn (stack clash protection)"
	;;
esac
