/*
 * trial.c - burns drawn from the model, and whether each would contradict a declaration.
 *
 * Most of what a declaration is held against are blends, and most burns are decided without them: the pure cloths alone make it
 * likely enough that it is something else, or not even the most that any share of two fibres reaches does. Of the others the pairs of
 * fibres are weighed that may bring most, until the rest cannot change the answer.
 */
#include "evidence/trial.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define DRAWS 400
#define ROUNDING 1e-9 /* far more than sums of a thousand lose */
static const double EACH[TB_CHUNK] = { 1, 1, 1, 1, 1, 1, 1, 1 };
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

/* What was seen of a burn that was looked at with care. */
struct drawn {
    uint64_t seen[(TB_CUES_MOST + 63) / 64];
};

/* One burn of a cloth, every channel looked at; now and then an odd one, and now and then of another cloth. */
static void draw_burn(struct drawn *out, struct tb_trial *a, const struct cloth *cloth)
{
    const struct tb_evidence *ev = a->ev;
    const double *as = cloth->chance, *firm = cloth->chance;

    if (draw(a) < ev->fig.bench_error)
        as = firm = any_cloth(a);
    else if (draw(a) < (cloth->blend->n > 1 ? ev->fig.odd_blend : ev->fig.odd_pure))
        as = any_cloth(a);
    *out = (struct drawn){ { 0 } };
    for (int c = 0; c < ev->cues; c++)
        if (tb_trial_cue(ev, c) && draw(a) < (ev->cue[c].telling ? firm : as)[c])
            out->seen[c / 64] |= UINT64_C(1) << c % 64;
}

/* A burn as what it changes in the products of a careful look at nothing, and what it weighs of an odd burn. */
struct burn {
    const double **by[2]; /* factors of the rest, and of the telling cues */
    size_t n[2];
    double odd, any;
};

static void take_changes(struct burn *out, const struct tb_trial *a, const struct tb_observation *o,
                         struct tb_arena *mem)
{
    const struct tb_evidence *ev = a->ev;
    bool seen[TB_CUES_MOST] = { false }, said[TB_CUES_MOST] = { false };
    const double *by[2][TB_CUES_MOST];
    struct tb_terms t;

    tb_terms_of(&t, ev, o);
    *out = (struct burn){ .n = { 0, 0 } };
    for (size_t i = 0; i < t.n; i++) {
        said[t.term[i].cue] = true;
        seen[t.term[i].cue] = t.term[i].seen;
    }
    for (int c = 0; c < ev->cues; c++) {
        const double *change = seen[c] ? a->seen[c] : said[c] ? NULL : a->open[c];
        int k = ev->cue[c].telling;

        if (change)
            by[k][out->n[k]++] = change;
    }
    for (int k = 0; k < 2; k++)
        if (out->n[k]) {
            out->by[k] = tb_arena_alloc(mem, out->n[k] * sizeof(double *));
            memcpy(out->by[k], by[k], out->n[k] * sizeof(double *));
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

/* `o` is a careful look at nothing or at another such burn. */
static void take_burn(struct burn *out, struct tb_observation *o, const struct tb_trial *a,
                      const struct drawn *drawn, struct tb_arena *mem)
{
    for (int c = 0; c < a->ev->cues; c++)
        o->sight[c] = drawn->seen[c / 64] >> c % 64 & 1 ? TB_SIGHT_SEEN : TB_SIGHT_NONE;
    take_changes(out, a, o, mem);
    take_strange(out, a);
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
    struct drawn drawn[DRAWS][2];
    struct burn first[DRAWS], second[DRAWS];
    int result[DRAWS];                /* of the test beside the first */
    double side[QUESTIONS][2][DRAWS]; /* sums of prior times likelihood: as declared, and anything else */
    enum answer answer[QUESTIONS][DRAWS];
};

/* In the order of the bench: a burn, the test beside it, a second burn. */
static void draw_all(struct draws *d, struct tb_trial *a, const struct cloth *cloth,
                     const struct tb_channel *test)
{
    for (int n = 0; n < DRAWS; n++) {
        draw_burn(&d->drawn[n][0], a, cloth);
        if (test)
            d->result[n] = draw_result(a, cloth, test);
        draw_burn(&d->drawn[n][1], a, cloth);
    }
}

/* Draws from .. end - 1, which are weighed by themselves. */
struct piece {
    int from, end;
    struct tb_arena mem; /* of what is made of them */
};

static void take_burns(struct draws *d, const struct tb_trial *a, struct piece *p)
{
    struct tb_observation o = { 0 };

    tb_trial_look(&o, a->ev);
    for (int n = p->from; n < p->end; n++) {
        take_burn(&d->first[n], &o, a, &d->drawn[n][0], &p->mem);
        take_burn(&d->second[n], &o, a, &d->drawn[n][1], &p->mem);
    }
}

/* The likelihoods of some chunks of one kind, for what is open of a draw. */
static void take_likes(double like[QUESTIONS][BLOCK * TB_CHUNK], const struct draws *d, int i,
                       const struct tb_trial *a, const struct tb_trial_test *t, double pi, size_t at,
                       size_t n)
{
    const struct tb_kernel *k = a->ev->kernel;
    const double *by = like[ONE];

    weigh_burn(like[ONE], a, &d->first[i], pi, at, n);
    if (d->answer[TWO][i] == OPEN) {
        weigh_burn(like[TWO], a, &d->second[i], pi, at, n);
        k->product(like[TWO], like[TWO], &by, 1, 0, n);
        k->power(like[TWO], NULL, 1 / (1 + a->ev->fig.icc_lot), n);
    }
    if (d->answer[TESTED][i] == OPEN) {
        by = t->result[d->result[i]] + at * TB_CHUNK;
        k->product(like[TESTED], like[ONE], &by, 1, 0, n);
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

/*
 * Two bolts of one lot, burned by two people: a second one by the same would add nothing (docs/method.md, section 6). That a test and the burn
 * beside it share a mix-up of the swatch is too little to count here.
 */
static void weigh_chunks(struct draws *d, int i, const struct tb_trial *a, const struct tb_trial_test *t,
                         int kind, size_t at, size_t n)
{
    double pi = kind < TB_TRIAL_BLEND ? a->ev->fig.odd_pure : a->ev->fig.odd_blend;
    int side = kind == TB_TRIAL_PURE_ELSE || kind == TB_TRIAL_BLEND_ELSE;
    double like[QUESTIONS][BLOCK * TB_CHUNK];

    take_likes(like, d, i, a, t, pi, at, n);
    for (int q = 0; q < QUESTIONS; q++)
        if (d->answer[q][i] == OPEN)
            d->side[q][side][i] += a->ev->kernel->dot(like[q], a->prior + at * TB_CHUNK, n);
}

/* All chunks of one kind, for every draw before the next ones. */
static void weigh_kind(struct draws *d, const struct piece *p, const struct tb_trial *a,
                       const struct tb_trial_test *t, int kind)
{
    for (size_t at = a->from[kind]; at < a->from[kind + 1]; at += BLOCK) {
        size_t left = a->from[kind + 1] - at;

        for (int i = p->from; i < p->end; i++)
            if (is_open(d, i))
                weigh_chunks(d, i, a, t, kind, at, left < BLOCK ? left : BLOCK);
    }
}

/* --- what else it could be, the likeliest first --------------------------------------------------------------- */

/* A group is the compositions that one chunk of the bounds stands for. */
struct groups {
    size_t n;
    bool *weighed;
    double *most[QUESTIONS];  /* what each brings at most, a chunk's room behind the last */
    double left[QUESTIONS];   /* all of it that is not weighed */
    double enough[QUESTIONS]; /* of all else together, for a contradiction; INFINITY: there is no such */
};

static void open_groups(struct groups *g, const struct tb_trial *a, struct tb_arena *mem)
{
    g->n = a->from[TB_TRIAL_KINDS] - a->from[TB_TRIAL_BOUND];
    g->weighed = tb_arena_alloc(mem, g->n + 1);
    for (int q = 0; q < QUESTIONS; q++)
        g->most[q] = tb_arena_alloc(mem, (g->n + 1) * sizeof *g->most[q]);
}

/* Of one draw. */
static void take_groups(struct groups *g, const struct draws *d, int i, const struct tb_trial *a,
                        const struct tb_trial_test *t)
{
    bool within = a->ev->bounds.low < log(a->ev->set.contradicts_below);
    double like[QUESTIONS][BLOCK * TB_CHUNK];

    memset(g->weighed, 0, g->n);
    for (size_t at = 0; at < g->n; at += BLOCK) {
        size_t n = g->n - at < BLOCK ? g->n - at : BLOCK, lane = a->from[TB_TRIAL_BOUND] + at;
        const double *prior = a->prior + lane * TB_CHUNK;

        take_likes(like, d, i, a, t, a->ev->fig.odd_blend, lane, n);
        for (int q = 0; q < QUESTIONS; q++)
            if (d->answer[q][i] == OPEN) {
                a->ev->kernel->product(like[q], like[q], &prior, 1, 0, n);
                a->ev->kernel->sum(g->most[q] + at, like[q], EACH, n);
            }
    }
    for (int q = 0; q < QUESTIONS; q++) {
        g->left[q] = 0;
        for (size_t k = 0; k < g->n && d->answer[q][i] == OPEN; k++)
            g->left[q] += g->most[q][k];
        g->enough[q] = within ? d->side[q][0][i] * exp(a->log_else) / a->ev->set.contradicts_below : INFINITY;
    }
}

/* What else it could be is no less than was weighed, and no more than what is left can add. */
static void settle(struct draws *d, const struct groups *g, int i)
{
    for (int q = 0; q < QUESTIONS; q++) {
        double known = d->side[q][1][i], left = g->left[q] > 0 ? g->left[q] : 0;

        if (d->answer[q][i] != OPEN)
            continue;
        if (known * (1 - ROUNDING) > g->enough[q])
            d->answer[q][i] = CONTRADICTS;
        else if ((known + left) * (1 + ROUNDING) < g->enough[q])
            d->answer[q][i] = NO;
    }
}

/* The group that brings most to the first question that is open. */
static size_t largest(const struct groups *g, const struct draws *d, int i)
{
    const double *most = g->most[d->answer[ONE][i] == OPEN ? ONE : d->answer[TWO][i] == OPEN ? TWO : TESTED];
    size_t best = g->n;

    for (size_t k = 0; k < g->n; k++)
        if (!g->weighed[k] && (best == g->n || most[k] > most[best]))
            best = k;
    return best;
}

/* Mostly a few groups settle it, so that the others need not be weighed. */
static void weigh_groups(struct draws *d, int i, const struct tb_trial *a, const struct tb_trial_test *t,
                         struct groups *g)
{
    size_t from = a->from[TB_TRIAL_BLEND_ELSE], end = a->from[TB_TRIAL_BLEND_ELSE + 1], k;

    take_groups(g, d, i, a, t);
    settle(d, g, i);
    while (is_open(d, i) && (k = largest(g, d, i)) < g->n) {
        size_t at = from + k * TB_TRIAL_BOUND_OF;

        weigh_chunks(d, i, a, t, TB_TRIAL_BLEND_ELSE, at,
                     end - at < TB_TRIAL_BOUND_OF ? end - at : TB_TRIAL_BOUND_OF);
        g->weighed[k] = true;
        for (int q = 0; q < QUESTIONS; q++)
            g->left[q] -= g->most[q][k];
        settle(d, g, i);
    }
}

static void weigh_all(struct draws *d, struct piece *p, const struct tb_trial *a,
                      const struct tb_trial_test *t)
{
    struct groups g;

    for (int i = p->from; i < p->end && !t->channel; i++)
        d->answer[TESTED][i] = NO;
    weigh_kind(d, p, a, t, TB_TRIAL_PURE);
    weigh_kind(d, p, a, t, TB_TRIAL_PURE_ELSE);
    weigh_kind(d, p, a, t, TB_TRIAL_BLEND);
    open_groups(&g, a, &p->mem);
    for (int i = p->from; i < p->end; i++)
        weigh_groups(d, i, a, t, &g);
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

struct tb_trial_burns {
    struct tb_arena mem;
    const struct tb_trial *of;
    struct draws *draws;
    struct tb_trial_test test;
};

struct tb_trial_burns *tb_trial_draw(struct tb_trial *a, const struct tb_blend *b,
                                     const struct tb_channel *test)
{
    struct tb_trial_burns *t = tb_new(struct tb_trial_burns);
    struct cloth cloth;

    t->of = a;
    t->draws = tb_arena_alloc(&t->mem, sizeof *t->draws);
    take_cloth(&cloth, a, b);
    if (test)
        tb_trial_test_open(&t->test, a, test, &t->mem);
    draw_all(t->draws, a, &cloth, test);
    return t;
}

void tb_trial_weigh(struct tb_trial_burns *t, size_t piece)
{
    struct piece p = { .from = (int)piece * DRAWS / TB_TRIAL_PIECES,
                       .end = ((int)piece + 1) * DRAWS / TB_TRIAL_PIECES };

    take_burns(t->draws, t->of, &p);
    weigh_all(t->draws, &p, t->of, &t->test);
    tb_arena_free(&p.mem);
}

void tb_trial_take(struct tb_power *p, const struct tb_trial_burns *t)
{
    p->draws = DRAWS;
    p->one = share(t->draws, t->of, ONE);
    p->two = share(t->draws, t->of, TWO);
    p->with_test = t->test.channel ? share(t->draws, t->of, TESTED) : (double)NAN;
}

void tb_trial_burns_free(struct tb_trial_burns *t)
{
    if (t)
        tb_arena_free(&t->mem);
    free(t);
}
