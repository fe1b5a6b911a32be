/*
 * looks.c - what a verdict that fits rests on: one look, or more than one.
 *
 * A look is what one person saw in one channel. It may be one mistake: a name given to a smell, a box ticked on the wrong line.
 */
#include "evidence/judge.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#define AT_ODDS                                                                                              \
    3.0 /* to one: what a bench test, or all that one person saw, says against what the rest makes fit */

size_t tb_first_of_person(const struct tb_group *g, size_t i)
{
    size_t at = 0;

    while (g->pattern[at].person != g->pattern[i].person)
        at++;
    return at;
}

/* Was the channel looked at by the person of pattern i, in some burn of the group? */
static bool looked(const struct tb_question *q, const struct tb_group *g, size_t i, int channel)
{
    for (size_t k = 0; k < g->n; k++)
        for (size_t t = 0; g->pattern[k].person == g->pattern[i].person && t < g->pattern[k].terms->n; t++)
            if (q->ev->cue[g->pattern[k].terms->term[t].cue].channel == channel)
                return true;
    return false;
}

size_t tb_looks_of(const struct tb_question *q)
{
    size_t n = 0;

    for (size_t p = 0; p < q->n; p++)
        for (size_t i = 0; i < q->group[p].n; i++)
            for (int c = 0; c < q->ev->channels && tb_first_of_person(&q->group[p], i) == i; c++)
                n += looked(q, &q->group[p], i, c);
    return n;
}

/* --- for it -------------------------------------------------------------------------------------------------- */

/* The burns of one part with some of their looks left out. */
struct left {
    struct tb_pattern *pattern; /* n */
    struct tb_terms *terms;
    size_t n;
};

#define ANY_CHANNEL (-1)
#define NOBODY SIZE_MAX

/* A burn of which only these channels (bits) were looked at; none, where nothing of it is left. */
static void keep_channels(struct left *out, const struct tb_evidence *ev, const struct tb_pattern *p,
                          unsigned channels)
{
    struct tb_terms *terms = &out->terms[out->n];

    terms->n = 0;
    for (size_t t = 0; t < p->terms->n; t++)
        if (channels & 1u << ev->cue[p->terms->term[t].cue].channel)
            terms->term[terms->n++] = p->terms->term[t];
    if (terms->n == 0)
        return;
    out->pattern[out->n] = *p;
    out->pattern[out->n].terms = terms;
    tb_strange_logs(&out->pattern[out->n].strange, ev, terms);
    out->n++;
}

/* One look, what one person saw in one channel or in any, or `without` it all the others. */
static void take_left(struct left *out, const struct tb_evidence *ev, const struct tb_group *g, size_t person,
                      int channel, bool without)
{
    out->n = 0;
    for (size_t i = 0; i < g->n; i++) {
        unsigned look = g->pattern[i].person != person ? 0 : channel == ANY_CHANNEL ? ~0u : 1u << channel;

        keep_channels(out, ev, &g->pattern[i], without ? ~look : look);
    }
}

static double log_add(double a, double b)
{
    double most = fmax(a, b);

    return most == -INFINITY ? most : most + log(exp(a - most) + exp(b - most));
}

/* A part that the declaration is spread over may hold any of its fibres. */
double tb_group_log_declared(const struct tb_question *q, const struct tb_group *g,
                             const struct tb_pattern *pattern, size_t n)
{
    unsigned all = (1u << g->declared.n_shown) - 1, from = g->spread ? 1 : all;
    double sum = -INFINITY;

    for (unsigned bits = from; bits <= all; bits++)
        sum = log_add(sum, tb_declared_log_evidence(q->ev, &g->declared, bits, pattern, n));
    return sum - log(all - from + 1);
}

/* The same of all pure cloths that are not as declared: blends would add little but work. */
static double log_other(const struct tb_question *q, const struct tb_group *g, const struct left *l)
{
    const struct tb_evidence *ev = q->ev;
    double sum = -INFINITY, prior = 0;

    for (int f = 0; f < ev->fibres; f++) {
        struct tb_blend pure = { .n = 1, .fibre = { f }, .share = { 1 } };

        if (tb_declared_shows(ev, &g->declared, g->spread, 1ull << ev->class_of[f]))
            continue;
        sum = log_add(sum, log(ev->alone[f]) + tb_patterns_log(ev, &pure, l->pattern, l->n));
        prior += ev->alone[f];
    }
    return prior > 0 ? sum - log(prior) : sum; /* where nothing else is known, nothing else explains it */
}

static double log_ratio_of(const struct tb_question *q, const struct tb_group *g, const struct left *l)
{
    return l->n ? tb_group_log_declared(q, g, l->pattern, l->n) - log_other(q, g, l) : 0;
}

/* Nothing that was looked at says nothing either way. */
double tb_log_ratio_of_channels(const struct tb_question *q, const struct tb_group *g, const unsigned *keep)
{
    struct left l = { .pattern = tb_array(struct tb_pattern, g->n),
                      .terms = tb_array(struct tb_terms, g->n) };
    double ratio;

    for (size_t i = 0; i < g->n; i++)
        keep_channels(&l, q->ev, &g->pattern[i], keep[i]);
    ratio = log_ratio_of(q, g, &l);
    free(l.pattern);
    free(l.terms);
    return ratio;
}

/* How many looks of one part speak for the declaration: by themselves, or `beside` all the others. */
static size_t looks_for(const struct tb_question *q, const struct tb_group *g, bool beside)
{
    struct left l = { .pattern = tb_array(struct tb_pattern, g->n),
                      .terms = tb_array(struct tb_terms, g->n) };
    double least = log(q->ev->fig.second_look), whole = 0;
    size_t n = 0;

    if (beside) {
        take_left(&l, q->ev, g, NOBODY, ANY_CHANNEL, true);
        whole = log_ratio_of(q, g, &l);
    }
    for (size_t i = 0; i < g->n; i++)
        for (int c = 0; c < q->ev->channels && tb_first_of_person(g, i) == i; c++) {
            size_t person = g->pattern[i].person;

            take_left(&l, q->ev, g, person, c, false);
            if (l.n == 0)
                continue;
            if (log_ratio_of(q, g, &l) >= least) {
                n++;
            } else if (beside) {
                take_left(&l, q->ev, g, person, c, true);
                n += whole - log_ratio_of(q, g, &l) >= least;
            }
        }
    free(l.pattern);
    free(l.terms);
    return n;
}

bool tb_fits_by_more(const struct tb_question *q)
{
    size_t n[2] = { 0, 0 };

    for (int beside = 0; beside < 2 && n[beside] < 2; beside++)
        for (size_t i = 0; i < q->n && n[beside] < 2; i++)
            n[beside] += looks_for(q, &q->group[i], beside);
    return n[0] >= 2 || n[1] >= 2;
}

/* --- for it and against it ----------------------------------------------------------------------------------- */

static bool by_several(const struct tb_group *g)
{
    for (size_t i = 1; i < g->n; i++)
        if (g->pattern[i].person != g->pattern[0].person)
            return true;
    return false;
}

/* Is one bench test, or all that one of several persons saw, by itself a reason against what is declared? */
static bool at_odds(const struct tb_question *q, const struct tb_group *g)
{
    struct left l = { .pattern = tb_array(struct tb_pattern, g->n),
                      .terms = tb_array(struct tb_terms, g->n) };
    bool odds = false;

    for (size_t i = 0; i < g->n && !odds; i++)
        for (int c = ANY_CHANNEL; c < q->ev->channels && tb_first_of_person(g, i) == i && !odds; c++) {
            if (c == ANY_CHANNEL ? !by_several(g) : !q->ev->channel[c].bench)
                continue;
            take_left(&l, q->ev, g, g->pattern[i].person, c, false);
            odds = log_ratio_of(q, g, &l) <= -log(AT_ODDS);
        }
    free(l.pattern);
    free(l.terms);
    return odds;
}

bool tb_at_odds(const struct tb_question *q)
{
    for (size_t i = 0; i < q->n; i++)
        if (at_odds(q, &q->group[i]))
            return true;
    return false;
}
