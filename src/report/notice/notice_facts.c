/* notice_facts.c - what the book holds of a lot, and whether there is enough of it for a notice. */
#include "report/notice/notice_impl.h"
#include "tenterbook/bench.h"
#include "tenterbook/paper_verdict.h"
#include "tenterbook/sampling.h"
#include "tenterbook/setting.h"

#include <math.h>
#include <string.h>

/* Day of the last notice that was sent until that day; NULL: none was. */
static const char *told_before(const struct tb_claim *c, const char *day)
{
    const char *told = NULL;

    for (size_t i = 0; i < c->disputes; i++) {
        const struct tb_dispute_step *s = tb_dispute_last(&c->dispute[i], TB_NOTIFIED);

        if (s && strcmp(s->day, day) <= 0)
            told = s->day;
    }
    return told;
}

/* A joint sample is dealt from swatches that are kept, of goods that are still here to be argued about. */
static tb_rc find_shares(struct notice_facts *f, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_swatch *kept;
    size_t n;
    tb_rc rc = tb_retained_list(&kept, &n, b, f->of.lot.id, mem, err);

    for (size_t i = 0; rc == TB_OK && i < n; i++) {
        size_t alike = 0;

        for (size_t k = 0; k < n; k++)
            alike += kept[k].part == kept[i].part;
        f->can_share = f->can_share || alike >= TB_DEAL_LEAST;
    }
    f->can_share = f->can_share && f->of.lot.standing != TB_RETURNED;
    return rc;
}

/* One state of the book: tb_notice_make looks at it while this reads. */
static tb_rc load(struct notice_facts *f, struct tb_book *b, const struct tb_notice_plan *plan,
                  struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc;

    f->plan = plan;
    f->site = tb_book_site(b);
    if ((rc = tb_lot_find(&f->of.lot, b, plan->lot, mem, err)) != TB_OK ||
        (rc = tb_lot_story_lists(&f->of, b, mem, err)) != TB_OK ||
        (rc = tb_claim_of_lot(&f->of.claim, b, &f->of.lot, tb_notice_today(plan), mem, err)) != TB_OK ||
        (rc = tb_delivery_find(&f->delivery, b, f->of.lot.delivery_ref, mem, err)) != TB_OK ||
        (rc = tb_analysis_list(&f->analysis, &f->analyses, b, f->of.lot.id, mem, err)) != TB_OK)
        return rc;
    if ((rc = tb_address_of(&f->from, b, NULL, mem, err)) != TB_OK ||
        (rc = tb_address_of(&f->to, b, f->of.lot.supplier, mem, err)) != TB_OK)
        return rc;
    f->tongue = tb_tongue_of(plan->language ? plan->language : f->to.language);
    f->dispute = f->of.claim.open;
    f->told = told_before(&f->of.claim, plan->day);
    return find_shares(f, b, mem, err);
}

const char *tb_notice_their_words(const struct notice_facts *f)
{
    for (size_t i = f->of.declareds; i > 0; i--)
        if (f->of.declared[i - 1].origin != TB_ORIGIN_RELABEL)
            return f->of.declared[i - 1].text;
    return "";
}

const char *tb_notice_today(const struct tb_notice_plan *p)
{
    return p->today ? p->today : p->day;
}

static void later(const char **last, const char *day)
{
    if (day && *day && (!*last || strncmp(day, *last, TB_DAY_LEN) > 0))
        *last = day;
}

/* The last day, or moment, of what the letter names: what was found, and what was done with the goods and about them. */
static const char *last_named(const struct notice_facts *f)
{
    const struct tb_lot_story *of = &f->of;
    const char *last = NULL;

    for (size_t i = 0; i < of->burns; i++)
        later(&last, of->burn[i].burned_at);
    for (size_t i = 0; i < of->tests; i++)
        later(&last, of->test[i].tested_at);
    for (size_t i = 0; i < f->analyses; i++)
        later(&last, f->analysis[i].analysed_on);
    for (size_t i = 0; i < of->claim.uses; i++)
        later(&last, of->claim.use[i].used_at);
    for (size_t i = 0; i < of->joints; i++)
        later(&last, of->joint[i].dealt_at);
    for (size_t i = 0; f->dispute && i < f->dispute->steps; i++)
        later(&last, f->dispute->step[i].day);
    for (size_t i = 0; i < of->standings; i++)
        if (!of->standing[i].gone && of->standing[i].standing == of->lot.standing)
            later(&last, of->standing[i].settled_at);
    later(&last, of->claim.found_on);
    return last;
}

/* A letter of a day before what it tells convicts who sends it; one of a day to come was not sent. */
static tb_rc check_named(const struct notice_facts *f, const struct tb_notice_plan *p, struct tb_err *err)
{
    const char *last = last_named(f);

    if (!last || strncmp(last, p->day, TB_DAY_LEN) <= 0)
        return TB_OK;
    return tb_about(
        err,
        tb_fail(err, TB_EINVAL,
                "a notice of %s would tell what was found or done on %.10s: give it that day or a "
                "later one",
                p->day, last),
        "on");
}

/* Before anything is read: what is wrong with the question does not depend on the lot. */
static tb_rc check_plan(const struct tb_notice_plan *p, struct tb_err *err)
{
    int tongue;

    if (!p->day || !tb_day_valid(p->day))
        return tb_fail(err, TB_EINVAL,
                       "the day of the notice, '%s', is not a valid date; write it like 2026-03-31",
                       p->day ? p->day : "");
    if (strcmp(p->day, tb_notice_today(p)) > 0)
        return tb_about(err,
                        tb_fail(err, TB_EINVAL, "a notice of %s would be dated after today, %s", p->day,
                                tb_notice_today(p)),
                        "on");
    if (p->answer_by && !tb_day_valid(p->answer_by))
        return tb_fail(err, TB_EINVAL,
                       "the day of the answer, '%s', is not a valid date; write it like 2026-03-31",
                       p->answer_by);
    if (p->answer_by && strcmp(p->answer_by, p->day) < 0)
        return tb_fail(err, TB_EINVAL, "the answer is asked by %s, which is before the notice of %s",
                       p->answer_by, p->day);
    if (p->asked && strlen(p->asked) > TB_NOTICE_ASK_MOST)
        return tb_fail(err, TB_EINVAL, "what is asked takes %zu bytes; a notice has room for %d",
                       strlen(p->asked), TB_NOTICE_ASK_MOST);
    if (p->language && !tb_word_find(&tongue, &tb_tongue_words, p->language))
        return tb_about(err, tb_word_read(&tongue, &tb_tongue_words, p->language, err), "language");
    return TB_OK;
}

/* A notice without particulars may count as none, and one against the evidence is worse than none. */
static tb_rc check_particulars(const struct notice_facts *f, const struct tb_notice_plan *plan,
                               struct tb_err *err)
{
    const char *ref = f->of.lot.ref;
    const struct tb_concluded *c = &f->of.concluded;

    if (strcmp(plan->day, f->of.lot.arrived) < 0)
        return tb_fail(err, TB_EINVAL, "a notice of %s comes before the goods of lot %s, which arrived on %s",
                       plan->day, ref, f->of.lot.arrived);
    if (!*tb_notice_their_words(f))
        return tb_fail(err, TB_EREFUSED,
                       "lot %s has no declaration: there is nothing the goods could differ from", ref);
    if (!f->of.burns && !f->of.tests && !f->analyses)
        return tb_fail(
            err, TB_EREFUSED,
            "lot %s was neither burnt, tested nor analysed: a notice without particulars may count as none",
            ref);
    if (c->kind == TB_CONFORMS)
        return tb_fail(
            err, TB_EREFUSED,
            "a laboratory found that lot %s conforms to its declaration: there is nothing to give notice of",
            ref);
    if (c->kind == TB_NOTHING_AGAINST)
        return tb_fail(err, TB_EREFUSED,
                       "what was seen of lot %s fits its declaration: there is nothing to give notice of",
                       ref);
    return TB_OK;
}

/* What is told of the bench has to follow from what is known; where a laboratory decides, none of it is told. */
static tb_rc check_verdict(const struct notice_facts *f, struct tb_book *b, struct tb_arena *mem,
                           struct tb_err *err)
{
    struct tb_paper_verdict p = { .v = { .observations = 0 } };
    tb_rc rc =
        f->of.concluded.by == TB_BY_LABORATORY ? TB_OK : tb_paper_verdict(&p, b, &f->of.lot, 0, mem, err);

    tb_lot_verdict_free(&p.v);
    return rc;
}

/* A claim that is settled is not made again by a slip of the hand. */
static tb_rc check_settled(const struct notice_facts *f, const struct tb_notice_plan *plan,
                           struct tb_err *err)
{
    const struct tb_claim *c = &f->of.claim;
    struct tb_claim_open open;

    if (plan->again || !c->disputes)
        return TB_OK;
    tb_claim_open_of(&open, c, &f->of.lot, tb_notice_today(plan));
    if (!c->open)
        return tb_about(err,
                        tb_fail(err, TB_EREFUSED,
                                "the dispute about lot %s was closed on %s; a notice now claims it anew",
                                f->of.lot.ref, tb_dispute_last(&c->dispute[c->disputes - 1], TB_CLOSED)->day),
                        "again");
    if (open.state == TB_CLAIM_CLOSE || tb_credit_came_in(&f->of, c->open))
        return tb_about(err,
                        tb_fail(err, TB_EREFUSED,
                                "all that was agreed about lot %s has come in; a notice now claims more",
                                f->of.lot.ref),
                        "again");
    return TB_OK;
}

/* Without a day that was asked for, the site's usual days; what was agreed has its own, unless that is gone. */
static tb_rc take_answer_day(struct notice_facts *f, struct tb_book *b, const struct tb_notice_plan *plan,
                             struct tb_arena *mem, struct tb_err *err)
{
    const struct tb_dispute_step *agreed = f->dispute ? tb_dispute_last(f->dispute, TB_AGREED) : NULL;
    char day[TB_DAY_LEN + 1];
    double days;
    bool back; /* as agreed: its credit is asked for */
    tb_rc rc;

    back = agreed && tb_return_done(agreed, &f->of.lot);
    f->late = agreed && (!back || !isnan(agreed->amount)) && agreed->due &&
              strcmp(agreed->due, plan->day) < 0 && !(tb_dispute_awaited(f->dispute, agreed) <= 0);
    f->answer_by = plan->answer_by;
    if (!f->answer_by && back && !f->late && !isnan(agreed->amount))
        f->answer_by = agreed->due;
    if (f->answer_by || (agreed && !f->late && !back))
        return TB_OK;
    if ((rc = tb_setting_number(&days, b, "answer_days", TB_BOOK_NOW, err)) != TB_OK)
        return rc;
    tb_day_after(day, plan->day, (int)days, false, TB_WEEKEND_SAT_SUN);
    f->answer_by = tb_arena_strdup(mem, day);
    return TB_OK;
}

/* The plan, then the lot, then whether there is enough for a notice. */
tb_rc tb_notice_read(struct notice_facts *f, struct tb_book *b, const struct tb_notice_plan *plan,
                     struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = check_plan(plan, err);

    if (rc == TB_OK)
        rc = load(f, b, plan, mem, err);
    if (rc == TB_OK)
        rc = check_particulars(f, plan, err);
    if (rc == TB_OK)
        rc = check_named(f, plan, err);
    if (rc == TB_OK)
        rc = check_settled(f, plan, err);
    if (rc == TB_OK)
        rc = take_answer_day(f, b, plan, mem, err);
    return rc == TB_OK ? check_verdict(f, b, mem, err) : rc;
}
