/* One journal row of a book that is proved: its digest, its place in the chain, and the facts under it. */
#include "book/prove_impl.h"

#include "base/say.h"

#include <jansson.h>
#include <stdlib.h>
#include <string.h>

/* All tables are walked side by side in the order of the journal: one pass, and memory for one row of each. */
tb_rc tb_prove_advance(struct tb_prove_cursor *c, struct tb_err *err)
{
    tb_rc rc = tb_row(c->q, err);

    c->row = rc == TB_OK;
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

static int64_t waiting_entry(const struct tb_prove_cursor *c)
{
    return c->row ? tb_col_whole(c->q, c->columns - 1) : INT64_MAX; /* entry stands last */
}

/* --- values as they are stored ---------------------------------------------------------------------------------- */

static bool stored_as_declared(const struct tb_value *v, const struct tb_sql_column *c)
{
    switch (v->kind) {
    case TB_VALUE_TEXT:
        return c->kind == TB_KIND_TEXT;
    case TB_VALUE_WHOLE:
        return c->kind == TB_KIND_WHOLE;
    case TB_VALUE_NUMBER:
        return c->kind == TB_KIND_NUMBER;
    case TB_VALUE_BYTES:
        return c->kind == TB_KIND_BYTES;
    case TB_VALUE_NOTHING:
        return c->null;
    }
    return false;
}

void tb_prove_stored(struct tb_proof *p, struct tb_stmt *q, const struct tb_sql_text *text, const char *table,
                     int64_t number)
{
    for (int i = 0; i < text->outs; i++) {
        struct tb_value v;

        tb_col_value(&v, q, i);
        if (!stored_as_declared(&v, &text->out[i]))
            tb_misfit(p, number,
                      "journal row %lld: column %s of table %s does not hold what such a column holds",
                      (long long)number, text->out[i].name, table);
        else if (v.kind == TB_VALUE_TEXT && memchr(v.text, '\0', v.size))
            tb_misfit(p, number, "journal row %lld: a text in column %s of table %s goes on behind its end",
                      (long long)number, text->out[i].name, table);
    }
}

static void canon_row(struct tb_text *t, const struct tb_prove_cursor *c, int64_t rule)
{
    struct tb_value v;

    tb_text_clear(t);
    for (int i = 0; i < c->columns; i++) {
        tb_col_value(&v, c->q, i);
        tb_canon_value(t, &v, rule);
    }
}

/* --- the facts of one table under one row ------------------------------------------------------------------------- */

/* A digest that grows with each fact, by either rule. */
struct digest {
    int64_t rule;
    int64_t rows;
    crypto_hash_sha256_state hash;
    struct tb_tree tree;
    unsigned char salt[TB_HASH];
};

static void begin(struct digest *d, const struct tb_journal_row *j)
{
    d->rule = j->rule;
    d->rows = 0;
    d->tree.n = 0;
    if (j->rule == TB_RULE_TABLES)
        (void)crypto_hash_sha256_init(&d->hash);
    else if (!tb_hash_of_hex(d->salt, j->salt)) /* which is told where the row itself is checked */
        memset(d->salt, 0, sizeof d->salt);
}

static void end(char hex[TB_DIGEST_HEX], struct digest *d)
{
    unsigned char root[TB_HASH];

    if (d->rule == TB_RULE_TABLES) {
        tb_digest_end(hex, &d->hash);
    } else {
        tb_tree_root(root, &d->tree);
        tb_hash_hex(hex, root);
    }
}

/* The fact goes into the share of its lot, as it did when it was written. */
static tb_rc share(struct tb_proving *w, const struct tb_prove_cursor *c, const unsigned char leaf[TB_HASH],
                   struct tb_err *err)
{
    const struct tb_owner *o = c->owner >= 0 ? tb_owner_of(c->table->name) : NULL;
    struct tb_value v = { .kind = TB_VALUE_NOTHING };
    const char *lot = "";
    tb_rc rc = TB_OK;

    if (o)
        tb_col_value(&v, c->q, c->owner);
    if (v.kind == TB_VALUE_TEXT)
        rc = tb_lot_of_owner(&lot, w->book, o, v.text, err);
    tb_shares_lot(&w->shares, lot);
    if (o && o->told)
        tb_shares_fact(&w->shares, lot, c->table->name, leaf);
    return rc;
}

static tb_rc add_leaf(struct tb_proving *w, struct digest *d, const struct tb_prove_cursor *c, int64_t entry,
                      int64_t want, struct tb_err *err)
{
    unsigned char nonce[TB_HASH], leaf[TB_HASH];
    struct tb_value id;

    tb_fact_nonce(nonce, d->salt, c->table->name, d->tree.n);
    tb_leaf(leaf, nonce, w->record.s, w->record.n);
    if (w->met) {
        tb_col_value(&id, c->q, 0);
        w->met(w->arg, &(struct tb_met_fact){ .table = c->table->name,
                                              .entry = entry,
                                              .at = d->tree.n,
                                              .of = (uint64_t)want,
                                              .id = id.kind == TB_VALUE_TEXT ? id.text : "",
                                              .nonce = nonce,
                                              .leaf = leaf });
    }
    tb_tree_add(&d->tree, leaf);
    return d->rule == TB_RULE_SHARES ? share(w, c, leaf, err) : TB_OK;
}

/* All facts of the table that name this row, into its digest. */
static tb_rc take_facts(struct tb_proving *w, struct digest *d, struct tb_prove_cursor *c, int64_t entry,
                        int64_t want, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    while (rc == TB_OK && c->row && waiting_entry(c) == entry) {
        tb_prove_stored(w->proof, c->q, &tb_sql_table[c->table->read], c->table->name, entry);
        canon_row(&w->record, c, d->rule);
        if (d->rule == TB_RULE_TABLES)
            (void)crypto_hash_sha256_update(&d->hash, (const unsigned char *)w->record.s, w->record.n);
        else
            rc = add_leaf(w, d, c, entry, want, err);
        d->rows++;
        if (rc == TB_OK)
            rc = tb_prove_advance(c, err);
    }
    w->proof->facts += d->rows;
    return rc;
}

/* The rows of one table under one journal row, against what the journal says of them. */
static tb_rc check_table(struct tb_proving *w, struct tb_prove_cursor *c, const struct tb_journal_row *j,
                         const json_t *said, struct tb_err *err)
{
    const char *key = j->rule == TB_RULE_TABLES ? "sha256" : "root";
    const char *digest = json_string_value(json_object_get(said, key));
    int64_t want = json_integer_value(json_object_get(said, "rows"));
    char hex[TB_DIGEST_HEX];
    struct digest d;
    tb_rc rc;

    begin(&d, j);
    if ((rc = take_facts(w, &d, c, j->number, want, err)) != TB_OK)
        return rc;
    end(hex, &d);
    if (d.rows != want)
        tb_misfit(w->proof, j->number,
                  "journal row %lld (%s %s by %s, %s): %lld rows of table %s were recorded, %lld are there",
                  (long long)j->number, j->verb, j->subject, j->person, j->at, (long long)want,
                  c->table->name, (long long)d.rows);
    else if (d.rows && (!digest || strcmp(digest, hex) != 0))
        tb_misfit(w->proof, j->number,
                  "journal row %lld (%s %s by %s, %s): a row of table %s is not what was recorded",
                  (long long)j->number, j->verb, j->subject, j->person, j->at, c->table->name);
    return TB_OK;
}

tb_rc tb_prove_strays(struct tb_proving *w, struct tb_prove_cursor *c, int64_t below, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    while (rc == TB_OK && c->row && (waiting_entry(c) < below || below == INT64_MAX)) {
        tb_misfit(w->proof, waiting_entry(c) > 0 ? waiting_entry(c) : 1,
                  "table %s holds a row that names journal row %lld, which does not exist", c->table->name,
                  (long long)waiting_entry(c));
        rc = tb_prove_advance(c, err);
    }
    return rc;
}

/* --- the row itself --------------------------------------------------------------------------------------------- */

static void check_chain(struct tb_proving *w, const struct tb_journal_row *j)
{
    struct tb_proof *p = w->proof;
    char digest[TB_DIGEST_HEX];

    if (j->number != p->rows + 1)
        tb_misfit(p, p->rows + 1, "journal row %lld is missing", (long long)(p->rows + 1));
    if (strcmp(j->before, p->digest) != 0)
        tb_misfit(p, j->number, "journal row %lld does not follow the row before it: the chain is broken",
                  (long long)j->number);
    if (j->rule < w->rule || j->rule > TB_RULE_SHARES)
        tb_misfit(p, j->number,
                  "journal row %lld says that it keeps rule %lld, and the row before it keeps rule %lld",
                  (long long)j->number, (long long)j->rule, (long long)w->rule);
    tb_journal_digest(digest, j);
    if (strcmp(j->digest, digest) != 0)
        tb_misfit(p, j->number, "journal row %lld (%s %s by %s, %s) itself was changed", (long long)j->number,
                  j->verb, j->subject, j->person, j->at);
    w->rule = j->rule;
}

/* A row is about the lots of its facts, and about that of its subject. */
static tb_rc check_shares(struct tb_proving *w, const struct tb_journal_row *j, struct tb_err *err)
{
    struct tb_text about = { 0 };
    tb_rc rc;

    if (j->rule != TB_RULE_SHARES)
        return TB_OK;
    if ((rc = tb_shares_subject(&w->shares, w->book, j->subject, err)) == TB_OK) {
        tb_shares_about(&about, &w->shares);
        if (strcmp(tb_text_str(&about), j->about) != 0)
            tb_misfit(
                w->proof, j->number,
                "journal row %lld (%s %s by %s, %s) names other lots or other shares of them than its facts "
                "give",
                (long long)j->number, j->verb, j->subject, j->person, j->at);
    }
    tb_text_free(&about);
    return rc;
}

tb_rc tb_prove_row(struct tb_proving *w, const struct tb_journal_row *j, struct tb_err *err)
{
    json_t *content = json_loads(j->content, JSON_REJECT_DUPLICATES, NULL);
    size_t named = json_object_size(content), known = json_object_get(content, TB_CONTENT_ACT) ? 1 : 0;
    tb_rc rc = TB_OK;

    check_chain(w, j);
    if (!tb_aside_fits(j, content))
        tb_misfit(w->proof, j->number,
                  "journal row %lld (%s %s by %s, %s): what stands beside it is not what was recorded",
                  (long long)j->number, j->verb, j->subject, j->person, j->at);
    tb_shares_clear(&w->shares);
    for (size_t i = 0; rc == TB_OK && i < w->tables; i++) {
        struct tb_prove_cursor *c = &w->cursor[i];
        const json_t *said = json_object_get(content, c->table->name);

        known += said != NULL;
        if ((rc = tb_prove_strays(w, c, j->number, err)) == TB_OK)
            rc = check_table(w, c, j, said, err);
    }
    if (rc == TB_OK)
        rc = check_shares(w, j, err);
    /* a table of a later program would hold facts that this one cannot check: that is said, not passed over */
    if (rc == TB_OK && named != known)
        tb_misfit(w->proof, j->number, "journal row %lld names a table that this program does not know",
                  (long long)j->number);
    json_decref(content);
    return rc;
}
