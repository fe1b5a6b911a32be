#!/bin/sh
# Help and manual are drawn from one table: tests/cli/test_help.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"
need mandoc /usr/bin/python3
tb=$1/tenterbook
dir=$(mktemp -d); trap 'rm -rf "$dir"' EXIT
ok() { if [ "$1" = 0 ]; then echo "ok - $2"; else echo "not ok - $2"; fi; }

"$tb" help >"$dir/list" 2>"$dir/err"
ok $? "help succeeds"
[ ! -s "$dir/err" ]; ok $? "and says nothing on standard error"
commands=$(sed -n 's/^  \([a-z][a-z]*\) .*/\1/p' "$dir/list")
[ "$(echo "$commands" | wc -w)" -ge 20 ]; ok $? "it lists the commands"
[ "$commands" = "$(echo "$commands" | LC_ALL=C sort)" ]; ok $? "in the order of the alphabet"
"$tb" help --man >"$dir/tenterbook.1" 2>/dev/null
mandoc -Tlint "$dir/tenterbook.1" | grep -v STYLE >"$dir/lint"
[ ! -s "$dir/lint" ]; ok $? "the manual page passes mandoc"
mandoc -Tutf8 "$dir/tenterbook.1" | col -b >"$dir/text" 2>/dev/null || mandoc "$dir/tenterbook.1" >"$dir/text"
bad=
for c in $commands; do
	"$tb" "$c" --help >"$dir/one" 2>"$dir/err" || bad="$bad $c(exit)"
	[ -s "$dir/err" ] && bad="$bad $c(stderr)"
	grep -q "^usage: tenterbook .*$c" "$dir/one" || bad="$bad $c(usage)"
	grep -q "^\.It Nm tenterbook Cm $c$" "$dir/tenterbook.1" || bad="$bad $c(manual)"
	"$tb" "$c" --no-such-option >"$dir/one" 2>"$dir/err"; [ $? = 2 ] || bad="$bad $c(misuse)"
	grep -q "^usage: " "$dir/err" || bad="$bad $c(misuse-usage)"
done
[ -z "$bad" ]; ok $? "every command explains itself, is in the manual and refuses an unknown option with exit 2:$bad"
for c in $commands; do "$tb" "$c" --help; done >"$dir/all" 2>/dev/null
! grep -n ' $' "$dir/all" >"$dir/one"; ok $? "no line of the help ends in a blank"
! sed -n '/^examples:$/,/^usage:/p' "$dir/all" | grep -v '^examples:$\|^usage:\|^$' | grep -qv '^  tenterbook '
ok $? "an example stays on one line, so that it can be copied"
for m in $("$tb" label --market nowhere --text x 2>&1 | grep -o '[a-z][a-z] (' | cut -c1-2); do
	"$tb" help label | tr '\n' ' ' | grep -q "Markets:.* $m (" && "$tb" help assay | tr '\n' ' ' | grep -q "without --market.*[ ,]$m[,.]\|Without --market.* $m[,.]" || echo "$m"
done >"$dir/err"
[ ! -s "$dir/err" ]; ok $? "the help of label and of assay names every market: $(tr '\n' ' ' <"$dir/err")"
"$tb" help label | grep -q 'Markets: us (United States)'; ok $? "and there are markets"
"$tb" smelt >"$dir/one" 2>"$dir/err"; [ $? = 2 ]; ok $? "an unknown command is misuse"
"$tb" sette >/dev/null 2>"$dir/err"; grep -q "did you mean 'settle'" "$dir/err"; ok $? "and the nearest is offered"
"$tb" --version >"$dir/one"; grep -q '^tenterbook [0-9]' "$dir/one"; ok $? "the version is told"
"$tb" --version --verbose >"$dir/one"
for library in SQLite cairo pango fontconfig libcsv libxlsxwriter libzip zlib expat GSL libsodium jansson libqrencode libunistring poppler; do
	grep -qE "^  $library [0-9]+\.[0-9]" "$dir/one" || echo "$library"
done >"$dir/err"
[ ! -s "$dir/err" ]; ok $? "and of every library it calls: $(tr '\n' ' ' <"$dir/err")"
lacks=$(ldd "$tb" | sed -n 's/.*=> \([^ ]*\) .*/\1/p' | while read -r file; do grep -qxF "  $(realpath "$file")" "$dir/one" || echo "$file"; done)
[ -z "$lacks" ]; ok $? "and the file of each library that was loaded: $lacks"
grep -q '/libpoppler\.so' "$dir/one" && ! ldd "$tb" | grep -q poppler; ok $? "those that read PDF too, which no other command loads"
"$tb" --version aloud >"$dir/one" 2>"$dir/err"; [ $? = 2 ] && [ ! -s "$dir/one" ]; ok $? "other words behind --version are refused"
"$tb" --book "$dir/none.db" lots >/dev/null 2>"$dir/err"; [ $? = 1 ] && [ "$(wc -l <"$dir/err")" = 1 ]
ok $? "a book that is not there is refused with one sentence"
"$tb" help cues >"$dir/one" 2>"$dir/err"
[ "$(grep -c '^  [a-z_0-9]*:' "$dir/one")" -ge 100 ] && [ ! -s "$dir/err" ] && grep -q '^smoke: the smoke$' "$dir/one"; ok $? "every cue is listed below its channel"
"$tb" help cues hair >"$dir/one"; grep -q '^  odour:burning_hair  *burnt hair' "$dir/one" && ! grep -q 'smoke:black' "$dir/one"; ok $? "a word of what was seen finds the cue"
"$tb" help cues BLACK Smoke >"$dir/one"; [ "$(grep -c '^  ' "$dir/one")" -ge 1 ] && ! grep '^  ' "$dir/one" | grep -vi black | grep -q .; ok $? "several words have to be there, in any case"
"$tb" help cues Schurwolle >"$dir/one"; grep -q "^What published descriptions say of wool:$" "$dir/one" && grep -q "burnt hair, horn, feathers or bone (said by 37 of 37)$" "$dir/one" && ! grep -q hard_bead "$dir/one"; ok $? "the name of a fibre finds what is said of it"
"$tb" help cues plum >"$dir/one" 2>"$dir/err"; [ $? = 1 ] && grep -q "no cue has 'plum' in its name or meaning" "$dir/err"; ok $? "a word that no cue has is refused"
"$tb" help lots more >"$dir/one" 2>"$dir/err"; [ $? = 2 ]; ok $? "other words behind a command are a misuse"

# --- cues, looked for by their meaning ---
t=$(cd "$(dirname "$tb")" && pwd)/tenterbook
. "$(dirname "$0")/answer.sh"
cd "$dir" || exit 1
run help cues hair smoke
ok "where no cue has all of the words, those that have one are shown, and that is said" has "No cue has all of these words in its name or meaning; these have one of them:"
ok "among them what was meant" grep -q "odour:burning_hair" out
run help cues qqq zzz
ok "words that no cue has are all named" refused "no cue has 'qqq zzz' in its name or meaning, and no description of such a fibre is known; tenterbook help cues lists all"
run --json help cues hair
ok "programs get the cues" [ "$(/usr/bin/python3 -c "import json; print([c['channel'] for c in json.load(open('out'))['cues'] if c['cue'] == 'odour:burning_hair'])")" = "['odour']" ]
run --json help cues wool
ok "and what is said of a fibre" [ "$(/usr/bin/python3 -c "import json; j = json.load(open('out')); print(j['fibre'], all(0 < c['said'] <= c['of'] for c in j['said_of_it']))")" = "wool True" ]
run help
ok "and help says so" grep -q "every one but help takes --json, as help cues does too" out
run --json help burn
ok "what is for people to read is refused as JSON" [ "$code" = 2 -a ! -s out ]
