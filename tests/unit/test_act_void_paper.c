/* Void of what was on paper: a laboratory's report of another lot, a step of a dispute recorded by mistake. */
#include "unit/act_helper.h"

#include "tenterbook/act_claim.h"
#include "tenterbook/act_void.h"
#include "tenterbook/lot_story.h"
#include "tenterbook/todo.h"

static struct tb_lot_story story_of(struct scene *s)
{
    struct tb_lot_story story;

    OK(tb_lot_story_read(&story, s->actor.book, s->lot.ref, "2026-11-26", &s->mem, &err));
    return story;
}

static struct tb_void_outcome void_it(struct scene *s, const char *id)
{
    struct tb_void_outcome out;

    OK(tb_act_void(&out, &s->actor, &(struct tb_void_request){ .name = id, .why = "of another lot" }, &s->mem,
                   &err));
    return out;
}

static void refuse_to(struct scene *s, const char *id, tb_rc code, const char *words)
{
    struct tb_void_outcome out;

    REFUSED(
        s,
        tb_act_void(&out, &s->actor, &(struct tb_void_request){ .name = id, .why = "slip" }, &s->mem, &err),
        code, words);
}

static tb_rc back(struct scene *s, const char *id)
{
    struct tb_void_outcome out;

    return tb_act_void_back(&out, &s->actor, &(struct tb_void_request){ .name = id, .why = "it was right" },
                            &s->mem, &err);
}

static tb_rc step(struct scene *s, enum tb_step_kind kind, double amount)
{
    struct tb_dispute_outcome out;

    return tb_act_dispute(&out, &s->actor,
                          &(struct tb_dispute_request){ .lot = s->lot.ref,
                                                        .step = { .step = kind,
                                                                  .words = "not cotton",
                                                                  .amount = amount,
                                                                  .currency = isnan(amount) ? "" : "EUR" } },
                          &s->mem, &err);
}

static void a_report_of_another_lot_counts_nowhere_and_stays_on_the_page(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_lot_story was = story_of(s), now;
    struct tb_void_outcome out;
    const char *id;

    (void)state;
    scene_answer(s, s->lot.ref, false);
    now = story_of(s);
    assert_int_equal(now.concluded.kind, TB_DOES_NOT);
    assert_string_equal(now.claim.found_by, "analysis");
    id = now.analysis[0].id;
    out = void_it(s, id);
    assert_int_equal(out.lot.concluded.kind, was.concluded.kind);
    now = story_of(s);
    assert_int_equal(now.concluded.kind, was.concluded.kind);
    assert_null(now.claim.found_on);
    assert_int_equal(now.analyses, 0);
    assert_int_equal(now.gone.analyses, 1);
    assert_string_equal(now.gone.voiding[0].why, "of another lot");
    refuse_to(s, id, TB_EREFUSED, "is void already");
    OK(back(s, id));
    now = story_of(s);
    assert_int_equal(now.concluded.kind, TB_DOES_NOT);
    assert_int_equal(now.gone.analyses, 0);
    assert_int_equal(back(s, id), TB_ENOTFOUND);
    scene_is_unchanged(s, scene_head(s));
    scene_free(s);
}

static void a_void_report_lets_the_one_it_corrected_count_again(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_lot_story now;
    struct tb_analysis a;
    const char *first;

    (void)state;
    scene_answer(s, s->lot.ref, true);
    now = story_of(s);
    a = now.analysis[0];
    first = a.id;
    a.answers = "eu:does_not_conform";
    a.replaces = first;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "assay", &err));
    OK(tb_analysis_add(&a, s->actor.book, &s->mem, &err));
    OK(tb_book_commit(s->actor.book, &err));
    assert_int_equal(story_of(s).concluded.kind, TB_DOES_NOT);
    refuse_to(s, first, TB_EREFUSED, "was corrected: void the record in its place");
    (void)void_it(s, a.id);
    now = story_of(s);
    assert_int_equal(now.concluded.kind, TB_CONFORMS);
    assert_int_equal(now.analyses, 1);
    assert_string_equal(now.analysis[0].id, first);
    assert_int_equal(now.analyses_before, 0);
    assert_int_equal(back(s, a.id), TB_EREFUSED); /* another one counts since: corrected anew */
    scene_free(s);
}

/* A decision that a report which is void since could stand behind is asked about, until it is decided again. */
static void a_decision_after_a_report_that_is_void_since_is_named(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_settle_outcome settled;
    struct tb_settle_request r = { .lot = s->lot.ref, .as = TB_RETURNED, .why = "the report" };
    struct tb_todo_row row;

    (void)state;
    scene_answer(s, s->lot.ref, false);
    OK(tb_act_settle(&settled, &s->actor, &r, &s->mem, &err));
    assert_int_equal(tb_ground_gone(&row, s->actor.book, s->lot.ref, &s->mem, &err), TB_ENOTFOUND);
    (void)void_it(s, story_of(s).analysis[0].id);
    OK(tb_ground_gone(&row, s->actor.book, s->lot.ref, &s->mem, &err));
    assert_string_equal(row.what, "returned");
    r.as = TB_WAITING;
    r.why = "no report is of it";
    OK(tb_act_settle(&settled, &s->actor, &r, &s->mem, &err));
    assert_int_equal(tb_ground_gone(&row, s->actor.book, s->lot.ref, &s->mem, &err), TB_ENOTFOUND);
    scene_free(s);
}

/* One step after the other, so that the dispute that is left is one that could have been. */
static void a_dispute_is_taken_back_step_by_step_from_its_end(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_lot_story now;
    const char *opened, *told, *answered;

    (void)state;
    OK(step(s, TB_OPENED, 400));
    OK(step(s, TB_NOTIFIED, (double)NAN));
    OK(step(s, TB_ANSWERED, (double)NAN));
    now = story_of(s);
    opened = now.claim.open->step[0].id;
    told = now.claim.open->step[1].id;
    answered = now.claim.open->step[2].id;
    assert_int_equal(now.lot.standing, TB_HELD);
    refuse_to(s, told, TB_EREFUSED, "void the later steps first");
    (void)void_it(s, answered);
    now = story_of(s);
    assert_int_equal(now.claim.open->steps, 2);
    assert_non_null(now.claim.notified);
    (void)void_it(s, told);
    assert_null(story_of(s).claim.notified);
    assert_int_equal(back(s, answered), TB_EREFUSED); /* nobody was told: there was no answer */
    OK(back(s, told));
    OK(back(s, answered));
    (void)void_it(s, answered);
    (void)void_it(s, told);
    assert_true(void_it(s, opened).lot.undisputed);
    now = story_of(s);
    assert_int_equal(now.claim.disputes, 0);
    assert_int_equal(now.lot.standing, TB_WAITING);
    assert_int_equal(now.gone.steps, 3);
    scene_is_unchanged(s, scene_head(s));
    scene_free(s);
}

static void a_step_that_the_dispute_went_on_without_does_not_come_back(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *opened;

    (void)state;
    OK(step(s, TB_OPENED, 400));
    opened = story_of(s).claim.open->step[0].id;
    (void)void_it(s, opened);
    OK(step(s, TB_OPENED, 500)); /* a dispute that is void stands in the way of none */
    assert_int_equal(back(s, opened), TB_EREFUSED);
    assert_non_null(strstr(err.msg, "went on without it"));
    assert_int_equal(story_of(s).claim.disputes, 1);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_decision_after_a_report_that_is_void_since_is_named),
        cmocka_unit_test(a_report_of_another_lot_counts_nowhere_and_stays_on_the_page),
        cmocka_unit_test(a_void_report_lets_the_one_it_corrected_count_again),
        cmocka_unit_test(a_dispute_is_taken_back_step_by_step_from_its_end),
        cmocka_unit_test(a_step_that_the_dispute_went_on_without_does_not_come_back),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
