/* test_intake_columns.c - columns that a word or a unit alone does not explain: what is measured, in which unit, and what numbers the bolts. */
#include "intake_helper.h"

#define SAID .supplier = "Weaver Inlet", .note = "7"
static const struct tb_intake_opts said = { SAID };

/* Is that the value of the first answer (nth 0) or another of the first question with the option? */
static void answers(const char *list, const struct tb_intake_opts *o, const char *option, size_t nth,
                    const char *value)
{
    struct seen s = read_text(list, o);
    const char *found = "";

    for (size_t i = 0; i < s.list.questions && !*found; i++)
        if (strcmp(s.list.question[i].answer[0].option, option) == 0 && nth < s.list.question[i].answers)
            found = s.list.question[i].answer[nth].value;
    if (strcmp(found, value) != 0)
        print_error("%s%s\n", list, s.err.msg);
    assert_string_equal(found, value);
    seen_free(&s);
}

static void nett_metres_are_the_length_and_grams_a_metre_the_mass(void **state)
{
    (void)state;
    taken("Supplier;Kestrel Mill\nPacking list no.;K 7\nComposition: 100% wool\nArticle: Serge\n"
          "Piece No;Gross Mtrs;Allowance;Nett Mtrs;Width cms;Wt gms/mtr\n"
          "1;20.5;0.5;20;150;390\n",
          NULL,
          "D Kestrel Mill|K 7||\n"
          "L Serge|||100% wool|title|\n"
          "B 0:1|20.00|150.0 cm|260.0 g/m2\n");
    taken("Supplier;Kestrel Mill\nPacking list no.;K 7\nPiece No;Design;Quality;Nett Mtrs\n"
          "1;HD 2204;100% Super 110s Wool;20\n",
          NULL,
          "D Kestrel Mill|K 7||\n"
          "L HD 2204|||100% Super 110s Wool|row|\n"
          "B 0:1|20.00\n");
}

static void a_unit_behind_a_word_nobody_knows_makes_no_length(void **state)
{
    (void)state;
    asked("Roll,Article,Roll width (m),Composition\nR1,Drill,1.6,100% cotton\n", &said,
          "no column was found for: length");
    answers("Roll,Article,Roll width (m),Yards Shipped,Composition\nR1,Drill,1.6,48.5,100% "
            "cotton\nR2,Drill,1.6,61,100% "
            "cotton\n",
            &said, "map", 0, "Yards Shipped=length");
    /* of several all are named, and none is taken */
    answers("Roll,Article,Qty Xyzzy (yds),Yards Shipped,Composition\nR1,Drill,60,48.5,100% "
            "cotton\nR2,Drill,60,61,100% "
            "cotton\n",
            &said, "map", 1, "Yards Shipped=length");
    /* an order, a lot and a roll are not measured in metres either */
    taken("Roll,Article,Lot,Lot metres,Metres,Composition\n1,Drill,L1,101,50,100% "
          "cotton\n2,Drill,L1,101,51,100% cotton\n",
          &said, "D Weaver Inlet|7||\nL Drill||L1|100% cotton|row|\nB 0:1|50.00\nB 0:2|51.00\n");
    answers("Roll No,Article,Roll Yds,Composition\n1,Drill,50,100% cotton\n2,Drill,51,100% cotton\n", &said,
            "map", 0, "Roll Yds=length");
}

static void a_length_keeps_the_unit_that_its_header_names(void **state)
{
    static const char *const header[] = { "Yards Shipped", "Shipped Yds", "YDS out", "Net yardage",
                                          "Qty Xyzzy (yds)" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(header); i++) {
        struct tb_header_word word = { header[i], TB_FIELD_LENGTH };
        const struct tb_intake_opts o = { SAID, .word = &word, .words = 1 };
        struct tb_text t = { 0 };

        tb_text_addf(&t, "Roll,Article,%s,Composition\nR1,Drill,100,100%% cotton\n", header[i]);
        bolts(tb_text_str(&t), &o, "B 0:R1|91.44|100 yd\n"); /* 1 yd = 0.9144 m (1959) */
        tb_text_free(&t);
    }
    bolts("Roll,Article,Yardage,Composition\nR1,Drill,100,100% cotton\n", &said, "B 0:R1|91.44|100 yd\n");
}

static void a_unit_that_a_title_or_a_total_names_is_likelier_than_metres(void **state)
{
    const struct tb_intake_opts grid = { SAID, .columns = "colour,lot,length*3,-,-", .article = "A",
                                         .declared = "wool" };

    (void)state;
    answers(
        "COLOR,LOT,1,2,3,ROLLS,TOTAL YDS\nBLACK,2607A,52,55,50.5,3,157.5\nBROWN,2607B,50,49,57.5,3,156.5\n",
        &grid, "unit", 0, "yd");
    answers("All lengths in yards\nRoll,Article,Length,Composition\nR1,Drill,100,100% cotton\n", &said,
            "unit", 0, "yd");
    answers("Roll,Article,Length,Composition\nR1,Drill,100,100% cotton\n", &said, "unit", 0, "m");
}

/* The bolt's header is unknown, and 1, 2, 3 stands beside codes that differ in each row. */
static void what_counts_the_rows_is_not_the_number_of_the_bolt(void **state)
{
    (void)state;
    answers("Xyzzy;Plugh;Article;Metres;Composition\n1;88021;Drill;50.5;100% cotton\n2;88037;Drill;61;100% "
            "cotton\n3;88022;Drill;44;100% cotton\n",
            &said, "map", 0, "Plugh=bolt");
    /* alone it is the likely one */
    answers("Xyzzy;Article;Metres;Composition\n1;Drill;50.5;100% cotton\n2;Drill;61;100% cotton\n", &said,
            "map", 0, "Xyzzy=bolt");
    bolts("序号,布号,Article,Metres,Composition\n1,88021,Drill,50.5,100% cotton\n2,88037,Drill,61,100% "
          "cotton\n",
          &said, "B 0:88021|50.50\nB 0:88037|61.00\n");
}

static void a_bolt_that_was_not_sent_is_asked_about(void **state)
{
    static const char *const remark[] = {
        "cancelled - not shipped", "storniert", "nicht geliefert", "annullato", "未发货", "не отгружен"
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(remark); i++) {
        struct tb_text t = { 0 };

        tb_text_addf(
            &t,
            "Roll,Article,Metres,Composition,Remarks\n1,Drill,50,100%% cotton,%s\n2,Drill,51,100%% cotton,\n",
            remark[i]);
        asked(tb_text_str(&t), &said, "if the bolt did not come");
        tb_text_free(&t);
    }
    bolts("Roll,Article,Metres,Composition,Remarks\n1,Drill,50,100% cotton,shipped\n", &said,
          "B 0:1|50.00\n");
}

/* "Kgs" beside the length is its weight, whatever the word before it means elsewhere. */
static void a_weight_is_no_second_length(void **state)
{
    static const char *const header[] = { "Gross Kgs", "Brutto kg", "Qty kg", "Net Kgs" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(header); i++)
        for (int before = 0; before < 2; before++) {
            struct tb_text t = { 0 };
            struct seen s;

            tb_text_addf(&t,
                         before ? "Roll,%s,Length (yds),Article,Composition\n1,22,50,Drill,100%% cotton\n"
                                : "Roll,Length (yds),%s,Article,Composition\n1,50,22,Drill,100%% cotton\n",
                         header[i]);
            s = read_text(t.s, &said);
            assert_int_equal(s.rc, TB_OK);
            assert_false(says(&s, "stands in two columns"));
            assert_non_null(strstr(s.text.s, "B 0:1|45.72"));
            seen_free(&s);
            tb_text_free(&t);
        }
    {
        struct seen s =
            read_text("Roll,Net m,Gross m,Article,Composition\n1,50,52,Drill,100% cotton\n", &said);

        assert_true(says(&s, "the length stands in two columns; 'Net m' is taken, 'Gross m' is left out"));
        seen_free(&s);
    }
}

static void an_option_that_covers_two_suppliers_or_notes_is_asked_about(void **state)
{
    (void)state;
    asked("Supplier;Roll;Article;Metres;Composition\nMill A;1;Drill;50;100% cotton\nMill B;2;Drill;51;100% "
          "cotton\n",
          &said, "the list names two suppliers, 'Mill A' and 'Mill B' (line 3)");
    asked("Delivery note;Roll;Article;Metres;Composition\nDN1;1;Drill;50;100% cotton\nDN2;2;Drill;51;100% "
          "cotton\n",
          &said, "the list names two notes, 'DN1' and 'DN2' (line 3)");
    bolts("Supplier;Roll;Article;Metres;Composition\nMill A;1;Drill;50;100% cotton\nMill A;2;Drill;51;100% "
          "cotton\n",
          &said, "B 0:1|50.00\nB 0:2|51.00\n");
}

static void a_second_line_of_a_composition_is_not_lost(void **state)
{
    (void)state;
    asked("Roll,Article,Metres,Composition\n1,Drill,50,Cotton\n,,,Polyester\n2,Drill,51,Cotton\n", &said,
          "line 3 has no bolt, and says 'Polyester'");
    asked("Roll,Article,Metres,Composition\n1,Drill,50,Cotton\n,Twill 240,,Polyester\n2,Drill,51,Cotton\n",
          &said, "line 3 has no bolt, and says 'Polyester'");
    /* a heading of the bolts below it */
    bolts("Roll,Article,Metres,Composition\n1,Drill,50,100% cotton\n,Rib,,100% wool\n2,,51,\n", &said,
          "B 0:1|50.00\nB 1:2|51.00\n");
}

/* Header words: memory. */
static void a_bath_by_any_name_is_the_dye_lot(void **state)
{
    static const char *const word[] = { "N° de bain",    "Bad Nr",        "Farbbad", "Dye batch", "Tintada",
                                        "Nº de tintura", "Lotto tintura", "染缸",    "Shade lot" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(word); i++) {
        struct tb_text t = { 0 };

        tb_text_addf(
            &t,
            "Roll,Article,%s,Metres,Composition\n1,Print,771,50,100%% cotton\n2,Print,772,51,100%% cotton\n",
            word[i]);
        taken(tb_text_str(&t), &said,
              "D Weaver Inlet|7||\nL Print||771|100% cotton|row|\nL Print||772|100% cotton|row|\n"
              "B 0:1|50.00\nB 1:2|51.00\n");
        tb_text_free(&t);
    }
}

/* The net length is paid for: of two columns with nearly the same figures nobody knows which is meant. */
static void figures_close_to_the_length_under_an_unknown_header_are_asked_about(void **state)
{
    static const char *const header[] = { "Usable Mtrs",     "Chargeable m", "Delivered",
                                          "After allowance", "Invoiced",     "Xyzzy" };
    struct tb_header_word word = { "Usable Mtrs", TB_FIELD_IGNORE };
    struct tb_intake_opts o = { SAID, .word = &word, .words = 1 };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(header); i++) {
        struct tb_text t = { 0 }, map = { 0 };

        tb_text_addf(
            &t,
            "Roll,Article,Mtrs,%s,Composition\n1,Twill,50,49.2,100%% cotton\n2,Twill,55,54.1,100%% cotton\n",
            header[i]);
        tb_text_addf(&map, "%s=length", header[i]);
        asked(tb_text_str(&t), &said, "are nearly those of the length in 'Mtrs'");
        answers(tb_text_str(&t), &said, "map", 0, tb_text_str(&map));
        tb_text_free(&t);
        tb_text_free(&map);
    }
    bolts("Roll,Article,Mtrs,Usable Mtrs,Composition\n1,Twill,50,49.2,100% cotton\n2,Twill,55,54.1,100% "
          "cotton\n",
          &o, "B 0:1|50.00\nB 0:2|55.00\n");
    word.field = TB_FIELD_LENGTH;
    bolts("Roll,Article,Mtrs,Usable Mtrs,Composition\n1,Twill,50,49.2,100% cotton\n2,Twill,55,54.1,100% "
          "cotton\n",
          &o, "B 0:1|49.20\nB 0:2|54.10\n");
    /* the same in yards, or again, is one length; figures that have nothing to do with it are none */
    bolts("Roll,Article,Mtrs,Xyzzy,Plugh,Composition\n1,Twill,50,54.7,3.1,100% "
          "cotton\n2,Twill,55,60.1,9,100% cotton\n",
          &said, "B 0:1|50.00\nB 0:2|55.00\n");
}

static void a_weight_counts_only_where_no_unknown_column_may_be_the_length(void **state)
{
    static const char list[] =
        "Roll,Article,Lot,Fertiglänge,N.W. (kgs),Composition\n1,Twill,L1,95.5,28.5,100% cotton\n"
        "2,Twill,L1,99,29.7,100% cotton\n";

    (void)state;
    answers(list, &said, "map", 0, "Fertiglänge=length");
    asked("Roll,Article,Lot,Xyzzy,N.W. (kgs),Composition\n1,Twill,L1,95.5,28.5,100% cotton\n"
          "2,Twill,L1,99,29.7,100% cotton\n",
          &said, "no column is understood as the length, and the column 'Xyzzy' may be it");
}

/* Ordered and delivered side by side: common practice, no source. */
static void what_was_delivered_counts_and_not_what_was_ordered(void **state)
{
    (void)state;
    bolts("Rolle,Artikel,Soll m,Ist m,Material\n1,Drell,50,48.5,100% Leinen\n", &said, "B 0:1|48.50\n");
    bolts("Roll,Article,Shipped m,Ordered m,Composition\n1,Twill,48.5,50,100% cotton\n", &said,
          "B 0:1|48.50\n");
    bolts("Roll,Article,Ordered,Metres,Composition\n1,Twill,50,48.5,100% cotton\n", &said, "B 0:1|48.50\n");
    /* spelt like the word for an order, but for an accent that not everybody writes */
    bolts("Rouleau,Article,Commandé,Livré m,Composition\n1,Toile,50,48.5,100% lin\n2,Toile,50,51,100% lin\n",
          &said, "B 0:1|48.50\nB 0:2|51.00\n");
    {
        struct seen s = read_text("Rouleau,Article,Commandé,Livré m,Composition\n1,Toile,50,48.5,100% lin\n"
                                  "2,Toile,50,51,100% lin\n",
                                  &said);

        assert_string_equal(s.list.delivery[0].order, "");
        seen_free(&s);
    }
    answers("Roll,Article,Ordered,Shipped,Composition\n1,Twill,50,48.5,100% cotton\n", &said, "unit", 0, "m");
}

static void a_count_of_rows_and_a_weight_are_no_likely_length(void **state)
{
    (void)state;
    answers(
        "Sl,Article,Composition,Lot,Roll No,Dia (inch),Finished Wt (kg)\n1,Jersey,100% cotton,B1,R1,32,22.5\n"
        "2,Jersey,100% cotton,B1,R2,32,21.5\n",
        &said, "map", 0, "Finished Wt (kg)=length");
    answers("Sl,Article,Composition,Lot,Roll No,Finished Weight\n1,Jersey,100% cotton,B1,R1,22.5\n"
            "2,Jersey,100% cotton,B1,R2,21.5\n",
            &said, "map", 0, "Finished Weight=weight_net");
    answers("Sl,Article,Composition,Lot,Roll No,Finished Weight\n1,Jersey,100% cotton,B1,R1,22.5\n"
            "2,Jersey,100% cotton,B1,R2,21.5\n",
            &said, "unit", 0, "kg");
}

static void a_unit_of_mass_or_width_in_the_header_is_never_left_out(void **state)
{
    (void)state;
    bolts("Roll,Article,m,Xyzzy (g/m2),Composition\n1,Twill,50,180,100% cotton\n", &said,
          "B 0:1|50.00|180.0 g/m2\n");
    bolts("Roll,Article,m,\"Ширина, см\",Composition\n1,Twill,50,150,100% cotton\n", &said,
          "B 0:1|50.00|150.0 cm\n");
    answers("Roll,Article,m,Xyzzy (cm),Composition\n1,Twill,50,150,100% cotton\n", &said, "map", 0,
            "Xyzzy (cm)=width");
    {
        struct seen s =
            read_text("Roll,Article,m,Dia (inch),Composition\n1,Jersey,50,32,100% cotton\n", &said);

        assert_int_equal(s.list.questions, 1);
        assert_true(s.list.question[0].open); /* of a tube: no width is likely */
        seen_free(&s);
    }
    asked("Roll,m,Fabric Xyzzy,Dia (inch),Composition\n1,50,Jersey,\"32 open\",100% cotton\n", &said,
          "these columns are left out: 'Fabric Xyzzy'; say");
    asked("Roll,Article,m,Repeat (cm),Composition\n1,Twill,50,32,100% cotton\n", &said,
          "names a unit of width");
}

/* Common practice of Italian notes, no source. */
static void gross_and_net_below_one_header_are_told_apart(void **state)
{
    (void)state;
    bolts("Pezza;Articolo;Metri;;Composizione\n;;Lordi;Netti;\n51;Vigo;48,7;46,2;100% lana\n", &said,
          "B 0:51|46.20\n");
    bolts("Roll;Article;Metres;;Composition\n;;Gross;Net;\n51;Vigo;48,7;46,2;100% wool\n", &said,
          "B 0:51|46.20\n");
    /* of words that nobody knows neither is the length */
    asked("Roll;Article;Metres;;Composition\n;;Xyzzy;Plugh;\n51;Vigo;48,7;46,2;100% wool\n", &said,
          "no column was found for");
}

/* In a table that is only drawn; in a cell it is the article that declares. */
static void an_article_that_ends_in_a_composition_is_two_cells_that_touch(void **state)
{
    (void)state;
    bad("Roll   Metres   Article                   Composition\n"
        "R1     50.0     Twill                     100% cotton\n"
        "R2     51.0     Poplin 118 98% polyester\n"
        "R3     52.0     Twill                     100% cotton\n",
        &said, "this ends in a composition, and nothing stands under 'Composition'");
}

static void what_a_total_says_under_the_widths_is_no_width(void **state)
{
    (void)state;
    bolts("Roll,Article,Width,Metres,Composition\n1,Vigo,150 cm,46.2,100% wool\nTOTAL,,1 roll,46.2,\n", &said,
          "B 0:1|46.20|150.0 cm\n");
}

static void a_row_with_other_cells_than_its_header_is_refused(void **state)
{
    (void)state;
    bad("Roll,Article,Composition,Metres\n1,Twill,100% linen,50,20\n2,Twill,100% linen,48,70\n", &said,
        "this row has 5 cells, and the header has 4");
    bad("Roll,Article,Colour,Composition,Metres\n1,Twill,sand,100% linen,50.2\n2,Twill,sand, light,100% "
        "linen,48.7\n",
        &said, "this row has 6 cells, and the header has 5");
    bad("Roll,Article,Composition,Metres,Gross\n1,Twill,100% linen,50.2,51\n2,100% linen,48.7,49.5\n", &said,
        "this row has 4 cells, and the header has 5");
    /* a unit behind the figure, and cells at the end that most rows leave empty */
    bolts("Roll,Article,Composition,Length\n1,Twill,100% linen,50,m\n2,Twill,100% linen,48,m\n",
          &(struct tb_intake_opts){ SAID, .length_unit = TB_UNIT_M }, "B 0:1|50.00\nB 0:2|48.00\n");
    bolts("Roll,Article,Composition,Metres,Remarks\n1,Twill,100% linen,50\n2,Twill,100% linen,48\n", &said,
          "B 0:1|50.00\nB 0:2|48.00\n");
    /* a sum with the number of bolts under theirs, and nothing behind it */
    bolts("Roll,Article,Metres,Composition,Origin\n7,Twill,50.2,100% linen,IT\n9,Twill,48.7,100% "
          "linen,IT\nSum up,,98.9\n",
          &said, "B 0:7|50.20\nB 0:9|48.70\n");
    bolts("Article,Roll,Metres,Composition,Origin\nTwill,7,50.2,100% linen,IT\nTwill,9,48.7,100% "
          "linen,IT\nXyzzy,2,98.9\n",
          &said, "B 0:7|50.20\nB 0:9|48.70\n");
}

static void the_rest_of_a_header_is_no_total(void **state)
{
    static const char list[] = "Roll;Article;Metres;Composition\nXyzzy;;plugh;\n51;Vigo;46,2;100% wool\n";
    static const struct tb_line_is total = { .kind = TB_LINE_TOTAL, .sheet = "", .line = 2 };
    struct tb_intake_opts o = said;

    (void)state;
    bad(list, &said, "seems to be the rest of the header");
    o.line = &total;
    o.lines = 1;
    bad(list, &o, "seems to be the rest of the header");
}

static void the_number_of_an_article_and_its_name_are_both_kept(void **state)
{
    (void)state;
    taken("Art.-Nr.;Bezeichnung;Stück-Nr.;Meter;Material\n2210;Flanell Hubertus;1;50,5;100% Wolle\n;;2;49;\n"
          "2480;Gabardine Ilse;3;48;100% Wolle\n",
          &said,
          "D Weaver Inlet|7||\nL 2210 / Flanell Hubertus|||100% Wolle|row|\nL 2480 / Gabardine Ilse|||100% "
          "Wolle|row|\n"
          "B 0:1|50.50\nB 0:2|49.00\nB 1:3|48.00\n");
    bolts("Pièce;Tissu;;Métrage;;Composition\n;Code;Désignation;Brut;Net;\n1;TL9;Popeline Anne;51;50,5;100% "
          "coton\n"
          "2;TL9;Popeline Anne;50;49,5;100% coton\n",
          &said, "B 0:1|50.50\nB 0:2|49.50\n");
    /* a count of the rows, and a column of compositions, are no names */
    bolts("Article;Item;Roll;Metres;Composition\nVoile;1;7;50;100% cotton\nVoile;2;8;51;100% cotton\n", &said,
          "B 0:7|50.00\nB 0:8|51.00\n");
}

/* Bolts of two baths taken for one lot would be judged by the burn of one. */
static void codes_that_may_tell_dye_lots_apart_are_asked_about(void **state)
{
    (void)state;
    answers("Roll,Article,Colour,m,Finishing batch,Composition\n1,Twill,Navy,50,7,100% "
            "cotton\n2,Twill,Navy,51,8,100% "
            "cotton\n",
            &said, "map", 0, "Finishing batch=lot");
    asked("Roll,Article,Colour,m,Xyzzy,Composition\n1,Twill,Navy,50,X7,100% cotton\n2,Twill,Navy,51,X7,100% "
          "cotton\n"
          "3,Twill,Navy,51,X8,100% cotton\n",
          &said, "the column 'Xyzzy' is not understood, and no column is the dye lot");
    /* where the dye lot is known, and where a code numbers each bolt, nothing is asked */
    bolts("Roll,Article,Lot,m,Xyzzy,Composition\n1,Twill,L1,50,X7,100% cotton\n2,Twill,L1,51,X7,100% cotton\n"
          "3,Twill,L1,51,X8,100% cotton\n",
          &said, "B 0:1|50.00\nB 0:2|51.00\nB 0:3|51.00\n");
    bolts("Roll,Article,Colour,m,Xyzzy,Composition\n1,Twill,Navy,50,X7,100% cotton\n2,Twill,Navy,51,X8,100% "
          "cotton\n"
          "3,Twill,Navy,51,X9,100% cotton\n",
          &said, "B 0:1|50.00\nB 0:2|51.00\nB 0:3|51.00\n");
}

/* The length of a carton stands in centimetres, and pieces are no metres: no answer is likely. */
static void a_header_in_another_measure_makes_no_unit_likely(void **state)
{
    static const char *const header[] = { "Length cm", "Length (mm)", "Länge in cm", "Qty (pcs)",
                                          "Qty (cm)" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(header); i++) {
        struct tb_text t = { 0 };
        struct seen s;

        tb_text_addf(&t, "Roll,Article,%s,Composition\n1,Twill,60,100%% cotton\n2,Twill,61,100%% cotton\n",
                     header[i]);
        s = read_text(t.s, &said);
        if (s.list.questions != 1 || !s.list.question[0].open)
            print_error("%s: %s\n", header[i], s.err.msg);
        assert_int_equal(s.rc, TB_EINVAL);
        assert_int_equal(s.list.questions, 1);
        assert_true(s.list.question[0].open);
        assert_non_null(strstr(s.list.question[0].ask, "in which no length is counted here"));
        seen_free(&s);
        tb_text_free(&t);
    }
    bolts("Roll,Article,Feet,Composition\n1,Twill,100,100% cotton\n", &said, "B 0:1|30.48|100 ft\n");
    bolts("Roll,Article,Qty,Composition\n1,Twill,100',100% cotton\n", &said, "B 0:1|30.48|100'\n");
    bad("Roll,Article,Qty,Composition\n1,Twill,5050 cm,100% cotton\n", &said,
        "its unit is neither metres, yards nor feet");
}

/* Net is what came; headers as mills write them, common practice, no source. */
static void of_gross_and_net_lengths_the_net_ones_count(void **state)
{
    static const char *const pair[][2] = {
        { "Length gross m", "Length net m" },   { "Länge brutto m", "Länge netto m" },
        { "Long. bruta m", "Long. neta m" },    { "Length m", "Net m" },
        { "Comp. bruto m", "Comp. líquido m" }, { "Gross m", "Length m" }
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(pair); i++)
        for (int turn = 0; turn < 2; turn++) {
            const char *gross = pair[i][0], *net = pair[i][1];
            struct tb_text t = { 0 }, told = { 0 };
            struct seen s;

            tb_text_addf(&t, "Roll,Article,%s,%s,Composition\n", turn ? net : gross, turn ? gross : net);
            tb_text_add(&t, turn ? "1,Twill,52.1,52.5,100% cotton\n2,Twill,48.3,48.6,100% cotton\n"
                                 : "1,Twill,52.5,52.1,100% cotton\n2,Twill,48.6,48.3,100% cotton\n");
            s = read_text(tb_text_str(&t), &said);
            if (s.rc != TB_OK)
                print_error("%s: %s\n", t.s, s.err.msg);
            assert_int_equal(s.rc, TB_OK);
            assert_true(s.list.bolt[0].metres == 52.1 && s.list.bolt[1].metres == 48.3);
            tb_text_addf(&told, "the length stands in two columns; '%s' is taken, '%s' is left out", net,
                         gross);
            assert_true(says(&s, told.s));
            seen_free(&s);
            tb_text_free(&t);
            tb_text_free(&told);
        }
    asked("Roll,Article,Length m,Metres,Composition\n1,Twill,52.5,52.1,100% cotton\n", &said,
          "could both be the length");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nett_metres_are_the_length_and_grams_a_metre_the_mass),
        cmocka_unit_test(a_unit_behind_a_word_nobody_knows_makes_no_length),
        cmocka_unit_test(a_length_keeps_the_unit_that_its_header_names),
        cmocka_unit_test(a_unit_that_a_title_or_a_total_names_is_likelier_than_metres),
        cmocka_unit_test(what_counts_the_rows_is_not_the_number_of_the_bolt),
        cmocka_unit_test(a_bolt_that_was_not_sent_is_asked_about),
        cmocka_unit_test(a_weight_is_no_second_length),
        cmocka_unit_test(an_option_that_covers_two_suppliers_or_notes_is_asked_about),
        cmocka_unit_test(a_second_line_of_a_composition_is_not_lost),
        cmocka_unit_test(a_bath_by_any_name_is_the_dye_lot),
        cmocka_unit_test(figures_close_to_the_length_under_an_unknown_header_are_asked_about),
        cmocka_unit_test(a_weight_counts_only_where_no_unknown_column_may_be_the_length),
        cmocka_unit_test(what_was_delivered_counts_and_not_what_was_ordered),
        cmocka_unit_test(a_count_of_rows_and_a_weight_are_no_likely_length),
        cmocka_unit_test(a_unit_of_mass_or_width_in_the_header_is_never_left_out),
        cmocka_unit_test(gross_and_net_below_one_header_are_told_apart),
        cmocka_unit_test(an_article_that_ends_in_a_composition_is_two_cells_that_touch),
        cmocka_unit_test(what_a_total_says_under_the_widths_is_no_width),
        cmocka_unit_test(a_row_with_other_cells_than_its_header_is_refused),
        cmocka_unit_test(the_rest_of_a_header_is_no_total),
        cmocka_unit_test(the_number_of_an_article_and_its_name_are_both_kept),
        cmocka_unit_test(codes_that_may_tell_dye_lots_apart_are_asked_about),
        cmocka_unit_test(a_header_in_another_measure_makes_no_unit_likely),
        cmocka_unit_test(of_gross_and_net_lengths_the_net_ones_count),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
