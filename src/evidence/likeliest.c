/*
 * likeliest.c - what a part is likeliest to be, and which fibres are likely in it.
 *
 * Sets of fibres are ranked by what was seen and by how common each is in trade: the ratio weighs all fibres more evenly,
 * so that a false label is not called true for being usual, but whoever asks what a cloth is wants polyester before
 * polylactide. No verdict hangs on this order.
 */
#include "evidence/judge.h"
#include "evidence/sums.h"

#include <math.h>
#include <stdlib.h>

#define PRESENT_LEAST 0.005 /* chance from which a fibre is named; below it a row would be read as "no" */
#define LIKELY_MOST 6       /* compositions of each part ... */
#define ELSE_LEAST 4        /* ... and so many that are not as declared, however likely */

struct candidate {
    int n, fibre[3];
    double weight;
};

/* The weightiest of many, falling. */
struct best {
    struct candidate of[LIKELY_MOST];
    int n, most;
};

struct ranking {
    const struct tb_evidence *ev;
    double common[TB_FIBRES_MOST],
        alone[TB_FIBRES_MOST]; /* in trade: among all cloths, among those of one fibre */
    double pairs, triples;     /* sums of products of common */
    const struct tb_group *group;
    struct best all, other;         /* all of them; those that are not as declared */
    double sum, of[TB_FIBRES_MOST]; /* of all sets, and of those with each fibre */
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
    return ev->set.commonness == 1 ? trade / model : pow(trade / model, ev->set.commonness);
}

/* Is it one of the declared fibres, or one that burning cannot tell from them? */
static bool is_declared(const struct ranking *r, int fibre)
{
    const struct tb_blend *d = &r->group->declared.blend;
    const int *name = r->ev->fibre;

    for (int i = 0; i < d->n; i++)
        if (d->fibre[i] == fibre || tb_fibre_twins(name[d->fibre[i]], name[fibre]))
            return true;
    return false;
}

/* Closer than the ratio looks, which takes silk and wool for one class: whoever asks what else it could be means silk too. */
static bool as_declared(const struct ranking *r, const struct candidate *c)
{
    unsigned long long shown = 0;

    for (int i = 0; i < c->n; i++) {
        shown |= 1ull << r->ev->class_of[c->fibre[i]];
        if (!is_declared(r, c->fibre[i]))
            return false;
    }
    return r->group->declared.n_shown &&
           tb_declared_shows(r->ev, &r->group->declared, r->group->spread, shown);
}

static bool enters(const struct best *b, double weight)
{
    return b->n < b->most || b->of[b->n - 1].weight < weight;
}

static void keep(struct best *b, const struct candidate *c)
{
    int at = b->n < b->most ? b->n++ : b->most - 1;

    for (; at > 0 && b->of[at - 1].weight < c->weight; at--)
        b->of[at] = b->of[at - 1];
    b->of[at] = *c;
}

static void offer(struct ranking *r, struct candidate c)
{
    c.weight *= in_trade(r, &c);
    r->sum += c.weight;
    for (int i = 0; i < c.n; i++)
        r->of[c.fibre[i]] += c.weight;
    if (enters(&r->all, c.weight))
        keep(&r->all, &c);
    if (r->group->declared.n_shown && enters(&r->other, c.weight) && !as_declared(r, &c))
        keep(&r->other, &c);
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

static void take(struct tb_verdict *v, const struct ranking *r, const struct candidate *c)
{
    struct tb_likely one = { .part = r->group->part,
                             .n = c->n,
                             .percent = { 100 },
                             .probability = c->weight / r->sum,
                             .as_declared = as_declared(r, c) };

    for (int k = 0; k < c->n; k++)
        one.fibre[k] = r->ev->fibre[c->fibre[k]];
    if (c->n > 1)
        take_shares(&one, r->ev, r->group, c);
    TB_PUSH(v->likely, v->n_likely, one);
}

static int by_probability(const void *a, const void *b)
{
    const struct tb_present *x = a, *y = b;

    return x->probability < y->probability ? 1 : x->probability > y->probability ? -1 : x->fibre - y->fibre;
}

/* The chances of all sets that a fibre is in, by the same order: so a fibre is never less likely than the set it leads. */
static void take_present(struct tb_verdict *v, const struct ranking *r)
{
    size_t from = v->n_present;

    for (int f = 0; f < r->ev->fibres; f++)
        if (r->of[f] >= PRESENT_LEAST * r->sum)
            TB_PUSH(v->present, v->n_present,
                    ((struct tb_present){ r->group->part, r->ev->fibre[f], fmin(r->of[f] / r->sum, 1) }));
    qsort(v->present + from, v->n_present - from, sizeof *v->present, by_probability);
}

/* Six are told; beyond them the list says more of the grid than of the cloth. What else it could be is never left out. */
void tb_take_likely(struct tb_verdict *v, const struct tb_evidence *ev, const struct tb_group *g)
{
    struct ranking r = {
        .ev = ev, .group = g, .all = { .most = LIKELY_MOST }, .other = { .most = ELSE_LEAST }
    };

    take_trade(&r);
    rank(&r, &g->sums);
    for (int i = 0; i < r.all.n; i++)
        take(v, &r, &r.all.of[i]);
    for (int i = 0; i < r.other.n; i++)
        if (r.other.of[i].weight < r.all.of[r.all.n - 1].weight)
            take(v, &r, &r.other.of[i]);
    take_present(v, &r);
}
