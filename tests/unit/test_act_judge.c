/* The acts of judging: one lot, one lot as of a journal row, all lots. */
#include "unit/bench_helper.h"

static void set_to(struct scene *s, const char *name, const char *value)
{
    OK(tb_book_begin(s->actor.book, "Ada Fell", "set", &err));
    OK(tb_setting_set(s->actor.book, name, value, &err));
    OK(tb_book_commit(s->actor.book, &err));
}

static void judging_again_writes_only_what_changed(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_burn_outcome burnt = burn_one(s, cut_one(s, "B1", TB_PART_WHOLE), AS_COTTON);
    struct tb_rejudged out;
    int64_t head = scene_head(s);

    (void)state;
    OK(tb_act_judge(&out, &s->actor, s->lot.ref, TB_WANT_ALL, &s->mem, &err));
    assert_false(out.recorded);
    assert_int_equal(scene_head(s), head);
    assert_true(out.v.verdict.n_cue > 0);
    tb_rejudged_free(&out);
    /* a threshold that this burn does not reach: the same ratio is undecided now */
    set_to(s, "fits_above", "1000000000");
    OK(tb_act_judge(&out, &s->actor, s->lot.ref, 0, &s->mem, &err));
    assert_true(out.recorded);
    assert_false(out.held);
    assert_int_equal(out.v.verdict.kind, TB_UNDECIDED);
    assert_int_equal(scene_head(s), head + 2);
    tb_rejudged_free(&out);
    REFUSED(s, tb_act_judge(&out, &s->actor, "W99-001.01", 0, &s->mem, &err), TB_ENOTFOUND, "W99-001.01");
    tb_rejudged_free(&burnt.judged);
    scene_free(s);
}

static void nothing_is_recorded_of_a_lot_nobody_burned(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_rejudged out;
    int64_t head = scene_head(s);

    (void)state;
    OK(tb_act_judge(&out, &s->actor, s->lot.ref, 0, &s->mem, &err));
    assert_false(out.recorded);
    assert_non_null(out.v.verdict.reason);
    assert_int_equal(scene_head(s), head);
    tb_rejudged_free(&out);
    scene_free(s);
}

static void an_old_verdict_is_computed_again_as_it_was(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_burn_outcome first = burn_one(s, cut_one(s, "B1", TB_PART_WHOLE), AS_COTTON);
    int64_t row = scene_head(s);
    struct tb_burn_outcome second = burn_one(s, cut_one(s, "B2", TB_PART_WHOLE), AS_POLYESTER);
    struct tb_rejudged out;

    (void)state;
    OK(tb_judge_as_of(&out, s->actor.book, s->lot.ref, row, &s->mem, &err));
    assert_int_equal(out.v.verdict.kind, TB_FITS);
    assert_int_equal(out.lot.bolts_burnt, 1);
    assert_true(fabs(out.v.verdict.log_ratio - first.judged.v.verdict.log_ratio) < 1e-12);
    tb_rejudged_free(&out);
    REFUSED(s, tb_judge_as_of(&out, s->actor.book, s->lot.ref, 1, &s->mem, &err), TB_ENOTFOUND,
            "had no verdict by journal row 1");
    tb_rejudged_free(&out);
    tb_rejudged_free(&first.judged);
    tb_rejudged_free(&second.judged);
    scene_free(s);
}

static void all_burnt_lots_are_judged_again_and_what_changed_is_told(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_lot second, third;
    struct tb_burn_outcome burnt[2];
    struct tb_judge_all_outcome out;
    int64_t head;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    scene_add_lot(s, &second, 2, "100% cotton", 1, "C");
    scene_add_lot(s, &third, 3, "100% cotton", 1, "D");
    OK(tb_book_commit(s->actor.book, &err));
    burnt[0] = burn_one(s, cut_one(s, "B1", TB_PART_WHOLE), AS_COTTON);
    burnt[1] = burn_one(s, cut_one(s, "C1", TB_PART_WHOLE), AS_POLYESTER);
    head = scene_head(s);
    OK(tb_act_judge_all(&out, &s->actor, &s->mem, &err));
    assert_int_equal(out.lots, 2); /* nobody burned the third */
    assert_int_equal(out.kind[TB_FITS], 1);
    assert_int_equal(out.kind[TB_CONTRADICTS], 1);
    assert_int_equal(out.recorded, 0);
    assert_int_equal(scene_head(s), head);
    set_to(s, "fits_above", "1000000000");
    OK(tb_act_judge_all(&out, &s->actor, &s->mem, &err));
    assert_int_equal(out.recorded, 1);
    assert_string_equal(out.changed[0].ref, s->lot.ref);
    assert_int_equal(out.changed[0].was, TB_FITS);
    assert_int_equal(out.changed[0].now, TB_UNDECIDED);
    assert_int_equal(scene_lot(s).verdict, TB_UNDECIDED);
    tb_rejudged_free(&burnt[0].judged);
    tb_rejudged_free(&burnt[1].judged);
    scene_free(s);
}

static struct tb_rejudged judged_now(struct scene *s)
{
    struct tb_rejudged out;

    OK(tb_act_judge(&out, &s->actor, s->lot.ref, 0, &s->mem, &err));
    return out;
}

static void settle_as(struct scene *s, enum tb_standing_kind as)
{
    struct tb_settle_outcome out;

    OK(tb_act_settle(
        &out, &s->actor,
        &(struct tb_settle_request){ .lot = s->lot.ref, .as = as, .why = "the laboratory says so" }, &s->mem,
        &err));
    tb_rejudged_free(&out.judged);
}

/* Settings that change the figures, and known cloth, are nothing new about the lot itself. */
static void weighing_again_takes_back_no_release_and_no_opening(void **state)
{
    static const enum tb_standing_kind decided[] = { TB_RELEASED, TB_WAITING };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(decided); i++) {
        struct scene *s = scene_make("100% cotton", 1);
        struct tb_burn_outcome burnt = burn_one(s, cut_one(s, "B1", TB_PART_WHOLE), AS_POLYESTER);
        struct tb_judge_all_outcome all;
        struct tb_rejudged out;

        assert_true(burnt.judged.held && burnt.judged.before.standing == TB_STANDING_NONE);
        settle_as(s, decided[i]);
        set_to(s, "contradicts_below", "0.04");
        set_to(s, "site_weight", "2");
        out = judged_now(s);
        assert_int_equal(out.v.verdict.kind, TB_CONTRADICTS);
        assert_false(out.held);
        assert_true(out.kept);
        assert_int_equal(out.before.standing, decided[i]);
        assert_string_equal(out.before.settled_by, "Ada Fell");
        assert_int_equal(scene_lot(s).standing, decided[i]);
        OK(tb_act_judge_all(&all, &s->actor, &s->mem, &err));
        assert_int_equal(all.held, 0);
        assert_int_equal(all.kept, 1);
        assert_int_equal(scene_lot(s).standing, decided[i]);
        tb_rejudged_free(&out);
        tb_rejudged_free(&burnt.judged);
        scene_free(s);
    }
}

static void a_new_burn_after_a_release_holds_the_lot_again(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_burn_outcome first = burn_one(s, cut_one(s, "B1", TB_PART_WHOLE), AS_POLYESTER), second;

    (void)state;
    settle_as(s, TB_RELEASED);
    second = burn_one(s, cut_one(s, "B2", TB_PART_WHOLE), AS_POLYESTER);
    assert_true(second.judged.held);
    assert_false(second.judged.kept);
    assert_int_equal(second.judged.before.standing, TB_RELEASED);
    assert_int_equal(scene_lot(s).standing, TB_HELD);
    tb_rejudged_free(&first.judged);
    tb_rejudged_free(&second.judged);
    scene_free(s);
}

static void other_words_after_a_release_hold_the_lot_again(void **state)
{
    struct scene *s = scene_make("PE", 1);
    struct tb_burn_outcome burnt = burn_one(s, cut_one(s, "B1", TB_PART_WHOLE), AS_COTTON);
    struct tb_rejudged out;

    (void)state;
    settle_as(s, TB_RELEASED);
    OK(tb_act_declare(&out, &s->actor,
                      &(struct tb_declare_request){ .lot = s->lot.ref, .text = "100% polyester" }, &s->mem,
                      &err));
    assert_true(out.held);
    assert_int_equal(scene_lot(s).standing, TB_HELD);
    tb_rejudged_free(&out);
    tb_rejudged_free(&burnt.judged);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(judging_again_writes_only_what_changed),
        cmocka_unit_test(nothing_is_recorded_of_a_lot_nobody_burned),
        cmocka_unit_test(an_old_verdict_is_computed_again_as_it_was),
        cmocka_unit_test(all_burnt_lots_are_judged_again_and_what_changed_is_told),
        cmocka_unit_test(weighing_again_takes_back_no_release_and_no_opening),
        cmocka_unit_test(a_new_burn_after_a_release_holds_the_lot_again),
        cmocka_unit_test(other_words_after_a_release_hold_the_lot_again),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
