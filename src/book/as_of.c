/* as_of.c - the book as it was known at the end of a day: its journal up to there, and nothing else. */
#include "book/private.h"
#include "tenterbook/date.h"

static tb_rc forget(struct tb_book *b, const char *day, struct tb_err *err)
{
    const char *table[TB_FACT_TABLES_MOST];
    char next[TB_DAY_LEN + 1];
    int64_t number = 0;
    tb_rc rc;

    tb_day_from_number(next, tb_day_number(day) + 1);
    if ((rc = tb_ask_whole(&number, tb_sql_journal_before(b, next), err)) != TB_OK)
        return rc;
    if (number < 1)
        return tb_fail(err, TB_ENOTFOUND, "the journal of this book has no row up to %s", day);
    for (size_t i = 0; i < b->tables; i++)
        table[i] = b->table[i].name;
    return tb_db_forget(b->db, number, table, b->tables, err);
}

tb_rc tb_book_as_of(struct tb_book **out, struct tb_book *b, const char *day, struct tb_err *err)
{
    struct tb_db *image = NULL;
    struct tb_book *then;
    tb_rc rc = tb_db_image(&image, b->db, err);

    if (rc != TB_OK)
        return rc;
    then = tb_book_of(image, b->path);
    if ((rc = forget(then, day, err)) == TB_OK)
        rc = tb_book_load_site(then, err);
    if (rc != TB_OK) {
        tb_book_close(then);
        return rc;
    }
    *out = then;
    return TB_OK;
}
