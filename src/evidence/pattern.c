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

/* m burns of one swatch by one person count as m / (1 + (m - 1) icc), shared evenly; by two persons, as more. */
static double share_of(const struct tb_evidence *ev, const struct tb_observation *obs, size_t n, size_t at)
{
    double effect = 1;

    for (size_t i = 0; i < n; i++)
        if (i != at && same_swatch(&obs[i], &obs[at]) && !tb_observation_empty(&obs[i]))
            effect += same_person(&obs[i], &obs[at]) ? ev->fig.icc_swatch : ev->fig.icc_swatch_other;
    return 1 / effect;
}

/* The same between the swatches of a lot, whose cloth shares a finish and a dye, and whose burns a day and an eye. */
double tb_lot_exponent(const struct tb_evidence *ev, const struct tb_observation *obs, const double *share,
                       size_t n)
{
    double sum = 0, pairs = 0, alike = 0, icc;

    for (size_t i = 0; i < n; i++) {
        sum += share[i];
        for (size_t k = 0; k < i; k++)
            if (!same_swatch(&obs[i], &obs[k])) {
                pairs++;
                alike += same_person(&obs[i], &obs[k]);
            }
    }
    if (pairs < 1)
        return 1;
    icc = (alike * ev->fig.icc_lot + (pairs - alike) * ev->fig.icc_lot_other) / pairs;
    return 1 / (1 + (sum - 1) * icc);
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
                                 .power = tb_array(double, n) };
    for (size_t i = 0; i < n; i++) {
        struct tb_terms terms;

        tb_terms_of(&terms, ev, &obs[i]);
        out->of[i] = terms.n ? reading_of(out, ev, &terms) : TB_READ_NOTHING;
        out->power[i] = share_of(ev, obs, n, i);
    }
}

void tb_readings_free(struct tb_readings *r)
{
    free(r->terms);
    free(r->strange);
    free(r->of);
    free(r->power);
    *r = (struct tb_readings){ 0 };
}

/* Patterns are few; a list searched from the front is quicker than anything that hashes. */
void tb_pattern_add(struct tb_pattern **list, size_t *n, const struct tb_readings *r, size_t obs)
{
    size_t reading = r->of[obs];

    for (size_t i = 0; i < *n; i++)
        if ((*list)[i].reading == reading && (*list)[i].power == r->power[obs]) {
            (*list)[i].times++;
            return;
        }
    *list = tb_realloc(*list, *n + 1, sizeof **list);
    (*list)[(*n)++] = (struct tb_pattern){ .terms = &r->terms[reading],
                                           .strange = r->strange[reading],
                                           .power = r->power[obs],
                                           .exponent = 1,
                                           .times = 1,
                                           .reading = reading };
}
