/* A draw over several lots of which one is void since: it is drawn again, and its proof is asked, as the advice says. */
#include "unit/act_helper.h"

#include "tenterbook/act_draw.h"
#include "tenterbook/act_void.h"

#define SURE_OF_ALL .catch_one = 0.9

static struct tb_draw_outcome draw_both(struct scene *s, struct tb_lot *other)
{
    struct tb_draw_outcome out;

    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    scene_add_lot(s, other, 2, "100% cotton", 6, "C");
    OK(tb_book_commit(s->actor.book, &err));
    OK(tb_act_draw(&out, &s->actor,
                   &(struct tb_draw_request){ .name = (const char *[]){ s->lot.ref, other->ref },
                                              .names = 2,
                                              .seed = "q1",
                                              .want = { .kind = TB_PLAN_SHARE, .share = 0.5, SURE_OF_ALL } },
                   &s->mem, &err));
    return out;
}

static void void_lot(struct scene *s, const char *ref)
{
    struct tb_void_outcome out;

    OK(tb_act_void(&out, &s->actor,
                   &(struct tb_void_request){ .name = ref, .why = "of another list", .knowing = true },
                   &s->mem, &err));
}

static void assert_again(struct scene *s, const char *const *name, size_t names, const char *lot, size_t n)
{
    struct tb_draw_outcome again;
    struct tb_draw record;

    OK(tb_draw_again(&again, &record, s->actor.book, name, names, &s->mem, &err));
    assert_string_equal(record.seed, "q1");
    assert_int_equal(again.n, n);
    for (size_t i = 0; i < again.n; i++)
        assert_true(!lot || strcmp(again.drawn[i].lot_ref, lot) == 0);
}

static void what_the_rest_of_a_draw_proves_is_asked_where_a_lot_is_void(void **state)
{
    struct scene *s = scene_make("100% cotton", 6);
    struct tb_lot other;
    struct tb_draw_outcome out = draw_both(s, &other);
    const char *both[] = { s->lot.ref, other.ref };
    struct tb_draw_proof p;
    struct tb_draw_proof_request r = { .name = both, .names = 2, SURE_OF_ALL };

    (void)state;
    assert_int_equal(out.n, 6);
    assert_again(s, both, 2, NULL, 6);
    assert_again(s, &both[0], 1, NULL, 6); /* by one of its lots */
    void_lot(s, other.ref);
    assert_again(s, both, 2, s->lot.ref, 3);
    assert_again(s, &both[0], 1, s->lot.ref, 3);
    OK(tb_draw_prove(&p, s->actor.book, &r, &s->mem, &err));
    assert_int_equal(p.bolts, 6);
    assert_int_equal(p.drawn, 3);
    assert_int_equal(p.gones, 3); /* those of the void lot are named */
    r.name = &both[1];
    r.names = 1;
    REFUSED(s, tb_draw_prove(&p, s->actor.book, &r, &s->mem, &err), TB_EREFUSED, "is void");
    scene_free(s);
}

static void a_draw_of_some_lots_of_a_delivery_is_drawn_again_by_the_delivery(void **state)
{
    struct scene *s = scene_make("100% cotton", 6);
    struct tb_lot other;
    const char *delivery = s->delivery.ref;

    (void)state;
    (void)draw_both(s, &other);
    assert_again(s, &delivery, 1, NULL, 6);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_the_rest_of_a_draw_proves_is_asked_where_a_lot_is_void),
        cmocka_unit_test(a_draw_of_some_lots_of_a_delivery_is_drawn_again_by_the_delivery),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
