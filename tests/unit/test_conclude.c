/* test_conclude.c - what is concluded of a lot, rule by rule. All names are invented. */
#include "tenterbook/concluded.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static struct tb_arena mem;

static int tear_down(void **state)
{
    (void)state;
    tb_arena_free(&mem);
    return 0;
}

/* A verdict as the book keeps it: its grade and limits stand beside it. */
static struct tb_known judged(const char *grade)
{
    int g = TB_UNGRADED;

    assert_true(tb_word_find(&g, &tb_grade_words, grade));
    return (
        struct tb_known){ .said = "100% cotton",
                          .clear = true,
                          .verdict = { tb_verdict_of_grade((enum tb_grade)g), -1, grade, -4, 4, false, NULL },
                          .judged = "v1",
                          .judged_at = "2026-10-07T09:00:00Z" };
}

static struct tb_analysis analysis(enum tb_part_kind part, const char *said, const char *answers)
{
    return (struct tb_analysis){ .id = "a1",
                                 .part = part,
                                 .laboratory = "Weir Laboratory",
                                 .report = "R-7",
                                 .found = "100 % polyester",
                                 .answers = answers,
                                 .analysed_on = "2026-10-12",
                                 .declared = said };
}

static struct tb_concluded of(const struct tb_known *k)
{
    struct tb_concluded c;
    struct tb_err err = { 0 };

    if (tb_conclude(&c, k, &mem, &err) != TB_OK)
        fail_msg("%s", err.msg);
    return c;
}

static struct tb_concluded analysed(struct tb_known k, struct tb_analysis *a, size_t n)
{
    k.analysis = a;
    k.n = n;
    return of(&k);
}

static void a_lot_nobody_looked_at_is_open(void **state)
{
    struct tb_known k = { .said = "100% cotton", .clear = true };
    struct tb_concluded c = of(&k);

    (void)state;
    assert_int_equal(c.kind, TB_OPEN);
    assert_int_equal(c.by, TB_BY_NOTHING);
    assert_int_equal(c.open, TB_OPEN_UNTESTED);
    assert_string_equal(c.on, "");
    assert_string_equal(c.record, "");
}

static void without_a_laboratory_the_verdict_decides(void **state)
{
    struct tb_known fits = judged("fits"), contradicts = judged("contradicts"),
                    against = judged("speaks against"), undecided = judged("undecided");
    struct tb_concluded c = of(&fits);

    (void)state;
    assert_int_equal(c.kind, TB_NOTHING_AGAINST);
    assert_int_equal(c.by, TB_BY_BURNING);
    assert_int_equal(c.open, TB_NOT_OPEN);
    assert_string_equal(c.record, "v1");
    assert_string_equal(c.on, "2026-10-07");
    assert_int_equal(of(&contradicts).kind, TB_DOES_NOT);
    assert_int_equal(of(&against).kind, TB_OPEN);
    assert_int_equal(of(&against).open, TB_OPEN_AGAINST);
    assert_int_equal(of(&undecided).kind, TB_OPEN);
    assert_int_equal(of(&undecided).open, TB_OPEN_UNDECIDED);
}

static void a_test_without_a_flame_is_named_as_the_ground(void **state)
{
    struct tb_known k = judged("fits");

    (void)state;
    k.tested = true;
    assert_int_equal(of(&k).by, TB_BY_BENCH_TEST);
}

static void the_bolts_that_contradict_by_themselves_are_named(void **state)
{
    struct tb_known k = judged("contradicts");

    (void)state;
    k.against = "B1\nB7";
    assert_string_equal(of(&k).bolts, "B1, B7");
    k = judged("fits");
    k.against = "B1";
    assert_string_equal(of(&k).bolts, "");
}

static void a_laboratory_outweighs_the_verdict_both_ways(void **state)
{
    struct tb_analysis kept = analysis(TB_PART_WHOLE, "100% cotton", "eu:conforms us:conforms"),
                       broken = analysis(TB_PART_WHOLE, "100% cotton", "eu:does_not_conform us:conforms");
    struct tb_concluded c = analysed(judged("contradicts"), &kept, 1);

    (void)state;
    assert_int_equal(c.kind, TB_CONFORMS);
    assert_int_equal(c.by, TB_BY_LABORATORY);
    assert_string_equal(c.markets, "eu us");
    assert_string_equal(c.laboratory, "Weir Laboratory");
    assert_string_equal(c.report, "R-7");
    assert_string_equal(c.on, "2026-10-12");
    assert_string_equal(c.found, "100 % polyester");
    assert_int_equal(c.told.grade, TB_GRADE_CONTRADICTS); /* it stays what the bench says */
    c = analysed(judged("fits"), &broken, 1);
    assert_int_equal(c.kind, TB_DOES_NOT);
    assert_string_equal(c.markets, "eu"); /* those in which it does not */
}

static void a_laboratory_that_cannot_say_leaves_the_lot_open(void **state)
{
    struct tb_analysis a = analysis(TB_PART_WHOLE, "100% cotton", "eu:conforms us:cannot_be_said");
    struct tb_concluded c = analysed(judged("fits"), &a, 1);

    (void)state;
    assert_int_equal(c.kind, TB_OPEN);
    assert_int_equal(c.by, TB_BY_LABORATORY);
    assert_int_equal(c.open, TB_OPEN_LABORATORY);
    assert_string_equal(c.markets, "us");
}

static void an_answer_to_other_words_is_none(void **state)
{
    struct tb_analysis a = analysis(TB_PART_WHOLE, "100% polyester", "eu:conforms");
    struct tb_concluded c = analysed(judged("contradicts"), &a, 1);

    (void)state;
    assert_int_equal(c.kind, TB_DOES_NOT); /* by the verdict on what the supplier said */
    assert_int_equal(c.by, TB_BY_BURNING);
    a.answers = "";
    a.declared = "100% cotton";
    assert_int_equal(analysed(judged("fits"), &a, 1).kind, TB_NOTHING_AGAINST);
}

/* No document says which of two reports is right: neither the later nor the one that was typed last is for that reason. */
static void two_laboratories_that_contradict_each_other_leave_the_lot_open(void **state)
{
    struct tb_analysis a[] = { analysis(TB_PART_WHOLE, "100% cotton", "eu:does_not_conform us:conforms"),
                               analysis(TB_PART_WHOLE, "100% cotton", "eu:conforms us:conforms") };

    (void)state;
    a[1].id = "a2";
    a[1].analysed_on = "2026-10-20";
    a[1].found = "100 % cotton";
    for (int turn = 0; turn < 2; turn++) {
        struct tb_concluded c = analysed(judged("fits"), a, 2);
        struct tb_analysis first = a[0];

        assert_int_equal(c.kind, TB_OPEN);
        assert_int_equal(c.by, TB_BY_LABORATORY);
        assert_int_equal(c.open, TB_OPEN_DISAGREE);
        assert_string_equal(c.markets, "eu"); /* in the other they agree */
        assert_string_equal(c.found,
                            turn ? "100 % cotton; 100 % polyester" : "100 % polyester; 100 % cotton");
        assert_int_equal(tb_outcome_of(&c), TB_OUTCOME_OPEN);
        a[0] = a[1];
        a[1] = first;
    }
}

static void analyses_that_agree_are_told_by_the_latest(void **state)
{
    struct tb_analysis a[] = { analysis(TB_PART_WHOLE, "100% cotton", "eu:conforms"),
                               analysis(TB_PART_WHOLE, "100% cotton", "eu:conforms") };
    struct tb_concluded c;

    (void)state;
    a[1].id = "a2";
    a[1].analysed_on = "2026-10-20";
    a[1].found = "99.8 % cotton";
    c = analysed(judged("fits"), a, 2);
    assert_int_equal(c.kind, TB_CONFORMS);
    assert_string_equal(c.record, "a2");
    assert_string_equal(c.on, "2026-10-20");
    assert_string_equal(c.found, "99.8 % cotton");
    a[1].answers = "eu:cannot_be_said"; /* which says nothing against the first */
    assert_int_equal(analysed(judged("fits"), a, 2).kind, TB_CONFORMS);
    assert_string_equal(analysed(judged("fits"), a, 2).record, "a1");
    a[0].answers = "eu:does_not_conform";
    assert_int_equal(analysed(judged("fits"), a, 2).kind, TB_DOES_NOT);
}

static void where_markets_differ_both_are_said(void **state)
{
    struct tb_analysis a =
        analysis(TB_PART_WHOLE, "100% cotton", "us:does_not_conform gb:conforms eu:conforms");
    struct tb_concluded c = analysed(judged("fits"), &a, 1);

    (void)state;
    assert_int_equal(c.kind, TB_DOES_NOT);
    assert_string_equal(c.markets, "us");
    assert_string_equal(c.kept, "gb eu");
    a.answers = "gb:conforms eu:conforms";
    c = analysed(judged("fits"), &a, 1);
    assert_int_equal(c.kind, TB_CONFORMS);
    assert_string_equal(c.kept, "");
}

static void one_part_that_is_broken_is_enough_and_all_must_be_kept(void **state)
{
    static const char *const said = "warp 100% cotton, weft 100% linen";
    struct tb_analysis a[] = { analysis(TB_PART_WARP, said, "eu:conforms us:conforms"),
                               analysis(TB_PART_WEFT, said, "eu:conforms") };
    struct tb_known k = judged("fits");

    (void)state;
    k.said = said;
    assert_int_equal(analysed(k, a, 1).kind, TB_NOTHING_AGAINST); /* the weft was not analysed */
    assert_int_equal(analysed(k, a, 2).kind, TB_CONFORMS);
    assert_string_equal(analysed(k, a, 2).markets, "eu"); /* in which both parts were asked about */
    a[1].answers = "us:does_not_conform";
    assert_int_equal(analysed(k, &a[1], 1).kind, TB_DOES_NOT);
    assert_string_equal(analysed(k, a, 2).markets, "us");
    a[0].answers = "eu:conforms";
    a[1].answers = "us:conforms";
    assert_int_equal(analysed(k, a, 2).kind, TB_OPEN); /* no market has both */
    assert_int_equal(analysed(k, a, 2).open, TB_OPEN_LABORATORY);
}

static void words_that_cannot_be_read_are_neither_kept_nor_broken(void **state)
{
    struct tb_known k = judged("undecided");
    struct tb_analysis a = analysis(TB_PART_WHOLE, "", "");

    (void)state;
    k.clear = false;
    assert_int_equal(of(&k).open, TB_OPEN_WORDS);
    assert_int_equal(of(&k).by, TB_BY_BURNING);
    k = (struct tb_known){ .said = "", .clear = true };
    assert_int_equal(of(&k).open, TB_OPEN_WORDS);
    assert_int_equal(of(&k).by, TB_BY_NOTHING);
    assert_int_equal(analysed(k, &a, 1).open, TB_OPEN_WORDS);
    assert_int_equal(analysed(k, &a, 1).by, TB_BY_LABORATORY);
}

static void a_lot_that_was_analysed_and_not_held_against_its_words_is_open(void **state)
{
    struct tb_known k = { .said = "100% cotton", .clear = true };
    struct tb_analysis a = analysis(TB_PART_WHOLE, "100% cotton", "");

    (void)state;
    assert_int_equal(analysed(k, &a, 1).open, TB_OPEN_LABORATORY);
}

static void a_verdict_whose_details_are_damaged_is_refused(void **state)
{
    struct tb_known k = { .said = "100% cotton",
                          .clear = true,
                          .verdict = { .kind = TB_FITS, .detail = "[" } };
    struct tb_concluded c;
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(tb_conclude(&c, &k, &mem, &err), TB_EFORMAT);
    k.verdict = (struct tb_kept_verdict){ .kind = TB_FITS, .grade = "splendid" };
    assert_int_equal(tb_conclude(&c, &k, &mem, &err), TB_EINVAL);
}

static void in_one_market_the_answers_about_others_are_left_out(void **state)
{
    struct tb_analysis a = analysis(TB_PART_WHOLE, "100% cotton", "us:does_not_conform gb:conforms");
    struct tb_known k = judged("fits");
    struct tb_concluded c;
    struct tb_err err = { 0 };

    (void)state;
    k.analysis = &a;
    k.n = 1;
    assert_int_equal(tb_conclude_in(&c, &k, "gb", &mem, &err), TB_OK);
    assert_int_equal(c.kind, TB_CONFORMS);
    assert_string_equal(c.markets, "gb");
    assert_int_equal(tb_conclude_in(&c, &k, "us", &mem, &err), TB_OK);
    assert_int_equal(c.kind, TB_DOES_NOT);
    assert_int_equal(tb_conclude_in(&c, &k, "jp", &mem, &err),
                     TB_OK); /* not asked about: what is known elsewhere */
    assert_int_equal(c.kind, TB_DOES_NOT);
    assert_int_equal(tb_conclude_in(&c, &k, "g", &mem, &err), TB_OK); /* no market, and no beginning of one */
    assert_string_equal(c.markets, "us");
    a.answers = "";
    assert_int_equal(tb_conclude_in(&c, &k, "us", &mem, &err), TB_OK);
    assert_int_equal(c.kind, TB_NOTHING_AGAINST);
}

static void a_lot_turned_out_as_it_is_concluded_of(void **state)
{
    (void)state;
    assert_int_equal(tb_outcome_of(&(struct tb_concluded){ .kind = TB_CONFORMS }), TB_OUTCOME_RIGHT);
    assert_int_equal(tb_outcome_of(&(struct tb_concluded){ .kind = TB_NOTHING_AGAINST }), TB_OUTCOME_RIGHT);
    assert_int_equal(tb_outcome_of(&(struct tb_concluded){ .kind = TB_DOES_NOT }), TB_OUTCOME_WRONG);
    assert_int_equal(tb_outcome_of(&(struct tb_concluded){ .kind = TB_OPEN, .open = TB_OPEN_AGAINST }),
                     TB_OUTCOME_OPEN);
}

/* Whoever counts days counts from the day of the burn, and sees that it was written down on another. */
static void a_burn_is_told_by_its_own_day_and_by_that_of_typing_where_it_is_later(void **state)
{
    static const struct {
        const char *seen, *on, *typed;
    } row[] = {
        { NULL, "2026-10-07", "" }, /* an older book: the day of the verdict */
        { "2026-10-03 2026-10-03", "2026-10-03", "" },
        { "2026-10-03 2026-10-20", "2026-10-03", "2026-10-20" },
        { "2026-10-03 2026-10-01", "2026-10-03", "" },
    };
    struct tb_text t = { 0 };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_known k = judged("fits");
        struct tb_concluded c;

        k.seen = row[i].seen;
        c = of(&k);
        assert_string_equal(c.on, row[i].on);
        assert_string_equal(c.typed, row[i].typed);
        tb_text_clear(&t);
        tb_concluded_words_add(&t, TB_ENGLISH, &c);
        assert_true((strstr(t.s, "(typed up later, 20") != NULL) == (*row[i].typed != '\0'));
    }
    tb_text_free(&t);
}

static void what_contradicts_itself_is_told_without_a_ratio(void **state)
{
    struct tb_known k = judged("undecided");
    struct tb_concluded c;
    struct tb_text t = { 0 };

    (void)state;
    k.verdict.at_odds = true;
    c = of(&k);
    tb_concluded_words_add(&t, TB_ENGLISH, &c);
    assert_non_null(strstr(t.s, "undecided, what was seen contradicts itself"));
    assert_null(strstr(t.s, "to 1"));
    tb_text_free(&t);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_lot_nobody_looked_at_is_open),
        cmocka_unit_test(without_a_laboratory_the_verdict_decides),
        cmocka_unit_test(a_test_without_a_flame_is_named_as_the_ground),
        cmocka_unit_test(the_bolts_that_contradict_by_themselves_are_named),
        cmocka_unit_test(a_laboratory_outweighs_the_verdict_both_ways),
        cmocka_unit_test(a_laboratory_that_cannot_say_leaves_the_lot_open),
        cmocka_unit_test(an_answer_to_other_words_is_none),
        cmocka_unit_test(two_laboratories_that_contradict_each_other_leave_the_lot_open),
        cmocka_unit_test(analyses_that_agree_are_told_by_the_latest),
        cmocka_unit_test(where_markets_differ_both_are_said),
        cmocka_unit_test(one_part_that_is_broken_is_enough_and_all_must_be_kept),
        cmocka_unit_test(words_that_cannot_be_read_are_neither_kept_nor_broken),
        cmocka_unit_test(a_lot_that_was_analysed_and_not_held_against_its_words_is_open),
        cmocka_unit_test(a_verdict_whose_details_are_damaged_is_refused),
        cmocka_unit_test(in_one_market_the_answers_about_others_are_left_out),
        cmocka_unit_test(a_lot_turned_out_as_it_is_concluded_of),
        cmocka_unit_test(a_burn_is_told_by_its_own_day_and_by_that_of_typing_where_it_is_later),
        cmocka_unit_test(what_contradicts_itself_is_told_without_a_ratio),
    };

    return cmocka_run_group_tests(tests, NULL, tear_down);
}
