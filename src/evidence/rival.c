/*
 * rival.c - one other cloth that would explain a burn better than what was declared, or as well: why a burn does not fit.
 *
 * The ratio holds the declaration against all else on the whole, of which most is far off. That is right for what speaks against
 * it; what fits must stand beside the best of the others too.
 *
 * Of other cloth a flame retardant is rare, and the ratio takes it to be. Where the declared fibre is paid for because it
 * does not burn, cheaper fibre with such a finish is the first thing that somebody would sell instead, and cheaper fibre without one
 * the worst.
 */
#include "evidence/some.h"

#include <math.h>

#define OUTDONE 3.0   /* times likelier than from what is declared */
#define IMITATED 0.03 /* the same, where somebody's safety hangs on it */

/* A pure cloth that is not as declared, with a finish (or 0) that is known to change it. */
static bool is_rival(struct tb_blend *out, const struct tb_question *q, const struct tb_group *g, int fibre,
                     int finish)
{
    if (!tb_pure_other(out, q, g, fibre))
        return false;
    out->finish = finish;
    return finish == 0 || tb_finish_on(q->ev, finish - 1, false, out);
}

/* The commonest of those that make what was seen likelier than `times` what the declared cloth does; -1: none. */
static int rival_of(const struct tb_question *q, const struct tb_group *g, int finish, double times)
{
    double least = tb_group_log_declared(q, g, g->pattern, g->n) + log(times), commonest = 0;
    int by = -1;

    for (int f = 0; f < q->ev->fibres; f++) {
        struct tb_blend b;

        if (q->ev->common[f] <= commonest || !is_rival(&b, q, g, f, finish) ||
            tb_patterns_log(q->ev, &b, g->pattern, g->n) <= least)
            continue;
        commonest = q->ev->common[f];
        by = q->ev->fibre[f];
    }
    return by;
}

bool tb_protective(const struct tb_evidence *ev, const struct tb_declared_blend *d)
{
    for (int i = 0; i < d->n_shown; i++)
        if (ev->protective[d->shown[i]])
            return true;
    return false;
}

int tb_outdone_by(const struct tb_question *q)
{
    int by = -1;

    for (size_t i = 0; i < q->n && by < 0; i++)
        by = rival_of(q, &q->group[i], 0, OUTDONE);
    return by;
}

static bool saw(const struct tb_group *g, int cue)
{
    for (size_t i = 0; i < g->n; i++)
        for (size_t t = 0; t < g->pattern[i].terms->n; t++)
            if (g->pattern[i].terms->term[t].cue == cue && g->pattern[i].terms->term[t].seen)
                return true;
    return false;
}

bool tb_burns_on(const struct tb_group *g)
{
    return saw(g, tb_cue_by_key("removed:continues_to_burn")) || saw(g, tb_cue_by_key("in_flame:burns_fast"));
}

int tb_imitated_by(const struct tb_question *q, bool *bare)
{
    int by = -1;

    for (int z = 0; z < 2; z++)
        for (size_t i = 0; i < q->n && by < 0; i++) {
            const struct tb_group *g = &q->group[i];

            *bare = z == 1;
            if (tb_protective(q->ev, &g->declared) && (!*bare || tb_burns_on(g)))
                by = rival_of(q, g, *bare ? 0 : tb_finish_by_key("flame_retardant") + 1, IMITATED);
        }
    return by;
}
