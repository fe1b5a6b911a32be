/* Figures and days typed into one field: read where one reading is possible, both told where two are. */
#include "tenterbook/typed.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static void a_figure_is_read_with_a_point_a_comma_or_a_percent_sign(void **state)
{
    static const struct {
        const char *text;
        double value;
        bool percent;
    } is[] = {
        { "12.5", 12.5, false },       { "12,5", 12.5, false },      { "-0,25", -0.25, false },
        { "1.234,50", 1234.5, false }, { "1,234.5", 1234.5, false }, { "0,500", 0.5, false },
        { "65%", 65, true },           { "65 %", 65, true },         { "2,5%", 2.5, true },
        { "1.234", 1.234, false },     { "1e-3", 0.001, false },     { "7", 7, false },
    };
    struct tb_typed_number v;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(is); i++) {
        if (!tb_number_typed(&v, is[i].text) || !isnan(v.other) || v.percent != is[i].percent ||
            fabs(v.value - is[i].value) > 1e-12)
            fail_msg("'%s' is read as %g, percent %d", is[i].text, v.value, v.percent);
    }
}

static void a_comma_before_three_digits_may_separate_thousands_so_both_readings_are_told(void **state)
{
    struct tb_typed_number v;

    (void)state;
    assert_true(tb_number_typed(&v, "1,234"));
    assert_true(fabs(v.value - 1.234) < 1e-12 && fabs(v.other - 1234) < 1e-12);
}

static void what_is_no_figure_is_refused(void **state)
{
    static const char *const not [] = { "",        "%",     " 5",  "5 m", "5,",      "x",   "1,2,3", "12,5 m",
                                        "EUR 5,5", "5,5+1", "inf", "nan", "5,5-6,5", "--5", "5%%" };
    struct tb_typed_number v;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(not ); i++)
        if (tb_number_typed(&v, not [i]))
            fail_msg("'%s' is read as %g", not [i], v.value);
}

static void a_day_is_read_as_lists_have_it(void **state)
{
    static const char *const same[] = { "2026-10-15",  "15.10.2026", "15/10/2026",       "10/15/2026",
                                        "15 Oct 2026", "20261015",   "15. Oktober 2026", "2026/10/15" };
    struct tb_typed_day d;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(same); i++)
        if (!tb_day_typed(&d, same[i]) || strcmp(d.day, "2026-10-15") != 0 || *d.other)
            fail_msg("'%s' is read as '%s' or '%s'", same[i], d.day, d.other);
    assert_true(tb_day_typed(&d, "3/4/2026"));
    assert_string_equal(d.day, "2026-04-03");
    assert_string_equal(d.other, "2026-03-04");
    assert_true(
        tb_day_typed(&d, "3.4.2026")); /* with points the day stands first: common practice, no source */
    assert_string_equal(d.day, "2026-04-03");
    assert_string_equal(d.other, "");
    assert_false(tb_day_typed(&d, "2026-13-01"));
    assert_false(tb_day_typed(&d, "yesterday"));
    assert_false(tb_day_typed(&d, ""));
}

/* The clock stands at 2026-10-05T08:00:00Z: date -u -d @1791187200. */
static void a_day_two_years_from_today_or_more_is_far_off(void **state)
{
    (void)state;
    assert_int_equal(setenv("TENTERBOOK_CLOCK", "1791187200", 1), 0);
    assert_int_equal(tb_years_off("2026-10-05"), 0);
    assert_int_equal(tb_years_off("2024-10-07"), 0);
    assert_int_equal(tb_years_off("2024-10-04"), 2);
    assert_int_equal(tb_years_off("2028-10-04"), 0);
    assert_int_equal(tb_years_off("2062-10-06T10:00:00Z"), 36);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_figure_is_read_with_a_point_a_comma_or_a_percent_sign),
        cmocka_unit_test(a_comma_before_three_digits_may_separate_thousands_so_both_readings_are_told),
        cmocka_unit_test(what_is_no_figure_is_refused),
        cmocka_unit_test(a_day_is_read_as_lists_have_it),
        cmocka_unit_test(a_day_two_years_from_today_or_more_is_far_off),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
