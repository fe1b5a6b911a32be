#!/bin/sh
# The demonstration, run whole into a temporary directory: as much trade as promised, swaps found out, twins not.
set -u
. "$(dirname "$0")/../need.sh"
need unzip sqlite3
t=$(cd "$1" && pwd)/tenterbook
here=$(cd "$(dirname "$0")/.." && pwd)
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1

ok() {
	what=$1; shift
	if "$@"; then echo "ok - $what"; else echo "not ok - $what"; sed 's/^/# /' err | tail -5; fi
}
ask() { sqlite3 -batch demo/mill-lane.db "$1"; }

"$here/demo.sh" "$t" demo >out 2>err
code=$?
ok "the demonstration ends well" [ "$code" = 0 ]
ok "and says nothing on standard error" [ ! -s err ]
ok "it ends by saying where everything is" grep -q '^the book  *demo/mill-lane.db$' out

ok "at least 12 suppliers" [ "$(ask 'SELECT COUNT(*) FROM supplier')" -ge 12 ]
ok "at least 60 lots" [ "$(ask 'SELECT COUNT(*) FROM lot')" -ge 60 ]
ok "at least 400 bolts" [ "$(ask 'SELECT COUNT(*) FROM bolt')" -ge 400 ]
ok "at least 90 burns" [ "$(ask 'SELECT COUNT(*) FROM burn')" -ge 90 ]
ok "every lot is in the table" [ "$(grep -c '^M26-[0-9]*\.[0-9]*  ' out)" = "$(ask 'SELECT COUNT(*) FROM lot')" ]

# What the lots really are is known: sample-data/README.md. 004.02 was polyester sold as cotton, and is relabelled.
swaps="'M26-002.03','M26-003.03','M26-005.03','M26-007.04','M26-008.03','M26-011.04','M26-012.02','M26-016.02','M26-017.02','M26-019.01'"
ok "silk that is polyester or viscose, wool that is acrylic, a polyester weft in cotton: most are contradicted" \
	[ "$(ask "SELECT COUNT(*) FROM lot_now WHERE ref IN ($swaps) AND verdict = 'contradicts'")" -ge 8 ]
ok "and of the others the burns speak against the words" [ "$(ask "SELECT COUNT(*) FROM lot_now l WHERE ref IN ($swaps) AND (verdict = 'contradicts'
	OR EXISTS (SELECT 1 FROM verdict v WHERE v.lot = l.id AND v.detail LIKE '%\"grade\":\"speaks against\"%'))")" = 10 ]
ok "none of them is released" [ "$(ask "SELECT COUNT(*) FROM lot_now WHERE ref IN ($swaps) AND standing = 'released'")" = 0 ]
ok "polyester sold as cotton was contradicted before it was relabelled" \
	[ "$(ask "SELECT v.verdict FROM verdict v JOIN lot l ON l.id = v.lot WHERE l.ref = 'M26-004.02' ORDER BY v.entry LIMIT 1")" = contradicts ]
# flax that is cotton, lyocell that is viscose, cashmere that is wool, 65/35 that is 50/50, 10 % cashmere that is not there
blind="'M26-002.02','M26-006.02','M26-017.04','M26-018.01','M26-018.02'"
ok "flax that is cotton, cashmere that is wool, other shares of the same fibres: none contradicted" \
	[ "$(ask "SELECT COUNT(*) FROM lot_now WHERE ref IN ($blind) AND burns > 0 AND verdict <> 'contradicts'")" = 5 ]
ok "of the honest lots that were burned no more than one in twenty is contradicted" \
	[ "$(ask "SELECT 20 * SUM(verdict = 'contradicts') <= COUNT(*) FROM lot_now WHERE burns > 0 AND ref NOT IN ($swaps)")" = 1 ]
ok "words that cannot be read for certain are not judged" \
	[ "$(ask "SELECT group_concat(DISTINCT verdict) FROM lot_now WHERE clear = 0 AND burns > 0")" = undecided ]
ok "the composition above a block is that of its lots" \
	[ "$(ask "SELECT group_concat(declared, '; ') FROM (SELECT declared FROM lot_now WHERE ref LIKE 'M26-007.%' ORDER BY ref)")" = "100% Cotton; 100% Cotton; 100% Silk; 100% Wool" ]
ok "warp and weft are swatches of their own" \
	[ "$(ask "SELECT COUNT(*) FROM swatch WHERE part = 'weft'")" -ge 2 ]
ok "the slip of a sender's subtotal is told" grep -q 'the total says 313.37 m, the 6 bolts above it add up to 304.37 m' out

ok "the month's workbook is there" [ -s demo/cloth-2026-10.xlsx ]
ok "it is a sound archive" unzip -tqq demo/cloth-2026-10.xlsx
ok "each sheet has its CSV twin" [ "$(ls demo/cloth-2026-10-*.csv | wc -l)" = 12 ]
ok "the twin of the lots has a row a lot" [ "$(grep -c '^M26-' demo/cloth-2026-10-lots.csv)" = "$(ask 'SELECT COUNT(*) FROM lot')" ]
ok "a relabelled lot stays in the month as its supplier declared it, not conforming" \
	grep -q '^M26-004.02,.*,%100 PAMUK,.*,does not conform,.*,relabelled,' demo/cloth-2026-10-lots.csv
ok "and counts against that supplier" grep -q '^Sarıkuyu Dokuma,1,5,32,2455.2.*,5,0,4,1,0,0,' demo/cloth-2026-10-suppliers.csv
ok "the month counts the lots first found contradicted, whatever became of them" \
	grep -q "^Judged by burning and testing alone,contradict,$(ask "SELECT COUNT(DISTINCT lot) FROM verdict WHERE verdict = 'contradicts'")," demo/cloth-2026-10-summary.csv
"$t" --book demo/mill-lane.db prove >proof 2>err
code=$?
ok "the journal proves" [ "$code" = 0 ]
"$here/demo.sh" "$t" demo >out 2>err
code=$?
ok "run again it begins afresh" [ "$code$(ask 'SELECT COUNT(*) FROM site')" = 01 ]
