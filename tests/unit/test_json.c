/* JSON drawn from records: each kind of member, in the order of the list, and what JSON cannot hold. */
#include "tenterbook/json.h"

#include "tenterbook/figure.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

struct record {
    const char *text, *some, *none;
    char day[11];
    double number, missing;
    bool yes;
    int small;
    unsigned plain;
    int64_t large;
    size_t many;
    struct {
        double inner;
    } nested;
};

#define AS(member, key) TB_JSON_AS(struct record, member, key)
TB_JSON_MEMBERS(members, AS(text, "text"), TB_JSON_SOME_AS(struct record, some, "some"), AS(none, "none"),
                AS(day, "day"), AS(number, "number"), AS(missing, "missing"), AS(yes, "yes"),
                AS(small, "small"), AS(plain, "plain"), AS(large, "large"), AS(many, "many"),
                AS(nested.inner, "inner"));

static const struct record example = { .text = "a \"quoted\" word",
                                       .some = "",
                                       .day = "2026-10-05",
                                       .number = 0.5,
                                       .missing = (double)INFINITY,
                                       .yes = true,
                                       .small = -3,
                                       .plain = 4000000000u,
                                       .large = -9007199254740993,
                                       .many = 7,
                                       .nested = { 2.25 } };

static void is_json(json_t *j, const char *want)
{
    char *got = json_dumps(j, JSON_COMPACT);

    assert_string_equal(got, want);
    free(got);
    json_decref(j);
}

static void an_object_has_the_members_in_the_order_of_the_list(void **state)
{
    (void)state;
    is_json(tb_json_of(members, &example),
            "{\"text\":\"a \\\"quoted\\\" "
            "word\",\"some\":null,\"none\":null,\"day\":\"2026-10-05\",\"number\":0.5,"
            "\"missing\":null,\"yes\":true,\"small\":-3,\"plain\":4000000000,\"large\":-9007199254740993,"
            "\"many\":7,"
            "\"inner\":2.25}");
}

static void figures_that_were_computed_have_no_more_digits_than_they_mean(void **state)
{
    const struct record r = { .number = 0.266017858446114,
                              .missing = (double)NAN,
                              .nested = { 5273.52428358316 } };
    TB_JSON_MEMBERS(shown, TB_JSON_CHANCE_AS(struct record, number, "chance"),
                    TB_JSON_CHANCE_AS(struct record, missing, "none"),
                    TB_JSON_HUNDREDTHS_AS(struct record, nested.inner, "money"));
    char *text;
    json_t *j = tb_json_of(shown, &r);

    (void)state;
    text = tb_json_shown(j, JSON_COMPACT);
    assert_string_equal(text, "{\"chance\":0.266,\"none\":null,\"money\":5273.52}");
    free(text);
    json_decref(j);
    j = json_pack("[o, o, o, o, o]", tb_json_chance(1), tb_json_chance(0), tb_json_chance(0.9999499),
                  tb_json_chance(1.23456e-7), tb_json_hundredths((double)INFINITY));
    text = tb_json_shown(j, JSON_COMPACT);
    assert_string_equal(text, "[1.0,0.0,0.9999,1.235e-7,null]");
    free(text);
    json_decref(j);
}

static void a_list_holds_an_object_for_each_record(void **state)
{
    struct record two[] = { { .small = 1 }, { .small = 2 } };
    static const struct tb_json_member small[] = { AS(small, "n") };

    (void)state;
    is_json(tb_json_all(small, two, 2), "[{\"n\":1},{\"n\":2}]");
    is_json(tb_json_all(small, two, 0), "[]");
}

static void a_count_that_is_not_known_is_null_and_none_is_0(void **state)
{
    struct record three[] = { { .small = 8 }, { .small = 0 }, { .small = -1 } };
    static const struct tb_json_member count[] = { TB_JSON_COUNT_AS(struct record, small, "n") };

    (void)state;
    is_json(tb_json_all(count, three, 3), "[{\"n\":8},{\"n\":0},{\"n\":null}]");
}

static void members_are_added_to_what_is_there(void **state)
{
    static const struct tb_json_member small[] = { AS(small, "n") };
    json_t *j = json_pack("{s:s}", "first", "x");

    (void)state;
    tb_json_add(j, small, TB_COUNT(small), &example);
    tb_json_put(j, "list", json_array());
    tb_json_push(json_object_get(j, "list"), json_true());
    is_json(j, "{\"first\":\"x\",\"n\":-3,\"list\":[true]}");
}

static void what_json_cannot_hold_becomes_null_or_is_mended(void **state)
{
    (void)state;
    is_json(json_pack("[o,o,o,o]", tb_json_number((double)NAN), tb_json_text(NULL), tb_json_some(NULL),
                      tb_json_number(0)),
            "[null,null,null,0.0]");
    is_json(json_pack("[o]", tb_json_text("K\xf6per")),
            "[\"K\xef\xbf\xbdper\"]"); /* U+FFFD for a byte of Latin-1 */
}

static void lines_become_a_list_with_or_without_an_end(void **state)
{
    (void)state;
    is_json(tb_json_lines(""), "[]");
    is_json(tb_json_lines("one\n\ntwo"), "[\"one\",\"\",\"two\"]");
    is_json(tb_json_lines("one\n"), "[\"one\"]");
}

static void ratios_and_prices_have_the_digits_they_mean(void **state)
{
    json_t *j = json_pack("[o, o, o, o, o, o]", tb_json_ratio(15.8489319246111), tb_json_ratio(0.0123456789),
                          tb_json_ratio(123456789), tb_json_ratio((double)NAN),
                          tb_json_price(1.75 / 0.9144), /* 1.75 a yard; 1 yd is 0.9144 m */
                          tb_json_price((double)INFINITY));
    char *text = tb_json_shown(j, JSON_COMPACT);

    (void)state;
    assert_string_equal(text, "[15.8489,0.0123457,123457000.0,null,1.9138,null]");
    free(text);
    json_decref(j);
}

/* By hand. What was typed stays: at most nine digits, or four decimals; the rest has six digits, and two decimals at least. */
static void figures_are_printed_with_the_digits_they_have(void **state)
{
    static const struct {
        double v, printed;
    } row[] = { { 0.95, 0.95 },
                { 0.1 + 0.2, 0.3 },
                { 1234567890.55, 1234567890.55 },
                { 10.12345, 10.12345 },       /* a balance that reads 0.01 mg, in grams */
                { 43.55 * 0.9144, 39.82212 }, /* yards; 1 yd is 0.9144 m */
                { 1.75 / 0.9144, 1.91382 },   /* a price of one yard, in metres */
                { 0.0331131121482591, 0.0331131 },
                { -16.6165235445622, -16.6165 },
                { 1.0 / 3e7, 3.33333e-8 },
                { 1e7 / 3, 3333333.33 },
                { 1e15 / 7, 1e15 / 7 },
                { 0, 0 } };
    json_t *nested = json_pack("{s:[{s:f}], s:i}", "a", "b", 2.0 / 3, "n", 1234567);
    char *text = tb_json_shown(nested, JSON_COMPACT);

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++)
        assert_memory_equal(&(double){ tb_figure(row[i].v) }, &row[i].printed, sizeof(double));
    assert_true(isnan(tb_figure((double)NAN)));
    assert_string_equal(text, "{\"a\":[{\"b\":0.666667}],\"n\":1234567}");
    free(text);
    json_decref(nested);
}

/* Whoever computes our figures again asks for all digits. */
static void all_digits_are_printed_where_they_are_asked_for(void **state)
{
    json_t *third = json_pack("[f]", 1.0 / 3);
    struct tb_err err = { 0 };
    char *text;

    (void)state;
    assert_int_equal(setenv("TENTERBOOK_DIGITS", "4", 1), 0);
    assert_int_equal(tb_figures_asked(&err), TB_EINVAL);
    assert_string_equal(err.msg,
                        "TENTERBOOK_DIGITS is '4'; it takes 17, which prints all digits of a figure");
    assert_int_equal(setenv("TENTERBOOK_DIGITS", "17", 1), 0);
    assert_int_equal(tb_figures_asked(&err), TB_OK);
    text = tb_json_shown(third, JSON_COMPACT);
    assert_string_equal(text, "[0.33333333333333331]");
    free(text);
    json_decref(third);
    assert_int_equal(unsetenv("TENTERBOOK_DIGITS"), 0);
    assert_int_equal(tb_figures_asked(&err), TB_OK);
    assert_memory_equal(&(double){ tb_figure(1.0 / 3) }, &(double){ 0.333333 }, sizeof(double));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(figures_are_printed_with_the_digits_they_have),
        cmocka_unit_test(all_digits_are_printed_where_they_are_asked_for),
        cmocka_unit_test(ratios_and_prices_have_the_digits_they_mean),
        cmocka_unit_test(an_object_has_the_members_in_the_order_of_the_list),
        cmocka_unit_test(figures_that_were_computed_have_no_more_digits_than_they_mean),
        cmocka_unit_test(a_list_holds_an_object_for_each_record),
        cmocka_unit_test(a_count_that_is_not_known_is_null_and_none_is_0),
        cmocka_unit_test(members_are_added_to_what_is_there),
        cmocka_unit_test(lines_become_a_list_with_or_without_an_end),
        cmocka_unit_test(what_json_cannot_hold_becomes_null_or_is_mended),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
