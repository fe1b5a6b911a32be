/*
 * bounds.c - how far an evidence ratio may go: no further than what the model was tested on carries.
 *
 * Source: Vergeer, van Es, de Jongh, Alberink, Stoel, Science and Justice 56 (2016) 482, empirical bounds; docs/method.md,
 * section 7.
 */
#include "evidence/bounds.h"

#include "gen/ref_burn_bound.h"

#include <math.h>

/* Independent cases, true and false, and how many of them have a ratio on the wrong side of one threshold. */
struct cases {
    double all[2], wrong[2]; /* [0] as declared, at or below the threshold; [1] not as declared, above it */
};

/* One strongly misleading case is added to either side: the next one may always be the first. */
static double wrong_share(const struct cases *c, int side)
{
    return (c->wrong[side] + 1) / (c->all[side] + 1);
}

/* A ratio may stand where deciding by it costs less than deciding without any evidence would. */
static bool carried(const struct cases *c, double log_ratio)
{
    double threshold = exp(log_ratio), cost = wrong_share(c, 0) + threshold * wrong_share(c, 1);

    return cost < fmin(threshold, 1);
}

/* The ends of the table stand for ratios of nothing and without limit: there all of a side is counted. */
static void take_row(struct cases *out, size_t row, const struct tb_settled_ratio *more, size_t n)
{
    const struct tb_ref_burn_bound *r = tb_ref_burn_bound, *last = &r[tb_ref_burn_bound_n - 1];
    double at = r[row].log10_ratio * log(10);

    *out = (struct cases){ { last->true_at_or_below, r[0].false_above },
                           { r[row].true_at_or_below, r[row].false_above } };
    for (size_t i = 0; i < n; i++) {
        int side = more[i].as_declared ? 0 : 1;

        out->all[side]++;
        out->wrong[side] += more[i].as_declared ? more[i].log_ratio <= at : more[i].log_ratio > at;
    }
}

/* From even odds outwards as far as it goes without a gap; both ends are at even odds where nothing is carried. */
void tb_bounds_make(struct tb_bounds *out, const struct tb_settled_ratio *more, size_t n)
{
    size_t even = 0;
    struct cases c;

    while (tb_ref_burn_bound[even].log10_ratio < 0)
        even++;
    *out = (struct tb_bounds){ 0, 0 };
    for (size_t i = even; i-- > 1;) {
        take_row(&c, i, more, n);
        if (!carried(&c, tb_ref_burn_bound[i].log10_ratio * log(10)))
            break;
        out->low = tb_ref_burn_bound[i].log10_ratio * log(10);
    }
    for (size_t i = even + 1; i + 1 < tb_ref_burn_bound_n; i++) {
        take_row(&c, i, more, n);
        if (!carried(&c, tb_ref_burn_bound[i].log10_ratio * log(10)))
            break;
        out->high = tb_ref_burn_bound[i].log10_ratio * log(10);
    }
}

void tb_bounds_published(struct tb_bounds *out)
{
    tb_bounds_make(out, NULL, 0);
}

double tb_bounded(const struct tb_bounds *b, double log_ratio)
{
    return isnan(log_ratio) ? log_ratio : fmin(fmax(log_ratio, b->low), b->high);
}
