/*
 * interval.h - how sure a count lets us be about a share: "k of n did not conform".
 *
 * Pure: values in, values out, thread-safe. A share lies in 0 .. 1, a confidence strictly between 0 and 1 (0.95).
 * All functions refuse n < 1, k outside 0 .. n and a confidence outside (0, 1) with TB_EINVAL and leave lo and
 * hi untouched. Accurate to about 1e-12 relative for n up to 1e9 (checked against SciPy in tests/oracle).
 * Source: docs/sampling.md, section "Intervals for a share".
 */
#ifndef TENTERBOOK_INTERVAL_H
#define TENTERBOOK_INTERVAL_H

#include "tenterbook/base.h"

/* Which side of an interval is wanted: LESS gives 0 .. hi, GREATER gives lo .. 1, each at the full confidence. */
enum tb_side { TB_SIDE_BOTH, TB_SIDE_LESS, TB_SIDE_GREATER };

/*
 * tb_interval_exact - the exact (Clopper-Pearson) interval: never covers less often than it says.
 *
 *   lo, hi  the share, 0 <= lo <= k/n <= hi <= 1
 *   k, n    k of n
 *   conf    0.95 for a 95 % interval
 */
tb_rc tb_interval_exact(double *lo, double *hi, long k, long n, double conf, struct tb_err *err);
/* The same with all of the risk on one side. */
tb_rc tb_interval_exact_side(double *lo, double *hi, long k, long n, double conf, enum tb_side side,
                             struct tb_err *err);

/*
 * tb_interval_jeffreys - equal-tailed under the prior beta(1/2, 1/2); lo is 0 when k is 0 and hi 1 when k is
 * n.
 */
tb_rc tb_interval_jeffreys(double *lo, double *hi, long k, long n, double conf, struct tb_err *err);

/* tb_interval_beta - equal tails of a beta(a, b) posterior; a, b > 0. Fails with TB_EINVAL where they are not. */
tb_rc tb_interval_beta(double *lo, double *hi, double a, double b, double conf, struct tb_err *err);

#endif
