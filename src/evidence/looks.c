/*
 * looks.c - what a contradiction rests on: one look, or more than one.
 *
 * A look is one channel of one burn. One look may be one mistake: a name given to a smell, a box ticked on the wrong line.
 */
#include "evidence/judge.h"

#include <math.h>

#define REST_AGAINST 3.0 /* to one: what must be left against the declaration without the weightiest look */

/* The likeliest composition that is not as declared. */
static struct tb_blend likeliest_other(const struct tb_question *q, const struct tb_group *g)
{
    const struct tb_evidence *ev = q->ev;
    struct tb_blend out = { .n = 1, .share = { 1 } };
    double most = -1;

    for (size_t i = 0; i < g->sums.n_best; i++) {
        const struct tb_best *b = &g->sums.best[i];
        struct tb_blend one = { .n = b->n };
        unsigned long long shown = 0;

        for (int r = 0; r < b->n; r++) {
            one.fibre[r] = b->fibre[r];
            one.share[r] = (double)b->steps[r] / TB_STEPS;
            shown |= b->steps[r] >= TB_SHOWN_STEPS ? 1ull << ev->class_of[b->fibre[r]] : 0;
        }
        if (!tb_declared_shows(ev, &g->declared, g->spread, shown))
            return one;
    }
    for (int f = 0; f < ev->fibres; f++)
        if (g->sums.one[f] > most &&
            !tb_declared_shows(ev, &g->declared, g->spread, 1ull << ev->class_of[f])) {
            most = g->sums.one[f];
            out.fibre[0] = f;
        }
    return out;
}

/* Natural logarithm of how much likelier each channel of an observation is from `other` than from `declared`. */
static void weigh_looks(double against[TB_CHANNELS_MOST], const struct tb_evidence *ev,
                        const struct tb_blend *declared, const struct tb_blend *other,
                        const struct tb_terms *terms)
{
    double p[TB_CUES_MOST], q[TB_CUES_MOST];

    for (int c = 0; c < ev->channels; c++)
        against[c] = 0;
    tb_blend_chances(p, ev, declared, terms);
    tb_blend_chances(q, ev, other, terms);
    for (size_t t = 0; t < terms->n; t++) {
        int cue = terms->term[t].cue;

        against[ev->cue[cue].channel] += tb_weight_of(ev, cue) * log(q[t] / p[t]);
    }
}

/* What the burns of one part say against the declaration besides their weightiest look, as odds. */
static double rest_against(const struct tb_question *q, const struct tb_group *g)
{
    struct tb_blend other = likeliest_other(q, g);
    double all = 0, most = 0;

    for (size_t i = 0; i < g->n; i++) {
        const struct tb_pattern *p = &g->pattern[i];
        double against[TB_CHANNELS_MOST];

        weigh_looks(against, q->ev, &g->declared.blend, &other, p->terms);
        for (int c = 0; c < q->ev->channels; c++) {
            all += (double)p->times * against[c];
            most = fmax(most, against[c]);
        }
    }
    return exp(all - most);
}

/* Parts that share one declaration contradict it together or not at all, and then by a burn each. */
bool tb_rests_on_more(const struct tb_question *q)
{
    for (size_t i = 0; i < q->n; i++)
        if ((q->group[i].spread && q->n > 1) || rest_against(q, &q->group[i]) >= REST_AGAINST)
            return true;
    return false;
}
