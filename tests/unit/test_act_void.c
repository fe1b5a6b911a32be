/* The act of taking back what was recorded by mistake: what it leaves, each refusal. */
#include "unit/bench_helper.h"

#include "tenterbook/act_claim.h"
#include "tenterbook/act_draw.h"
#include "tenterbook/act_void.h"

static struct tb_void_outcome void_it(struct scene *s, const char *name)
{
    struct tb_void_outcome out;

    OK(tb_act_void(&out, &s->actor,
                   &(struct tb_void_request){ .name = name, .why = "by mistake", .knowing = true }, &s->mem,
                   &err));
    assert_true(out.lot.ahead == out.lot.judged.judged); /* nobody waits while it is weighed */
    return out;
}

static void refuse_to(struct scene *s, const char *name, tb_rc code, const char *words)
{
    struct tb_void_outcome out;

    REFUSED(s,
            tb_act_void(&out, &s->actor,
                        &(struct tb_void_request){ .name = name, .why = "by mistake", .knowing = true },
                        &s->mem, &err),
            code, words);
}

static const char *burn_as(struct scene *s, const char *bolt, const char *cues)
{
    struct tb_burn_outcome burnt = burn_one(s, cut_one(s, bolt, TB_PART_WHOLE), cues);

    tb_rejudged_free(&burnt.judged);
    return burnt.burn.id;
}

static void a_void_burn_counts_nowhere_and_its_hold_is_lifted(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    struct tb_void_outcome out;
    struct tb_judged *judged;
    struct tb_lot lot;
    const char *wrong;
    size_t n;

    (void)state;
    (void)burn_as(s, "B1", AS_COTTON);
    lot = scene_lot(s);
    wrong = burn_as(s, "B2", AS_POLYESTER);
    assert_int_equal(scene_lot(s).standing, TB_HELD);
    out = void_it(s, wrong);
    assert_true(out.lot.judged.lifted && !out.lot.judged.disputed && out.lot.judged.judged);
    assert_int_equal(out.lot.judged.v.verdict.kind, TB_FITS);
    assert_false(out.lot.judged.recorded); /* the verdict before the wrong burn is in force again */
    assert_int_equal(scene_lot(s).standing, TB_WAITING);
    assert_int_equal(scene_lot(s).verdict, TB_FITS);
    assert_true(scene_lot(s).log_ratio == lot.log_ratio);
    assert_int_equal(scene_lot(s).bolts_burnt, 1);
    OK(tb_judged_list(&judged, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 2);
    assert_int_equal(judged[0].gone, 0);
    assert_int_equal(judged[1].gone, scene_head(s));
    tb_rejudged_free(&out.lot.judged);
    scene_free(s);
}

static void a_lot_of_which_nothing_is_left_is_not_judged(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_void_outcome out = void_it(s, burn_as(s, "B1", AS_POLYESTER));

    (void)state;
    assert_true(out.lot.judged.lifted && !out.lot.judged.judged);
    assert_int_equal(scene_lot(s).verdict, TB_UNJUDGED);
    assert_int_equal(scene_lot(s).standing, TB_WAITING);
    scene_free(s);
}

static void a_hold_that_what_is_left_makes_stays(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    const char *wrong = burn_as(s, "B1", AS_COTTON);
    struct tb_void_outcome out;

    (void)state;
    (void)burn_as(s, "B2", AS_POLYESTER);
    out = void_it(s, wrong);
    assert_true(!out.lot.judged.lifted && out.lot.judged.held && out.lot.judged.recorded);
    assert_int_equal(scene_lot(s).standing, TB_HELD);
    tb_rejudged_free(&out.lot.judged);
    scene_free(s);
}

static void what_a_person_decided_stays(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *wrong = burn_as(s, "B1", AS_POLYESTER);
    struct tb_settle_outcome settled;
    struct tb_void_outcome out;

    (void)state;
    OK(tb_act_settle(&settled, &s->actor,
                     &(struct tb_settle_request){ .lot = s->lot.ref, .as = TB_RETURNED, .why = "slip" },
                     &s->mem, &err));
    out = void_it(s, wrong);
    assert_false(out.lot.judged.lifted);
    assert_int_equal(scene_lot(s).standing, TB_RETURNED);
    scene_free(s);
}

static void a_lot_in_dispute_stays_held_without_its_verdict(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *wrong = burn_as(s, "B1", AS_POLYESTER);
    struct tb_dispute_outcome opened;
    struct tb_void_outcome out;

    (void)state;
    OK(tb_act_dispute(
        &opened, &s->actor,
        &(struct tb_dispute_request){
            .lot = s->lot.ref, .step = { .step = TB_OPENED, .words = "not cotton", .amount = (double)NAN } },
        &s->mem, &err));
    assert_false(opened.held); /* it was held already */
    out = void_it(s, wrong);
    assert_true(out.lot.judged.disputed && !out.lot.judged.lifted);
    assert_int_equal(scene_lot(s).standing, TB_HELD);
    refuse_to(s, s->delivery.ref, TB_EREFUSED, "a dispute about");
    out = void_it(s, opened.step.id); /* there never was one: nothing holds the lot */
    assert_int_equal(scene_lot(s).standing, TB_WAITING);
    assert_true(out.lot.undisputed);
    scene_free(s);
}

static void a_corrected_burn_counts_nowhere_and_its_hold_is_lifted(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE);
    struct tb_observation seen = { 0 };
    struct tb_burn_outcome wrong, right;
    struct tb_burn_request again = { .swatch = tag, .seen = &seen, .sample_mm = (double)NAN };
    struct tb_void_outcome out;
    struct tb_discovery found;
    struct tb_settled last;

    (void)state;
    seen = seen_as(AS_POLYESTER);
    again.flame = "candle";
    again.burned_at = "2026-11-26T12:00:00Z";
    OK(tb_act_burn(&wrong, &s->actor, &again, &s->mem, &err));
    assert_true(wrong.judged.held && !wrong.judged.lifted);
    seen = seen_as(AS_COTTON);
    again = (struct tb_burn_request){
        .swatch = tag, .seen = &seen, .sample_mm = (double)NAN, .corrects = wrong.burn.id
    };
    OK(tb_act_burn(&right, &s->actor, &again, &s->mem, &err));
    assert_true(right.judged.lifted && !right.judged.held && !right.judged.disputed);
    assert_string_equal(right.burn.flame, "candle"); /* a correction begins with the record */
    assert_string_equal(right.burn.burned_at, wrong.burn.burned_at);
    assert_int_equal(scene_lot(s).standing, TB_WAITING);
    assert_int_equal(scene_lot(s).verdict, TB_FITS);
    assert_int_equal(tb_settled_latest(&last, s->actor.book, s->lot.id, &s->mem, &err), TB_ENOTFOUND);
    OK(tb_lot_discovered(&found, s->actor.book, s->lot.id, &s->mem, &err));
    assert_null(found.day);
    out = void_it(s, right.burn.id); /* the slip counts again, with its verdict and its hold */
    assert_int_equal(scene_lot(s).standing, TB_HELD);
    assert_int_equal(scene_lot(s).verdict, TB_CONTRADICTS);
    tb_rejudged_free(&wrong.judged);
    tb_rejudged_free(&right.judged);
    tb_rejudged_free(&out.lot.judged);
    scene_free(s);
}

static void a_void_correction_lets_what_it_corrected_count_again(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE);
    struct tb_burn_outcome first = burn_one(s, tag, AS_COTTON), second;
    struct tb_observation seen = seen_as(AS_POLYESTER);
    struct tb_burn_request again = {
        .swatch = tag, .seen = &seen, .sample_mm = (double)NAN, .corrects = first.burn.id
    };
    struct tb_void_outcome out;
    struct tb_burn *list;
    size_t n;

    (void)state;
    OK(tb_act_burn(&second, &s->actor, &again, &s->mem, &err));
    refuse_to(s, first.burn.id, TB_EREFUSED, second.burn.id);
    out = void_it(s, second.burn.id);
    assert_string_equal(out.subject.replaces, first.burn.id);
    OK(tb_burn_list(&list, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(list[0].id, first.burn.id);
    assert_int_equal(scene_lot(s).verdict, TB_FITS);
    again.corrects = second.burn.id;
    tb_rejudged_free(&second.judged);
    REFUSED(s, tb_act_burn(&second, &s->actor, &again, &s->mem, &err), TB_EINVAL, "is void");
    again.corrects = first.burn.id; /* and can be corrected once more */
    OK(tb_act_burn(&second, &s->actor, &again, &s->mem, &err));
    assert_int_equal(scene_lot(s).verdict, TB_CONTRADICTS);
    tb_rejudged_free(&first.judged);
    tb_rejudged_free(&second.judged);
    tb_rejudged_free(&out.lot.judged);
    scene_free(s);
}

static void a_void_swatch_takes_its_burns_and_tests_with_it(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE);
    struct tb_burn_outcome burnt = burn_one(s, tag, AS_POLYESTER);
    struct tb_void_outcome out;
    struct tb_try_outcome tried;
    struct tb_swatch swatch;
    struct tb_try_request try = { .swatch = tag, .test = "acetone", .result = "stays" };

    (void)state;
    OK(tb_act_try(&tried, &s->actor, &try, &s->mem, &err));
    REFUSED(
        s,
        tb_act_void(&out, &s->actor, &(struct tb_void_request){ .name = tag, .why = "slip" }, &s->mem, &err),
        TB_EREFUSED, "say that this is known");
    out = void_it(s, tag);
    assert_int_equal(out.hanging.burns, 1);
    assert_int_equal(out.hanging.tests, 1);
    assert_int_equal(scene_lot(s).bolts_tested, 0);
    assert_int_equal(tb_swatch_find(&swatch, s->actor.book, tag, &s->mem, &err), TB_EREFUSED);
    tb_rejudged_free(&tried.judged);
    REFUSED(s, tb_act_try(&tried, &s->actor, &try, &s->mem, &err), TB_EREFUSED,
            "is void: Ada Fell voided it");
    refuse_to(s, burnt.burn.id, TB_EREFUSED, "is void already");
    assert_string_not_equal(cut_one(s, "B1", TB_PART_WHOLE), tag); /* a tag is given once */
    tb_rejudged_free(&burnt.judged);
    scene_free(s);
}

/* Whoever takes back a lot or a delivery is told what else ends with it, as whoever takes back a burn is. */
static void the_hold_of_a_lot_hangs_on_the_lot_and_its_delivery(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_void_outcome out;
    struct tb_lot other;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    scene_add_lot(s, &other, 2, "100% silk", 2, "C");
    OK(tb_book_commit(s->actor.book, &err));
    (void)burn_as(s, "B1", AS_POLYESTER);
    for (size_t i = 0; i < 3; i++) {
        const char *const name[] = { s->lot.ref, s->delivery.ref, other.ref };

        OK(tb_void_look(&out, s->actor.book, &(struct tb_void_request){ .name = name[i] }, &s->mem, &err));
        assert_int_equal(out.hanging.holds, i < 2);
    }
    scene_free(s);
}

static void a_void_bolt_is_no_bolt_of_its_lot(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    struct tb_void_outcome out;
    struct tb_cut_outcome cut;
    struct tb_bolt *bolt;
    size_t n;

    (void)state;
    (void)burn_as(s, "B2", AS_POLYESTER);
    out = void_it(s, "B2");
    assert_int_equal(out.hanging.swatches, 1);
    assert_int_equal(scene_lot(s).bolts, 2);
    assert_true(scene_lot(s).metres == 100);
    assert_int_equal(scene_lot(s).verdict, TB_UNJUDGED);
    OK(tb_bolt_list(&bolt, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 2);
    REFUSED(s,
            tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .bolt = "B2", .lot = s->lot.ref }, &s->mem,
                       &err),
            TB_EREFUSED, "bolt B2 is void: Ada Fell voided it");
    (void)void_it(s, "B1");
    refuse_to(s, "B3", TB_EREFUSED, "is the only one of lot");
    scene_free(s);
}

static void a_void_lot_is_in_no_list_and_takes_no_act(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_lot other, lot;
    struct tb_rejudged judged;
    struct tb_draw_outcome drawn;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    scene_add_lot(s, &other, 2, "100% silk", 2, "C");
    OK(tb_book_commit(s->actor.book, &err));
    (void)burn_as(s, "C1", AS_COTTON);
    (void)void_it(s, other.ref);
    assert_int_equal(tb_lot_find(&lot, s->actor.book, other.ref, &s->mem, &err), TB_EREFUSED);
    OK(tb_lot_ever(&lot, s->actor.book, other.ref, &s->mem, &err));
    assert_true(lot.voided);
    assert_int_equal(lot.bolts_burnt, 0);
    REFUSED(s, tb_act_judge(&judged, &s->actor, other.ref, 0, &s->mem, &err), TB_EREFUSED, "is void");
    REFUSED(s,
            tb_act_draw(&drawn, &s->actor,
                        &(struct tb_draw_request){ .name = (const char *[]){ other.ref }, .names = 1 },
                        &s->mem, &err),
            TB_EREFUSED, "is void");
    refuse_to(s, s->lot.ref, TB_EREFUSED, "void the delivery");
    refuse_to(s, other.ref, TB_EREFUSED, "is void");
    scene_free(s);
}

static void a_void_delivery_takes_each_of_its_lots_with_it(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_voiding *list;
    struct tb_delivery d;
    size_t n;

    (void)state;
    (void)burn_as(s, "B1", AS_POLYESTER);
    (void)void_it(s, s->delivery.ref);
    assert_int_equal(tb_delivery_find(&d, s->actor.book, s->delivery.ref, &s->mem, &err), TB_EREFUSED);
    OK(tb_voiding_list(&list, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(list[0].about, "lot");
    assert_string_equal(list[0].why, "by mistake");
    assert_string_equal(list[0].voided_by, "Ada Fell");
    scene_is_unchanged(s, scene_head(s)); /* it proves */
    scene_free(s);
}

static void what_nobody_recorded_or_gives_no_reason_for_is_refused(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_void_outcome out;

    (void)state;
    refuse_to(s, "nothing", TB_ENOTFOUND,
              "there is no delivery, lot, bolt, swatch, burn, test, analysis or sending nothing");
    REFUSED(
        s, tb_act_void(&out, &s->actor, &(struct tb_void_request){ .name = "B1", .why = " " }, &s->mem, &err),
        TB_EINVAL, "say why");
    REFUSED(s,
            tb_act_void(&out, &s->actor,
                        &(struct tb_void_request){ .name = "B9", .lot = s->lot.ref, .why = "slip" }, &s->mem,
                        &err),
            TB_ENOTFOUND, "has no bolt B9");
    scene_free(s);
}

static void a_bolt_that_several_lots_have_needs_its_lot(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_void_outcome out;
    struct tb_lot other;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    scene_add_lot(s, &other, 2, "100% silk", 2, "B");
    OK(tb_book_commit(s->actor.book, &err));
    refuse_to(s, "B1", TB_EINVAL, "in several lots");
    OK(tb_act_void(&out, &s->actor,
                   &(struct tb_void_request){ .name = "B1", .lot = other.ref, .why = "slip" }, &s->mem,
                   &err));
    assert_string_equal(out.subject.lot_ref, other.ref);
    assert_int_equal(scene_lot(s).bolts, 2);
    scene_free(s);
}

static void a_verdict_is_computed_again_as_it_was_before_a_record_was_void(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *wrong = burn_as(s, "B1", AS_POLYESTER);
    int64_t then = scene_head(s);
    struct tb_rejudged again;
    struct tb_void_outcome out = void_it(s, wrong);

    (void)state;
    OK(tb_judge_as_of(&again, s->actor.book, s->lot.ref, then, &s->mem, &err));
    assert_int_equal(again.v.verdict.kind, TB_CONTRADICTS);
    tb_rejudged_free(&again);
    assert_int_equal(tb_judge_as_of(&again, s->actor.book, s->lot.ref, scene_head(s), &s->mem, &err),
                     TB_ENOTFOUND);
    tb_rejudged_free(&out.lot.judged);
    scene_free(s);
}

static struct tb_void_outcome back(struct scene *s, const char *name)
{
    struct tb_void_outcome out;

    OK(tb_act_void_back(&out, &s->actor, &(struct tb_void_request){ .name = name, .why = "it was right" },
                        &s->mem, &err));
    return out;
}

static void what_was_voided_by_mistake_counts_again_with_its_hold(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *burn = burn_as(s, "B1", AS_POLYESTER);
    struct tb_lot before = scene_lot(s), after;
    struct tb_void_outcome out;
    struct tb_voiding *list;
    size_t n;

    (void)state;
    (void)void_it(s, burn);
    assert_int_equal(scene_lot(s).standing, TB_WAITING);
    out = back(s, burn);
    after = scene_lot(s);
    assert_int_equal(after.standing, TB_HELD);
    assert_int_equal(after.verdict, before.verdict);
    assert_true(after.log_ratio == before.log_ratio);
    assert_int_equal(after.burns, 1);
    OK(tb_voiding_list(&list, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(list[0].back_why, "it was right");
    tb_rejudged_free(&out.lot.judged);
    (void)void_it(s, burn); /* and may be void once more */
    assert_int_equal(scene_lot(s).burns, 0);
    scene_is_unchanged(s, scene_head(s)); /* it proves */
    scene_free(s);
}

static void a_delivery_comes_back_with_its_lots_and_no_lot_without_it(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_void_outcome out;
    struct tb_lot other;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    scene_add_lot(s, &other, 2, "100% silk", 2, "C");
    OK(tb_book_commit(s->actor.book, &err));
    (void)void_it(s, s->lot.ref); /* apart, and before */
    (void)void_it(s, s->delivery.ref);
    REFUSED(s,
            tb_act_void_back(&out, &s->actor, &(struct tb_void_request){ .name = other.ref, .why = "slip" },
                             &s->mem, &err),
            TB_EREFUSED, "is void");
    (void)back(s, s->delivery.ref);
    OK(tb_lot_find(&other, s->actor.book, other.ref, &s->mem, &err));
    assert_int_equal(tb_lot_find(&other, s->actor.book, s->lot.ref, &s->mem, &err), TB_EREFUSED);
    (void)back(s, s->lot.ref);
    assert_int_equal(scene_lot(s).bolts, 2);
    scene_free(s);
}

static void what_cannot_come_back_is_refused(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE), *burn;
    struct tb_burn_outcome first = burn_one(s, tag, AS_COTTON), second;
    struct tb_observation seen = seen_as(AS_POLYESTER);
    struct tb_void_outcome out;

    (void)state;
#define BACK(code, words, ...)                                                                               \
    REFUSED(s, tb_act_void_back(&out, &s->actor, &(struct tb_void_request){ __VA_ARGS__ }, &s->mem, &err),   \
            code, words)
    BACK(TB_ENOTFOUND, "nothing that is void", .name = tag, .why = "slip");
    BACK(TB_EINVAL, "say why", .name = tag);
    OK(tb_act_burn(&second, &s->actor,
                   &(struct tb_burn_request){
                       .swatch = tag, .seen = &seen, .sample_mm = (double)NAN, .corrects = first.burn.id },
                   &s->mem, &err));
    out = void_it(s, second.burn.id);
    tb_rejudged_free(&out.lot.judged);
    BACK(TB_EREFUSED, "correct that one anew", .name = second.burn.id, .why = "slip");
    burn = first.burn.id;
    (void)void_it(s, burn);
    (void)void_it(s, tag);
    BACK(TB_EREFUSED, "is void too", .name = burn, .why = "slip");
    (void)back(s, tag);
    out = back(s, burn);
    assert_int_equal(scene_lot(s).burns, 1);
    tb_rejudged_free(&out.lot.judged);
    tb_rejudged_free(&first.judged);
    tb_rejudged_free(&second.judged);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_void_burn_counts_nowhere_and_its_hold_is_lifted),
        cmocka_unit_test(a_lot_of_which_nothing_is_left_is_not_judged),
        cmocka_unit_test(a_hold_that_what_is_left_makes_stays),
        cmocka_unit_test(what_a_person_decided_stays),
        cmocka_unit_test(a_lot_in_dispute_stays_held_without_its_verdict),
        cmocka_unit_test(a_corrected_burn_counts_nowhere_and_its_hold_is_lifted),
        cmocka_unit_test(a_void_correction_lets_what_it_corrected_count_again),
        cmocka_unit_test(a_void_swatch_takes_its_burns_and_tests_with_it),
        cmocka_unit_test(a_void_bolt_is_no_bolt_of_its_lot),
        cmocka_unit_test(a_void_lot_is_in_no_list_and_takes_no_act),
        cmocka_unit_test(a_void_delivery_takes_each_of_its_lots_with_it),
        cmocka_unit_test(what_nobody_recorded_or_gives_no_reason_for_is_refused),
        cmocka_unit_test(the_hold_of_a_lot_hangs_on_the_lot_and_its_delivery),
        cmocka_unit_test(a_bolt_that_several_lots_have_needs_its_lot),
        cmocka_unit_test(what_was_voided_by_mistake_counts_again_with_its_hold),
        cmocka_unit_test(a_delivery_comes_back_with_its_lots_and_no_lot_without_it),
        cmocka_unit_test(what_cannot_come_back_is_refused),
        cmocka_unit_test(a_verdict_is_computed_again_as_it_was_before_a_record_was_void),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
