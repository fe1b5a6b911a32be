/* interval.c - how sure a count lets us be about a share. */
#include "tenterbook/interval.h"

#include "sampling/dist.h"

#include <math.h>

static tb_rc check(long k, long n, double conf, struct tb_err *err)
{
    if (n < 1)
        return tb_fail(err, TB_EINVAL, "a share needs at least one that was checked; there were %ld", n);
    if (k < 0 || k > n)
        return tb_fail(err, TB_EINVAL, "%ld of %ld is not a possible count; it lies between 0 and %ld", k, n,
                       n);
    if (!(conf > 0 && conf < 1))
        return tb_fail(err, TB_EINVAL, "a confidence of %g is not possible; it lies above 0 and below 1",
                       conf);
    return TB_OK;
}

/* An end that cannot be otherwise is closed: none of twenty leaves 0 possible. */
tb_rc tb_interval_exact_side(double *lo, double *hi, long k, long n, double conf, enum tb_side side,
                             struct tb_err *err)
{
    double tail = side == TB_SIDE_BOTH ? (1 - conf) / 2 : 1 - conf;
    tb_rc rc = check(k, n, conf, err);

    if (rc != TB_OK)
        return rc;
    *lo = 0;
    *hi = 1;
    if (side != TB_SIDE_LESS && k > 0)
        *lo = tb_dist_beta_quantile(tail, (double)k, (double)(n - k + 1), NULL);
    /* the upper end is 1 minus the lower end for the others, so that its tail keeps its digits too */
    if (side != TB_SIDE_GREATER && k < n)
        (void)tb_dist_beta_quantile(tail, (double)(n - k), (double)(k + 1), hi);
    return TB_OK;
}

tb_rc tb_interval_exact(double *lo, double *hi, long k, long n, double conf, struct tb_err *err)
{
    return tb_interval_exact_side(lo, hi, k, n, conf, TB_SIDE_BOTH, err);
}

/* Closed at 0 and 1 where the count is, as its authors advise. */
tb_rc tb_interval_jeffreys(double *lo, double *hi, long k, long n, double conf, struct tb_err *err)
{
    tb_rc rc = check(k, n, conf, err);

    if (rc != TB_OK)
        return rc;
    rc = tb_interval_beta(lo, hi, (double)k + 0.5, (double)(n - k) + 0.5, conf, err);
    if (rc == TB_OK && k == 0)
        *lo = 0;
    if (rc == TB_OK && k == n)
        *hi = 1;
    return rc;
}

tb_rc tb_interval_beta(double *lo, double *hi, double a, double b, double conf, struct tb_err *err)
{
    if (!(a > 0 && b > 0) || !isfinite(a + b))
        return tb_fail(err, TB_EINVAL, "beta(%g, %g) is not a distribution; both numbers must be above 0", a,
                       b);
    if (!(conf > 0 && conf < 1))
        return tb_fail(err, TB_EINVAL, "a confidence of %g is not possible; it lies above 0 and below 1",
                       conf);
    *lo = tb_dist_beta_quantile((1 - conf) / 2, a, b, NULL);
    (void)tb_dist_beta_quantile((1 - conf) / 2, b, a, hi);
    return TB_OK;
}
