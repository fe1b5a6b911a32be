#include "book/private.h"

#include "tenterbook/utf8.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

tb_rc tb_store_failed(struct tb_err *err, sqlite3 *db, int code)
{
    tb_rc rc = TB_EIO;

    switch (code & 0xFF) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        rc = tb_fail(err, TB_EBUSY, "somebody else is still writing to this book after %d seconds; try again",
                     TB_WAIT_SECONDS);
        break;
    case SQLITE_FULL:
        rc = tb_fail(err, TB_EIO, "the disk is full; nothing was recorded");
        break;
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_CANTOPEN:
        rc = tb_fail(
            err, TB_EIO,
            "the book cannot be opened for writing: look at the permissions of the file and its folder");
        break;
    case SQLITE_IOERR:
        /* reading needs a little room too: readers and writers meet in a small file beside the book */
        rc = tb_fail(err, TB_EIO,
                     "the disk is full or failed: the book could not be read or written, and nothing was "
                     "recorded");
        break;
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
        rc = tb_fail(err, TB_EFORMAT, "the file is damaged or is not a book; restore the last copy");
        break;
    case SQLITE_CONSTRAINT:
        rc = tb_fail(err, TB_EINVAL,
                     "the book refuses this record: it is there already or names something that is not");
        break;
    default:
        rc = tb_fail(err, TB_EIO, "the book could not be read or written");
    }
    tb_detail(err, "%s (%d)", db ? sqlite3_errmsg(db) : sqlite3_errstr(code), code);
    return rc;
}

tb_rc tb_exec(struct tb_book *b, const char *sql, struct tb_err *err)
{
    int code = sqlite3_exec(b->db, sql, NULL, NULL, NULL);

    return code == SQLITE_OK ? TB_OK : tb_store_failed(err, b->db, code);
}

static int table_by_name(const struct tb_book *b, const char *name)
{
    for (size_t i = 0; i < b->tables; i++)
        if (strcmp(b->table[i].name, name) == 0)
            return (int)i;
    return -1;
}

/* SQLite takes $1 as a name, numbered by first appearance: find where each went. */
static void find_slots(struct tb_stmt *q)
{
    char name[16];

    q->params = sqlite3_bind_parameter_count(q->st);
    assert(q->params < (int)TB_COUNT(q->slot));
    for (int n = 1; n <= q->params; n++) {
        (void)snprintf(name, sizeof name, "$%d", n);
        q->slot[n] = sqlite3_bind_parameter_index(q->st, name);
        assert(q->slot[n] > 0);
    }
}

struct tb_stmt *tb_query(struct tb_book *b, enum tb_sql name)
{
    struct tb_stmt *q = &b->stmt[name];

    assert(!q->busy);
    if (!q->st) {
        q->book = b;
        q->text = &tb_sql_table[name];
        q->table = q->text->fact[0] ? table_by_name(b, q->text->fact) : -1;
        assert(!q->text->fact[0] || q->table >= 0);
        if (sqlite3_prepare_v3(b->db, q->text->text, -1, SQLITE_PREPARE_PERSISTENT, &q->st, NULL) ==
            SQLITE_OK)
            find_slots(q);
    }
    q->busy = true;
    q->bound = 0;
    q->not_utf8 = false;
    tb_text_clear(&q->record);
    return q;
}

static bool next_parameter(struct tb_stmt *q, int n)
{
    if (!q->st)
        return false;
    assert(n == q->bound + 1 && n <= q->params);
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
    if (q->table >= 0) {
        tb_canon_text(&q->record, s);
        q->not_utf8 = q->not_utf8 || (s && !tb_utf8_valid(s, strlen(s)));
    }
}

void tb_bind_whole(struct tb_stmt *q, int n, int64_t v)
{
    if (!next_parameter(q, n))
        return;
    (void)sqlite3_bind_int64(q->st, q->slot[n], v);
    if (q->table >= 0)
        tb_canon_whole(&q->record, v);
}

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
    if (q->table >= 0)
        tb_canon_number(&q->record, v);
}

void tb_bind_bytes(struct tb_stmt *q, int n, const void *p, size_t size)
{
    if (!next_parameter(q, n))
        return;
    (void)sqlite3_bind_blob64(q->st, q->slot[n], p, size, SQLITE_STATIC);
    if (q->table >= 0)
        tb_canon_bytes(&q->record, p, size);
}

static tb_rc not_prepared(const struct tb_stmt *q, struct tb_err *err)
{
    (void)tb_store_failed(err, q->book->db, sqlite3_errcode(q->book->db));
    tb_detail(err, "statement %s: %s", q->text->name, sqlite3_errmsg(q->book->db));
    return TB_EIO;
}

tb_rc tb_row(struct tb_stmt *q, struct tb_err *err)
{
    int code;

    if (!q->st)
        return not_prepared(q, err);
    assert(q->bound == q->params);
    code = sqlite3_step(q->st);
    if (code == SQLITE_ROW)
        return TB_OK;
    if (code == SQLITE_DONE)
        return TB_ENOTFOUND;
    return tb_store_failed(err, q->book->db, code);
}

bool tb_col_null(struct tb_stmt *q, int n)
{
    return sqlite3_column_type(q->st, n) == SQLITE_NULL;
}

const char *tb_col_text(struct tb_stmt *q, int n, struct tb_arena *mem)
{
    return tb_arena_strdup(mem, (const char *)sqlite3_column_text(q->st, n));
}

int64_t tb_col_whole(struct tb_stmt *q, int n)
{
    return sqlite3_column_int64(q->st, n);
}

double tb_col_number(struct tb_stmt *q, int n)
{
    return sqlite3_column_type(q->st, n) == SQLITE_NULL ? (double)NAN : sqlite3_column_double(q->st, n);
}

int64_t tb_col_count(struct tb_stmt *q, int n)
{
    return sqlite3_column_type(q->st, n) == SQLITE_NULL ? -1 : sqlite3_column_int64(q->st, n);
}

const void *tb_col_bytes(struct tb_stmt *q, int n, size_t *size, struct tb_arena *mem)
{
    const void *p = sqlite3_column_blob(q->st, n);
    void *copy;

    *size = (size_t)sqlite3_column_bytes(q->st, n);
    copy = tb_arena_alloc(mem, *size + 1);
    if (*size)
        memcpy(copy, p, *size);
    return copy;
}

tb_rc tb_col_word(int *out, struct tb_stmt *q, int n, const struct tb_words *words, struct tb_err *err)
{
    const char *text = (const char *)sqlite3_column_text(q->st, n);

    if (tb_word_find(out, words, text ? text : ""))
        return TB_OK;
    (void)tb_fail(err, TB_EFORMAT,
                  "the book holds the word '%s', which this program does not know; prove the book",
                  text ? text : "");
    tb_detail(err, "statement %s, column %s", q->text->name, q->text->out[n].name);
    return TB_EFORMAT;
}

void tb_done(struct tb_stmt *q)
{
    if (!q)
        return;
    if (q->st)
        (void)sqlite3_reset(q->st);
    q->busy = false;
}

/* What was written goes into the digest of its table; keys must rise, so that reading by key gives the same. */
static void count_fact(struct tb_stmt *q)
{
    struct tb_fact_table *t = &q->book->table[q->table];
    const char *id = q->record.s + 4; /* "T26:" and the key */

    assert(q->book->writing);
    assert(strncmp(q->record.s, "T26:", 4) == 0 && strncmp(t->last_id, id, TB_ID_LEN) < 0);
    if (t->rows++ == 0)
        (void)crypto_hash_sha256_init(&t->hash);
    memcpy(t->last_id, id, TB_ID_LEN);
    (void)crypto_hash_sha256_update(&t->hash, (const unsigned char *)q->record.s, q->record.n);
}

/* A fact is for good, and whoever reads it later (the case, the workbook) could not write such a text. */
static tb_rc refuse_bytes(struct tb_stmt *q, struct tb_err *err)
{
    tb_rc rc =
        tb_fail(err, TB_EINVAL, "a text of this record holds bytes that are not UTF-8; it is not recorded");

    tb_detail(err, "statement %s", q->text->name);
    tb_done(q);
    return rc;
}

tb_rc tb_run(struct tb_stmt *q, struct tb_err *err)
{
    tb_rc rc;

    if (q->not_utf8)
        return refuse_bytes(q, err);
    rc = tb_row(q, err);
    if (rc == TB_ENOTFOUND) {
        if (q->table >= 0)
            count_fact(q);
        rc = TB_OK;
    }
    tb_done(q);
    return rc;
}

int64_t tb_entry(const struct tb_book *b)
{
    return b->entry;
}
