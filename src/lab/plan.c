/* plan.c - which methods separate the fibres of a mixture, best first. */
#include "lab/tables.h"

#include "gen/ref_lab_method.h"

#include <math.h>

/* Of the nastier reagent, where there are two. */
static int grade_of(const struct tb_lab_way *w)
{
    int grade = tb_lab_method_row(w->method[0])->grade;

    if (w->method[1] && tb_lab_method_row(w->method[1])->grade > grade)
        grade = tb_lab_method_row(w->method[1])->grade;
    return grade;
}

/* A limit nobody published counts as wider than any that is. */
static double widest(const struct tb_lab_way *w, size_t fibres)
{
    double most = 0;

    for (size_t i = 0; i < fibres; i++)
        most = isnan(w->limit[i]) ? 99 : fmax(most, w->limit[i]);
    return most;
}

/* What speaks against a way, heaviest first: a caution, a doubt, a factor to measure, our own putting together, a
 * wide limit, a nasty reagent. */
static double burden(const struct tb_lab_way *w, size_t fibres)
{
    bool unknown = false;

    for (size_t k = 0; k < tb_lab_factors(w->route); k++)
        unknown = unknown || isnan(w->d[k]);
    return (w->caution[0] ? 1e5 : 0) + (w->check_solubility ? 1e4 : 0) + (unknown ? 1e3 : 0) +
           (w->derived ? 500 : 0) + widest(w, fibres) * 10 + grade_of(w);
}

/* Stable, so that equal ways keep the order of the tables; there are 64 at most. */
static void sort(struct tb_lab_ways *p)
{
    for (size_t i = 1; i < p->n; i++) {
        struct tb_lab_way w = p->way[i];
        size_t k = i;

        for (; k > 0 && burden(&p->way[k - 1], p->part->n) > burden(&w, p->part->n); k--)
            p->way[k] = p->way[k - 1];
        p->way[k] = w;
    }
}

/* What cannot be planned is refused with what to do about it. */
tb_rc tb_lab_check_mixture(const struct tb_part *part, struct tb_err *err)
{
    if (part->n < 2)
        return tb_fail(
            err, TB_EINVAL,
            "one fibre needs no separating: a laboratory says which it is (%s); name the two or three that "
            "may be mixed",
            tb_lab_standard_at(tb_lab_standard_of(TB_LAB_MEANS_IDENTIFY)).number);
    if (part->n > 3)
        return tb_fail(
            err, TB_EINVAL,
            "%zu fibres are too many: the methods separate two or three; take warp and weft or plies "
            "apart by hand first, and analyse each",
            part->n);
    for (size_t i = 0; i < part->n; i++) {
        if (part->share[i].fibre < 0)
            return tb_fail(err, TB_EINVAL,
                           "\"other\" and unknown fibres cannot be planned for: find out what they are");
        for (size_t k = 0; k < i; k++)
            if (part->share[k].fibre == part->share[i].fibre)
                return tb_fail(err, TB_EINVAL, "%s is named twice", tb_fibre_at(part->share[i].fibre)->name);
    }
    return TB_OK;
}

static tb_rc no_way(const struct tb_part *part, struct tb_err *err)
{
    const char *name[3] = { NULL };

    for (size_t i = 0; i < part->n; i++)
        name[i] = tb_fibre_at(part->share[i].fibre)->name;
    if (part->n == 2)
        return tb_fail(
            err, TB_ENOTFOUND,
            "no method in the tables separates %s from %s: where yarns or plies differ, separate them by "
            "hand; a laboratory may know more",
            name[0], name[1]);
    return tb_fail(
        err, TB_ENOTFOUND,
        "no method in the tables separates %s, %s and %s: where yarns or plies differ, separate them by "
        "hand; a laboratory may know more",
        name[0], name[1], name[2]);
}

tb_rc tb_lab_plan(struct tb_lab_way *out, size_t *n, const struct tb_part *part,
                  const char *const *conditions, struct tb_err *err)
{
    struct tb_lab_ways p = { .way = out, .part = part, .conditions = conditions };
    tb_rc rc = tb_lab_check_mixture(part, err);

    if (rc != TB_OK)
        return rc;
    tb_lab_ways(&p);
    if (p.n == 0)
        return no_way(part, err);
    sort(&p);
    *n = p.n;
    return TB_OK;
}
