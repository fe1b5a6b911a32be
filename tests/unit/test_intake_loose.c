/* Compositions below a table: of which goods they may be true, and what they contradict. */
#include "intake_helper.h"

static const struct tb_intake_opts said = { .supplier = "Mill", .note = "7", .day = "2026-09-14" };

#define TWO                                                                                                  \
    "Article,Colour,Lot,Roll "                                                                               \
    "No,Metres\nTwill,Red,L1,1,50.5\nTwill,Red,L1,2,49\nSatin,Blue,L2,3,48.5\nTotal,,,3,148\n"
#define ONE "Article,Colour,Lot,Roll No,Metres\nTwill,Red,L1,1,50.5\nTwill,Red,L1,2,49\nTotal,,,2,99.5\n"
#define DECLARED                                                                                             \
    "Article,Colour,Lot,Roll No,Metres,Composition\nRib,Red,L1,1,22.5,100% cotton\nRib,Red,L1,2,23.1,100% "  \
    "cotton\n\n"

/* Is what is asked first --declared, and has it a likely answer? */
static void declared(const char *text, bool likely)
{
    struct seen s = read_text(text, &said);

    assert_int_equal(s.rc, TB_EINVAL);
    assert_int_equal(s.list.questions, 1);
    assert_string_equal(s.list.question[0].answer[0].option, "declared");
    assert_int_equal(s.list.question[0].open, !likely);
    seen_free(&s);
}

static void what_names_one_of_several_articles_is_likely_for_none(void **state)
{
    (void)state;
    declared(TWO "Twill = 100% cotton\n", false);
    declared(TWO "Twill,100% cotton\n", false);
    declared(TWO "Art. SATIN 100% silk\n", false);
    declared(TWO "Red: 100% cotton\n", false);
    declared("Twill = 100% cotton\n" TWO, false);
    asked(TWO "Twill = 100% cotton\n", &said, "line 6 says '100% cotton' of some of the goods");
}

/* "DDT" is an Italian delivery note, and "N." its number. */
static void the_number_of_a_note_declares_nothing(void **state)
{
    struct seen s = read_text("DDT N. 604 DEL 20/10/2026\n" DECLARED, &said);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_false(says(&s, "no bolt declares that"));
    assert_false(says(&s, "only the composition is read"));
    seen_free(&s);
    s = read_text("DDT N. 604, 100% linen\n" DECLARED, &said);
    assert_true(says(&s, "'DDT N. 604, 100% linen'") || says(&s, "no bolt declares that"));
    seen_free(&s);
}

static void what_names_all_articles_or_none_is_likely_for_all(void **state)
{
    (void)state;
    declared(TWO "All goods 100% cotton\n", true);
    declared(ONE "Twill = 100% cotton\n", true);
    declared(TWO "Twillings are 100% cotton\n", true); /* no word of its own */
}

static void a_fibre_without_a_percentage_leaves_it_open_what_is_declared(void **state)
{
    (void)state;
    declared(ONE "All pure new wool. 150 cm wide.\n", false);
    asked(ONE "All pure new wool. 150 cm wide.\n", &said,
          "line 5 says 'All pure new wool. 150 cm wide.', without a percentage");
    declared(ONE "All goods as ordered\n", true); /* nothing is declared */
    declared(ONE "Woolpack Cotton Ltd\n", true);
}

static void a_number_with_a_stroke_declares_nothing(void **state)
{
    struct seen s = read_text("Consignment,R-771/26\n" ONE, &said);

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL);
    assert_string_equal(s.list.question[0].answer[0].option, "declared");
    assert_string_equal(s.list.question[0].answer[0].value, "");
    seen_free(&s);
    asked("Consignment,PES-CO 65/35\n" ONE, &said, "says 'PES-CO 65/35'");
}

static void a_fibre_in_the_name_of_an_article_is_not_declared(void **state)
{
    (void)state;
    asked(ONE "\"Cotton Voile dyed, 100% Cotton\"\n", &said, "line 5 says '100% Cotton', and no column");
    asked(ONE "\"cotton, viscose 50/50\"\n", &said, "line 5 says 'cotton, viscose 50/50', and no column");
}

static void what_contradicts_the_column_above_is_said(void **state)
{
    static const char *const agrees[] = { DECLARED "All goods 100% cotton as per contract\n",
                                          DECLARED "Everything is of 100% Baumwolle\n",
                                          DECLARED "Thank you for your order\n" };
    struct seen s = read_text(DECLARED "All goods 60% cotton 40% polyester as per contract\n", &said);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_true(says(&s, "line 5 says '60% cotton 40% polyester', and no bolt declares that"));
    seen_free(&s);
    for (size_t i = 0; i < TB_COUNT(agrees); i++) {
        s = read_text(agrees[i], &said);
        assert_int_equal(s.rc, TB_OK);
        assert_false(says(&s, "no bolt declares that"));
        seen_free(&s);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_number_of_a_note_declares_nothing),
        cmocka_unit_test(what_names_one_of_several_articles_is_likely_for_none),
        cmocka_unit_test(what_names_all_articles_or_none_is_likely_for_all),
        cmocka_unit_test(a_fibre_without_a_percentage_leaves_it_open_what_is_declared),
        cmocka_unit_test(a_number_with_a_stroke_declares_nothing),
        cmocka_unit_test(a_fibre_in_the_name_of_an_article_is_not_declared),
        cmocka_unit_test(what_contradicts_the_column_above_is_said),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
