/*
 * What a file holds besides its rows: tables, views, triggers and indexes against what the migrations make, and its pages.
 *
 * The migrations are run in memory and both schemas compared text by text. SQLite reads a schema from nothing but these texts,
 * so that two files with the same ones have the same columns, types, defaults and conditions.
 */
#include "book/sqlite/sqlite_impl.h"

#include "base/say.h"

#include <string.h>

#define SCHEMA "SELECT type, name, tbl_name, coalesce(sql, '') FROM sqlite_schema ORDER BY type, name"

/* One object of a schema; all borrowed from the statement. */
struct object {
    const char *type, *name, *table, *sql;
    bool there;
};

static tb_rc next(struct object *o, sqlite3_stmt *st, sqlite3 *db, struct tb_err *err)
{
    const char **const to[] = { &o->type, &o->name, &o->table, &o->sql };
    int code = sqlite3_step(st);

    o->there = code == SQLITE_ROW;
    if (code != SQLITE_ROW && code != SQLITE_DONE)
        return tb_sqlite_failed(err, db, code);
    for (int i = 0; o->there && i < (int)TB_COUNT(to); i++) {
        const char *s = (const char *)sqlite3_column_text(st, i);

        *to[i] = s ? s : "";
    }
    return TB_OK;
}

/* Which of two objects comes first, in the order of SCHEMA. */
static int order(const struct object *a, const struct object *b)
{
    int by;

    if (!a->there || !b->there)
        return a->there ? -1 : b->there;
    by = strcmp(a->type, b->type);
    return by ? by : strcmp(a->name, b->name);
}

/* The first difference, in one sentence. Both sides stand at their first object. */
static tb_rc compare(struct tb_text *wrong, struct tb_db *s, sqlite3_stmt *have, struct tb_db *made,
                     sqlite3_stmt *want, struct tb_err *err)
{
    struct object h = { 0 }, w = { 0 };
    tb_rc rc = next(&h, have, s->db, err);

    if (rc == TB_OK)
        rc = next(&w, want, made->db, err);
    while (rc == TB_OK && !wrong->n && (h.there || w.there)) {
        int by = order(&h, &w);

        if (by < 0)
            tb_text_say(
                wrong,
                "%s holds the %s %s, which no program of ours made; restore the last copy that proves, or "
                "remove it with sqlite3 and prove the book",
                s->path, h.type, h.name);
        else if (by > 0)
            tb_text_say(wrong, "%s lacks the %s %s; restore the last copy that proves", s->path, w.type,
                        w.name);
        else if (strcmp(h.sql, w.sql) != 0 || strcmp(h.table, w.table) != 0)
            tb_text_say(wrong,
                        "%s holds another %s %s than this program makes; restore the last copy that proves",
                        s->path, h.type, h.name);
        else if ((rc = next(&h, have, s->db, err)) == TB_OK)
            rc = next(&w, want, made->db, err);
    }
    return rc;
}

tb_rc tb_db_shape(struct tb_text *wrong, struct tb_db *s, struct tb_err *err)
{
    struct tb_db *made = NULL;
    sqlite3_stmt *have = NULL, *want = NULL;
    tb_rc rc = tb_sqlite_made(&made, s->version, err);
    int code;

    if (rc == TB_OK) {
        if ((code = sqlite3_prepare_v2(s->db, SCHEMA, -1, &have, NULL)) != SQLITE_OK)
            rc = tb_sqlite_failed(err, s->db, code);
        else if ((code = sqlite3_prepare_v2(made->db, SCHEMA, -1, &want, NULL)) != SQLITE_OK)
            rc = tb_sqlite_failed(err, made->db, code);
        else
            rc = compare(wrong, s, have, made, want, err);
    }
    (void)sqlite3_finalize(have);
    (void)sqlite3_finalize(want);
    tb_db_close(made);
    return rc;
}

/* --- pages and references --------------------------------------------------------------------------------------- */

/* The first row of a check; "ok" where SQLite has nothing to say. */
static tb_rc first_answer(struct tb_text *out, struct tb_db *s, const char *sql, struct tb_err *err)
{
    sqlite3_stmt *st = NULL;
    int code = sqlite3_prepare_v2(s->db, sql, -1, &st, NULL);

    if (code == SQLITE_OK)
        code = sqlite3_step(st);
    if (code == SQLITE_ROW)
        tb_text_add(out, (const char *)sqlite3_column_text(st, 0));
    (void)sqlite3_finalize(st);
    return code == SQLITE_ROW || code == SQLITE_DONE ? TB_OK : tb_sqlite_failed(err, s->db, code);
}

tb_rc tb_db_pages(struct tb_text *wrong, struct tb_db *s, struct tb_err *err)
{
    struct tb_text said = { 0 };
    tb_rc rc = first_answer(&said, s, "PRAGMA integrity_check(1)", err);

    if (rc == TB_OK && strcmp(tb_text_str(&said), "ok") != 0)
        tb_text_say(wrong, "the file is damaged (%s); restore the last copy that proves", tb_text_str(&said));
    tb_text_clear(&said);
    if (rc == TB_OK && !wrong->n && (rc = first_answer(&said, s, "PRAGMA foreign_key_check", err)) == TB_OK &&
        said.n)
        tb_text_say(wrong, "table %s holds a row that names another one which is not there",
                    tb_text_str(&said));
    tb_text_free(&said);
    return rc;
}
