/* The checklist as a machine: keys in, marks and screens out, without a terminal. */
#include "terminal/checklist.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#define THINGS 11

struct list {
    struct tb_check_item smoke[3], odour[THINGS];
    struct tb_check_page page[2];
    struct tb_checklist c;
};

static struct list *fresh(void)
{
    static const char *const names[THINGS] = { "a", "b", "c", "d", "e", "f", "g", "h", "i", "j", "k" };
    struct list *l = tb_new(struct list);

    l->smoke[0] = (struct tb_check_item){ "smoke:black", "black smoke", 0, NULL };
    l->smoke[1] = (struct tb_check_item){ "smoke:white", "white smoke", 0, NULL };
    l->smoke[2] = (struct tb_check_item){ "smoke:none", "no smoke", 0, NULL };
    for (size_t i = 0; i < THINGS; i++)
        l->odour[i] = (struct tb_check_item){ names[i], names[i], 0, NULL };
    l->page[0] = (struct tb_check_page){ .name = "smoke", .text = "the smoke", .item = l->smoke, .items = 3 };
    l->page[1] =
        (struct tb_check_page){ .name = "odour", .text = "the smell", .item = l->odour, .items = THINGS };
    l->c = (struct tb_checklist){ .head = "Swatch W26-001.01.01", .page = l->page, .pages = 2 };
    return l;
}

static void press(struct list *l, const char *keys)
{
    for (; *keys; keys++)
        tb_checklist_key(&l->c, (unsigned char)*keys);
}

static bool shows(const struct list *l, const char *words)
{
    struct tb_text t = { 0 };
    bool found;

    tb_checklist_screen(&t, &l->c);
    found = strstr(tb_text_str(&t), words) != NULL;
    tb_text_free(&t);
    return found;
}

static void a_figure_marks_a_thing_as_seen_and_takes_the_mark_back(void **state)
{
    struct list *l = fresh();

    (void)state;
    press(l, "1");
    assert_int_equal(l->smoke[0].mark, TB_CHECK_SEEN);
    assert_int_equal(l->page[0].look, TB_CHECK_LOOKED);
    assert_true(shows(l, "  1 [x] black smoke\n"));
    press(l, "1");
    assert_int_equal(l->smoke[0].mark, TB_CHECK_UNMARKED);
    assert_int_equal(l->page[0].look, TB_CHECK_NOT_LOOKED);
    free(l);
}

static void an_exclamation_mark_says_that_a_thing_is_not_there_or_that_nothing_of_the_page_is(void **state)
{
    struct list *l = fresh();

    (void)state;
    press(l, "!2");
    assert_int_equal(l->smoke[1].mark, TB_CHECK_ABSENT);
    assert_int_equal(l->smoke[0].mark, TB_CHECK_UNMARKED);
    press(l, "1\r");
    assert_int_equal(l->smoke[0].mark, TB_CHECK_SEEN); /* the ! counts for one figure only */
    assert_int_equal(l->c.at, 1);
    press(l, "!\r");
    assert_int_equal(l->page[1].look, TB_CHECK_LOOKED);
    assert_int_equal(l->c.at, 2);
    assert_true(shows(l, "the smell: looked at, nothing of it there\n"));
    assert_true(shows(l, "the smoke: black smoke; not white smoke\n"));
    free(l);
}

static void what_is_there_by_what_was_seen_is_shown_so_and_cannot_be_denied(void **state)
{
    struct list *l = fresh();

    (void)state;
    l->smoke[1].by = "flakes of soot";
    assert_true(shows(l, "  2 [ ] white smoke (there by its meaning: flakes of soot)\n"));
    press(l, "!2");
    assert_int_equal(l->smoke[1].mark, TB_CHECK_UNMARKED);
    assert_true(shows(l, "cannot be said not to be"));
    press(l, "2"); /* that it was seen too can be said */
    assert_int_equal(l->smoke[1].mark, TB_CHECK_SEEN);
    assert_true(shows(l, "  2 [x] white smoke\n"));
    l->smoke[1].by = NULL;
    press(l, "!2");
    assert_int_equal(l->smoke[1].mark, TB_CHECK_ABSENT);
    free(l);
}

static void a_page_that_was_answered_as_a_whole_says_how(void **state)
{
    struct list *l = fresh();

    (void)state;
    assert_false(shows(l, "so far:"));
    press(l, "?0");
    assert_true(shows(l, "so far: could not be judged\n"));
    press(l, "!\r0");
    assert_true(shows(l, "so far: looked at, nothing of it there\n"));
    press(l, "1");
    assert_false(shows(l, "so far:"));
    free(l);
}

static void enter_on_a_page_without_marks_says_neither_and_goes_nowhere(void **state)
{
    struct list *l = fresh();

    (void)state;
    press(l, "\r");
    assert_int_equal(l->c.at, 0);
    assert_non_null(l->c.hint);
    assert_true(shows(l, "Nothing is marked"));
    press(l, " ");
    assert_null(l->c.hint);
    assert_int_equal(l->c.at, 1);
    assert_int_equal(l->page[0].look, TB_CHECK_NOT_LOOKED);
    free(l);
}

static void a_page_left_as_not_looked_at_loses_its_marks(void **state)
{
    struct list *l = fresh();

    (void)state;
    press(l, "1 ");
    assert_int_equal(l->smoke[0].mark, TB_CHECK_UNMARKED);
    assert_int_equal(l->page[0].look, TB_CHECK_NOT_LOOKED);
    press(l, "01?");
    assert_int_equal(l->smoke[0].mark, TB_CHECK_UNMARKED);
    assert_int_equal(l->page[0].look, TB_CHECK_COULD_NOT);
    free(l);
}

static int next_of(struct tb_keys *k, const char *bytes)
{
    *k = (struct tb_keys){ .n = strlen(bytes) };
    memcpy(k->byte, bytes, k->n);
    return tb_keys_next(k);
}

static void a_key_of_several_bytes_is_one_key_that_does_nothing(void **state)
{
    /* Delete, PgDn, F5, Shift-F5, up, F1, Alt-5, Escape, and sequences that break off: as xterm sends them (memory) */
    static const char *const keys[] = { "\033[3~",
                                        "\033[6~",
                                        "\033[15~",
                                        "\033[15;2~",
                                        "\033[A",
                                        "\033OP",
                                        "\033"
                                        "5",
                                        "\033",
                                        "\033[",
                                        "\033[15",
                                        "\033O" };
    struct list *l = fresh();
    struct tb_keys k;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(keys); i++) {
        assert_int_equal(next_of(&k, keys[i]), TB_KEY_OTHER);
        assert_int_equal(tb_keys_next(&k), TB_KEY_GONE);
    }
    tb_checklist_key(&l->c, TB_KEY_OTHER);
    assert_int_equal(l->page[0].look, TB_CHECK_NOT_LOOKED);
    assert_true(shows(l, "This key does nothing here.\n"));
    assert_int_equal(next_of(&k, "\033[3~2"), TB_KEY_OTHER);
    assert_int_equal(tb_keys_next(&k), '2'); /* what is pressed behind it counts */
    free(l);
}

static void a_tag_that_is_scanned_is_one_key_that_marks_nothing_and_says_so(void **state)
{
    static const char *const tags[] = { "W26-001.03.02\r", "w26-001.03.02\n", "Q-K05\r", "71853\t",
                                        "12W-K05" };
    struct list *l = fresh();
    struct tb_keys k;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(tags); i++) {
        assert_int_equal(next_of(&k, tags[i]), TB_KEY_SCANNED);
        assert_int_equal(tb_keys_next(&k), TB_KEY_GONE); /* its Enter does not go on */
    }
    for (l->c.at = 0; l->c.at <= l->c.pages; l->c.at++) { /* the summary too */
        tb_checklist_key(&l->c, TB_KEY_SCANNED);
        assert_true(shows(l, "A tag was scanned in the middle of this burn"));
        assert_int_equal(l->c.end, TB_CHECK_GOES_ON);
    }
    assert_int_equal(l->page[0].look, TB_CHECK_NOT_LOOKED);
    assert_int_equal(l->page[1].look, TB_CHECK_NOT_LOOKED);
    free(l);
}

static void keys_that_come_together_are_still_single_keys(void **state)
{
    static const char *const hands[] = { "12\r ", "1234", "!1!2\r", "1\r2\r3\r", "3333333" /* held down */ };
    struct tb_keys k;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(hands); i++) {
        assert_int_equal(next_of(&k, hands[i]), hands[i][0]);
        for (const char *c = hands[i] + 1; *c; c++)
            assert_int_equal(tb_keys_next(&k), *c);
        assert_int_equal(tb_keys_next(&k), TB_KEY_GONE);
    }
}

/* Common practice, no source: scanners are set to send a byte every 0 to 100 ms. */
static void a_tag_is_waited_for_as_long_as_a_slow_scanner_takes_and_a_key_is_not(void **state)
{
    static const struct {
        const char *so_far;
        int least, most;
    } row[] = { { "W", 101, 300 },   { "W26-001.0", 101, 300 },    { "0", 101, 150 },  { "0718", 101, 150 },
                { "1\r", 0, 50 },    { "W26-001.01.02\r", 0, 50 }, { " ", 0, 50 },     { "!", 0, 50 },
                { "\x1b", 0, 50 },   { "\x1b[", 0, 50 },           { "\x1bO", 0, 50 }, { "q", 101, 150 },
                { "\x1b[3~", 0, 50 } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_keys k = { .n = strlen(row[i].so_far) };

        memcpy(k.byte, row[i].so_far, k.n);
        assert_in_range(tb_keys_wait_ms(&k), row[i].least, row[i].most);
    }
}

static void zero_and_backspace_go_back_and_marks_stay(void **state)
{
    struct list *l = fresh();

    (void)state;
    press(l, "1\r0");
    assert_int_equal(l->c.at, 0);
    assert_int_equal(l->smoke[0].mark, TB_CHECK_SEEN);
    press(l, "\r\x7f");
    assert_int_equal(l->c.at, 0);
    press(l, "0");
    assert_true(shows(l, "This is the first page."));
    free(l);
}

static void things_that_do_not_fit_are_shown_by_a_plus_sign_with_figures_of_their_own(void **state)
{
    struct list *l = fresh();

    (void)state;
    press(l, " +2");
    assert_int_equal(l->odour[10].mark, TB_CHECK_SEEN);
    press(l, "3");
    assert_true(shows(l, "Nothing here has this figure."));
    press(l, "+1");
    assert_int_equal(l->odour[0].mark, TB_CHECK_SEEN);
    press(l, "+");
    assert_true(shows(l, "10 to 11 of 11"));
    press(l, "0"); /* back to those before, on the same page */
    assert_true(shows(l, "1 to 9 of 11"));
    assert_int_equal(l->c.at, 1);
    press(l, "0");
    assert_int_equal(l->c.at, 0);
    press(l, " +"), press(l, "\r\b"); /* whoever comes back sees the page from its beginning */
    assert_true(shows(l, "1 to 9 of 11"));
    free(l);
}

static void only_the_summary_takes_it_and_only_where_something_was_looked_at(void **state)
{
    struct list *l = fresh();

    (void)state;
    press(l, "  \r");
    assert_int_equal(l->c.end, TB_CHECK_GOES_ON);
    assert_true(shows(l, "Nothing was looked at"));
    press(l, "0!\r\r");
    assert_int_equal(l->c.end, TB_CHECK_TAKEN);
    free(l);
}

static void q_and_a_terminal_that_is_gone_leave_it(void **state)
{
    struct list *l = fresh();

    (void)state;
    press(l, "1q");
    assert_int_equal(l->c.end, TB_CHECK_LEFT);
    free(l);
    l = fresh();
    tb_checklist_key(&l->c, TB_KEY_GONE);
    assert_int_equal(l->c.end, TB_CHECK_LEFT);
    free(l);
}

static void every_key_on_every_page_is_harmless(void **state)
{
    (void)state;
    for (int key = 0; key < 256; key++)
        for (size_t at = 0; at <= 2; at++) {
            struct list *l = fresh();

            l->c.at = at;
            tb_checklist_key(&l->c, key);
            assert_true(l->c.at <= l->c.pages);
            assert_true(shows(l, "Swatch W26-001.01.01"));
            free(l);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_figure_marks_a_thing_as_seen_and_takes_the_mark_back),
        cmocka_unit_test(an_exclamation_mark_says_that_a_thing_is_not_there_or_that_nothing_of_the_page_is),
        cmocka_unit_test(what_is_there_by_what_was_seen_is_shown_so_and_cannot_be_denied),
        cmocka_unit_test(a_page_that_was_answered_as_a_whole_says_how),
        cmocka_unit_test(enter_on_a_page_without_marks_says_neither_and_goes_nowhere),
        cmocka_unit_test(a_page_left_as_not_looked_at_loses_its_marks),
        cmocka_unit_test(a_key_of_several_bytes_is_one_key_that_does_nothing),
        cmocka_unit_test(a_tag_that_is_scanned_is_one_key_that_marks_nothing_and_says_so),
        cmocka_unit_test(keys_that_come_together_are_still_single_keys),
        cmocka_unit_test(a_tag_is_waited_for_as_long_as_a_slow_scanner_takes_and_a_key_is_not),
        cmocka_unit_test(zero_and_backspace_go_back_and_marks_stay),
        cmocka_unit_test(things_that_do_not_fit_are_shown_by_a_plus_sign_with_figures_of_their_own),
        cmocka_unit_test(only_the_summary_takes_it_and_only_where_something_was_looked_at),
        cmocka_unit_test(q_and_a_terminal_that_is_gone_leave_it),
        cmocka_unit_test(every_key_on_every_page_is_harmless),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
