/* test_intake_not_come.c - bolts below a heading that says that they did not come; the words: common practice, no source. */
#include "intake_helper.h"

static const struct tb_intake_opts said = { .supplier = "M", .note = "1" };

#define HEAD                                                                                                 \
    "Article;Twill\nComposition;100% cotton\nRoll;Colour;Metres\n1;navy;50.5\n2;navy;48\n3;stone;47.7\n"

static struct seen read_below(const char *between, const char *below, const struct tb_intake_opts *opts)
{
    struct tb_text t = { 0 };
    struct seen s;

    tb_text_addf(&t, "%s%s%s", HEAD, between, below);
    s = read_text(tb_text_str(&t), opts);
    tb_text_free(&t);
    return s;
}

#define TOTAL "Total;;146.2\n"
#define MORE "4;navy;51\n5;navy;50\n"

static void bolts_below_such_a_heading_are_asked_about_once(void **state)
{
    static const char *const heading[] = { "To follow next week:\n",
                                           "Balance to follow\n",
                                           "Cancelled rolls\n",
                                           "Cancelled\n",
                                           "Back order:\n",
                                           "Wird nachgeliefert:\n",
                                           "Nicht geliefert\n",
                                           "A suivre :\n",
                                           "Annullato\n",
                                           "Da consegnare\n",
                                           ";Pendiente de entrega;\n",
                                           "To follow;;\n;;\n",
                                           "Balance to follow:\nRoll;Colour;Metres\n" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(heading); i++) {
        struct tb_text t = { 0 };
        struct seen s;

        tb_text_addf(&t, TOTAL "%s", heading[i]);
        s = read_below(tb_text_str(&t), MORE, &said);
        if (s.rc == TB_OK || s.list.questions != 1)
            print_error("%s: %s\n", heading[i], s.err.msg);
        assert_int_equal(s.rc, TB_EINVAL);
        assert_int_equal(s.list.questions, 1);
        assert_non_null(strstr(s.list.question[0].ask, "line 8 says '"));
        assert_non_null(strstr(s.list.question[0].ask, "above 2 bolts (lines "));
        /* the total above agrees without them */
        assert_string_equal(s.list.question[0].answer[0].option, "total-line");
        assert_false(s.list.question[0].open);
        seen_free(&s);
        tb_text_free(&t);
    }
}

/* How mills write it at the foot of a page: common practice, no source. */
static void a_list_that_goes_on_over_the_page_has_no_such_heading(void **state)
{
    static const char *const foot[] = { "segue a pag. 2\n",
                                        "à suivre page 2\n",
                                        "Fortsetzung folgt auf Seite 2\n",
                                        "Fortsetzung folgt\n",
                                        "sigue en pág. 2\n",
                                        "segue na pág. 2\n",
                                        "wordt vervolgd\n",
                                        "ciąg dalszy na str. 2\n",
                                        "Pokračování na straně 2\n",
                                        "devamı sayfa 2\n",
                                        "Continued on page 2;;\nRoll;Colour;Metres\n" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(foot); i++) {
        struct tb_text t = { 0 };
        struct seen s;

        tb_text_addf(&t, TOTAL "%s", foot[i]);
        s = read_below(tb_text_str(&t), MORE, &said);
        if (s.rc != TB_OK)
            print_error("%s: %s\n", foot[i], s.err.msg);
        assert_int_equal(s.rc, TB_OK);
        assert_int_equal(s.list.bolts, 5);
        seen_free(&s);
        tb_text_free(&t);
    }
}

static void a_word_that_may_say_either_has_no_likely_answer(void **state)
{
    struct seen s = read_below(TOTAL "segue\n", MORE, &said);

    (void)state;
    assert_int_equal(s.list.questions, 1);
    assert_true(s.list.question[0].open);
    seen_free(&s);
    s = read_below(TOTAL "Segue:\n", MORE, &said); /* as "To follow:" */
    assert_false(s.list.question[0].open);
    assert_string_equal(s.list.question[0].answer[0].option, "total-line");
    seen_free(&s);
}

static void what_came_with_another_note_is_asked_about_until_this_delivery_begins(void **state)
{
    static const char *const heading[] = {
        "Already delivered:\n", "Previously shipped:\n", "Sent with our note 7 on 3 Oct\n",
        "Bereits geliefert:\n", "Déjà livré :\n",        "Già consegnati\n",
        "Ya entregado:\n",      "Již dodáno:\n"
    };
    struct seen s;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(heading); i++) {
        struct tb_text t = { 0 };

        tb_text_addf(&t, TOTAL "%s", heading[i]);
        s = read_below(tb_text_str(&t), MORE, &said);
        if (s.rc == TB_OK || s.list.questions != 1)
            print_error("%s: %s\n", heading[i], s.err.msg);
        assert_int_equal(s.list.questions, 1);
        assert_non_null(strstr(s.list.question[0].ask, "above 2 bolts (lines "));
        assert_false(s.list.question[0].open);
        seen_free(&s);
        tb_text_free(&t);
    }
    s = read_text("Article;Twill\nComposition;100% cotton\nRoll;Colour;Metres\nAlready "
                  "delivered:\n1;navy;50.5\n2;navy;48\n"
                  "This delivery:\n3;navy;47.7\n4;navy;51\nTotal;;98.7\n",
                  &said);
    assert_int_equal(s.list.questions, 1);
    assert_non_null(strstr(s.list.question[0].ask, "(lines 5 to 6)"));
    assert_string_equal(s.list.question[0].answer[0].option,
                        "total-line"); /* the total agrees without them */
    seen_free(&s);
    s = read_below(TOTAL "Sent with our note 1:\n", MORE, &said); /* that is this one */
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.bolts, 5);
    seen_free(&s);
}

static void a_total_that_agrees_shows_whether_they_came(void **state)
{
    struct seen s = read_below("To follow:\n", MORE, &said);

    (void)state;
    assert_true(s.list.question[0].open); /* no total says anything */
    seen_free(&s);
    s = read_below("To follow:\n", MORE TOTAL, &said);
    assert_string_equal(s.list.question[0].answer[0].option, "total-line");
    assert_false(s.list.question[0].open);
    seen_free(&s);
    s = read_below(TOTAL "To follow:\n", MORE "Total;;247.2\n", &said);
    assert_true(s.list.question[0].open);
    assert_string_equal(s.list.question[0].answer[0].option, "bolt-line");
    seen_free(&s);
}

static void what_is_answered_holds_for_all_below(void **state)
{
    struct tb_intake_opts gone = said, came = said, one = said;
    const struct tb_line_is out = { "", 8, TB_LINE_TOTAL }, in = { "", 8, TB_LINE_BOLT },
                            both[] = { { "", 8, TB_LINE_TOTAL }, { "", 10, TB_LINE_BOLT } };
    struct seen s;

    (void)state;
    gone.line = &out;
    came.line = &in;
    one.line = both;
    gone.lines = came.lines = 1;
    one.lines = 2;
    s = read_below(TOTAL "To follow:\n", MORE, &gone);
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.bolts, 3);
    assert_true(says(&s, "line 8 says 'To follow:', and the 2 bolts below it are left out"));
    seen_free(&s);
    s = read_below(TOTAL "To follow:\n", MORE, &came);
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.bolts, 5);
    seen_free(&s);
    s = read_below(TOTAL "To follow:\n", MORE, &one); /* the one on line 10 came */
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.bolts, 4);
    assert_true(says(&s, "and the 1 bolt below it is left out"));
    seen_free(&s);
}

/* Nothing stands below it, or the words say nothing of the sort. */
static void a_remark_asks_nothing(void **state)
{
    static const char *const remark[] = { "Balance to follow next week.\n", "Thank you for your order\n",
                                          "" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(remark); i++) {
        struct seen s = read_below(TOTAL, remark[i], &said);

        assert_int_equal(s.rc, TB_OK);
        assert_int_equal(s.list.bolts, 3);
        seen_free(&s);
    }
    bolts(HEAD "Shipped as well\n4;navy;51\n", &said, "B 0:1|50.50\nB 0:2|48.00\nB 1:3|47.70\nB 0:4|51.00\n");
}

/* "Colour: red (cancelled)" is a colour as well; the next colour came. */
static void a_label_that_says_so_holds_until_the_next(void **state)
{
    static const char list[] = "Article;Twill\nComposition;100% cotton\nRoll;Metres\nColour: navy\n1;50\n"
                               "Colour: red (cancelled)\n2;51\nColour: green\n3;52\n";
    const struct tb_line_is out = { "", 6, TB_LINE_TOTAL };
    struct tb_intake_opts gone = said;

    (void)state;
    asked(list, &said, "line 6 says 'Colour: red (cancelled)' above 1 bolt (line 7)");
    gone.line = &out;
    gone.lines = 1;
    taken(list, &gone,
          "D M|1||\nL Twill|navy||100% cotton|title|\nL Twill|green||100% cotton|title|\nB 0:1|50.00\nB "
          "1:3|52.00\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bolts_below_such_a_heading_are_asked_about_once),
        cmocka_unit_test(a_list_that_goes_on_over_the_page_has_no_such_heading),
        cmocka_unit_test(a_word_that_may_say_either_has_no_likely_answer),
        cmocka_unit_test(what_came_with_another_note_is_asked_about_until_this_delivery_begins),
        cmocka_unit_test(a_total_that_agrees_shows_whether_they_came),
        cmocka_unit_test(what_is_answered_holds_for_all_below),
        cmocka_unit_test(a_remark_asks_nothing),
        cmocka_unit_test(a_label_that_says_so_holds_until_the_next),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
