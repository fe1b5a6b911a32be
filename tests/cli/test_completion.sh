#!/bin/sh
# Completion in bash: tests/cli/test_completion.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"
need bash
build=$(cd "$1" && pwd)
source=$(cd "$(dirname "$0")/../.." && pwd)/src/cli/help/tenterbook.bash
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export PATH="$build:$PATH" TENTERBOOK_WHO=Ada TENTERBOOK_CLOCK=1791187200
unset TENTERBOOK_BOOK
printf 'Supplier,Delivery note,Article,Bolt,Length m,Composition\nAlder Mill,N-1,crepe,1,50,100%% silk\nAlder Mill,N-1,drill,2,48,100%% cotton\n' >list.csv
tenterbook --book b.db new --code W >/dev/null && tenterbook --book b.db set flame yes >/dev/null && tenterbook --book b.db receive list.csv --on 2026-10-02 >/dev/null 2>&1 && tenterbook --book b.db cut 1 >/dev/null
cat >ask.bash <<'END'
# ask.bash SOURCE LINE: what is offered where the line ends, one a line; words come apart as bash does it
. "$1"
COMP_LINE=$2 COMP_POINT=${#2}
COMP_WORDS=($(printf '%s' "$2" | sed 's/:/ : /g'))
case $2 in *' ' | *:) [ "${2%:}" = "$2" ] && COMP_WORDS+=("") ;; esac
COMP_CWORD=$((${#COMP_WORDS[@]} - 1))
_tenterbook
printf '%s\n' "${COMPREPLY[@]}"
END
offers() { bash ask.bash "$source" "$1" >out 2>err; }
ok() {
	said=$1; shift
	if "$@"; then echo "ok - $said"; else echo "not ok - $said"; sed 's/^/# /' out err; fi
}
offers 'tenterbook se'
ok "commands are completed" [ "$(sort out | tr '\n' ' ')" = "set settle " ]
offers 'tenterbook --book b.db burn --sa'
ok "so are options of the command" [ "$(sort out | tr '\n' ' ')" = "--sample-mm --saw " ]
offers 'tenterbook burn X --saw odour:burning_h'
ok "so are cues, behind the colon at which bash takes words apart" [ "$(cat out)" = burning_hair ]
offers 'tenterbook burn X --looked smo'
ok "so are channels" [ "$(cat out)" = smoke ]
offers 'tenterbook --book b.db judge W26-001.'
ok "so are lots of the book that is named" [ "$(grep -c '^W26-001\.0[12]$' out)" = 2 ]
offers 'tenterbook --book b.db burn W26-001.01.'
ok "so are tags" grep -qx W26-001.01.01 out
offers 'tenterbook --book none.db judge W'
ok "where there is no book nothing is offered and nothing said" [ -z "$(tr -d '\n' <out)$(cat err)" ]
offers 'tenterbook help cu'
ok "help completes what it explains" grep -qx cues out
offers 'tenterbook --book b.db settle W26-001.01 --as re'
ok "the standings are completed" [ "$(sort out | tr '\n' ' ')" = "relabelled released returned " ]
offers 'tenterbook --book b.db settle W26-001.01 --as '
ok "all five of them" [ "$(sort out | tr '\n' ' ')" = "held relabelled released returned waiting " ]
offers 'tenterbook --book b.db try W26-001.01.01 --test micro'
ok "so are tests without a flame" grep -qx microscope out
offers 'tenterbook --book b.db label --market g'
ok "so are markets" [ "$(cat out)" = gb ]
offers 'tenterbook --book b.db supplier al'
ok "so are names of suppliers, as they have to be typed" grep -qxF 'Alder\ Mill' out
offers 'tenterbook --book b.db burn w26-1'
ok "references are completed however they are typed" [ "$(grep -c '^W26-001\.0[12]$' out)" = 2 ]
offers 'tenterbook --book b.db burn W26-0'
ok "where bash itself stops, behind a zero, they go on" [ "$(grep -c '^W26-001\.0[12]$' out)" = 2 ]
offers 'tenterbook --book b.db void W26-001.01.0'
ok "so do tags" [ "$(grep -c '^W26-001\.01\.01$' out)" = 1 ]
offers 'tenterbook --book b.db judge w26-1.0'
ok "also where the zeros before were left out" [ "$(grep -c '^W26-001\.0[12]$' out)" = 2 ]
offers 'tenterbook --book b.db move last --to W26-001.01.'
ok "a burn is moved to a tag" grep -qx W26-001.01.01 out
tenterbook --book b.db draw W26-001.02 --every >/dev/null
offers 'tenterbook --book b.db cut 2'
ok "bolts that were drawn are offered to be cut" grep -qx 2 out
tenterbook --book b.db burn W26-001.01.01 --saw smoke:black >/dev/null
offers 'tenterbook --book b.db burn W26-001.01.01 --corrects '
ok "the burns of a swatch are offered to be corrected, and the last one" [ "$(grep -c . out)" = 2 -a "$(grep -c '^last$' out)" = 1 -a "$(grep -cE '^[0-9A-Za-z]{26}$' out)" = 1 ]
offers 'tenterbook --book b.db lots --standing re'
ok "standings are offered where lots are listed by one" [ "$(sort out | tr '\n' ' ')" = "relabelled released returned " ]
offers 'tenterbook --book b.db todo --by '
ok "people are offered where one is asked for" [ "$(cat out)" = Ada ]
offers 'tenterbook --book b.db cut 2 --part wa'
ok "so are parts of cloth" [ "$(cat out)" = warp ]
offers 'tenterbook --book b.db settle W26-001.02 --bolt '
ok "so are the bolts of the lot that is settled, and no others" [ "$(cat out)" = 2 ]
offers 'tenterbook --book b.db set fl'
ok "so are settings" [ "$(cat out)" = flame ]
offers 'tenterbook help cues smo'
ok "so are channels where cues are explained" [ "$(cat out)" = smoke ]
offers 'tenterbook --book b.db terms Alder --law it_'
ok "so are laws, and no suppliers" [ "$(grep -c . out)" -ge 1 -a "$(grep -cv '^it_' out)" = 0 ]
offers 'tenterbook burn X --saw !odour:burning_h'
ok "a cue is completed behind the sign that denies it" [ "$(cat out)" = burning_hair ]
offers 'tenterbook burn X --not s'
ok "a burn is offered no result of a test without a flame" [ "$(grep -c '^smoke' out)" -gt 3 -a "$(grep -c sulfuric out)" = 0 ]
offers 'tenterbook --book b.db settle W26-001.01 --why W'
ok "where any text may stand nothing is offered" [ -z "$(tr -d '\n' <out)" ]
