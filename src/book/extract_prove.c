/* The proof of an extract: digests computed again from its facts, and its journal rows against a book. */
#include "book/private.h"
#include "tenterbook/extract.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

static void TB_PRINTF(2, 3) wrong(struct tb_extract_proof *p, const char *fmt, ...)
{
    va_list ap;

    va_start(ap, fmt);
    tb_text_vsay(&p->wrong, fmt, ap);
    va_end(ap);
    tb_text_addc(&p->wrong, '\n');
}

static const char *text_of(const json_t *row, const char *key)
{
    const char *s = json_string_value(json_object_get(row, key));

    return s ? s : "";
}

static int64_t number_of(const json_t *row)
{
    return json_integer_value(json_object_get(row, "number"));
}

/* --- the journal rows themselves ------------------------------------------------------------------------------- */

static bool known_in_full(const json_t *row)
{
    return json_is_string(json_object_get(row, "content"));
}

static void check_digest(struct tb_extract_proof *p, const json_t *row)
{
    struct tb_journal_row j = { number_of(row),         text_of(row, "at"),      text_of(row, "person"),
                                text_of(row, "verb"),   text_of(row, "subject"), text_of(row, "content"),
                                text_of(row, "before"), text_of(row, "digest") };
    char digest[TB_DIGEST_HEX];

    tb_journal_digest(digest, &j);
    if (strcmp(digest, j.digest) != 0)
        wrong(p, "journal row %lld (%s %s by %s, %s) itself was changed", (long long)j.number, j.verb,
              j.subject, j.person, j.at);
    p->journal++;
}

/* From the lot's first row on there are no gaps: a row taken out shows. */
static void check_chain(struct tb_extract_proof *p, const json_t *journal, int64_t since)
{
    const json_t *row, *before = NULL;
    size_t i;

    json_array_foreach(journal, i, row)
    {
        int64_t n = number_of(row), m = before ? number_of(before) : 0;

        if (known_in_full(row))
            check_digest(p, row);
        else
            p->named++;
        if (before && n <= m)
            wrong(p, "journal row %lld stands after row %lld", (long long)n, (long long)m);
        else if (before && m >= since && n != m + 1)
            wrong(p, "the journal rows between %lld and %lld are missing", (long long)m, (long long)n);
        else if (before && n == m + 1 && known_in_full(row) &&
                 strcmp(text_of(row, "before"), text_of(before, "digest")) != 0)
            wrong(p, "journal row %lld does not follow the row before it: the chain is broken", (long long)n);
        before = row;
    }
    p->last = before ? number_of(before) : 0;
    (void)snprintf(p->digest, sizeof p->digest, "%s", before ? text_of(before, "digest") : "");
}

static const json_t *journal_row(const json_t *journal, int64_t number)
{
    size_t low = 0, high = json_array_size(journal);

    while (low < high) {
        size_t mid = (low + high) / 2;
        const json_t *row = json_array_get(journal, mid);

        if (number_of(row) == number)
            return row;
        if (number_of(row) < number)
            low = mid + 1;
        else
            high = mid;
    }
    return NULL;
}

/* --- the facts under a journal row ---------------------------------------------------------------------------- */

static void canon_value(struct tb_text *t, const json_t *v)
{
    const char *text = json_string_value(json_object_get(v, "base64"));

    if (json_is_string(v))
        tb_canon_text(t, json_string_value(v));
    else if (json_is_integer(v))
        tb_canon_whole(t, json_integer_value(v));
    else if (json_is_real(v))
        tb_canon_number(t, json_real_value(v));
    else if (text) {
        size_t room = strlen(text) + 1, n = 0;
        unsigned char *bytes = tb_alloc(room, 1);

        (void)sodium_base642bin(bytes, room, text, strlen(text), NULL, &n, NULL,
                                sodium_base64_VARIANT_ORIGINAL);
        tb_canon_bytes(t, bytes, n);
        free(bytes);
    } else
        tb_canon_text(t, NULL);
}

/* One table under one journal row. */
struct group {
    const char *table;
    int64_t entry, rows;
    crypto_hash_sha256_state hash;
};

static bool about(const json_t *row, const char *lot_ref)
{
    return tb_extract_about(text_of(row, "subject"), lot_ref);
}

static void end_group(struct tb_extract_proof *p, struct group *g, const json_t *journal, const char *lot_ref)
{
    const json_t *j = journal_row(journal, g->entry);
    json_t *content = j && known_in_full(j) ? json_loads(text_of(j, "content"), 0, NULL) : NULL;
    const json_t *said = json_object_get(content, g->table);
    int64_t want = json_integer_value(json_object_get(said, "rows"));
    unsigned char sum[crypto_hash_sha256_BYTES];
    char hex[TB_DIGEST_HEX];

    (void)crypto_hash_sha256_final(&g->hash, sum);
    (void)sodium_bin2hex(hex, sizeof hex, sum, sizeof sum);
    if (!content)
        wrong(p, "table %s holds %lld rows of journal row %lld, which is not there", g->table,
              (long long)g->rows, (long long)g->entry);
    else if (g->rows == want && strcmp(text_of(said, "sha256"), hex) == 0)
        p->facts += g->rows;
    else if (g->rows == want)
        wrong(p, "journal row %lld (%s %s by %s, %s): a row of table %s is not what was recorded",
              (long long)g->entry, text_of(j, "verb"), text_of(j, "subject"), text_of(j, "person"),
              text_of(j, "at"), g->table);
    else if (g->rows > want || about(j, lot_ref))
        wrong(p, "journal row %lld (%s %s by %s, %s): %lld rows of table %s were recorded, %lld are here",
              (long long)g->entry, text_of(j, "verb"), text_of(j, "subject"), text_of(j, "person"),
              text_of(j, "at"), (long long)want, g->table, (long long)g->rows);
    else
        p->partly += g->rows;
    json_decref(content);
}

static tb_rc check_table(struct tb_extract_proof *p, const char *table, const json_t *rows,
                         const json_t *journal, const char *lot_ref, struct tb_book *b, struct tb_err *err)
{
    struct group g = { .table = table };
    struct tb_stmt *names;
    struct tb_text t = { 0 };
    const json_t *row;
    int sql = 0;
    size_t i;

    while (sql < TB_SQL_COUNT && !(strncmp(tb_sql_table[sql].name, "facts_", 6) == 0 &&
                                   strcmp(tb_sql_table[sql].name + 6, table) == 0))
        sql++;
    if (sql == TB_SQL_COUNT)
        return tb_fail(err, TB_EFORMAT, "the data hold a table '%s' that this program does not know", table);
    names = tb_query(b, (enum tb_sql)sql);
    json_array_foreach(rows, i, row)
    {
        int64_t entry = json_integer_value(json_object_get(row, "entry"));

        if (g.rows && entry != g.entry) {
            end_group(p, &g, journal, lot_ref);
            g.rows = 0;
        }
        if (!g.rows)
            (void)crypto_hash_sha256_init(&g.hash);
        g.entry = entry;
        g.rows++;
        tb_text_clear(&t);
        for (int c = 0; c < sqlite3_column_count(names->st); c++)
            canon_value(&t, json_object_get(row, sqlite3_column_name(names->st, c)));
        (void)crypto_hash_sha256_update(&g.hash, (const unsigned char *)t.s, t.n);
    }
    if (g.rows)
        end_group(p, &g, journal, lot_ref);
    tb_done(names);
    tb_text_free(&t);
    return TB_OK;
}

static bool any_of(const json_t *rows, int64_t entry)
{
    const json_t *row;
    size_t i;

    json_array_foreach(rows, i, row)
    {
        if (json_integer_value(json_object_get(row, "entry")) == entry)
            return true;
    }
    return false;
}

/* A journal row about the lot whose facts are gone altogether. */
static void check_gone(struct tb_extract_proof *p, const json_t *facts, const json_t *journal,
                       const char *lot_ref)
{
    const json_t *row;
    size_t i;

    json_array_foreach(journal, i, row)
    {
        json_t *content = about(row, lot_ref) ? json_loads(text_of(row, "content"), 0, NULL) : NULL, *said;
        const char *table;

        json_object_foreach(content, table, said)
        {
            if (json_object_get(facts, table) && !any_of(json_object_get(facts, table), number_of(row)))
                wrong(p,
                      "journal row %lld (%s %s by %s, %s): %lld rows of table %s were recorded, 0 are here",
                      (long long)number_of(row), text_of(row, "verb"), text_of(row, "subject"),
                      text_of(row, "person"), text_of(row, "at"),
                      (long long)json_integer_value(json_object_get(said, "rows")), table);
        }
        json_decref(content);
    }
}

/* A photograph's own digest is a fact beside its bytes: they must agree, whoever computed the rest. */
static void check_attachments(struct tb_extract_proof *p, const json_t *rows)
{
    const json_t *row;
    size_t i;

    json_array_foreach(rows, i, row)
    {
        const char *text = json_string_value(json_object_get(json_object_get(row, "bytes"), "base64"));
        size_t room = text ? strlen(text) + 1 : 1, n = 0;
        unsigned char *bytes = tb_alloc(room, 1), sum[crypto_hash_sha256_BYTES];
        char hex[TB_DIGEST_HEX];

        if (text)
            (void)sodium_base642bin(bytes, room, text, strlen(text), NULL, &n, NULL,
                                    sodium_base64_VARIANT_ORIGINAL);
        (void)crypto_hash_sha256(sum, bytes, n);
        (void)sodium_bin2hex(hex, sizeof hex, sum, sizeof sum);
        if (strcmp(hex, text_of(row, "sha256")) != 0)
            wrong(p, "the photograph or paper %s is not the one that was recorded", text_of(row, "name"));
        free(bytes);
    }
}

tb_rc tb_extract_prove(struct tb_extract_proof *out, const json_t *extract, const char *lot_ref,
                       struct tb_err *err)
{
    json_t *facts = json_object_get(extract, "facts"), *journal = json_object_get(extract, "journal"), *rows;
    const char *table;
    struct tb_book *b = NULL;
    tb_rc rc = tb_book_in_memory(&b, err);

    *out = (struct tb_extract_proof){ 0 };
    if (rc != TB_OK)
        return rc;
    check_chain(
        out, journal,
        json_integer_value(json_object_get(json_array_get(json_object_get(facts, "lot"), 0), "entry")));
    json_object_foreach(facts, table, rows)
    {
        if (rc == TB_OK)
            rc = check_table(out, table, rows, journal, lot_ref, b, err);
    }
    check_gone(out, facts, journal, lot_ref);
    check_attachments(out, json_object_get(facts, "attachment"));
    tb_book_close(b);
    return rc;
}

void tb_extract_proof_free(struct tb_extract_proof *p)
{
    tb_text_free(&p->wrong);
}

/* One journal row of the book beside the extract. */
static void against_row(struct tb_extract_proof *p, size_t *met, const json_t *journal, const char *lot_ref,
                        const char *made, const struct tb_journal_row *j)
{
    const json_t *row = journal_row(journal, j->number);

    if (row) {
        ++*met;
        if (strcmp(j->digest, text_of(row, "digest")) != 0)
            wrong(p, "journal row %lld is another one in the book", (long long)j->number);
    } else if (tb_extract_about(j->subject, lot_ref) && strcmp(j->at, made) < 0) {
        wrong(p,
              "journal row %lld of the book (%s %s by %s, %s) was written before the case was made, and is "
              "not in it",
              (long long)j->number, j->verb, j->subject, j->person, j->at);
    }
}

tb_rc tb_extract_against(struct tb_extract_proof *p, int64_t *later, const json_t *extract,
                         const char *lot_ref, const char *made, struct tb_book *b, struct tb_err *err)
{
    json_t *journal = json_object_get(extract, "journal");
    struct tb_stmt *q = tb_sql_journal_all(b);
    struct tb_journal_row j;
    struct tb_arena mem = { 0 };
    size_t met = 0;
    tb_rc rc;

    *later = 0;
    while ((rc = tb_next_journal_row(&j, q, &mem, err)) == TB_OK) {
        *later += j.number > p->last;
        against_row(p, &met, journal, lot_ref, made, &j);
        tb_arena_free(&mem);
    }
    tb_done(q);
    tb_arena_free(&mem);
    if (rc == TB_ENOTFOUND && met < json_array_size(journal))
        wrong(p, "%lld journal rows of the file are not in the book",
              (long long)(json_array_size(journal) - met));
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}
