/* The book as a source of rows for the month's sheets: one state of it, read from cursors. */
#include "tenterbook/month.h"
#include "book/db.h"
#include "tenterbook/analysis.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define KEEP_ROWS 512 /* the words of so many rows stay in memory before they are freed together */

struct tb_month_book {
    struct tb_book *book;
    char from[TB_DAY_LEN + 1], until[TB_DAY_LEN + 1];
    char state[64];
};

static void take_lot(struct tb_month_lot *l, const char **id, int64_t *analyses, struct tb_stmt *q,
                     struct tb_arena *mem)
{
    int c = 0;

    *id = tb_col_text(q, c++, mem);
    l->ref = tb_col_text(q, c++, mem);
    l->delivery_ref = tb_col_text(q, c++, mem);
    l->note = tb_col_text(q, c++, mem);
    l->arrived = tb_col_text(q, c++, mem);
    l->supplier = tb_col_text(q, c++, mem);
    l->article = tb_col_text(q, c++, mem);
    l->colour = tb_col_text(q, c++, mem);
    l->dye_lot = tb_col_text(q, c++, mem);
    l->origin = tb_col_text(q, c++, mem);
    l->declared = tb_col_text(q, c++, mem);
    l->clear = tb_col_whole(q, c++) != 0;
    l->bolts = tb_col_whole(q, c++);
    l->bolts_burnt = tb_col_whole(q, c++);
    l->burns = tb_col_whole(q, c++);
    l->metres = tb_col_number(q, c++);
    l->unit_price = tb_col_number(q, c++);
    l->currency = tb_col_text(q, c++, mem);
    l->verdict = tb_col_text(q, c++, mem);
    l->log_ratio = tb_col_number(q, c++);
    l->standing = tb_col_text(q, c++, mem);
    l->since = tb_col_text(q, c++, mem);
    l->why = tb_col_text(q, c++, mem);
    l->detail = tb_col_text(q, c++, mem);
    *analyses = tb_col_whole(q, c++);
    l->words = tb_col_text(q, c++, mem);
    l->found = "";
}

static tb_rc find_words(struct tb_month_lot *l, struct tb_book *b, const char *id, struct tb_arena *mem,
                        struct tb_err *err)
{
    struct tb_analysis *x = NULL;
    struct tb_text words = { 0 };
    size_t n = 0;
    tb_rc rc = tb_analysis_list(&x, &n, b, id, mem, err);

    if (rc == TB_OK) {
        tb_analysis_words(&words, x, n);
        l->found = tb_arena_strdup(mem, tb_text_str(&words));
    }
    tb_text_free(&words);
    return rc;
}

/* The burnt bolts of a lot, read side by side with all of them: both come by key. */
struct burnt {
    struct tb_stmt *q;
    struct tb_arena mem;
    const char *bolt; /* NULL: no more */
    int64_t burns;
};

static tb_rc burnt_next(struct burnt *b, struct tb_err *err)
{
    tb_rc rc = b->q ? tb_row(b->q, err) : TB_ENOTFOUND;

    b->bolt = NULL;
    if (rc == TB_OK) {
        b->bolt = tb_col_text(b->q, 0, &b->mem);
        b->burns = tb_col_whole(b->q, 1);
    }
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

static tb_rc burns_of(int64_t *out, struct burnt *b, const char *bolt, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    *out = 0;
    while (rc == TB_OK && b->bolt && strcmp(b->bolt, bolt) < 0)
        rc = burnt_next(b, err);
    if (rc == TB_OK && b->bolt && strcmp(b->bolt, bolt) == 0)
        *out = b->burns;
    return rc;
}

static tb_rc bolts_of(struct tb_book *b, const char *lot_id, const struct tb_month_lot *lot,
                      tb_month_bolt_fn *fn, void *arg, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_MONTH_BOLTS);
    struct burnt burnt = { 0 };
    struct tb_arena mem = { 0 };
    size_t kept = 0;
    tb_rc rc;

    if (lot->burns) {
        burnt.q = tb_query(b, TB_SQL_MONTH_BURNT);
        tb_bind_text(burnt.q, 1, lot_id);
    }
    tb_bind_text(q, 1, lot_id);
    rc = burnt_next(&burnt, err);
    while (rc == TB_OK && (rc = tb_row(q, err)) == TB_OK) {
        struct tb_month_bolt bolt = { .number = tb_col_text(q, 1, &mem),
                                      .metres = tb_col_number(q, 2),
                                      .width_cm = tb_col_number(q, 3),
                                      .mass_gm2 = tb_col_number(q, 4) };

        if ((rc = burns_of(&bolt.burns, &burnt, tb_col_text(q, 0, &mem), err)) != TB_OK ||
            (rc = fn(arg, lot, &bolt, err)) != TB_OK)
            break;
        if (++kept % KEEP_ROWS == 0)
            tb_arena_free(&mem);
    }
    tb_done(q);
    tb_done(burnt.q);
    tb_arena_free(&mem);
    tb_arena_free(&burnt.mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

/* All lots of a statement that is bound; bolt NULL: without their bolts. */
static tb_rc walk(struct tb_book *b, struct tb_stmt *q, tb_month_lot_fn *fn, tb_month_bolt_fn *bolt,
                  void *arg, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    tb_rc rc;

    while ((rc = tb_row(q, err)) == TB_OK) {
        struct tb_month_lot lot;
        int64_t analyses;
        const char *id;

        take_lot(&lot, &id, &analyses, q, &mem);
        if ((analyses && (rc = find_words(&lot, b, id, &mem, err)) != TB_OK) ||
            (rc = fn(arg, &lot, err)) != TB_OK ||
            (bolt && (rc = bolts_of(b, id, &lot, bolt, arg, err)) != TB_OK))
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
    struct tb_stmt *q = tb_query(m->book, TB_SQL_MONTH_LOTS);

    tb_bind_text(q, 1, m->from);
    tb_bind_text(q, 2, m->until);
    return walk(m->book, q, lot, bolt, arg, err);
}

static tb_rc open_lots(void *from, tb_month_lot_fn *fn, void *arg, struct tb_err *err)
{
    struct tb_month_book *m = from;
    struct tb_stmt *q = tb_query(m->book, TB_SQL_MONTH_OPEN);

    tb_bind_text(q, 1, m->until);
    return walk(m->book, q, fn, NULL, arg, err);
}

static tb_rc suppliers(void *from, tb_month_supplier_fn *fn, void *arg, struct tb_err *err)
{
    struct tb_month_book *m = from;
    struct tb_stmt *q = tb_query(m->book, TB_SQL_MONTH_SUPPLIERS);
    struct tb_arena mem = { 0 };
    tb_rc rc;

    tb_bind_text(q, 1, m->from);
    tb_bind_text(q, 2, m->until);
    while ((rc = tb_row(q, err)) == TB_OK) {
        struct tb_month_supplier s = { .name = tb_col_text(q, 0, &mem),
                                       .deliveries = tb_col_whole(q, 1),
                                       .lots = tb_col_whole(q, 2),
                                       .bolts = tb_col_whole(q, 3),
                                       .metres = tb_col_number(q, 4),
                                       .fits = tb_col_whole(q, 5),
                                       .contradicts = tb_col_whole(q, 6),
                                       .undecided = tb_col_whole(q, 7),
                                       .held = tb_col_whole(q, 8) };

        if ((rc = fn(arg, &s, err)) != TB_OK)
            break;
        tb_arena_free(&mem);
    }
    tb_done(q);
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

static tb_rc months(void *from, const char *first, tb_month_tally_fn *fn, void *arg, struct tb_err *err)
{
    struct tb_month_book *m = from;
    struct tb_stmt *q = tb_query(m->book, TB_SQL_MONTH_MONTHS);
    struct tb_arena mem = { 0 };
    tb_rc rc;

    tb_bind_text(q, 1, first);
    tb_bind_text(q, 2, m->until);
    while ((rc = tb_row(q, err)) == TB_OK) {
        struct tb_month_tally t = { .month = tb_col_text(q, 0, &mem),
                                    .lots = tb_col_whole(q, 1),
                                    .fits = tb_col_whole(q, 2),
                                    .contradicts = tb_col_whole(q, 3),
                                    .undecided = tb_col_whole(q, 4),
                                    .metres = tb_col_number(q, 5),
                                    .held_metres = tb_col_number(q, 6) };

        if ((rc = fn(arg, &t, err)) != TB_OK)
            break;
        tb_arena_free(&mem);
    }
    tb_done(q);
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

static tb_rc work(struct tb_month_work *out, void *from, struct tb_err *err)
{
    struct tb_month_book *m = from;
    struct tb_stmt *q = tb_query(m->book, TB_SQL_MONTH_WORK);
    tb_rc rc;

    tb_bind_text(q, 1, m->from);
    tb_bind_text(q, 2, m->until);
    rc = tb_row(q, err);
    if (rc == TB_OK)
        *out = (struct tb_month_work){ .deliveries = tb_col_whole(q, 0),
                                       .swatches = tb_col_whole(q, 1),
                                       .burns = tb_col_whole(q, 2),
                                       .bench_tests = tb_col_whole(q, 3),
                                       .verdicts = tb_col_whole(q, 4),
                                       .settled = tb_col_whole(q, 5) };
    tb_done(q);
    return rc;
}

tb_rc tb_month_from_book(struct tb_month_book **out, struct tb_month_source *source, struct tb_book *b,
                         const char *from, const char *until, struct tb_err *err)
{
    struct tb_month_book *m;
    char digest[65];
    int64_t number;
    tb_rc rc = tb_book_look(b, err);

    if (rc != TB_OK)
        return rc;
    if ((rc = tb_book_head(&number, digest, b, err)) != TB_OK) {
        tb_book_look_away(b);
        return rc;
    }
    m = tb_new(struct tb_month_book);
    m->book = b;
    (void)snprintf(m->from, sizeof m->from, "%s", from);
    (void)snprintf(m->until, sizeof m->until, "%s", until);
    (void)snprintf(m->state, sizeof m->state, "journal %lld, %.16s", (long long)number, digest);
    *source = (struct tb_month_source){ goods,    suppliers, open_lots, work, m, tb_book_site(b)->name,
                                        m->state, months };
    *out = m;
    return TB_OK;
}

void tb_month_book_close(struct tb_month_book *m)
{
    if (!m)
        return;
    tb_book_look_away(m->book);
    free(m);
}
