/* The proof: walk the journal and compute every digest again from the facts as they stand now. */
#include "base/say.h"
#include "book/private.h"

#include <jansson.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

/* A fact table being read in the order of the journal. */
struct cursor {
    const struct tb_fact_table *table;
    struct tb_stmt *q;
    int columns;
    bool row; /* a row is waiting */
};

static void canon_row(struct tb_text *t, const struct cursor *c)
{
    struct tb_value v;

    tb_text_clear(t);
    for (int i = 0; i < c->columns; i++) {
        tb_col_value(&v, c->q, i);
        tb_canon_value(t, &v);
    }
}

/* All tables are walked side by side in the order of the journal: one pass, and memory for one row of each. */
static tb_rc advance(struct cursor *c, struct tb_err *err)
{
    tb_rc rc = tb_row(c->q, err);

    c->row = rc == TB_OK;
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

static int64_t waiting_entry(const struct cursor *c)
{
    return c->row ? tb_col_whole(c->q, c->columns - 1) : INT64_MAX; /* entry stands last */
}

/* Note the first thing that does not fit; later ones are left alone. */
static void TB_PRINTF(3, 4) misfit(struct tb_proof *p, int64_t number, const char *fmt, ...)
{
    va_list ap;

    if (p->first_bad)
        return;
    p->first_bad = number;
    va_start(ap, fmt);
    /* NOLINTNEXTLINE(clang-diagnostic-format-nonliteral): the catalogue keeps the conversions (msgfmt -c) */
    (void)vsnprintf(p->why, sizeof p->why, _(fmt), ap);
    va_end(ap);
}

/* The rows of one table under one journal row, against what the journal says of them. */
static tb_rc check_table(struct tb_proof *p, struct cursor *c, const struct tb_journal_row *j,
                         const json_t *said, struct tb_err *err)
{
    crypto_hash_sha256_state hash;
    char hex[TB_DIGEST_HEX];
    struct tb_text t = { 0 };
    int64_t rows = 0, want = json_integer_value(json_object_get(said, "rows"));
    const char *digest = json_string_value(json_object_get(said, "sha256"));
    tb_rc rc = TB_OK;

    (void)crypto_hash_sha256_init(&hash);
    while (rc == TB_OK && waiting_entry(c) == j->number) {
        canon_row(&t, c);
        (void)crypto_hash_sha256_update(&hash, (const unsigned char *)t.s, t.n);
        rows++;
        rc = advance(c, err);
    }
    tb_text_free(&t);
    if (rc != TB_OK)
        return rc;
    p->facts += rows;
    tb_digest_end(hex, &hash);
    if (rows != want)
        misfit(p, j->number,
               "journal row %lld (%s %s by %s, %s): %lld rows of table %s were recorded, %lld are there",
               (long long)j->number, j->verb, j->subject, j->person, j->at, (long long)want, c->table->name,
               (long long)rows);
    else if (rows && (!digest || strcmp(digest, hex) != 0))
        misfit(p, j->number, "journal row %lld (%s %s by %s, %s): a row of table %s is not what was recorded",
               (long long)j->number, j->verb, j->subject, j->person, j->at, c->table->name);
    return TB_OK;
}

/* A fact that names a journal row before this one which was passed already, or one that does not exist. */
static tb_rc skip_strays(struct tb_proof *p, struct cursor *c, int64_t below, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    while (rc == TB_OK && c->row && waiting_entry(c) < below) {
        misfit(p, waiting_entry(c) > 0 ? waiting_entry(c) : 1,
               "table %s holds a row that names journal row %lld, which does not exist", c->table->name,
               (long long)waiting_entry(c));
        rc = advance(c, err);
    }
    return rc;
}

/* Digest, chain and content of one journal row, and every table that has rows under it. */
static tb_rc check_row(struct tb_proof *p, struct cursor *c, size_t n, const struct tb_journal_row *j,
                       const char *before, struct tb_err *err)
{
    char digest[TB_DIGEST_HEX];
    json_t *content = json_loads(j->content, JSON_REJECT_DUPLICATES, NULL);
    size_t named = json_object_size(content), known = 0;
    tb_rc rc = TB_OK;

    tb_journal_digest(digest, j);
    if (j->number != p->rows + 1)
        misfit(p, p->rows + 1, "journal row %lld is missing", (long long)(p->rows + 1));
    if (strcmp(j->before, before) != 0)
        misfit(p, j->number, "journal row %lld does not follow the row before it: the chain is broken",
               (long long)j->number);
    if (strcmp(j->digest, digest) != 0)
        misfit(p, j->number, "journal row %lld (%s %s by %s, %s) itself was changed", (long long)j->number,
               j->verb, j->subject, j->person, j->at);
    for (size_t i = 0; rc == TB_OK && i < n; i++) {
        const json_t *said = json_object_get(content, c[i].table->name);

        known += said != NULL;
        if ((rc = skip_strays(p, &c[i], j->number, err)) == TB_OK)
            rc = check_table(p, &c[i], j, said, err);
    }
    /* a table of a later program would hold facts that this one cannot check: that is said, not passed over */
    if (rc == TB_OK && named != known)
        misfit(p, j->number, "journal row %lld names a table that this program does not know",
               (long long)j->number);
    json_decref(content);
    return rc;
}

static tb_rc walk(struct tb_proof *p, struct cursor *c, size_t n, struct tb_book *b, struct tb_err *err)
{
    struct tb_stmt *q = tb_sql_journal_all(b);
    struct tb_arena mem = { 0 };
    struct tb_journal_row j;
    tb_rc rc;

    memset(p->digest, '0', 64);
    p->digest[64] = '\0';
    while ((rc = tb_next_journal_row(&j, q, &mem, err)) == TB_OK) {
        if ((rc = check_row(p, c, n, &j, p->digest, err)) != TB_OK)
            break;
        (void)snprintf(p->digest, sizeof p->digest, "%s", j.digest);
        p->rows++;
        tb_arena_free(&mem);
    }
    tb_done(q);
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

/* One moment of the book for all cursors, whoever writes meanwhile. */
tb_rc tb_book_prove(struct tb_proof *out, struct tb_book *b, struct tb_err *err)
{
    struct cursor c[TB_FACT_TABLES_MOST] = { 0 };
    tb_rc rc = tb_book_look(b, err);

    *out = (struct tb_proof){ 0 };
    if (rc != TB_OK)
        return rc;
    for (size_t i = 0; i < b->tables && rc == TB_OK; i++) {
        c[i].table = &b->table[i];
        c[i].columns = tb_sql_table[b->table[i].read].outs;
        c[i].q = tb_query(b, b->table[i].read);
        rc = advance(&c[i], err);
    }
    if (rc == TB_OK)
        rc = walk(out, c, b->tables, b, err);
    for (size_t i = 0; i < b->tables && rc == TB_OK; i++)
        rc = skip_strays(out, &c[i], INT64_MAX, err);
    for (size_t i = 0; i < b->tables; i++)
        tb_done(c[i].q);
    tb_book_look_away(b);
    return rc;
}
