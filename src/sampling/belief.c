/*
 * belief.c - a supplier's share where how much suppliers differ is itself known only roughly.
 *
 * The best fitting beta alone would say too much: of fifteen suppliers with a dozen lots each it is often one without any spread,
 * as if each of them had a thousand lots behind it. So every spread that the tallies leave likely is kept, with its weight.
 */
#include "sampling/dist.h"
#include "sampling/inside.h"
#include "sampling/record_pool.h"
#include "tenterbook/interval.h"

#include <gsl/gsl_integration.h>
#include <math.h>
#include <stdlib.h>

#define NODES 32 /* of Gauss and Legendre, over the spreads that count */
#define STEP                                                                                                 \
    0.6 /* between means of one spread, in deviations: the trapezoid rule is exact to rounding for a normal law */
#define SIDE 60          /* means on each side of the likeliest, at most */
#define COUNTS 20.0      /* below the top, in logarithms: less is nothing */
#define FIRST_STEP 0.001 /* of the spread, away from the best fit */
#define EDGE_HALVINGS 8
#define SETTLED 1e-12
#define SHOWN 0.95 /* of the interval of the weight */

/* Where the tallies are looked at with a spread s = (a + b)^-1/2 and a mean m, whose logit is u. */
struct look {
    const struct pool *pool;
    struct tb_belief_point *point;
    size_t n;
};

static double mean_at(double u)
{
    return 1 / (1 + exp(-u));
}

/* The density over (s, u): even over s and m, so that m (1 - m) comes of the logit. */
static double density(const struct pool *p, double s, double u)
{
    double w = 1 / (s * s), m = mean_at(u);

    return tb_tallies_likelihood(m * w, (1 - m) * w, p).value + log(m) + log1p(-m);
}

/* The likeliest mean of a spread, as a logit, and the deviation about it. */
static double middle(double *deviation, const struct pool *p, double s)
{
    double w = 1 / (s * s), m = tb_tallies_best_mean(w, p, MEAN_NEAR), by = m * (1 - m);
    struct slope f = tb_tallies_likelihood(m * w, (1 - m) * w, p);

    *deviation = 1 / sqrt(fmax(-(f.daa - 2 * f.dab + f.dbb) * w * w * by * by, 0) + 2 * by);
    return log(m) - log1p(-m);
}

/* About what a spread weighs with all its means, for telling which spreads count. */
static double about(const struct pool *p, double s)
{
    double deviation, u = middle(&deviation, p, s);

    return density(p, s, u) + log(deviation);
}

/* From the best fit outwards, until the spread no longer counts or can be no larger (or smaller). */
static double edge(const struct pool *p, double from, double bound, double top)
{
    double step = bound > from ? FIRST_STEP : -FIRST_STEP, in = from, out = from;

    while (out != bound) {
        out = step > 0 ? fmin(in + step, bound) : fmax(in + step, bound);
        if (about(p, out) < top - COUNTS)
            break;
        in = out;
        step *= 2;
    }
    if (in == bound)
        return bound;
    for (int i = 0; i < EDGE_HALVINGS; i++) {
        double half = (in + out) / 2;

        if (about(p, half) < top - COUNTS)
            out = half;
        else
            in = half;
    }
    return out;
}

/* One spread with the means about its likeliest, each with the logarithm of its density for a weight. */
static void add_spread(struct look *l, double s, double weight)
{
    double w = 1 / (s * s), deviation, u = middle(&deviation, l->pool, s), top = density(l->pool, s, u);

    for (int side = -1; side <= 1; side += 2)
        for (int i = side > 0 ? 0 : 1; i < SIDE; i++) {
            double at = u + side * i * STEP * deviation, value = density(l->pool, s, at), m = mean_at(at);

            if (value < top - COUNTS || !(m * w > 0 && (1 - m) * w > 0))
                break;
            l->point[l->n++] =
                (struct tb_belief_point){ m * w, (1 - m) * w, value + log(weight * deviation) };
        }
}

/* Logarithms to shares that add up to 1. */
static void even_out(struct look *l)
{
    double top = -INFINITY, sum = 0;

    for (size_t i = 0; i < l->n; i++)
        top = fmax(top, l->point[i].share);
    for (size_t i = 0; i < l->n; i++)
        sum += l->point[i].share = exp(l->point[i].share - top);
    for (size_t i = 0; i < l->n; i++)
        l->point[i].share /= sum;
}

static int lighter(const void *a, const void *b)
{
    const struct tb_belief_point *x = a, *y = b;
    double wx = x->a + x->b, wy = y->a + y->b;

    return wx < wy ? -1 : wx > wy;
}

/* Between which weights a + b the truth lies; the points are brought into their order. */
static void weigh(struct tb_belief *out, struct look *l)
{
    double sum = 0;

    qsort(l->point, l->n, sizeof *l->point, lighter);
    out->lightest = out->heaviest = l->point[0].a + l->point[0].b;
    for (size_t i = 0; i < l->n; i++) {
        double weight = l->point[i].a + l->point[i].b;

        if (sum < (1 - SHOWN) / 2)
            out->lightest = weight;
        if (sum < 1 - (1 - SHOWN) / 2)
            out->heaviest = weight;
        sum += l->point[i].share;
    }
}

static void spread_out(struct tb_belief *out, const struct pool *p, struct tb_arena *mem)
{
    const double least = 1 / sqrt(TB_WEIGHT_MOST), most = 1 / sqrt(TB_WEIGHT_LEAST);
    double best = fmin(fmax(1 / sqrt(out->fit.a + out->fit.b), least), most), top = about(p, best), lo, hi;
    gsl_integration_glfixed_table *rule = gsl_integration_glfixed_table_alloc(NODES);
    struct look l = { p, tb_arena_alloc(mem, NODES * 2 * SIDE * sizeof *l.point), 0 };

    if (!rule)
        tb_no_memory();
    lo = edge(p, best, least, top);
    hi = edge(p, best, most, top);
    for (size_t i = 0; i < NODES; i++) {
        double s, weight;

        (void)gsl_integration_glfixed_point(lo, hi, i, &s, &weight, rule);
        add_spread(&l, s, weight);
    }
    gsl_integration_glfixed_table_free(rule);
    even_out(&l);
    weigh(out, &l);
    out->point = l.point;
    out->n = l.n;
}

/* The published record is taken as it was fitted: it is an upper guide, and no more is made of it. */
tb_rc tb_record_belief(struct tb_belief *out, const struct tb_tally *tally, size_t n, struct tb_arena *mem,
                       struct tb_err *err)
{
    struct tb_belief b = { 0 };
    struct pool p;
    tb_rc rc = tb_record_prior(&b.fit, &b.own, tally, n, err);

    if (rc != TB_OK)
        return rc;
    if (b.own) {
        tb_tallies_make(&p, tally, n);
        spread_out(&b, &p, mem);
        tb_tallies_free(&p);
    } else {
        b.lightest = b.heaviest = b.fit.a + b.fit.b;
    }
    *out = b;
    return TB_OK;
}

/* --- one supplier ------------------------------------------------------------------------------------------------ */

/* How much lies below the logit u, and how fast that grows with u. */
static double below(double *front, const struct tb_belief *b, const struct tb_tally *own, double u)
{
    double sum = 0, one;

    *front = 0;
    for (size_t i = 0; i < b->n; i++) {
        double right = (double)(own->lots - own->wrong), f;

        one = tb_dist_beta_below(&f, b->point[i].a + (double)own->wrong, b->point[i].b + right, u);
        sum += b->point[i].share * one;
        *front += b->point[i].share * f;
    }
    return sum;
}

/* Newton from about the right place, kept between what is known to be below and above. */
static double quantile(double p, double from, const struct tb_belief *b, const struct tb_tally *own)
{
    double least = -700, most = 700, u = from;

    for (int i = 0; i < 200; i++) {
        double front, gap = below(&front, b, own, u) - p, next;

        if (gap > 0)
            most = u;
        else
            least = u;
        next = u - gap / front;
        if (!(next > least && next < most))
            next = (least + most) / 2;
        if (fabs(next - u) < SETTLED * fmax(1, fabs(u)))
            return next;
        u = next;
    }
    return u;
}

/* Mean and variance of the mixture, and the beta that has the same two. */
static void moments(struct tb_posterior *out, const struct tb_belief *b, const struct tb_tally *own)
{
    double mean = 0, square = 0, weight;

    for (size_t i = 0; i < b->n; i++) {
        double x = b->point[i].a + (double)own->wrong,
               all = b->point[i].a + b->point[i].b + (double)own->lots;

        mean += b->point[i].share * x / all;
        square += b->point[i].share * (x / all) * ((x + 1) / (all + 1));
    }
    weight = mean * (1 - mean) / (square - mean * mean) - 1;
    out->mean = out->next_wrong = mean;
    out->beta = (struct tb_beta){ mean * weight, (1 - mean) * weight };
}

tb_rc tb_belief_posterior(struct tb_posterior *out, const struct tb_belief *belief,
                          const struct tb_tally *own, double conf, struct tb_err *err)
{
    struct tb_posterior p;
    long lots, wrong;
    double lo, hi;
    tb_rc rc = tb_check_tally(&lots, &wrong, own, 1, err);

    if (rc != TB_OK)
        return rc;
    if (!belief->n)
        return tb_record_posterior(out, &belief->fit, own, conf, err);
    moments(&p, belief, own);
    if ((rc = tb_interval_beta(&lo, &hi, p.beta.a, p.beta.b, conf, err)) != TB_OK)
        return rc;
    p.lo = mean_at(quantile((1 - conf) / 2, log(lo) - log1p(-lo), belief, own));
    p.hi = mean_at(quantile((1 + conf) / 2, log(hi) - log1p(-hi), belief, own));
    *out = p;
    return TB_OK;
}
