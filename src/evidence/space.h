/* space.h - inside the evidence module: every composition of the grid, weighed. */
#ifndef TENTERBOOK_EVIDENCE_SPACE_H
#define TENTERBOOK_EVIDENCE_SPACE_H

#include "evidence/factored.h"

/*
 * The likelihood of one observation as factors to some power: m equal burns count m, repeats of one swatch
 * less.
 */
struct tb_power_of {
    size_t table; /* number of the observation */
    double power; /* > 0 */
};
/* Some of the observations of one part, no table twice, and where their sums go. */
struct tb_pick {
    const struct tb_power_of *of;
    size_t n;
    double exponent; /* of all of them together, 0..1 */
    struct tb_sums *sums;
};
/*
 * tb_space_weigh - all compositions against the observations of one part; for every pick the sums of its tables
 * together. Each of the n tables is worked through once, however many picks it is in; those that share the burn of another
 * stand right behind it. A pick of nothing has
 * likelihood 1 throughout: its sums are those of the prior. Free the sums of each pick with tb_sums_free.
 */
void tb_space_weigh(const struct tb_pick *pick, size_t picks, const struct tb_evidence *ev,
                    struct tb_factored *const *table, size_t n, const struct tb_kernel *kernel);

#endif
