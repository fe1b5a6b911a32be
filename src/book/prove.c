/* The proof: walk the journal and compute every digest again from the facts as they stand now. */
#include "book/prove_impl.h"

#include "base/say.h"

#include <stdarg.h>
#include <string.h>

void tb_misfit(struct tb_proof *p, int64_t number, const char *fmt, ...)
{
    va_list ap;

    if (!p->fits)
        return;
    p->fits = false;
    p->first_bad = number;
    va_start(ap, fmt);
    /* NOLINTNEXTLINE(clang-diagnostic-format-nonliteral): the catalogue keeps the conversions (msgfmt -c) */
    (void)vsnprintf(p->why, sizeof p->why, _(fmt), ap);
    va_end(ap);
}

/* --- the walk --------------------------------------------------------------------------------------------------- */

static tb_rc walk(struct tb_proving *w, struct tb_book *b, struct tb_err *err)
{
    struct tb_proof *p = w->proof;
    struct tb_stmt *q = tb_sql_journal_all(b);
    struct tb_arena mem = { 0 };
    struct tb_journal_row j;
    tb_rc rc;

    memset(p->digest, '0', 64);
    p->digest[64] = '\0';
    while ((rc = tb_row(q, err)) == TB_OK) {
        /* before it is read: what is read as text is text from then on */
        tb_prove_stored(p, q, &tb_sql_table[TB_SQL_JOURNAL_ALL], "journal", p->rows + 1);
        if ((rc = tb_read_journal_row(&j, q, &mem, err)) != TB_OK || (rc = tb_prove_row(w, &j, err)) != TB_OK)
            break;
        (void)snprintf(p->digest, sizeof p->digest, "%s", j.digest);
        p->rows++;
        p->by_table += j.rule == TB_RULE_TABLES;
        tb_circumstances_add(&p->circumstances, j.number, j.at, j.person, j.content, j.aside);
        tb_arena_free(&mem);
    }
    tb_done(q);
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

/* A row that nobody finished covers nothing, and the next record would have its number. */
static tb_rc unfinished(struct tb_proof *p, struct tb_book *b, struct tb_err *err)
{
    int64_t rows = 0;
    tb_rc rc = tb_ask_whole(&rows, tb_sql_journal_count(b), err);

    if (rc == TB_OK && rows > p->rows)
        tb_misfit(p, p->rows + 1,
                  "the journal holds %lld rows without a digest, which no record leaves behind",
                  (long long)(rows - p->rows));
    return rc;
}

static int owner_column(const struct tb_fact_table *t)
{
    const struct tb_owner *o = tb_owner_of(t->name);
    int i = o ? tb_sql_table[t->read].outs - 1 : -1;

    while (i >= 0 && strcmp(tb_sql_table[t->read].out[i].name, o->column) != 0)
        i--;
    return i;
}

static tb_rc facts(struct tb_proving *w, struct tb_book *b, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < b->tables && rc == TB_OK; i++) {
        struct tb_prove_cursor *c = &w->cursor[w->tables++];

        c->table = &b->table[i];
        c->columns = tb_sql_table[b->table[i].read].outs;
        c->owner = owner_column(&b->table[i]);
        c->q = tb_query(b, b->table[i].read);
        rc = tb_prove_advance(c, err);
    }
    if (rc == TB_OK && (rc = walk(w, b, err)) == TB_OK)
        rc = unfinished(w->proof, b, err);
    for (size_t i = 0; i < w->tables && rc == TB_OK; i++)
        rc = tb_prove_strays(w, &w->cursor[i], INT64_MAX, err);
    for (size_t i = 0; i < w->tables; i++)
        tb_done(w->cursor[i].q);
    return rc;
}

/* The shape first: where a table is not what it should be, its rows say nothing. */
tb_rc tb_prove_meeting(struct tb_proof *out, struct tb_book *b, tb_met_fact_fn *met, void *arg,
                       struct tb_err *err)
{
    struct tb_proving w = { .proof = out, .book = b, .rule = TB_RULE_TABLES, .met = met, .arg = arg };
    struct tb_text wrong = { 0 };
    tb_rc rc;

    *out = (struct tb_proof){ .fits = true };
    if ((rc = tb_db_shape(&wrong, b->db, err)) == TB_OK && !wrong.n) {
        rc = facts(&w, b, err);
        if (rc == TB_OK && out->fits)
            rc = tb_db_pages(&wrong, b->db, err);
    }
    if (wrong.n && out->fits) { /* a sentence in the reader's language already */
        out->fits = false;
        (void)snprintf(out->why, sizeof out->why, "%s", wrong.s);
    }
    tb_text_free(&w.record);
    tb_shares_free(&w.shares);
    tb_text_free(&wrong);
    return rc;
}
