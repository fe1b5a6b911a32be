/*
 * roof.h - inside the evidence module: how likely observations can be at most, strip by strip, from what was weighed before.
 *
 * Where one test more is imagined, nothing becomes likelier than it was without. So strips that hardly counted before hardly count then,
 * and may be left out where only the side of a limit is asked for; what was left out is known to the digit.
 */
#ifndef TENTERBOOK_EVIDENCE_ROOF_H
#define TENTERBOOK_EVIDENCE_ROOF_H

#include "evidence/space.h"

/* What some tables are of, and how much each counts. */
struct tb_counting {
    const struct tb_terms *const *terms; /* tables */
    size_t tables;
    const struct tb_power_of *now, *before; /* n_now, n_before */
    size_t n_now, n_before;
};
/*
 * tb_roof_take - the roof over what counts now, from the sums of what counted before; false: none is known.
 *   sums  of those before; borrowed for as long as the roof is used
 *   mem   of the roof's strips, where they have to be computed
 */
bool tb_roof_take(struct tb_roof *out, const struct tb_counting *c, const struct tb_sums *sums,
                  const struct tb_evidence *ev, struct tb_arena *mem);
/* Strips below this may be left out: all of them together are no more than the share roof->leave of what was there before. */
float tb_roof_cut(const struct tb_roof *roof);

#endif
