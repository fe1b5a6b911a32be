/*
 * kept.h - inside the evidence module: the compositions that a declaration leaves open, with the chances of their cues.
 *
 * Whether a verdict holds is asked of the same compositions again and again, with one look left out after the other.
 */
#ifndef TENTERBOOK_EVIDENCE_KEPT_H
#define TENTERBOOK_EVIDENCE_KEPT_H

#include "evidence/declared.h"

struct tb_kept {
    struct tb_blend *blend; /* n */
    double *weight;
    size_t n, cap, cap_weight;
    double *chance; /* [blend * cues + cue] */
    bool known[TB_CUES_MOST];
};
/* What all shown fibres of a declaration leave open; yours to free with tb_kept_free. */
struct tb_kept *tb_kept_new(const struct tb_evidence *ev, const struct tb_declared_blend *d);
/* NULL is accepted. */
void tb_kept_free(struct tb_kept *k);
/*
 * The chance of what was observed under one of them, term by term, as tb_blend_chances has it; after tb_kept_know of these terms.
 */
void tb_kept_chances(double *out, const struct tb_kept *k, const struct tb_evidence *ev, size_t blend,
                     const struct tb_terms *terms);
/* Work out the chances of these terms, but for those that are known. */
void tb_kept_know(struct tb_kept *k, const struct tb_evidence *ev, const struct tb_terms *terms);

#endif
