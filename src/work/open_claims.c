/* What is open about lots: whose turn it is, by when, and the list of all of it in the order it is due. */
#include "tenterbook/concluded.h"
#include "tenterbook/lot_claim.h"
#include "tenterbook/lot_story.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const char *tb_claim_state_key(enum tb_claim_state s)
{
    static const char *const key[] = { "", "tell", "answer", "agree", "do", "close", "credit" };

    return key[s];
}

TB_WORDS(tb_undated_words, TB_NO_DAY_SAID + 1, "'%s' is not why no day is known", "", "no terms set",
         "no days in the terms", "no day named");

static bool went_back(const struct tb_lot *lot)
{
    return lot->standing == TB_RETURNED || lot->returned_in_part;
}

bool tb_return_done(const struct tb_dispute_step *agreed, const struct tb_lot *lot)
{
    return agreed->remedy == TB_RETURN &&
           (lot->standing == TB_RETURNED || lot->returned_in_part >= lot->bolts);
}

bool tb_credit_is_all(const struct tb_dispute_step *agreed, const struct tb_lot *lot)
{
    return agreed->remedy == TB_CREDIT || tb_return_done(agreed, lot);
}

/* A lot of which each bolt was decided by itself holds nothing any more, however it stands. */
static bool holds(const struct tb_lot *lot)
{
    return lot->standing == TB_HELD && lot->released_in_part + lot->returned_in_part < lot->bolts;
}

/* Without a dispute: goods that are held, or of which a fault was found and that somebody opened again or labelled anew, which tells no
 * supplier, or that went back without anything recorded of a credit for them. */
static enum tb_claim_state state_undisputed(const struct tb_claim *c, const struct tb_lot *lot)
{
    if (c->disputes || lot->voided)
        return TB_CLAIM_NOTHING;
    if (holds(lot) || ((lot->standing == TB_WAITING || lot->standing == TB_RELABELLED) && c->found_on))
        return TB_CLAIM_TELL;
    return went_back(lot) ? TB_CLAIM_CREDIT : TB_CLAIM_NOTHING;
}

/* Whose turn it is: the last step says so, but what was agreed stays agreed, and what comes in is no turn of anybody. */
static enum tb_claim_state state_of(const struct tb_claim *c, const struct tb_lot *lot, double awaited)
{
    const struct tb_dispute *d = c->open;
    const struct tb_dispute_step *agreed = d ? tb_dispute_last(d, TB_AGREED) : NULL;
    size_t last = d ? d->steps - 1 : 0;

    if (!d)
        return state_undisputed(c, lot);
    if (agreed)
        return !isnan(agreed->amount) && awaited < TB_CENT / 2 ? TB_CLAIM_CLOSE
               : tb_return_done(agreed, lot)                   ? TB_CLAIM_CREDIT
                                                               : TB_CLAIM_DO;
    while (last > 0 && d->step[last].step == TB_RECOVERED)
        last--;
    return d->step[last].step == TB_ANSWERED   ? TB_CLAIM_AGREE
           : d->step[last].step == TB_NOTIFIED ? TB_CLAIM_ANSWER
                                               : TB_CLAIM_TELL;
}

/* The latest amount of a kind of step, or of another that says the same. */
static struct tb_claim_sum latest(const struct tb_dispute *d, enum tb_step_kind kind, enum tb_step_kind or)
{
    for (size_t i = d->steps; i > 0; i--) {
        const struct tb_dispute_step *s = &d->step[i - 1];

        if ((s->step == kind || s->step == or) && !isnan(s->amount))
            return (struct tb_claim_sum){ s->amount, s->currency };
    }
    return (struct tb_claim_sum){ NAN, "" };
}

/* The latest amount that was named, and what came in of it. What came in is not an amount anybody asked for. */
static void amount_of(struct tb_claim_open *out, const struct tb_dispute *d)
{
    for (size_t i = d->steps; i > 0 && isnan(out->amount); i--)
        if (d->step[i - 1].step != TB_RECOVERED) {
            out->amount = d->step[i - 1].amount;
            out->amount_currency = d->step[i - 1].currency;
        }
    out->asked = latest(d, TB_NOTIFIED, TB_OPENED);
    out->offered = latest(d, TB_ANSWERED, TB_ANSWERED);
    out->agreed = latest(d, TB_AGREED, TB_AGREED);
    if (!isnan(out->amount))
        out->recovered = tb_dispute_recovered(d, out->amount_currency);
    if (!isnan(out->agreed.amount)) /* a later agreement that names none leaves it */
        out->awaited = fmax(0, out->agreed.amount - tb_dispute_recovered(d, out->agreed.currency));
}

/* Only the step that is next has a day: after a notice the answer, after an agreement its doing. */
static void due_of(struct tb_claim_open *out, const struct tb_claim *c)
{
    const struct tb_dispute_step *s;

    if (out->state == TB_CLAIM_TELL && c->clock.first.day[0]) {
        out->due = c->clock.first.day;
        out->due_by = c->term[c->clock.first.by].name;
    } else if (out->state == TB_CLAIM_ANSWER && (s = tb_dispute_last(c->open, TB_NOTIFIED)) && s->due) {
        out->due = s->due;
        out->due_by = "answer";
    } else if ((out->state == TB_CLAIM_DO || out->state == TB_CLAIM_CREDIT) && c->open &&
               (s = tb_dispute_last(c->open, TB_AGREED)) && s->due &&
               (out->state == TB_CLAIM_DO ||
                !isnan(s->amount))) { /* the day of a return that was made is over */
        out->due = s->due;
        out->due_by = "agreement";
    }
    if (*out->due)
        return;
    out->undated = out->state != TB_CLAIM_TELL ? TB_NO_DAY_SAID : c->terms ? TB_NO_DAYS : TB_NO_TERMS;
    out->unsaid = out->state == TB_CLAIM_TELL;
}

static void take_due(struct tb_claim_open *out, const struct tb_claim *c, const char *today)
{
    out->due = out->due_by = "";
    out->undated = TB_DATED;
    out->unsaid = out->overdue = false;
    out->left = 0;
    due_of(out, c);
    if (*out->due) {
        out->left = tb_day_number(out->due) - tb_day_number(today);
        out->overdue = out->left < 0;
    }
}

/* A bolt is often cut into more than once: bolts are counted, not cuts. */
static int64_t bolts_in_use(const struct tb_claim *c)
{
    int64_t n = 0;

    for (size_t i = 0; i < c->uses; i++) {
        bool again = false;

        for (size_t k = 0; k < i && !again; k++)
            again = strcmp(c->use[k].bolt, c->use[i].bolt) == 0;
        n += !again;
    }
    return n;
}

void tb_claim_open_of(struct tb_claim_open *out, const struct tb_claim *c, const struct tb_lot *lot,
                      const char *today)
{
    *out = (struct tb_claim_open){ .lot = lot->ref,
                                   .supplier = lot->supplier_name,
                                   .declared = lot->declared,
                                   .standing = lot->standing,
                                   .released_in_part = lot->released_in_part,
                                   .returned_in_part = lot->returned_in_part,
                                   .held_in_part = lot->held_in_part,
                                   .arrived = lot->arrived,
                                   .bolts = lot->bolts,
                                   .bolts_burnt = lot->bolts_burnt,
                                   .bolts_used = bolts_in_use(c),
                                   .claimed = { lot->bolts, lot->metres, 0 },
                                   .derived = lot->derived,
                                   .unknown = lot->unknown,
                                   .due = "",
                                   .due_by = "",
                                   .asked = { NAN, "" },
                                   .offered = { NAN, "" },
                                   .agreed = { NAN, "" },
                                   .invoiced = { NAN, "" },
                                   .credit = { NAN, "" },
                                   .amount = NAN,
                                   .recovered = NAN,
                                   .awaited = NAN,
                                   .amount_currency = "" };
    if (c->open) {
        out->opened_on = c->open->step[0].day;
        amount_of(out, c->open);
    }
    out->state = state_of(c, lot, out->awaited);
    take_due(out, c, today);
}

/* Overdue, not to be said, in time, without a day. */
static int urgency(const struct tb_claim_open *o)
{
    return o->overdue ? 0 : o->unsaid ? 1 : *o->due ? 2 : 3;
}

/* What is overdue comes first, and what may be before what is in time; of those with a day the first that is due; then as they arrived. */
static int by_due(const void *a, const void *b)
{
    const struct tb_claim_open *x = a, *y = b;
    int c = urgency(x) - urgency(y);

    if (c == 0)
        c = strcmp(x->due, y->due);
    if (c == 0)
        c = strcmp(x->arrived, y->arrived);
    return c ? c : strcmp(x->lot, y->lot);
}

bool tb_nothing_credited(const struct tb_dispute *open, const struct tb_lot *lot)
{
    const struct tb_dispute_step *agreed = open ? tb_dispute_last(open, TB_AGREED) : NULL;

    if (!went_back(lot) || lot->voided)
        return false;
    return !agreed || (agreed->remedy != TB_REPLACEMENT && isnan(agreed->amount));
}

static tb_rc read_went_back(struct tb_went_back *out, struct tb_invoiced *in, struct tb_book *b,
                            const struct tb_lot *lot, const struct tb_claim *c, struct tb_arena *mem,
                            struct tb_err *err)
{
    struct tb_lot_story s = { .lot = *lot, .claim = *c };
    tb_rc rc;

    if ((rc = tb_lot_invoiced(&s.invoiced, b, lot, mem, err)) == TB_OK &&
        (rc = tb_bolt_list(&s.bolt, &s.bolts, b, lot->id, mem, err)) == TB_OK &&
        (rc = tb_standing_list(&s.standing, &s.standings, b, lot->id, mem, err)) == TB_OK)
        rc = tb_bolt_standing_list(&s.single, &s.singles, b, lot->id, mem, err);
    if (rc == TB_OK)
        tb_story_went_back(out, &s, mem);
    *in = s.invoiced;
    return rc;
}

/* What went back is worth what it was invoiced at, until then; an amount that somebody named in a dispute stays beside it. */
static tb_rc worth_of_returned(struct tb_claim_open *out, struct tb_book *b, const struct tb_lot *lot,
                               const struct tb_claim *c, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_went_back back;
    struct tb_invoiced in;
    tb_rc rc = read_went_back(&back, &in, b, lot, c, mem, err);

    if (rc != TB_OK)
        return rc;
    out->awaited = NAN; /* of an amount that was agreed before */
    if (isnan(back.value) || !back.n)
        return TB_OK;
    out->cut_off = back.cut_off;
    out->reckoned = back.cut_off > 0 && isnan(in.unit_metres);
    out->invoiced = (struct tb_claim_sum){ back.value, in.currency };
    if (isnan(out->amount)) {
        out->amount = back.value;
        out->amount_currency = in.currency;
        out->recovered = 0;
    }
    out->credit = (struct tb_claim_sum){
        fmax(0, back.value - (c->open ? tb_dispute_recovered(c->open, in.currency) : 0)), in.currency
    };
    if (strcmp(out->amount_currency, in.currency) == 0)
        out->awaited = out->credit.amount;
    out->returned_on = "";
    for (size_t i = 0; i < back.n; i++)
        if (strcmp(back.bolt[i].day, out->returned_on) > 0)
            out->returned_on = back.bolt[i].day;
    return TB_OK;
}

/* Whose turn it is where an agreement names no amount for goods that went back. */
static enum tb_claim_state state_returned(const struct tb_claim_open *o, const struct tb_dispute_step *agreed,
                                          const struct tb_lot *lot)
{
    if (o->credit.amount < TB_CENT / 2 && tb_credit_is_all(agreed, lot))
        return TB_CLAIM_CLOSE;
    return tb_return_done(agreed, lot) ? TB_CLAIM_CREDIT : TB_CLAIM_DO;
}

/* Goods that are held although nothing speaks against their words any more: a person decides, and no supplier has to be told. */
static bool nothing_to_tell(const struct tb_lot_claim *c)
{
    enum tb_concluded_kind k = c->open.concluded.kind;

    return c->open.state == TB_CLAIM_TELL && !c->claim.open && (k == TB_CONFORMS || k == TB_NOTHING_AGAINST);
}

/* What was decided of single bolts says how much of the lot is claimed; where none is held or went back, all of it is. */
static tb_rc claimed_part(struct tb_claim_open *out, struct tb_book *b, const struct tb_lot *lot,
                          struct tb_err *err)
{
    const bool alike = !lot->released_in_part && !lot->returned_in_part && !lot->held_in_part;
    struct tb_claimed_part part;
    struct tb_lot all = *lot;
    tb_rc rc;

    if (alike && !lot->unknown)
        return TB_OK;
    if (alike) /* all of it: asked for the kilograms of those of unknown length */
        all.standing = TB_HELD;
    if ((rc = tb_claimed_part_of(&part, b, &all, err)) == TB_OK && part.bolts)
        out->claimed = part;
    return rc;
}

tb_rc tb_lot_claim_read(struct tb_lot_claim *out, struct tb_book *b, const char *ref_or_bolt,
                        const char *today, struct tb_arena *mem, struct tb_err *err)
{
    const struct tb_dispute_step *agreed;
    tb_rc rc = tb_lot_find(&out->lot, b, ref_or_bolt, mem, err);

    if (rc == TB_OK)
        rc = tb_claim_of_lot(&out->claim, b, &out->lot, today, mem, err);
    if (rc != TB_OK)
        return rc;
    tb_claim_open_of(&out->open, &out->claim, &out->lot, today);
    if ((rc = tb_lot_concluded(&out->open.concluded, b, &out->lot, mem, err)) != TB_OK ||
        (rc = claimed_part(&out->open, b, &out->lot, err)) != TB_OK)
        return rc;
    if (nothing_to_tell(out))
        out->open.state = went_back(&out->lot) ? TB_CLAIM_CREDIT : TB_CLAIM_NOTHING;
    if ((out->claim.disputes && !out->claim.open) || !tb_nothing_credited(out->claim.open, &out->lot))
        return TB_OK;
    rc = worth_of_returned(&out->open, b, &out->lot, &out->claim, mem, err);
    if (out->claim.open && (agreed = tb_dispute_last(out->claim.open, TB_AGREED))) {
        out->open.agreed_before = out->claim.open->id;
        out->open.state = state_returned(&out->open, agreed, &out->lot);
        take_due(&out->open, &out->claim, today);
    }
    return rc;
}

tb_rc tb_claim_open_list(struct tb_claim_open **out, size_t *n, struct tb_book *b, const char *today,
                         struct tb_arena *mem, struct tb_err *err)
{
    const char **ref;
    size_t refs, found = 0;
    struct tb_claim_open *list;
    tb_rc rc;

    if (!tb_day_valid(today))
        return tb_fail(err, TB_EINVAL, "'%s' is not a day (YYYY-MM-DD)", today);
    if ((rc = tb_claim_lots(&ref, &refs, b, mem, err)) != TB_OK)
        return rc;
    list = tb_arena_alloc(mem, (refs + 1) * sizeof *list);
    for (size_t i = 0; i < refs && rc == TB_OK; i++) {
        struct tb_lot_claim *c = tb_arena_alloc(mem, sizeof *c); /* what is listed points into it */

        if ((rc = tb_lot_claim_read(c, b, ref[i], today, mem, err)) == TB_OK &&
            c->open.state != TB_CLAIM_NOTHING)
            list[found++] = c->open;
    }
    if (rc != TB_OK)
        return rc;
    if (found)
        qsort(list, found, sizeof *list, by_due);
    *out = list;
    *n = found;
    return TB_OK;
}
