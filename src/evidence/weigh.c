/*
 * weigh.c - what each cue weighs: how the evidence ratio would stand without it.
 *
 * The weight of a cue, in decibans, is 10 log10 of the ratio with it over the ratio without it, everything else
 * that was observed kept. Weights of cues that say the same do not add up to the whole, and need not.
 */
#include "evidence/shortlist.h"

#include <math.h>
#include <stdlib.h>

#define LEAST_DB 0.05

/* One observation of a shortlist with its factors apart: log_chance[entry * terms + term], channel weight in it. */
struct apart {
    const struct tb_shortlist *s;
    const struct tb_terms *terms;
    double *log_chance, *telling, *rest,
        *other; /* other: the weight the other observations and the prior give */
    double odd_chance[TB_FIBRES_MOST][TB_CUES_MOST], odd_rest[TB_FIBRES_MOST];
    double power, odd;
};

static double log_chance(const struct tb_evidence *ev, const struct tb_blend *b, const struct tb_term *t)
{
    double p = tb_cue_chance(ev, b, t->cue);

    return (ev->cue[t->cue].group + 1) / (double)TB_GROUPS * log(t->seen ? p : 1 - p);
}

static void take_apart(struct apart *a, const struct tb_shortlist *s, size_t obs)
{
    const struct tb_evidence *ev = s->ev;
    size_t n;

    a->s = s;
    a->terms = &s->group->terms[obs];
    a->power = s->group->power[obs];
    a->odd = tb_odd_log(ev, a->terms);
    n = a->terms->n;
    a->log_chance = tb_realloc(NULL, s->n * n + 1, sizeof(double));
    a->telling = tb_array(double, s->n);
    a->rest = tb_array(double, s->n);
    a->other = tb_array(double, s->n);
    for (size_t i = 0; i < s->n; i++) {
        const struct tb_entry *e = &s->entry[i];

        for (size_t t = 0; t < n; t++) {
            double l = a->log_chance[i * n + t] = log_chance(ev, &e->blend, &a->terms->term[t]);

            *(ev->cue[a->terms->term[t].cue].firm ? &a->telling[i] : &a->rest[i]) += l;
        }
        a->other[i] =
            e->log_weight - a->power * tb_join_logs(ev, e->blend.n, a->telling[i], a->rest[i], a->odd);
    }
    for (int f = 0; f < ev->fibres; f++) {
        struct tb_blend pure = { .n = 1, .fibre = { f }, .share = { 1 } };

        a->odd_rest[f] = log(ev->odd[f]);
        for (size_t t = 0; t < n; t++) {
            a->odd_chance[f][t] = log_chance(ev, &pure, &a->terms->term[t]);
            a->odd_rest[f] += ev->cue[a->terms->term[t].cue].firm ? 0 : a->odd_chance[f][t];
        }
    }
}

static void free_apart(struct apart *a)
{
    free(a->log_chance);
    free(a->telling);
    free(a->rest);
    free(a->other);
}

static double odd_without(const struct apart *a, size_t term)
{
    double r[TB_FIBRES_MOST], most = -INFINITY, sum = 0;

    if (a->s->ev->cue[a->terms->term[term].cue].firm)
        return a->odd;
    for (int f = 0; f < a->s->ev->fibres; f++) {
        r[f] = a->odd_rest[f] - a->odd_chance[f][term];
        most = r[f] > most ? r[f] : most;
    }
    for (int f = 0; f < a->s->ev->fibres; f++)
        sum += exp(r[f] - most);
    return most + log(sum);
}

/* log ratio of the shortlist without one term. */
static double without(const struct apart *a, size_t term, double *room)
{
    const struct tb_evidence *ev = a->s->ev;
    bool telling = ev->cue[a->terms->term[term].cue].firm;
    double odd = odd_without(a, term), side[2];

    for (size_t i = 0; i < a->s->n; i++) {
        double l = a->log_chance[i * a->terms->n + term];

        room[i] = a->other[i] + a->power * tb_join_logs(ev, a->s->entry[i].blend.n,
                                                        a->telling[i] - (telling ? l : 0),
                                                        a->rest[i] - (telling ? 0 : l), odd);
    }
    tb_shortlist_sides(side, a->s, room);
    return side[0] - side[1];
}

static void add_weight(struct tb_verdict *v, enum tb_part_kind part, int cue, enum tb_sight sight, double db)
{
    for (size_t i = 0; i < v->n_cue; i++)
        if (v->cue[i].part == part && v->cue[i].cue == cue && v->cue[i].sight == sight) {
            v->cue[i].weight_db += db;
            return;
        }
    v->cue = tb_realloc(v->cue, v->n_cue + 1, sizeof *v->cue);
    v->cue[v->n_cue++] = (struct tb_cue_weight){ part, cue, sight, db };
}

static void weigh_observation(struct tb_verdict *v, const struct tb_shortlist *s, size_t obs, double full)
{
    struct apart *a = tb_new(struct apart);
    double *room = tb_array(double, s->n);

    take_apart(a, s, obs);
    for (size_t t = 0; t < a->terms->n; t++) {
        const struct tb_term *term = &a->terms->term[t];
        double db = 10 / log(10) * (full - without(a, t, room));

        if (fabs(db) >= LEAST_DB)
            add_weight(v, s->group->part, term->cue,
                       term->seen     ? TB_SIGHT_SEEN
                       : term->denied ? TB_SIGHT_DENIED
                                      : TB_SIGHT_NONE,
                       db);
    }
    free_apart(a);
    free(a);
    free(room);
}

static int by_size(const void *a, const void *b)
{
    const struct tb_cue_weight *x = a, *y = b;
    double p = fabs(x->weight_db), q = fabs(y->weight_db);

    return p < q ? 1 : p > q ? -1 : x->cue - y->cue;
}

void tb_weigh_cues(struct tb_verdict *v, const struct tb_shortlist *s)
{
    double *all = tb_array(double, s->n), side[2];

    for (size_t i = 0; i < s->n; i++)
        all[i] = s->entry[i].log_weight;
    tb_shortlist_sides(side, s, all);
    for (size_t o = 0; o < s->group->n; o++)
        weigh_observation(v, s, o, side[0] - side[1]);
    free(all);
    qsort(v->cue, v->n_cue, sizeof *v->cue, by_size);
}
