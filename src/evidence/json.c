/* json.c - a verdict and a declaration as JSON. */
#include "tenterbook/evidence.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Numbers that were not worked out are null, never NaN. */
static json_t *number(double v)
{
    return isfinite(v) ? json_real(v) : json_null();
}

/* Fibres outside the table have words of their own: other, and unknown. */
static json_t *share_json(const struct tb_share *s)
{
    const char *key = s->fibre >= 0                ? tb_fibre_at(s->fibre)->key
                      : s->fibre == TB_FIBRE_OTHER ? "other"
                                                   : "unknown";

    return json_pack("{s:s, s:o}", "fibre", key, "percent", number(s->percent));
}

/* The text goes out with its length: a supplier's words may hold a NUL. */
static json_t *declaration(const struct tb_declaration *decl)
{
    json_t *parts = json_array(), *doubts = json_array();

    for (size_t p = 0; p < decl->comp.n; p++) {
        const struct tb_part *part = &decl->comp.part[p];
        json_t *fibres = json_array();

        for (size_t i = 0; i < part->n; i++)
            (void)json_array_append_new(fibres, share_json(&part->share[i]));
        (void)json_array_append_new(parts, json_pack("{s:s, s:o}", "part",
                                                     part->label ? part->label : tb_part_key(part->kind),
                                                     "fibres", fibres));
    }
    for (size_t i = 0; i < decl->n; i++)
        (void)json_array_append_new(
            doubts, json_pack("{s:s, s:I, s:I, s:s}", "kind", tb_doubt_key(decl->doubt[i].kind), "at",
                              (json_int_t)decl->doubt[i].at, "length", (json_int_t)decl->doubt[i].len, "say",
                              decl->doubt[i].say));
    return json_pack("{s:s%, s:o, s:o}", "text", decl->text ? decl->text : "",
                     decl->text ? strlen(decl->text) : 0, "parts", parts, "doubts", doubts);
}

static json_t *likeliest(const struct tb_verdict *v)
{
    json_t *list = json_array();

    for (size_t i = 0; i < v->n_likely; i++) {
        const struct tb_likely *l = &v->likely[i];
        json_t *fibres = json_array();

        for (int r = 0; r < l->n; r++)
            (void)json_array_append_new(
                fibres,
                json_pack("{s:s, s:f}", "fibre", tb_fibre_at(l->fibre[r])->key, "percent", l->percent[r]));
        (void)json_array_append_new(list, json_pack("{s:s, s:o, s:f}", "part", tb_part_key(l->part), "fibres",
                                                    fibres, "probability", l->probability));
    }
    return list;
}

static json_t *present(const struct tb_verdict *v)
{
    json_t *list = json_array();

    for (size_t i = 0; i < v->n_present; i++)
        (void)json_array_append_new(
            list, json_pack("{s:s, s:s, s:f}", "part", tb_part_key(v->present[i].part), "fibre",
                            tb_fibre_at(v->present[i].fibre)->key, "probability", v->present[i].probability));
    return list;
}

static json_t *twins(const struct tb_verdict *v)
{
    json_t *list = json_array();

    for (size_t i = 0; i < v->n_twins; i++) {
        json_t *one = json_array();

        for (size_t k = 0; k < v->twins[i].n; k++)
            (void)json_array_append_new(one, json_string(tb_fibre_at(v->twins[i].fibre[k])->key));
        (void)json_array_append_new(list, one);
    }
    return list;
}

static json_t *cues(const struct tb_verdict *v)
{
    json_t *list = json_array();

    for (size_t i = 0; i < v->n_cue; i++) {
        struct tb_cue c;

        tb_cue_at(&c, v->cue[i].cue);
        (void)json_array_append_new(
            list, json_pack("{s:s, s:s, s:b, s:b, s:o, s:o, s:b}", "part", tb_part_key(v->cue[i].part), "cue",
                            c.key, "seen", v->cue[i].sight == TB_SIGHT_SEEN, "denied",
                            v->cue[i].sight == TB_SIGHT_DENIED, "weight_db", number(v->cue[i].weight_db),
                            "alone_db", number(v->cue[i].alone_db), "memory", c.memory));
    }
    return list;
}

static json_t *hazards(unsigned bits)
{
    json_t *list = json_array();

    for (unsigned b = 1; b <= TB_HAZARD_ALL; b <<= 1)
        if (bits & b)
            (void)json_array_append_new(list, json_string(tb_hazard_key((enum tb_hazard)b)));
    return list;
}

static json_t *next(const struct tb_verdict *v)
{
    json_t *list = json_array();

    for (size_t i = 0; i < v->n_next; i++) {
        const struct tb_next *n = &v->next[i];

        (void)json_array_append_new(list, json_pack("{s:s, s:s, s:s, s:f, s:f, s:f, s:o, s:s, s:b}", "part",
                                                    tb_part_key(n->part), "test", n->test, "name", n->name,
                                                    "gain_bits", n->gain_bits, "cost", n->cost, "minutes",
                                                    n->minutes, "hazards", hazards(n->hazards), "hazard",
                                                    n->caution, "memory", n->memory));
    }
    return list;
}

static json_t *power(const struct tb_verdict *v)
{
    json_t *list = json_array();

    for (size_t i = 0; i < v->n_power; i++) {
        const struct tb_power *p = &v->power[i];

        (void)json_array_append_new(list, json_pack("{s:s, s:s, s:b, s:o, s:o, s:o, s:s?, s:i}", "part",
                                                    tb_part_key(p->part), "instead", p->instead, "blind",
                                                    p->blind, "one_burn", number(p->one), "two_burns",
                                                    number(p->two), "with_test", number(p->with_test), "test",
                                                    p->test, "draws", p->draws));
    }
    return list;
}

/* Members go out in this order every time, so that two verdicts can be compared line by line. */
json_t *tb_verdict_json(const struct tb_verdict *v, const char *id, const struct tb_declaration *decl)
{
    json_t *o = json_object(), *notes = json_array();
    char *rule = tb_verdict_rule(v);

    if (id)
        (void)json_object_set_new(o, "id", json_string(id));
    (void)json_object_set_new(o, "declared", declaration(decl));
    (void)json_object_set_new(o, "verdict", json_string(tb_verdict_key(v->kind)));
    (void)json_object_set_new(o, "reason", v->reason ? json_string(v->reason) : json_null());
    (void)json_object_set_new(o, "evidence_ratio", number(v->ratio));
    (void)json_object_set_new(o, "log_ratio", number(v->log_ratio));
    (void)json_object_set_new(o, "log_declared", number(v->log_declared));
    (void)json_object_set_new(o, "log_else", number(v->log_else));
    (void)json_object_set_new(o, "burns", json_integer((json_int_t)v->burns));
    (void)json_object_set_new(o, "rule", json_string(rule));
    (void)json_object_set_new(o, "likeliest", likeliest(v));
    (void)json_object_set_new(o, "present", present(v));
    (void)json_object_set_new(o, "twins", twins(v));
    (void)json_object_set_new(o, "cues", cues(v));
    (void)json_object_set_new(o, "next", next(v));
    (void)json_object_set_new(o, "power", power(v));
    for (size_t i = 0; i < v->n_note; i++)
        (void)json_array_append_new(notes, json_string(v->note[i]));
    (void)json_object_set_new(o, "notes", notes);
    (void)json_object_set_new(o, "reference", json_string(v->digest));
    free(rule);
    return o;
}
