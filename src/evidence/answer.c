/*
 * answer.c - declared or not: parts judged apart and then together.
 *
 * Parts that share one declared composition may hold its fibres in any way that uses them all; parts with a
 * declaration of their own hold just that.
 */
#include "evidence/judge.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What a part may be made of under the declaration: the shown fibres as bits. */
struct choice {
    unsigned bits[TB_GROUPS_MOST];
};

/* Bit i stands for the i-th shown fibre, so a set of them is a number and all sets can be counted through. */
static unsigned all_bits(const struct tb_declared_blend *d)
{
    return (1u << d->n_shown) - 1;
}

/* Next choice of subsets for the spread parts, the others keeping all; false after the last. */
static bool advance(struct choice *c, const struct tb_question *q)
{
    for (size_t g = 0; g < q->n; g++) {
        if (!q->group[g].spread)
            continue;
        if (c->bits[g] < all_bits(&q->group[g].declared)) {
            c->bits[g]++;
            return true;
        }
        c->bits[g] = 1;
    }
    return false;
}

/* Where one part alone was burned, the others may hold what it does not. */
static bool uses_all(const struct choice *c, const struct tb_question *q)
{
    unsigned used = 0, need = 0;
    size_t parts = 0;

    for (size_t g = 0; g < q->n; g++)
        if (q->group[g].spread) {
            used |= c->bits[g];
            need = all_bits(&q->group[g].declared);
            parts++;
        }
    return parts == 1 || used == need;
}

/* Likelihoods of many burns are too small for a double; their logarithms are added without leaving the scale. */
static double log_add(double a, double b)
{
    double most = a > b ? a : b;

    return most == -INFINITY ? most : most + log(exp(a - most) + exp(b - most));
}

/* log P(seen | each part made of its choice), parts independent. */
static double log_choice(const struct tb_question *q, const struct choice *c)
{
    double sum = 0;

    for (size_t g = 0; g < q->n; g++) {
        const struct tb_group *p = &q->group[g];

        sum += tb_declared_log_evidence(q->ev, &p->declared, c->bits[g], p->pattern, p->n);
    }
    return sum;
}

/* Every way the parts may be made of the declared fibres; one at least. The list is yours to free. */
static size_t choices(struct choice **out, const struct tb_question *q)
{
    struct choice c, *list = NULL;
    size_t n = 0;

    for (size_t g = 0; g < q->n; g++)
        c.bits[g] = q->group[g].spread ? 1 : all_bits(&q->group[g].declared);
    do {
        if (uses_all(&c, q)) {
            TB_PUSH(list, n, c);
        }
    } while (advance(&c, q));
    *out = list;
    return n;
}

/* The distinct classes a part may show under the declaration, and how the sums fall on them. */
struct kinds {
    unsigned long long *classes; /* n */
    size_t n;
    double *seen, *prior; /* n + 1: the last for all the rest */
};

static size_t kind_at(const struct kinds *k, unsigned long long classes)
{
    for (size_t i = 0; i < k->n; i++)
        if (k->classes[i] == classes)
            return i;
    return k->n;
}

/* Seen and prior are split by the same rule, so that their quotient is the evidence of everything else. */
static void take_kinds(struct kinds *k, const struct tb_question *q, size_t g, const struct choice *list,
                       size_t n, struct tb_arena *mem)
{
    const struct tb_group *p = &q->group[g];

    k->classes = tb_arena_alloc(mem, (n + 1) * sizeof *k->classes);
    k->seen = tb_arena_alloc(mem, (n + 1) * sizeof *k->seen);
    k->prior = tb_arena_alloc(mem, (n + 1) * sizeof *k->prior);
    for (size_t i = 0; i < n; i++) {
        unsigned long long c = tb_declared_classes(q->ev, &p->declared, list[i].bits[g]);

        if (kind_at(k, c) == k->n)
            k->classes[k->n++] = c;
    }
    tb_declared_split(k->seen, q->ev, &p->declared, k->classes, k->n, &p->sums);
    tb_declared_split(k->prior, q->ev, &p->declared, k->classes, k->n, &q->ev->prior_sums);
}

/* True when some choice shows these kinds, part by part. */
static bool declared_so(const struct tb_question *q, const struct kinds *k, const size_t *at,
                        const struct choice *list, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        bool same = true;

        for (size_t g = 0; g < q->n && same; g++)
            same =
                kind_at(&k[g], tb_declared_classes(q->ev, &q->group[g].declared, list[i].bits[g])) == at[g];
        if (same)
            return true;
    }
    return false;
}

/*
 * Everything that is not as declared: a sum of what is not, never a difference, so that it keeps its digits. `most`: with all that was left
 * out of a part in each of its kinds.
 */
static void sum_else(double *seen, double *prior, const struct tb_question *q, const struct kinds *k,
                     const struct choice *list, size_t n, bool most)
{
    size_t at[TB_GROUPS_MOST] = { 0 }, g = 0;

    *seen = *prior = 0;
    while (g < q->n) {
        if (!declared_so(q, k, at, list, n)) {
            double s = 1, p = 1;

            for (size_t i = 0; i < q->n; i++) {
                s *= k[i].seen[at[i]] + (most ? q->group[i].sums.left_out : 0);
                p *= k[i].prior[at[i]];
            }
            *seen += s;
            *prior += p;
        }
        for (g = 0; g < q->n && ++at[g] > k[g].n; g++)
            at[g] = 0;
    }
}

/* Every way to hold the declared fibres counts the same, since nothing says which is likelier. */
void tb_question_answer(struct tb_question *q)
{
    struct tb_arena mem = { 0 };
    struct kinds *k = tb_arena_alloc(&mem, q->n * sizeof *k);
    struct choice *list;
    size_t n = choices(&list, q);
    double seen, prior, scale = 0, left_out = 0;

    q->log_declared = -INFINITY;
    for (size_t i = 0; i < n; i++)
        q->log_declared = log_add(q->log_declared, log_choice(q, &list[i]));
    q->log_declared -= log((double)n);
    for (size_t g = 0; g < q->n; g++) {
        take_kinds(&k[g], q, g, list, n, &mem);
        scale += q->group[g].sums.log_scale;
        left_out += q->group[g].sums.left_out;
    }
    sum_else(&seen, &prior, q, k, list, n, false);
    q->log_else =
        scale + log(fmax(seen / prior, DBL_MIN)); /* so little that it is lost: then no less than this */
    q->log_else_most = q->log_else;
    if (left_out > 0) {
        sum_else(&seen, &prior, q, k, list, n, true);
        q->log_else_most = scale + log(fmax(seen / prior, DBL_MIN));
    }
    free(list);
    tb_arena_free(&mem);
}
