/* Goods that went back are worth what they were invoiced at, in lists, sums and letters, until an amount is agreed or credited. */
#include "unit/bench_helper.h"

#include "tenterbook/act_claim.h"
#include "tenterbook/lot_story.h"
#include "tenterbook/money.h"
#include "tenterbook/notice.h"

#define DAY "2026-11-26" /* that of the clock */

/* Bolts of 50 m at 4.00 EUR a metre: 200.00 EUR each. */
static struct scene *found_false(int bolts)
{
    struct scene *s = scene_make("100% cotton", bolts);
    struct tb_burn_outcome burnt = burn_one(s, cut_one(s, "B1", TB_PART_WHOLE), AS_POLYESTER);

    tb_rejudged_free(&burnt.judged);
    return s;
}

static void bolt_back(struct scene *s, const char *number, const char *at)
{
    struct tb_settle_bolts_outcome out;

    OK(tb_act_settle_bolts(&out, &s->actor,
                           &(struct tb_settle_bolts_request){ .lot = s->lot.ref,
                                                              .bolt = &number,
                                                              .bolts = 1,
                                                              .as = TB_RETURNED,
                                                              .why = "taken back",
                                                              .settled_at = at },
                           &s->mem, &err));
}

static void lot_back(struct scene *s)
{
    struct tb_settle_outcome out;

    OK(tb_act_settle(&out, &s->actor,
                     &(struct tb_settle_request){ .lot = s->lot.ref, .as = TB_RETURNED, .why = "taken back" },
                     &s->mem, &err));
    tb_rejudged_free(&out.judged);
}

static void step(struct scene *s, enum tb_step_kind kind, enum tb_remedy_kind remedy, double amount)
{
    struct tb_dispute_outcome out;
    struct tb_dispute_request r = { .lot = s->lot.ref,
                                    .step = { .step = kind,
                                              .remedy = remedy,
                                              .words = kind == TB_OPENED ? "no cotton" : NULL,
                                              .channel = kind == TB_NOTIFIED ? "post" : NULL,
                                              .proof = kind == TB_NOTIFIED ? "RN 1" : NULL,
                                              .amount = amount,
                                              .currency = isnan(amount) ? NULL : "EUR" } };

    OK(tb_act_dispute(&out, &s->actor, &r, &s->mem, &err));
}

static void opened_and_told(struct scene *s, double claimed)
{
    step(s, TB_OPENED, TB_REMEDY_NONE, claimed);
    step(s, TB_NOTIFIED, TB_REMEDY_NONE, (double)NAN);
}

/* What is next and what is awaited, in the list of claims and in the sums. */
static void stands(struct scene *s, enum tb_claim_state state, double awaited)
{
    struct tb_lot_claim c;
    struct tb_money m;

    OK(tb_lot_claim_read(&c, s->actor.book, s->lot.ref, DAY, &s->mem, &err));
    assert_int_equal(c.open.state, state);
    if (isnan(awaited))
        assert_true(isnan(c.open.awaited));
    else
        assert_true(fabs(c.open.awaited - awaited) < TB_CENT / 2);
    OK(tb_money_read(&m, s->actor.book, &(struct tb_money_request){ 0 }, &s->mem, &err));
    assert_true(fabs((m.totals ? m.total[0].awaited : 0) - (isnan(awaited) ? 0 : awaited)) < TB_CENT / 2);
}

static void a_return_that_was_agreed_credits_nothing_yet(void **state)
{
    struct scene *s = found_false(2);

    (void)state;
    opened_and_told(s, 400);
    bolt_back(s, "B2", NULL);
    stands(s, TB_CLAIM_ANSWER, 200);
    step(s, TB_AGREED, TB_RETURN, (double)NAN);
    stands(s, TB_CLAIM_DO, 200); /* the other bolt is here */
    lot_back(s);
    stands(s, TB_CLAIM_CREDIT, 400);
    step(s, TB_RECOVERED, TB_REMEDY_NONE, 150);
    stands(s, TB_CLAIM_CREDIT, 250);
    step(s, TB_RECOVERED, TB_REMEDY_NONE, 250);
    stands(s, TB_CLAIM_CLOSE, 0);
    scene_free(s);
}

static void nor_does_a_credit_without_an_amount_and_one_with_an_amount_is_awaited_instead(void **state)
{
    struct scene *s = found_false(2);

    (void)state;
    lot_back(s);
    opened_and_told(s, (double)NAN);
    step(s, TB_AGREED, TB_CREDIT, (double)NAN);
    stands(s, TB_CLAIM_DO, 400);
    step(s, TB_AGREED, TB_CREDIT, 330);
    stands(s, TB_CLAIM_DO, 330);
    step(s, TB_RECOVERED, TB_REMEDY_NONE, 330);
    stands(s, TB_CLAIM_CLOSE, 0);
    scene_free(s);
}

static void goods_that_come_in_place_of_others_are_their_worth(void **state)
{
    struct scene *s = found_false(1);

    (void)state;
    lot_back(s);
    opened_and_told(s, (double)NAN);
    step(s, TB_AGREED, TB_REPLACEMENT, (double)NAN);
    stands(s, TB_CLAIM_DO, (double)NAN);
    scene_free(s);
}

/* The letter, in one line. */
static const char *letter(struct scene *s)
{
    const struct tb_notice_plan plan = { .lot = s->lot.ref, .day = DAY, .by = "Cy Brook" };
    struct tb_notice *n = NULL;
    struct tb_text text = { 0 }, line = { 0 };

    OK(tb_notice_make(&n, s->actor.book, &plan, &err));
    tb_notice_text(&text, n);
    tb_notice_free(n);
    for (const char *p = text.s; *p; p++)
        if (*p != '\n' && (*p != ' ' || (line.n && line.s[line.n - 1] != ' ')))
            tb_text_addf(&line, "%c", *p);
        else if (line.n && line.s[line.n - 1] != ' ')
            tb_text_add(&line, " ");
    tb_text_free(&text);
    return tb_arena_take(&s->mem, &line);
}

static void says(const char *text, const char *sentence, bool so)
{
    if ((strstr(text, sentence) != NULL) != so)
        fail_msg("'%s' is %ssaid in:\n%s", sentence, so ? "not " : "", text);
}

static void a_letter_says_which_bolts_went_back_when_and_for_what_amount(void **state)
{
    struct scene *s = found_false(3);
    const char *text;

    (void)state;
    bolt_back(s, "B2", NULL);
    text = letter(s);
    says(text, "Sent back on 26 November 2026: B2 (50.00 m).", true);
    says(text, "150.00 m come to 600.00 EUR.", true);
    says(text, "50.00 m of it were sent back, which come to 200.00 EUR at the same price.", true);
    says(text, "a credit note for the goods that we have sent back: 200.00 EUR.", true);
    says(text, "The whole lot was sent back", false);
    scene_free(s);
}

static void it_asks_for_no_return_that_has_happened(void **state)
{
    struct scene *s = found_false(1);
    const char *text;

    (void)state;
    opened_and_told(s, (double)NAN);
    step(s, TB_AGREED, TB_RETURN, (double)NAN);
    says(letter(s), "Please carry out what was agreed.", true);
    lot_back(s);
    text = letter(s);
    says(text, "The whole lot was sent back on 26 November 2026.", true);
    says(text, "it was agreed: return of the goods.", true);
    says(text, "Please carry out", false);
    says(text, "a credit note for the goods that we have sent back: 200.00 EUR.", true);
    says(text, "Please answer by 10 December 2026.", true);
    step(s, TB_RECOVERED, TB_REMEDY_NONE, 150);
    says(letter(s), "a credit note for the goods that we have sent back: 50.00 EUR.", true);
    scene_free(s);
}

/* 10 of 50 m were cut off the bolt before: 40 m at 4.00 EUR went back. */
static void what_was_cut_off_did_not_go_back(void **state)
{
    struct scene *s = found_false(3);
    struct tb_use_outcome used;
    const char *text, *const cut[] = { "B2" };

    (void)state;
    OK(tb_act_use(
        &used, &s->actor,
        &(struct tb_use_request){
            .lot = s->lot.ref, .bolt = cut, .bolts = 1, .metres = 10, .why = "urgent", .anyway = true },
        &s->mem, &err));
    bolt_back(s, "B2", NULL);
    stands(s, TB_CLAIM_TELL, 160);
    text = letter(s);
    says(text, "Sent back on 26 November 2026: B2 (40.00 m).", true);
    says(text, "a credit note for the goods that we have sent back: 160.00 EUR.", true);
    lot_back(s);
    says(letter(s), "The whole lot was sent back", false);
    says(letter(s), "140.00 m of it were sent back, which come to 560.00 EUR at the same price.", true);
    scene_free(s);
}

/* Without metres the whole bolt was used: of a lot that goes back it is not there, and the others keep their worth. */
static void a_bolt_that_was_used_up_does_not_go_back_with_its_lot(void **state)
{
    struct scene *s = found_false(3);
    struct tb_settle_outcome out;
    struct tb_use_outcome used;
    const char *text, *const up[] = { "B2" };

    (void)state;
    OK(tb_act_use(&used, &s->actor,
                  &(struct tb_use_request){ .lot = s->lot.ref,
                                            .bolt = up,
                                            .bolts = 1,
                                            .metres = (double)NAN,
                                            .why = "urgent",
                                            .anyway = true },
                  &s->mem, &err));
    OK(tb_act_settle(&out, &s->actor,
                     &(struct tb_settle_request){ .lot = s->lot.ref, .as = TB_RETURNED, .why = "taken back" },
                     &s->mem, &err));
    assert_int_equal(out.cuts, 1);
    assert_string_equal(out.cut[0].bolt_number, "B2");
    tb_rejudged_free(&out.judged);
    stands(s, TB_CLAIM_CREDIT, 400);
    text = letter(s);
    says(text, "Sent back on 26 November 2026: B1 (50.00 m), B3 (50.00 m).", true);
    says(text, "a credit note for the goods that we have sent back: 400.00 EUR.", true);
    scene_free(s);
}

/* Nothing is left to be asked for: the letter is not written, as where the amount that was agreed came in. */
static void goods_that_were_credited_in_full_are_asked_for_no_more(void **state)
{
    struct scene *s = found_false(2);
    const struct tb_notice_plan plan = { .lot = s->lot.ref, .day = DAY, .by = "Cy Brook" };
    struct tb_notice *n = NULL;

    (void)state;
    opened_and_told(s, 400);
    step(s, TB_AGREED, TB_RETURN, (double)NAN);
    lot_back(s);
    step(s, TB_RECOVERED, TB_REMEDY_NONE, 399);
    says(letter(s), "a credit note for the goods that we have sent back: 1.00 EUR.", true);
    step(s, TB_RECOVERED, TB_REMEDY_NONE, 1);
    stands(s, TB_CLAIM_CLOSE, 0);
    REFUSED(s, tb_notice_make(&n, s->actor.book, &plan, &err), TB_EREFUSED, "all that was agreed");
    scene_free(s);
}

/* What is agreed last counts: 100.00 EUR for the goods as they are, and then their return, for which nothing is named. */
static void a_later_return_without_an_amount_is_worth_the_goods(void **state)
{
    struct scene *s = found_false(2);

    (void)state;
    opened_and_told(s, 400);
    step(s, TB_AGREED, TB_CREDIT, 100);
    stands(s, TB_CLAIM_DO, 100);
    step(s, TB_RECOVERED, TB_REMEDY_NONE, 100);
    stands(s, TB_CLAIM_CLOSE, 0);
    step(s, TB_AGREED, TB_RETURN, (double)NAN);
    lot_back(s);
    stands(s, TB_CLAIM_CREDIT, 300);
    says(letter(s), "a credit note for the goods that we have sent back: 300.00 EUR.", true);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_return_that_was_agreed_credits_nothing_yet),
        cmocka_unit_test(nor_does_a_credit_without_an_amount_and_one_with_an_amount_is_awaited_instead),
        cmocka_unit_test(goods_that_come_in_place_of_others_are_their_worth),
        cmocka_unit_test(a_letter_says_which_bolts_went_back_when_and_for_what_amount),
        cmocka_unit_test(it_asks_for_no_return_that_has_happened),
        cmocka_unit_test(a_bolt_that_was_used_up_does_not_go_back_with_its_lot),
        cmocka_unit_test(goods_that_were_credited_in_full_are_asked_for_no_more),
        cmocka_unit_test(what_was_cut_off_did_not_go_back),
        cmocka_unit_test(a_later_return_without_an_amount_is_worth_the_goods),
    };

    if (sodium_init() < 0)
        return 1;
    return cmocka_run_group_tests(tests, NULL, NULL);
}
