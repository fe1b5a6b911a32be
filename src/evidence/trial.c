/* trial.c - burns drawn from the model, and whether each would contradict a declaration. */
#include "evidence/trial.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define DRAWS 400

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
    out->blend = b;
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

/* Multiply what a burn changes into the products of a careful look at nothing. */
static void take_parts(struct tb_trial *a, const struct tb_observation *o)
{
    const struct tb_evidence *ev = a->ev;
    const double *by[2][TB_CUES_MOST];
    bool seen[TB_CUES_MOST] = { false }, said[TB_CUES_MOST] = { false };
    size_t n[2] = { 0, 0 };
    struct tb_terms t;

    tb_terms_of(&t, ev, o);
    for (size_t i = 0; i < t.n; i++) {
        said[t.term[i].cue] = true;
        seen[t.term[i].cue] = t.term[i].seen;
    }
    for (int c = 0; c < ev->cues; c++) {
        const double *change = seen[c] ? a->seen[c] : said[c] ? NULL : a->open[c];

        if (change)
            by[ev->cue[c].telling][n[ev->cue[c].telling]++] = change;
    }
    for (int k = 0; k < 2; k++)
        ev->kernel->product(a->part[k], a->base[k], by[k], n[k], a->from[TB_TRIAL_KINDS]);
}

/* P(this burn | every lane). */
static void weigh_burn(double *like, struct tb_trial *a, const struct tb_observation *o)
{
    const struct tb_evidence *ev = a->ev;
    double odd = 0, any = 0, e = ev->fig.bench_error;

    take_parts(a, o);
    for (int f = 0; f < ev->fibres; f++) {
        odd += a->odd[f] * a->part[0][f];
        any += a->odd[f] * a->part[0][f] * a->part[1][f];
    }
    for (int k = TB_TRIAL_PURE; k < TB_TRIAL_KINDS; k++) {
        double pi = k < TB_TRIAL_BLEND ? ev->fig.odd_pure : ev->fig.odd_blend;
        struct tb_joint joint = { (1 - e) * (1 - pi), (1 - e) * pi * odd, e * any };
        size_t at = a->from[k] * TB_CHUNK;

        ev->kernel->join(like + at, a->part[1] + at, a->part[0] + at, &joint, a->from[k + 1] - a->from[k]);
    }
}

/* By the same threshold as a verdict. */
static bool contradicts(const struct tb_trial *a, const double *like)
{
    double side[2] = { 0, 0 };

    for (int k = TB_TRIAL_PURE; k < TB_TRIAL_KINDS; k++) {
        size_t at = a->from[k] * TB_CHUNK;

        side[k == TB_TRIAL_PURE_ELSE || k == TB_TRIAL_BLEND_ELSE] +=
            a->ev->kernel->dot(like + at, a->prior + at, a->from[k + 1] - a->from[k]);
    }
    return tb_bounded(&a->ev->bounds, log(side[0]) - (log(side[1]) - a->log_else)) <
           log(a->ev->set.contradicts_below);
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

/* The test beside a burn. That both share a mix-up of the swatch is too little to count here. */
static void weigh_test(double *like, struct tb_trial *a, const struct cloth *cloth, const struct test *t)
{
    const double *by[] = { t->result[draw_result(a, cloth, t->channel)] };

    a->ev->kernel->product(like, a->first, by, 1, a->from[TB_TRIAL_KINDS]);
}

/* Two bolts of one lot, burned by one person, say less than two of two lots (docs/method.md, section 6). */
static void join_burns(struct tb_trial *a)
{
    const double *by[] = { a->first };
    size_t n = a->from[TB_TRIAL_KINDS];

    a->ev->kernel->product(a->like, a->like, by, 1, n);
    a->ev->kernel->power(a->like, NULL, 1 / (1 + a->ev->fig.icc_lot), n);
}

/* The second burn goes on from the first, as it does at the bench. */
void tb_trial_run(struct tb_power *p, struct tb_trial *a, const struct tb_blend *b,
                  const struct tb_channel *test)
{
    struct tb_observation o = { 0 };
    struct tb_arena mem = { 0 };
    struct test t = { 0 };
    struct cloth cloth;
    int one = 0, two = 0, tested = 0;

    take_cloth(&cloth, a, b);
    if (test)
        take_test(&t, a, test, &mem);
    tb_trial_look(&o, a->ev);
    for (int n = 0; n < DRAWS; n++) {
        draw_burn(&o, a, &cloth);
        weigh_burn(a->first, a, &o);
        one += contradicts(a, a->first);
        if (test) {
            weigh_test(a->like, a, &cloth, &t);
            tested += contradicts(a, a->like);
        }
        draw_burn(&o, a, &cloth);
        weigh_burn(a->like, a, &o);
        join_burns(a);
        two += contradicts(a, a->like);
    }
    tb_arena_free(&mem);
    p->draws = DRAWS;
    p->one = (double)one / DRAWS;
    p->two = (double)two / DRAWS;
    p->with_test = test ? (double)tested / DRAWS : NAN;
}
