/* Bolts that went back, or were decided of by themselves: nothing draws, plans or waits for them. */
#include "unit/act_helper.h"

#include "tenterbook/act_draw.h"
#include "tenterbook/bench_day.h"
#include "tenterbook/todo.h"

#define ONE(ref) .name = (const char *const[]){ ref }, .names = 1
#define EVERY .want = { .kind = TB_PLAN_EVERY, .catch_one = 1 }

static void settle_bolts(struct scene *s, enum tb_standing_kind as, const char *const *bolt, size_t n)
{
    struct tb_settle_bolts_outcome out;

    OK(tb_act_settle_bolts(&out, &s->actor,
                           &(struct tb_settle_bolts_request){
                               .lot = s->lot.ref, .bolt = bolt, .bolts = n, .as = as, .why = "a test" },
                           &s->mem, &err));
}

static void settle(struct scene *s, enum tb_standing_kind as)
{
    struct tb_settle_outcome out = { 0 };

    OK(tb_act_settle(&out, &s->actor,
                     &(struct tb_settle_request){ .lot = s->lot.ref, .as = as, .why = "a test" }, &s->mem,
                     &err));
    tb_rejudged_free(&out.judged);
}

static const struct tb_todo_item *waiting(struct tb_todo *todo, struct scene *s, enum tb_todo_kind kind)
{
    OK(tb_todo_read(todo, s->actor.book, &(struct tb_todo_request){ .today = "2026-11-26" }, &s->mem, &err));
    for (size_t i = 0; i < todo->n; i++)
        if (todo->item[i].kind == kind)
            return &todo->item[i];
    return NULL;
}

static void only_bolts_that_still_stand_to_be_decided_of_are_drawn(void **state)
{
    struct scene *s = scene_make("100% cotton", 6);
    struct tb_draw_request r = { ONE(s->lot.ref), EVERY, .seed = "one" };
    struct tb_draw_outcome out, again;
    struct tb_draw record;

    (void)state;
    settle_bolts(s, TB_RETURNED, (const char *const[]){ "B1", "B2" }, 2);
    settle_bolts(s, TB_RELEASED, (const char *const[]){ "B3" }, 1);
    settle_bolts(s, TB_HELD, (const char *const[]){ "B4" }, 1);
    OK(tb_act_draw(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(out.plan.bolts, 2);
    assert_int_equal(out.apart, 4);
    assert_int_equal(out.n, 2);
    assert_string_equal(out.drawn[0].number, "B5");
    assert_string_equal(out.drawn[1].number, "B6");
    /* drawn again it is the draw of then, also when more was decided of since */
    settle_bolts(s, TB_RETURNED, (const char *const[]){ "B5" }, 1);
    OK(tb_draw_again(&again, &record, s->actor.book, r.name, 1, &s->mem, &err));
    assert_int_equal(record.bolts, 2);
    assert_int_equal(again.n, 2);
    assert_string_equal(again.drawn[0].number, "B5");
    scene_free(s);
}

static void a_lot_that_went_back_is_drawn_from_only_when_it_waits_again(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    struct tb_draw_request r = { ONE(s->lot.ref), EVERY };
    struct tb_draw_outcome out, again;
    struct tb_draw record;
    int64_t head;

    (void)state;
    settle(s, TB_RETURNED);
    head = scene_head(s);
    REFUSED(s, tb_act_draw(&out, &s->actor, &r, &s->mem, &err), TB_EREFUSED, "has no bolt left to draw");
    scene_is_unchanged(s, head);
    settle(s, TB_WAITING);
    OK(tb_act_draw(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(out.n, 3);
    assert_int_equal(out.apart, 0);
    settle(s, TB_WAITING);
    settle_bolts(s, TB_RETURNED, (const char *const[]){ "B1" }, 1);
    settle(s, TB_RELEASED); /* what went back is not there, whatever becomes of the others */
    OK(tb_act_draw(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(out.n, 2);
    settle(s, TB_WAITING);
    OK(tb_draw_again(&again, &record, s->actor.book, r.name, 1, &s->mem, &err));
    assert_int_equal(again.n, 2);
    scene_free(s);
}

static void of_a_delivery_the_lot_that_went_back_is_left_out(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    struct tb_draw_request r = { ONE(s->delivery.ref), EVERY };
    struct tb_draw_outcome out, again;
    struct tb_draw record;
    struct tb_lot other;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    scene_add_lot(s, &other, 2, "100% cotton", 2, "C");
    OK(tb_book_commit(s->actor.book, &err));
    settle(s, TB_RETURNED);
    OK(tb_act_draw(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(out.n, 2);
    assert_int_equal(out.apart, 3);
    assert_string_equal(out.drawn[0].lot_ref, other.ref);
    OK(tb_draw_again(&again, &record, s->actor.book, r.name, 1, &s->mem, &err));
    assert_int_equal(again.n, 2);
    scene_free(s);
}

/* By hand: of 6 bolts of 50 m at 4 EUR two are left, 400 EUR and two burns of 6 minutes. */
static void the_day_plans_the_bolts_that_are_left(void **state)
{
    struct scene *s = scene_make("100% cotton", 6);
    const struct tb_bench_day_request r = { .hours = 1, .burn_minutes = TB_BURN_MINUTES };
    struct tb_bench_day day;

    (void)state;
    settle_bolts(s, TB_RETURNED, (const char *const[]){ "B1", "B2", "B3", "B6" }, 4);
    OK(tb_bench_day_plan(&day, s->actor.book, &r, &s->mem, &err));
    assert_int_equal(day.n, 1);
    assert_true(day.pick[0].task.value == 400);
    assert_true(day.pick[0].task.minutes == 12);
    scene_free(s);
}

/* The chance is that of the lot's own words, as a draw takes it: docs/sampling.md, "Defaults". */
static void the_day_plans_by_the_chance_that_a_draw_takes(void **state)
{
    struct scene *s = scene_make("65% polyester 35% cotton", 4);
    struct tb_bench_day_request r = { .hours = 1, .burn_minutes = TB_BURN_MINUTES };
    struct tb_draw_outcome draw;
    struct tb_bench_day day;
    struct tb_todo todo;

    (void)state;
    OK(tb_draw_try(&draw, s->actor.book, &(struct tb_draw_request){ ONE(s->lot.ref) }, &s->mem, &err));
    assert_int_equal(draw.plan.cut, -1);
    OK(tb_bench_day_plan(&day, s->actor.book, &r, &s->mem, &err));
    assert_int_equal(day.n, 1);
    assert_true(day.pick[0].every);
    assert_true(fabs(day.pick[0].task.catch_ - draw.plan.chance) < 1e-9);
    assert_true(day.pick[0].task.catch_ < 0.5);
    assert_true(waiting(&todo, s, TB_TODO_UNDRAWN)->every);
    /* said by a person, it is the same for every lot */
    r.want.catch_one = 1;
    OK(tb_bench_day_plan(&day, s->actor.book, &r, &s->mem, &err));
    assert_false(day.pick[0].every);
    assert_true(day.pick[0].task.catch_ > 0.9);
    scene_free(s);
}

static void drawn_bolts_that_went_back_wait_for_nothing(void **state)
{
    struct scene *s = scene_make("100% cotton", 4);
    struct tb_draw_request r = { ONE(s->lot.ref), EVERY };
    struct tb_draw_outcome out;
    struct tb_cut_outcome cut;
    const struct tb_todo_item *item;
    struct tb_todo todo;

    (void)state;
    OK(tb_act_draw(&out, &s->actor, &r, &s->mem, &err));
    OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .lot = s->lot.ref, .bolt = "B2" }, &s->mem,
                  &err));
    settle_bolts(s, TB_RETURNED, (const char *const[]){ "B1", "B2" }, 2);
    item = waiting(&todo, s, TB_TODO_UNCUT);
    assert_non_null(item);
    assert_string_equal(item->what, "B3, B4");
    assert_int_equal(item->among, 2);
    assert_null(waiting(&todo, s, TB_TODO_UNBURNT));
    scene_free(s);
}

static void a_proof_is_of_the_bolts_that_were_drawn_from(void **state)
{
    struct scene *s = scene_make("100% cotton", 6);
    const char *name[] = { s->lot.ref };
    struct tb_draw_request r = { .name = name, .names = 1, EVERY };
    struct tb_draw_proof proof;
    struct tb_draw_outcome out;

    (void)state;
    settle_bolts(s, TB_RETURNED, (const char *const[]){ "B1" }, 1);
    OK(tb_act_draw(&out, &s->actor, &r, &s->mem, &err));
    settle_bolts(s, TB_RETURNED, (const char *const[]){ "B2" }, 1);
    OK(tb_draw_prove(&proof, s->actor.book, &(struct tb_draw_proof_request){ .name = name, .names = 1 },
                     &s->mem, &err));
    assert_int_equal(proof.bolts, 5); /* B1 was not there to be drawn, B2 was */
    assert_true(proof.metres == 250);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(only_bolts_that_still_stand_to_be_decided_of_are_drawn),
        cmocka_unit_test(a_lot_that_went_back_is_drawn_from_only_when_it_waits_again),
        cmocka_unit_test(of_a_delivery_the_lot_that_went_back_is_left_out),
        cmocka_unit_test(the_day_plans_the_bolts_that_are_left),
        cmocka_unit_test(the_day_plans_by_the_chance_that_a_draw_takes),
        cmocka_unit_test(drawn_bolts_that_went_back_wait_for_nothing),
        cmocka_unit_test(a_proof_is_of_the_bolts_that_were_drawn_from),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
