/*
 * likeliest.c - what a part is likeliest to be.
 *
 * Sets of fibres are ranked by what was seen and by how common each is in trade: the ratio weighs all fibres more evenly,
 * so that a false label is not called true for being usual, but whoever asks what a cloth is wants polyester before
 * polylactide. No verdict hangs on this order.
 */
#include "evidence/judge.h"
#include "evidence/sums.h"

#include <math.h>

#define LIKELY_MOST 6 /* compositions of each part */

struct candidate {
    int n, fibre[3];
    double weight;
};

struct ranking {
    const struct tb_evidence *ev;
    double common[TB_FIBRES_MOST],
        alone[TB_FIBRES_MOST]; /* in trade: among all cloths, among those of one fibre */
    double pairs, triples;     /* sums of products of common */
    struct candidate best[LIKELY_MOST];
    int n;
    double all;
};

/* The same prior as the model's, from other shares of the fibres. */
static void take_trade(struct ranking *r)
{
    const struct tb_evidence *ev = r->ev;
    double alone = 0;

    for (int i = 0; i < ev->fibres; i++) {
        r->common[i] = ev->common[i];
        alone += r->alone[i] = ev->common[i] * ev->alone[i] / ev->prior[i];
        for (int j = 0; j < i; j++) {
            r->pairs += ev->common[i] * ev->common[j];
            for (int k = 0; k < j; k++)
                r->triples += ev->common[i] * ev->common[j] * ev->common[k];
        }
    }
    for (int i = 0; i < ev->fibres; i++)
        r->alone[i] /= alone;
}

/* How much commoner a set of fibres is in trade than the model takes it to be. */
static double in_trade(const struct ranking *r, const struct candidate *c)
{
    const struct tb_evidence *ev = r->ev;
    double trade = 1, model = 1;

    if (c->n == 1) {
        trade = r->alone[c->fibre[0]];
        model = ev->alone[c->fibre[0]];
    }
    for (int i = 0; i < c->n && c->n > 1; i++) {
        trade *= r->common[c->fibre[i]];
        model *= ev->prior[c->fibre[i]];
    }
    if (c->n > 1) {
        trade /= c->n == 2 ? r->pairs : r->triples;
        model /= c->n == 2 ? ev->pairs_sum : ev->triples_sum;
    }
    return pow(trade / model, ev->set.commonness);
}

static void offer(struct ranking *r, struct candidate c)
{
    int at = r->n < LIKELY_MOST ? r->n++ : LIKELY_MOST;

    c.weight *= in_trade(r, &c);
    r->all += c.weight;
    for (; at > 0 && r->best[at - 1].weight < c.weight; at--)
        if (at < LIKELY_MOST)
            r->best[at] = r->best[at - 1];
    if (at < LIKELY_MOST)
        r->best[at] = c;
}

static void rank(struct ranking *r, const struct tb_sums *s)
{
    int n = r->ev->fibres;

    for (int i = 0; i < n; i++) {
        offer(r, (struct candidate){ 1, { i }, s->one[i] });
        for (int j = i + 1; j < n; j++) {
            offer(r, (struct candidate){ 2, { i, j }, s->two[i][j] });
            for (int k = j + 1; s->three && k < n; k++)
                offer(r, (struct candidate){ 3, { i, j, k }, s->three[tb_triple(n, i, j, k)] });
        }
    }
}

/* --- the likeliest shares of a set --------------------------------------------------------------------------- */

/* Every share of at least a tenth, by steps of the grid; the likeliest is kept. */
static void take_shares(struct tb_likely *out, const struct tb_evidence *ev, const struct tb_group *g,
                        const struct candidate *c)
{
    double most = -INFINITY;

    for (int a = TB_SHOWN_STEPS; a <= TB_STEPS - TB_SHOWN_STEPS; a++)
        for (int b = c->n == 3 ? TB_SHOWN_STEPS : TB_STEPS - a; b <= TB_STEPS - a; b++) {
            int steps[3] = { a, b, TB_STEPS - a - b };
            struct tb_blend blend = { .n = c->n };
            double like;

            if (c->n == 3 && steps[2] < TB_SHOWN_STEPS)
                continue;
            for (int i = 0; i < c->n; i++) {
                blend.fibre[i] = c->fibre[i];
                blend.share[i] = (double)steps[i] / TB_STEPS;
            }
            like = tb_patterns_log(ev, &blend, g->pattern, g->n);
            if (like <= most)
                continue;
            most = like;
            for (int i = 0; i < c->n; i++)
                out->percent[i] = 100.0 * steps[i] / TB_STEPS;
        }
}

/* Six are shown; beyond them the list says more of the grid than of the cloth. */
void tb_take_likely(struct tb_verdict *v, const struct tb_evidence *ev, const struct tb_group *g)
{
    struct ranking r = { .ev = ev };

    take_trade(&r);
    rank(&r, &g->sums);
    for (int i = 0; i < r.n; i++) {
        const struct candidate *c = &r.best[i];
        struct tb_likely one = {
            .part = g->part, .n = c->n, .percent = { 100 }, .probability = c->weight / r.all
        };

        for (int k = 0; k < c->n; k++)
            one.fibre[k] = ev->fibre[c->fibre[k]];
        if (c->n > 1)
            take_shares(&one, ev, g, c);
        TB_PUSH(v->likely, v->n_likely, one);
    }
}
