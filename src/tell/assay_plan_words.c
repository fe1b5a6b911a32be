/* Which methods separate a mixture, in words: ways by the Regulation, then by published standards. */
#include "base/say.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <stdio.h>

/* --- by the methods of the Regulation --------------------------------------------------------------------------- */

/* The hazard is part of the method: nobody should choose one without reading it. */
static void method_words(struct tb_text *out, int number)
{
    struct tb_lab_method m;
    char standard[TB_STANDARD];

    if (!tb_lab_method_get(&m, number))
        return;
    tb_text_say(out, "     method %d: %s\n       %s\n", m.number, m.reagent, m.conditions);
    tb_text_say(out, "       hazard: %s\n", m.hazard);
    if (m.note[0])
        tb_text_say(out, "       note: %s\n", m.note);
    tb_text_say(out, "       effort: %s\n       law: %s (%s)\n", m.effort, m.source, m.status);
    /* that both are one method was found by fibres and reagent, not read: each stands with its own source */
    tb_text_say(out, "       standard for these fibres: %s; source: %s (%s)\n",
                tb_standard_words(standard, &m.standard), m.standard.source, m.standard.status);
}

static void route_words(struct tb_text *out, const struct tb_lab_way *w, size_t fibres)
{
    const char *a = tb_fibre_words(w->fibre[0]), *b = tb_fibre_words(w->fibre[1]);
    const char *c = fibres > 2 ? tb_fibre_words(w->fibre[2]) : "";

    if (w->route == TB_LAB_DISSOLVE)
        tb_text_say(out, "dissolve the %s, weigh the %s\n", b, a);
    else if (w->route == TB_LAB_NITROGEN)
        tb_text_say(out, "tell %s from %s by their nitrogen\n", a, b);
    else if (w->route == TB_LAB_VARIANT_1)
        tb_text_say(out, "variant 1: take the %s from one specimen, the %s from another; %s stays in both\n",
                    a, b, c);
    else if (w->route == TB_LAB_VARIANT_2)
        tb_text_say(out, "variant 2: take the %s from one specimen, %s and %s together from another\n", a, a,
                    b);
    else if (w->route == TB_LAB_VARIANT_3)
        tb_text_say(out, "variant 3: take %s and %s from one specimen, %s and %s from another\n", a, b, b, c);
    else
        tb_text_say(out, "variant 4: from one specimen take the %s, weigh, then the %s, weigh; %s stays\n", a,
                    b, c);
}

/* A factor that is not in the tables is no obstacle: it can be measured on the pure fibre. */
static void factors_words(struct tb_text *out, const struct tb_lab_way *w)
{
    size_t n = tb_lab_factors(w->route);
    struct tb_text t = { 0 };

    for (size_t k = 0; k < n; k++) {
        char name[8] = "d";

        if (n > 1)
            (void)snprintf(name, sizeof name, "d%zu", k + 1);
        if (isnan(w->d[k]))
            tb_part(&t, "%s = not in the tables: measure it on the pure fibre", name);
        else
            tb_part(&t, "%s = %g", name, w->d[k]);
    }
    if (n)
        tb_text_addf(out, "     %s\n", t.s);
    tb_text_free(&t);
}

static void limits_words(struct tb_text *out, const struct tb_lab_way *w, size_t fibres)
{
    struct tb_text t = { 0 };

    for (size_t i = 0; i < fibres; i++)
        if (isnan(w->limit[i]))
            tb_part(&t, "%s not known", tb_fibre_words(w->fibre[i]));
        else
            tb_part(&t, "%s +-%g", tb_fibre_words(w->fibre[i]), w->limit[i]);
    tb_text_say(out, "     95 %% limit between laboratories, points: %s\n", tb_text_str(&t));
    tb_text_free(&t);
}

static void forecast_words(struct tb_text *out, const struct tb_lab_way *w, const struct tb_part *mixture)
{
    struct tb_lab_det residue;
    struct tb_text t = { 0 };

    if (!tb_lab_forecast(&residue, w, mixture))
        return;
    for (size_t k = 0; k < tb_lab_inputs(w->route, mixture->n); k++)
        tb_text_addf(&t, " %s %.4g", tb_lab_input_name(w->route, k), residue.in[k]);
    tb_text_say(out, "     1 g of dry specimen of that mixture would give:%s\n", tb_text_str(&t));
    tb_text_free(&t);
}

static void way_words(struct tb_text *out, size_t number, const struct tb_lab_way *w,
                      const struct tb_part *mixture)
{
    tb_text_addf(out, "\n%2zu. ", number);
    route_words(out, w, mixture->n);
    for (size_t k = 0; k < 2 && w->method[k]; k++)
        method_words(out, w->method[k]);
    factors_words(out, w);
    limits_words(out, w, mixture->n);
    forecast_words(out, w, mixture);
    if (w->check_solubility)
        tb_text_say(out, "     only some kinds of the dissolved fibre go: try it on pure fibre first\n");
    if (w->derived)
        tb_text_say(out, "     put together from two methods here; not in the Regulation's table\n");
    if (w->caution[0])
        tb_text_addf(out, "     %s\n", w->caution);
}

/* --- by published standards ------------------------------------------------------------------------------------- */

/* "cotton and flax", "flax, hemp and ramie" */
static void fibres_words(struct tb_text *out, const struct tb_lab_step *s)
{
    const char *a = tb_fibre_words(s->fibre[0]);

    if (s->fibres == 1)
        tb_text_add(out, a);
    else if (s->fibres == 2)
        tb_text_say(out, "%s and %s", a, tb_fibre_words(s->fibre[1]));
    else
        tb_text_say(out, "%s, %s and %s", a, tb_fibre_words(s->fibre[1]), tb_fibre_words(s->fibre[2]));
}

static void step_words(struct tb_text *out, const struct tb_lab_step *s)
{
    struct tb_lab_standard std = tb_lab_standard_at(s->standard);
    struct tb_text fibres = { 0 };
    char number[TB_STANDARD];

    (void)tb_standard_words(number, &std);
    fibres_words(&fibres, s);
    if (s->dissolves)
        tb_text_say(out, "dissolve %s with %s, weigh what is left: %s\n", tb_text_str(&fibres), std.reagent,
                    number);
    else
        tb_text_say(out, "tell %s apart: %s\n", tb_text_str(&fibres), number);
    tb_text_say(out, "       covers: %s\n       tells: %s\n       hazard: %s\n       effort: %s\n",
                std.covers, std.tells, std.hazard, std.effort);
    if (std.note[0])
        tb_text_say(out, "       note: %s\n", std.note);
    if (s->some)
        tb_text_say(out, "       only some kinds of the dissolved fibre go: try it on pure fibre first\n");
    tb_text_say(out, "       source: %s (%s)\n", std.source, std.status);
    tb_text_free(&fibres);
}

static void paths_words(struct tb_text *out, const struct tb_lab_path *path, size_t n, size_t first)
{
    struct tb_lab_standard three = tb_lab_standard_at(tb_lab_standard_of(TB_LAB_MEANS_TERNARY));
    char number[TB_STANDARD];

    if (n == 0)
        return;
    tb_text_say(
        out,
        "\nWays by published standards, not in the Regulation: %zu, the mildest first. Conditions and "
        "factors are not in the tables here; the laboratory has the standard.\n",
        n);
    for (size_t i = 0; i < n; i++) {
        tb_text_addf(out, "\n%2zu. ", first + i);
        for (size_t k = 0; k < path[i].steps; k++) {
            if (k)
                tb_text_add(out, "    ");
            step_words(out, &path[i].step[k]);
        }
        if (tb_lab_path_joined(&path[i]))
            tb_text_say(out, "    joined for three fibres by %s (%s)\n", tb_standard_words(number, &three),
                        three.status);
    }
}

static bool has_reagent(const struct tb_assay_plan *plan)
{
    bool has = plan->ways > 0;

    for (size_t i = 0; i < plan->paths; i++)
        has = has || plan->path[i].step[0].dissolves;
    return has;
}

void tb_assay_plan_words(struct tb_text *out, const struct tb_assay_plan *plan)
{
    struct tb_lab_standard hand = tb_lab_standard_at(tb_lab_standard_of(TB_LAB_MEANS_HAND));
    char number[TB_STANDARD];

    tb_text_say(
        out,
        "Where yarns, plies or warp and weft differ, separate them by hand and weigh (%s, %s): it is better "
        "than any reagent.\n",
        tb_standard_words(number, &hand), hand.status);
    if (plan->ways)
        tb_text_say(out, "Ways by the methods of the Regulation: %zu, best first.\n", plan->ways);
    else
        tb_text_say(out, "The methods of the Regulation do not separate these fibres.\n");
    for (size_t i = 0; i < plan->ways; i++)
        way_words(out, i + 1, &plan->way[i], &plan->mixture.comp.part[0]);
    paths_words(out, plan->path, plan->paths, plan->ways + 1);
    tb_text_say(out, "\nAt least two determinations. Identify the fibres first.\n");
    if (has_reagent(plan))
        tb_text_say(
            out,
            "These reagents burn, poison or catch fire: a licensed laboratory with a hood; its rules, the "
            "safety data sheets and the local rules come first.\n");
}
