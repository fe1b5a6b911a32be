/* New words of a lot of which nothing was burnt: what the bench tests showed judges them just as well. */
#include "unit/bench_helper.h"

#include "tenterbook/bench_day.h"

static void try_one(struct scene *s, const char *swatch, const char *test, const char *result)
{
    struct tb_try_outcome out;

    OK(tb_act_try(&out, &s->actor,
                  &(struct tb_try_request){ .swatch = swatch, .test = test, .result = result }, &s->mem,
                  &err));
    tb_rejudged_free(&out.judged);
}

/*
 * Acetone dissolves acetate and leaves cotton: ISO 1833-3 (docs/laboratory.md). One test alone could be one mistake, so
 * a second one says the same: acetate softens where cotton chars.
 */
static void dissolve_in_acetone(struct scene *s)
{
    const char *swatch = cut_one(s, "B1", TB_PART_WHOLE);

    try_one(s, swatch, "acetone", "dissolves");
    assert_int_equal(scene_lot(s).standing, TB_WAITING);
    try_one(s, swatch, "melting", "240_to_280");
}

static void words_that_a_bench_test_contradicts_hold_the_lot(void **state)
{
    struct scene *s = scene_make("100% acetate", 1);
    struct tb_rejudged out;

    (void)state;
    dissolve_in_acetone(s);
    assert_int_equal(scene_lot(s).verdict, TB_FITS);
    OK(tb_act_declare(
        &out, &s->actor,
        &(struct tb_declare_request){ .lot = s->lot.ref, .text = "100% cotton", .why = "their letter" },
        &s->mem, &err));
    assert_true(out.judged && out.recorded && out.held);
    assert_int_equal(scene_lot(s).verdict, TB_CONTRADICTS);
    assert_int_equal(scene_lot(s).standing, TB_HELD);
    tb_rejudged_free(&out);
    scene_free(s);
}

static void a_label_that_a_bench_test_fits_ends_a_contradiction(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_settle_outcome out;

    (void)state;
    dissolve_in_acetone(s);
    assert_int_equal(scene_lot(s).verdict, TB_CONTRADICTS);
    OK(tb_act_settle(&out, &s->actor,
                     &(struct tb_settle_request){ .lot = s->lot.ref,
                                                  .as = TB_RELABELLED,
                                                  .why = "supplier's letter",
                                                  .new_words = "100% acetate",
                                                  .goods_of = "own stock" },
                     &s->mem, &err));
    assert_true(out.judged.judged && out.judged.recorded);
    assert_int_equal(scene_lot(s).verdict, TB_FITS);
    tb_rejudged_free(&out.judged);
    scene_free(s);
}

static void words_of_which_nothing_was_seen_get_no_verdict(void **state)
{
    struct scene *s = scene_make("soft cloth", 1);
    struct tb_rejudged out;

    (void)state;
    (void)cut_one(s, "B1", TB_PART_WHOLE); /* a swatch that lies untouched is no evidence */
    OK(tb_act_declare(&out, &s->actor, &(struct tb_declare_request){ .lot = s->lot.ref, .text = "100% silk" },
                      &s->mem, &err));
    assert_false(out.judged);
    assert_int_equal(scene_lot(s).verdict, TB_UNJUDGED);
    tb_rejudged_free(&out);
    scene_free(s);
}

static void a_lot_that_was_tested_does_not_wait_for_its_first_burn(void **state)
{
    struct scene *s = scene_make("100% acetate", 1);
    struct tb_bench_day_request r = { .hours = 1, .burn_minutes = TB_BURN_MINUTES };
    struct tb_bench_day day;

    (void)state;
    OK(tb_bench_day_plan(&day, s->actor.book, &r, &s->mem, &err));
    assert_int_equal(day.lots, 1);
    dissolve_in_acetone(s);
    OK(tb_bench_day_plan(&day, s->actor.book, &r, &s->mem, &err));
    assert_int_equal(day.lots, 0);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_that_a_bench_test_contradicts_hold_the_lot),
        cmocka_unit_test(a_label_that_a_bench_test_fits_ends_a_contradiction),
        cmocka_unit_test(words_of_which_nothing_was_seen_get_no_verdict),
        cmocka_unit_test(a_lot_that_was_tested_does_not_wait_for_its_first_burn),
    };

    if (sodium_init() < 0)
        return 1;
    return cmocka_run_group_tests(tests, NULL, NULL);
}
