/*
 * same_composition.h - are two compositions the same in everything: what was printed must be read back so.
 */
#ifndef TENTERBOOK_TESTS_SAME_COMPOSITION_H
#define TENTERBOOK_TESTS_SAME_COMPOSITION_H

#include "tenterbook/fibre.h"

#include <math.h>
#include <string.h>

static inline bool same_figure(double a, double b)
{
    return isnan(a) ? isnan(b) : fabs(a - b) <= 1e-9; /* figures are printed to ten decimals */
}

static inline bool same_share(const struct tb_share *a, const struct tb_share *b)
{
    return a->fibre == b->fibre && a->marks == b->marks && same_figure(a->percent, b->percent) &&
           same_figure(a->tolerance, b->tolerance);
}

static inline bool same_part_label(const char *a, const char *b)
{
    return a && b ? strcmp(a, b) == 0 : a == b;
}

/* The same parts in the same order, the same fibres in the same order, with the same figures, marks and labels. */
static inline bool same_composition(const struct tb_composition *a, const struct tb_composition *b)
{
    if (a->n != b->n)
        return false;
    for (size_t i = 0; i < a->n; i++) {
        const struct tb_part *p = &a->part[i], *q = &b->part[i];

        if (p->kind != q->kind || p->n != q->n || !same_part_label(p->label, q->label))
            return false;
        for (size_t k = 0; k < p->n; k++)
            if (!same_share(&p->share[k], &q->share[k]))
                return false;
    }
    return true;
}

#endif
