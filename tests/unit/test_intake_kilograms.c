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

/* 20.5 kg and 19.5 kg are 40, 80 m and 78 m are 158, by hand. */
#define KNIT "Article,Roll,Length m,Net kg,Price per kg,Currency,Composition\n"
#define FIRST "Jersey,R1,80,20.5,8,EUR,100% cotton\n"

static void a_weight_beside_a_length_is_kept_and_counts_nowhere_as_one(void **state)
{
    struct seen s = read_text(KNIT FIRST "Jersey,R2,78,19.5,8,EUR,100% cotton\nTotal,,158,40.0,,,\n", &said);
    const struct tb_packing_list *l = &s.list;

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_true(l->bolt[0].metres == 80 && l->bolt[0].weight_kg == 20.5 && l->bolt[0].kg == 0);
    assert_true(l->lot[0].metres == 158 && l->lot[0].weight_kg == 40 && l->lot[0].kg == 0);
    assert_int_equal(l->lot[0].weighed, 2);
    assert_int_equal(l->lot[0].derived + l->lot[0].unknown, 0);
    assert_true(l->delivery[0].weight_kg == 40 && l->delivery[0].weighed == 2);
    assert_int_equal(l->totals, 1);
    assert_int_equal(l->totals_off, 0);
    assert_true(says(&s, "lengths and weights are both kept"));
    seen_free(&s);
    s = read_text(KNIT FIRST "Jersey,R2,78,19.5,8,EUR,100% cotton\nTotal,,158,41.0,,,\n", &said);
    assert_int_equal(s.list.totals_off, 1);
    assert_true(says(&s, "the total says 41.00 kg, the 2 bolts above it come to 40.00 kg: a difference of "
                         "+1.00 kg"));
    seen_free(&s);
    s = read_text(KNIT FIRST "Jersey,R2,78,19.5,8,EUR,100% cotton\nTotal,,,40.0,,,\n", &said);
    assert_int_equal(s.list.totals, 1); /* of the weights alone */
    seen_free(&s);
}

static void bolts_without_a_weight_beside_others_are_named(void **state)
{
    struct seen s = read_text(KNIT FIRST "Jersey,R2,78,,8,EUR,100% cotton\n", &said);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.lot[0].weighed, 1);
    assert_true(says(&s, "1 bolt has no weight (R2): what its lot is worth by the kilogram is not known"));
    seen_free(&s);
    s = read_text("Article,Roll,Length m,Price per kg,Currency,Composition\nJersey,R1,80,8,EUR,100% cotton\n",
                  &said);
    assert_true(says(&s, "1 bolt has no weight (R1)"));
    seen_free(&s);
}

static void what_is_no_weight_stops_a_list_only_where_it_is_the_quantity(void **state)
{
    struct seen s;

    (void)state;
    bad(KNIT "Jersey,R1,80,n/a,8,EUR,100% cotton\n", &said, "this is not a weight");
    bad(KNIT "Jersey,R1,80,0,8,EUR,100% cotton\n", &said, "a bolt without weight");
    bad(KNIT "Jersey,R1,80,20 lb,8,EUR,100% cotton\n", &said, "its unit is not the kilogram");
    bad(KNIT "Jersey,R1,80,900000,8,EUR,100% cotton\n", &said, "no bolt weighs that");
    s = read_text("Article,Roll,Length m,Net kg,Price per m,Currency,Composition\n"
                  "Jersey,R1,80,n/a,8,EUR,100% cotton\n",
                  &said);
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.lot[0].weighed, 0);
    assert_true(says(&s, "1 weight is not read: 'n/a' on line 2: this is not a weight"));
    seen_free(&s);
}

static void a_gross_weight_alone_is_asked_about_and_net_counts(void **state)
{
    static const struct tb_header_word net = { "Gross kg", TB_FIELD_WEIGHT_NET };
    static const struct tb_intake_opts mapped = { SAID, .word = &net, .words = 1 };
    static const char gross[] = "Article,Roll,Length m,Gross kg,Price per kg,Currency,Composition\n"
                                "Jersey,R1,80,21,8,EUR,100% cotton\n";
    struct seen s;

    (void)state;
    asked(gross, &said, "the only weight is gross ('Gross kg')");
    s = read_text(gross, &mapped);
    assert_int_equal(s.rc, TB_OK);
    assert_true(s.list.bolt[0].weight_kg == 21);
    seen_free(&s);
    s = read_text("Article,Roll,Length m,Gross kg,Net kg,Price per kg,Currency,Composition\n"
                  "Jersey,R1,80,21,20.5,8,EUR,100% cotton\n",
                  &said);
    assert_true(s.list.bolt[0].weight_kg == 20.5);
    seen_free(&s);
}

static void a_weight_in_a_unit_that_nobody_names_is_asked_about_where_it_is_the_quantity(void **state)
{
    static const struct tb_intake_opts kg = { SAID, .mass_unit = TB_UNIT_KG };
    static const char net[] = "Article,Roll,Length m,N.W.,Price per kg,Currency,Composition\n"
                              "Jersey,R1,80,20.5,8,EUR,100% cotton\n";
    static const char weight[] = "Article,Roll,Length m,Weight,Price per kg,Currency,Composition\n"
                                 "Jersey,R1,80,20.5,8,EUR,100% cotton\n";
    struct seen s;

    (void)state;
    asked(net, &said, "do not say in which unit they are; say --mass-unit kg if they are kilograms");
    asked(weight, &said, "g/m2, oz/yd2, momme, oz/yd, kg");
    s = read_text(net, &kg);
    assert_true(s.list.bolt[0].weight_kg == 20.5);
    seen_free(&s);
    s = read_text(weight, &kg);
    assert_true(s.list.bolt[0].weight_kg == 20.5 && isnan(s.list.bolt[0].mass_gsm));
    seen_free(&s);
    /* 20,500 kg no bolt weighs */
    s = read_text("Article;Roll;Length m;Net kg;Price per kg;Currency;Composition\n"
                  "Jersey;R1;80;20,500;8;EUR;100% cotton\n",
                  &said);
    assert_int_equal(s.rc, TB_OK);
    assert_true(s.list.bolt[0].weight_kg == 20.5);
    seen_free(&s);
}

static void columns_that_are_given_may_have_both(void **state)
{
    static const struct tb_intake_opts both = { SAID, .columns = "bolt,length,weight_net,article",
                                                .length_unit = TB_UNIT_M, .declared = "100% cotton" };
    static const struct tb_intake_opts many = { SAID, .columns = "bolt,weight_net,length*3,article",
                                                .length_unit = TB_UNIT_M, .declared = "100% cotton" };
    struct seen s = read_text("R1,80,20.5,Jersey\nR2,78,19.5,Jersey\n", &both);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_true(s.list.bolt[1].metres == 78 && s.list.bolt[1].weight_kg == 19.5 && s.list.bolt[1].kg == 0);
    seen_free(&s);
    s = read_text("R1,80,1,2,3,Jersey\n", &many);
    assert_int_equal(s.rc, TB_EINVAL);
    assert_non_null(strstr(s.err.msg, "weight_net is the weight of one bolt"));
    seen_free(&s);
}

static void a_further_length_with_a_weight_makes_its_bolt_heavier(void **state)
{
    static const struct tb_line_is part = { "", 3, TB_LINE_PART };
    static const struct tb_intake_opts opts = { SAID, .line = &part, .lines = 1 };
    struct seen s = read_text(KNIT FIRST "Jersey,R1,12,3,8,EUR,100% cotton\n", &opts);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_int_equal(s.list.bolts, 1);
    assert_true(s.list.bolt[0].metres == 92 && s.list.bolt[0].weight_kg == 23.5);
    assert_true(s.list.lot[0].weight_kg == 23.5);
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
        cmocka_unit_test(a_weight_beside_a_length_is_kept_and_counts_nowhere_as_one),
        cmocka_unit_test(bolts_without_a_weight_beside_others_are_named),
        cmocka_unit_test(what_is_no_weight_stops_a_list_only_where_it_is_the_quantity),
        cmocka_unit_test(a_gross_weight_alone_is_asked_about_and_net_counts),
        cmocka_unit_test(a_weight_in_a_unit_that_nobody_names_is_asked_about_where_it_is_the_quantity),
        cmocka_unit_test(columns_that_are_given_may_have_both),
        cmocka_unit_test(a_further_length_with_a_weight_makes_its_bolt_heavier),
        cmocka_unit_test(a_weight_that_no_bolt_has_is_a_bad_value),
        cmocka_unit_test(a_total_of_kilograms_is_never_a_bolt),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
