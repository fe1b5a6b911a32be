/* judge_all.h - inside the module: many lots weighed side by side. */
#ifndef TENTERBOOK_WORK_JUDGE_ALL_H
#define TENTERBOOK_WORK_JUDGE_ALL_H

#include "work/verdict.h"

/* One lot of many: what is known of it, and its verdict. */
struct tb_weighed {
    const char *ref;
    const struct tb_pending *pending; /* NULL: nothing */
    struct tb_lot lot;
    struct tb_lot_verdict v;
    bool weighed; /* v holds a verdict */
};
/*
 * tb_weigh_lots - read n lots one after another, weigh them on all processors. Fills lot, v and weighed; ref and pending
 * are given. After a failure some may be weighed: free each with tb_lot_verdict_free.
 */
tb_rc tb_weigh_lots(struct tb_weighed *one, size_t n, struct tb_book *b, const struct tb_evidence *ev,
                    struct tb_arena *mem, struct tb_err *err);

#endif
