#!/bin/sh
# Read C files with cppcheck and fail on the first thing it finds: tests/lint/cppcheck.sh BUILD FILE...
set -u
build=${1:?BUILD}
shift
here=$(cd "$(dirname "$0")" && pwd)
# A pointer that only goes into a struct counts as read across files (ctuuninitvar): every act hands its answer on so.
exec cppcheck --quiet --std=c11 --enable=warning,performance,portability --inline-suppr --error-exitcode=1 \
	--suppress=missingIncludeSystem --suppress=ctuuninitvar --library=posix,sqlite3,zlib --library="$here/tenterbook.cfg" \
	--include="$here/macros.h" -DTB_VERSION='"0"' -DTB_LOCALE_DIR='"/"' -Iinclude -I"$build" -Isrc "$@"
