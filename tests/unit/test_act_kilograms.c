/* Goods counted in kilograms in the book: what is computed and what nobody knows is told apart, and in no sum of metres. */
#include "unit/act_helper.h"

#include "tenterbook/act_amend.h"
#include "tenterbook/act_bench.h"
#include "tenterbook/act_intake.h"
#include "tenterbook/act_void.h"
#include "tenterbook/bench_day.h"
#include "tenterbook/tell.h"

/* 27 kg / (150 g/m2 x 1.80 m) = 100 m, 13.5 kg = 50 m, by hand. */
#define LIST                                                                                                 \
    "article,roll,kg,width cm,g/m2,composition\n"                                                            \
    "Jersey,K1,27,180,150,100% cotton\nJersey,K2,13.5,180,150,100% cotton\n"                                 \
    "Rib,K3,11,,,100% wool\nRib,K4,12,,,100% wool\n"

struct goods {
    struct scene *s;
    struct tb_receive_outcome out;
    struct tb_lot jersey, rib;
};

static void receive(struct goods *g)
{
    g->s = scene_make("100% cotton", 1);
    OK(tb_act_receive(&g->out, &g->s->actor,
                      &(struct tb_receive_request){ .path = scene_file(g->s, "kg.csv", LIST),
                                                    .list = { .supplier = "Weaver Inlet", .note = "7" },
                                                    .arrived = "2026-03-16" },
                      &g->s->mem, &err));
    OK(tb_lot_find(&g->jersey, g->s->actor.book, g->out.lot[0], &g->s->mem, &err));
    OK(tb_lot_find(&g->rib, g->s->actor.book, g->out.lot[1], &g->s->mem, &err));
}

static void leave(struct goods *g)
{
    tb_receive_outcome_free(&g->out);
    scene_free(g->s);
}

static void says(const struct tb_lot *lot, const char *words)
{
    struct tb_lengths l = tb_lengths_of(lot);
    struct tb_text t = { 0 };

    tb_length_words(&t, TB_READER, &l);
    assert_string_equal(t.s, words);
    tb_text_free(&t);
}

static void a_lot_counted_in_kilograms_says_what_is_computed_and_what_is_not_known(void **state)
{
    struct goods g;
    struct tb_bolt *bolt;
    struct tb_delivery_goods sum;
    size_t n;

    (void)state;
    receive(&g);
    assert_float_equal(g.jersey.metres, 150, 1e-9);
    assert_float_equal(g.jersey.kg, 40.5, 1e-9);
    assert_int_equal(g.jersey.derived, 2);
    assert_int_equal(g.jersey.unknown, 0);
    says(&g.jersey, "150.00 m computed from 40.50 kg");
    assert_true(isnan(g.rib.metres));
    assert_float_equal(g.rib.kg, 23, 1e-9);
    assert_int_equal(g.rib.unknown, 2);
    says(&g.rib, "23.00 kg, length not known");
    OK(tb_bolt_list(&bolt, &n, g.s->actor.book, g.jersey.id, &g.s->mem, &err));
    assert_int_equal(n, 2);
    assert_true(bolt[0].derived);
    assert_float_equal(bolt[0].metres, 100, 1e-9);
    assert_string_equal(bolt[0].said, "27 kg");
    OK(tb_bolt_list(&bolt, &n, g.s->actor.book, g.rib.id, &g.s->mem, &err));
    assert_true(isnan(bolt[0].metres));
    assert_false(bolt[0].derived);
    assert_float_equal(bolt[0].kg, 11, 1e-9);
    OK(tb_delivery_sum(&sum, g.s->actor.book, g.jersey.delivery, &err));
    assert_int_equal(sum.bolts, 4);
    assert_float_equal(sum.metres, 150, 1e-9); /* the wool is in no sum of metres */
    assert_int_equal(sum.unknown, 2);
    scene_is_unchanged(g.s, scene_head(g.s));
    leave(&g);
}

static void a_void_bolt_counts_in_neither_measure(void **state)
{
    struct goods g;
    struct tb_void_outcome out;
    struct tb_lot lot;

    (void)state;
    receive(&g);
    OK(tb_act_void(&out, &g.s->actor, &(struct tb_void_request){ .name = "K1", .why = "typed twice" },
                   &g.s->mem, &err));
    tb_rejudged_free(&out.lot.judged);
    OK(tb_lot_find(&lot, g.s->actor.book, g.jersey.ref, &g.s->mem, &err));
    assert_float_equal(lot.metres, 50, 1e-9);
    assert_float_equal(lot.kg, 13.5, 1e-9);
    assert_int_equal(lot.derived, 1);
    OK(tb_act_void(&out, &g.s->actor, &(struct tb_void_request){ .name = "K4", .why = "typed twice" },
                   &g.s->mem, &err));
    tb_rejudged_free(&out.lot.judged);
    OK(tb_lot_find(&lot, g.s->actor.book, g.rib.ref, &g.s->mem, &err));
    assert_true(isnan(lot.metres));
    assert_float_equal(lot.kg, 11, 1e-9);
    assert_int_equal(lot.unknown, 1);
    leave(&g);
}

static void what_was_counted_in_kilograms_was_neither_yards_nor_metres(void **state)
{
    struct goods g;
    struct tb_amend_outcome out;
    const struct tb_amend_request r = { .delivery = NULL, .why = "they were yards", .unit = "yd" };
    struct tb_amend_request of = r;

    (void)state;
    receive(&g);
    of.delivery = g.out.delivery[0];
    REFUSED(g.s, tb_act_amend(&out, &g.s->actor, &of, &g.s->mem, &err), TB_EREFUSED,
            "was counted in kilograms: its lengths were neither yards nor metres");
    leave(&g);
}

static void a_plan_of_the_day_marks_lengths_that_are_computed(void **state)
{
    struct tb_bench_day day;
    struct goods g;
    size_t marked = 0;

    (void)state;
    receive(&g);
    OK(tb_bench_day_plan(
        &day, g.s->actor.book,
        &(struct tb_bench_day_request){
            .hours = 4, .burn_minutes = 6, .metres = true, .want = { .sure = 0.95, .catch_one = 0.8 } },
        &g.s->mem, &err));
    for (size_t i = 0; i < day.n; i++) {
        assert_true(day.pick[i].derived == (strcmp(day.pick[i].lot, g.jersey.ref) == 0));
        marked += day.pick[i].derived;
    }
    assert_int_equal(marked, 1);
    assert_int_equal(day.unmeasured, 0);
    assert_int_equal(day.others, 1); /* of the other nobody knows the length: its kilograms stand apart */
    assert_string_equal(day.other[0].currency, "kg");
    assert_int_equal(day.other[0].n, 1);
    assert_string_equal(day.other[0].pick[0].lot, g.rib.ref);
    assert_float_equal(day.other[0].pick[0].task.value, 23, 1e-9);
    assert_false(day.other[0].pick[0].derived);
    leave(&g);
}

/* 11 kg at 8 and 12 kg at 8 are 184; a bolt of a known length beside it: 50 m have no price a metre, by hand. */
static void what_is_priced_by_weight_is_planned_by_its_money(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_bench_day day;
    struct tb_receive_outcome out;
    const char *list = "article,roll,kg,price/kg,currency,composition\nRib,K3,11,8,USD,100% wool\n"
                       "Rib,K4,12,8,USD,100% wool\n";

    (void)state;
    OK(tb_act_receive(&out, &s->actor,
                      &(struct tb_receive_request){ .path = scene_file(s, "kg.csv", list),
                                                    .list = { .supplier = "Weaver Inlet", .note = "7" },
                                                    .arrived = "2026-03-16" },
                      &s->mem, &err));
    OK(tb_bench_day_plan(&day, s->actor.book,
                         &(struct tb_bench_day_request){ .hours = 4, .burn_minutes = 6, .currency = "usd" },
                         &s->mem, &err));
    assert_int_equal(day.n, 1);
    assert_string_equal(day.currency, "USD");
    assert_string_equal(day.pick[0].lot, out.lot[0]);
    assert_float_equal(day.pick[0].task.value, 184, 1e-9);
    assert_false(day.pick[0].derived);
    assert_int_equal(day.unmeasured + day.unpriced, 0);
    tb_receive_outcome_free(&out);
    scene_free(s);
}

/* 20.5 kg and 19.5 kg at 8 are 320, one of them 156; by hand. */
static void what_was_weighed_besides_is_measured_in_metres_and_worth_its_kilograms(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    const char *list = "article,roll,length m,net kg,price/kg,currency,composition\n"
                       "Rib,K3,80,20.5,8,USD,100% wool\nRib,K4,78,19.5,8,USD,100% wool\n";
    struct tb_void_outcome voided;
    struct tb_receive_outcome out;
    struct tb_bench_day day;
    struct tb_invoiced in;
    struct tb_bolt *bolt;
    struct tb_lot lot;
    size_t n;

    (void)state;
    OK(tb_act_receive(&out, &s->actor,
                      &(struct tb_receive_request){ .path = scene_file(s, "kg.csv", list),
                                                    .list = { .supplier = "Weaver Inlet", .note = "7" },
                                                    .arrived = "2026-03-16" },
                      &s->mem, &err));
    OK(tb_lot_find(&lot, s->actor.book, out.lot[0], &s->mem, &err));
    assert_float_equal(lot.metres, 158, 1e-9);
    assert_float_equal(lot.weight_kg, 40, 1e-9);
    assert_int_equal(lot.weighed, 2);
    assert_false(lot.kg > 0);
    says(&lot, "158.00 m, 40.00 kg");
    OK(tb_lot_invoiced(&in, s->actor.book, &lot, &s->mem, &err));
    assert_string_equal(in.unit, "kg");
    assert_float_equal(in.quantity, 40, 1e-9);
    assert_float_equal(in.value, 320, 1e-9);
    OK(tb_bolt_list(&bolt, &n, s->actor.book, lot.id, &s->mem, &err));
    assert_float_equal(bolt[1].weight_kg, 19.5, 1e-9);
    assert_false(bolt[1].kg > 0);
    OK(tb_bench_day_plan(&day, s->actor.book,
                         &(struct tb_bench_day_request){ .hours = 4, .burn_minutes = 6, .currency = "usd" },
                         &s->mem, &err));
    assert_float_equal(day.pick[0].task.value, 320, 1e-9);
    OK(tb_act_void(&voided, &s->actor, &(struct tb_void_request){ .name = "K3", .why = "typed twice" },
                   &s->mem, &err));
    tb_rejudged_free(&voided.lot.judged);
    OK(tb_lot_find(&lot, s->actor.book, lot.ref, &s->mem, &err));
    says(&lot, "78.00 m, 19.50 kg");
    OK(tb_lot_invoiced(&in, s->actor.book, &lot, &s->mem, &err));
    assert_float_equal(in.value, 156, 1e-9);
    tb_receive_outcome_free(&out);
    scene_free(s);
}

static void a_lot_of_which_some_bolts_have_no_weight_has_no_value(void **state)
{
    const struct tb_measured some = { .metres = 158, .weight_kg = 20.5, .bolts = 2, .weighed = 1 }, mixed = {
        .metres = 80, .kg = 12, .weight_kg = 20.5, .bolts = 2, .unknown = 1, .weighed = 1
    };

    (void)state;
    assert_true(isnan(tb_invoiced_quantity((double)NAN, &some)));
    assert_float_equal(tb_invoiced_quantity(1, &some), 158, 1e-9);
    assert_float_equal(tb_invoiced_quantity((double)NAN, &mixed), 32.5, 1e-9);
}

static void a_bolt_must_have_a_length_or_kilograms(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_bolt bolt = { .lot = s->lot.id,
                            .number = "N",
                            .metres = (double)NAN,
                            .width_cm = (double)NAN,
                            .mass_gm2 = (double)NAN,
                            .said = "" };

    (void)state;
    assert_int_equal(tb_bolt_add(&bolt, s->actor.book, &err), TB_EINVAL);
    bolt.kg = 2e6;
    assert_int_equal(tb_bolt_add(&bolt, s->actor.book, &err), TB_EINVAL);
    assert_non_null(strstr(err.msg, "weighs 2e+06 kg"));
    bolt.kg = 0;
    bolt.metres = 10;
    bolt.weight_kg = 2e6;
    assert_int_equal(tb_bolt_add(&bolt, s->actor.book, &err), TB_EINVAL);
    assert_non_null(strstr(err.msg, "weighs 2e+06 kg"));
    bolt.weight_kg = 0;
    bolt.metres = (double)NAN;
    bolt.kg = -1;
    assert_int_equal(tb_bolt_add(&bolt, s->actor.book, &err), TB_EINVAL);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_lot_counted_in_kilograms_says_what_is_computed_and_what_is_not_known),
        cmocka_unit_test(a_void_bolt_counts_in_neither_measure),
        cmocka_unit_test(what_was_counted_in_kilograms_was_neither_yards_nor_metres),
        cmocka_unit_test(a_plan_of_the_day_marks_lengths_that_are_computed),
        cmocka_unit_test(what_is_priced_by_weight_is_planned_by_its_money),
        cmocka_unit_test(what_was_weighed_besides_is_measured_in_metres_and_worth_its_kilograms),
        cmocka_unit_test(a_lot_of_which_some_bolts_have_no_weight_has_no_value),
        cmocka_unit_test(a_bolt_must_have_a_length_or_kilograms),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
