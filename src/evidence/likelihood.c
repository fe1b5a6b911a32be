/* likelihood.c - the likelihood of an observation: its chances multiplied, and what an odd burn makes of it. */
#include "evidence/likelihood.h"

#include <assert.h>
#include <math.h>

#define SAFE 1e-200 /* far enough from the least double that one more chance does no harm */

/* A product of many chances, kept as a number as long as it can be: one logarithm for all of them. */
struct product {
    double log, rest;
};

/* A logarithm for every cue would cost more than everything else here; one for all of them mostly does. */
static void times(struct product *p, double by)
{
    p->rest *= by;
    if (p->rest < SAFE) {
        p->log += log(p->rest);
        p->rest = 1;
    }
}

/* The weight of a group is an exponent, so it multiplies the logarithm of the group's product. */
static double log_of(const struct product *groups)
{
    double sum = 0;

    for (int g = 0; g < TB_GROUPS; g++)
        sum += (g + 1) / (double)TB_GROUPS * (groups[g].log + log(groups[g].rest));
    return sum;
}

/* Firm cues are kept apart because an odd burn does not change them. */
void tb_chance_logs(double *telling, double *rest, const struct tb_evidence *ev, const double *chances,
                    const struct tb_terms *terms)
{
    struct product side[2][TB_GROUPS];

    for (int g = 0; g < TB_GROUPS; g++)
        side[0][g] = side[1][g] = (struct product){ 0, 1 };
    for (size_t i = 0; i < terms->n; i++) {
        const struct tb_cue_model *m = &ev->cue[terms->term[i].cue];

        times(&side[m->firm][m->group], chances[i]);
    }
    *telling = log_of(side[1]);
    *rest = log_of(side[0]);
}

void tb_blend_logs(double *telling, double *rest, const struct tb_evidence *ev, const struct tb_blend *b,
                   const struct tb_terms *terms)
{
    double chances[TB_CUES_MOST];

    tb_blend_chances(chances, ev, b, terms);
    tb_chance_logs(telling, rest, ev, chances, terms);
}

/* log(exp(a) + exp(b)); the larger is taken out, so that nothing overflows. */
static double log_add(double a, double b)
{
    double most = a > b ? a : b;

    return most == -INFINITY ? most : most + log(exp(a - most) + exp(b - most));
}

/* Mixtures over all pure fibres, by how often each comes. */
void tb_strange_logs(struct tb_strange *out, const struct tb_evidence *ev, const struct tb_terms *terms)
{
    *out = (struct tb_strange){ -INFINITY, -INFINITY };
    for (int f = 0; f < ev->fibres; f++) {
        struct tb_blend pure = { .n = 1, .fibre = { f }, .share = { 1 } };
        double telling, rest;

        tb_blend_logs(&telling, &rest, ev, &pure, terms);
        out->odd = log_add(out->odd, log(ev->odd[f]) + rest);
        out->any = log_add(out->any, log(ev->odd[f]) + rest + telling);
    }
    assert(out->odd > -INFINITY); /* a model has fibres */
}

/*
 * A burn is as its blend says, or now and then odd; and now and then it is not of this cloth at all. A sum of three, so
 * that one surprise is not the end of it.
 */
double tb_join_logs(const struct tb_evidence *ev, int fibres, double telling, double rest,
                    const struct tb_strange *strange)
{
    double pi = fibres > 1 ? ev->fig.odd_blend : ev->fig.odd_pure, e = ev->fig.bench_error;
    double own = telling + log_add(log1p(-pi) + rest, log(pi) + strange->odd);

    return log_add(log1p(-e) + own, log(e) + strange->any);
}
