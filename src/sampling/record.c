/* A supplier's record: the share of lots that do not conform, with strength borrowed across suppliers. */
#include "gen/ref_base_rate.h"
#include "sampling/check.h"
#include "sampling/dist.h"
#include "tenterbook/interval.h"
#include "tenterbook/sampling.h"

#include <gsl/gsl_sf_gamma.h>
#include <math.h>
#include <stdlib.h>

/* Log-likelihood and its derivatives in a and b. */
struct slope {
    double value, da, db, daa, dab, dbb;
};

/* ln of a (a+1) .. (a+n-1) with derivatives: plain sums, for a difference of log-gammas loses digits when the
 * weight is large. The counts are lots of one supplier, never bolts. */
static void rising(double *value, double *d1, double *d2, double a, long n)
{
    *value = *d1 = *d2 = 0;
    for (long k = 0; k < n; k++) {
        double x = a + (double)k;

        *value += log(x);
        *d1 += 1 / x;
        *d2 -= 1 / (x * x);
    }
}

static struct slope likelihood(double a, double b, const struct tb_tally *t, size_t n)
{
    struct slope s = { 0 };

    for (size_t i = 0; i < n; i++) {
        double v[3], d1[3], d2[3];

        rising(&v[0], &d1[0], &d2[0], a, t[i].wrong);
        rising(&v[1], &d1[1], &d2[1], b, t[i].lots - t[i].wrong);
        rising(&v[2], &d1[2], &d2[2], a + b, t[i].lots);
        s.value += v[0] + v[1] - v[2];
        s.da += d1[0] - d1[2];
        s.db += d1[1] - d1[2];
        s.daa += d2[0] - d2[2];
        s.dbb += d2[1] - d2[2];
        s.dab -= d2[2];
    }
    return s;
}

/* For a fixed weight the best mean: the derivative falls through nought once, so bisection on its logit is safe. */
static double best_mean(double weight, const struct tb_tally *t, size_t n)
{
    double least = -40, most = 40, m = 0.5;

    for (int i = 0; i < 100 && most - least > 1e-15 * fmax(1, fabs(least)); i++) {
        double u = (least + most) / 2;
        struct slope s;

        m = 1 / (1 + exp(-u));
        s = likelihood(m * weight, (1 - m) * weight, t, n);
        if (s.da > s.db)
            least = u;
        else
            most = u;
    }
    return m;
}

static double profile(double log_weight, const struct tb_tally *t, size_t n)
{
    double w = exp(log_weight), m = best_mean(w, t, n);

    return likelihood(m * w, (1 - m) * w, t, n).value;
}

/* Newton on (a, b) from the neighbourhood of the maximum; kept only where it goes on climbing. */
static void polish(struct tb_beta *b, const struct tb_tally *t, size_t n)
{
    struct slope s = likelihood(b->a, b->b, t, n);

    for (int i = 0; i < 50; i++) {
        double det = s.daa * s.dbb - s.dab * s.dab;
        double step_a = -(s.dbb * s.da - s.dab * s.db) / det, step_b = -(s.daa * s.db - s.dab * s.da) / det;
        struct tb_beta next = { b->a + step_a, b->b + step_b };
        struct slope there;

        if (!(det > 0) || !(next.a > 0 && next.b > 0))
            return;
        there = likelihood(next.a, next.b, t, n);
        if (!(there.value >= s.value - 1e-13 * fabs(s.value)))
            return;
        *b = next;
        s = there;
        if (fabs(step_a) < 1e-15 * b->a && fabs(step_b) < 1e-15 * b->b)
            return;
    }
}

/* Best weight: the top of a grid in its logarithm, then the golden section between its neighbours. */
static double best_weight(const struct tb_tally *t, size_t n, bool *at_edge)
{
    const int steps = 60;
    const double least = log(TB_WEIGHT_LEAST), most = log(TB_WEIGHT_MOST), step = (most - least) / steps;
    const double golden = 0.6180339887498949;
    double top = -INFINITY, lo, hi;
    int at = 0;

    for (int i = 0; i <= steps; i++) {
        double v = profile(least + i * step, t, n);

        if (v > top) {
            top = v;
            at = i;
        }
    }
    lo = least + fmax(at - 1, 0) * step;
    hi = least + fmin(at + 1, steps) * step;
    for (int i = 0; i < 60; i++) {
        double x = hi - golden * (hi - lo), y = lo + golden * (hi - lo);

        if (profile(x, t, n) >= profile(y, t, n))
            hi = y;
        else
            lo = x;
    }
    *at_edge = lo - least < 1e-6 || most - hi < 1e-6;
    return exp((lo + hi) / 2);
}

static tb_rc check_tally(long *lots, long *wrong, const struct tb_tally *t, size_t n, struct tb_err *err)
{
    *lots = *wrong = 0;
    for (size_t i = 0; i < n; i++) {
        if (t[i].lots < 0 || t[i].wrong < 0 || t[i].wrong > t[i].lots)
            return tb_fail(err, TB_EINVAL, "%ld wrong lots of %ld is no record", t[i].wrong, t[i].lots);
        *lots += t[i].lots;
        *wrong += t[i].wrong;
    }
    return TB_OK;
}

tb_rc tb_record_fit(struct tb_beta *out, double *log_likelihood, bool *at_edge, const struct tb_tally *tally,
                    size_t n, struct tb_err *err)
{
    long lots, wrong;
    bool edge = false;
    double weight, mean;
    struct tb_beta b;
    tb_rc rc = check_tally(&lots, &wrong, tally, n, err);

    if (rc != TB_OK)
        return rc;
    if (wrong == 0 || wrong == lots)
        return tb_fail(err, TB_EINVAL, "%ld wrong lots of %ld tell nothing of how suppliers differ", wrong,
                       lots);
    weight = best_weight(tally, n, &edge);
    mean = best_mean(weight, tally, n);
    b = (struct tb_beta){ mean * weight, (1 - mean) * weight };
    if (!edge)
        polish(&b, tally, n);
    *out = b;
    if (at_edge)
        *at_edge = edge;
    if (log_likelihood) {
        *log_likelihood = likelihood(b.a, b.b, tally, n).value;
        for (size_t i = 0; i < n; i++)
            *log_likelihood += gsl_sf_lnchoose((unsigned)tally[i].lots, (unsigned)tally[i].wrong);
    }
    return TB_OK;
}

tb_rc tb_record_published(struct tb_beta *out, struct tb_err *err)
{
    struct tb_tally *t = tb_array(struct tb_tally, tb_ref_base_rate_n);
    tb_rc rc;

    for (size_t i = 0; i < tb_ref_base_rate_n; i++)
        t[i] = (struct tb_tally){ tb_ref_base_rate[i].tested, tb_ref_base_rate[i].wrong };
    rc = tb_record_fit(out, NULL, NULL, t, tb_ref_base_rate_n, err);
    free(t);
    return rc;
}

tb_rc tb_record_prior(struct tb_beta *out, bool *own, const struct tb_tally *tally, size_t n,
                      struct tb_err *err)
{
    long lots, wrong;
    size_t suppliers = 0;
    tb_rc rc = check_tally(&lots, &wrong, tally, n, err);

    if (rc != TB_OK)
        return rc;
    for (size_t i = 0; i < n; i++)
        suppliers += tally[i].lots > 0;
    *own = suppliers >= TB_OWN_SUPPLIERS && lots >= TB_OWN_LOTS && wrong > 0 && wrong < lots;
    return *own ? tb_record_fit(out, NULL, NULL, tally, n, err) : tb_record_published(out, err);
}

tb_rc tb_record_posterior(struct tb_posterior *out, const struct tb_beta *prior, const struct tb_tally *own,
                          double conf, struct tb_err *err)
{
    long lots, wrong;
    struct tb_posterior p = { 0 };
    tb_rc rc = check_tally(&lots, &wrong, own, 1, err);

    if (rc != TB_OK)
        return rc;
    p.beta = (struct tb_beta){ prior->a + (double)wrong, prior->b + (double)(lots - wrong) };
    p.mean = p.next_wrong = p.beta.a / (p.beta.a + p.beta.b);
    rc = tb_interval_beta(&p.lo, &p.hi, p.beta.a, p.beta.b, conf, false, err);
    if (rc == TB_OK)
        *out = p;
    return rc;
}

tb_rc tb_record_next(double *chance, const struct tb_beta *b, long k, long m, struct tb_err *err)
{
    double up[3], d1, d2;

    if (!(b->a > 0 && b->b > 0))
        return tb_fail(err, TB_EINVAL, "beta(%g, %g) is no distribution; both numbers are above 0", b->a,
                       b->b);
    if (m < 0 || k < 0 || k > m || m > 1000000)
        return tb_fail(err, TB_EINVAL, "%ld wrong of the next %ld lots is not possible", k, m);
    rising(&up[0], &d1, &d2, b->a, k);
    rising(&up[1], &d1, &d2, b->b, m - k);
    rising(&up[2], &d1, &d2, b->a + b->b, m);
    *chance = exp(gsl_sf_lnchoose((unsigned)m, (unsigned)k) + up[0] + up[1] - up[2]);
    return TB_OK;
}
