/* shortlist.c - the compositions that carry the weight, one by one. */
#include "evidence/chances.h"
#include "evidence/pool.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define LEAST_SHARE 1e-6
#define PAIR_STEPS 2, 6, 10, 14, 18 /* of 20 */

static void add(struct tb_shortlist *s, const struct tb_blend *b, bool declared, double log_prior)
{
    TB_PUSH_ROOM(s->entry, s->n, s->cap);
    s->entry[s->n++] = (struct tb_entry){ .blend = *b, .declared = declared, .log_weight = log_prior };
}

struct adding {
    struct tb_shortlist *to;
    double log_share;
};

static void add_declared(void *to, const struct tb_blend *b, double weight)
{
    struct adding *a = to;

    add(a->to, b, true, a->log_share + log(weight));
}

/* A part the declaration is spread over may hold any of its fibres. */
static void take_declared(struct tb_shortlist *s)
{
    const struct tb_declared_blend *d = &s->group->declared;
    unsigned all = (1u << d->n_shown) - 1;

    for (unsigned bits = s->group->spread ? 1 : all; bits <= all; bits++) {
        struct adding a = { s, s->group->spread ? -log(all) : 0 };

        tb_declared_walk(s->ev, d, bits, add_declared, &a);
    }
}

/* The pool has its entries in the order of this list: those of a set of fibres come next, or there are none. */
static void take_pooled(struct tb_shortlist *s, size_t *next, const struct tb_blend *set, bool keep)
{
    const struct tb_shortlist *from = &s->pool->list;

    for (; *next < from->n; ++*next) {
        const struct tb_entry *e = &from->entry[*next];

        if (e->blend.n != set->n ||
            memcmp(e->blend.fibre, set->fibre, (size_t)set->n * sizeof *set->fibre) != 0)
            return;
        if (!keep)
            continue;
        TB_PUSH_ROOM(s->entry, s->n, s->cap);
        s->entry[s->n] = *e;
        s->entry[s->n].pooled = true;
        s->entry[s->n++].row = *next;
    }
}

/* A pure cloth, bare and with each finish it may have unnamed. */
static void add_pure(struct tb_shortlist *s, const struct tb_blend *pure, double log_prior)
{
    int f = pure->fibre[0];
    struct tb_blend b = *pure;

    add(s, pure, false, log_prior + log1p(-s->ev->unnamed[f]));
    for (size_t z = 0; z < tb_finish_count(); z++) {
        b.finish = (int)z + 1;
        if (s->ev->finish[z].unnamed > 0 && s->ev->finish[z].of[0][f] >= 0)
            add(s, &b, false, log_prior + log(s->ev->finish[z].unnamed));
    }
}

/* Two fibres in some shares; where the burn leaves them next to no weight, none. */
static void add_pairs(struct tb_shortlist *s, int i, int j, double log_prior)
{
    static const int steps[] = { PAIR_STEPS };
    const struct tb_sums *sums = &s->group->sums;

    if (sums->two[i][j] < LEAST_SHARE * sums->all)
        return;
    for (size_t k = 0; k < TB_COUNT(steps); k++) {
        double w = (double)steps[k] / TB_STEPS;
        struct tb_blend pair = { .n = 2, .fibre = { i, j }, .share = { w, 1 - w } };

        add(s, &pair, false, log_prior);
    }
}

/*
 * Pairs without weight are left out but stay in the prior, or leaving them out would speak against the
 * declaration.
 */
static void take_else(struct tb_shortlist *s)
{
    const struct tb_evidence *ev = s->ev;
    const struct tb_group *g = s->group;
    const size_t step_count = TB_COUNT(((int[]){ PAIR_STEPS }));
    double prior = 0;
    size_t next = 0;

    for (int i = 0; i < ev->fibres; i++) {
        struct tb_blend pure = { .n = 1, .fibre = { i }, .share = { 1 } };
        unsigned long long a = 1ull << ev->class_of[i];
        bool other = !tb_declared_shows(ev, &g->declared, g->spread, a);

        prior += other ? ev->alone[i] * ev->sparse[1] : 0;
        if (s->pool)
            take_pooled(s, &next, &pure, other);
        else if (other)
            add_pure(s, &pure, log(ev->alone[i] * ev->sparse[1]));
        for (int j = i + 1; ev->set.fibres_most >= 2 && j < ev->fibres; j++) {
            double each = ev->sparse[2] / ev->pairs_sum * ev->prior[i] * ev->prior[j] / (double)step_count;

            other = !tb_declared_shows(ev, &g->declared, g->spread, a | 1ull << ev->class_of[j]);
            prior += other ? each * (double)step_count : 0;
            if (s->pool)
                take_pooled(s, &next, &(struct tb_blend){ .n = 2, .fibre = { i, j } }, other);
            else if (other)
                add_pairs(s, i, j, log(each));
        }
    }
    s->log_else = prior > 0 ? log(prior) : -INFINITY;
}

void tb_shortlist_chances(struct tb_shortlist *s, size_t pattern)
{
    const struct tb_terms *terms = s->group->pattern[pattern].terms;

    s->chance = tb_realloc(s->chance, s->own * terms->n + TB_CHUNK, sizeof *s->chance);
    s->logs = tb_realloc(s->logs, s->own + 1, sizeof *s->logs);
    tb_chances_take(s->chance, 1, terms->n, s->ev, s->entry, s->own, terms);
    for (size_t i = 0; i < s->own; i++) {
        tb_chance_logs(&s->logs[i], s->ev, s->chance + i * terms->n, terms);
        s->entry[i].row = i;
    }
}

const struct tb_logs *tb_shortlist_logs(const struct tb_shortlist *s, const struct tb_entry *e)
{
    return e->pooled ? &s->pool->list.logs[e->row] : &s->logs[e->row];
}

/* Starts from the prior, which add() has put there. */
static void weigh(struct tb_shortlist *s)
{
    const struct tb_group *g = s->group;

    s->own = s->n;
    for (size_t o = 0; o < g->n; o++) {
        const struct tb_pattern *p = &g->pattern[o];

        tb_shortlist_chances(s, o);
        for (size_t i = 0; i < s->own; i++) {
            struct tb_entry *e = &s->entry[i];

            e->log_weight += p->power * tb_join_logs(s->ev, e->blend.n, &s->logs[i], &p->strange);
        }
    }
}

/* Drop what no single cue could bring back: e^-18 of the weightiest of its side. */
static void prune(struct tb_shortlist *s)
{
    double most[2] = { -INFINITY, -INFINITY };
    size_t n = 0, own = 0;

    for (size_t i = 0; i < s->n; i++) {
        double *m = &most[s->entry[i].declared ? 0 : 1];

        *m = s->entry[i].log_weight > *m ? s->entry[i].log_weight : *m;
    }
    for (size_t i = 0; i < s->n; i++)
        if (s->entry[i].log_weight > most[s->entry[i].declared ? 0 : 1] - 18) {
            own += !s->entry[i].pooled;
            s->entry[n++] = s->entry[i];
        }
    s->n = n;
    s->own = own;
}

/* The chances of the last pattern are left in place: with one pattern they are needed again at once. */
void tb_shortlist_make(struct tb_shortlist *out, const struct tb_evidence *ev, const struct tb_group *g,
                       const struct tb_pool *pool)
{
    *out = (struct tb_shortlist){ .ev = ev, .group = g, .pool = pool };
    take_declared(out);
    if (!pool)
        take_else(out);
    weigh(out);
    if (pool)
        take_else(out);
    if (g->n)
        prune(out);
}

void tb_shortlist_all(struct tb_shortlist *out, const struct tb_evidence *ev, const struct tb_group *g)
{
    *out = (struct tb_shortlist){ .ev = ev, .group = g };
    take_else(out);
    weigh(out);
}

void tb_shortlist_free(struct tb_shortlist *s)
{
    free(s->entry);
    free(s->chance);
    free(s->logs);
    s->entry = NULL;
    s->chance = NULL;
    s->logs = NULL;
}

/* log of the two sides' sums: [0] declared, [1] anything else. */
static void sides(double side[2], const struct tb_shortlist *s, const double *log_weight)
{
    double most[2] = { -INFINITY, -INFINITY }, sum[2] = { 0, 0 };

    for (size_t i = 0; i < s->n; i++) {
        size_t k = s->entry[i].declared ? 0 : 1;

        most[k] = log_weight[i] > most[k] ? log_weight[i] : most[k];
    }
    for (size_t i = 0; i < s->n; i++) {
        size_t k = s->entry[i].declared ? 0 : 1;

        sum[k] += exp(log_weight[i] - most[k]);
    }
    for (int k = 0; k < 2; k++)
        side[k] = most[k] + log(sum[k]);
}

/* Normalised within each side: the prior of a side as a whole is no evidence. */
double tb_shortlist_weights(double *out, const struct tb_shortlist *s)
{
    double side[2];

    for (size_t i = 0; i < s->n; i++)
        out[i] = s->entry[i].log_weight;
    sides(side, s, out);
    for (size_t i = 0; i < s->n; i++)
        out[i] = exp(out[i] - side[s->entry[i].declared ? 0 : 1]);
    return side[0] - (side[1] - s->log_else);
}
