#include "evidence/declared.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* share: of mass, 0..1; NAN where it was not said, and then for the fibre as a whole. False when there is no room. */
static bool add_blend(struct tb_blend *b, int fibre, double share)
{
    for (int i = 0; i < b->n; i++)
        if (b->fibre[i] == fibre) {
            b->share[i] += share;
            return true;
        }
    if (b->n == TB_BLEND_MOST)
        return false;
    b->fibre[b->n] = fibre;
    b->share[b->n++] = share;
    return true;
}

static bool take_share(struct tb_declared *out, const struct tb_evidence *ev, const struct tb_share *s,
                       struct tb_text *reason, struct tb_text *notes)
{
    int m;

    if (s->fibre == TB_FIBRE_OTHER && s->percent < TB_MINOR_PERCENT)
        return true;
    if (s->fibre < 0) {
        tb_text_addf(reason, "the declaration leaves open what a part of the cloth is made of");
        return false;
    }
    m = tb_model_fibre(ev, s->fibre);
    if (m < 0) {
        tb_text_addf(reason,
                     "nothing published says how %s burns, so a burn can neither support nor refute it",
                     tb_fibre_at(s->fibre)->name);
        return false;
    }
    if (ev->fibre[m] != s->fibre)
        tb_text_addf(
            notes,
            "%s is judged as %s: it burns the same way, and too little is published of its own burning.\n",
            tb_fibre_at(s->fibre)->name, tb_fibre_at(ev->fibre[m])->name);
    if (add_blend(&out->blend, m, s->percent / 100))
        return true;
    tb_text_addf(reason, "a burn cannot be held against a declaration of more than %d fibres", TB_BLEND_MOST);
    return false;
}

/* Shares that add up to 1: as said where all were; else those unsaid get equal parts of what the others leave. */
static void fill_shares(struct tb_declared *d)
{
    struct tb_blend *b = &d->blend;
    double said = 0, unsaid = 0;

    for (int i = 0; i < b->n; i++) {
        said += isnan(b->share[i]) ? 0 : b->share[i];
        unsaid += isnan(b->share[i]);
    }
    d->exact = unsaid < 1;
    for (int i = 0; i < b->n; i++)
        b->share[i] = d->exact             ? b->share[i] / said
                      : said >= 1          ? 1.0 / b->n
                      : isnan(b->share[i]) ? (1 - said) / unsaid
                                           : b->share[i];
}

bool tb_declared_from(struct tb_declared *out, const struct tb_evidence *ev, const struct tb_part *part,
                      struct tb_text *reason, struct tb_text *notes)
{
    struct tb_blend *b = &out->blend;
    bool unsaid[TB_BLEND_MOST] = { false };

    memset(out, 0, sizeof *out);
    for (size_t i = 0; i < part->n; i++)
        if (!take_share(out, ev, &part->share[i], reason, notes))
            return false;
    for (int i = 0; i < b->n; i++)
        unsaid[i] = isnan(b->share[i]);
    fill_shares(out);
    for (int i = 0; i < b->n; i++)
        if (!unsaid[i] && b->share[i] * 100 < TB_MINOR_PERCENT)
            out->minor[out->n_minor++] = b->fibre[i];
        else
            out->shown[out->n_shown++] = b->fibre[i];
    if (out->n_shown == 0)
        tb_text_addf(reason, b->n ? "no fibre of the declaration is plentiful enough to show in a flame"
                                  : "the declaration names no fibre");
    return out->n_shown > 0;
}

/* --- the compositions a declaration leaves open ------------------------------------------------------------ */

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

static int chosen(struct tb_blend *set, const struct tb_declared *d, unsigned bits)
{
    set->n = 0;
    for (int i = 0; i < d->n_shown; i++)
        if (bits & 1u << i)
            set->fibre[set->n++] = d->shown[i];
    return set->n;
}

static unsigned all_bits(const struct tb_declared *d)
{
    return (1u << d->n_shown) - 1;
}

/* The declared blend, or what is left of it where only some of its fibres are chosen: shares as they stand to each
 * other. */
static struct tb_blend as_said(const struct tb_declared *d, unsigned bits)
{
    struct tb_blend out = { .n = 0 };
    double sum = 0;

    if (bits == all_bits(d))
        return d->blend;
    for (int i = 0; i < d->n_shown; i++)
        for (int k = 0; k < d->blend.n && bits & 1u << i; k++)
            if (d->blend.fibre[k] == d->shown[i]) {
                sum += d->blend.share[k];
                (void)add_blend(&out, d->shown[i], d->blend.share[k]);
            }
    for (int i = 0; i < out.n; i++)
        out.share[i] /= sum;
    return out;
}

void tb_declared_walk(const struct tb_declared *d, unsigned bits, tb_blend_fn *fn, void *to)
{
    struct walk how = { fn, to, 0, 0 };
    struct tb_blend set;
    int n = chosen(&set, d, bits), sets = 0;
    unsigned minors = 1u << d->n_minor;
    double exact = bits == all_bits(d) && d->exact ? 0.5 : 0;

    for (unsigned m = 0; m < minors; m++)
        sets += n + __builtin_popcount(m) <= 3;
    if (sets == 0)
        exact = 1;
    if (exact > 0) {
        struct tb_blend said = as_said(d, bits);

        fn(to, &said, exact);
    }
    for (unsigned m = 0; m < minors; m++) {
        if (n + __builtin_popcount(m) > 3)
            continue;
        set.n = n;
        for (int i = 0; i < d->n_minor; i++)
            if (m & 1u << i)
                set.fibre[set.n++] = d->minor[i];
        walk_set(&how, &set, set.n - n, (1 - exact) / sets);
    }
}

struct weigh {
    const struct tb_evidence *ev;
    const struct tb_pattern *pattern;
    size_t n;
    double most, sum; /* running log-sum-exp */
};

static void weigh_one(void *to, const struct tb_blend *b, double weight)
{
    struct weigh *w = to;
    double log_like = log(weight);

    for (size_t o = 0; o < w->n; o++) {
        const struct tb_pattern *p = &w->pattern[o];
        double telling, rest;

        tb_blend_logs(&telling, &rest, w->ev, b, p->terms);
        log_like += tb_pattern_power(p) * tb_join_logs(w->ev, b->n, telling, rest, p->odd);
    }
    if (log_like > w->most) {
        w->sum = w->sum * exp(w->most - log_like) + 1;
        w->most = log_like;
    } else {
        w->sum += exp(log_like - w->most);
    }
}

double tb_declared_log_evidence(const struct tb_evidence *ev, const struct tb_declared *d, unsigned bits,
                                const struct tb_pattern *pattern, size_t n)
{
    struct weigh w = { ev, pattern, n, -INFINITY, 0 };

    tb_declared_walk(d, bits, weigh_one, &w);
    return w.most + log(w.sum);
}

/* --- what shows the same classes ---------------------------------------------------------------------------- */

unsigned long long tb_declared_classes(const struct tb_evidence *ev, const struct tb_declared *d,
                                       unsigned bits)
{
    unsigned long long classes = 0;

    for (int i = 0; i < d->n_shown; i++)
        if (bits & 1u << i)
            classes |= 1ull << ev->class_of[d->shown[i]];
    return classes;
}

/* Which of the choices shows just these classes, minor fibres' classes allowed besides; n when none does. */
static size_t matching(unsigned long long shown, const unsigned long long *must, unsigned long long minor,
                       size_t n)
{
    for (size_t i = 0; i < n; i++)
        if ((shown & must[i]) == must[i] && (shown & ~(must[i] | minor)) == 0)
            return i;
    return n;
}

void tb_declared_split(double *out, const struct tb_evidence *ev, const struct tb_declared *d,
                       const unsigned long long *must, size_t n, const struct tb_sums *s)
{
    unsigned long long minor = 0;

    for (int i = 0; i < d->n_minor; i++)
        minor |= 1ull << ev->class_of[d->minor[i]];
    for (size_t i = 0; i <= n; i++)
        out[i] = 0;
    for (int i = 0; i < ev->fibres; i++) {
        unsigned long long a = 1ull << ev->class_of[i];

        out[matching(a, must, minor, n)] += s->one[i];
        for (int j = i + 1; j < ev->fibres; j++) {
            unsigned long long b = a | 1ull << ev->class_of[j];

            out[matching(b, must, minor, n)] += s->two[i][j];
            for (int k = j + 1; s->three && k < ev->fibres; k++)
                out[matching(b | 1ull << ev->class_of[k], must, minor, n)] +=
                    s->three[tb_triple(ev->fibres, i, j, k)];
        }
    }
}
