/*
 * test_roof.c - one test or burn more is never likelier than its roof says, strip by strip; what is left out under it is within what is
 * told. Expected values: the same compositions weighed in full.
 */
#include "evidence/roof.h"
#include "evidence/sums.h"
#include "evidence_model.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

static int make_model(void **state)
{
    (void)state;
    return make_model_of(3);
}

/* Tables: a burn, the same with a bench test beside it, and another burn. */
enum { BURN, TESTED, OTHER, TABLES };

static const char *const saw[TABLES] = { "odour:burning_hair,residue_form:crushable_bead",
                                         "odour:burning_hair,residue_form:crushable_bead",
                                         "odour:burning_paper,smoke:black" };

static struct tb_terms terms[TABLES];
static const struct tb_terms *const term_of[TABLES] = { &terms[BURN], &terms[TESTED], &terms[OTHER] };

static void read_terms(void)
{
    for (int i = 0; i < TABLES; i++) {
        struct tb_observation o = { 0 };
        struct tb_err err = { 0 };

        assert_int_equal(tb_observation_read(&o, saw[i], NULL, NULL, &err), TB_OK);
        if (i == TESTED)
            tb_observation_see(&o, tb_cue_by_key("bleach:stays"));
        tb_terms_of(&terms[i], model, &o);
    }
}

/* Some tables to their powers; with a roof, what hardly counts under it is left out. */
static void weigh(struct tb_sums *out, const struct tb_power_of *of, size_t n, const struct tb_roof *roof)
{
    struct tb_factored *table[TABLES];
    struct tb_pick pick = { .of = of, .n = n, .sums = out };

    if (roof)
        pick.roof = *roof;
    for (int i = 0; i < TABLES; i++)
        table[i] = tb_factored_new(model, &terms[i]);
    tb_space_weigh(&pick, 1, model, table, TABLES, model->kernel);
    for (int i = 0; i < TABLES; i++)
        tb_factored_free(table[i]);
}

static struct tb_counting counting(const struct tb_power_of *now, size_t n_now,
                                   const struct tb_power_of *before, size_t n_before)
{
    return (struct tb_counting){
        .terms = term_of, .tables = TABLES, .now = now, .n_now = n_now, .before = before, .n_before = n_before
    };
}

/* The roof over `now` holds strip by strip, and what is left out under it is no more than is told. */
static void check_leaving(const struct tb_power_of *now, size_t n_now, const struct tb_power_of *before,
                          size_t n_before, double leave)
{
    struct tb_counting c = counting(now, n_now, before, n_before);
    struct tb_arena mem = { 0 };
    struct tb_sums was, is, rough;
    struct tb_roof roof;
    double unit, cut;

    read_terms();
    weigh(&was, before, n_before, NULL);
    assert_true(tb_roof_take(&roof, &c, &was, model, &mem));
    roof.leave = leave;
    weigh(&is, now, n_now, NULL);
    weigh(&rough, now, n_now, &roof);
    unit = exp(roof.log_scale - is.log_scale);
    cut = tb_roof_cut(&roof);
    assert_int_equal(roof.strips, is.strips);
    for (size_t i = 0; i < is.strips; i++) /* both are rounded up in their last digits */
        assert_true(is.strip[i] <= roof.strip[i] * unit * (1 + 1e-5) + 1e-36 &&
                    (roof.strip[i] >= cut || is.strip[i] <= rough.left_out_of_one * (1 + 1e-5) + 1e-36));
    assert_true(rough.left_out_of_one > 0 && rough.left_out > rough.left_out_of_one && is.left_out == 0);
    assert_true(rough.left_out <= leave * roof.all * unit * (1 + 1e-9));
    assert_true(rough.all < is.all && is.all <= rough.all + rough.left_out);
    tb_sums_free(&was);
    tb_sums_free(&is);
    tb_sums_free(&rough);
    tb_arena_free(&mem);
}

static void check(const struct tb_power_of *now, size_t n_now, const struct tb_power_of *before,
                  size_t n_before)
{
    check_leaving(now, n_now, before, n_before, 1e-3);
    check_leaving(now, n_now, before, n_before, 1e-6);
}

static void a_test_beside_a_burn_makes_nothing_likelier(void **state)
{
    static const struct tb_power_of before[] = { { BURN, 0.4 }, { OTHER, 0.4 } };
    static const struct tb_power_of now[] = { { BURN, -0.6 }, { TESTED, 1 }, { OTHER, 0.4 } };

    (void)state;
    check(now, 3, before, 2);
}

static void burns_that_count_less_are_bounded_by_what_they_counted(void **state)
{
    static const struct tb_power_of before[] = { { BURN, 1 } };
    static const struct tb_power_of now[] = { { BURN, 0.7 }, { OTHER, 0.7 } };

    (void)state;
    check(now, 2, before, 1);
}

static void what_was_taken_back_has_no_roof(void **state)
{
    static const struct tb_power_of before[] = { { BURN, 0.5 }, { OTHER, 0.5 } };
    static const struct tb_power_of now[] = { { BURN, 1 } };
    static const struct tb_power_of tested[] = { { TESTED, 1 } };
    struct tb_counting without = counting(now, 1, before, 2), test_gone = counting(now, 1, tested, 1);
    struct tb_arena mem = { 0 };
    struct tb_sums was;
    struct tb_roof roof;

    (void)state;
    read_terms();
    weigh(&was, before, 2, NULL);
    assert_false(tb_roof_take(&roof, &without, &was, model, &mem));
    assert_null(roof.strip);
    assert_false(tb_roof_take(&roof, &test_gone, &was, model, &mem));
    tb_sums_free(&was);
    tb_arena_free(&mem);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_test_beside_a_burn_makes_nothing_likelier),
        cmocka_unit_test(burns_that_count_less_are_bounded_by_what_they_counted),
        cmocka_unit_test(what_was_taken_back_has_no_roof),
    };

    return cmocka_run_group_tests(tests, make_model, free_model);
}
