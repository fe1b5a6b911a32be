/* Many lots weighed side by side: one thread reads the book, all processors weigh. */
#include "work/judge_all.h"
#include "work/threads.h"

#include <stdlib.h>

#define BATCH 512 /* lots whose burns are in memory at a time */

struct batch {
    const struct tb_evidence *ev;
    struct tb_weighed *one;
    struct tb_lot_burns *burns;
    struct tb_err *err;
    tb_rc *rc;
};

static void weigh(void *arg, size_t i)
{
    struct batch *b = arg;

    b->rc[i] = tb_bench_weigh(&b->one[i].v, &b->burns[i], b->ev, 0, &b->err[i]);
    b->one[i].weighed = b->rc[i] == TB_OK;
}

static tb_rc weigh_batch(struct batch *t, size_t n, struct tb_book *b, struct tb_arena *mem,
                         struct tb_err *err)
{
    struct tb_arena burns = { 0 };
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if ((rc = tb_lot_find(&t->one[i].lot, b, t->one[i].ref, mem, err)) == TB_OK)
            rc = tb_bench_read_with(&t->burns[i], b, &t->one[i].lot, t->one[i].pending, TB_BOOK_NOW, &burns,
                                    err);
    if (rc == TB_OK)
        tb_in_parallel(weigh, t, n);
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if ((rc = t->rc[i]) != TB_OK)
            *err = t->err[i];
    tb_arena_free(&burns);
    return rc;
}

tb_rc tb_weigh_lots(struct tb_weighed *one, size_t n, struct tb_book *b, const struct tb_evidence *ev,
                    struct tb_arena *mem, struct tb_err *err)
{
    struct batch t = { .ev = ev,
                       .burns = tb_array(struct tb_lot_burns, BATCH),
                       .err = tb_array(struct tb_err, BATCH),
                       .rc = tb_array(tb_rc, BATCH) };
    tb_rc rc = TB_OK;

    for (size_t at = 0; at < n && rc == TB_OK; at += BATCH) {
        t.one = one + at;
        rc = weigh_batch(&t, n - at < BATCH ? n - at : BATCH, b, mem, err);
    }
    free(t.burns);
    free(t.err);
    free(t.rc);
    return rc;
}
