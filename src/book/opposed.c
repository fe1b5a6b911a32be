/*
 * opposed.c - two analyses of one part side by side: whether they contradict each other, by their answers or by their figures.
 *
 * Two results are further apart than their uncertainties allow where their difference is above its own expanded uncertainty, twice the
 * root of the sum of both standard uncertainties squared: JCGM 100:2008 (GUM), 5.1.2 for the difference and 6.2.1 for the factor of 2.
 */
#include "tenterbook/analysis.h"
#include "tenterbook/fibre.h"

#include <math.h>
#include <string.h>

#define COVERAGE 2.0 /* about 95 % */

static const struct tb_part *part_found(const struct tb_declaration *d)
{
    return d->comp.n == 1 ? &d->comp.part[0] : NULL;
}

/* Whether a share of the one differs from the other's by more than that. */
static bool beyond(const struct tb_part *one, const struct tb_part *other, double points)
{
    for (size_t i = 0; i < one->n; i++) {
        double a = tb_part_percent(one, one->share[i].fibre), b = tb_part_percent(other, one->share[i].fibre);

        if (fabs(a - b) > points)
            return true;
    }
    return false;
}

bool tb_analysis_apart(const struct tb_analysis *a, const struct tb_analysis *b)
{
    struct tb_declaration x = { 0 }, y = { 0 };
    double points = COVERAGE * hypot(a->u, b->u);
    const struct tb_part *one, *other;
    bool apart;

    if (a->part != b->part || !(a->u > 0) || !(b->u > 0) || strcmp(a->found, b->found) == 0)
        return false;
    tb_declaration_read(&x, a->found, strlen(a->found));
    tb_declaration_read(&y, b->found, strlen(b->found));
    one = part_found(&x);
    other = part_found(&y);
    apart = one && other && (beyond(one, other, points) || beyond(other, one, points));
    tb_declaration_free(&x);
    tb_declaration_free(&y);
    return apart;
}

static bool opposite_answers(enum tb_lab_answer a, enum tb_lab_answer b)
{
    return (a == TB_LAB_CONFORMS && b == TB_LAB_FAILS) || (a == TB_LAB_FAILS && b == TB_LAB_CONFORMS);
}

/* One that cannot say denies what the other finds wrong, where their figures cannot both be true. */
static bool half_opposite(enum tb_lab_answer a, enum tb_lab_answer b)
{
    return (a == TB_LAB_UNSAID && b == TB_LAB_FAILS) || (a == TB_LAB_FAILS && b == TB_LAB_UNSAID);
}

bool tb_analysis_opposed_in(const struct tb_analysis *a, const struct tb_analysis *b, const char *market,
                            size_t n)
{
    enum tb_lab_answer one, other;

    return a->part == b->part && strcmp(a->declared, b->declared) == 0 &&
           tb_analysis_answer(&one, a, market, n) && tb_analysis_answer(&other, b, market, n) &&
           (opposite_answers(one, other) || (half_opposite(one, other) && tb_analysis_apart(a, b)));
}

bool tb_analysis_opposed(const struct tb_analysis *a, const struct tb_analysis *b)
{
    for (const char *p = a->answers; *p; p += strcspn(p, " "), p += *p == ' ')
        if (tb_analysis_opposed_in(a, b, p, strcspn(p, ":")))
            return true;
    return false;
}

bool tb_analysis_opposite(const struct tb_analysis *a, const struct tb_analysis *b)
{
    enum tb_lab_answer one, other;

    if (a->part != b->part || strcmp(a->declared, b->declared) != 0)
        return false;
    for (const char *p = a->answers; *p; p += strcspn(p, " "), p += *p == ' ')
        if (tb_analysis_answer(&one, a, p, strcspn(p, ":")) &&
            tb_analysis_answer(&other, b, p, strcspn(p, ":")) && opposite_answers(one, other))
            return true;
    return false;
}

bool tb_analysis_stands(const struct tb_analysis *x, size_t n, size_t i)
{
    bool later = false;

    for (size_t k = 0; k < n; k++) {
        if (tb_analysis_opposed(&x[i], &x[k]) || tb_analysis_apart(&x[i], &x[k]))
            return true;
        later = later || (k > i && x[k].part == x[i].part);
    }
    return !later;
}
