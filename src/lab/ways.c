/* ways.c - every way the tables offer to separate the fibres of a mixture. */
#include "lab/tables.h"

#include "gen/ref_lab_method.h"
#include "gen/ref_lab_restriction.h"
#include "gen/ref_lab_ternary.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int fibre_of(const struct tb_lab_ways *p, size_t i)
{
    return p->part->share[i].fibre;
}

/* d of share i as residue of a method, NAN where the tables give none. */
static double factor(const struct tb_lab_ways *p, int method, size_t i)
{
    struct tb_err ignored = { 0 };
    double d = NAN;

    if (tb_lab_factor(&d, method, fibre_of(p, i), p->conditions ? p->conditions[i] : NULL, &ignored) != TB_OK)
        d = NAN;
    return d;
}

static double limit_of(int method)
{
    const struct tb_ref_lab_method *m = method ? tb_lab_method_row(method) : NULL;

    return m ? m->limit : NAN;
}

/* A method that should give way to another where too much of a fibre is there. */
static void add_caution(const struct tb_lab_ways *p, struct tb_lab_way *w)
{
    for (size_t k = 0; k < tb_ref_lab_restriction_n; k++) {
        const struct tb_ref_lab_restriction *r = &tb_ref_lab_restriction[k];

        if (r->method != w->method[0] && r->method != w->method[1])
            continue;
        for (size_t i = 0; i < p->part->n; i++) {
            double percent = p->part->share[i].percent;

            if (tb_fibre_at(fibre_of(p, i))->eu_number != r->eu_number || percent <= r->above)
                continue;
            if (w->route == TB_LAB_VARIANT_4 && r->method == w->method[1] && fibre_of(p, i) == w->fibre[0])
                continue; /* gone before that reagent comes */
            (void)snprintf(w->caution, sizeof w->caution,
                           isnan(percent) ? "with more than %g %% %s the Regulation points to method %d"
                                          : "above %g %% %s the Regulation points to method %d",
                           r->above, tb_fibre_at(fibre_of(p, i))->name, r->instead);
        }
    }
}

/* The table and our own putting together may find the same way. */
static bool known(const struct tb_lab_ways *p, const struct tb_lab_way *w)
{
    for (size_t i = 0; i < p->n; i++)
        if (p->way[i].route == w->route && memcmp(p->way[i].method, w->method, sizeof w->method) == 0 &&
            memcmp(p->way[i].fibre, w->fibre, sizeof w->fibre) == 0)
            return true;
    return false;
}

/* Limits and cautions depend on the whole way and so are filled in last. */
static void add(struct tb_lab_ways *p, struct tb_lab_way *w)
{
    double limit[2] = { limit_of(w->method[0]), limit_of(w->method[1]) };

    if (p->n == TB_LAB_WAYS_MOST || known(p, w))
        return;
    tb_lab_limits(w->limit, w->route, p->part->n, limit);
    add_caution(p, w);
    p->way[p->n++] = *w;
}

/* Two fibres: i stays, j goes. */
static void two_fibres(struct tb_lab_ways *p, size_t i, size_t j)
{
    for (size_t k = 0; k < tb_ref_lab_method_n; k++) {
        int method = tb_ref_lab_method[k].number;
        enum tb_lab_role gone = tb_lab_method_role(method, fibre_of(p, j));
        struct tb_lab_way w = { .method = { method }, .fibre = { fibre_of(p, i), fibre_of(p, j) } };

        if (gone != TB_LAB_ROLE_DISSOLVED && gone != TB_LAB_ROLE_SOME)
            continue;
        if (tb_lab_method_role(method, fibre_of(p, i)) != TB_LAB_ROLE_RESIDUE)
            continue;
        w.route = TB_LAB_DISSOLVE;
        w.d[0] = factor(p, method, i);
        w.check_solubility = gone == TB_LAB_ROLE_SOME;
        add(p, &w);
    }
}

#define METHOD_NITROGEN 12
#define EU_JUTE 9

/* Jute with animal fibre: i is the animal fibre. */
static void by_nitrogen(struct tb_lab_ways *p, size_t i, size_t j)
{
    struct tb_lab_way w = { .route = TB_LAB_NITROGEN,
                            .method = { METHOD_NITROGEN },
                            .fibre = { fibre_of(p, i), fibre_of(p, j) } };

    if (tb_lab_method_role(METHOD_NITROGEN, fibre_of(p, i)) == TB_LAB_ROLE_DISSOLVED &&
        tb_fibre_at(fibre_of(p, j))->eu_number == EU_JUTE)
        add(p, &w);
}

/* The factors a variant needs, from the tables (see lab.h for what d1..d4 mean). */
static void ternary_factors(const struct tb_lab_ways *p, struct tb_lab_way *w, const size_t at[3])
{
    int first = w->method[0], second = w->method[1];

    w->d[0] = factor(p, first, at[1]);
    w->d[1] = factor(p, first, at[2]);
    w->d[2] = factor(p, second, at[0]);
    w->d[3] = factor(p, second, at[2]);
    if (w->route == TB_LAB_VARIANT_2) /* a is gone with b: d3 is not used */
        w->d[2] = 1;
    if (w->route == TB_LAB_VARIANT_3) /* only d2 and d3 are used */
        w->d[0] = w->d[3] = 1;
    if (w->route == TB_LAB_VARIANT_4) {
        w->d[2] = w->d[1] * w->d[3]; /* to be measured; else the product of the two */
        w->d[3] = 1;
    }
}

/* A row of the table may allow several variants and several first methods. */
static void one_scheme(struct tb_lab_ways *p, const struct tb_ref_lab_ternary *t, const size_t at[3])
{
    const char *first = t->first;

    for (int variant = 1; variant <= 4; variant++) {
        if (!tb_lab_lists(t->variants, variant))
            continue;
        for (const char *m = first; m; m = strchr(m, ';') ? strchr(m, ';') + 1 : NULL) {
            struct tb_lab_way w = { .route = (enum tb_lab_route)(TB_LAB_VARIANT_1 + variant - 1),
                                    .method = { atoi(m), atoi(t->second) },
                                    .check_solubility = t->check != 0 };

            for (int k = 0; k < 3; k++)
                w.fibre[k] = fibre_of(p, at[k]);
            ternary_factors(p, &w, at);
            add(p, &w);
        }
    }
}

static const size_t orders[6][3] = { { 0, 1, 2 }, { 0, 2, 1 }, { 1, 0, 2 },
                                     { 1, 2, 0 }, { 2, 0, 1 }, { 2, 1, 0 } };

/* The table names fibres by a, b and c; which fibre is which is tried in every order. */
static void by_table(struct tb_lab_ways *p)
{
    for (size_t i = 0; i < tb_ref_lab_ternary_n; i++)
        for (size_t o = 0; o < 6; o++) {
            const struct tb_ref_lab_ternary *t = &tb_ref_lab_ternary[i];

            if (tb_lab_lists(t->a, tb_fibre_at(fibre_of(p, orders[o][0]))->eu_number) &&
                tb_lab_lists(t->b, tb_fibre_at(fibre_of(p, orders[o][1]))->eu_number) &&
                tb_lab_lists(t->c, tb_fibre_at(fibre_of(p, orders[o][2]))->eu_number))
                one_scheme(p, t, orders[o]);
        }
}

/* A method that dissolves only some kinds counts, with the advice to try it first. */
static bool goes(int method, int fibre)
{
    enum tb_lab_role r = tb_lab_method_role(method, fibre);

    return r == TB_LAB_ROLE_DISSOLVED || r == TB_LAB_ROLE_SOME;
}

static bool stays(int method, int fibre)
{
    return tb_lab_method_role(method, fibre) == TB_LAB_ROLE_RESIDUE;
}

/* Not in the Regulation's table: one method takes a and leaves b and c, another then takes b and leaves c. */
static void then_second(struct tb_lab_ways *p, const size_t at[3], int first)
{
    int a = fibre_of(p, at[0]), b = fibre_of(p, at[1]), c = fibre_of(p, at[2]);

    for (size_t k = 0; k < tb_ref_lab_method_n; k++) {
        int second = tb_ref_lab_method[k].number;
        struct tb_lab_way w = {
            .route = TB_LAB_VARIANT_4, .method = { first, second }, .fibre = { a, b, c }, .derived = true
        };

        if (second == METHOD_NITROGEN || !goes(second, b) || !stays(second, c))
            continue;
        w.check_solubility = tb_lab_method_role(first, a) == TB_LAB_ROLE_SOME ||
                             tb_lab_method_role(second, b) == TB_LAB_ROLE_SOME;
        ternary_factors(p, &w, at);
        add(p, &w);
    }
}

/* Nitrogen says nothing of a residue and cannot be a step of two. */
static void by_two_methods(struct tb_lab_ways *p, const size_t at[3])
{
    for (size_t i = 0; i < tb_ref_lab_method_n; i++) {
        int first = tb_ref_lab_method[i].number;

        if (first != METHOD_NITROGEN && goes(first, fibre_of(p, at[0])) && stays(first, fibre_of(p, at[1])) &&
            stays(first, fibre_of(p, at[2])))
            then_second(p, at, first);
    }
}

void tb_lab_ways(struct tb_lab_ways *p)
{
    if (p->part->n == 2) {
        two_fibres(p, 0, 1);
        two_fibres(p, 1, 0);
        by_nitrogen(p, 0, 1);
        by_nitrogen(p, 1, 0);
        return;
    }
    by_table(p);
    for (size_t o = 0; o < TB_COUNT(orders); o++)
        by_two_methods(p, orders[o]);
}
