/*
 * power.c - what one careful burn would catch: simulation from the model.
 *
 * "Careful" looks at every channel. Burns are drawn from the false composition as the model says burns come
 * about: cue by cue, or now and then like some other fibre's; each is then judged against the declaration. No
 * hit rate of burn tests has been published, so this is the model's own account of itself, and says so.
 */
#include "evidence/shortlist.h"

#include "gen/ref_burn_swap.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#define DRAWS 400
#define SWAPS_MOST 4

/* Every composition the declaration is held against, with the logarithms of all its cues. */
struct arena {
    const struct tb_evidence *ev;
    struct tb_shortlist list; /* declared and everything else, log_weight: the prior of each */
    double *said, *unsaid;    /* [entry * cues + cue] */
    double *rest, *telling, *weight;
    double *base_rest, *base_telling; /* every channel looked at, nothing seen */
    int pure[TB_FIBRES_MOST];         /* entry of each pure fibre, appended with no weight */
    uint64_t seed;
};

/* splitmix64: the same table every time */
static double draw(struct arena *a)
{
    uint64_t z = (a->seed += 0x9e3779b97f4a7c15u);

    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return (double)((z ^ (z >> 31)) >> 11) / 9007199254740992.0;
}

static bool burn_cue(const struct tb_evidence *ev, int cue)
{
    return !ev->channel[ev->cue[cue].channel].bench;
}

static void take_logs(struct arena *a)
{
    const struct tb_evidence *ev = a->ev;
    size_t cues = (size_t)ev->cues;

    a->said = tb_array(double, a->list.n *cues);
    a->unsaid = tb_array(double, a->list.n *cues);
    a->rest = tb_array(double, a->list.n);
    a->telling = tb_array(double, a->list.n);
    a->weight = tb_array(double, a->list.n);
    a->base_rest = tb_array(double, a->list.n);
    a->base_telling = tb_array(double, a->list.n);
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

static void take_base(struct arena *a, const struct tb_terms *nothing)
{
    size_t cues = (size_t)a->ev->cues;

    for (size_t i = 0; i < a->list.n; i++)
        for (size_t t = 0; t < nothing->n; t++) {
            int c = nothing->term[t].cue;

            *(a->ev->cue[c].telling ? &a->base_telling[i] : &a->base_rest[i]) +=
                a->unsaid[i * cues + (size_t)c];
        }
}

static void open_arena(struct arena *a, const struct tb_question *q, const struct tb_group *g,
                       const struct tb_observation *careful)
{
    struct tb_group bare = { .declared = g->declared, .sums = q->ev->prior_sums };
    struct tb_terms nothing;

    *a = (struct arena){ .ev = q->ev, .seed = 20 };
    tb_shortlist_make(&a->list, q->ev, &bare);
    a->list.group = NULL;
    for (int f = 0; f < q->ev->fibres; f++) {
        a->pure[f] = (int)a->list.n;
        TB_PUSH_ROOM(a->list.entry, a->list.n, a->list.cap);
        a->list.entry[a->list.n++] =
            (struct tb_entry){ { .n = 1, .fibre = { f }, .share = { 1 } }, false, -INFINITY };
    }
    take_logs(a);
    tb_terms_of(&nothing, q->ev, careful);
    take_base(a, &nothing);
}

static void close_arena(struct arena *a)
{
    tb_shortlist_free(&a->list);
    free(a->said);
    free(a->unsaid);
    free(a->rest);
    free(a->telling);
    free(a->weight);
    free(a->base_rest);
    free(a->base_telling);
}

/* One burn of a blend, every channel looked at. */
static void draw_burn(struct tb_observation *o, struct arena *a, const struct tb_blend *b)
{
    const struct tb_evidence *ev = a->ev;
    struct tb_blend as = *b;

    if (draw(a) < (b->n > 1 ? ev->fig.odd_blend : ev->fig.odd_pure)) {
        double r = draw(a);
        int f = 0;

        while (f + 1 < ev->fibres && (r -= ev->odd[f]) > 0)
            f++;
        as = (struct tb_blend){ .n = 1, .fibre = { f }, .share = { 1 } };
    }
    for (int c = 0; c < ev->cues; c++) {
        o->sight[c] = TB_SIGHT_NONE;
        if (burn_cue(ev, c) && draw(a) < tb_cue_chance(ev, ev->cue[c].telling ? b : &as, c))
            o->sight[c] = TB_SIGHT_SEEN;
    }
}

/* Add log P(this burn | every entry) to the weights. */
static void weigh_burn(struct arena *a, const struct tb_observation *o)
{
    const struct tb_evidence *ev = a->ev;
    size_t cues = (size_t)ev->cues;
    signed char say[TB_CUES_MOST] = { 0 }; /* 1: seen; -1: open, its absence says nothing after all */
    struct tb_terms t;
    double odd[TB_FIBRES_MOST], most = -INFINITY, sum = 0;

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
    for (int f = 0; f < ev->fibres; f++) {
        odd[f] = log(ev->odd[f]) + a->rest[a->pure[f]];
        most = odd[f] > most ? odd[f] : most;
    }
    for (int f = 0; f < ev->fibres; f++)
        sum += exp(odd[f] - most);
    for (size_t i = 0; i < a->list.n; i++)
        a->weight[i] +=
            tb_join_logs(ev, a->list.entry[i].blend.n, a->telling[i], a->rest[i], most + log(sum));
}

/* One result of an exclusive test on a blend, and what it says of every entry. */
static void weigh_test(struct arena *a, const struct tb_blend *b, const struct tb_channel *ch)
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

static bool contradicts(const struct arena *a)
{
    return tb_shortlist_log_ratio(&a->list, a->weight) < log(a->ev->set.contradicts_below);
}

static void prior(struct arena *a)
{
    for (size_t i = 0; i < a->list.n; i++)
        a->weight[i] = a->list.entry[i].log_weight;
}

static void simulate(struct tb_power *p, struct arena *a, const struct tb_blend *b,
                     const struct tb_channel *test)
{
    struct tb_observation o = { 0 };
    int one = 0, two = 0, tested = 0;

    for (int c = 0; c < a->ev->channels; c++)
        o.looked[c] = !a->ev->channel[c].bench;
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
        two += contradicts(a);
    }
    p->draws = DRAWS;
    p->one = (double)one / DRAWS;
    p->two = (double)two / DRAWS;
    p->with_test = test ? (double)tested / DRAWS : NAN;
}

/* --- which swaps ---------------------------------------------------------------------------------------------- */

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

static char *name_of(const struct tb_evidence *ev, const struct tb_blend *b)
{
    struct tb_text t = { 0 };

    for (int i = 0; i < b->n; i++)
        tb_text_addf(&t, "%s%.0f %% %s", i ? ", " : "", 100 * b->share[i],
                     tb_fibre_at(ev->fibre[b->fibre[i]])->name);
    return tb_text_take(&t);
}

static bool burns_alike(const struct tb_evidence *ev, const struct tb_blend *b, const struct tb_declared *d)
{
    unsigned long long classes = 0, declared = tb_declared_classes(ev, d, (1u << d->n_shown) - 1);

    for (int i = 0; i < b->n; i++)
        if (b->share[i] * 100 >= TB_MINOR_PERCENT)
            classes |= 1ull << ev->class_of[b->fibre[i]];
    return classes == declared;
}

static void add_swap(struct tb_verdict *v, struct arena *a, const struct tb_group *g,
                     const struct tb_blend *b)
{
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
    simulate(&p, a, b, test);
    v->power = tb_realloc(v->power, v->n_power + 1, sizeof *v->power);
    v->power[v->n_power++] = p;
}

static void swaps_of(struct tb_verdict *v, const struct tb_question *q, const struct tb_group *g)
{
    const struct tb_declared *d = &g->declared;
    struct tb_observation careful = { 0 };
    size_t most = v->n_power + SWAPS_MOST;
    struct arena a;

    for (int c = 0; c < q->ev->channels; c++)
        careful.looked[c] = !q->ev->channel[c].bench;
    open_arena(&a, q, g, &careful);
    for (size_t i = 0; i < tb_ref_burn_swap_n && v->n_power < most; i++) {
        int from = model_by_key(q->ev, tb_ref_burn_swap[i].declared),
            to = model_by_key(q->ev, tb_ref_burn_swap[i].instead);

        for (int k = 0; k < d->n_shown; k++)
            if (d->shown[k] == from && from >= 0 && to >= 0 && v->n_power < most) {
                struct tb_blend b = replaced(&d->blend, from, to);

                add_swap(v, &a, g, &b);
            }
    }
    close_arena(&a);
}

/* Each part by its own declaration; parts that share one share the table too. */
void tb_power_table(struct tb_verdict *v, const struct tb_question *q)
{
    for (size_t g = 0; g < q->n; g++)
        if (g == 0 || !q->group[g].spread)
            swaps_of(v, q, &q->group[g]);
}
