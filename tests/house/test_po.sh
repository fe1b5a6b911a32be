#!/bin/sh
# The catalogues of papers are whole: every sentence, in every language, with the same parameters: tests/house/test_po.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"
need xgettext msgfmt msgcmp msgattrib msgmerge /usr/bin/python3
root=$(cd "$(dirname "$0")/../.." && pwd)
build=$(cd "${1:?BUILD}" && pwd)
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
ok() { if [ "$1" = 0 ]; then echo "ok - $2"; else echo "not ok - $2"; sed 's/^/# /' "$dir/out"; fi; }

cd "$root" || exit 1
# As tests/house/test_pot.sh does: `make check` has made it before the tests start.
bare_make() { env -u MAKEFLAGS -u MFLAGS "$@" --no-print-directory BUILD="$(realpath --relative-to="$root" "$build")" pot >"$dir/out" 2>&1; }
bare_make make -q || bare_make flock "$build/make.lock" make
ok $? "make pot extracts the sentences of papers"
pot=$build/papers.pot

# whole PO: everything that makes a catalogue bad. What the source says is merged in first, so that no catalogue can drop the mark
# "c-format" of a sentence and with it the comparison of its parameters.
whole() {
	msgfmt --check -o "$dir/mo" "$1" || return 1
	msgcmp "$1" "$pot" 2>"$dir/cmp" || { cat "$dir/cmp"; return 1; }
	[ ! -s "$dir/cmp" ] || { cat "$dir/cmp"; return 1; } # a sentence that no paper has any more
	[ -z "$(msgattrib --only-obsolete "$1")" ] || { echo "obsolete"; return 1; }
	msgmerge --quiet --no-fuzzy-matching -o "$dir/merged.po" "$1" "$pot" && msgfmt --check -o "$dir/mo" "$dir/merged.po" || return 1
	[ -z "$(msgattrib --only-fuzzy "$dir/merged.po")" ] || { echo "fuzzy, or another parameter"; return 1; }
}
for l in de es fr it pl pt tr zh; do
	whole "src/text/po/$l.po" >"$dir/out" 2>&1; ok $? "the catalogue $l is whole"
done
ls src/text/po | tr '\n' ' ' >"$dir/out"
[ "$(cat "$dir/out")" = "de.po es.po fr.po it.po pl.po pt.po tr.po zh.po " ]; ok $? "there is one for each language papers are written in"

# The sentences are those of papers, and all of them: a letter's, and those that only tables hold.
for s in 'msgid "Yours faithfully,"' 'msgid "burnt hair, horn, feathers or bone"' 'msgid "warp"' 'msgid "cotton"' 'msgid "the microscope"'; do
	grep -qxF "$s" "$pot" 2>"$dir/out"; ok $? "found among them: $s"
done
! grep -q 'msgid "No terms are set' "$pot"; ok $? "a sentence of the terminal is not among them"

# Each kind of damage is seen.
bad() { sed "$2" src/text/po/de.po >"$dir/bad.po"; cmp -s "$dir/bad.po" src/text/po/de.po && { echo "nothing was damaged" >"$dir/out"; ok 1 "$1"; return; }
	! whole "$dir/bad.po" >"$dir/out" 2>&1; ok $? "$1"; }
bad "a sentence that is not translated is seen" 's/^msgstr "Ihre Deklaration"/msgstr ""/'
bad "a fuzzy one is seen" 's/^msgid "What you declared"/#, fuzzy\n&/'
bad "a missing one is seen" '/^msgid "What you declared"/,/^$/d'
bad "one that no paper has is seen" 's/^msgid "What you declared"/msgid "What"/'
bad "a parameter too many is seen" 's/^msgstr "Bitte antworten Sie bis zum %s."/msgstr "Bitte antworten Sie bis zum %s %s."/'
bad "a parameter of another kind is seen" 's/^msgstr "Bitte antworten Sie bis zum %s."/msgstr "Bitte antworten Sie bis zum %d."/'
bad "a numbered parameter that is not there is seen" 's/^msgstr "Bitte antworten Sie bis zum %s."/msgstr "Bitte antworten Sie bis zum %2$s."/'
bad "a parameter is compared though the mark is gone" '/^#, c-format$/d; s/^msgstr "Bitte antworten Sie bis zum %s."/msgstr "Bitte antworten Sie bis zum %d."/'
bad "a catalogue that is not well formed is seen" 's/^msgstr "Ihre Deklaration"/msgstr "Ihre Deklaration/'
bad "bytes that are no UTF-8 are seen" 's/^msgstr "Ihre Deklaration"/msgstr "Ihre \xff"/'
bad "a plural without its second form is seen" '/^msgstr\[1\]/d'

# The program chooses among plural forms by rules of its own: these are the rules of the catalogues.
/usr/bin/python3 - >"$dir/out" 2>&1 <<'P'
import re, sys
want = {"de": "nplurals=2; plural=(n != 1);", "es": "nplurals=2; plural=(n != 1);", "fr": "nplurals=2; plural=(n > 1);",
        "it": "nplurals=2; plural=(n != 1);", "pt": "nplurals=2; plural=(n != 1);", "tr": "nplurals=2; plural=(n != 1);",
        "pl": "nplurals=3; plural=(n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2);",
        "zh": "nplurals=1; plural=0;"}
for l, rule in want.items():
    has = re.search(r'"Plural-Forms: (.*?)\\n"', open(f"src/text/po/{l}.po", encoding="utf-8").read()).group(1)
    if has != rule:
        print(l, has); sys.exit(1)
P
ok $? "each has the plural forms that the program chooses by"
