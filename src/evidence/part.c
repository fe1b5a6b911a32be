/* part.c - the sums of one part, for all questions that have it. */
#include "evidence/judge.h"
#include "evidence/recall.h"
#include "evidence/space.h"
#include "evidence/sums.h"

#include <stdlib.h>

/* Questions that ask the same of a part, such as bolts whose burns are alike, share its sums. */
struct part_work {
    struct tb_arena mem;           /* of everything below */
    const struct tb_terms **terms; /* what each table is of, one a reading that some burn of the part has */
    size_t tables;
    size_t *table_of; /* by reading */
    struct tb_pick *pick;
    size_t picks;
    struct tb_sums **sums; /* of every question; those that share a pick, in turn */
    size_t *pick_of;
    size_t questions;
};

/* By reading and not by pattern: burns that count differently still say the same. */
static void number_tables(struct part_work *w, const struct tb_group *whole, const struct tb_readings *r)
{
    w->terms = tb_arena_alloc(&w->mem, whole->n * sizeof(struct tb_terms *));
    w->table_of = tb_arena_alloc(&w->mem, r->n * sizeof *w->table_of);
    for (size_t i = 0; i < r->n; i++)
        w->table_of[i] = whole->n;
    for (size_t i = 0; i < whole->n; i++) {
        size_t *at = &w->table_of[whole->pattern[i].reading];

        if (*at == whole->n) {
            *at = w->tables++;
            w->terms[*at] = whole->pattern[i].terms;
        }
    }
}

static int by_table(const void *a, const void *b)
{
    const struct tb_power_of *x = a, *y = b;

    return x->table < y->table ? -1 : x->table > y->table;
}

/* The tables of a group, each with the power of all its burns, in order. */
static struct tb_power_of *powers_of(size_t *n, struct part_work *w, const struct tb_group *g)
{
    struct tb_power_of *of = tb_arena_alloc(&w->mem, g->n * sizeof *of);

    *n = 0;
    for (size_t i = 0; i < g->n; i++) {
        size_t table = w->table_of[g->pattern[i].reading], k = 0;

        while (k < *n && of[k].table != table)
            k++;
        if (k == *n)
            of[(*n)++].table = table;
        of[k].power += g->pattern[i].power * (double)g->pattern[i].times;
    }
    qsort(of, *n, sizeof *of, by_table);
    return of;
}

/* Equal to the last digit: both come from the same sums in the same order. */
static bool same_powers(const struct tb_pick *p, const struct tb_power_of *of, size_t n, double exponent)
{
    bool same = p->n == n && p->exponent == exponent;

    for (size_t i = 0; i < n && same; i++)
        same = p->of[i].table == of[i].table && p->of[i].power == of[i].power;
    return same;
}

static void take_group(struct part_work *w, struct tb_group *g)
{
    size_t n, at = 0;
    struct tb_power_of *of = powers_of(&n, w, g);

    while (at < w->picks && !same_powers(&w->pick[at], of, n, g->exponent))
        at++;
    if (at == w->picks)
        w->pick[w->picks++] = (struct tb_pick){ of, n, g->exponent, &g->sums };
    w->pick_of[w->questions] = at;
    w->sums[w->questions++] = &g->sums;
}

/* Only the tables that some of these picks ask for are made. */
static void weigh(struct part_work *w, struct tb_pick *pick, size_t picks, const struct tb_question *q)
{
    struct tb_factored **table = tb_array(struct tb_factored *, w->tables + 1);
    size_t *at = tb_array(size_t, w->tables + 1), n = 0; /* 1 + the number a table has among those made */

    for (size_t i = 0; i < picks; i++) {
        struct tb_power_of *of = tb_arena_alloc(&w->mem, (pick[i].n + 1) * sizeof *of);

        for (size_t k = 0; k < pick[i].n; k++) {
            of[k] = pick[i].of[k];
            if (at[of[k].table] == 0) {
                table[n] = tb_factored_new(q->ev, w->terms[of[k].table]);
                at[of[k].table] = ++n;
            }
            of[k].table = at[of[k].table] - 1;
        }
        pick[i].of = of;
    }
    tb_space_weigh(pick, picks, q->ev, table, n, q->kernel);
    for (size_t i = 0; i < n; i++)
        tb_factored_free(table[i]);
    free(table);
    free(at);
}

/* What was weighed before is looked up, the rest is weighed together and kept. */
static void recall_or_weigh(struct part_work *w, const struct tb_question *q, struct tb_recall *recall)
{
    struct tb_pick *open = tb_arena_alloc(&w->mem, (w->picks + 1) * sizeof *open);
    struct tb_text *key = tb_arena_alloc(&w->mem, (w->picks + 1) * sizeof *key);
    size_t n = 0;

    for (size_t i = 0; i < w->picks; i++) {
        const struct tb_pick *p = &w->pick[i];
        const struct tb_terms **terms = tb_arena_alloc(&w->mem, (p->n + 1) * sizeof(struct tb_terms *));

        for (size_t k = 0; k < p->n; k++)
            terms[k] = w->terms[p->of[k].table];
        key[n] = tb_recall_key(p, terms);
        if (!tb_recall_find(p->sums, recall, &key[n]))
            open[n++] = *p;
        else
            tb_text_free(&key[n]);
    }
    if (n)
        weigh(w, open, n, q);
    for (size_t i = 0; i < n; i++) {
        tb_recall_keep(recall, &key[i], open[i].sums);
        tb_text_free(&key[i]);
    }
}

/* Questions that share a pick get copies of its sums, so that each can be freed by itself. */
void tb_part_weigh(struct tb_asked *a, size_t n, const struct tb_group *whole, const struct tb_subject *s)
{
    struct part_work w = { 0 };

    w.pick = tb_arena_alloc(&w.mem, n * sizeof *w.pick);
    w.sums = tb_arena_alloc(&w.mem, n * sizeof(struct tb_sums *));
    w.pick_of = tb_arena_alloc(&w.mem, n * sizeof *w.pick_of);
    number_tables(&w, whole, &s->readings);
    for (size_t i = 0; i < n; i++)
        for (size_t g = 0; g < a[i].q.n && a[i].ok; g++)
            if (a[i].q.group[g].part == whole->part)
                take_group(&w, &a[i].q.group[g]);
    if (s->recall)
        recall_or_weigh(&w, &a->q, s->recall);
    else if (w.picks)
        weigh(&w, w.pick, w.picks, &a->q);
    for (size_t i = 0; i < w.questions; i++)
        if (w.sums[i] != w.pick[w.pick_of[i]].sums)
            tb_sums_copy(w.sums[i], w.pick[w.pick_of[i]].sums, s->ev);
    tb_arena_free(&w.mem);
}
