/*
 * bounds.c - how far an evidence ratio may go: no further than what the model was tested on carries.
 *
 * Source: Vergeer, van Es, de Jongh, Alberink, Stoel, Science and Justice 56 (2016) 482, empirical bounds; docs/method.md,
 * section 7.
 */
#include "evidence/bounds.h"

#include "gen/ref_burn_bound.h"

#include <math.h>
#include <stdlib.h>

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

/* Lots of the site, and what each counts. */
struct site {
    const struct tb_settled_ratio *lot; /* n */
    double *weight;
    size_t n;
};

static double ratio_at(size_t row)
{
    return tb_ref_burn_bound[row].log10_ratio * log(10);
}

/* What one row counts of burns with so many looks. */
static void count_row(double out[2], size_t row, int looks)
{
    const struct tb_ref_burn_bound *r = &tb_ref_burn_bound[row];

    out[0] = looks == 1   ? r->true_at_or_below_1
             : looks == 2 ? r->true_at_or_below_2
             : looks == 3 ? r->true_at_or_below_3
                          : r->true_at_or_below;
    out[1] = looks == 1   ? r->false_above_1
             : looks == 2 ? r->false_above_2
             : looks == 3 ? r->false_above_3
                          : r->false_above;
}

/* The ends of the table stand for ratios of nothing and without limit: there all of a side is counted. */
static void take_row(struct cases *out, size_t row, int looks, const struct site *s)
{
    double at = ratio_at(row), first[2], last[2];

    count_row(first, 0, looks);
    count_row(last, tb_ref_burn_bound_n - 1, looks);
    out->all[0] = last[0];
    out->all[1] = first[1];
    count_row(out->wrong, row, looks);
    for (size_t i = 0; i < s->n; i++) {
        int side = s->lot[i].as_declared ? 0 : 1;
        bool wrong = side == 0 ? s->lot[i].log_ratio <= at : s->lot[i].log_ratio > at;

        out->all[side] += s->weight[i];
        out->wrong[side] += wrong ? s->weight[i] : 0;
    }
}

/* How far from even odds in one direction: to the last threshold before the first that is not carried. */
static double reach(int looks, const struct site *s, int step)
{
    size_t even = 0;
    double at = 0;
    struct cases c;

    while (tb_ref_burn_bound[even].log10_ratio < 0)
        even++;
    for (size_t i = even + (size_t)step; i > 0 && i + 1 < tb_ref_burn_bound_n; i += (size_t)step) {
        take_row(&c, i, looks, s);
        if (!carried(&c, ratio_at(i)))
            break;
        at = ratio_at(i);
    }
    return at;
}

double tb_bounds_make(struct tb_bounds *out, const struct tb_site_lots *more)
{
    struct site s = { .lot = more->lot, .weight = tb_array(double, more->n + 1), .n = more->n };
    double cases = tb_sent_weigh(s.weight, more);

    *out = (struct tb_bounds){ .low = reach(TB_FULL_LOOKS, &s, -1), .high = reach(TB_FULL_LOOKS, &s, 1) };
    free(s.weight);
    return cases;
}

/* A burn with fewer looks goes no further than one with more, whatever the chance of a draw says. */
void tb_bounds_of_looks(struct tb_bounds *out, const struct tb_bounds *full, size_t looks)
{
    const struct site none = { .n = 0 };

    *out = *full;
    for (int k = looks < 1 ? 1 : (int)looks; k < TB_FULL_LOOKS; k++) {
        out->low = fmax(out->low, reach(k, &none, -1));
        out->high = fmin(out->high, reach(k, &none, 1));
    }
}

/* Through text and back a bound may lose its last digit, and with it the digest of the model. */
void tb_bounds_near(struct tb_bounds *out, const struct tb_bounds *said)
{
    *out = (struct tb_bounds){ .low = ratio_at(0), .high = ratio_at(0) };
    for (size_t i = 0; i < tb_ref_burn_bound_n; i++) {
        double at = ratio_at(i);

        out->low = fabs(at - said->low) < fabs(out->low - said->low) ? at : out->low;
        out->high = fabs(at - said->high) < fabs(out->high - said->high) ? at : out->high;
    }
    out->low = fmin(out->low, 0);
    out->high = fmax(out->high, 0);
}

void tb_bounds_published(struct tb_bounds *out)
{
    (void)tb_bounds_make(out, &(struct tb_site_lots){ .n = 0 });
}

double tb_bounded(const struct tb_bounds *b, double log_ratio)
{
    return isnan(log_ratio) ? log_ratio : fmin(fmax(log_ratio, b->low), b->high);
}

static int reached(const struct tb_bounds *b, double log_ratio)
{
    return log_ratio <= b->low ? -1 : log_ratio >= b->high;
}

int tb_bounds_reached(const struct tb_bounds *b, double log_ratio)
{
    return b->untested ? 0 : reached(b, log_ratio);
}

bool tb_bounds_argued(const struct tb_bounds *b, double log_ratio)
{
    return b->untested && reached(b, log_ratio) != 0;
}
