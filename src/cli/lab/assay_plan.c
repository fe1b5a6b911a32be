/* assay --plan: which methods separate a mixture, and what to expect on the balance. */
#include "cli/lab/assay.h"
#include "cli/show.h"
#include "tenterbook/limits.h"
#include "tenterbook/status.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* One way, ready to be shown. */
struct shown {
    const struct tb_lab_way *way;
    size_t fibres;
    bool expected; /* residue is known */
    struct tb_lab_det residue;
};

static struct shown show(const struct tb_lab_way *way, const struct tb_part *part)
{
    struct shown s = { .way = way, .fibres = part->n };

    s.expected = tb_lab_forecast(&s.residue, way, part);
    return s;
}

/* The hazard is part of the method: nobody should choose one without reading it. */
static void print_method(FILE *out, int number)
{
    struct tb_lab_method m;
    struct tb_text number_words = { 0 };

    if (!tb_lab_method_get(&m, number))
        return;
    tb_say(out, "     method %d: %s\n       %s\n", m.number, m.reagent, m.conditions);
    tb_say(out, "       hazard: %s\n", m.hazard);
    if (m.note[0])
        tb_say(out, "       note: %s\n", m.note);
    tb_standard_words(&number_words, &m.standard);
    tb_say(out, "       effort: %s\n       %s; %s (%s)\n", m.effort, tb_text_str(&number_words), m.source,
           m.status);
    tb_text_free(&number_words);
}

static void print_route(FILE *out, const struct shown *s)
{
    const struct tb_lab_way *w = s->way;
    const char *a = tb_fibre_words(w->fibre[0]), *b = tb_fibre_words(w->fibre[1]);
    const char *c = s->fibres > 2 ? tb_fibre_words(w->fibre[2]) : "";

    if (w->route == TB_LAB_DISSOLVE)
        tb_say(out, "dissolve the %s, weigh the %s\n", b, a);
    else if (w->route == TB_LAB_NITROGEN)
        tb_say(out, "tell %s from %s by their nitrogen\n", a, b);
    else if (w->route == TB_LAB_VARIANT_1)
        tb_say(out, "variant 1: take the %s from one specimen, the %s from another; %s stays in both\n", a, b,
               c);
    else if (w->route == TB_LAB_VARIANT_2)
        tb_say(out, "variant 2: take the %s from one specimen, %s and %s together from another\n", a, a, b);
    else if (w->route == TB_LAB_VARIANT_3)
        tb_say(out, "variant 3: take %s and %s from one specimen, %s and %s from another\n", a, b, b, c);
    else
        tb_say(out, "variant 4: from one specimen take the %s, weigh, then the %s, weigh; %s stays\n", a, b,
               c);
}

/* A factor that is not in the tables is no obstacle: it can be measured on the pure fibre. */
static void print_factors(FILE *out, const struct tb_lab_way *w)
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
        (void)fprintf(out, "     %s\n", t.s);
    tb_text_free(&t);
}

static void print_limits(FILE *out, const struct shown *s)
{
    struct tb_text t = { 0 };

    for (size_t i = 0; i < s->fibres; i++)
        if (isnan(s->way->limit[i]))
            tb_part(&t, "%s not known", tb_fibre_words(s->way->fibre[i]));
        else
            tb_part(&t, "%s +-%g", tb_fibre_words(s->way->fibre[i]), s->way->limit[i]);
    tb_say(out, "     95 %% limit between laboratories, points: %s\n", tb_text_str(&t));
    tb_text_free(&t);
}

static void print_forecast(FILE *out, const struct shown *s)
{
    struct tb_text t = { 0 };

    for (size_t k = 0; k < tb_lab_inputs(s->way->route, s->fibres); k++)
        tb_text_addf(&t, " %s %.4g", tb_lab_input_name(s->way->route, k), s->residue.in[k]);
    tb_say(out, "     1 g of dry specimen of that mixture would give:%s\n", tb_text_str(&t));
    tb_text_free(&t);
}

static void print_way(FILE *out, size_t number, const struct shown *s)
{
    (void)fprintf(out, "\n%2zu. ", number);
    print_route(out, s);
    print_method(out, s->way->method[0]);
    if (s->way->method[1])
        print_method(out, s->way->method[1]);
    print_factors(out, s->way);
    print_limits(out, s);
    if (s->expected)
        print_forecast(out, s);
    if (s->way->check_solubility)
        tb_say(out, "     only some kinds of the dissolved fibre go: try it on pure fibre first\n");
    if (s->way->derived)
        tb_say(out, "     put together from two methods here; not in the Regulation's table\n");
    if (s->way->caution[0])
        (void)fprintf(out, "     %s\n", s->way->caution);
}

#define METHOD(member, key) TB_JSON_AS(struct tb_lab_method, member, key)
TB_JSON_MEMBERS(method_members, METHOD(number, "number"), METHOD(reagent, "reagent"),
                METHOD(conditions, "conditions"), METHOD(hazard, "hazard"), METHOD(note, "note"),
                METHOD(effort, "effort"), METHOD(limit, "limit"), METHOD(source, "source"),
                METHOD(status, "status"));

static json_t *method_json(int method)
{
    struct tb_lab_method m;

    struct tb_text number = { 0 };
    json_t *j;

    if (!tb_lab_method_get(&m, method))
        return json_null();
    j = tb_json_of(method_members, &m);
    tb_standard_words(&number, &m.standard);
    tb_json_put(j, "iso_part", tb_json_text(tb_text_str(&number)));
    tb_json_put(j, "iso_from_memory", json_boolean(tb_status_memory(m.standard.status)));
    tb_json_put(j, "standard", tb_json_standard(&m.standard));
    tb_text_free(&number);
    return j;
}

/* What is not known is null: an expected residue without its factor would be a guess. */
static json_t *way_json(const struct shown *s)
{
    const struct tb_lab_way *w = s->way;
    json_t *fibres = json_array(), *limits = json_array(), *factors = json_array(), *methods = json_array();
    json_t *expected = s->expected ? json_object() : json_null();

    for (size_t i = 0; i < s->fibres; i++) {
        tb_json_push(fibres, json_string(tb_fibre_at(w->fibre[i])->key));
        tb_json_push(limits, tb_json_number(w->limit[i]));
    }
    for (size_t k = 0; k < tb_lab_factors(w->route); k++)
        tb_json_push(factors, tb_json_number(w->d[k]));
    for (size_t k = 0; k < 2; k++)
        if (w->method[k])
            tb_json_push(methods, method_json(w->method[k]));
    for (size_t k = 0; s->expected && k < tb_lab_inputs(w->route, s->fibres); k++)
        tb_json_put(expected, tb_lab_input_name(w->route, k), tb_json_number(s->residue.in[k]));
    return json_pack("{s:s, s:o, s:o, s:o, s:o, s:o, s:b, s:b, s:s}", "route", tb_lab_route_key(w->route),
                     "fibres", fibres, "methods", methods, "factors", factors, "limits", limits, "expected",
                     expected, "check_solubility", w->check_solubility, "derived", w->derived, "caution",
                     w->caution);
}

/* Both kinds of ways for one mixture. */
struct plan {
    struct tb_lab_way *way; /* by the methods of the Regulation */
    size_t ways;
    struct tb_lab_path *path; /* by published standards */
    size_t paths;
};

static tb_rc say_json(struct tb_ctx *ctx, const char *text, const struct plan *plan,
                      const struct tb_part *part, struct tb_err *err)
{
    struct tb_lab_standard hand = tb_lab_standard_at(tb_lab_standard_of(TB_LAB_MEANS_HAND));
    json_t *list = json_array();

    for (size_t i = 0; i < plan->ways; i++) {
        struct shown s = show(&plan->way[i], part);

        tb_json_push(list, way_json(&s));
    }
    return tb_print_json(ctx,
                         json_pack("{s:o, s:o, s:o, s:o}", "mixture", tb_json_text(text), "ways", list,
                                   "standards", assay_paths_json(plan->path, plan->paths), "by_hand",
                                   tb_json_standard(&hand)),
                         err);
}

static bool has_reagent(const struct plan *plan)
{
    bool has = plan->ways > 0;

    for (size_t i = 0; i < plan->paths; i++)
        has = has || plan->path[i].step[0].dissolves;
    return has;
}

static void say_text(FILE *out, const struct plan *plan, const struct tb_part *part)
{
    struct tb_lab_standard hand = tb_lab_standard_at(tb_lab_standard_of(TB_LAB_MEANS_HAND));
    struct tb_text number = { 0 };

    tb_standard_words(&number, &hand);
    tb_say(
        out,
        "Where yarns, plies or warp and weft differ, separate them by hand and weigh (%s): it is better than "
        "any reagent.\n",
        tb_text_str(&number));
    if (plan->ways)
        tb_say(out, "Ways by the methods of the Regulation: %zu, best first.\n", plan->ways);
    else
        tb_say(out, "The methods of the Regulation do not separate these fibres.\n");
    for (size_t i = 0; i < plan->ways; i++) {
        struct shown s = show(&plan->way[i], part);

        print_way(out, i + 1, &s);
    }
    assay_print_paths(out, plan->path, plan->paths, plan->ways + 1);
    tb_text_free(&number);
    tb_say(out, "\nAt least two determinations. Identify the fibres first.\n");
    if (has_reagent(plan))
        tb_say(out,
               "These reagents burn, poison or catch fire: a licensed laboratory with a hood; its rules, the "
               "safety data sheets and the local rules come first.\n");
}

/* How much cloth a specimen takes, where the mass per area was given. */
static void say_cloth(FILE *out, double gsm)
{
    if (gsm > 0)
        tb_say(out,
               "A specimen of 1 g takes %.0f cm2 of this cloth; cut it across a whole repeat of the warp, "
               "and take more: pre-treatment and drying cost some.\n",
               tb_lab_cloth_cm2(1, gsm));
}

/* A mixture that no method of the Regulation separates is refused only where no standard serves either. */
static tb_rc make_plan(struct plan *plan, const struct tb_part *part, struct tb_err *err)
{
    tb_rc rc = tb_lab_paths(plan->path, &plan->paths, part, err);

    if (rc != TB_OK)
        return rc;
    rc = tb_lab_plan(plan->way, &plan->ways, part, NULL, err);
    return rc == TB_ENOTFOUND && plan->paths ? TB_OK : rc;
}

tb_rc assay_plan(struct tb_ctx *ctx, const char *text, struct tb_err *err)
{
    struct tb_declaration d = { 0 };
    struct plan plan = { .way = tb_array(struct tb_lab_way, TB_LAB_WAYS_MOST),
                         .path = tb_array(struct tb_lab_path, TB_LAB_PATHS_MOST) };
    double gsm = tb_opt_number(ctx, "mass-per-area", 0, TB_MASS_LEAST, TB_MASS_MOST);
    tb_rc rc = ctx->rc;

    if (rc == TB_OK)
        rc = tb_assay_part_read(&d, "plan", text, false, err);
    if (rc == TB_OK)
        rc = make_plan(&plan, &d.comp.part[0], err);
    if (rc == TB_OK && ctx->json)
        rc = say_json(ctx, d.text, &plan, &d.comp.part[0], err);
    else if (rc == TB_OK) {
        say_text(ctx->out, &plan, &d.comp.part[0]);
        say_cloth(ctx->out, gsm);
    }
    tb_declaration_free(&d);
    free(plan.way);
    free(plan.path);
    return rc;
}
