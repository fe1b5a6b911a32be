/* counts.h - inside the evidence module: how often a fibre was said to show a cue. */
#ifndef TENTERBOOK_EVIDENCE_COUNTS_H
#define TENTERBOOK_EVIDENCE_COUNTS_H

#include "evidence/model.h"

/* [fibre of the model][cue]: descriptions that say the cue, and descriptions of its channel that do not; >= 0. */
struct tb_counts {
    double said[TB_FIBRES_MOST][TB_CUES_MOST], unsaid[TB_FIBRES_MOST][TB_CUES_MOST];
};
/* Add what the reference tables and the site's known burns say; `out` is zeroed by the caller. */
void tb_counts_take(struct tb_counts *out, const struct tb_evidence *ev, const struct tb_known_burn *known,
                    size_t n_known);
/*
 * Add what the site's known blends say, by the chances that the model has so far: which fibre made a cue that was seen nobody
 * knows, so each counts by the chance that it did, and only as far as its share lets it show. False where there is none.
 */
bool tb_counts_blends(struct tb_counts *out, struct tb_evidence *ev, const struct tb_known_burn *known,
                      size_t n_known);
/* Base rates and chances of the model from the counts: each level borrows from the one above (docs/method.md). */
void tb_counts_chances(struct tb_evidence *ev, const struct tb_counts *n);
/* "sha256:..." over every figure in force, in the order of the tables, and the bounds, into ev->digest. */
void tb_counts_digest(struct tb_evidence *ev, const struct tb_counts *n);
/* The same anew, where only the bounds are others. */
void tb_bounds_digest(struct tb_evidence *ev);
/* The digest that the model would have within these bounds. */
void tb_digest_within(char out[TB_REFERENCE], const struct tb_evidence *ev, const struct tb_bounds *bounds);

#endif
