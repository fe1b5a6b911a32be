/* The two worked examples of the Regulation and constructed ones, tests/vectors/lab_examples.csv. */
#include "tenterbook/lab.h"

#include "vectors/stats_rows.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

/* Numbers after "key=", separated by commas; returns how many. */
static size_t numbers(double *out, const struct stats_row *r, const char *key, size_t most)
{
    const char *s = stats_input(r, key);
    size_t n = 0;

    while (s && n < most) {
        char *end;

        out[n++] = strtod(s, &end);
        s = *end == ',' ? end + 1 : NULL;
    }
    return n;
}

static bool is(const struct stats_row *r, const char *formula)
{
    size_t n = strlen(formula);

    return strncmp(r->cell[1], formula, n) == 0 && r->cell[1][n] == ':';
}

/* "variant1: P2A polyamide %" asks for fibre 1 (counted from 0). */
static size_t fibre_asked(const struct stats_row *r)
{
    const char *p = strchr(r->cell[1], ':') + 2;

    return *p == 'P' && p[1] >= '1' && p[1] <= '9' ? (size_t)(p[1] - '1') : 0;
}

static void factors(double d[4], const struct stats_row *r)
{
    static const char *const key[] = { "d1", "d2", "d3", "d4" };

    for (size_t i = 0; i < 4; i++)
        d[i] = stats_number(r, key[i], 1);
    (void)numbers(d, r, "d", 4);
}

static struct tb_lab_det masses(const struct stats_row *r, enum tb_lab_route route)
{
    struct tb_lab_det det = { { 0 } };

    if (route == TB_LAB_HAND)
        (void)numbers(det.in, r, "m", TB_LAB_INPUTS_MOST);
    else if (route == TB_LAB_DISSOLVE)
        det = (struct tb_lab_det){ { stats_number(r, "m", 0), stats_number(r, "r", 0) } };
    else if (route == TB_LAB_VARIANT_4)
        det = (struct tb_lab_det){ { stats_number(r, "m", 0), stats_number(r, "r1", 0),
                                     stats_number(r, "r2", 0) } };
    else
        det = (struct tb_lab_det){ { stats_number(r, "m1", 0), stats_number(r, "r1", 0),
                                     stats_number(r, "m2", 0), stats_number(r, "r2", 0) } };
    return det;
}

static double share_by_route(const struct stats_row *r, enum tb_lab_route route, bool exact, bool adjusted)
{
    double d[4] = { 1, 1, 1, 1 }, p[TB_LAB_FIBRES_MOST], a[3] = { 0 }, b[3] = { 0 };
    struct tb_lab_det det = masses(r, route);
    size_t fibres = route == TB_LAB_HAND       ? numbers(p, r, "m", TB_LAB_FIBRES_MOST)
                    : route == TB_LAB_DISSOLVE ? 2
                                               : 3;
    struct tb_err err = { 0 };

    factors(d, r);
    assert_int_equal((exact ? tb_lab_dry_exact : tb_lab_dry)(p, route, fibres, d, &det, &err), TB_OK);
    if (adjusted) {
        assert_int_equal(numbers(a, r, "a", 3), 3);
        assert_int_equal(numbers(b, r, "b", 3), 3);
        assert_int_equal(tb_lab_adjust(p, p, a, b, fibres, &err), TB_OK);
    }
    return p[fibre_asked(r)];
}

static double adjusted(const struct stats_row *r)
{
    double p[3] = { 0 }, a[3] = { 0 }, b[3] = { 0 }, out[3], sum = 0;
    size_t n = numbers(p, r, "P", 3);
    struct tb_err err = { 0 };

    (void)numbers(a, r, "a", 3);
    (void)numbers(b, r, "b", 3);
    assert_int_equal(tb_lab_adjust(out, p, a, b, n, &err), TB_OK);
    if (!strstr(r->cell[1], "denominator"))
        return out[fibre_asked(r)];
    for (size_t i = 0; i < n; i++) /* the denominator is what the shares were divided by */
        sum += p[i] * (1 + (a[i] + b[i]) / 100);
    assert_true(fabs(100 * p[0] * (1 + (a[0] + b[0]) / 100) / sum - out[0]) < 1e-12);
    return sum;
}

static double by_nitrogen(const struct stats_row *r)
{
    struct tb_lab_det det = { { 1, 0, 0, 0.02 } };
    double p[2];
    struct tb_err err = { 0 };

    det.in[1] = stats_number(r, "A", 0) / 28 / det.in[3]; /* the acid that this much nitrogen takes */
    assert_int_equal(tb_lab_dry(p, TB_LAB_NITROGEN, 2, NULL, &det, &err), TB_OK);
    return p[0];
}

/* What our functions make of the row's inputs; NAN for a kind of row nobody answers. */
static double answer(const struct stats_row *r)
{
    static const struct {
        const char *formula;
        enum tb_lab_route route;
        bool exact, adjusted;
    } route[] = {
        { "binary_dry", TB_LAB_DISSOLVE, false, false },
        { "manual_dry", TB_LAB_HAND, false, false },
        { "variant1", TB_LAB_VARIANT_1, false, false },
        { "variant1_exact", TB_LAB_VARIANT_1, true, false },
        { "variant1+adjust", TB_LAB_VARIANT_1, false, true },
        { "variant2", TB_LAB_VARIANT_2, false, false },
        { "variant3", TB_LAB_VARIANT_3, false, false },
        { "variant4", TB_LAB_VARIANT_4, false, false },
        { "variant4+adjust", TB_LAB_VARIANT_4, false, true },
    };

    for (size_t i = 0; i < TB_COUNT(route); i++)
        if (is(r, route[i].formula))
            return share_by_route(r, route[i].route, route[i].exact, route[i].adjusted);
    if (is(r, "adjust"))
        return adjusted(r);
    if (is(r, "difference"))
        return 100 - stats_number(r, "P1", stats_number(r, "P1A", NAN)) -
               stats_number(r, "P2", stats_number(r, "P2A", NAN));
    if (is(r, "product"))
        return stats_number(r, "x", NAN) * stats_number(r, "y", NAN);
    if (is(r, "animal_from_n"))
        return by_nitrogen(r);
    if (is(r, "fabric"))
        return tb_lab_cloth_cm2(stats_number(r, "x", 0), stats_number(r, "G", 0));
    return NAN;
}

static void every_worked_example_is_met_to_its_printed_digits(void **state)
{
    struct stats_rows t = stats_read("lab_examples");
    size_t met = 0, other = 0, failed = 0;

    (void)state;
    for (size_t i = 1; i < t.n; i++) {
        double got;

        if (is(&t.row[i], "rounding")) {
            other++; /* the next test */
            continue;
        }
        got = answer(&t.row[i]);
        if (stats_agrees(&t.row[i], got))
            met++;
        else
            failed++;
    }
    stats_free(&t);
    assert_int_equal(failed, 0);
    assert_int_equal(met, 39);
    assert_int_equal(other, 6);
}

/* Both examples end in figures with one decimal that sum to 100.0; the first prints 40.6 where 40.66 stands. */
static void the_final_figures_of_both_examples_come_out_as_printed(void **state)
{
    struct stats_rows t = stats_read("lab_examples");
    static const char *const first[] = { "wool", "polyamide", "cotton" }, *const second[] = { "wool",
                                                                                              "viscose",
                                                                                              "cotton" };
    size_t met = 0;

    (void)state;
    for (size_t i = 1; i < t.n; i++) {
        const struct stats_row *r = &t.row[i];
        double p[3], a[3], b[3];
        const char *const *name = strcmp(r->cell[0], "V1") == 0 ? first : second;
        struct tb_err err = { 0 };

        if (!is(r, "rounding"))
            continue;
        assert_int_equal(numbers(p, r, "P", 3), 3);
        assert_int_equal(numbers(a, r, "a", 3), 3);
        assert_int_equal(numbers(b, r, "b", 3), 3);
        assert_int_equal(tb_lab_adjust(p, p, a, b, 3, &err), TB_OK);
        tb_lab_round(p, p, 3, 1);
        for (size_t k = 0; k < 3; k++)
            if (strstr(r->cell[1], name[k])) {
                assert_true(fabs(p[k] - strtod(r->cell[3], NULL)) < 1e-9);
                met++;
            }
    }
    stats_free(&t);
    assert_int_equal(met, 6);
}

/* The Regulation prints 10.30 for 10.306375: the digits after the second are cut off, and 39.70 follows. */
static void the_print_of_the_first_example_is_cut_not_rounded(void **state)
{
    const double d[4] = { 1, 1.03, 1, 1 };
    struct tb_lab_det det = { { 1.6, 1.4166, 1.8, 0.9 } };
    double p[3];
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(tb_lab_dry(p, TB_LAB_VARIANT_1, 3, d, &det, &err), TB_OK);
    assert_true(fabs(floor(p[0] * 100) / 100 - 10.30) < 1e-9);
    assert_true(fabs(round(p[0] * 100) / 100 - 10.31) < 1e-9);
    assert_true(fabs(100 - 10.30 - 50.00 - 39.70) < 1e-9);
    assert_true(fabs(p[2] - 39.693625) < 1e-9);
}

/* Without any rounding in between, the final figures are still those printed. */
static void a_program_that_never_rounds_in_between_ends_at_the_printed_figures(void **state)
{
    const double first[] = { 11.0, 48.4, 40.6 }, second[] = { 10.6, 48.6, 40.8 };
    struct tb_lab_det det1 = { { 1.6, 1.4166, 1.8, 0.9 } }, det4 = { { 1.6, 1.4166, 0.663 } };
    struct tb_lab_task task;
    struct tb_lab_result r;
    struct tb_err err = { 0 };

    (void)state;
    tb_lab_task_init(&task, TB_LAB_VARIANT_1, 3);
    memcpy(task.d, (double[]){ 1, 1.03, 1, 1 }, sizeof task.d);
    memcpy(task.allowance[TB_LAB_EU], (double[]){ 17, 6.25, 8.5 }, 3 * sizeof(double));
    task.loss[2] = 4;
    assert_int_equal(tb_lab_compute(&r, &task, &det1, 1, &err), TB_OK);
    for (size_t i = 0; i < 3; i++)
        assert_true(fabs(r.share[TB_LAB_EU][i].rounded - first[i]) < 1e-9);
    task.route = TB_LAB_VARIANT_4;
    memcpy(task.d, (double[]){ 1, 1.03, 0.99, 1 }, sizeof task.d);
    memcpy(task.allowance[TB_LAB_EU], (double[]){ 17, 13, 8.5 }, 3 * sizeof(double));
    assert_int_equal(tb_lab_compute(&r, &task, &det4, 1, &err), TB_OK);
    for (size_t i = 0; i < 3; i++)
        assert_true(fabs(r.share[TB_LAB_EU][i].rounded - second[i]) < 1e-9);
    assert_false(r.known[TB_LAB_US]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_worked_example_is_met_to_its_printed_digits),
        cmocka_unit_test(the_final_figures_of_both_examples_come_out_as_printed),
        cmocka_unit_test(the_print_of_the_first_example_is_cut_not_rounded),
        cmocka_unit_test(a_program_that_never_rounds_in_between_ends_at_the_printed_figures),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
