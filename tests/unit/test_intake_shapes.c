/* test_intake_shapes.c - lists without header, lengths side by side, bolts without numbers: asked about, then read. */
#include "intake_helper.h"

#define SAID .supplier = "Weaver Inlet", .note = "7"
static const struct tb_intake_opts said = { SAID };

static const char headless[] = "Tkalcovna Lipa\n"
                               "Batyst;ecru;L1;101;48,50;150;100% cotton\n"
                               "Batyst;ecru;L1;102;47,20;150;100% cotton\n"
                               "Batyst;navy;L2;103;51,00;150;100% cotton\n"
                               "Razem;;;;146,70;;\n";

static void a_list_without_header_asks_for_all_its_columns_at_once(void **state)
{
    struct seen s = read_text(headless, &said);

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL);
    assert_int_equal(s.list.questions, 2);
    assert_non_null(strstr(s.list.question[0].ask, "A 'Batyst', B 'ecru', C 'L1', D '101', E '48,50'"));
    assert_string_equal(s.list.question[0].answer[0].option, "columns");
    assert_string_equal(s.list.question[0].answer[0].value, "article,colour,lot,bolt,length,-,composition");
    assert_true(s.list.question[0].proposed);
    assert_string_equal(s.list.question[1].answer[0].option, "unit");
    seen_free(&s);
}

static void columns_that_are_given_are_read_as_a_header_would_say(void **state)
{
    static const struct tb_intake_opts given = { SAID, .length_unit = TB_UNIT_M,
                                                 .columns =
                                                     "article,colour,lot,bolt,length,width,composition" };

    (void)state;
    taken(headless, &given,
          "D Weaver Inlet|7||\nL Batyst|ecru|L1|100% cotton|row|\nL Batyst|navy|L2|100% cotton|row|\n"
          "B 0:101|48.50|150.0 cm\nB 0:102|47.20|150.0 cm\nB 1:103|51.00|150.0 cm\n");
}

static void what_is_no_list_of_columns_is_refused(void **state)
{
    static const struct {
        const char *columns, *why;
    } row[] = { { "article,colour", "it must say where the length stands" },
                { "article,length,length", "--columns names 'length' twice" },
                { "article,bolts,length", "--columns does not know 'bolts'" },
                { "length*,colour", "length* goes to the end of the row; say how many" },
                { "colour,length*0", "does not know 'length*0'" },
                { "length*3,length", "--columns names 'length' twice" } };
    struct tb_intake_opts o = { 0 };
    struct tb_arena mem = { 0 };
    struct tb_err err = { 0 };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        assert_int_equal(tb_intake_answer(&o, "columns", row[i].columns, &mem, &err), TB_EINVAL);
        if (!strstr(err.msg, row[i].why))
            print_error("%s: %s\n", row[i].columns, err.msg);
        assert_non_null(strstr(err.msg, row[i].why));
    }
    assert_int_equal(tb_intake_answer(&o, "columns", "colour, -, length*10, width", &mem, &err), TB_OK);
    tb_arena_free(&mem);
}

static void the_columns_kept_for_a_supplier_are_taken_and_that_is_said(void **state)
{
    static const struct tb_columns_of kept[] = { { "Another Mill", "bolt,length" },
                                                 { "WEAVER  Inlet",
                                                   "article,colour,lot,bolt,length,width,composition" } };
    static const struct tb_intake_opts o = { SAID, .length_unit = TB_UNIT_M, .kept = kept, .kepts = 2 };
    struct seen s = read_text(headless, &o);

    (void)state;
    if (s.rc != TB_OK)
        print_error("%s\n", s.err.msg);
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.bolts, 3);
    assert_true(says(&s, "its columns are taken as those of 'Weaver Inlet' are kept"));
    seen_free(&s);
    /* a list that has a header is read by it */
    s = read_text("Article,Roll,Length m,Composition\nQ,1,50,100% wool\n", &o);
    assert_int_equal(s.rc, TB_OK);
    assert_false(says(&s, "are kept"));
    seen_free(&s);
}

/* --- lengths side by side ------------------------------------------------------------------------------------------ */

static const char wide[] = "Article;Colour;Lot;1;2;3;4;5;Total m\n"
                           "Poplin;navy;A1;50,2;49,8;51,0;50,0;48,3;249,3\n"
                           "Poplin;ecru;A2;48,1;52,2;50,5;;;150,8\n"
                           "Total;;;98,3;102,0;101,5;50,0;48,3;400,1\n";
static const char narrow[] = "Lot G7\n50.2,49.8,51.0,50.0\n48.1,52.2,50.5,49.9\nTotal 401.7\n";

static void lengths_side_by_side_are_seen_and_asked_about(void **state)
{
    struct seen s = read_text(wide, &said);

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL);
    assert_string_equal(s.list.question[0].answer[0].option, "columns");
    assert_string_equal(s.list.question[0].answer[0].value, "article,colour,lot,length*5,total");
    seen_free(&s);
    s = read_text("Colour;1;2;3;Pcs;Metres\necru;50,1;49,8;;2;99,9\nblack;48,2;47,9;50,0;3;146,1\n", &said);
    assert_string_equal(s.list.question[0].answer[0].value, "colour,length*3,-,total");
    seen_free(&s);
    s = read_text(narrow, &said);
    assert_int_equal(s.rc, TB_EINVAL);
    assert_string_equal(s.list.question[0].answer[0].value, "length*4");
    seen_free(&s);
}

static void each_of_lengths_side_by_side_is_a_bolt_with_a_number_of_the_program(void **state)
{
    static const struct tb_intake_opts row = { SAID, .length_unit = TB_UNIT_M, .declared = "",
                                               .columns = "article,colour,lot,length*5" },
                                       block = { SAID, .length_unit = TB_UNIT_M, .declared = "",
                                                 .article = "Sateen", .columns = "length*4" };

    (void)state;
    taken(wide, &row,
          "D Weaver Inlet|7||\nL Poplin|navy|A1||option|\nL Poplin|ecru|A2||option|\n"
          "B 0:T1|50.20\nB 0:T2|49.80\nB 0:T3|51.00\nB 0:T4|50.00\nB 0:T5|48.30\n"
          "B 1:T6|48.10\nB 1:T7|52.20\nB 1:T8|50.50\n");
    bolts(narrow, &block,
          "B 0:T1|50.20\nB 0:T2|49.80\nB 0:T3|51.00\nB 0:T4|50.00\n"
          "B 0:T5|48.10\nB 0:T6|52.20\nB 0:T7|50.50\nB 0:T8|49.90\n");
}

static void lengths_side_by_side_are_held_to_the_sum_behind_them(void **state)
{
    static const struct tb_intake_opts o = { SAID, .length_unit = TB_UNIT_M, .declared = "", .article = "Rib",
                                             .columns = "colour,length*3,total" };
    struct seen s = read_text(
        "Rib 2: 95% cotton\nsage;30,5;31,0;;61,5\nwine;28,4;30,0;30,2;88,6\n;;;5 rolls;150,1\n", &o);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.bolts, 5);
    assert_int_equal(s.list.totals, 3);
    seen_free(&s);
    bad("sage;30,5;31,0;;61,5\nwine;28,4;30,0;30,2;98,6\n", &o,
        "X 2 row '': its lengths add up to 88.60 m, and its total says 98.60 m");
}

static void a_total_among_lengths_side_by_side_is_asked_about_and_never_a_bolt(void **state)
{
    static const char list[] = "50,2;49,8;51,0;151,0\n48,1;52,2;50,5;150,8\n";
    struct tb_intake_opts o = { SAID, .length_unit = TB_UNIT_M, .declared = "", .article = "Sateen",
                                .columns = "length*4" };
    static const struct tb_line_is total[] = { { "", 1, true }, { "", 2, true } };
    struct seen s = read_text(list, &o);

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL);
    assert_int_equal(s.list.questions, 2);
    assert_string_equal(s.list.question[0].answer[0].option, "total-line");
    seen_free(&s);
    o.line = total;
    o.lines = 2;
    bolts(list, &o, "B 0:T1|50.20\nB 0:T2|49.80\nB 0:T3|51.00\nB 0:T4|48.10\nB 0:T5|52.20\nB 0:T6|50.50\n");
}

/* --- bolts without numbers ------------------------------------------------------------------------------------------ */

static const char nameless[] = "Article;Colour;Length (m);Composition\nPoplin;navy;50,2;100% cotton\n"
                               "Poplin;navy;49,8;100% cotton\nPoplin;ecru;51,0;100% cotton\nTotal;;151,0;\n";

static void bolts_without_numbers_are_given_some_when_somebody_says_so(void **state)
{
    static const struct tb_intake_opts o = { SAID, .without = (uint64_t)1 << TB_FIELD_BOLT };
    struct seen s = read_text(nameless, &said);

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL);
    assert_int_equal(s.list.questions, 1);
    assert_string_equal(s.list.question[0].answer[0].option, "without");
    assert_string_equal(s.list.question[0].answer[0].value, "bolt-numbers");
    seen_free(&s);
    s = read_text(nameless, &o);
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.totals, 1);
    assert_true(says(&s, "3 bolts have no number and are called T1, T2 ... here"));
    seen_free(&s);
    bolts(nameless, &o, "B 0:T1|50.20\nB 0:T2|49.80\nB 1:T3|51.00\n");
}

static void one_bolt_without_a_number_among_others_gets_one_that_is_free(void **state)
{
    static const char list[] = "Article,Roll,Length m,Composition\nQ,T1,50,100% wool\nQ,T2,41,100% wool\n"
                               "Q,,47.5,100% wool\n";
    static const struct tb_line_is is[] = { { "", 4, false } };
    struct tb_intake_opts o = { SAID };

    (void)state;
    asked(list, &o, "if it is a bolt without a number, say --bolt-line 4");
    o.line = is;
    o.lines = 1;
    bolts(list, &o, "B 0:T1|50.00\nB 0:T2|41.00\nB 0:T3|47.50\n");
}

static void a_length_that_may_be_a_total_of_unnumbered_bolts_is_asked_about(void **state)
{
    static const struct tb_intake_opts o = { SAID, .without = (uint64_t)1 << TB_FIELD_BOLT };

    (void)state;
    asked("Article,Length m,Composition\nQ,50,100% wool\nQ,41,100% wool\nQ,91,100% wool\n", &o,
          "line 4: 91.00 m is what 2 of the bolts above add up to");
    asked("Article,Length m,Composition\nQ,50,100% wool\nQ,41,100% wool\nQ,92.5,100% wool\n", &o,
          "line 4: 92.50 m is unlike the bolts above, and not their sum");
    bolts("Article,Length m,Composition\nQ,50,100% wool\nQ,41,100% wool\n,91,\n", &o,
          "B 0:T1|50.00\nB 0:T2|41.00\n");
}

/* --- several headings in one cell ------------------------------------------------------------------------------------ */

static void several_headings_in_one_cell_are_told_apart_by_their_labels(void **state)
{
    static const char blocks[] = "Roll,Length m\n\"Art. 4410 / Navy / Lot 7731 100% cotton\",\n1,50\n2,51\n"
                                 "\"Art. 4411 / Lot 7740 60% cotton / 40% linen\",\n3,52\n";
    static const char column[] =
        "Article,Roll,Length m\n\"Art. 4410 / Colour navy / Lot 7731 100% cotton\",1,50\n"
        "\"Art. 4410 / Colour ecru / Lot 7732 100% cotton\",2,51\n";
    struct seen s = read_text(blocks, &said);

    (void)state;
    if (s.rc != TB_OK)
        print_error("%s\n%s", s.err.msg, tb_text_str(&s.text));
    assert_int_equal(s.rc, TB_OK);
    assert_string_equal(s.text.s, "D Weaver Inlet|7||\nL 4410|Navy|7731|100% cotton|title|\n"
                                  "L 4411||7740|60% cotton / 40% linen|title|\n"
                                  "B 0:1|50.00\nB 0:2|51.00\nB 1:3|52.00\n");
    assert_true(says(&s, "line 2: 'Navy' is taken for the colour"));
    seen_free(&s);
    taken(column, &said,
          "D Weaver Inlet|7||\nL 4410|navy|7731|100% cotton|row|\nL 4410|ecru|7732|100% cotton|row|\n"
          "B 0:1|50.00\nB 1:2|51.00\n");
}

static void headings_in_one_cell_that_cannot_be_told_apart_are_not_guessed(void **state)
{
    (void)state;
    bad("Roll,Length m\n\"Art. 4410 / Navy / Dull / Lot 7731 100% cotton\",\n1,50\n", &said,
        "several headings in one cell, which cannot be told apart");
    bad("Article,Roll,Length m\n\"Art. 4410 / Navy / Dull / Lot 7731\",1,50\n",
        &(struct tb_intake_opts){ SAID, .declared = "" }, "several headings in one cell");
    /* a name with a slash in it is a name */
    bolts("Article,Roll,Length m,Composition\nNavy / White stripe,1,50,100% wool\n", &said, "B 0:1|50.00\n");
}

/* --- a header inside the list ------------------------------------------------------------------------------- */
#define INSIDE                                                                                               \
    "Supplier,Amble Cloth,,,\nRoll,Article,Colour,%s,Composition\n"                                          \
    "1,Twill,navy,50.5,100%% cotton\n2,Twill,navy,51.5,100%% cotton\n%s"

/* The list with that word for its lengths and those rows below its first two bolts gives these bolts and bad rows. */
static void inside(const char *length, const char *rows, const char *lines)
{
    struct tb_text t = { 0 };

    tb_text_addf(&t, INSIDE, length, rows);
    bolts(tb_text_str(&t), &(struct tb_intake_opts){ .note = "S1" }, lines);
    tb_text_free(&t);
}

/* 60 yd = 54.864 m, 62 yd = 56.6928 m (1 yd = 0.9144 m, 1959). */
static void a_header_with_yards_below_metres_is_read_in_yards(void **state)
{
    (void)state;
    inside("Metres",
           ",,,102.0,\n,,,,\nRoll,Article,Colour,Yards,Composition\n3,Satin,rose,60,100% silk\n"
           "4,Satin,rose,62,100% silk\n",
           "B 0:1|50.50\nB 0:2|51.50\nB 1:3|54.86|60 yd\nB 1:4|56.69|62 yd\n");
    inside("Length (m)",
           ",,,,\nRoll,Article,Colour,Length (yds),Composition\n3,Satin,rose,60,100% silk\n"
           "4,Satin,rose,62,100% silk\n",
           "B 0:1|50.50\nB 0:2|51.50\nB 1:3|54.86|60 yd\nB 1:4|56.69|62 yd\n");
}

static void a_header_with_columns_changed_over_is_read_by_its_own_columns(void **state)
{
    struct seen s;
    struct tb_text t = { 0 };

    (void)state;
    tb_text_addf(&t, INSIDE, "Metres", "Roll,Colour,Article,Metres,Composition\n3,rose,Satin,60,100% silk\n");
    s = read_text(tb_text_str(&t), &(struct tb_intake_opts){ .note = "S1" });
    assert_int_equal(s.rc, TB_OK);
    assert_non_null(strstr(tb_text_str(&s.text), "L Satin|rose||100% silk|row|\n"));
    assert_null(strstr(tb_text_str(&s.text), "L rose|"));
    seen_free(&s);
    tb_text_free(&t);
}

static void the_same_header_inside_a_list_is_passed_over_in_any_case_of_its_letters(void **state)
{
    (void)state;
    inside("Metres", "ROLL,Article,Colour,METRES,Composition,Page 2\n3,Satin,rose,60,100% silk\n",
           "B 0:1|50.50\nB 0:2|51.50\nB 1:3|60.00\n");
}

static void a_header_with_kilograms_below_metres_is_read_in_kilograms(void **state)
{
    static const char *const words[] = { "Net kg", "N.W. (kg)" };
    struct tb_intake_opts o = { .note = "S1" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(words); i++) {
        struct tb_text t = { 0 }, rows = { 0 };
        struct seen s;

        tb_text_addf(&rows, "Roll,Article,Colour,%s,Composition\n3,Jersey,rose,20.5,100%% silk\n", words[i]);
        tb_text_addf(&t, INSIDE, "Metres", tb_text_str(&rows));
        s = read_text(tb_text_str(&t), &o);
        assert_int_equal(s.rc, TB_OK);
        assert_int_equal(s.list.bolts, 3);
        assert_float_equal(s.list.bolt[0].metres, 50.5, 1e-9);
        assert_true(isnan(s.list.bolt[2].metres));
        assert_float_equal(s.list.bolt[2].kg, 20.5, 1e-5);
        seen_free(&s);
        tb_text_free(&rows);
        tb_text_free(&t);
    }
}

/* A unit that stands again says nothing new; another one would make yards of metres, unless a person knows better. */
static void a_row_of_another_unit_inside_a_list_is_refused_with_its_line(void **state)
{
    static const char *const list = "roll no,length,width\n,m,cm\n1,10,150\n,%s,\n2,20,150\n";
    struct tb_line_is line = { .sheet = "", .line = 4, .kind = TB_LINE_TOTAL };
    struct tb_intake_opts o = { .supplier = "M", .note = "1", .article = "A", .declared = "" };
    struct tb_text t = { 0 };

    (void)state;
    tb_text_addf(&t, list, "(m)");
    bolts(tb_text_str(&t), &o, "B 0:1|10.00|150.0 cm\nB 0:2|20.00|150.0 cm\n");
    tb_text_clear(&t);
    tb_text_addf(&t, list, "yd");
    bad(tb_text_str(&t), &o,
        "X 4 row '': this looks like a header, but its columns or units are not those of line 1. Write a "
        "whole "
        "header there, with its units; or say --total-line 4 if the columns and units stay the same");
    o.line = &line;
    o.lines = 1;
    bolts(tb_text_str(&t), &o, "B 0:1|10.00|150.0 cm\nB 0:2|20.00|150.0 cm\n");
    tb_text_free(&t);
}

/* Its word for the length is unknown, so that it is no table; its bolts are not read by the columns above. */
static void a_header_inside_a_list_that_is_no_table_is_refused(void **state)
{
    (void)state;
    bad("roll no,metres,colour,article\n1,10,red,Q\nroll no,xyzzy,article,colour\n2,20,Q,red\n",
        &(struct tb_intake_opts){ .supplier = "M", .note = "1", .declared = "" },
        "X 3 row '': this looks like a header, but its columns or units are not those of line 1.");
}

#define SIDE_BY_SIDE                                                                                         \
    "Article: Drill\nColour: ecru\nLot: 44\nComposition: 100% "                                              \
    "cotton\nRoll,Metres,,Roll,Metres,,Roll,Metres\n"                                                        \
    "601,50,,604,52.5,,607,30\n602,49,,605,51,,,\n603,50.5,,606,48,,,\n"

/* Each sum stands under its own table, and the count of all of them under the first. */
static void totals_under_tables_side_by_side_agree_with_them(void **state)
{
    static const struct tb_intake_opts mill = { .supplier = "Mill", .note = "7", .day = "2026-09-14" };
    struct seen s =
        read_text(SIDE_BY_SIDE "Total,149.5,,,151.5,,,30\nGrand total: 7 pieces,,,,,,,331\n", &mill);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.bolts, 7);
    assert_int_equal(s.list.totals, 4);
    assert_false(says(&s, "the total"));
    seen_free(&s);
    /* a wrong one is said all the same */
    s = read_text(SIDE_BY_SIDE "Total,149.5,,,151.5,,,30\nGrand total: 8 pieces,,,,,,,331\n", &mill);
    assert_int_equal(s.list.bolts, 7);
    assert_true(says(&s, "the total counts 8 bolts, above it there are 7"));
    seen_free(&s);
    s = read_text(SIDE_BY_SIDE "Total,149.5,,,151.5,,,30\nGrand total: 7 pieces,,,,,,,330\n", &mill);
    assert_int_equal(s.list.totals, 3);
    assert_true(s.rc != TB_OK || says(&s, "a difference of"));
    seen_free(&s);
    /* a length without a number and without a word stays a question */
    asked(SIDE_BY_SIDE "608,40,,609,41,,,30\n", &mill, "30.00 m");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_header_with_yards_below_metres_is_read_in_yards),
        cmocka_unit_test(a_header_with_kilograms_below_metres_is_read_in_kilograms),
        cmocka_unit_test(a_row_of_another_unit_inside_a_list_is_refused_with_its_line),
        cmocka_unit_test(a_header_inside_a_list_that_is_no_table_is_refused),
        cmocka_unit_test(a_header_with_columns_changed_over_is_read_by_its_own_columns),
        cmocka_unit_test(the_same_header_inside_a_list_is_passed_over_in_any_case_of_its_letters),
        cmocka_unit_test(a_list_without_header_asks_for_all_its_columns_at_once),
        cmocka_unit_test(columns_that_are_given_are_read_as_a_header_would_say),
        cmocka_unit_test(what_is_no_list_of_columns_is_refused),
        cmocka_unit_test(the_columns_kept_for_a_supplier_are_taken_and_that_is_said),
        cmocka_unit_test(lengths_side_by_side_are_seen_and_asked_about),
        cmocka_unit_test(each_of_lengths_side_by_side_is_a_bolt_with_a_number_of_the_program),
        cmocka_unit_test(lengths_side_by_side_are_held_to_the_sum_behind_them),
        cmocka_unit_test(a_total_among_lengths_side_by_side_is_asked_about_and_never_a_bolt),
        cmocka_unit_test(bolts_without_numbers_are_given_some_when_somebody_says_so),
        cmocka_unit_test(one_bolt_without_a_number_among_others_gets_one_that_is_free),
        cmocka_unit_test(several_headings_in_one_cell_are_told_apart_by_their_labels),
        cmocka_unit_test(headings_in_one_cell_that_cannot_be_told_apart_are_not_guessed),
        cmocka_unit_test(a_length_that_may_be_a_total_of_unnumbered_bolts_is_asked_about),
        cmocka_unit_test(totals_under_tables_side_by_side_agree_with_them),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
