/*
 * sqlgen - turn named statements and migrations into C: texts, row structs, binders and readers.
 *
 *   sqlgen OUT.h OUT.c FILE.sql...
 *
 * A file under .../schema/ named NNN-what.sql is one migration. Any other holds rows and named statements:
 *
 *   -- words: standing, verdict
 *
 *   -- row:  swatch (tenterbook/book.h): id text, tag text, lot text or NULL
 *
 *   -- name: swatch_by_tag
 *   -- in:   $1 tag text
 *   -- out:  swatch
 *   SELECT ...;
 *
 *   -- name: swatch_add
 *   -- in:   $1 id text, $2 tag text, $3 lot text or NULL, $4 kept text or '', $5 cut_by person, $6 entry entry
 *   -- from: swatch
 *   -- fact: swatch
 *   INSERT ...;
 *
 * words  closed sets of words that may be kinds of columns, for all files
 * row    a list of columns with a name, filled into struct tb_swatch. The struct stands in the header named; where none is
 *        named, it is made
 * in     the parameters in order
 * from   they are members of this struct, which stands in the header of the row or in one named behind it, in brackets
 * out    a row, or columns, or `fact swatch`: the columns of that fact; absent where the statement gives no rows
 * fact   on an INSERT of one row into a journalled table: the columns are those of the table in order
 * list   the name of a function that gives all rows: tb_NAME, whose prototype a public header documents
 * find   the name of one that gives the first row, likewise
 *
 * Any other small word behind the dashes with a colon is refused, since it is a slip.
 *
 * A line that begins with three blanks or more behind its dashes goes on with the one before. What stands in brackets
 * behind a column is a remark.
 *
 * A column is a name and a kind:
 *   text, whole (int64_t), int, size (size_t), number (NULL: NAN), flag, bytes (with a member `size`), or the name of a closed set of words: `standing`
 *   is enum tb_standing_kind with struct tb_words tb_standing_words
 *   or NULL   the member is NULL where there is nothing
 *   or ''     written as '' where the member is NULL
 *   or -1     NULL in the book is -1 in the member
 * Parameters of a fact may also be what the book knows itself: key (a new one), person (the key of who writes), entry (the
 * journal row), now (the moment of the transaction), site (the key of the book's site).
 *
 * Result, by example: enum tb_sql { TB_SQL_SWATCH_BY_TAG, ... }, tb_sql_table[], tb_migration_table[];
 *   tb_sql_swatch_by_tag(book, tag)       the statement, bound
 *   tb_next_swatch, tb_one_swatch, tb_all_swatch   the next, the only, all rows of such a statement
 *   tb_each_swatch                        a function is called for every row
 *   tb_put_swatch(&record, book, err)     the fact is written
 * Statements named facts_ and extract_ are read column by column and get no functions.
 */
#include "gen/sqlgen.h"

int main(int argc, char **argv)
{
    struct book_sql all = { 0 };
    FILE *h, *c;

    if (argc < 4) {
        (void)fputs("usage: sqlgen OUT.h OUT.c FILE.sql...\n", stderr);
        return 2;
    }
    for (int i = 3; i < argc; i++)
        read_sql(&all, argv[i]);
    check_sql(&all);
    h = made(argv[1]);
    c = made(argv[2]);
    write_header(h, &all);
    write_tables(c, &all);
    write_shape(c, &all);
    write_functions(c, &all);
    return fclose(h) || fclose(c) ? 1 : 0;
}
