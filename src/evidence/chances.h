/* chances.h - inside the evidence module: the chances of what was observed, of many compositions at once. */
#ifndef TENTERBOOK_EVIDENCE_CHANCES_H
#define TENTERBOOK_EVIDENCE_CHANCES_H

#include "evidence/shortlist.h"

/*
 * tb_chances_take - out[t * stride + i] the chance of term t under entry i, as tb_blend_chances has it but for rounding; what
 * lies between n and stride is left alone.
 */
void tb_chances_take(double *out, size_t stride, const struct tb_evidence *ev, const struct tb_entry *entry,
                     size_t n, const struct tb_terms *terms);

#endif
