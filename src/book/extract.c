/* Taking one lot out of the book as JSON, and building that part again in memory. */
#include "tenterbook/extract.h"
#include "book/private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define PREFIX "extract_"

static bool is_extract(int sql)
{
    return strncmp(tb_sql_table[sql].name, PREFIX, strlen(PREFIX)) == 0;
}

/* --- out ------------------------------------------------------------------------------------------------------ */

static json_t *bytes_json(const void *p, size_t n)
{
    size_t most = sodium_base64_encoded_len(n, sodium_base64_VARIANT_ORIGINAL);
    char *text = tb_alloc(most, 1);
    json_t *j;

    (void)sodium_bin2base64(text, most, p, n, sodium_base64_VARIANT_ORIGINAL);
    j = json_pack("{s:s}", "base64", text);
    free(text);
    return j;
}

static json_t *value_json(sqlite3_stmt *st, int c)
{
    const char *text;

    switch (sqlite3_column_type(st, c)) {
    case SQLITE_INTEGER:
        return json_integer(sqlite3_column_int64(st, c));
    case SQLITE_FLOAT:
        return json_real(sqlite3_column_double(st, c));
    case SQLITE_TEXT:
        text = (const char *)sqlite3_column_text(st, c);
        return json_stringn(text, (size_t)sqlite3_column_bytes(st, c));
    case SQLITE_BLOB:
        return bytes_json(sqlite3_column_blob(st, c), (size_t)sqlite3_column_bytes(st, c));
    default:
        return json_null();
    }
}

struct entries {
    int64_t *number;
    size_t n, cap;
};

static int by_number(const void *a, const void *b)
{
    int64_t x = *(const int64_t *)a, y = *(const int64_t *)b;

    return (x > y) - (x < y);
}

static bool has(const struct entries *e, int64_t number)
{
    return e->n && bsearch(&number, e->number, e->n, sizeof number, by_number) != NULL;
}

static tb_rc table_rows(json_t *facts, struct entries *seen, struct tb_book *b, int sql, const char *lot_id,
                        struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, (enum tb_sql)sql);
    json_t *rows = json_array();
    tb_rc rc;

    tb_bind_text(q, 1, lot_id);
    while ((rc = tb_row(q, err)) == TB_OK) {
        json_t *row = json_object();

        for (int c = 0; c < sqlite3_column_count(q->st); c++)
            if (json_object_set_new(row, sqlite3_column_name(q->st, c), value_json(q->st, c)) != 0)
                rc = tb_fail(err, TB_EFORMAT, "a record of table %s holds text that is not UTF-8",
                             tb_sql_table[sql].name + strlen(PREFIX));
        TB_PUSH_ROOM(seen->number, seen->n, seen->cap);
        seen->number[seen->n++] = json_integer_value(json_object_get(row, "entry"));
        (void)json_array_append_new(rows, row);
        if (rc != TB_OK)
            break;
    }
    tb_done(q);
    (void)json_object_set_new(facts, tb_sql_table[sql].name + strlen(PREFIX), rows);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

static json_t *journal_json(const struct tb_journal_row *j)
{
    return json_pack("{s:I, s:s, s:s, s:s, s:s, s:s, s:s, s:s}", "number", (json_int_t)j->number, "at", j->at,
                     "person", j->person, "verb", j->verb, "subject", j->subject, "content", j->content,
                     "before", j->before, "digest", j->digest);
}

bool tb_extract_about(const char *subject, const char *lot_ref)
{
    size_t n = strlen(lot_ref);

    return strncmp(subject, lot_ref, n) == 0 && (subject[n] == '\0' || subject[n] == '.');
}

/* The last journal row that is about the lot, whatever it recorded: nothing about it may be left out behind. */
static tb_rc last_about(int64_t *last, struct tb_book *b, const char *lot_ref, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_journal_row *row;
    size_t n;
    tb_rc rc = tb_journal_list(&row, &n, b, lot_ref, &mem, err);

    for (size_t i = 0; rc == TB_OK && i < n; i++)
        if (tb_extract_about(row[i].subject, lot_ref) && row[i].number > *last)
            *last = row[i].number;
    tb_arena_free(&mem);
    return rc;
}

/* Rows about the lot in full; from the day it came in, also all rows between, in full while they are not many. */
static tb_rc journal_rows(json_t **out, const struct entries *seen, int64_t since, int64_t last,
                          struct tb_book *b, const char *lot_ref, struct tb_err *err)
{
    struct tb_stmt *q = tb_sql_journal_all(b);
    struct tb_journal_row j;
    bool many = last - since > TB_EXTRACT_BETWEEN_MOST;
    struct tb_arena mem = { 0 };
    tb_rc rc;

    *out = json_array();
    while ((rc = tb_next_journal_row(&j, q, &mem, err)) == TB_OK && j.number <= last) {
        bool ours = has(seen, j.number);

        if (ours || j.number >= since) {
            bool whole = !many || ours || tb_extract_about(j.subject, lot_ref);

            (void)json_array_append_new(
                *out, whole ? journal_json(&j)
                            : json_pack("{s:I, s:s}", "number", (json_int_t)j.number, "digest", j.digest));
        }
        tb_arena_free(&mem);
    }
    tb_done(q);
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

static tb_rc take_out(json_t **out, struct tb_book *b, const struct tb_lot *lot, struct tb_err *err)
{
    json_t *facts = json_object(), *journal = NULL;
    struct entries seen = { 0 };
    int64_t since, last;
    tb_rc rc = TB_OK;

    for (int i = 0; i < TB_SQL_COUNT && rc == TB_OK; i++)
        if (is_extract(i))
            rc = table_rows(facts, &seen, b, i, lot->id, err);
    if (seen.n)
        qsort(seen.number, seen.n, sizeof *seen.number, by_number);
    since = json_integer_value(json_object_get(json_array_get(json_object_get(facts, "lot"), 0), "entry"));
    last = seen.n ? seen.number[seen.n - 1] : 0;
    if (rc == TB_OK && (rc = last_about(&last, b, lot->ref, err)) == TB_OK)
        rc = journal_rows(&journal, &seen, since, last, b, lot->ref, err);
    free(seen.number);
    if (rc == TB_OK)
        *out = json_pack("{s:o, s:o}", "facts", facts, "journal", journal);
    else {
        json_decref(facts);
        json_decref(journal);
    }
    return rc;
}

tb_rc tb_extract_lot(json_t **out, struct tb_book *b, const char *lot_ref, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_lot lot;
    tb_rc rc = tb_book_look(b, err);

    if (rc != TB_OK)
        return rc;
    if ((rc = tb_lot_find(&lot, b, lot_ref, &mem, err)) == TB_OK)
        rc = take_out(out, b, &lot, err);
    tb_book_look_away(b);
    tb_arena_free(&mem);
    return rc;
}

/* --- in ------------------------------------------------------------------------------------------------------- */

static int insert_of(const char *table)
{
    for (int i = 0; i < TB_SQL_COUNT; i++)
        if (strcmp(tb_sql_table[i].fact, table) == 0)
            return i;
    return -1;
}

static int facts_of(const char *table)
{
    for (int i = 0; i < TB_SQL_COUNT; i++)
        if (strncmp(tb_sql_table[i].name, "facts_", 6) == 0 && strcmp(tb_sql_table[i].name + 6, table) == 0)
            return i;
    return -1;
}

static bool bind_value(struct tb_stmt *q, int n, const json_t *v, struct tb_text *room)
{
    const char *text = json_string_value(json_object_get(v, "base64"));
    size_t size = 0;

    if (json_is_string(v))
        tb_bind_text(q, n, json_string_value(v));
    else if (json_is_integer(v))
        tb_bind_whole(q, n, json_integer_value(v));
    else if (json_is_real(v))
        tb_bind_number(q, n, json_real_value(v));
    else if (json_is_null(v))
        tb_bind_text(q, n, NULL);
    else if (text) {
        tb_text_clear(room);
        tb_text_add(room, text); /* never shorter than what it stands for */
        if (sodium_base642bin((unsigned char *)room->s, room->cap, text, strlen(text), NULL, &size, NULL,
                              sodium_base64_VARIANT_ORIGINAL) != 0)
            return false;
        tb_bind_bytes(q, n, room->s, size);
    } else
        return false;
    return true;
}

/* The names of the columns, in order, are those of facts_TABLE, whose order is that of the INSERT. */
static tb_rc put_row(struct tb_book *b, int insert, int facts, const json_t *row, struct tb_text *room,
                     struct tb_err *err)
{
    struct tb_stmt *names = tb_query(b, (enum tb_sql)facts), *q = tb_query(b, (enum tb_sql)insert);
    bool good = names->st && q->st && q->params == sqlite3_column_count(names->st);
    tb_rc rc = TB_OK;

    for (int c = 0; good && c < q->params; c++)
        good = bind_value(q, c + 1, json_object_get(row, sqlite3_column_name(names->st, c)), room);
    if (!good || sqlite3_step(q->st) != SQLITE_DONE)
        rc = tb_fail(err, TB_EFORMAT, "the data hold a record of table %s that cannot be read",
                     tb_sql_table[insert].fact);
    tb_done(q);
    tb_done(names);
    return rc;
}

static tb_rc put_journal(struct tb_book *b, const json_t *rows, struct tb_err *err)
{
    static const char *const column[] = { "number",  "at",      "person", "verb",
                                          "subject", "content", "before", "digest" };
    struct tb_text room = { 0 };
    const json_t *row;
    size_t i;
    tb_rc rc = TB_OK;

    json_array_foreach(rows, i, row)
    {
        struct tb_stmt *q;
        bool good = true;

        if (!json_object_get(row, "content") || rc != TB_OK)
            continue; /* given by number and digest only */
        q = tb_query(b, TB_SQL_JOURNAL_ADD);
        for (int c = 0; good && c < (int)TB_COUNT(column); c++)
            good = bind_value(q, c + 1, json_object_get(row, column[c]), &room);
        if (!good || !q->st || sqlite3_step(q->st) != SQLITE_DONE)
            rc = tb_fail(err, TB_EFORMAT, "the data hold a journal row that cannot be read");
        tb_done(q);
    }
    tb_text_free(&room);
    return rc;
}

static tb_rc fill(struct tb_book *b, const json_t *extract, struct tb_err *err)
{
    json_t *facts = json_object_get(extract, "facts"), *rows;
    struct tb_text room = { 0 };
    const char *table;
    tb_rc rc = TB_OK;

    if (!json_is_object(facts) || !json_is_array(json_object_get(extract, "journal")))
        return tb_fail(err, TB_EFORMAT, "the data hold no facts or no journal");
    json_object_foreach(facts, table, rows)
    {
        int insert = insert_of(table), names = facts_of(table);
        const json_t *row;
        size_t i;

        if (rc == TB_OK && (insert < 0 || names < 0))
            rc =
                tb_fail(err, TB_EFORMAT, "the data hold a table '%s' that this program does not know", table);
        json_array_foreach(rows, i, row)
        {
            if (rc == TB_OK)
                rc = put_row(b, insert, names, row, &room, err);
        }
    }
    tb_text_free(&room);
    return rc == TB_OK ? put_journal(b, json_object_get(extract, "journal"), err) : rc;
}

tb_rc tb_extract_book(struct tb_book **out, const json_t *extract, struct tb_err *err)
{
    struct tb_book *b = NULL;
    tb_rc rc = tb_book_in_memory(&b, err);

    if (rc == TB_OK && (rc = fill(b, extract, err)) == TB_OK)
        rc = tb_book_load_site(b, err);
    if (rc != TB_OK) {
        tb_book_close(b);
        return rc;
    }
    *out = b;
    return TB_OK;
}
