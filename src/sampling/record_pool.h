/*
 * record_pool.h - how likely the tallies of all suppliers are, where the share of wrong lots varies between suppliers as beta(a, b).
 *
 * Within the module only: the best a and b (record_fit.c) and all those that are about as likely (belief.c) are found with it.
 */
#ifndef TENTERBOOK_SAMPLING_RECORD_POOL_H
#define TENTERBOOK_SAMPLING_RECORD_POOL_H

#include "tenterbook/sampling.h"

/*
 * The record as the likelihood needs it. ln B(a + x, b + m - x) - ln B(a, b) is a sum of ln(a + k), k < x, of
 * ln(b + k), k < m - x, less ln(a + b + k), k < m; over all suppliers ln(a + k) then counts as often as there are
 * suppliers with more than k wrong lots. So an evaluation costs the lots of the largest supplier, not of all.
 */
struct pool {
    double *above[3]; /* above[j][k]: suppliers with more than k lots that are 0 wrong, 1 right, 2 either */
    long top[3];
    struct tb_tally *big; /* suppliers with more than COUNTED_MOST lots: by the closed form, one by one */
    size_t n_big;
};

/* The tallies are read during the call; free with tb_tallies_free. */
void tb_tallies_make(struct pool *p, const struct tb_tally *t, size_t n);
void tb_tallies_free(struct pool *p);

/* Log-likelihood and its derivatives in a and b. */
struct slope {
    double value, da, db, daa, dab, dbb;
};

struct slope tb_tallies_likelihood(double a, double b, const struct pool *p);

#define MEAN_NEAR                                                                                            \
    1e-8 /* slack of a logit: the likelihood is flat there, so this is near enough to compare weights */
#define MEAN_EXACT 1e-14 /* the same where the result counts */
/* The mean a / (a + b) that is likeliest where a + b is the weight, to this slack of its logit. */
double tb_tallies_best_mean(double weight, const struct pool *p, double slack);

#endif
