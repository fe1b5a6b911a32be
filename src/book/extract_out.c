/* Taking one lot out of the book as JSON. */
#include "book/extract_impl.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#define PREFIX "extract_"

static bool is_extract(int sql)
{
    return strncmp(tb_sql_table[sql].name, PREFIX, strlen(PREFIX)) == 0;
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

/* Rows as they are stored, member by member: the digests must come out the same from them. */
static tb_rc table_rows(json_t *facts, struct entries *seen, struct tb_book *b, int sql, const char *lot_id,
                        struct tb_err *err)
{
    const struct tb_sql_text *text = &tb_sql_table[sql];
    const char *table = text->name + strlen(PREFIX);
    struct tb_stmt *q = tb_query(b, (enum tb_sql)sql);
    json_t *rows = json_array();
    tb_rc rc;

    tb_bind_text(q, 1, lot_id);
    while ((rc = tb_row(q, err)) == TB_OK) {
        json_t *row = json_object();

        for (int c = 0; c < text->outs; c++) {
            struct tb_value v;

            tb_col_value(&v, q, c);
            if (json_object_set_new(row, text->out[c].name, tb_value_json(&v)) != 0)
                rc = tb_fail(err, TB_EFORMAT, "a record of table %s holds text that is not UTF-8", table);
        }
        TB_PUSH_ROOM(seen->number, seen->n, seen->cap);
        seen->number[seen->n++] = json_integer_value(json_object_get(row, "entry"));
        (void)json_array_append_new(rows, row);
        if (rc != TB_OK)
            break;
    }
    tb_done(q);
    (void)json_object_set_new(facts, table, rows);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

static json_t *journal_json(const struct tb_journal_row *j)
{
    return json_pack("{s:I, s:s, s:s, s:s, s:s, s:s, s:s, s:s}", "number", (json_int_t)j->number, "at", j->at,
                     "person", j->person, "verb", j->verb, "subject", j->subject, "content", j->content,
                     "before", j->before, "digest", j->digest);
}

size_t tb_subject_lot(const char *subject)
{
    static const char digits[] = "0123456789";
    size_t n = 0, run;

    while (isalnum((unsigned char)subject[n]))
        n++;
    if (n < 3 || n > 6 || subject[n] != '-') /* a site's code of 1 to 4 signs, two digits of the year */
        return 0;
    for (int dots = 0; dots < 2; dots++) { /* the delivery and its lot */
        run = strspn(subject + n + 1, digits);
        n += 1 + run;
        if (run == 0 || (dots == 0 && subject[n] != '.'))
            return 0;
    }
    if (subject[n] == '\0')
        return n;
    run = subject[n] == '.' ? strspn(subject + n + 1, digits) : 0; /* a swatch of it */
    return run > 0 && subject[n + 1 + run] == '\0' ? n : 0;
}

bool tb_extract_about(const char *subject, const char *lot_ref)
{
    size_t n = tb_subject_lot(subject);

    return n > 0 && n == strlen(lot_ref) && strncmp(subject, lot_ref, n) == 0;
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

/* Facts first: the journal rows that go with them are those they name. */
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
