/* trial_open.c - what a declaration is held against, laid out for the kernel: priors, and what every cue changes. */
#include "evidence/chances.h"
#include "evidence/trial.h"

#include <math.h>
#include <stdlib.h>

void tb_trial_look(struct tb_observation *o, const struct tb_evidence *ev)
{
    for (int c = 0; c < ev->channels; c++)
        o->looked[c] = !ev->channel[c].bench;
}

/* The pure fibres come first: they are needed for the odd burn only. */
static void add_bare(struct tb_shortlist *list, const struct tb_evidence *ev)
{
    for (int f = 0; f < ev->fibres; f++) {
        TB_PUSH_ROOM(list->entry, list->n, list->cap);
        list->entry[list->n++] =
            (struct tb_entry){ .blend = { .n = 1, .fibre = { f }, .share = { 1 } }, .log_weight = -INFINITY };
    }
}

static enum tb_trial_kind kind_of(const struct tb_entry *e)
{
    return e->log_weight == -INFINITY ? TB_TRIAL_BARE
           : e->blend.n == 1          ? (e->declared ? TB_TRIAL_PURE : TB_TRIAL_PURE_ELSE)
           : e->declared              ? TB_TRIAL_BLEND
                                      : TB_TRIAL_BLEND_ELSE;
}

/* Lanes by kind, each kind filled up to whole chunks. */
static void lay_out(struct tb_trial *a)
{
    size_t *lane = tb_arena_alloc(&a->mem, (a->list.n + 1) * sizeof *lane), n[TB_TRIAL_KINDS] = { 0 };

    for (size_t i = 0; i < a->list.n; i++)
        n[kind_of(&a->list.entry[i])]++;
    n[TB_TRIAL_BOUND] = (n[TB_TRIAL_BLEND_ELSE] + TB_TRIAL_BOUND_OF - 1) / TB_TRIAL_BOUND_OF;
    for (int k = 0; k < TB_TRIAL_KINDS; k++) {
        a->from[k + 1] = a->from[k] + (n[k] + TB_CHUNK - 1) / TB_CHUNK;
        n[k] = a->from[k] * TB_CHUNK;
    }
    for (size_t i = 0; i < a->list.n; i++)
        lane[i] = n[kind_of(&a->list.entry[i])]++;
    a->lane = lane;
}

static double *lanes(struct tb_trial *a)
{
    return tb_arena_alloc(&a->mem, a->from[TB_TRIAL_KINDS] * TB_CHUNK * sizeof(double));
}

/* The lanes that a lane of the bounds stands for: from .. end - 1. */
static size_t bounded(size_t *end, const struct tb_trial *a, size_t lane)
{
    size_t from = a->from[TB_TRIAL_BLEND_ELSE] * TB_CHUNK +
                  (lane - a->from[TB_TRIAL_BOUND] * TB_CHUNK) * TB_TRIAL_BOUND_OF,
           all = a->from[TB_TRIAL_BOUND] * TB_CHUNK;

    *end = from + TB_TRIAL_BOUND_OF < all ? from + TB_TRIAL_BOUND_OF : all;
    return from;
}

void tb_trial_bound(double *lanes, const struct tb_trial *a)
{
    for (size_t l = a->from[TB_TRIAL_BOUND] * TB_CHUNK; l < a->from[TB_TRIAL_KINDS] * TB_CHUNK; l++) {
        size_t end, k = bounded(&end, a, l);

        for (lanes[l] = 0; k < end; k++)
            lanes[l] = lanes[k] > lanes[l] ? lanes[k] : lanes[l];
    }
}

/* What was believed of all that a lane stands for. */
static void add_up_priors(struct tb_trial *a)
{
    for (size_t l = a->from[TB_TRIAL_BOUND] * TB_CHUNK; l < a->from[TB_TRIAL_KINDS] * TB_CHUNK; l++) {
        size_t end, k = bounded(&end, a, l);

        for (a->prior[l] = 0; k < end; k++)
            a->prior[l] += a->prior[k];
    }
}

/* What the lanes are, and what was believed of them before any burn. */
static void take_priors(struct tb_trial *a)
{
    double **one_each[] = { &a->prior, &a->base[0], &a->base[1], &a->work };

    for (size_t i = 0; i < TB_COUNT(one_each); i++)
        *one_each[i] = lanes(a);
    for (size_t i = 0; i < a->list.n; i++) {
        size_t lane = a->lane[i];

        a->prior[lane] = exp(a->list.entry[i].log_weight);
        a->base[0][lane] = a->base[1][lane] = 1;
    }
    add_up_priors(a);
}

/* p^v over (1 - p)^v is what the cue changes when it is seen; a general cue was not looked for beside its kinds. */
static void take_cue(struct tb_trial *a, int cue, const double *chance)
{
    const struct tb_evidence *ev = a->ev;
    size_t n = a->from[TB_TRIAL_KINDS] * TB_CHUNK;
    double weight = tb_weight_of(ev, cue), *seen = a->seen[cue] = lanes(a), *none = a->work;
    bool counted = !tb_cue_general(ev, cue);

    for (size_t l = 0; l < n; l++)
        seen[l] = none[l] = 1;
    for (size_t i = 0; i < a->list.n; i++) {
        seen[a->lane[i]] = chance[i];
        none[a->lane[i]] = 1 - chance[i];
    }
    ev->kernel->power(seen, NULL, weight, a->from[TB_TRIAL_KINDS]);
    if (!counted) {
        tb_trial_bound(seen, a);
        return;
    }
    ev->kernel->power(none, NULL, weight, a->from[TB_TRIAL_KINDS]);
    if (ev->cue[cue].general >= 0 || ev->cue[cue].implied)
        a->open[cue] = lanes(a);
    for (size_t l = 0; l < n; l++) {
        seen[l] /= none[l];
        a->base[ev->cue[cue].telling][l] *= none[l];
        if (a->open[cue])
            a->open[cue][l] = 1 / none[l];
    }
    tb_trial_bound(seen, a);
    if (a->open[cue])
        tb_trial_bound(a->open[cue], a);
}

/* Every cue as if it were seen. */
static void take_cues(struct tb_trial *a)
{
    const struct tb_evidence *ev = a->ev;
    struct tb_terms all = { .n = 0 };
    double *chance;

    for (int c = 0; c < ev->cues; c++)
        if (tb_trial_cue(ev, c))
            all.term[all.n++] = (struct tb_term){ c, true, false };
    chance = tb_realloc(NULL, all.n * a->list.n + 1, sizeof *chance);
    tb_chances_take(chance, a->list.n, 1, ev, a->list.entry, a->list.n, &all);
    a->pure = tb_arena_alloc(&a->mem, (size_t)ev->fibres * TB_CUES_MOST * sizeof(double));
    for (size_t t = 0; t < all.n; t++) {
        int c = all.term[t].cue;

        take_cue(a, c, chance + t * a->list.n);
        for (int f = 0; f < ev->fibres; f++)
            a->pure[f * TB_CUES_MOST + c] = chance[(t + 1) * a->list.n - (size_t)(ev->fibres - f)];
    }
    tb_trial_bound(a->base[0], a);
    tb_trial_bound(a->base[1], a);
    free(chance);
}

void tb_trial_open(struct tb_trial *a, const struct tb_evidence *ev, const struct tb_declared_blend *d)
{
    struct tb_group bare = { .declared = *d, .sums = ev->prior_sums };

    *a = (struct tb_trial){ .ev = ev, .seed = 20 };
    tb_shortlist_make(&a->list, ev, &bare, NULL);
    a->list.group = NULL;
    a->log_else = a->list.log_else;
    add_bare(&a->list, ev);
    lay_out(a);
    take_priors(a);
    take_cues(a);
}

void tb_trial_close(struct tb_trial *a)
{
    tb_shortlist_free(&a->list);
    tb_arena_free(&a->mem);
}
