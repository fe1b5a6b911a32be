/* Which methods separate a mixture, as JSON. */
#include "tenterbook/status.h"
#include "tenterbook/tell.h"

/* A number that is only remembered is no number: it stands under a key of its own. */
#define STANDARD(member) TB_JSON_AS(struct tb_lab_standard, member, #member)
TB_JSON_MEMBERS(standard_members, STANDARD(series),
                TB_JSON_WORD_AS(struct tb_lab_standard, means, "means", &tb_lab_means_words),
                STANDARD(covers), STANDARD(reagent), STANDARD(hazard), STANDARD(effort), STANDARD(tells),
                STANDARD(note), STANDARD(source), STANDARD(status));

json_t *tb_json_standard(const struct tb_lab_standard *s)
{
    bool memory = tb_status_memory(s->status);
    json_t *j = json_pack("{s:s?, s:s?, s:o}", "number", memory ? NULL : s->number, "number_from_memory",
                          memory ? s->number : NULL, "year", s->year ? json_integer(s->year) : json_null());

    tb_json_add(j, standard_members, TB_COUNT(standard_members), s);
    return j;
}

#define METHOD(member, key) TB_JSON_AS(struct tb_lab_method, member, key)
TB_JSON_MEMBERS(method_members, METHOD(number, "number"), METHOD(reagent, "reagent"),
                METHOD(conditions, "conditions"), METHOD(hazard, "hazard"), METHOD(note, "note"),
                METHOD(effort, "effort"), METHOD(limit, "limit"), METHOD(source, "source"),
                METHOD(status, "status"));

static json_t *method_json(int method)
{
    struct tb_lab_method m;
    char number[TB_STANDARD];
    json_t *j;

    if (!tb_lab_method_get(&m, method))
        return json_null();
    j = tb_json_of(method_members, &m);
    tb_json_put(j, "iso_part", tb_json_text(tb_standard_words(number, &m.standard)));
    tb_json_put(j, "iso_from_memory", json_boolean(tb_status_memory(m.standard.status)));
    tb_json_put(j, "standard", tb_json_standard(&m.standard));
    return j;
}

/* What is not known is null: an expected residue without its factor would be a guess. */
static json_t *way_json(const struct tb_lab_way *w, const struct tb_part *mixture)
{
    struct tb_lab_det residue;
    bool known = tb_lab_forecast(&residue, w, mixture);
    json_t *fibres = json_array(), *limits = json_array(), *factors = json_array(), *methods = json_array();
    json_t *expected = known ? json_object() : json_null();

    for (size_t i = 0; i < mixture->n; i++) {
        tb_json_push(fibres, json_string(tb_fibre_at(w->fibre[i])->key));
        tb_json_push(limits, tb_json_number(w->limit[i]));
    }
    for (size_t k = 0; k < tb_lab_factors(w->route); k++)
        tb_json_push(factors, tb_json_number(w->d[k]));
    for (size_t k = 0; k < 2; k++)
        if (w->method[k])
            tb_json_push(methods, method_json(w->method[k]));
    for (size_t k = 0; known && k < tb_lab_inputs(w->route, mixture->n); k++)
        tb_json_put(expected, tb_lab_input_name(w->route, k), tb_json_number(residue.in[k]));
    return json_pack("{s:s, s:o, s:o, s:o, s:o, s:o, s:b, s:b, s:s}", "route", tb_lab_route_key(w->route),
                     "fibres", fibres, "methods", methods, "factors", factors, "limits", limits, "expected",
                     expected, "check_solubility", w->check_solubility, "derived", w->derived, "caution",
                     w->caution);
}

static json_t *step_json(const struct tb_lab_step *s)
{
    struct tb_lab_standard std = tb_lab_standard_at(s->standard);
    json_t *fibres = json_array();

    for (size_t i = 0; i < s->fibres; i++)
        tb_json_push(fibres, json_string(tb_fibre_at(s->fibre[i])->key));
    return json_pack("{s:s, s:o, s:b, s:o}", "does", s->dissolves ? "dissolve" : "tell_apart", "fibres",
                     fibres, "check_solubility", s->some, "standard", tb_json_standard(&std));
}

static json_t *paths_json(const struct tb_lab_path *path, size_t n)
{
    struct tb_lab_standard three = tb_lab_standard_at(tb_lab_standard_of(TB_LAB_MEANS_TERNARY));
    json_t *list = json_array();

    for (size_t i = 0; i < n; i++) {
        json_t *steps = json_array();

        for (size_t k = 0; k < path[i].steps; k++)
            tb_json_push(steps, step_json(&path[i].step[k]));
        tb_json_push(list, json_pack("{s:o, s:o}", "steps", steps, "joined_by",
                                     tb_lab_path_joined(&path[i]) ? tb_json_standard(&three) : json_null()));
    }
    return list;
}

json_t *tb_json_assay_plan(const struct tb_assay_plan *plan)
{
    struct tb_lab_standard hand = tb_lab_standard_at(tb_lab_standard_of(TB_LAB_MEANS_HAND));
    json_t *ways = json_array();

    for (size_t i = 0; i < plan->ways; i++)
        tb_json_push(ways, way_json(&plan->way[i], &plan->mixture.comp.part[0]));
    return json_pack("{s:o, s:o, s:o, s:o}", "mixture", tb_json_text(plan->mixture.text), "ways", ways,
                     "standards", paths_json(plan->path, plan->paths), "by_hand", tb_json_standard(&hand));
}
