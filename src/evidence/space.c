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

/* One block of compositions while it is weighed. */
struct block {
    const struct tb_layout *layout;
    int fibre[3];
    double each; /* prior of every composition of the block */
};

static void keep_best(struct tb_sums *s, const struct block *b, size_t lane, double weight)
{
    size_t at = s->n_best;

    while (at > 0 && s->best[at - 1].weight < weight)
        at--;
    if (at >= TB_BEST_MOST)
        return;
    if (s->n_best < TB_BEST_MOST)
        s->n_best++;
    memmove(s->best + at + 1, s->best + at, (s->n_best - at - 1) * sizeof *s->best);
    s->best[at] = (struct tb_best){ .weight = weight, .n = b->layout ? b->layout->roles : 1 };
    for (int r = 0; r < s->best[at].n; r++) {
        s->best[at].fibre[r] = b->fibre[r];
        s->best[at].steps[r] = b->layout ? b->layout->steps[r][lane] : TB_STEPS;
    }
}

/* To the sum of the fibres a run of lanes shows. */
static double *shown(struct tb_sums *s, const struct tb_evidence *ev, const struct block *b, unsigned bits)
{
    int f[3] = { 0 }, n = 0;

    assert(b->layout->roles <= 3);
    for (int r = 0; r < b->layout->roles; r++)
        if (bits & 1u << r)
            f[n++] = b->fibre[r];
    return n == 1   ? &s->one[f[0]]
           : n == 2 ? &s->two[f[0]][f[1]]
                    : &s->three[tb_triple(ev->fibres, f[0], f[1], f[2])];
}

/* likelihoods of the block, times its prior, into the sums. */
static void add_block(struct tb_sums *s, const struct tb_evidence *ev, const struct block *b,
                      const double *like)
{
    const struct tb_layout *l = b->layout;
    double all = 0, floor = s->n_best < TB_BEST_MOST ? -1 : s->best[TB_BEST_MOST - 1].weight / b->each;

    assert(l->roles <= 3);
    for (int run = 0; run < l->runs; run++) {
        double sum, most;

        ev->kernel->sum(&sum, &most, like, (size_t)l->run_from[run], (size_t)l->run_to[run]);
        *shown(s, ev, b, l->run_shows[run]) += sum * b->each;
        all += sum;
        if (most <= floor)
            continue;
        for (int i = l->run_from[run]; i < l->run_to[run]; i++)
            if (s->n_best < TB_BEST_MOST || like[i] * b->each > s->best[TB_BEST_MOST - 1].weight)
                keep_best(s, b, (size_t)i, like[i] * b->each);
    }
    all *= b->each;
    s->all += all;
    for (int r = 0; r < l->roles;
         r++) /* NOLINTNEXTLINE(clang-analyzer-*): a block has as many fibres as roles */
        s->holds[b->fibre[r]] += all;
}

static void weigh_pure(struct tb_sums *s, const struct tb_evidence *ev, struct tb_table *const *table,
                       const double *power, size_t n)
{
    for (int f = 0; f < ev->fibres; f++) {
        double like = 1, pi = ev->fig.odd_pure;
        struct block b = { .fibre = { f } };

        for (size_t o = 0; o < n; o++)
            like *= pow(table[o]->pure_telling[f] * ((1 - pi) * table[o]->pure_rest[f] + pi * table[o]->odd),
                        power[o]);
        like *= ev->alone[f] * ev->sparse[1];
        s->one[f] += like;
        s->holds[f] += like;
        s->all += like;
        keep_best(s, &b, 0, like);
    }
}

void tb_block_fill(double *telling, double *rest, const struct tb_table *t, int layout, const double *uv,
                   const double *w, const struct tb_kernel *kernel, int over)
{
    size_t lanes = t->layout[layout].lanes;

    if (!over || t->has_rest)
        kernel->fill(rest, t->rest_leaks, 0, uv, w, &t->rest, lanes, over);
    if (!over || t->has_telling)
        kernel->fill(telling, t->telling_leaks, (size_t)t->telling_row, uv, w, &t->telling, lanes, over);
}

struct work {
    const struct tb_evidence *ev;
    struct tb_table *const *table;
    const double *power;
    size_t n;
    const struct tb_kernel *kernel;
    const double **uv; /* rows of the fibres before the last, one a table */
    double **room;     /* where the rows of a pair are made */
};

/* Likelihoods of one block under all observations together. */
static void block_likelihoods(double *like, const struct work *k, int layout, const struct tb_layout *lay,
                              int last)
{
    double telling[TB_LANES], rest[TB_LANES], one[TB_LANES];

    for (size_t l = 0; l < lay->lanes; l++)
        like[l] = 1;
    for (size_t o = 0; o < k->n; o++) {
        const struct tb_table *t = k->table[o];
        const double *w = tb_table_rows(t, layout, layout + 1, last);

        tb_block_fill(telling, rest, t, layout, k->uv[o], w, k->kernel, 0);
        k->kernel->join(k->n == 1 && k->power[o] == 1 ? like : one, telling, rest, k->ev->fig.odd_blend,
                        t->odd, lay->lanes);
        for (size_t l = 0; l < lay->lanes && !(k->n == 1 && k->power[o] == 1); l++)
            like[l] *= k->power[o] == 1 ? one[l] : pow(one[l], k->power[o]);
    }
}

/* Prior of every composition of a block. */
static double each_of(const struct tb_evidence *ev, int roles, int i, int j, int k)
{
    double ways = (TB_STEPS - 1) * (TB_STEPS - 2) / 2.0;

    return roles == 2 ? ev->sparse[2] / ev->pairs_sum / (TB_STEPS - 1) * ev->prior[i] * ev->prior[j]
                      : ev->sparse[3] / ev->triples_sum / ways * ev->prior[i] * ev->prior[j] * ev->prior[k];
}

static void weigh_pairs(struct tb_sums *s, const struct work *k)
{
    const struct tb_evidence *ev = k->ev;
    double like[TB_LANES];
    struct tb_layout lay;

    tb_layout_make(&lay, 2);
    for (int i = 0; i < ev->fibres; i++)
        for (int j = i + 1; j < ev->fibres; j++) {
            struct block b = { &lay, { i, j }, each_of(ev, 2, i, j, 0) };

            for (size_t o = 0; o < k->n; o++)
                k->uv[o] = tb_table_rows(k->table[o], 0, 0, i);
            block_likelihoods(like, k, 0, &lay, j);
            add_block(s, ev, &b, like);
        }
}

static void weigh_triples(struct tb_sums *s, const struct work *k)
{
    const struct tb_evidence *ev = k->ev;
    double like[TB_LANES];
    struct tb_layout lay;

    tb_layout_make(&lay, 3);
    for (int i = 0; i < ev->fibres; i++)
        for (int j = i + 1; j < ev->fibres; j++) {
            for (size_t o = 0; j + 1 < ev->fibres && o < k->n; o++)
                tb_table_pair(k->room[o], k->table[o], 1, i, j);
            for (int m = j + 1; m < ev->fibres; m++) {
                struct block b = { &lay, { i, j, m }, each_of(ev, 3, i, j, m) };

                block_likelihoods(like, k, 1, &lay, m);
                add_block(s, ev, &b, like);
            }
        }
}

void tb_space_weigh(struct tb_sums *out, const struct tb_evidence *ev, struct tb_table *const *table,
                    const double *power, size_t n, const struct tb_kernel *kernel)
{
    struct work k = {
        ev, table, power, n, kernel, tb_array(const double *, n + 1), tb_array(double *, n + 1)
    };
    size_t f = (size_t)ev->fibres;

    memset(out, 0, sizeof *out);
    for (size_t o = 0; o < n; o++)
        out->log_scale += power[o] * table[o]->log_scale;
    if (ev->set.fibres_most >= 3)
        out->three = tb_alloc(f * f * f, sizeof *out->three);
    weigh_pure(out, ev, table, power, n);
    if (ev->set.fibres_most >= 2)
        weigh_pairs(out, &k);
    if (ev->set.fibres_most >= 3) {
        for (size_t o = 0; o < n; o++)
            k.uv[o] = k.room[o] = tb_realloc(NULL, (size_t)table[o]->rows * TB_LANES, sizeof **k.room);
        weigh_triples(out, &k);
    }
    for (size_t o = 0; o < n; o++)
        free(k.room[o]);
    free(k.room);
    free((void *)k.uv);
}

static void sum_pure(struct tb_sums *s, const struct tb_evidence *ev, const double *telling,
                     const double *rest, double odd)
{
    double pi = ev->fig.odd_pure;

    for (int f = 0; f < ev->fibres; f++) {
        struct block b = { .fibre = { f } };
        double like = telling[f] * ((1 - pi) * rest[f] + pi * odd) * ev->alone[f] * ev->sparse[1];

        s->one[f] += like;
        s->holds[f] += like;
        s->all += like;
        keep_best(s, &b, 0, like);
    }
}

void tb_space_sum(struct tb_sums *out, const struct tb_evidence *ev, const double *telling,
                  const double *rest, const double *pure_telling, const double *pure_rest, double odd)
{
    size_t at = 0, f = (size_t)ev->fibres;
    double like[TB_LANES];

    memset(out, 0, sizeof *out);
    if (ev->set.fibres_most >= 3)
        out->three = tb_alloc(f * f * f, sizeof *out->three);
    sum_pure(out, ev, pure_telling, pure_rest, odd);
    for (int roles = 2; roles <= ev->set.fibres_most; roles++) {
        struct tb_layout lay;

        tb_layout_make(&lay, roles);
        for (int i = 0; i < ev->fibres; i++)
            for (int j = i + 1; j < ev->fibres; j++)
                for (int k = roles == 3 ? j + 1 : ev->fibres - 1; k < ev->fibres; k++, at += lay.lanes) {
                    struct block b = { &lay, { i, j, k }, each_of(ev, roles, i, j, k) };

                    ev->kernel->join(like, telling + at, rest + at, ev->fig.odd_blend, odd, lay.lanes);
                    add_block(out, ev, &b, like);
                }
    }
}
