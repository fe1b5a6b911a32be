/* trial.c - burns drawn from the model, and whether each would contradict a declaration. */
#include "evidence/trial.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define DRAWS 400
#define BLOCK                                                                                                \
    32 /* chunks worked through for all burns, so that what the cues change there stays in the cache */

/* A number from 0 to 1 by splitmix64: the same seed makes the same table every time. */
static double draw(struct tb_trial *a)
{
    uint64_t z = (a->seed += 0x9e3779b97f4a7c15u);

    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return (double)((z ^ (z >> 31)) >> 11) * 0x1p-53; /* 53 bits fill a double */
}

/* A pure cloth, as often as each comes. */
static const double *any_cloth(struct tb_trial *a)
{
    double r = draw(a);
    int f = 0;

    while (f + 1 < a->ev->fibres && (r -= a->ev->odd[f]) > 0)
        f++;
    return a->pure + f * TB_CUES_MOST;
}

/* What is burned again and again. */
struct cloth {
    const struct tb_blend *blend;
    double chance[TB_CUES_MOST];
};

static void take_cloth(struct cloth *out, const struct tb_trial *a, const struct tb_blend *b)
{
    *out = (struct cloth){ .blend = b };
    for (int c = 0; c < a->ev->cues; c++)
        out->chance[c] = tb_cue_chance(a->ev, b, c);
}

/* One burn of a cloth, every channel looked at; now and then an odd one, and now and then of another cloth. */
static void draw_burn(struct tb_observation *o, struct tb_trial *a, const struct cloth *cloth)
{
    const struct tb_evidence *ev = a->ev;
    const double *as = cloth->chance, *firm = cloth->chance;

    if (draw(a) < ev->fig.bench_error)
        as = firm = any_cloth(a);
    else if (draw(a) < (cloth->blend->n > 1 ? ev->fig.odd_blend : ev->fig.odd_pure))
        as = any_cloth(a);
    for (int c = 0; c < ev->cues; c++) {
        o->sight[c] = TB_SIGHT_NONE;
        if (tb_trial_cue(ev, c) && draw(a) < (ev->cue[c].telling ? firm : as)[c])
            o->sight[c] = TB_SIGHT_SEEN;
    }
}

/* A burn as what it changes in the products of a careful look at nothing, and what it weighs of an odd burn. */
struct burn {
    const double **by[2]; /* factors of the rest, and of the telling cues */
    size_t n[2];
    double odd, any;
};

static void take_changes(struct burn *out, struct tb_trial *a, const struct tb_observation *o,
                         struct tb_arena *mem)
{
    const struct tb_evidence *ev = a->ev;
    bool seen[TB_CUES_MOST] = { false }, said[TB_CUES_MOST] = { false };
    struct tb_terms t;

    tb_terms_of(&t, ev, o);
    *out = (struct burn){ .n = { 0, 0 } };
    for (size_t i = 0; i < t.n; i++) {
        said[t.term[i].cue] = true;
        seen[t.term[i].cue] = t.term[i].seen;
    }
    for (int k = 0; k < 2; k++)
        out->by[k] = tb_arena_alloc(mem, (t.n + 1) * sizeof(double *));
    for (int c = 0; c < ev->cues; c++) {
        const double *change = seen[c] ? a->seen[c] : said[c] ? NULL : a->open[c];
        int k = ev->cue[c].telling;

        if (change)
            out->by[k][out->n[k]++] = change;
    }
}

/* The products of a burn over some chunks: [0] of the rest, [1] of the telling cues. */
static void take_parts(double part[2][BLOCK * TB_CHUNK], const struct tb_trial *a, const struct burn *b,
                       size_t at, size_t n)
{
    for (int k = 0; k < 2; k++)
        a->ev->kernel->product(part[k], a->base[k], b->by[k], b->n[k], at, n);
}

/* Odd burns, and those of another cloth, are drawn from the bare fibres. */
static void take_strange(struct burn *b, const struct tb_trial *a)
{
    double part[2][BLOCK * TB_CHUNK];

    take_parts(part, a, b, 0, a->from[TB_TRIAL_PURE]);
    for (int f = 0; f < a->ev->fibres; f++) {
        b->odd += a->ev->odd[f] * part[0][f];
        b->any += a->ev->odd[f] * part[0][f] * part[1][f];
    }
}

/* P(this burn | some chunks of one kind). */
static void weigh_burn(double *like, const struct tb_trial *a, const struct burn *b, double pi, size_t at,
                       size_t n)
{
    double part[2][BLOCK * TB_CHUNK], e = a->ev->fig.bench_error;
    struct tb_joint joint = { (1 - e) * (1 - pi), (1 - e) * pi * b->odd, e * b->any };

    take_parts(part, a, b, at, n);
    a->ev->kernel->join(like, part[1], part[0], &joint, n);
}

/* --- the bench test beside a burn ---------------------------------------------------------------------------- */

struct test {
    const struct tb_channel *channel;
    double *result[TB_CUES_MOST]; /* what each result multiplies into the lanes */
};

static void take_test(struct test *out, struct tb_trial *a, const struct tb_channel *ch, struct tb_arena *mem)
{
    size_t n = a->from[TB_TRIAL_KINDS];
    double e = a->ev->fig.test_error;

    out->channel = ch;
    for (int c = ch->first; c < ch->first + ch->n; c++) {
        double *r = out->result[c] = tb_arena_alloc(mem, n * TB_CHUNK * sizeof *r);

        for (size_t l = a->from[TB_TRIAL_PURE] * TB_CHUNK; l < n * TB_CHUNK; l++)
            r[l] = a->blend[l] ? tb_cue_chance(a->ev, a->blend[l], c) : 1;
        a->ev->kernel->power(r, NULL, tb_weight_of(a->ev, c), n);
        for (size_t l = a->from[TB_TRIAL_PURE] * TB_CHUNK; l < n * TB_CHUNK; l++)
            r[l] = (1 - e) * r[l] + e * tb_mistaken_chance(a->ev, c);
    }
}

/* One result of the test on a cloth; now and then any of them, by a mistake. */
static int draw_result(struct tb_trial *a, const struct cloth *cloth, const struct tb_channel *ch)
{
    double r, all = 0;
    int c = ch->first;

    if (draw(a) < a->ev->fig.test_error)
        return c + (int)(draw(a) * ch->n);
    for (int k = ch->first; k < ch->first + ch->n; k++)
        all += cloth->chance[k];
    for (r = all * draw(a); c + 1 < ch->first + ch->n && (r -= cloth->chance[c]) > 0; c++)
        ;
    return c;
}

/* --- all burns of one cloth ----------------------------------------------------------------------------------- */

enum { ONE, TWO, TESTED, QUESTIONS };

struct draws {
    struct burn first[DRAWS], second[DRAWS];
    int result[DRAWS];                /* of the test beside the first */
    double side[QUESTIONS][2][DRAWS]; /* sums of prior times likelihood: as declared, and anything else */
};

/* In the order of the bench: a burn, the test beside it, a second burn. */
static void draw_all(struct draws *d, struct tb_trial *a, const struct cloth *cloth,
                     const struct tb_channel *test, struct tb_arena *mem)
{
    struct tb_observation o = { 0 };

    tb_trial_look(&o, a->ev);
    for (int n = 0; n < DRAWS; n++) {
        draw_burn(&o, a, cloth);
        take_changes(&d->first[n], a, &o, mem);
        take_strange(&d->first[n], a);
        if (test)
            d->result[n] = draw_result(a, cloth, test);
        draw_burn(&o, a, cloth);
        take_changes(&d->second[n], a, &o, mem);
        take_strange(&d->second[n], a);
    }
}

/*
 * Two bolts of one lot, burned by two people: a second one by the same would add nothing (docs/method.md, section 6). That a test and the burn
 * beside it share a mix-up of the swatch is too little to count here.
 */
static void weigh_block(struct draws *d, const struct tb_trial *a, const struct test *t, int kind, size_t at,
                        size_t n)
{
    const struct tb_kernel *k = a->ev->kernel;
    const double *prior = a->prior + at * TB_CHUNK;
    double pi = kind < TB_TRIAL_BLEND ? a->ev->fig.odd_pure : a->ev->fig.odd_blend;
    int side = kind == TB_TRIAL_PURE_ELSE || kind == TB_TRIAL_BLEND_ELSE;

    for (int i = 0; i < DRAWS; i++) {
        double like[BLOCK * TB_CHUNK], more[BLOCK * TB_CHUNK];
        const double *by[] = { like };

        weigh_burn(like, a, &d->first[i], pi, at, n);
        d->side[ONE][side][i] += k->dot(like, prior, n);
        weigh_burn(more, a, &d->second[i], pi, at, n);
        k->product(more, more, by, 1, 0, n);
        k->power(more, NULL, 1 / (1 + a->ev->fig.icc_lot), n);
        d->side[TWO][side][i] += k->dot(more, prior, n);
        if (!t->channel)
            continue;
        by[0] = t->result[d->result[i]] + at * TB_CHUNK;
        k->product(like, like, by, 1, 0, n);
        d->side[TESTED][side][i] += k->dot(like, prior, n);
    }
}

static void weigh_all(struct draws *d, const struct tb_trial *a, const struct test *t)
{
    for (int kind = TB_TRIAL_PURE; kind < TB_TRIAL_KINDS; kind++)
        for (size_t at = a->from[kind]; at < a->from[kind + 1]; at += BLOCK) {
            size_t left = a->from[kind + 1] - at;

            weigh_block(d, a, t, kind, at, left < BLOCK ? left : BLOCK);
        }
}

/* How often it contradicts, by the same threshold as a verdict. */
static double share(const struct draws *d, const struct tb_trial *a, int question)
{
    int contradicts = 0;

    for (int i = 0; i < DRAWS; i++)
        contradicts += tb_bounded(&a->ev->bounds, log(d->side[question][0][i]) -
                                                      (log(d->side[question][1][i]) - a->log_else)) <
                       log(a->ev->set.contradicts_below);
    return (double)contradicts / DRAWS;
}

void tb_trial_run(struct tb_power *p, struct tb_trial *a, const struct tb_blend *b,
                  const struct tb_channel *test)
{
    struct tb_arena mem = { 0 };
    struct draws *d = tb_arena_alloc(&mem, sizeof *d);
    struct test t = { 0 };
    struct cloth cloth;

    take_cloth(&cloth, a, b);
    if (test)
        take_test(&t, a, test, &mem);
    draw_all(d, a, &cloth, test, &mem);
    weigh_all(d, a, &t);
    p->draws = DRAWS;
    p->one = share(d, a, ONE);
    p->two = share(d, a, TWO);
    p->with_test = test ? share(d, a, TESTED) : NAN;
    tb_arena_free(&mem);
}
