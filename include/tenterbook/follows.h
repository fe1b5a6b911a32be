/*
 * follows.h - whether a verdict that was kept would still be reached, by the limits, settings and figures in force.
 *
 * Nothing is weighed: what a ratio within other limits comes to is seen from the ratio. Where the figures it was made of are others,
 * such as the known cloth of the site, only judging again says what comes out. Pure.
 */
#ifndef TENTERBOOK_FOLLOWS_H
#define TENTERBOOK_FOLLOWS_H

#include "tenterbook/evidence.h"

/* What was kept of a verdict. */
struct tb_once {
    const char *reference; /* digest of the model it was made with */
    enum tb_grade grade;
    double log_ratio;             /* natural logarithm, without bounds; NAN: nothing was weighed */
    struct tb_bounds full_bounds; /* of burns with many looks, then */
    size_t looks;                 /* 0: not kept, and many are taken */
    bool at_odds,                 /* what was seen contradicts itself: undecided, whatever the ratio */
        hindered; /* something other than its ratio kept it from a grade that goes further, or it is not known whether */
};
enum tb_follows {
    TB_FOLLOWS,
    TB_FOLLOWS_UNSEEN, /* it was weighed with other figures */
    TB_FOLLOWS_NOT /* its ratio has another grade by now; where that goes further than the one it had, something may yet hinder it */
};
/* tb_evidence_follows - ev: the model in force, apart from the unit of the cloth where that has one (tb_evidence_apart). */
enum tb_follows tb_evidence_follows(const struct tb_evidence *ev, const struct tb_once *v);

#endif
