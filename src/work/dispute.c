/* Disputes: opened, the supplier told, answered, a remedy agreed, closed. Opening one holds the lot. */
#include "tenterbook/act_claim.h"
#include "tenterbook/setting.h"
#include "work/act.h"

#include <string.h>

struct disputing {
    const struct tb_dispute_request *request;
    struct tb_dispute_outcome *out;
    struct tb_arena *mem;
    char today[TB_DAY_LEN + 1];
};

static tb_rc check_step(const struct disputing *d, struct tb_err *err)
{
    const struct tb_dispute_step *s = &d->out->step;

    if (s->step == TB_STEP_NONE)
        return tb_fail(err, TB_EINVAL, tb_step_words.wrong, "");
    if (d->request->found_on && d->out->step.step != TB_OPENED)
        return tb_fail(err, TB_EUSAGE, "--found belongs to --opened");
    if (strcmp(s->day, d->today) > 0)
        return tb_fail(err, TB_EINVAL, "--on is %s, and today is %s", s->day, d->today);
    return TB_OK;
}

/* What nobody said: an answer is due after the site's usual days, a file is kept as long as the longest rule says. */
static tb_rc fill_in(struct disputing *d, struct tb_book *b, struct tb_err *err)
{
    const char *const country[] = { d->out->now.claim.country, tb_book_site(b)->country };
    struct tb_dispute_step *s = &d->out->step;
    char day[TB_DAY_LEN + 1];
    double days;
    tb_rc rc = TB_OK;

    if (d->out->step.step == TB_NOTIFIED && !s->due &&
        (rc = tb_setting_number(&days, b, "answer_days", TB_BOOK_NOW, err)) == TB_OK) {
        tb_day_after(day, s->day, (int)days, false, TB_WEEKEND_SAT_SUN);
        s->due = tb_arena_strdup(d->mem, day);
    }
    if (d->out->step.step == TB_CLOSED && !s->keep_until) {
        tb_claim_keep_until(day, &d->out->kept_by, s->day, country, TB_COUNT(country));
        s->keep_until = tb_arena_strdup(d->mem, day);
    }
    return rc;
}

/* Whether the step is in its turn is seen again under the lock, by the book itself. */
static tb_rc plan(void *arg, bool *write, struct tb_book *b, struct tb_err *err)
{
    struct disputing *d = arg;
    struct tb_lot_claim *now = &d->out->now;
    tb_rc rc;

    (void)write;
    *d->out = (struct tb_dispute_outcome){ .step = d->request->step };
    tb_today(d->today);
    if (!d->out->step.day)
        d->out->step.day = tb_arena_strdup(d->mem, d->today);
    if ((rc = check_step(d, err)) != TB_OK ||
        (rc = tb_lot_claim_read(now, b, d->request->lot, d->today, d->mem, err)) != TB_OK)
        return rc;
    if (d->out->step.step != TB_OPENED && !now->claim.open)
        return tb_fail(err, TB_EREFUSED,
                       "no dispute about lot %s is open; open one with --opened --words TEXT", now->lot.ref);
    return fill_in(d, b, err);
}

/* The paper goes in first, so that the step can name it; a refusal of the step takes both back. */
static tb_rc add_document(struct disputing *d, struct tb_book *b, struct tb_err *err)
{
    struct tb_attachment a;
    tb_rc rc;

    if (!d->request->document)
        return TB_OK;
    a = *d->request->document;
    a.about = "lot";
    a.subject = d->out->now.lot.id;
    if ((rc = tb_attachment_add(&a, b, d->mem, err)) == TB_OK)
        d->out->step.document = a.id;
    return rc;
}

/* Goods in dispute stay whole: a lot that waits or was released is held. */
static tb_rc hold(struct disputing *d, struct tb_book *b, struct tb_err *err)
{
    const struct tb_lot *lot = &d->out->now.lot;
    struct tb_standing s = { .lot = lot->id, .standing = TB_HELD, .why = "a dispute was opened" };

    d->out->held = lot->standing == TB_WAITING || lot->standing == TB_RELEASED;
    return d->out->held ? tb_standing_add(&s, b, d->mem, err) : TB_OK;
}

/* A fault found before the goods came, or a dispute opened before that, is a wrong day. */
static tb_rc open_it(struct disputing *d, struct tb_book *b, struct tb_err *err)
{
    const struct tb_lot *lot = &d->out->now.lot;
    struct tb_dispute dispute = { .lot = lot->id, .found_on = d->request->found_on };
    tb_rc rc;

    if (dispute.found_on && strcmp(dispute.found_on, lot->arrived) < 0)
        return tb_fail(err, TB_EINVAL, "found on %s, but the goods arrived on %s", dispute.found_on,
                       lot->arrived);
    if (strcmp(d->out->step.day, lot->arrived) < 0)
        return tb_fail(err, TB_EINVAL, "opened on %s, but the goods arrived on %s", d->out->step.day,
                       lot->arrived);
    rc = tb_dispute_open(&dispute, b, &d->out->step, d->mem, err);
    return rc == TB_OK ? hold(d, b, err) : rc;
}

static tb_rc add_step(struct disputing *d, struct tb_book *b, struct tb_err *err)
{
    tb_rc rc = add_document(d, b, err);

    if (rc != TB_OK)
        return rc;
    return d->out->step.step == TB_OPENED
               ? open_it(d, b, err)
               : tb_dispute_step_add(&d->out->step, b, d->out->now.claim.open, d->mem, err);
}

/* Ends with the lot as the step left it: whoever acted sees what is next and by when. */
static tb_rc write(void *arg, struct tb_book *b, struct tb_err *err)
{
    struct disputing *d = arg;
    const char *ref = d->out->now.lot.ref;
    tb_rc rc = add_step(d, b, err);

    if (rc != TB_OK)
        return tb_within(err, rc, "lot %s", ref);
    tb_book_subject(b, ref);
    return tb_lot_claim_read(&d->out->now, b, ref, d->today, d->mem, err);
}

tb_rc tb_act_dispute(struct tb_dispute_outcome *out, const struct tb_actor *actor,
                     const struct tb_dispute_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { "dispute", plan, NULL, write };
    struct disputing d = { .request = request, .out = out, .mem = mem };

    return tb_act_do(&act, &d, actor, err);
}
