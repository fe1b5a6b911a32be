/* record_pool.c - the likelihood of all suppliers' tallies under a beta-binomial, and the mean that fits best to a weight. */
#include "sampling/record_pool.h"

#include <gsl/gsl_sf_gamma.h>
#include <gsl/gsl_sf_psi.h>
#include <math.h>
#include <stdlib.h>

#define COUNTED_MOST 2000 /* lots of one supplier that are counted one by one */

void tb_tallies_free(struct pool *p)
{
    for (int j = 0; j < 3; j++)
        free(p->above[j]);
    free(p->big);
}

/* Suppliers with very many lots are kept apart, so that the counts stay short. */
void tb_tallies_make(struct pool *p, const struct tb_tally *t, size_t n)
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

/* With its derivatives, so that Newton's method needs no differences. */
struct slope tb_tallies_likelihood(double a, double b, const struct pool *p)
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
double tb_tallies_best_mean(double weight, const struct pool *p, double slack)
{
    double least = -40, most = 40, m = 0.5;

    for (int i = 0; i < 100 && most - least > slack; i++) {
        double u = (least + most) / 2;
        struct slope s;

        m = 1 / (1 + exp(-u));
        s = tb_tallies_likelihood(m * weight, (1 - m) * weight, p);
        if (s.da > s.db)
            least = u;
        else
            most = u;
    }
    return m;
}
