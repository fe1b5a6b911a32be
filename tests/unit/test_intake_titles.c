/*
 * test_intake_titles.c - what stands above a table: units that contradict the header, labels in two languages, orders, articles.
 * Expected values: common practice, no source.
 */
#include "intake_helper.h"

#define SAID .supplier = "Weaver Inlet", .note = "7"
static const struct tb_intake_opts said = { SAID };

/* A title, and a table of two bolts with a length of 22.5 and 23.1. */
#define METRES(title, total)                                                                                 \
    title "\nArticle,Colour,Lot,Roll No,Mtrs,Composition\nRib,Red,L1,1,22.5,100% cotton\n"                   \
          "Rib,Red,L1,2,23.1,100% cotton\n" total

static void a_unit_that_contradicts_the_header_is_asked_about_and_neither_is_likely(void **state)
{
    static const char *const list[] = { METRES("Packing list", "Total yards,,,2,45.6,\n"),
                                        METRES("Packing list", "Total 45.6 yds in 2 rolls,,,,,\n"),
                                        METRES("Packing list", "Total,,,2,45.6 yds,\n"),
                                        METRES("Packing list", "Total,,,2,45.6,yds\n"),
                                        METRES("Packing list", "Total,,,2,44 yds,\n"), /* neither fits */
                                        METRES("Quantity in yds", "Total,,,2,45.6,\n"),
                                        METRES("All lengths are in yards unless stated", ""),
                                        METRES("All figures in yards", "Total,,,2,45.6,\n"),
                                        METRES("Packing list", ",,,,,All figures in yards\n") };
    static const struct tb_intake_opts yards = { SAID, .length_unit = TB_UNIT_YD },
                                       metres = { SAID, .length_unit = TB_UNIT_M };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(list); i++) {
        struct seen s = read_text(list[i], &said);

        if (s.rc != TB_EINVAL || s.list.questions != 1)
            print_error("%s", list[i]);
        assert_int_equal(s.rc, TB_EINVAL);
        assert_int_equal(s.list.questions, 1);
        assert_true(s.list.question[0].open);
        assert_non_null(strstr(s.list.question[0].ask, "the header 'Mtrs' says its lengths are in m"));
        seen_free(&s);
        bolts(list[i], &yards, "B 0:1|20.57|22.5 yd\nB 0:2|21.12|23.1 yd\n"); /* 0.9144 m, exactly */
        bolts(list[i], &metres, "B 0:1|22.50\nB 0:2|23.10\n");
    }
}

static void what_names_another_unit_and_contradicts_nothing_is_not_asked_about(void **state)
{
    static const char *const list[] = {
        METRES("Packing list", "Total,,,2,49.87 yds,\n"), /* 45.6 m */
        METRES("Packing list", "Total metres 45.6,,Total yards 49.9,2,45.6,\n"),
        METRES("Packing list", "Total,,,2,45.6 m,(49.87 yds)\n"),
        METRES("Mill Yard", "Total,,,2,45.6,\n"), /* an address */
        METRES("The Yard, Weaver Inlet", ""),
        METRES("Price in USD per yard", "Total,,,2,45.6,\n"),
        METRES("Ordered: 500 yds", "Total,,,2,45.6,\n"),
        METRES("Lengths in metres", "Total,,,2,45.6,\n"),
        METRES("Lengths in metres\nWidths in yards", "Total,,,2,45.6,\n"),
        METRES("All figures in metres", "Navy,,,,,all in metres\n"),
    };
    static const char two[] = "Figures in yards and in metres\nArticle,Roll No,Yards,Metres,Composition\n"
                              "Rib,1,24.6,22.5,100% cotton\n";
    static const struct tb_intake_opts yards = { SAID, .length_unit = TB_UNIT_YD };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(list); i++)
        bolts(list[i], &said, "B 0:1|22.50\nB 0:2|23.10\n");
    /* a unit that the file states and nobody doubts is not overruled */
    asked(list[7], &yards, "says its lengths are in m, and --unit says yd");
    bolts(two, &said, "B 0:1|22.50\n");
}

#define BOLTS "\nRoll,Article,m,Composition\n1,Twill,50,100% wool\n"
#define TAKEN(order, day) "D Weaver Inlet|7|" order "|" day "\nL Twill|||100% wool|row|\nB 0:1|50.00\n"

static void a_label_in_two_languages_is_one_and_the_nearer_label_wins(void **state)
{
    (void)state;
    taken("合同号 Contract No.,JT26,,日期 Date,2026-09-02" BOLTS, &said, TAKEN("JT26", "2026-09-02"));
    taken("合同号 Contract No.,JT26,,Date / Datum,2026-09-02" BOLTS, &said, TAKEN("JT26", "2026-09-02"));
    taken("合同号,JT26,,日期 Date,2026-09-02" BOLTS, &said, TAKEN("JT26", "2026-09-02"));
    taken("Order / Auftrag: JT26" BOLTS, &said, TAKEN("JT26", ""));
    taken("日期(Date): 2026-09-02" BOLTS, &said, TAKEN("", "2026-09-02"));
    taken("Datum Date,2026-09-02" BOLTS, &said, TAKEN("", "2026-09-02"));
    /* the date of an invoice is not that of the note, and of what nobody knows is asked about */
    asked("发票 Date,2026-09-02" BOLTS, &said, "line 1 says '2026-09-02'");
    asked("合同号 Contract No.,JT26,,Printed,2026-09-02" BOLTS, &said, "line 1 says '2026-09-02'");
    taken("Order no.,JT26,Order date,2026-09-02" BOLTS, &said, TAKEN("JT26", ""));
    taken("Order no.,JT26,2026-09-02" BOLTS, &said, TAKEN("JT26", ""));
}

static void an_order_is_one_whosever_it_is_called_in_every_language(void **state)
{
    static const char *const label[] = { "Your P.O.",
                                         "V/ Encomenda",
                                         "Votre commande :",
                                         "Su pedido:",
                                         "Objednávka č.",
                                         "ご注文番号",
                                         "Buyer Order",
                                         "Uw referentie",
                                         "訂單號碼",
                                         "Cust PO",
                                         "Your order:",
                                         "Customer PO",
                                         "Vostro ordine",
                                         "Bestelling",
                                         "Buyer's PO No.",
                                         "Our order",
                                         "Naročilo št.",
                                         "Vaše objednávka č.",
                                         "Ваш заказ №",
                                         "Номер Вашего заказа",
                                         "Kundens order",
                                         "Din ordre",
                                         "Παραγγελία σας",
                                         "Asiakkaan tilaus",
                                         "귀사 주문번호",
                                         "客户订单号",
                                         "Az Ön rendelése",
                                         "Megrendelés sz.",
                                         "Müşteri sipariş no",
                                         "Comanda dvs.",
                                         "Wasze zamówienie nr",
                                         "Jūsu pasūtījums",
                                         "Teie tellimus",
                                         "Jūsų užsakymas",
                                         "Vaša narudžba br.",
                                         "Вашата поръчка №",
                                         "N° de votre commande",
                                         "Client PO#",
                                         "P.O.#",
                                         "Customer order ref",
                                         "Vs. rif.",
                                         "Kunden-Bestellnummer",
                                         "Réf. client",
                                         "Your order / Ihre Bestellung",
                                         "契約番号 Contract No.",
                                         "合同编号",
                                         "採購單號",
                                         "발주번호" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(label); i++) {
        struct tb_text list = { 0 };
        struct seen s;

        tb_text_addf(&list, "%s,ML-3400%s", label[i], BOLTS);
        s = read_text(list.s, &said);
        if (s.rc != TB_OK || strcmp(s.list.delivery[0].order, "ML-3400") != 0)
            print_error("%s is no label of an order\n", label[i]);
        assert_int_equal(s.rc, TB_OK);
        assert_string_equal(s.list.delivery[0].order, "ML-3400");
        assert_false(says(&s, "not understood"));
        seen_free(&s);
        tb_text_free(&list);
    }
    /* of two the buyer's counts, in whatever order they stand */
    taken("Our order,S-1,,Your order,PO-2" BOLTS, &said, TAKEN("PO-2", ""));
    taken("Your order,PO-2,,Our order,S-1" BOLTS, &said, TAKEN("PO-2", ""));
    taken("Our ref.,S-1" BOLTS, &said, TAKEN("", ""));
    taken("Customer,4711" BOLTS, &said, TAKEN("", ""));
}

static void a_label_that_nobody_understands_is_named_with_what_it_says(void **state)
{
    static const char *const told[][2] = { { "Foo no.,JT26", "'Foo no.' (JT26)" },
                                           { "Foo: ML-3400 and more", "'Foo' (ML-3400 and more)" },
                                           { "Foo:,,ML-3400", "'Foo' (ML-3400)" },
                                           { "Foo,JT26,,Bar,77", "'Foo' (JT26), 'Bar' (77)" } };
    static const char *const silent[] = { "Weaver Inlet Ltd,,Tel: 0123 4567",
                                          "From: Ada Fell <a@example.org>",
                                          "Order no.: JT26",
                                          "Total rolls: 1",
                                          "Packing list",
                                          "http://example.org",
                                          "Colour: navy",
                                          "Page,1" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(told); i++) {
        struct tb_text list = { 0 };
        struct seen s;

        tb_text_addf(&list, "%s%s", told[i][0], BOLTS);
        s = read_text(list.s, &said);
        assert_int_equal(s.rc, TB_OK);
        if (!says(&s, told[i][1]))
            print_error("%s\n", told[i][0]);
        assert_true(says(&s, told[i][1]));
        seen_free(&s);
        tb_text_free(&list);
    }
    for (size_t i = 0; i < TB_COUNT(silent); i++) {
        struct tb_text list = { 0 };
        struct seen s;

        tb_text_addf(&list, "%s%s", silent[i], BOLTS);
        s = read_text(list.s, &said);
        if (s.rc != TB_OK || says(&s, "not understood"))
            print_error("%s\n", silent[i]);
        assert_int_equal(s.rc, TB_OK);
        assert_false(says(&s, "not understood"));
        seen_free(&s);
        tb_text_free(&list);
    }
}

/* The answer that is likely for --article; "": there is none, NULL: it is not asked about. */
static void article_proposed(const char *title, const char *file, const char *article)
{
    struct tb_intake_opts o = { SAID, .name = file, .declared = "100% cotton" };
    struct tb_text list = { 0 };
    const char *likely = NULL;
    struct seen s;

    tb_text_addf(&list, "%s\nRoll,m\n1,50\n2,51\n", title);
    s = read_text(list.s, &o);
    for (size_t i = 0; i < s.list.questions; i++)
        if (strstr(s.list.question[i].ask, "--article"))
            likely = s.list.question[i].open ? "" : s.list.question[i].answer[0].value;
    if (!likely || strcmp(likely, article) != 0)
        print_error("%s, %s: '%s'\n", title, file, likely ? likely : "(not asked)");
    assert_non_null(likely);
    assert_string_equal(likely, article);
    seen_free(&s);
    tb_text_free(&list);
}

static void an_article_is_proposed_from_its_label_and_never_from_a_word_for_the_paper(void **state)
{
    static const struct tb_intake_opts declared = { SAID, .declared = "100% rayon" };

    (void)state;
    article_proposed("Style RC-45", "packing-list-0926.csv", "RC-45");
    article_proposed("Art.No RC-45,,100% rayon", "saigon.csv", "RC-45");
    taken(
        "Art. RC-45,,100% rayon\nRoll,m\n1,50\n", &declared,
        "D Weaver Inlet|7||\nL RC-45|||100% rayon|option|\nB 0:1|50.00\n"); /* an abbreviation is taken, and told */
    taken("Commodity: 100% Rayon Challis,,Art. RC-45\nRoll,m\n1,50\n", &declared,
          "D Weaver Inlet|7||\nL RC-45|||100% rayon|option|\nB 0:1|50.00\n");
    taken("Art. RC-45,,Fabric: 100% Rayon Challis\nRoll,m\n1,50\n", &declared,
          "D Weaver Inlet|7||\nL RC-45|||100% rayon|option|\nB 0:1|50.00\n");
    article_proposed("Foo: 100% linen canvas", "saigon.csv", "");
    article_proposed("\"Poplin 118, 100% cotton\"", "packing-list-0926.csv", "Poplin 118");
    article_proposed("Weaver Inlet", "packing-list-0926.csv", "");
    article_proposed("Weaver Inlet", "acme_packing_list_3.csv", "");
    article_proposed("Weaver Inlet", "Lieferschein 4711.csv", "");
    article_proposed("Weaver Inlet", "alder-twill-4711.csv", ""); /* a supplier as often as goods */
}

/* A title of one line above a table, and the order that is read from it; "" is none. */
static void order_of(const char *title, const char *order)
{
    struct tb_text t = { 0 };
    struct seen s;

    tb_text_addf(&t, "%s\nArticle,Roll No,Mtrs,Composition\nRib,1,22.5,100%% cotton\n", title);
    s = read_text(t.s, &(struct tb_intake_opts){ SAID, .day = "2026-09-14" });
    if (s.rc != TB_OK || strcmp(s.list.delivery[0].order, order) != 0)
        print_error("%s: '%s' %s\n", title, s.rc == TB_OK ? s.list.delivery[0].order : "", s.err.msg);
    assert_int_equal(s.rc, TB_OK);
    assert_string_equal(s.list.delivery[0].order, order);
    seen_free(&s);
    tb_text_free(&t);
}

static void the_number_behind_a_word_for_an_order_is_the_order(void **state)
{
    (void)state;
    order_of("DDT n. 441 del 30/09/2026 - Vs. ordine n. 8812/B", "8812/B");
    order_of("Hello please find the packing list for your order PO-5520 below.", "PO-5520");
    order_of("Hierbij de paklijst voor uw order 4500771.", "4500771");
    order_of("\u0417\u0430\u043a\u0430\u0437 \u2116 1508", "1508");
    order_of("Rendel\u00e9si azonos\u00edt\u00f3", "");
    order_of("Your order: PO 4410 B", "PO 4410 B");
    order_of("goods of note A-26/00918, su pedido PED 2291", "PED 2291");
    order_of("Megrendel\u00e9s k\u00f3dja: R-7714", "R-7714");
}

static void other_numbers_near_such_a_word_are_no_order(void **state)
{
    (void)state;
    order_of("Votre commande: CDE 7740   Commandé: 90", "CDE 7740");
    order_of("Commandé,150,,Votre commande,CDE 7740", "CDE 7740");
    order_of("Commandé: 150,5 m", "");
    order_of("Commande: 4410", "4410");
    order_of("Order shipped complete on 12 September 2026", "");
    order_of("Your order of 12/09/2026 with thanks", "");
    order_of("Part of your order 500 metres", "");
    order_of("Your order 2 rolls", "");
    order_of("PO #: 771-22   PO Date: 08/03/2026", "771-22");
    order_of("Our order 88123 of the mill", "");
}

static void material_names_the_article_where_another_label_declares(void **state)
{
    (void)state;
    taken("Materi\u00e1l;Flanel\nSlo\u017een\u00ed;100 % bavlna\nRole;Metry\n1;50\n", &said,
          "D Weaver Inlet|7||\nL Flanel|||100 % bavlna|title|\nB 0:1|50.00\n");
    asked("Composition;TBC\nMaterial composition;100% cotton\nArticle;Rib\nRoll;Metres\n1;50\n", &said,
          "and no bolt stands between them");
}

static void a_column_of_material_without_fibres_names_the_goods(void **state)
{
    struct seen s = read_text("Anyag;Szín;Végszám;Méter\nBatiszt;fehér;901;50\nBatiszt;piros;902;49\n"
                              "Összetétel: 100% pamut\n",
                              &(struct tb_intake_opts){ SAID, .declared = "100% pamut" });

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_string_equal(s.list.lot[0].article, "Batiszt");
    assert_string_equal(s.list.lot[0].declared, "100% pamut");
    assert_true(says(&s, "the column 'Anyag' is read as article: nothing in it names a fibre"));
    seen_free(&s);
    /* a fibre is a declaration, also without its share */
    taken("Article;Material;Roll;Metres\nRib;Cotton;1;50\n", &said,
          "D Weaver Inlet|7||\nL Rib|||Cotton|row|\nB 0:1|50.00\n");
    asked("Material;Roll;Metres\nCotton;1;50\n", &said, "nothing in the file names the article");
}

/* Nobody is told to call the goods after a file, or after codes of letters and figures. */
static void no_article_is_likely_from_a_file_or_from_codes(void **state)
{
    static const char *const list[] = {
        "Roll;Metres;Composition\n1;50;100% cotton\n",
        "Roll;Metres;Xyzzy;Composition\n1;50;F1;100% cotton\n2;49;F2;100% cotton\n"
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(list); i++) {
        struct seen s = read_text(list[i], &(struct tb_intake_opts){ SAID, .name = "harbour.csv" });
        bool open = false;

        assert_int_equal(s.rc, TB_EINVAL);
        for (size_t k = 0; k < s.list.questions; k++)
            open = open || (strstr(s.list.question[k].ask, "names the article") && s.list.question[k].open);
        assert_true(open);
        seen_free(&s);
    }
}

#define COLOURS                                                                                              \
    "Article: Poplin\nComposition: 100% cotton\nRoll;Metres;Lot\nNAVY "                                      \
    "BLUE;;\n1;50.5;B1\n2;49.5;B1\nRED;;\n3;51;B2\n"

static void a_name_alone_above_bolts_is_asked_about(void **state)
{
    static const struct tb_line_is line[] = { { .kind = TB_LINE_HEADING, .sheet = "", .line = 4 },
                                              { .kind = TB_LINE_HEADING, .sheet = "", .line = 7 } };
    static const struct tb_intake_opts headed = { SAID, .line = line, .lines = 2 };
    struct seen s = read_text(COLOURS, &said);

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL);
    assert_int_equal(s.list.questions, 2);
    assert_string_equal(s.list.question[0].answer[0].option, "heading-line");
    assert_string_equal(s.list.question[1].answer[0].value, "7");
    assert_false(s.list.question[0].open);
    seen_free(&s);
    taken(COLOURS, &headed,
          "D Weaver Inlet|7||\nL Poplin|NAVY BLUE|B1|100% cotton|title|\nL Poplin|RED|B2|100% cotton|title|\n"
          "B 0:1|50.50\nB 0:2|49.50\nB 1:3|51.00\n");
    /* below the last bolt it is a name under a letter */
    taken("Article: Poplin\nComposition: 100% cotton\nRoll;Metres\n1;50.5\nPim\n", &said,
          "D Weaver Inlet|7||\nL Poplin|||100% cotton|title|\nB 0:1|50.50\n");
}

static void a_sentence_about_the_article_is_no_name_of_it(void **state)
{
    static const char *const sentence[] = { "Quality is Satin Kendal 44, 52% cotton 48% modal",
                                            "Quality is as per your order, 52% cotton 48% modal",
                                            "Die Ware ist wie bestellt, 52% cotton 48% modal" };

    (void)state;
    for (size_t n = 0; n < TB_COUNT(sentence); n++) {
        char text[200];
        struct seen s;

        (void)snprintf(text, sizeof text, "%s\nRoll,Metres,Lot\n1,50.5,L1\n", sentence[n]);
        s = read_text(text, &said);
        assert_int_equal(s.rc, TB_EINVAL);
        for (size_t i = 0; i < s.list.questions; i++)
            for (size_t k = 0; k < s.list.question[i].answers; k++)
                if (strcmp(s.list.question[i].answer[k].option, "article") == 0)
                    assert_null(strchr(s.list.question[i].answer[k].value, ' '));
        seen_free(&s);
    }
}

/* U+FF1A, as lists in Chinese write it. */
static void a_full_width_colon_ends_a_label_too(void **state)
{
    (void)state;
    taken("品名：,府綢,,成分：,100%棉\n顏色：白,,,顏色：黑\n匹號,米數,,匹號,米數\n1,50.2,,11,48.0\n2,49.8,,"
          "12,52.0\n"
          "總計,4匹,,,200.0\n",
          &said,
          "D Weaver Inlet|7||\nL 府綢|白||100%棉|title|\nL 府綢|黑||100%棉|title|\n"
          "B 0:1|50.20\nB 0:2|49.80\nB 1:11|48.00\nB 1:12|52.00\n");
}

static void a_ditto_mark_may_stand_between_dashes(void **state)
{
    struct seen s;

    (void)state;
    taken("Article;Roll;Metres;Composition\nRib;1;50;100% cotton\n- \" -;2;49;- \" -\n", &said,
          "D Weaver Inlet|7||\nL Rib|||100% cotton|row|\nB 0:1|50.00\nB 0:2|49.00\n");
    s = read_text("Article;Roll;Metres;Composition\nRib;1;50;100% cotton\nx \" y;2;49;x\n", &said);
    assert_int_equal(s.rc, TB_EFORMAT);
    assert_non_null(strstr(s.err.msg, "has a quotation mark where there may not be one"));
    seen_free(&s);
}

static void measures_behind_a_composition_are_those_of_the_cloth(void **state)
{
    struct seen s;

    (void)state;
    taken(
        "Artikel: Wollflausch 77, 80 % Schurwolle 20 % Polyamid, 150 cm, 420 g/m²\nStück-Nr.;Länge m\n1;50\n",
        &said,
        "D Weaver Inlet|7||\nL Wollflausch 77|||80 % Schurwolle 20 % Polyamid|title|\nB 0:1|50.00|150.0 "
        "cm|420.0 g/m2\n");
    taken("Zusammensetzung: 98 % Baumwolle 2 % Elasthan, Breite 145 cm\nArtikel: Drell 9\nStück-Nr.;Länge "
          "m\n1;50\n",
          &said,
          "D Weaver Inlet|7||\nL Drell 9|||98 % Baumwolle 2 % Elasthan|title|\nB 0:1|50.00|145.0 cm\n");
    /* in full-width figures, as East Asian programs write them */
    taken("Artikel: Drell 9, 100% Leinen, \xEF\xBC\x91\xEF\xBC\x95\xEF\xBC\x90 cm\nStück-Nr.;Länge m\n1;50\n",
          &said, "D Weaver Inlet|7||\nL Drell 9|||100% Leinen|title|\nB 0:1|50.00|150.0 cm\n");
    /* "2 ply" is no measure of it: what of these words is declared is for a person to say */
    s = read_text("Article: Poplin 3, 100% cotton, 2 ply\nRoll;Metres\n1;50\n", &said);
    assert_int_not_equal(s.rc, TB_OK);
    assert_non_null(strstr(s.err.msg, "say --declared TEXT"));
    seen_free(&s);
}

/* Under our own word, in a colon or a figure of full width; common practice, no source. What is a remark stays one. */
static void the_number_of_the_note_is_told_by_its_form(void **state)
{
    static const struct {
        const char *title, *note;
    } is[] = { { "Note,000881", "000881" },
               { "Note:,000881", "000881" },
               { "Note: 4711/26", "4711/26" },
               { "note 4711", "4711" },
               { "Delivery note:,\xEF\xBC\x94\xEF\xBC\x97\xEF\xBC\x92", "472" },
               { "Delivery note\xEF\xBC\x9A\xEF\xBC\x94\xEF\xBC\x97\xEF\xBC\x92", "472" },
               { "Note: 2 rolls wet", NULL },
               { "Note,wet", NULL },
               { "Note: 14.11.2026", NULL },
               { "Notes,12", NULL } };
    static const struct tb_intake_opts no_note = { .supplier = "Weaver Inlet" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(is); i++) {
        struct tb_text list = { 0 };
        struct seen s;

        tb_text_add(&list, is[i].title);
        tb_text_add(&list, METRES("", ""));
        s = read_text(list.s, &no_note);
        if (is[i].note && s.rc != TB_OK)
            fail_msg("%s: %s", is[i].title, s.err.msg);
        if (is[i].note)
            assert_string_equal(s.list.delivery[0].note, is[i].note);
        else if (s.rc != TB_EINVAL)
            fail_msg("%s: %s", is[i].title, s.rc == TB_OK ? s.list.delivery[0].note : s.err.msg);
        seen_free(&s);
        tb_text_free(&list);
    }
}

/* The number of the paper may stand behind a label that nobody knows: that of the file is not likelier. */
static void no_note_is_proposed_where_an_unknown_label_has_a_number(void **state)
{
    static const struct tb_intake_opts no_note = { .supplier = "Weaver Inlet" };
    struct seen s = read_text(METRES("Frobnication,7712", ""), &no_note);

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL);
    assert_int_equal(s.list.questions, 1);
    assert_int_equal(s.list.question[0].answers, 0);
    assert_false(s.list.question[0].proposed);
    seen_free(&s);
    s = read_text(METRES("Packing list", ""), &no_note);
    assert_int_equal(s.list.question[0].answers, 1);
    seen_free(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_number_of_the_note_is_told_by_its_form),
        cmocka_unit_test(no_note_is_proposed_where_an_unknown_label_has_a_number),
        cmocka_unit_test(a_unit_that_contradicts_the_header_is_asked_about_and_neither_is_likely),
        cmocka_unit_test(what_names_another_unit_and_contradicts_nothing_is_not_asked_about),
        cmocka_unit_test(a_label_in_two_languages_is_one_and_the_nearer_label_wins),
        cmocka_unit_test(an_order_is_one_whosever_it_is_called_in_every_language),
        cmocka_unit_test(a_label_that_nobody_understands_is_named_with_what_it_says),
        cmocka_unit_test(an_article_is_proposed_from_its_label_and_never_from_a_word_for_the_paper),
        cmocka_unit_test(the_number_behind_a_word_for_an_order_is_the_order),
        cmocka_unit_test(other_numbers_near_such_a_word_are_no_order),
        cmocka_unit_test(material_names_the_article_where_another_label_declares),
        cmocka_unit_test(a_column_of_material_without_fibres_names_the_goods),
        cmocka_unit_test(no_article_is_likely_from_a_file_or_from_codes),
        cmocka_unit_test(a_name_alone_above_bolts_is_asked_about),
        cmocka_unit_test(a_sentence_about_the_article_is_no_name_of_it),
        cmocka_unit_test(a_full_width_colon_ends_a_label_too),
        cmocka_unit_test(a_ditto_mark_may_stand_between_dashes),
        cmocka_unit_test(measures_behind_a_composition_are_those_of_the_cloth),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
