/* Building the part of a book that an extract holds again, in memory. */
#include "book/extract_impl.h"

#include <string.h>

/* The statement that inserts into a table; TB_SQL_COUNT when there is none. */
static enum tb_sql insert_of(const char *table)
{
    int i = 0;

    while (i < TB_SQL_COUNT && strcmp(tb_sql_table[i].fact, table) != 0)
        i++;
    return (enum tb_sql)i;
}

/* Bind the members of a row by the names of the parameters, and carry the statement out. Nothing is added to a journal:
 * the rows have theirs. */
static bool put(struct tb_book *b, enum tb_sql insert, const json_t *row, struct tb_text *room,
                struct tb_err *err)
{
    const struct tb_sql_text *text = &tb_sql_table[insert];
    struct tb_stmt *q = tb_query(b, insert);
    bool good = true;

    for (int c = 0; good && c < text->ins; c++) {
        struct tb_value v;

        good = tb_value_of_json(&v, json_object_get(row, text->in[c].name), room);
        if (good)
            tb_bind_value(q, c + 1, &v);
    }
    good = good && tb_row(q, err) == TB_ENOTFOUND;
    tb_done(q);
    return good;
}

static tb_rc put_table(struct tb_book *b, const char *table, const json_t *facts, struct tb_text *room,
                       struct tb_err *err)
{
    enum tb_sql insert = insert_of(table);
    const json_t *rows = json_object_get(facts, table), *row;
    size_t i;

    if (insert == TB_SQL_COUNT)
        return tb_fail(err, TB_EFORMAT, "the data hold a table '%s' that this program does not know", table);
    json_array_foreach(rows, i, row)
    {
        json_t *told = tb_kept_back(row) ? NULL : tb_kept_unnamed(facts, table, row);
        bool good = !told || put(b, insert, told, room, err);

        json_decref(told);
        if (!good)
            return tb_fail(err, TB_EFORMAT, "the data hold a record of table %s that cannot be read", table);
    }
    return TB_OK;
}

/* The row in which somebody was written down may be told as one of others: then it is there, and says nothing. */
static bool wrote_somebody(const json_t *people, int64_t number)
{
    return tb_rows_of_entry(people, number) > 0;
}

/* With the digest that follows; the salt stayed with the book. */
static json_t *journal_row(const struct tb_told_row *told)
{
    char hex[TB_DIGEST_HEX];
    json_t *row;

    tb_hash_hex(hex, told->digest);
    row = json_pack("{s:s, s:s, s:s, s:I, s:s, s:s}", "aside", "", "about", "", "before", "", "rule",
                    (json_int_t)told->rule, "salt", "", "digest", hex);
    if (told->full)
        (void)json_object_update_missing(row, (json_t *)told->full);
    else
        (void)json_object_update_new(row, json_pack("{s:I, s:s, s:s, s:s, s:s, s:s}", "number",
                                                    (json_int_t)told->number, "at", "", "person", "", "verb",
                                                    "", "subject", "", "content", "{}"));
    return row;
}

/* Rows that are told in full, and those that people name. */
static tb_rc put_journal(struct tb_book *b, const json_t *extract, struct tb_text *room, struct tb_err *err)
{
    const json_t *people = json_object_get(json_object_get(extract, "facts"), "person");
    struct tb_told told;
    tb_rc rc = TB_OK;

    tb_told_read(&told, NULL, extract);
    for (size_t i = 0; i < told.n && rc == TB_OK; i++) {
        json_t *row;

        if (!told.row[i].full && !wrote_somebody(people, told.row[i].number))
            continue;
        row = journal_row(&told.row[i]);
        if (!put(b, TB_SQL_JOURNAL_ADD, row, room, err))
            rc = tb_fail(err, TB_EFORMAT, "the data hold a journal row that cannot be read");
        json_decref(row);
    }
    tb_told_free(&told);
    return rc;
}

static tb_rc fill(struct tb_book *b, const json_t *extract, struct tb_err *err)
{
    json_t *facts = json_object_get(extract, "facts"), *journal = json_object_get(extract, "journal"), *rows;
    struct tb_text room = { 0 };
    const char *table;
    tb_rc rc = TB_OK;

    if (!json_is_object(facts) || !json_is_array(journal))
        return tb_fail(err, TB_EFORMAT, "the data hold no facts or no journal");
    json_object_foreach(facts, table, rows)
    {
        if (rc == TB_OK)
            rc = put_table(b, table, facts, &room, err);
    }
    if (rc == TB_OK)
        rc = put_journal(b, extract, &room, err);
    tb_text_free(&room);
    return rc;
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
