/* decide.c - conformity under uncertainty, after JCGM 106:2012. */
#include "tenterbook/lab.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

/* Open at 0 and at 100: a share cannot be beyond them. */
struct tb_lab_limit tb_lab_limit_around(double declared, double tolerance)
{
    struct tb_lab_limit l = { declared - tolerance, declared + tolerance };

    if (l.lower <= 0)
        l.lower = -INFINITY;
    if (l.upper >= 100)
        l.upper = INFINITY;
    return l;
}

/* P(T <= x): Student's t, the normal distribution when the degrees of freedom are endless. */
static double below(double x, double freedom)
{
    if (isinf(x))
        return x > 0 ? 1 : 0;
    return isinf(freedom) ? gsl_cdf_ugaussian_P(x) : gsl_cdf_tdist_P(x, freedom);
}

/* The normal law is Student's with endless freedom. */
static double quantile(double p, double freedom)
{
    return isinf(freedom) ? gsl_cdf_ugaussian_Pinv(p) : gsl_cdf_tdist_Pinv(p, freedom);
}

/* Without uncertainty it is a comparison, and the chance is 0 or 1. */
double tb_lab_conformity(double y, double u, double freedom, struct tb_lab_limit limit)
{
    double lower, upper;

    if (u <= 0)
        return y >= limit.lower && y <= limit.upper ? 1 : 0;
    lower = (limit.lower - y) / u;
    upper = (limit.upper - y) / u;
    if (upper <= lower)
        return 0;
    /* far up the tail the difference of two numbers near 1 loses its digits: turn it over */
    return lower > 0 ? below(-lower, freedom) - below(-upper, freedom)
                     : below(upper, freedom) - below(lower, freedom);
}

double tb_lab_guard(double u, double freedom, double p)
{
    return u <= 0 ? 0 : quantile(p, freedom) * u;
}

const char *tb_lab_answer_key(enum tb_lab_answer answer)
{
    static const char *const key[] = { "cannot_be_said", "conforms", "does_not_conform" };

    return key[answer];
}

/* Nothing but this fibre was found where nothing else is allowed, or nothing of a fibre that is not allowed: the half of the
 * curve beyond the end of the scale is not possible, so that it says nothing against the result. */
static bool at_end_of_scale(double y, struct tb_lab_limit limit)
{
    return (limit.lower >= 100 && y >= 100) || (limit.upper <= 0 && y <= 0);
}

/* Results whose probability is at least `sure`. It falls from the middle outwards, so the ends are found by
 * halving; a one-sided limit has its end a guard band away. */
static struct tb_lab_limit acceptance(double u, double freedom, struct tb_lab_limit l, double sure)
{
    double guard = tb_lab_guard(u, freedom, sure), middle, in, out;

    if (at_end_of_scale(l.lower, l) || at_end_of_scale(l.upper, l))
        return l;
    if (isinf(l.lower) || isinf(l.upper) || u <= 0)
        return (struct tb_lab_limit){ l.lower + guard, l.upper - guard };
    middle = (l.lower + l.upper) / 2;
    if (tb_lab_conformity(middle, u, freedom, l) < sure)
        return (struct tb_lab_limit){ INFINITY, -INFINITY };
    in = middle;
    out = l.upper;
    for (int i = 0; i < 60; i++) {
        double at = (in + out) / 2;

        if (tb_lab_conformity(at, u, freedom, l) >= sure)
            in = at;
        else
            out = at;
    }
    return (struct tb_lab_limit){ middle - (in - middle), in };
}

/* Sure to conform, sure to fail, and between them no answer. */
tb_rc tb_lab_decide(struct tb_lab_decision *out, double y, double u, double freedom,
                    struct tb_lab_limit limit, double sure, struct tb_err *err)
{
    if (!isfinite(y) || isnan(limit.lower) || isnan(limit.upper))
        return tb_fail(err, TB_EINVAL, "a result or a limit is not a number");
    if (!(u >= 0 && isfinite(u)) || !(freedom > 0))
        return tb_fail(err, TB_EINVAL, "an uncertainty of %g with %g degrees of freedom is not possible", u,
                       freedom);
    if (!(sure > 0.5 && sure < 1))
        return tb_fail(err, TB_EINVAL, "the probability asked for is %g; it lies between 0.5 and 1", sure);
    out->probability = at_end_of_scale(y, limit) ? 1 : tb_lab_conformity(y, u, freedom, limit);
    out->guard = tb_lab_guard(u, freedom, sure);
    out->accept = acceptance(u, freedom, limit, sure);
    out->answer = out->probability >= sure       ? TB_LAB_CONFORMS
                  : out->probability <= 1 - sure ? TB_LAB_FAILS
                                                 : TB_LAB_UNSAID;
    return TB_OK;
}
