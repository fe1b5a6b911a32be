/*
 * Parameters, given to SQLite and, where they are a fact, to its canonical form: both in one place, so that the digest is
 * of what is stored.
 */
#include "book/sqlite/sqlite_impl.h"
#include "tenterbook/utf8.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* In rising order and each once: the canonical form is the parameters one after the other. */
static bool next_parameter(struct tb_stmt *q, int n)
{
    if (!q->st)
        return false;
    assert(n == q->bound + 1 && n <= q->text->ins);
    q->bound = n;
    return true;
}

void tb_bind_text(struct tb_stmt *q, int n, const char *s)
{
    if (!next_parameter(q, n))
        return;
    if (s)
        (void)sqlite3_bind_text(q->st, q->slot[n], s, -1, SQLITE_STATIC);
    else
        (void)sqlite3_bind_null(q->st, q->slot[n]);
    if (q->table) {
        tb_canon_text(&q->record, s);
        if (n == q->owner)
            q->owner_key = s;
        q->not_utf8 = q->not_utf8 || (s && !tb_utf8_valid(s, strlen(s)));
    }
}

void tb_bind_whole(struct tb_stmt *q, int n, int64_t v)
{
    if (!next_parameter(q, n))
        return;
    (void)sqlite3_bind_int64(q->st, q->slot[n], v);
    if (q->table)
        tb_canon_whole(&q->record, v);
}

/* A count of days that nobody agreed on is not a count of 0 days. */
void tb_bind_count(struct tb_stmt *q, int n, int64_t v)
{
    if (v < 0)
        tb_bind_text(q, n, NULL);
    else
        tb_bind_whole(q, n, v);
}

void tb_bind_number(struct tb_stmt *q, int n, double v)
{
    if (!next_parameter(q, n))
        return;
    if (isnan(v))
        (void)sqlite3_bind_null(q->st, q->slot[n]);
    else
        (void)sqlite3_bind_double(q->st, q->slot[n], v);
    if (q->table)
        tb_canon_number(&q->record, v);
}

void tb_bind_bytes(struct tb_stmt *q, int n, const void *p, size_t size)
{
    if (!next_parameter(q, n))
        return;
    (void)sqlite3_bind_blob64(q->st, q->slot[n], p, size, SQLITE_STATIC);
    if (q->table)
        tb_canon_bytes(&q->record, p, size, TB_RULE_TREES);
}

void tb_bind_value(struct tb_stmt *q, int n, const struct tb_value *v)
{
    switch (v->kind) {
    case TB_VALUE_TEXT:
        tb_bind_text(q, n, v->text);
        break;
    case TB_VALUE_WHOLE:
        tb_bind_whole(q, n, v->whole);
        break;
    case TB_VALUE_NUMBER:
        tb_bind_number(q, n, v->number);
        break;
    case TB_VALUE_BYTES:
        tb_bind_bytes(q, n, v->bytes, v->size);
        break;
    case TB_VALUE_NOTHING:
        tb_bind_text(q, n, NULL);
    }
}
