/*
 * looks.c - what a verdict that fits rests on: one look, or more than one.
 *
 * A look is what one person saw in one channel. It may be one mistake: a name given to a smell, a box ticked on the wrong line.
 */
#include "evidence/some.h"

#include <math.h>
#include <stdlib.h>

size_t tb_first_of_person(const struct tb_group *g, size_t i)
{
    size_t at = 0;

    while (g->pattern[at].person != g->pattern[i].person)
        at++;
    return at;
}

/* Was the channel looked at by the person of pattern i, in some burn of the group? */
static bool looked(const struct tb_question *q, const struct tb_group *g, size_t i, int channel)
{
    for (size_t k = 0; k < g->n; k++)
        for (size_t t = 0; g->pattern[k].person == g->pattern[i].person && t < g->pattern[k].terms->n; t++)
            if (q->ev->cue[g->pattern[k].terms->term[t].cue].channel == channel)
                return true;
    return false;
}

size_t tb_looks_of(const struct tb_question *q)
{
    size_t n = 0;

    for (size_t p = 0; p < q->n; p++)
        for (size_t i = 0; i < q->group[p].n; i++)
            for (int c = 0; c < q->ev->channels && tb_first_of_person(&q->group[p], i) == i; c++)
                n += looked(q, &q->group[p], i, c);
    return n;
}

/* How many looks of one part speak for the declaration: by themselves, or `beside` all the others. */
static size_t looks_for(const struct tb_question *q, const struct tb_group *g, bool beside)
{
    struct tb_some l = tb_some_open(g);
    double least = log(q->ev->fig.second_look), whole = 0;
    size_t n = 0;

    if (beside) {
        tb_some_take(&l, q->ev, g, TB_SOME_NOBODY, TB_SOME_ALL, true);
        whole = tb_some_log_ratio(q, g, &l);
    }
    for (size_t i = 0; i < g->n; i++)
        for (int c = 0; c < q->ev->channels && tb_first_of_person(g, i) == i; c++) {
            size_t person = g->pattern[i].person;

            tb_some_take(&l, q->ev, g, person, c, false);
            if (l.n == 0)
                continue;
            if (tb_some_log_ratio(q, g, &l) >= least) {
                n++;
            } else if (beside) {
                tb_some_take(&l, q->ev, g, person, c, true);
                n += whole - tb_some_log_ratio(q, g, &l) >= least;
            }
        }
    tb_some_free(&l);
    return n;
}

bool tb_fits_by_more(const struct tb_question *q)
{
    size_t n[2] = { 0, 0 };

    for (int beside = 0; beside < 2 && n[beside] < 2; beside++)
        for (size_t i = 0; i < q->n && n[beside] < 2; i++)
            n[beside] += looks_for(q, &q->group[i], beside);
    return n[0] >= 2 || n[1] >= 2;
}
