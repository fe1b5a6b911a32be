/* What claims come to: steps with amounts, added up by supplier, month and currency. Figures by hand. */
#include "tenterbook/money.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static struct tb_arena mem;
static struct tb_money m;

static struct tb_money_step step(const char *dispute, enum tb_step_kind kind, const char *day, double amount)
{
    return (struct tb_money_step){ .dispute = dispute,
                                   .supplier = "1",
                                   .name = "Ohm Weavers",
                                   .day = day,
                                   .currency = "EUR",
                                   .step = kind,
                                   .amount = amount,
                                   .open = true };
}

static int teardown(void **state)
{
    (void)state;
    tb_arena_free(&mem);
    return 0;
}

static void a_claim_an_agreement_and_what_came_in_stand_in_their_months(void **state)
{
    const struct tb_money_step s[] = { step("a", TB_OPENED, "2026-09-30", 1480),
                                       step("a", TB_AGREED, "2026-10-12", 900),
                                       step("a", TB_RECOVERED, "2026-11-02", 300),
                                       step("a", TB_RECOVERED, "2026-11-20", 200) };

    (void)state;
    tb_money_sums(&m, s, TB_COUNT(s), NULL, NULL, &mem);
    assert_int_equal(m.rows, 3);
    assert_string_equal(m.row[0].month, "2026-09");
    assert_true(m.row[0].claimed == 1480 && m.row[0].agreed == 0 && m.row[0].awaited == 0);
    assert_true(m.row[1].agreed == 900 && m.row[1].awaited == 400);
    assert_true(m.row[2].recovered == 500);
    assert_int_equal(m.row[2].disputes, 1);
    assert_int_equal(m.totals, 1);
    assert_true(m.total[0].claimed == 1480 && m.total[0].agreed == 900 && m.total[0].recovered == 500 &&
                m.total[0].awaited == 400);
}

static void a_claim_put_higher_in_the_notice_is_one_claim(void **state)
{
    const struct tb_money_step s[] = { step("a", TB_OPENED, "2026-10-01", 100),
                                       step("a", TB_NOTIFIED, "2026-10-02", 150),
                                       step("a", TB_AGREED, "2026-10-05", 90),
                                       step("a", TB_AGREED, "2026-10-09", 120) };

    (void)state;
    tb_money_sums(&m, s, TB_COUNT(s), NULL, NULL, &mem);
    assert_int_equal(m.rows, 1);
    assert_true(m.row[0].claimed == 150 && m.row[0].agreed == 120 && m.row[0].awaited == 120);
    assert_int_equal(m.row[0].disputes, 1);
}

static void an_offer_is_neither_claimed_nor_agreed(void **state)
{
    const struct tb_money_step s[] = { step("a", TB_ANSWERED, "2026-10-01", 100) };

    (void)state;
    tb_money_sums(&m, s, TB_COUNT(s), NULL, NULL, &mem);
    assert_int_equal(m.rows, 0);
    assert_int_equal(m.totals, 0);
}

static void of_a_dispute_that_is_closed_nothing_is_awaited_and_what_came_at_the_close_counts(void **state)
{
    struct tb_money_step s[] = { step("a", TB_AGREED, "2026-10-01", 900),
                                 step("a", TB_CLOSED, "2026-10-20", 850) };

    (void)state;
    s[0].open = s[1].open = false;
    tb_money_sums(&m, s, TB_COUNT(s), NULL, NULL, &mem);
    assert_true(m.total[0].recovered == 850 && m.total[0].awaited == 0);
}

static void currencies_are_never_added_together(void **state)
{
    struct tb_money_step s[] = { step("a", TB_AGREED, "2026-10-01", 900),
                                 step("a", TB_RECOVERED, "2026-10-20", 850) };

    (void)state;
    s[1].currency = "USD";
    tb_money_sums(&m, s, TB_COUNT(s), NULL, NULL, &mem);
    assert_int_equal(m.totals, 2);
    assert_string_equal(m.total[0].currency, "EUR");
    assert_true(m.total[0].awaited == 900 && m.total[0].recovered == 0);
    assert_true(m.total[1].recovered == 850);
}

static void months_that_are_not_asked_for_are_left_out_but_count_for_what_is_awaited(void **state)
{
    const struct tb_money_step s[] = { step("a", TB_OPENED, "2026-09-30", 1000),
                                       step("a", TB_AGREED, "2026-10-12", 900),
                                       step("a", TB_RECOVERED, "2026-11-02", 300) };

    (void)state;
    tb_money_sums(&m, s, TB_COUNT(s), "2026-10", "2026-10", &mem);
    assert_int_equal(m.rows, 1);
    assert_true(m.row[0].agreed == 900 && m.row[0].awaited == 600 && m.row[0].claimed == 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(a_claim_an_agreement_and_what_came_in_stand_in_their_months, teardown),
        cmocka_unit_test_teardown(a_claim_put_higher_in_the_notice_is_one_claim, teardown),
        cmocka_unit_test_teardown(an_offer_is_neither_claimed_nor_agreed, teardown),
        cmocka_unit_test_teardown(
            of_a_dispute_that_is_closed_nothing_is_awaited_and_what_came_at_the_close_counts, teardown),
        cmocka_unit_test_teardown(currencies_are_never_added_together, teardown),
        cmocka_unit_test_teardown(months_that_are_not_asked_for_are_left_out_but_count_for_what_is_awaited,
                                  teardown),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
