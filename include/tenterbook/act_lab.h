/*
 * act_lab.h - the acts of the laboratory's desk: a sample of a lot goes to a laboratory; an analysis of a lot is computed, compared
 * with what the lot declares, and recorded. Without a lot, tb_assay_compute (assay.h) gives the same figures.
 */
#ifndef TENTERBOOK_ACT_LAB_H
#define TENTERBOOK_ACT_LAB_H

#include "tenterbook/act.h"
#include "tenterbook/analysis.h"
#include "tenterbook/assay.h"
#include "tenterbook/sending.h"

struct tb_assay_lot_request {
    const char *lot;                 /* reference, or the number of one of its bolts */
    enum tb_part_kind part;          /* that was analysed */
    const char *laboratory, *report; /* who analysed, and the number of the report; NULL: not said */
    const char *analysed_on;         /* day, YYYY-MM-DD; NULL: today */
    const char *corrects;            /* id of the analysis this one corrects; NULL */
    bool
        anyway; /* the day is right, although the lot arrived or its joint sample was dealt after it; another report is right too */
    const struct tb_assay_request *assay; /* its `declared` stays NULL: the lot has its own declaration */
};
struct tb_assay_lot_outcome {
    struct tb_lot lot;
    struct tb_assay
        assay; /* assay.claim NULL: what the lot declares cannot be read for certain, nothing was compared */
    struct tb_declared
        said; /* the words it is an answer to: the supplier's, also where the lot is under a label of ours */
    struct tb_assay
        label; /* then the same figures beside our label; label.claim NULL: there is none, or not of this part */
    struct tb_analysis analysis; /* as recorded; its text is in the caller's arena */
    bool held;                   /* the lot is held for it, as it is for burns that contradict */
    bool lifted;                 /* the lot was held for the analysis that it corrects, and is not any more */
    struct tb_sending
        *sending; /* what of the lot went to laboratories, with what this answers; in the caller's arena */
    size_t sendings;
};
/*
 * tb_act_assay - compute an analysis of a lot and record it; one that does not conform holds a lot that was waiting or released.
 *   out    free with tb_assay_lot_outcome_free, after a failure too
 *   fails  TB_ENOTFOUND no such lot, or no analysis to correct; TB_EINVAL a part that the lot does
 *          not declare, a day to come, a correction of another lot or of what was corrected already; and as
 *          tb_assay_compute
 */
tb_rc tb_act_assay(struct tb_assay_lot_outcome *out, const struct tb_actor *actor,
                   const struct tb_assay_lot_request *request, struct tb_arena *mem, struct tb_err *err);
void tb_assay_lot_outcome_free(struct tb_assay_lot_outcome *out);

struct tb_send_request {
    const char *lot;           /* reference, or the number of one of its bolts */
    const char *laboratory;    /* it went to */
    const char *const *swatch; /* tags, 1 or more */
    size_t swatches;
    const char *sent_on; /* day, YYYY-MM-DD; NULL: today */
    bool
        anyway; /* the day is right, although a swatch was cut after it; the lot was returned, and that is known */
};
struct tb_send_outcome {
    struct tb_lot lot;
    struct tb_sending sending; /* as recorded; its text is in the caller's arena */
};
/*
 * tb_act_send - record that swatches of a lot went to a laboratory without a joint sample. The report that answers is an analysis.
 *   fails  TB_ENOTFOUND no such lot or swatch; TB_EINVAL no laboratory, no swatch, one of another lot, one twice, a day to come;
 *          TB_EREFUSED a swatch that is void, in a joint sample or still at a laboratory; a day before a cut, or a lot that was
 *          returned, without `anyway`
 */
tb_rc tb_act_send(struct tb_send_outcome *out, const struct tb_actor *actor,
                  const struct tb_send_request *request, struct tb_arena *mem, struct tb_err *err);

#endif
