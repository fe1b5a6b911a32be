#include "evidence/space.h"
#include "evidence/table.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

size_t tb_triple(int fibres, int i, int j, int k)
{
    return ((size_t)i * (size_t)fibres + (size_t)j) * (size_t)fibres + (size_t)k;
}

void tb_sums_free(struct tb_sums *s)
{
    free(s->three);
    s->three = NULL;
}

static void keep_best(struct tb_sums *s, const struct tb_best *b)
{
    size_t at = s->n_best;

    while (at > 0 && s->best[at - 1].weight < b->weight)
        at--;
    if (at >= TB_BEST_MOST)
        return;
    if (s->n_best < TB_BEST_MOST)
        s->n_best++;
    memmove(s->best + at + 1, s->best + at, (s->n_best - at - 1) * sizeof *s->best);
    s->best[at] = *b;
}

static void add_pure(struct tb_sums *s, const struct tb_evidence *ev, int fibre, double like)
{
    double weight = like * ev->alone[fibre] * ev->sparse[1];

    s->one[fibre] += weight;
    s->holds[fibre] += weight;
    s->all += weight;
    keep_best(s, &(struct tb_best){ .weight = weight, .n = 1, .fibre = { fibre }, .steps = { TB_STEPS } });
}

/* --- strips into sums ---------------------------------------------------------------------------------------- */

/* Prior of every composition of a strip, but for what its last fibre brings to it. */
static double each_of(const struct tb_evidence *ev, const struct tb_strip *s)
{
    double ways = (TB_STEPS - 1) * (TB_STEPS - 2) / 2.0;

    return s->layout->roles == 2 ? ev->sparse[2] / ev->pairs_sum / (TB_STEPS - 1) * ev->prior[s->i]
                                 : ev->sparse[3] / ev->triples_sum / ways * ev->prior[s->i] * ev->prior[s->j];
}

static void fibres_of(int out[3], const struct tb_strip *s, int last)
{
    out[0] = s->i;
    out[1] = s->layout->roles == 2 ? last : s->j;
    out[2] = last;
}

/* The sum of the fibres that a run of lanes shows. */
static double *shown(struct tb_sums *s, const struct tb_evidence *ev, const int *fibre, int roles,
                     unsigned bits)
{
    int f[3] = { 0 }, n = 0;

    assert(roles <= 3);
    for (int r = 0; r < roles; r++)
        if (bits & 1u << r)
            f[n++] = fibre[r];
    return n == 1   ? &s->one[f[0]]
           : n == 2 ? &s->two[f[0]][f[1]]
                    : &s->three[tb_triple(ev->fibres, f[0], f[1], f[2])];
}

static void keep_lanes(struct tb_sums *s, const struct tb_strip *strip, const int *fibre, const double *like,
                       double each)
{
    const struct tb_chunk *c = &strip->layout->chunk[strip->chunk];
    struct tb_best b = { .n = strip->layout->roles };

    assert(b.n <= 3);
    for (int lane = 0; lane < c->run[c->runs - 1].to; lane++) {
        b.weight = like[lane] * each;
        for (int r = 0; r < b.n; r++) {
            b.fibre[r] = fibre[r];
            b.steps[r] = c->steps[r][lane];
        }
        if (s->n_best < TB_BEST_MOST || b.weight > s->best[TB_BEST_MOST - 1].weight)
            keep_best(s, &b);
    }
}

/* The runs of one chunk that does not show the same all along; returns their sum. */
static double add_runs(struct tb_sums *s, const struct tb_evidence *ev, const struct tb_strip *strip,
                       const int *fibre, const double *like, double each)
{
    const struct tb_chunk *c = &strip->layout->chunk[strip->chunk];
    double all = 0;

    for (int run = 0; run < c->runs; run++) {
        double sum = 0;

        for (int l = c->run[run].from; l < c->run[run].to; l++)
            sum += like[l];
        *shown(s, ev, fibre, strip->layout->roles, c->run[run].shows) += sum * each;
        all += sum;
    }
    return all;
}

/* Likelihoods of a strip, times its prior, into the sums. */
static void add_strip(struct tb_sums *s, const struct tb_evidence *ev, const struct tb_strip *strip,
                      const double *like, const struct tb_kernel *kernel)
{
    const struct tb_chunk *c = &strip->layout->chunk[strip->chunk];
    bool even = c->runs == 1 && c->run[0].to == TB_CHUNK;
    double sum[TB_FIBRES_MOST], prior = each_of(ev, strip), all = 0;

    kernel->sum(sum, like, (size_t)strip->n);
    for (int m = 0; m < strip->n; m++) {
        const double *here = like + m * TB_CHUNK;
        double each = prior * ev->prior[strip->first + m], weight;
        int fibre[3];

        fibres_of(fibre, strip, strip->first + m);
        if (even)
            *shown(s, ev, fibre, strip->layout->roles, c->run[0].shows) += sum[m] * each;
        else
            sum[m] = add_runs(s, ev, strip, fibre, here, each);
        weight = sum[m] * each; /* no lane is more than all of them */
        if (s->n_best < TB_BEST_MOST || weight > s->best[TB_BEST_MOST - 1].weight)
            keep_lanes(s, strip, fibre, here, each);
        s->holds[strip->first + m] += weight;
        all += weight;
    }
    s->holds[strip->i] += all;
    if (strip->j >= 0)
        s->holds[strip->j] += all;
    s->all += all;
}

/* --- all compositions against some observations ------------------------------------------------------------------ */

/*
 * Many burns multiply to less than a double holds. A joint likelihood is kept as a number and how many times it was
 * lifted by 2^500; the sums of a pick are on the scale of its likeliest compositions, so that what is lost is less
 * than a 2^-500th of them. With one observation nothing needs lifting.
 */
#define LIFT 0x1p500
#define LOG_LIFT (500 * 0.693147180559945309417)

struct work {
    const struct tb_evidence *ev;
    const struct tb_pick *pick;
    size_t picks;
    const double *power;
    size_t n;
    const struct tb_kernel *kernel;
    struct tb_room *room;          /* one a table */
    double (*like)[TB_STRIP_MOST]; /* of one strip, one a table */
    int *lifts;                    /* one a pick: of its likeliest pure fibre or pair */
};

static void open_sums(struct tb_sums *out, const struct tb_evidence *ev)
{
    size_t f = (size_t)ev->fibres;

    memset(out, 0, sizeof *out);
    if (ev->set.fibres_most >= 3)
        out->three = tb_alloc(f * f * f, sizeof *out->three);
}

/* log of the joint likelihood of a pure fibre, on the scale of the tables. */
static double pure_log(const struct work *k, const struct tb_pick *p, int fibre)
{
    double pi = k->ev->fig.odd_pure, sum = 0;

    for (size_t i = 0; i < p->n; i++) {
        const struct tb_table *t = k->room[p->at[i]].table;

        sum +=
            k->power[p->at[i]] * log(t->pure_telling[fibre] * ((1 - pi) * t->pure_rest[fibre] + pi * t->odd));
    }
    return sum;
}

/* Likelihoods of one strip under one observation. */
static void strip_likelihoods(const struct work *k, size_t o, const struct tb_strip *s)
{
    double telling[TB_STRIP_MOST], rest[TB_STRIP_MOST], *like = k->like[o];

    tb_strip_fill(telling, rest, &k->room[o], s, k->kernel, 0);
    k->kernel->join(like, telling, rest, k->ev->fig.odd_blend, k->room[o].table->odd, (size_t)s->n);
    for (size_t l = 0; k->power[o] != 1 && l < (size_t)s->n * TB_CHUNK; l++)
        like[l] = pow(like[l], k->power[o]);
}

/* Joint likelihoods of a pick, and how often each was lifted. */
static void joint_likelihoods(double *joint, int *lifts, const struct work *k, const struct tb_pick *p,
                              size_t lanes)
{
    for (size_t l = 0; l < lanes; l++) {
        joint[l] = 1;
        lifts[l] = 0;
    }
    for (size_t i = 0; i < p->n; i++)
        for (size_t l = 0; l < lanes; l++) {
            joint[l] *= k->like[p->at[i]][l];
            if (joint[l] < 1 / LIFT) {
                joint[l] *= LIFT;
                lifts[l]++;
            }
        }
}

static void add_pick(const struct work *k, size_t pick, const struct tb_strip *s)
{
    const struct tb_pick *p = &k->pick[pick];
    double joint[TB_STRIP_MOST];
    int lifts[TB_STRIP_MOST];
    size_t lanes = (size_t)s->n * TB_CHUNK;

    if (p->n == 1) {
        add_strip(p->sums, k->ev, s, k->like[p->at[0]], k->kernel);
        return;
    }
    joint_likelihoods(joint, lifts, k, p, lanes);
    for (size_t l = 0; l < lanes; l++)
        if (lifts[l] != k->lifts[pick])
            joint[l] = ldexp(joint[l], 500 * (k->lifts[pick] - lifts[l]));
    add_strip(p->sums, k->ev, s, joint, k->kernel);
}

/* The fewest lifts of any pair of a strip: padding has no part in it. */
static void least_lifts(const struct work *k, size_t pick, const struct tb_strip *s)
{
    const struct tb_chunk *c = &s->layout->chunk[s->chunk];
    double joint[TB_STRIP_MOST];
    int lifts[TB_STRIP_MOST] = { 0 }, used = c->run[c->runs - 1].to;

    joint_likelihoods(joint, lifts, k, &k->pick[pick], (size_t)s->n * TB_CHUNK);
    for (int m = 0; m < s->n; m++)
        for (int l = m * TB_CHUNK; l < m * TB_CHUNK + used; l++)
            if (lifts[l] < k->lifts[pick])
                k->lifts[pick] = lifts[l];
}

typedef void strip_fn(const struct work *k, size_t pick, const struct tb_strip *s);

/* Every strip of a layout, for the picks of `least` observations and more. */
static void each_strip(const struct work *k, int roles, size_t least, strip_fn *fn)
{
    struct tb_layout lay;
    struct tb_strip strip;

    tb_layout_make(&lay, roles);
    for (bool more = tb_strip_first(&strip, &lay, k->ev->fibres); more;
         more = tb_strip_next(&strip, k->ev->fibres)) {
        for (size_t o = 0; o < k->n; o++)
            strip_likelihoods(k, o, &strip);
        for (size_t i = 0; i < k->picks; i++)
            if (k->pick[i].n >= least)
                fn(k, i, &strip);
    }
}

/* How often the likeliest compositions of each pick are lifted: by the pure fibres, then by the pairs. */
static void find_lifts(const struct work *k)
{
    bool lifted = false;

    for (size_t i = 0; i < k->picks; i++) {
        double best = -INFINITY;

        for (int f = 0; f < k->ev->fibres; f++)
            best = fmax(best, pure_log(k, &k->pick[i], f));
        k->lifts[i] = k->pick[i].n > 1 && best < 0 ? (int)(-best / LOG_LIFT) : 0;
        lifted |= k->lifts[i] > 0;
    }
    if (lifted && k->ev->set.fibres_most >= 2)
        each_strip(k, 2, 2, least_lifts);
}

void tb_space_weigh(const struct tb_pick *pick, size_t picks, const struct tb_evidence *ev,
                    struct tb_table *const *table, const double *power, size_t n,
                    const struct tb_kernel *kernel)
{
    struct work k = { ev, pick, picks, power, n, kernel, NULL, NULL, NULL };

    k.room = tb_array(struct tb_room, n + 1);
    k.like = tb_realloc(NULL, n + 1, sizeof *k.like);
    k.lifts = tb_array(int, picks);
    for (size_t o = 0; o < n; o++)
        tb_room_open(&k.room[o], table[o]);
    find_lifts(&k);
    for (size_t i = 0; i < picks; i++) {
        open_sums(pick[i].sums, ev);
        for (size_t at = 0; at < pick[i].n; at++)
            pick[i].sums->log_scale += power[pick[i].at[at]] * table[pick[i].at[at]]->log_scale;
        pick[i].sums->log_scale -= k.lifts[i] * LOG_LIFT;
        for (int f = 0; f < ev->fibres; f++)
            add_pure(pick[i].sums, ev, f, exp(pure_log(&k, &pick[i], f) + k.lifts[i] * LOG_LIFT));
    }
    for (int roles = 2; roles <= ev->set.fibres_most; roles++)
        each_strip(&k, roles, 0, add_pick);
    for (size_t o = 0; o < n; o++)
        tb_room_free(&k.room[o]);
    free(k.room);
    free(k.like);
    free(k.lifts);
}

/* --- from products that were kept ----------------------------------------------------------------------------- */

void tb_space_sum(struct tb_sums *out, const struct tb_evidence *ev, const double *telling,
                  const double *rest, const double *pure_telling, const double *pure_rest, double odd)
{
    double like[TB_STRIP_MOST], pi = ev->fig.odd_pure;
    size_t at = 0;

    open_sums(out, ev);
    for (int f = 0; f < ev->fibres; f++)
        add_pure(out, ev, f, pure_telling[f] * ((1 - pi) * pure_rest[f] + pi * odd));
    for (int roles = 2; roles <= ev->set.fibres_most; roles++) {
        struct tb_layout lay;
        struct tb_strip s;

        tb_layout_make(&lay, roles);
        for (bool more = tb_strip_first(&s, &lay, ev->fibres); more; more = tb_strip_next(&s, ev->fibres)) {
            ev->kernel->join(like, telling + at, rest + at, ev->fig.odd_blend, odd, (size_t)s.n);
            add_strip(out, ev, &s, like, ev->kernel);
            at += (size_t)s.n * TB_CHUNK;
        }
    }
}
