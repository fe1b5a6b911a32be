/*
 * posterior.c - the posterior while a person ticks cues.
 *
 * The two products of every composition are kept; a tick multiplies the factors it brings in and divides out
 * those it takes away, and only they are worked through. After many ticks, or where more changed than stayed,
 * everything is weighed afresh, so that rounding never builds up.
 */
#include "evidence/table.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define AFRESH_AFTER 64

struct tb_posterior {
    const struct tb_evidence *ev;
    struct tb_terms terms;
    double *telling, *rest; /* of every strip, in order */
    double pure_telling[TB_FIBRES_MOST], pure_rest[TB_FIBRES_MOST];
    double odd, log_scale; /* odd on the scale of rest */
    struct tb_sums sums;
    size_t cells; /* doubles in telling and in rest */
    size_t ticks; /* since everything was weighed afresh */
};

static size_t cells_of(const struct tb_evidence *ev)
{
    size_t f = (size_t)ev->fibres, n = 0;

    for (int roles = 2; roles <= ev->set.fibres_most; roles++) {
        struct tb_layout lay;

        tb_layout_make(&lay, roles);
        n += (roles == 2 ? f * (f - 1) / 2 : f * (f - 1) * (f - 2) / 6) * (size_t)lay.chunks * TB_CHUNK;
    }
    return n;
}

struct tb_posterior *tb_posterior_new(const struct tb_evidence *ev)
{
    struct tb_posterior *p = tb_new(struct tb_posterior);
    struct tb_observation none = { 0 };

    p->ev = ev;
    p->cells = cells_of(ev);
    p->telling = tb_array(double, p->cells + 1);
    p->rest = tb_array(double, p->cells + 1);
    p->ticks = AFRESH_AFTER;
    (void)tb_posterior_observe(p, &none);
    return p;
}

void tb_posterior_free(struct tb_posterior *p)
{
    if (!p)
        return;
    free(p->telling);
    free(p->rest);
    tb_sums_free(&p->sums);
    free(p);
}

/* What a pass over the strips does to each: fill it, multiply it, divide it. */
enum pass { FILL = 0, MULTIPLY = 1, DIVIDE = -1 };

static void pass_pure(struct tb_posterior *p, const struct tb_table *t, enum pass pass)
{
    for (int f = 0; f < p->ev->fibres; f++) {
        double a = t->pure_telling[f], b = t->pure_rest[f];

        p->pure_telling[f] = pass == FILL     ? a
                             : pass == DIVIDE ? p->pure_telling[f] / a
                                              : p->pure_telling[f] * a;
        p->pure_rest[f] = pass == FILL ? b : pass == DIVIDE ? p->pure_rest[f] / b : p->pure_rest[f] * b;
    }
    p->log_scale = pass == FILL     ? t->log_scale
                   : pass == DIVIDE ? p->log_scale - t->log_scale
                                    : p->log_scale + t->log_scale;
}

static void pass_all(struct tb_posterior *p, const struct tb_terms *terms, enum pass pass)
{
    const struct tb_evidence *ev = p->ev;
    struct tb_table *t = tb_table_new(ev, terms);
    struct tb_room room;
    size_t at = 0;

    tb_room_open(&room, t);
    pass_pure(p, t, pass);
    for (int roles = 2; roles <= ev->set.fibres_most; roles++) {
        struct tb_layout lay;
        struct tb_strip s;

        tb_layout_make(&lay, roles);
        for (bool more = tb_strip_first(&s, &lay, ev->fibres); more; more = tb_strip_next(&s, ev->fibres)) {
            tb_strip_fill(p->telling + at, p->rest + at, &room, &s, ev->kernel, (int)pass);
            at += (size_t)s.n * TB_CHUNK;
        }
    }
    tb_room_free(&room);
    tb_table_free(t);
}

/* --- what changed ------------------------------------------------------------------------------------------- */

static bool has_term(const struct tb_terms *t, const struct tb_term *one)
{
    for (size_t i = 0; i < t->n; i++)
        if (t->term[i].cue == one->cue && t->term[i].seen == one->seen)
            return true;
    return false;
}

static void difference(struct tb_terms *out, const struct tb_terms *a, const struct tb_terms *b)
{
    out->n = 0;
    for (size_t i = 0; i < a->n; i++)
        if (!has_term(b, &a->term[i]))
            out->term[out->n++] = a->term[i];
}

static void sum_all(struct tb_posterior *p)
{
    tb_sums_free(&p->sums);
    tb_space_sum(&p->sums, p->ev, p->telling, p->rest, p->pure_telling, p->pure_rest, p->odd);
    p->sums.log_scale = p->log_scale;
}

/* The odd burn is a mixture of pure fibres: it follows from their rest. */
static double odd_of(const struct tb_posterior *p)
{
    double sum = 0;

    for (int f = 0; f < p->ev->fibres; f++)
        sum += p->ev->odd[f] * p->pure_rest[f];
    return sum;
}

size_t tb_posterior_observe(struct tb_posterior *p, const struct tb_observation *o)
{
    struct tb_terms now, gone, come;
    size_t work;

    tb_terms_of(&now, p->ev, o);
    difference(&gone, &p->terms, &now);
    difference(&come, &now, &p->terms);
    work = gone.n + come.n;
    if (p->ticks >= AFRESH_AFTER || work > now.n) {
        pass_all(p, &now, FILL);
        p->ticks = 0;
        work = now.n;
    } else if (work > 0) {
        if (gone.n)
            pass_all(p, &gone, DIVIDE);
        if (come.n)
            pass_all(p, &come, MULTIPLY);
        p->ticks++;
    }
    p->terms = now;
    p->odd = odd_of(p);
    sum_all(p);
    return work;
}

double tb_posterior_log_evidence(const struct tb_posterior *p)
{
    return p->log_scale + log(p->sums.all);
}

double tb_posterior_present(const struct tb_posterior *p, int fibre)
{
    int m = tb_model_fibre(p->ev, fibre);

    return m < 0 ? 0 : p->sums.holds[m] / p->sums.all;
}

size_t tb_posterior_likeliest(const struct tb_posterior *p, struct tb_likely *out, size_t most)
{
    size_t n = p->sums.n_best < most ? p->sums.n_best : most;

    for (size_t i = 0; i < n; i++) {
        const struct tb_best *b = &p->sums.best[i];

        out[i] = (struct tb_likely){ .n = b->n, .probability = b->weight / p->sums.all };
        for (int r = 0; r < b->n; r++) {
            out[i].fibre[r] = p->ev->fibre[b->fibre[r]];
            out[i].percent[r] = 100.0 * b->steps[r] / TB_STEPS;
        }
    }
    return n;
}
