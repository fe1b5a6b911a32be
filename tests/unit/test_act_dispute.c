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

/* --- money that a slip of the hand makes wrong; the lot is 150 m at 4 EUR, 600 EUR ----------------------------------- */

#define MONEY(kind, much, money)                                                                             \
    &(struct tb_dispute_request)                                                                             \
    {                                                                                                        \
        .lot = s->lot.ref, .step = {                                                                         \
            .step = (kind),                                                                                  \
            .amount = (much),                                                                                \
            .currency = (money),                                                                             \
            .remedy = (kind) == TB_AGREED ? TB_CREDIT : TB_REMEDY_NONE,                                      \
            .words = "so it is written"                                                                      \
        }                                                                                                    \
    }

static void a_claim_far_above_the_invoice_is_asked_about(void **state)
{
    struct scene *s = on_the_twentieth();
    struct tb_dispute_request far = *MONEY(TB_OPENED, 1200.01, "EUR");
    struct tb_dispute_outcome out;

    (void)state;
    REFUSED(s, DISPUTE(&far), TB_EREFUSED, "1200.01 EUR, but all of lot W26-001.01 was invoiced at 600.00");
    assert_string_equal(err.about, "amount anyway");
    far.anyway = true;
    OK(DISPUTE(&far));
    scene_free(s);
}

/* Lost profit, cutting and freight are claimed besides; other money is compared with nothing. */
static void twice_the_invoice_or_other_money_is_claimed_without_a_question(void **state)
{
    struct scene *s = on_the_twentieth();
    struct tb_dispute_outcome out;

    (void)state;
    OK(DISPUTE(MONEY(TB_OPENED, 1200, "EUR")));
    scene_free(s);
    s = on_the_twentieth();
    OK(DISPUTE(MONEY(TB_OPENED, 99999, "JPY")));
    scene_free(s);
}

/* Agreed: 500 EUR. */
static struct scene *agreed(void)
{
    struct scene *s = on_the_twentieth();
    struct tb_dispute_outcome out;

    OK(DISPUTE(MONEY(TB_OPENED, 600, "EUR")));
    OK(DISPUTE(STEP(.step = TB_NOTIFIED, .channel = "post", .proof = "RR1")));
    OK(DISPUTE(MONEY(TB_AGREED, 500, "EUR")));
    return s;
}

static void an_agreement_far_above_the_invoice_is_asked_about(void **state)
{
    struct scene *s = on_the_twentieth();
    struct tb_dispute_outcome out;

    (void)state;
    OK(DISPUTE(MONEY(TB_OPENED, 600, "EUR")));
    OK(DISPUTE(STEP(.step = TB_NOTIFIED, .channel = "post", .proof = "RR1")));
    REFUSED(s, DISPUTE(MONEY(TB_AGREED, 5000, "EUR")), TB_EREFUSED, "was invoiced at 600.00");
    scene_free(s);
}

static void money_of_another_country_than_was_agreed_is_asked_about(void **state)
{
    struct scene *s = agreed();
    struct tb_dispute_request other = *MONEY(TB_RECOVERED, 500, "USD");
    struct tb_dispute_outcome out;

    (void)state;
    REFUSED(s, DISPUTE(&other), TB_EREFUSED, "500.00 USD, but 500.00 EUR was agreed");
    assert_string_equal(err.about, "currency anyway");
    other.anyway = true;
    OK(DISPUTE(&other));
    assert_int_equal(out.now.open.state, TB_CLAIM_DO); /* nothing of the euros came in */
    assert_float_equal(out.now.open.awaited, 500, 0);
    scene_free(s);
}

static void more_than_was_agreed_is_asked_about(void **state)
{
    struct scene *s = agreed();
    struct tb_dispute_request rest = *MONEY(TB_RECOVERED, 300, "EUR");
    struct tb_dispute_outcome out;

    (void)state;
    OK(DISPUTE(&rest));
    rest.step.amount = 200.01;
    REFUSED(s, DISPUTE(&rest), TB_EREFUSED,
            "300.00 EUR came in so far, and with 200.01 more it is above the 500.00 agreed");
    rest.step.amount = 200;
    OK(DISPUTE(&rest));
    assert_int_equal(out.now.open.state, TB_CLAIM_CLOSE);
    scene_free(s);
}

/* Goods that went back are awaited at what they were invoiced at, until it is agreed what is credited for them. */
static void goods_that_went_back_are_awaited_while_nothing_is_agreed(void **state)
{
    struct scene *s = on_the_twentieth();
    struct tb_standing back = { .lot = s->lot.id, .standing = TB_RETURNED, .why = "not cotton" };
    struct tb_lot_claim now;
    struct tb_dispute_outcome out;

    (void)state;
    OK(DISPUTE(MONEY(TB_OPENED, 700, "EUR")));
    OK(tb_book_begin(s->actor.book, "Ada Fell", "settle", &err));
    OK(tb_standing_add(&back, s->actor.book, &s->mem, &err));
    OK(tb_book_commit(s->actor.book, &err));
    OK(tb_lot_claim_read(&now, s->actor.book, s->lot.ref, "2026-10-20", &s->mem, &err));
    assert_float_equal(now.open.amount, 700, 0); /* what is claimed stays what is claimed */
    assert_float_equal(now.open.awaited, 600, 0);
    OK(DISPUTE(STEP(.step = TB_NOTIFIED, .channel = "post", .proof = "RR1")));
    OK(DISPUTE(MONEY(TB_RECOVERED, 150, "EUR")));
    OK(tb_lot_claim_read(&now, s->actor.book, s->lot.ref, "2026-10-20", &s->mem, &err));
    assert_float_equal(now.open.awaited, 450, 0);
    OK(DISPUTE(MONEY(TB_AGREED, 500, "EUR")));
    OK(tb_lot_claim_read(&now, s->actor.book, s->lot.ref, "2026-10-20", &s->mem, &err));
    assert_float_equal(now.open.awaited, 350, 0); /* of the 500 agreed */
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
        cmocka_unit_test(a_claim_far_above_the_invoice_is_asked_about),
        cmocka_unit_test(twice_the_invoice_or_other_money_is_claimed_without_a_question),
        cmocka_unit_test(an_agreement_far_above_the_invoice_is_asked_about),
        cmocka_unit_test(money_of_another_country_than_was_agreed_is_asked_about),
        cmocka_unit_test(more_than_was_agreed_is_asked_about),
        cmocka_unit_test(goods_that_went_back_are_awaited_while_nothing_is_agreed),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
