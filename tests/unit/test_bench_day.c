/* The day at the bench: which lots of the book or of a table are planned, what they are worth, what is refused. */
#include "unit/act_helper.h"

#include "tenterbook/act_site.h"
#include "tenterbook/bench_day.h"
#include "tenterbook/sampling.h"

#define DAY(...)                                                                                             \
    tb_bench_day_plan(&day, s->actor.book, &(struct tb_bench_day_request){ __VA_ARGS__ }, &s->mem, &err)

static struct tb_bench_day day;

static void table(struct scene *s, const char *text)
{
    FILE *f;

    (void)snprintf(s->path, sizeof s->path, "%s/day.csv", s->dir);
    f = fopen(s->path, "w");
    assert_non_null(f);
    assert_true(fputs(text, f) >= 0);
    assert_int_equal(fclose(f), 0);
}

/* By hand: of 3 bolts every one is burned (the chance asked for is 0.95), 6 minutes each; 4 EUR times 150 m are at
 * stake. */
static void a_lot_that_waits_is_planned_with_what_is_at_stake(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);

    (void)state;
    OK(DAY(.hours = 1, .burn_minutes = TB_BURN_MINUTES));
    assert_int_equal(day.lots, 1);
    assert_int_equal(day.n, 1);
    assert_string_equal(day.pick[0].lot, s->lot.ref);
    assert_string_equal(day.pick[0].supplier, "Harrow Mill");
    assert_true(day.pick[0].task.value == 600);
    assert_true(day.pick[0].task.minutes == 18);
    assert_true(day.pick[0].task.chance > 0 && day.pick[0].task.chance < 1);
    assert_true(day.pick[0].gain ==
                day.pick[0].task.value * day.pick[0].task.chance * day.pick[0].task.catch_);
    assert_true(day.used == 18 && day.minutes == 60);
    assert_string_equal(day.currency, "EUR");
    OK(DAY(.hours = 0.25, .burn_minutes = TB_BURN_MINUTES));
    assert_int_equal(day.n, 0); /* 18 minutes do not fit into 15 */
    assert_int_equal(day.lots, 1);
    scene_free(s);
}

static void parts_declared_apart_are_burned_apart(void **state)
{
    struct scene *s = scene_make("warp: 100% cotton; weft: 100% linen", 3);

    (void)state;
    OK(DAY(.hours = 1, .burn_minutes = 5));
    assert_true(day.pick[0].task.minutes == 30);
    scene_free(s);
}

static void lots_that_must_not_be_burned_are_left_out(void **state)
{
    struct scene *s = scene_make("100% polyester, PTFE membrane", 3);

    (void)state;
    OK(DAY(.hours = 1, .burn_minutes = 6));
    assert_int_equal(day.lots, 0);
    assert_int_equal(day.spared, 1);
    scene_free(s);
}

static struct tb_lot add_lot(struct scene *s, int64_t serial, const char *currency, double price)
{
    struct tb_lot lot = { .bolts = 1, .metres = 50, .unit_price = price, .currency = currency };
    struct tb_bolt bolt = { .number = "C1", .metres = 50, .width_cm = (double)NAN, .mass_gm2 = (double)NAN };

    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    OK(tb_lot_add(&lot, s->actor.book, &s->delivery, serial, &s->mem, &err));
    bolt.lot = lot.id;
    OK(tb_bolt_add(&bolt, s->actor.book, &err));
    OK(tb_book_commit(s->actor.book, &err));
    return lot;
}

static void lots_burnt_or_settled_are_left_out(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_standing held = { .lot = s->lot.id, .standing = TB_HELD, .why = "a dispute" };

    (void)state;
    OK(DAY(.hours = 1, .burn_minutes = 6));
    assert_int_equal(day.lots, 1);
    OK(tb_book_begin(s->actor.book, "Ada Fell", "settle", &err));
    OK(tb_standing_add(&held, s->actor.book, &s->mem, &err));
    OK(tb_book_commit(s->actor.book, &err));
    OK(DAY(.hours = 1, .burn_minutes = 6));
    assert_int_equal(day.lots, 0);
    scene_free(s);
}

/* By hand: 4 EUR times 50 m; the other lot has 50 m and no price. */
static void lots_without_a_price_are_planned_by_their_metres(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_lot unpriced = add_lot(s, 2, NULL, (double)NAN);

    (void)state;
    OK(DAY(.hours = 1, .burn_minutes = 6));
    assert_int_equal(day.lots, 1);
    assert_string_equal(day.currency, "EUR");
    assert_true(day.pick[0].task.value == 200);
    assert_int_equal(day.others, 1);
    assert_string_equal(day.other[0].currency, "m");
    assert_int_equal(day.other[0].n, 1);
    assert_string_equal(day.other[0].pick[0].lot, unpriced.ref);
    assert_true(day.other[0].pick[0].task.value == 50);
    assert_true(day.other[0].minutes == 60);
    OK(DAY(.hours = 1, .burn_minutes = 6, .metres = true));
    assert_int_equal(day.lots, 2);
    assert_int_equal(day.others, 0);
    assert_string_equal(day.currency, "m");
    OK(DAY(.hours = 1, .burn_minutes = 6, .currency = "EUR"));
    assert_int_equal(day.lots, 1);
    assert_int_equal(day.unpriced, 1);
    assert_int_equal(day.others, 0);
    scene_free(s);
}

/* By hand: 5 USD times 50 m are 250 USD; at 0.92, 230 EUR. */
static void different_money_has_plans_of_its_own_until_rates_are_set(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_lot dollars = add_lot(s, 2, "USD", 5);

    (void)state;
    OK(DAY(.hours = 1, .burn_minutes = 6));
    assert_int_equal(day.others, 1);
    assert_string_equal(day.currency, "EUR");
    assert_string_equal(day.other[0].currency, "USD");
    assert_true(day.other[0].pick[0].task.value == 250);
    assert_string_equal(day.rates, "");
    OK(tb_act_set(&s->actor, &(struct tb_set_request){ "money", "EUR" }, &err));
    OK(DAY(.hours = 1, .burn_minutes = 6));
    assert_int_equal(day.others, 1); /* a rate is missing */
    assert_string_equal(day.without_rate, "USD");
    assert_string_equal(day.money, "EUR");
    OK(tb_act_set(&s->actor, &(struct tb_set_request){ "rate:USD", "0.92" }, &err));
    /* a chance that is the same for both: the lot in dollars has no words of its own */
    OK(DAY(.hours = 1, .burn_minutes = 6, .want = { .catch_one = 0.8 }));
    assert_int_equal(day.others, 0);
    assert_int_equal(day.lots, 2);
    assert_string_equal(day.currency, "EUR");
    assert_string_equal(day.rates, "1 USD = 0.92 EUR from 2026-11-26 on");
    assert_string_equal(day.without_rate, "");
    assert_string_equal(day.pick[0].lot, dollars.ref);
    assert_true(fabs(day.pick[0].task.value - 230) < 1e-9);
    OK(DAY(.hours = 1, .burn_minutes = 6, .currency = "usd"));
    assert_int_equal(day.lots, 1);
    assert_string_equal(day.pick[0].lot, dollars.ref);
    OK(DAY(.hours = 1, .burn_minutes = 6, .currency = "GBP"));
    assert_int_equal(day.lots, 0);
    REFUSED(s, tb_act_set(&s->actor, &(struct tb_set_request){ "rate:USD", "0" }, &err), TB_EINVAL,
            "takes a number");
    scene_free(s);
}

/* By hand: gains 90, 225 and 10; a minute is worth 3, 3.75 and 1. Of 90 minutes b takes 60, a 30. */
static void a_table_needs_no_book_and_its_columns_any_order(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);

    (void)state;
    table(s, "minutes,lot,value,chance,catch,who\n30,a,1000,0.1,0.9,x\n60,b,500,0.5,0.9,\n10,c,100,0.1,1,\n");
    OK(tb_bench_day_plan(&day, NULL, &(struct tb_bench_day_request){ .hours = 1.5, .table = s->path },
                         &s->mem, &err));
    assert_int_equal(day.lots, 3);
    assert_int_equal(day.n, 2);
    assert_string_equal(day.pick[0].lot, "b");
    assert_string_equal(day.pick[1].lot, "a");
    assert_true(fabs(day.gain - 315) < 1e-9);
    assert_string_equal(day.currency, "");
    scene_free(s);
}

static void what_cannot_be_planned_is_refused(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    static const struct {
        const char *row, *words;
    } wrong[] = {
        { "a,-1,0.1,0.9,30", "line 2: '-1' is not a value" },
        { "a,1000,1.5,0.9,30", "line 2: '1.5' is not a chance" },
        { "a,1000,0.1,2,30", "line 2: '2' is not a chance of a catch" },
        { "a,1000,0.1,0.9,0", "line 2: '0' is not a number of minutes" },
        { "a,1000,0.1,0.9,many", "line 2: 'many' is not a number of minutes" },
        { "a,1000,inf,0.9,3", "line 2: 'inf' is not a chance" },
    };

    (void)state;
    REFUSED(s, DAY(.hours = 0, .burn_minutes = 6), TB_EINVAL, "no hours at the bench");
    REFUSED(s, DAY(.hours = 1), TB_EINVAL, "a burn of 0 minutes is not possible");
    REFUSED(s, DAY(.hours = (double)NAN, .burn_minutes = 6), TB_EINVAL, "no hours at the bench");
    for (size_t i = 0; i < TB_COUNT(wrong); i++) {
        char text[128];

        (void)snprintf(text, sizeof text, "lot,value,chance,catch,minutes\n%s\n", wrong[i].row);
        table(s, text);
        REFUSED(s, DAY(.hours = 1, .table = s->path), TB_EINVAL, wrong[i].words);
    }
    table(s, "lot,value,chance\na,1,0.1\n");
    REFUSED(s, DAY(.hours = 1, .table = s->path), TB_EINVAL, "must be there");
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_lot_that_waits_is_planned_with_what_is_at_stake),
        cmocka_unit_test(parts_declared_apart_are_burned_apart),
        cmocka_unit_test(lots_that_must_not_be_burned_are_left_out),
        cmocka_unit_test(lots_burnt_or_settled_are_left_out),
        cmocka_unit_test(lots_without_a_price_are_planned_by_their_metres),
        cmocka_unit_test(different_money_has_plans_of_its_own_until_rates_are_set),
        cmocka_unit_test(a_table_needs_no_book_and_its_columns_any_order),
        cmocka_unit_test(what_cannot_be_planned_is_refused),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
