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

static bool bench_cue(const struct tb_evidence *ev, int cue)
{
    return ev->channel[ev->cue[cue].channel].bench;
}

/* Product over the fibres of the blend, each as far as its share lets it show. */
static double chance_any(const struct tb_evidence *ev, const struct tb_blend *b, int cue)
{
    const struct tb_cue_model *m = &ev->cue[cue];
    const struct tb_figures *g = &ev->fig;
    double leak = m->telling ? g->leak_telling
                             : (b->n > 1 ? g->leak_blend : g->leak_pure) * m->base + g->leak_floor,
           none = 1 - leak;

    for (int i = 0; i < b->n; i++)
        none *= 1 - ev->q[b->fibre[i]][cue] * tb_model_visible(ev, bench_cue(ev, cue), b->share[i]);
    return 1 - none;
}

static double chance_all(const struct tb_evidence *ev, const struct tb_blend *b, int cue)
{
    double p = 1;

    for (int i = 0; i < b->n; i++)
        p *= 1 - (1 - ev->q[b->fibre[i]][cue]) * tb_model_visible(ev, bench_cue(ev, cue), b->share[i]);
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
static double chance_partly(const struct tb_evidence *ev, const struct tb_blend *b, int cue)
{
    const struct tb_channel *ch = &ev->channel[ev->cue[cue].channel];
    double p = 1;

    for (int c = ch->first; c < ch->first + ch->n; c++)
        if (ev->cue[c].law == TB_LAW_ALL)
            p -= chance_all(ev, b, c);
    return p > 0 ? p : 0;
}

double tb_noise_of(const struct tb_evidence *ev, int cue, int n)
{
    if (ev->channel[ev->cue[cue].channel].exclusive)
        return ev->fig.bench_slip;
    return n > 1 ? ev->fig.noise_blend : ev->fig.noise_pure;
}

double tb_cue_chance(const struct tb_evidence *ev, const struct tb_blend *b, int cue)
{
    const struct tb_cue_model *m = &ev->cue[cue];
    double noise = tb_noise_of(ev, cue, b->n), p;

    if (m->law == TB_LAW_ANY)
        return chance_any(ev, b, cue);
    if (m->law == TB_LAW_SHARE)
        p = chance_share(ev, b, cue);
    else
        p = m->law == TB_LAW_ALL ? chance_all(ev, b, cue) : chance_partly(ev, b, cue);
    return (1 - noise) * p + noise * m->base;
}

static double weight_of(const struct tb_evidence *ev, int cue)
{
    return (ev->cue[cue].group + 1) / (double)TB_GROUPS;
}

void tb_blend_logs(double *telling, double *rest, const struct tb_evidence *ev, const struct tb_blend *b,
                   const struct tb_terms *terms)
{
    *telling = *rest = 0;
    for (size_t i = 0; i < terms->n; i++) {
        int cue = terms->term[i].cue;
        double p = tb_cue_chance(ev, b, cue);

        *(ev->cue[cue].firm ? telling : rest) += weight_of(ev, cue) * log(terms->term[i].seen ? p : 1 - p);
    }
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
