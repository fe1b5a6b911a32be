/* The act of cutting a swatch: its happy ways, each refusal, and that a refusal leaves nothing. */
#include "unit/act_helper.h"

#include "tenterbook/act_bench.h"

static void a_swatch_of_a_bolt_gets_the_next_tag_of_its_lot(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_cut_request r = { .bolt = "B2", .part = TB_PART_WEFT, .kept = "tin 4" };
    struct tb_cut_outcome out;
    struct tb_swatch found;
    int64_t head = scene_head(s);

    (void)state;
    OK(tb_act_cut(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(scene_head(s), head + 1);
    assert_string_equal(out.lot.ref, s->lot.ref);
    OK(tb_swatch_find(&found, s->actor.book, out.swatch.tag, &s->mem, &err));
    assert_string_equal(found.bolt_number, "B2");
    assert_int_equal(found.part, TB_PART_WEFT);
    assert_string_equal(found.kept, "tin 4");
    assert_string_equal(found.cut_by, "Ada Fell");
    OK(tb_act_cut(&out, &s->actor, &r, &s->mem, &err));
    assert_string_not_equal(out.swatch.tag, found.tag);
    scene_free(s);
}

static void known_cloth_gets_a_swatch_without_a_lot(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_cut_outcome out;

    (void)state;
    OK(tb_act_cut(&out, &s->actor, &(struct tb_cut_request){ .known = "100% wool" }, &s->mem, &err));
    assert_null(out.lot.ref);
    assert_string_equal(out.swatch.known, "100% wool");
    scene_free(s);
}

static void what_cannot_be_cut_is_refused_and_leaves_nothing(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_cut_outcome out;
    struct tb_actor nobody = { s->actor.book, "" };

    (void)state;
#define CUT(code, words, ...)                                                                                \
    REFUSED(s, tb_act_cut(&out, &s->actor, &(struct tb_cut_request){ __VA_ARGS__ }, &s->mem, &err), code,    \
            words)
    CUT(TB_ENOTFOUND, "B9", .bolt = "B9");
    CUT(TB_ENOTFOUND, "W99-001.01", .bolt = "B1", .lot = "W99-001.01");
    CUT(TB_EINVAL, "is a lot; name its bolts", .bolt = s->lot.ref);
    CUT(TB_EINVAL, "still to come", .bolt = "B1", .cut_at = "2099-01-01T00:00:00Z");
    CUT(TB_EINVAL, "is not a valid moment", .bolt = "B1", .cut_at = "yesterday");
    CUT(TB_EINVAL, "cannot be read for certain", .known = "something soft");
    REFUSED(s, tb_act_cut(&out, &nobody, &(struct tb_cut_request){ .bolt = "B1" }, &s->mem, &err), TB_EINVAL,
            "say who is writing");
    scene_free(s);
}

static void asbestos_is_not_cut_at_a_bench_and_fluorofibre_is(void **state)
{
    struct scene *s = scene_make("100% asbestos", 1), *ptfe = scene_make("100% PTFE", 1);
    struct tb_cut_outcome out;

    (void)state;
    REFUSED(s, tb_act_cut(&out, &s->actor, &(struct tb_cut_request){ .bolt = "B1" }, &s->mem, &err),
            TB_EREFUSED, "ask a laboratory licensed for it");
    REFUSED(s,
            tb_act_cut(&out, &s->actor, &(struct tb_cut_request){ .known = "100% asbestos" }, &s->mem, &err),
            TB_EREFUSED, "must not be cut");
    /* it was cut before anybody knew: that is recorded */
    OK(tb_act_cut(&out, &s->actor, &(struct tb_cut_request){ .bolt = "B1", .cut_at = "2026-10-06T08:00:00Z" },
                  &s->mem, &err));
    OK(tb_act_cut(&out, &ptfe->actor, &(struct tb_cut_request){ .bolt = "B1" }, &ptfe->mem, &err));
    scene_free(ptfe);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_swatch_of_a_bolt_gets_the_next_tag_of_its_lot),
        cmocka_unit_test(known_cloth_gets_a_swatch_without_a_lot),
        cmocka_unit_test(what_cannot_be_cut_is_refused_and_leaves_nothing),
        cmocka_unit_test(asbestos_is_not_cut_at_a_bench_and_fluorofibre_is),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
