/*
 * weigh.c - what each cue weighs: how the evidence ratio would stand without it.
 *
 * The weight of a cue, in decibans, is 10 log10 of the ratio with it over the ratio without it, everything else
 * that was observed kept. Weights of cues that say the same do not add up to the whole, and need not.
 */
#include "evidence/pool.h"

#include <math.h>
#include <stdlib.h>

#define LEAST_DB 0.05
#define LEAST_ALONE_DB 1.0

/*
 * One observation of a pattern with its terms apart, all of it relative to what was observed; `weight` of the entries adds up to 1 on
 * either side.
 */
struct apart {
    const struct tb_shortlist *s;
    const struct tb_terms *terms;
    struct tb_apart own;            /* of the entries that are not pooled */
    const struct tb_apart *strange; /* which of the two has what strange burns make of it */
    long long firm[TB_CUES_MOST + TB_CHUNK];
    double slip[TB_CUES_MOST + TB_CHUNK]; /* of the entry at hand */
    const double *weight;
    double power;
};

/* The shortlist keeps the chances of one pattern only, so they are made again where there are several. */
static void take_apart(struct apart *a, struct tb_shortlist *s, size_t pattern, const double *weight)
{
    const struct tb_pattern *p = &s->group->pattern[pattern];
    size_t rows = 0;

    if (s->group->n > 1) /* of a single one they are there still */
        tb_shortlist_chances(s, pattern);
    for (size_t i = 0; i < s->own; i++)
        rows = s->entry[i].row + 1;
    *a = (struct apart){ .s = s, .terms = p->terms, .weight = weight, .power = p->power / (double)p->times };
    tb_apart_open(&a->own, s->chance, rows);
    a->strange = s->pool ? &s->pool->apart : &a->own;
    if (!s->pool)
        tb_apart_strange(&a->own, s->ev, p);
    for (size_t i = 0; i < s->own; i++)
        tb_apart_take(&a->own, s->entry[i].row, s->ev, p, &s->logs[s->entry[i].row], s->entry[i].blend.n);
    for (size_t t = 0; t < p->terms->n; t++)
        a->firm[t] = s->ev->cue[p->terms->term[t].cue].firm ? -1 : 0;
}

/* Sums over the entries of either side, term by term: without the term, and of the term alone. */
struct sides {
    double without[2][TB_CUES_MOST + TB_CHUNK], alone[2][TB_CUES_MOST + TB_CHUNK];
};

/* A mistake in the act that a term belongs to: the burn, or its bench test. */
static void take_slips(struct apart *a, const struct tb_mistaken *m)
{
    const struct tb_evidence *ev = a->s->ev;

    for (size_t t = 0; t < a->terms->n; t++) {
        int c = ev->cue[a->terms->term[t].cue].channel;

        a->slip[t] = ev->channel[c].bench ? m->test[c] : m->burn;
    }
}

/* A power of every likelihood, where a burn counts less than one. */
static void add_powers(double *without, double *alone, const struct apart *a, const struct tb_taken *e,
                       const struct tb_takings *of)
{
    double one[TB_CUES_MOST + TB_CHUNK] = { 0 }, unit[TB_CUES_MOST + TB_CHUNK] = { 0 };
    struct tb_taken whole = *e;

    whole.weight = 1;
    a->s->ev->kernel->without(one, unit, &whole, of, (a->terms->n + TB_CHUNK - 1) / TB_CHUNK);
    for (size_t t = 0; t < a->terms->n; t++) {
        without[t] += e->weight * pow(one[t], a->power);
        alone[t] += e->weight / e->undo[t];
    }
}

/* Entry by entry, as the chances lie in memory. A term is taken out of its act, and its act is one of those of the swatch. */
static void add_entry(struct sides *to, struct apart *a, size_t i, bool tests)
{
    const struct tb_entry *e = &a->s->entry[i];
    const struct tb_apart *of = e->pooled ? &a->s->pool->apart : &a->own;
    const struct tb_figures *fig = &a->s->ev->fig;
    double pi = e->blend.n > 1 ? fig->odd_blend : fig->odd_pure, like = (1 - pi) * of->rest[e->row] + pi;
    struct tb_taken taken = { .undo = of->undo + e->row * a->terms->n,
                              .weight = a->weight[i],
                              .own = (1 - pi) * of->rest[e->row] / like,
                              .strange = pi / like,
                              .mixup = of->mistaken[e->row].mixup };
    struct tb_takings with = { a->strange->odd_undo, a->strange->act_undo, a->strange->any_undo, a->slip,
                               a->firm };
    int side = e->declared ? 0 : 1;

    if (tests) /* else nothing but a mix-up is a mistake apart */
        take_slips(a, &of->mistaken[e->row]);
    if (a->power == 1)
        a->s->ev->kernel->without(to->without[side], to->alone[side], &taken, &with,
                                  (a->terms->n + TB_CHUNK - 1) / TB_CHUNK);
    else
        add_powers(to->without[side], to->alone[side], a, &taken, &with);
}

static void add_entries(struct sides *to, struct apart *a)
{
    bool tests = false;

    for (size_t t = 0; t < a->terms->n; t++)
        tests |= a->s->ev->channel[a->s->ev->cue[a->terms->term[t].cue].channel].bench;
    for (size_t i = 0; i < a->s->n; i++)
        add_entry(to, a, i, tests);
}

/* A cue seen in several burns is one line, its weights added. */
static void add_weight(struct tb_verdict *v, const struct tb_cue_weight *w)
{
    for (size_t i = 0; i < v->n_cue; i++)
        if (v->cue[i].part == w->part && v->cue[i].cue == w->cue && v->cue[i].sight == w->sight) {
            v->cue[i].weight_db += w->weight_db;
            v->cue[i].alone_db += w->alone_db;
            return;
        }
    TB_PUSH(v->cue, v->n_cue, *w);
}

static double decibans(const double *side0, const double *side1, size_t t)
{
    return 10 / log(10) * log(side0[t] / side1[t]);
}

/*
 * Each of the equal observations of a pattern is taken out by itself, the others kept: together they weigh so
 * many times one.
 */
static void weigh_pattern(struct tb_verdict *v, struct tb_shortlist *s, size_t pattern, const double *weight)
{
    double times = (double)s->group->pattern[pattern].times;
    struct sides *sum = tb_new(struct sides);
    struct apart a;

    take_apart(&a, s, pattern, weight);
    add_entries(sum, &a);
    for (size_t t = 0; t < a.terms->n; t++) {
        const struct tb_term *term = &a.terms->term[t];
        struct tb_cue_weight w = { .part = s->group->part, .cue = term->cue };

        w.sight = term->seen ? TB_SIGHT_SEEN : term->denied ? TB_SIGHT_DENIED : TB_SIGHT_NONE;
        w.weight_db = times * -decibans(sum->without[0], sum->without[1], t);
        w.alone_db = times * a.power * decibans(sum->alone[0], sum->alone[1], t);
        add_weight(v, &w);
    }
    tb_apart_free(&a.own);
    free(sum);
}

static int by_size(const void *a, const void *b)
{
    const struct tb_cue_weight *x = a, *y = b;
    double p = fabs(x->weight_db), q = fabs(y->weight_db);

    return p < q ? 1 : p > q ? -1 : x->cue - y->cue;
}

static bool is_light(const struct tb_cue_weight *w)
{
    return fabs(w->weight_db) < LEAST_DB && fabs(w->alone_db) < LEAST_ALONE_DB;
}

/* Where one burn showed it and another did not, either line alone would tell half of it. */
static bool tells_of_another(const struct tb_verdict *v, const struct tb_cue_weight *w)
{
    for (size_t i = 0; i < v->n_cue; i++)
        if (v->cue[i].part == w->part && v->cue[i].cue == w->cue && v->cue[i].sight != w->sight &&
            !is_light(&v->cue[i]))
            return true;
    return false;
}

/* After all burns are added up: what is little in one may be much in many. */
static void drop_light(struct tb_verdict *v)
{
    struct tb_cue_weight *keep = tb_array(struct tb_cue_weight, v->n_cue + 1);
    size_t n = 0;

    for (size_t i = 0; i < v->n_cue; i++)
        if (!is_light(&v->cue[i]) || (v->cue[i].sight == TB_SIGHT_SEEN && tells_of_another(v, &v->cue[i])))
            keep[n++] = v->cue[i];
    free(v->cue);
    v->cue = keep;
    v->n_cue = n;
}

/* The weights of the entries are those of all burns together: a cue is weighed beside the others. */
void tb_weigh_cues(struct tb_verdict *v, struct tb_shortlist *s)
{
    double *weight = tb_array(double, s->n);

    (void)tb_shortlist_weights(weight, s);
    for (size_t o = 0; o < s->group->n; o++)
        weigh_pattern(v, s, o, weight);
    free(weight);
    drop_light(v);
    if (v->n_cue)
        qsort(v->cue, v->n_cue, sizeof *v->cue, by_size);
}
