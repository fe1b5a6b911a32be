/* case_asked.c - what the supplier is asked, and who signs for it. */
#include "report/case/case_page.h"

#include <math.h>
#include <string.h>

#define LINE_ROOM 34.0 /* points above the line that is signed on */

/* A line for each: whoever prints the file signs it by hand. */
static void signature(struct case_page *c)
{
    struct page *p = &c->page;
    const char *const below[] = { tb_tr(p->tongue, "Place, day"), tb_tr(p->tongue, "Name, for the buyer"),
                                  tb_tr(p->tongue, "Signature") };
    const struct pen_words how = { .size = 7.5, .width = PAGE_ROOM / 3 - 16 };
    double y;

    tb_page_need(p, LINE_ROOM + 16);
    y = p->y + LINE_ROOM;
    for (size_t i = 0; i < TB_COUNT(below); i++) {
        double x = PAGE_LEFT + (double)i * PAGE_ROOM / 3;

        tb_pen_ink(p->c, PEN_INK);
        tb_pen_line(p->c, x, y, x + PAGE_ROOM / 3 - 16, y, 0.6);
        tb_page_label(p, x, y + 3, &how, below[i]);
    }
    p->y = y + 16;
}

/* What was claimed, as long as nothing else was agreed. */
static void claimed(struct case_page *c, const struct tb_dispute *d)
{
    enum tb_tongue to = c->page.tongue;
    char on[TB_PLAIN], figure[TB_PLAIN];
    struct tb_text amount = { 0 };

    if (!d || !d->steps || isnan(d->step[0].amount))
        return;
    tb_text_addf(&amount, "%s %s", tb_tongue_plain(figure, to, d->step[0].amount, 2), d->step[0].currency);
    tb_page_text(&c->page, tb_page_say(&c->text, tb_tr(to, "You are asked for %s, as claimed on %s."),
                                       amount.s, tb_tongue_date(on, to, d->step[0].day)));
    tb_text_free(&amount);
}

/* Whether a day had passed when the case was made. */
static bool gone(const struct case_page *c, const char *day)
{
    return strncmp(day, c->story->made, TB_DAY_LEN) < 0;
}

/* Goods that went back are credited, where no amount says otherwise; whether that is asked for. */
static bool ask_credit(struct case_page *c, const struct tb_dispute *d)
{
    const struct tb_invoiced *in = &c->story->of.invoiced;
    enum tb_tongue to = c->page.tongue;
    struct tb_arena mem = { 0 };
    double open = tb_credit_awaited(&c->story->of, d, &mem);
    char figure[TB_PLAIN];

    tb_arena_free(&mem);
    if (open < TB_CENT / 2 || tb_case_keeps_back(c->story)) /* what was credited is of the dispute */
        return false;
    tb_page_text(
        &c->page,
        isfinite(open) && *in->currency
            ? tb_page_say(
                  &c->text,
                  tb_tr(to, "Please send us a credit note for the goods that we have sent back: %s %s."),
                  tb_tongue_plain(figure, to, open, 2), in->currency)
            : tb_tr(to, "Please send us a credit note for the goods that we have sent back."));
    return true;
}

/* Records and a joint sample, as far as neither is there: what the supplier answered is not asked for again. */
static void open_questions(struct case_page *c, const struct tb_dispute *d)
{
    const struct tb_dispute_step *answered = d ? tb_dispute_last(d, TB_ANSWERED) : NULL,
                                 *told = d ? tb_dispute_last(d, TB_NOTIFIED) : NULL;
    struct page *p = &c->page;
    char on[TB_PLAIN];

    if (!answered && told && told->due && gone(c, told->due))
        tb_page_text(p, tb_page_say(&c->text,
                                    tb_tr(c->page.tongue, "Your answer was awaited by %s. None has come."),
                                    tb_tongue_date(on, c->page.tongue, told->due)));
    if (answered)
        tb_page_text(
            p,
            tb_page_say(&c->text,
                        tb_tr(c->page.tongue,
                              "Your answer of %s is with us. Please tell us how you propose to settle this."),
                        tb_tongue_date(on, c->page.tongue, answered->day)));
    else
        tb_page_text(
            p,
            tb_tr(c->page.tongue,
                  "Please say what you know of this cloth: the yarn and its maker, the records of this lot, "
                  "any analysis you hold."));
    (void)ask_credit(c, d);
    if (c->story->of.lot.standing != TB_RETURNED && !c->story->of.joints)
        tb_page_text(
            p, tb_tr(c->page.tongue,
                     "Please say whether you agree to a joint sample, drawn from bolts both sides choose, "
                     "sealed before both, and analysed by a laboratory both accept."));
}

/* Of what was agreed, what did not come in yet. */
static void carry_out(struct case_page *c, const struct tb_dispute *d, const struct tb_dispute_step *agreed,
                      bool late)
{
    enum tb_tongue to = c->page.tongue;
    double rest = tb_dispute_awaited(d, agreed);
    bool part = rest < agreed->amount - TB_CENT / 2;
    char on[TB_PLAIN], figure[TB_PLAIN];
    struct tb_text open = { 0 };

    if (part)
        tb_text_addf(&open, "%s %s", tb_tongue_plain(figure, to, rest, 2), agreed->currency);
    if (agreed->due && !late)
        tb_page_text(
            &c->page,
            tb_page_say(&c->text,
                        part ? tb_tr(to, "Please carry out by %s what is open of what was agreed: %s.")
                             : tb_tr(to, "Please carry out by %s what was agreed."),
                        tb_tongue_date(on, to, agreed->due), tb_text_str(&open)));
    else
        tb_page_text(&c->page,
                     part ? tb_page_say(&c->text,
                                        tb_tr(to, "Please carry out what is open of what was agreed: %s."),
                                        open.s)
                          : tb_tr(to, "Please carry out what was agreed."));
    tb_text_free(&open);
}

/* Nothing once all of it came in. A return that has happened is not asked for again: its credit is. */
static void agreed_words(struct case_page *c, const struct tb_dispute *d,
                         const struct tb_dispute_step *agreed)
{
    enum tb_tongue to = c->page.tongue;
    bool done = tb_return_done(agreed, &c->story->of.lot), asked;
    bool late = (!done || !isnan(agreed->amount)) && agreed->due && gone(c, agreed->due);
    char on[TB_PLAIN], figure[TB_PLAIN];

    if (tb_dispute_awaited(d, agreed) <= 0 || tb_credit_came_in(&c->story->of, d)) {
        tb_page_text(&c->page, tb_tr(to, "Nothing: what was agreed came in."));
        return;
    }
    if (late)
        tb_page_text(&c->page,
                     tb_page_say(&c->text,
                                 tb_tr(to, "What was agreed was to be done by %s. It is not done yet."),
                                 tb_tongue_date(on, to, agreed->due)));
    asked = ask_credit(c, d);
    if (done && !asked && !isnan(agreed->amount))
        tb_page_text(
            &c->page,
            tb_page_say(
                &c->text,
                tb_tr(to, "Please send us a credit note for the goods that we have sent back: %s %s."),
                tb_tongue_plain(figure, to, tb_dispute_awaited(d, agreed), 2), agreed->currency));
    if (!done && !(asked && agreed->remedy == TB_CREDIT && c->story->of.lot.standing == TB_RETURNED))
        carry_out(c, d, agreed, late);
}

/* What was agreed, and not what went before it; nothing once that came in or the dispute was closed. */
static void still_open(struct case_page *c)
{
    const struct story *s = c->story;
    char on[TB_PLAIN];
    const struct tb_dispute *d = s->disputes ? &s->dispute[s->disputes - 1] : NULL;
    const struct tb_dispute_step *closed = d ? tb_dispute_last(d, TB_CLOSED) : NULL,
                                 *agreed = d ? tb_dispute_last(d, TB_AGREED) : NULL;

    if (closed)
        tb_page_text(&c->page,
                     tb_page_say(&c->text, tb_tr(c->page.tongue, "Nothing: this dispute was closed on %s."),
                                 tb_tongue_date(on, c->page.tongue, closed->day)));
    else if (!d && s->of.concluded.kind == TB_CONFORMS)
        tb_page_text(&c->page, tb_tr(c->page.tongue, "Nothing: the cloth was found to be as declared."));
    else if (!d && s->of.concluded.kind == TB_NOTHING_AGAINST)
        tb_page_text(&c->page, tb_tr(c->page.tongue, "Nothing: what was seen fits the declaration."));
    else if (agreed)
        agreed_words(c, d, agreed);
    else {
        claimed(c, d);
        open_questions(c, d);
    }
}

/* In the words of the buyer, else by how far the dispute is. */
void tb_case_asked(struct case_page *c)
{
    struct page *p = &c->page;
    const char *words = c->story->asked, *day = c->story->answer_by;
    char by[TB_PLAIN];

    tb_page_heading(p, tb_tr(p->tongue, "What is asked"));
    if (words[0])
        tb_page_text(p, words);
    else
        still_open(c);
    if (day[0])
        tb_page_pair(p, tb_tr(p->tongue, "Answer asked by"), tb_tongue_date(by, p->tongue, day));
    signature(c);
}
