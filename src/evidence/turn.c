/*
 * turn.c - which bench tests could turn a verdict: asked of the list of compositions, before any of them is judged in full.
 *
 * A test is worth naming as the one that confirms where two of its likely results lead to two grades. What a result does to the ratio
 * is estimated from the list, mistakes included; whoever names the test judges it in full.
 */
#include "evidence/next.h"

#include "evidence/bounds.h"

#include <math.h>
#include <stdlib.h>

#define LIKELY 0.1  /* chance of a result, of what is declared or of what else it could be */
#define MARGIN 0.5  /* of a log ratio: how far the estimate may be off */
#define AT_ODDS 3.0 /* to one: what a test says against the rest, as looks.c has it */

/* All that was done to the last swatch: what its burn says without a test has no power of its own then. */
static const struct tb_pattern *last_of(const struct tb_group *g)
{
    size_t i = g->n - 1;

    while (i > 0 && g->pattern[i].power < 0)
        i--;
    return &g->pattern[i];
}

/* A test on a swatch shares the mix-ups of its burn. */
void tb_before_take(struct tb_before *out, const struct tb_mind *m)
{
    const struct tb_evidence *ev = m->s->ev;
    const struct tb_pattern *p = last_of(m->s->group);
    struct tb_logs l;

    out->mixup = tb_array(double, m->s->n + 1);
    for (size_t i = 0; i < m->s->n; i++) {
        const struct tb_entry *e = &m->s->entry[i];

        if (m->s->group->n == 1)
            l = *tb_shortlist_logs(m->s, e);
        else
            tb_blend_logs(&l, ev, &e->blend, p->terms);
        out->mixup[i] =
            exp(log(ev->fig.mixup) + p->strange.any - tb_join_logs(ev, e->blend.n, &l, &p->strange));
    }
    for (int f = 0; f < ev->fibres; f++) {
        double log_odd = log(ev->odd[f]);

        tb_blend_logs(&l, ev, &(struct tb_blend){ .n = 1, .fibre = { f }, .share = { 1 } }, p->terms);
        log_odd += l.rest + l.telling;
        for (int c = 0; c < ev->channels && l.tests >> c; c++)
            log_odd += l.tests & 1u << c ? l.test[c] : 0;
        out->other[f] = exp(log_odd - p->strange.any);
    }
}

void tb_before_free(struct tb_before *b)
{
    free(b->mixup);
    b->mixup = NULL;
}

/* Of a test whose results do not exclude each other a result is one cue alone. */
static double chance_of(const struct tb_channel *ch, int result, const double *chance)
{
    double p = 1;

    if (ch->exclusive)
        return chance[result];
    for (int r = 0; r < ch->n; r++)
        p *= r == result ? chance[r] : 1 - chance[r];
    return p;
}

/* A result of the test: its chance where the swatch is of another cloth, and where a mistake is made in the test itself. */
struct strange {
    double other, mistaken;
};

static void take_strange(struct strange *out, const struct tb_evidence *ev, const struct tb_channel *ch,
                         const struct tb_before *before)
{
    for (int r = 0; r < ch->n; r++)
        out[r] = (struct strange){ 0 };
    for (int f = 0; f < ev->fibres; f++) {
        struct tb_blend pure = { .n = 1, .fibre = { f }, .share = { 1 } };
        double chance[TB_CUES_MOST];

        for (int r = 0; r < ch->n; r++)
            chance[r] = tb_cue_chance(ev, &pure, ch->first + r);
        for (int r = 0; r < ch->n; r++)
            out[r].other += before->other[f] * chance_of(ch, r, chance);
    }
    for (int r = 0; r < ch->n; r++) {
        double chance[TB_CUES_MOST];

        for (int k = 0; k < ch->n; k++)
            chance[k] = tb_mistaken_chance(ev, ch->first + k);
        out[r].mistaken = chance_of(ch, r, chance);
    }
}

/* What either side expects of each result; the weights of a side add up to 1. */
static void take_sides(double side[2][TB_CUES_MOST], const struct tb_mind *m, const struct tb_channel *ch,
                       const struct tb_before *before)
{
    double e = m->s->ev->fig.test_error;
    struct strange strange[TB_CUES_MOST];

    take_strange(strange, m->s->ev, ch, before);
    for (size_t i = 0; i < m->s->n; i++) {
        double chance[TB_CUES_MOST], mixup = before->mixup[i];
        int k = i < m->as_declared ? 0 : 1;

        for (int r = 0; r < ch->n; r++)
            chance[r] = tb_mind_chance(m, ch->first + r, i);
        for (int r = 0; r < ch->n; r++) {
            double p = (1 - e) * chance_of(ch, r, chance) + e * strange[r].mistaken;

            side[k][r] += m->weight[i] * ((1 - mixup) * p + mixup * strange[r].other);
        }
    }
}

/* The grade of a ratio to which the test itself brings `moved`: what speaks against by itself does not fit. */
static enum tb_grade grade_at(const struct tb_evidence *ev, double log_ratio, double moved)
{
    double ratio = exp(tb_bounded(&ev->bounds, log_ratio));

    return ratio < ev->set.contradicts_below                               ? TB_GRADE_CONTRADICTS
           : ratio < fmax(ev->set.speaks_below, ev->set.contradicts_below) ? TB_GRADE_SPEAKS_AGAINST
           : ratio > ev->set.fits_above && moved > -log(AT_ODDS)           ? TB_GRADE_FITS
                                                                           : TB_GRADE_UNDECIDED;
}

/* By more than the ratio a grade may hang on what it rests on, of which the list knows nothing. */
static bool hangs_on_more(const struct tb_verdict *v)
{
    return v->one_look || v->at_odds || v->outdone || v->imitated;
}

void tb_turn_of(struct tb_next *out, const struct tb_verdict *v, const struct tb_mind *m, double log_ratio,
                const struct tb_before *before)
{
    const struct tb_channel *ch = &m->s->ev->channel[out->channel];
    double side[2][TB_CUES_MOST] = { { 0 } };
    enum tb_grade least = TB_GRADES, most = TB_UNGRADED;

    take_sides(side, m, ch, before);
    for (int r = 0; r < ch->n; r++) {
        double moved = log(side[0][r] / side[1][r]);
        enum tb_grade best = grade_at(m->s->ev, log_ratio + moved + MARGIN, moved);
        enum tb_grade worst = grade_at(m->s->ev, log_ratio + moved - MARGIN, moved);

        if (fmax(side[0][r], side[1][r]) < LIKELY)
            continue;
        out->likely |= 1u << r;
        least = least < best ? least : best;
        most = most > worst ? most : worst;
    }
    /* of a blend several kinds of fibre may be seen at once, which is not estimated */
    out->turns = most > least || hangs_on_more(v) || (!ch->exclusive && m->s->group->declared.blend.n > 1);
}
