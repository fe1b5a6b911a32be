/*
 * act_claim.h - the acts about claims: set the terms for telling a supplier, record a step of a dispute.
 */
#ifndef TENTERBOOK_ACT_CLAIM_H
#define TENTERBOOK_ACT_CLAIM_H

#include "tenterbook/act.h"
#include "tenterbook/lot_claim.h"

/* ---- terms --------------------------------------------------------------------------------------------- */

/* What nothing is said of stays as it was set before. */
struct tb_terms_request {
    const char *supplier;   /* name; NULL: all suppliers of the country, or of every country */
    const char *country;    /* ISO 3166-1 alpha-2, of the supplier; NULL: not said */
    bool afresh;            /* nothing of what was set before stays */
    const char *const *law; /* keys of rows of claim.h */
    size_t laws;            /* 0: not said */
    const int *open_days;   /* own term for what an examination shows, from arrival; NULL: not said */
    const int *hidden_days; /* own term for hidden faults, from discovery; NULL: not said */
    const bool *working;    /* own terms count working days; NULL: not said */
    bool before_cutting;    /* own term: before the first cut; false: not said */
    const char *stands_in;  /* contract, order; NULL: not said */
};
/*
 * tb_act_terms - set terms. Those of a supplier, of its country and of everybody count together.
 *   out    the terms now in force for whom they were set, in mem
 *   fails  TB_ENOTFOUND no such supplier or law; TB_EINVAL a country that is not a code, days out of range
 */
tb_rc tb_act_terms(struct tb_supplier_term *out, const struct tb_actor *actor,
                   const struct tb_terms_request *request, struct tb_arena *mem, struct tb_err *err);

/* ---- dispute ------------------------------------------------------------------------------------------- */

struct tb_dispute_request {
    const char *lot; /* reference, or the number of one of its bolts */
    /* What happened. Read: step, day (NULL: today), words, due, remedy, amount (NAN: none), currency, channel, proof, keep_until.
     * Without `due` a notice asks for an answer after the days of the setting answer_days; without `keep_until` the
     * file of a closed dispute is kept as the longest rule says. */
    struct tb_dispute_step step;
    const char *found_on; /* "opened": day the fault was found; NULL: the first finding against it */
    bool
        anyway; /* what is asked about is right: found_on, although the book has an earlier finding; an amount far
                             above what was invoiced or more than was agreed; money in another currency than agreed */
    const struct tb_attachment *document; /* the exact paper: name, media, bytes, size are read; NULL: none */
};
struct tb_dispute_outcome {
    struct tb_lot_claim now;     /* the lot, its claim and what is open after the step */
    struct tb_dispute_step step; /* as recorded */
    struct tb_keep_rule
        kept_by; /* whose rule gave step.keep_until; name NULL: a person did, or it was not closed */
    bool held;   /* the lot was held by this: goods in dispute stay whole */
};
/*
 * tb_act_dispute - open a dispute about a lot, or record its next step.
 *   fails  TB_ENOTFOUND no such lot; TB_EINVAL a day to come or before the arrival, a remedy that is not one, fields
 *          that do not fit the step, an empty document; TB_EEXISTS one is open already; TB_EREFUSED none is open, the
 *          step is out of turn, or it is asked about and not said to be right (anyway)
 */
tb_rc tb_act_dispute(struct tb_dispute_outcome *out, const struct tb_actor *actor,
                     const struct tb_dispute_request *request, struct tb_arena *mem, struct tb_err *err);

#endif
