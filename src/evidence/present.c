/* present.c - what the posterior of each part says, and fibres that burn alike. */
#include "evidence/judge.h"

#include <stdlib.h>

#define TWINS_FROM 0.05 /* chance from which a composition's twins are */

/* How common a fibre is in trade; those the model has no shares of come last. */
static double trade_of(const struct tb_evidence *ev, int fibre)
{
    int m = tb_model_fibre(ev, fibre);

    return m >= 0 && ev->fibre[m] == fibre ? ev->common[m] : 0;
}

/* Whoever is told a few of them should be told of those that a cloth is likeliest to be; else the order of the table stays. */
static void sort_by_trade(struct tb_twins *t, const struct tb_evidence *ev)
{
    for (size_t i = 2; i < t->n; i++) {
        int fibre = t->fibre[i];
        size_t at = i;

        for (; at > 1 && trade_of(ev, t->fibre[at - 1]) < trade_of(ev, fibre); at--)
            t->fibre[at] = t->fibre[at - 1];
        t->fibre[at] = fibre;
    }
}

/* The fibres of the table that burning cannot tell from this one, itself first. */
static void take_twins(struct tb_verdict *v, const struct tb_evidence *ev, int fibre)
{
    struct tb_twins t = { tb_array(int, tb_fibre_count()), 0 };

    for (size_t i = 0; i < v->n_twins; i++)
        for (size_t k = 0; k < v->twins[i].n; k++)
            if (v->twins[i].fibre[k] == fibre) {
                free(t.fibre);
                return;
            }
    t.fibre[t.n++] = fibre;
    for (int f = 0; f < (int)tb_fibre_count(); f++)
        if (f != fibre && tb_fibre_twins(fibre, f))
            t.fibre[t.n++] = f;
    if (t.n < 2) {
        free(t.fibre);
        return;
    }
    sort_by_trade(&t, ev);
    TB_PUSH(v->twins, v->n_twins, t);
}

/* Twins are named for what is declared and for what is likely: either may hide one. */
void tb_take_posterior(struct tb_verdict *v, const struct tb_question *q)
{
    for (size_t g = 0; g < q->n; g++) {
        const struct tb_declared_blend *d = &q->group[g].declared;

        tb_take_likely(v, q->ev, &q->group[g]);
        for (int i = 0; i < d->n_shown; i++)
            take_twins(v, q->ev, q->ev->fibre[d->shown[i]]);
    }
    for (size_t i = 0; i < v->n_likely; i++)
        if (v->likely[i].probability >= TWINS_FROM)
            for (int r = 0; r < v->likely[i].n; r++)
                take_twins(v, q->ev, v->likely[i].fibre[r]);
}
