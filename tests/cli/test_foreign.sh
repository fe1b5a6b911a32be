#!/bin/sh
# Files from outside: pipes, devices, folders and files beyond all size are refused at once: tests/cli/test_foreign.sh BUILD
set -u
. "$(dirname "$0")/../need.sh"; need timeout mkfifo truncate
tb=$(realpath "${1:-build}")/tenterbook
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_BOOK="$dir/b.db" TENTERBOOK_WHO=Ada
ok() { if [ "$1" = 0 ]; then echo "ok - $2"; else echo "not ok - $2"; sed 's/^/# /' err out | head -5; fi; }
# One sentence with these words, exit code 1, nothing on standard output, within the time.
refuses() { words=$1; shift; timeout 20 "$tb" "$@" >out 2>err </dev/null; rc=$?; [ $rc = 1 ] && [ ! -s out ] && [ "$(wc -l <err)" = 1 ] && grep -qF "$words" err; }

"$tb" new --code W --name "Westgate shed" --country GB >out 2>err; ok $? "a book is made"
cat >list.csv <<'END'
Supplier,Note,Article,Colour,Roll,Metres,Composition
Mill,1,4711,ecru,R1,50,100% cotton
END
lot=W$(date -u +%y)-001.01
"$tb" receive list.csv --note 1 >out 2>err && "$tb" set flame yes >out 2>err && "$tb" cut R1 --lot "$lot" >out 2>err; ok $? "a swatch is cut"
mkfifo pipe; mkdir folder; ln -s pipe link; truncate -s 2G huge.csv; printf 'PK\003\004' >cut.xlsx; head -c 3000 /dev/urandom >>cut.xlsx

# Each command that reads a file of somebody else's, and each thing that is not one.
all() { for_what=$1; shift
	refuses "pipe: this is a pipe, not a file" "$@" pipe; ok $? "$for_what: a pipe that nobody writes is refused at once"
	refuses "link: this is a pipe, not a file" "$@" link; ok $? "$for_what: a link to one is refused too"
	refuses "/dev/zero: this is a device, not a file" "$@" /dev/zero; ok $? "$for_what: a device without end is refused"
	refuses "folder: this is a folder, not a file" "$@" folder; ok $? "$for_what: a folder is refused"
	refuses "huge.csv: the file has more than" "$@" huge.csv; ok $? "$for_what: a file beyond all size is refused before it is read"
	refuses "nowhere: the file cannot be opened: No such file or directory" "$@" nowhere; ok $? "$for_what: a file that is not there is named"
}
all receive receive
all "burn --from" burn --from
all "judge --from" judge --from
all "burn --photo" burn "$lot.01" --saw smoke:black --photo
all "assay --masses" assay --mixture "cotton / polyester" --method 7 --masses
all "day --from" day --hours 1 --from
all "record --from" record --from
all "dispute --document" dispute "$lot" --opened --words short --document
all "prove --case" prove --case

refuses "cut.xlsx: the workbook cannot be unpacked" receive cut.xlsx; ok $? "a workbook that is no archive gets one sentence"
printf 'declared,saw\n100%% cotton,smoke:black\n' | timeout 20 "$tb" judge --from - >out 2>err; ok $? "a pipe is read where the name is -"
"$tb" --version --verbose >out 2>err; grep -q 'read by a process of their own' out; ok $? "the program says how it reads such files"
