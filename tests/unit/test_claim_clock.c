/* test_claim_clock.c - the claim clock at its boundaries. Days by hand from a calendar of 2026. */
#include "tenterbook/claim.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static struct tb_err err;

static struct tb_claim_term own(int open, int hidden, bool working)
{
    return (struct tb_claim_term){ .key = "",
                                   .country = "",
                                   .name = "order of 2 March",
                                   .open_days = open,
                                   .hidden_days = hidden,
                                   .working = working,
                                   .last_months = TB_CLAIM_NO_TERM,
                                   .last_of = "",
                                   .status = "own" };
}

static struct tb_claim_term law(const char *key)
{
    struct tb_claim_term t;

    if (tb_claim_law_find(&t, key, &err) != TB_OK)
        fail_msg("%s", err.msg);
    return t;
}

static struct tb_claim_clock clock_of(const char *arrived, const char *found, const char *today,
                                      const struct tb_claim_term *term, size_t n)
{
    const struct tb_claim_question q = {
        .arrived = arrived, .found = found, .today = today, .term = term, .n = n
    };
    struct tb_claim_clock c;

    if (tb_claim_clock(&c, &q, &err) != TB_OK)
        fail_msg("%s", err.msg);
    return c;
}

static void the_day_of_arrival_is_not_counted(void **state)
{
    struct tb_claim_term t = law("tr_23"); /* 2 days for what is plain, 8 from receipt for the rest */
    struct tb_claim_clock c = clock_of("2026-10-05", NULL, "2026-10-05", &t, 1);

    (void)state;
    assert_string_equal(c.arrival.day, "2026-10-07");
    assert_int_equal(c.arrival.left, 2);
    assert_string_equal(c.discovery.day, "2026-10-13"); /* from receipt, found or not */
    assert_string_equal(c.first.day, "2026-10-07");
}

static void the_last_day_is_still_in_time_and_the_next_is_not(void **state)
{
    struct tb_claim_term t = law("it_1495"); /* 8 days */

    (void)state;
    assert_int_equal(clock_of("2026-10-05", NULL, "2026-10-12", &t, 1).first.left, 1);
    assert_int_equal(clock_of("2026-10-05", NULL, "2026-10-13", &t, 1).first.left, 0);
    assert_int_equal(clock_of("2026-10-05", NULL, "2026-10-14", &t, 1).first.left, -1);
}

static void a_hidden_fault_counts_from_discovery(void **state)
{
    struct tb_claim_term t = law("it_1495");
    struct tb_claim_clock c = clock_of("2026-10-05", "2026-11-20", "2026-11-21", &t, 1);

    (void)state;
    assert_string_equal(c.discovery.day, "2026-11-28");
    assert_int_equal(c.discovery.left, 7);
    assert_string_equal(c.first.day, "2026-10-13"); /* the careful day stays the earlier one */
    assert_string_equal(clock_of("2026-10-05", NULL, "2026-11-21", &t, 1).discovery.day, "");
}

static void two_readings_of_one_law_differ_and_the_earlier_is_named(void **state)
{
    struct tb_claim_term t[] = { law("es_342"), law("es_342_delivery") };
    struct tb_claim_clock c = clock_of("2026-10-05", "2026-10-20", "2026-10-20", t, 2);

    (void)state;
    assert_string_equal(c.arrival.day, "2026-10-09"); /* 4 days */
    assert_string_equal(c.discovery.day,
                        "2026-11-04"); /* 30 from delivery; from knowing it were 2026-11-19 */
    assert_int_equal(c.discovery.by, 1);
    assert_string_equal(t[1].status, "memory");
}

static void working_days_pass_over_the_weekend(void **state)
{
    struct tb_claim_term t = own(5, 1, true);
    /* 2026-10-08 is a Thursday: 9, 12, 13, 14, 15 */
    struct tb_claim_clock c = clock_of("2026-10-08", "2026-10-09", "2026-10-09", &t, 1);

    (void)state;
    assert_string_equal(c.arrival.day, "2026-10-15");
    assert_int_equal(c.arrival.left, 6);
    assert_int_equal(c.arrival.work_left, 4);           /* 12 to 15 */
    assert_string_equal(c.discovery.day, "2026-10-12"); /* Friday and one working day */
    /* goods that come on a Saturday: Monday is the first day counted */
    t = own(1, TB_CLAIM_NO_TERM, true);
    assert_string_equal(clock_of("2026-10-10", NULL, "2026-10-10", &t, 1).arrival.day, "2026-10-12");
    /* no days at all: the same day, even a Saturday */
    t = own(0, 0, true);
    assert_string_equal(clock_of("2026-10-10", NULL, "2026-10-10", &t, 1).arrival.day, "2026-10-10");
}

static void weekends_differ_between_countries(void **state)
{
    char day[TB_DAY_LEN + 1];
    enum tb_weekend w = TB_WEEKEND_SUN;

    (void)state;
    tb_day_after(day, "2026-10-08", 1, true, TB_WEEKEND_FRI_SAT); /* Thursday -> Sunday */
    assert_string_equal(day, "2026-10-11");
    tb_day_after(day, "2026-10-09", 1, true, TB_WEEKEND_SUN); /* Friday -> Saturday */
    assert_string_equal(day, "2026-10-10");
    assert_true(tb_weekend_read(&w, "fri-sat"));
    assert_int_equal(w, TB_WEEKEND_FRI_SAT);
    assert_false(tb_weekend_read(&w, "mon"));
    tb_day_after(day, "2026-10-08", 1, true, TB_WEEKEND_SAT_SUN); /* from a Thursday */
    assert_string_equal(day, "2026-10-09");
}

static void a_term_that_ends_on_a_weekend_is_not_stretched(void **state)
{
    struct tb_claim_term t = own(5, TB_CLAIM_NO_TERM, false);
    struct tb_claim_clock c = clock_of("2026-10-05", NULL, "2026-10-05", &t, 1); /* Monday + 5: Saturday */

    (void)state;
    assert_string_equal(c.arrival.day, "2026-10-10");
    assert_string_equal(c.arrival.work_by, "2026-10-09");
    /* nor sent before the goods are there: arrived Saturday, due Sunday */
    t = own(1, TB_CLAIM_NO_TERM, false);
    assert_string_equal(clock_of("2026-10-10", NULL, "2026-10-10", &t, 1).arrival.work_by, "2026-10-10");
}

static void the_shortest_of_contract_and_law_counts_and_is_named(void **state)
{
    struct tb_claim_term t[] = { law("de_textile"), own(10, 3, false), law("cisg"), law("house_14") };
    struct tb_claim_clock c = clock_of("2026-10-05", "2026-10-06", "2026-10-07", t, 4);

    (void)state;
    assert_string_equal(c.arrival.day, "2026-10-15");
    assert_int_equal(c.arrival.by, 1);
    assert_string_equal(c.first.day, "2026-10-09");
    assert_int_equal(c.first.by, 1);
    assert_true(c.before_cutting);
    assert_int_equal(c.cutting_by, 0);
    assert_int_equal(c.undated, 1);                /* the convention names no days */
    assert_string_equal(c.last.day, "2028-10-05"); /* but two years */
    assert_int_equal(c.last.by, 2);
    /* of equal terms the one named first */
    t[1] = own(14, 3, false);
    assert_int_equal(clock_of("2026-10-05", NULL, "2026-10-07", t, 4).arrival.by, 0);
}

static void without_a_number_of_days_there_is_no_date(void **state)
{
    struct tb_claim_term t[] = { law("us_ucc"), law("de_377") };
    struct tb_claim_clock c = clock_of("2026-10-05", "2026-10-06", "2026-10-07", t, 2);

    (void)state;
    assert_string_equal(c.first.day, "");
    assert_int_equal(c.undated, 2);
    assert_int_equal(clock_of("2026-10-05", NULL, "2026-10-07", NULL, 0).undated, 0);
}

static void months_end_on_the_last_day_there_is(void **state)
{
    char day[TB_DAY_LEN + 1];

    (void)state;
    tb_day_months_after(day, "2026-08-31", 6);
    assert_string_equal(day, "2027-02-28");
    tb_day_months_after(day, "2024-02-29", 24);
    assert_string_equal(day, "2026-02-28");
    tb_day_months_after(day, "2024-02-29", 48);
    assert_string_equal(day, "2028-02-29");
    tb_day_months_after(day, "2026-12-15", 1);
    assert_string_equal(day, "2027-01-15");
    tb_day_months_after(day, "2999-12-15", 1);
    assert_string_equal(day, "2999-12-31");
    tb_day_after(day, "2026-02-27", 3, false, TB_WEEKEND_SAT_SUN);
    assert_string_equal(day, "2026-03-02");
    tb_day_after(day, "2999-12-30", 3, false, TB_WEEKEND_SAT_SUN);
    assert_string_equal(day, "2999-12-31");
}

static void days_that_make_no_sense_are_refused(void **state)
{
    struct tb_claim_term t = own(3, 3, false);
    struct tb_claim_question q = { .arrived = "2026-10-05", .today = "2026-10-06", .term = &t, .n = 1 };
    struct tb_claim_clock c = { .undated = 77 };

    (void)state;
    q.found = "2026-10-04";
    assert_int_equal(tb_claim_clock(&c, &q, &err), TB_EINVAL);
    assert_string_equal(err.msg, "found on 2026-10-04, but the goods arrived on 2026-10-05");
    q.found = "2026-02-30";
    assert_int_equal(tb_claim_clock(&c, &q, &err), TB_EINVAL);
    assert_string_equal(err.msg,
                        "the day of discovery, '2026-02-30', is not a valid date; write it as YYYY-MM-DD");
    q.found = NULL;
    q.arrived = "yesterday";
    assert_int_equal(tb_claim_clock(&c, &q, &err), TB_EINVAL);
    q.arrived = "2026-10-05";
    t.open_days = -7;
    assert_int_equal(tb_claim_clock(&c, &q, &err), TB_EINVAL);
    t.open_days = TB_CLAIM_DAYS_MOST + 1;
    assert_int_equal(tb_claim_clock(&c, &q, &err), TB_EINVAL);
    assert_string_equal(err.msg, "order of 2 March: a term is 0 to 3650 days");
    assert_int_equal(c.undated, 77); /* untouched */
    assert_int_equal(tb_claim_law_find(&t, "xx", &err), TB_ENOTFOUND);
    assert_non_null(strstr(err.msg, "there is no term 'xx'; the terms are cisg, "));
}

static void every_row_says_where_it_was_read(void **state)
{
    (void)state;
    for (size_t i = 0; i < tb_claim_law_count(); i++) {
        struct tb_claim_term t = tb_claim_law_at(i);
        struct tb_claim_clock c = clock_of("2026-10-05", "2026-10-06", "2026-10-07", &t, 1);

        if (!*t.key || !*t.name || !*t.says || !*t.source ||
            (strcmp(t.status, "seen") != 0 && strcmp(t.status, "memory") != 0))
            fail_msg("row %zu is not whole", i + 1);
        if (t.last_months != TB_CLAIM_NO_TERM && strcmp(t.last_of, "notice") != 0 &&
            strcmp(t.last_of, "action") != 0)
            fail_msg("%s: last of what?", t.key);
        assert_true(*t.country == '\0' || strlen(t.country) == 2);
        assert_int_equal(c.undated + (c.first.day[0] != '\0'), 1);
        for (size_t k = 0; k < i; k++)
            assert_string_not_equal(t.key, tb_claim_law_at(k).key);
    }
}

static void a_file_is_kept_by_the_longest_rule_that_fits(void **state)
{
    const char *us[] = { "", "US" }, *it[] = { "IT" }, *gb[] = { "IT", "GB" };
    struct tb_keep_rule r;
    char day[TB_DAY_LEN + 1];

    (void)state;
    tb_claim_keep_until(day, &r, "2026-11-30", it, 1);
    assert_string_equal(day, "2028-11-30"); /* two years of the convention outlast Italy's one */
    assert_string_equal(r.key, "cisg_39");
    tb_claim_keep_until(day, &r, "2026-11-30", us, 2);
    assert_string_equal(day, "2031-11-30");
    assert_string_equal(r.key, "us_entry");
    tb_claim_keep_until(day, &r, "2026-11-30", gb, 2);
    assert_string_equal(day, "2032-11-30");
    assert_string_equal(r.status, "memory"); /* and it says so */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_day_of_arrival_is_not_counted),
        cmocka_unit_test(the_last_day_is_still_in_time_and_the_next_is_not),
        cmocka_unit_test(a_hidden_fault_counts_from_discovery),
        cmocka_unit_test(two_readings_of_one_law_differ_and_the_earlier_is_named),
        cmocka_unit_test(working_days_pass_over_the_weekend),
        cmocka_unit_test(weekends_differ_between_countries),
        cmocka_unit_test(a_term_that_ends_on_a_weekend_is_not_stretched),
        cmocka_unit_test(the_shortest_of_contract_and_law_counts_and_is_named),
        cmocka_unit_test(without_a_number_of_days_there_is_no_date),
        cmocka_unit_test(months_end_on_the_last_day_there_is),
        cmocka_unit_test(days_that_make_no_sense_are_refused),
        cmocka_unit_test(every_row_says_where_it_was_read),
        cmocka_unit_test(a_file_is_kept_by_the_longest_rule_that_fits),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
