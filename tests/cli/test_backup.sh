#!/bin/sh
# Copies, the way back, and places where a book may only be read: tests/cli/test_backup.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"
need sqlite3 /usr/bin/python3 setpriv flock
t=$(cd "$1" && pwd)/tenterbook
here=$(cd "$(dirname "$0")/../.." && pwd)
dir=$(mktemp -d) && trap 'chmod -R u+w "$dir"; rm -rf "$dir"' EXIT
cd "$dir" || exit 1
chmod 755 "$dir"
export TENTERBOOK_CLOCK=1792483200 # 2026-10-20 08:00 UTC
export TENTERBOOK_WHO="Hettie Marlow" TENTERBOOK_BOOK=b.db

ok() {
	what=$1; shift
	if "$@"; then echo "ok - $what"; else echo "not ok - $what"; sed 's/^/# /' out err; fi
}
run() { "$t" "$@" >out 2>err; code=$?; }
refused() { [ "$code" = 1 ] && [ ! -s out ] && [ "$(cat err)" = "tenterbook: $1" ]; }
good() { [ "$code" = 0 ] && [ ! -s err ]; }
line() { good && grep -qE -- "$1" out; }
mode() { stat -c '%a %u %g' "$1"; }

# --- the drill of docs/backup.md, word for word ---------------------------------------------------------------
(
	mkdir drill && cd drill || exit 1
	unset TENTERBOOK_BOOK
	PATH=$(dirname "$t"):$PATH
	sed -n '/^## The drill/,$s/^\$ //p' "$here/docs/backup.md" >commands
	[ "$(wc -l <commands)" -ge 9 ] && sh -eux commands
) >out 2>err
ok "the drill of the manual can be followed to its end" [ "$?" = 0 ]
was=$(sed -n 's/^Copied the book .* Its journal ends with \([0-9]*:[0-9a-f]*\)$/\1/p' out)
ok "the book does not open before" grep -qx 'as expected, it does not open' out
ok "and is the Monday's afterwards" grep -qx "Everything fits. The journal ends with ${was:-nothing}" out
ok "what was there is kept" cmp -s -n 19 drill/tenterbook.db.aside - <<X
damaged by the disk
X

# --- one copy ---------------------------------------------------------------------------------------------------
run new --code M --name "Mill Lane shed" --country GB
chmod 640 b.db && chown 65534:65534 b.db 2>/dev/null
run keep one.db
ok "a copy is proved, and its digest is told" line '^Copied the book to one.db; the copy proves. Its journal ends with 1:[0-9a-f]{64}$'
ok "it has the mode and the owner of the book" [ "$(mode one.db)" = "$(mode b.db)" ]
gone=$(($(cat /proc/sys/kernel/pid_max) + 7)) # the number of no process, now or later
: >"two.db.new-$gone"; : >"two.db.new-$gone-wal"; : >"two.db.new-$$"; : >two.db.new-notes
run keep two.db
ok "what a killed program left of a copy is cleared away" [ ! -e "two.db.new-$gone" -a ! -e "two.db.new-$gone-wal" ]
ok "what a living one works on, and what is not ours, stays" [ -e "two.db.new-$$" -a -e two.db.new-notes ]
run keep --hold 3 three.db
ok "--hold alone is misuse" [ "$code" = 2 ]
ok "and copies nothing" [ ! -e three.db ]

# --- a series ---------------------------------------------------------------------------------------------------
mkdir series
run keep --every day series
ok "the copy of the day is made" line '^Copied the book to series/b-2026-10-20.db;'
run keep --every day series
ok "once" [ "$(cat out)" = "series/b-2026-10-20.db is there already; nothing was copied." ]
for what in hour:b-2026-10-20T08 week:b-2026-W43 month:b-2026-10; do
	run keep --every "${what%%:*}" series
	ok "the copy of the ${what%%:*} has its name" [ -s "series/${what#*:}.db" ]
done
echo "a list of mine" >series/b-2026-10-01.db
for day in 1 2 3; do TENTERBOOK_CLOCK=$((1792483200 + 86400 * day)) "$t" keep --every day --hold 2 series >out 2>err; code=$?; done
ok "the oldest goes once the new one is there" line '^Took the old copy series/b-2026-10-21.db away.$'
ok "and so many stay, other series and files that are no books untouched" [ "$(ls series | tr '\n' ' ')" = \
	"b-2026-10-01.db b-2026-10-20T08.db b-2026-10-22.db b-2026-10-23.db b-2026-10.db b-2026-W43.db " ]
TENTERBOOK_CLOCK=1577880000 "$t" keep --every day --hold 2 series >out 2>err
ok "a clock that stands wrong does not take the newest copy away" [ -s series/b-2020-01-01.db ]
mkdir last && cp series/b-2026-10-22.db last/b-2026-10-20.db && sqlite3 last/b-2026-10-20.db "UPDATE site SET name = 'elsewhere'"
cp series/b-2026-10-22.db last/b-2026-10-19.db
run keep --every day --hold 1 last
ok "a copy of the day that does not prove any more takes no older one away" refused "no older copy is taken away for last/b-2026-10-20.db; move it away, and a new one is made: it does not prove: $(sed -n 's/.*does not prove: //p' err)"
ok "which stays" [ -s last/b-2026-10-19.db ]
cp series/b-2026-10-23.db last/b-2026-10-20.db
run keep --every day --hold 1 last
ok "once it proves, the older one goes" line '^Took the old copy last/b-2026-10-19.db away.$'
run keep --every year series
ok "an unknown period is refused with those there are" refused "'year' is not a period; it is hour, day, week or month"
run keep --every day nowhere
ok "a folder that is not there is refused" [ "$code" = 1 ]
run keep --every day --hold 0 series
ok "a series of no copies is refused" refused "--hold is '0'; it takes a whole number from 1 to 10000"

# --- restore ----------------------------------------------------------------------------------------------------
run set flame yes
run restore one.db
ok "a book is never overwritten" refused "there is a book at b.db; --aside moves it out of the way and keeps it"
run restore one.db --aside
ok "a copy that is behind takes no book's place unasked, and what it lacks is counted" refused "nothing was put back: the copy ends with journal row 1, and the book at b.db has 1 more; to go back to it all the same: --lacks 1"
run restore one.db --aside --lacks 2
ok "nor with another number" [ "$code" = 1 ]
run restore one.db --lacks 1
ok "--lacks alone is misuse" [ "$code" = 2 ]
chmod 600 one.db && chown 0:0 one.db 2>/dev/null
was=$(mode b.db)
run restore one.db --aside --lacks 1
ok "it is moved aside, and the copy is the book" line '^It has 1 journal row that the copy lacks: record that again, or go back to it\.$'
ok "with the mode and the owner of the book, not of the copy" [ "$(mode b.db)" = "$was" ]
run prove --json
ok "it has what the copy has" line '"rows": 1,'
run --book b.db.aside prove --json
ok "the one that was there is whole" line '"rows": 2,'
run set flame no
run restore b.db.aside --aside
ok "two that went apart are told as such" refused "nothing was put back: the copy and the book at b.db went apart after journal row 1: the copy has 1 of its own and lacks 1 of the book; to go back to it all the same: --lacks 1"
run --book else.db new --code E --name "Elsewhere"
run restore else.db --aside --lacks 2
ok "a copy of another book takes no book's place" refused "nothing was put back: this is a copy of another book, of the site E Elsewhere, and not of the one at b.db; move that one away first"
rm else.db else.db.key
for left in "" -wal .new-$gone .new-$gone-journal .before-7 .before-7-1; do : >"b.db.new-$gone$left"; done
: >"b.db.new-$gone.mine"; : >"next.key.new-$gone"
run key --make next.key
ok "what a killed program left of a key is cleared away" [ "$(ls next.key*)" = next.key ]
rm b.db
: >b.db-wal; echo x >b.db-wal
run restore b.db.aside
ok "nor does one where the log of another lies" [ "$code" = 1 ]
rm b.db-wal
run restore b.db.aside
ok "so is what it left of putting a copy back, and nothing else" [ "$(ls b.db.new-*)" = "b.db.new-$gone.mine" ]
rm "b.db.new-$gone.mine"
ok "going back to it is the same command" line '^The copy proves and is the book b.db now. Its journal ends with 2:'
run restore /etc/passwd --aside
ok "what is no book restores nothing" [ "$code" = 1 ]
ok "and says so" grep -q 'this is not a book' err
cp one.db bent.db; sqlite3 bent.db "UPDATE site SET name = 'elsewhere'"
run restore bent.db --aside
ok "a copy that was changed is refused" [ "$code" = 1 ]
ok "and is named" grep -q 'does not prove' err
run prove --json
ok "after refusals the book is what it was" line '"rows": 2,'
ok "and nothing is left beside it" [ "$(ls b.db*)" = "b.db
b.db.aside
b.db.key" ]
: >"b.db.new-$gone"; : >"b.db.new-$gone-journal"; : >"b.db.key.new-$gone"; : >"b.db.new-$$"
run lots
ok "what a killed restore left is cleared away by the next command" [ ! -e "b.db.new-$gone" -a ! -e "b.db.new-$gone-journal" -a -e "b.db.new-$$" ]
rm -f "b.db.new-$$" b.db.key.new-*
touch -d '2 hours ago' "b.db.new-1" && flock b.db.new-1 sh -c "'$t' lots >out 2>err" && [ -e b.db.new-1 ]
ok "one that is locked has somebody who works on it, wherever that is" [ "$?" = 0 ]
run lots
ok "and one that is not is left over, though a process has its number" [ ! -e b.db.new-1 ]
/usr/bin/python3 - "$t" >out 2>err <<'P'
import sqlite3, subprocess, sys
c = sqlite3.connect("b.db"); c.execute("SELECT * FROM site").fetchall()
p = subprocess.run([sys.argv[1], "restore", "one.db", "--aside", "--lacks", "1"], capture_output=True, text=True)
sys.stdout.write(p.stdout + p.stderr); sys.exit(p.returncode != 1 or "somebody has the book at b.db open" not in p.stderr)
P
ok "a book that somebody has open is not taken away under them" [ "$?" = 0 ]
c=$(ls b.db.aside*)
ok "nothing was moved either" [ "$c" = b.db.aside ]

# --- what stands in the way of setting a book aside -----------------------------------------------------------------
mkdir way && run --book way/b.db new --code W && run --book way/b.db keep way/copy.db && run --book way/b.db set answer_days 21
way() { rm -rf try && cp -r way try && cd try && "$@"; mv out err ..; cd "$dir" || exit 1; }
whole() { "$t" --book "$1" prove --json 2>err | grep -q '"rows": 2,'; }
ln -s /nowhere/old.db way/b.db.aside
way run --book b.db restore copy.db --aside --lacks 1
ok "a link that leads nowhere is no second name of the book, which is set aside beside it" line '^The book that was there is kept as b\.db\.aside-2\.$'
ok "and is whole there" whole try/b.db.aside-2
ok "and the link stays" [ "$(readlink try/b.db.aside)" = /nowhere/old.db ]
rm way/b.db.aside
held_open() { # SQL: somebody does this with the book and stays, and the disk damages it
	/usr/bin/python3 - "$t" "$1" >out 2>err <<'P'
import sqlite3, subprocess, sys
c = sqlite3.connect("b.db", isolation_level=None)
for sql in sys.argv[2].split(";"):
    c.execute(sql).fetchall()
# by another program: closing the file here would give up what SQLite has locked of it
subprocess.run(["dd", "of=b.db", "conv=notrunc", "status=none"], input=b"damaged by the disk", check=True)
p = subprocess.run([sys.argv[1], "restore", "copy.db", "--aside", "--lacks", "1"], capture_output=True, text=True)
sys.stdout.write(p.stdout + p.stderr)
sys.exit(p.returncode != 1)
P
	code=$?
}
kept_from() { [ "$code" = 0 ] && grep -q 'somebody has the book at b.db open; close it there first' out; }
way held_open "SELECT * FROM site; BEGIN IMMEDIATE"
ok "a damaged book that somebody writes is not taken away under them" kept_from
ok "and nothing of it is moved" [ "$(ls try | grep -c aside)" = 0 ]
way held_open "PRAGMA journal_mode = DELETE; SELECT * FROM site; BEGIN IMMEDIATE"
ok "nor one that has no log" kept_from
sqlite3 way/b.db "PRAGMA user_version = 99" && cp way/b.db newer.db
way run --book b.db restore copy.db --aside --lacks 1
ok "a book of a newer program is not taken for a damaged one" grep -q '^tenterbook: nothing was put back: b.db was written by a newer Tenterbook' err
ok "and stays" cmp -s try/b.db newer.db
sqlite3 way/b.db "PRAGMA user_version = $(sqlite3 way/copy.db 'PRAGMA user_version')"
cat >fails.py <<'P'
import os, shutil, subprocess, sys
program, disk = sys.argv[1:]
def restore(**more):
    shutil.rmtree("try", ignore_errors=True)
    shutil.copytree("way", "try")
    return subprocess.run([program, "--book", "b.db", "restore", "copy.db", "--aside"], cwd="try", capture_output=True, text=True,
                          env=dict(os.environ, LD_PRELOAD=disk, **more))
def files(folder):
    return sorted(n for n in os.listdir(folder) if not n.endswith(("-wal", "-shm")))  # an empty log that could not be taken away is harmless
restore(TB_DISK_LOG="../log")
asked = [n for n, l in enumerate(open("log"), 1)]
bad = [n for n in asked[::5] if restore(TB_DISK_HOW="fail", TB_DISK_AT=str(n)).returncode != 1 or files("try") != files("way")]
print("of %d, %d told as damaged: %s" % (len(asked), len(bad), bad))
sys.exit(len(asked) < 100 or bool(bad))
P
/usr/bin/python3 fails.py "$t" "${t%/*}/tests/fault/vfs.so" >out 2>err; code=$?
ok "a disk that fails once makes no damaged book of one that lacks nothing" [ "$code" = 0 ]

# --- places where a book is only read -----------------------------------------------------------------------------
mkdir shelf && cp b.db shelf/b.db && chmod 444 shelf/b.db && chmod 555 shelf
mkdir out.d && chmod 777 out.d
as_reader() { if [ "$(id -u)" = 0 ]; then setpriv --reuid=65534 --regid=65534 --clear-groups "$@"; else "$@"; fi; }
reads() { as_reader "$t" --book shelf/b.db "$@" >out 2>err; code=$?; }
for command in lots prove "record" "sheet --month 2026-10 --out out.d/m.xlsx" "set"; do
	reads $command
	ok "write-protected: '$command' works" good
done
reads keep out.d/copy.db
ok "write-protected: so does a copy to elsewhere" line '^Copied the book'
reads set flame no
ok "what would be recorded is refused" refused "shelf/b.db can only be read here: the file, its folder or the medium is write-protected; nothing was recorded"
ok "and nothing was made beside it" [ "$(ls shelf)" = b.db ]

cat >share.c <<'C'
#define _GNU_SOURCE
#include <dlfcn.h>
#include <stdlib.h>
#include <sys/vfs.h>
/* Everything lies on NFS, or on what KIND says. */
int statfs(const char *path, struct statfs *out) {
	int rc = ((int (*)(const char *, struct statfs *))dlsym(RTLD_NEXT, "statfs"))(path, out);
	out->f_type = getenv("KIND") ? (long)strtoull(getenv("KIND"), 0, 16) : 0x6969;
	return rc;
}
C
cc -shared -fPIC -o share.so share.c -ldl 2>err || { echo "not ok - the test's own library builds"; sed 's/^/# /' err; }
shared() { LD_PRELOAD=$dir/share.so "$t" "$@" >out 2>err; code=$?; }
shared set flame no
ok "a book on a network share is not written" refused "b.db lies on a network share (NFS), where two programs that write at once can damage it; it is only read there: move it to a disk of this machine, and share copies made with keep"
for kind in 786f4256:VirtualBox bacbacbc:VMware 0bd00bd0:Lustre 7461636f:OCFS2 ffffffffbacbacbc:VMware; do
	KIND=${kind%:*} shared set flame no
	ok "nor on one of the kind ${kind#*:}" grep -qF "lies on a network share (${kind#*:})" err
done
KIND=65735546 shared set flame no
ok "what FUSE shows may be a stick of this machine" good
shared lots
ok "but read" good
shared --book n.db new --code N
ok "nor is one made there" [ "$code" = 1 ]
ok "with the way out" grep -q 'n.db would lie on a network share (NFS).*keep the book on a disk of this machine' err
: >b.db-wal
shared lots
ok "nor read while it is open on the other machine" [ "$code" = 1 ]
ok "which is said" grep -q 'is open elsewhere, or was not closed there' err
rm -f b.db-wal

# --- what is no file ------------------------------------------------------------------------------------------------
run --book :memory: lots
ok "a name that SQLite keeps for itself is refused" refused "':memory:' is not the name of a file; a book is kept in one"
run --book :memory: new --code X
ok "for a new book too" refused "':memory:' is not the name of a file; a book is kept in one"
mkfifo pipe
run --book pipe lots
ok "a pipe is refused at once" refused "pipe is a device or a pipe; a book is a file"
run --book . lots
ok "a folder is refused" refused ". is a folder; a book is one file in it"
run --book commands.c lots
ok "a file that is not there is said to be missing" refused "there is no book at commands.c; make one with: tenterbook --book commands.c new"
run --book share.c lots
ok "a file of another kind is said to be one" grep -q 'share.c: this is not a book' err

# --- copies under names that are in the way ---------------------------------------------------------------------------
"$t" --book b.db keep b.db.back >out 2>err
run restore b.db.back --aside
ok "a copy may have any name" [ "$code" = 0 ]
ok "and stays as it is" [ -s b.db.back ]
run restore b.db --aside
ok "the book is no copy of itself" refused "b.db is the book itself and no copy of it"
mkdir mixed other && : >mixed/b-2026-10-20.db && cp one.db mixed/b-2026-10-01.db
run keep --every day --hold 1 mixed
ok "a file that is no copy does not count as the copy of the day" [ "$code" = 1 ]
ok "and no good copy is taken away for it" [ -s mixed/b-2026-10-01.db ]
run --book other/b.db new --code O --name "Other shed"
run --book other/b.db keep --every month series
ok "a copy of another book is not taken for one of this" [ "$code" = 1 ]
ok "which is said" grep -q 'is not a copy of this book; nothing was copied' err

# --- copies of an older program ---------------------------------------------------------------------------------------
cp "$here/tests/books/shape-4.db" old.db
run --book back.db restore old.db
ok "a copy of an older shape is proved and put back as it is" good
ok "itself untouched" cmp -s old.db "$here/tests/books/shape-4.db"
run --book back.db lots
ok "the next command brings it up to date, with a copy that proves" [ "$code" = 0 -a -s "$(ls back.db.before-* | head -1)" ]
run --book back.db prove
ok "it proves then" [ "$code" = 0 ]
ok "and nothing else is left" [ "$(ls back.db* | wc -l)" = 2 ]
cp old.db bad.db; sqlite3 bad.db "UPDATE lot SET article = article || 'x'"
run --book bad2.db restore bad.db
ok "one that was changed is refused" grep -q 'nothing was put back: the copy does not prove' err
run --book bad.db lots
ok "a book that was changed is brought up to date all the same" [ "$code" = 0 ]
run --book bad.db prove
ok "and says what does not fit" [ "$code" = 1 ]

# --- the clock ---------------------------------------------------------------------------------------------------------
for clock in 0 631151999 7258118400 99999999999999999; do
	TENTERBOOK_CLOCK=$clock "$t" set flame yes >out 2>err; code=$?
	ok "a clock that says $clock records nothing" grep -qE '^tenterbook: the clock says [0-9]{4}-[0-9-]*, and a record is dated 1990-01-01 to 2199-12-31' err
done
TENTERBOOK_CLOCK=2026-10-20 "$t" set flame yes >out 2>err; code=$?
ok "nor does one that is no number" refused "TENTERBOOK_CLOCK is '2026-10-20'; it takes seconds since 1970, in digits"

# --- a journal row of a number that no book reaches ------------------------------------------------------------------
run keep far.db
sqlite3 far.db "PRAGMA foreign_keys = OFF; UPDATE journal SET number = 9223372036854775807 WHERE number = (SELECT max(number) FROM journal)"
timeout 20 "$t" --book far.db prove >out 2>err; code=$?
ok "a last row with the largest number there is does not prove, and ends" [ "$code" = 1 ]
sqlite3 one.db "PRAGMA foreign_keys = OFF; UPDATE site SET entry = 9223372036854775807" 2>/dev/null
timeout 20 "$t" --book one.db prove >out 2>err; code=$?
ok "nor does a record that names it" [ "$code" = 1 ]

# --- a restore that was killed between its two names --------------------------------------------------------------------
mkdir named && "$t" --book named/b.db new --code N >/dev/null && "$t" --book named/b.db keep named/copy.db >/dev/null
ln named/b.db named/b.db.aside
run --book named/b.db restore named/copy.db --aside
ok "a second name that a killed program gave the book is the one it is set aside under" [ "$code" = 0 -a "$(ls named/b.db.aside*)" = named/b.db.aside ]
