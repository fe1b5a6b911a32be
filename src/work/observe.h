/* observe.h - inside the module: records as observations, those not in the book yet included. */
#ifndef TENTERBOOK_WORK_OBSERVE_H
#define TENTERBOOK_WORK_OBSERVE_H

#include "tenterbook/work.h"

/*
 * What an act is about to record of a lot: a verdict is computed with it before it is written. Each record has the tag,
 * part and bolt number of its swatch, and names the record it corrects in `replaces`.
 */
struct tb_pending {
    const struct tb_burn *burn; /* burns of them, in the order they will be recorded */
    size_t burns;
    const struct tb_bench_test *test; /* one, or NULL */
    const char *who;                  /* burns and tests; NULL where there are none */
    const char *declared;             /* words that will be in force; NULL: those of the book */
    /* what counts no more: ids of burns, of tests, or of the swatches they are of */
    const char *const *without;
    size_t withouts;
    /* what does not count now and will */
    const struct tb_burn *back;
    size_t backs;
    const struct tb_bench_test *back_test;
    size_t back_tests;
};

/* One burn's record as an observation. Fails with TB_EINVAL where the book holds a cue this program does not know. */
tb_rc tb_burn_observed(struct tb_observation *o, const struct tb_burn *burn, struct tb_err *err);

/*
 * Burns and bench tests of a lot that counted after a journal row, and what is pending (NULL: nothing), as the engine
 * takes them. The array is in mem.
 */
tb_rc tb_lot_observations(struct tb_observation **out, size_t *n, struct tb_book *b, const char *lot_id,
                          const struct tb_pending *pending, int64_t upto, struct tb_arena *mem,
                          struct tb_err *err);

/*
 * What the book held of a lot after a journal row, and what is pending as if the book held it too (NULL: nothing). All text
 * and arrays are in mem.
 */
tb_rc tb_bench_read(struct tb_lot_burns *out, struct tb_book *b, const struct tb_lot *lot,
                    const struct tb_pending *pending, int64_t upto, struct tb_arena *mem, struct tb_err *err);

#endif
