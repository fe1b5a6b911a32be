/* bounds.h - inside the evidence module: how far an evidence ratio may go. */
#ifndef TENTERBOOK_EVIDENCE_BOUNDS_H
#define TENTERBOOK_EVIDENCE_BOUNDS_H

#include "evidence/sent.h"

/*
 * The bounds of the published families and the lots of the site together; both at even odds where nothing is carried.
 * Returns how many cases the lots are.
 */
double tb_bounds_make(struct tb_bounds *out, const struct tb_site_lots *more);
/*
 * Those of a burn of so many looks: as `full`, which the published families and the lots of the site carry for burns that looked at
 * most channels, but no further than shorter burns were tested.
 */
void tb_bounds_of_looks(struct tb_bounds *out, const struct tb_bounds *full, size_t looks);
/* Bounds that were told, to the nearest thresholds of the table: as they were computed. */
void tb_bounds_near(struct tb_bounds *out, const struct tb_bounds *said);

#endif
