/* pattern.c - observations that say the same, so that they are weighed once. */
#include "evidence/pattern.h"

#include <stdlib.h>
#include <string.h>

/* A burn without a swatch is one of its own: nobody said that it repeats another. */
static bool same_swatch(const struct tb_observation *a, const struct tb_observation *b)
{
    return a->swatch && b->swatch && a->part == b->part && strcmp(a->swatch, b->swatch) == 0;
}

static bool same_person(const struct tb_observation *a, const struct tb_observation *b)
{
    return (!a->person && !b->person) || (a->person && b->person && strcmp(a->person, b->person) == 0);
}

/* What was done: a bit for every bench test, and one for all that a flame shows, since one burn shows all of it. */
static unsigned long long acts_of(const struct tb_evidence *ev, const struct tb_observation *o)
{
    unsigned long long acts = 0;

    for (int c = 0; c < ev->channels; c++)
        if (o->looked[c])
            acts |= ev->channel[c].bench ? 2ull << c : 1;
    return acts;
}

void tb_share_out(struct tb_counting *out, const struct tb_evidence *ev, const struct tb_observation *obs,
                  size_t n)
{
    unsigned long long *acts = tb_array(unsigned long long, n + 1);
    double pairs = 0, alike = 0, persons = 0;

    *out = (struct tb_counting){ .share = tb_array(double, n + 1) };
    for (size_t i = 0; i < n; i++) {
        bool first = true;

        acts[i] = acts_of(ev, &obs[i]);
        for (size_t k = 0; k < i; k++) {
            bool same = same_person(&obs[i], &obs[k]), again = acts[i] & acts[k];

            first &= !same;
            out->share[i] += same && again;
            out->share[k] += same && again;
            pairs += !same;
            alike += same || !again                  ? 0
                     : same_swatch(&obs[i], &obs[k]) ? ev->fig.icc_swatch
                                                     : ev->fig.icc_lot;
        }
        persons += first;
    }
    for (size_t i = 0; i < n; i++)
        out->share[i] = 1 / (1 + out->share[i]);
    out->exponent = pairs > 0 ? 1 / (1 + (persons - 1) * alike / pairs) : 1;
    free(acts);
}

void tb_counting_free(struct tb_counting *c)
{
    free(c->share);
    *c = (struct tb_counting){ 0 };
}

/* A denied cue weighs like an unseen one but is shown apart, so it counts as different here. */
bool tb_terms_same(const struct tb_terms *a, const struct tb_terms *b)
{
    bool same = a->n == b->n;

    for (size_t i = 0; i < a->n && same; i++)
        same = a->term[i].cue == b->term[i].cue && a->term[i].seen == b->term[i].seen &&
               a->term[i].denied == b->term[i].denied;
    return same;
}

/* The number of these terms among the readings, which grow where it is new. */
static size_t reading_of(struct tb_readings *r, const struct tb_evidence *ev, const struct tb_terms *terms)
{
    for (size_t i = 0; i < r->n; i++)
        if (tb_terms_same(&r->terms[i], terms))
            return i;
    r->terms[r->n] = *terms;
    tb_strange_logs(&r->strange[r->n], ev, terms);
    return r->n++;
}

/* One pass over the observations for all questions, since the strange burns of a reading are dear to compute. */
void tb_readings_make(struct tb_readings *out, const struct tb_evidence *ev, const struct tb_observation *obs,
                      size_t n)
{
    *out = (struct tb_readings){ .terms = tb_realloc(NULL, n, sizeof *out->terms),
                                 .strange = tb_array(struct tb_strange, n),
                                 .of = tb_array(size_t, n),
                                 .person = tb_array(size_t, n) };
    for (size_t i = 0; i < n; i++) {
        struct tb_terms terms;

        tb_terms_of(&terms, ev, &obs[i]);
        out->of[i] = terms.n ? reading_of(out, ev, &terms) : TB_READ_NOTHING;
        while (!same_person(&obs[out->person[i]], &obs[i]))
            out->person[i]++;
    }
}

void tb_readings_free(struct tb_readings *r)
{
    free(r->terms);
    free(r->strange);
    free(r->of);
    free(r->person);
    *r = (struct tb_readings){ 0 };
}

/* Patterns are few; a list searched from the front is quicker than anything that hashes. */
void tb_pattern_add(struct tb_pattern **list, size_t *n, const struct tb_readings *r, size_t obs,
                    double power, double exponent)
{
    size_t reading = r->of[obs], person = r->person[obs];

    for (size_t i = 0; i < *n; i++) {
        struct tb_pattern *p = &(*list)[i];

        if (p->reading == reading && p->person == person && p->power == power) {
            p->times++;
            return;
        }
    }
    *list = tb_realloc(*list, *n + 1, sizeof **list);
    (*list)[(*n)++] = (struct tb_pattern){ .terms = &r->terms[reading],
                                           .strange = r->strange[reading],
                                           .power = power,
                                           .exponent = exponent,
                                           .times = 1,
                                           .person = person,
                                           .reading = reading };
}

double tb_patterns_log(const struct tb_evidence *ev, const struct tb_blend *b,
                       const struct tb_pattern *pattern, size_t n)
{
    double sum = 0;

    for (size_t i = 0; i < n; i++) {
        struct tb_logs l;

        tb_blend_logs(&l, ev, b, pattern[i].terms);
        sum += tb_pattern_power(&pattern[i]) * tb_join_logs(ev, b->n, &l, &pattern[i].strange);
    }
    return sum;
}
