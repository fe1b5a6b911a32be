/* part.c - the sums of parts, for all questions that ask of them. */
#include "evidence/judge.h"
#include "evidence/recall.h"
#include "evidence/roof.h"
#include "evidence/space.h"
#include "evidence/sums.h"

#include <stdlib.h>

/* Questions that ask the same of a part, such as bolts whose burns are alike, share its sums. */
struct part_work {
    struct tb_arena mem;           /* of everything below */
    const struct tb_terms **terms; /* what each table is of, one a reading that some burn has */
    size_t tables, tables_cap;
    struct tb_pick *pick;
    size_t picks;
    struct tb_sums **sums; /* of every question; those that share a pick, in turn */
    size_t *pick_of;
    size_t questions;
};

/* By what is said and not by pattern: burns that count differently still say the same. */
static size_t table_of(struct part_work *w, const struct tb_terms *terms)
{
    for (size_t i = 0; i < w->tables; i++)
        if (w->terms[i] == terms || tb_terms_same(w->terms[i], terms))
            return i;
    TB_ARENA_ROOM(&w->mem, w->terms, w->tables, w->tables_cap);
    w->terms[w->tables] = terms;
    return w->tables++;
}

/* The tables of a group, each with the power of all its burns, in the order of their readings. */
static struct tb_power_of *powers_of(size_t *n, struct part_work *w, const struct tb_group *g)
{
    struct tb_power_of *of = tb_arena_alloc(&w->mem, g->n * sizeof *of);
    size_t *reading = tb_arena_alloc(&w->mem, g->n * sizeof *reading);

    *n = 0;
    for (size_t i = 0; i < g->n; i++) {
        const struct tb_pattern *p = &g->pattern[i];
        size_t at = 0;

        while (at < *n && reading[at] < p->reading)
            at++;
        if (at == *n || reading[at] != p->reading) {
            for (size_t k = (*n)++; k > at; k--) {
                of[k] = of[k - 1];
                reading[k] = reading[k - 1];
            }
            of[at] = (struct tb_power_of){ table_of(w, p->terms), 0 };
            reading[at] = p->reading;
        }
        of[at].power += p->power;
    }
    return of;
}

/* The roof over a part that is asked about roughly: what was weighed of it before. */
static struct tb_roof roof_of(struct part_work *w, const struct tb_power_of *of, size_t n,
                              const struct tb_asked *a, const struct tb_group *g)
{
    struct tb_roof roof = { .strip = NULL };

    for (size_t i = 0; a->before && i < a->before->q.n; i++) {
        const struct tb_group *b = &a->before->q.group[i];
        struct tb_counting c = { .now = of, .n_now = n };

        if (b->part != g->part)
            continue;
        c.before = powers_of(&c.n_before, w, b);
        c.terms = w->terms;
        c.tables = w->tables;
        if (tb_roof_take(&roof, &c, &b->sums, a->q.ev, &w->mem))
            roof.leave = a->leave;
    }
    return roof;
}

/* Equal to the last digit: both come from the same sums in the same order. */
static bool same_powers(const struct tb_pick *p, const struct tb_power_of *of, size_t n)
{
    bool same = p->n == n;

    for (size_t i = 0; i < n && same; i++)
        same = p->of[i].table == of[i].table && p->of[i].power == of[i].power;
    return same;
}

static void take_group(struct part_work *w, const struct tb_asked *a, struct tb_group *g)
{
    size_t n, at = 0;
    struct tb_power_of *of = powers_of(&n, w, g);

    while (at < w->picks && !same_powers(&w->pick[at], of, n))
        at++;
    if (at == w->picks)
        w->pick[w->picks++] = (struct tb_pick){ of, n, &g->sums, roof_of(w, of, n, a, g) };
    w->pick_of[w->questions] = at;
    w->sums[w->questions++] = &g->sums;
}

/* The tables that some of the picks ask for, those of one burn side by side; `number` of the others is 0. */
static struct tb_factored **tables_of(size_t *n, size_t *number, const struct part_work *w,
                                      const struct tb_pick *pick, size_t picks, const struct tb_evidence *ev)
{
    struct tb_factored **table = tb_array(struct tb_factored *, w->tables + 1);
    bool *asked = tb_array(bool, w->tables + 1);

    *n = 0;
    for (size_t i = 0; i < picks; i++)
        for (size_t k = 0; k < pick[i].n; k++)
            asked[pick[i].of[k].table] = true;
    for (size_t i = 0; i < w->tables; i++) {
        const struct tb_factored *burn = NULL;

        for (size_t k = i; k < w->tables && asked[i]; k++)
            if (asked[k] && number[k] == 0 && (k == i || tb_terms_same_burn(w->terms[k], w->terms[i], ev))) {
                table[*n] = tb_factored_new(ev, w->terms[k]);
                table[*n]->same_burn = burn;
                burn = burn ? burn : table[*n];
                number[k] = ++*n;
            }
    }
    free(asked);
    return table;
}

/* Some picks that are weighed together. */
struct share {
    const struct part_work *w;
    const struct tb_question *q;
    struct tb_pick *pick;
    size_t picks;
};

static void weigh(const struct share *s)
{
    const struct part_work *w = s->w;
    size_t *number = tb_array(size_t, w->tables + 1), n;
    struct tb_factored **table = tables_of(&n, number, w, s->pick, s->picks, s->q->ev);
    struct tb_arena mem = { 0 };

    for (size_t i = 0; i < s->picks; i++) {
        struct tb_pick *p = &s->pick[i];
        struct tb_power_of *of = tb_arena_alloc(&mem, (p->n + 1) * sizeof *of);

        for (size_t k = 0; k < p->n; k++)
            of[k] = (struct tb_power_of){ number[p->of[k].table] - 1, p->of[k].power };
        p->of = of;
    }
    tb_space_weigh(s->pick, s->picks, s->q->ev, table, n, s->q->kernel);
    for (size_t i = 0; i < n; i++)
        tb_factored_free(table[i]);
    tb_arena_free(&mem);
    free(table);
    free(number);
}

/* About how long it takes: a burn, a table that shares it with others, and a pick take a step each for every composition. */
static size_t cost_of(const struct share *s)
{
    bool *asked = tb_array(bool, s->w->tables + 1);
    size_t cost = s->picks;

    for (size_t i = 0; i < s->picks; i++)
        for (size_t k = 0; k < s->pick[i].n; k++)
            asked[s->pick[i].of[k].table] = true;
    for (size_t i = 0; i < s->w->tables; i++) {
        size_t k = 0;

        while (asked[i] && k < i &&
               !(asked[k] && tb_terms_same_burn(s->w->terms[k], s->w->terms[i], s->q->ev)))
            k++;
        cost += asked[i] ? k < i ? 1 : 2 : 0;
    }
    free(asked);
    return cost;
}

static void weigh_share(void *arg, size_t i)
{
    const struct share *s = arg;

    weigh(&s[i]);
}

#define SHARES 2 /* as many processors as most sites have */

/*
 * A pick comes to the same beside whichever others it is weighed (recall.h). Shares that ask for the same burns work them through twice, so
 * they are made only where that leaves something to win.
 */
static void weigh_shares(struct part_work *w, struct tb_pick *pick, size_t picks, const struct tb_question *q,
                         const struct tb_recall *recall)
{
    struct share all = { w, q, pick, picks }, share[SHARES];
    size_t most = 0;

    for (size_t i = 0; i < SHARES; i++) {
        size_t from = i * picks / SHARES, end = (i + 1) * picks / SHARES, cost;

        share[i] = (struct share){ w, q, pick + from, end - from };
        cost = cost_of(&share[i]);
        most = cost > most ? cost : most;
    }
    if (picks >= SHARES && tb_recall_side_by_side(recall) && most * 4 <= cost_of(&all) * 3)
        tb_recall_each(recall, weigh_share, share, SHARES);
    else
        weigh(&all);
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
        weigh_shares(w, open, n, q, recall);
    for (size_t i = 0; i < n; i++) {
        tb_recall_keep(recall, &key[i], open[i].sums);
        tb_text_free(&key[i]);
    }
}

/* Questions that share a pick get copies of its sums, so that each can be freed by itself. */
void tb_parts_weigh(struct tb_asked *a, size_t n, const struct tb_evidence *ev, struct tb_recall *recall)
{
    struct part_work w = { 0 };
    size_t most = n * TB_GROUPS_MOST;

    w.pick = tb_arena_alloc(&w.mem, most * sizeof *w.pick);
    w.sums = tb_arena_alloc(&w.mem, most * sizeof(struct tb_sums *));
    w.pick_of = tb_arena_alloc(&w.mem, most * sizeof *w.pick_of);
    for (size_t i = 0; i < n; i++)
        for (size_t g = 0; g < a[i].q.n && (a[i].ok || i == 0); g++)
            take_group(&w, &a[i], &a[i].q.group[g]);
    if (recall)
        recall_or_weigh(&w, &a->q, recall);
    else if (w.picks)
        weigh(&(struct share){ &w, &a->q, w.pick, w.picks });
    for (size_t i = 0; i < w.questions; i++)
        if (w.sums[i] != w.pick[w.pick_of[i]].sums)
            tb_sums_copy(w.sums[i], w.pick[w.pick_of[i]].sums, ev);
    tb_arena_free(&w.mem);
}

static bool is_as_before(const struct tb_subject *s, size_t set)
{
    return s->before && !s->touched[set];
}

tb_rc tb_asked_open_all(struct tb_asked *a, const struct tb_subject *s, size_t sets, struct tb_err *err)
{
    tb_rc rc = tb_asked_open(&a[0], s, true, 0, err);

    for (size_t i = 0; i < 1 + sets; i++)
        a[i].q.one_cloth = i > 0 || sets < 2;
    for (size_t i = 0; i < sets && rc == TB_OK; i++)
        if (!is_as_before(s, i)) {
            rc = tb_asked_open(&a[1 + i], s, false, i, err);
        } else { /* nothing is weighed of it */
            a[1 + i].v.kind = s->before[1 + i].v.kind;
            a[1 + i].v.grade = s->before[1 + i].v.grade;
            a[1 + i].v.at_odds = s->before[1 + i].v.at_odds;
            a[1 + i].v.log_ratio = s->before[1 + i].v.log_ratio;
            a[1 + i].v.bounds = s->before[1 + i].v.bounds;
        }
    for (size_t i = 0; i < 1 + sets && rc == TB_OK && s->leave > 0 && s->before; i++)
        if (a[i].ok && s->before[i].ok && !(i == 0 && s->together)) {
            a[i].before = &s->before[i];
            a[i].leave = s->leave;
        }
    return rc;
}

tb_rc tb_subjects_recall(const struct tb_subject *s, size_t n, size_t sets, struct tb_err *err)
{
    struct tb_asked *a = tb_array(struct tb_asked, n * (1 + sets));
    struct tb_subject *own = tb_array(struct tb_subject, n);
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < n; i++) {
        own[i] = s[i];
        tb_readings_make(&own[i].readings, s[i].ev, s[i].obs, s[i].n);
        if (rc == TB_OK)
            rc = tb_asked_open_all(&a[i * (1 + sets)], &own[i], sets, err);
    }
    if (rc == TB_OK)
        tb_parts_weigh(a, n * (1 + sets), s->ev, s->recall);
    for (size_t i = 0; i < n * (1 + sets); i++)
        tb_asked_free(&a[i]);
    for (size_t i = 0; i < n; i++)
        tb_readings_free(&own[i].readings);
    free(own);
    free(a);
    return rc;
}
