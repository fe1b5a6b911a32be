#!/bin/sh
# A packing list that is typed, through a pipe as at a terminal: tests/cli/test_by_hand.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"
need /usr/bin/python3 sqlite3 timeout
t=$(cd "$1" && pwd)/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_CLOCK=1795694400 TENTERBOOK_BOOK="$dir/shed.db" TENTERBOOK_WHO=tester
ok() { what=$1; shift; if "$@"; then echo "ok - $what"; else echo "not ok - $what"; sed 's/^/# /' out err | head -30; fi; }
# by_hand LINES OPTIONS...: the lines are answers
by_hand() { lines=$1; shift; printf '%b' "$lines" | "$t" receive --by-hand --on 2026-09-20 "$@" >out 2>err; code=$?; }
is() { [ "$code" = "$1" ]; }
has() { grep -qF -- "$1" out; }
last() { [ "$(tail -1 err)" = "tenterbook: $1" ]; }
bolts() { sqlite3 shed.db 'SELECT count(*) FROM bolt'; }
misused() { [ "$code" = 2 ] && [ "$(head -1 err)" = "tenterbook: $1" ]; }
"$t" new --code W --name shed --country GB >out 2>err

two='Kirrane Weavers\nKW 9\n2026-09-14\nSerge\nslate\nL1\n100% wool\n101\n50,5\n102\n49\n\nTweed\n\nL2\n\n7\n20\n\n\n'
by_hand "$two" --dry-run
ok "a list can be tried out" is 0
ok "and nothing is recorded of it" [ "$(bolts)" = 0 ]
by_hand "${two}n\n"
ok "a list that is left after it was shown is not recorded" [ "$code$(bolts)" = 10 ]
ok "what it would come to was shown: lots, metres and totals" has "Would be taken in: Kirrane Weavers, note KW 9 of 2026-09-14, arrived 2026-09-20: 2 lots, 3 bolts, 119.50 m"
ok "without a place for it what was typed is gone, and that is said" grep -qx "What was typed is not kept; --keep NAME.txt keeps it." err
by_hand "$two"
ok "nor is one that ends where it is asked whether to take it in" [ "$code$(bolts)" = 10 ]
by_hand 'Kirrane Weavers\nKW 9\n\nSerge\n' --keep half.txt
ok "a list that is typed by half is not recorded" [ "$code$(bolts)" = 10 ]
ok "in one sentence" last "the list was not typed to its end; nothing of it is recorded"
ok "but kept where that was said" grep -qx "What was typed is kept in half.txt; tenterbook receive --by-hand half.txt goes on with it." err
printf 'slate\nL1\n100%% wool\n101\n50\n' | "$t" receive --by-hand half.txt --on 2026-09-20 >out 2>err; code=$?
ok "gone on with and left again, it is kept in the same place" grep -qx "What was typed is kept in half.txt; tenterbook receive --by-hand half.txt goes on with it." err
printf '\n\n\n' | "$t" receive --by-hand half.txt --on 2026-09-20 >out 2>err; code=$?
ok "and gone on with to its end it is recorded" [ "$code$(bolts)" = 01 ]
ok "as one that was typed" [ "$(sqlite3 shed.db 'SELECT file_name FROM delivery')" = "typed by hand" ]
by_hand 'Kirrane Weavers\nKW 9\n\nX\n\n\n\n1\n1\n\n\n\n' --keep twice.txt
ok "the same note once more is refused as of any list" is 1
ok "and what was typed is kept" [ -s twice.txt ]
by_hand 'kirrane weavers\nkw 9\n\n'
ok "that the note was taken in is said before a bolt is typed" grep -q "note kw 9 of Kirrane Weavers is written nearly like note KW 9, which was taken in before, as W26-001" err
by_hand 'Kirrane Weavers\nKW 10\n\n'
ok "and nothing is said of another note" sh -c '! grep -q "taken in before" err'
by_hand 'x\n' --keep twice.txt
ok "no file is written over by what was typed" [ "$(wc -l <twice.txt)" -gt 5 ]
by_hand "Number\n$two" --yes
ok "what is no answer is asked again: the third line was to be a date" has "'KW 9' is not a valid date; write it as 2026-09-14"
by_hand '14\nSerge\n\n\n100% wool\n1\n10\n\n\n' --supplier "Otter Mill" --note-date 2026-09-01 --yes
ok "what is given as an option is not asked, and --yes does not ask at the end" [ "$code$(bolts)" = 05 ]
by_hand '' --json
ok "--by-hand gives no JSON" misused "--by-hand asks for one line after the other; it does not go with --json"
by_hand '' a.txt b.txt
ok "it goes on with one list" misused "--by-hand goes on with one file of answers that were kept"
"$t" receive --keep x.txt list.csv >out 2>err; code=$?
ok "--keep is for what is typed" misused "--keep goes with --by-hand"
printf 'Article\n' >list.csv
by_hand '' list.csv
ok "a packing list is not what was kept of one" last "list.csv: these are not answers that were kept of a list typed by hand"
by_hand '' nowhere.txt
ok "a file that is not there is named" last "nowhere.txt: the file cannot be opened: No such file or directory"

# --- at a terminal --------------------------------------------------------------------------------------------
cat >talk.py <<'PY'
import os, pty, sys
pid, fd = pty.fork()
if pid == 0:
    os.execv(sys.argv[2], sys.argv[2:])
os.write(fd, sys.argv[1].encode().decode("unicode_escape").encode())
seen = b""
while True:
    try:
        more = os.read(fd, 65536)
    except OSError:
        break
    if not more:
        break
    seen += more
sys.stdout.write(seen.decode().replace("\r", ""))
sys.exit(os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1]))
PY
talk() { a=$1; shift; timeout 60 /usr/bin/python3 talk.py "$a" "$t" "$@" >out 2>err; code=$?; }
talk 'Mill\nN 1\n\x04shed.db\n\n' receive --by-hand
ok "at a terminal it is said how to go back" has "Each answer on a line; back goes to the question before."
ok "and asked where to keep what was typed by half; no book is written over" has "shed.db: the name of what is written there ends in .txt"
talk 'Mill\nN 1\n\x04later.txt\n' receive --by-hand
ok "it is kept there" [ "$(tail -2 later.txt | tr '\n' ' ')" = "Mill N 1 " ]
talk 'Mill\nN 1\n\x04\n' receive --by-hand
ok "or dropped" has "What was typed is not kept"
