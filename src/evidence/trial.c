/* trial.c - burns drawn from the model, and whether each would contradict a declaration. */
#include "evidence/trial.h"

#include <math.h>
#include <stdlib.h>

#define DRAWS 400

/* A number from 0 to 1 by splitmix64: the same seed makes the same table every time. */
static double draw(struct tb_trial *a)
{
    uint64_t z = (a->seed += 0x9e3779b97f4a7c15u);

    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return (double)((z ^ (z >> 31)) >> 11) * 0x1p-53; /* 53 bits fill a double */
}

/* Seen while burning, not on the bench, and weighed as it is said: a finer word counts as its general cue. */
static bool burn_cue(const struct tb_evidence *ev, int cue)
{
    return !ev->channel[ev->cue[cue].channel].bench && ev->cue[cue].counts_as < 0;
}

/* A careful burn looks at every channel a flame shows. */
static void look_everywhere(struct tb_observation *o, const struct tb_evidence *ev)
{
    for (int c = 0; c < ev->channels; c++)
        o->looked[c] = !ev->channel[c].bench;
}

/* Worked out once and looked up hundreds of times a swap. */
static void take_logs(struct tb_trial *a)
{
    const struct tb_evidence *ev = a->ev;
    size_t cues = (size_t)ev->cues;
    double **one_each[] = { &a->rest, &a->telling, &a->weight, &a->base_rest, &a->base_telling };

    a->said = tb_arena_alloc(&a->mem, a->list.n * cues * sizeof *a->said);
    a->unsaid = tb_arena_alloc(&a->mem, a->list.n * cues * sizeof *a->unsaid);
    for (size_t i = 0; i < TB_COUNT(one_each); i++)
        *one_each[i] = tb_arena_alloc(&a->mem, a->list.n * sizeof(double));
    for (size_t i = 0; i < a->list.n; i++)
        for (int c = 0; c < ev->cues; c++) {
            double p, w = tb_weight_of(ev, c);

            if (!burn_cue(ev, c))
                continue;
            p = tb_cue_chance(ev, &a->list.entry[i].blend, c);
            a->said[i * cues + (size_t)c] = w * log(p);
            a->unsaid[i * cues + (size_t)c] = w * log1p(-p);
        }
}

/* A burn is weighed by what differs from a careful look at nothing, which most cues do not. */
static void take_base(struct tb_trial *a, const struct tb_terms *nothing)
{
    size_t cues = (size_t)a->ev->cues;

    for (size_t i = 0; i < a->list.n; i++)
        for (size_t t = 0; t < nothing->n; t++) {
            int c = nothing->term[t].cue;

            *(a->ev->cue[c].telling ? &a->base_telling[i] : &a->base_rest[i]) +=
                a->unsaid[i * cues + (size_t)c];
        }
}

/* The pure fibres are added without weight: they are needed for the odd burn only. */
void tb_trial_open(struct tb_trial *a, const struct tb_evidence *ev, const struct tb_declared_blend *d)
{
    struct tb_group bare = { .declared = *d, .sums = ev->prior_sums };
    struct tb_observation careful = { 0 };
    struct tb_terms nothing;

    *a = (struct tb_trial){ .ev = ev, .seed = 20 };
    tb_shortlist_make(&a->list, ev, &bare);
    a->list.group = NULL;
    for (int f = 0; f < ev->fibres; f++) {
        a->pure[f] = (int)a->list.n;
        TB_PUSH_ROOM(a->list.entry, a->list.n, a->list.cap);
        a->list.entry[a->list.n++] =
            (struct tb_entry){ { .n = 1, .fibre = { f }, .share = { 1 } }, false, -INFINITY };
    }
    take_logs(a);
    look_everywhere(&careful, ev);
    tb_terms_of(&nothing, ev, &careful);
    take_base(a, &nothing);
}

void tb_trial_close(struct tb_trial *a)
{
    tb_shortlist_free(&a->list);
    tb_arena_free(&a->mem);
}

/* A pure cloth, as often as each comes. */
static struct tb_blend any_cloth(struct tb_trial *a)
{
    double r = draw(a);
    int f = 0;

    while (f + 1 < a->ev->fibres && (r -= a->ev->odd[f]) > 0)
        f++;
    return (struct tb_blend){ .n = 1, .fibre = { f }, .share = { 1 } };
}

/* One burn of a blend, every channel looked at; now and then an odd one, and now and then of another cloth. */
static void draw_burn(struct tb_observation *o, struct tb_trial *a, const struct tb_blend *b)
{
    const struct tb_evidence *ev = a->ev;
    struct tb_blend as = *b, firm = *b;

    if (draw(a) < ev->fig.bench_error)
        as = firm = any_cloth(a);
    else if (draw(a) < (b->n > 1 ? ev->fig.odd_blend : ev->fig.odd_pure))
        as = any_cloth(a);
    for (int c = 0; c < ev->cues; c++) {
        o->sight[c] = TB_SIGHT_NONE;
        if (burn_cue(ev, c) && draw(a) < tb_cue_chance(ev, ev->cue[c].telling ? &firm : &as, c))
            o->sight[c] = TB_SIGHT_SEEN;
    }
}

/* From the logarithms of the pure fibres that are worked out already. */
static void take_strange(struct tb_strange *out, const struct tb_trial *a)
{
    double odd = 0, any = 0, most_odd = -INFINITY, most_any = -INFINITY;

    for (int f = 0; f < a->ev->fibres; f++) {
        most_odd = fmax(most_odd, a->rest[a->pure[f]]);
        most_any = fmax(most_any, a->rest[a->pure[f]] + a->telling[a->pure[f]]);
    }
    for (int f = 0; f < a->ev->fibres; f++) {
        odd += a->ev->odd[f] * exp(a->rest[a->pure[f]] - most_odd);
        any += a->ev->odd[f] * exp(a->rest[a->pure[f]] + a->telling[a->pure[f]] - most_any);
    }
    /* cppcheck-suppress invalidFunctionArg ; the model has fibres, and the weightiest of them makes each sum more than 0 */
    *out = (struct tb_strange){ most_odd + log(odd), most_any + log(any) };
}

/* Add log P(this burn | every entry) to the weights. */
static void weigh_burn(struct tb_trial *a, const struct tb_observation *o)
{
    const struct tb_evidence *ev = a->ev;
    size_t cues = (size_t)ev->cues;
    signed char say[TB_CUES_MOST] = { 0 }; /* 1: seen; -1: open, its absence says nothing after all */
    struct tb_terms t;
    struct tb_strange strange;

    for (int c = 0; c < ev->cues; c++)
        say[c] = burn_cue(ev, c) ? -1 : 0;
    tb_terms_of(&t, ev, o);
    for (size_t i = 0; i < t.n; i++)
        say[t.term[i].cue] = t.term[i].seen ? 1 : 0;
    for (size_t i = 0; i < a->list.n; i++) {
        a->rest[i] = a->base_rest[i];
        a->telling[i] = a->base_telling[i];
    }
    for (int c = 0; c < ev->cues; c++) {
        double *to = ev->cue[c].telling ? a->telling : a->rest;
        bool counted = say[c] != 0 && !tb_cue_general(ev, c);

        for (size_t i = 0; say[c] != 0 && i < a->list.n; i++)
            to[i] += (say[c] > 0 ? a->said[i * cues + (size_t)c] : 0) -
                     (counted ? a->unsaid[i * cues + (size_t)c] : 0);
    }
    take_strange(&strange, a);
    for (size_t i = 0; i < a->list.n; i++)
        a->weight[i] += tb_join_logs(ev, a->list.entry[i].blend.n, a->telling[i], a->rest[i], &strange);
}

/* One result of an exclusive test on a blend, and what it says of every entry. */
static void weigh_test(struct tb_trial *a, const struct tb_blend *b, const struct tb_channel *ch)
{
    double r = draw(a), all = 0;
    int c = ch->first;

    for (int k = ch->first; k < ch->first + ch->n; k++)
        all += tb_cue_chance(a->ev, b, k);
    for (r *= all; c + 1 < ch->first + ch->n && (r -= tb_cue_chance(a->ev, b, c)) > 0; c++)
        ;
    for (size_t i = 0; i < a->list.n; i++)
        a->weight[i] += tb_weight_of(a->ev, c) * log(tb_cue_chance(a->ev, &a->list.entry[i].blend, c));
}

/* By the same threshold as a verdict. */
static bool contradicts(const struct tb_trial *a)
{
    return tb_bounded(&a->ev->bounds, tb_shortlist_log_ratio(&a->list, a->weight)) <
           log(a->ev->set.contradicts_below);
}

/* Each simulated cloth starts from what was believed before any burn. */
static void prior(struct tb_trial *a)
{
    for (size_t i = 0; i < a->list.n; i++)
        a->weight[i] = a->list.entry[i].log_weight;
}

/* Two bolts of one lot, burned by one person, say less than two of two lots (docs/method.md, section 6). */
static void damp(struct tb_trial *a)
{
    for (size_t i = 0; i < a->list.n; i++) {
        double before = a->list.entry[i].log_weight;

        if (before > -INFINITY)
            a->weight[i] = before + (a->weight[i] - before) / (1 + a->ev->fig.icc_lot);
    }
}

/* The second burn goes on from the first, as it does at the bench. */
void tb_trial_run(struct tb_power *p, struct tb_trial *a, const struct tb_blend *b,
                  const struct tb_channel *test)
{
    struct tb_observation o = { 0 };
    int one = 0, two = 0, tested = 0;

    look_everywhere(&o, a->ev);
    for (int n = 0; n < DRAWS; n++) {
        prior(a);
        draw_burn(&o, a, b);
        weigh_burn(a, &o);
        one += contradicts(a);
        if (test) {
            weigh_test(a, b, test);
            tested += contradicts(a);
            prior(a);
            weigh_burn(a, &o);
        }
        draw_burn(&o, a, b);
        weigh_burn(a, &o);
        damp(a);
        two += contradicts(a);
    }
    p->draws = DRAWS;
    p->one = (double)one / DRAWS;
    p->two = (double)two / DRAWS;
    p->with_test = test ? (double)tested / DRAWS : NAN;
}
