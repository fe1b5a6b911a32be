/* bounds.h - inside the evidence module: how far an evidence ratio may go. */
#ifndef TENTERBOOK_EVIDENCE_BOUNDS_H
#define TENTERBOOK_EVIDENCE_BOUNDS_H

#include "tenterbook/evidence.h"

/* The bounds of the published families and n lots of the site together. */
void tb_bounds_make(struct tb_bounds *out, const struct tb_settled_ratio *more, size_t n);

#endif
