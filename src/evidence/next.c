/*
 * next.c - which test is worth making: expected information about "declared or not", and what can always be done.
 *
 * Each part is asked about by itself, at even prior odds: the chance that it is as declared is ratio / (1 + ratio), by
 * the verdict's own ratio where one part was burned, by the part's shortlist where there are several; never further from
 * even than the model was tested, or a verdict that is wrong would name no test that could show it.
 */
#include "evidence/next.h"

#include "evidence/chances.h"

#include "gen/ref_bench_count.h"
#include "gen/ref_channel.h"
#include "gen/ref_offer.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define LEAST_SETTLED 0.005 /* of what is open: less is not worth a test ... */
#define LEAST_BITS 0.005    /* ... and after a burn that fits, this much in bits */
#define NEAR_GAIN 0.9       /* of another test's gain: as good as the same */
#define FAR_GAIN 0.5        /* of a poisonous test's gain: it tells less than twice as much */
#define LEAST_TOLD 0.5      /* of the weight of a side: fibres that a bench test was published of */
#define LEAST_WEIGHT 1e-5   /* of a side: less cannot move a gain that is shown */

/* Words of the table, separated by semicolons, as bits; the build holds the table to these words. */
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

/* Tests the house does not allow are not proposed at all, not proposed with a warning. */
static bool allowed(const struct tb_evidence *ev, const struct tb_verdict *v, unsigned hazards)
{
    unsigned never = v->handling == TB_HANDLING_ANY ? 0u : TB_HAZARD_FLAME | TB_HAZARD_HOT;

    if (v->spare_flame)
        never |= TB_HAZARD_FLAME;

    return (hazards & (~ev->set.hazards_allowed | never)) == 0;
}

/* Has anybody published what this bench test does to every fibre that a composition shows, or to one that burns like it? */
static bool is_told_of(const struct tb_evidence *ev, const struct tb_blend *b, int channel)
{
    for (int i = 0; i < b->n; i++)
        if (b->share[i] > (TB_SHOWN_STEPS - 0.5) / TB_STEPS && !(ev->described[b->fibre[i]][channel] > 0))
            return false;
    return true;
}

/*
 * Is it told of most of what is declared, and of most of what else it could be? Else its results would be guesses. Under the microscope
 * a kind of fibre is recognised, so that either side is enough.
 */
static bool parts_them(const struct tb_mind *m, const struct tb_channel *ch, int channel)
{
    double told[2] = { 0, 0 };

    for (size_t i = 0; i < m->s->n; i++)
        if (is_told_of(m->s->ev, &m->s->entry[i].blend, channel))
            told[i < m->as_declared ? 0 : 1] += m->weight[i];
    return (ch->exclusive ? fmin(told[0], told[1]) : fmax(told[0], told[1])) >= LEAST_TOLD;
}

/* One channel as a test; false where nobody may make it, nothing is known of it, or it was made and would only be made again. */
static bool as_test(struct tb_next *out, const struct tb_verdict *v, const struct tb_mind *m, int channel)
{
    const struct tb_evidence *ev = m->s->ev;
    const struct tb_channel *ch = &ev->channel[channel];
    const struct tb_ref_channel *r = &tb_ref_channel[channel];
    bool again = looked(m->s->group, ev, channel), other = again || m->s->group->could_not[channel];

    *out = (struct tb_next){ .part = m->s->group->part,
                             .test = r->test,
                             .name = other && !ch->bench ? r->again : r->proposal,
                             .channel = channel,
                             .cost = r->cost,
                             .minutes = r->minutes,
                             .effort = r->effort,
                             .hazards = hazards_of(r->hazards),
                             .caution = r->caution,
                             .memory = ch->bench && from_memory(ch) };
    if (!allowed(ev, v, out->hazards) || (ch->bench && (again || !parts_them(m, ch, channel))))
        return false;
    out->gain_bits = tb_gain_of(m, channel, again);
    out->settles = out->gain_bits / tb_open_bits(m->declared);
    return true;
}

/* Asked of those that are proposed only. */
static void take_turns(struct tb_verdict *v, const struct tb_mind *m, size_t from, double log_ratio)
{
    struct tb_before before;

    tb_before_take(&before, m);
    for (size_t i = from; i < v->n_next; i++)
        if (m->s->ev->channel[v->next[i].channel].bench)
            tb_turn_of(&v->next[i], v, m, log_ratio, &before);
    tb_before_free(&before);
}

/* A burn that fits asks for nothing more unless much is open still. */
static bool worth(const struct tb_verdict *v, const struct tb_next *n)
{
    return v->kind == TB_FITS ? n->gain_bits >= LEAST_BITS : n->settles >= LEAST_SETTLED;
}

static void propose(struct tb_verdict *v, const struct tb_mind *m)
{
    for (int c = 0; c < m->s->ev->channels; c++) {
        struct tb_next n;

        if (as_test(&n, v, m, c) && worth(v, &n))
            TB_PUSH(v->next, v->n_next, n);
    }
}

static int by_gain(const void *a, const void *b)
{
    const struct tb_next *x = a, *y = b;

    return x->gain_bits < y->gain_bits   ? 1
           : x->gain_bits > y->gain_bits ? -1
           : x->channel != y->channel    ? x->channel - y->channel
                                         : (int)x->part - (int)y->part;
}

/* How much harm a test can do: only the worst of its dangers counts. */
static int harm_of(unsigned hazards)
{
    static const enum tb_hazard falling[] = { TB_HAZARD_TOXIC, TB_HAZARD_CORROSIVE, TB_HAZARD_FLAME,
                                              TB_HAZARD_HOT, TB_HAZARD_FLAMMABLE };

    for (size_t i = 0; i < TB_COUNT(falling); i++)
        if (hazards & falling[i])
            return (int)(TB_COUNT(falling) - i);
    return 0;
}

/* What a milder test has to tell of another one's gain to stand before it. */
static double enough(const struct tb_next *n)
{
    return (n->hazards & TB_HAZARD_TOXIC ? FAR_GAIN : NEAR_GAIN) * n->gain_bits;
}

/* A test that tells about as much and does less harm is offered first; poison comes first where it tells far more. */
static void safer_first(struct tb_next *next, size_t n)
{
    for (size_t i = 1; i < n; i++) {
        struct tb_next one = next[i];
        size_t at = i;

        for (; at > 0 && harm_of(one.hazards) < harm_of(next[at - 1].hazards) &&
               one.gain_bits >= enough(&next[at - 1]);
             at--)
            next[at] = next[at - 1];
        next[at] = one;
    }
}

/* Compositions that weigh nothing are dropped first: with them most of the work would go into nothing. */
void tb_next_tests(struct tb_verdict *v, const struct tb_shortlist *s, bool alone)
{
    double *weight = tb_array(double, s->n), log_ratio = tb_shortlist_weights(weight, s);
    struct tb_shortlist few = { .ev = s->ev,
                                .group = s->group,
                                .entry = tb_array(struct tb_entry, s->n),
                                .pool = s->pool,
                                .logs = s->logs };
    struct tb_mind m = { 0 };
    size_t from = v->n_next;

    for (size_t i = 0; i < s->n; i++)
        if (weight[i] >= LEAST_WEIGHT) {
            m.as_declared += s->entry[i].declared;
            few.entry[few.n] = s->entry[i];
            weight[few.n++] = weight[i];
        }
    m.s = &few;
    m.weight = weight;
    m.chance = tb_realloc(NULL, few.n * (size_t)s->ev->cues + 1, sizeof *m.chance);
    tb_chances_of_all(m.chance, s->ev, few.entry, few.n);
    log_ratio = alone && !v->reason ? v->log_ratio : log_ratio;
    m.declared = 1 / (1 + exp(v->kind == TB_FITS ? -log_ratio : -tb_bounded(&v->bounds, log_ratio)));
    propose(v, &m);
    if (v->kind != TB_FITS)
        take_turns(v, &m, from, log_ratio);
    free(few.entry); /* the rest is borrowed */
    free(m.chance);
    free(weight);
    if (v->n_next)
        qsort(v->next, v->n_next, sizeof *v->next, by_gain);
    safer_first(v->next, v->n_next);
}

#define LABORATORY "laboratory" /* tests of offer.csv */
#define LICENSED "licensed_laboratory"

const struct tb_next *tb_next_laboratory(const struct tb_verdict *v)
{
    for (size_t i = 0; i < v->n_next; i++)
        if (strcmp(v->next[i].test, LABORATORY) == 0 || strcmp(v->next[i].test, LICENSED) == 0)
            return &v->next[i];
    return NULL;
}

void tb_verdict_answered(struct tb_verdict *v)
{
    size_t n = 0;

    for (size_t i = 0; i < v->n_next; i++)
        if (strcmp(v->next[i].test, LABORATORY) != 0)
            v->next[n++] = v->next[i];
    v->n_next = n;
    v->confirm = (struct tb_next){ 0 };
    v->n_outcome = 0;
    v->base_rate = 0;
    v->base_from = TB_BASE_UNSAID;
}

/* The word of offer.csv for what the question holds the burn against. */
static const char *declared_word(const struct tb_verdict *v, const struct tb_question *q)
{
    bool blend = false;

    for (size_t i = 0; i < q->n; i++)
        blend |= q->group[i].declared.blend.n > 1;
    if (v->reason) /* where nothing was seen nothing is likeliest either */
        return v->n_likely ? "nothing" : "";
    return blend ? "blend" : "one";
}

/* What two persons saw against the declaration in one channel a third one is not asked for. */
static void drop_agreed(struct tb_verdict *v, const struct tb_question *q)
{
    size_t n = 0;

    for (size_t i = 0; i < v->n_next; i++) {
        const struct tb_next *one = &v->next[i];

        if (one->channel < 0 || q->ev->channel[one->channel].bench ||
            !tb_two_agree(q, one->part, one->channel))
            v->next[n++] = *one;
    }
    v->n_next = n;
}

/* Whatever is said but that it fits, somebody can go on from there. */
void tb_next_offers(struct tb_verdict *v, const struct tb_question *q)
{
    bool laboratory = v->handling == TB_HANDLING_LABORATORY;
    const char *declared = declared_word(v, q);

    if (v->grade >= TB_GRADE_SPEAKS_AGAINST && !v->coated)
        drop_agreed(v, q);
    for (size_t i = 0; i < tb_ref_offer_n && v->kind != TB_FITS; i++) {
        const struct tb_ref_offer *r = &tb_ref_offer[i];
        struct tb_next n = { .part = TB_PART_WHOLE,
                             .test = r->test,
                             .name = r->proposal,
                             .channel = -1,
                             .gain_bits = NAN,
                             .settles = NAN,
                             .cost = r->cost,
                             .minutes = r->minutes,
                             .effort = r->effort,
                             .hazards = hazards_of(r->hazards),
                             .caution = r->caution };

        if (strcmp(r->declared, "any") != 0 && strcmp(r->declared, declared) != 0)
            continue;
        if (allowed(q->ev, v, n.hazards) && (strcmp(r->handling, "laboratory") == 0) == laboratory)
            TB_PUSH(v->next, v->n_next, n);
    }
}
