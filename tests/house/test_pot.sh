#!/bin/sh
# The sentences for translators are all found, and a translation is what is printed: tests/house/test_pot.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"
need xgettext msginit msgfmt /usr/bin/python3
root=$(cd "$(dirname "$0")/../.." && pwd)
build=$(cd "${1:?BUILD}" && pwd)
t=$build/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
ok() { if [ "$1" = 0 ]; then echo "ok - $2"; else echo "not ok - $2"; sed 's/^/# /' "$dir/out"; fi; }

cd "$root" || exit 1
# `make check` has made it before the tests start; asking whether it is new enough writes nothing. Where it is not, one
# make at a time may work in a folder (tests/house/test_lint.sh takes the same lock).
bare_make() { env -u MAKEFLAGS -u MFLAGS "$@" --no-print-directory BUILD="$(realpath --relative-to="$root" "$build")" pot >"$dir/out" 2>&1; }
bare_make make -q || bare_make flock "$build/make.lock" make
ok $? "make pot extracts the sentences"
pot=$build/tenterbook.pot
# A message of several lines is one string with \n in it.
/usr/bin/python3 - "$pot" >"$dir/messages" <<'P'
import re, sys
for m in re.finditer(r'^msgid(?:_plural)? ((?:".*"\n)+)', open(sys.argv[1], encoding="utf-8").read(), re.M):
    print("".join(l[1:-1] for l in m.group(1).splitlines()))
P
# found SENTENCE KIND: the sentence is a message of its own
found() { grep -qxF -- "$1" "$dir/messages"; ok $? "found: $2"; }
: >"$dir/out"
found 'Swatch %s: %s of bolt %s, lot %s, declared \"%s\".\n' "what a command prints"
found "%s cannot be written: %s" "why something failed (tb_fail)"
found "cut takes a bolt, or --known COMPOSITION for known cloth" "how a command is misused (tb_misuse)"
found "$("$t" help | sed -n 's/^  lots  *//p')" "what a command does in one line, out of its record"
found "yes: flame work is permitted at this bench by the local fire code and the employer's rules" "what a setting does"
found "bolt number" "what a column of a packing list holds"
found 'Next delivery: tighten the inspection: %s.\n' "a sentence out of a table"
found "two of five or fewer lots in a row were refused" "why the inspection changed"
found "Evidence ratio" "a heading of the workbook"
found "Chain of custody" "a heading of the case"
"$t" cut --help | sed -n 's/^  --known[^ ]* *[A-Z]*  *//p' | head -1 >"$dir/words"
grep -qF "$(cut -c1-30 "$dir/words")" "$dir/messages"; ok $? "found: what an option does"
for c in $("$t" help | sed -n 's/^  \([a-z][a-z]*\) .*/\1/p'); do
	grep -qF "TRANSLATORS: the command $c, in full" "$pot" || echo "$c"
done >"$dir/out"
[ ! -s "$dir/out" ]; ok $? "found: the help of every command"

# Every function that looks its format up has its place among the keywords: the name above each such line.
keywords=$(sed -n '/^POT_KEYWORDS/,/[^\\]$/p' Makefile | tr -s ' \t\\' '\n' | sed -n 's/:.*//p')
grep -rlE '_\(fmt\)|tb_text_vsay\(.*fmt' src --include='*.c' | while read -r f; do
	awk '/^[a-z].*\(.*/ { split($0, a, "("); n = split(a[1] ~ /TB_PRINTF$|^tb_rc$/ ? a[1] "(" a[2] "(" a[3] : a[1], w, /[ *()]+/); head = $0 }
		/_\(fmt\)|tb_text_vsay\(.*fmt/ && !/^void tb_text_vsay/ { print head }' "$f"
done | grep -oE '[a-z_]+\)?\((struct|tb_rc|enum)' | sed 's/).*//; s/(.*//' | sort -u | grep -vx 'tb_text_vsay\|add' >"$dir/functions"
for f in $(cat "$dir/functions"); do
	echo "$keywords" | grep -qx "$f" || echo "$f looks its format up and is not among POT_KEYWORDS"
done >"$dir/out"
[ ! -s "$dir/out" ] && [ "$(wc -l <"$dir/functions")" -ge 6 ]
ok $? "every function that looks its format up is among the keywords"

# A language in which every sentence stands between marks: what the program prints comes out of the catalogue.
mkdir -p "$dir/locale/en_GB/LC_MESSAGES"
{
	msginit --no-translator -l en_GB.UTF-8 -i "$pot" -o "$dir/en.po" &&
		/usr/bin/python3 - "$dir/en.po" >"$dir/marked.po" <<'P' &&
import re, sys

# One process marks them all: msgfilter starts one for each sentence, which takes minutes where the machine is busy.
def marked(m):
    said = "".join(l[1:-1] for l in m.group(2).splitlines())
    before, core, after = re.fullmatch(r'((?:\\n)*)(.*?)((?:\\n)*)', said).groups()
    return m.group(1) + ' "' + before + ("\u00ab" + core + "\u00bb" if core else "") + after + '"\n'

header, rest = open(sys.argv[1], encoding="utf-8").read().split("\n\n", 1)
sys.stdout.reconfigure(encoding="utf-8")
sys.stdout.write(header + "\n\n" + re.sub(r'^(msgstr(?:\[\d\])?) ((?:".*"\n)+)', marked, rest + "\n", flags=re.M))
P
		msgfmt -c -o "$dir/locale/en_GB/LC_MESSAGES/tenterbook.mo" "$dir/marked.po"
} >"$dir/out" 2>&1
ok $? "a catalogue made from them is sound, conversions included"
marked() { LC_ALL=C.UTF-8 LANGUAGE=en_GB TENTERBOOK_LOCALE_DIR="$dir/locale" "$t" --book "$dir/book" "$@" >"$dir/out" 2>&1; }
marked lots
grep -q '^tenterbook: «there is no book at ' "$dir/out"; ok $? "a refusal comes out of the catalogue"
marked cut --help
grep -q '^«usage: tenterbook ' "$dir/out" && grep -q '^  --known .*«' "$dir/out"; ok $? "so does the help, its options too"
marked new --code W && marked set
grep -q '«an evidence ratio above this fits the declaration, where two looks say so»' "$dir/out"; ok $? "so do the settings"
marked judge --declared "100% cotto" --saw smoke:black
grep -q '«' "$dir/out"; ok $? "so do doubts about what is declared"
marked cut
grep -q '^tenterbook: «cut takes a bolt, or --known COMPOSITION for known cloth»$' "$dir/out"; ok $? "so does a misuse"
LC_ALL=C.UTF-8 "$t" --book "$dir/none" lots >"$dir/out" 2>&1
! grep -q '«' "$dir/out"; ok $? "without it the sentence itself is printed"
