/*
 * power.c - what one careful burn would catch: simulation from the model.
 *
 * "Careful" looks at every channel. Burns are drawn from the false composition as the model says burns come
 * about: cue by cue, or now and then like some other fibre's; each is then judged against the declaration. No
 * hit rate of burn tests has been published, so this is the model's own account of itself, and says so.
 */
#include "evidence/recall.h"
#include "evidence/trial.h"

#include "gen/ref_burn_swap.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SWAPS_MOST 4 /* a declaration: the commonest false ones come first in the table */

static int model_by_key(const struct tb_evidence *ev, const char *key)
{
    return tb_model_fibre(ev, tb_fibre_by_key(key));
}

/* The declared blend with one fibre replaced. */
static struct tb_blend replaced(const struct tb_blend *b, int from, int to)
{
    struct tb_blend out = { .n = 0 };

    for (int i = 0; i < b->n; i++) {
        int f = b->fibre[i] == from ? to : b->fibre[i], k = 0;

        while (k < out.n && out.fibre[k] != f)
            k++;
        out.fibre[k] = f;
        out.share[k] += b->share[i];
        out.n = k == out.n ? out.n + 1 : out.n;
    }
    return out;
}

/* In the words of a label, since that is what the false label would say. */
static char *name_of(const struct tb_evidence *ev, const struct tb_blend *b)
{
    struct tb_text t = { 0 };

    for (int i = 0; i < b->n; i++)
        tb_text_addf(&t, "%s%.0f %% %s", i ? ", " : "", 100 * b->share[i],
                     tb_fibre_at(ev->fibre[b->fibre[i]])->name);
    return tb_text_take(&t);
}

/* Nothing a flame shows can tell these from the declared ones; no number of burns would. */
static bool burns_alike(const struct tb_evidence *ev, const struct tb_blend *b,
                        const struct tb_declared_blend *d)
{
    unsigned long long classes = 0, declared = tb_declared_classes(ev, d, (1u << d->n_shown) - 1);

    for (int i = 0; i < b->n; i++)
        if (b->share[i] * 100 >= TB_MINOR_PERCENT)
            classes |= 1ull << ev->class_of[b->fibre[i]];
    return classes == declared;
}

/* The swaps of one part: the first of them in v->power, and what was drawn of each. */
struct swaps {
    struct tb_verdict *v;
    size_t first;
    struct tb_trial_burns *burns[SWAPS_MOST];
};

/* The best bench test is the first proposal whose results exclude each other. */
static void add_swap(struct swaps *s, struct tb_trial *a, const struct tb_group *g, const struct tb_blend *b)
{
    struct tb_verdict *v = s->v;
    struct tb_power p = { .part = g->part, .instead = name_of(a->ev, b), .with_test = NAN };
    const struct tb_channel *test = NULL;

    for (size_t i = 0; i < v->n_power; i++)
        if (v->power[i].part == g->part && strcmp(v->power[i].instead, p.instead) == 0) {
            free(p.instead);
            return;
        }
    for (size_t i = 0; i < v->n_next && !test; i++)
        if (v->next[i].part == g->part && a->ev->channel[v->next[i].channel].exclusive) {
            test = &a->ev->channel[v->next[i].channel];
            p.test = v->next[i].test;
        }
    p.blind = burns_alike(a->ev, b, &g->declared);
    s->burns[v->n_power - s->first] = tb_trial_draw(a, b, test);
    TB_PUSH(v->power, v->n_power, p);
}

static void weigh_piece(void *arg, size_t i)
{
    struct swaps *s = arg;

    tb_trial_weigh(s->burns[i / TB_TRIAL_PIECES], i % TB_TRIAL_PIECES);
}

/* Each swap is tried against every declared fibre, a few at most: simulation is slow. */
static void swaps_of(struct tb_verdict *v, const struct tb_question *q, const struct tb_group *g,
                     const struct tb_recall *recall)
{
    const struct tb_declared_blend *d = &g->declared;
    struct swaps s = { .v = v, .first = v->n_power };
    size_t most = v->n_power + SWAPS_MOST;
    struct tb_trial a;

    tb_trial_open(&a, q->ev, d);
    for (size_t i = 0; i < tb_ref_burn_swap_n && v->n_power < most; i++) {
        int from = model_by_key(q->ev, tb_ref_burn_swap[i].declared),
            to = model_by_key(q->ev, tb_ref_burn_swap[i].instead);

        for (int k = 0; k < d->n_shown; k++)
            if (d->shown[k] == from && from >= 0 && to >= 0 && v->n_power < most) {
                struct tb_blend b = replaced(&d->blend, from, to);

                add_swap(&s, &a, g, &b);
            }
    }
    tb_recall_each(recall, weigh_piece, &s, (v->n_power - s.first) * TB_TRIAL_PIECES);
    for (size_t i = 0; i < v->n_power - s.first; i++) {
        tb_trial_take(&v->power[s.first + i], s.burns[i]);
        tb_trial_burns_free(s.burns[i]);
    }
    tb_trial_close(&a);
}

/* Each part by its own declaration; parts that share one share the table too. */
void tb_power_table(struct tb_verdict *v, const struct tb_question *q, const struct tb_recall *recall)
{
    for (size_t g = 0; g < q->n; g++)
        if (g == 0 || !q->group[g].spread)
            swaps_of(v, q, &q->group[g], recall);
}
