/* chances.h - inside the evidence module: the chances of what was observed, of many compositions at once. */
#ifndef TENTERBOOK_EVIDENCE_CHANCES_H
#define TENTERBOOK_EVIDENCE_CHANCES_H

#include "evidence/shortlist.h"

/* What each fibre brings to each cue at each share of the grid, once the chances q are known; the model keeps it. */
void tb_chances_bricks(struct tb_evidence *ev);
/*
 * tb_chances_take - out[t * by_term + i * by_entry] the chance of term t under entry i, as tb_blend_chances has it but for
 * rounding.
 */
void tb_chances_take(double *out, size_t by_term, size_t by_entry, const struct tb_evidence *ev,
                     const struct tb_entry *entry, size_t n, const struct tb_terms *terms);
/* out[cue * n + i] the chance of every cue of the model under entry i. */
void tb_chances_of_all(double *out, const struct tb_evidence *ev, const struct tb_entry *entry, size_t n);

#endif
