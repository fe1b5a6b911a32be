/* The proof of an extract: digests of its facts computed again, against what its journal rows say of them. */
#include "book/extract_impl.h"

#include <string.h>

/* One table under one journal row. */
struct group {
    const char *table;
    int64_t entry, rows;
    crypto_hash_sha256_state hash;
};

static bool about(const json_t *row, const char *lot_ref)
{
    return tb_extract_about(tb_row_text(row, "subject"), lot_ref);
}

static void end_group(struct tb_extract_proof *p, struct group *g, const json_t *journal, const char *lot_ref)
{
    const json_t *j = tb_row_at(journal, g->entry);
    json_t *content = j && tb_row_is_full(j) ? json_loads(tb_row_text(j, "content"), 0, NULL) : NULL;
    const json_t *said = json_object_get(content, g->table);
    int64_t want = json_integer_value(json_object_get(said, "rows"));
    char hex[TB_DIGEST_HEX];

    tb_digest_end(hex, &g->hash);
    if (!content)
        tb_extract_wrong(p, "table %s holds %lld rows of journal row %lld, which is not there", g->table,
                         (long long)g->rows, (long long)g->entry);
    else if (g->rows == want && strcmp(tb_row_text(said, "sha256"), hex) == 0)
        p->facts += g->rows;
    else if (g->rows == want)
        tb_extract_wrong(p, "journal row %lld (%s %s by %s, %s): a row of table %s is not what was recorded",
                         (long long)g->entry, tb_row_text(j, "verb"), tb_row_text(j, "subject"),
                         tb_row_text(j, "person"), tb_row_text(j, "at"), g->table);
    else if (g->rows > want || about(j, lot_ref))
        tb_extract_wrong(
            p, "journal row %lld (%s %s by %s, %s): %lld rows of table %s were recorded, %lld are here",
            (long long)g->entry, tb_row_text(j, "verb"), tb_row_text(j, "subject"), tb_row_text(j, "person"),
            tb_row_text(j, "at"), (long long)want, g->table, (long long)g->rows);
    else
        p->partly += g->rows;
    json_decref(content);
}

/* Canonical form by the columns of the contract: members that a file has besides count for nothing. */
static void canon_row(struct tb_text *t, const json_t *row, const struct tb_sql_text *table,
                      struct tb_text *room)
{
    struct tb_value v;

    tb_text_clear(t);
    for (int c = 0; c < table->outs; c++) {
        (void)tb_value_of_json(&v, json_object_get(row, table->out[c].name),
                               room); /* what cannot be read is nothing */
        tb_canon_value(t, &v);
    }
}

static tb_rc check_table(struct tb_extract_proof *p, const char *table, const json_t *rows,
                         const json_t *journal, const char *lot_ref, struct tb_err *err)
{
    const struct tb_sql_text *columns = tb_facts_of(table);
    struct group g = { .table = table };
    struct tb_text t = { 0 }, room = { 0 };
    const json_t *row;
    size_t i;

    if (!columns)
        return tb_fail(err, TB_EFORMAT, "the data hold a table '%s' that this program does not know", table);
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
        canon_row(&t, row, columns, &room);
        (void)crypto_hash_sha256_update(&g.hash, (const unsigned char *)t.s, t.n);
    }
    if (g.rows)
        end_group(p, &g, journal, lot_ref);
    tb_text_free(&t);
    tb_text_free(&room);
    return TB_OK;
}

/* Does any row of a table name this journal row? */
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
        json_t *content = about(row, lot_ref) ? json_loads(tb_row_text(row, "content"), 0, NULL) : NULL,
               *said;
        const char *table;

        json_object_foreach(content, table, said)
        {
            if (json_object_get(facts, table) && !any_of(json_object_get(facts, table), tb_row_number(row)))
                tb_extract_wrong(
                    p, "journal row %lld (%s %s by %s, %s): %lld rows of table %s were recorded, 0 are here",
                    (long long)tb_row_number(row), tb_row_text(row, "verb"), tb_row_text(row, "subject"),
                    tb_row_text(row, "person"), tb_row_text(row, "at"),
                    (long long)json_integer_value(json_object_get(said, "rows")), table);
        }
        json_decref(content);
    }
}

/* A photograph's own digest is a fact beside its bytes: they must agree, whoever computed the rest. */
static void check_attachments(struct tb_extract_proof *p, const json_t *rows)
{
    struct tb_text room = { 0 };
    const json_t *row;
    size_t i;

    json_array_foreach(rows, i, row)
    {
        char hex[TB_DIGEST_HEX];
        struct tb_value v;

        (void)tb_value_of_json(&v, json_object_get(row, "bytes"), &room);
        tb_digest_of(hex, v.kind == TB_VALUE_BYTES ? v.bytes : "", v.kind == TB_VALUE_BYTES ? v.size : 0);
        if (strcmp(hex, tb_row_text(row, "sha256")) != 0)
            tb_extract_wrong(p, "the photograph or paper %s is not the one that was recorded",
                             tb_row_text(row, "name"));
    }
    tb_text_free(&room);
}

tb_rc tb_extract_prove(struct tb_extract_proof *out, const json_t *extract, const char *lot_ref,
                       struct tb_err *err)
{
    json_t *facts = json_object_get(extract, "facts"), *journal = json_object_get(extract, "journal"), *rows;
    const json_t *lot = json_array_get(json_object_get(facts, "lot"), 0);
    const char *table;
    tb_rc rc = TB_OK;

    *out = (struct tb_extract_proof){ 0 };
    tb_extract_check_chain(out, journal, json_integer_value(json_object_get(lot, "entry")));
    json_object_foreach(facts, table, rows)
    {
        if (rc == TB_OK)
            rc = check_table(out, table, rows, journal, lot_ref, err);
    }
    check_gone(out, facts, journal, lot_ref);
    check_attachments(out, json_object_get(facts, "attachment"));
    return rc;
}

void tb_extract_proof_free(struct tb_extract_proof *p)
{
    tb_text_free(&p->wrong);
}
