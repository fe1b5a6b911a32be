/*
 * What a file holds besides its rows: tables, views, triggers and indexes against what the migrations make, and its pages.
 *
 * SQLite reads a schema from nothing but its texts, so that two files with the same ones have the same columns, types, defaults and
 * conditions. What the migrations make is known from the build by its digest: a book of this shape is known by that. For any other
 * the migrations are run in memory, and both schemas are compared text by text.
 */
#include "book/sqlite/sqlite_impl.h"

#include "base/say.h"

#include <string.h>

#include <sodium.h>

#define SCHEMA "SELECT type, name, tbl_name, coalesce(sql, '') FROM sqlite_schema ORDER BY type, name"

/* A schema as text: type, name, table and text of each object in that order, each with its NUL. */
static tb_rc schema_of(struct tb_text *out, struct tb_db *s, struct tb_err *err)
{
    sqlite3_stmt *st = NULL;
    int code = sqlite3_prepare_v2(s->db, SCHEMA, -1, &st, NULL);

    while (code == SQLITE_OK || code == SQLITE_ROW) {
        code = sqlite3_step(st);
        for (int i = 0; i < 4 && code == SQLITE_ROW; i++) {
            const char *text = (const char *)sqlite3_column_text(st, i);

            tb_text_addn(out, text ? text : "", strlen(text ? text : "") + 1);
        }
    }
    (void)sqlite3_finalize(st);
    return code == SQLITE_DONE ? TB_OK : tb_sqlite_failed(err, s->db, code);
}

/* The migrations take a few milliseconds: what they make is kept for the next time this connection is asked. */
static tb_rc wanted(struct tb_db *s, struct tb_err *err)
{
    struct tb_db *made = NULL;
    tb_rc rc;

    if (s->shape.n)
        return TB_OK;
    if ((rc = tb_sqlite_made(&made, s->version, err)) == TB_OK)
        rc = schema_of(&s->shape, made, err);
    tb_db_close(made);
    return rc;
}

/* One object of a schema; borrowed from its text. type NULL: there are no more. */
struct object {
    const char *type, *name, *table, *sql;
};

static struct object take(const char **at, const struct tb_text *schema)
{
    struct object o = { 0 };
    const char **const to[] = { &o.type, &o.name, &o.table, &o.sql };

    for (size_t i = 0; i < TB_COUNT(to) && schema->n && *at < schema->s + schema->n; i++) {
        *to[i] = *at;
        *at += strlen(*at) + 1;
    }
    return o;
}

/* Which of two objects comes first, in the order of SCHEMA. */
static int order(const struct object *a, const struct object *b)
{
    int by;

    if (!a->type || !b->type)
        return a->type ? -1 : b->type != NULL;
    by = strcmp(a->type, b->type);
    return by ? by : strcmp(a->name, b->name);
}

/* The first difference, in one sentence. */
static void compare(struct tb_text *wrong, const struct tb_db *s, const struct tb_text *have)
{
    const char *at = have->s, *should = s->shape.s;

    while (!wrong->n) {
        struct object h = take(&at, have), w = take(&should, &s->shape);
        int by = order(&h, &w);

        if (!h.type && !w.type)
            return;
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
    }
}

/* Is it the shape that the build knows? */
static bool is_known(const struct tb_db *s, const struct tb_text *have)
{
    unsigned char digest[crypto_hash_sha256_BYTES];

    (void)crypto_hash_sha256(digest, (const unsigned char *)have->s, have->n);
    return s->version == (int64_t)tb_migration_n && memcmp(digest, tb_schema_digest, sizeof digest) == 0;
}

tb_rc tb_db_shape(struct tb_text *wrong, struct tb_db *s, struct tb_err *err)
{
    struct tb_text have = { 0 };
    tb_rc rc = schema_of(&have, s, err);

    if (rc == TB_OK && !is_known(s, &have) && (rc = wanted(s, err)) == TB_OK)
        compare(wrong, s, &have);
    tb_text_free(&have);
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
