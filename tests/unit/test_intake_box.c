/*
 * test_intake_box.c - a summary beside a list: nothing of it is of the bolts in its rows.
 * Expected values: common practice, no source.
 */
#include "intake_helper.h"

static const struct tb_intake_opts said = { .supplier = "Weaver Inlet", .note = "7" };

#define ROWS(a, b, c)                                                                                        \
    "03 sand,W1,1,50.1" a "\n03 sand,W1,2,47.9" b "\n07 moss,W2,3,33.7" c "\n07 moss,W2,4,35.9,,,,\n"
#define TITLE "Article: Velour,,Composition: 100% cotton\n"
static const char two_lots[] = "D Weaver Inlet|7||\nL Velour|03 sand|W1|100% cotton|title|\n"
                               "L Velour|07 moss|W2|100% cotton|title|\nB 0:1|50.10\nB 0:2|47.90\n"
                               "B 1:3|33.70\nB 1:4|35.90\n";

static void a_summary_beside_the_list_is_not_read_and_told(void **state)
{
    static const char *const list[] = {
        TITLE
        "Colour,Lot,Roll,Metres,,Colour,Rolls,Mtrs\n" ROWS(",,03 sand,2,98.0", ",,07 moss,2,69.6", ",,,,"),
        /* the same word for the length, and a total below it */
        TITLE "Colour,Lot,Roll,Metres,,Colour,Rolls,Metres\n" ROWS(",,03 sand,2,98.0", ",,07 moss,2,69.6",
                                                                   ",,Total,4,167.6"),
        /* other words for the same */
        TITLE "Colour,Lot,Roll,Metres,,Shade,Total pieces,Total metres\n" ROWS(
            ",,03 sand,2,98.0", ",,07 moss,2,69.6", ",,Total,4,167.6"),
        /* words that nobody knows behind the one that stands twice */
        TITLE "Kolor,Partia,Nr rolki,Metry,,Kolor,Rolek,Metrów\n" ROWS(",,03 sand,2,98.0", ",,07 moss,2,69.6",
                                                                       ",,Razem,4,167.6"),
        /* no word for goods, and the length twice */
        TITLE "Colour,Lot,Roll,Metres,,Summary,No. of rolls,Metres\n" ROWS(
            ",,03 sand,2,98.0", ",,07 moss,2,69.6", ",,Total,4,167.6"),
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(list); i++) {
        struct seen s = read_text(list[i], &said);

        if (s.rc != TB_OK || strcmp(tb_text_str(&s.text), two_lots) != 0)
            print_error("%s%s%s", list[i], s.err.msg, tb_text_str(&s.text));
        assert_int_equal(s.rc, TB_OK);
        assert_string_equal(tb_text_str(&s.text), two_lots);
        assert_true(says(&s, "they are taken for a summary of it"));
        seen_free(&s);
    }
}

/* No empty column parts it from the list, or its words are not all counts: it is filled in the first rows alone. */
static void a_summary_shows_by_the_rows_that_it_fills(void **state)
{
    static const char *const list[] = {
        TITLE "Colour,Lot,Roll,Metres,Colour,Rolls,Total m\n03 sand,W1,1,50.1,03 sand,2,98.0\n"
              "03 sand,W1,2,47.9,07 moss,2,69.6\n07 moss,W2,3,33.7,,,\n07 moss,W2,4,35.9,,,\n",
        TITLE "Colour,Lot,Roll,Metres,,Shade,Width\n03 sand,W1,1,50.1,,03 sand,150\n"
              "03 sand,W1,2,47.9,,07 moss,148\n07 moss,W2,3,33.7,,,\n07 moss,W2,4,35.9,,,\n",
        TITLE "Colour,Lot,Roll,Metres,,Colour,Code\n03 sand,W1,1,50.1,,03 sand,19-4020\n"
              "03 sand,W1,2,47.9,,07 moss,14-1110\n07 moss,W2,3,33.7,,,\n07 moss,W2,4,35.9,,,\n",
        TITLE "\nColour    Lot    Roll   Metres    Colour     Rolls   Total m\n"
              "03 sand   W1     1      50.1      03 sand    2       98.0\n"
              "03 sand   W1     2      47.9      07 moss    2       69.6\n"
              "07 moss   W2     3      33.7\n07 moss   W2     4      35.9\n",
    };
    static const char legend[] =
        "Article,Colour,Roll,Metres,,Article,Composition\nTwill,red,1,50.1,,Twill,100% cotton\n"
        "Twill,red,2,47.9,,Drill,100% linen\nTwill,red,3,47.9,,,\nDrill,moss,4,33.7,,,\n";

    (void)state;
    for (size_t i = 0; i < TB_COUNT(list); i++)
        taken(list[i], &said, two_lots);
    asked(legend, &said, "line 3 '100% linen', and no column says of which goods that is true");
    /* a second name of each bolt, and one that is said once for all of them */
    taken(TITLE "Colour,Roll,Metres,Colour\n03,1,50.1,sand\n07,2,47.9,moss\n", &said,
          "D Weaver Inlet|7||\nL Velour|03 sand||100% cotton|title|\nL Velour|07 moss||100% cotton|title|\n"
          "B 0:1|50.10\nB 1:2|47.90\n");
}

static void a_summary_of_kilograms_or_of_lots_is_one_too(void **state)
{
    (void)state;
    bolts(TITLE
          "Roll,Colour,Net kg,,Colour,Rolls,Total kg\n1,sand,22.3,,sand,2,45.4\n2,sand,23.1,,moss,1,21.8\n"
          "3,moss,21.8,,,,\n",
          &said, "B 0:1|nan|22.3 kg\nB 0:2|nan|23.1 kg\nB 1:3|nan|21.8 kg\n");
    /* the list names no lots: those of the summary are no lots of the bolts in its rows */
    taken(TITLE "Roll,Width cm,Metres,,Lot,Rolls,Total "
                "m\n1,150,52.1,,L1,2,100.4\n2,150,48.3,,L2,1,50.0\n3,150,50.0,,,,\n",
          &said,
          "D Weaver Inlet|7||\nL Velour|||100% cotton|title|\nB 0:1|52.10|150.0 cm\nB 0:2|48.30|150.0 cm\n"
          "B 0:3|50.00|150.0 cm\n");
}

static void a_summary_is_held_to_the_bolts(void **state)
{
    struct seen s = read_text(TITLE "Colour,Lot,Roll,Metres,,Colour,Rolls,Metres\n" ROWS(
                                  ",,03 sand,2,98.0", ",,07 moss,2,69.6", ",,Total,4,167.6"),
                              &said);

    (void)state;
    assert_int_equal(s.list.totals, 1);
    assert_int_equal(s.list.totals_off, 0);
    seen_free(&s);
    s = read_text(TITLE "Colour,Lot,Roll,Metres,,Colour,Rolls,Metres\n" ROWS(
                      ",,03 sand,2,98.0", ",,07 moss,2,70.6", ",,Total,4,168.6"),
                  &said);
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.totals_off, 1);
    assert_true(says(&s, "this summary adds up to 168.60 m, and the bolts to 167.60 m"));
    seen_free(&s);
}

static void it_may_stand_before_the_list(void **state)
{
    static const char list[] = TITLE "Colour,Rolls,Metres,,Colour,Lot,Roll,Metres\n"
                                     "03 sand,2,98.0,,03 sand,W1,1,50.1\n07 moss,2,69.6,,03 sand,W1,2,47.9\n"
                                     "Total,4,167.6,,07 moss,W2,3,33.7\n,,,,07 moss,W2,4,35.9\n";

    (void)state;
    taken(list, &said, two_lots);
}

static void columns_of_the_list_behind_an_empty_one_are_of_the_list(void **state)
{
    struct tb_header_word word = { "Rolls", TB_FIELD_ORIGIN };
    struct tb_intake_opts mapped = said;

    (void)state;
    bolts(TITLE "Roll,Metres,,Colour,Lot,,Width cm\n1,50.1,,03 sand,W1,,150\n2,47.9,,07 moss,W2,,148\n",
          &said, "B 0:1|50.10|150.0 cm\nB 1:2|47.90|148.0 cm\n");
    taken("Article,Roll,Metres,,Article,Colour,Composition\nV1,1,50.1,,Velour,sand,100% cotton\n"
          "V2,2,47.9,,Twill,moss,100% wool\n",
          &said,
          "D Weaver Inlet|7||\nL V1 / Velour|sand||100% cotton|row|\nL V2 / Twill|moss||100% wool|row|\n"
          "B 0:1|50.10\nB 1:2|47.90\n");
    /* somebody has said what one of its columns means */
    mapped.word = &word;
    mapped.words = 1;
    taken(TITLE "Roll,Metres,,Colour,Rolls\n1,50.1,,sand,Italy\n", &mapped,
          "D Weaver Inlet|7||\nL Velour|sand||100% cotton|title|Italy\nB 0:1|50.10\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_summary_beside_the_list_is_not_read_and_told),
        cmocka_unit_test(a_summary_shows_by_the_rows_that_it_fills),
        cmocka_unit_test(a_summary_of_kilograms_or_of_lots_is_one_too),
        cmocka_unit_test(a_summary_is_held_to_the_bolts),
        cmocka_unit_test(it_may_stand_before_the_list),
        cmocka_unit_test(columns_of_the_list_behind_an_empty_one_are_of_the_list),
    };

    return cmocka_run_group_tests_name("intake_box", tests, NULL, NULL);
}
