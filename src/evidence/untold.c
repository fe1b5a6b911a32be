/*
 * untold.c - what a burn cannot tell: of a declared blend its shares, and the swaps that hardly ever show; of a pure cloth that fits,
 * how much of another fibre may be in it all the same.
 */
#include "evidence/some.h"

#include <math.h>

#define EVEN 0.01     /* how far from equal parts still counts as such */
#define EVERYDAY 0.01 /* of all cloth: who checks a warehouse meets it */
#define STEP 5        /* percent; as of the grid of compositions */
#define PART_MOST 50  /* percent; with more of it, it is cloth of the other fibre */

/* The same fibres in equal parts; of equal parts, most of it the first. */
static void other_shares(struct tb_text *out, const struct tb_evidence *ev, const struct tb_declared_blend *d)
{
    double each = 100.0 / d->n_shown, first = each;
    bool even = d->blend.n == d->n_shown;

    for (int i = 0; i < d->blend.n; i++)
        even = even && fabs(100 * d->blend.share[i] - each) < 100 * EVEN;
    if (even) {
        first = 70;
        each = 30.0 / (d->n_shown - 1);
    }
    for (int i = 0; i < d->n_shown; i++)
        tb_text_addf(out, "%s%.0f %% %s", i ? ", " : "", i ? each : first,
                     tb_fibre_at(ev->fibre[d->shown[i]])->name);
}

static void note_part(struct tb_verdict *v, const struct tb_question *q, const struct tb_group *g)
{
    struct tb_text shares = { 0 }, swaps = { 0 };

    other_shares(&shares, q->ev, &g->declared);
    tb_verdict_note(v, "A burn shows kinds of fibre and not their shares: it cannot tell this blend from %s.",
                    shares.s);
    for (size_t i = 0; i < v->n_power; i++)
        if (v->power[i].part == g->part && v->power[i].one <= TB_HARDLY)
            tb_text_addf(&swaps, "%s%s", swaps.n ? "; " : "", v->power[i].instead);
    if (swaps.n)
        tb_verdict_note(
            v, "One careful burn of this blend hardly ever shows that it is one of these instead: %s.",
            swaps.s);
    tb_text_free(&shares);
    tb_text_free(&swaps);
}

/* Up to which part of the fibre, in percent, the blend is not far less likely than the pure cloth; 0: of none. */
static int hidden(const struct tb_question *q, const struct tb_group *g, int fibre, double contradicts_below)
{
    double least = tb_group_log_declared(q, g, g->pattern, g->n) + log(contradicts_below);
    int part = 0;

    while (part < PART_MOST) {
        struct tb_blend b = tb_mixed_blend(&g->declared.blend, fibre, (part + STEP) / 100.0);

        if (tb_patterns_log(q->ev, &b, g->pattern, g->n) < least)
            break;
        part += STEP;
    }
    return part;
}

/* The commonest fibre that burns otherwise, of a class that is not among these (bits); -1: none is met every day. */
static int commonest_other(const struct tb_question *q, const struct tb_group *g, unsigned long long past)
{
    int best = -1;

    for (int f = 0; f < q->ev->fibres; f++) {
        struct tb_blend pure;

        if (q->ev->common[f] >= EVERYDAY && !(past & 1ull << q->ev->class_of[f]) &&
            (best < 0 || q->ev->common[f] > q->ev->common[best]) && tb_pure_other(&pure, q, g, f))
            best = f;
    }
    return best;
}

/* Whoever reads that pure wool fits must not think that nothing else is in it. */
static void note_hidden(struct tb_verdict *v, const struct tb_question *q, const struct tb_group *g)
{
    struct tb_text list = { 0 };
    unsigned long long past = 0;

    for (int f; (f = commonest_other(q, g, past)) >= 0; past |= 1ull << q->ev->class_of[f]) {
        int part = hidden(q, g, f, v->contradicts_below);

        if (part)
            tb_text_addf(&list, "%s%d %% %s", list.n ? ", " : "", part, tb_fibre_at(q->ev->fibre[f])->name);
    }
    if (list.n)
        tb_verdict_note(
            v,
            "A fit does not say that %s is all there is. Up to so much of one other fibre in it makes such a "
            "burn less than %.0f times less likely, as far as is known of blends: %s.",
            tb_fibre_at(q->ev->fibre[g->declared.shown[0]])->name, 1 / v->contradicts_below, list.s);
    tb_text_free(&list);
}

void tb_note_untold(struct tb_verdict *v, const struct tb_question *q)
{
    for (size_t i = 0; i < q->n; i++) {
        const struct tb_group *g = &q->group[i];

        if (g->declared.n_shown > 1 && (i == 0 || !g->spread))
            note_part(v, q, g);
        else if (g->declared.blend.n == 1 && v->grade == TB_GRADE_FITS)
            note_hidden(v, q, g);
    }
}
