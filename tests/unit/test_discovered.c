/* The day a fault was found: days, rows and what they come to are worked out by hand from the rule in dispute.h. */
#include "tenterbook/dispute.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static struct tb_discovery of(const struct tb_verdict_against *f, size_t n, const struct tb_looked_at *seen,
                              size_t seens)
{
    struct tb_discovery out;

    tb_discovery_of(&out, f, n, seen, seens);
    return out;
}

#define OF(f, seen) of(f, TB_COUNT(f), seen, TB_COUNT(seen))
#define ON(d, is, when)                                                                                      \
    do {                                                                                                     \
        assert_string_equal((d).day, is);                                                                    \
        assert_string_equal((d).typed ? (d).typed : "", when);                                               \
    } while (0)

static void nothing_against_it_is_nothing_found(void **state)
{
    const struct tb_looked_at seen[] = { { "2026-11-12", "2026-11-12", 3, "B1", false, true } };
    struct tb_discovery d = of(NULL, 0, seen, 1);

    (void)state;
    assert_null(d.day);
    assert_string_equal(d.by, "");
}

static void a_burn_typed_up_later_was_seen_when_it_burned(void **state)
{
    const struct tb_verdict_against f[] = { { "2026-11-27", 5, "burn", "B1" } };
    const struct tb_looked_at seen[] = { { "2026-11-12", "2026-11-27", 5, "B1", false, true } },
                              at_once[] = { { "2026-11-27", "2026-11-27", 5, "B1", false, true } };

    (void)state;
    ON(OF(f, seen), "2026-11-12", "2026-11-27");
    ON(OF(f, at_once), "2026-11-27", "");
    assert_string_equal(OF(f, seen).by, "verdict");
}

static void what_did_not_show_it_yet_is_no_discovery(void **state)
{
    const struct tb_verdict_against f[] = { { "2026-11-20", 6, "burn", "" } };
    const struct tb_looked_at seen[] = { { "2026-11-12", "2026-11-12", 5, "B1", false, true },
                                         { "2026-11-20", "2026-11-20", 6, "B2", false, true } };

    (void)state;
    ON(OF(f, seen), "2026-11-20", "");
}

static void of_a_file_of_burns_those_count_that_contradict_by_themselves(void **state)
{
    const struct tb_verdict_against alone[] = { { "2026-11-27", 5, "burn", "B12\nB2" } },
                                    together[] = { { "2026-11-27", 5, "burn", "" } };
    const struct tb_looked_at seen[] = { { "2026-11-10", "2026-11-27", 5, "B1", false, true },
                                         { "2026-11-12", "2026-11-27", 5, "B2", false, true } };

    (void)state;
    ON(OF(alone, seen), "2026-11-12", "2026-11-27");
    ON(OF(together, seen), "2026-11-10", "2026-11-27"); /* nobody can say which: the earlier is safe */
}

static void an_earlier_burn_that_is_typed_last_counts_where_its_bolt_contradicts(void **state)
{
    const struct tb_verdict_against f[] = { { "2026-11-20", 5, "burn", "B2" },
                                            { "2026-11-27", 6, "burn", "B2\nB3" },
                                            { "2026-11-28", 7, "burn", "B2\nB3" } };
    const struct tb_looked_at seen[] = { { "2026-11-20", "2026-11-20", 5, "B2", false, true },
                                         { "2026-11-11", "2026-11-27", 6, "B3", false, true },
                                         { "2026-11-02", "2026-11-28", 7, "B1", false, true } };

    (void)state;
    ON(OF(f, seen), "2026-11-11", "2026-11-27");
}

static void what_is_left_once_something_is_taken_out_had_all_been_seen(void **state)
{
    const struct tb_verdict_against gone[] = { { "2026-11-27", 9, "void", "B2" } },
                                    corrected[] = { { "2026-11-27", 9, "burn", "B2" } };
    const struct tb_looked_at seen[] = { { "2026-11-08", "2026-11-08", 4, "B1", false, false },
                                         { "2026-11-12", "2026-11-12", 5, "B2", false, true } },
                              put_right[] = { { "2026-11-12", "2026-11-12", 5, "B2", false, true },
                                              { "2026-11-10", "2026-11-27", 9, "B1", true, true } };

    (void)state;
    ON(OF(gone, seen), "2026-11-12", "");
    ON(OF(corrected, put_right), "2026-11-12", "");
}

static void other_words_are_found_wrong_on_the_day_they_are_held_against_it(void **state)
{
    const struct tb_verdict_against f[] = { { "2026-11-27", 9, "declare", "B2" } };
    const struct tb_looked_at seen[] = { { "2026-11-12", "2026-11-12", 5, "B2", false, true } };

    (void)state;
    ON(OF(f, seen), "2026-11-27", "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_against_it_is_nothing_found),
        cmocka_unit_test(a_burn_typed_up_later_was_seen_when_it_burned),
        cmocka_unit_test(what_did_not_show_it_yet_is_no_discovery),
        cmocka_unit_test(of_a_file_of_burns_those_count_that_contradict_by_themselves),
        cmocka_unit_test(an_earlier_burn_that_is_typed_last_counts_where_its_bolt_contradicts),
        cmocka_unit_test(what_is_left_once_something_is_taken_out_had_all_been_seen),
        cmocka_unit_test(other_words_are_found_wrong_on_the_day_they_are_held_against_it),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
