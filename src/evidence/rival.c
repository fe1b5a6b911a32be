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
#define MIXED 2.0     /* times likelier with a part of another fibre in it, beside two kinds in one look */
#define STRANGE 0.05  /* a chance below it: hardly anybody tells so of this cloth */
#define SOLD_TOGETHER                                                                                        \
    0.002 /* product of how common two fibres are: wool and cotton are above it, acetate and cotton below */

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

/* --- two kinds of fibre in one look ------------------------------------------------------------------------------ */

/* Does a nose, or the microscope, tell kinds of fibre apart here, one beside the other? */
static bool tells_kinds(const struct tb_evidence *ev, int channel)
{
    return channel == tb_channel_by_key("odour") ||
           (ev->channel[channel].bench && !ev->channel[channel].exclusive);
}

/* Was something smelled, or seen in a mount, that is told of what is declared and not of the other, and the other way about? */
static bool shows_both(const struct tb_question *q, const struct tb_group *g, const struct tb_blend *other)
{
    const struct tb_evidence *ev = q->ev;
    unsigned own = 0, foreign = 0;

    for (size_t i = 0; i < g->n; i++)
        for (size_t t = 0; t < g->pattern[i].terms->n; t++) {
            const struct tb_term *term = &g->pattern[i].terms->term[t];
            int channel = ev->cue[term->cue].channel;
            double p, r;

            if (!term->seen || !tells_kinds(ev, channel))
                continue;
            p = tb_cue_chance(ev, &g->declared.blend, term->cue);
            r = tb_cue_chance(ev, other, term->cue);
            own |= p >= ev->fig.ordinary && r < STRANGE ? 1u << channel : 0;
            foreign |= r >= ev->fig.ordinary && p < STRANGE ? 1u << channel : 0;
        }
    return own & foreign;
}

/* Is a cloth of what is declared and of this fibre one that is sold? By how common each of them is. */
static bool is_sold_with(const struct tb_evidence *ev, const struct tb_blend *declared, int fibre)
{
    for (int i = 0; i < declared->n; i++)
        if (ev->common[declared->fibre[i]] * ev->common[fibre] >= SOLD_TOGETHER)
            return true;
    return false;
}

/* The commonest fibre of which a fifth or a third beside what is declared explains all that was seen better; -1: none. */
static int mixed_in(const struct tb_question *q, const struct tb_group *g)
{
    static const double part[] = { 0.2, 0.35 };
    const struct tb_blend *declared = &g->declared.blend;
    double least = tb_group_log_declared(q, g, g->pattern, g->n) + log(MIXED), commonest = 0;
    int by = -1;

    for (int f = 0; f < q->ev->fibres && declared->n < TB_BLEND_MOST; f++) {
        struct tb_blend pure;

        if (q->ev->common[f] <= commonest || !is_sold_with(q->ev, declared, f) ||
            !tb_pure_other(&pure, q, g, f) || !shows_both(q, g, &pure))
            continue;
        for (size_t k = 0; k < TB_COUNT(part); k++) {
            struct tb_blend b = tb_mixed_blend(declared, f, part[k]);

            if (tb_patterns_log(q->ev, &b, g->pattern, g->n) <= least)
                continue;
            commonest = q->ev->common[f];
            by = q->ev->fibre[f];
        }
    }
    return by;
}

int tb_mixed_with(const struct tb_question *q)
{
    int by = -1;

    for (size_t i = 0; i < q->n && by < 0; i++)
        by = mixed_in(q, &q->group[i]);
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
