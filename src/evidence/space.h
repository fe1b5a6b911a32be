/* space.h - inside the evidence module: every composition of the grid, weighed. */
#ifndef TENTERBOOK_EVIDENCE_SPACE_H
#define TENTERBOOK_EVIDENCE_SPACE_H

#include "evidence/factored.h"

/* The likelihood of one reading as factors to some power: what all observations count that say it. */
struct tb_power_of {
    size_t table; /* number of the reading */
    double power; /* not 0; below it where a test counts more than the burn it is told beside */
};
/* How likely the observations of a pick are at most, strip by strip; roof.h. */
struct tb_roof {
    const float *strip; /* strips, on the scale exp(log_scale); NULL: none is known */
    size_t strips;
    double all, log_scale; /* all: of all compositions together */
    double leave;          /* share of `all` that may be left out, above 0 */
};
/* Some of the observations of one part, no table twice, and where their sums go. */
struct tb_pick {
    const struct tb_power_of *of;
    size_t n;
    struct tb_sums *sums;
    struct tb_roof roof; /* strips that hardly count under it are left out */
};
/*
 * tb_space_weigh - all compositions against the observations of one part; for every pick the sums of its tables
 * together. Each of the n tables is worked through once, however many picks it is in; those that share the burn of another
 * stand right behind it. A pick of nothing has
 * likelihood 1 throughout: its sums are those of the prior. What is left out of a pick with a roof stands in its sums. Free the sums
 * of each pick with tb_sums_free.
 */
void tb_space_weigh(const struct tb_pick *pick, size_t picks, const struct tb_evidence *ev,
                    struct tb_factored *const *table, size_t n, const struct tb_kernel *kernel);

#endif
