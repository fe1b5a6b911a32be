/* roof.c - how likely observations can be at most, strip by strip, from what was weighed before. */
#include "evidence/roof.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>

#define ROUNDING 1e-9 /* far more than sums of shares lose, and to such a power no likelihood is far from 1 */
#define ROUNDED_UP (1 + 1e-5) /* more than a power in few digits loses */
#define EXPONENTS 256         /* of a float */

/* All that one says, the other says too, and besides only what bench tests gave. */
static bool says_more(const struct tb_terms *more, const struct tb_terms *less, const struct tb_evidence *ev)
{
    size_t at = 0;

    for (size_t i = 0; i < more->n; i++) {
        const struct tb_term *t = &more->term[i];

        if (at < less->n && less->term[at].cue == t->cue && less->term[at].seen == t->seen)
            at++;
        else if (!ev->channel[ev->cue[t->cue].channel].bench)
            return false;
    }
    return at == less->n;
}

/*
 * No likelihood is above 1, nor is that of a burn with a test beside it above that of the burn. So where all that a table lost is
 * gained by tables that say more, no composition is likelier than before to the power `share`.
 */
static bool is_below(const struct tb_counting *c, double share, const struct tb_evidence *ev)
{
    double *gain = tb_array(double, c->tables + 1);
    bool below = true;

    for (size_t i = 0; i < c->n_now; i++)
        gain[c->now[i].table] += c->now[i].power;
    for (size_t i = 0; i < c->n_before; i++)
        gain[c->before[i].table] -= share * c->before[i].power;
    for (size_t t = 0; t < c->tables && below; t++) {
        for (size_t m = 0; m < c->tables && gain[t] < -ROUNDING; m++)
            if (gain[m] > 0 && says_more(c->terms[m], c->terms[t], ev)) {
                double take = fmin(gain[m], -gain[t]);

                gain[m] -= take;
                gain[t] += take;
            }
        below = gain[t] >= -ROUNDING;
    }
    free(gain);
    return below;
}

/* Another person makes all burns count less: by the one that loses most. */
static double least_share(const struct tb_counting *c)
{
    double share = 1;

    for (size_t i = 0; i < c->n_now; i++)
        for (size_t k = 0; k < c->n_before; k++)
            if (c->now[i].table == c->before[k].table && c->now[i].power > 0)
                share = fmin(share, c->now[i].power / c->before[k].power);
    return share;
}

/* Hoelder's inequality: the mean of a power is at most the power of the mean, over the prior of each strip. */
static float *powers_of(double share, const struct tb_sums *sums, const struct tb_evidence *ev,
                        struct tb_arena *mem)
{
    float *strip = tb_arena_alloc(mem, sums->strips * sizeof *strip);

    for (size_t i = 0; i < sums->strips; i++)
        strip[i] = powf(sums->strip[i], (float)share) * powf(ev->prior_sums.strip[i], 1 - (float)share) *
                       (float)ROUNDED_UP +
                   FLT_MIN;
    return strip;
}

bool tb_roof_take(struct tb_roof *out, const struct tb_counting *c, const struct tb_sums *sums,
                  const struct tb_evidence *ev, struct tb_arena *mem)
{
    bool below = is_below(c, 1, ev);
    double share = below ? 1 : least_share(c);

    *out = (struct tb_roof){ .strip = NULL };
    if (!sums->strips || (!below && !(share > 0 && share < 1 && is_below(c, share, ev))))
        return false;
    *out = (struct tb_roof){ .strip = share < 1 ? powers_of(share, sums, ev, mem) : sums->strip,
                             .strips = sums->strips,
                             .all = pow(sums->all, share),
                             .log_scale = share * sums->log_scale };
    return true;
}

/* Strips by the power of two they are below, so that they need not be sorted. */
float tb_roof_cut(const struct tb_roof *roof)
{
    double below[EXPONENTS] = { 0 }, sum = 0;
    int at = 0;

    for (size_t i = 0; i < roof->strips; i++) {
        int exponent;

        (void)frexpf(roof->strip[i], &exponent);
        below[exponent - FLT_MIN_EXP] += roof->strip[i]; /* none is below FLT_MIN */
    }
    while (at + 1 < EXPONENTS && sum + below[at] <= roof->leave * roof->all)
        sum += below[at++];
    return ldexpf(1, at + FLT_MIN_EXP - 1);
}
