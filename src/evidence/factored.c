/* factored.c - an observation as factors: what every fibre at every share brings to them. */
#include "evidence/factored.h"
#include "evidence/likelihood.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

/* One fibre's part of a factor at every step of the grid, so that the kernel only multiplies. */
static void bring(struct tb_brings *row, const struct tb_evidence *ev, int cue, enum tb_cue_law law)
{
    const double *d = ev->d[ev->cue[cue].ramp];

    for (int f = 0; f < ev->fibres; f++)
        for (int k = 0; k <= TB_STEPS; k++) {
            double q = ev->q[f][cue];

            row->u[f][k] = law == TB_LAW_ANY     ? 1 - q * d[k]
                           : law == TB_LAW_SHARE ? q * k / TB_STEPS
                                                 : 1 - (1 - q) * d[k];
        }
}

/* The absence of such a cue is a product over the fibres, and products of many cues can be merged. */
static bool additive(const struct tb_evidence *ev, const struct tb_term *t)
{
    return ev->cue[t->cue].law == TB_LAW_ANY && !t->seen;
}

/* An absent `any` cue is a product over the fibres (and a leak, kept apart): it needs no factor of its own. */
static void add_absent(struct tb_brings *row, const struct tb_evidence *ev, int cue)
{
    const double *d = ev->d[ev->cue[cue].ramp];

    for (int f = 0; f < ev->fibres; f++)
        for (int k = 0; k <= TB_STEPS; k++)
            row->u[f][k] *= 1 - ev->q[f][cue] * d[k];
}

/* What the absent cues of one group bring, to the power of its weight, into the row of all of them. */
static void take_absent(struct tb_brings *lead, const struct tb_brings *group, int fibres, int weight)
{
    for (int f = 0; f < fibres; f++)
        for (int k = 0; k <= TB_STEPS; k++)
            lead->u[f][k] *= tb_quarters(group->u[f][k], weight);
}

static void all_one(struct tb_brings *row, int fibres)
{
    for (int f = 0; f < fibres; f++)
        for (int k = 0; k <= TB_STEPS; k++)
            row->u[f][k] = 1;
}

/* Factors are divided by the most that any pure fibre reaches, which keeps their product near 1. */
static double most_pure(const struct tb_evidence *ev, const struct tb_term *t)
{
    double most = 0;

    for (int f = 0; f < ev->fibres; f++) {
        struct tb_blend pure = { .n = 1, .fibre = { f }, .share = { 1 } };
        double p = tb_cue_chance(ev, &pure, t->cue);

        p = t->seen ? p : 1 - p;
        most = p > most ? p : most;
    }
    return most;
}

/* The next row, with what it is multiplied by; a sum row takes the constant of its factor along. */
static struct tb_brings *next_row(struct tb_factored *t, double mul, double add, bool sum)
{
    t->row[t->rows] = (struct tb_factor_row){ mul, sum ? add : 0, sum };
    return &t->brings[t->rows++];
}

/* p or 1 - p = a + b S, S a product over the fibres, or a sum for TB_LAW_SHARE. */
static void coefficients(double *a, double *b, const struct tb_evidence *ev, const struct tb_term *term)
{
    const struct tb_cue_model *m = &ev->cue[term->cue];
    double noise = tb_noise_of(ev, term->cue, 2);

    if (m->law == TB_LAW_ANY) {
        *a = 1;
        *b = -(1 - tb_leak_of(ev, term->cue, 2));
    } else {
        *a = noise * m->base + (m->law == TB_LAW_PARTLY ? 1 - noise : 0);
        *b = m->law == TB_LAW_PARTLY ? -(1 - noise) : 1 - noise;
    }
    if (!term->seen) {
        *a = 1 - *a;
        *b = -*b;
    }
}

/* Rows and coefficients of one factor that is not additive. */
static void add_factor(struct tb_factor *f, struct tb_factored *t, const struct tb_evidence *ev,
                       const struct tb_term *term)
{
    const struct tb_cue_model *m = &ev->cue[term->cue];
    const struct tb_channel *ch = &ev->channel[m->channel];
    double most = most_pure(ev, term), a, b;

    coefficients(&a, &b, ev, term);
    *f = (struct tb_factor){ a / most, b / most, t->rows, 1, m->law == TB_LAW_SHARE };
    if (m->law != TB_LAW_PARTLY)
        bring(next_row(t, f->b, f->a, f->sum), ev, term->cue, m->law);
    else
        for (int c = ch->first; c < ch->first + ch->n; c++)
            if (ev->cue[c].law == TB_LAW_ALL)
                bring(next_row(t, f->b, 0, false), ev, c, TB_LAW_ALL);
    f->rows = t->rows - f->first;
    t->log_scale += tb_weight_of(ev, term->cue) * log(most);
}

enum { REST = -2, TELLING = -1 }; /* of a burn; of a bench test its channel */

/* Which product a cue belongs to. */
static int product_of(const struct tb_evidence *ev, int cue)
{
    const struct tb_cue_model *m = &ev->cue[cue];

    return ev->channel[m->channel].bench ? m->channel : m->telling ? TELLING : REST;
}

/* Factors of one product, by group, after the n that are there. Returns how many there are then. */
static int add_factors(struct tb_factors *out, struct tb_factored *t, int n, const struct tb_evidence *ev,
                       const struct tb_terms *terms, int product)
{
    struct tb_brings *absent = tb_new(struct tb_brings), *lead = next_row(t, 1, 0, false);
    double leaks = 0;
    int before = n;

    out->lead = t->rows - 1;
    out->factor = t->factor + n;
    all_one(lead, ev->fibres);
    for (int g = 0; g < TB_GROUPS; g++) {
        all_one(absent, ev->fibres);
        for (size_t i = 0; i < terms->n; i++) {
            const struct tb_term *term = &terms->term[i];

            if (ev->cue[term->cue].group != g || product_of(ev, term->cue) != product)
                continue;
            if (additive(ev, term)) {
                add_absent(absent, ev, term->cue);
                leaks += tb_weight_of(ev, term->cue) * log1p(-tb_leak_of(ev, term->cue, 2));
            } else {
                add_factor(&t->factor[n++], t, ev, term);
            }
        }
        take_absent(lead, absent, ev->fibres, g + 1);
        out->from[g + 1] = n - before;
    }
    t->row[out->lead].mul = exp(leaks);
    free(absent);
    return n;
}

/* What the bench tests say, each on its scale, with their mistakes. */
static double tests_of(const struct tb_factored *t, const struct tb_evidence *ev, const struct tb_logs *l)
{
    double product = 1, e = ev->fig.test_error;
    int k = 0;

    for (int c = 0; c < ev->channels; c++)
        if (l->tests & 1u << c) {
            product *= e * t->act[k].any + (1 - e) * exp(l->test[c] - t->act[k].log_scale);
            k++;
        }
    return product;
}

/* The chances of the bare cloth are there already: a finish only changes them. */
static void take_finished(struct tb_factored *t, const struct tb_evidence *ev, const struct tb_terms *terms,
                          int fibre, const double *bare, const double scale[2])
{
    struct tb_blend b = { .n = 1, .fibre = { fibre }, .share = { 1 } };

    for (size_t z = 0; z < tb_finish_count(); z++) {
        double chances[TB_CUES_MOST], share = ev->finish[z].unnamed, tests, telling;
        struct tb_logs l;

        if (share <= 0 || ev->finish[z].of[0][fibre] < 0)
            continue;
        b.finish = (int)z + 1;
        for (size_t i = 0; i < terms->n; i++) {
            bool seen = terms->term[i].seen;
            double p = tb_finish_chance(ev, &b, terms->term[i].cue, seen ? bare[i] : 1 - bare[i]);

            chances[i] = seen ? p : 1 - p;
        }
        tb_chance_logs(&l, ev, chances, terms);
        tests = share * tests_of(t, ev, &l);
        telling = tests * exp(l.telling - scale[1]);
        t->finished_tests[fibre] += tests;
        t->finished_telling[fibre] += telling;
        t->finished[fibre] += telling * exp(l.rest - scale[0]);
    }
}

/* What comes of a swatch of some other cloth. */
static void take_others(struct tb_factored *t, const struct tb_evidence *ev, const struct tb_logs *pure,
                        const double scale[2])
{
    for (int f = 0; f < ev->fibres; f++) {
        double all;
        int k = 0;

        t->pure_telling[f] = exp(pure[f].telling - scale[1]);
        t->pure_rest[f] = exp(pure[f].rest - scale[0]);
        all = ev->odd[f] * t->pure_rest[f] * t->pure_telling[f];
        t->odd += ev->odd[f] * t->pure_rest[f];
        t->burn += all;
        for (int c = 0; c < ev->channels; c++)
            if (pure[f].tests & 1u << c)
                all *= exp(pure[f].test[c] - t->act[k++].log_scale);
        t->any += all;
    }
}

/* Pure fibres have figures of their own (leak, noise, odd burns) and are too few to need a kernel. */
static void take_pure(struct tb_factored *t, const struct tb_evidence *ev, const struct tb_terms *terms,
                      const double scale[2])
{
    struct tb_logs pure[TB_FIBRES_MOST];
    double(*chances)[TB_CUES_MOST] = tb_realloc(NULL, (size_t)ev->fibres, sizeof *chances);

    for (int f = 0; f < ev->fibres; f++) {
        tb_blend_chances(chances[f], ev, &(struct tb_blend){ .n = 1, .fibre = { f }, .share = { 1 } }, terms);
        tb_chance_logs(&pure[f], ev, chances[f], terms);
    }
    take_others(t, ev, pure, scale);
    for (int f = 0; f < ev->fibres; f++) {
        t->pure_tests[f] = tests_of(t, ev, &pure[f]);
        take_finished(t, ev, terms, f, chances[f], scale);
    }
    free(chances);
}

/* Channels of the bench tests that say something, as bits. */
static unsigned tests_in(const struct tb_evidence *ev, const struct tb_terms *terms)
{
    unsigned bits = 0;

    for (size_t i = 0; i < terms->n; i++)
        if (ev->channel[ev->cue[terms->term[i].cue].channel].bench)
            bits |= 1u << ev->cue[terms->term[i].cue].channel;
    return bits;
}

/* Rows an observation may need at most: a lead of each product, one a term, and the parts of bench tests. */
static size_t rows_most(const struct tb_evidence *ev, const struct tb_terms *terms)
{
    size_t n = 2 + TB_ACTS_MOST + terms->n;

    for (size_t i = 0; i < terms->n; i++)
        if (ev->cue[terms->term[i].cue].law == TB_LAW_PARTLY)
            n += (size_t)ev->channel[ev->cue[terms->term[i].cue].channel].n;
    return n;
}

/* The scales of the products are kept apart, since an odd burn, or a mistake in one act, stands beside one of them. */
struct tb_factored *tb_factored_new(const struct tb_evidence *ev, const struct tb_terms *terms)
{
    struct tb_factored *t = tb_new(struct tb_factored);
    size_t rows = rows_most(ev, terms);
    unsigned tests = tests_in(ev, terms);
    double scale[2], before;
    int n;

    t->fibres = ev->fibres;
    t->brings = tb_realloc(NULL, rows, sizeof *t->brings);
    t->row = tb_realloc(NULL, rows, sizeof *t->row);
    n = add_factors(&t->rest, t, 0, ev, terms, REST);
    scale[0] = t->log_scale;
    n = add_factors(&t->telling, t, n, ev, terms, TELLING);
    scale[1] = t->log_scale - scale[0];
    t->act_row = t->rows;
    for (int c = 0; c < ev->channels; c++)
        if (tests & 1u << c) {
            struct tb_act *act = &t->act[t->acts++];

            assert(t->acts <= TB_ACTS_MOST);
            before = t->log_scale;
            n = add_factors(&act->factors, t, n, ev, terms, c);
            act->log_scale = t->log_scale - before;
            act->any = exp(tb_mistaken_test(ev, terms, c) - act->log_scale);
        }
    take_pure(t, ev, terms, scale);
    return t;
}

void tb_factored_free(struct tb_factored *t)
{
    if (!t)
        return;
    free(t->brings);
    free(t->row);
    free(t);
}
