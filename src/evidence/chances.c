/*
 * chances.c - the chances of what was observed, of many compositions at once.
 *
 * Most compositions of a list are two or three bare fibres with shares on the grid. What a fibre brings to a cue at a share is
 * then one of six hundred numbers, which are worked out once a cue; a composition multiplies two or three of them. All
 * others go the long way.
 */
#include "evidence/chances.h"

#include <math.h>
#include <stdlib.h>

#define BRICKS                                                                                               \
    (TB_FIBRES_MOST * (TB_STEPS + 1) + 1) /* every fibre at every share, and one that changes nothing */
#define NO_BRICK (BRICKS - 1)

/* What the fibres of an entry bring: numbers of bricks; `plain` ones only. */
struct build {
    size_t entry;
    unsigned short brick[3];
};

static bool build_of(struct build *out, const struct tb_blend *b, size_t entry)
{
    *out = (struct build){ entry, { NO_BRICK, NO_BRICK, NO_BRICK } };
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
static void make_bricks(double *brick, const struct tb_evidence *ev, int cue, enum tb_cue_law law)
{
    const double *d = ev->d[ev->cue[cue].ramp];

    for (int f = 0; f < ev->fibres; f++)
        for (int k = 0; k <= TB_STEPS; k++) {
            double q = ev->q[f][cue];

            brick[f * (TB_STEPS + 1) + k] = law == TB_LAW_ANY     ? 1 - q * d[k]
                                            : law == TB_LAW_SHARE ? q * k / TB_STEPS
                                                                  : 1 - (1 - q) * d[k];
        }
    brick[NO_BRICK] = law == TB_LAW_SHARE ? 0 : 1;
}

/* What was not seen of a law that needs all fibres: its chance is 1 less all results that they make together. */
static void add_partly(double *out, const struct tb_evidence *ev, int cue, const struct build *b, size_t n,
                       double *brick)
{
    const struct tb_channel *ch = &ev->channel[ev->cue[cue].channel];

    for (size_t i = 0; i < n; i++)
        out[b[i].entry] = 1;
    for (int c = ch->first; c < ch->first + ch->n; c++) {
        if (ev->cue[c].law != TB_LAW_ALL)
            continue;
        make_bricks(brick, ev, c, TB_LAW_ALL);
        for (size_t i = 0; i < n; i++)
            out[b[i].entry] -= brick[b[i].brick[0]] * brick[b[i].brick[1]] * brick[b[i].brick[2]];
    }
    for (size_t i = 0; i < n; i++)
        out[b[i].entry] = fmax(out[b[i].entry], 0);
}

static void take_built(double *out, const struct tb_evidence *ev, int cue, const struct build *b, size_t n)
{
    const struct tb_cue_model *m = &ev->cue[cue];
    double brick[BRICKS];

    if (m->law == TB_LAW_PARTLY) {
        add_partly(out, ev, cue, b, n, brick);
        return;
    }
    make_bricks(brick, ev, cue, m->law);
    for (size_t i = 0; i < n; i++) {
        double x = brick[b[i].brick[0]], y = brick[b[i].brick[1]], z = brick[b[i].brick[2]];

        out[b[i].entry] = m->law == TB_LAW_SHARE ? x + y + z : x * y * z;
    }
}

/* From what the fibres make to what is observed: leaks, slips, and whether it was seen. */
static void observe(double *out, const struct tb_evidence *ev, const struct tb_term *t, const struct build *b,
                    size_t n)
{
    double leak = tb_leak_of(ev, t->cue, 2), noise = tb_noise_of(ev, t->cue, 2), base = ev->cue[t->cue].base;
    bool any = ev->cue[t->cue].law == TB_LAW_ANY;
    double by = any ? leak - 1 : 1 - noise, add = any ? 1 : noise * base;

    if (!t->seen) {
        by = -by;
        add = 1 - add;
    }
    for (size_t i = 0; i < n; i++)
        out[b[i].entry] = add + by * out[b[i].entry];
}

void tb_chances_take(double *out, size_t stride, const struct tb_evidence *ev, const struct tb_entry *entry,
                     size_t n, const struct tb_terms *terms)
{
    struct build *built = tb_realloc(NULL, n + 1, sizeof *built);
    size_t builds = 0;

    for (size_t i = 0; i < n; i++) {
        double chance[TB_CUES_MOST];

        if (build_of(&built[builds], &entry[i].blend, i)) {
            builds++;
            continue;
        }
        tb_blend_chances(chance, ev, &entry[i].blend, terms);
        for (size_t t = 0; t < terms->n; t++)
            out[t * stride + i] = chance[t];
    }
    for (size_t t = 0; t < terms->n; t++) {
        take_built(out + t * stride, ev, terms->term[t].cue, built, builds);
        observe(out + t * stride, ev, &terms->term[t], built, builds);
    }
    free(built);
}
