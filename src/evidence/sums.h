/*
 * sums.h - inside the evidence module: what is added up while all compositions are gone through.
 *
 * Compositions are counted to the fibres they *show* (from 10 % on) for the question "declared or not", and to
 * the fibres they hold for the question "is there any of it".
 */
#ifndef TENTERBOOK_EVIDENCE_SUMS_H
#define TENTERBOOK_EVIDENCE_SUMS_H

#include "evidence/strip.h"

/* Where three[] holds the sum of three fibres; 0 <= i < j < k < fibres. */
size_t tb_triple(int fibres, int i, int j, int k);
/* All sums at 0; free with tb_sums_free. */
void tb_sums_open(struct tb_sums *out, const struct tb_evidence *ev);
/* `out` need not be opened; free it with tb_sums_free. */
void tb_sums_copy(struct tb_sums *out, const struct tb_sums *s, const struct tb_evidence *ev);
/* A strip is left out, of which it is known that it has no more than `most`. */
void tb_sums_leave_out(struct tb_sums *s, double most);
/* Free the sums of three fibres, and of the strips. */
void tb_sums_free(struct tb_sums *s);
/* The likelihood of a cloth of one fibre, times its prior. */
void tb_sums_add_pure(struct tb_sums *s, const struct tb_evidence *ev, int fibre, double like);
/* The likelihoods of a strip, times their prior: like[last fibre * TB_CHUNK + lane]. */
void tb_sums_add_strip(struct tb_sums *s, const struct tb_evidence *ev, const struct tb_strip *strip,
                       const double *like, const struct tb_kernel *kernel);

#endif
