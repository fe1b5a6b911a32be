/* test_figure.c - figures of so many digits: the same bits as by their text. */
#include "tenterbook/figure.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static double by_text(double v, int digits)
{
    char text[32];

    (void)snprintf(text, sizeof text, "%.*g", digits, v);
    return strtod(text, NULL);
}

static void holds(double v)
{
    for (int digits = 1; digits <= 9; digits++) {
        double is = tb_to_digits(v, digits), wanted = by_text(v, digits);

        if (memcmp(&is, &wanted, sizeof is) != 0)
            fail_msg("%.17g to %d digits is %.17g, and %.17g by its text", v, digits, is, wanted);
    }
}

/* xorshift64*, Vigna 2016. */
static uint64_t next(uint64_t *x)
{
    *x ^= *x >> 12;
    *x ^= *x << 25;
    *x ^= *x >> 27;
    return *x * 0x2545f4914f6cdd1du;
}

static void any_figure_is_rounded_as_its_text(void **state)
{
    uint64_t x = 20;

    (void)state;
    for (int i = 0; i < 20000; i++) {
        double v = ((double)(next(&x) >> 11) * 0x1p-53 - 0.5) * pow(10, (double)(next(&x) % 40) - 25);

        holds(v);
        holds(tb_to_digits(v, 7)); /* few digits: many of them lie in the middle between two of fewer */
    }
}

static void what_lies_between_two_figures_goes_by_its_text(void **state)
{
    static const double between[] = { 0.5,       2.5,      0.125,    1.5e-7,    4503599627370497.5,
                                      1.0000005, 123456.5, 999999.5, 0.9999995, 99.99999999,
                                      1e22,      1e23,     5e-324,   1e308 };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(between); i++) {
        holds(between[i]);
        holds(-between[i]);
    }
}

static void nothing_and_what_is_not_finite_stay_as_they_are(void **state)
{
    (void)state;
    assert_true(tb_to_digits(0, 6) == 0 && tb_to_digits(-0.0, 6) == 0);
    assert_true(isnan(tb_to_digits(NAN, 6)));
    assert_true(tb_to_digits(INFINITY, 6) == INFINITY && tb_to_digits(-INFINITY, 6) == -INFINITY);
}

/* Halves of a cent by hand: the decimal figure decides, whichever double is near it. */
static void halves_of_a_cent_go_away_from_zero(void **state)
{
    static const struct {
        double v;
        const char *reads;
    } half[] = {
        { 486.765, "486.77" },  { 1353.375, "1353.38" }, { 0.125, "0.13" },   { 0.135, "0.14" },
        { 2.665, "2.67" },      { 2.675, "2.68" },       { 1.005, "1.01" },   { -486.765, "-486.77" },
        { 486.7649, "486.76" }, { 0, "0.00" },           { 17.994, "17.99" }, { 111.9 * 4.35, "486.77" },
    };
    char text[32];

    (void)state;
    for (size_t i = 0; i < TB_COUNT(half); i++) {
        (void)snprintf(text, sizeof text, "%.2f", tb_cents(half[i].v));
        assert_string_equal(text, half[i].reads);
    }
    /* each half of a cent up to 1,000: the figure above it, as whole numbers give it */
    for (long cents = 0; cents < 100000; cents++) {
        char wanted[32];

        (void)snprintf(text, sizeof text, "%ld.%02ld5", cents / 100, cents % 100);
        (void)snprintf(wanted, sizeof wanted, "%ld.%02ld", (cents + 1) / 100, (cents + 1) % 100);
        (void)snprintf(text, sizeof text, "%.2f", tb_cents(strtod(text, NULL)));
        assert_string_equal(text, wanted);
    }
    assert_true(isnan(tb_cents(NAN)) && tb_cents(INFINITY) == INFINITY && tb_rounded(1e300, 2) == 1e300);
    assert_true(tb_rounded(2.5, 0) == 3 && tb_rounded(1.5, 10) == 1.5);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(any_figure_is_rounded_as_its_text),
        cmocka_unit_test(what_lies_between_two_figures_goes_by_its_text),
        cmocka_unit_test(halves_of_a_cent_go_away_from_zero),
        cmocka_unit_test(nothing_and_what_is_not_finite_stay_as_they_are),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
