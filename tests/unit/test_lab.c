/* test_lab.c - the formulas of the laboratory, one by one, and what they refuse. */
#include "tenterbook/lab.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

/* Numbers that repeat from run to run: a 64-bit xorshift. */
static uint64_t state_of_chance = 88172645463325252ULL;
static double chance(void)
{
    state_of_chance ^= state_of_chance << 13;
    state_of_chance ^= state_of_chance >> 7;
    state_of_chance ^= state_of_chance << 17;
    return (double)(state_of_chance >> 11) / 9007199254740992.0;
}

static double between(double low, double high)
{
    return low + (high - low) * chance();
}

/* Random shares that sum to 100, each at least 1. */
static void random_shares(double *p, size_t n)
{
    double sum = 0;

    for (size_t i = 0; i < n; i++)
        sum += p[i] = between(0.05, 1);
    for (size_t i = 0; i < n; i++)
        p[i] = 100 * p[i] / sum;
}

static size_t fibres_of(enum tb_lab_route route)
{
    return tb_lab_fibres_fit(route, 3) ? 3 : 2;
}

static void the_exact_solver_inverts_the_forward_model_on_every_route(void **state)
{
    (void)state;
    for (int round = 0; round < 4000; round++) {
        enum tb_lab_route route = (enum tb_lab_route)(round % TB_LAB_ROUTES);
        size_t n = fibres_of(route);
        double p[3], d[4], found[3];
        struct tb_lab_det det;
        struct tb_err err = { 0 };

        random_shares(p, n);
        for (int k = 0; k < 4; k++)
            d[k] = between(1.0, 1.08); /* above 1: the residue never outgrows the specimen */
        if (route == TB_LAB_VARIANT_4)
            d[2] = d[1] * between(1.0, 1.08);
        assert_int_equal(tb_lab_expect(&det, route, n, d, p, &err), TB_OK);
        assert_int_equal(tb_lab_dry_exact(found, route, n, d, &det, &err), TB_OK);
        for (size_t i = 0; i < n; i++)
            assert_true(fabs(found[i] - p[i]) < 1e-9);
    }
}

static void percentages_sum_to_a_hundred_on_every_route(void **state)
{
    (void)state;
    for (int round = 0; round < 4000; round++) {
        enum tb_lab_route route = (enum tb_lab_route)(round % TB_LAB_ROUTES);
        size_t n = fibres_of(route);
        double p[3], d[4] = { 1, between(1, 1.04), 1, between(1, 1.04) }, dry[3], out[3], sum = 0,
                     rounded = 0;
        double a[3] = { between(0, 20), between(0, 20), between(0, 20) }, b[3] = { 0, between(0, 4), 1 };
        struct tb_lab_det det;
        struct tb_err err = { 0 };

        random_shares(p, n);
        if (route == TB_LAB_VARIANT_4)
            d[2] = d[1];
        assert_int_equal(tb_lab_expect(&det, route, n, d, p, &err), TB_OK);
        assert_int_equal(tb_lab_dry(dry, route, n, d, &det, &err), TB_OK);
        assert_int_equal(tb_lab_adjust(out, dry, a, b, n, &err), TB_OK);
        for (size_t i = 0; i < n; i++)
            sum += out[i];
        assert_true(fabs(sum - 100) < 1e-9);
        tb_lab_round(out, out, n, 1);
        for (size_t i = 0; i < n; i++)
            rounded += out[i];
        assert_true(fabs(rounded - 100) < 1e-9);
    }
}

static void factors_of_one_reduce_every_variant_to_plain_masses(void **state)
{
    const double d[4] = { 1, 1, 1, 1 };
    /* by hand: 20 % a, 30 % b, 50 % c of 2 g specimens */
    const struct {
        enum tb_lab_route route;
        struct tb_lab_det det;
    } row[] = {
        { TB_LAB_VARIANT_1, { { 2, 1.6, 2, 1.4 } } },
        { TB_LAB_VARIANT_2, { { 2, 1.6, 2, 1.0 } } },
        { TB_LAB_VARIANT_3, { { 2, 1.0, 2, 0.4 } } },
        { TB_LAB_VARIANT_4, { { 2, 1.6, 1.0 } } },
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        double p[3];
        struct tb_err err = { 0 };

        assert_int_equal(tb_lab_dry(p, row[i].route, 3, d, &row[i].det, &err), TB_OK);
        assert_true(fabs(p[0] - 20) < 1e-12 && fabs(p[1] - 30) < 1e-12 && fabs(p[2] - 50) < 1e-12);
    }
}

static void the_bias_of_variant_1_is_zero_without_loss_in_the_other_reagent(void **state)
{
    struct tb_lab_task task;
    struct tb_lab_result r;
    struct tb_lab_det det;
    struct tb_err err = { 0 };
    double p[3] = { 20, 30, 50 };

    (void)state;
    tb_lab_task_init(&task, TB_LAB_VARIANT_1, 3);
    task.d[1] = 1.03;
    assert_int_equal(tb_lab_expect(&det, task.route, 3, task.d, p, &err), TB_OK);
    assert_int_equal(tb_lab_compute(&r, &task, &det, 1, &err), TB_OK);
    assert_true(fabs(r.bias[0]) < 1e-9);
    task.d[3] = 1.02; /* now c loses in both: docs/laboratory.md, bias */
    assert_int_equal(tb_lab_expect(&det, task.route, 3, task.d, p, &err), TB_OK);
    assert_int_equal(tb_lab_compute(&r, &task, &det, 1, &err), TB_OK);
    assert_true(fabs(r.bias[0] - 0.02941176) < 1e-6);
    assert_true(fabs(r.exact[0] - 20) < 1e-9);
}

static void masses_nobody_can_have_weighed_are_refused_and_named(void **state)
{
    const struct {
        enum tb_lab_route route;
        struct tb_lab_det det;
        const char *says;
    } row[] = {
        { TB_LAB_DISSOLVE, { { 1, 1.2 } }, "residue (1.2 g) is more than specimen (1 g)" },
        { TB_LAB_DISSOLVE, { { 0, 1.2 } }, "specimen is 0; nothing was weighed there" },
        { TB_LAB_DISSOLVE, { { 1, 0 } }, "residue is 0; nothing was weighed there" },
        { TB_LAB_DISSOLVE, { { -1, 0.5 } }, "specimen is -1; it cannot be negative" },
        { TB_LAB_DISSOLVE, { { 1, NAN } }, "residue is not a number" },
        { TB_LAB_DISSOLVE, { { INFINITY, 1 } }, "specimen is not a number" },
        { TB_LAB_DISSOLVE, { { 1200, 600 } }, "specimen is 1200; it cannot be more than 1000" },
        { TB_LAB_VARIANT_1, { { 1, 0.5, 1, 1.5 } }, "residue2 (1.5 g) is more than specimen2 (1 g)" },
        { TB_LAB_VARIANT_4, { { 1, 0.5, 0.6 } }, "residue2 (0.6 g) is more than residue (0.5 g)" },
        { TB_LAB_NITROGEN,
          { { 1, 0.5, 0.5, 0.02 } },
          "the blank took 0.5 ml of acid, the specimen 0.5 ml: no nitrogen was found" },
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        double d[4] = { 1, 1, 1, 1 }, p[3] = { -7, -7, -7 };
        struct tb_err err = { 0 };

        assert_int_equal(tb_lab_dry(p, row[i].route,
                                    fibres_of(row[i].route) == 3 && row[i].route != TB_LAB_HAND ? 3 : 2, d,
                                    &row[i].det, &err),
                         TB_EINVAL);
        assert_string_equal(err.msg, row[i].says);
        assert_true(p[0] == -7 && p[1] == -7); /* untouched on failure */
    }
}

static void masses_that_fit_no_mixture_are_refused_with_the_determination(void **state)
{
    struct tb_lab_task task;
    struct tb_lab_result r;
    struct tb_lab_det det[2] = { { { 1, 0.8, 1, 0.7 } }, { { 1, 0.3, 1, 0.2 } } };
    struct tb_err err = { 0 };

    (void)state;
    tb_lab_task_init(&task, TB_LAB_VARIANT_1, 3);
    assert_int_equal(tb_lab_compute(&r, &task, det, 2, &err), TB_EINVAL);
    assert_non_null(strstr(err.msg, "determination 2: fibre 3 would be -50.00 %"));
    assert_int_equal(tb_lab_compute(&r, &task, det, 0, &err), TB_EINVAL);
    task.d[2] = 3;
    assert_int_equal(tb_lab_compute(&r, &task, det, 1, &err), TB_EINVAL);
    assert_string_equal(err.msg, "factor d3 is 3; a correction factor lies between 0.5 and 2");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_exact_solver_inverts_the_forward_model_on_every_route),
        cmocka_unit_test(percentages_sum_to_a_hundred_on_every_route),
        cmocka_unit_test(factors_of_one_reduce_every_variant_to_plain_masses),
        cmocka_unit_test(the_bias_of_variant_1_is_zero_without_loss_in_the_other_reagent),
        cmocka_unit_test(masses_nobody_can_have_weighed_are_refused_and_named),
        cmocka_unit_test(masses_that_fit_no_mixture_are_refused_with_the_determination),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
