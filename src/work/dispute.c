/* Disputes: opened, the supplier told, answered, a remedy agreed, closed. Opening one holds the lot. */
#include "base/say.h"
#include "tenterbook/act_claim.h"
#include "tenterbook/attachment.h"
#include "tenterbook/figure.h"
#include "tenterbook/setting.h"
#include "work/act.h"
#include "work/moment.h"

#include <math.h>
#include <string.h>

#define CLAIM_FAR                                                                                            \
    2 /* times the invoiced value: goods and as much again for what they spoilt; common practice, no source */

static tb_rc check_step(const struct tb_dispute_request *r, struct tb_err *err)
{
    if (r->step.step == TB_STEP_NONE)
        return tb_fail(err, TB_EINVAL, tb_step_words.wrong, "");
    if (r->found_on && r->step.step != TB_OPENED)
        return tb_about(err,
                        tb_fail(err, TB_EUSAGE, "the day a fault was found is told when a dispute is opened"),
                        "found opened");
    return TB_OK;
}

/* What nobody said: an answer is due after the site's usual days, a file is kept as long as the longest rule says. */
static tb_rc fill_in(struct tb_job *j)
{
    struct tb_dispute_outcome *out = j->out;
    const char *const country[] = { out->now.claim.country, tb_book_site(j->b)->country };
    struct tb_dispute_step *s = &out->step;
    char day[TB_DAY_LEN + 1];
    double days;
    tb_rc rc = TB_OK;

    if (s->step == TB_NOTIFIED && !s->due &&
        (rc = tb_setting_number(&days, j->b, "answer_days", TB_BOOK_NOW, j->err)) == TB_OK) {
        tb_day_after(day, s->day, (int)days, false, TB_WEEKEND_SAT_SUN);
        s->due = tb_arena_strdup(j->mem, day);
    }
    if (s->step == TB_CLOSED && !s->keep_until) {
        tb_claim_keep_until(day, &out->kept_by, s->day, country, TB_COUNT(country));
        s->keep_until = tb_arena_strdup(j->mem, day);
    }
    return rc;
}

/* A term that runs from the discovery is longer the later that is: a later day than the book knows is asked about. */
static tb_rc check_found(struct tb_job *j, const struct tb_lot *lot)
{
    const struct tb_dispute_request *r = j->request;
    struct tb_discovery known;
    tb_rc rc;

    if (!r->found_on || r->anyway)
        return TB_OK;
    if ((rc = tb_lot_discovered(&known, j->b, lot->id, j->mem, j->err)) != TB_OK || !known.day ||
        strcmp(r->found_on, known.day) <= 0)
        return rc;
    return tb_about(
        j->err,
        tb_fail(j->err, TB_EREFUSED,
                strcmp(known.by, "analysis") == 0
                    ? N_("found on %s, but an analysis of %s shows it: say that this is known, where "
                         "the day is right")
                    : N_("found on %s, but what was seen contradicts the words since %s: say that "
                         "this is known, where the day is right"),
                r->found_on, known.day),
        "found anyway");
}

/* What is asked for or agreed is rarely more than twice what the goods were invoiced at: a figure too many is commoner. */
static tb_rc check_worth(struct tb_job *j, const struct tb_lot *lot)
{
    const struct tb_dispute_step *s = &((const struct tb_dispute_request *)j->request)->step;
    struct tb_invoiced in;
    tb_rc rc = tb_lot_invoiced(&in, j->b, lot, j->mem, j->err);

    if (rc != TB_OK || isnan(in.value) || strcmp(in.currency, s->currency) != 0 ||
        s->amount <= CLAIM_FAR * in.value + TB_CENT / 2)
        return rc;
    return tb_about(
        j->err,
        tb_fail(j->err, TB_EREFUSED,
                "%.2f %s, but all of lot %s was invoiced at %.2f: say that this is known, where the "
                "amount is right",
                s->amount, s->currency, lot->ref, tb_cents(in.value)),
        "amount anyway");
}

/* What came in counts towards what was agreed in its own money, and is seldom more than that. */
static tb_rc check_against_agreed(struct tb_job *j, const struct tb_dispute *d)
{
    const struct tb_dispute_step *s = &((const struct tb_dispute_request *)j->request)->step,
                                 *agreed = tb_dispute_last(d, TB_AGREED);
    double before;

    if (!agreed || isnan(agreed->amount))
        return TB_OK;
    if (strcmp(agreed->currency, s->currency) != 0)
        return tb_about(
            j->err,
            tb_fail(j->err, TB_EREFUSED,
                    "%.2f %s, but %.2f %s was agreed, and other money does not count towards it: say "
                    "that this is known, where the currency is right",
                    s->amount, s->currency, agreed->amount, agreed->currency),
            "currency anyway");
    before = tb_dispute_recovered(d, s->currency);
    if (s->step == TB_CLOSED || before + s->amount <= agreed->amount + TB_CENT / 2)
        return TB_OK; /* the book looks at what comes in with the close */
    return tb_about(
        j->err,
        tb_fail(j->err, TB_EREFUSED,
                "%.2f %s came in so far, and with %.2f more it is above the %.2f agreed: say that "
                "this is known, where the amount is right",
                before, s->currency, s->amount, agreed->amount),
        "amount anyway");
}

/* Money that a slip of the hand makes ten times as much, or of another country, is asked about once. */
static tb_rc check_money(struct tb_job *j)
{
    const struct tb_dispute_request *r = j->request;
    const struct tb_lot_claim *now = &((const struct tb_dispute_outcome *)j->out)->now;

    if (r->anyway || isnan(r->step.amount) || !r->step.currency)
        return TB_OK;
    if (r->step.step == TB_OPENED || r->step.step == TB_AGREED)
        return check_worth(j, &now->lot);
    return r->step.step == TB_RECOVERED || r->step.step == TB_CLOSED
               ? check_against_agreed(j, now->claim.open)
               : TB_OK;
}

/* Whether the step is in its turn is seen again under the lock, by the book itself. */
static tb_rc plan(struct tb_job *j)
{
    const struct tb_dispute_request *r = j->request;
    struct tb_dispute_outcome *out = j->out;
    struct tb_lot_claim *now = &out->now;
    char today[TB_DAY_LEN + 1];
    tb_rc rc;

    *out = (struct tb_dispute_outcome){ .step = r->step };
    tb_today(today);
    if ((rc = check_step(r, j->err)) != TB_OK ||
        (rc = tb_past_day(&out->step.day, r->step.day, j->mem, j->err)) != TB_OK ||
        (rc = tb_lot_claim_read(now, j->b, r->lot, today, j->mem, j->err)) != TB_OK)
        return rc;
    j->lot = now->lot.ref;
    if (r->step.step != TB_OPENED && !now->claim.open)
        return tb_about(j->err,
                        tb_fail(j->err, TB_EREFUSED,
                                "no dispute about lot %s is open; open one, and say what is claimed",
                                now->lot.ref),
                        "opened words");
    if ((rc = check_found(j, &now->lot)) != TB_OK || (rc = check_money(j)) != TB_OK)
        return rc;
    return fill_in(j);
}

/* The paper goes in first, so that the step can name it; a refusal of the step takes both back. */
static tb_rc add_document(struct tb_job *j)
{
    const struct tb_dispute_request *r = j->request;
    struct tb_dispute_outcome *out = j->out;
    struct tb_attachment a;
    tb_rc rc;

    if (!r->document)
        return TB_OK;
    if ((rc = tb_attachment_check(r->document, j->err)) != TB_OK)
        return rc;
    a = *r->document;
    a.about = "lot";
    a.subject = out->now.lot.id;
    rc = tb_attachment_add(&a, j->b, j->mem, j->err);
    out->step.document = a.id;
    return rc;
}

/* A fault found before the goods came, or a dispute opened before that, is a wrong day. Goods in dispute stay whole. */
static tb_rc open_it(struct tb_job *j)
{
    const struct tb_dispute_request *r = j->request;
    struct tb_dispute_outcome *out = j->out;
    const struct tb_lot *lot = &out->now.lot;
    struct tb_dispute dispute = { .lot = lot->id, .found_on = r->found_on };
    struct tb_standing held = { .lot = lot->id,
                                .standing = TB_HELD,
                                .why = tb_decision_why(TB_DECIDED_BY_DISPUTE) };
    tb_rc rc;

    if (r->found_on && strcmp(r->found_on, lot->arrived) < 0)
        return tb_fail(j->err, TB_EINVAL, "found on %s, but the goods arrived on %s", r->found_on,
                       lot->arrived);
    if (strcmp(out->step.day, lot->arrived) < 0)
        return tb_fail(j->err, TB_EINVAL, "opened on %s, but the goods arrived on %s", out->step.day,
                       lot->arrived);
    rc = tb_dispute_open(&dispute, j->b, &out->step, j->mem, j->err);
    out->held = lot->standing == TB_WAITING || lot->standing == TB_RELEASED;
    return rc == TB_OK && out->held ? tb_standing_add(&held, j->b, j->mem, j->err) : rc;
}

/* Ends with the lot as the step left it: whoever acted sees what is next and by when. */
static tb_rc write(struct tb_job *j)
{
    struct tb_dispute_outcome *out = j->out;
    char today[TB_DAY_LEN + 1];
    tb_rc rc = add_document(j);

    if (rc == TB_OK)
        rc = out->step.step == TB_OPENED
                 ? open_it(j)
                 : tb_dispute_step_add(&out->step, j->b, out->now.claim.open, j->mem, j->err);
    if (rc != TB_OK)
        return tb_within(j->err, rc, "lot %s", j->lot);
    tb_today(today);
    return tb_lot_claim_read(&out->now, j->b, j->lot, today, j->mem, j->err);
}

static const struct tb_said said[] = {
    TB_SAYS(tb_dispute_request, lot, N_("the lot")),
    TB_SAYS(tb_dispute_request, step.day, N_("the day")),
    TB_SAYS(tb_dispute_request, step.words, N_("the words")),
    TB_SAYS(tb_dispute_request, step.due, N_("the day of the answer")),
    TB_SAYS(tb_dispute_request, step.channel, N_("how it was sent")),
    TB_SAYS(tb_dispute_request, step.proof, N_("the proof of it")),
    TB_SAYS(tb_dispute_request, step.currency, N_("the currency")),
    TB_SAYS(tb_dispute_request, step.keep_until, N_("the day until which the file is kept")),
    TB_SAYS(tb_dispute_request, found_on, N_("the day the fault was found")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_dispute(struct tb_dispute_outcome *out, const struct tb_actor *actor,
                     const struct tb_dispute_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_DISPUTE,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_dispute_request),
                                       .said = said };

    return tb_act_do(&act, &(struct tb_job){ .request = request, .out = out, .mem = mem }, actor, err);
}
