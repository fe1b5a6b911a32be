/* space.h - inside the evidence module: every composition of the grid, weighed. */
#ifndef TENTERBOOK_EVIDENCE_SPACE_H
#define TENTERBOOK_EVIDENCE_SPACE_H

#include "evidence/kernel.h"
#include "evidence/model.h"

/* One observation ready for the kernel: what every fibre at every step brings to every factor. */
struct tb_table;
struct tb_table *tb_table_new(const struct tb_evidence *ev, const struct tb_terms *terms);
void tb_table_free(struct tb_table *t);

size_t tb_triple(int fibres, int i, int j, int k); /* i < j < k */
void tb_sums_free(struct tb_sums *s);

/* The likelihood of one table to some power: m equal burns count m, repeats of one swatch less. */
struct tb_power_of {
    size_t table;
    double power; /* > 0 */
};
/* Some of the observations of one part, no table twice, and where their sums go. */
struct tb_pick {
    const struct tb_power_of *of;
    size_t n;
    struct tb_sums *sums;
};
/*
 * tb_space_weigh - all compositions against the observations of one part; for every pick the sums of its tables
 * together. Each of the n tables is worked through once, however many picks it is in. A pick of nothing has
 * likelihood 1 throughout: its sums are those of the prior. Free the sums of each pick with tb_sums_free.
 */
void tb_space_weigh(const struct tb_pick *pick, size_t picks, const struct tb_evidence *ev,
                    struct tb_table *const *table, size_t n, const struct tb_kernel *kernel);

#endif
