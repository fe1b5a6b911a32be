/* Disputes and their steps. */
#include "tenterbook/dispute.h"
#include "book/stmt.h"

#include <math.h>
#include <string.h>

static const char *or_empty(const char *s)
{
    return s ? s : "";
}

TB_WORDS(tb_step_words, TB_CLOSED + 1,
         "'%s' is not a step of a dispute; steps are opened, notified, answered, agreed, recovered, closed",
         "", "opened", "notified", "answered", "agreed", "recovered", "closed");
TB_WORDS(tb_remedy_words, TB_REPLACEMENT + 1,
         "'%s' is not a remedy; agreed are credit, return, relabel or replacement", "", TR_("credit"),
         TR_("return"), TR_("relabel"), TR_("replacement"));

const char *tb_step_key(enum tb_step_kind s)
{
    return tb_word(&tb_step_words, (int)s);
}

const char *tb_remedy_key(enum tb_remedy_kind r)
{
    return tb_word(&tb_remedy_words, (int)r);
}

const struct tb_dispute_step *tb_dispute_last(const struct tb_dispute *d, enum tb_step_kind step)
{
    for (size_t i = d->steps; i > 0; i--)
        if (d->step[i - 1].step == step)
            return &d->step[i - 1];
    return NULL;
}

/* --- what a step must and must not carry ------------------------------------------------------------------------ */

/* An amount without its money, or money without an amount, would be added up wrongly in every sum after. */
static tb_rc check_money(const struct tb_dispute_step *s, struct tb_err *err)
{
    const char *c = or_empty(s->currency);
    bool code = strlen(c) == 3 && strspn(c, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == 3;

    if (isnan(s->amount))
        return *c ? tb_fail(err, TB_EINVAL, "the currency %s is named without an amount", c) : TB_OK;
    if (!(s->amount >= 0 && s->amount < 1e15))
        return tb_fail(err, TB_EINVAL, "an amount of %g is not possible", s->amount);
    return code ? TB_OK : tb_fail(err, TB_EINVAL, "an amount needs its money, three letters like EUR");
}

static tb_rc check_dates(const struct tb_dispute_step *s, struct tb_err *err)
{
    const char *const later[] = { s->due, s->keep_until };

    if (!s->day || !tb_day_valid(s->day))
        return tb_fail(err, TB_EINVAL, "the day of the step '%s' is not a valid date (YYYY-MM-DD)",
                       or_empty(s->day));
    for (size_t i = 0; i < TB_COUNT(later); i++)
        if (later[i] && !tb_day_valid(later[i]))
            return tb_fail(err, TB_EINVAL, "'%s' is not a valid date (YYYY-MM-DD)", later[i]);
    if (s->due && strcmp(s->due, s->day) < 0)
        return tb_fail(err, TB_EINVAL, "due on %s, before the step itself on %s", s->due, s->day);
    if (s->keep_until && strcmp(s->keep_until, s->day) < 0)
        return tb_fail(err, TB_EINVAL, "kept until %s, before it is closed on %s", s->keep_until, s->day);
    return TB_OK;
}

static tb_rc check_fields(const struct tb_dispute_step *s, struct tb_err *err)
{
    tb_rc rc = check_dates(s, err);

    if (s->step == TB_STEP_NONE)
        return tb_fail(err, TB_EINVAL, tb_step_words.wrong, "");
    if (rc != TB_OK || (rc = check_money(s, err)) != TB_OK)
        return rc;
    if ((s->step == TB_AGREED) != (s->remedy != TB_REMEDY_NONE))
        return tb_fail(err, TB_EINVAL,
                       "an agreement, and nothing else, names its remedy: credit, return, relabel or "
                       "replacement");
    if (s->due && s->step != TB_NOTIFIED && s->step != TB_AGREED)
        return tb_fail(err, TB_EINVAL, "only a notice and an agreement have a day on which they are due");
    if (s->keep_until && s->step != TB_CLOSED)
        return tb_fail(err, TB_EINVAL, "until when the file is kept is said when the dispute is closed");
    if ((*or_empty(s->channel) || *or_empty(s->proof)) && s->step != TB_NOTIFIED)
        return tb_fail(err, TB_EINVAL, "the way of sending and its proof belong to a notice");
    if (s->step == TB_RECOVERED && isnan(s->amount) && !*or_empty(s->words))
        return tb_fail(err, TB_EINVAL, "say what came in: an amount, or in words what it is");
    if (!*or_empty(s->words) && (s->step == TB_OPENED || s->step == TB_ANSWERED || s->step == TB_CLOSED))
        return tb_fail(err, TB_EINVAL, "say in words what is claimed, what was answered, or how it ended");
    return TB_OK;
}

double tb_dispute_recovered(const struct tb_dispute *d, const char *currency)
{
    double sum = 0;

    for (size_t i = 0; i < d->steps; i++) {
        const struct tb_dispute_step *s = &d->step[i];

        if ((s->step == TB_RECOVERED || s->step == TB_CLOSED) && !isnan(s->amount) &&
            strcmp(s->currency, currency) == 0)
            sum += s->amount;
    }
    return sum;
}

double tb_dispute_awaited(const struct tb_dispute *d, const struct tb_dispute_step *of)
{
    double rest = of->amount - tb_dispute_recovered(d, of->currency);

    return isnan(rest) ? NAN : rest < TB_CENT / 2 ? 0 : rest;
}

/* Whoever closes a dispute may say again what is recorded already, and would count it twice. */
static tb_rc check_paid_twice(const struct tb_dispute_step *s, const struct tb_dispute *d, struct tb_err *err)
{
    const struct tb_dispute_step *agreed = tb_dispute_last(d, TB_AGREED);
    double before;

    if (isnan(s->amount) || !agreed || isnan(agreed->amount) || strcmp(agreed->currency, s->currency) != 0)
        return TB_OK;
    before = tb_dispute_recovered(d, s->currency);
    if (before <= 0 || before + s->amount <= agreed->amount + TB_CENT / 2)
        return TB_OK;
    return tb_about(err,
                    tb_fail(err, TB_EREFUSED,
                            "%.2f %s came in already, and with %.2f more it is above the %.2f agreed: an "
                            "amount at the close is what came in last, and is added",
                            before, s->currency, s->amount, agreed->amount),
                    "amount");
}

/* A dispute is a story that others read: it goes forward in time, and each step stands on the one before. */
static tb_rc check_turn(const struct tb_dispute_step *s, const struct tb_dispute *d, struct tb_err *err)
{
    const struct tb_dispute_step *last = &d->step[d->steps - 1];

    if (tb_dispute_last(d, TB_CLOSED))
        return tb_fail(err, TB_EREFUSED, "the dispute was closed on %s", tb_dispute_last(d, TB_CLOSED)->day);
    if (strcmp(s->day, last->day) < 0)
        return tb_fail(err, TB_EREFUSED, "the dispute was %s on %s; %s on %s is before that",
                       tb_step_key(last->step), last->day, tb_step_key(s->step), s->day);
    if ((s->step == TB_ANSWERED || s->step == TB_AGREED) && !tb_dispute_last(d, TB_NOTIFIED))
        return tb_fail(err, TB_EREFUSED, "the supplier was not told yet: record the notice first");
    return s->step == TB_CLOSED ? check_paid_twice(s, d, err) : TB_OK;
}

/* --- writing ---------------------------------------------------------------------------------------------------- */

static tb_rc insert_step(struct tb_dispute_step *s, struct tb_book *b, const char *dispute,
                         struct tb_arena *mem, struct tb_err *err)
{
    s->id = tb_new_key(mem);
    s->dispute = dispute;
    s->recorded_at = tb_moment_now(b, mem);
    return tb_put_dispute_step(s, b, err);
}

tb_rc tb_dispute_step_add(struct tb_dispute_step *s, struct tb_book *b, const struct tb_dispute *d,
                          struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = check_fields(s, err);

    if (rc == TB_OK && s->step == TB_OPENED)
        rc = tb_fail(err, TB_EEXISTS, "a dispute is open since %s", d->step[0].day);
    if (rc == TB_OK)
        rc = check_turn(s, d, err);
    return rc == TB_OK ? insert_step(s, b, d->id, mem, err) : rc;
}

static tb_rc insert_dispute(struct tb_dispute *d, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_ask_whole(&d->serial, tb_sql_dispute_next_serial(b, d->lot), err);

    if (rc != TB_OK)
        return rc;
    d->id = tb_new_key(mem);
    return tb_put_dispute(d, b, err);
}

tb_rc tb_dispute_open(struct tb_dispute *d, struct tb_book *b, struct tb_dispute_step *opened,
                      struct tb_arena *mem, struct tb_err *err)
{
    struct tb_dispute now;
    tb_rc rc = tb_dispute_now(&now, b, d->lot, mem, err);

    opened->step = TB_OPENED;
    if (rc == TB_OK)
        return tb_fail(err, TB_EEXISTS, "a dispute is open since %s", now.step[0].day);
    if (rc != TB_ENOTFOUND || (rc = check_fields(opened, err)) != TB_OK)
        return rc;
    if (d->found_on && !tb_day_valid(d->found_on))
        return tb_fail(err, TB_EINVAL, "the day of discovery '%s' is not a valid date (YYYY-MM-DD)",
                       d->found_on);
    if (d->found_on && strcmp(d->found_on, opened->day) > 0)
        return tb_fail(err, TB_EINVAL, "found on %s, after the dispute was opened on %s", d->found_on,
                       opened->day);
    if ((rc = insert_dispute(d, b, mem, err)) == TB_OK)
        rc = insert_step(opened, b, d->id, mem, err);
    if (rc == TB_OK) {
        d->step = opened;
        d->steps = 1;
    }
    return rc;
}

/* --- reading ---------------------------------------------------------------------------------------------------- */

tb_rc tb_dispute_list(struct tb_dispute **out, size_t *n, struct tb_book *b, const char *lot_id,
                      struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_all_dispute(out, n, tb_sql_dispute_of_lot(b, lot_id), mem, err);

    for (size_t i = 0; rc == TB_OK && i < *n; i++) {
        struct tb_dispute *d = &(*out)[i];

        rc = tb_all_dispute_step(&d->step, &d->steps, tb_sql_dispute_step_of_dispute(b, d->id), mem, err);
        /* both are written in one transaction: without steps somebody took them away */
        if (rc == TB_OK && d->steps == 0)
            rc = tb_fail(err, TB_EFORMAT, "dispute %lld of the lot has no steps; prove the book",
                         (long long)d->serial);
    }
    return rc;
}

tb_rc tb_claimed_part_of(struct tb_claimed_part *out, struct tb_book *b, const struct tb_lot *lot,
                         struct tb_err *err)
{
    return tb_one_claimed_part(out, tb_sql_claimed_part(b, lot->id, lot->standing), NULL, err);
}

tb_rc tb_dispute_now(struct tb_dispute *out, struct tb_book *b, const char *lot_id, struct tb_arena *mem,
                     struct tb_err *err)
{
    struct tb_dispute *d;
    size_t n;
    tb_rc rc = tb_dispute_list(&d, &n, b, lot_id, mem, err);

    if (rc != TB_OK)
        return rc;
    if (n == 0 || tb_dispute_last(&d[n - 1], TB_CLOSED))
        return TB_ENOTFOUND;
    *out = d[n - 1];
    return TB_OK;
}
