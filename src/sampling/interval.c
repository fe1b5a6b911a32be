#include "tenterbook/interval.h"

#include "sampling/dist.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

static tb_rc check(long k, long n, double conf, struct tb_err *err)
{
    if (n < 1)
        return tb_fail(err, TB_EINVAL, "a share needs at least one checked; %ld were", n);
    if (k < 0 || k > n)
        return tb_fail(err, TB_EINVAL, "%ld of %ld is no count; it lies between 0 and %ld", k, n, n);
    if (!(conf > 0 && conf < 1))
        return tb_fail(err, TB_EINVAL, "a confidence of %g is not possible; it lies above 0 and below 1",
                       conf);
    return TB_OK;
}

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

tb_rc tb_interval_jeffreys(double *lo, double *hi, long k, long n, double conf, struct tb_err *err)
{
    tb_rc rc = check(k, n, conf, err);

    if (rc != TB_OK)
        return rc;
    rc = tb_interval_beta(lo, hi, (double)k + 0.5, (double)(n - k) + 0.5, conf, false, err);
    if (rc == TB_OK && k == 0)
        *lo = 0;
    if (rc == TB_OK && k == n)
        *hi = 1;
    return rc;
}

tb_rc tb_interval_wilson_side(double *lo, double *hi, long k, long n, double conf, enum tb_side side,
                              struct tb_err *err)
{
    double tail = side == TB_SIDE_BOTH ? (1 - conf) / 2 : 1 - conf;
    double z, z2, nn = (double)n, x = (double)k, centre, half;
    tb_rc rc = check(k, n, conf, err);

    if (rc != TB_OK)
        return rc;
    z = gsl_cdf_ugaussian_Qinv(tail);
    z2 = z * z;
    centre = x + z2 / 2;
    half = z * sqrt(x * ((nn - x) / nn) + z2 / 4);
    *lo = 0;
    *hi = 1;
    /* lo * hi = x^2 / (n (n + z^2)) spares the difference of two near-equal numbers; it needs z > 0 */
    if (side != TB_SIDE_LESS && k > 0)
        *lo = z >= 0 ? x / nn * (x / (centre + half)) : (centre - half) / (nn + z2);
    if (side != TB_SIDE_GREATER && k < n)
        *hi = (centre + half) / (nn + z2);
    return TB_OK;
}

tb_rc tb_interval_wilson(double *lo, double *hi, long k, long n, double conf, struct tb_err *err)
{
    return tb_interval_wilson_side(lo, hi, k, n, conf, TB_SIDE_BOTH, err);
}

tb_rc tb_interval_agresti_coull(double *lo, double *hi, long k, long n, double conf, struct tb_err *err)
{
    double z, nn, p, half;
    tb_rc rc = check(k, n, conf, err);

    if (rc != TB_OK)
        return rc;
    z = gsl_cdf_ugaussian_Qinv((1 - conf) / 2);
    nn = (double)n + z * z;
    p = ((double)k + z * z / 2) / nn;
    half = z * sqrt(p * (1 - p) / nn);
    *lo = fmax(0, p - half);
    *hi = fmin(1, p + half);
    return TB_OK;
}

/* Log density up to a constant: the ends of a shortest interval have equal densities. */
static double log_density(double a, double b, double x, double y)
{
    return (a - 1) * log(x) + (b - 1) * log(y);
}

/* Bisection on the lower tail: moving the interval right lowers the density at its right end. */
static void shortest_inside(double *lo, double *hi, double a, double b, double conf)
{
    double least = 0, most = 1 - conf;

    for (int i = 0; i < 100; i++) {
        double tail = (least + most) / 2, ylo, yhi;

        *lo = tb_dist_beta_quantile(tail, a, b, &ylo);
        yhi = tb_dist_beta_quantile(1 - conf - tail, b, a, hi);
        if (log_density(a, b, *lo, ylo) < log_density(a, b, *hi, yhi))
            least = tail;
        else
            most = tail;
    }
}

tb_rc tb_interval_beta(double *lo, double *hi, double a, double b, double conf, bool shortest,
                       struct tb_err *err)
{
    if (!(a > 0 && b > 0) || !isfinite(a + b))
        return tb_fail(err, TB_EINVAL, "beta(%g, %g) is no distribution; both numbers are above 0", a, b);
    if (!(conf > 0 && conf < 1))
        return tb_fail(err, TB_EINVAL, "a confidence of %g is not possible; it lies above 0 and below 1",
                       conf);
    if (!shortest || (a < 1 && b < 1) || (a == 1 && b == 1)) { /* highest at both ends, or level */
        *lo = tb_dist_beta_quantile((1 - conf) / 2, a, b, NULL);
        (void)tb_dist_beta_quantile((1 - conf) / 2, b, a, hi);
    } else if (a <= 1 && b >= 1) {
        *lo = 0;
        (void)tb_dist_beta_quantile(1 - conf, b, a, hi);
    } else if (b <= 1) {
        *hi = 1;
        *lo = tb_dist_beta_quantile(1 - conf, a, b, NULL);
    } else {
        shortest_inside(lo, hi, a, b, conf);
    }
    return TB_OK;
}
