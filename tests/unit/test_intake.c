/* test_intake.c - packing lists: headers, figures, days, units, totals, and what is asked. */
#include "intake_helper.h"

#include "gen/ref_header_word.h"
#include "intake/words.h"
#include "intake/written.h"

/* Options that fill what the short lists below leave out. */
#define BASE .supplier = "Mill", .note = "1", .article = "A", .declared = "100% cotton"
static const struct tb_intake_opts base = { BASE };

static void a_german_list_with_title_subtotals_and_ditto_marks_is_taken(void **state)
{
    (void)state;
    taken("Weberei Sonnental;;;;;;;\n"
          "Lieferschein-Nr.: LS-4711;;Datum:;13.03.2026;;;;\n"
          "Lieferant;Weberei Sonnental;;;;;;\n"
          "TKG: 73 % Viskose, 27 % Polypropylen;;;;;;;\n"
          "\n"
          "Artikel-Nr.;Farbe;Partie;Stück-Nr.;Länge (m);Breite cm;Gewicht;Preis EUR/m\n"
          "A100;Navy;P77;00123;50,20;150;208,000 Gramm/Quadratmeter;4,50\n"
          "A100;Navy;P77;00124;1.051,7;150;208,000 Gramm/Quadratmeter;4,50\n"
          "Zwischensumme;;;2;1.101,90;;;\n"
          "A100;Rot;P78;12/3;49,00;150;208,000 Gramm/Quadratmeter;4,50\n"
          "〃;〃;〃;12/4;50,2+49,8;150;208,000 Gramm/Quadratmeter;4,50\n"
          "Summe;;;2;149,00;;;\n"
          "Gesamt;;;4;1.250,90;;;\n",
          NULL,
          "D Weberei Sonnental|LS-4711||2026-03-13\n"
          "L A100|Navy|P77|73 % Viskose, 27 % Polypropylen|title||4.50 EUR/m\n"
          "L A100|Rot|P78|73 % Viskose, 27 % Polypropylen|title||4.50 EUR/m\n"
          "B 0:00123|50.20|150.0 cm|208.0 g/m2\n"
          "B 0:00124|1051.70|150.0 cm|208.0 g/m2\n"
          "B 1:12/3|49.00|150.0 cm|208.0 g/m2\n"
          "B 1:12/4|100.00|150.0 cm|208.0 g/m2|50,2+49,8 m\n");
}

static void every_field_is_taken_from_columns_in_any_order(void **state)
{
    (void)state;
    taken("currency,unit price,origin,composition,g/m2,width cm,length m,bolt no,dye "
          "lot,colour,article,order no,date,"
          "delivery note,supplier\n"
          "USD,2.10,PK,\"60% cotton; 40% PES\",180,150,100,B1,L1,navy,Q1,PO 7,2026-03-14,N1,Alder Mill\n"
          "USD,2.10,PK,\"60% cotton; 40% PES\",180,150,50.5,B2,L1,navy,Q1,PO 8,2026-03-14,N1,Alder Mill\n"
          "USD,2.20,PK,\"60% cotton; 40% PES\",180,150,20,B1,L1,navy,Q1,PO 7,2026-03-15,N2,Alder Mill\n",
          NULL,
          "D Alder Mill|N1|PO 7, PO 8|2026-03-14\n"
          "D Alder Mill|N2|PO 7|2026-03-15\n"
          "L Q1|navy|L1|60% cotton; 40% PES|row|PK|2.10 USD/m\n"
          "L Q1|navy|L1|60% cotton; 40% PES|row|PK|2.20 USD/m\n"
          "B 0:B1|100.00|150.0 cm|180.0 g/m2\n"
          "B 0:B2|50.50|150.0 cm|180.0 g/m2\n"
          "B 1:B1|20.00|150.0 cm|180.0 g/m2\n");
}

static void each_delivery_of_a_file_has_its_own_date_and_orders(void **state)
{
    static const struct tb_intake_opts opts = { .supplier = "M", .article = "A", .declared = "" };

    (void)state;
    taken("delivery note,date,order no,bolt,m\n"
          "N1,2026-03-14,PO 12,1,9\nN1,2026-03-14,PO 1,2,9\nN2,2026-03-14,PO 1,1,9\nN3,,,1,9\n",
          &opts,
          "D M|N1|PO 12, PO 1|2026-03-14\nD M|N2|PO 1|2026-03-14\nD M|N3||\n"
          "L A||||option|\nL A||||option|\nL A||||option|\n"
          "B 0:1|9.00\nB 0:2|9.00\nB 1:1|9.00\nB 2:1|9.00\n");
}

static void notes_are_kept_to_a_hundred_and_counted(void **state)
{
    static const struct tb_intake_opts opts = { .supplier = "M", .article = "A", .declared = "" };
    struct tb_text t = { 0 };
    struct seen s;

    (void)state;
    tb_text_add(&t, "delivery note,date,bolt,m\n");
    for (int i = 0; i < 300; i++)
        tb_text_addf(&t, "N1,2026-03-%02d,%d,9\n", 14 + i % 2, i);
    s = read_text(t.s, &opts);
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.says, 100);
    assert_int_equal(s.list.says_left_out, 50);
    seen_free(&s);
    tb_text_free(&t);
}

static void every_word_of_the_table_means_its_field(void **state)
{
    struct tb_header_words *w = tb_header_words_new(NULL, 0);

    (void)state;
    for (size_t i = 0; i < tb_ref_header_word_n; i++) {
        const struct tb_ref_header_word *r = &tb_ref_header_word[i];
        struct tb_word_hit hit[TB_HITS_MOST];
        size_t n = tb_header_words_find(w, r->word, hit);
        bool found = false;

        for (size_t k = 0; k < n; k++)
            found = found || (int)hit[k].field == tb_field_by_key(r->field);
        if (!found)
            print_error("%s does not mean %s\n", r->word, r->field);
        assert_true(found);
        assert_true(!*r->unit || tb_unit_by_key(r->unit) > 0);
    }
    tb_header_words_free(w);
}

/* "field unit" of the first meaning of a header */
static void means(const char *header, const char *field, const char *unit)
{
    struct tb_header_words *w = tb_header_words_new(NULL, 0);
    struct tb_word_hit hit[TB_HITS_MOST];
    size_t n = tb_header_words_find(w, header, hit);

    if (!n || strcmp(tb_field_key(hit[0].field), field) != 0 || strcmp(tb_unit_key(hit[0].unit), unit) != 0)
        print_error("'%s' means %zu: %s %s\n", header, n, n ? tb_field_key(hit[0].field) : "",
                    n ? tb_unit_key(hit[0].unit) : "");
    assert_true(n > 0);
    assert_string_equal(tb_field_key(hit[0].field), field);
    assert_string_equal(tb_unit_key(hit[0].unit), unit);
    tb_header_words_free(w);
}

static void headers_are_understood_with_units_languages_and_spelling_around_them(void **state)
{
    (void)state;
    means("LENGTH (M)", "length", "m");
    means("Länge [m]", "length", "m");
    means("Laenge in m", "length", "m");
    means("Stueck-Nr", "bolt", "");
    means("ROLL#", "bolt", "");
    means("Roll Number", "bolt", "");
    means("N° pièce", "bolt", "");
    means("PIECE", "bolt", "");
    means("Top Numarasi", "bolt", "");
    means("Breite/Width (cm)", "width", "cm");
    means("幅宽(cm)", "width", "cm");
    means("品名 Article", "article", "");
    means("缸号\nLot No.", "lot", "");
    means("Mtrs.", "length", "m");
    means("码数", "length", "yd");
    means("Weight (g/m²)", "mass", "g/m2");
    means("Weight oz/yd2", "mass", "oz/yd2");
    means("Grammage g/m2", "mass", "g/m2");
    means("Unit price USD/yd", "price", "yd");
    means("单价", "price", "");
    means("Largeur en cm", "width", "cm");
}

static void numbers_are_read_both_ways(void **state)
{
    /* both readings by hand; NAN where the text cannot be written that way */
    static const struct {
        const char *text;
        double point, comma;
    } row[] = {
        { "113", 113, 113 },
        { "1.50", 1.5, NAN },
        { "1,50", NAN, 1.5 },
        { "208,000", 208000, 208 },
        { "1.234", 1.234, 1234 },
        { "18.743,90", NAN, 18743.9 },
        { "7.672,3", NAN, 7672.3 },
        { "18,743.90", 18743.9, NAN },
        { "1.234.567", NAN, 1234567 },
        { "1,234,567", 1234567, NAN },
        { "0,500", NAN, 0.5 },
        { "1 234,5", NAN, 1234.5 },
        { "1'234.50", 1234.5, NAN },
        { "12.", 12, NAN },
        { ".5", 0.5, NAN },
        { "-5", -5, -5 },
        { "\u22125,5", NAN, -5.5 },
        { "１２３", 123, 123 },
        { "１２．５", 12.5, NAN },
        { "1\u00a0234,5", NAN, 1234.5 },
        { "50+30+20", 100, 100 },
        { "50,2+49,8", NAN, 100 },
        { "113 m", 113, 113 },
        { "120y", 120, 120 },
        { "208,000 Gramm/Quadratmeter", 208000, 208 },
        { "180 g/m2", 180, 180 },
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_figure f;

        if (!tb_figure_scan(&f, row[i].text))
            print_error("'%s' is no number\n", row[i].text);
        assert_true(tb_figure_scan(&f, row[i].text));
        assert_true(isnan(row[i].point) ? isnan(f.point) : f.point == row[i].point);
        assert_true(isnan(row[i].comma) ? isnan(f.comma) : f.comma == row[i].comma);
    }
}

static void what_is_no_number_is_not_read_as_one(void **state)
{
    static const char *const text[] = {
        "", "many", "12 of 30", "1.2.3", "1,2,3", "1..5", "12,34,5", "5 m 20"
    };
    struct tb_figure f;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(text); i++)
        assert_false(tb_figure_scan(&f, text[i]));
}

/* --- decimal signs -------------------------------------------------------------------------------------------- */
static void thousands_and_decimals_of_a_real_order_are_read(void **state)
{
    (void)state;
    bolts("bolt;length\n1;18.743,90 m\n2;7.672,3 m\n3;113 m\n", &base,
          "B 0:1|18743.90\nB 0:2|7672.30\nB 0:3|113.00\n");
}

static void a_figure_with_two_readings_is_asked_about(void **state)
{
    static const struct tb_intake_opts comma = { BASE, .decimal = ',' }, point = { BASE, .decimal = '.' };
    static const char list[] = "bolt;m\n1;208,000\n2;100,500\n";

    (void)state;
    asked(list, &base, "'208,000' in the column 'm', line 2, can be read as 208 or as 208000");
    bolts(list, &comma, "B 0:1|208.00\nB 0:2|100.50\n");
    bad(list, &point, "X 2 B '208,000': no bolt is longer than 100,000 m");
}

static void one_clear_figure_settles_its_column_and_then_the_file(void **state)
{
    (void)state;
    bolts("bolt;m\n1;20,000\n2;10,5\n", &base, "B 0:1|20.00\nB 0:2|10.50\n");
    /* the width shows the comma, the length does not */
    bolts("bolt;m;width cm\n1;20,000;150,5\n", &base, "B 0:1|20.00|150.5 cm\n");
    /* each column for itself */
    bolts("bolt;m;width cm\n1;20,5;150.5\n2;1.000,5;150.5\n", &base,
          "B 0:1|20.50|150.5 cm\nB 0:2|1000.50|150.5 cm\n");
}

static void both_signs_in_one_column_are_asked_about(void **state)
{
    static const struct tb_intake_opts comma = { BASE, .decimal = ',' };
    static const char list[] = "bolt;m\n1;50,5\n2;50.5\n";

    (void)state;
    asked(list, &base, "writes '50.5' on line 3 and '50,5' on line 2");
    bad(list, &comma, "X 3 B '50.5': this is not a number with a decimal comma");
}

/* --- units ------------------------------------------------------------------------------------------------------ */
static void the_unit_of_a_length_stands_in_cell_header_row_or_column(void **state)
{
    static const struct tb_intake_opts yd = { BASE, .length_unit = TB_UNIT_YD };

    (void)state;
    bolts("bolt,length\n1,100 yds\n2,100m\n3,100 ft\n", &base,
          "B 0:1|91.44|100 yds\nB 0:2|100.00\nB 0:3|30.48|100 ft\n");
    bolts("bolt,length (yd)\n1,100\n", &base, "B 0:1|91.44|100 yd\n");
    bolts("bolt,length,width\n,yd,inch\n1,100,60\n", &base, "B 0:1|91.44|152.4 cm|100 yd\n");
    bolts("bolt,qty,unit\n1,100,YD\n2,100,MTR\n", &base, "B 0:1|91.44|100 yd\nB 0:2|100.00\n");
    bolts("Unit: yards\nbolt,length\n1,100\n", &base, "B 0:1|91.44|100 yd\n");
    bolts("bolt,qty\n1,100\n", &yd, "B 0:1|91.44|100 yd\n");
    asked("bolt,qty\n1,100\n", &base, "do not say whether they are metres or yards");
    asked("bolt,metres\n1,100\n", &yd, "says its lengths are in m, and --unit says yd");
    asked("bolt,length kg\n1,20\n", &(struct tb_intake_opts){ BASE, .length_unit = TB_UNIT_M },
          "says its lengths are in kg, and --unit says m");
    bad("bolt,length (m)\n1,100 rods\n", &base,
        "X 2 B '100 rods': its unit is neither metres, yards nor feet");
}

static void metres_beside_yards_count_once(void **state)
{
    struct seen s = read_text("bolt,yards,metres\n1,100,91.44\n", &base);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_non_null(strstr(s.text.s, "B 0:1|91.44\n"));
    assert_true(says(&s, "'metres' is taken, 'yards' is left out"));
    seen_free(&s);
}

static void widths_are_read_in_every_shape(void **state)
{
    static const struct tb_intake_opts inch = { BASE, .width_unit = TB_UNIT_IN };

    (void)state;
    bolts("bolt\tm\twidth\n1\t9\t\"58\"\"\"\n2\t9\t\"58/60\"\"\"\n3\t9\t\"57-58\"\"\"\n4\t9\t150 "
          "cm\n5\t9\t1.5 m\n",
          &base,
          "B 0:1|9.00|147.3 cm\nB 0:2|9.00|147.3 cm|width 58/60\"\nB 0:3|9.00|144.8 cm|width 57-58\"\n"
          "B 0:4|9.00|150.0 cm\nB 0:5|9.00|150.0 cm\n");
    bolts("bolt,m,width\n1,9,150\n", &base, "B 0:1|9.00|150.0 cm\n");
    bolts("bolt,m,width\n1,9,1.50\n", &base, "B 0:1|9.00|150.0 cm\n");
    asked("bolt,m,width\n1,9,58\n", &base,
          "the widths in the column 'width' ('58') can be in any of these units: cm, in; say which with "
          "--width-unit");
    bolts("bolt,m,width\n1,9,58\n", &inch, "B 0:1|9.00|147.3 cm\n");
    /* one width beyond what inches can be settles the column */
    bolts("bolt,m,width\n1,9,90\n2,9,150\n", &base, "B 0:1|9.00|90.0 cm\nB 0:2|9.00|150.0 cm\n");
    bad("bolt,m,width cm\n1,9,15000\n", &base, "X 2 C '15000': no cloth is that wide");
}

static void masses_are_read_in_every_shape(void **state)
{
    static const struct tb_intake_opts area = { BASE, .mass_unit = TB_UNIT_OZ_YD2 },
                                       run = { BASE, .mass_unit = TB_UNIT_OZ_PER_YD },
                                       kg = { BASE, .mass_unit = TB_UNIT_KG };

    struct seen s;

    (void)state;
    /* 1 oz/yd2 = 33.906 g/m2; 1 momme = 4.340 g/m2 */
    bolts("bolt,m,weight\n1,9,8oz/yd2\n2,9,12MM\n3,9,16 m/m\n4,9,19 momme\n5,9,200 gsm\n", &base,
          "B 0:1|9.00|271.2 g/m2\nB 0:2|9.00|52.1 g/m2\nB 0:3|9.00|69.4 g/m2\nB 0:4|9.00|82.5 g/m2\n"
          "B 0:5|9.00|200.0 g/m2\n");
    /* 270 g a running metre, 150 cm wide: 180 g/m2 */
    bolts("bolt,m,width cm,weight\n1,9,150,270 g/ml\n", &base, "B 0:1|9.00|150.0 cm|180.0 g/m2\n");
    bolts("bolt,m,width cm,g/lm\n1,9,150,270\n", &base, "B 0:1|9.00|150.0 cm|180.0 g/m2\n");
    s = read_text("bolt,m,weight\n1,9,270 g/ml\n2,8,270 g/ml\n", &base);
    assert_int_equal(s.rc, TB_OK);
    assert_true(isnan(s.list.bolt[0].mass_gsm) && isnan(s.list.bolt[1].mass_gsm));
    assert_true(
        says(&s, "2 bolts have a mass along their length and no width: their mass per area is not known"));
    seen_free(&s);
    bad("bolt,m,weight\n1,9,8 oz\n", &base, "X 2 C '8 oz': ounces a square yard or ounces a running yard?");
    asked("bolt,m,weight oz\n1,9,8\n", &base,
          "can be in any of these units: oz/yd2, oz/yd; say which with --mass-unit");
    bolts("bolt,m,weight oz\n1,9,8\n", &area, "B 0:1|9.00|271.2 g/m2\n");
    /* 8 oz/yd on 150 cm: 8 x 28.3495 g / 0.9144 m / 1.5 m */
    bolts("bolt,m,width cm,weight oz\n1,9,150,8\n", &run, "B 0:1|9.00|150.0 cm|165.4 g/m2\n");
    bolts("bolt,m,weight\n1,9,180\n", &base, "B 0:1|9.00|180.0 g/m2\n");
    asked("bolt,m,weight\n1,9,25\n", &base, "masses in the column 'weight' ('25') can be");
    bolts("bolt,m,weight\n1,9,25\n", &kg, "B 0:1|9.00\n");
}

/* --- days --------------------------------------------------------------------------------------------------------- */
static void days_are_read_in_every_order(void **state)
{
    static const struct {
        const char *text, *dmy, *mdy, *ymd;
    } row[] = {
        { "2026-03-04", "2026-03-04", "2026-03-04", "2026-03-04" },
        { "2026/3/4", "2026-03-04", "2026-03-04", "2026-03-04" },
        { "20260304", "2026-03-04", "2026-03-04", "2026-03-04" },
        { "2026年3月4日", "2026-03-04", "2026-03-04", "2026-03-04" },
        { "2026-03-04 08:30:00", "2026-03-04", "2026-03-04", "2026-03-04" },
        { "04.04.2026", "2026-04-04", "2026-04-04", "2026-04-04" },
        { "03/04/2026", "2026-04-03", "2026-03-04", "" },
        { "13.04.2026", "2026-04-13", "", "" },
        { "04/13/2026", "", "2026-04-13", "" },
        { "13.04.26", "2026-04-13", "", "" },
        { "26-03-04", "", "", "2026-03-04" },
        { "26-03-17", "2017-03-26", "", "2026-03-17" },
        { "12 Mar 2026", "2026-03-12", "2026-03-12", "2026-03-12" },
        { "12-mars-26", "2026-03-12", "2026-03-12", "2026-03-12" },
        { "March 12, 2026", "2026-03-12", "2026-03-12", "2026-03-12" },
        { "12. März 2026", "2026-03-12", "2026-03-12", "2026-03-12" },
        { "12 de marzo de 2026", "2026-03-12", "2026-03-12", "2026-03-12" },
        { "12 Mart 2026", "2026-03-12", "2026-03-12", "2026-03-12" },
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_day_reading d;

        (void)tb_day_scan(&d, row[i].text);
        if (strcmp(d.dmy, row[i].dmy) != 0 || strcmp(d.mdy, row[i].mdy) != 0 ||
            strcmp(d.ymd, row[i].ymd) != 0)
            print_error("%s: %s %s %s\n", row[i].text, d.dmy, d.mdy, d.ymd);
        assert_string_equal(d.dmy, row[i].dmy);
        assert_string_equal(d.mdy, row[i].mdy);
        assert_string_equal(d.ymd, row[i].ymd);
    }
}

static void what_is_no_day_is_not_read_as_one(void **state)
{
    static const char *const text[] = { "",    "tomorrow", "2026-02-30", "31.04.2026",  "12",
                                        "1.2", "1.2.3.4",  "12/3",       "12 Foo 2026", "99999999" };
    struct tb_day_reading d;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(text); i++)
        assert_int_equal(tb_day_scan(&d, text[i]), 0);
}

#define DAYS(a, b) "date,delivery note,bolt,m\n" a ",1,1,9\n" b ",2,1,9\n"
static void a_date_with_two_readings_is_asked_about(void **state)
{
    static const struct tb_intake_opts
        opts = { .supplier = "M", .article = "A", .declared = "" },
        dmy = { .supplier = "M", .article = "A", .declared = "", .dates = 'd' },
        mdy = { .supplier = "M", .article = "A", .declared = "", .dates = 'm' };
    struct seen s;

    (void)state;
    asked(
        DAYS("03/04/2026", "05/04/2026"), &opts,
        "the date '03/04/2026' (line 2) is 2026-04-03 with --dates dmy and 2026-03-04 with --dates mdy; say "
        "which is meant");
    s = read_text(DAYS("03/04/2026", "05/04/2026"), &mdy);
    assert_string_equal(s.list.delivery[0].day, "2026-03-04");
    seen_free(&s);
    s = read_text(DAYS("03/04/2026", "05/04/2026"), &dmy);
    assert_string_equal(s.list.delivery[0].day, "2026-04-03");
    seen_free(&s);
    /* one date that can be read only one way settles the file */
    s = read_text(DAYS("03/04/2026", "04/13/2026"), &opts);
    assert_int_equal(s.rc, TB_OK);
    assert_string_equal(s.list.delivery[0].day, "2026-03-04");
    seen_free(&s);
    asked(DAYS("13/04/2026", "04/13/2026"), &opts, "not all written in one order");
    bad(DAYS("13/04/2026", "04/13/2026"), &dmy,
        "X 3 A '04/13/2026': '04/13/2026' is not a date that can be read day first");
    bad(DAYS("2026-02-30", "2026-03-01"), &opts, "X 2 A '2026-02-30'");
}

/* --- titles and blocks ---------------------------------------------------------------------------------------------- */
static void the_title_gives_supplier_note_date_order_and_composition(void **state)
{
    (void)state;
    taken("PACKING LIST,,\n"
          "Supplier: Alder Mill,,\"Packing list no.: PL-77   Date: 14 Mar 2026\"\n"
          "P.O. No.,4711,\n"
          "Article,Colour,Composition\n"
          "Q10,navy,100% linen\n"
          "Width: 150 cm,GSM: 210 gsm,Made in: PT\n"
          "roll no,metres,\n"
          "1,50,\n",
          NULL,
          "D Alder Mill|PL-77|4711|2026-03-14\n"
          "L Q10|navy||100% linen|title|PT\n"
          "B 0:1|50.00|150.0 cm|210.0 g/m2\n");
    taken("DDT n. 123 del 12/13/2026\nFornitore:;Tessitura Rovo\npezza;metri;bagno\n1;50;B7\n",
          &(struct tb_intake_opts){ .article = "A", .declared = "" },
          "D Tessitura Rovo|123||2026-12-13\nL A||B7||option|\nB 0:1|50.00\n");
}

static void options_replace_what_the_title_says(void **state)
{
    static const struct tb_intake_opts opts = {
        .supplier = "Other", .note = "9", .order = "O", .declared = "wool"
    };

    (void)state;
    taken("Supplier: Mill\nDelivery note no.: 1\narticle,bolt,m\nQ,1,5\n", &opts,
          "D Other|9|O|\nL Q|||wool|option|\nB 0:1|5.00\n");
}

static void a_composition_said_once_holds_for_its_block(void **state)
{
    (void)state;
    taken("article,colour,lot,roll,m,composition\n"
          "Q1,navy,L1,1,10,100% CO\n"
          ",,,2,11,\n"
          "Subtotal,,,2,21,\n"
          "Q2,red,L2,3,12,97CO 3EA\n"
          "Q2,red,L2,4,13,\n"
          "Q3,red,L3,5,14,\n",
          &(struct tb_intake_opts){ .supplier = "M", .note = "1" },
          "D M|1||\n"
          "L Q1|navy|L1|100% CO|row|\nL Q2|red|L2|97CO 3EA|row|\nL Q3|red|L3||option|\n"
          "B 0:1|10.00\nB 0:2|11.00\nB 1:3|12.00\nB 1:4|13.00\nB 2:5|14.00\n");
}

static void headings_between_blocks_hold_for_the_rows_below(void **state)
{
    (void)state;
    taken("roll,m,lot\n"
          "Article: Q1   Composition: T/R65/35\n"
          "1,10,L1\n2,20,L1\n"
          "Total,30,\n"
          "Article: Q2   Composition: %100 PAMUK\n"
          "1A,10,L2\n",
          &(struct tb_intake_opts){ .supplier = "M", .note = "1" },
          "D M|1||\nL Q1||L1|T/R65/35|title|\nL Q2||L2|%100 PAMUK|title|\n"
          "B 0:1|10.00\nB 0:2|20.00\nB 1:1A|10.00\n");
    taken("article,colour,roll,m\nQ1,navy,,\n,,1,10\n,,2,20\nQ2,,,\n,,3,5\n",
          &(struct tb_intake_opts){ .supplier = "M", .note = "1", .declared = "" },
          "D M|1||\nL Q1|navy|||option|\nL Q2||||option|\nB 0:1|10.00\nB 0:2|20.00\nB 1:3|5.00\n");
}

static void every_ditto_mark_repeats_the_value_above(void **state)
{
    static const char *const mark[] = { "-", "/", "\"\"\"\"", "〃", "同上", "idem", "dto.", "″" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(mark); i++) {
        char list[200];

        (void)snprintf(list, sizeof list, "article,colour,roll,m\nQ1,navy,1,10\n%s,%s,2,20\n", mark[i],
                       mark[i]);
        taken(list, &(struct tb_intake_opts){ .supplier = "M", .note = "1", .declared = "" },
              "D M|1||\nL Q1|navy|||option|\nB 0:1|10.00\nB 0:2|20.00\n");
    }
}

static void compositions_are_kept_as_received(void **state)
{
    static const char *const words[] = { "T/R65/35",  "65/35 T/C",  "CVC 60/40",    "40S/2",
                                         "JC32S+40D", "100%COTTON", "%100 PAMUK",   "100 % CO",
                                         "CO100",     "97CO 3EA",   "97% CO/3% EL", "100% Seide" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(words); i++) {
        char list[200];
        struct seen s;

        (void)snprintf(list, sizeof list, "article,roll,m,composition\nQ1,1,10,%s\n", words[i]);
        s = read_text(list, &(struct tb_intake_opts){ .supplier = "M", .note = "1" });
        assert_int_equal(s.rc, TB_OK);
        assert_string_equal(s.list.lot[0].declared, words[i]);
        seen_free(&s);
    }
}

/* --- totals ------------------------------------------------------------------------------------------------------ */
static void totals_are_checked_and_differences_said(void **state)
{
    static const char list[] =
        "lot,roll,m\nL1,1,10\nL1,2,20.5\nSubtotal L1,2,30.5\nL2,3,5\nL2 Total,1,5.5\nGrand total,4,35.5\n";
    struct seen s = read_text(list, &base);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.bolts, 3);
    assert_int_equal(s.list.totals, 2);
    assert_true(
        says(&s, "line 6: the total says 5.50 m, the 1 bolt above it has 5.00 m: a difference of +0.50 m"));
    assert_true(says(&s, "line 7: the total counts 4 bolts, above it there are 3"));
    seen_free(&s);
}

static void a_total_without_words_is_known_by_its_sum(void **state)
{
    struct seen s;
    static const char list[] = "lot,roll,m\nL1,1,10\nL1,2,20.5\n,2,30.5\nL2,7,5\nL2,8,6\n,,11\n,,41.5\n";

    (void)state;
    s = read_text(list, &base);
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.bolts, 4);
    assert_int_equal(s.list.totals, 3);
    seen_free(&s);
    asked("roll,m\n1,10\n2,20\n,31\n", &base,
          "line 4: 31.00 m without a bolt number are not the sum of the bolts above");
}

static void headers_that_repeat_on_every_page_are_passed_over(void **state)
{
    (void)state;
    bolts("roll no,length,width\n,m,cm\n1,10,150\nPage 2,,\nroll no,length,width\n,m,cm\n2,20,150\nCarried "
          "forward,30,\n"
          "Thank you for your order,,\n",
          &base, "B 0:1|10.00|150.0 cm\nB 0:2|20.00|150.0 cm\n");
}

static void a_header_over_two_rows_is_put_together(void **state)
{
    (void)state;
    bolts("Roll,Length,,Width\nNo.,gross m,net m,cm\n1,10.5,10,150\n", &base, "B 0:1|10.00|150.0 cm\n");
}

static void a_second_table_with_other_columns_is_read_by_its_own_header(void **state)
{
    (void)state;
    bolts("article,roll no,m\nQ1,1,10\nm,article,colour,roll no\n20,Q2,red,2\n",
          &(struct tb_intake_opts){ .supplier = "M", .note = "1", .declared = "" },
          "B 0:1|10.00\nB 1:2|20.00\n");
}

/* --- columns -------------------------------------------------------------------------------------------------------- */
static void missing_columns_are_named_with_the_headers_seen(void **state)
{
    (void)state;
    asked("foo,metres,bar\nx,1,2\n", &(struct tb_intake_opts){ .supplier = "M" },
          "no column was found for: bolt number, article (or --article), declared composition (or "
          "--declared). The headers "
          "seen on line 1 are 'foo', 'metres', 'bar'");
    asked("1,2,3\n4,5,6\n", &base, "no row of this file looks like the header");
}

static void a_word_of_the_site_or_of_map_comes_first(void **state)
{
    static const struct tb_header_word word[] = { { "Ware", TB_FIELD_BOLT }, { "Roll", TB_FIELD_IGNORE } };
    static const struct tb_intake_opts opts = { BASE, .word = word, .words = 2 };

    (void)state;
    bolts("Ware,Roll,m\nW1,9,10\n", &opts, "B 0:W1|10.00\n");
}

static void two_columns_for_one_thing_are_asked_about(void **state)
{
    static const struct tb_header_word word[] = { { "ticket", TB_FIELD_BOLT } };
    static const struct tb_intake_opts opts = { BASE, .word = word, .words = 1 };

    (void)state;
    asked("roll no,bolt no,m\n1,2,3\n", &base,
          "the columns 'roll no' and 'bolt no' could both be the bolt number");
    /* a weaker word gives way: a ticket number beside a roll number */
    bolts("ticket,roll no,m\nT1,R1,3\n", &base, "B 0:R1|3.00\n");
    bolts("ticket,roll no,m\nT1,R1,3\n", &opts, "B 0:T1|3.00\n");
    bolts("qty,metres,roll no\n1,30,R1\n", &base, "B 0:R1|30.00\n");
}

static void words_with_two_meanings_take_the_one_that_is_free(void **state)
{
    struct seen s;

    (void)state;
    /* quality beside an article is a class; alone it is the article */
    taken("article,quality,roll,m\nQ1,first,1,5\n",
          &(struct tb_intake_opts){ .supplier = "M", .note = "1", .declared = "" },
          "D M|1||\nL Q1||||option|\nB 0:1|5.00\n");
    /* where it names the goods, it is a part of their name */
    taken("article,quality,roll,m\n7710,Fell Flannel,1,5\n",
          &(struct tb_intake_opts){ .supplier = "M", .note = "1", .declared = "" },
          "D M|1||\nL 7710 / Fell Flannel||||option|\nB 0:1|5.00\n");
    s = read_text("quality,roll,m\nQ1,1,5\n",
                  &(struct tb_intake_opts){ .supplier = "M", .note = "1", .declared = "" });
    assert_string_equal(s.list.lot[0].article, "Q1");
    assert_true(says(&s, "the column 'quality' is read as article; if it means quality class"));
    seen_free(&s);
    /* H is altezza, the Italian width; en is the Turkish one */
    bolts("pezza,metri,H\n1,5,150\n", &base, "B 0:1|5.00|150.0 cm\n");
    bolts("top no,metre,en\n1,5,150\n", &base, "B 0:1|5.00|150.0 cm\n");
}

static void colour_code_and_name_design_and_article_are_joined(void **state)
{
    (void)state;
    taken("article,design,colour code,colour name,shade "
          "band,lot,roll,m\nQ1,D5,012,navy,A,L1,1,5\nQ1,D5,012,navy,A,L1,2,6\n",
          &(struct tb_intake_opts){ .supplier = "M", .note = "1", .declared = "" },
          "D M|1||\nL Q1 / D5|012 navy A|L1||option|\nB 0:1|5.00\nB 0:2|6.00\n");
}

/* --- bolts ---------------------------------------------------------------------------------------------------------- */
static void bolt_numbers_stay_text(void **state)
{
    (void)state;
    bolts("roll,m\n00123,1\n1E05,1\n12/3,1\n3-4,1\n", &base,
          "B 0:00123|1.00\nB 0:1E05|1.00\nB 0:12/3|1.00\nB 0:3-4|1.00\n");
}

static void the_same_number_twice_in_one_delivery_is_refused(void **state)
{
    static const struct tb_intake_opts by_lot = { BASE, .number_by_lot = true };
    static const char list[] = "lot,roll,m\nL1,1,10\nL2,1,20\n";

    (void)state;
    bad("lot,roll,m\nL1,7,10\nL1,7,10\n", &base, "X 3 B '7': this bolt number stands on line 2 already");
    asked("lot,roll,m\nL1,1,10\nL1,1,20\n", &base,
          "line 3: the bolt number '1' stands on line 2 already, there with another length; say --part-line "
          "3 if "
          "this is a further length of that bolt, --total-line 3 if it is left out");
    bad("lot,roll,m\nL1,1,10\nL2,5,20\nL2,1,41\n", &base,
        "X 4 B '1': this bolt number stands on line 2 already");
    asked(list, &base, "if numbers start again in every dye lot, say --numbers-by-lot");
    bolts(list, &by_lot, "B 0:L1/1|10.00\nB 1:L2/1|20.00\n");
    bolts("delivery note,roll,m\nN1,1,10\nN2,1,20\n",
          &(struct tb_intake_opts){ .supplier = "M", .article = "A", .declared = "" },
          "B 0:1|10.00\nB 1:1|20.00\n");
}

static void rows_that_are_no_single_bolt_are_refused(void **state)
{
    (void)state;
    bad("roll,m\n11~15,250\n", &base, "X 2 A '11~15': several bolts under one length");
    bad("roll,m,rolls\n1-10,500,10\n", &base, "X 2 A '1-10': several bolts");
    bad("roll,m\n1,-5\n", &base, "X 2 B '-5': a length below zero");
    bad("roll,m\n1,0\n", &base, "X 2 B '0': a bolt without length");
    bad("roll,m\n1,10-20\n", &base, "X 2 B '10-20': this is a range");
    bad("roll,m\n1,ca. 20\n", &base, "X 2 B 'ca. 20': this is not a length");
    bad("roll,m\n1,\n", &base, "X 2 B '': the bolt '1' has no length");
    bad("roll,m,price\n1,5,free\n", &base, "X 2 C 'free': this is not a price");
}

static void parts_of_a_bolt_are_added_and_counted(void **state)
{
    struct seen s;

    (void)state;
    s = read_text("roll,m\n1,50+30+20\n", &base);
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.bolt[0].parts, 3);
    assert_true(s.list.bolt[0].metres == 100);
    seen_free(&s);
    s = read_text("roll,m,splices\n1,50,2\n", &base);
    assert_int_equal(s.list.bolt[0].parts, 2);
    seen_free(&s);
}

static void all_bad_values_are_listed_to_a_hundred_and_counted(void **state)
{
    struct tb_text t = { 0 };
    struct seen s;

    (void)state;
    tb_text_add(&t, "roll,m\n");
    for (int i = 0; i < 250; i++)
        tb_text_addf(&t, "%d,many\n", i);
    s = read_text(t.s, &base);
    assert_int_equal(s.rc, TB_EINVAL);
    assert_string_equal(s.err.msg, "250 values cannot be taken; nothing of this file is stored");
    assert_int_equal(s.list.bads, 100);
    assert_int_equal(s.list.bad_count, 250);
    seen_free(&s);
    tb_text_free(&t);
}

static void who_sent_it_and_its_number_must_be_known(void **state)
{
    (void)state;
    asked("article,roll,m,composition\nQ,1,5,wool\n", NULL, "does not name the supplier; say --supplier");
    asked("article,roll,m,composition\nQ,1,5,wool\n", &(struct tb_intake_opts){ .supplier = "M" },
          "say --note");
}

static void full_width_text_is_read_like_plain_text(void **state)
{
    (void)state;
    bolts("匹号,米数,成分\n１,１２．５,100％ 棉\n",
          &(struct tb_intake_opts){ .supplier = "M", .note = "1", .article = "A" }, "B 0:１|12.50\n");
}

static void a_file_that_is_not_utf8_says_how_it_was_read(void **state)
{
    struct seen s = read_text("St\xFC"
                              "ck-Nr.;L\xE4nge m\n1;5\n",
                              &base);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_true(says(&s, "read as Windows-1252"));
    seen_free(&s);
}

static void nothing_runs_down_from_one_supplier_to_the_next(void **state)
{
    static const char list[] = "supplier,delivery note no.,article,colour,roll,m,composition\n"
                               "Asker,1,poplin,white,1,10,100% cotton\n"
                               ",,,,2,10,\n"
                               "Bolder,2,poplin,,1,10,\n"
                               ",,,,2,10,100% silk\n";
    struct seen s = read_text(list, NULL);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_string_equal(s.text.s,
                        "D Asker|1||\nD Bolder|2||\n"
                        "L poplin|white||100% cotton|row|\nL poplin||||option|\nL poplin|||100% silk|row|\n"
                        "B 0:1|10.00\nB 0:2|10.00\nB 1:1|10.00\nB 2:2|10.00\n");
    seen_free(&s);
    s = read_text("supplier,delivery note no.,article,roll,m,composition\nAsker,1,poplin,1,10,100% cotton\n"
                  "Bolder,,poplin,1,10,100% silk\n",
                  NULL);
    assert_int_equal(s.rc, TB_EINVAL); /* Bolder did not deliver under Asker's note */
    assert_string_equal(s.err.msg,
                        "line 3: the file does not give the number of the delivery note; say --note NUMBER");
    seen_free(&s);
    s = read_text("supplier,delivery note no.,article,roll,m,composition\nAsker,1,poplin,1,10,100% cotton\n"
                  "Bolder,2,,1,10,100% silk\n",
                  NULL);
    assert_string_equal(strstr(s.text.s, "X "), "X 3 C '': the bolt names no article, and none stands above "
                                                "it; --article TEXT says it of such bolts\n");
    seen_free(&s);
}

static void an_empty_declaration_beside_filled_ones_is_never_silent(void **state)
{
    static const char list[] = "article,roll,m,composition\nQ,1,10,100% wool\nR,2,11,\nS,3,12,100% silk\n";
    static const struct tb_intake_opts none = { .supplier = "M", .note = "1" },
                                       wool = { .supplier = "M", .note = "1", .declared = "100% wool" };
    struct seen s = read_text(list, &none);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_true(says(&s, "1 lot declares nothing, beside others that do ('R'): ask the supplier"));
    seen_free(&s);
    s = read_text(list, &wool);
    assert_int_equal(s.rc, TB_OK);
    assert_true(
        says(&s, "1 bolt declares nothing, beside others that do; it is taken to be what --declared says"));
    seen_free(&s);
    s = read_text("Composition: 100% linen\narticle,roll,m,composition\nQ,1,10,100% wool\nR,2,11,\n", &none);
    assert_int_equal(s.rc, TB_OK);
    assert_true(
        says(&s, "1 empty cell in the column 'composition' took what stands above the table, '100% linen'"));
    seen_free(&s);
    s = read_text("article,roll,m,composition\nQ,1,10,100% wool\nQ,2,11,\n", &none);
    assert_true(says(&s, "1 empty cell in the column 'composition' took the value above it"));
    seen_free(&s);
}

static void a_text_no_packing_list_holds_is_refused_with_its_place(void **state)
{
    struct tb_text list = { 0 };
    struct seen s;

    (void)state;
    tb_text_add(&list, "lot,roll,m\nL");
    for (int i = 0; i < TB_INTAKE_TEXT_MOST; i++)
        tb_text_addc(&list, 'L');
    tb_text_add(&list, ",1,10\nL2,2,10\n");
    s = read_text(list.s, &base);
    assert_int_equal(s.rc, TB_EINVAL);
    assert_int_equal(s.list.bad_count, 1);
    assert_int_equal(s.list.bad[0].line, 2);
    assert_string_equal(s.list.bad[0].why, "a value of more than 4000 bytes");
    seen_free(&s);
    tb_text_free(&list);
}

static void an_option_as_long_is_refused_too(void **state)
{
    struct tb_intake_opts opts = base;
    struct tb_text name = { 0 };
    struct seen s;

    (void)state;
    for (int i = 0; i <= TB_INTAKE_TEXT_MOST; i++)
        tb_text_addc(&name, 'S');
    opts.supplier = name.s;
    s = read_text("lot,roll,m\nL1,1,10\n", &opts);
    assert_int_equal(s.rc, TB_EINVAL);
    assert_string_equal(s.err.msg, "the supplier has more than 4000 bytes; nothing of this file is stored");
    seen_free(&s);
    tb_text_free(&name);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_german_list_with_title_subtotals_and_ditto_marks_is_taken),
        cmocka_unit_test(every_field_is_taken_from_columns_in_any_order),
        cmocka_unit_test(each_delivery_of_a_file_has_its_own_date_and_orders),
        cmocka_unit_test(notes_are_kept_to_a_hundred_and_counted),
        cmocka_unit_test(every_word_of_the_table_means_its_field),
        cmocka_unit_test(headers_are_understood_with_units_languages_and_spelling_around_them),
        cmocka_unit_test(numbers_are_read_both_ways),
        cmocka_unit_test(what_is_no_number_is_not_read_as_one),
        cmocka_unit_test(thousands_and_decimals_of_a_real_order_are_read),
        cmocka_unit_test(a_figure_with_two_readings_is_asked_about),
        cmocka_unit_test(one_clear_figure_settles_its_column_and_then_the_file),
        cmocka_unit_test(both_signs_in_one_column_are_asked_about),
        cmocka_unit_test(the_unit_of_a_length_stands_in_cell_header_row_or_column),
        cmocka_unit_test(metres_beside_yards_count_once),
        cmocka_unit_test(widths_are_read_in_every_shape),
        cmocka_unit_test(masses_are_read_in_every_shape),
        cmocka_unit_test(days_are_read_in_every_order),
        cmocka_unit_test(what_is_no_day_is_not_read_as_one),
        cmocka_unit_test(a_date_with_two_readings_is_asked_about),
        cmocka_unit_test(the_title_gives_supplier_note_date_order_and_composition),
        cmocka_unit_test(options_replace_what_the_title_says),
        cmocka_unit_test(a_composition_said_once_holds_for_its_block),
        cmocka_unit_test(headings_between_blocks_hold_for_the_rows_below),
        cmocka_unit_test(every_ditto_mark_repeats_the_value_above),
        cmocka_unit_test(compositions_are_kept_as_received),
        cmocka_unit_test(totals_are_checked_and_differences_said),
        cmocka_unit_test(a_total_without_words_is_known_by_its_sum),
        cmocka_unit_test(headers_that_repeat_on_every_page_are_passed_over),
        cmocka_unit_test(a_header_over_two_rows_is_put_together),
        cmocka_unit_test(a_second_table_with_other_columns_is_read_by_its_own_header),
        cmocka_unit_test(missing_columns_are_named_with_the_headers_seen),
        cmocka_unit_test(a_word_of_the_site_or_of_map_comes_first),
        cmocka_unit_test(two_columns_for_one_thing_are_asked_about),
        cmocka_unit_test(words_with_two_meanings_take_the_one_that_is_free),
        cmocka_unit_test(colour_code_and_name_design_and_article_are_joined),
        cmocka_unit_test(bolt_numbers_stay_text),
        cmocka_unit_test(the_same_number_twice_in_one_delivery_is_refused),
        cmocka_unit_test(rows_that_are_no_single_bolt_are_refused),
        cmocka_unit_test(parts_of_a_bolt_are_added_and_counted),
        cmocka_unit_test(all_bad_values_are_listed_to_a_hundred_and_counted),
        cmocka_unit_test(who_sent_it_and_its_number_must_be_known),
        cmocka_unit_test(full_width_text_is_read_like_plain_text),
        cmocka_unit_test(a_file_that_is_not_utf8_says_how_it_was_read),
        cmocka_unit_test(nothing_runs_down_from_one_supplier_to_the_next),
        cmocka_unit_test(an_empty_declaration_beside_filled_ones_is_never_silent),
        cmocka_unit_test(a_text_no_packing_list_holds_is_refused_with_its_place),
        cmocka_unit_test(an_option_as_long_is_refused_too),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
