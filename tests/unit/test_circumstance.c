/* test_circumstance.c - what a journal row says of how it came about: the login, and what the clock did. */
#include "tenterbook/book.h"
#include "tenterbook/tell.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

static struct tb_err err;
static char folder[64];

#define OK(call)                                                                                             \
    do {                                                                                                     \
        if ((call) != TB_OK)                                                                                 \
            fail_msg("%s (%s)", err.msg, err.detail);                                                        \
    } while (0)

static int make_folder(void **state)
{
    (void)state;
    strcpy(folder, "/tmp/test_circumstance_XXXXXX");
    return mkdtemp(folder) && chdir(folder) == 0 && unsetenv("TENTERBOOK_CLOCK") == 0 &&
                   unsetenv("SOURCE_DATE_EPOCH") == 0
               ? 0
               : -1;
}

static int remove_folder(void **state)
{
    char command[128];

    (void)state;
    (void)snprintf(command, sizeof command, "rm -rf %s", folder);
    return chdir("/") != 0 || system(command);
}

static void record(struct tb_book *b, const char *who)
{
    OK(tb_book_begin(b, who, "set", &err));
    OK(tb_book_commit(b, &err));
}

static struct tb_book *make(const char *who)
{
    struct tb_book *b;

    OK(tb_book_make("b.db", "W", "", "", who, &err));
    OK(tb_book_open(&b, "b.db", NULL, &err));
    return b;
}

static void the_login_stands_beside_the_name_and_comes_from_the_system(void **state)
{
    struct tb_proof p;
    struct tb_book *b;
    char login[TB_LOGIN_MOST + 1];

    (void)state;
    assert_int_equal(setenv("USER", "somebody", 1) | setenv("LOGNAME", "somebody", 1), 0);
    b = make("Ada");
    record(b, "Ada");
    record(b, "Ines");
    OK(tb_book_prove(&p, b, &err));
    tb_login(login);
    assert_true(p.fits);
    assert_string_not_equal(login, "somebody");
    assert_int_equal(p.circumstances.writers, 2);
    assert_string_equal(p.circumstances.writer[0].person, "Ada");
    assert_string_equal(p.circumstances.writer[0].login, login);
    assert_int_equal(p.circumstances.writer[0].rows, 2);
    assert_string_equal(p.circumstances.writer[1].person, "Ines");
    assert_int_equal(p.circumstances.given, 0);
    tb_book_close(b);
}

static void the_fixed_time_of_papers_is_never_recorded(void **state)
{
    char paper[TB_MOMENT_LEN + 1], today[TB_DAY_LEN + 1];
    struct tb_journal_row *row;
    struct tb_arena mem = { 0 };
    struct tb_book *b;
    size_t n;

    (void)state;
    assert_int_equal(setenv("SOURCE_DATE_EPOCH", "86400", 1), 0);
    b = make("Ada");
    OK(tb_journal_list(&row, &n, b, "", &mem, &err));
    assert_int_equal(n, 1);
    assert_true(strcmp(row[0].at, "2026-01-01") > 0);
    tb_today(today);
    assert_true(strcmp(today, "2026-01-01") > 0);
    tb_paper_now(paper);
    assert_string_equal(paper, "1970-01-02T00:00:00Z");
    tb_arena_free(&mem);
    tb_book_close(b);
}

static void steps_of_the_clock_are_recorded_and_told(void **state)
{
    /* two hours back; 31 days on, which is no step; 31 days and a second; a second back */
    static const char *const clock[] = { "1790000000", "1789992800", "1792671200", "1795349601",
                                         "1795349600" };
    struct tb_text words = { 0 };
    struct tb_proof p;
    struct tb_book *b;

    (void)state;
    assert_int_equal(setenv("TENTERBOOK_CLOCK", clock[0], 1), 0);
    b = make("Ada");
    for (size_t i = 1; i < TB_COUNT(clock); i++) {
        assert_int_equal(setenv("TENTERBOOK_CLOCK", clock[i], 1), 0);
        record(b, "Ada");
    }
    OK(tb_book_prove(&p, b, &err));
    assert_true(p.fits);
    assert_int_equal(p.circumstances.given, 5);
    assert_int_equal(p.circumstances.back.times, 2);
    assert_int_equal(p.circumstances.back.most, 7200);
    assert_int_equal(p.circumstances.back.row, 2);
    assert_int_equal(p.circumstances.ahead.times, 1);
    assert_int_equal(p.circumstances.ahead.most, 31 * 86400 + 1);
    assert_int_equal(p.circumstances.ahead.row, 4);
    tb_clock_words(&words, TB_READER, &p.circumstances);
    assert_string_equal(
        words.s,
        "5 journal rows are dated by a clock given by hand (TENTERBOOK_CLOCK).\n"
        "The clock went back 2 times from one record to the next: at most by 2 hours, before journal row 2.\n"
        "The clock went on by more than 31 days 1 time from one record to the next: by 31 days, before "
        "journal row 4.\n");
    tb_text_free(&words);
    tb_book_close(b);
}

static void rows_of_older_programs_are_told_without_a_login(void **state)
{
    struct tb_circumstances c = { 0 };
    struct tb_text words = { 0 };

    (void)state;
    tb_circumstances_add(&c, 1, "2026-10-05T08:00:00Z", "Ada", "{}", "");
    tb_circumstances_add(&c, 2, "2026-10-05T07:59:00Z", "Ada", "not JSON", "");
    tb_circumstances_add(&c, 9, "2026-01-01T00:00:00Z", "Ada", "{}", ""); /* rows between are not known */
    assert_int_equal(c.back.times, 1);
    assert_int_equal(c.back.most, 60);
    tb_circumstances_words(&words, &c);
    assert_string_equal(
        words.s,
        "Ada wrote 3 journal rows with an older program, which records no login.\n"
        "The clock went back 1 time from one record to the next: by 60 seconds, before journal row 2.\n");
    tb_text_free(&words);
}

static void what_a_damaged_row_says_does_no_harm(void **state)
{
    static const char *const content[] = { "{\"act\": 1}", "{\"act\": {\"login\": 7, \"step\": \"x\"}}",
                                           "{\"act\": {\"step\": -9223372036854775808}}", "", "[" };
    struct tb_circumstances c = { 0 };
    char name[300];

    (void)state;
    memset(name, 'x', sizeof name - 1);
    name[sizeof name - 1] = '\0';
    memcpy(name + TB_PERSON_MOST - 1, "\xC3\xA9", 2); /* over the end */
    for (size_t i = 0; i < TB_COUNT(content); i++)
        tb_circumstances_add(&c, (int64_t)i + 1, "yesterday", name, content[i], "");
    assert_int_equal(c.writers, 1);
    assert_int_equal(strlen(c.writer[0].person), TB_PERSON_MOST - 1);
    assert_int_equal(c.back.times, 1);
    assert_true(c.back.most == INT64_MAX);
    for (size_t i = 0; i < 40; i++) {
        (void)snprintf(name, sizeof name, "P%zu", i);
        tb_circumstances_add(&c, 100 + (int64_t)i, "", name, "{}", "");
    }
    assert_int_equal(c.writers, TB_WRITERS_MOST);
    assert_int_equal(c.other, 40 + 1 - TB_WRITERS_MOST);
}

int main(void)
{
#define TEST(f) cmocka_unit_test_setup_teardown(f, make_folder, remove_folder)
    const struct CMUnitTest tests[] = {
        TEST(the_login_stands_beside_the_name_and_comes_from_the_system),
        TEST(the_fixed_time_of_papers_is_never_recorded),
        TEST(steps_of_the_clock_are_recorded_and_told),
        TEST(rows_of_older_programs_are_told_without_a_login),
        TEST(what_a_damaged_row_says_does_no_harm),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
