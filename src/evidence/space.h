/*
 * space.h - inside the evidence module: every composition of the grid, weighed.
 *
 * Compositions are counted to the fibres they *show* (from 10 % on) for the question "declared or not", and to
 * the fibres they hold for the question "is there any of it".
 */
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

/* Some of the observations of one part, by number, and where their sums go. */
struct tb_pick {
    const size_t *at;
    size_t n;
    struct tb_sums *sums;
};
/*
 * tb_space_weigh - all compositions against n observations of one part, each to its power (1: a burn of its own);
 * for every pick the sums of its observations together. Each observation is worked through once, however many
 * picks it is in. A pick of nothing has likelihood 1 throughout: its sums are those of the prior.
 */
void tb_space_weigh(const struct tb_pick *pick, size_t picks, const struct tb_evidence *ev,
                    struct tb_table *const *table, const double *power, size_t n,
                    const struct tb_kernel *kernel);

#endif
