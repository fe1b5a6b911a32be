/* Judging all lots while others go on recording: no verdict is lost, and nothing is written of what is no longer so. */
#include "tenterbook/stored_verdict.h"
#include "unit/bench_helper.h"
#include "unit/meanwhile.h"

static void set_to(struct scene *s, const char *name, const char *value)
{
    OK(tb_book_begin(s->actor.book, "Ada Fell", "set", &err));
    OK(tb_setting_set(s->actor.book, name, value, &err));
    OK(tb_book_commit(s->actor.book, &err));
}

/* A lot whose verdict is due: it was undecided, and contradicts with the settings of today. */
static struct scene *scene_due(void)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_burn_outcome burnt;

    set_to(s, "contradicts_below", "0.001"); /* no ratio goes so far */
    burnt = burn_one(s, cut_one(s, "B1", TB_PART_WHOLE), AS_POLYESTER);
    assert_int_equal(burnt.judged.v.verdict.kind, TB_UNDECIDED);
    tb_rejudged_free(&burnt.judged);
    set_to(s, "contradicts_below", "0.05");
    return s;
}

static const char *confirming(struct scene *s)
{
    const char *out = NULL;

    OK(tb_lot_confirming(&out, s->actor.book, s->lot.id, &s->mem, &err));
    return out;
}

static struct tb_judge_all_outcome judge_all_meanwhile(struct scene *s, struct meanwhile *m)
{
    struct tb_judge_all_outcome out;

    meanwhile_let_go(m);
    OK(tb_act_judge_all(&out, &s->actor, &s->mem, &err));
    meanwhile_end(m);
    assert_int_equal(out.lots, 1);
    assert_int_equal(out.kind[scene_lot(s).verdict], 1);
    return out;
}

static void a_swatch_cut_meanwhile_takes_no_verdict_away(void **state)
{
    struct scene *s = scene_due();
    struct tb_swatch w = { .lot = s->lot.id, .lot_ref = s->lot.ref, .known = "", .part = TB_PART_WHOLE };
    struct tb_judge_all_outcome out;
    struct meanwhile m;
    struct tb_bolt bolt;

    (void)state;
    OK(tb_bolt_find(&bolt, s->actor.book, s->lot.id, "B2", &s->mem, &err));
    meanwhile_begin(&m, s, "cut", "W26-001.01.02");
    w.bolt = bolt.id;
    OK(tb_swatch_add(&w, m.book, &m.mem, &err));
    out = judge_all_meanwhile(s, &m);
    assert_int_equal(out.recorded, 1);
    assert_int_equal(out.held, 1);
    assert_string_equal(out.changed[0].confirm, confirming(s)); /* and the book says the same */
    assert_true(out.changed[0].confirm[0] != '\0');
    assert_int_equal(scene_lot(s).verdict, TB_CONTRADICTS);
    assert_int_equal(scene_lot(s).standing, TB_HELD);
    scene_free(s);
}

static void a_decision_made_meanwhile_takes_no_verdict_away_and_is_kept(void **state)
{
    struct scene *s = scene_due();
    struct tb_standing released = { .lot = s->lot.id, .standing = TB_RELEASED, .why = "it is needed" };
    struct tb_judge_all_outcome out;
    struct meanwhile m;

    (void)state;
    meanwhile_begin(&m, s, "settle", s->lot.ref);
    OK(tb_standing_add(&released, m.book, &m.mem, &err));
    out = judge_all_meanwhile(s, &m);
    assert_int_equal(out.recorded, 1);
    assert_int_equal(out.held, 0);
    assert_int_equal(out.kept, 1);
    assert_int_equal(scene_lot(s).verdict, TB_CONTRADICTS);
    assert_int_equal(scene_lot(s).standing, TB_RELEASED);
    scene_free(s);
}

static void words_declared_meanwhile_are_the_ones_that_are_judged(void **state)
{
    struct scene *s = scene_due();
    struct tb_judge_all_outcome out;
    struct meanwhile m;

    (void)state;
    meanwhile_begin(&m, s, "declare", s->lot.ref);
    OK(tb_declaration_add(m.book, s->lot.id, "100% polyester", TB_ORIGIN_ANSWER, scene_lot(s).declaration,
                          &err));
    out = judge_all_meanwhile(s, &m);
    assert_int_equal(out.held, 0);
    assert_int_not_equal(scene_lot(s).verdict, TB_CONTRADICTS);
    scene_free(s);
}

static void a_threshold_set_meanwhile_counts_for_every_lot(void **state)
{
    struct scene *s = scene_due();
    struct tb_judge_all_outcome out;
    struct meanwhile m;

    (void)state;
    meanwhile_begin(&m, s, "set", "contradicts_below");
    OK(tb_setting_set(m.book, "contradicts_below", "0.01", &err));
    out = judge_all_meanwhile(s, &m);
    assert_int_equal(out.recorded, 0);
    assert_int_equal(scene_lot(s).verdict, TB_UNDECIDED);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_swatch_cut_meanwhile_takes_no_verdict_away),
        cmocka_unit_test(a_decision_made_meanwhile_takes_no_verdict_away_and_is_kept),
        cmocka_unit_test(words_declared_meanwhile_are_the_ones_that_are_judged),
        cmocka_unit_test(a_threshold_set_meanwhile_counts_for_every_lot),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
