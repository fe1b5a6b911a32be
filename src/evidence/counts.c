/* counts.c - how often published descriptions and the site's own burns said a cue, and the chances that makes. */
#include "evidence/counts.h"
#include "evidence/declared.h"
#include "evidence/likelihood.h"

#include "gen/ref_bench_count.h"
#include "gen/ref_burn_count.h"
#include "gen/ref_burn_fibre.h"
#include "gen/ref_cue.h"

#include <assert.h>
#include <math.h>
#include <string.h>

static int model_fibre_by_key(const struct tb_evidence *ev, const char *key)
{
    for (int i = 0; i < ev->fibres; i++)
        if (strcmp(tb_ref_burn_fibre[i].fibre, key) == 0)
            return i;
    return -1;
}

/* The rows of a fibre follow the order of the cues, with gaps: the one wanted stands a little behind the last. */
static size_t cue_from(size_t first, const char *key)
{
    int any;

    for (size_t c = first; c < tb_ref_cue_n; c++)
        if (strcmp(tb_ref_cue[c].key, key) == 0)
            return c;
    any = tb_cue_by_key(key);
    assert(any >= 0);
    return (size_t)any;
}

/* What people remember counts less than what they wrote down; by how much is a fitted figure. */
static void count_reference(struct tb_counts *n, const struct tb_evidence *ev)
{
    size_t next = 0;

    for (size_t i = 0; i < tb_ref_burn_count_n; i++) {
        int f = model_fibre_by_key(ev, tb_ref_burn_count[i].fibre);
        size_t c = cue_from(next, tb_ref_burn_count[i].cue);

        next = c + 1;
        assert(f >= 0);
        n->said[f][c] += tb_ref_burn_count[i].said;
        n->unsaid[f][c] += tb_ref_burn_count[i].unsaid;
    }
    for (size_t i = 0; i < tb_ref_bench_count_n; i++) {
        const struct tb_ref_bench_count *r = &tb_ref_bench_count[i];
        int f = model_fibre_by_key(ev, r->fibre), c = tb_cue_by_key(r->cue);

        assert(f >= 0 && c >= 0);
        n->said[f][c] += r->said_seen + ev->fig.memory_weight * r->said_memory;
        n->unsaid[f][c] += r->unsaid_seen + ev->fig.memory_weight * r->unsaid_memory;
    }
}

/* As the reference was counted: a cue is said when it or a kind of it was seen; a kind stays open where only the
 * general cue was said; all else of a channel that was looked at is unsaid. */
static bool counts(bool *seen, const struct tb_evidence *ev, const struct tb_observation *o, int c)
{
    int general = ev->cue[c].general;

    *seen = o->sight[c] == TB_SIGHT_SEEN || tb_kind_seen(ev, o, c);
    if (!o->looked[ev->cue[c].channel] || ev->cue[c].counts_as >= 0)
        return false;
    if (!*seen && tb_cue_implied(ev, o, c) > 0)
        return false;
    return *seen || general < 0 || o->sight[general] != TB_SIGHT_SEEN || tb_kind_seen(ev, o, general) ||
           o->sight[c] == TB_SIGHT_DENIED;
}

static void count_known(struct tb_counts *n, const struct tb_evidence *ev, const struct tb_known_burn *known)
{
    struct tb_observation o;
    int f = tb_model_fibre(ev, known->fibre);

    if (f < 0 || known->blend)
        return;
    tb_observation_known(&o, ev, &known->seen);
    for (int c = 0; c < ev->cues; c++) {
        bool seen;

        if (counts(&seen, ev, &o, c))
            (seen ? n->said : n->unsaid)[f][c] += known->weight * ev->set.site_weight;
    }
}

/*
 * One fibre's part in one cue of a blend. Every law is linear in the chance of each fibre, so that the chance of the cue if
 * this fibre says it, and if it does not, tells both what it is likely to have done and how much that can be seen at all.
 */
static void count_part(struct tb_counts *n, struct tb_evidence *ev, const struct tb_blend *b, int fibre,
                       int c, bool seen, double w)
{
    double q = ev->q[fibre][c], with, without, p, said;

    ev->q[fibre][c] = 1;
    with = tb_cue_chance(ev, b, c);
    ev->q[fibre][c] = 0;
    without = tb_cue_chance(ev, b, c);
    ev->q[fibre][c] = q;
    if (with == without) /* too scarce to show */
        return;
    p = q * with + (1 - q) * without;
    said = seen ? q * with / p : q * (1 - with) / (1 - p);
    w *= fabs(with - without);
    n->said[fibre][c] += w * said;
    n->unsaid[fibre][c] += w * (1 - said);
}

static bool count_blend(struct tb_counts *n, struct tb_evidence *ev, const struct tb_known_burn *known)
{
    struct tb_text reason = { 0 }, notes = { 0 };
    struct tb_declared_blend d;
    struct tb_observation o;
    bool good = known->blend && tb_declared_from(&d, ev, known->blend, &reason, &notes) && d.exact;

    tb_text_free(&reason);
    tb_text_free(&notes);
    if (!good)
        return false;
    tb_observation_known(&o, ev, &known->seen);
    for (int c = 0; c < ev->cues; c++) {
        bool seen;

        if (!ev->channel[ev->cue[c].channel].bench && counts(&seen, ev, &o, c))
            for (int i = 0; i < d.blend.n; i++)
                count_part(n, ev, &d.blend, d.blend.fibre[i], c, seen, known->weight * ev->set.site_weight);
    }
    return true;
}

bool tb_counts_blends(struct tb_counts *out, struct tb_evidence *ev, const struct tb_known_burn *known,
                      size_t n_known)
{
    bool any = false;

    for (size_t i = 0; i < n_known; i++)
        any |= count_blend(out, ev, &known[i]);
    return any;
}

/*
 * What the families that did not say a cue count together. That one of two passed it over tells little; that sixty did,
 * a good deal. A bench test is no story: what it did not give it does not give.
 */
static double silence(const struct tb_figures *g, const struct tb_channel *ch, double said, double unsaid)
{
    double n = said + unsaid;

    return ch->bench ? unsaid : n > 0 ? unsaid * n / (n + g->thin) : 0;
}

/* Base rate over all fibres, the class's rate drawn to it, the fibre's drawn to its class's. What is mineral does not burn. */
static void chances_of_cue(struct tb_evidence *ev, const struct tb_counts *n, int c)
{
    const struct tb_figures *g = &ev->fig;
    struct tb_cue_model *m = &ev->cue[c];
    const struct tb_channel *ch = &ev->channel[m->channel];
    double said = 0, unsaid = 0, of_class = ch->bench ? g->bench_weight : g->class_weight;
    double of_fibre = ch->bench ? g->bench_weight : g->fibre_weight;

    for (int f = 0; f < ev->fibres; f++) {
        said += n->said[f][c];
        unsaid += n->unsaid[f][c];
    }
    m->base = ch->exclusive ? 1.0 / ch->n
              : m->telling || ch->bench
                  ? g->base_telling
                  : (said + g->base_weight * g->base_rate) / (said + unsaid + g->base_weight);
    for (int f = 0; f < ev->fibres; f++) {
        double s = 0, u = 0, mean, q;

        for (int k = 0; k < ev->fibres; k++)
            if (ev->class_of[k] == ev->class_of[f]) {
                s += n->said[k][c];
                u += n->unsaid[k][c];
            }
        mean = (s + of_class * m->base) / (s + silence(g, ch, s, u) + of_class);
        s = n->said[f][c];
        q = (s + of_fibre * mean) / (s + silence(g, ch, s, n->unsaid[f][c]) + of_fibre);
        ev->q[f][c] = tb_ref_burn_fibre[f].mineral && tb_ref_cue[c].fire ? 0 : fmin(q, g->q_most);
    }
}

/*
 * Results of one exclusive test add up to 1. The mixed result has no chance of its own in a pure fibre's
 * blend.
 */
static void settle_exclusive(struct tb_evidence *ev, const struct tb_channel *ch)
{
    for (int f = 0; f < ev->fibres; f++) {
        double sum = 0;

        for (int c = ch->first; c < ch->first + ch->n; c++)
            sum += ev->q[f][c];
        for (int c = ch->first; c < ch->first + ch->n; c++)
            ev->q[f][c] /= sum;
    }
}

/* The known burns come last, but the order has no effect: they are sums. */
void tb_counts_take(struct tb_counts *out, const struct tb_evidence *ev, const struct tb_known_burn *known,
                    size_t n_known)
{
    count_reference(out, ev);
    for (size_t i = 0; i < n_known; i++)
        count_known(out, ev, &known[i]);
}

/* Those who described a channel passed over some of its cues, and may have left some open: the most of any cue. */
static void take_described(struct tb_evidence *ev, const struct tb_counts *n)
{
    memset(ev->described, 0, sizeof ev->described);
    memset(ev->published, 0, sizeof ev->published);
    for (int f = 0; f < ev->fibres; f++)
        for (int k = 0; k < ev->fibres; k++)
            for (int c = 0; c < ev->cues && ev->class_of[k] == ev->class_of[f]; c++) {
                double *most = &ev->described[f][ev->cue[c].channel];

                *most = fmax(*most, n->said[k][c] + n->unsaid[k][c]);
                ev->published[f][c] |= n->said[k][c] > 0;
            }
}

/* The exclusive channels are settled last: their results share one certainty. */
void tb_counts_chances(struct tb_evidence *ev, const struct tb_counts *n)
{
    for (int c = 0; c < ev->cues; c++)
        chances_of_cue(ev, n, c);
    for (int i = 0; i < ev->channels; i++)
        if (ev->channel[i].exclusive)
            settle_exclusive(ev, &ev->channel[i]);
    take_described(ev, n);
}
