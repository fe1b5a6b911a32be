/* The book as a source of rows for the month's sheets: one state of it, read from cursors. */
#include "book/stmt.h"
#include "tenterbook/analysis.h"
#include "tenterbook/anchor.h"
#include "tenterbook/month_rows.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define KEEP_ROWS 512 /* the words of so many rows stay in memory before they are freed together */

struct tb_month_book {
    struct tb_book *book;
    char from[TB_DAY_LEN + 1], until[TB_DAY_LEN + 1];
    char state[64];
    struct tb_text anchor;
    const char *first;
    struct tb_arena mem;
};

static tb_rc find_weighed(struct tb_month_weighed *out, struct tb_book *b, const char *lot,
                          struct tb_err *err)
{
    struct tb_stmt *q = tb_sql_month_weight(b, lot);
    struct tb_arena mem = { 0 };
    struct tb_month_weight row;
    tb_rc rc;

    *out = (struct tb_month_weighed){ { 0 }, { 0 } };
    while ((rc = tb_next_month_weight(&row, q, &mem, err)) == TB_OK) {
        out->kg[row.standing] += row.unmeasured;
        out->all[row.standing] += row.total;
    }
    tb_done(q);
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

/* What laboratories found, as words. */
static tb_rc find_words(struct tb_month_lot *l, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_analysis *x = NULL;
    struct tb_text words = { 0 };
    size_t n = 0;
    tb_rc rc = TB_OK;

    l->found = "";
    l->analysis = NULL;
    l->burn = NULL;
    l->burn_n = 0;
    if (l->analyses && (rc = tb_analysis_list(&x, &n, b, l->id, mem, err)) == TB_OK) {
        tb_analysis_words(&words, x, n);
        l->found = tb_arena_strdup(mem, tb_text_str(&words));
        l->analysis = x;
        l->analyses = (int64_t)n;
        if (l->verdict != TB_FITS) /* a burn may have stopped it, before the analysis or after */
            rc = tb_burn_list(&l->burn, &l->burn_n, b, l->id, mem, err);
    }
    tb_text_free(&words);
    return rc;
}

/* The tested bolts of a lot, read side by side with all of them: both come by key. */
struct tested {
    struct tb_stmt *q; /* NULL: no bolt of the lot was tested */
    struct tb_arena mem;
    struct tb_month_tested row; /* bolt NULL: no more */
};

static tb_rc tested_next(struct tested *b, struct tb_err *err)
{
    tb_rc rc = b->q ? tb_next_month_tested(&b->row, b->q, &b->mem, err) : TB_ENOTFOUND;

    if (rc == TB_OK)
        return rc;
    b->row.bolt = NULL;
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

static tb_rc tests_of(struct tb_month_bolt *bolt, struct tested *b, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    while (rc == TB_OK && b->row.bolt && strcmp(b->row.bolt, bolt->id) < 0)
        rc = tested_next(b, err);
    if (rc == TB_OK && b->row.bolt && strcmp(b->row.bolt, bolt->id) == 0) {
        bolt->burns = b->row.burns;
        bolt->tests = b->row.burns + b->row.tests;
    }
    return rc;
}

static tb_rc bolts_of(struct tb_book *b, const struct tb_month_lot *lot, tb_month_bolt_fn *fn, void *arg,
                      struct tb_err *err)
{
    struct tb_stmt *q = tb_sql_month_bolts(b, lot->id);
    struct tested tested = { .q = lot->bolts_tested ? tb_sql_month_tested(b, lot->id) : NULL };
    struct tb_arena mem = { 0 };
    struct tb_month_bolt bolt;
    size_t kept = 0;
    tb_rc rc = tested_next(&tested, err);

    while (rc == TB_OK && (rc = tb_next_month_bolt(&bolt, q, &mem, err)) == TB_OK) {
        if ((rc = tests_of(&bolt, &tested, err)) != TB_OK || (rc = fn(arg, lot, &bolt, err)) != TB_OK)
            break;
        if (++kept % KEEP_ROWS == 0)
            tb_arena_free(&mem);
    }
    tb_done(q);
    tb_done(tested.q);
    tb_arena_free(&mem);
    tb_arena_free(&tested.mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

/* All lots of a statement that is bound; bolt NULL: without their bolts. */
static tb_rc walk(struct tb_book *b, struct tb_stmt *q, tb_month_lot_fn *fn, tb_month_bolt_fn *bolt,
                  void *arg, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_month_lot lot;
    tb_rc rc;

    while ((rc = tb_next_month_lot(&lot, q, &mem, err)) == TB_OK) {
        if ((rc = find_words(&lot, b, &mem, err)) != TB_OK ||
            (rc = find_weighed(&lot.weighed, b, lot.id, err)) != TB_OK ||
            (rc = fn(arg, &lot, err)) != TB_OK || (bolt && (rc = bolts_of(b, &lot, bolt, arg, err)) != TB_OK))
            break;
        tb_arena_free(&mem);
    }
    tb_done(q);
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

static tb_rc goods(void *from, tb_month_lot_fn *lot, tb_month_bolt_fn *bolt, void *arg, struct tb_err *err)
{
    struct tb_month_book *m = from;

    return walk(m->book, tb_sql_month_lots(m->book, m->from, m->until, 0), lot, bolt, arg, err);
}

static tb_rc open_lots(void *from, tb_month_lot_fn *fn, void *arg, struct tb_err *err)
{
    struct tb_month_book *m = from;

    return walk(m->book, tb_sql_month_lots(m->book, "", m->until, 1), fn, NULL, arg, err);
}

struct passing {
    struct tb_book *book;
    tb_month_said_fn *fn;
    void *arg;
};

static tb_rc pass_on(void *arg, const struct tb_lot_said *said, struct tb_err *err)
{
    const struct passing *p = arg;
    struct tb_analysis *a = NULL;
    struct tb_arena mem = { 0 };
    size_t n = 0;
    struct tb_month_weighed weighed;
    tb_rc rc = said->analyses ? tb_analysis_list(&a, &n, p->book, said->lot, &mem, err) : TB_OK;

    if (rc == TB_OK && (rc = find_weighed(&weighed, p->book, said->lot, err)) == TB_OK)
        rc = p->fn(p->arg, said, &weighed, a, n, err);
    tb_arena_free(&mem);
    return rc;
}

static tb_rc before(void *from, const char *first, tb_month_said_fn *fn, void *arg, struct tb_err *err)
{
    struct tb_month_book *m = from;

    return tb_lot_said_each(m->book, first, m->from, pass_on, &(struct passing){ m->book, fn, arg }, err);
}

static int by_size(const void *a, const void *b)
{
    int64_t x = *(const int64_t *)a, y = *(const int64_t *)b;

    return x < y ? -1 : x > y;
}

/* Half of the answers took no longer than the median: one that was lost for a year does not move it. */
static void turnaround(struct tb_month_work *out, int64_t *days)
{
    size_t n = (size_t)out->answered, upper = n / 2, lower = n ? (n - 1) / 2 : 0;

    if (!n)
        return;
    qsort(days, n, sizeof *days, by_size);
    out->median = (double)(days[lower] + days[upper]) / 2;
    out->longest = days[n - 1];
}

static tb_rc laboratories(struct tb_month_work *out, struct tb_month_book *m, struct tb_err *err)
{
    struct tb_stmt *q = tb_sql_month_sent(m->book);
    struct tb_arena mem = { 0 };
    struct tb_month_sent row;
    int64_t *days = NULL;
    size_t n = 0, cap = 0;
    tb_rc rc;

    while ((rc = tb_next_month_sent(&row, q, &mem, err)) == TB_OK) {
        if (!row.answered && !out->unanswered++)
            (void)snprintf(out->oldest, sizeof out->oldest, "%s", row.sent);
        if (!row.answered || strcmp(row.answered, m->from) < 0 || strcmp(row.answered, m->until) >= 0)
            continue;
        TB_PUSH_ROOM(days, n, cap);
        days[n++] = tb_day_number(row.answered) - tb_day_number(row.sent);
    }
    tb_done(q);
    out->answered = (int64_t)n;
    turnaround(out, days);
    free(days);
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

static tb_rc work(struct tb_month_work *out, void *from, struct tb_err *err)
{
    struct tb_month_book *m = from;
    tb_rc rc = tb_one_month_work(out, tb_sql_month_work(m->book, m->from, m->until), NULL, err);

    return rc == TB_OK ? laboratories(out, m, err) : rc;
}

/* One state of the book from the first sheet to the last: their totals must agree although others go on writing. */
tb_rc tb_month_from_book(struct tb_month_book **out, struct tb_month_source *source, struct tb_book *b,
                         const char *from, const char *until, struct tb_err *err)
{
    struct tb_month_book *m;
    struct tb_anchor a;
    tb_rc rc = tb_book_look(b, err);

    if (rc != TB_OK)
        return rc;
    if ((rc = tb_anchor_of_look(&a, b, err)) != TB_OK) {
        tb_book_look_away(b);
        return rc;
    }
    m = tb_new(struct tb_month_book);
    m->book = b;
    (void)snprintf(m->from, sizeof m->from, "%s", from);
    (void)snprintf(m->until, sizeof m->until, "%s", until);
    (void)snprintf(m->state, sizeof m->state, "journal %lld, %.16s", (long long)a.number, a.digest);
    tb_anchor_line(&m->anchor, &a);
    if ((rc = tb_ask_text(&m->first, tb_sql_month_first(b), &m->mem, err)) == TB_ENOTFOUND) {
        m->first = "";
        rc = TB_OK;
    }
    if (rc != TB_OK) {
        tb_month_book_close(m);
        return rc;
    }
    *source = (struct tb_month_source){ .from = m,
                                        .site = tb_book_site(b)->name,
                                        .state = m->state,
                                        .anchor = tb_text_str(&m->anchor),
                                        .goods = goods,
                                        .open = open_lots,
                                        .work = work,
                                        .before = before,
                                        .first = m->first };
    *out = m;
    return TB_OK;
}

void tb_month_book_close(struct tb_month_book *m)
{
    if (!m)
        return;
    tb_book_look_away(m->book);
    tb_text_free(&m->anchor);
    tb_arena_free(&m->mem);
    free(m);
}
