/* pattern.c - observations that say the same, so that they are weighed once. */
#include "evidence/pattern.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define ROUNDING 1e-9 /* far more than sums of shares lose, far less than any share */

/* A burn without a swatch is one of its own: nobody said that it repeats another. */
static bool same_swatch(const struct tb_observation *a, const struct tb_observation *b)
{
    return a->swatch && b->swatch && a->part == b->part && strcmp(a->swatch, b->swatch) == 0;
}

static bool same_person(const struct tb_observation *a, const struct tb_observation *b)
{
    return (!a->person && !b->person) || (a->person && b->person && strcmp(a->person, b->person) == 0);
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
static size_t reading_of(struct tb_readings *r, const struct tb_terms *terms)
{
    for (size_t i = 0; i < r->n; i++)
        if (tb_terms_same(&r->terms[i], terms))
            return i;
    r->terms = tb_realloc(r->terms, r->n + 1, sizeof *r->terms);
    r->terms[r->n] = *terms;
    return r->n++;
}

/* The burn, then each bench test: what was done to a swatch, and what it says up to there. */
static void take_steps(struct tb_readings *r, size_t *steps, const struct tb_evidence *ev,
                       const struct tb_terms *all)
{
    struct tb_terms upto = { .n = 0 };

    for (int c = TB_STEP_BURN; c < ev->channels; c++) {
        size_t before = upto.n;

        for (size_t t = 0; t < all->n; t++) {
            int channel = ev->cue[all->term[t].cue].channel;

            if (c == (ev->channel[channel].bench ? channel : TB_STEP_BURN))
                upto.term[upto.n++] = all->term[t];
        }
        if (upto.n > before) {
            r->step = tb_realloc(r->step, *steps + 1, sizeof *r->step);
            r->step[(*steps)++] = (struct tb_step){ c, reading_of(r, &upto) };
        }
    }
}

/* One pass over the observations for all questions. */
void tb_readings_make(struct tb_readings *out, const struct tb_evidence *ev, const struct tb_observation *obs,
                      size_t n)
{
    size_t steps = 0;

    *out = (struct tb_readings){ .of = tb_array(size_t, n),
                                 .person = tb_array(size_t, n),
                                 .from = tb_array(size_t, n + 1) };
    for (size_t i = 0; i < n; i++) {
        struct tb_terms terms;

        tb_terms_of(&terms, ev, &obs[i]);
        take_steps(out, &steps, ev, &terms);
        out->from[i + 1] = steps;
        out->of[i] = terms.n ? out->step[steps - 1].reading : TB_READ_NOTHING;
        while (!same_person(&obs[out->person[i]], &obs[i]))
            out->person[i]++;
    }
    out->strange = tb_array(struct tb_strange, out->n);
    out->made = tb_array(bool, out->n);
}

void tb_readings_free(struct tb_readings *r)
{
    free(r->terms);
    free(r->strange);
    free(r->made);
    free(r->of);
    free(r->person);
    free(r->step);
    free(r->from);
    *r = (struct tb_readings){ 0 };
}

/* Dear to compute, and mostly not asked for of a burn without its tests. */
static struct tb_strange strange_of(const struct tb_readings *r, const struct tb_evidence *ev, size_t reading)
{
    if (!r->made[reading])
        tb_strange_logs(&r->strange[reading], ev, &r->terms[reading]);
    r->made[reading] = true;
    return r->strange[reading];
}

/* Patterns are few; a list searched from the front is quicker than anything that hashes. */
static void add_power(struct tb_pattern **list, size_t *n, const struct tb_readings *r, size_t reading,
                      size_t person, const struct tb_observation *o, double power)
{
    size_t i = 0;

    while (i < *n && ((*list)[i].reading != reading || (*list)[i].person != person))
        i++;
    if (i == *n) {
        *list = tb_realloc(*list, *n + 1, sizeof **list);
        (*list)[(*n)++] = (struct tb_pattern){ .terms = &r->terms[reading],
                                               .person = person,
                                               .reading = reading,
                                               .by = o->person,
                                               .swatch = o->swatch };
    }
    (*list)[i].power += power;
    (*list)[i].times++;
}

/* --- what each counts ---------------------------------------------------------------------------------------- */

/* Some observations of one part, and of each the step of one kind, if it has one. */
struct deeds {
    const struct tb_readings *r;
    const struct tb_observation *obs;
    const size_t *which;
    size_t n;
    size_t *step; /* of each; NO_STEP */
};
#define NO_STEP ((size_t)-1)

static void find_steps(struct deeds *d, int channel)
{
    for (size_t i = 0; i < d->n; i++) {
        d->step[i] = NO_STEP;
        for (size_t k = d->r->from[d->which[i]]; k < d->r->from[d->which[i] + 1]; k++)
            if (d->r->step[k].channel == channel)
                d->step[i] = k;
    }
}

/* How often the person of number i did it; `first`: nobody of a lower number is the same person. */
static size_t times_of(const struct deeds *d, size_t i, bool *first)
{
    size_t times = 0;

    *first = true;
    for (size_t k = 0; k < d->n; k++)
        if (d->step[k] != NO_STEP && d->r->person[d->which[k]] == d->r->person[d->which[i]]) {
            times++;
            *first &= k >= i;
        }
    return times;
}

/* n persons count as n / (1 + (n - 1) icc): the mean icc of all pairs of what two persons did. */
static double beside_others(const struct deeds *d, const struct tb_evidence *ev, size_t persons)
{
    double pairs = 0, alike = 0;

    for (size_t i = 0; i < d->n; i++)
        for (size_t k = 0; k < i && d->step[i] != NO_STEP; k++) {
            if (d->step[k] == NO_STEP || d->r->person[d->which[k]] == d->r->person[d->which[i]])
                continue;
            pairs++;
            alike += same_swatch(&d->obs[d->which[i]], &d->obs[d->which[k]]) ? ev->fig.icc_swatch
                                                                             : ev->fig.icc_lot;
        }
    return pairs > 0 ? 1 / (1 + ((double)persons - 1) * alike / pairs) : 1;
}

/* All burns, or all tests of one channel: what each of them counts, by its step. */
static void share_out(double *power, struct tb_counted *counted, struct deeds *d,
                      const struct tb_evidence *ev)
{
    size_t persons = 0;
    double each;

    for (size_t i = 0; i < d->n; i++) {
        bool first;

        if (d->step[i] == NO_STEP)
            continue;
        power[d->step[i]] = 1 / (double)times_of(d, i, &first);
        persons += first;
        counted->acts++;
    }
    each = beside_others(d, ev, persons);
    for (size_t i = 0; i < d->n; i++)
        if (d->step[i] != NO_STEP)
            power[d->step[i]] *= each;
    counted->as += (double)persons * each;
}

/* Shares of one person add up to a whole number but for rounding; what adds up to 0 says nothing. */
static size_t settle_powers(struct tb_pattern *list, size_t n, const struct tb_readings *r,
                            const struct tb_evidence *ev)
{
    size_t kept = 0;

    for (size_t i = 0; i < n; i++) {
        double whole = round(list[i].power);

        if (fabs(list[i].power - whole) < ROUNDING)
            list[i].power = whole;
        if (list[i].power == 0)
            continue;
        list[kept] = list[i];
        list[kept].strange = strange_of(r, ev, list[i].reading);
        kept++;
    }
    return kept;
}

/*
 * A bench test of a burned swatch adds what it tells beside that burn, to its own power: the burn up to that test counts what the
 * test counts, less what the next one does. So a burn that is repeated takes nothing away from a test.
 */
struct tb_counted tb_patterns_take(struct tb_pattern **list, size_t *n_list, const struct tb_evidence *ev,
                                   const struct tb_readings *r, const struct tb_observation *obs,
                                   const size_t *which, size_t n)
{
    struct deeds d = { r, obs, which, n, tb_array(size_t, n + 1) };
    size_t steps = n ? r->from[which[n - 1] + 1] : 0; /* in the order of the observations */
    double *power = tb_array(double, steps + 1);
    struct tb_counted counted = { 0 };

    for (int c = TB_STEP_BURN; c < ev->channels; c++) {
        find_steps(&d, c);
        share_out(power, &counted, &d, ev);
    }
    for (size_t i = 0; i < n; i++)
        for (size_t k = r->from[which[i]], end = r->from[which[i] + 1]; k < end; k++)
            add_power(list, n_list, r, r->step[k].reading, r->person[which[i]], &obs[which[i]],
                      power[k] - (k + 1 < end ? power[k + 1] : 0));
    *n_list = settle_powers(*list, *n_list, r, ev);
    free(power);
    free(d.step);
    return counted;
}

double tb_patterns_log(const struct tb_evidence *ev, const struct tb_blend *b,
                       const struct tb_pattern *pattern, size_t n)
{
    bool pure = b->n == 1 && b->share[0] == 1 && !b->finish; /* known already */
    double sum = 0;

    for (size_t i = 0; i < n; i++) {
        struct tb_logs l;

        if (pure) {
            sum += pattern[i].power * pattern[i].strange.pure[b->fibre[0]];
            continue;
        }
        tb_blend_logs(&l, ev, b, pattern[i].terms);
        sum += pattern[i].power * tb_join_logs(ev, b->n, &l, &pattern[i].strange);
    }
    return sum;
}
