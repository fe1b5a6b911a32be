/*
 * imitated.c - cloth that is bought for its safety in a flame, and what stands in for it: cheaper fibre with a flame retardant.
 *
 * Of other cloth such a finish is rare, and the ratio takes it to be. Where the declared fibre is paid for because it does not
 * burn, it is the first thing that somebody would sell instead, so no burn fits that it would explain as well. The commonest such fibre is named.
 */
#include "evidence/judge.h"

#include <math.h>

static bool is_protective(const struct tb_evidence *ev, const struct tb_declared_blend *d)
{
    for (int i = 0; i < d->n_shown; i++)
        if (ev->protective[d->shown[i]])
            return true;
    return false;
}

int tb_imitated_by(const struct tb_question *q)
{
    const struct tb_evidence *ev = q->ev;
    int finish = tb_finish_by_key("flame_retardant"), by = -1;
    double commonest = 0;

    for (size_t i = 0; i < q->n; i++) {
        const struct tb_group *g = &q->group[i];
        double least;

        if (!is_protective(ev, &g->declared))
            continue;
        least =
            tb_declared_log_evidence(ev, &g->declared, (1u << g->declared.n_shown) - 1, g->pattern, g->n) -
            log(ev->set.fits_above);
        for (int f = 0; f < ev->fibres; f++) {
            struct tb_blend b = { .n = 1, .fibre = { f }, .share = { 1 }, .finish = finish + 1 };
            double weight;

            if (!tb_finish_on(ev, finish, false, &b) ||
                tb_declared_shows(ev, &g->declared, g->spread, 1ull << ev->class_of[f]))
                continue;
            weight = tb_patterns_log(ev, &b, g->pattern, g->n) > least ? ev->common[f] : 0;
            if (weight > commonest) {
                commonest = weight;
                by = ev->fibre[f];
            }
        }
    }
    return by;
}
