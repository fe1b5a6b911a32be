/* notice_asked.c - how the goods stand, what they are worth, what is asked for, and that rights are reserved. */
#include "report/notice/notice_impl.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define CUTS_NAMED 5

/* --- the goods -------------------------------------------------------------------------------------------------- */

static const char *standing(enum tb_tongue to, enum tb_standing_kind s, bool used)
{
    switch (s) {
    case TB_HELD:
        return used ? tb_tr(to, "We hold back what is left of the goods and use no more of it.")
                    : tb_tr(to, "We hold the goods back and do not use them.");
    case TB_RELEASED:
        return tb_tr(to, "We have released the goods for use.");
    case TB_RELABELLED:
        return tb_tr(to, "We have labelled the goods anew.");
    case TB_RETURNED:
        return tb_tr(to, "We have sent the goods back to you.");
    default:
        return tb_tr(to, "Nothing has been decided about the goods yet.");
    }
}

/* One sentence more. */
static void sentence(struct tb_text *t, struct tb_notice *n, const char *s)
{
    const char *before = t->n ? tb_notice_put(n, "%s", t->s) : NULL;

    tb_text_clear(t);
    tb_text_add(t, before ? tb_notice_two(n, before, s) : s);
}

/* Bolts of which nothing was decided by itself stand as their lot. */
const char *tb_notice_in_parts(struct tb_notice *n, const struct tb_lot *l)
{
    int64_t rest = l->bolts - l->held_in_part - l->released_in_part - l->returned_in_part;
    int64_t held = l->held_in_part + (l->standing == TB_HELD ? rest : 0),
            released = l->released_in_part + (l->standing == TB_RELEASED ? rest : 0),
            returned = l->returned_in_part + (l->standing == TB_RETURNED ? rest : 0);

    if (!l->released_in_part && !l->returned_in_part && !l->held_in_part)
        return NULL;
    return tb_notice_put(
        n, tb_tr(n->tongue, "Bolts held back: %lld; released for use: %lld; sent back to you: %lld."),
        (long long)held, (long long)released, (long long)returned);
}

/* How much, where that was said; that it was before anything was found is what a reader asks next. */
static const char *one_cut(struct tb_notice *n, const struct tb_claim *c, const struct tb_bolt_use *u)
{
    enum tb_tongue to = n->tongue;
    const char *on = tb_notice_day(n, u->used_at);
    bool before = c->found_on && strncmp(u->used_at, c->found_on, TB_DAY_LEN) < 0;
    const char *said = isnan(u->metres)
                           ? tb_notice_put(n, tb_tr(to, "Bolt %s was cut into on %s."), u->bolt_number, on)
                           : tb_notice_put(n, tb_tr(to, "Of bolt %s, %s m were cut on %s."), u->bolt_number,
                                           tb_notice_figure(n, u->metres, 2), on);

    return before ? tb_notice_two(n, said, tb_tr(to, "That was before the difference was found.")) : said;
}

static void cuts(struct tb_text *t, struct tb_notice *n, const struct tb_claim *c)
{
    if (!c->uses)
        sentence(t, n, tb_tr(n->tongue, "No bolt is recorded as used."));
    for (size_t i = 0; i < c->uses && i < CUTS_NAMED; i++)
        sentence(t, n, one_cut(n, c, &c->use[i]));
    if (c->uses > CUTS_NAMED)
        sentence(t, n, tb_notice_put(n, tb_tr(n->tongue, "So were others; cuts in all: %zu."), c->uses));
}

/* How the goods stand decides what can still be asked: cut cloth is not returned. */
static const char *state_of_goods(struct tb_notice *n, const struct notice_facts *f)
{
    const struct tb_lot *l = &f->of.lot;
    const char *parts = tb_notice_in_parts(n, l);
    struct tb_text t = { 0 }, back = { 0 };

    sentence(&t, n, parts ? parts : standing(n->tongue, l->standing, f->of.claim.uses > 0));
    tb_went_back_words(&back, n->tongue, &f->of, true);
    if (back.n)
        sentence(&t, n, back.s);
    tb_text_free(&back);
    cuts(&t, n, &f->of.claim);
    if (f->of.claim.found_on)
        sentence(&t, n,
                 tb_notice_put(n,
                               f->of.concluded.kind == TB_DOES_NOT
                                   ? tb_tr(n->tongue, "The difference was found on %s.")
                                   : tb_tr(n->tongue, "What raises the doubt was seen on %s."),
                               tb_notice_day(n, f->of.claim.found_on)));
    return tb_notice_take(n, &t);
}

/* --- the amount ------------------------------------------------------------------------------------------------- */

static const struct tb_dispute_step *step(const struct notice_facts *f, enum tb_step_kind kind)
{
    return f->dispute ? tb_dispute_last(f->dispute, kind) : NULL;
}

static const char *remedy_name(enum tb_tongue to, enum tb_remedy_kind r)
{
    switch (r) {
    case TB_CREDIT:
        return tb_tr(to, "a credit note");
    case TB_RETURN:
        return tb_tr(to, "return of the goods");
    case TB_RELABEL:
        return tb_tr(to, "new labels");
    default:
        return tb_tr(to, "goods that are as declared instead");
    }
}

/* Only figures that multiply, in the unit of the invoice: a price and a quantity that is known of all of it. */
static void value(struct tb_text *t, struct tb_notice *n, const struct tb_invoiced *in)
{
    const char *money = in->currency, *price, *quantity, *all;

    if (isnan(in->value) || !*money)
        return;
    price = tb_notice_figure(n, in->price, tb_price_places(in->price));
    quantity = tb_notice_figure(n, in->quantity, 2);
    all = tb_notice_figure(n, in->value, 2);
    sentence(t, n,
             strcmp(in->unit, "m") == 0
                 ? tb_notice_put(n, tb_tr(n->tongue, "At your price of %s %s a metre, %s m come to %s %s."),
                                 price, money, quantity, all, money)
                 : tb_notice_put(n, tb_tr(n->tongue, "At your price of %s %s per %s, %s %s come to %s %s."),
                                 price, money, in->unit, quantity, in->unit, all, money));
}

static void agreed_words(struct tb_text *t, struct tb_notice *n, const struct tb_dispute_step *s)
{
    const char *on = tb_notice_day(n, s->day), *what = remedy_name(n->tongue, s->remedy);

    sentence(t, n,
             isnan(s->amount) ? tb_notice_put(n, tb_tr(n->tongue, "On %s it was agreed: %s."), on, what)
                              : tb_notice_put(n, tb_tr(n->tongue, "On %s it was agreed: %s, %s %s."), on,
                                              what, tb_notice_figure(n, s->amount, 2), s->currency));
}

/* What came in, step by step, and what of the amount is open in its money. */
static void recovered(struct tb_text *t, struct tb_notice *n, const struct tb_dispute *d,
                      const struct tb_dispute_step *of)
{
    bool any = false;

    for (size_t i = 0; d && i < d->steps; i++) {
        const struct tb_dispute_step *s = &d->step[i];

        if (s->step != TB_RECOVERED || isnan(s->amount))
            continue;
        any = true;
        sentence(t, n,
                 tb_notice_put(n, tb_tr(n->tongue, "On %s %s %s came in."), tb_notice_day(n, s->day),
                               tb_notice_figure(n, s->amount, 2), s->currency));
    }
    if (any && of && !isnan(of->amount) && tb_dispute_awaited(d, of) > 0)
        sentence(t, n,
                 tb_notice_put(n, tb_tr(n->tongue, "%s %s is still open."),
                               tb_notice_figure(n, tb_dispute_awaited(d, of), 2), of->currency));
}

static void amount(struct tb_notice *n, const struct notice_facts *f)
{
    const struct tb_dispute_step *opened = step(f, TB_OPENED), *agreed = step(f, TB_AGREED);
    struct tb_text t = { 0 };

    value(&t, n, &f->of.invoiced);
    if (t.n)
        tb_went_back_value_words(&t, n->tongue, &f->of, true);
    if (opened && !isnan(opened->amount) && !agreed)
        sentence(&t, n,
                 tb_notice_put(n, tb_tr(n->tongue, "We claim %s %s."), tb_notice_figure(n, opened->amount, 2),
                               opened->currency));
    if (agreed)
        agreed_words(&t, n, agreed);
    recovered(&t, n, f->dispute, agreed ? agreed : opened);
    if (t.n)
        tb_notice_after(n, NOTICE_TEXT, NULL, tb_notice_take(n, &t));
}

/* --- what is asked ---------------------------------------------------------------------------------------------- */

static const char *remedy_asked(enum tb_tongue to, enum tb_remedy_kind r)
{
    switch (r) {
    case TB_CREDIT:
        return tb_tr(to, "We ask for a credit note.");
    case TB_RETURN:
        return tb_tr(to, "We ask you to take the goods back.");
    case TB_RELABEL:
        return tb_tr(to, "We ask you to agree that the goods are labelled as what they are.");
    default:
        return tb_tr(to, "We ask for goods that are as declared instead.");
    }
}

static void ask(struct tb_notice *n, const char *text)
{
    tb_notice_after(n, NOTICE_ITEM, NULL, text);
}

/* A sample that was dealt is not asked for again, what the supplier finds in its share is; none is offered that cannot be dealt. */
static void joint_sample(struct tb_notice *n, const struct notice_facts *f)
{
    const struct tb_joint_sample *j = f->of.joints ? &f->of.joint[f->of.joints - 1] : NULL;

    if (!j && f->can_share)
        ask(n, tb_tr(n->tongue,
                     "Please take part in a joint sample: retained swatches are dealt at random to you, to a "
                     "laboratory that both sides name, and to us."));
    else if (j)
        ask(n, tb_notice_put(n,
                             tb_trn(n->tongue,
                                    "The joint sample was dealt on %s by the seed %s, %lld swatch for you. "
                                    "Please tell us what is found in it.",
                                    "The joint sample was dealt on %s by the seed %s, %lld swatches for you. "
                                    "Please tell us what is found in them.",
                                    (unsigned long)j->each_one),
                             tb_notice_day(n, j->dealt_at), j->seed, (long long)j->each_one));
}

/* Goods that went back are credited, where no amount says otherwise; whether that was asked for. */
static bool ask_credit(struct tb_notice *n, const struct notice_facts *f)
{
    double open = tb_credit_awaited(&f->of, f->dispute, &n->mem);

    if (open < TB_CENT / 2)
        return false;
    ask(n, isfinite(open) && *f->of.invoiced.currency
               ? tb_notice_put(
                     n,
                     tb_tr(n->tongue,
                           "Please send us a credit note for the goods that we have sent back: %s %s."),
                     tb_notice_figure(n, open, 2), f->of.invoiced.currency)
               : tb_tr(n->tongue, "Please send us a credit note for the goods that we have sent back."));
    return true;
}

/* Of what was agreed, what did not come in yet. */
static void ask_to_carry_out(struct tb_notice *n, const struct notice_facts *f,
                             const struct tb_dispute_step *agreed)
{
    enum tb_tongue to = n->tongue;
    double rest = tb_dispute_awaited(f->dispute, agreed);
    const char *open, *due = f->late ? f->answer_by : agreed->due;

    if (isnan(rest) || rest > agreed->amount - TB_CENT / 2) {
        ask(n, due ? tb_notice_put(n, tb_tr(to, "Please carry out by %s what was agreed."),
                                   tb_notice_day(n, due))
                   : tb_tr(to, "Please carry out what was agreed."));
        return;
    }
    open = tb_notice_put(n, "%s %s", tb_notice_figure(n, rest, 2), agreed->currency);
    ask(n, due ? tb_notice_put(n, tb_tr(to, "Please carry out by %s what is open of what was agreed: %s."),
                               tb_notice_day(n, due), open)
               : tb_notice_put(n, tb_tr(to, "Please carry out what is open of what was agreed: %s."), open));
}

/* Nothing once all of it came in. A return that has happened is not asked for again: its credit is. */
static void ask_agreed(struct tb_notice *n, const struct notice_facts *f,
                       const struct tb_dispute_step *agreed)
{
    enum tb_tongue to = n->tongue;
    bool done = tb_return_done(agreed, &f->of.lot), asked;

    if (tb_dispute_awaited(f->dispute, agreed) <= 0) {
        ask(n, tb_tr(to, "Nothing more of what was agreed: it came in."));
        return;
    }
    if (f->late)
        ask(n, tb_notice_put(n, tb_tr(to, "What was agreed was to be done by %s. It is not done yet."),
                             tb_notice_day(n, agreed->due)));
    asked = ask_credit(n, f);
    if (done && !asked && !isnan(agreed->amount))
        ask(n, tb_notice_put(
                   n, tb_tr(to, "Please send us a credit note for the goods that we have sent back: %s %s."),
                   tb_notice_figure(n, tb_dispute_awaited(f->dispute, agreed), 2), agreed->currency));
    if (!done && !(asked && agreed->remedy == TB_CREDIT && f->of.lot.standing == TB_RETURNED))
        ask_to_carry_out(n, f, agreed);
}

/* Goods that went back are not offered once more: what follows from it is asked for. */
static void ask_remedy(struct tb_notice *n, const struct notice_facts *f)
{
    enum tb_remedy_kind remedy = f->plan->remedy;
    bool back = f->of.lot.standing == TB_RETURNED;
    bool credit = (back && remedy == TB_RETURN) || remedy == TB_REMEDY_NONE || remedy == TB_CREDIT;

    if (!back || credit)
        (void)ask_credit(n, f);
    if (remedy != TB_REMEDY_NONE && !(back && credit))
        ask(n, remedy_asked(n->tongue, remedy));
}

/* An answer that came is not asked for again, and nothing is that was agreed. */
static void still_open(struct tb_notice *n, const struct notice_facts *f)
{
    const struct tb_dispute_step *answered = step(f, TB_ANSWERED), *agreed = step(f, TB_AGREED),
                                 *told = step(f, TB_NOTIFIED);
    bool late = told && told->due && strcmp(told->due, f->plan->day) < 0;

    if (agreed) {
        ask_agreed(n, f, agreed);
        return;
    }
    if (answered)
        ask(n, tb_notice_put(n,
                             tb_tr(n->tongue,
                                   "Your answer of %s is with us. Please tell us how you propose to settle "
                                   "this."),
                             tb_notice_day(n, answered->day)));
    else if (late)
        ask(n, tb_notice_put(n, tb_tr(n->tongue, "Your answer was awaited by %s. None has come."),
                             tb_notice_day(n, told->due)));
    if (!answered)
        ask(n,
            tb_tr(n->tongue,
                  "Please send us your records of this lot: composition, yarn and dye lots, test reports."));
    joint_sample(n, f);
    ask_remedy(n, f);
}

static void closing(struct tb_notice *n, const struct notice_facts *f)
{
    enum tb_tongue to = n->tongue;
    const char *by = f->plan->by && *f->plan->by ? f->plan->by : "";

    tb_notice_after(
        n, NOTICE_TEXT, NULL,
        tb_tr(to,
              "We reserve all our rights under the contract and the law. That we receive, examine, hold or "
              "pay for the goods does not mean that we accept them."));
    tb_notice_after(n, NOTICE_SIGN, tb_tr(to, "Yours faithfully,"),
                    *by ? tb_notice_put(n, "%s\n%s", by, n->from_name) : n->from_name);
    if (f->of.burns || f->of.tests)
        tb_notice_after(
            n, NOTICE_SMALL, NULL,
            tb_tr(to,
                  "A burn shows kinds of fibre, not percentages, and some fibres burn alike; a laboratory "
                  "decides shares. What is said here is true of the swatches named. You can check the case "
                  "file with every record yourselves."));
}

void tb_notice_asked(struct tb_notice *n, const struct notice_facts *f)
{
    const struct tb_notice_plan *plan = f->plan;

    tb_notice_after(n, NOTICE_HEADING, NULL, tb_tr(n->tongue, "The goods now"));
    tb_notice_after(n, NOTICE_TEXT, NULL, state_of_goods(n, f));
    amount(n, f);
    tb_notice_after(n, NOTICE_HEADING, NULL, tb_tr(n->tongue, "What we ask for"));
    if (plan->asked && *plan->asked) {
        tb_notice_after(n, NOTICE_TEXT, NULL, plan->asked);
        if (plan->remedy != TB_REMEDY_NONE)
            ask_remedy(n, f);
    } else {
        still_open(n, f);
    }
    if (f->answer_by && !f->late)
        tb_notice_after(
            n, NOTICE_TEXT, NULL,
            tb_notice_put(n, tb_tr(n->tongue, "Please answer by %s."), tb_notice_day(n, f->answer_by)));
    closing(n, f);
}
