/* sums.c - the sums of prior times likelihood over compositions, by what they show. */
#include "evidence/sums.h"

#include <assert.h>
#include <float.h>
#include <stdlib.h>
#include <string.h>

#define ROUNDED_UP (1 + 1e-6) /* so that no strip is less for being kept in few digits */

static size_t pairs_of(size_t n)
{
    return n * (n - 1) / 2;
}

static size_t triples_of(size_t n)
{
    return n < 3 ? 0 : n * (n - 1) * (n - 2) / 6;
}

/* In rising order of i, j, k, none left out: small enough to be copied for every question that asks the same. */
size_t tb_triple(int fibres, int i, int j, int k)
{
    size_t n = (size_t)fibres;

    return triples_of(n) - triples_of(n - (size_t)i) + pairs_of(n - (size_t)i - 1) - pairs_of(n - (size_t)j) +
           (size_t)(k - j - 1);
}

void tb_sums_free(struct tb_sums *s)
{
    free(s->three);
    free(s->strip);
    s->three = NULL;
    s->strip = NULL;
}

/* As strip.c walks them. */
static size_t strips_of(const struct tb_evidence *ev)
{
    size_t n = (size_t)ev->fibres;

    return TB_CHUNKS_OF_TWO * (n - 1) + (ev->set.fibres_most < 3 ? 0 : TB_CHUNKS_MOST * pairs_of(n - 1));
}

/* A handful in falling order: an insertion is quicker than a heap. */
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

void tb_sums_open(struct tb_sums *out, const struct tb_evidence *ev)
{
    memset(out, 0, sizeof *out);
    if (ev->set.fibres_most >= 3)
        out->three = tb_alloc(triples_of((size_t)ev->fibres) + 1, sizeof *out->three);
    if (ev->set.fibres_most >= 2)
        out->strip = tb_realloc(NULL, strips_of(ev) + 1, sizeof *out->strip);
}

/* Everything but the memory of triples and strips, which each has of its own. */
void tb_sums_copy(struct tb_sums *out, const struct tb_sums *s, const struct tb_evidence *ev)
{
    double *three;
    float *strip;

    tb_sums_open(out, ev);
    three = out->three;
    strip = out->strip;
    *out = *s;
    out->three = three;
    out->strip = strip;
    if (strip)
        memcpy(strip, s->strip, s->strips * sizeof *strip);
    if (three)
        memcpy(three, s->three, triples_of((size_t)ev->fibres) * sizeof *three);
}

void tb_sums_add_pure(struct tb_sums *s, const struct tb_evidence *ev, int fibre, double like)
{
    double weight = like * ev->alone[fibre] * ev->sparse[1];

    s->one[fibre] += weight;
    s->all += weight;
    keep_best(s, &(struct tb_best){ .weight = weight, .n = 1, .fibre = { fibre }, .steps = { TB_STEPS } });
}

/* Prior of every composition of a strip, but for what its last fibre brings to it. */
static double each_of(const struct tb_evidence *ev, const struct tb_strip *s)
{
    double ways = (TB_STEPS - 1) * (TB_STEPS - 2) / 2.0;

    return s->layout->roles == 2 ? ev->sparse[2] / ev->pairs_sum / (TB_STEPS - 1) * ev->prior[s->i]
                                 : ev->sparse[3] / ev->triples_sum / ways * ev->prior[s->i] * ev->prior[s->j];
}

/* With two roles the second fibre is the last one. */
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

/* Asked only where the strip as a whole could bring one in, so most strips never come here. */
static void keep_lanes(struct tb_sums *s, const struct tb_strip *strip, const int *fibre, const double *like,
                       double each)
{
    const struct tb_chunk *c = &strip->layout->chunk[strip->chunk];
    struct tb_best b = { .n = strip->layout->roles };

    assert(b.n <= 3);
    for (int lane = 0; lane < c->ways; lane++) {
        b.weight = like[lane] * each;
        for (int r = 0; r < b.n; r++) {
            b.fibre[r] = fibre[r];
            b.steps[r] = c->steps[r][lane];
        }
        if (s->n_best < TB_BEST_MOST || b.weight > s->best[TB_BEST_MOST - 1].weight)
            keep_best(s, &b);
    }
}

static bool could_be_best(const struct tb_sums *s, double weight)
{
    return s->n_best < TB_BEST_MOST || weight > s->best[TB_BEST_MOST - 1].weight;
}

/* One run of lanes: where its sums go moves on with the last fibre, or stays where that does not show. Adds them to `weight` too. */
static void add_run(struct tb_sums *s, const struct tb_evidence *ev, const struct tb_strip *strip,
                    const struct tb_run *run, const double *like, double prior, double *weight,
                    const struct tb_kernel *kernel)
{
    int roles = strip->layout->roles, fibre[3];
    size_t step = run->shows >> (roles - 1) & 1;
    double sum[TB_FIBRES_MOST], *to;

    fibres_of(fibre, strip, strip->first);
    to = shown(s, ev, fibre, roles, run->shows);
    kernel->sum(sum, like, run->weight, (size_t)strip->n);
    for (int m = 0; m < strip->n; m++) {
        sum[m] *= prior * ev->prior[strip->first + m];
        to[(size_t)m * step] += sum[m];
        weight[m] += sum[m];
    }
}

static void keep_strip(struct tb_sums *s, double most)
{
    s->strip[s->strips++] = (float)(most * ROUNDED_UP) + FLT_MIN;
}

void tb_sums_leave_out(struct tb_sums *s, double most)
{
    keep_strip(s, most);
    s->left_out += most;
    s->left_out_of_one = most > s->left_out_of_one ? most : s->left_out_of_one;
}

/* The prior of a composition is a product, and only its last factor changes along a strip. No lane weighs more than what it stands for. */
void tb_sums_add_strip(struct tb_sums *s, const struct tb_evidence *ev, const struct tb_strip *strip,
                       const double *like, const struct tb_kernel *kernel)
{
    const struct tb_chunk *c = &strip->layout->chunk[strip->chunk];
    double weight[TB_FIBRES_MOST] = { 0 }, prior = each_of(ev, strip), all = 0;
    int fibre[3];

    for (int r = 0; r < c->runs; r++)
        add_run(s, ev, strip, &c->run[r], like, prior, weight, kernel);
    for (int m = 0; m < strip->n; m++) {
        all += weight[m];
        if (could_be_best(s, weight[m])) {
            fibres_of(fibre, strip, strip->first + m);
            keep_lanes(s, strip, fibre, like + m * TB_CHUNK, prior * ev->prior[strip->first + m]);
        }
    }
    s->all += all;
    keep_strip(s, all);
}
