/* The act of a bench test: recorded and judged at one go; each refusal. */
#include "unit/bench_helper.h"

static void a_test_joins_the_burn_of_its_swatch_and_the_lot_is_judged(void **state)
{
    struct scene *s = scene_make("100% acetate", 1);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE);
    struct tb_burn_outcome burnt = burn_one(s, tag, "in_flame:melts");
    struct tb_try_outcome out;
    struct tb_bench_test *list;
    size_t n = 0;

    (void)state;
    OK(tb_act_try(&out, &s->actor,
                  &(struct tb_try_request){
                      .swatch = tag, .test = "acetone", .result = "dissolves", .note = "two minutes" },
                  &s->mem, &err));
    assert_true(out.judged.judged);
    assert_int_equal(out.judged.v.observations, 1); /* one swatch, looked at twice */
    assert_true(out.judged.v.verdict.log_ratio > burnt.judged.v.verdict.log_ratio);
    OK(tb_bench_test_list(&list, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(list[0].note, "two minutes");
    assert_string_equal(list[0].id, out.test.id);
    tb_rejudged_free(&out.judged);
    tb_rejudged_free(&burnt.judged);
    scene_free(s);
}

static void a_correction_replaces_the_result_in_the_verdict(void **state)
{
    struct scene *s = scene_make("100% acetate", 1);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE);
    struct tb_try_outcome wrong, right, again;
    struct tb_try_request r = { .swatch = tag, .test = "acetone", .result = "stays" };

    (void)state;
    OK(tb_act_try(&wrong, &s->actor, &r, &s->mem, &err));
    r.result = "dissolves";
    r.corrects = wrong.test.id;
    OK(tb_act_try(&right, &s->actor, &r, &s->mem, &err));
    assert_int_equal(right.judged.v.observations, 1);
    assert_true(right.judged.v.verdict.log_ratio > wrong.judged.v.verdict.log_ratio);
    REFUSED(s, tb_act_try(&again, &s->actor, &r, &s->mem, &err), TB_EINVAL, "was corrected already");
    tb_rejudged_free(&wrong.judged);
    tb_rejudged_free(&right.judged);
    scene_free(s);
}

/* A microscope shows every kind of fibre there is: cotton is a twisted ribbon, polyester a smooth rod, a blend both. */
static void a_microscope_shows_the_fibres_of_a_blend_together(void **state)
{
    struct scene *s = scene_make("65% polyester 35% cotton", 1);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE);
    struct tb_try_request r = { .swatch = tag, .test = "microscope", .result = "smooth_rod,twisted_ribbon" };
    struct tb_try_outcome out;

    (void)state;
    OK(tb_act_try(&out, &s->actor, &r, &s->mem, &err));
    assert_string_equal(out.test.result, "smooth_rod, twisted_ribbon");
    assert_int_equal(out.judged.v.observations, 1);
    assert_true(out.judged.v.verdict.log_ratio > 0);
    tb_rejudged_free(&out.judged);
    scene_free(s);
}

static void what_cannot_be_recorded_is_refused_and_leaves_nothing(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE), *other = cut_one(s, "B2", TB_PART_WHOLE);
    struct tb_try_outcome out, there;

    (void)state;
#define TRY(code, words, ...)                                                                                \
    REFUSED(s, tb_act_try(&out, &s->actor, &(struct tb_try_request){ __VA_ARGS__ }, &s->mem, &err), code,    \
            words)
    TRY(TB_EINVAL, "say which test it was; bench tests are acetone", .swatch = tag);
    TRY(TB_EINVAL, "'vinegar' is not a bench test", .swatch = tag, .test = "vinegar", .result = "dissolves");
    TRY(TB_EINVAL, "'smoke' is not a bench test", .swatch = tag, .test = "smoke", .result = "black");
    TRY(TB_EINVAL, "say what the test showed; results of acetone are", .swatch = tag, .test = "acetone");
    TRY(TB_EINVAL, "'melts' is not a result", .swatch = tag, .test = "acetone", .result = "melts");
    TRY(TB_EINVAL, "acetone shows one result; 'dissolves, stays' are two", .swatch = tag, .test = "acetone",
        .result = "dissolves,stays");
    TRY(TB_EINVAL, "the result 'scales' is given twice", .swatch = tag, .test = "microscope",
        .result = "scales,smooth_rod,scales");
    TRY(TB_EINVAL, "'stays' is not a result; results of microscope are scales", .swatch = tag,
        .test = "microscope", .result = "scales,stays");
    TRY(TB_ENOTFOUND, "W99-001.01.01", .swatch = "W99-001.01.01", .test = "acetone", .result = "stays");
    TRY(TB_EINVAL, "cannot have been tested at", .swatch = tag, .test = "acetone", .result = "stays",
        .tested_at = "2020-01-01T00:00:00Z");
    TRY(TB_EINVAL, "still to come", .swatch = tag, .test = "acetone", .result = "stays",
        .tested_at = "2099-01-01T00:00:00Z");
    TRY(TB_ENOTFOUND, "there is no test", .swatch = tag, .test = "acetone", .result = "stays",
        .corrects = "none");
    OK(tb_act_try(&there, &s->actor,
                  &(struct tb_try_request){ .swatch = other, .test = "acetone", .result = "stays" }, &s->mem,
                  &err));
    TRY(TB_EINVAL, "a correction stays with its swatch", .swatch = tag, .test = "acetone", .result = "stays",
        .corrects = there.test.id);
    tb_rejudged_free(&there.judged);
    scene_free(s);
}

static struct tb_try_outcome try_scales(struct scene *s, const char *bolt)
{
    struct tb_try_outcome out;

    OK(tb_act_try(&out, &s->actor,
                  &(struct tb_try_request){
                      .swatch = cut_one(s, bolt, TB_PART_WHOLE), .test = "microscope", .result = "scales" },
                  &s->mem, &err));
    return out;
}

static void a_bolt_tested_without_a_flame_is_counted_but_not_as_burnt(void **state)
{
    struct scene *s = scene_make("100% wool", 3);
    struct tb_try_outcome out = try_scales(s, "B1");
    struct tb_burn_outcome burnt;
    struct tb_judged judged;
    struct tb_text words = { 0 };

    (void)state;
    assert_int_equal(out.judged.lot.bolts_burnt, 0);
    assert_int_equal(out.judged.lot.bolts_tested, 1);
    assert_int_equal(out.judged.lot.tests, 1);
    assert_int_equal(out.judged.v.verdict.kind, TB_UNDECIDED);
    assert_true(out.judged.v.verdict.one_look && out.judged.v.verdict.ratio > 5);
    assert_int_equal(out.judged.v.burns, 0);
    assert_int_equal(out.judged.v.bolt[0].burns, 0);
    OK(tb_judged_latest(&judged, s->actor.book, s->lot.id, &s->mem, &err));
    tb_bench_coverage(&words, TB_READER, judged.bolts_burnt, judged.bolts_tested, judged.bolts);
    assert_string_equal(words.s, "1 of 3 bolts tested without a flame");
    burnt = burn_one(s, cut_one(s, "B2", TB_PART_WHOLE), "odour:burning_hair");
    assert_int_equal(burnt.judged.v.burns, 1);
    OK(tb_judged_latest(&judged, s->actor.book, s->lot.id, &s->mem, &err));
    tb_text_clear(&words);
    tb_bench_coverage(&words, TB_READER, judged.bolts_burnt, judged.bolts_tested, judged.bolts);
    assert_string_equal(words.s, "2 of 3 bolts tested, 1 of them burnt");
    tb_text_clear(&words);
    tb_bench_coverage(&words, TB_READER, 1, 1, 3);
    assert_string_equal(words.s, "1 of 3 bolts burnt");
    tb_text_free(&words);
    tb_rejudged_free(&out.judged);
    tb_rejudged_free(&burnt.judged);
    scene_free(s);
}

/* Nobody can read the words: no ratio, not one that is even. */
static void where_nothing_can_be_weighed_no_ratio_is_told_and_nothing_is_recorded_twice(void **state)
{
    struct scene *s = scene_make("PE", 1);
    struct tb_try_outcome out = try_scales(s, "B1");
    int64_t head = scene_head(s);
    struct tb_rejudged again;
    struct tb_judged judged;

    (void)state;
    assert_true(isnan(out.judged.v.verdict.log_ratio));
    assert_true(isnan(scene_lot(s).log_ratio));
    OK(tb_judged_latest(&judged, s->actor.book, s->lot.id, &s->mem, &err));
    assert_true(isnan(judged.log_ratio));
    OK(tb_act_judge(&again, &s->actor, s->lot.ref, 0, &s->mem, &err));
    assert_false(again.recorded);
    assert_int_equal(scene_head(s), head);
    tb_rejudged_free(&again);
    OK(tb_judge_as_of(&again, s->actor.book, s->lot.ref, head, &s->mem, &err));
    assert_int_equal(again.lot.bolts_tested, 1);
    tb_rejudged_free(&again);
    tb_rejudged_free(&out.judged);
    scene_free(s);
}

/* What was recorded with the last act is what anybody finds who judges the lot again. */
static void assert_judged_the_same_again(struct scene *s, const struct tb_rejudged *recorded)
{
    struct tb_lot lot = scene_lot(s);
    struct tb_evidence *ev = NULL;
    struct tb_lot_verdict again;

    OK(tb_bench_model(&ev, s->actor.book, &err));
    OK(tb_bench_judge(&again, s->actor.book, &lot, ev, 0, TB_BOOK_NOW, &err));
    assert_int_equal(recorded->v.verdict.grade, again.verdict.grade);
    assert_float_equal(recorded->v.verdict.log_ratio, again.verdict.log_ratio, 1e-12);
    tb_lot_verdict_free(&again);
    tb_evidence_free(ev);
}

/* Burns and tests of three bolts, by two people and out of order: each weighs at once what it weighs ever after. */
static void what_an_act_records_is_what_the_lot_is_judged_to_be_later(void **state)
{
    static const struct {
        const char *who;
        size_t swatch;
        const char *cues, *test, *result;
    } did[] = {
        { "Ada Fell", 0, "smoke:black", NULL, NULL },       { "Ada Fell", 1, NULL, "acetone", "dissolves" },
        { "Bo Tarn", 0, "odour:burning_hair", NULL, NULL }, { "Ada Fell", 2, NULL, "microscope", "scales" },
        { "Bo Tarn", 2, "in_flame:melts", NULL, NULL },     { "Ada Fell", 1, "smoke:black", NULL, NULL },
        { "Bo Tarn", 1, NULL, "bleach", "dissolves" },
    };
    struct scene *s = scene_make("100% silk", 3);
    const char *tag[] = { cut_one(s, "B1", TB_PART_WHOLE), cut_one(s, "B2", TB_PART_WHOLE),
                          cut_one(s, "B3", TB_PART_WHOLE) };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(did); i++) {
        s->actor.who = did[i].who;
        if (did[i].cues) {
            struct tb_burn_outcome out = burn_one(s, tag[did[i].swatch], did[i].cues);

            assert_judged_the_same_again(s, &out.judged);
            tb_rejudged_free(&out.judged);
        } else {
            const struct tb_try_request r = { .swatch = tag[did[i].swatch],
                                              .test = did[i].test,
                                              .result = did[i].result };
            struct tb_try_outcome out;

            OK(tb_act_try(&out, &s->actor, &r, &s->mem, &err));
            assert_judged_the_same_again(s, &out.judged);
            tb_rejudged_free(&out.judged);
        }
    }
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_test_joins_the_burn_of_its_swatch_and_the_lot_is_judged),
        cmocka_unit_test(a_correction_replaces_the_result_in_the_verdict),
        cmocka_unit_test(a_microscope_shows_the_fibres_of_a_blend_together),
        cmocka_unit_test(what_cannot_be_recorded_is_refused_and_leaves_nothing),
        cmocka_unit_test(a_bolt_tested_without_a_flame_is_counted_but_not_as_burnt),
        cmocka_unit_test(what_an_act_records_is_what_the_lot_is_judged_to_be_later),
        cmocka_unit_test(where_nothing_can_be_weighed_no_ratio_is_told_and_nothing_is_recorded_twice),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
