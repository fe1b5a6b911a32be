/* pchart.c - limits of a chart of counts, exact, and the exact test behind it. */
#include "sampling/dist.h"
#include "sampling/inside.h"

#include <math.h>

/* A chance that falls or rises with the count, and what is called rare. */
struct tail {
    double (*chance)(long count, long n, double p);
    long n;
    double p, rare;
};

/* By bisection: the first count from least to most that is rare, or the first that is not; most where none is. */
static long first(const struct tail *t, bool rare, long least, long most)
{
    while (least < most) {
        long c = least + (most - least) / 2;

        if ((t->chance(c, t->n, t->p) <= t->rare) == rare)
            most = c;
        else
            least = c + 1;
    }
    return least;
}

/* The first count whose upper tail is rare, and the last whose lower tail is. */
tb_rc tb_pchart_limits(long *low, long *high, double p, long n, double alpha, struct tb_err *err)
{
    const struct tail above = { tb_dist_binomial_at_least, n, p, alpha * TB_TIE };
    const struct tail below = { tb_dist_binomial_at_most, n, p, alpha * TB_TIE };
    tb_rc rc;

    if ((rc = tb_check_share(p, err)) != TB_OK || (rc = tb_check_lot(n, err)) != TB_OK)
        return rc;
    if (!(alpha > 0 && alpha < 0.5))
        return tb_fail(err, TB_EINVAL,
                       "a false signal in %g of the cases is not possible; it lies above 0 and below 0.5",
                       alpha);
    *high = first(&above, true, 0, n + 1);
    *low = first(&below, false, 0, n + 1) - 1;
    return TB_OK;
}

/* Outcomes as likely as k but for rounding count with it; the width is that of R's binom.test. */
#define TIE_WIDE 1e-7

/* Outcomes on the other side of the mean that are no more likely than k; the masses fall away from the mode. */
static double other_tail(long k, long n, double p)
{
    double mean = (double)n * p;
    const struct tail t = { tb_dist_binomial_pmf, n, p, tb_dist_binomial_pmf(k, n, p) * (1 + TIE_WIDE) };

    if ((double)k < mean)
        return tb_dist_binomial_at_least(first(&t, true, (long)ceil(mean), n + 1), n, p);
    return tb_dist_binomial_at_most(first(&t, false, 0, (long)floor(mean) + 1) - 1, n, p);
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
