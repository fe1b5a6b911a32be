/*
 * trial.c - burns drawn from the model, and whether each would contradict a declaration.
 *
 * Most of what a declaration is held against are blends, and most burns are decided without them: the pure cloths alone make it
 * likely enough that it is something else, or not even the most that any share of two fibres reaches does. Only the others are
 * weighed to the end, so that the answer is the same.
 */
#include "evidence/trial.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define DRAWS 400
#define ROUNDING 1e-9 /* far more than sums of a thousand lose */
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
        tb_trial_bound(r, a);
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
enum answer { OPEN, NO, CONTRADICTS };

struct draws {
    struct burn first[DRAWS], second[DRAWS];
    int result[DRAWS];                /* of the test beside the first */
    double side[QUESTIONS][2][DRAWS]; /* sums of prior times likelihood: as declared, and anything else */
    enum answer answer[QUESTIONS][DRAWS];
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

/* Prior times likelihood of some chunks of one kind, for what is open of a draw. */
static void weigh_draw(double sum[QUESTIONS], const struct draws *d, int i, const struct tb_trial *a,
                       const struct test *t, double pi, size_t at, size_t n)
{
    const struct tb_kernel *k = a->ev->kernel;
    const double *prior = a->prior + at * TB_CHUNK;
    double like[BLOCK * TB_CHUNK], more[BLOCK * TB_CHUNK];
    const double *by[] = { like };

    weigh_burn(like, a, &d->first[i], pi, at, n);
    if (d->answer[ONE][i] == OPEN)
        sum[ONE] += k->dot(like, prior, n);
    if (d->answer[TWO][i] == OPEN) {
        weigh_burn(more, a, &d->second[i], pi, at, n);
        k->product(more, more, by, 1, 0, n);
        k->power(more, NULL, 1 / (1 + a->ev->fig.icc_lot), n);
        sum[TWO] += k->dot(more, prior, n);
    }
    if (d->answer[TESTED][i] == OPEN) {
        by[0] = t->result[d->result[i]] + at * TB_CHUNK;
        k->product(like, like, by, 1, 0, n);
        sum[TESTED] += k->dot(like, prior, n);
    }
}

static bool is_open(const struct draws *d, int i)
{
    return d->answer[ONE][i] == OPEN || d->answer[TWO][i] == OPEN || d->answer[TESTED][i] == OPEN;
}

/* By the same threshold as a verdict. */
static bool contradicts(const struct draws *d, const struct tb_trial *a, int question, int i, double other)
{
    return tb_bounded(&a->ev->bounds, log(d->side[question][0][i]) - (log(other) - a->log_else)) <
           log(a->ev->set.contradicts_below);
}

/* What else it could be only grows: once it is enough, it is enough. */
static void settle(struct draws *d, const struct tb_trial *a, int i)
{
    for (int q = 0; q < QUESTIONS; q++)
        if (d->answer[q][i] == OPEN && contradicts(d, a, q, i, d->side[q][1][i] * (1 - ROUNDING)))
            d->answer[q][i] = CONTRADICTS;
}

/*
 * Two bolts of one lot, burned by two people: a second one by the same would add nothing (docs/method.md, section 6). That a test and the burn
 * beside it share a mix-up of the swatch is too little to count here.
 */
static void weigh_kind(struct draws *d, const struct tb_trial *a, const struct test *t, int kind)
{
    double pi = kind < TB_TRIAL_BLEND ? a->ev->fig.odd_pure : a->ev->fig.odd_blend;
    int side = kind == TB_TRIAL_PURE_ELSE || kind == TB_TRIAL_BLEND_ELSE;

    for (size_t at = a->from[kind]; at < a->from[kind + 1]; at += BLOCK) {
        size_t left = a->from[kind + 1] - at;

        for (int i = 0; i < DRAWS; i++) {
            double sum[QUESTIONS] = { 0 };

            if (!is_open(d, i))
                continue;
            weigh_draw(sum, d, i, a, t, pi, at, left < BLOCK ? left : BLOCK);
            for (int q = 0; q < QUESTIONS; q++)
                d->side[q][side][i] += sum[q];
            if (kind == TB_TRIAL_BLEND_ELSE)
                settle(d, a, i);
        }
    }
}

/* Where even the most that the blends can reach is not enough, none of them need be weighed. */
static void rule_out(struct draws *d, const struct tb_trial *a, const struct test *t)
{
    for (int i = 0; i < DRAWS; i++) {
        double most[QUESTIONS] = { 0 };

        settle(d, a, i);
        for (size_t at = a->from[TB_TRIAL_BOUND]; at < a->from[TB_TRIAL_KINDS] && is_open(d, i);
             at += BLOCK) {
            size_t left = a->from[TB_TRIAL_KINDS] - at;

            weigh_draw(most, d, i, a, t, a->ev->fig.odd_blend, at, left < BLOCK ? left : BLOCK);
        }
        for (int q = 0; q < QUESTIONS; q++)
            if (d->answer[q][i] == OPEN &&
                !contradicts(d, a, q, i, (d->side[q][1][i] + most[q]) * (1 + ROUNDING)))
                d->answer[q][i] = NO;
    }
}

static void weigh_all(struct draws *d, const struct tb_trial *a, const struct test *t)
{
    for (int i = 0; i < DRAWS && !t->channel; i++)
        d->answer[TESTED][i] = NO;
    weigh_kind(d, a, t, TB_TRIAL_PURE);
    weigh_kind(d, a, t, TB_TRIAL_PURE_ELSE);
    weigh_kind(d, a, t, TB_TRIAL_BLEND);
    rule_out(d, a, t);
    weigh_kind(d, a, t, TB_TRIAL_BLEND_ELSE);
}

/* How often it contradicts; what is open still was weighed to the end. */
static double share(const struct draws *d, const struct tb_trial *a, int question)
{
    int n = 0;

    for (int i = 0; i < DRAWS; i++)
        n += d->answer[question][i] == CONTRADICTS ||
             (d->answer[question][i] == OPEN && contradicts(d, a, question, i, d->side[question][1][i]));
    return (double)n / DRAWS;
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
