/* verdict.h - inside the module: judging a lot as part of an act. */
#ifndef TENTERBOOK_WORK_VERDICT_H
#define TENTERBOOK_WORK_VERDICT_H

#include "tenterbook/act_bench.h"
#include "work/act.h"
#include "work/observe.h"

/* What a verdict on a lot asks for. */
struct tb_due {
    bool record; /* it differs from the last one */
    bool
        hold; /* and it contradicts, while the lot waits or was released, and nobody decided so knowing as much */
    bool
        keep; /* it contradicts, and the lot waits or is released since a person decided so knowing as much */
    struct tb_settled before; /* what was decided last; text in mem */
};
/* Whether a verdict is the one that was recorded: word, grade, ratio, the figures it was made with, and how much was burnt. */
bool tb_verdict_same(const struct tb_judged *last, const struct tb_verdict *v, const struct tb_lot *lot,
                     struct tb_arena *mem);
tb_rc tb_verdict_due(struct tb_due *due, struct tb_book *b, const struct tb_lot *lot,
                     const struct tb_lot_verdict *v, struct tb_arena *mem, struct tb_err *err);
/*
 * tb_verdict_record - write what is due: the verdict where it differs from the last one, and the hold. Between
 * tb_book_begin and tb_book_commit. What a person relabelled or returned is left alone, and only a person ends a hold.
 */
tb_rc tb_verdict_record(struct tb_due *due, struct tb_book *b, const struct tb_lot *lot,
                        const struct tb_lot_verdict *v, struct tb_arena *mem, struct tb_err *err);

/*
 * The two halves of judging a lot within an act, into job->judged. The first reads the lot and weighs it with what the
 * act is about to record; the second, after the act has recorded that, reads the lot anew, and writes the verdict and the
 * hold where they are due. Words of which nothing was burnt or tested yet get no verdict.
 * Where nothing was planned, only the lot is read anew, where there is one.
 */
tb_rc tb_rejudge_plan(struct tb_job *job, const char *lot_ref, const struct tb_pending *pending,
                      unsigned want);
tb_rc tb_rejudge_write(struct tb_job *job);
/* tb_rejudge_corrected - the second half where what was recorded stands in the place of the record `corrected`; NULL: of none. */
tb_rc tb_rejudge_corrected(struct tb_job *job, const char *corrected);

/* The test that would confirm a verdict or lift it, as a clause in the arena; "": none. */
const char *tb_confirming(const struct tb_lot_verdict *v, struct tb_arena *mem);
/*
 * tb_hold_after - once something of a lot counts no more, and the lot was judged by what is left: a lot that somebody argues about stays
 * held whatever became of the verdict that held it, and a hold of which nothing is left is said to be lifted. r->lot is read anew.
 *   was    what the lot stood as before
 */
tb_rc tb_hold_after(struct tb_rejudged *r, struct tb_job *job, enum tb_standing_kind was);
/* tb_decision_after - a person's decision that stays, and that may rest on the record `id`, which counts no more: r->stays. */
tb_rc tb_decision_after(struct tb_rejudged *r, struct tb_job *job, const char *id);
/* What became of the verdict, for whoever tells it. */
void tb_rejudged_note(struct tb_rejudged *r, const struct tb_due *due);

#endif
