/* remains.h - inside the module: what is left of a lot once a record of it counts no more, or counts again, weighed before the lock. */
#ifndef TENTERBOOK_WORK_REMAINS_H
#define TENTERBOOK_WORK_REMAINS_H

#include "tenterbook/void.h"
#include "work/act.h"
#include "work/observe.h"

/* A lot as it is expected to be. Zeroed it is empty. */
struct tb_remains {
    struct tb_lot_verdict v;
    bool weighed;
    unsigned char stamp[TB_STAMP]; /* of what it was weighed from */
};

/*
 * tb_remains_weigh - weigh a lot by what the act is going to leave of it: `pending` says that. Nothing where that is nothing.
 *   out    begun afresh; free with tb_remains_free
 */
tb_rc tb_remains_weigh(struct tb_remains *out, struct tb_job *job, const struct tb_lot *lot,
                       const struct tb_pending *pending);
/*
 * tb_remains_take - the verdict on a lot as it is now: the one of `left` where that was weighed from the same, which takes a
 * millisecond to see; else it is weighed.
 *   ahead  the one of `left` was taken
 */
tb_rc tb_remains_take(struct tb_lot_verdict *out, bool *ahead, struct tb_remains *left, struct tb_job *job,
                      const struct tb_lot_burns *burns);
void tb_remains_free(struct tb_remains *left);

/* Burns and tests of a lot, void or not, that count again with a record: itself, those of a swatch, or of a bolt. */
tb_rc tb_remains_back(struct tb_pending *out, struct tb_job *job, const struct tb_voiding *voided);
/* What counts no more with a record, and the one that it corrected and that counts again. */
tb_rc tb_remains_without(struct tb_pending *out, struct tb_job *job, const struct tb_void_subject *subject);

#endif
