/* The act of sending: what is recorded, which report answers it, what the month counts, each refusal, and what is void with it. */
#include "unit/act_helper.h"

#include "tenterbook/act_draw.h"
#include "tenterbook/act_lab.h"
#include "tenterbook/act_void.h"
#include "tenterbook/bench_day.h"
#include "tenterbook/month_rows.h"
#include "tenterbook/todo.h"

#define RING "Ring Street Laboratory"

/* The tag of a swatch of this bolt, cut at noon of a day. */
static const char *cut(struct scene *s, const char *bolt, const char *day)
{
    struct tb_cut_outcome out;
    const struct tb_cut_request r = { .bolt = bolt,
                                      .kept = "tin 4",
                                      .cut_at = tb_arena_printf(&s->mem, "%sT12:00:00Z", day) };

    OK(tb_act_cut(&out, &s->actor, &r, &s->mem, &err));
    return out.swatch.tag;
}

static tb_rc send(struct tb_send_outcome *out, struct scene *s, const char *laboratory, const char *tag,
                  const char *day)
{
    const struct tb_send_request r = {
        .lot = s->lot.ref, .laboratory = laboratory, .swatch = &tag, .swatches = 1, .sent_on = day
    };

    return tb_act_send(out, &s->actor, &r, &s->mem, &err);
}

static tb_rc report(struct scene *s, const char *laboratory, const char *day, bool anyway)
{
    struct tb_assay_request found;
    struct tb_assay_lot_request r = {
        .lot = s->lot.ref, .laboratory = laboratory, .analysed_on = day, .anyway = anyway, .assay = &found
    };
    struct tb_assay_lot_outcome out;
    tb_rc rc;

    tb_assay_request_init(&found);
    found.found = "100% cotton";
    found.figure[TB_ASSAY_UNCERTAINTY] = 0.5;
    rc = tb_act_assay(&out, &s->actor, &r, &s->mem, &err);
    tb_assay_lot_outcome_free(&out);
    return rc;
}

/* The day of the report that answers the sending `at`; NULL: none does. */
static const char *answered(struct scene *s, size_t at, size_t of)
{
    struct tb_sending *sent;
    size_t n;

    OK(tb_sending_list(&sent, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, of);
    return sent[at].answered;
}

/* What October's sheet says of laboratories. */
static struct tb_month_work october(struct scene *s)
{
    struct tb_month_source source;
    struct tb_month_book *m;
    struct tb_month_work work = { 0 };

    OK(tb_month_from_book(&m, &source, s->actor.book, "2026-10-01", "2026-11-01", &err));
    OK(source.work(&work, source.from, &err));
    tb_month_book_close(m);
    return work;
}

static struct tb_bench_day plan(struct scene *s)
{
    struct tb_bench_day day;

    OK(tb_bench_day_plan(&day, s->actor.book, &(struct tb_bench_day_request){ .hours = 4, .burn_minutes = 6 },
                         &s->mem, &err));
    return day;
}

static size_t waiting(struct scene *s)
{
    const struct tb_todo_request r = { .today = "2026-11-26" };
    struct tb_todo todo;

    OK(tb_todo_read(&todo, s->actor.book, &r, &s->mem, &err));
    return todo.of[TB_TODO_LABORATORY];
}

static void what_was_sent_waits_until_the_report_of_that_laboratory_comes(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_send_outcome out;
    struct tb_month_work work;

    (void)state;
    OK(send(&out, s, RING, cut(s, "B1", "2026-10-06"), "2026-10-07"));
    assert_string_equal(out.sending.laboratory, RING);
    assert_string_equal(out.sending.sent_on, "2026-10-07");
    assert_string_equal(out.sending.recorded_by, "Ada Fell");
    assert_int_equal(out.sending.pieces, 1);
    assert_null(out.sending.answered);
    assert_int_equal(waiting(s), 1);
    assert_int_equal(plan(s).n, 0); /* no burn decides what a laboratory is about to */
    assert_int_equal(plan(s).awaited, 1);
    work = october(s);
    assert_int_equal(work.unanswered, 1);
    assert_string_equal(work.oldest, "2026-10-07");
    assert_int_equal(work.answered, 0);
    /* one of another laboratory is no answer; its own sample was that of the cut */
    OK(report(s, "Weir Lane", "2026-10-10", false));
    assert_null(answered(s, 0, 1));
    assert_int_equal(october(s).unanswered, 1);
    /* written otherwise it is the same laboratory: from the 7th to the 19th 12 days, beside 4 of the other */
    OK(report(s, "ring  street LABORATORY", "2026-10-19", false));
    assert_string_equal(answered(s, 0, 1), "2026-10-19");
    assert_int_equal(waiting(s), 0);
    work = october(s);
    assert_int_equal(work.unanswered, 0);
    assert_int_equal(work.answered, 2);
    assert_int_equal(work.longest, 12);
    assert_float_equal(work.median, 8, 1e-12);
    scene_free(s);
}

static void a_report_answers_what_went_before_it_and_nothing_that_went_after(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    struct tb_send_outcome out;

    (void)state;
    OK(send(&out, s, RING, cut(s, "B1", "2026-10-06"), "2026-10-06"));
    OK(report(s, RING, "2026-10-09", false));
    OK(send(&out, s, "RING STREET LABORATORY", cut(s, "B2", "2026-10-08"), "2026-10-09"));
    assert_string_equal(out.sending.laboratory, RING); /* as it is written already */
    assert_string_equal(answered(s, 0, 2), "2026-10-09");
    assert_null(answered(s, 1, 2)); /* of the same day, and recorded after the report */
    assert_int_equal(october(s).unanswered, 1);
    /* typed up after its report came: it is answered at once */
    OK(send(&out, s, RING, cut(s, "B3", "2026-10-06"), "2026-10-08"));
    assert_string_equal(out.sending.answered, "2026-10-09");
    /* a report without a name answers whoever was asked */
    OK(report(s, NULL, "2026-10-20", false));
    assert_string_equal(answered(s, 2, 3), "2026-10-20");
    scene_free(s);
}

static void a_report_dated_before_its_sample_went_is_asked_about(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_send_outcome out;

    (void)state;
    OK(send(&out, s, RING, cut(s, "B1", "2026-10-08"), "2026-10-12"));
    REFUSED(s, report(s, RING, "2026-10-09", false), TB_EREFUSED,
            "analysed on 2026-10-09, but the sample of lot " /* its reference */);
    REFUSED(s, report(s, NULL, "2026-10-09", false), TB_EREFUSED, "went to " RING " on 2026-10-12");
    OK(report(s, RING, "2026-10-09", true));
    assert_null(answered(s, 0, 1));
    OK(report(s, "Weir Lane", "2026-10-09", false)); /* which had its own */
    scene_free(s);
}

static void nonsense_is_refused_and_leaves_nothing(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *tag = cut(s, "B1", "2026-10-06"), *twice[2] = { tag, tag }, *known;
    struct tb_send_request r = { .lot = s->lot.ref, .laboratory = RING };
    struct tb_cut_outcome cloth;
    struct tb_send_outcome out;

    (void)state;
    OK(tb_act_cut(&cloth, &s->actor, &(struct tb_cut_request){ .known = "100% wool" }, &s->mem, &err));
    known = cloth.swatch.tag;
    REFUSED(s, send(&out, s, "", tag, NULL), TB_EINVAL, "say which laboratory it went to");
    REFUSED(s, tb_act_send(&out, &s->actor, &r, &s->mem, &err), TB_EINVAL,
            "say which swatches went to " RING);
    r.swatch = twice;
    r.swatches = 2;
    REFUSED(s, tb_act_send(&out, &s->actor, &r, &s->mem, &err), TB_EINVAL, "is named twice");
    REFUSED(s, send(&out, s, RING, "W26-001.01.99", NULL), TB_ENOTFOUND, "there is no swatch W26-001.01.99");
    REFUSED(s, send(&out, s, RING, known, NULL), TB_EINVAL, "is not of lot");
    REFUSED(s, send(&out, s, RING, tag, "2026-10-05"), TB_EREFUSED, "was cut on 2026-10-06");
    REFUSED(s, send(&out, s, RING, tag, "2026-11-27"), TB_EINVAL, "later than today");
    REFUSED(s, send(&out, s, RING, tag, "2026-02-30"), TB_EINVAL, "2026-02-30");
    r.lot = "W26-009.01";
    REFUSED(s, tb_act_send(&out, &s->actor, &r, &s->mem, &err), TB_ENOTFOUND, "W26-009.01");
    OK(send(&out, s, RING, tag, "2026-10-07"));
    REFUSED(s, send(&out, s, "Weir Lane", tag, "2026-10-08"), TB_EREFUSED,
            "went to " RING " on 2026-10-07, and no report answers that yet");
    OK(report(s, RING, "2026-10-09", false));
    OK(send(&out, s, "Weir Lane", tag, "2026-10-12")); /* what is left of it */
    scene_free(s);
}

static void what_was_dealt_or_went_back_is_not_sent_unnoticed(void **state)
{
    struct scene *s = scene_make("100% cotton", 4);
    const char *tag[4];
    struct tb_send_request r = { .lot = s->lot.ref, .laboratory = RING, .swatch = &tag[3], .swatches = 1 };
    struct tb_share_outcome share;
    struct tb_settle_outcome settled = { 0 };
    struct tb_send_outcome out;

    (void)state;
    for (int i = 0; i < 3; i++)
        tag[i] = cut(s, "B1", "2026-10-06");
    OK(tb_act_share(&share, &s->actor, &(struct tb_share_request){ .lot = s->lot.ref }, &s->mem, &err));
    REFUSED(s, send(&out, s, RING, tag[0], NULL), TB_EREFUSED, "is in joint sample 1");
    tag[3] = cut(s, "B4", "2026-10-06");
    OK(tb_act_settle(
        &settled, &s->actor,
        &(struct tb_settle_request){ .lot = s->lot.ref, .as = TB_RETURNED, .why = "not as declared" },
        &s->mem, &err));
    tb_rejudged_free(&settled.judged);
    REFUSED(s, tb_act_send(&out, &s->actor, &r, &s->mem, &err), TB_EREFUSED,
            "was returned on 2026-11-26, and no dispute about it is open");
    r.anyway = true;
    OK(tb_act_send(&out, &s->actor, &r, &s->mem, &err));
    scene_free(s);
}

static tb_rc set_void(struct tb_void_outcome *out, struct scene *s, const char *name, bool knowing)
{
    const struct tb_void_request r = { .name = name, .why = "by mistake", .knowing = knowing };

    return tb_act_void(out, &s->actor, &r, &s->mem, &err);
}

static void a_sending_is_void_by_itself_or_with_its_last_swatch(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *tag[2] = { cut(s, "B1", "2026-10-06"), cut(s, "B2", "2026-10-06") };
    const struct tb_send_request both = {
        .lot = s->lot.ref, .laboratory = RING, .swatch = tag, .swatches = 2, .sent_on = "2026-10-07"
    };
    struct tb_send_outcome out;
    struct tb_void_outcome gone;

    (void)state;
    OK(tb_act_send(&out, &s->actor, &both, &s->mem, &err));
    assert_int_equal(plan(s).awaited, 1);
    OK(set_void(&gone, s, out.sending.id, false));
    assert_int_equal(plan(s).awaited, 0);
    assert_int_equal(plan(s).n, 1);
    assert_int_equal(waiting(s), 0);
    assert_int_equal(october(s).unanswered, 0);
    REFUSED(s, set_void(&gone, s, out.sending.id, false), TB_EREFUSED, "is void already");
    OK(tb_act_void_back(&gone, &s->actor,
                        &(struct tb_void_request){ .name = out.sending.id, .why = "it went" }, &s->mem,
                        &err));
    assert_int_equal(october(s).unanswered, 1);
    REFUSED(s, set_void(&gone, s, tag[0], false), TB_EREFUSED, "hangs what would not count any more either");
    OK(set_void(&gone, s, tag[0], true));
    assert_int_equal(gone.hanging.sendings, 1);
    assert_null(answered(s, 0, 1)); /* of the other swatch it still counts */
    assert_int_equal(october(s).unanswered, 1);
    OK(set_void(&gone, s, tag[1], true));
    assert_int_equal(october(s).unanswered, 0);
    assert_int_equal(waiting(s), 0);
    scene_free(s);
}

static void a_joint_sample_is_not_answered_by_the_report_on_what_went_elsewhere(void **state)
{
    struct scene *s = scene_make("100% cotton", 4);
    struct tb_share_outcome share;
    struct tb_send_outcome out;

    (void)state;
    for (int i = 0; i < 3; i++)
        (void)cut(s, "B1", "2026-10-06");
    OK(tb_act_share(&share, &s->actor,
                    &(struct tb_share_request){ .lot = s->lot.ref, .laboratory = "Both Sides Laboratory" },
                    &s->mem, &err));
    OK(send(&out, s, RING, cut(s, "B4", "2026-10-06"), "2026-11-20"));
    assert_int_equal(waiting(s), 2);
    OK(report(s, RING, "2026-11-26", false));
    assert_int_equal(waiting(s), 1);
    OK(report(s, "Both Sides Laboratory", "2026-11-26", false));
    assert_int_equal(waiting(s), 0);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_was_sent_waits_until_the_report_of_that_laboratory_comes),
        cmocka_unit_test(a_report_answers_what_went_before_it_and_nothing_that_went_after),
        cmocka_unit_test(a_report_dated_before_its_sample_went_is_asked_about),
        cmocka_unit_test(nonsense_is_refused_and_leaves_nothing),
        cmocka_unit_test(what_was_dealt_or_went_back_is_not_sent_unnoticed),
        cmocka_unit_test(a_sending_is_void_by_itself_or_with_its_last_swatch),
        cmocka_unit_test(a_joint_sample_is_not_answered_by_the_report_on_what_went_elsewhere),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
