/* trunk.c - products of powers of several burns that have parts in common, none worked out twice. */
#include "evidence/trunk.h"

#include "evidence/space.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static size_t node_of(struct tb_trunk *t, const struct tb_trunk_node *n)
{
    for (size_t i = 0; i < t->n; i++)
        if (t->node[i].kind == n->kind && t->node[i].of == n->of && t->node[i].by == n->by &&
            t->node[i].exponent == n->exponent)
            return i;
    TB_PUSH_ROOM(t->node, t->n, t->cap);
    t->node[t->n] = *n;
    return t->n++;
}

static size_t leaf(struct tb_trunk *t, size_t of)
{
    return node_of(t, &(struct tb_trunk_node){ .kind = TB_TRUNK_LEAF, .of = of });
}

static size_t times(struct tb_trunk *t, size_t of, size_t by)
{
    if (of == TB_TRUNK_NONE || by == TB_TRUNK_NONE)
        return of == TB_TRUNK_NONE ? by : of;
    return node_of(t, &(struct tb_trunk_node){ .kind = TB_TRUNK_TIMES, .of = of, .by = by });
}

static size_t raised(struct tb_trunk *t, size_t of, double exponent)
{
    return node_of(t, &(struct tb_trunk_node){ .kind = TB_TRUNK_POWER, .of = of, .exponent = exponent });
}

/* x to a power: a part of it by a logarithm, and whole times by itself. */
static size_t power_of(struct tb_trunk *t, size_t x, double power)
{
    double whole = power > 0 ? floor(power) : 0, part = power - whole;
    size_t out = part != 0 ? raised(t, x, part) : TB_TRUNK_NONE;

    for (size_t left = (size_t)whole; left > 0; left--)
        out = times(t, out, x);
    return out;
}

/* Burns that count the same are raised together. */
size_t tb_trunk_pick(struct tb_trunk *t, const struct tb_pick *p)
{
    size_t out = TB_TRUNK_NONE;

    for (size_t i = 0; i < p->n; i++) {
        double power = p->of[i].power;
        size_t same = TB_TRUNK_NONE, first = 0;

        while (p->of[first].power != power)
            first++;
        if (first < i)
            continue;
        for (size_t j = i; j < p->n; j++)
            if (p->of[j].power == power)
                same = times(t, same, leaf(t, p->of[j].table));
        out = times(t, out, power_of(t, same, power));
    }
    return out;
}

const double *tb_trunk_lanes(const struct tb_trunk *t, size_t node, const double *const *leaf)
{
    return t->node[node].kind == TB_TRUNK_LEAF ? leaf[t->node[node].of] : t->x[node];
}

void tb_trunk_need(bool *need, bool *table, const struct tb_trunk *t)
{
    for (size_t i = t->n; i-- > 0;) {
        const struct tb_trunk_node *n = &t->node[i];

        if (!need[i])
            continue;
        if (n->kind == TB_TRUNK_LEAF)
            table[n->of] = true;
        else
            need[n->of] = true;
        if (n->kind == TB_TRUNK_TIMES)
            need[n->by] = true;
    }
}

void tb_trunk_fill(struct tb_trunk *t, const double *const *leaf, size_t chunks, const bool *need,
                   const struct tb_kernel *kernel)
{
    if (t->n && !t->x)
        t->x = tb_realloc(NULL, t->n, sizeof *t->x);
    for (size_t i = 0; i < t->n; i++) {
        const struct tb_trunk_node *n = &t->node[i];
        const double *of = n->kind == TB_TRUNK_LEAF ? NULL : tb_trunk_lanes(t, n->of, leaf), *by;

        if (need && !need[i])
            continue;
        if (n->kind == TB_TRUNK_TIMES) {
            by = tb_trunk_lanes(t, n->by, leaf);
            kernel->product(t->x[i], of, &by, 1, 0, chunks);
        } else if (n->kind == TB_TRUNK_POWER) {
            memcpy(t->x[i], of, chunks * TB_CHUNK * sizeof *of);
            kernel->power(t->x[i], NULL, n->exponent, chunks);
        }
    }
}

void tb_trunk_free(struct tb_trunk *t)
{
    free(t->node);
    free(t->x);
    *t = (struct tb_trunk){ 0 };
}
