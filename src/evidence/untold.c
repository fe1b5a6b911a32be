/* untold.c - what a burn cannot tell of a declared blend: its shares, and the swaps that hardly ever show. */
#include "evidence/judge.h"

#include <math.h>

#define EVEN 0.01 /* how far from equal parts still counts as such */

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

void tb_note_untold(struct tb_verdict *v, const struct tb_question *q)
{
    for (size_t g = 0; g < q->n; g++)
        if (q->group[g].declared.n_shown > 1 && (g == 0 || !q->group[g].spread))
            note_part(v, q, &q->group[g]);
}
