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
#define LEAST_ALONE_DB 1.0

/* How much of the likelihood of one composition comes from mistakes: the swatch, the burn, each bench test. */
struct mistaken {
    double mixup, burn, test[TB_CHANNELS_MOST];
};

/*
 * One observation of a pattern with its terms apart, all of it relative to what was observed: `undo` is what the
 * likelihood is multiplied by when a term is taken out of its product, `rest` the product of the terms that are
 * not firm, over that of an odd burn; `weight` adds up to 1 on either side.
 */
struct apart {
    const struct tb_shortlist *s;
    const struct tb_terms *terms;
    double *undo; /* [entry * terms + term]; in the shortlist's chances */
    const double *weight;
    double *rest;
    struct mistaken *mistaken;
    /* [term]: the same of an odd burn, of a mistake in the act the term belongs to, and of another cloth in all of them */
    double *odd_undo, *act_undo, *any_undo;
    double power;
};

/* From the chance of every term to 1 over it, to the power of its channel's weight, in place; and the logs of the products. */
static void undo_chances(struct tb_logs *logs, double *undo, const struct tb_evidence *ev,
                         const struct tb_terms *terms)
{
    tb_chance_logs(logs, ev, undo, terms);
    for (size_t t = 0; t < terms->n; t++)
        undo[t] = 1 / tb_quarters(undo[t], ev->cue[terms->term[t].cue].group + 1);
}

/* What strange burns make of an observation without a term, as a share of what they make of all of it. */
static void take_strange(struct apart *a, const struct tb_strange *strange)
{
    const struct tb_evidence *ev = a->s->ev;

    a->odd_undo = tb_array(double, a->terms->n);
    a->act_undo = tb_array(double, a->terms->n);
    a->any_undo = tb_array(double, a->terms->n);
    for (int f = 0; f < ev->fibres; f++) {
        struct tb_blend pure = { .n = 1, .fibre = { f }, .share = { 1 } };
        double undo[TB_CUES_MOST], odd, burn, all;
        struct tb_logs l;

        tb_blend_chances(undo, ev, &pure, a->terms);
        undo_chances(&l, undo, ev, a->terms);
        odd = ev->odd[f] * exp(l.rest - strange->odd);
        burn = ev->odd[f] * exp(l.telling + l.rest - strange->burn);
        all = l.telling + l.rest - strange->any;
        for (int c = 0; c < ev->channels; c++)
            all += l.tests & 1u << c ? l.test[c] : 0;
        for (size_t t = 0; t < a->terms->n; t++) {
            int c = ev->cue[a->terms->term[t].cue].channel;

            a->odd_undo[t] += odd * undo[t];
            a->act_undo[t] += l.tests & 1u << c ? 0 : burn * undo[t];
            a->any_undo[t] += ev->odd[f] * exp(all) * undo[t];
        }
    }
    for (size_t t = 0; t < a->terms->n; t++) {
        double p = tb_mistaken_chance(ev, a->terms->term[t].cue);

        if (ev->channel[ev->cue[a->terms->term[t].cue].channel].bench)
            a->act_undo[t] = 1 / (a->terms->term[t].seen ? p : 1 - p);
    }
}

/* Where there is no bench test, a mix-up and a mistake in burning are one (tb_join_logs). */
static void take_mistaken(struct mistaken *out, const struct tb_evidence *ev, int fibres,
                          const struct tb_logs *l, const struct tb_strange *strange)
{
    double e = l->tests ? ev->fig.mixup : ev->fig.bench_error;

    *out = (struct mistaken){ .mixup = e * exp(strange->any - tb_join_logs(ev, fibres, l, strange)) };
    if (!l->tests)
        return;
    out->burn = ev->fig.burn_error * exp(strange->burn - tb_burn_log(ev, fibres, l, strange));
    for (int c = 0; c < ev->channels; c++)
        if (l->tests & 1u << c)
            out->test[c] = ev->fig.test_error * exp(strange->test[c] - tb_test_log(ev, c, l, strange));
}

/* The shortlist keeps the chances of one pattern only, so they are made again where there are several. */
static void take_apart(struct apart *a, struct tb_shortlist *s, size_t pattern, const double *weight)
{
    const struct tb_evidence *ev = s->ev;
    const struct tb_pattern *p = &s->group->pattern[pattern];
    const struct tb_terms *terms = p->terms;
    const struct tb_strange *strange = &p->strange;

    if (s->group->n > 1) /* of a single one they are there still */
        tb_shortlist_chances(s, pattern);
    *a = (struct apart){ .s = s, .terms = terms, .undo = s->chance, .weight = weight };
    a->power = p->power * p->exponent;
    a->rest = tb_array(double, s->n);
    a->mistaken = tb_array(struct mistaken, s->n);
    for (size_t i = 0; i < s->n; i++) {
        struct tb_logs l;

        undo_chances(&l, a->undo + i * terms->n, ev, terms);
        a->rest[i] =
            exp(fmin(l.rest - strange->odd, 600)); /* beyond that the odd burn is nothing beside it */
        take_mistaken(&a->mistaken[i], ev, s->entry[i].blend.n, &l, strange);
    }
    take_strange(a, strange);
}

static void free_apart(struct apart *a)
{
    free(a->rest);
    free(a->mistaken);
    free(a->odd_undo);
    free(a->act_undo);
    free(a->any_undo);
}

/* Sums over the entries of either side, term by term: without the term, and of the term alone. */
struct sides {
    double without[2][TB_CUES_MOST], alone[2][TB_CUES_MOST];
};

/* Entry by entry, as the chances lie in memory. A term is taken out of its act, and its act is one of those of the swatch. */
static void add_entry(struct sides *to, const struct apart *a, const bool *firm, size_t i)
{
    const struct mistaken *m = &a->mistaken[i];
    const struct tb_entry *e = &a->s->entry[i];
    const struct tb_figures *fig = &a->s->ev->fig;
    double pi = e->blend.n > 1 ? fig->odd_blend : fig->odd_pure, like = (1 - pi) * a->rest[i] + pi;
    double own = (1 - pi) * a->rest[i] / like, strange = pi / like;
    const double *undo = a->undo + i * a->terms->n;
    int side = e->declared ? 0 : 1;

    for (size_t t = 0; t < a->terms->n; t++) {
        double times = firm[t] ? undo[t] : own * undo[t] + strange * a->odd_undo[t];
        int c = a->s->ev->cue[a->terms->term[t].cue].channel;

        times += (a->s->ev->channel[c].bench ? m->test[c] : m->burn) * (a->act_undo[t] - times);
        times += m->mixup * (a->any_undo[t] - times);
        to->without[side][t] += a->weight[i] * (a->power == 1 ? times : pow(times, a->power));
        to->alone[side][t] += a->weight[i] / undo[t];
    }
}

static void add_entries(struct sides *to, const struct apart *a)
{
    bool firm[TB_CUES_MOST];

    for (size_t t = 0; t < a->terms->n; t++)
        firm[t] = a->s->ev->cue[a->terms->term[t].cue].firm;
    for (size_t i = 0; i < a->s->n; i++)
        add_entry(to, a, firm, i);
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
    free_apart(&a);
    free(sum);
}

static int by_size(const void *a, const void *b)
{
    const struct tb_cue_weight *x = a, *y = b;
    double p = fabs(x->weight_db), q = fabs(y->weight_db);

    return p < q ? 1 : p > q ? -1 : x->cue - y->cue;
}

/* After all burns are added up: what is little in one may be much in many. */
static void drop_light(struct tb_verdict *v)
{
    size_t n = 0;

    for (size_t i = 0; i < v->n_cue; i++)
        if (fabs(v->cue[i].weight_db) >= LEAST_DB || fabs(v->cue[i].alone_db) >= LEAST_ALONE_DB)
            v->cue[n++] = v->cue[i];
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
