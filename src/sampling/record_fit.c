/* record_fit.c - how the share of wrong lots differs between suppliers: beta-binomial by maximum likelihood. */
#include "sampling/inside.h"

#include <gsl/gsl_sf_gamma.h>
#include <gsl/gsl_sf_psi.h>
#include <math.h>
#include <stdlib.h>

#define COUNTED_MOST 2000 /* lots of one supplier that are counted one by one */

#define MEAN_NEAR                                                                                            \
    1e-8 /* slack of a logit: the likelihood is flat there, so this is near enough to compare weights */
#define MEAN_EXACT 1e-14  /* the same where the result counts */
#define CLIMB_SLACK 1e-13 /* of the log-likelihood: less is rounding */
#define SETTLED 1e-15
#define AT_EDGE 1e-6 /* of the log weight */

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

static void pool_free(struct pool *p)
{
    for (int j = 0; j < 3; j++)
        free(p->above[j]);
    free(p->big);
}

/* Suppliers with very many lots are kept apart, so that the counts stay short. */
static void pool_make(struct pool *p, const struct tb_tally *t, size_t n)
{
    *p = (struct pool){ .big = tb_array(struct tb_tally, n + 1) };
    for (int j = 0; j < 3; j++)
        p->above[j] = tb_array(double, COUNTED_MOST);
    for (size_t i = 0; i < n; i++) {
        const long count[3] = { t[i].wrong, t[i].lots - t[i].wrong, t[i].lots };

        if (t[i].lots > COUNTED_MOST) {
            p->big[p->n_big++] = t[i];
            continue;
        }
        for (int j = 0; j < 3; j++) {
            for (long k = 0; k < count[j]; k++)
                p->above[j][k]++;
            if (count[j] > p->top[j])
                p->top[j] = count[j];
        }
    }
}

/* ln of base (base+1) .. summed over the pool, with derivatives. Plain sums where they can be: a difference of
 * log-gammas loses digits when the weight is large. */
struct rise {
    double value, d1, d2;
};

/* Equal terms are taken once, times the suppliers that have them. */
static struct rise rising(double base, const double *above, long top)
{
    struct rise r = { 0 };

    for (long k = 0; k < top; k++) {
        double x = base + (double)k, times = above[k];

        r.value += times * log(x);
        r.d1 += times / x;
        r.d2 -= times / (x * x);
    }
    return r;
}

static void add_big(struct rise *r, double base, long n)
{
    double far = base + (double)n;

    r->value += gsl_sf_lngamma(far) - gsl_sf_lngamma(base);
    r->d1 += gsl_sf_psi(far) - gsl_sf_psi(base);
    r->d2 += gsl_sf_psi_1(far) - gsl_sf_psi_1(base);
}

/* Log-likelihood and its derivatives in a and b. */
struct slope {
    double value, da, db, daa, dab, dbb;
};

/* With its derivatives, so that Newton's method needs no differences. */
static struct slope likelihood(double a, double b, const struct pool *p)
{
    struct rise wrong = rising(a, p->above[0], p->top[0]), right = rising(b, p->above[1], p->top[1]);
    struct rise all = rising(a + b, p->above[2], p->top[2]);

    for (size_t i = 0; i < p->n_big; i++) {
        add_big(&wrong, a, p->big[i].wrong);
        add_big(&right, b, p->big[i].lots - p->big[i].wrong);
        add_big(&all, a + b, p->big[i].lots);
    }
    return (struct slope){ .value = wrong.value + right.value - all.value,
                           .da = wrong.d1 - all.d1,
                           .db = right.d1 - all.d1,
                           .daa = wrong.d2 - all.d2,
                           .dbb = right.d2 - all.d2,
                           .dab = -all.d2 };
}

/* For a fixed weight the best mean: the derivative falls through 0 once, so bisection on its logit is safe. */
static double best_mean(double weight, const struct pool *p, double slack)
{
    double least = -40, most = 40, m = 0.5;

    for (int i = 0; i < 100 && most - least > slack; i++) {
        double u = (least + most) / 2;
        struct slope s;

        m = 1 / (1 + exp(-u));
        s = likelihood(m * weight, (1 - m) * weight, p);
        if (s.da > s.db)
            least = u;
        else
            most = u;
    }
    return m;
}

static double profile(double log_weight, const struct pool *p)
{
    double w = exp(log_weight), m = best_mean(w, p, MEAN_NEAR);

    return likelihood(m * w, (1 - m) * w, p).value;
}

/* Newton on (a, b) from the neighbourhood of the maximum; kept only where it goes on climbing. */
static void polish(struct tb_beta *b, const struct pool *p)
{
    struct slope s = likelihood(b->a, b->b, p);

    for (int i = 0; i < 50; i++) {
        double det = s.daa * s.dbb - s.dab * s.dab;
        double step_a = -(s.dbb * s.da - s.dab * s.db) / det, step_b = -(s.daa * s.db - s.dab * s.da) / det;
        struct tb_beta next = { b->a + step_a, b->b + step_b };
        struct slope there;

        if (!(det > 0) || !(next.a > 0 && next.b > 0))
            return;
        there = likelihood(next.a, next.b, p);
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
    pool_make(&p, tally, n);
    weight = best_weight(&p, &edge);
    mean = best_mean(weight, &p, MEAN_EXACT);
    b = (struct tb_beta){ mean * weight, (1 - mean) * weight };
    if (!edge)
        polish(&b, &p);
    *out = b;
    if (at_edge)
        *at_edge = edge;
    if (log_likelihood) {
        *log_likelihood = likelihood(b.a, b.b, &p).value;
        for (size_t i = 0; i < n; i++)
            *log_likelihood += gsl_sf_lnchoose((unsigned)tally[i].lots, (unsigned)tally[i].wrong);
    }
    pool_free(&p);
    return TB_OK;
}
