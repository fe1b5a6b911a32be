/*
 * next.c - which test is worth making: expected information about "declared or not".
 *
 * Each part is asked about by itself, at even prior odds: the chance that it is as declared is ratio / (1 +
 * ratio), by the verdict's own ratio where one part was burned, by the part's shortlist where there are
 * several. The gain of a test is how much its result is expected to lower the entropy of that, in bits.
 * Results of a solvent, melting or float test exclude each other; of a burn's channel and of the microscope
 * the most telling few cues are imagined together.
 */
#include "evidence/shortlist.h"

#include "gen/ref_bench_count.h"
#include "gen/ref_channel.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define IMAGINED_MOST 6 /* cues of one channel imagined together: 64 results */
#define RESULTS_MOST 32 /* of one exclusive test */
#define LEAST_BITS 0.005
#define LEAST_WEIGHT 1e-5 /* of a side: less cannot move a gain that is shown */

struct mind {
    const struct tb_shortlist *s;
    double *weight;  /* of each entry within its side, adding up to 1 a side */
    double declared; /* chance that the part is as declared, at even prior odds */
};

/* Of a yes-or-no question, in bits. */
static double entropy(double p)
{
    return p <= 0 || p >= 1 ? 0 : -(p * log2(p) + (1 - p) * log2(1 - p));
}

double tb_gain_bits(double chance, const double *declared, const double *other, int results)
{
    double rest = 0;

    for (int r = 0; r < results; r++) {
        double both = chance * declared[r] + (1 - chance) * other[r];

        rest += both > 0 ? both * entropy(chance * declared[r] / both) : 0;
    }
    return entropy(chance) - rest;
}

/* The results are all there can be, so their chances are made to add up to 1. */
static double gain_exclusive(const struct mind *m, const struct tb_channel *ch)
{
    double all[2] = { 0, 0 }, p[2][RESULTS_MOST] = { { 0 } };
    int n = ch->n < RESULTS_MOST ? ch->n : RESULTS_MOST;

    for (int c = 0; c < n; c++)
        for (size_t i = 0; i < m->s->n; i++) {
            const struct tb_entry *e = &m->s->entry[i];
            double chance = m->weight[i] * tb_cue_chance(m->s->ev, &e->blend, ch->first + c);

            p[e->declared ? 0 : 1][c] += chance;
            all[e->declared ? 0 : 1] += chance;
        }
    for (int c = 0; c < n; c++) {
        p[0][c] /= all[0];
        p[1][c] /= all[1];
    }
    return tb_gain_bits(m->declared, p[0], p[1], n);
}

/* A single cue has two results, seen and not seen. */
static double gain_one(const struct mind *m, int cue)
{
    double p[2][2] = { { 0 } };

    for (size_t i = 0; i < m->s->n; i++)
        p[m->s->entry[i].declared ? 0 : 1][0] +=
            m->weight[i] * tb_cue_chance(m->s->ev, &m->s->entry[i].blend, cue);
    p[0][1] = 1 - p[0][0];
    p[1][1] = 1 - p[1][0];
    return tb_gain_bits(m->declared, p[0], p[1], 2);
}

/* The cues of a channel that say most, each for itself. */
static int telling_most(int out[IMAGINED_MOST], const struct mind *m, const struct tb_channel *ch)
{
    double gain[IMAGINED_MOST];
    int n = 0;

    for (int c = ch->first; c < ch->first + ch->n; c++) {
        double g = gain_one(m, c);
        int at = n;

        while (at > 0 && gain[at - 1] < g)
            at--;
        if (at == IMAGINED_MOST)
            continue;
        n += n < IMAGINED_MOST;
        for (int i = n - 1; i > at; i--) {
            gain[i] = gain[i - 1];
            out[i] = out[i - 1];
        }
        gain[at] = g;
        out[at] = c;
    }
    return n;
}

/* The cues of a channel are looked at in one burn, so their results come together: 64 of them at most. */
static double gain_together(const struct mind *m, const struct tb_channel *ch)
{
    int cue[IMAGINED_MOST], n = telling_most(cue, m, ch);
    double p[2][1 << IMAGINED_MOST] = { { 0 } };

    for (size_t i = 0; i < m->s->n; i++) {
        const struct tb_entry *e = &m->s->entry[i];
        double w[1 << IMAGINED_MOST] = { m->weight[i] }, *to = p[e->declared ? 0 : 1];

        for (int c = 0; c < n; c++) { /* every result so far goes on with this cue seen, and without it */
            double chance = tb_cue_chance(m->s->ev, &e->blend, cue[c]);

            for (int r = 0; r < 1 << c; r++) {
                w[r + (1 << c)] = w[r] * chance;
                w[r] -= w[r + (1 << c)];
            }
        }
        for (int r = 0; r < 1 << n; r++)
            to[r] += w[r];
    }
    return tb_gain_bits(m->declared, p[0], p[1], 1 << n);
}

/* Words of the table, separated by semicolons, as bits; the tests hold the table to these words. */
static unsigned hazards_of(const char *list)
{
    unsigned bits = 0;

    for (unsigned b = 1; b <= TB_HAZARD_ALL; b <<= 1) {
        const char *key = tb_hazard_key((enum tb_hazard)b);

        bits |= tb_word_listed(list, key, strlen(key), ";") ? b : 0;
    }
    return bits;
}

/* True when most of what is known of a bench test is from memory. */
static bool from_memory(const struct tb_channel *ch)
{
    double seen = 0, memory = 0;

    for (size_t i = 0; i < tb_ref_bench_count_n; i++)
        if (strncmp(tb_ref_bench_count[i].cue, ch->key, strlen(ch->key)) == 0) {
            seen += tb_ref_bench_count[i].said_seen;
            memory += tb_ref_bench_count[i].said_memory;
        }
    return memory > seen;
}

/* Was the channel looked at in some observation of the group? */
static bool looked(const struct tb_group *g, const struct tb_evidence *ev, int channel)
{
    for (size_t o = 0; o < g->n; o++)
        for (size_t t = 0; t < g->pattern[o].terms->n; t++)
            if (ev->cue[g->pattern[o].terms->term[t].cue].channel == channel)
                return true;
    return false;
}

/* A look at the same channel in one more burn says less, as repeats do. */
static double gain_of(const struct mind *m, int channel, bool again)
{
    const struct tb_channel *ch = &m->s->ev->channel[channel];
    double g = ch->exclusive ? gain_exclusive(m, ch) : gain_together(m, ch);

    g *= tb_weight_of(m->s->ev, ch->first);
    return again ? g * m->s->ev->fig.repeat : g;
}

/* Tests the house does not allow are not proposed at all, not proposed with a warning. */
static void propose(struct tb_verdict *v, const struct mind *m, int channel)
{
    const struct tb_evidence *ev = m->s->ev;
    const struct tb_channel *ch = &ev->channel[channel];
    const struct tb_ref_channel *r = &tb_ref_channel[channel];
    bool again = looked(m->s->group, ev, channel);
    struct tb_next n = {
        .part = m->s->group->part, .test = r->test, .name = r->proposal, .channel = channel
    };

    n.hazards = hazards_of(r->hazards);
    n.cost = r->cost;
    n.minutes = r->minutes;
    n.caution = r->caution;
    n.memory = ch->bench && from_memory(ch);
    if ((n.hazards & ~ev->set.hazards_allowed) != 0 || (again && ch->bench))
        return;
    n.gain_bits = gain_of(m, channel, again);
    if (n.gain_bits < LEAST_BITS)
        return;
    TB_PUSH(v->next, v->n_next, n);
}

static int by_gain(const void *a, const void *b)
{
    const struct tb_next *x = a, *y = b;

    return x->gain_bits < y->gain_bits   ? 1
           : x->gain_bits > y->gain_bits ? -1
           : x->channel != y->channel    ? x->channel - y->channel
                                         : (int)x->part - (int)y->part;
}

/* Compositions that weigh nothing are dropped first: with them most of the work would go into nothing. */
void tb_next_tests(struct tb_verdict *v, const struct tb_shortlist *s, bool alone)
{
    double *weight = tb_array(double, s->n), log_ratio = tb_shortlist_weights(weight, s);
    struct tb_shortlist few = { .ev = s->ev, .group = s->group, .entry = tb_array(struct tb_entry, s->n) };
    struct mind m = { 0 };

    for (size_t i = 0; i < s->n; i++)
        if (weight[i] >= LEAST_WEIGHT) {
            few.entry[few.n] = s->entry[i];
            weight[few.n++] = weight[i];
        }
    m.s = &few;
    m.weight = weight;
    m.declared = 1 / (1 + exp(alone ? -v->log_ratio : -log_ratio));
    for (int c = 0; c < s->ev->channels; c++)
        propose(v, &m, c);
    tb_shortlist_free(&few);
    free(weight);
    if (v->n_next)
        qsort(v->next, v->n_next, sizeof *v->next, by_gain);
}
