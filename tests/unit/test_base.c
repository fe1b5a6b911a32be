/* test_base.c - errors, text, memory, days, identifiers, folding, files written whole. */
#include "tenterbook/date.h"
#include "tenterbook/utf8.h"
#include "tenterbook/words.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static void a_failure_names_where_it_happened(void **state)
{
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(tb_fail(&err, TB_EINVAL, "share %d is too large", 2), TB_EINVAL);
    assert_int_equal(tb_within(&err, TB_EINVAL, "declared"), TB_EINVAL);
    assert_string_equal(err.msg, "declared: share 2 is too large");
}

static void a_message_is_never_cut_within_a_character(void **state)
{
    struct tb_err err = { 0 };
    char longer[2000];

    (void)state;
    for (size_t i = 0; i + 1 < sizeof longer; i += 2)
        memcpy(longer + i, "é", 2);
    longer[sizeof longer - 2] = '\0';
    (void)tb_fail(&err, TB_EINVAL, "%s", longer);
    assert_true(strlen(err.msg) < sizeof err.msg);
    assert_true(tb_utf8_valid(err.msg, strlen(err.msg)));
}

/* Unicode categories Cc, Cf, Zl and Zp (UnicodeData.txt): none of them is seen, each changes what is. */
static void what_is_not_seen_is_shown_as_missing(void **state)
{
    static const struct {
        const char *text, *shown;
    } given[] = {
        { "plain, \xC3\xA9 and \xE4\xB8\xAD", NULL },
        { "a\033[31mb", "a\xEF\xBF\xBD[31mb" }, /* ESC */
        { "a\xC2\x9B", "a\xEF\xBF\xBD" },       /* CSI, U+009B */
        { "a\xE2\x80\xAE"
          "b\xE2\x80\x8B",
          "a\xEF\xBF\xBD"
          "b\xEF\xBF\xBD" },            /* U+202E, U+200B */
        { "a\n\r", "a\n\xEF\xBF\xBD" }, /* the line end is asked for */
        { "\xFF"
          "a\xC3",
          "\xEF\xBF\xBD"
          "a\xEF\xBF\xBD" },      /* no UTF-8 */
        { "\xEF\xBF\xBD", NULL }, /* U+FFFD itself */
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(given); i++) {
        char *shown = tb_utf8_shown(given[i].text, strlen(given[i].text), "\n");

        if (given[i].shown)
            assert_string_equal(shown, given[i].shown);
        else
            assert_null(shown);
        free(shown);
    }
}

static void a_failure_is_one_line_that_gives_no_orders(void **state)
{
    struct tb_err err = { 0 };

    (void)state;
    tb_fail(&err, TB_EIO, "%s cannot be read", "a\033]0;x\007\nb");
    assert_string_equal(err.msg, "a\xEF\xBF\xBD]0;x\xEF\xBF\xBD\xEF\xBF\xBD"
                                 "b cannot be read");
    tb_within(&err, TB_EIO, "%s", "\xE2\x80\xAE.csv");
    assert_string_equal(err.msg, "\xEF\xBF\xBD.csv: a\xEF\xBF\xBD]0;x\xEF\xBF\xBD\xEF\xBF\xBD"
                                 "b cannot be read");
}

static void text_grows_and_is_handed_over(void **state)
{
    struct tb_text t = { 0 };
    char *s;

    (void)state;
    for (int i = 0; i < 1000; i++)
        tb_text_addf(&t, "%d,", i);
    assert_int_equal(t.n, 3890); /* by hand: 10*2 + 90*3 + 900*4 */
    s = tb_text_take(&t);
    assert_int_equal(strlen(s), 3890);
    assert_int_equal(t.n, 0);
    free(s);
}

static void days_that_do_not_exist_are_refused(void **state)
{
    static const char *const wrong[] = { "2026-02-29", "2026-13-01", "2026-00-10", "2026-1-01",
                                         "",           "2026-11-31", "20261125",   "2026-11-25 " };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(wrong); i++)
        assert_false(tb_day_valid(wrong[i]));
    assert_true(tb_day_valid("2024-02-29"));
    assert_true(tb_day_valid("2000-02-29"));
    assert_false(tb_day_valid("2100-02-29"));
}

static void day_numbers_agree_with_the_unix_epoch(void **state)
{
    char out[TB_DAY_LEN + 1];

    (void)state;
    assert_int_equal(tb_day_number("1970-01-01"), 0);
    assert_int_equal(tb_day_number("2000-03-01"),
                     11017); /* 951868800 s / 86400, POSIX seconds since the epoch */
    for (long n = -25000; n < 376000; n += 13) {
        tb_day_from_number(out, n);
        assert_int_equal(tb_day_number(out), n);
    }
}

static void a_moment_is_read_in_the_forms_people_type(void **state)
{
    static const char *const form[] = { "2026-10-05T09:30", "2026-10-05 09:30", "2026-10-05T09:30:00",
                                        "2026-10-05T09:30:00Z" };
    static const char *const wrong[] = { "",
                                         "2026-10-05",
                                         "2026-10-05T24:00",
                                         "2026-02-30T09:30",
                                         "2026-10-05T09:30:00+",
                                         "2026-10-05T9:30:000" };
    char out[TB_MOMENT_LEN + 1];

    (void)state;
    for (size_t i = 0; i < TB_COUNT(form); i++) {
        assert_true(tb_moment_read(out, form[i]));
        assert_string_equal(out, "2026-10-05T09:30:00Z");
    }
    for (size_t i = 0; i < TB_COUNT(wrong); i++)
        assert_false(tb_moment_read(out, wrong[i]));
}

/* ISO 8601 in the one form the book keeps: no character of it may be another, none be missing and none be too many. */
static void no_character_of_a_day_a_month_or_a_moment_may_be_another(void **state)
{
    static const char moment[] = "2026-10-05T09:30:15Z";
    static const char *const wrong[] = { "2026-10-05T24:00:00Z", "2026-10-05T23:60:00Z",
                                         "2026-10-05T23:59:60Z", "2026-13-05T09:30:15Z",
                                         "2026-00-05T09:30:15Z", "2026-10-00T09:30:15Z",
                                         "1899-12-31T09:30:15Z", "3000-01-01T09:30:15Z" };
    char text[sizeof moment + 1];

    (void)state;
    assert_true(tb_moment_valid(moment) && tb_moment_valid("2026-10-05T23:59:59Z"));
    assert_true(tb_moment_valid("1900-01-01T00:00:00Z") && tb_moment_valid("2999-12-31T00:00:00Z"));
    for (size_t i = 0; i < TB_COUNT(wrong); i++)
        assert_false(tb_moment_valid(wrong[i]));
    for (size_t i = 0; i < sizeof moment - 1; i++) {
        memcpy(text, moment, sizeof moment);
        text[i] = 'x';
        assert_false(tb_moment_valid(text));
        text[i] = '/'; /* the character before the digits */
        assert_false(tb_moment_valid(text));
        text[i] = '\0';
        assert_false(tb_moment_valid(text));
        memcpy(text, moment, sizeof moment);
        text[i] = 'x';
        text[TB_DAY_LEN] = '\0';
        assert_int_equal(tb_day_valid(text), i >= TB_DAY_LEN);
        memcpy(text, moment, sizeof moment);
        text[i] = 'x';
        text[7] = '\0';
        assert_int_equal(tb_month_valid(text), i >= 7);
    }
    assert_false(tb_moment_valid("2026-10-05T09:30:15Z "));
    assert_false(tb_moment_valid(NULL) || tb_day_valid(NULL) || tb_month_valid(NULL));
    assert_false(tb_day_valid("2026-10-051") || tb_day_valid("2026-10-0") || tb_day_valid(""));
    assert_false(tb_month_valid("2026-1") || tb_month_valid("2026-100") || tb_month_valid("2026-00"));
}

static void a_month_ends_where_the_next_begins(void **state)
{
    static const char *const month[][3] = { { "2026-12", "2026-12-01", "2027-01-01" },
                                            { "2026-02", "2026-02-01", "2026-03-01" },
                                            { "2999-11", "2999-11-01", "2999-12-01" } };
    char from[TB_DAY_LEN + 1], until[TB_DAY_LEN + 1];

    (void)state;
    for (size_t i = 0; i < TB_COUNT(month); i++) {
        tb_month_span(from, until, month[i][0]);
        assert_string_equal(from, month[i][1]);
        assert_string_equal(until, month[i][2]);
    }
}

static void keys_made_later_sort_later(void **state)
{
    char last[TB_ID_LEN + 1] = "", id[TB_ID_LEN + 1];

    (void)state;
    for (int i = 0; i < 20000; i++) {
        tb_id_make(id);
        assert_int_equal(strlen(id), TB_ID_LEN);
        assert_true(strcmp(last, id) < 0);
        memcpy(last, id, sizeof last);
    }
}

static void folding_removes_case_accents_and_width(void **state)
{
    static const char *const pair[][2] = {
        { "  Größe\t(CM) ", "grosse (cm)" },
        { "Élasthanne", "elasthanne" },
        { "１００％", "100%" },
        { "İplik", "iplik" },
        { "a\xFF", "a\xEF\xBF\xBD" },
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(pair); i++) {
        char *f = tb_fold(pair[i][0], strlen(pair[i][0]));

        assert_string_equal(f, pair[i][1]);
        free(f);
    }
}

static void distance_counts_single_edits(void **state)
{
    (void)state;
    assert_int_equal(tb_edit_distance("wool", "wool", 3), 0);
    assert_int_equal(tb_edit_distance("kitten", "sitting", 3),
                     3); /* the usual example of V. Levenshtein's distance */
    assert_int_equal(tb_edit_distance("smkoe", "smoke", 3), 1);
    assert_int_equal(tb_edit_distance("abc", "wxyz", 2), 3);
}

static void a_word_of_a_closed_set_is_found_as_it_is_written_and_no_other(void **state)
{
    static const char *const word[] = { "", "warp", "weft" };
    static const struct tb_words words = { word, TB_COUNT(word), "'%s' is not a part" };
    struct tb_err err = { 0 };
    int kind = 7;

    (void)state;
    assert_true(tb_word_find(&kind, &words, "weft"));
    assert_int_equal(kind, 2);
    assert_string_equal(tb_word(&words, 2), "weft");
    assert_false(tb_word_find(&kind, &words, "Weft"));
    assert_false(tb_word_find(&kind, &words, "wef"));
    assert_int_equal(tb_word_read(&kind, &words, "wrap", &err), TB_EINVAL);
    assert_string_equal(err.msg, "'wrap' is not a part");
    assert_int_equal(kind, 2);                    /* untouched */
    assert_true(tb_word_find(&kind, &words, "")); /* the book may say nothing ... */
    assert_int_equal(tb_word_read(&kind, &words, "", &err),
                     TB_EINVAL); /* ... a person who says something may not */
    assert_int_equal(tb_word_read(&kind, &words, "warp", &err), TB_OK);
    assert_int_equal(kind, 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_failure_names_where_it_happened),
        cmocka_unit_test(a_message_is_never_cut_within_a_character),
        cmocka_unit_test(what_is_not_seen_is_shown_as_missing),
        cmocka_unit_test(a_failure_is_one_line_that_gives_no_orders),
        cmocka_unit_test(text_grows_and_is_handed_over),
        cmocka_unit_test(days_that_do_not_exist_are_refused),
        cmocka_unit_test(day_numbers_agree_with_the_unix_epoch),
        cmocka_unit_test(a_moment_is_read_in_the_forms_people_type),
        cmocka_unit_test(no_character_of_a_day_a_month_or_a_moment_may_be_another),
        cmocka_unit_test(a_month_ends_where_the_next_begins),
        cmocka_unit_test(keys_made_later_sort_later),
        cmocka_unit_test(folding_removes_case_accents_and_width),
        cmocka_unit_test(distance_counts_single_edits),
        cmocka_unit_test(a_word_of_a_closed_set_is_found_as_it_is_written_and_no_other),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
