/*
 * dist.h - probabilities of counts, to about 1e-12 relative also for lots of a million bolts.
 *
 * Within the module only. The point masses use the saddle-point form (C. Loader, "Fast and accurate computation of
 * binomial probabilities", 2000) over GSL's regulated gamma function and log(1+x)-x, because differences of
 * log-factorials lose six digits where the factorials are of a million. Callers have checked the arguments.
 */
#ifndef TENTERBOOK_SAMPLING_DIST_H
#define TENTERBOOK_SAMPLING_DIST_H

/* Terms of a sum that falls at least geometrically count as long as they are above this share of it. */
#define TB_TERM_COUNTS 1e-18

/* Binomial, k of n with chance p. */
double tb_dist_binomial_pmf(long k, long n, double p);
/* At most k of n. */
double tb_dist_binomial_at_most(long k, long n, double p);
/* At least k of n. */
double tb_dist_binomial_at_least(long k, long n, double p);

/* Hypergeometric: k bad ones among `drawn` of a lot of `lot` with `bad` bad ones. */
double tb_dist_hyper_pmf(long k, long lot, long bad, long drawn);
/* At most k bad ones among those drawn. */
double tb_dist_hyper_at_most(long k, long lot, long bad, long drawn);

/* The share below which beta(a, b) lies with chance p, 0 < p < 1; *one_minus, 1 minus that, may be NULL. */
double tb_dist_beta_quantile(double p, double a, double b, double *one_minus);

/* How much of beta(a, b) lies below the share whose logit is u; *front: how fast that grows with u. */
double tb_dist_beta_below(double *front, double a, double b, double u);

#endif
