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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_test_joins_the_burn_of_its_swatch_and_the_lot_is_judged),
        cmocka_unit_test(a_correction_replaces_the_result_in_the_verdict),
        cmocka_unit_test(what_cannot_be_recorded_is_refused_and_leaves_nothing),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
