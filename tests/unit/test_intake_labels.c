/* Labels with their values in one cell, however they are written. */
#include "intake_helper.h"

static const struct tb_intake_opts said = { .supplier = "Weaver Inlet", .note = "7" };

static void one_cell_may_name_the_order_beside_the_goods(void **state)
{
    (void)state;
    taken(
        "Ihr Auftrag ML-4410, Artikel Jersey Alster, Farbe petrol, Partie F 2266\nComposition: 100% cotton\n"
        "Roll;Metres\n1;50.5\n",
        &said, "D Weaver Inlet|7|ML-4410|\nL Jersey Alster|petrol|F 2266|100% cotton|title|\nB 0:1|50.50\n");
}

static void spaces_may_stand_before_a_colon(void **state)
{
    (void)state;
    taken("Artikel      : Loden Texel\nComposition  : 100% wool\nRoll;Metres\n1;50.5\n", &said,
          "D Weaver Inlet|7||\nL Loden Texel|||100% wool|title|\nB 0:1|50.50\n");
}

static void capitals_before_the_number_of_an_order_are_of_it(void **state)
{
    (void)state;
    taken(
        "Packing list for your order PO 5520\nArticle: Loden\nComposition: 100% wool\nRoll;Metres\n1;50.5\n",
        &said, "D Weaver Inlet|7|PO 5520|\nL Loden|||100% wool|title|\nB 0:1|50.50\n");
    taken(
        "Packing list for your order NR 5520\nArticle: Loden\nComposition: 100% wool\nRoll;Metres\n1;50.5\n",
        &said, "D Weaver Inlet|7|5520|\nL Loden|||100% wool|title|\nB 0:1|50.50\n");
}

static void the_unit_of_a_width_may_stand_in_its_label(void **state)
{
    static const char *const title[] = { "Article: Raso;Width cm;145;Weight g/m2;240",
                                         "Article: Raso;Width (cm): 145;Weight (g/m2): 240",
                                         "Article: Raso;Altezza cm;145;Peso g/m2;240" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(title); i++) {
        char text[200];
        struct seen s;

        (void)snprintf(text, sizeof text, "%s\nComposition: 100%% cotton\nRoll;Metres\n1;50.5\n", title[i]);
        s = read_text(text, &said);
        assert_int_equal(s.rc, TB_OK);
        assert_non_null(strstr(tb_text_str(&s.text), "B 0:1|50.50|145.0 cm|240.0 g/m2\n"));
        assert_false(says(&s, "not read"));
        seen_free(&s);
    }
}

/* Each line stands above the same goods; what comes out is an order. */
static void an_order_has_many_words_and_no_day(void **state)
{
    static const char *const line[][2] = { { "Votre cde;C-90812 du 14/08/2026", "C-90812" },
                                           { "V/cde : C-90812", "C-90812" },
                                           { "Cde client : 90812", "90812" },
                                           { "P/O No.;ML-2207", "ML-2207" },
                                           { "Vs. ordine;ORD 4471 del 02/07/2026", "ORD 4471" },
                                           { "Buyer PO #: ML-2207;Contract: S/C 4419", "ML-2207" },
                                           { "Contract: S/C 4419;Buyer PO #: ML-2207", "ML-2207" },
                                           { "Customer PO:;ML-2207;;Sales Contract:;S/C 4419", "ML-2207" },
                                           { "Contract no.: 4419", "4419" } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(line); i++) {
        char text[200], wanted[200];

        (void)snprintf(text, sizeof text,
                       "%s\nArticle: Loden\nComposition: 100%% wool\nRoll;Metres\n1;50.5\n", line[i][0]);
        (void)snprintf(wanted, sizeof wanted,
                       "D Weaver Inlet|7|%s|\nL Loden|||100%% wool|title|\nB 0:1|50.50\n", line[i][1]);
        taken(text, &said, wanted);
    }
}

/* "Your ref." and "ML" are header words as well. */
static void a_line_with_a_number_in_it_is_no_part_of_the_header(void **state)
{
    static const char *const line[] = { "Your order;CF 2026/1190;;;Your ref.;ML",
                                        "Commande n\u00B0;CF 2026/1190;;;R\u00E9f. client;ML",
                                        "Ihre Bestellung;CF 2026/1190;;;Ihr Zeichen;ML" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(line); i++) {
        char text[200];

        (void)snprintf(text, sizeof text,
                       "%s\n\nArticle;Colour;Roll;Metres;Composition\n7710;red;1;50.5;100%% wool\n", line[i]);
        taken(text, &said, "D Weaver Inlet|7|CF 2026/1190|\nL 7710|red||100% wool|row|\nB 0:1|50.50\n");
    }
}

static void a_dye_lot_behind_a_colour_needs_no_colon(void **state)
{
    static const char *const line[] = { "Colour: 014 Marine - Lot 22817", "Coloris : 014 Marine - Bain 22817",
                                        "Farbe: 014 Marine / Partie 22817",
                                        "Colour: 014 Marine, dye lot 22817",
                                        "Coloris : 014 Marine \u2013 Bain 22817" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(line); i++) {
        char text[200];

        (void)snprintf(text, sizeof text,
                       "Article: Loden\nComposition: 100%% wool\n%s\nRoll;Metres\n1;50.5\n", line[i]);
        taken(text, &said, "D Weaver Inlet|7||\nL Loden|014 Marine|22817|100% wool|title|\nB 0:1|50.50\n");
    }
    /* a letter whose last byte is one of the dash's stays whole */
    taken("Article: Loden\nComposition: 100% wool\nColour: MARR\u00D3 - Lot 22817\nRoll;Metres\n1;50.5\n",
          &said, "D Weaver Inlet|7||\nL Loden|MARR\u00D3|22817|100% wool|title|\nB 0:1|50.50\n");
    /* no number follows: a colour may be called so */
    taken("Article: Loden\nComposition: 100% wool\nColour: Bain de mer\nRoll;Metres\n1;50.5\n", &said,
          "D Weaver Inlet|7||\nL Loden|Bain de mer||100% wool|title|\nB 0:1|50.50\n");
}

static void what_a_person_has_typed_is_not_called_unread(void **state)
{
    struct seen s =
        read_text("Beleg Ref: 7\nKran Ref: 8\nArticle: Loden\nComposition: 100% wool\nRoll;Metres\n"
                  "1;50.5\n",
                  &said);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_true(says(&s, "not kept: 'Kran Ref' (8)"));
    seen_free(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_cell_may_name_the_order_beside_the_goods),
        cmocka_unit_test(spaces_may_stand_before_a_colon),
        cmocka_unit_test(capitals_before_the_number_of_an_order_are_of_it),
        cmocka_unit_test(the_unit_of_a_width_may_stand_in_its_label),
        cmocka_unit_test(an_order_has_many_words_and_no_day),
        cmocka_unit_test(a_line_with_a_number_in_it_is_no_part_of_the_header),
        cmocka_unit_test(a_dye_lot_behind_a_colour_needs_no_colon),
        cmocka_unit_test(what_a_person_has_typed_is_not_called_unread),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
