/* factored.c - an observation as factors: what every fibre at every share brings to them. */
#include "evidence/factored.h"
#include "evidence/likelihood.h"

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
    t->row[t->rows] = (struct tb_row){ mul, sum ? add : 0, sum };
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

/*
 * Factors of one kind (telling or rest), by group, after the n that are there. Returns how many there are
 * then.
 */
static int add_factors(struct tb_factors *out, struct tb_factored *t, int n, const struct tb_evidence *ev,
                       const struct tb_terms *terms, bool telling)
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

            if (ev->cue[term->cue].group != g || ev->cue[term->cue].firm != telling)
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

/* The chances of the bare cloth are there already: a finish only changes them. */
static void take_finished(struct tb_factored *t, const struct tb_evidence *ev, const struct tb_terms *terms,
                          int fibre, const double *bare, const double scale[2])
{
    struct tb_blend b = { .n = 1, .fibre = { fibre }, .share = { 1 } };

    for (size_t z = 0; z < tb_finish_count(); z++) {
        double chances[TB_CUES_MOST], telling, rest, share = ev->finish[z].unnamed;

        if (share <= 0 || ev->finish[z].of[0][fibre] < 0)
            continue;
        b.finish = (int)z + 1;
        for (size_t i = 0; i < terms->n; i++) {
            bool seen = terms->term[i].seen;
            double p = tb_finish_chance(ev, &b, terms->term[i].cue, seen ? bare[i] : 1 - bare[i]);

            chances[i] = seen ? p : 1 - p;
        }
        tb_chance_logs(&telling, &rest, ev, chances, terms);
        t->finished_telling[fibre] += share * exp(telling - scale[1]);
        t->finished[fibre] += share * exp(telling - scale[1] + rest - scale[0]);
    }
}

/* Pure fibres have figures of their own (leak, noise, odd burns) and are too few to need a kernel. */
static void take_pure(struct tb_factored *t, const struct tb_evidence *ev, const struct tb_terms *terms,
                      double rest_scale, double telling_scale)
{
    const double scale[] = { rest_scale, telling_scale };

    for (int f = 0; f < ev->fibres; f++) {
        struct tb_blend pure = { .n = 1, .fibre = { f }, .share = { 1 } };
        double chances[TB_CUES_MOST], telling, rest;

        tb_blend_chances(chances, ev, &pure, terms);
        tb_chance_logs(&telling, &rest, ev, chances, terms);
        take_finished(t, ev, terms, f, chances, scale);
        t->pure_telling[f] = exp(telling - telling_scale);
        t->pure_rest[f] = exp(rest - rest_scale);
        t->odd += ev->odd[f] * t->pure_rest[f];
        t->any += ev->odd[f] * t->pure_rest[f] * t->pure_telling[f];
    }
}

/* Rows an observation may need at most: a lead of each kind, one a term, and the parts of bench tests. */
static size_t rows_most(const struct tb_evidence *ev, const struct tb_terms *terms)
{
    size_t n = 2 + terms->n;

    for (size_t i = 0; i < terms->n; i++)
        if (ev->cue[terms->term[i].cue].law == TB_LAW_PARTLY)
            n += (size_t)ev->channel[ev->cue[terms->term[i].cue].channel].n;
    return n;
}

/* The scales of rest and telling are kept apart, since the odd burn is compared with rest alone. */
struct tb_factored *tb_factored_new(const struct tb_evidence *ev, const struct tb_terms *terms)
{
    struct tb_factored *t = tb_new(struct tb_factored);
    size_t rows = rows_most(ev, terms);
    double rest_scale;
    int n;

    t->fibres = ev->fibres;
    t->brings = tb_realloc(NULL, rows, sizeof *t->brings);
    t->row = tb_realloc(NULL, rows, sizeof *t->row);
    n = add_factors(&t->rest, t, 0, ev, terms, false);
    rest_scale = t->log_scale;
    (void)add_factors(&t->telling, t, n, ev, terms, true);
    take_pure(t, ev, terms, rest_scale, t->log_scale - rest_scale);
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
