/* Records in words: what is not certain is not called so, days and terms are whole phrases, parts have their commas. */
#include "tenterbook/tell.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static struct tb_text text;

static void says(const char *want)
{
    assert_string_equal(tb_text_str(&text), want);
    tb_text_free(&text);
}

static void a_ratio_is_said_as_odds(void **state)
{
    static const struct {
        double odds;
        const char *words;
    } row[] = {
        { 26, "26 to 1 for it" },    { 1.0 / 25, "25 to 1 against it" },
        { 2.54, "2.5 to 1 for it" }, { 9.96, "10 to 1 for it" },
        { 1.05, "about even" },      { 1 / 1.05, "about even" },
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        tb_ratio_words(&text, TB_READER, log(row[i].odds), NULL);
        says(row[i].words);
    }
    tb_ratio_words(&text, TB_READER, (double)NAN, NULL);
    says("not judged");
}

static void a_ratio_beyond_what_was_tested_is_said_no_further(void **state)
{
    struct tb_bounds most;
    char want[60];

    (void)state;
    tb_bounds_published(&most);
    assert_true(most.low < log(1.0 / 20) &&
                most.low > log(1.0 / 60)); /* sixty families carry no more than 1/60 */
    assert_true(most.high > log(20) && most.high < log(60));
    tb_ratio_words(&text, TB_READER, log(2e6), NULL);
    (void)snprintf(want, sizeof want, "at least %.0f to 1 for it", exp(most.high));
    says(want);
    tb_ratio_words(&text, TB_READER, log(1e-7), NULL);
    (void)snprintf(want, sizeof want, "at least %.0f to 1 against it", exp(-most.low));
    says(want);
    tb_ratio_words(&text, TB_READER, log(1e-7),
                   &(struct tb_bounds){ .low = log(1.0 / 14), .high = log(16) }); /* of a short burn */
    says("at least 14 to 1 against it");
    tb_ratio_words(&text, TB_READER, log(1e-7),
                   &(struct tb_bounds){ .low = log(1.0 / 60), .high = log(60) }); /* with lots of the site */
    says("at least 60 to 1 against it");
    tb_ratio_words(&text, TB_READER, log(1e-7),
                   &(struct tb_bounds){ .low = log(1.0 / 60), .high = log(60), .untested = true });
    says("60 to 1 against it (limit not tested)");
    tb_ratio_words(&text, TB_READER, log(12),
                   &(struct tb_bounds){ .low = log(1.0 / 60), .high = log(60), .untested = true });
    says("12 to 1 for it"); /* it comes to no limit */
}

static void only_a_certainty_is_called_one(void **state)
{
    static const struct {
        double share;
        const char *words;
    } row[] = {
        { 0, "0 %" },
        { 1, "100 %" },
        { 0.5, "50 %" },
        { 0.952, "95.2 %" },
        { 0.0004, "less than 0.1 %" },
        { 0.9996, "more than 99.9 %" },
        { 0.0005, "0.1 %" },
    };
    char out[TB_PERCENT];

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++)
        assert_string_equal(tb_percent(out, row[i].share), row[i].words);
}

static void days_are_said_as_a_person_says_them(void **state)
{
    static const struct {
        long left;
        const char *words;
    } row[] = {
        { 0, "today" }, { 1, "tomorrow" }, { 8, "in 8 days" }, { -1, "1 day ago" }, { -4, "4 days ago" },
    };
    char out[TB_COUNTED];

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++)
        assert_string_equal(tb_days_words(out, row[i].left), row[i].words);
    assert_string_equal(tb_day_words(out, "2026-10-13"), "Tuesday 2026-10-13");
}

static void a_term_names_its_days_and_from_when_they_count(void **state)
{
    struct tb_claim_term t = { .open_days = 8,
                               .hidden_days = 1,
                               .working = true,
                               .before_cutting = true,
                               .last_months = 12,
                               .last_of = "action" };

    (void)state;
    tb_term_words(&text, &t);
    says("8 working days from arrival, 1 working day from discovery if hidden, before the first cut, 12 "
         "months to sue");
    t = (struct tb_claim_term){ .open_days = TB_CLAIM_NO_TERM,
                                .hidden_days = 2,
                                .hidden_from_arrival = true,
                                .last_months = 1,
                                .last_of = "notice" };
    tb_term_words(&text, &t);
    says("2 days from arrival if hidden, at most 1 month");
    t = (struct tb_claim_term){ .open_days = TB_CLAIM_NO_TERM,
                                .hidden_days = TB_CLAIM_NO_TERM,
                                .last_months = TB_CLAIM_NO_TERM };
    tb_term_words(&text, &t);
    says("no number of days");
}

static void every_state_and_step_has_words_of_its_own(void **state)
{
    (void)state;
    for (int s = TB_CLAIM_NOTHING; s <= TB_CLAIM_DO; s++)
        for (int k = s + 1; k <= TB_CLAIM_DO; k++)
            assert_string_not_equal(tb_claim_state_words((enum tb_claim_state)s),
                                    tb_claim_state_words((enum tb_claim_state)k));
    assert_string_equal(tb_claim_state_words(TB_CLAIM_TELL), "tell the supplier");
    assert_string_equal(tb_dispute_step_words(TB_READER, TB_NOTIFIED), "supplier told");
    assert_string_equal(tb_dispute_step_words(TB_READER, TB_CLOSED), "closed");
    assert_string_equal(tb_declared_origin_words(TB_ORIGIN_ANSWER), "answered by the supplier");
    assert_string_equal(tb_declared_origin_words(TB_ORIGIN_RELABEL), "the new label");
    assert_string_equal(tb_fibre_words(-1), "other fibres");
    assert_string_equal(tb_fibre_words(tb_fibre_by_key("cotton")), "cotton");
    assert_string_equal(tb_answer_words(TB_READER, TB_LAB_UNSAID), "cannot be said");
    assert_string_equal(tb_basis_words(TB_LAB_DRY), "dry mass");
}

static void a_moment_before_the_arrival_is_remarked_on_from_the_second_day_before(void **state)
{
    struct tb_lot lot = { .arrived = "2026-10-05", .delivery_ref = "W26-001" };

    (void)state;
    tb_early_words(&text, "2026-10-04T23:00:00Z", &lot); /* the 5th already, east of Greenwich */
    says("");
    tb_early_words(&text, NULL, &lot);
    says("");
    tb_early_words(&text, "2026-10-03T09:00:00Z", &lot);
    says("Note: 2026-10-03 is before delivery W26-001 arrived (2026-10-05): one of the two days is wrong, "
         "unless the cloth came ahead of the delivery.\n");
}

static void parts_and_clauses_bring_their_own_signs(void **state)
{
    (void)state;
    tb_part(&text, "%s", "navy");
    tb_part(&text, "%d m", 5);
    tb_clause(&text, "%s", "seconds");
    says("navy, 5 m; seconds");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_ratio_is_said_as_odds),
        cmocka_unit_test(a_ratio_beyond_what_was_tested_is_said_no_further),
        cmocka_unit_test(only_a_certainty_is_called_one),
        cmocka_unit_test(days_are_said_as_a_person_says_them),
        cmocka_unit_test(a_term_names_its_days_and_from_when_they_count),
        cmocka_unit_test(every_state_and_step_has_words_of_its_own),
        cmocka_unit_test(a_moment_before_the_arrival_is_remarked_on_from_the_second_day_before),
        cmocka_unit_test(parts_and_clauses_bring_their_own_signs),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
