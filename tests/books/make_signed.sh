#!/bin/sh
# How shape-10.db beside this file was made, by the program of that shape: what make_old.sh records, then what programs of older
# shapes did not know: words with a reason, one supplier under two names, an amended delivery, something void, another key that the
# first vouched for, and time stamps of two rows. usage: make_signed.sh BINARY, in an empty folder
set -eu
tb=$1
here=$(cd "$(dirname "$0")" && pwd)
unset TENTERBOOK_KEY
sh "$here/make_old.sh" "$tb"
export TENTERBOOK_WHO="Ines Okonjo" LC_ALL=C.UTF-8
at() { TENTERBOOK_CLOCK=$1; export TENTERBOOK_CLOCK; shift; "$tb" --book old.db "$@" >/dev/null; }
. "$here/../cli/authority.sh"
stamp() {
	"$tb" --book old.db anchor --request head.tsq --replace >/dev/null
	reply Alder head.tsq head.tsr
	at "$1" anchor --stamp head.tsr --request head.tsq --authority Alder.pem
}
authority Alder 365
at 1793300000 declare M26-001.02 --text "warp cotton weft linen" --why "their letter of the 27th"
stamp 1793300001
printf 'Bolt No,Length m,Article,Composition\nC1,20,voile 2,100%% cotton\n' >list.csv
at 1793300002 receive list.csv --supplier "Ohm Weavers and Daughters" --note N-2 --on 2026-10-28
at 1793300003 supplier "Ohm Weavers and Daughters" --same-as "Ohm Weavers & Töchter" --why "one house, two spellings"
at 1793300004 amend M26-002 --on 2026-10-27 --why "typed the day after"
at 1793300005 cut C1 --lot M26-002.01 --part whole
at 1793300006 void M26-002.01.01 --why "cut from another bolt" --yes
"$tb" key --make next.key >/dev/null
at 1793300007 key --take next.key
mv next.key old.db.key
stamp 1793300008
mv old.db shape-10.db
