/* Where goods of one kind end and others begin: labels that say two things, headings of tables side by side, the next block. */
#include "intake_helper.h"

#define PART "Supplier;Kestrel Mill\nPacking list no.;K 7\n"
#define ROLLS "Roll;Metres\n1;20\n2;21\n"

static struct tb_intake_opts holds(struct tb_line_is *line, size_t at)
{
    *line = (struct tb_line_is){ "", at, TB_LINE_HEADING };
    return (struct tb_intake_opts){ .line = line, .lines = 1, .declared = "100% wool", .article = "Tw" };
}

/* ---- two labels of one field ------------------------------------------------------------------------------ */

static void two_labels_of_one_thing_above_a_table_are_asked_about(void **state)
{
    struct tb_line_is line;
    struct tb_intake_opts o = holds(&line, 3);

    (void)state;
    o.article = o.declared = NULL;
    asked(PART "Article: Melton\nComposition: 100% wool\nComposition: 100% polyester\n" ROLLS, NULL,
          "line 4 says that the declared composition is '100% wool', line 5 that it is '100% polyester', and "
          "no bolt stands between them; say --heading-line 4 or --heading-line 5 for the one that holds");
    asked(PART "Article: Melton;Colour: red\nColour: blue\nComposition: wool\n" ROLLS, NULL,
          "line 3 says that the colour is 'red', line 4 that it is 'blue'");
    asked(PART "Article: Melton\nLot: 771\nLot: 772\nComposition: wool\n" ROLLS, NULL,
          "the dye lot is '771'");
    asked(PART "Article: Melton\nWidth: 150 cm\nWidth: 140 cm\nComposition: wool\n" ROLLS, NULL,
          "the width is '150 cm'");
    asked(PART "Style: A100;Composition: wool\nStyle: A200\n" ROLLS, NULL, "the article is 'A100'");
    taken(PART "Colour: red\nColour: blue\nArticle: Melton\nComposition: wool\n" ROLLS, &o,
          "D Kestrel Mill|K 7||\nL Melton|red||wool|title|\nB 0:1|20.00\nB 0:2|21.00\n");
}

static void neither_of_two_labels_is_likely_but_the_later_of_an_article_with_two_names(void **state)
{
    struct seen s = read_text(PART "Colour: red\nColour: blue\nArticle: M\nComposition: wool\n" ROLLS, NULL);

    (void)state;
    assert_int_equal(s.list.questions, 1);
    assert_true(s.list.question[0].open);
    assert_int_equal(s.list.question[0].answers, 2);
    seen_free(&s);
    s = read_text(PART "Style: S1\nQuality: Poplin\nComposition: wool\n" ROLLS, NULL);
    assert_int_equal(s.list.questions, 1);
    assert_false(s.list.question[0].open);
    assert_string_equal(s.list.question[0].answer[0].option, "heading-line");
    assert_string_equal(s.list.question[0].answer[0].value, "4");
    seen_free(&s);
}

static void a_label_that_stands_again_with_the_same_value_is_not_asked_about(void **state)
{
    (void)state;
    taken(PART "Article: Melton\nColour: Red\nArticle: MELTON\nColour: red\nComposition: wool\n" ROLLS, NULL,
          "D Kestrel Mill|K 7||\nL Melton|Red||wool|title|\nB 0:1|20.00\nB 0:2|21.00\n");
}

static void two_headings_without_bolts_between_them_are_asked_about(void **state)
{
    struct tb_line_is line;
    struct tb_intake_opts o = holds(&line, 4);

    (void)state;
    asked(PART "Roll;Metres\nColour: red;\nColour: blue;\n1;20\n",
          &(struct tb_intake_opts){ .article = "Tw", .declared = "" },
          "line 4 says that the colour is 'red', line 5 that it is 'blue'");
    taken(PART "Roll;Metres\nColour: red;\nColour: blue;\n1;20\nColour: ash;\n2;21\n", &o,
          "D Kestrel Mill|K 7||\nL Tw|red||100% wool|option|\nL Tw|ash||100% wool|option|\n"
          "B 0:1|20.00\nB 1:2|21.00\n");
}

static void a_heading_that_takes_the_place_of_the_title_is_asked_about_and_likely(void **state)
{
    static const char *const list =
        PART "Article: Shirting\nComposition: wool\nRoll;Metres\nArticle: Poplin;\n1;20\n";
    struct seen s = read_text(list, NULL);
    struct tb_line_is line;
    struct tb_intake_opts o = holds(&line, 3);

    (void)state;
    assert_int_equal(s.list.questions, 1);
    assert_false(s.list.question[0].open);
    assert_string_equal(s.list.question[0].answer[0].value, "6");
    seen_free(&s);
    o.article = o.declared = NULL;
    taken(list, &o, "D Kestrel Mill|K 7||\nL Shirting|||wool|title|\nB 0:1|20.00\n");
}

static void two_values_in_one_row_above_one_table_are_refused(void **state)
{
    struct tb_line_is line = { "", 3, TB_LINE_TOTAL };
    struct tb_intake_opts o = { .line = &line, .lines = 1, .article = "Tw", .declared = "" };

    (void)state;
    bad(PART "Colour: red;Colour: blue\nArticle: M\nComposition: wool\n" ROLLS, NULL,
        "X 3 row '': the row says twice what the colour is, 'red' and 'blue', and not of which bolts; write "
        "each "
        "above its own bolts, or say --total-line 3 to leave the row out");
    bolts(PART "Colour: red;Colour: blue\n" ROLLS, &o, "B 0:1|20.00\nB 0:2|21.00\n");
}

/* ---- headings of tables side by side, above their headers ------------------------------------------------- */

#define TWINS "Roll;Metres;Roll;Metres\n1;20;5;30\n2;21;6;31\n"
#define BOLTS "B 0:1|20.00\nB 0:2|21.00\nB 1:5|30.00\nB 1:6|31.00\n"

static void headings_above_the_headers_of_tables_side_by_side_hold_each_for_its_table(void **state)
{
    (void)state;
    taken(PART
          "Article: Melton;;Article: Faille;\nComposition: 100% wool;;Composition: 100% polyester;\n" TWINS,
          NULL,
          "D Kestrel Mill|K 7||\nL Melton|||100% wool|title|\nL Faille|||100% polyester|title|\n" BOLTS);
    taken(PART "Article: Tw\nComposition: wool\nColour:;red;Colour:;blue\nLot 771;;Lot 772;\n" TWINS, NULL,
          "D Kestrel Mill|K 7||\nL Tw|red|771|wool|title|\nL Tw|blue|772|wool|title|\n" BOLTS);
    /* the next tables of the page begin with headings of their own */
    taken(PART "Article: Tw\nComposition: wool\nColour: red;;Colour: blue;\n" TWINS
               "Colour: ash;;Colour: tan;\nRoll;Metres;Roll;Metres\n3;22;7;32\n",
          NULL,
          "D Kestrel Mill|K 7||\nL Tw|red||wool|title|\nL Tw|blue||wool|title|\nL Tw|ash||wool|title|\n"
          "L Tw|tan||wool|title|\n" BOLTS "B 2:3|22.00\nB 3:7|32.00\n");
}

static void what_heads_one_table_is_not_said_of_the_next(void **state)
{
    (void)state;
    taken(PART "Article: Tw\nComposition: wool\nLot: 1;;Lot: 2;;;\nColour: red;;;;Colour: blue;\n"
               "Roll;Metres;Roll;Metres;Roll;Metres\n1;20;5;30;8;40\n",
          NULL,
          "D Kestrel Mill|K 7||\nL Tw|red|1|wool|title|\nL Tw||2|wool|title|\nL Tw|blue||wool|title|\n"
          "B 0:1|20.00\nB 1:5|30.00\nB 2:8|40.00\n");
}

static void bare_names_above_tables_side_by_side_are_refused(void **state)
{
    (void)state;
    bad(PART "Article: Tw\nComposition: wool\nNAVY;;BEIGE;\n" TWINS, NULL,
        "X 5 row '': 'NAVY' and 'BEIGE' stand above tables side by side, and nothing says what they are; "
        "write "
        "before each what it is (Colour: ...), or say --total-line 5 to leave the row out");
}

/* ---- the next block --------------------------------------------------------------------------------------- */

static void what_stands_above_the_table_is_not_said_of_the_article_of_the_next_block(void **state)
{
    static const char *const list =
        PART "Article: Melton\nColour: red\nLot: 771\nWidth: 150 cm\nComposition: 100% wool\n" ROLLS
             "\nArticle: Voile;\nRoll;Metres\n3;30\n";
    struct seen s = read_text(list, NULL);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_string_equal(s.text.s,
                        "D Kestrel Mill|K 7||\nL Melton|red|771|100% wool|title|\nL Voile||||option|\n"
                        "B 0:1|20.00|150.0 cm\nB 0:2|21.00|150.0 cm\nB 1:3|30.00\n");
    assert_true(says(
        &s, "line 12 begins the article 'Voile'; what stands above the table is not taken for it: 'red', "
            "'771', '100% wool'"));
    assert_true(says(&s, "1 lot declares nothing, beside others that do ('Voile'): ask the supplier"));
    seen_free(&s);
}

static void what_stands_above_a_table_without_an_article_is_said_of_all_its_blocks(void **state)
{
    (void)state;
    taken(PART "Composition: 100% wool\nRoll;Metres\nArticle: Melton;\n1;20\nArticle: Voile;\n2;21\n", NULL,
          "D Kestrel Mill|K 7||\nL Melton|||100% wool|title|\nL Voile|||100% wool|title|\n"
          "B 0:1|20.00\nB 1:2|21.00\n");
}

static void a_heading_with_another_colour_ends_the_dye_lot_of_the_colour_above(void **state)
{
    static const char *const list =
        PART "Article: M\nComposition: wool\nRoll;Metres\nColour: red;\nLot: 7;\n1;20\n"
             "Colour: blue;\n2;21\nLot: 9;\nColour: ash;\n3;22\n";
    struct seen s = read_text(list, NULL);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_non_null(
        strstr(s.text.s, "L M|red|7|wool|title|\nL M|blue||wool|title|\nL M|ash|9|wool|title|\n"));
    assert_true(
        says(&s, "line 9 names the colour 'blue' and no dye lot; the dye lot '7' of the colour above is not "
                 "taken for it"));
    seen_free(&s);
}

static void a_heading_with_another_composition_keeps_the_article_and_says_so(void **state)
{
    struct seen s =
        read_text(PART "Article: M\nComposition: wool\n" ROLLS "Composition: silk;\n3;22\n", NULL);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_non_null(strstr(s.text.s, "L M|||wool|title|\nL M|||silk|title|\n"));
    assert_true(
        says(&s, "line 8 declares 'silk' and names no article; the article is taken to be 'M', as above it"));
    seen_free(&s);
}

static void a_width_in_a_heading_holds_for_the_bolts_below_it(void **state)
{
    (void)state;
    bolts(PART "Article: M\nComposition: wool\nWidth: 150 cm\n" ROLLS "Width: 140 cm;\n3;22\n", NULL,
          "B 0:1|20.00|150.0 cm\nB 0:2|21.00|150.0 cm\nB 0:3|22.00|140.0 cm\n");
}

/* ---- what is asked about, and what is said ------------------------------------------------------------------ */

static void numbers_that_start_again_in_every_colour_are_kept_with_it(void **state)
{
    static const char *const list =
        PART "Article;Colour;Roll;Metres;Composition\nM;red;1;20;wool\nM;red;2;21;wool\n"
             "M;ash;1;22;wool\nM;ash;2;23;wool\n";
    struct tb_intake_opts o = { .number_by_lot = true };

    (void)state;
    asked(list, NULL,
          "line 6: the bolt number '1' stands in another colour already; if numbers start again in every "
          "colour, say "
          "--numbers-by-lot: they are kept as COLOUR/NUMBER");
    bolts(list, &o, "B 0:red/1|20.00\nB 0:red/2|21.00\nB 1:ash/1|22.00\nB 1:ash/2|23.00\n");
    asked(PART "Article;Roll;Metres;Composition\nM;1;20;wool\nM;2;21;wool\nV;1;22;wool\n", NULL,
          "they are kept as ARTICLE/NUMBER");
}

static void a_page_number_under_any_column_is_passed_over(void **state)
{
    (void)state;
    bolts(PART "Article: M\nComposition: wool\n" ROLLS ";Page 1\nTotal;41\n;Seite 2 von 3\n", NULL,
          "B 0:1|20.00\nB 0:2|21.00\n");
}

static void words_where_a_length_would_stand_are_offered_no_answer_that_fails(void **state)
{
    struct seen s = read_text(PART "Article: M\nComposition: wool\n" ROLLS ";Box 3\n", NULL);

    (void)state;
    assert_int_equal(s.list.questions, 1);
    assert_string_equal(s.list.question[0].answer[0].option, "total-line");
    assert_int_equal(s.list.question[0].answers, 1);
    assert_true(s.list.question[0].open);
    seen_free(&s);
}

static void lengths_under_numbered_headers_are_a_grid_and_number_no_bolts(void **state)
{
    static const char *const head[] = { "Roll 1;Roll 2;Roll 3;Mtrs", "1st roll;2nd roll;3rd roll;Metres",
                                        "Roll 1;Roll 2;Roll 3;Total" };
    char list[400];

    (void)state;
    for (size_t i = 0; i < 3; i++) {
        struct seen s;

        (void)snprintf(
            list, sizeof list,
            PART
            "Article: M\nComposition: wool\nColour;Lot;%s\nred;1;100.5;98.0;102.0;300.5\nash;2;99.0;97.5;"
            "101.0;297.5\nash;3;55.0;;;55.0\n",
            head[i]);
        s = read_text(list, NULL);
        assert_string_equal(s.list.question[0].answer[0].option, "columns");
        assert_string_equal(s.list.question[0].answer[0].value, "colour,lot,length*3,total");
        seen_free(&s);
    }
}

static void columns_behind_a_grid_are_read_too(void **state)
{
    struct seen s = read_text(PART "Roll 1;Roll 2;Roll 3;Mtrs;Colour;Lot;Article;Composition\n"
                                   "31.5;32.0;33.5;97.0;red;1;M;wool\n34.5;35.0;;69.5;ash;2;M;wool\n",
                              NULL);

    (void)state;
    assert_string_equal(s.list.question[0].answer[0].value, "length*3,total,colour,lot,article,composition");
    seen_free(&s);
}

static void the_lower_row_of_a_header_over_a_grid_names_the_columns_before_it(void **state)
{
    struct seen s =
        read_text("Article: M\nComposition: wool\n;;LENGTH IN METERS;;;TOTAL\nColour;Lot;1;2;3;Mtrs\n"
                  "red;1;100.5;98.0;102.0;300.5\nash;2;99.0;97.5;101.0;297.5\n",
                  NULL);

    (void)state;
    assert_string_equal(s.list.question[0].answer[0].value, "colour,lot,length*3,total");
    seen_free(&s);
}

static void another_composition_in_a_title_and_words_behind_one_are_said(void **state)
{
    struct seen s =
        read_text(PART "Article: M\nComposition: 100% wool\nLining: 100% polyester\n" ROLLS, NULL);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_true(says(
        &s,
        "line 5 says 'Lining: 100% polyester', and no bolt declares that: ask the supplier which is true"));
    seen_free(&s);
    s = read_text(PART "Article: M\nGoods: 100% COTTON POPLIN 40X40 58\"\n" ROLLS,
                  &(struct tb_intake_opts){ .declared = "100% COTTON" });
    assert_int_equal(s.rc, TB_OK);
    assert_true(says(&s, "only the composition is read"));
    seen_free(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_labels_of_one_thing_above_a_table_are_asked_about),
        cmocka_unit_test(neither_of_two_labels_is_likely_but_the_later_of_an_article_with_two_names),
        cmocka_unit_test(a_label_that_stands_again_with_the_same_value_is_not_asked_about),
        cmocka_unit_test(two_headings_without_bolts_between_them_are_asked_about),
        cmocka_unit_test(a_heading_that_takes_the_place_of_the_title_is_asked_about_and_likely),
        cmocka_unit_test(two_values_in_one_row_above_one_table_are_refused),
        cmocka_unit_test(headings_above_the_headers_of_tables_side_by_side_hold_each_for_its_table),
        cmocka_unit_test(what_heads_one_table_is_not_said_of_the_next),
        cmocka_unit_test(bare_names_above_tables_side_by_side_are_refused),
        cmocka_unit_test(what_stands_above_the_table_is_not_said_of_the_article_of_the_next_block),
        cmocka_unit_test(what_stands_above_a_table_without_an_article_is_said_of_all_its_blocks),
        cmocka_unit_test(a_heading_with_another_colour_ends_the_dye_lot_of_the_colour_above),
        cmocka_unit_test(a_heading_with_another_composition_keeps_the_article_and_says_so),
        cmocka_unit_test(a_width_in_a_heading_holds_for_the_bolts_below_it),
        cmocka_unit_test(numbers_that_start_again_in_every_colour_are_kept_with_it),
        cmocka_unit_test(a_page_number_under_any_column_is_passed_over),
        cmocka_unit_test(words_where_a_length_would_stand_are_offered_no_answer_that_fails),
        cmocka_unit_test(lengths_under_numbered_headers_are_a_grid_and_number_no_bolts),
        cmocka_unit_test(columns_behind_a_grid_are_read_too),
        cmocka_unit_test(the_lower_row_of_a_header_over_a_grid_names_the_columns_before_it),
        cmocka_unit_test(another_composition_in_a_title_and_words_behind_one_are_said),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
