#include "tenterbook/conform.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#define FIBRES 3

/* A composition by keys and percentages; an empty key ends it. */
struct mix {
    const char *key[FIBRES];
    double percent[FIBRES];
};

static size_t shares(struct tb_share *out, const struct mix *m)
{
    size_t n = 0;

    for (; n < FIBRES && m->key[n]; n++)
        out[n] = (struct tb_share){ strcmp(m->key[n], "other") ? tb_fibre_by_key(m->key[n]) : TB_FIBRE_OTHER,
                                    m->percent[n], NAN, 0, 0 };
    return n;
}

static tb_rc check(struct tb_conform *out, const char *market, const struct mix *declared,
                   const struct mix *found, double u, struct tb_err *err)
{
    struct tb_share d[FIBRES], f[FIBRES];
    struct tb_part part = { .share = d, .n = shares(d, declared) };
    struct tb_found list[FIBRES];
    size_t n = shares(f, found);

    for (size_t i = 0; i < n; i++)
        list[i] = (struct tb_found){ f[i].fibre, f[i].percent, u, INFINITY };
    return tb_conform_check(out, market, &part, list, n, &(struct tb_tolerance_facts){ 0 }, 0.95, err);
}

static void each_market_has_its_own_tolerance(void **state)
{
    static const struct {
        const char *market;
        double cotton; /* found, of 60 declared; u is 0 */
        enum tb_lab_answer answer;
    } row[] = {
        { "us", 57.0, TB_LAB_CONFORMS }, { "us", 56.9, TB_LAB_FAILS }, { "us", 63.1, TB_LAB_FAILS },
        { "eu", 57.0, TB_LAB_CONFORMS }, { "eu", 56.9, TB_LAB_FAILS }, { "gb", 56.9, TB_LAB_FAILS },
        { "ca", 55.0, TB_LAB_CONFORMS }, { "ca", 54.9, TB_LAB_FAILS }, { "ca", 65.1, TB_LAB_FAILS },
    };
    const struct mix declared = { { "cotton", "polyester" }, { 60, 40 } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct mix found = { { "polyester", "cotton" }, { 100 - row[i].cotton, row[i].cotton } };
        struct tb_conform r;
        struct tb_err err = { 0 };

        assert_int_equal(check(&r, row[i].market, &declared, &found, 0, &err), TB_OK);
        assert_int_equal(r.answer, row[i].answer);
        assert_int_equal(r.n, 2);
    }
}

static void a_fibre_that_is_declared_twice_is_one_to_a_laboratory(void **state)
{
    /* 16 CFR 303.7: Pima and Upland are both cotton; 303.43: 3 points in a blend, none for one fibre */
    static const struct {
        struct mix declared, found;
        enum tb_lab_answer answer;
        size_t lines;
    } row[] = {
        { { { "cotton", "polyester", "cotton" }, { 40, 30, 30 } },
          { { "cotton", "polyester" }, { 67, 33 } },
          TB_LAB_CONFORMS,
          2 },
        { { { "cotton", "polyester", "cotton" }, { 40, 30, 30 } },
          { { "cotton", "polyester" }, { 66.9, 33.1 } },
          TB_LAB_FAILS,
          2 },
        { { { "cotton", "cotton" }, { 50, 50 } }, { { "cotton" }, { 100 } }, TB_LAB_CONFORMS, 1 },
        { { { "cotton", "cotton" }, { 50, 50 } }, { { "cotton", "polyester" }, { 98, 2 } }, TB_LAB_FAILS, 1 },
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_conform r;
        struct tb_err err = { 0 };

        assert_int_equal(check(&r, "us", &row[i].declared, &row[i].found, 0, &err), TB_OK);
        assert_int_equal(r.answer, row[i].answer);
        assert_int_equal(r.n, row[i].lines);
    }
}

static void near_the_limit_nothing_can_be_said(void **state)
{
    const struct mix declared = { { "cotton", "polyester" }, { 60, 40 } };
    struct mix found = { { "cotton", "polyester" }, { 57.2, 42.8 } };
    struct tb_conform r;
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(check(&r, "eu", &declared, &found, 0.5, &err), TB_OK);
    assert_int_equal(r.answer, TB_LAB_UNSAID);
    assert_true(fabs(r.line[0].decision.probability - 0.6554) < 1e-4); /* Phi(0.4), from a table */
    assert_int_equal(check(&r, "ca", &declared, &found, 0.5, &err), TB_OK);
    assert_int_equal(r.answer, TB_LAB_CONFORMS);
}

static void permitted_undeclared_fibre_is_taken_out_first_in_europe(void **state)
{
    const struct mix declared = { { "cotton", "polyester" }, { 60, 40 } };
    /* 1.9 % viscose: cotton 56.1 of 98.1 is 57.19; without taking it out it would be 3.9 points short */
    struct mix found = { { "cotton", "polyester", "viscose" }, { 56.1, 42.0, 1.9 } };
    struct tb_conform r;
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(check(&r, "eu", &declared, &found, 0, &err), TB_OK);
    assert_int_equal(r.answer, TB_LAB_CONFORMS);
    assert_true(fabs(r.taken_out - 1.9) < 1e-9);
    assert_true(fabs(r.line[0].found - 57.187) < 1e-3);
    assert_int_equal(r.n, 3);
    assert_true(r.line[2].undeclared);
    found.percent[0] = 55.9;
    found.percent[2] = 2.1; /* more than passes */
    assert_int_equal(check(&r, "eu", &declared, &found, 0, &err), TB_OK);
    assert_int_equal(r.answer, TB_LAB_FAILS);
    assert_true(r.taken_out == 0);
    assert_int_equal(check(&r, "us", &declared, &found, 0, &err), TB_OK);
    assert_int_equal(r.answer, TB_LAB_FAILS); /* 55.9 is 4.1 short */
}

static void a_pure_claim_has_no_tolerance_in_the_us_and_two_points_in_europe(void **state)
{
    const struct mix declared = { { "cotton" }, { 100 } };
    struct mix found = { { "cotton", "polyester" }, { 98.5, 1.5 } };
    struct tb_conform r;
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(check(&r, "us", &declared, &found, 0.1, &err), TB_OK);
    assert_int_equal(r.answer, TB_LAB_FAILS);
    assert_int_equal(check(&r, "eu", &declared, &found, 0.1, &err), TB_OK);
    assert_int_equal(r.answer, TB_LAB_CONFORMS);
    assert_int_equal(r.n, 1);
}

static void a_single_fibre_without_a_figure_is_all_of_it(void **state)
{
    const struct mix declared = { { "flax" }, { NAN } }, found = { { "flax" }, { 99.5 } };
    struct tb_conform r;
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(check(&r, "eu", &declared, &found, 0.3, &err), TB_OK);
    assert_true(r.line[0].declared == 100);
    assert_int_equal(r.answer, TB_LAB_CONFORMS);
}

static void a_declared_fibre_that_was_not_met_fails(void **state)
{
    const struct mix declared = { { "wool", "nylon" }, { 80, 20 } },
                     found = { { "wool", "acrylic" }, { 80, 20 } };
    struct tb_conform r;
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(check(&r, "eu", &declared, &found, 0.5, &err), TB_OK);
    assert_int_equal(r.answer, TB_LAB_FAILS);
    assert_int_equal(r.line[1].decision.answer, TB_LAB_FAILS);
    assert_true(r.line[1].found == 0 && r.line[1].u == 0.5);
}

static void other_fibres_declared_take_what_is_not_named(void **state)
{
    const struct mix declared = { { "cotton", "other" }, { 90, 10 } };
    const struct mix found = { { "cotton", "viscose", "silk" }, { 91, 5, 4 } };
    struct tb_conform r;
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(check(&r, "eu", &declared, &found, 0.5, &err), TB_OK);
    assert_int_equal(r.n, 2);
    assert_true(r.line[1].found == 9);
    assert_int_equal(r.answer, TB_LAB_CONFORMS);
}

static void comparisons_without_sense_are_refused(void **state)
{
    const struct mix found = { { "cotton", "polyester" }, { 60, 40 } };
    struct mix short_sum = { { "cotton", "polyester" }, { 60, 30 } },
               bare = { { "cotton", "polyester" }, { NAN, NAN } }, none = { { NULL }, { 0 } };
    struct tb_conform r = { .n = 77 };
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(check(&r, "eu", &short_sum, &found, 0.5, &err), TB_EINVAL);
    assert_string_equal(err.msg, "the declared shares sum to 90.0 %, not 100");
    assert_int_equal(check(&r, "eu", &bare, &found, 0.5, &err), TB_EINVAL);
    assert_int_equal(check(&r, "eu", &none, &found, 0.5, &err), TB_EINVAL);
    assert_int_equal(check(&r, "nowhere", &found, &found, 0.5, &err), TB_ENOTFOUND);
    assert_int_equal(r.n, 77);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_market_has_its_own_tolerance),
        cmocka_unit_test(a_fibre_that_is_declared_twice_is_one_to_a_laboratory),
        cmocka_unit_test(near_the_limit_nothing_can_be_said),
        cmocka_unit_test(permitted_undeclared_fibre_is_taken_out_first_in_europe),
        cmocka_unit_test(a_pure_claim_has_no_tolerance_in_the_us_and_two_points_in_europe),
        cmocka_unit_test(a_single_fibre_without_a_figure_is_all_of_it),
        cmocka_unit_test(a_declared_fibre_that_was_not_met_fails),
        cmocka_unit_test(other_fibres_declared_take_what_is_not_named),
        cmocka_unit_test(comparisons_without_sense_are_refused),
    };

    (void)gsl_set_error_handler_off();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
