/* A verdict written as JSON and read back: every field comes through, and what is damaged is refused by name. */
#include "tenterbook/stored_verdict.h"
#include "tenterbook/work.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static struct tb_evidence *model;
static struct tb_lot_verdict judged, open; /* open: one burn, and still worth a test */
static struct tb_arena mem;
static struct tb_err err;
static const struct tb_lot lot = { .ref = "W26-014.02", .bolts_burnt = 2, .bolts_tested = 3, .bolts = 40 };

/* Silk in the warp, wool in the weft; one bolt burns as it should, the other melts. */
static int judge(void **state)
{
    static const char *const saw[][2] = { { "warp", "odour:burning_hair" },
                                          { "weft", "odour:burning_hair" },
                                          { "warp", "in_flame:drips residue_form:hard_bead" } };
    const char *bolt[] = { "B1", "B1", "B2" };
    struct tb_observation obs[3] = { { 0 } };
    struct tb_lot_burns burns = {
        lot.ref, "warp: 100 % silk; weft: 100 % wool", obs, bolt, 3, NULL, NULL, 0, NULL, 0
    };
    struct tb_lot_burns one = { lot.ref, "100 % wool", obs, bolt, 1, NULL, NULL, 0, NULL, 0 };
    struct tb_evidence_settings set;

    (void)state;
    tb_evidence_defaults(&set);
    set.fibres_most = 2;
    set.base_rate = 0.04;
    set.base_from = TB_BASE_SITE;
    set.bench_error = 0.006;
    set.drilled = (struct tb_drilled){ 60, 1, 0.001, 0.02 };
    for (size_t i = 0; i < 3; i++) {
        obs[i].part = (enum tb_part_kind)tb_part_by_key(saw[i][0]);
        if (tb_observation_read(&obs[i], saw[i][1], "smoke:black", NULL, &err) != TB_OK)
            return -1;
    }
    if (tb_evidence_new(&model, &set, NULL, 0, &err) != TB_OK ||
        tb_bench_weigh(&judged, &burns, model, NULL, TB_WANT_ALL, &err) != TB_OK)
        return -1;
    obs[0].part = TB_PART_WHOLE;
    return tb_bench_weigh(&open, &one, model, NULL, TB_WANT_ALL, &err) == TB_OK ? 0 : -1;
}

static int clean(void **state)
{
    (void)state;
    tb_lot_verdict_free(&judged);
    tb_lot_verdict_free(&open);
    tb_evidence_free(model);
    tb_arena_free(&mem);
    return 0;
}

static char *stored_text(const struct tb_lot_verdict *v)
{
    json_t *o = tb_lot_verdict_json(v, &lot);
    char *text = json_dumps(o, JSON_COMPACT | JSON_SORT_KEYS | JSON_REAL_PRECISION(17));

    json_decref(o);
    assert_non_null(text);
    return text;
}

/* Both absent, or the same number bit for bit. */
static void same_number(double a, double b)
{
    assert_true((isnan(a) && isnan(b)) || a == b);
}

static void same_lists(const struct tb_stored_verdict *s, const struct tb_verdict *v)
{
    assert_int_equal(s->n_likely, v->n_likely);
    for (size_t i = 0; i < v->n_likely; i++) {
        assert_int_equal(s->likely[i].part, v->likely[i].part);
        assert_int_equal(s->likely[i].n, v->likely[i].n);
        same_number(s->likely[i].probability, v->likely[i].probability);
        for (size_t k = 0; k < s->likely[i].n; k++) {
            assert_string_equal(s->likely[i].fibre[k].fibre, tb_fibre_at(v->likely[i].fibre[k])->key);
            same_number(s->likely[i].fibre[k].percent, v->likely[i].percent[k]);
        }
    }
    assert_int_equal(s->n_present, v->n_present);
    for (size_t i = 0; i < v->n_present; i++) {
        assert_int_equal(s->present[i].part, v->present[i].part);
        assert_string_equal(s->present[i].fibre, tb_fibre_at(v->present[i].fibre)->key);
        same_number(s->present[i].probability, v->present[i].probability);
    }
    assert_int_equal(s->n_twins, v->n_twins);
    for (size_t i = 0; i < v->n_twins; i++) {
        assert_int_equal(s->twins[i].n, v->twins[i].n);
        for (size_t k = 0; k < v->twins[i].n; k++)
            assert_string_equal(s->twins[i].fibre[k], tb_fibre_at(v->twins[i].fibre[k])->key);
    }
    assert_int_equal(s->n_note, v->n_note);
    for (size_t i = 0; i < v->n_note; i++)
        assert_string_equal(s->note[i], v->note[i]);
}

static void same_next(const struct tb_stored_next *s, const struct tb_next *n)
{
    size_t hazards = 0;

    for (unsigned bit = 1; bit <= TB_HAZARD_ALL; bit <<= 1)
        hazards += (n->hazards & bit) != 0;
    assert_int_equal(s->part, n->part);
    assert_string_equal(s->test, n->test);
    assert_string_equal(s->name, n->name);
    assert_string_equal(s->effort, n->effort);
    assert_string_equal(s->caution, n->caution);
    same_number(s->gain_bits, n->gain_bits);
    same_number(s->settles, n->settles);
    same_number(s->cost, n->cost);
    same_number(s->minutes, n->minutes);
    assert_int_equal(s->hazards, hazards);
    assert_int_equal(s->memory, n->memory);
}

static void same_tables(const struct tb_stored_verdict *s, const struct tb_verdict *v)
{
    assert_int_equal(s->n_cue, v->n_cue);
    for (size_t i = 0; i < v->n_cue; i++) {
        struct tb_cue cue;

        tb_cue_at(&cue, v->cue[i].cue);
        assert_int_equal(s->cue[i].part, v->cue[i].part);
        assert_string_equal(s->cue[i].cue, cue.key);
        assert_int_equal(s->cue[i].sight, v->cue[i].sight);
        same_number(s->cue[i].weight_db, v->cue[i].weight_db);
        same_number(s->cue[i].alone_db, v->cue[i].alone_db);
        assert_int_equal(s->cue[i].memory, cue.memory);
    }
    assert_int_equal(s->n_next, v->n_next);
    for (size_t i = 0; i < v->n_next; i++)
        same_next(&s->next[i], &v->next[i]);
    assert_int_equal(v->confirm.test != NULL, s->confirm.test[0] != '\0');
    if (v->confirm.test)
        same_next(&s->confirm, &v->confirm);
    assert_int_equal(s->n_outcome, v->n_outcome);
    for (size_t i = 0; i < v->n_outcome; i++) {
        assert_string_equal(s->outcome[i].result, v->outcome[i].result);
        assert_string_equal(s->outcome[i].meaning, v->outcome[i].meaning);
        assert_int_equal(s->outcome[i].kind, v->outcome[i].kind);
        assert_int_equal(s->outcome[i].grade, v->outcome[i].grade);
        same_number(s->outcome[i].log_ratio, v->outcome[i].bounded);
    }
    assert_int_equal(s->n_power, v->n_power);
    for (size_t i = 0; i < v->n_power; i++) {
        const struct tb_power *p = &v->power[i];

        assert_int_equal(s->power[i].part, p->part);
        assert_string_equal(s->power[i].instead, p->instead);
        assert_int_equal(s->power[i].blind, p->blind);
        same_number(s->power[i].one, tb_power_told(p->one));
        same_number(s->power[i].two, tb_power_told(p->two));
        same_number(s->power[i].with_test, tb_power_told(p->with_test));
        assert_string_equal(s->power[i].test, p->test ? p->test : "");
        assert_int_equal(s->power[i].draws, p->draws);
    }
}

static void a_verdict_read_back_is_the_verdict_that_was_stored(void **state)
{
    const struct tb_verdict *v = &judged.verdict;
    struct tb_stored_verdict s;
    char *text = stored_text(&judged), *rule = tb_verdict_rule(v);

    (void)state;
    if (tb_stored_verdict_parse(&s, text, &mem, &err) != TB_OK)
        fail_msg("%s", err.msg);
    assert_string_equal(s.lot, "W26-014.02");
    assert_string_equal(s.declared, "warp: 100 % silk; weft: 100 % wool");
    assert_int_equal(s.kind, v->kind);
    assert_int_equal(s.grade, v->grade);
    assert_int_equal(s.handling, v->handling);
    assert_string_equal(s.reason, v->reason ? v->reason : "");
    same_number(s.log_ratio, v->log_ratio);
    same_number(s.log_declared, v->log_declared);
    same_number(s.log_else, v->log_else);
    same_number(s.bounds.low, v->bounds.low);
    same_number(s.bounds.high, v->bounds.high);
    assert_int_equal(s.settled_lots, v->settled_lots);
    same_number(s.bench_error, v->bench_error);
    assert_int_equal(s.drilled.burns, v->drilled.burns);
    assert_int_equal(s.drilled.mistakes, v->drilled.mistakes);
    same_number(s.drilled.upper, v->drilled.upper);
    same_number(s.base_rate, v->base_rate);
    assert_int_equal(s.base_from, v->base_from);
    same_number(s.not_as_declared, tb_verdict_chance_false(v));
    assert_int_equal(s.burns, judged.burns);
    assert_int_equal(s.burns, 1); /* of the bolt that contradicts */
    assert_int_equal(s.observations, v->burns);
    assert_string_equal(s.rule, rule);
    assert_string_equal(s.reference, v->digest);
    assert_true(v->n_likely && v->n_present && v->n_twins && v->n_cue && v->n_power);
    same_lists(&s, v);
    same_tables(&s, v);
    assert_int_equal(s.n_bolt, 2);
    for (size_t i = 0; i < 2; i++) {
        assert_string_equal(s.bolt[i].number, judged.bolt[i].number);
        assert_int_equal(s.bolt[i].kind, judged.bolt[i].kind);
        assert_int_equal(s.bolt[i].grade, judged.bolt[i].grade);
        same_number(s.bolt[i].log_ratio, judged.bolt[i].log_ratio);
        assert_int_equal(s.bolt[i].burns, judged.bolt[i].burns);
        assert_int_equal(s.bolt[i].observations, judged.bolt[i].observations);
    }
    assert_int_equal(s.bolts_burnt, 2);
    assert_int_equal(s.bolts_tested, 3);
    assert_int_equal(s.bolts, 40);
    assert_int_equal(tb_stored_verdict_against(&s), 1); /* the bolt that melts */
    free(text);
    free(rule);
}

static void tests_worth_making_are_read_back(void **state)
{
    struct tb_stored_verdict s;
    char *text = stored_text(&open);

    (void)state;
    assert_int_equal(tb_stored_verdict_parse(&s, text, &mem, &err), TB_OK);
    assert_true(s.n_next > 1);
    same_tables(&s, &open.verdict);
    free(text);
}

/* What is stored for people who read the JSON only has no field: evidence_ratio. */
static void every_member_that_is_stored_has_a_field(void **state)
{
    static const char *const known[] = { "id",
                                         "declared",
                                         "verdict",
                                         "reason",
                                         "evidence_ratio",
                                         "log_ratio",
                                         "grade",
                                         "one_look",
                                         "limits",
                                         "base_rate",
                                         "burns",
                                         "rule",
                                         "sort_log_ratio",
                                         "sort_log_declared",
                                         "sort_log_else",
                                         "likeliest",
                                         "present",
                                         "twins",
                                         "cues",
                                         "next",
                                         "power",
                                         "notes",
                                         "reference",
                                         "by_bolt",
                                         "bolts_burnt",
                                         "bolts",
                                         "bolts_tested",
                                         "observations",
                                         "confirm",
                                         "bench_error",
                                         "imitated",
                                         "outdone",
                                         "at_odds",
                                         "none_alone",
                                         "few_tell",
                                         "excused",
                                         "handling" };
    json_t *o = tb_lot_verdict_json(&judged, &lot);

    (void)state;
    assert_int_equal(json_object_size(o), TB_COUNT(known));
    for (size_t i = 0; i < TB_COUNT(known); i++)
        assert_non_null(json_object_get(o, known[i]));
    json_decref(o);
}

static void what_an_older_program_did_not_store_reads_as_absent(void **state)
{
    struct tb_stored_verdict s;
    struct tb_bounds published;

    (void)state;
    assert_int_equal(tb_stored_verdict_parse(&s,
                                             "{\"verdict\":\"undecided\",\"reason\":null,"
                                             "\"cues\":[{\"cue\":\"smoke:black\",\"seen\":true}]}",
                                             &mem, &err),
                     TB_OK);
    assert_int_equal(s.kind, TB_UNDECIDED);
    assert_string_equal(s.reason, "");
    assert_string_equal(s.rule, "");
    assert_true(isnan(s.log_ratio));
    tb_bounds_published(&published);
    same_number(s.bounds.low, published.low);
    assert_true(isnan(s.bench_error) && isnan(s.not_as_declared));
    assert_int_equal(s.base_from, TB_BASE_UNSAID);
    assert_int_equal(s.n_power, 0);
    assert_int_equal(s.n_cue, 1);
    assert_int_equal(s.cue[0].part, TB_PART_WHOLE);
    assert_true(isnan(s.cue[0].alone_db));
}

static void a_verdict_that_was_not_kept_is_not_there(void **state)
{
    struct tb_stored_verdict s;

    (void)state;
    assert_int_equal(tb_stored_verdict_parse(&s, "", &mem, &err), TB_ENOTFOUND);
    assert_int_equal(tb_stored_verdict_parse(&s, "{}", &mem, &err), TB_ENOTFOUND);
}

static void a_recorded_verdict_is_told_within_its_own_limits(void **state)
{
    static const char *const detail =
        "{\"verdict\":\"undecided\",\"grade\":\"speaks against\",\"log_ratio\":-5,\"one_look\":true,"
        "\"limits\":{\"lowest\":0.05,\"highest\":20}}";
    struct tb_told_verdict told;

    (void)state;
    assert_int_equal(tb_told_verdict_read(
                         &told,
                         &(struct tb_kept_verdict){ .kind = TB_UNDECIDED, .log_ratio = -5, .detail = detail },
                         &err),
                     TB_OK);
    assert_int_equal(told.grade, TB_GRADE_SPEAKS_AGAINST);
    assert_true(told.one_look);
    assert_true(fabs(told.ratio - 0.05) < 1e-12);
    same_number(told.log_ratio, -5);
    /* what was kept without details has its word, within the published bounds */
    assert_int_equal(
        tb_told_verdict_read(
            &told, &(struct tb_kept_verdict){ .kind = TB_CONTRADICTS, .log_ratio = -500, .detail = "{}" },
            &err),
        TB_OK);
    assert_int_equal(told.grade, TB_GRADE_CONTRADICTS);
    assert_true(told.ratio > 1.0 / 60 && told.ratio < 1.0 / 20);
    assert_string_equal(tb_grade_key(told.grade), "contradicts");
    assert_int_equal(
        tb_told_verdict_read(
            &told, &(struct tb_kept_verdict){ .kind = TB_FITS, .log_ratio = 2, .detail = "[]" }, &err),
        TB_EFORMAT);
    tb_judged_told(&told, &(struct tb_judged){ .verdict = TB_FITS, .log_ratio = 2, .detail = "[]" });
    assert_int_equal(told.grade, TB_GRADE_FITS);
}

static void a_conclusion_read_back_is_said_as_it_was(void **state)
{
    struct tb_stored_verdict s = { .kind = TB_UNDECIDED,
                                   .grade = TB_GRADE_UNDECIDED,
                                   .log_ratio = log(31),
                                   .bounds = { log(1.0 / 40), log(30) },
                                   .outdone = true };
    struct tb_conclusion c;
    struct tb_text t = { 0 };

    (void)state;
    tb_stored_conclusion(&c, &s, false);
    tb_conclusion_words(&t, TB_READER, &c);
    assert_non_null(strstr(t.s, "at least 30 times likelier"));
    assert_non_null(strstr(t.s, "but there is one from which it is likelier still."));
    tb_text_clear(&t);
    s.outdone = false;
    s.grade = TB_GRADE_SPEAKS_AGAINST;
    s.log_ratio = log(0.1);
    tb_stored_conclusion(&c, &s, true);
    tb_conclusion_words(&t, TB_READER, &c);
    assert_non_null(strstr(t.s, "speaks against the declaration: it is 10 times likelier"));
    assert_non_null(strstr(t.s, "must not be burned again."));
    tb_text_clear(&t);
    s.few_tell = true;
    tb_stored_conclusion(&c, &s, false);
    tb_conclusion_words(&t, TB_READER, &c);
    assert_non_null(strstr(t.s, "a bench test has to say it. The lot is not held by this."));
    tb_text_clear(&t);
    s.few_tell = false;
    s.excused = "flame_retardant";
    tb_stored_conclusion(&c, &s, false);
    tb_conclusion_words(&t, TB_READER, &c);
    assert_non_null(
        strstr(t.s, "With a finish that nobody named the declared cloth would burn about as much"));
    tb_text_free(&t);
}

static void a_damaged_verdict_is_refused_and_the_damage_named(void **state)
{
    static const struct {
        const char *text, *why;
    } row[] = {
        { "{\"verdict\":\"fits\"", "it is not JSON" },
        { "[]", "a JSON object is missing" },
        { "{\"verdict\":\"fits\",\"verdict\":\"contradicts\"}", "it is not JSON" },
        { "{\"burns\":1}", "the member 'verdict' does not make sense: ''" },
        { "{\"verdict\":\"likely\"}", "the member 'verdict' does not make sense: 'likely'" },
        { "{\"verdict\":7}", "the member 'verdict' is not a text" },
        { "{\"verdict\":\"fits\",\"log_ratio\":\"-5\"}", "the member 'log_ratio' is not a number" },
        { "{\"verdict\":\"fits\",\"burns\":1.5}", "the member 'burns' is not a whole number" },
        { "{\"verdict\":\"fits\",\"declared\":\"silk\"}", "the member 'declared' is not an object" },
        { "{\"verdict\":\"fits\",\"base_rate\":{\"from\":\"hearsay\"}}",
          "the member 'from' does not make sense: 'hearsay'" },
        { "{\"verdict\":\"fits\",\"limits\":[1]}", "the member 'limits' is not an object" },
        { "{\"verdict\":\"fits\",\"cues\":{}}", "the member 'cues' is not a list" },
        { "{\"verdict\":\"fits\",\"cues\":[{\"seen\":1}]}", "the member 'seen' is neither true nor false" },
        { "{\"verdict\":\"fits\",\"cues\":[{\"part\":\"hem\"}]}",
          "the member 'part' does not make sense: 'hem'" },
        { "{\"verdict\":\"fits\",\"twins\":[[\"wool\",3]]}",
          "the list 'twins' holds something that is not a text" },
        { "{\"verdict\":\"fits\",\"twins\":[3]}", "the member 'twins' is not a list" },
        { "{\"verdict\":\"fits\",\"notes\":\"none\"}", "the member 'notes' is not a list" },
        { "{\"verdict\":\"fits\",\"by_bolt\":[{\"bolt\":\"B1\",\"verdict\":\"good\"}]}",
          "the member 'verdict' does not make sense: 'good'" },
        { "{\"verdict\":\"fits\",\"likeliest\":[{\"fibres\":[{\"fibre\":\"silk\",\"percent\":\"100\"}]}]}",
          "the member 'percent' is not a number" },
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_stored_verdict s = { .n_cue = 9 };
        struct tb_text want = { 0 };

        tb_text_addf(&want, "the stored verdict is damaged: %s", row[i].why);
        assert_int_equal(tb_stored_verdict_parse(&s, row[i].text, &mem, &err), TB_EFORMAT);
        assert_string_equal(err.msg, want.s);
        assert_int_equal(s.n_cue, 0); /* nothing half-read */
        tb_text_free(&want);
    }
}

static void a_cue_that_another_burn_showed_is_marked_so(void **state)
{
    static const char text[] =
        "{\"verdict\":\"fits\",\"cues\":[{\"part\":\"whole\",\"cue\":\"odour:burning_hair\",\"seen\":false},"
        "{\"part\":\"whole\",\"cue\":\"odour:burning_hair\",\"seen\":true},"
        "{\"part\":\"weft\",\"cue\":\"odour:burning_hair\",\"seen\":false},"
        "{\"part\":\"whole\",\"cue\":\"smoke:black\",\"seen\":false}]}";
    struct tb_stored_verdict v;

    (void)state;
    assert_int_equal(tb_stored_verdict_parse(&v, text, &mem, &err), TB_OK);
    assert_int_equal(v.n_cue, 4);
    assert_true(v.cue[0].elsewhere);
    assert_false(v.cue[1].elsewhere);
    assert_false(v.cue[2].elsewhere);
    assert_false(v.cue[3].elsewhere);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_cue_that_another_burn_showed_is_marked_so),
        cmocka_unit_test(a_verdict_read_back_is_the_verdict_that_was_stored),
        cmocka_unit_test(tests_worth_making_are_read_back),
        cmocka_unit_test(every_member_that_is_stored_has_a_field),
        cmocka_unit_test(what_an_older_program_did_not_store_reads_as_absent),
        cmocka_unit_test(a_verdict_that_was_not_kept_is_not_there),
        cmocka_unit_test(a_recorded_verdict_is_told_within_its_own_limits),
        cmocka_unit_test(a_conclusion_read_back_is_said_as_it_was),
        cmocka_unit_test(a_damaged_verdict_is_refused_and_the_damage_named),
    };

    return cmocka_run_group_tests(tests, judge, clean);
}
