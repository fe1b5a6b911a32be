/*
 * walk.c - the compositions a declaration leaves open, gone through one by one, and how likely they make what
 * was seen.
 */
#include "evidence/kept.h"

#include <math.h>

struct walk {
    tb_blend_fn *fn;
    void *to;
    double weight;
    int count; /* first pass: how many */
};

/* Every way to share the steps among the fibres of b from number `at` on; the last `minors` hold 10 % at most. */
static void share_out(struct walk *w, struct tb_blend *b, int minors, int at, int left)
{
    bool minor = at >= b->n - minors;

    if (at == b->n - 1) {
        if (left < 1 || (minor && left > TB_SHOWN_STEPS))
            return;
        b->share[at] = (double)left / TB_STEPS;
        w->count++;
        if (w->fn)
            w->fn(w->to, b, w->weight);
        return;
    }
    for (int k = 1; k < left && (!minor || k <= TB_SHOWN_STEPS); k++) {
        b->share[at] = (double)k / TB_STEPS;
        share_out(w, b, minors, at + 1, left - k);
    }
}

/* The grid of one set of fibres, total weight `weight`. Minor ones first in order of numbers, but kept last. */
static void walk_set(const struct walk *how, const struct tb_blend *set, int minors, double weight)
{
    struct walk count = { 0 }, go = { how->fn, how->to, 0, 0 };
    struct tb_blend b = *set;

    share_out(&count, &b, minors, 0, TB_STEPS);
    go.weight = weight / count.count;
    share_out(&go, &b, minors, 0, TB_STEPS);
}

/* The shown fibres that the bits name, in their order; returns how many. */
static int chosen(struct tb_blend *set, const struct tb_declared_blend *d, unsigned bits)
{
    set->n = 0;
    for (int i = 0; i < d->n_shown; i++)
        if (bits & 1u << i)
            set->fibre[set->n++] = d->shown[i];
    return set->n;
}

static unsigned all_bits(const struct tb_declared_blend *d)
{
    return (1u << d->n_shown) - 1;
}

/*
 * The declared blend, or what is left of it where only some of its fibres are chosen, their shares in
 * proportion.
 */
static struct tb_blend as_said(const struct tb_declared_blend *d, unsigned bits)
{
    struct tb_blend out = { .n = 0 };
    double sum = 0;

    if (bits == all_bits(d))
        return d->blend;
    for (int i = 0; i < d->n_shown; i++)
        for (int k = 0; k < d->blend.n && bits & 1u << i; k++)
            if (d->blend.fibre[k] == d->shown[i]) {
                sum += d->blend.share[k];
                out.fibre[out.n] = d->shown[i];
                out.share[out.n++] = d->blend.share[k];
            }
    for (int i = 0; i < out.n; i++)
        out.share[i] /= sum;
    return out;
}

/*
 * Half of the weight is on the shares as declared, the other half on every mixture of these fibres: a supplier who
 * tells the truth about the fibres may still be off by some percent.
 */
static void walk_bare(const struct tb_declared_blend *d, unsigned bits, tb_blend_fn *fn, void *to,
                      double weight)
{
    struct walk how = { fn, to, 0, 0 };
    struct tb_blend set = { .n = 0 };
    int n = chosen(&set, d, bits), sets = 0;
    unsigned minors = 1u << d->n_minor;
    double exact = bits == all_bits(d) && d->exact ? 0.5 : 0;

    for (unsigned m = 0; m < minors; m++)
        sets += n + __builtin_popcount(m) <= 3;
    if (sets == 0)
        exact = 1;
    if (exact > 0) {
        struct tb_blend said = as_said(d, bits);

        fn(to, &said, weight * exact);
    }
    for (unsigned m = 0; m < minors; m++) {
        if (n + __builtin_popcount(m) > 3)
            continue;
        set.n = n;
        for (int i = 0; i < d->n_minor; i++)
            if (m & 1u << i)
                set.fibre[set.n++] = d->minor[i];
        walk_set(&how, &set, set.n - n, weight * (1 - exact) / sets);
    }
}

/* The weight of a finish: those named share what they have, the others are as rare as the table says. */
static double weight_of(const struct tb_evidence *ev, const struct tb_declared_blend *d,
                        const struct tb_blend *b, int z, int named)
{
    double all = named ? ev->fig.finish_named : 0;

    if (d->finish & 1u << z)
        return tb_finish_on(ev, z, true, b) ? all / named : 0;
    return tb_finish_on(ev, z, false, b) ? (1 - all) * ev->finish[z].unnamed : 0;
}

/* A finish is weighed on the shares as they were said: on others it would do the same. */
void tb_declared_walk(const struct tb_evidence *ev, const struct tb_declared_blend *d, unsigned bits,
                      tb_blend_fn *fn, void *to)
{
    struct tb_blend b = as_said(d, bits);
    int named = 0, n = (int)tb_finish_count();
    double bare = 1;

    for (int z = 0; z < n; z++)
        named += (d->finish & 1u << z) && tb_finish_on(ev, z, true, &b);
    for (int z = 0; z < n; z++) {
        double weight = weight_of(ev, d, &b, z, named);

        if (weight <= 0)
            continue;
        b.finish = z + 1;
        b.named = d->finish & 1u << z;
        fn(to, &b, weight);
        bare -= weight;
    }
    walk_bare(d, bits, fn, to, bare);
}

struct weigh {
    const struct tb_evidence *ev;
    const struct tb_pattern *pattern;
    size_t n;
    double most, sum; /* running log-sum-exp */
};

/* A running sum of exponentials: the largest so far is taken out, so that nothing overflows. */
static void add(struct weigh *w, double log_like)
{
    if (log_like > w->most) {
        w->sum = w->sum * exp(w->most - log_like) + 1;
        w->most = log_like;
    } else {
        w->sum += exp(log_like - w->most);
    }
}

static void weigh_one(void *to, const struct tb_blend *b, double weight)
{
    struct weigh *w = to;

    add(w, log(weight) + tb_patterns_log(w->ev, b, w->pattern, w->n));
}

/* The same of those that are kept, in the same order. */
static void weigh_kept(struct weigh *w, struct tb_kept *k)
{
    for (size_t p = 0; p < w->n; p++)
        tb_kept_know(k, w->ev, w->pattern[p].terms);
    for (size_t i = 0; i < k->n; i++) {
        double sum = 0;

        for (size_t p = 0; p < w->n; p++) {
            double chance[TB_CUES_MOST];
            struct tb_logs l;

            tb_kept_chances(chance, k, w->ev, i, w->pattern[p].terms);
            tb_chance_logs(&l, w->ev, chance, w->pattern[p].terms);
            sum += w->pattern[p].power * tb_join_logs(w->ev, k->blend[i].n, &l, &w->pattern[p].strange);
        }
        add(w, log(k->weight[i]) + sum);
    }
}

double tb_declared_log_evidence(const struct tb_evidence *ev, const struct tb_declared_blend *d,
                                unsigned bits, const struct tb_pattern *pattern, size_t n)
{
    struct weigh w = { ev, pattern, n, -INFINITY, 0 };

    if (d->kept && bits == all_bits(d))
        weigh_kept(&w, d->kept);
    else
        tb_declared_walk(ev, d, bits, weigh_one, &w);
    return w.most + log(w.sum);
}
