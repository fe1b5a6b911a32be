/* test_intake_open.c - what stands in a list and under no header or label: it is read, or asked about, and never lost. */
#include "intake_helper.h"

#define SAID .supplier = "Weaver Inlet", .note = "7"
static const struct tb_intake_opts said = { SAID };

/* The likely answer of the first question with that option; "": none asks for it, or none of its answers is likely. */
static const char *likely(const struct seen *s, const char *option)
{
    for (size_t i = 0; i < s->list.questions; i++)
        if (strcmp(s->list.question[i].answer[0].option, option) == 0 && !s->list.question[i].open)
            return s->list.question[i].answer[0].value;
    return "";
}

static void likely_is(const char *list, const char *option, const char *value)
{
    struct seen s = read_text(list, &said);

    if (strcmp(likely(&s, option), value) != 0)
        print_error("%s", list);
    assert_string_equal(likely(&s, option), value);
    seen_free(&s);
}

/* ---- compositions ------------------------------------------------------------------------------------------- */

static void a_column_that_no_row_fills_on_paper_is_asked_about(void **state)
{
    static const char *const list =
        "Supplier: Kestrel Mill\nPacking list no.: K 7\nComposition: 100% cotton\n"
        "Article        Color     Dye lot   Roll no   Metres\n"
        "CC-540 DuckBlack         L1        1         50.5\n"
        "CC-540 DuckStone         L2        2         49.5\n"
        "CC-540 DuckStone         L2        3         48.5\n";
    const struct tb_header_word none = { "Color", TB_FIELD_IGNORE };
    const struct tb_intake_opts o = { .word = &none, .words = 1 };
    struct seen s = read_text(list, &o);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    seen_free(&s);
    asked(list, NULL, "no row fills the column 'Color'");
    bolts("Supplier;Mill\nPacking list no.;7\nComposition;100% cotton\nArticle;Color;Roll "
          "no;Metres\nDuck;;1;50.5\n",
          NULL, "B 0:1|50.50\n"); /* a cell of a spreadsheet holds what is its own */
}

static void a_column_with_compositions_is_the_composition_whatever_its_header(void **state)
{
    static const char *const head[] = { "Details", "CONT", "Remarks", "Quality" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(head); i++) {
        struct tb_text t = { 0 };

        tb_text_addf(&t, "Roll,Article,Length m,%s\n1,Twill,50,100%% linen\n2,Twill,51,100%% linen\n",
                     head[i]);
        taken(tb_text_str(&t), &said,
              "D Weaver Inlet|7||\nL Twill|||100% linen|row|\nB 0:1|50.00\nB 0:2|51.00\n");
        tb_text_free(&t);
    }
    /* a word for the article gives way where its column holds compositions and nothing else */
    taken("Rolle,Bezeichnung,Farbe,Meter,Qualität\n1,Lein Edda,natur,25,100% Leinen\n", &said,
          "D Weaver Inlet|7||\nL Lein Edda|natur||100% Leinen|row|\nB 0:1|25.00\n");
}

static void a_word_for_the_composition_over_names_gives_way_to_the_column_that_declares(void **state)
{
    (void)state;
    taken("Číslo kusu,Materiál,Délka m,Složení\n1,Hladké,75,100 % bavlna\n", &said,
          "D Weaver Inlet|7||\nL Hladké|||100 % bavlna|row|\nB 0:1|75.00\n");
}

static void face_and_back_declare_together(void **state)
{
    (void)state;
    taken("Roll,Article,Length m,Face,Back\n1,Bonded,50,100% polyester,100% cotton\n", &said,
          "D Weaver Inlet|7||\nL Bonded|||Face: 100% polyester; Back: 100% cotton|row|\nB 0:1|50.00\n");
}

static void a_composition_in_the_cell_of_the_article_declares(void **state)
{
    (void)state;
    taken("Roll,Article,Length m\n1,Satin Mira - 100% viscose,50\n", &said,
          "D Weaver Inlet|7||\nL Satin Mira - 100% viscose|||100% viscose|row|\nB 0:1|50.00\n");
}

static void a_composition_above_or_below_all_bolts_is_the_likely_declaration(void **state)
{
    (void)state;
    likely_is("Satin Mira 100% Viskose\nRolle,Artikel,Meter\n1,Mira,50\n", "declared", "100% Viskose");
    likely_is("Roll,Article,Length m\n1,Twill,50\nAll goods: 100% linen. Width 150 cm.,,\n", "declared",
              "100% linen");
    likely_is("Roll,Article,Length m\n1,Twill,50\nComposition: 100% linen,,\n", "declared", "100% linen");
    likely_is("Roll,Article,Length m\n1,Twill,50\n", "declared", "");
}

static void of_two_compositions_or_one_between_the_bolts_none_is_likely(void **state)
{
    static const char *const list[] = {
        "Twill 100% cotton, voile 100% silk as marked\nRoll,Article,Length m\n1,Twill,50\n,from here on 100% "
        "silk,\n2,Voile,51\n",
        "Roll,Article,Length m\n1,Twill,50\nfrom here on 100% silk,,\n2,Voile,51\n"
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(list); i++) {
        struct seen s = read_text(list[i], &said);

        assert_int_equal(s.rc, TB_EINVAL);
        assert_int_equal(s.list.questions, 1);
        assert_true(s.list.question[0].open);
        assert_false(s.list.tried);
        seen_free(&s);
    }
}

static void labelled_headings_in_one_cell_give_each_its_part(void **state)
{
    static const char *const cell[] = { "Quality: Poplin 40s / Shade: Ivory / Lot: 771 / 100% Cotton",
                                        "Poplin 40s / Shade: Ivory / Lot: 771 / 100% Cotton",
                                        "Quality: Poplin 40s Shade: Ivory Lot: 771 100% Cotton" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(cell); i++) {
        struct tb_text t = { 0 };

        tb_text_addf(&t, "Roll,Particulars,Mtrs\n,%s,\n1,,98.50\n", cell[i]);
        taken(tb_text_str(&t), &said,
              "D Weaver Inlet|7||\nL Poplin 40s|Ivory|771|100% Cotton|title|\nB 0:1|98.50\n");
        tb_text_free(&t);
    }
}

/* ---- dates in titles ---------------------------------------------------------------------------------------- */

/* Under a title of that kind the note has this day, the list being given the likely answers. */
static void dated(const char *title, const char *day)
{
    struct tb_text t = { 0 };
    struct seen s;

    tb_text_addf(&t, "%s\nRoll;Article;Length m;Composition\n1;Twill;50;100%% wool\n", title);
    s = read_text(tb_text_str(&t), &said);
    if (!s.list.deliveries || strcmp(s.list.delivery[0].day, day) != 0)
        print_error("%s: %s\n", title, s.err.msg);
    assert_true(s.rc == TB_OK || s.list.tried);
    assert_string_equal(s.list.delivery[0].day, day);
    tb_text_free(&t);
    seen_free(&s);
}

/* Month names: memory. */
static void a_date_in_a_title_is_never_lost(void **state)
{
    (void)state;
    dated("Specyfikacja wysyłkowa nr 118/2026 z dnia 3 września 2026", "2026-09-03");
    dated("Tissages de Loire;Bordereau de livraison n° BL 26/0447;;le 17/09/2026", "2026-09-17");
    dated("D.D.T. n. 2291 del 16/09/2026", "2026-09-16");
    dated("Weberei Hollerbach KG, Lieferschein 5512 vom 17.09.2026", "2026-09-17");
    dated("Invoice No.: SM/26-27/0091 dt. 24.09.2026", "2026-09-24");
    dated("Kelt: 2026. szeptember 11.", "2026-09-11");
    dated("Стокова разписка № 903 / 20.09.2026 г.", "2026-09-20");
    dated("出荷日 2026年9月20日", "2026-09-20");
    dated("2026년 9월 20일", "2026-09-20");
    dated("Važtaraštis, 2026 m. rugsėjo 18 d.", "2026-09-18");
    dated("Lähete 6621, 28. syyskuuta 2026", "2026-09-28");
    dated("Date: Friday, 11 September 2026", "2026-09-11");
    /* parts of other numbers are no dates */
    dated("Order A12/3/2026-B, tel. 20260915", "");
}

static void of_two_dates_in_a_title_none_is_likely(void **state)
{
    struct seen s = read_text("Printed 20.09.2026\nShipped 17.09.2026\nRoll;Article;Length m;Composition\n"
                              "1;Twill;50;100% wool\n",
                              &said);

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL);
    assert_int_equal(s.list.questions, 1);
    assert_true(s.list.question[0].open);
    assert_string_equal(s.list.question[0].answer[0].value, "2026-09-20");
    assert_string_equal(s.list.question[0].answer[1].value, "2026-09-17");
    seen_free(&s);
}

/* ---- columns that could be two things ------------------------------------------------------------------------ */

static void two_columns_for_one_figure_are_asked_about_with_what_else_is_open(void **state)
{
    struct seen s = read_text(
        "Roll,Article,Width,Width 2,Breite,Length,Composition\n1,Twill,150,,148,50,100% wool\n", &said);

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL);
    assert_true(s.list.questions >= 2);
    assert_true(s.list.question[0].open);
    assert_string_equal(s.list.question[0].answer[0].value, "Width=width");
    assert_string_equal(s.list.question[0].answer[1].value, "Breite=width");
    assert_string_equal(likely(&s, "unit"), "m");
    assert_false(s.list.tried);
    seen_free(&s);
}

static void net_is_taken_and_gross_left_out_and_both_are_named(void **state)
{
    struct seen s =
        read_text("Piece,Article,Gross m,Allowance,Net m,Composition\nP1,Serge,52,2,50,100% wool\n", &said);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_float_equal(s.list.bolt[0].metres, 50, 1e-9);
    assert_true(says(&s, "'Net m' is taken, 'Gross m' is left out"));
    seen_free(&s);
}

static void a_unit_in_the_total_is_likelier_than_metres(void **state)
{
    (void)state;
    likely_is("Roll,Article,Net,Composition\n1,Rib,22.5,100% wool\n2,Rib,23.1,100% wool\nTotal,,45.6 kg,\n",
              "unit", "kg");
    likely_is("Roll,Article,Qty,Composition\n1,Rib,22.5,100% wool\n2,Rib,23.1,100% wool\nTotal,,45.6 yd,\n",
              "unit", "yd");
    /* of "Net" alone nobody knows what it counts */
    likely_is("Roll,Article,Net,Composition\n1,Rib,22.5,100% wool\n", "unit", "");
}

static void the_article_is_never_the_name_of_the_file_where_a_column_is_not_understood(void **state)
{
    (void)state;
    likely_is("Roll,Xyzzy,Length m,Composition\n1,Twill,50,100% wool\n", "map", "Xyzzy=article");
    likely_is("Roll,Xyzzy,Plugh,Length m,Composition\n1,Twill,soft,50,100% wool\n", "map", "");
    likely_is("Roll,Xyzzy,Plugh,Length m,Composition\n1,Twill,soft,50,100% wool\n", "article", "");
}

static void an_accented_letter_inside_a_word_divides_no_header(void **state)
{
    (void)state;
    taken("Vég szám,Cikk,Hossz (m),Összetétel\nH1,Vászon,50,100% pamut\n", &said,
          "D Weaver Inlet|7||\nL Vászon|||100% pamut|row|\nB 0:H1|50.00\n");
}

/* ---- what is no bolt, and what is several -------------------------------------------------------------------- */

static void what_stands_alone_below_the_last_length_is_a_remark(void **state)
{
    (void)state;
    bolts("Roll,Article,Length m,Composition\n1,Twill,50,100% wool\n2,Twill,51,100% wool\n2 "
          "rolls,,101,\nAnn,,,\n",
          &said, "B 0:1|50.00\nB 0:2|51.00\n");
    bolts("Roll,Article,Length m,Composition\n1,Twill,50,100% wool\n2,Twill,51,100% wool\n2,,,\n", &said,
          "B 0:1|50.00\nB 0:2|51.00\n");
    /* another figure, or a word with bolts below it, may be a bolt whose length was forgotten */
    bad("Roll,Article,Length m,Composition\n1,Twill,50,100% wool\n2,Twill,51,100% wool\n3,,,\n", &said,
        "X 4 C '': the bolt '3' has no length; if the row is no bolt, --total-line 4 leaves it out");
    bad("Roll,Article,Length m,Composition\n1,Twill,50,100% wool\nAnn,,,\n2,Twill,51,100% wool\n", &said,
        "X 3 C '': the bolt 'Ann' has no length");
}

static void a_row_that_counts_several_pieces_is_not_likely_a_bolt(void **state)
{
    struct seen s = read_text("Carton,Article,Pcs,Metres,Composition\nC1,Lawn,3,150,100% cotton\n"
                              "C2,Lawn,3,148,100% cotton\nTotal,,6,298,\n",
                              &said);

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL);
    assert_int_equal(s.list.questions, 1);
    assert_true(s.list.question[0].open);
    assert_non_null(strstr(s.list.question[0].ask, "the column 'Pcs' counts several in a row"));
    seen_free(&s);
}

static void lengths_behind_one_header_are_read_side_by_side(void **state)
{
    (void)state;
    likely_is("Quality: Habotai,Composition: 100% silk\nColour,Lot,Lengths (m)\nivory,L1,45.5,46.0,44.8\n"
              "black,L2,50.1,49.7\n",
              "columns", "colour,lot,length*3");
}

static void percentages_in_a_language_nobody_knows_are_no_silence(void **state)
{
    (void)state;
    likely_is("Roll,Article,Length m,Xyzzy\n1,Twill,50,100% plugh\n", "map", "Xyzzy=composition");
    likely_is(
        "Bale,Article,Rolls,Total m,Composition\n1,Voile,4,200.0,100% wool\n2,Voile,4,198.0,100% wool\n",
        "columns", "");
}

static void a_column_of_counts_with_numbers_of_bolts_is_likely_theirs(void **state)
{
    (void)state;
    likely_is("Stück,Artikel,Meter,Material\n5501,Velours,30,100% Wolle\n5502,Velours,29,100% Wolle\n"
              "Gesamt,,59,\n",
              "map", "Stück=bolt");
}

static void a_total_that_lacks_one_bolt_asks_about_that_bolt(void **state)
{
    static const char list[] = "Roll,Article,Length m,Composition,Status\n1,Twill,50.5,100% wool,sent\n"
                               "2,Twill,51.5,100% wool,sent\n3,Twill,49,100% wool,?\nTotal 2 rolls,,102,,\n";
    static const struct tb_line_is out = { "", 4, true }, in = { "", 4, false };
    struct tb_intake_opts o = { SAID, .line = &out, .lines = 1 };

    (void)state;
    asked(list, &said,
          "line 5: the total is that of the bolts above it without the bolt '3' of line 4; say --bolt-line 4 "
          "if that "
          "came too, --total-line 4 if it did not");
    bolts(list, &o, "B 0:1|50.50\nB 0:2|51.50\n");
    o.line = &in;
    bolts(list, &o, "B 0:1|50.50\nB 0:2|51.50\nB 0:3|49.00\n");
    /* a difference that is no bolt is said, as before */
    bolts("Roll,Article,Length m,Composition\n1,Q,50,100% wool\n2,Q,51,100% wool\n3,Q,49,100% "
          "wool\nTotal,,149.5,\n",
          &said, "B 0:1|50.00\nB 0:2|51.00\nB 0:3|49.00\n");
}

#define PIECES(total)                                                                                        \
    "Roll,Article,Metres,Composition\nR1,Twill,50,100% cotton\nR2,Twill,30,100% cotton\n,,18.5,\n"           \
    "R3,Twill,49,100% cotton\n" total

/* The first answer, and whether a line is printed with it. */
static void first_answer(const char *list, const char *option, bool tried)
{
    struct seen s = read_text(list, &said);

    assert_int_equal(s.rc, TB_EINVAL);
    assert_int_equal(s.list.questions, 1);
    assert_string_equal(s.list.question[0].answer[0].option, option);
    assert_int_equal(s.list.tried, tried);
    seen_free(&s);
}

static void a_length_that_the_total_counts_is_more_of_the_bolt_above_or_a_bolt(void **state)
{
    static const struct tb_line_is part = { "", 4, TB_LINE_PART };
    struct tb_intake_opts o = { SAID, .line = &part, .lines = 1 };
    struct seen s;

    (void)state;
    first_answer(PIECES("TOTAL 3 ROLLS,,147.5,\n"), "part-line", true);
    first_answer(PIECES("TOTAL 4 ROLLS,,147.5,\n"), "bolt-line", true);
    /* how many bolts they are nobody says, or no total counts it */
    first_answer(PIECES("TOTAL,,147.5,\n"), "part-line", false);
    first_answer(PIECES("TOTAL,,140,\n"), "total-line", false);
    first_answer(PIECES(""), "total-line", false);
    /* a roll in two rows, and a total that counts both lengths */
    first_answer("Roll,Article,Metres,Composition\n1,Twill,50,100% wool\n2,Twill,30,100% wool\n"
                 "2,Twill,12,100% wool\nTotal 2 rolls,,92,\n",
                 "part-line", true);
    first_answer("Roll,Article,Metres,Composition\n1,Twill,50,100% wool\n2,Twill,30,100% wool\n"
                 "2,Twill,12,100% wool\nTotal 3 rolls,,92,\n",
                 "part-line", false);
    s = read_text(PIECES("TOTAL 3 ROLLS,,147.5,\n"), &o);
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.totals, 1);
    assert_non_null(
        strstr(tb_text_str(&s.text), "B 0:R1|50.00\nB 0:R2|48.50|30.00 m + 18.50 m\nB 0:R3|49.00\n"));
    assert_int_equal(s.list.bolt[1].parts, 2);
    assert_true(s.list.lot[0].metres > 147.49 && s.list.lot[0].metres < 147.51);
    seen_free(&s);
}

static void a_further_length_needs_a_bolt_that_it_can_be_added_to(void **state)
{
    static const struct tb_line_is part = { "", 2, TB_LINE_PART };
    struct tb_intake_opts o = { SAID, .line = &part, .lines = 1 };

    (void)state;
    bad("Roll,Article,Metres,Composition\n,Twill,50,100% cotton\nR2,Twill,30,100% cotton\n", &o,
        "X 2 row '': no bolt stands above it, so it is a further length of none");
    o.line = &(struct tb_line_is){ "", 3, TB_LINE_PART };
    bad("Roll,Article,Metres,Composition\nR1,Twill,99999,100% cotton\n,Twill,30,100% cotton\n", &o,
        "X 3 C '30': it cannot be added to the length of the bolt above, 'R1' of line 2");
    bad("Roll,Article,Metres,Composition\nR1,Twill,99,100% cotton\n,Twill,much,100% cotton\n", &o,
        "X 3 C 'much': this is not a length");
}

static void a_total_without_a_bolt_that_may_not_have_come_makes_leaving_it_out_likely(void **state)
{
    (void)state;
    first_answer("Roll,Article,Metres,Composition,Remark\n1,Twill,50,100% wool,\n2,Twill,51,100% wool,\n"
                 "3,Twill,49,100% wool,cancelled\n2 rolls,,101,,\n",
                 "total-line", true);
    first_answer("Roll,Article,Metres,Composition,Remark\n1,Twill,50,100% wool,\n2,Twill,51,100% wool,\n"
                 "3,Twill,49,100% wool,cancelled\n3 rolls,,150,,\n",
                 "bolt-line", false);
}

static void lengths_side_by_side_have_their_sum_and_their_number_behind_them(void **state)
{
    static const char list[] =
        "Article: Gauze,Composition: 100% cotton,Unit: yards,,,,,\nColour,Lot,Roll lengths,,,,Total,Rolls\n"
        ",,1,2,3,4,,\nwhite,1,100,98,110,95,403,4\nmint,1,88,99,104,,291,3\nmint,2,101,93,,,194,2\n"
        "Total,,,,,,888,9\n";
    struct tb_intake_opts o = { SAID, .columns = "colour,lot,length*4,total", .length_unit = TB_UNIT_YD };
    struct seen s;

    (void)state;
    likely_is(list, "columns", "colour,lot,length*4,total");
    s = read_text(list, &o);
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.bolts, 9);
    assert_int_equal(s.list.lots, 3);
    assert_int_equal(s.list.totals, 4);
    assert_true(fabs(s.list.delivery[0].metres - 888 * 0.9144) < 0.05);
    seen_free(&s);
    /* a wrong sum is nobody's guess */
    bad("Colour,Yards,,,Total,Rolls\nwhite,100,98,110,309,3\nmint,88,99,104,291,3\n",
        &(struct tb_intake_opts){ SAID, .article = "Gauze", .declared = "",
                                  .columns = "colour,length*3,total", .length_unit = TB_UNIT_M },
        "its lengths add up to 308.00 m, and its total says 309.00 m");
}

static void the_head_of_a_mail_names_no_supplier(void **state)
{
    static const struct tb_intake_opts o = { .note = "7" };
    struct seen s =
        read_text("From: Ann Lee <ann@shed.example>\nSent: 14 November 2026 09:12\nHello,\nDokuma Ece\n\n"
                  "Roll\tMetres\tArticle\tComposition\n1\t50\tRib\t100% cotton\n2\t51\tRib\t100% "
                  "cotton\n",
                  &o);

    (void)state;
    assert_string_equal(likely(&s, "supplier"), "Dokuma Ece");
    seen_free(&s);
}

static void a_figure_behind_an_equals_sign_is_what_the_row_comes_to(void **state)
{
    (void)state;
    likely_is("\"Black\",42.5,40.0,43.1,= 125.6 m\n\"Ivory\",41.6,39.7,,= 81.3 m\n", "columns",
              "article,length*3,total");
}

static void words_before_the_only_composition_are_proposed_as_the_article(void **state)
{
    (void)state;
    likely_is("Roll,Metres\n1,50\n2,51\nFabric: Crepe 9. Composition: 100% silk,\n", "article", "Crepe 9");
    likely_is("\"Poplin 118, 100% cotton, width 150 cm\",,\nRoll,Colour,Metres\n1,sky,50\n2,sky,51\n",
              "article", "Poplin 118");
    /* two of them are of nobody knows which goods, and the name of the file is no likely one */
    {
        struct tb_intake_opts o = { SAID, .name = "mail-7.txt" };
        struct seen s = read_text("\"Poplin, 100% cotton\",,\n\"Serge, 100% wool\",,\nRoll,Colour,Metres\n"
                                  "1,sky,50\n2,sky,51\n",
                                  &o);

        assert_string_equal(likely(&s, "article"), "");
        seen_free(&s);
    }
}

static void three_times_a_length_is_three_bolts_when_somebody_says_so(void **state)
{
    static const char list[] = "Roll,Article,Metres,Composition\nR08-10,Twill,3 x 50.0,100% cotton\n"
                               "R11,Twill,51.5,100% cotton\nR12,Twill,2x40,100% cotton\nTotal,,281.5,\n";
    static const struct tb_line_is is[] = { { "", 2, false }, { "", 4, false } };
    struct seen s = read_text(list, &said);

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL);
    assert_int_equal(s.list.questions, 2);
    assert_string_equal(s.list.question[0].answer[0].option, "bolt-line");
    assert_true(s.list.tried);
    seen_free(&s);
    s = read_text(list, &(struct tb_intake_opts){ SAID, .line = is, .lines = 2 });
    assert_int_equal(s.list.totals, 1);
    seen_free(&s);
    bolts(list, &(struct tb_intake_opts){ SAID, .line = is, .lines = 2 },
          "B 0:R08|50.00\nB 0:R09|50.00\nB 0:R10|50.00\nB 0:R11|51.50\nB 0:R12/1|40.00\nB 0:R12/2|40.00\n");
    /* a size, or several figures, is no number of bolts */
    bad("Roll,Article,Metres,Composition\n1,Twill,2x3x4,100% cotton\n", &said, "this is not a length");
}

static void tables_side_by_side_are_read_one_after_the_other(void **state)
{
    static const struct tb_line_is total[] = { { "", 6, true } };
    struct tb_intake_opts o = { SAID };

    (void)state;
    bolts("Article: Cord 8,Composition: 100% "
          "cotton,,,,\nRoll,Metres,Roll,Metres,Roll,Metres\n1,50.1,4,50.4,7,50.7\n"
          "2,50.2,5,50.5,8,50.8\n3,50.3,6,50.6,,\nTotal,150.6,,151.5,,101.5\n",
          &o,
          "B 0:1|50.10\nB 0:2|50.20\nB 0:3|50.30\nB 0:4|50.40\nB 0:5|50.50\nB 0:6|50.60\nB 0:7|50.70\nB "
          "0:8|50.80\n");
    /* columns before the tables belong to all of them, and an empty one may stand between */
    taken("Article,Colour,Composition,Roll,Metres,,Roll,Metres\nCord,tan,100% wool,1,50,,2,51\n"
          "Cord,sky,100% wool,3,52,,4,53\n",
          &o,
          "D Weaver Inlet|7||\nL Cord|tan||100% wool|row|\nL Cord|sky||100% wool|row|\nB 0:1|50.00\nB "
          "1:3|52.00\n"
          "B 0:2|51.00\nB 1:4|53.00\n");
    /* a value is named by its place on the page, and a total beside a bolt is no bolt's end */
    bad("Article: Cord,Composition: 100% wool,,\nRoll,Metres,Roll,Metres\n1,50,2,many\n", &o,
        "X 3 D 'many': this is not a length");
    o.line = total;
    o.lines = 1;
    bolts("Article: Cord,Composition: 100% "
          "wool,,\nNote,7,,\n,,,\nRoll,Metres,Roll,Metres\n1,50,3,52\n2,51,,52\n",
          &o, "B 0:1|50.00\nB 0:2|51.00\nB 0:3|52.00\n");
}

/* As a workbook has it whose cells are merged. */
static void a_header_is_known_by_its_lower_row_where_the_upper_names_neither_bolts_nor_lengths(void **state)
{
    (void)state;
    taken("Lieferschein-Nr. 88-410;;;\nArtikel;Farbe;Stück;;Breite cm;Zusammensetzung\n;;Nr.;Länge m;;\n"
          "Flausch;camel;9001;41,5;150;80% Wolle 20% Polyamid\n;;9002;42,0;150;\n;;2 Stk.;83,5;;\n",
          &(struct tb_intake_opts){ .supplier = "M" },
          "D M|88-410||\nL Flausch|camel||80% Wolle 20% Polyamid|row|\nB 0:9001|41.50|150.0 cm\n"
          "B 0:9002|42.00|150.0 cm\n");
}

/* The order of things on lists from East Asia: a length under a word nobody knows, then net and gross weight. */
static void a_weight_takes_no_length_from_a_list_that_has_one(void **state)
{
    struct tb_intake_opts o = { SAID };

    (void)state;
    likely_is("Roll,Article,Finish Mtrs,N/W (kg),G/W (kg),Composition\n1,A,95,28.4,29.4,100% cotton\n"
              "2,A,99,30.1,31.1,100% cotton\n",
              "map", "Finish Mtrs=length");
    bolts("Roll,Article,Quantity (yards),N/W (kg),G/W (kg),Composition\n1,A,95,28.4,29.4,100% cotton\n"
          "2,A,99,30.1,31.1,100% cotton\n",
          &o, "B 0:1|86.87|95 yd\nB 0:2|90.53|99 yd\n"); /* 1 yd = 0.9144 m: international yard of 1959 */
}

/* Names of months: Unicode CLDR. October in Croatian, November in Polish. */
static void a_month_that_two_languages_call_alike_is_asked_about(void **state)
{
    static const char list[] = "Date: 12 listopada 2026\nRoll,Article,m,Composition\n1,Twill,50,100% wool\n";
    struct tb_intake_opts o = { SAID, .day = "2026-10-12" };
    struct seen s = read_text(list, &said);

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL);
    assert_int_equal(s.list.questions, 1);
    assert_true(s.list.question[0].open);
    assert_string_equal(s.list.question[0].answer[0].value, "2026-11-12");
    assert_string_equal(s.list.question[0].answer[1].value, "2026-10-12");
    seen_free(&s);
    taken(list, &o, "D Weaver Inlet|7||2026-10-12\nL Twill|||100% wool|row|\nB 0:1|50.00\n");
    asked("Roll,Article,m,Composition,Date\n1,Twill,50,100% wool,12 listopada 2026\n", &said,
          "is 2026-11-12 in one language and 2026-10-12 in another");
    taken("Date: 12 rujna 2026\nRoll,Article,m,Composition\n1,Twill,50,100% wool\n", &said,
          "D Weaver Inlet|7||2026-09-12\nL Twill|||100% wool|row|\nB 0:1|50.00\n");
    taken("Date: 3 სექტემბერი 2026\nRoll,Article,m,Composition\n1,Twill,50,100% wool\n", &said,
          "D Weaver Inlet|7||2026-09-03\nL Twill|||100% wool|row|\nB 0:1|50.00\n");
}

static const char *answer_of(const struct seen *s, const char *option)
{
    for (size_t i = 0; i < s->list.questions; i++)
        if (s->list.question[i].answers && strcmp(s->list.question[i].answer[0].option, option) == 0)
            return s->list.question[i].answer[0].value;
    return "";
}

static void
what_a_title_says_before_a_composition_is_likelier_the_article_than_the_name_of_the_file(void **state)
{
    struct seen s =
        read_text("\"Poplin 118, 100% cotton, width 150 cm\"\nRoll,Lot,m\n1,L1,50\n2,L1,51\n", &said);

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL);
    assert_string_equal(answer_of(&s, "article"), "Poplin 118");
    assert_string_equal(answer_of(&s, "declared"), "100% cotton");
    seen_free(&s);
}

static void the_day_of_an_order_is_not_proposed_as_that_of_the_note(void **state)
{
    (void)state;
    taken("Order date,2026-09-12\nRoll,Article,m,Composition\n1,Twill,50,100% wool\n", &said,
          "D Weaver Inlet|7||\nL Twill|||100% wool|row|\nB 0:1|50.00\n");
    asked("Printed,2026-09-12\nRoll,Article,m,Composition\n1,Twill,50,100% wool\n", &said,
          "line 1 says '2026-09-12'");
}

static void a_share_below_the_last_bolt_is_asked_about(void **state)
{
    static const struct tb_line_is out = { "", 4, true };
    static const struct tb_intake_opts o = { SAID, .line = &out, .lines = 1 };
    static const char list[] =
        "Roll,Article,m,Composition\n1,Twill,50,65% polyester\n2,Twill,51,65% polyester\n"
        ",,,35% cotton\n";

    (void)state;
    asked(list, &said, "line 4 has no bolt, and says '35% cotton' in the column 'Composition'");
    bolts(list, &o, "B 0:1|50.00\nB 0:2|51.00\n");
    bolts("Roll,Article,m,Composition\n1,Twill,50,100% wool\n,,,E & OE\n", &said, "B 0:1|50.00\n");
}

/* The likely answer may not lose the second of two tables side by side. */
static void tables_side_by_side_under_an_unknown_word_are_asked_for_it(void **state)
{
    static const char list[] =
        "Article: Twill;;;\nComposition: 100% cotton;;;\nColour: Navy;Lot: L1;;\nNo.;Metres;No.;Metres\n"
        "101;52.1;102;48.3\n103;50.0;;\nColour: Stone;Lot: L2;;\n104;47.7;105;51.2\n";
    struct tb_header_word word = { "No.", TB_FIELD_BOLT };
    struct tb_intake_opts opts = { .supplier = "M", .note = "1", .word = &word, .words = 1 };
    struct seen s = read_text(list, &(struct tb_intake_opts){ .supplier = "M", .note = "1" });

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL);
    assert_int_equal(s.list.questions, 1);
    assert_string_equal(s.list.question[0].answer[0].option, "map");
    assert_string_equal(s.list.question[0].answer[0].value, "No.=bolt");
    seen_free(&s);
    s = read_text(list, &opts);
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.bolts, 5);
    seen_free(&s);
}

/* Ditto marks hold what stands above them: the column may name the article, and the question names it. */
static void a_column_of_names_and_ditto_marks_may_be_the_article(void **state)
{
    struct seen s = read_text(
        "Roll;Xyzzy;Colour;Metres;Composition\n1;Twill nine;navy;50.5;100% cotton\n2;\";navy;51;100% cotton\n"
        "3;\";navy;49.5;100% cotton\n4;Drill four;navy;48;100% cotton\n5;\";navy;47;100% cotton\n",
        &(struct tb_intake_opts){ .supplier = "M", .note = "1" });

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL);
    assert_non_null(strstr(s.err.msg, "these columns are left out: 'Xyzzy'"));
    assert_string_equal(s.list.question[0].answer[0].value, "Xyzzy=article");
    seen_free(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_column_that_no_row_fills_on_paper_is_asked_about),
        cmocka_unit_test(a_column_with_compositions_is_the_composition_whatever_its_header),
        cmocka_unit_test(a_word_for_the_composition_over_names_gives_way_to_the_column_that_declares),
        cmocka_unit_test(face_and_back_declare_together),
        cmocka_unit_test(a_composition_in_the_cell_of_the_article_declares),
        cmocka_unit_test(a_composition_above_or_below_all_bolts_is_the_likely_declaration),
        cmocka_unit_test(of_two_compositions_or_one_between_the_bolts_none_is_likely),
        cmocka_unit_test(labelled_headings_in_one_cell_give_each_its_part),
        cmocka_unit_test(a_date_in_a_title_is_never_lost),
        cmocka_unit_test(of_two_dates_in_a_title_none_is_likely),
        cmocka_unit_test(two_columns_for_one_figure_are_asked_about_with_what_else_is_open),
        cmocka_unit_test(net_is_taken_and_gross_left_out_and_both_are_named),
        cmocka_unit_test(a_unit_in_the_total_is_likelier_than_metres),
        cmocka_unit_test(the_article_is_never_the_name_of_the_file_where_a_column_is_not_understood),
        cmocka_unit_test(what_stands_alone_below_the_last_length_is_a_remark),
        cmocka_unit_test(a_row_that_counts_several_pieces_is_not_likely_a_bolt),
        cmocka_unit_test(lengths_behind_one_header_are_read_side_by_side),
        cmocka_unit_test(percentages_in_a_language_nobody_knows_are_no_silence),
        cmocka_unit_test(a_column_of_counts_with_numbers_of_bolts_is_likely_theirs),
        cmocka_unit_test(a_total_that_lacks_one_bolt_asks_about_that_bolt),
        cmocka_unit_test(a_length_that_the_total_counts_is_more_of_the_bolt_above_or_a_bolt),
        cmocka_unit_test(a_further_length_needs_a_bolt_that_it_can_be_added_to),
        cmocka_unit_test(a_total_without_a_bolt_that_may_not_have_come_makes_leaving_it_out_likely),
        cmocka_unit_test(lengths_side_by_side_have_their_sum_and_their_number_behind_them),
        cmocka_unit_test(the_head_of_a_mail_names_no_supplier),
        cmocka_unit_test(a_figure_behind_an_equals_sign_is_what_the_row_comes_to),
        cmocka_unit_test(words_before_the_only_composition_are_proposed_as_the_article),
        cmocka_unit_test(three_times_a_length_is_three_bolts_when_somebody_says_so),
        cmocka_unit_test(a_header_is_known_by_its_lower_row_where_the_upper_names_neither_bolts_nor_lengths),
        cmocka_unit_test(tables_side_by_side_are_read_one_after_the_other),
        cmocka_unit_test(a_weight_takes_no_length_from_a_list_that_has_one),
        cmocka_unit_test(an_accented_letter_inside_a_word_divides_no_header),
        cmocka_unit_test(a_month_that_two_languages_call_alike_is_asked_about),
        cmocka_unit_test(
            what_a_title_says_before_a_composition_is_likelier_the_article_than_the_name_of_the_file),
        cmocka_unit_test(the_day_of_an_order_is_not_proposed_as_that_of_the_note),
        cmocka_unit_test(a_share_below_the_last_bolt_is_asked_about),
        cmocka_unit_test(tables_side_by_side_under_an_unknown_word_are_asked_for_it),
        cmocka_unit_test(a_column_of_names_and_ditto_marks_may_be_the_article),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
