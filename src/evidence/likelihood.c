/* likelihood.c - the likelihood of an observation: its chances multiplied, and what an odd burn makes of it. */
#include "evidence/likelihood.h"

#include <assert.h>
#include <math.h>

#define SAFE 1e-200 /* far enough from the least double that one more chance does no harm */

/* Products of many chances, each kept as a number as long as it can be: one logarithm for all of them. */
struct products {
    double number[TB_PRODUCTS_OF_BURN + TB_CHANNELS_MOST], log[TB_PRODUCTS_OF_BURN + TB_CHANNELS_MOST];
};

static void open_product(struct products *p, int k)
{
    p->number[k] = 1;
    p->log[k] = 0;
}

/*
 * A logarithm for every cue would cost more than everything else here; one for all of them mostly does. `x` is the number of
 * product k while its cues follow one another.
 */
static inline double times(struct products *p, int k, double x, double by)
{
    x *= by;
    if (!(x < SAFE))
        return x;
    p->log[k] += log(x);
    return 1;
}

/* The weight of a group is an exponent, so it multiplies the logarithm of the group's product. */
static double weighed(const struct products *p, int k, int group)
{
    return (group + 1) / (double)TB_GROUPS * (p->log[k] + log(p->number[k]));
}

static double log_of(const struct products *p, int first)
{
    double sum = 0;

    for (int g = 0; g < TB_GROUPS; g++)
        if (p->number[first + g] < 1 || p->log[first + g] < 0) /* else it is empty */
            sum += weighed(p, first + g, g);
    return sum;
}

/* Telling cues are kept apart because an odd burn does not change them; each bench test, because it has mistakes of its own. */
void tb_chance_logs(struct tb_logs *out, const struct tb_evidence *ev, const double *chances,
                    const struct tb_terms *terms)
{
    struct products p;
    double x = 1;
    int at = 0;

    out->tests = 0;
    for (int k = 0; k < TB_PRODUCTS_OF_BURN; k++)
        open_product(&p, k);
    for (size_t i = 0; i < terms->n; i++) {
        int k = ev->cue[terms->term[i].cue].product;

        if (k >= TB_PRODUCTS_OF_BURN && !(out->tests & 1u << (k - TB_PRODUCTS_OF_BURN))) {
            open_product(&p, k);
            out->tests |= 1u << (k - TB_PRODUCTS_OF_BURN);
        }
        if (k != at) {
            p.number[at] = x;
            x = p.number[k];
            at = k;
        }
        x = times(&p, k, x, chances[i]);
    }
    p.number[at] = x;
    out->rest = log_of(&p, 0);
    out->telling = log_of(&p, TB_GROUPS);
    for (int c = 0; c < ev->channels && out->tests >> c; c++)
        if (out->tests & 1u << c)
            out->test[c] = weighed(&p, TB_PRODUCTS_OF_BURN + c, ev->cue[ev->channel[c].first].group);
}

void tb_blend_logs(struct tb_logs *out, const struct tb_evidence *ev, const struct tb_blend *b,
                   const struct tb_terms *terms)
{
    double chances[TB_CUES_MOST];

    tb_blend_chances(chances, ev, b, terms);
    tb_chance_logs(out, ev, chances, terms);
}

/* log(exp(a) + exp(b)); the larger is taken out, so that nothing overflows. */
static double log_add(double a, double b)
{
    double most = a > b ? a : b;

    return most == -INFINITY ? most : most + log(exp(a - most) + exp(b - most));
}

double tb_mistaken_chance(const struct tb_evidence *ev, int cue)
{
    return 1.0 / ev->channel[ev->cue[cue].channel].n;
}

/* A result that is misread may be any: which cloth it is has no say in it. */
double tb_mistaken_test(const struct tb_evidence *ev, const struct tb_terms *terms, int channel)
{
    double sum = 0;

    for (size_t i = 0; i < terms->n; i++)
        if (ev->cue[terms->term[i].cue].channel == channel) {
            double p = tb_mistaken_chance(ev, terms->term[i].cue);

            sum += log(terms->term[i].seen ? p : 1 - p);
        }
    return sum;
}

/* A burn is as its blend says, or now and then odd. */
static double as_cloth(const struct tb_evidence *ev, int fibres, const struct tb_logs *l,
                       const struct tb_strange *strange)
{
    double pi = fibres > 1 ? ev->fig.odd_blend : ev->fig.odd_pure;

    return l->telling + log_add(log1p(-pi) + l->rest, log(pi) + strange->odd);
}

double tb_burn_log(const struct tb_evidence *ev, int fibres, const struct tb_logs *l,
                   const struct tb_strange *strange)
{
    return log_add(log1p(-ev->fig.burn_error) + as_cloth(ev, fibres, l, strange),
                   log(ev->fig.burn_error) + strange->burn);
}

double tb_test_log(const struct tb_evidence *ev, int channel, const struct tb_logs *l,
                   const struct tb_strange *strange)
{
    return log_add(log1p(-ev->fig.test_error) + l->test[channel],
                   log(ev->fig.test_error) + strange->test[channel]);
}

/*
 * A sum, so that one surprise is not the end of it. Whoever mixes a swatch up does all that follows on the wrong cloth; a
 * mistake in one act leaves the others right. Of a burn alone both are one.
 */
double tb_join_logs(const struct tb_evidence *ev, int fibres, const struct tb_logs *l,
                    const struct tb_strange *strange)
{
    double e = ev->fig.bench_error, own;

    if (!l->tests) {
        own = as_cloth(ev, fibres, l, strange);
    } else {
        e = ev->fig.mixup;
        own = tb_burn_log(ev, fibres, l, strange);
        for (int c = 0; c < ev->channels && l->tests >> c; c++)
            own += l->tests & 1u << c ? tb_test_log(ev, c, l, strange) : 0;
    }
    return log_add(log1p(-e) + own, log(e) + strange->any);
}

/* One pure fibre into the mixtures over all of them, by how often each comes. */
static void add_strange(struct tb_strange *out, const struct tb_evidence *ev, int fibre,
                        const struct tb_logs *l)
{
    double odd = log(ev->odd[fibre]), all = odd + l->rest + l->telling;

    out->odd = log_add(out->odd, odd + l->rest);
    out->burn = log_add(out->burn, all);
    for (int c = 0; c < ev->channels && l->tests >> c; c++)
        all += l->tests & 1u << c ? l->test[c] : 0;
    out->any = log_add(out->any, all);
}

void tb_strange_logs(struct tb_strange *out, const struct tb_evidence *ev, const struct tb_terms *terms)
{
    struct tb_logs l[TB_FIBRES_MOST];

    *out = (struct tb_strange){ .odd = -INFINITY, .burn = -INFINITY, .any = -INFINITY };
    for (int c = 0; c < ev->channels; c++)
        out->test[c] = ev->channel[c].bench ? tb_mistaken_test(ev, terms, c) : 0;
    for (int f = 0; f < ev->fibres; f++) {
        tb_blend_logs(&l[f], ev, &(struct tb_blend){ .n = 1, .fibre = { f }, .share = { 1 } }, terms);
        add_strange(out, ev, f, &l[f]);
    }
    assert(out->odd > -INFINITY); /* a model has fibres */
    for (int f = 0; f < ev->fibres; f++)
        out->pure[f] = tb_join_logs(ev, 1, &l[f], out);
}
