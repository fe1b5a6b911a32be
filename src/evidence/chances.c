/*
 * chances.c - the chances of what was observed, of many compositions at once.
 *
 * Most compositions of a list are two or three bare fibres with shares on the grid. What a fibre brings to a cue at a share is
 * then one of six hundred numbers, which the model keeps; a composition multiplies two or three of them. All others go the
 * long way.
 */
#include "evidence/chances.h"

#include <math.h>
#include <stdlib.h>

#define NO_BRICK (TB_BRICKS - 1)

/* What the fibres of an entry bring: numbers of bricks; `plain` ones only. */
struct build {
    size_t at; /* where its chances stand */
    unsigned short brick[3];
};

/* The compositions of a list that are built of bricks: those of two fibres, most of them, before those of three. */
struct builds {
    struct build *of; /* n */
    size_t pairs, n;
};

static bool build_of(struct build *out, const struct tb_blend *b, size_t at)
{
    *out = (struct build){ at, { NO_BRICK, NO_BRICK, NO_BRICK } };
    if (b->n < 2 || b->n > 3 || b->finish)
        return false;
    for (int i = 0; i < b->n; i++) {
        double steps = round(b->share[i] * TB_STEPS);

        if (fabs(b->share[i] * TB_STEPS - steps) > 1e-9)
            return false;
        out->brick[i] = (unsigned short)(b->fibre[i] * (TB_STEPS + 1) + (int)steps);
    }
    return true;
}

/* The combining laws of docs/method.md, taken apart by fibre. */
static void make_bricks(double *brick, const struct tb_evidence *ev, int cue)
{
    const double *d = ev->d[ev->cue[cue].ramp];
    enum tb_cue_law law = ev->cue[cue].law;

    for (int f = 0; f < ev->fibres; f++)
        for (int k = 0; k <= TB_STEPS; k++) {
            double q = ev->q[f][cue];

            brick[f * (TB_STEPS + 1) + k] = law == TB_LAW_ANY     ? 1 - q * d[k]
                                            : law == TB_LAW_SHARE ? q * k / TB_STEPS
                                                                  : 1 - (1 - q) * d[k];
        }
    brick[NO_BRICK] = law == TB_LAW_SHARE ? 0 : 1;
}

void tb_chances_bricks(struct tb_evidence *ev)
{
    ev->brick = tb_realloc(NULL, (size_t)ev->cues, sizeof *ev->brick);
    for (int c = 0; c < ev->cues; c++)
        make_bricks(ev->brick[c], ev, c);
}

static double pair_of(const double *brick, const struct build *b)
{
    return brick[b->brick[0]] * brick[b->brick[1]];
}

static double triple_of(const double *brick, const struct build *b)
{
    return pair_of(brick, b) * brick[b->brick[2]];
}

/* What was not seen of a law that needs all fibres: its chance is 1 less all results that they make together. */
static void take_partly(double *out, const struct tb_evidence *ev, int cue, const struct builds *b)
{
    const struct tb_channel *ch = &ev->channel[ev->cue[cue].channel];

    for (size_t i = 0; i < b->n; i++)
        out[b->of[i].at] = 1;
    for (int c = ch->first; c < ch->first + ch->n; c++) {
        if (ev->cue[c].law != TB_LAW_ALL)
            continue;
        for (size_t i = 0; i < b->pairs; i++)
            out[b->of[i].at] -= pair_of(ev->brick[c], &b->of[i]);
        for (size_t i = b->pairs; i < b->n; i++)
            out[b->of[i].at] -= triple_of(ev->brick[c], &b->of[i]);
    }
    for (size_t i = 0; i < b->n; i++)
        out[b->of[i].at] = fmax(out[b->of[i].at], 0);
}

static void take_built(double *out, const struct tb_evidence *ev, int cue, const struct builds *b)
{
    const double *brick = ev->brick[cue];

    if (ev->cue[cue].law == TB_LAW_PARTLY)
        take_partly(out, ev, cue, b);
    else if (ev->cue[cue].law == TB_LAW_SHARE)
        for (size_t i = 0; i < b->n; i++)
            out[b->of[i].at] = brick[b->of[i].brick[0]] + brick[b->of[i].brick[1]] + brick[b->of[i].brick[2]];
    else {
        for (size_t i = 0; i < b->pairs; i++)
            out[b->of[i].at] = pair_of(brick, &b->of[i]);
        for (size_t i = b->pairs; i < b->n; i++)
            out[b->of[i].at] = triple_of(brick, &b->of[i]);
    }
}

/* From what the fibres make to what is observed: leaks, slips, and whether it was seen. */
static void observe(double *out, const struct tb_evidence *ev, const struct tb_term *t,
                    const struct builds *b)
{
    double leak = tb_leak_of(ev, t->cue, 2), noise = tb_noise_of(ev, t->cue, 2), base = ev->cue[t->cue].base;
    bool any = ev->cue[t->cue].law == TB_LAW_ANY;
    double by = any ? leak - 1 : 1 - noise, add = any ? 1 : noise * base;

    if (!t->seen) {
        by = -by;
        add = 1 - add;
    }
    for (size_t i = 0; i < b->n; i++)
        out[b->of[i].at] = add + by * out[b->of[i].at];
}

static void long_way(double *out, size_t by_term, const struct tb_evidence *ev, const struct tb_blend *blend,
                     const struct tb_terms *terms)
{
    double chance[TB_CUES_MOST];

    tb_blend_chances(chance, ev, blend, terms);
    for (size_t t = 0; t < terms->n; t++)
        out[t * by_term] = chance[t];
}

void tb_chances_take(double *out, size_t by_term, size_t by_entry, const struct tb_evidence *ev,
                     const struct tb_entry *entry, size_t n, const struct tb_terms *terms)
{
    struct builds b = { .of = tb_realloc(NULL, n + 1, sizeof *b.of) };

    for (size_t i = 0; i < n; i++)
        if (entry[i].blend.n < 3 && !build_of(&b.of[b.n], &entry[i].blend, i * by_entry))
            long_way(out + i * by_entry, by_term, ev, &entry[i].blend, terms);
        else
            b.n += entry[i].blend.n < 3;
    b.pairs = b.n;
    for (size_t i = 0; i < n; i++)
        if (entry[i].blend.n >= 3 && !build_of(&b.of[b.n], &entry[i].blend, i * by_entry))
            long_way(out + i * by_entry, by_term, ev, &entry[i].blend, terms);
        else
            b.n += entry[i].blend.n >= 3;
    for (size_t t = 0; t < terms->n; t++) {
        take_built(out + t * by_term, ev, terms->term[t].cue, &b);
        observe(out + t * by_term, ev, &terms->term[t], &b);
    }
    free(b.of);
}

void tb_chances_of_all(double *out, const struct tb_evidence *ev, const struct tb_entry *entry, size_t n)
{
    struct tb_terms *all = tb_new(struct tb_terms);

    for (int c = 0; c < ev->cues; c++)
        all->term[all->n++] = (struct tb_term){ c, true, false };
    tb_chances_take(out, n, 1, ev, entry, n, all);
    free(all);
}
