/*
 * test_intake_cells.c - every cell of a list has gone somewhere: into the book, into a column that is left out by name, or into a
 * sentence; and a row whose cells are not those of its columns is asked about.
 */
#include "intake_helper.h"

#define HEADER "Roll;Article;Colour;Lot;Composition;Gross metres;Metres;Kg\n"
#define ROWS                                                                                                 \
    "4401;Twill;sand;P1;100% wool;41.2;40.5;12.1\n4402;Twill;sand;P1;100% wool;52.3;51.5;15.4\n"             \
    "4403;Twill;navy;P2;100% wool;47.2;46.4;13.9\n4404;Twill;navy;P2;100% wool;39.9;39.0;11.7\n"

#define ROWS_AGAIN "4401;Twill;navy;P2;100% wool;41.2;40.5;12.1\n"

static const struct tb_intake_opts given = { .supplier = "Kestrel Mill", .note = "K 7" };

static void a_row_with_a_cell_too_many_and_one_too_few_is_asked_about(void **state)
{
    static const struct {
        const char *row, *part;
    } moved[] = {
        /* the colour is missing, a length stands twice */
        { "4405;Twill;P2;100% wool;44.1;44.1;43.3;12.9\n", "'44.1' under 'Gross metres'" },
        { "4405;Twill;navy;P2;100% wool;43.3;43.3;12.9\n", "'43.3' under 'Metres'" },
        /* the gross length is missing: the net one would be the kilograms */
        { "4405;Twill;navy;P2;100% wool;43.3;12.9;\n", "nothing stands under 'Kg'" },
        /* a forgotten lot is not that of the row above without a question */
        { "4405;Twill;navy;;100% wool;44.1;43.3;12.9\n", "nothing stands under 'Lot'" },
        { "4405;Twill;navy;P2;100%;44.1;43.3;12.9\n", "'100%' under 'Composition'" },
        { "4405;Twill;navy;12.9;100% wool;44.1;43.3;12.9\n", "'12.9' under 'Lot'" },
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(moved); i++) {
        char text[800];

        (void)snprintf(text, sizeof text, "%s%s", HEADER ROWS, moved[i].row);
        asked(text, &given, moved[i].part);
    }
}

static void a_person_may_say_that_such_a_row_is_right(void **state)
{
    const struct tb_line_is right = { "", 6, TB_LINE_BOLT };
    struct tb_intake_opts o = given;
    struct seen s;

    (void)state;
    o.line = &right;
    o.lines = 1;
    s = read_text(HEADER ROWS "4405;Twill;navy;;100% wool;44.1;43.3;12.9\n", &o);
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.bolts, 5);
    assert_string_equal(s.list.lot[s.list.bolt[4].lot].dye_lot, "P2");
    seen_free(&s);
}

static void few_bolts_and_lists_that_leave_out_what_stands_above_show_no_habit(void **state)
{
    (void)state;
    bolts("Roll;Article;Colour;Lot;Composition;Metres\n"
          "1;Twill;sand;P1;100% wool;40.5\n2;;;;;51.5\n3;;;;;46.4\n4;;navy;P2;;39\n5;;;;;43.3\n6;;;;;43.9\n",
          &given, "B 0:1|40.50\nB 0:2|51.50\nB 0:3|46.40\nB 1:4|39.00\nB 1:5|43.30\nB 1:6|43.90\n");
    bolts("Roll;Article;Lot;Composition;Metres\n1;Twill;P1;100% wool;40.5\n2;Twill;771;100% wool;51.5\n",
          &given, "B 0:1|40.50\nB 1:2|51.50\n");
}

static void a_cell_behind_tables_side_by_side_is_refused(void **state)
{
    (void)state;
    bad("Article: Twill\nComposition: 100% wool\nRoll;Metres;Roll;Metres\n1;40.5;3;46.4\n2;51;5;4;39\n",
        &given, "X 5 row '': '39' stands behind the last of the tables side by side");
}

static void a_total_under_no_length_is_held_to_the_bolts(void **state)
{
    struct seen s = read_text(HEADER ROWS ";;177.40;;;;;\n", &given);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.totals, 1);
    seen_free(&s);
    asked(HEADER ROWS ";;187.40;;;;;\n", &given, "'187.40' may be a total, and stands under no length");
    asked(HEADER ROWS "Total;;187.40;;;;;\n", &given, "'187.40' may be a total, and stands under no length");
}

static void a_row_that_is_half_a_bolt_is_asked_about(void **state)
{
    (void)state;
    asked(HEADER ROWS "Twill;navy;P2;100% wool;41.2;40.5;;12.1\n", &given,
          "stands in a row without a bolt number");
}

#define CARRIED                                                                                              \
    "Article;Colour;Lot;Composition;Roll;Metres\nMolton;zwart;K-55;100% cotton;2201;40.5\n;;;;2202;39.2\n"

/* Between bolts that take what stands above, words alone may name the bolts below, or say something of those above. */
static void words_alone_between_bolts_are_asked_about(void **state)
{
    static const char *const remark[] = {
        "Let op: rol 2202 heeft een naad op 14 m.;;;;;\n",
        ";next roll slightly lighter;;;;\n",
        ";;Let op: naad op 14 m;;;\n",
        "*** roll 2203 second quality ***;;;;;\n",
        "join at 14 m;;;;;\n",
        ";see below;;;;\n",
    };
    struct tb_line_is what = { "", 4, TB_LINE_TOTAL };
    struct tb_intake_opts o = given;

    (void)state;
    o.line = &what;
    o.lines = 1;
    for (size_t i = 0; i < TB_COUNT(remark); i++) {
        char text[400];

        (void)snprintf(text, sizeof text, "%s%s;;;;2203;41\n", CARRIED, remark[i]);
        asked(text, &given, "if it is a remark");
        what.kind = TB_LINE_TOTAL;
        taken(text, &o,
              "D Kestrel Mill|K 7||\nL Molton|zwart|K-55|100% cotton|row|\n"
              "B 0:2201|40.50\nB 0:2202|39.20\nB 0:2203|41.00\n");
    }
    what.kind = TB_LINE_HEADING;
    taken(CARRIED ";rood;;;;\n;;;;2203;41\n", &o,
          "D Kestrel Mill|K 7||\nL Molton|zwart|K-55|100% cotton|row|\nL Molton|rood|K-55|100% cotton|row|\n"
          "B 0:2201|40.50\nB 0:2202|39.20\nB 1:2203|41.00\n");
    /* below the last bolt it heads nothing, and a list whose headings stand alone from the first is read as before */
    taken(CARRIED "Thank you;;;;;\n", &given,
          "D Kestrel Mill|K 7||\nL Molton|zwart|K-55|100% cotton|row|\nB 0:2201|40.50\nB 0:2202|39.20\n");
    taken("Article: Molton\nComposition: 100% "
          "cotton\nColour;Roll;Metres\nzwart;;\n;2201;40.5\nrood;;\n;2202;39\n",
          &given,
          "D Kestrel Mill|K 7||\nL Molton|zwart||100% cotton|title|\nL Molton|rood||100% cotton|title|\n"
          "B 0:2201|40.50\nB 1:2202|39.00\n");
}

static void the_number_of_a_page_is_no_bolt(void **state)
{
    static const char *const page[] = { "Seite 2/2", "Page 2 of 3", "str. 2" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(page); i++) {
        char text[700];

        (void)snprintf(text, sizeof text,
                       "%s%s;Weberei Aue;;;;;;\n4405;Twill;navy;P2;100%% wool;44.1;43.3;12.9\n",
                       HEADER ROWS_AGAIN, page[i]);
        bolts(text, &given, "B 0:4401|40.50\nB 0:4405|43.30\n");
    }
}

static void labels_at_the_foot_of_a_grid_are_no_lengths(void **state)
{
    const struct tb_line_is left_out = { "", 3, TB_LINE_TOTAL };
    struct tb_intake_opts o = given;

    (void)state;
    o.columns = "colour,lot,length*3,total";
    o.length_unit = TB_UNIT_M;
    o.article = "Twill";
    o.declared = "";
    bolts("red;L1;40.5;41;39.5;121\nblue;L2;40;41;;81\nMade by: Wang;;Checked by:;;;\n", &o,
          "B 0:T1|40.50\nB 0:T2|41.00\nB 0:T3|39.50\nB 1:T4|40.00\nB 1:T5|41.00\n");
    o.line = &left_out;
    o.lines = 1;
    bolts("red;L1;40.5;41;39.5;121\nblue;L2;40;41;;81\nxyz;;see below;;;\n", &o,
          "B 0:T1|40.50\nB 0:T2|41.00\nB 0:T3|39.50\nB 1:T4|40.00\nB 1:T5|41.00\n");
}

static void cells_of_a_column_without_a_header_are_told(void **state)
{
    struct tb_intake_opts o = given;
    struct seen s;

    (void)state;
    o.columns = "bolt,article,composition,length";
    o.length_unit = TB_UNIT_M;
    s = read_text("1;Twill;100% wool;40.5;9\n2;Twill;100% wool;51.5;8\n3;Twill;100% wool;46.4;7\n", &o);
    assert_int_equal(s.rc, TB_OK);
    assert_true(says(&s, "not read: 3 cells of column E, which has no field (the first '9' on line 1)"));
    seen_free(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_row_with_a_cell_too_many_and_one_too_few_is_asked_about),
        cmocka_unit_test(a_person_may_say_that_such_a_row_is_right),
        cmocka_unit_test(few_bolts_and_lists_that_leave_out_what_stands_above_show_no_habit),
        cmocka_unit_test(a_cell_behind_tables_side_by_side_is_refused),
        cmocka_unit_test(a_total_under_no_length_is_held_to_the_bolts),
        cmocka_unit_test(a_row_that_is_half_a_bolt_is_asked_about),
        cmocka_unit_test(words_alone_between_bolts_are_asked_about),
        cmocka_unit_test(the_number_of_a_page_is_no_bolt),
        cmocka_unit_test(labels_at_the_foot_of_a_grid_are_no_lengths),
        cmocka_unit_test(cells_of_a_column_without_a_header_are_told),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
