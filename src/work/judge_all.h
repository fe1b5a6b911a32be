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
    bool weighed;                  /* v holds a verdict */
    unsigned char stamp[TB_STAMP]; /* of what it was weighed from */
};
/* Everything the weighing reads: equal stamps give equal verdicts. */
void tb_weighed_stamp(unsigned char out[TB_STAMP], const struct tb_lot_burns *burns,
                      const struct tb_evidence *ev);
/*
 * tb_weigh_lots - read n lots one after another, weigh them on all processors. Fills lot, v, weighed and stamp; ref and
 * pending are given. A verdict that is there already is weighed again only where its lot, or the model, says something
 * else now. After a failure some may be weighed: free all with tb_weighed_free.
 */
tb_rc tb_weigh_lots(struct tb_weighed *one, size_t n, struct tb_book *b, const struct tb_evidence *ev,
                    struct tb_arena *mem, struct tb_err *err);
/* The verdicts of an earlier plan, by reference, for tb_weigh_lots to see which of them still hold. Both in one order. */
void tb_weighed_carry(struct tb_weighed *now, size_t n, struct tb_weighed *before, size_t befores);
/* Free the verdicts and the array; NULL is accepted. */
void tb_weighed_free(struct tb_weighed *one, size_t n);

#endif
