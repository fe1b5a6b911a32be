/*
 * setup.c - from what a person says of an analysis to a task: order of the fibres, method, factors,
 * allowances.
 */
#include "tenterbook/lab.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

void tb_lab_wish_init(struct tb_lab_wish *wish, enum tb_lab_route route, const struct tb_part *mixture)
{
    *wish = (struct tb_lab_wish){ .route = route, .mixture = mixture, .dissolved = -1 };
}

/* Which share of the mixture is of this fibre; as many as there are where none is. */
static size_t share_of(const struct tb_lab_wish *w, int fibre)
{
    size_t i = 0;

    while (i < w->mixture->n && w->mixture->share[i].fibre != fibre)
        i++;
    return i;
}

/* Does a planned way agree with everything that was said? */
static bool agrees(const struct tb_lab_wish *w, const struct tb_lab_way *way)
{
    if (way->route != w->route)
        return false;
    for (size_t i = 0; i < 2; i++)
        if (w->method[i] && way->method[i] != w->method[i])
            return false;
    return w->route != TB_LAB_DISSOLVE || w->dissolved < 0 || way->fibre[1] == w->dissolved;
}

/* Factors of the laboratory's own make any method possible, so they are offered. */
static tb_rc no_such_way(const struct tb_lab_wish *w, struct tb_err *err)
{
    if (w->method[1])
        return tb_fail(
            err, TB_ENOTFOUND,
            "the tables do not know methods %d and %d for this mixture separated this way; give the "
            "correction factors yourself if the laboratory has measured them",
            w->method[0], w->method[1]);
    if (w->method[0])
        return tb_fail(err, TB_ENOTFOUND,
                       "the tables do not know method %d for this mixture separated this way; give the "
                       "correction factors yourself if the laboratory has measured them",
                       w->method[0]);
    return tb_fail(err, TB_ENOTFOUND,
                   "no method in the tables separates this mixture this way; give the correction "
                   "factors yourself if the laboratory has measured them");
}

/* Several ways that differ in method: the person must say which was used. */
static tb_rc several_ways(const struct tb_lab_way *way, size_t n, const struct tb_lab_wish *w,
                          struct tb_err *err)
{
    struct tb_text list = { 0 };
    tb_rc rc;

    for (size_t i = 0; i < n; i++)
        if (agrees(w, &way[i])) {
            const char *first = tb_fibre_at(way[i].fibre[way[i].route == TB_LAB_DISSOLVE ? 1 : 0])->name;

            tb_text_addf(&list, "%s", list.n ? ", " : "");
            if (way[i].method[1])
                tb_text_say(&list, "%d with %d (%s goes first)", way[i].method[0], way[i].method[1], first);
            else
                tb_text_say(&list, "%d (%s goes first)", way[i].method[0], first);
        }
    rc = tb_fail(err, TB_EINVAL, "several methods come into question; say which was used: %s",
                 tb_text_str(&list));
    tb_text_free(&list);
    return rc;
}

/* Ways that differ in their factors only are the same to the person. */
static bool same_way(const struct tb_lab_way *a, const struct tb_lab_way *b)
{
    return a->method[0] == b->method[0] && a->method[1] == b->method[1] &&
           memcmp(a->fibre, b->fibre, sizeof a->fibre) == 0;
}

/* One way is taken without asking; two that differ must be told apart by a person. */
static tb_rc choose(const struct tb_lab_way **chosen, const struct tb_lab_way *way, size_t n,
                    const struct tb_lab_wish *w, struct tb_err *err)
{
    *chosen = NULL;
    for (size_t i = 0; i < n; i++) {
        if (!agrees(w, &way[i]))
            continue;
        if (*chosen && !same_way(*chosen, &way[i]))
            return several_ways(way, n, w, err);
        *chosen = &way[i];
    }
    return *chosen ? TB_OK : no_such_way(w, err);
}

/* A factor the tables do not have cannot be assumed to be 1. */
static tb_rc take_way(struct tb_lab_setup *s, const struct tb_lab_way *way, struct tb_err *err)
{
    for (size_t k = 0; k < tb_lab_factors(way->route); k++)
        if (isnan(way->d[k]))
            return tb_fail(
                err, TB_ENOTFOUND,
                "the tables give no factor d%zu for this mixture and method; measure it on the pure "
                "fibre and give the factors yourself",
                k + 1);
    memcpy(s->task.d, way->d, sizeof s->task.d);
    memcpy(s->method, way->method, sizeof s->method);
    memcpy(s->fibre, way->fibre, sizeof way->fibre);
    memcpy(s->caution, way->caution, sizeof s->caution);
    s->check_solubility = way->check_solubility;
    return TB_OK;
}

/* The tables decide order and factors. */
static tb_rc by_tables(struct tb_lab_setup *s, const struct tb_lab_wish *w, struct tb_err *err)
{
    struct tb_lab_way *way = tb_array(struct tb_lab_way, TB_LAB_WAYS_MOST);
    const struct tb_lab_way *chosen;
    size_t n = 0;
    tb_rc rc = tb_lab_plan(way, &n, w->mixture, w->conditions, err);

    if (rc == TB_OK)
        rc = choose(&chosen, way, n, w, err);
    if (rc == TB_OK)
        rc = take_way(s, chosen, err);
    s->found_method = rc == TB_OK && w->method[0] == 0;
    free(way);
    return rc;
}

/* The person decides: factors as given, fibres in the order given, the dissolved one last of two. */
static tb_rc by_hand_given(struct tb_lab_setup *s, const struct tb_lab_wish *w, struct tb_err *err)
{
    size_t n = w->mixture->n;

    if (w->factors != 0 && w->factors != tb_lab_factors(w->route))
        return tb_fail(err, TB_EINVAL, "%zu correction factors were given; this way of separating uses %zu",
                       w->factors, tb_lab_factors(w->route));
    for (size_t i = 0; i < n; i++)
        s->fibre[i] = w->mixture->share[i].fibre;
    if (w->route == TB_LAB_DISSOLVE && w->dissolved < 0)
        return tb_fail(err, TB_EINVAL, "say which of the two fibres was dissolved");
    if (w->route == TB_LAB_DISSOLVE && s->fibre[0] == w->dissolved) {
        s->fibre[0] = s->fibre[1];
        s->fibre[1] = w->dissolved;
    }
    for (size_t k = 0; k < w->factors; k++)
        s->task.d[k] = w->d[k];
    memcpy(s->method, w->method, sizeof s->method);
    return TB_OK;
}

/* Limits of the methods; factors then need no error of their own, the limits hold between laboratories. */
static void take_limits(struct tb_lab_setup *s)
{
    for (size_t k = 0; k < 2; k++) {
        struct tb_lab_method m;

        if (s->method[k] && tb_lab_method_get(&m, s->method[k]))
            s->task.limit[k] = m.limit;
    }
    if (!isnan(s->task.limit[0]))
        s->task.factor_error = 0;
}

/* A basis without all its figures is left out, not computed in part. */
static void take_allowances(struct tb_lab_setup *s)
{
    for (enum tb_lab_basis b = TB_LAB_DRY; b < TB_LAB_BASES; b++)
        for (size_t i = 0; i < s->task.fibres; i++) {
            struct tb_lab_allowance *a = &s->allowance[b][i];
            struct tb_err missing = { 0 };

            if (tb_lab_allowance(a, b, s->fibre[i], s->condition[i], &missing) != TB_OK) {
                *a = (struct tb_lab_allowance){ .percent = NAN, .condition = "", .source = "", .status = "" };
                s->task.allowance[b][i] = NAN;
                continue;
            }
            s->task.allowance[b][i] = a->percent;
            if (b == TB_LAB_EU)
                s->task.loss[i] = a->loss;
        }
}

/* Before the tables are searched, so that a slip is not reported as a method that does not exist. */
static tb_rc check_wish(const struct tb_lab_wish *w, struct tb_err *err)
{
    if (!tb_lab_fibres_fit(w->route, w->mixture->n))
        return tb_fail(err, TB_EINVAL,
                       w->mixture->n == 1
                           ? "%zu fibre is named; this way of separating does not take so few"
                           : "%zu fibres are named; this way of separating does not take that many",
                       w->mixture->n);
    for (size_t i = 0; i < w->mixture->n; i++)
        if (w->mixture->share[i].fibre < 0)
            return tb_fail(err, TB_EINVAL,
                           "\"other\" and unknown fibres cannot be analysed: find out what they are");
    if (w->dissolved >= 0 && share_of(w, w->dissolved) == w->mixture->n)
        return tb_fail(err, TB_EINVAL, "%s is not one of the fibres of the mixture",
                       tb_fibre_at(w->dissolved)->name);
    for (size_t k = 0; k < 2; k++)
        if (w->method[k] && !tb_lab_method_get(&(struct tb_lab_method){ 0 }, w->method[k]))
            return tb_fail(err, TB_EINVAL, "there is no method %d; they are numbered 1 to %zu", w->method[k],
                           tb_lab_method_count());
    return TB_OK;
}

/* Own factors go before the tables: the laboratory has measured what the tables only state. */
tb_rc tb_lab_setup_make(struct tb_lab_setup *out, const struct tb_lab_wish *wish, struct tb_err *err)
{
    struct tb_lab_setup s = { .caution = "" };
    tb_rc rc = check_wish(wish, err);

    if (rc != TB_OK)
        return rc;
    tb_lab_task_init(&s.task, wish->route, wish->mixture->n);
    rc =
        wish->factors || wish->route == TB_LAB_HAND ? by_hand_given(&s, wish, err) : by_tables(&s, wish, err);
    if (rc != TB_OK)
        return rc;
    for (size_t i = 0; wish->conditions && i < s.task.fibres; i++)
        s.condition[i] = wish->conditions[share_of(wish, s.fibre[i])];
    take_limits(&s);
    take_allowances(&s);
    *out = s;
    return TB_OK;
}
