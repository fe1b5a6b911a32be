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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_composition_above_a_block_holds_for_its_articles),
        cmocka_unit_test(headings_of_one_block_add_up_in_any_order),
        cmocka_unit_test(a_line_break_in_a_name_is_a_space_and_in_declared_words_stays),
        cmocka_unit_test(a_heading_that_names_another_article_ends_the_composition_of_the_one_before),
        cmocka_unit_test(a_lot_that_declares_nothing_beside_others_is_remarked_on),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
