/* The act of a dispute: each step, each refusal, what it does to the lot, and that a refusal leaves nothing. */
#include "unit/act_helper.h"

#include "tenterbook/act_claim.h"

/* The scene's lot arrived on 2026-10-05; the tests stand on the 20th. */
static struct scene *on_the_twentieth(void)
{
    assert_int_equal(setenv("TENTERBOOK_CLOCK", "1792497600", 1), 0); /* date -u -d 2026-10-20T12:00Z +%s */
    return scene_make("100% cotton", 3);
}

#define STEP(...)                                                                                            \
    &(struct tb_dispute_request)                                                                             \
    {                                                                                                        \
        .lot = s->lot.ref, .step = {.amount = (double)NAN, __VA_ARGS__ }                                     \
    }
#define DISPUTE(request) tb_act_dispute(&out, &s->actor, request, &s->mem, &err)

static void opening_holds_a_lot_that_waits_and_says_what_is_next(void **state)
{
    struct scene *s = on_the_twentieth();
    struct tb_dispute_request r = *STEP(.step = TB_OPENED, .words = "not cotton", .currency = "EUR");
    struct tb_dispute_outcome out;
    struct tb_dispute *d;
    size_t n;
    int64_t head = scene_head(s);

    (void)state;
    r.step.amount = 480;
    r.found_on = "2026-10-06";
    OK(DISPUTE(&r));
    assert_int_equal(scene_head(s), head + 1);
    assert_true(out.held);
    assert_int_equal(out.now.lot.standing, TB_HELD);
    assert_int_equal(scene_lot(s).standing, TB_HELD);
    assert_string_equal(out.step.day, "2026-10-20");
    assert_int_equal(out.now.open.state, TB_CLAIM_TELL);
    assert_string_equal(out.now.claim.found_on, "2026-10-06");
    OK(tb_dispute_list(&d, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(d[0].step[0].words, "not cotton");
    assert_float_equal(d[0].step[0].amount, 480, 0);
    assert_string_equal(d[0].step[0].recorded_by, "Ada Fell");
    scene_free(s);
}

static void what_nobody_said_is_filled_in_by_the_site_and_the_longest_rule(void **state)
{
    struct scene *s = on_the_twentieth();
    struct tb_dispute_outcome out;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "set", &err));
    OK(tb_setting_set(s->actor.book, "answer_days", "10", &err));
    OK(tb_book_commit(s->actor.book, &err));
    OK(DISPUTE(STEP(.step = TB_OPENED, .words = "not cotton", .day = "2026-10-06")));
    OK(DISPUTE(STEP(.step = TB_NOTIFIED, .channel = "post", .proof = "RR1", .day = "2026-10-07")));
    assert_string_equal(out.step.due, "2026-10-17");
    assert_false(out.held);
    assert_int_equal(out.now.open.state, TB_CLAIM_ANSWER);
    assert_true(out.now.open.overdue);
    OK(DISPUTE(STEP(.step = TB_ANSWERED, .words = "we regret", .day = "2026-10-19")));
    OK(DISPUTE(STEP(.step = TB_AGREED, .remedy = TB_CREDIT, .due = "2026-11-30")));
    assert_int_equal(out.now.open.state, TB_CLAIM_DO);
    assert_string_equal(out.now.open.due, "2026-11-30");
    OK(DISPUTE(STEP(.step = TB_CLOSED, .words = "credit note 77")));
    /* six years for a site in Great Britain: the row of sql/reference/retention.csv */
    assert_string_equal(out.step.keep_until, "2032-10-20");
    assert_string_equal(out.kept_by.country, "GB");
    assert_null(out.now.claim.open);
    OK(DISPUTE(STEP(.step = TB_OPENED, .words = "once more")));
    OK(DISPUTE(STEP(.step = TB_CLOSED, .words = "an error", .keep_until = "2027-01-31")));
    assert_string_equal(out.step.keep_until, "2027-01-31");
    assert_null(out.kept_by.name);
    scene_free(s);
}

static void the_paper_itself_is_kept_with_the_step(void **state)
{
    struct scene *s = on_the_twentieth();
    struct tb_attachment paper = {
        .name = "notice.pdf", .media = "application/pdf", .bytes = "%PDF-1", .size = 6
    };
    struct tb_attachment *kept;
    struct tb_dispute_request r = *STEP(.step = TB_OPENED, .words = "not cotton");
    struct tb_dispute_outcome out;
    size_t n;

    (void)state;
    r.document = &paper;
    OK(DISPUTE(&r));
    assert_string_equal(out.now.claim.open->step[0].document_name, "notice.pdf");
    OK(tb_attachment_list(&kept, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(kept[0].id, out.step.document);
    scene_free(s);
}

static void opening_leaves_a_lot_alone_that_somebody_settled(void **state)
{
    struct scene *s = on_the_twentieth();
    struct tb_dispute_outcome out;
    struct tb_standing st = { .lot = s->lot.id, .standing = TB_RETURNED, .why = "sent back" };

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "settle", &err));
    OK(tb_standing_add(&st, s->actor.book, &s->mem, &err));
    OK(tb_book_commit(s->actor.book, &err));
    OK(DISPUTE(STEP(.step = TB_OPENED, .words = "not cotton")));
    assert_false(out.held);
    assert_int_equal(scene_lot(s).standing, TB_RETURNED);
    scene_free(s);
}

static void what_cannot_be_opened_is_refused_and_leaves_nothing(void **state)
{
    struct scene *s = on_the_twentieth();
    struct tb_attachment empty = { .name = "notice.pdf", .media = "application/pdf", .bytes = "", .size = 0 };
    struct tb_actor nobody = { s->actor.book, "" };
    struct tb_dispute_outcome out;
    struct tb_dispute_request r;

    (void)state;
#define NO(code, words, ...) REFUSED(s, DISPUTE(STEP(__VA_ARGS__)), code, words)
    NO(TB_EINVAL, "'' is not a step of a dispute", .words = "not cotton");
    NO(TB_EINVAL, "2026-10-21 is later than today, 2026-10-20", .step = TB_OPENED, .words = "x",
       .day = "2026-10-21");
    NO(TB_EINVAL, "opened on 2026-10-04, but the goods arrived on 2026-10-05", .step = TB_OPENED,
       .words = "x", .day = "2026-10-04");
    NO(TB_EINVAL, "say in words what is claimed", .step = TB_OPENED);
    NO(TB_EINVAL, "the currency EUR is named without an amount", .step = TB_OPENED, .words = "x",
       .currency = "EUR");
    NO(TB_EREFUSED, "no dispute about lot", .step = TB_NOTIFIED);
    NO(TB_EREFUSED, "no dispute about lot", .step = TB_CLOSED, .words = "x");
    REFUSED(s, tb_act_dispute(&out, &nobody, STEP(.step = TB_OPENED, .words = "x"), &s->mem, &err), TB_EINVAL,
            "say who is writing");
    r = *STEP(.step = TB_OPENED, .words = "x");
    r.step.amount = 480;
    REFUSED(s, DISPUTE(&r), TB_EINVAL, "an amount needs its money");
    r = *STEP(.step = TB_OPENED, .words = "x");
    r.lot = "W99-001.01";
    REFUSED(s, DISPUTE(&r), TB_ENOTFOUND, "W99-001.01");
    r = *STEP(.step = TB_OPENED, .words = "x");
    r.found_on = "2026-10-04";
    REFUSED(s, DISPUTE(&r), TB_EINVAL, "found on 2026-10-04, but the goods arrived on 2026-10-05");
    r.found_on = "2026-10-20";
    r.step.day = "2026-10-19";
    REFUSED(s, DISPUTE(&r), TB_EINVAL, "found on 2026-10-20, after the dispute was opened");
    r = *STEP(.step = TB_OPENED, .words = "x");
    r.document = &empty;
    REFUSED(s, DISPUTE(&r), TB_EINVAL, "notice.pdf is empty");
    assert_int_equal(scene_lot(s).standing, TB_WAITING);
    scene_free(s);
}

static void a_step_out_of_turn_is_refused_and_its_paper_is_not_kept(void **state)
{
    struct scene *s = on_the_twentieth();
    struct tb_attachment paper = {
        .name = "reply.pdf", .media = "application/pdf", .bytes = "%PDF-1", .size = 6
    };
    struct tb_attachment *kept;
    struct tb_dispute_request r;
    struct tb_dispute_outcome out;
    size_t n;

    (void)state;
    OK(DISPUTE(STEP(.step = TB_OPENED, .words = "not cotton")));
    NO(TB_EEXISTS, "a dispute is open since 2026-10-20", .step = TB_OPENED, .words = "again");
    NO(TB_EREFUSED, "the supplier was not told yet", .step = TB_ANSWERED, .words = "we regret");
    NO(TB_EINVAL, "names its remedy", .step = TB_AGREED);
    NO(TB_EREFUSED, "is before that", .step = TB_NOTIFIED, .day = "2026-10-19");
    NO(TB_EINVAL, "due on 2026-10-19, before the step itself", .step = TB_NOTIFIED, .due = "2026-10-19");
    r = *STEP(.step = TB_NOTIFIED);
    r.found_on = "2026-10-06";
    REFUSED(s, DISPUTE(&r), TB_EUSAGE, "is told when a dispute is opened");
    r = *STEP(.step = TB_ANSWERED, .words = "we regret");
    r.document = &paper;
    REFUSED(s, DISPUTE(&r), TB_EREFUSED, "the supplier was not told yet");
    OK(tb_attachment_list(&kept, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 0);
    scene_free(s);
}

static void opening_holds_a_lot_that_was_released(void **state)
{
    struct scene *s = on_the_twentieth();
    struct tb_standing released = { .lot = s->lot.id, .standing = TB_RELEASED, .why = "it fits" };
    struct tb_dispute_outcome out;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "settle", &err));
    OK(tb_standing_add(&released, s->actor.book, &s->mem, &err));
    OK(tb_book_commit(s->actor.book, &err));
    OK(DISPUTE(STEP(.step = TB_OPENED, .words = "not cotton", .day = "2026-10-06")));
    assert_true(out.held);
    assert_int_equal(scene_lot(s).standing, TB_HELD);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(opening_holds_a_lot_that_waits_and_says_what_is_next),
        cmocka_unit_test(what_nobody_said_is_filled_in_by_the_site_and_the_longest_rule),
        cmocka_unit_test(the_paper_itself_is_kept_with_the_step),
        cmocka_unit_test(opening_leaves_a_lot_alone_that_somebody_settled),
        cmocka_unit_test(what_cannot_be_opened_is_refused_and_leaves_nothing),
        cmocka_unit_test(a_step_out_of_turn_is_refused_and_its_paper_is_not_kept),
        cmocka_unit_test(opening_holds_a_lot_that_was_released),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
