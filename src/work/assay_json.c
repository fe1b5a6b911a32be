/* An analysis as JSON: what programs get, and what the book keeps of it. */
#include "tenterbook/assay.h"

#include <math.h>

static const char *key_of(int fibre)
{
    return fibre >= 0 ? tb_fibre_at(fibre)->key : "other";
}

/* JSON knows no infinity: an open end or endless freedom is null. */
static json_t *number(double x)
{
    return isfinite(x) ? json_real(x) : json_null();
}

/* One fibre on one basis, with what its uncertainty is made of: a reader can compute it again. */
static json_t *share_json(int fibre, const struct tb_lab_share *s)
{
    return json_pack("{s:s, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:{s:o, s:o, s:o, s:o}}", "fibre",
                     key_of(fibre), "percent", number(s->percent), "rounded", number(s->rounded), "spread",
                     number(s->spread), "u", number(s->u), "freedom", number(s->freedom), "low",
                     number(s->low), "high", number(s->high), "budget", "scatter", number(s->u_repeat),
                     "weighing", number(s->u_weigh), "factors", number(s->u_factor), "method",
                     number(s->u_method));
}

/* A basis without a figure for every fibre is null: an empty list would look like nothing found. */
static json_t *bases_json(const struct tb_assay *a)
{
    json_t *bases = json_object();

    for (enum tb_lab_basis b = TB_LAB_DRY; b < TB_LAB_BASES; b++) {
        json_t *shares = a->result.known[b] ? json_array() : json_null();

        for (size_t i = 0; a->result.known[b] && i < a->fibres; i++)
            (void)json_array_append_new(shares, share_json(a->setup.fibre[i], &a->result.share[b][i]));
        (void)json_object_set_new(bases, tb_lab_basis_key(b), shares);
    }
    return bases;
}

static json_t *allowance_json(const struct tb_lab_allowance *x)
{
    if (!x->status[0])
        return json_null();
    return json_pack("{s:o, s:o, s:s, s:b, s:s, s:s}", "percent", number(x->percent), "loss", number(x->loss),
                     "condition", x->condition, "assumed", x->assumed, "status", x->status, "source",
                     x->source);
}

static json_t *allowances_json(const struct tb_assay *a)
{
    json_t *list = json_array();

    for (size_t i = 0; i < a->fibres; i++)
        (void)json_array_append_new(list, json_pack("{s:s, s:o, s:o}", "fibre", key_of(a->setup.fibre[i]),
                                                    "eu", allowance_json(&a->setup.allowance[TB_LAB_EU][i]),
                                                    "us", allowance_json(&a->setup.allowance[TB_LAB_US][i])));
    return list;
}

static json_t *numbers(const double *x, size_t n)
{
    json_t *list = json_array();

    for (size_t i = 0; i < n; i++)
        (void)json_array_append_new(list, number(x[i]));
    return list;
}

/* The readings as they were taken: the whole analysis can be repeated from the record. */
static json_t *readings_json(const struct tb_assay *a)
{
    json_t *list = json_array();

    for (size_t i = 0; i < a->masses.n; i++)
        (void)json_array_append_new(
            list, numbers(a->masses.det[i].in, tb_lab_inputs(a->setup.task.route, a->fibres)));
    return list;
}

static json_t *warnings_json(const struct tb_assay *a)
{
    static const struct {
        unsigned bit;
        const char *key;
    } warning[] = {
        { TB_LAB_WARN_SINGLE, "single" },
        { TB_LAB_WARN_SPREAD, "spread" },
        { TB_LAB_WARN_OUTSIDE, "outside" },
        { TB_LAB_WARN_NO_LIMIT, "no_limit" },
    };
    json_t *list = json_array();

    for (size_t i = 0; i < TB_COUNT(warning); i++)
        if (a->result.warnings & warning[i].bit)
            (void)json_array_append_new(list, json_string(warning[i].key));
    return list;
}

static void add_analysis(json_t *j, const struct tb_assay *a)
{
    const struct tb_lab_setup *s = &a->setup;
    json_t *methods = json_array();

    for (size_t k = 0; k < 2; k++)
        if (s->method[k])
            (void)json_array_append_new(methods, json_integer(s->method[k]));
    (void)json_object_set_new(j, "route", json_string(tb_lab_route_key(s->task.route)));
    (void)json_object_set_new(j, "methods", methods);
    (void)json_object_set_new(j, "factors", numbers(s->task.d, tb_lab_factors(s->task.route)));
    (void)json_object_set_new(j, "determinations", readings_json(a));
    (void)json_object_set_new(j, "bases", bases_json(a));
    (void)json_object_set_new(j, "exact", numbers(a->result.exact, a->fibres));
    (void)json_object_set_new(j, "bias", numbers(a->result.bias, a->fibres));
    (void)json_object_set_new(j, "spread_limit", number(a->result.spread_limit));
    (void)json_object_set_new(j, "allowances", allowances_json(a));
    (void)json_object_set_new(j, "warnings", warnings_json(a));
}

/* A laboratory that reports percentages gives no readings: nothing is claimed of how it found them. */
static void add_reported(json_t *j, const struct tb_assay *a)
{
    json_t *list = json_array();

    for (size_t i = 0; i < a->fibres; i++)
        (void)json_array_append_new(
            list, json_pack("{s:s, s:o, s:o}", "fibre", key_of(a->found[TB_LAB_EU][i].fibre), "percent",
                            number(a->found[TB_LAB_EU][i].percent), "u", number(a->found[TB_LAB_EU][i].u)));
    (void)json_object_set_new(j, "route", json_string("reported"));
    (void)json_object_set_new(j, "reported", list);
}

/* Where even a perfect result could not conform, "accept" is null instead of an interval that is empty. */
static json_t *line_json(const struct tb_conform_line *l)
{
    bool none = fmax(0, l->decision.accept.lower) > fmin(100, l->decision.accept.upper);

    return json_pack(
        "{s:s, s:b, s:o, s:o, s:o, s:[o,o], s:o, s:o, s:o, s:s, s:s, s:s}", "fibre", key_of(l->fibre),
        "undeclared", l->undeclared, "declared", number(l->declared), "found", number(l->found), "u",
        number(l->u), "allowed", number(l->limit.lower), number(l->limit.upper), "probability",
        number(l->decision.probability), "guard", number(l->decision.guard), "accept",
        none ? json_null()
             : json_pack("[o,o]", number(l->decision.accept.lower), number(l->decision.accept.upper)),
        "answer", tb_lab_answer_key(l->decision.answer), "clause", l->rule.clause, "status", l->rule.status);
}

static json_t *conformity_json(const struct tb_assay *a)
{
    json_t *list = json_array();

    for (size_t i = 0; i < a->markets; i++) {
        const struct tb_conform *c = &a->conform[i];
        json_t *lines = json_array();

        for (size_t k = 0; k < c->n; k++)
            (void)json_array_append_new(lines, line_json(&c->line[k]));
        (void)json_array_append_new(
            list, json_pack("{s:s, s:s, s:s, s:b, s:o, s:o, s:o}", "market", c->market, "basis",
                            a->reported ? "reported" : tb_lab_basis_key(a->basis[i]), "answer",
                            tb_lab_answer_key(c->answer), "withheld", tb_assay_withheld(a), "sure",
                            number(a->sure), "taken_out", number(c->taken_out), "fibres", lines));
    }
    return list;
}

json_t *tb_assay_json(const struct tb_assay *a)
{
    json_t *j = json_object();

    if (a->reported)
        add_reported(j, a);
    else
        add_analysis(j, a);
    if (a->claim) {
        (void)json_object_set_new(j, "declared", json_string(a->declared.text));
        (void)json_object_set_new(j, "conformity", conformity_json(a));
    }
    (void)json_object_set_new(
        j, "caution",
        json_string("information, not legal advice: the official text and local counsel decide"));
    return j;
}
