/* Columns of a row as SQLite gives them. */
#include "book/sqlite/sqlite_impl.h"

#include <math.h>
#include <string.h>

/*
 * SQLite may have to make room for the end of a text, or for a whole one out of pages. Where it finds none it answers as if
 * nothing was stored: taken for that, a record would go on without it.
 */
static const char *stored_text(struct tb_stmt *q, int n)
{
    bool there = sqlite3_column_type(q->st, n) != SQLITE_NULL;
    const char *p = (const char *)sqlite3_column_text(q->st, n);

    if (there && !p)
        tb_no_memory();
    return p;
}

static const void *stored_bytes(size_t *size, struct tb_stmt *q, int n)
{
    int kind = sqlite3_column_type(q->st, n);
    const void *p = sqlite3_column_blob(q->st, n);

    *size = (size_t)sqlite3_column_bytes(q->st, n);
    if (!p && (*size || (kind != SQLITE_NULL && sqlite3_errcode(sqlite3_db_handle(q->st)) == SQLITE_NOMEM)))
        tb_no_memory();
    return p;
}

bool tb_col_null(struct tb_stmt *q, int n)
{
    return sqlite3_column_type(q->st, n) == SQLITE_NULL;
}

const char *tb_col_text(struct tb_stmt *q, int n, struct tb_arena *mem)
{
    return tb_arena_strdup(mem, stored_text(q, n));
}

int64_t tb_col_whole(struct tb_stmt *q, int n)
{
    return sqlite3_column_int64(q->st, n);
}

double tb_col_number(struct tb_stmt *q, int n)
{
    return sqlite3_column_type(q->st, n) == SQLITE_NULL ? (double)NAN : sqlite3_column_double(q->st, n);
}

/* The counterpart of tb_bind_count. */
int64_t tb_col_count(struct tb_stmt *q, int n)
{
    return sqlite3_column_type(q->st, n) == SQLITE_NULL ? -1 : sqlite3_column_int64(q->st, n);
}

/* Copied, and one byte more: SQLite's own bytes are gone with the next step, and an empty blob has no address. */
const void *tb_col_bytes(struct tb_stmt *q, int n, size_t *size, struct tb_arena *mem)
{
    const void *p = stored_bytes(size, q, n);
    void *copy;

    copy = tb_arena_alloc(mem, *size + 1);
    if (*size)
        memcpy(copy, p, *size);
    return copy;
}

tb_rc tb_col_word(int *out, struct tb_stmt *q, int n, const struct tb_words *words, struct tb_err *err)
{
    const char *text = stored_text(q, n);

    if (tb_word_find(out, words, text ? text : ""))
        return TB_OK;
    (void)tb_fail(err, TB_EFORMAT,
                  "the book holds the word '%s', which this program does not know; prove the book",
                  text ? text : "");
    tb_detail(err, "statement %s, column %s", q->text->name, q->text->out[n].name);
    return TB_EFORMAT;
}

/* By what is stored and not by what the column is for: a tampered file may hold text where a number belongs. */
void tb_col_value(struct tb_value *out, struct tb_stmt *q, int n)
{
    *out = (struct tb_value){ .kind = TB_VALUE_NOTHING };
    switch (sqlite3_column_type(q->st, n)) {
    case SQLITE_INTEGER:
        out->kind = TB_VALUE_WHOLE;
        out->whole = sqlite3_column_int64(q->st, n);
        break;
    case SQLITE_FLOAT:
        out->kind = TB_VALUE_NUMBER;
        out->number = sqlite3_column_double(q->st, n);
        break;
    case SQLITE_TEXT:
        out->kind = TB_VALUE_TEXT;
        out->text = stored_text(q, n);
        out->size = (size_t)sqlite3_column_bytes(q->st, n);
        break;
    case SQLITE_BLOB:
        out->kind = TB_VALUE_BYTES;
        out->bytes = stored_bytes(&out->size, q, n);
        break;
    default:
        break;
    }
}
