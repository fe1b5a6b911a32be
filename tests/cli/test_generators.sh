#!/bin/sh
# The programs that turn sql/ into C: what they make of a good file, and where they point in a bad one.
set -u
gen=$(cd "$1" && pwd)/gen
dir=$(mktemp -d) && trap 'rm -rf "$dir"' EXIT
cd "$dir" || exit 1
mkdir -p query sql/schema
echo "CREATE TABLE t (id TEXT);" >sql/schema/001-a.sql

ok() {
	what=$1; shift
	if "$@"; then echo "ok - $what"; else echo "not ok - $what"; sed 's/^/# /' err; fi
}
make_sql() { "$gen/sqlgen" out.h out.c sql/schema/*.sql query/a.sql 2>err; code=$?; }
made() { [ "$code" = 0 ] && [ ! -s err ] && grep -qF -- "$2" "$1"; }
refused() { [ "$code" = 1 ] && [ "$(cat err)" = "sqlgen: $1" ]; }

cat >query/a.sql <<'END'
-- words: standing

-- row:  cloth (tenterbook/book.h): id text, metres number,
--       held standing, days int or -1

-- name: cloth_by_id
-- in:   $1 id text (as on the tag)
-- out:  cloth
SELECT id, metres, held, days FROM t WHERE id = $1;

-- name: cloth_add
-- in:   $1 id text, $2 note text or '', $3 who person, $4 entry entry
-- fact: cloth
INSERT INTO cloth (id, note, who, entry)
VALUES ($1, $2, $3, $4);
END
make_sql
ok "a statement becomes a function with its parameters by name" made out.h \
	"struct tb_stmt *tb_sql_cloth_by_id(struct tb_book *b, const char *id);"
ok "a row is read in the order of its columns" made out.c "r->metres = tb_col_number(q, 1);"
ok "a word of a closed set is read through its table" made out.c "tb_col_word(&word, q, 2, &tb_standing_words, err)"
ok "a number of days that is not said is -1" made out.c "r->days = (int)tb_col_count(q, 3);"
ok "a fact takes from the book what the book knows" made out.c "tb_bind_text(q, 3, tb_book_person(b));"
ok "a struct is made where no header is named" made out.h "struct tb_cloth_fact {"
ok "what the struct need not say is written as empty" made out.c "r->note ? r->note : \"\""

# bad SENTENCE MESSAGE, the file on standard input
bad() {
	cat >query/a.sql
	make_sql
	ok "$1" refused "$2"
}
bad "a parameter that is out of order is named with its place" \
	"query/a.sql:2:21: '\$3' stands where the parameter \$2 is expected" <<'END'
-- name: a
-- in:   $1 b text, $3 c text
SELECT $1;
END
bad "a kind that starts with a capital letter is refused" \
	"query/a.sql:2:15: 'Text' is not a kind: text, whole, int, size, number, flag, bytes or a set of words named by '-- words:'" <<'END'
-- name: a
-- in:   $1 b Text
SELECT $1;
END
bad "a slip in a kind is refused with its place" \
	"query/a.sql:3:15: 'txt' is not a kind: text, whole, int, size, number, flag, bytes or a set of words named by '-- words:'" <<'END'
-- words: standing
-- name: a
-- in:   $1 b txt
SELECT $1;
END
bad "a slip in a kind of a row is refused, on a line that goes on" \
	"query/a.sql:2:14: 'texts' is not a kind: text, whole, int, size, number, flag, bytes or a set of words named by '-- words:'" <<'END'
-- row:  b (tenterbook/book.h): id text,
--       lot texts
-- name: a
SELECT 1;
END
bad "a slip in the word that begins a comment is refused with its place" \
	"query/a.sql:2:4: 'frm:' is not a comment of a statement: words, row, name, in, out, from, fact, list or find" <<'END'
-- name: a
-- frm:  cloth
SELECT 1;
END
bad "a missing comma is pointed at, on a line that goes on" \
	"query/a.sql:3:18: a comma stands between columns, not 'd'" <<'END'
-- name: a
-- out:  b text,
--       c whole d text
SELECT 1;
END
bad "a row that there is not is refused" "query/a.sql:2:10: there is no row 'cloth'" <<'END'
-- name: a
-- out:  cloth
SELECT 1;
END
bad "a parameter that the text does not use is refused" "query/a.sql:2:24: 'a' does not use \$2" <<'END'
-- name: a
-- in:   $1 b text, $2 c text
SELECT $1;
END
bad "a parameter that is not described is refused" "query/a.sql:1:4: 'a' uses \$2, which '-- in:' does not describe" <<'END'
-- name: a
-- in:   $1 b text
SELECT $1, $2;
END
bad "an INSERT whose columns are in another order than its parameters is refused" \
	"query/a.sql:2:25: the INSERT has the column 'lot' in place of 'bolt'" <<'END'
-- name: a
-- in:   $1 id text, $2 bolt text, $3 lot text, $4 entry entry
-- fact: t
INSERT INTO t (id, lot, bolt, entry) VALUES ($1, $2, $3, $4);
END
bad "an INSERT with fewer columns than parameters is refused" \
	"query/a.sql:1:4: 'a' has not as many columns as parameters" <<'END'
-- name: a
-- in:   $1 id text, $2 bolt text, $3 entry entry
-- fact: t
INSERT INTO t (id, bolt) VALUES ($1, $2, $3);
END
bad "only a fact takes what the book knows itself" "query/a.sql:2:13: only a fact takes what the book knows itself" <<'END'
-- name: a
-- in:   $1 who person
SELECT $1;
END
bad "two statements of one name are refused" "query/a.sql:3:4: the statement 'a' is there twice" <<'END'
-- name: a
SELECT 1;
-- name: a
SELECT 2;
END
bad "a statement without a name is refused" "query/a.sql:1:1: a statement needs a '-- name:'" <<'END'
SELECT 1;
END
bad "a statement without a text is refused" "query/a.sql:1:4: the statement 'a' has no text" <<'END'
-- name: a
END
bad "a bracket that is not closed is refused" "query/a.sql:2:20: a bracket is not closed on its line" <<'END'
-- name: a
-- in:   $1 b text (open
SELECT $1;
END
mv sql/schema/001-a.sql sql/schema/002-a.sql
bad "a gap in the numbers of migrations is refused" \
	"sql/schema/002-a.sql:1:1: migrations are numbered 001, 002, ... without gaps" <<'END'
-- name: a
SELECT 1;
END

# --- reference tables ---
table() { cat >t.csv; "$gen/refgen" t t.h t.c t.csv 2>err; code=$?; }
not_a_table() { [ "$code" = 1 ] && [ "$(cat err)" = "refgen: $1" ]; }
table <<'END'
name,share:number,steps:integer
wool,17.5,3
END
ok "a table becomes rows of a struct" made t.c '.name = "wool", .share = 17.5, .steps = 3'
table <<'END'
name,share:number
wool,17.5
silk,much
END
ok "text in a column of numbers is named with file, line and cell" not_a_table "t.csv:3:2: not a number: 'much'"
table <<'END'
name,share:number
wool,17.5,more
END
ok "a cell too many is named with file, line and cell" not_a_table "t.csv:2:3: more cells than columns, at 'more'"
