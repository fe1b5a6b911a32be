/* Drawing from several lots of which one shows too little: it is left out, and the others are drawn from. */
#include "unit/act_helper.h"

#include "tenterbook/act_draw.h"

#define ONE(ref) .name = (const char *const[]){ ref }, .names = 1

/* Of 65 % polyester and 35 % cotton a burn shows next to nothing of a swap (docs/sampling.md, "Defaults"). */
static void a_lot_whose_burns_show_too_little_is_left_out_and_the_others_are_drawn(void **state)
{
    struct scene *s = scene_make("100% cotton", 6);
    struct tb_draw_request r = { ONE(s->delivery.ref), .want = { .bad = 2, .sure = 0.9 } };
    struct tb_draw_outcome out, alone, again;
    struct tb_lot wool, blend;
    struct tb_draw record;
    int64_t head;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    scene_add_lot(s, &blend, 2, "65% polyester 35% cotton", 4, "C");
    scene_add_lot(s, &wool, 3, "100% wool", 4, "D");
    OK(tb_book_commit(s->actor.book, &err));
    OK(tb_act_draw(&out, &s->actor, &r, &s->mem, &err));
    assert_true(out.recorded && out.plan.cut > 0);
    assert_int_equal(out.plan.bolts, 10);
    assert_true(out.plan.chance >= 0.9);
    assert_string_equal(out.about, "W26-001.01 W26-001.03");
    assert_int_equal(out.lefts, 1);
    assert_string_equal(out.left[0].lot, blend.ref);
    assert_string_equal(out.left[0].declared, "65% polyester 35% cotton");
    assert_true(out.left[0].caught.one < out.caught.one);
    for (size_t i = 0; i < out.n; i++)
        assert_string_not_equal(out.drawn[i].lot_ref, blend.ref);
    /* it is found again, and drawn again, by the lots it is about */
    r.name = (const char *const[]){ s->lot.ref, wool.ref };
    r.names = 2;
    OK(tb_draw_again(&again, &record, s->actor.book, r.name, r.names, &s->mem, &err));
    assert_int_equal(again.n, out.n);
    /* by itself it is not drawn, and no more are false than there are bolts without it */
    head = scene_head(s);
    r = (struct tb_draw_request){ ONE(blend.ref), .want = { .bad = 2, .sure = 0.9 } };
    OK(tb_act_draw(&alone, &s->actor, &r, &s->mem, &err));
    assert_int_equal(alone.plan.cut, -1);
    assert_int_equal(alone.lefts, 0);
    r = (struct tb_draw_request){ ONE(s->delivery.ref), .want = { .bad = 11, .sure = 0.9999 } };
    OK(tb_act_draw(&alone, &s->actor, &r, &s->mem, &err));
    assert_int_equal(alone.plan.cut, -1);
    assert_int_equal(alone.lefts, 0);
    assert_string_equal(alone.about, s->delivery.ref);
    scene_is_unchanged(s, head);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_lot_whose_burns_show_too_little_is_left_out_and_the_others_are_drawn),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
