/* The act of sharing: who gets what, each refusal, two at once, and that a swatch is dealt once. */
#include "unit/at_once.h"

#include "tenterbook/act_bench.h"
#include "tenterbook/act_draw.h"

/* So many swatches of the lot's bolts, part by part, of which a half is kept. */
static void keep(struct scene *s, int n, enum tb_part_kind part)
{
    for (int i = 0; i < n; i++) {
        struct tb_cut_outcome cut;

        OK(tb_act_cut(&cut, &s->actor,
                      &(struct tb_cut_request){ .bolt = "B1", .part = part, .kept = "tin 4" }, &s->mem,
                      &err));
    }
}

static size_t held(const struct tb_joint_sample *j, enum tb_holder_kind holder)
{
    size_t n = 0;

    for (size_t i = 0; i < j->pieces; i++)
        n += j->piece[i].holder == holder;
    return n;
}

static void retained_swatches_are_dealt_and_recorded_with_what_was_agreed(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_share_request r = { .lot = "B2",
                                  .seed = "abc",
                                  .laboratory = "Ring Street Laboratory",
                                  .rule = "ISO 1833-11",
                                  .present = "Ada Fell, Wren Dale" };
    struct tb_share_outcome out;
    struct tb_joint_sample *list = NULL;
    const char *part[7];
    enum tb_holder_kind holder[7];
    struct tb_cut_outcome cut;
    long each = 0;
    size_t n = 0;
    int64_t head;

    (void)state;
    keep(s, 7, TB_PART_WHOLE);
    OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .bolt = "B1" }, &s->mem,
                  &err)); /* none is kept */
    head = scene_head(s);
    OK(tb_act_share(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(scene_head(s), head + 1);
    assert_string_equal(out.lot.ref, s->lot.ref);
    assert_int_equal(out.sample.serial, 1);
    assert_int_equal(out.sample.swatches, 7);
    assert_int_equal(out.sample.each_one, 2);
    assert_string_equal(out.sample.dealt_by, "Ada Fell");
    OK(tb_joint_sample_list(&list, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(list[0].seed, "abc");
    assert_string_equal(list[0].laboratory, "Ring Street Laboratory");
    assert_string_equal(list[0].rule, "ISO 1833-11");
    assert_string_equal(list[0].present, "Ada Fell, Wren Dale");
    assert_int_equal(list[0].pieces, 7);
    /* the seed deals the same again: swatches by tag, all of one part */
    for (size_t i = 0; i < 7; i++)
        part[i] = "whole";
    OK(tb_deal(holder, &each, part, 7, "abc", &err));
    for (size_t i = 0; i < 7; i++) {
        assert_int_equal(list[0].piece[i].holder, holder[i]);
        assert_string_equal(out.sample.piece[i].tag, list[0].piece[i].tag);
        assert_true(i == 0 || strcmp(list[0].piece[i].tag, list[0].piece[i - 1].tag) > 0);
    }
    scene_free(s);
}

static void parts_of_the_cloth_are_dealt_apart_and_only_once(void **state)
{
    struct scene *s = scene_make("warp cotton, weft linen", 1);
    struct tb_share_request r = { .lot = s->lot.ref };
    struct tb_share_outcome out;

    (void)state;
    keep(s, 3, TB_PART_WARP);
    keep(s, 4, TB_PART_WEFT);
    keep(s, 2, TB_PART_WHOLE);
    OK(tb_act_share(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(out.sample.each_one, 2);
    assert_int_equal(held(&out.sample, TB_HOLDER_SUPPLIER), 2);
    assert_int_equal(held(&out.sample, TB_HOLDER_LABORATORY), 2);
    assert_int_equal(held(&out.sample, TB_HOLDER_OWN), 5);
    assert_false(tb_seed_by_hand(out.sample.seed)); /* none was given: one is made */
    assert_string_equal(out.sample.laboratory, "");
    REFUSED(s, tb_act_share(&out, &s->actor, &r, &s->mem, &err), TB_EREFUSED,
            "there are 0 retained swatches");
    keep(s, 3, TB_PART_PILE);
    OK(tb_act_share(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(out.sample.serial, 2);
    assert_int_equal(out.sample.swatches, 3);
    scene_free(s);
}

static void what_cannot_be_dealt_is_refused_and_leaves_nothing(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_actor nobody = { s->actor.book, "" };
    struct tb_share_request r = { .lot = "W99-001.01" };
    struct tb_share_outcome out;

    (void)state;
    REFUSED(s, tb_act_share(&out, &s->actor, &r, &s->mem, &err), TB_ENOTFOUND, "W99-001.01");
    r.lot = s->lot.ref;
    keep(s, 2, TB_PART_WHOLE);
    keep(s, 2, TB_PART_WARP);
    REFUSED(s, tb_act_share(&out, &s->actor, &r, &s->mem, &err), TB_EREFUSED,
            "there are 4 retained swatches to deal, and it takes three of one part");
    keep(s, 1, TB_PART_WARP);
    r.seed = "a b";
    REFUSED(s, tb_act_share(&out, &s->actor, &r, &s->mem, &err), TB_EINVAL, "letters, digits and signs");
    r.seed = NULL;
    REFUSED(s, tb_act_share(&out, &nobody, &r, &s->mem, &err), TB_EINVAL, "say who is writing");
    OK(tb_act_share(&out, &s->actor, &r, &s->mem, &err));
    scene_free(s);
}

static tb_rc share_lot(struct at_once *out, const struct tb_actor *actor, int i, struct tb_arena *mem,
                       struct tb_err *error)
{
    struct tb_share_outcome o;
    tb_rc rc = tb_act_share(&o, actor, &(struct tb_share_request){ .lot = "B1" }, mem, error);

    (void)i;
    out->number = rc == TB_OK ? o.sample.swatches : 0;
    return rc;
}

static void of_people_who_deal_at_the_same_time_one_deals(void **state)
{
    enum { N = 5 };
    struct scene *s = scene_make("100% cotton", 1);
    struct at_once got[N];
    struct tb_joint_sample *list = NULL;
    size_t n = 0;
    int dealt = 0;

    (void)state;
    keep(s, 3, TB_PART_WHOLE);
    at_once(got, s, N, "Ada Fell", share_lot);
    for (int i = 0; i < N; i++) {
        dealt += got[i].rc == TB_OK;
        if (got[i].rc != TB_OK)
            assert_non_null(strstr(got[i].why, "there are 0 retained swatches"));
    }
    assert_int_equal(dealt, 1);
    OK(tb_joint_sample_list(&list, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 1);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(retained_swatches_are_dealt_and_recorded_with_what_was_agreed),
        cmocka_unit_test(parts_of_the_cloth_are_dealt_apart_and_only_once),
        cmocka_unit_test(what_cannot_be_dealt_is_refused_and_leaves_nothing),
        cmocka_unit_test(of_people_who_deal_at_the_same_time_one_deals),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
