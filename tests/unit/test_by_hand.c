/* test_by_hand.c - a packing list that is typed: what is asked, what is refused at once, and what comes of it. */
#include "tenterbook/by_hand.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

static struct tb_hand *h;

static void begin(void)
{
    const struct tb_intake_opts none = { 0 };

    tb_hand_free(h);
    h = tb_hand_new(&none);
}

static void asked(const char *question)
{
    const char *ask = tb_hand_ask(h);

    assert_non_null(ask);
    assert_string_equal(ask, question);
}

static void answer(const char *line)
{
    struct tb_err err = { 0 };
    tb_rc rc = tb_hand_answer(h, line, &err);

    if (rc != TB_OK)
        print_error("%s\n", err.msg);
    assert_int_equal(rc, TB_OK);
}

/* The question stays open. */
static void refused(const char *line, const char *sentence)
{
    struct tb_err err = { 0 };
    char *before = tb_strdup(tb_hand_ask(h));

    assert_int_equal(tb_hand_answer(h, line, &err), TB_EINVAL);
    assert_string_equal(err.msg, sentence);
    asked(before);
    free(before);
}

static void answers(const char *const *line)
{
    for (; *line; line++)
        answer(*line);
}

static const char *const one_lot[] = { "Kirrane Weavers", "KW 9", "",     "Serge", "slate", "L1",
                                       "100% wool",       "101",  "50,5", "102",   "54 yd", NULL };

static void every_question_is_asked_in_its_turn(void **state)
{
    (void)state;
    begin();
    asked("Supplier:");
    refused("", "this must be said");
    answer("Kirrane Weavers");
    asked("Number of the delivery note:");
    answer("  KW 9 ");
    asked("Date of the note (Enter: it has none):");
    refused("soon", "'soon' is not a valid date; write it as 2026-09-14");
    refused("03/04/2026", "'03/04/2026' can be read as 2026-04-03 or as 2026-03-04; write one of those");
    answer("14.9.2026");
    asked("Article of the first lot:");
    refused("", "this must be said");
    answer("Serge");
    asked("Colour (Enter: not said):");
    refused("idem", "'idem' points to what stands above; write it out, or press Enter where nothing is said");
    answer("");
    asked("Dye lot (Enter: not said):");
    answer("L1");
    asked("Composition, in the supplier's words (Enter: nothing is declared):");
    answer("100% wool");
    asked("Number of the first bolt of lot 1:");
    refused("", "this must be said");
    answer("101");
    asked("Its length, in metres where no unit is given:");
    refused("long", "'long' is not a length");
    refused("1,500", "'1,500' can be read as 1500 or as 1.5; write it without a sign between thousands");
    refused("50 kg", "the unit of '50 kg' is neither metres, yards nor feet");
    refused("0", "a length is above 0 and at most 100000 m");
    refused("100001", "a length is above 0 and at most 100000 m");
    answer("50,5");
    asked("Number of bolt 2 of lot 1 (Enter: the lot is complete):");
    refused("101", "bolt 101 stands in this list already, in lot 1");
    answer("");
    asked("Lot 1 has 1 bolt and 50.50 m. Article of lot 2 (Enter: that was the last lot):");
    answer("");
    assert_null(tb_hand_ask(h));
}

static void back_takes_the_last_answer_back(void **state)
{
    struct tb_err err = { 0 };

    (void)state;
    begin();
    assert_int_equal(tb_hand_answer(h, "back", &err), TB_EINVAL);
    assert_string_equal(err.msg, "there is no question before this one");
    answers(one_lot);
    answer("Back");
    asked("Its length, in metres where no unit is given:");
    answer("back");
    answer("back");
    answer("back");
    asked("Number of the first bolt of lot 1:");
    answer("101"); /* it stands no longer in the list */
    answer("40");
    answer("");
    asked("Lot 1 has 1 bolt and 40.00 m. Article of lot 2 (Enter: that was the last lot):");
    answer("back");
    asked("Number of bolt 2 of lot 1 (Enter: the lot is complete):");
}

/* What is typed is read as it was meant: nothing runs down from the lot above. */
static void what_comes_of_it_is_a_list_that_is_read_whole(void **state)
{
    static const char *const second[] = { "",      "Serge",     "",  "L2", "", "Total",
                                          "151.5", "say \"7\"", "1", "",   "", NULL };
    struct tb_packing_list list = { 0 };
    struct tb_intake_opts opts = { 0 };
    struct tb_arena mem = { 0 };
    struct tb_text table = { 0 };
    struct tb_err err = { 0 };
    char path[] = "/tmp/tb-hand-XXXXXX";
    int fd = mkstemp(path);

    (void)state;
    begin();
    answers(one_lot);
    answers(second);
    tb_hand_table(&table, h);
    tb_hand_settles(&opts, h, &mem);
    assert_true(fd >= 0 && write(fd, table.s, table.n) == (ssize_t)table.n);
    (void)close(fd);
    if (tb_packing_list_read(&list, path, &opts, &err) != TB_OK)
        fail_msg("%s", err.msg);
    (void)unlink(path);
    assert_int_equal(list.bolts, 4);
    assert_int_equal(list.lots, 2);
    assert_string_equal(list.delivery[0].supplier, "Kirrane Weavers");
    assert_string_equal(list.delivery[0].note, "KW 9");
    assert_string_equal(list.delivery[0].day, "");
    assert_string_equal(list.lot[0].shade, "slate");
    assert_string_equal(list.lot[1].shade, "");
    assert_string_equal(list.lot[1].declared, "");
    assert_string_equal(list.bolt[2].number, "Total");
    assert_string_equal(list.bolt[3].number, "say \"7\"");
    assert_true(list.bolt[1].metres > 49.3775 && list.bolt[1].metres < 49.3777); /* 54 yd of 0.9144 m */
    tb_packing_list_free(&list);
    tb_arena_free(&mem);
    tb_text_free(&table);
}

static void what_is_known_is_not_asked(void **state)
{
    const struct tb_intake_opts said = { .supplier = "Mill", .day = "2026-09-14", .number_by_lot = true };

    (void)state;
    tb_hand_free(h);
    h = tb_hand_new(&said);
    asked("Number of the delivery note:");
    answer("1");
    asked("Article of the first lot:");
    answers((const char *const[]){ "A", "", "L1", "", "1", "10", "", "B", "", "L2", "", NULL });
    answer("1"); /* numbers begin anew in each lot */
    answer("back");
    answer("2");
    answer("12");
    refused("2", "bolt 2 stands in this list already, in lot 2");
}

static void what_was_typed_can_be_kept_and_gone_on_with(void **state)
{
    struct tb_text kept = { 0 }, again = { 0 };
    struct tb_err err = { 0 };

    (void)state;
    begin();
    answers(one_lot);
    tb_hand_kept(&kept, h);
    begin();
    assert_int_equal(tb_hand_go_on(h, kept.s, &err), TB_OK);
    asked("Number of bolt 3 of lot 1 (Enter: the lot is complete):");
    tb_hand_kept(&again, h);
    assert_string_equal(kept.s, again.s);
    answer("");
    answer("");
    tb_text_clear(&again);
    tb_hand_kept(&again, h); /* of a list that was ended, the end is asked again */
    begin();
    assert_int_equal(tb_hand_go_on(h, again.s, &err), TB_OK);
    asked("Lot 1 has 2 bolts and 99.88 m. Article of lot 2 (Enter: that was the last lot):");
    tb_text_free(&kept);
    tb_text_free(&again);
}

static void what_is_no_such_text_is_not_gone_on_with(void **state)
{
    struct tb_text kept = { 0 };
    struct tb_err err = { 0 };

    (void)state;
    begin();
    assert_int_equal(tb_hand_go_on(h, "Article,Roll\n", &err), TB_EFORMAT);
    assert_string_equal(err.msg, "these are not answers that were kept of a list typed by hand");
    tb_hand_kept(&kept, h);
    tb_text_add(&kept, "Mill\n1\nsoon\n");
    assert_int_equal(tb_hand_go_on(h, kept.s, &err), TB_EINVAL);
    assert_string_equal(err.msg, "line 4: 'soon' is not a valid date; write it as 2026-09-14");
    begin();
    tb_text_clear(&kept);
    tb_hand_kept(&kept, h);
    tb_text_add(&kept, "Mill\n1\n\nA\n\n\n\n1\n10\n\n\nmore\n");
    assert_int_equal(tb_hand_go_on(h, kept.s, &err), TB_EINVAL);
    assert_string_equal(err.msg, "line 13: the list ends before this line");
    tb_text_free(&kept);
}

static int done(void **state)
{
    (void)state;
    tb_hand_free(h);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_question_is_asked_in_its_turn),
        cmocka_unit_test(back_takes_the_last_answer_back),
        cmocka_unit_test(what_comes_of_it_is_a_list_that_is_read_whole),
        cmocka_unit_test(what_is_known_is_not_asked),
        cmocka_unit_test(what_was_typed_can_be_kept_and_gone_on_with),
        cmocka_unit_test(what_is_no_such_text_is_not_gone_on_with),
    };

    return cmocka_run_group_tests(tests, NULL, done);
}
