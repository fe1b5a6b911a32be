/* json.c - a verdict and a declaration as JSON. */
#include "tenterbook/json.h"
#include "tenterbook/evidence.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define VERDICT(member, key) TB_JSON_AS(struct tb_verdict, member, key)
#define NEXT(member, key) TB_JSON_AS(struct tb_next, member, key)
#define POWER(member, key) TB_JSON_AS(struct tb_power, member, key)

/* A part by its word, then fibres by their keys: what most of the lists below hold. */
static json_t *of_part(enum tb_part_kind part, const char *key, json_t *value)
{
    json_t *o = json_object();

    tb_json_put(o, "part", tb_json_text(tb_part_key(part)));
    tb_json_put(o, key, value);
    return o;
}

/* Fibres outside the table have words of their own: other, and unknown. */
static json_t *share_json(int fibre, double percent)
{
    json_t *o = json_object();

    tb_json_put(o, "fibre",
                tb_json_text(fibre >= 0                ? tb_fibre_at(fibre)->key
                             : fibre == TB_FIBRE_OTHER ? "other"
                                                       : "unknown"));
    tb_json_put(o, "percent", tb_json_number(percent));
    return o;
}

/* The text goes out with its length: a supplier's words may hold a NUL. */
static json_t *declaration(const struct tb_declaration *decl)
{
    json_t *parts = json_array(), *doubts = json_array(), *finishes = json_array();

    for (size_t p = 0; p < decl->comp.n; p++) {
        const struct tb_part *part = &decl->comp.part[p];
        json_t *fibres = json_array();

        for (size_t i = 0; i < part->n; i++)
            tb_json_push(fibres, share_json(part->share[i].fibre, part->share[i].percent));
        tb_json_push(parts, json_pack("{s:s, s:o}", "part",
                                      part->label ? part->label : tb_part_key(part->kind), "fibres", fibres));
    }
    for (size_t i = 0; i < decl->n; i++)
        tb_json_push(doubts, json_pack("{s:s, s:I, s:I, s:s}", "kind", tb_doubt_key(decl->doubt[i].kind),
                                       "at", (json_int_t)decl->doubt[i].at, "length",
                                       (json_int_t)decl->doubt[i].len, "say", decl->doubt[i].say));
    for (size_t i = 0; i < tb_finish_count(); i++)
        if (decl->finish & 1u << i)
            tb_json_push(finishes, tb_json_text(tb_finish_key((int)i)));
    return json_pack("{s:s%, s:o, s:o, s:o}", "text", decl->text ? decl->text : "",
                     decl->text ? strlen(decl->text) : 0, "parts", parts, "finishes", finishes, "doubts",
                     doubts);
}

/* What it could be is told nowhere where it may be asbestos: no burn tells one mineral fibre from another (explain.c). */
static bool is_told(const struct tb_verdict *v)
{
    return v->handling != TB_HANDLING_LABORATORY;
}

static json_t *likely(const struct tb_likely *l)
{
    json_t *fibres = json_array(), *one = of_part(l->part, "fibres", fibres);

    for (int r = 0; r < l->n; r++)
        tb_json_push(fibres, share_json(l->fibre[r], l->percent[r]));
    tb_json_put(one, "probability", tb_json_number(l->probability));
    return one;
}

static json_t *likeliest(const struct tb_verdict *v)
{
    json_t *list = json_array();

    for (size_t i = 0; i < v->n_likely && is_told(v); i++) {
        json_t *one = likely(&v->likely[i]);

        tb_json_put(one, "as_declared", v->reason ? json_null() : json_boolean(v->likely[i].as_declared));
        tb_json_push(list, one);
    }
    return list;
}

json_t *tb_likely_json(const struct tb_likely *l, size_t n)
{
    json_t *list = json_array();

    for (size_t i = 0; i < n; i++)
        tb_json_push(list, likely(&l[i]));
    return list;
}

size_t tb_verdict_first_likely(struct tb_likely **out, const struct tb_verdict *v)
{
    size_t n = 0;

    *out = NULL;
    for (size_t i = 0; i < v->n_likely && is_told(v); i++)
        if (!i || v->likely[i].part != v->likely[i - 1].part)
            TB_PUSH(*out, n, v->likely[i]);
    return n;
}

static json_t *present(const struct tb_verdict *v)
{
    json_t *list = json_array();

    for (size_t i = 0; i < v->n_present && is_told(v); i++) {
        const struct tb_present *p = &v->present[i];
        json_t *one = of_part(p->part, "fibre", tb_json_text(tb_fibre_at(p->fibre)->key));

        tb_json_put(one, "probability", tb_json_number(p->probability));
        tb_json_push(list, one);
    }
    return list;
}

static json_t *twins(const struct tb_verdict *v)
{
    json_t *list = json_array();

    for (size_t i = 0; i < v->n_twins && is_told(v); i++) {
        json_t *one = json_array();

        for (size_t k = 0; k < v->twins[i].n; k++)
            tb_json_push(one, tb_json_text(tb_fibre_at(v->twins[i].fibre[k])->key));
        tb_json_push(list, one);
    }
    return list;
}

static json_t *cues(const struct tb_verdict *v)
{
    json_t *list = json_array();

    for (size_t i = 0; i < v->n_cue; i++) {
        const struct tb_cue_weight *w = &v->cue[i];
        struct tb_cue c;

        tb_cue_at(&c, w->cue);
        tb_json_push(list, json_pack("{s:s, s:s, s:b, s:b, s:o, s:o, s:b}", "part", tb_part_key(w->part),
                                     "cue", c.key, "seen", w->sight == TB_SIGHT_SEEN, "denied",
                                     w->sight == TB_SIGHT_DENIED, "weight_db", tb_json_number(w->weight_db),
                                     "alone_db", tb_json_number(w->alone_db), "memory", c.memory));
    }
    return list;
}

static json_t *hazards(unsigned bits)
{
    json_t *list = json_array();

    for (unsigned b = 1; b <= TB_HAZARD_ALL; b <<= 1)
        if (bits & b)
            tb_json_push(list, tb_json_text(tb_hazard_key((enum tb_hazard)b)));
    return list;
}

static json_t *one_next(const struct tb_next *n)
{
    TB_JSON_MEMBERS(worth, TB_JSON_WORD_AS(struct tb_next, part, "part", &tb_part_words), NEXT(test, "test"),
                    NEXT(name, "name"), NEXT(gain_bits, "gain_bits"), NEXT(settles, "settles"),
                    NEXT(cost, "cost"), NEXT(minutes, "minutes"), NEXT(effort, "effort"));
    TB_JSON_MEMBERS(beware, NEXT(caution, "hazard"), NEXT(memory, "memory"));
    json_t *one = tb_json_of(worth, n);

    tb_json_put(one, "hazards", hazards(n->hazards));
    tb_json_add(one, beware, TB_COUNT(beware), n);
    return one;
}

static json_t *next(const struct tb_verdict *v)
{
    json_t *list = json_array();

    for (size_t i = 0; i < v->n_next; i++)
        tb_json_push(list, one_next(&v->next[i]));
    return list;
}

#define OUTCOME(member, key) TB_JSON_AS(struct tb_outcome, member, key)

/* A lot without a label stays as it is graded: what was supposed of it is only what a result speaks for. */
static json_t *outcomes(const struct tb_verdict *v)
{
    TB_JSON_MEMBERS(outcome, OUTCOME(result, "result"), OUTCOME(meaning, "meaning"),
                    TB_JSON_WORD_AS(struct tb_outcome, kind, "verdict", &tb_verdict_words),
                    TB_JSON_WORD_AS(struct tb_outcome, grade, "grade", &tb_grade_words),
                    OUTCOME(bounded, "log_ratio"));
    json_t *list = json_array();

    for (size_t i = 0; i < v->n_outcome; i++) {
        struct tb_outcome o = v->outcome[i];
        json_t *one;

        o.kind = v->supposed ? v->kind : o.kind;
        o.grade = v->supposed ? v->grade : o.grade;
        one = tb_json_of(outcome, &o);
        if (v->supposed)
            tb_json_put(one, "of_supposed", tb_json_text(tb_word(&tb_grade_words, (int)v->outcome[i].grade)));
        if (o.conclusion)
            tb_json_put(one, "conclusion", tb_json_text(o.conclusion));
        tb_json_push(list, one);
    }
    return list;
}

/* Null where it was not asked for, or nothing can be said. */
static json_t *confirm(const struct tb_verdict *v)
{
    json_t *one;

    if (!v->confirm.test)
        return json_null();
    one = one_next(&v->confirm);
    tb_json_put(one, "swatch", tb_json_text(v->confirm_swatch));
    tb_json_put(one, "bolt", tb_json_text(v->confirm_bolt));
    tb_json_put(one, "bolts", v->confirm.bolts ? json_integer((json_int_t)v->confirm.bolts) : json_null());
    tb_json_put(one, "supposed", tb_json_text(v->supposed));
    tb_json_put(one, "outcomes", outcomes(v));
    return one;
}

/* The least and the greatest evidence ratio that the tests of the model carry, and what was not among those tests. */
static json_t *limits(const struct tb_verdict *v)
{
    json_t *untested = json_array();

    if (v->untested_blend)
        tb_json_push(untested, tb_json_text("blend"));
    if (v->untested_finish)
        tb_json_push(untested, tb_json_text("finish"));
    /* without a ratio too, where they are known: whoever makes the model again needs them */
    if (!v->reason || v->full_bounds.high > 0)
        return json_pack("{s:f, s:f, s:b, s:I, s:{s:f, s:f}, s:I, s:o, s:i, s:o}", "lowest",
                         exp(v->bounds.low), "highest", exp(v->bounds.high), "reached",
                         v->log_ratio <= v->bounds.low || v->log_ratio >= v->bounds.high, "looks",
                         (json_int_t)v->looks, "of_many_looks", "lowest", exp(v->full_bounds.low), "highest",
                         exp(v->full_bounds.high), "settled_lots", (json_int_t)v->settled_lots,
                         "settled_cases", isnan(v->settled_cases) ? json_null() : json_real(v->settled_cases),
                         "rule", TB_BOUNDS_RULE, "untested", untested);
    json_decref(untested);
    return json_null();
}

/* What the ratio means where so many lots are not as declared; null where nobody said how many. */
static json_t *base_rate(const struct tb_verdict *v)
{
    double chance = tb_verdict_chance_false(v);

    return isnan(chance) ? json_null()
                         : json_pack("{s:f, s:s, s:f}", "rate", v->base_rate, "from",
                                     tb_word(&tb_base_words, (int)v->base_from), "not_as_declared", chance);
}

/* The chance of a mistake at the bench that stands in every burn, and the drills that it comes from. */
static json_t *bench_error(const struct tb_verdict *v)
{
    const struct tb_drilled *d = &v->drilled;

    return d->burns ? json_pack("{s:f, s:s, s:I, s:I, s:f, s:f}", "chance", v->bench_error, "from", "drills",
                                "drilled", (json_int_t)d->burns, "mistakes", (json_int_t)d->mistakes, "lower",
                                d->lower, "upper", d->upper)
                    : json_pack("{s:f, s:s}", "chance", v->bench_error, "from", "published");
}

static json_t *powers(const struct tb_verdict *v)
{
    TB_JSON_MEMBERS(power, TB_JSON_WORD_AS(struct tb_power, part, "part", &tb_part_words),
                    POWER(instead, "instead"), POWER(blind, "blind"), POWER(one, "one_burn"),
                    POWER(two, "two_burns"), POWER(with_test, "with_test"), POWER(test, "test"),
                    POWER(draws, "draws"));
    json_t *list = json_array();

    for (size_t i = 0; i < v->n_power; i++) {
        struct tb_power told = v->power[i];

        told.one = tb_power_told(told.one);
        told.two = tb_power_told(told.two);
        told.with_test = tb_power_told(told.with_test);
        tb_json_push(list, tb_json_of(power, &told));
    }
    return list;
}

/*
 * Members go out in this order every time, so that two verdicts can be compared line by line. What lies beyond the limits serves
 * for sorting and for computing the verdict again, and is named so.
 */
json_t *tb_verdict_json(const struct tb_verdict *v, const char *id, const struct tb_declaration *decl)
{
    TB_JSON_MEMBERS(verdict, TB_JSON_WORD_AS(struct tb_verdict, kind, "verdict", &tb_verdict_words),
                    TB_JSON_WORD_AS(struct tb_verdict, grade, "grade", &tb_grade_words),
                    TB_JSON_WORD_AS(struct tb_verdict, handling, "handling", &tb_handling_keys),
                    VERDICT(reason, "reason"), VERDICT(ratio, "evidence_ratio"),
                    VERDICT(log_ratio, "log_ratio"), VERDICT(one_look, "one_look"),
                    VERDICT(none_alone, "none_alone"), VERDICT(few_tell, "few_tell"),
                    VERDICT(excused, "excused"), VERDICT(at_odds, "at_odds"), VERDICT(outdone, "outdone"),
                    VERDICT(imitated, "imitated"), VERDICT(burns, "burns"));
    TB_JSON_MEMBERS(exact, VERDICT(log_ratio, "sort_log_ratio"), VERDICT(log_declared, "sort_log_declared"),
                    VERDICT(log_else, "sort_log_else"));
    struct tb_verdict within = *v;
    json_t *o = json_object(), *notes = json_array();
    char *rule = tb_verdict_rule(v);

    if (id)
        tb_json_put(o, "id", tb_json_text(id));
    tb_json_put(o, "declared", declaration(decl));
    within.log_ratio = tb_bounded(&v->bounds, v->log_ratio);
    tb_json_add(o, verdict, TB_COUNT(verdict), &within);
    tb_json_put(o, "limits", limits(v));
    tb_json_add(o, exact, TB_COUNT(exact), v);
    tb_json_put(o, "bench_error", bench_error(v));
    tb_json_put(o, "base_rate", base_rate(v));
    tb_json_put(o, "rule", tb_json_text(rule));
    tb_json_put(o, "likeliest", likeliest(v));
    tb_json_put(o, "present", present(v));
    tb_json_put(o, "twins", twins(v));
    tb_json_put(o, "cues", cues(v));
    tb_json_put(o, "next", next(v));
    tb_json_put(o, "confirm", confirm(v));
    tb_json_put(o, "power", powers(v));
    for (size_t i = 0; i < v->n_note; i++)
        tb_json_push(notes, tb_json_text(v->note[i]));
    tb_json_put(o, "notes", notes);
    tb_json_put(o, "reference", tb_json_text(v->digest));
    free(rule);
    return o;
}
