/* bounds.h - inside the evidence module: how far an evidence ratio may go. */
#ifndef TENTERBOOK_EVIDENCE_BOUNDS_H
#define TENTERBOOK_EVIDENCE_BOUNDS_H

#include "tenterbook/evidence.h"

/* The bounds of the published families and n lots of the site together; both at even odds where nothing is carried. */
void tb_bounds_make(struct tb_bounds *out, const struct tb_settled_ratio *more, size_t n);
/* Bounds that were told, to the nearest thresholds of the table: as they were computed. */
void tb_bounds_near(struct tb_bounds *out, const struct tb_bounds *said);

#endif
