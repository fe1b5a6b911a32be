/*
 * untried.c - cloth with a finish that is declared: no set of burns of such cloth has been published, so nothing tested says how far
 * a burn tells its fibre.
 *
 * What the finish may do by itself is no evidence of the fibre. Where the burn is likeliest of another cloth, and what the finish leaves
 * alone does not speak for the fibre, the burn fits the finish and not the declaration.
 */
#include "evidence/some.h"

#include <math.h>
#include <stdlib.h>

/* The channels (bits) that a named finish leaves as they are in the fibres that show. */
static unsigned left_alone(const struct tb_evidence *ev, const struct tb_declared_blend *d)
{
    unsigned bits = ~0u;

    for (int z = 0; z < (int)tb_finish_count(); z++)
        for (int i = 0; i < d->n_shown && d->finish & 1u << z; i++) {
            int at = ev->finish[z].of[1][d->shown[i]];

            for (int c = 0; c < ev->channels && at >= 0; c++)
                bits &= ev->effects[at].silent[c] ? ~(1u << c) : ~0u;
            for (int c = 0; c < ev->cues && at >= 0; c++)
                bits &= ev->effects[at].make[c] > 0 ? ~(1u << ev->cue[c].channel) : ~0u;
        }
    return bits;
}

/* The pure cloth that is likeliest, by what was seen and by how common each is in trade; false: it is as declared. */
static bool likeliest_other(struct tb_blend *out, const struct tb_question *q, const struct tb_group *g)
{
    const struct tb_evidence *ev = q->ev;
    double most = -1;
    bool other = false;

    for (int f = 0; f < ev->fibres; f++) {
        struct tb_blend pure;
        bool differs = tb_pure_other(&pure, q, g, f);
        double like = g->sums.one[f] * ev->common[f] / ev->prior[f];

        if (like <= most)
            continue;
        most = like;
        other = differs;
        *out = pure;
    }
    return other;
}

/* Does what the finish leaves alone tell the declared cloth from that one? */
static bool told_apart(const struct tb_question *q, const struct tb_group *g, const struct tb_blend *other)
{
    unsigned *keep = tb_array(unsigned, g->n), left = left_alone(q->ev, &g->declared);
    struct tb_some l = tb_some_open(g);
    bool told;

    for (size_t i = 0; i < g->n; i++)
        keep[i] = left;
    tb_some_keep(&l, q->ev, g, keep);
    told =
        l.n && tb_group_log_declared(q, g, l.pattern, l.n) - tb_patterns_log(q->ev, other, l.pattern, l.n) >=
                   log(q->ev->set.fits_above);
    tb_some_free(&l);
    free(keep);
    return told;
}

bool tb_untried_fits(const struct tb_question *q)
{
    for (size_t i = 0; i < q->n; i++) {
        const struct tb_group *g = &q->group[i];
        struct tb_blend other;

        if (g->declared.finish && g->declared.n_shown == 1 && likeliest_other(&other, q, g) &&
            !told_apart(q, g, &other))
            return false;
    }
    return true;
}
