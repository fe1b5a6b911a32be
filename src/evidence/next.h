/* next.h - inside the evidence module: what a next test is expected to tell, and what its results would do. */
#ifndef TENTERBOOK_EVIDENCE_NEXT_H
#define TENTERBOOK_EVIDENCE_NEXT_H

#include "evidence/shortlist.h"

/* What is thought of one part before a test. */
struct tb_mind {
    const struct tb_shortlist *s;
    size_t as_declared; /* entries of the declared side; they come first */
    double *weight;     /* of each entry within its side, adding up to 1 a side */
    double *chance;     /* of every cue under each entry: tb_chances_of_all */
    double declared;    /* chance that the part is as declared, at even prior odds and by the bounded ratio */
};
/* The chance of a cue under entry i. */
static inline double tb_mind_chance(const struct tb_mind *m, int cue, size_t i)
{
    return m->chance[(size_t)cue * m->s->n + i];
}
/* What is open of a yes-or-no question that is so with chance p, in bits: 0..1. */
double tb_open_bits(double p);
/* What the last burn of the part leaves open of the swatch itself. Free with tb_before_free. */
struct tb_before {
    double *mixup;                /* of each entry: chance that the swatch was mixed up, 0..1 */
    double other[TB_FIBRES_MOST]; /* of which pure cloth it is then; adds up to 1 */
};
void tb_before_take(struct tb_before *out, const struct tb_mind *m);
void tb_before_free(struct tb_before *b);
/*
 * tb_turn_of - which results of a bench test are likely, and whether any two of them may lead to two grades; into out->likely and
 * out->turns. Estimated on the list, and generously: docs/method.md, section 6.
 *   out        out->channel is the test
 *   log_ratio  of the part, without bounds
 */
void tb_turn_of(struct tb_next *out, const struct tb_verdict *v, const struct tb_mind *m, double log_ratio,
                const struct tb_before *before);
/* Expected information of a test of that channel, in bits; `again`: the channel was looked at in a burn already. */
double tb_gain_of(const struct tb_mind *m, int channel, bool again);

#endif
