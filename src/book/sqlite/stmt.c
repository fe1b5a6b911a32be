/* Statements: prepared once for a connection, carried out, and what a fact leaves in the tree of its table. */
#include "book/sqlite/sqlite_impl.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

/* SQLite takes $1 as a name, numbered by first appearance: find where each went. */
static void find_slots(struct tb_stmt *q)
{
    char name[16];

    assert(sqlite3_bind_parameter_count(q->st) == q->text->ins);
    assert(q->text->ins < (int)TB_COUNT(q->slot));
    for (int n = 1; n <= q->text->ins; n++) {
        (void)snprintf(name, sizeof name, "$%d", n);
        q->slot[n] = sqlite3_bind_parameter_index(q->st, name);
        assert(q->slot[n] > 0);
    }
}

/* The parameter of a fact that says which lot it is of; 0: none does. */
static int owner_parameter(const struct tb_sql_text *t)
{
    const struct tb_owner *o = t->fact[0] ? tb_owner_of(t->fact) : NULL;

    for (int i = 0; o && i < t->ins; i++)
        if (strcmp(t->in[i].name, o->column) == 0)
            return i + 1;
    return 0;
}

/* Prepared at first use and kept: a command uses a few of them, and the million bolts of a delivery use one. */
struct tb_stmt *tb_query(struct tb_book *b, enum tb_sql name)
{
    struct tb_stmt *q = &b->db->stmt[name];

    assert(!q->busy);
    if (!q->st) {
        q->book = b;
        q->text = &tb_sql_table[name];
        q->table = q->text->fact[0] ? tb_fact_table(b, q->text->fact) : NULL;
        assert(!q->text->fact[0] || q->table);
        q->owner = owner_parameter(q->text);
        if (sqlite3_prepare_v3(b->db->db, q->text->text, -1, SQLITE_PREPARE_PERSISTENT, &q->st, NULL) ==
            SQLITE_OK)
            find_slots(q);
    }
    q->busy = true;
    q->bound = 0;
    q->not_utf8 = false;
    q->owner_key = NULL;
    tb_text_clear(&q->record);
    return q;
}

/* Found out here and not in tb_query, so that callers have one place to look for a failure. */
static tb_rc not_prepared(const struct tb_stmt *q, struct tb_err *err)
{
    sqlite3 *db = q->book->db->db;

    (void)tb_sqlite_failed(err, db, sqlite3_errcode(db));
    tb_detail(err, "statement %s: %s", q->text->name, sqlite3_errmsg(db));
    return TB_EIO;
}

tb_rc tb_row(struct tb_stmt *q, struct tb_err *err)
{
    int code;

    if (!q->st)
        return not_prepared(q, err);
    assert(q->bound == q->text->ins);
    code = sqlite3_step(q->st);
    if (code == SQLITE_ROW)
        return TB_OK;
    if (code == SQLITE_DONE)
        return TB_ENOTFOUND;
    return tb_sqlite_failed(err, q->book->db->db, code);
}

void tb_done(struct tb_stmt *q)
{
    if (!q)
        return;
    if (q->st)
        (void)sqlite3_reset(q->st);
    q->busy = false;
}

/* What was written goes into the tree of its table; keys must rise, so that reading by key gives the same. */
static tb_rc count_fact(struct tb_stmt *q, struct tb_err *err)
{
    struct tb_fact_table *t = q->table;
    const char *id = q->record.s + 4; /* "T26:" and the key */

    assert(q->book->writing);
    assert(strncmp(q->record.s, "T26:", 4) == 0 && strncmp(t->last_id, id, TB_ID_LEN) < 0);
    memcpy(t->last_id, id, TB_ID_LEN);
    return tb_fact_written(q->book, t, &q->record, q->owner_key, err);
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
    if (rc == TB_ENOTFOUND)
        rc = q->table ? count_fact(q, err) : TB_OK;
    tb_done(q);
    return rc;
}
