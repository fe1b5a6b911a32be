/* some.c - some of what was seen of one part, weighed as if it were all: one look, one person's burns, one bench test. */
#include "evidence/some.h"

#include <math.h>
#include <stdlib.h>

bool tb_pure_other(struct tb_blend *out, const struct tb_question *q, const struct tb_group *g, int fibre)
{
    *out = (struct tb_blend){ .n = 1, .fibre = { fibre }, .share = { 1 } };
    return !tb_declared_shows(q->ev, &g->declared, g->spread, 1ull << q->ev->class_of[fibre]);
}

struct tb_blend tb_mixed_blend(const struct tb_blend *declared, int fibre, double part)
{
    struct tb_blend b = *declared;

    for (int i = 0; i < b.n; i++)
        b.share[i] *= 1 - part;
    b.fibre[b.n] = fibre;
    b.share[b.n++] = part;
    return b;
}

struct tb_some tb_some_open(const struct tb_group *g)
{
    return (struct tb_some){ .pattern = tb_array(struct tb_pattern, g->n),
                             .terms = tb_array(struct tb_terms, g->n) };
}

void tb_some_free(struct tb_some *l)
{
    free(l->pattern);
    free(l->terms);
}

unsigned tb_channels_of(const struct tb_evidence *ev, int name)
{
    unsigned bits = 0;

    for (int c = 0; c < ev->channels; c++)
        if (name == c || name == TB_SOME_ALL || (name == TB_SOME_BURNS && !ev->channel[c].bench))
            bits |= 1u << c;
    return bits;
}

/* An observation of which only these channels (bits) were looked at; none, where nothing of it is left. */
static void keep_channels(struct tb_some *out, const struct tb_evidence *ev, const struct tb_pattern *p,
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
    if (terms->n < p->terms->n) /* else it is what it was */
        tb_strange_logs(&out->pattern[out->n].strange, ev, terms);
    out->n++;
}

void tb_some_take(struct tb_some *out, const struct tb_evidence *ev, const struct tb_group *g, size_t person,
                  int channel, bool without)
{
    unsigned named = tb_channels_of(ev, channel);

    out->n = 0;
    for (size_t i = 0; i < g->n; i++) {
        unsigned look = g->pattern[i].person == person ? named : 0;

        keep_channels(out, ev, &g->pattern[i], without ? ~look : look);
    }
}

void tb_some_keep(struct tb_some *out, const struct tb_evidence *ev, const struct tb_group *g,
                  const unsigned *keep)
{
    out->n = 0;
    for (size_t i = 0; i < g->n; i++)
        keep_channels(out, ev, &g->pattern[i], keep[i]);
}

void tb_some_as_one(struct tb_some *l)
{
    double power = 0;

    for (size_t i = 0; i < l->n; i++)
        power += l->pattern[i].power;
    for (size_t i = 0; i < l->n && power > 0; i++)
        l->pattern[i].power /= power;
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
static double log_other(const struct tb_question *q, const struct tb_group *g, const struct tb_some *l)
{
    const struct tb_evidence *ev = q->ev;
    double sum = -INFINITY, prior = 0;

    for (int f = 0; f < ev->fibres; f++) {
        struct tb_blend pure;

        if (!tb_pure_other(&pure, q, g, f))
            continue;
        sum = log_add(sum, log(ev->alone[f]) + tb_patterns_log(ev, &pure, l->pattern, l->n));
        prior += ev->alone[f];
    }
    return prior > 0 ? sum - log(prior) : sum; /* where nothing else is known, nothing else explains it */
}

double tb_some_log_ratio(const struct tb_question *q, const struct tb_group *g, const struct tb_some *l)
{
    return l->n ? tb_group_log_declared(q, g, l->pattern, l->n) - log_other(q, g, l) : 0;
}

double tb_log_ratio_of_channels(const struct tb_question *q, const struct tb_group *g, const unsigned *keep)
{
    struct tb_some l = tb_some_open(g);
    double ratio;

    tb_some_keep(&l, q->ev, g, keep);
    ratio = tb_some_log_ratio(q, g, &l);
    tb_some_free(&l);
    return ratio;
}
