/*
 * test_intake_kilograms.c - goods counted in kilograms: their length is computed where width and mass per area stand there, else not known,
 * and kilograms never become metres. Lengths: kg x 1000 / (g/m2 x width in m), by hand.
 */
#include "intake_helper.h"

#define SAID .supplier = "Weaver Inlet", .note = "7"
static const struct tb_intake_opts said = { SAID };

static const char plain[] =
    "Article,Roll,Net weight (kg),Composition\nJersey,1,25.3,100% cotton\nJersey,2,24.7,100% cotton\n"
    "Total,,50.0,\n";
static const char whole[] = "Article,Roll,Kg,Width cm,g/m2,Composition\nJersey,1,27,180,150,100% cotton\n"
                            "Jersey,2,13.5,180,150,100% cotton\n";

static void goods_counted_in_kilograms_are_taken_without_a_length(void **state)
{
    struct seen s = read_text(plain, &said);
    const struct tb_packing_list *l = &s.list;

    (void)state;
    if (s.rc != TB_OK)
        print_error("%s\n%s", s.err.msg, tb_text_str(&s.text));
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(l->bolts, 2);
    assert_true(isnan(l->bolt[0].metres));
    assert_true(l->bolt[0].kg == 25.3);
    assert_false(l->bolt[0].derived);
    assert_string_equal(l->bolt[0].said, "25.3 kg");
    assert_int_equal(l->lot[0].unknown, 2);
    assert_true(fabs(l->lot[0].kg - 50) < 1e-9);
    assert_true(l->lot[0].metres == 0);
    assert_int_equal(l->totals, 1); /* the total adds up the kilograms */
    assert_true(
        says(&s, "the lengths of 2 bolts counted in kilograms are not known, and are in no sum of metres"));
    seen_free(&s);
}

static void their_length_is_computed_from_width_and_mass_per_area(void **state)
{
    struct seen s = read_text(whole, &said);
    const struct tb_packing_list *l = &s.list;

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_true(fabs(l->bolt[0].metres - 100) < 1e-9); /* 27000 g / (150 g/m2 x 1.80 m) */
    assert_true(fabs(l->bolt[1].metres - 50) < 1e-9);
    assert_true(l->bolt[0].derived);
    assert_int_equal(l->lot[0].derived, 2);
    assert_int_equal(l->lot[0].unknown, 0);
    assert_true(says(
        &s, "2 of 2 bolts counted in kilograms have lengths computed from their width and mass per area"));
    seen_free(&s);
    /* what stands above the table serves as well */
    s = read_text("Width: 180 cm,GSM: 150 gsm,,\nArticle,Roll,Kgs,Composition\nJersey,1,27,100% cotton\n",
                  &said);
    assert_int_equal(s.rc, TB_OK);
    assert_true(fabs(s.list.bolt[0].metres - 100) < 1e-9);
    seen_free(&s);
}

static void kilograms_never_become_metres(void **state)
{
    static const struct tb_intake_opts m = { SAID, .length_unit = TB_UNIT_M };
    struct seen s;

    (void)state;
    asked(plain, &m, "says its lengths are in kg, and --unit says m");
    asked("Article,Roll,N.W.,Composition\nJersey,1,25,100% cotton\n", &m,
          "the column 'N.W.' gives weights, and --unit says m");
    asked("Article,Roll,N.W.,Composition\nJersey,1,25,100% cotton\n", &said,
          "say --unit kg if they are kilograms");
    s = read_text("Article,Roll,Qty,Composition\nJersey,1,25 kg,100% cotton\nJersey,2,31 m,100% cotton\n",
                  &m);
    assert_int_equal(s.rc, TB_OK);
    assert_true(isnan(s.list.bolt[0].metres)); /* the cell says kilograms */
    assert_true(s.list.bolt[1].metres == 31);
    assert_int_equal(s.list.lot[0].unknown, 1);
    assert_true(s.list.lot[0].metres == 31);
    seen_free(&s);
    /* metres beside kilograms are what counts */
    s = read_text("Article,Roll,Length m,Net kg,Composition\nJersey,1,31,25,100% cotton\n", &said);
    assert_int_equal(s.rc, TB_OK);
    assert_true(s.list.bolt[0].metres == 31 && s.list.bolt[0].kg == 0);
    seen_free(&s);
}

static void a_weight_that_no_bolt_has_is_a_bad_value(void **state)
{
    (void)state;
    bad("Article,Roll,Kg,Composition\nJersey,1,0,100% cotton\n", &said, "a bolt without weight");
    bad("Article,Roll,Kg,Composition\nJersey,1,-2,100% cotton\n", &said, "a length below zero");
    bad("Article,Roll,Kg,Composition\nJersey,1,900000,100% cotton\n", &said, "no bolt weighs that");
    bad("Article,Roll,Kg,Width cm,g/m2,Composition\nJersey,1,90000,100,1,100% cotton\n", &said,
        "it would be 90000");
}

static void a_total_of_kilograms_is_never_a_bolt(void **state)
{
    (void)state;
    asked("Article,Roll,Kg,Composition\nJersey,R1,25,100% cotton\nJersey,R2,24,100% "
          "cotton\nJersey,R3,49.5,\n,,50,\n",
          &said, "50.00 kg");
    asked("Article,Roll,Kg,Composition\nJersey,R1,25,100% cotton\nJersey,R2,24,100% "
          "cotton\nTotal,,49,\n,,50,\n",
          &said, "50.00 kg without a bolt number");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(goods_counted_in_kilograms_are_taken_without_a_length),
        cmocka_unit_test(their_length_is_computed_from_width_and_mass_per_area),
        cmocka_unit_test(kilograms_never_become_metres),
        cmocka_unit_test(a_weight_that_no_bolt_has_is_a_bad_value),
        cmocka_unit_test(a_total_of_kilograms_is_never_a_bolt),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
