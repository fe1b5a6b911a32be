/* pchart.c - limits of a chart of counts, exact, and the exact test behind it. */
#include "sampling/check.h"
#include "sampling/discovery.h"
#include "sampling/dist.h"
#include "tenterbook/sampling.h"

#include <math.h>

/* By bisection on exact tails: they are monotone in the count. */
tb_rc tb_pchart_limits(long *low, long *high, double p, long n, double alpha, struct tb_err *err)
{
    long least, most;
    tb_rc rc = tb_check_share(p, err);

    if (rc == TB_OK)
        rc = tb_check_lot(n, err);
    if (rc == TB_OK && !(alpha > 0 && alpha < 0.5))
        rc = tb_fail(err, TB_EINVAL,
                     "a false signal in %g of the cases is not possible; it lies above 0 and below 0.5",
                     alpha);
    if (rc != TB_OK)
        return rc;
    least = 0, most = n + 1; /* first count whose upper tail is rare */
    while (least < most) {
        long c = least + (most - least) / 2;

        if (tb_dist_binomial_at_least(c, n, p) <= alpha * TB_TIE)
            most = c;
        else
            least = c + 1;
    }
    *high = least;
    least = -1, most = n; /* last count whose lower tail is rare */
    while (least < most) {
        long c = least + (most - least + 1) / 2;

        if (tb_dist_binomial_at_most(c, n, p) <= alpha * TB_TIE)
            least = c;
        else
            most = c - 1;
    }
    *low = least;
    return TB_OK;
}

/* Outcomes as likely as k but for rounding count with it; the width is that of R's binom.test. */
#define TIE_WIDE 1e-7

/* Outcomes on the other side of the mean that are no more likely than k; the masses fall away from the mode. */
static double other_tail(long k, long n, double p)
{
    double limit = tb_dist_binomial_pmf(k, n, p) * (1 + TIE_WIDE), mean = (double)n * p;
    long least, most;

    if ((double)k < mean) {
        least = (long)ceil(mean), most = n + 1;
        while (least < most) {
            long c = least + (most - least) / 2;

            if (tb_dist_binomial_pmf(c, n, p) <= limit)
                most = c;
            else
                least = c + 1;
        }
        return tb_dist_binomial_at_least(least, n, p);
    }
    least = -1, most = (long)floor(mean);
    while (least < most) {
        long c = least + (most - least + 1) / 2;

        if (tb_dist_binomial_pmf(c, n, p) <= limit)
            least = c;
        else
            most = c - 1;
    }
    return tb_dist_binomial_at_most(least, n, p);
}

/* The mean itself is the likeliest outcome; its two-sided chance is 1 by definition. */
tb_rc tb_binomial_p(double *two_sided, double *at_most, double *at_least, long k, long n, double p,
                    struct tb_err *err)
{
    double below, above, mean = (double)n * p;
    tb_rc rc;

    if ((rc = tb_check_share(p, err)) != TB_OK || (rc = tb_check_lot(n, err)) != TB_OK ||
        (rc = tb_check_false(k, n, err)) != TB_OK)
        return rc;
    below = tb_dist_binomial_at_most(k, n, p);
    above = tb_dist_binomial_at_least(k, n, p);
    if (two_sided && (double)k == mean)
        *two_sided = 1;
    else if (two_sided)
        *two_sided = fmin(1, ((double)k < mean ? below : above) + other_tail(k, n, p));
    if (at_most)
        *at_most = below;
    if (at_least)
        *at_least = above;
    return TB_OK;
}
