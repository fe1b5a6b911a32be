/*
 * dist.h - probabilities of counts, to about 1e-12 relative also for lots of a million bolts.
 *
 * Within the module only. The point masses use the saddle-point form (C. Loader, "Fast and accurate computation of
 * binomial probabilities", 2000) over GSL's regulated gamma function and log(1+x)-x, because differences of
 * log-factorials lose six digits where the factorials are of a million. Callers have checked the arguments.
 */
#ifndef TENTERBOOK_SAMPLING_DIST_H
#define TENTERBOOK_SAMPLING_DIST_H

#include <stdbool.h>

/* x^a y^b Gamma(a+b+1) / (Gamma(a+1) Gamma(b+1)), y = 1 - x given apart so that neither loses digits. */
double tb_dist_binomial_raw(double a, double b, double x, double y);

/* Binomial, k of n with chance p. */
double tb_dist_binomial_pmf(long k, long n, double p);
double tb_dist_binomial_at_most(long k, long n, double p);
double tb_dist_binomial_at_least(long k, long n, double p);

/* Hypergeometric: k bad ones among `drawn` of a lot of `lot` with `bad` bad ones. */
double tb_dist_hyper_pmf(long k, long lot, long bad, long drawn);
double tb_dist_hyper_at_most(long k, long lot, long bad, long drawn);
double tb_dist_hyper_at_least(long k, long lot, long bad, long drawn);

/* Beta: lower and upper tail at x (y = 1 - x), and the quantile. *one_minus may be NULL. */
void tb_dist_beta(double *lower, double *upper, double a, double b, double x, double y);
double tb_dist_beta_quantile(double p, double a, double b, double *one_minus);

/* Poisson, at most k events of mean m. */
double tb_dist_poisson_at_most(long k, double m);

#endif
