/* Headings between the blocks of a list: what they say, and how long it holds. */
#include "intake_helper.h"

#define TITLE "Supplier;Kestrel Mill\nPacking list no.;K 7\n"
#define HEAD "Fabric name;Colour;Bolt No.;Length (m)\n"

static void a_composition_above_a_block_holds_for_its_articles(void **state)
{
    (void)state;
    taken(TITLE "Composition: 100% cotton\n" HEAD "Voile;red;1;20\n"
                "Voile;blue;2;20\n"
                "Sub total;;;40\n"
                "Composition: 100% silk;;;\n"
                "Tussore;honey;3;20\n"
                "Twill;ash;4;20\n"
                "Sub total;;;40\n",
          NULL,
          "D Kestrel Mill|K 7||\n"
          "L Voile|red||100% cotton|title|\n"
          "L Voile|blue||100% cotton|title|\n"
          "L Tussore|honey||100% silk|title|\n"
          "L Twill|ash||100% silk|title|\n"
          "B 0:1|20.00\n"
          "B 1:2|20.00\n"
          "B 2:3|20.00\n"
          "B 3:4|20.00\n");
}

static void headings_of_one_block_add_up_in_any_order(void **state)
{
    (void)state;
    taken(TITLE "Colour;Bolt No.;Length (m)\n"
                "Composition: 100% silk;;\n"
                "Fabric: Tussore;;\n"
                "honey;1;20\n"
                "Fabric: Voile;;\n"
                "Composition: 100% cotton;;\n"
                "red;2;20\n",
          NULL,
          "D Kestrel Mill|K 7||\n"
          "L Tussore|honey||100% silk|title|\n"
          "L Voile|red||100% cotton|title|\n"
          "B 0:1|20.00\n"
          "B 1:2|20.00\n");
}

static void a_heading_that_names_another_article_ends_the_composition_of_the_one_before(void **state)
{
    struct tb_intake_opts o = { .declared = "" };

    (void)state;
    taken(TITLE "Colour;Bolt No.;Length (m)\n"
                "Fabric: Tussore;;\n"
                "Composition: 100% silk;;\n"
                "honey;1;20\n"
                "Fabric: Voile;;\n"
                "red;2;20\n",
          &o,
          "D Kestrel Mill|K 7||\n"
          "L Tussore|honey||100% silk|title|\n"
          "L Voile|red|||option|\n"
          "B 0:1|20.00\n"
          "B 1:2|20.00\n");
}

static void a_heading_of_the_colour_and_a_column_of_bands_make_the_colour_together(void **state)
{
    (void)state;
    taken(TITLE "Composition: 100% cotton\nArticle: Voile\n"
                "Bolt No.;Shade band;Length (m)\n"
                "Colour: Navy\n"
                "1;A;20\n"
                "2;;20\n"
                "Colour: Red\n"
                "3;;20\n"
                "4;A;20\n",
          NULL,
          "D Kestrel Mill|K 7||\n"
          "L Voile|Navy A||100% cotton|title|\n"
          "L Voile|Red||100% cotton|title|\n"
          "L Voile|Red A||100% cotton|title|\n"
          "B 0:1|20.00\n"
          "B 0:2|20.00\n"
          "B 1:3|20.00\n"
          "B 2:4|20.00\n");
}

static void a_heading_of_the_article_and_a_column_of_designs_make_the_article_together(void **state)
{
    (void)state;
    taken(TITLE "Composition: 100% cotton\n"
                "Bolt No.;Design;Length (m)\n"
                "Article: Voile\n"
                "1;4471;20\n"
                "Article: Rosa\n"
                "2;4471;20\n",
          NULL,
          "D Kestrel Mill|K 7||\n"
          "L Voile / 4471|||100% cotton|title|\n"
          "L Rosa / 4471|||100% cotton|title|\n"
          "B 0:1|20.00\n"
          "B 1:2|20.00\n");
}

static void a_heading_of_the_design_and_a_column_of_articles_make_the_article_together(void **state)
{
    (void)state;
    taken(TITLE "Bolt No.;Article;Length (m);Composition\n"
                "Design: 4471\n"
                "1;Voile;20;100% cotton\n"
                "Design: 4490\n"
                "2;Voile;20;100% cotton\n",
          NULL,
          "D Kestrel Mill|K 7||\n"
          "L Voile / 4471|||100% cotton|row|\n"
          "L Voile / 4490|||100% cotton|row|\n"
          "B 0:1|20.00\n"
          "B 1:2|20.00\n");
}

static void a_heading_of_a_design_below_an_article_is_no_new_article(void **state)
{
    (void)state;
    taken(TITLE "Article: Voile\nComposition: 100% cotton\n"
                "Design: 4471;Shade band: A;Colour: green\n"
                "Bolt No.;Length (m)\n"
                "1;20\n"
                "Design: 4480\n"
                "Colour: blue\n"
                "2;20\n",
          NULL,
          "D Kestrel Mill|K 7||\n"
          "L Voile / 4471|green A||100% cotton|title|\n"
          "L Voile / 4480|blue||100% cotton|title|\n"
          "B 0:1|20.00\n"
          "B 1:2|20.00\n");
}

static void designs_without_an_article_are_the_articles(void **state)
{
    struct tb_intake_opts o = { .declared = "" };

    (void)state;
    taken(TITLE "Bolt No.;Length (m)\n"
                "Design: 4471\n"
                "Composition: 100% cotton\n"
                "1;20\n"
                "Design: 4480\n"
                "2;20\n",
          &o,
          "D Kestrel Mill|K 7||\n"
          "L 4471|||100% cotton|title|\n"
          "L 4480||||option|\n"
          "B 0:1|20.00\n"
          "B 1:2|20.00\n");
}

static void headings_and_a_column_of_the_same_kind_are_asked_about_where_goods_would_be_merged(void **state)
{
    static const char *const list = TITLE "Composition: 100% cotton\nArticle: Voile\n"
                                          "Bolt No.;Colour No;Length (m)\n"
                                          "Colour: Navy\n"
                                          "1;12;20\n"
                                          "Colour: Red\n"
                                          "2;12;20\n";
    const struct tb_header_word join = { "Colour No", TB_FIELD_SHADE_GROUP },
                                column = { "Colour No", TB_FIELD_COLOUR };
    struct tb_intake_opts o = { .word = &join, .words = 1 };
    struct seen s;

    (void)state;
    asked(
        list, NULL,
        "line 6 says that the colour is 'Navy', line 8 that it is 'Red', and the column 'Colour No' says it "
        "as well; say --map \"Colour No=shade_group\" to keep both");
    taken(list, &o,
          "D Kestrel Mill|K 7||\n"
          "L Voile|Navy 12||100% cotton|title|\n"
          "L Voile|Red 12||100% cotton|title|\n"
          "B 0:1|20.00\n"
          "B 1:2|20.00\n");
    o.word = &column;
    s = read_text(list, &o);
    assert_int_equal(s.rc, TB_OK);
    assert_true(says(&s, "said above bolts and kept for none, with its line: 'Navy' (6), 'Red' (8)"));
    seen_free(&s);
}

static void what_stands_above_a_table_and_no_bolt_has_got_is_said(void **state)
{
    struct seen s = read_text(TITLE "Composition: 100% cotton\nArticle: Voile\nLot: 99\n"
                                    "Bolt No.;Dye lot;Length (m)\n"
                                    "1;12;20\n",
                              NULL);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_true(says(&s, "said above bolts and kept for none, with its line: '99' (5)"));
    seen_free(&s);
}

static void a_line_break_in_a_name_is_a_space_and_in_declared_words_stays(void **state)
{
    (void)state;
    taken(TITLE "Fabric name;Colour;Bolt No.;Length (m);Composition\n"
                "\"Voile\n(washed)\";red;1;20;\"50% cotton\n50% flax\"\n"
                "\"Voile\n(washed)\";red;2;20;\"50% cotton\n50% flax\"\n",
          NULL,
          "D Kestrel Mill|K 7||\n"
          "L Voile (washed)|red||50% cotton\n50% flax|row|\n"
          "B 0:1|20.00\n"
          "B 0:2|20.00\n");
}

static void a_lot_that_declares_nothing_beside_others_is_remarked_on(void **state)
{
    static const char *const list = TITLE "Fabric name;Bolt No.;Length (m);Composition\n"
                                          "Voile;1;20;100% cotton\n"
                                          "Tussore;2;21;\n";
    static const char *const all = TITLE "Fabric name;Bolt No.;Length (m);Composition\n"
                                         "Voile;1;20;100% cotton\n"
                                         "Tussore;2;21;100% silk\n";
    struct seen s = read_text(list, NULL);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_true(says(&s, "1 lot declares nothing, beside others that do ('Tussore'): ask the supplier"));
    seen_free(&s);
    s = read_text(all, NULL);
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.says, 0);
    seen_free(&s);
}

static void a_label_with_its_value_in_the_next_cell_heads_the_rows_below(void **state)
{
    (void)state;
    taken(TITLE "Article;MARENGO;;\nComposition;100% wool;;\nColour;navy;Lot;B10\n"
                "Roll;Metres;Width;Kg\n"
                "77120;45.2;150;21\n77121;50.1;150;23\nTotal;95.3;;44\n"
                "Colour;red;Lot;B11\n"
                "77130;48;150;22\n77131;51.25;150;23\nTotal;99.25;;45\n"
                "Article;4410;;\nComposition;55% linen 45% cotton;;\nColour;white;Lot;B98\n"
                "77201;40;150;12\nTotal;40;;12\n",
          NULL,
          "D Kestrel Mill|K 7||\n"
          "L MARENGO|navy|B10|100% wool|title|\n"
          "L MARENGO|red|B11|100% wool|title|\n"
          "L 4410|white|B98|55% linen 45% cotton|title|\n"
          "B 0:77120|45.20|150.0 cm\n"
          "B 0:77121|50.10|150.0 cm\n"
          "B 1:77130|48.00|150.0 cm\n"
          "B 1:77131|51.25|150.0 cm\n"
          "B 2:77201|40.00|150.0 cm\n");
    /* the bolts above add up to it: a total of that lot */
    taken(TITLE "Composition: 100% wool\nFabric: Serge\nRoll;Metres\n1;40\n2;55\nLot;95\n3;50\n", NULL,
          "D Kestrel Mill|K 7||\n"
          "L Serge|||100% wool|title|\n"
          "B 0:1|40.00\nB 0:2|55.00\nB 0:3|50.00\n");
    asked(TITLE "Composition: 100% wool\nFabric: Serge\nRoll;Metres\n1;40\n2;55\nLot;96\n3;50\n", NULL,
          "line 8: 'Lot' with 96.00 m is unlike the other bolts, and not the sum of those above");
}

static void an_abbreviated_label_names_the_article_and_it_is_said(void **state)
{
    struct seen s = read_text("Art. 77 Gabardine;Composition: 100% wool\nSupplier: A;Delivery note: 7\n"
                              "Roll;Metres\n1;50\n",
                              NULL);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_string_equal(s.list.lot[0].article, "77 Gabardine");
    assert_true(says(&s, "line 1: '77 Gabardine' is taken for the article"));
    seen_free(&s);
}

static void a_word_for_a_total_with_one_bolt_and_its_length_is_no_bolt(void **state)
{
    static const char *const from_one =
        TITLE "Fabric: Fresco\nComposition: 100% wool\nColour;Lot;Roll;Metres\n"
              "blue;1;1;45\nblack;2;2;50\nTotal black;;1;50\n";

    (void)state;
    taken(TITLE "Fabric: Fresco\nComposition: 100% wool\nColour;Lot;Roll;Metres;Kg\n"
                "blue;771;3301;45.5;11\n;;3302;44.5;11\nTotal blue;;2;90;22\n"
                "black;772;3303;50;12\nTotal black;;1;50;12\nTOTAL;;3;140;34\n",
          NULL,
          "D Kestrel Mill|K 7||\n"
          "L Fresco|blue|771|100% wool|title|\n"
          "L Fresco|black|772|100% wool|title|\n"
          "B 0:3301|45.50\nB 0:3302|44.50\nB 1:3303|50.00\n");
    /* an article may be called so, but not with the number of a bolt that is there */
    taken(TITLE "Composition: 100% wool\nFabric;Roll;Metres\nTotal Eclipse;31;45\nTotal Eclipse;32;45\n",
          NULL,
          "D Kestrel Mill|K 7||\n"
          "L Total Eclipse|||100% wool|title|\n"
          "B 0:31|45.00\nB 0:32|45.00\n");
    bolts(from_one, NULL, "B 0:1|45.00\nB 1:2|50.00\n");
}

#define SIDES TITLE "Composition: 100% wool\nFabric: Loden\n"

static void tables_side_by_side_have_headings_and_totals_of_their_own(void **state)
{
    static const char *const blocks = SIDES "Colour: fir;;Lot: 12;\n"
                                            "Roll;Metres;Roll;Metres\n"
                                            "1;48.2;4;52.6\n2;59.7;5;51\n3;52.4;;\n"
                                            "Sum;263.9;;\n\n"
                                            "Colour: brown;;Lot: 13;\n"
                                            "Roll;Metres;Roll;Metres\n"
                                            "9;53.1;11;47.7\n;;Sum;100.8\n"
                                            ";;Total;364.7\n";
    struct seen s = read_text(blocks, NULL);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_string_equal(tb_text_str(&s.text), "D Kestrel Mill|K 7||\n"
                                              "L Loden|fir|12|100% wool|title|\n"
                                              "L Loden|brown|13|100% wool|title|\n"
                                              "B 0:1|48.20\nB 0:2|59.70\nB 0:3|52.40\n"
                                              "B 0:4|52.60\nB 0:5|51.00\n"
                                              "B 1:9|53.10\nB 1:11|47.70\n");
    assert_int_equal(s.list.totals, 3);
    assert_int_equal(s.list.says, 0);
    seen_free(&s);
    s = read_text(SIDES "Roll;Metres;Roll;Metres\n1;48.2;4;52.6\n2;59.7;5;51\nTotal;107.9;Total;103.6\n",
                  NULL);
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.totals, 2);
    seen_free(&s);
}

static void each_of_the_tables_side_by_side_may_have_headings_of_its_own(void **state)
{
    (void)state;
    taken(SIDES
          "Roll;Metres;Roll;Metres\nColour: red;;Colour: blue;\nLot: 1;;Lot: 2;\n1;50;3;52\n\n2;51;4;53\n"
          "Total;101;Total;105\n",
          NULL,
          "D Kestrel Mill|K 7||\n"
          "L Loden|red|1|100% wool|title|\nL Loden|blue|2|100% wool|title|\n"
          "B 0:1|50.00\nB 0:2|51.00\nB 1:3|52.00\nB 1:4|53.00\n");
}

static void a_summary_at_the_foot_is_no_more_bolts(void **state)
{
    (void)state;
    asked(TITLE "Fabric;Colour;Lot;Roll;Metres;Composition\n"
                "Twill;sand;A;10;40;100% wool\nTwill;sand;A;11;41;100% wool\nTwill;moss;B;12;42;100% wool\n"
                "Summary;;;;;\nTwill;sand;A;2;81;\nTwill;moss;B;1;42;\nTotal;;;3;123;\n",
          NULL,
          "line 8: 81.00 m is what 2 of the bolts above add up to, and may be a bolt as well; say "
          "--total-line 8 or "
          "--bolt-line 8");
}

static void a_line_of_tables_side_by_side_that_is_no_bolt_is_left_out_by_its_number(void **state)
{
    static const char *const list = SIDES "Roll;Metres;Roll;Metres\n1;48.2;4;52.6\nN 2;;5;51\n";
    const struct tb_line_is line = { "", 7, TB_LINE_TOTAL };
    const struct tb_intake_opts o = { .line = &line, .lines = 1 };

    (void)state;
    bad(list, NULL,
        "X 7 B '': the bolt 'N 2' has no length; if the row is no bolt, --total-line 7 leaves it out");
    bolts(list, &o, "B 0:1|48.20\nB 0:4|52.60\nB 0:5|51.00\n");
}

static void a_row_of_labels_between_tables_heads_the_next_whatever_comes_first(void **state)
{
#define HEADED(one, two)                                                                                     \
    "Article: Twill,,Composition: 100% cotton,\n" one "\nRoll,Colour,Width cm,Metres\n1,Navy,150,40.5\n"     \
    "2,Navy,150,44.5\nTotal,,,85.0\nArticle: Drill,,Composition: 100% linen,\n" two                          \
    "\nRoll,Colour,Width cm,Metres\n3,Navy,140,41.2\n4,Navy,140,39.9\nTotal,,,81.1\n"
#define READ(orders)                                                                                         \
    "D Weaver Inlet|7|" orders "|\nL Twill|Navy|Y11|100% cotton|title|\nL Drill|Navy|Y22|100% linen|title|"  \
    "\nB 0:1|40.50|150.0 cm\nB 0:2|44.50|150.0 cm\nB 1:3|41.20|140.0 cm\nB 1:4|39.90|140.0 cm\n"
    static const struct tb_intake_opts with = { .supplier = "Weaver Inlet", .note = "7" };

    (void)state;
    taken(HEADED("Order: PV-3301,,Lot: Y11,", "Order: PV-3308,,Lot: Y22,"), &with, READ("PV-3301, PV-3308"));
    taken(HEADED("Lot: Y11,,Order: PV-3301,", "Lot: Y22,,Order: PV-3308,"), &with, READ("PV-3301, PV-3308"));
    taken(HEADED("Order:,PV-3301,Lot:,Y11", "Order:,PV-3308,Lot:,Y22"), &with, READ("PV-3301, PV-3308"));
    taken(HEADED("Order,PV-3301,Lot,Y11", "Order,PV-3308,Lot,Y22"), &with, READ("PV-3301, PV-3308"));
    taken(HEADED("Delivery: 1 of 2,,Lot: Y11,", "Delivery: 2 of 2,,Lot: Y22,"), &with, READ(""));
    taken(HEADED("Order: PV-3301,,Lot: Y11,", "Lot: Y22,,,"), &with, READ("PV-3301"));
    /* a total is a total, whatever else its row says */
    bolts("Article: Twill,,Composition: 100% cotton,\nRoll,Colour,Width cm,Metres\n1,Navy,150,40.5\n"
          "Total: 1,,Order: PV-3301,40.5\n",
          &with, "B 0:1|40.50|150.0 cm\n");
#undef HEADED
#undef READ
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_row_of_labels_between_tables_heads_the_next_whatever_comes_first),
        cmocka_unit_test(a_composition_above_a_block_holds_for_its_articles),
        cmocka_unit_test(headings_of_one_block_add_up_in_any_order),
        cmocka_unit_test(a_heading_of_the_colour_and_a_column_of_bands_make_the_colour_together),
        cmocka_unit_test(a_heading_of_the_article_and_a_column_of_designs_make_the_article_together),
        cmocka_unit_test(a_heading_of_the_design_and_a_column_of_articles_make_the_article_together),
        cmocka_unit_test(a_heading_of_a_design_below_an_article_is_no_new_article),
        cmocka_unit_test(designs_without_an_article_are_the_articles),
        cmocka_unit_test(headings_and_a_column_of_the_same_kind_are_asked_about_where_goods_would_be_merged),
        cmocka_unit_test(what_stands_above_a_table_and_no_bolt_has_got_is_said),
        cmocka_unit_test(a_line_break_in_a_name_is_a_space_and_in_declared_words_stays),
        cmocka_unit_test(a_heading_that_names_another_article_ends_the_composition_of_the_one_before),
        cmocka_unit_test(a_lot_that_declares_nothing_beside_others_is_remarked_on),
        cmocka_unit_test(a_label_with_its_value_in_the_next_cell_heads_the_rows_below),
        cmocka_unit_test(an_abbreviated_label_names_the_article_and_it_is_said),
        cmocka_unit_test(a_word_for_a_total_with_one_bolt_and_its_length_is_no_bolt),
        cmocka_unit_test(tables_side_by_side_have_headings_and_totals_of_their_own),
        cmocka_unit_test(each_of_the_tables_side_by_side_may_have_headings_of_its_own),
        cmocka_unit_test(a_summary_at_the_foot_is_no_more_bolts),
        cmocka_unit_test(a_line_of_tables_side_by_side_that_is_no_bolt_is_left_out_by_its_number),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
