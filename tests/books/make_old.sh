#!/bin/sh
# How the old books and the case beside this file were made, by the program of the shape in their names. form-3-case.pdf is of the lot
# M26-001.01 of a like book with one burn, made by the last program that knew no time stamps in a case.
# usage: make.sh BINARY, in an empty folder
set -eu
tb=$1
export TENTERBOOK_WHO="Ines Okonjo" LC_ALL=C.UTF-8
at() { SOURCE_DATE_EPOCH=$1 TENTERBOOK_CLOCK=$1; export SOURCE_DATE_EPOCH TENTERBOOK_CLOCK; shift; "$tb" --book old.db "$@" >/dev/null; }
at 1792900000 new --code M --name "Mill Lane shed" --country GB
at 1792900001 set flame yes
cat >list.csv <<'EOF'
Bolt No,Length m,Article,Composition,Unit price EUR
B1,50,crepe 9,100% Seide,18
B2,48.5,crepe 9,100% Seide,18
B3,51,crepe 9,100% Seide,18
B4,60,drill 10,warp cotton weft linen,4
EOF
at 1792900002 receive list.csv --supplier "Ohm Weavers & Töchter" --note N-1 --on 2026-10-05
/usr/bin/python3 - <<'EOF'
import struct, zlib
chunk = lambda t, d: struct.pack(">I", len(d)) + t + d + struct.pack(">I", zlib.crc32(t + d))
raw = b"".join(b"\0" + bytes(v for x in range(30) for v in (x * 2, y * 3, 99)) for y in range(20))
open("photo.png", "wb").write(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", 30, 20, 8, 2, 0, 0, 0)) +
                              chunk(b"IDAT", zlib.compress(raw)) + chunk(b"IEND", b""))
EOF
at 1792910000 cut B1 --lot M26-001.01 --part whole --kept "drawer 4"
at 1792910100 burn M26-001.01.01 --saw in_flame:melts,residue_form:hard_bead,smoke:black --not odour:burning_hair --photo photo.png
at 1792910200 cut B2 --lot M26-001.01 --part whole
at 1792910300 burn M26-001.01.02 --saw residue_form:hard_bead --not odour:burning_hair
at 1793100001 --as-person Yuri draw M26-001.01
at 1793100002 --as-person Xenia settle M26-001.01 --as held --why "asked the supplier"
at 1793100003 --as-person Wim use B3 --anyway --why "sample for the buyer"
at 1793100004 --as-person Vera try M26-001.01.01 --test acetone --result stays
at 1793100005 --as-person Uri cut B3 --lot M26-001.01 --part whole --kept "drawer 5"
at 1793100006 --as-person Tora cut B2 --lot M26-001.01 --part whole --kept "drawer 6"
at 1793100007 --as-person Sol share M26-001.01
at 1793100008 --as-person Rhea dispute M26-001.01 --opened --words "not silk" --document photo.png
at 1793100009 --as-person Quin assay M26-001.01 --found "100% polyester" --uncertainty 0.5
at 1793100010 cut B4 --lot M26-001.02 --part warp
at 1793100011 burn M26-001.02.01 --saw odour:burning_paper,residue_form:light_fluffy_ash,removed:afterglow --not residue_form:hard_bead
at 1793100012 terms "Ohm Weavers & Töchter" --country DE --open 5 --working --in "order 4471"
at 1793100013 cut --known "100% wool" --kept "tin 1"
at 1793100014 cut --known "100% cotton" --kept "tin 2"
at 1793100015 --as-person Vera drill deal --to "Wren Dale" --count 3 --seed 2026-a
at 1793100016 --as-person "Wren Dale" drill answer 1-01 --class protein --saw odour:burning_hair,residue_form:crushable_bead
at 1793200000 case M26-001.01 --out old-case.pdf
rm -f old-case.xlsx old-case-*.csv list.csv photo.png
