# A book at moments that the test says: read this file with `.`, the build folder in $1, after what is needed was asked for.
# The test works in a folder of its own; at MOMENT COMMAND... runs the program on book.db there, by the clock of that moment.
build=$(cd "${1:?BUILD}" && pwd)
tb=$build/tenterbook
here=$(cd "$(dirname "$0")" && pwd)
dir=$(mktemp -d) || exit 1
trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
export TENTERBOOK_WHO="Ines Okonjo" HOME="$dir" LC_ALL=C.UTF-8
# say CODE SENTENCE [WHAT WAS SEEN]
say() { if [ "$1" = 0 ]; then echo "ok - $2"; else echo "not ok - $2"; [ -z "${3:-}" ] || printf '%s\n' "$3" | sed 's/^/# /'; fi; }
at() { TENTERBOOK_CLOCK=$1; export TENTERBOOK_CLOCK; shift; TENTERBOOK_BOOK=book.db "$tb" "$@"; }
