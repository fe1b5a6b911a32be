/* record_fit.c - how the share of wrong lots differs between suppliers: beta-binomial by maximum likelihood. */
#include "sampling/inside.h"
#include "sampling/record_pool.h"

#include <gsl/gsl_sf_gamma.h>
#include <math.h>

#define CLIMB_SLACK 1e-13 /* of the log-likelihood: less is rounding */
#define SETTLED 1e-15
#define AT_EDGE 1e-6 /* of the log weight */

static double profile(double log_weight, const struct pool *p)
{
    double w = exp(log_weight), m = tb_tallies_best_mean(w, p, MEAN_NEAR);

    return tb_tallies_likelihood(m * w, (1 - m) * w, p).value;
}

/* Newton on (a, b) from the neighbourhood of the maximum; kept only where it goes on climbing. */
static void polish(struct tb_beta *b, const struct pool *p)
{
    struct slope s = tb_tallies_likelihood(b->a, b->b, p);

    for (int i = 0; i < 50; i++) {
        double det = s.daa * s.dbb - s.dab * s.dab;
        double step_a = -(s.dbb * s.da - s.dab * s.db) / det, step_b = -(s.daa * s.db - s.dab * s.da) / det;
        struct tb_beta next = { b->a + step_a, b->b + step_b };
        struct slope there;

        if (!(det > 0) || !(next.a > 0 && next.b > 0))
            return;
        there = tb_tallies_likelihood(next.a, next.b, p);
        if (!(there.value >= s.value - CLIMB_SLACK * fabs(s.value)))
            return;
        *b = next;
        s = there;
        if (fabs(step_a) < SETTLED * b->a && fabs(step_b) < SETTLED * b->b)
            return;
    }
}

/* Best weight: the top of a grid in its logarithm, then the golden section between its neighbours. */
static double best_weight(const struct pool *p, bool *at_edge)
{
    const int steps = 60;
    const double least = log(TB_WEIGHT_LEAST), most = log(TB_WEIGHT_MOST), step = (most - least) / steps;
    const double golden = 0.6180339887498949;
    double top = -INFINITY, lo, hi;
    int at = 0;

    for (int i = 0; i <= steps; i++) {
        double v = profile(least + i * step, p);

        if (v > top) {
            top = v;
            at = i;
        }
    }
    lo = least + fmax(at - 1, 0) * step;
    hi = least + fmin(at + 1, steps) * step;
    for (int i = 0; i < 40; i++) {
        double x = hi - golden * (hi - lo), y = lo + golden * (hi - lo);

        if (profile(x, p) >= profile(y, p))
            hi = y;
        else
            lo = x;
    }
    *at_edge = lo - least < AT_EDGE || most - hi < AT_EDGE;
    return exp((lo + hi) / 2);
}

tb_rc tb_check_tally(long *lots, long *wrong, const struct tb_tally *t, size_t n, struct tb_err *err)
{
    *lots = *wrong = 0;
    for (size_t i = 0; i < n; i++) {
        if (t[i].lots < 0 || t[i].wrong < 0 || t[i].wrong > t[i].lots)
            return tb_fail(err, TB_EINVAL, "%ld wrong lots of %ld is not a possible record", t[i].wrong,
                           t[i].lots);
        *lots += t[i].lots;
        *wrong += t[i].wrong;
    }
    return TB_OK;
}

/* No wrong lot at all, or nothing but wrong ones, is best explained by a share of 0 or 1: no maximum inside. */
tb_rc tb_record_fit(struct tb_beta *out, double *log_likelihood, bool *at_edge, const struct tb_tally *tally,
                    size_t n, struct tb_err *err)
{
    long lots, wrong;
    bool edge = false;
    double weight, mean;
    struct tb_beta b;
    struct pool p;
    tb_rc rc = tb_check_tally(&lots, &wrong, tally, n, err);

    if (rc != TB_OK)
        return rc;
    if (wrong == 0 || wrong == lots)
        return tb_fail(err, TB_EINVAL, "%ld wrong lots of %ld tell nothing of how suppliers differ", wrong,
                       lots);
    tb_tallies_make(&p, tally, n);
    weight = best_weight(&p, &edge);
    mean = tb_tallies_best_mean(weight, &p, MEAN_EXACT);
    b = (struct tb_beta){ mean * weight, (1 - mean) * weight };
    if (!edge)
        polish(&b, &p);
    *out = b;
    if (at_edge)
        *at_edge = edge;
    if (log_likelihood) {
        *log_likelihood = tb_tallies_likelihood(b.a, b.b, &p).value;
        for (size_t i = 0; i < n; i++)
            *log_likelihood += gsl_sf_lnchoose((unsigned)tally[i].lots, (unsigned)tally[i].wrong);
    }
    tb_tallies_free(&p);
    return TB_OK;
}
