#include "evidence/model.h"

#include <assert.h>
#include <math.h>

static bool seen(const struct tb_observation *o, int cue)
{
    return o->sight[cue] == TB_SIGHT_SEEN;
}

/* True when some kind of this general cue was seen. */
bool tb_kind_seen(const struct tb_evidence *ev, const struct tb_observation *o, int cue)
{
    const struct tb_channel *ch = &ev->channel[ev->cue[cue].channel];

    for (int c = ch->first; c < ch->first + ch->n; c++)
        if (ev->cue[c].general == cue && seen(o, c))
            return true;
    return false;
}

bool tb_cue_general(const struct tb_evidence *ev, int cue)
{
    const struct tb_channel *ch = &ev->channel[ev->cue[cue].channel];

    for (int c = ch->first; c < ch->first + ch->n; c++)
        if (ev->cue[c].general == cue)
            return true;
    return false;
}

/*
 * "A bead" may be any bead: its kinds are then open, not absent. A kind that was seen says all that the general
 * cue could say; and where neither was seen the kinds' absence says it.
 */
static bool says_something(const struct tb_evidence *ev, const struct tb_observation *o, int cue)
{
    int general = ev->cue[cue].general;

    if (general >= 0 && !seen(o, cue) && o->sight[cue] != TB_SIGHT_DENIED)
        return !seen(o, general) || tb_kind_seen(ev, o, general);
    if (tb_cue_general(ev, cue))
        return seen(o, cue) ? !tb_kind_seen(ev, o, cue)
                            : o->sight[cue] == TB_SIGHT_DENIED && !tb_kind_seen(ev, o, cue);
    return true;
}

static void add_exclusive(struct tb_terms *out, const struct tb_observation *o, const struct tb_channel *ch)
{
    bool one = false;

    for (int c = ch->first; c < ch->first + ch->n; c++)
        one |= seen(o, c);
    for (int c = ch->first; c < ch->first + ch->n; c++)
        if (seen(o, c) || (!one && o->sight[c] == TB_SIGHT_DENIED))
            out->term[out->n++] = (struct tb_term){ c, seen(o, c), o->sight[c] == TB_SIGHT_DENIED };
}

void tb_terms_of(struct tb_terms *out, const struct tb_evidence *ev, const struct tb_observation *o)
{
    out->n = 0;
    for (int i = 0; i < ev->channels; i++) {
        const struct tb_channel *ch = &ev->channel[i];

        if (!o->looked[i])
            continue;
        if (ch->exclusive) {
            add_exclusive(out, o, ch);
            continue;
        }
        for (int c = ch->first; c < ch->first + ch->n; c++)
            if (says_something(ev, o, c))
                out->term[out->n++] = (struct tb_term){ c, seen(o, c), o->sight[c] == TB_SIGHT_DENIED };
    }
}

/* How far each fibre of a blend shows, ramp by ramp. */
struct sight {
    double d[TB_RAMPS_MOST][TB_BLEND_MOST];
};

static void sight_of(struct sight *out, const struct tb_evidence *ev, const struct tb_blend *b)
{
    for (int r = 0; r < ev->ramps; r++)
        for (int i = 0; i < b->n; i++)
            out->d[r][i] = tb_model_visible(&ev->ramp[r], b->share[i]);
}

/* Product over the fibres of the blend, each as far as its share lets it show. */
static double chance_any(const struct tb_evidence *ev, const struct tb_blend *b, const struct sight *s,
                         int cue)
{
    const struct tb_cue_model *m = &ev->cue[cue];
    const struct tb_figures *g = &ev->fig;
    double leak = m->telling ? g->leak_telling
                             : (b->n > 1 ? g->leak_blend : g->leak_pure) * m->base + g->leak_floor,
           none = 1 - leak;

    for (int i = 0; i < b->n; i++)
        none *= 1 - ev->q[b->fibre[i]][cue] * s->d[m->ramp][i];
    return 1 - none;
}

static double chance_all(const struct tb_evidence *ev, const struct tb_blend *b, const struct sight *s,
                         int cue)
{
    double p = 1;

    for (int i = 0; i < b->n; i++)
        p *= 1 - (1 - ev->q[b->fibre[i]][cue]) * s->d[ev->cue[cue].ramp][i];
    return p;
}

static double chance_share(const struct tb_evidence *ev, const struct tb_blend *b, int cue)
{
    double p = 0;

    for (int i = 0; i < b->n; i++)
        p += b->share[i] * ev->q[b->fibre[i]][cue];
    return p;
}

/* What is left over when the other results of the test do not happen. */
static double chance_partly(const struct tb_evidence *ev, const struct tb_blend *b, const struct sight *s,
                            int cue)
{
    const struct tb_channel *ch = &ev->channel[ev->cue[cue].channel];
    double p = 1;

    for (int c = ch->first; c < ch->first + ch->n; c++)
        if (ev->cue[c].law == TB_LAW_ALL)
            p -= chance_all(ev, b, s, c);
    return p > 0 ? p : 0;
}

double tb_noise_of(const struct tb_evidence *ev, int cue, int n)
{
    if (ev->channel[ev->cue[cue].channel].exclusive)
        return ev->fig.bench_slip;
    return n > 1 ? ev->fig.noise_blend : ev->fig.noise_pure;
}

static double chance(const struct tb_evidence *ev, const struct tb_blend *b, const struct sight *s, int cue)
{
    const struct tb_cue_model *m = &ev->cue[cue];
    double noise = tb_noise_of(ev, cue, b->n), p;

    if (m->law == TB_LAW_ANY)
        return chance_any(ev, b, s, cue);
    if (m->law == TB_LAW_SHARE)
        p = chance_share(ev, b, cue);
    else
        p = m->law == TB_LAW_ALL ? chance_all(ev, b, s, cue) : chance_partly(ev, b, s, cue);
    return (1 - noise) * p + noise * m->base;
}

double tb_cue_chance(const struct tb_evidence *ev, const struct tb_blend *b, int cue)
{
    struct sight s;

    sight_of(&s, ev, b);
    return chance(ev, b, &s, cue);
}

void tb_blend_chances(double *out, const struct tb_evidence *ev, const struct tb_blend *b,
                      const struct tb_terms *terms)
{
    struct sight s;

    sight_of(&s, ev, b);
    for (size_t i = 0; i < terms->n; i++) {
        double p = chance(ev, b, &s, terms->term[i].cue);

        out[i] = terms->term[i].seen ? p : 1 - p;
    }
}

/* A product of many chances, kept as a number as long as it can be: one logarithm for all of them. */
struct product {
    double log, rest;
};

static void times(struct product *p, double by)
{
    p->rest *= by;
    if (p->rest < 1e-200) {
        p->log += log(p->rest);
        p->rest = 1;
    }
}

static double log_of(const struct product *groups)
{
    double sum = 0;

    for (int g = 0; g < TB_GROUPS; g++)
        sum += (g + 1) / (double)TB_GROUPS * (groups[g].log + log(groups[g].rest));
    return sum;
}

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

double tb_odd_log(const struct tb_evidence *ev, const struct tb_terms *terms)
{
    double r[TB_FIBRES_MOST], most = -INFINITY, sum = 0, telling;

    for (int f = 0; f < ev->fibres; f++) {
        struct tb_blend pure = { .n = 1, .fibre = { f }, .share = { 1 } };

        tb_blend_logs(&telling, &r[f], ev, &pure, terms);
        r[f] += log(ev->odd[f]);
        most = r[f] > most ? r[f] : most;
    }
    for (int f = 0; f < ev->fibres; f++)
        sum += exp(r[f] - most);
    assert(sum > 0); /* a model has fibres */
    return most + log(sum);
}

double tb_join_logs(const struct tb_evidence *ev, int fibres, double telling, double rest, double odd)
{
    double pi = fibres > 1 ? ev->fig.odd_blend : ev->fig.odd_pure;
    double a = log1p(-pi) + rest, b = log(pi) + odd, most = a > b ? a : b;

    return telling + most + log(exp(a - most) + exp(b - most));
}
