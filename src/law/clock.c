/*
 * clock.c - the claim clock: by when notice is due under the terms that are chosen.
 *
 * Which term applies is not decided here: of those that were chosen the earliest counts, since who meets that one meets
 * them all.
 */
#include "tenterbook/claim.h"

#include <assert.h>
#include <string.h>

#define LAST_DAY "2999-12-31" /* that can be written */

static tb_rc check_days(const struct tb_claim_question *q, struct tb_err *err)
{
    if (!tb_day_valid(q->arrived))
        return tb_fail(err, TB_EINVAL,
                       "the day of arrival, '%s', is not a valid date; write it as YYYY-MM-DD",
                       q->arrived ? q->arrived : "");
    if (!tb_day_valid(q->today))
        return tb_fail(err, TB_EINVAL, "'%s' is not a valid date; write it as YYYY-MM-DD",
                       q->today ? q->today : "");
    if (q->found && !tb_day_valid(q->found))
        return tb_fail(err, TB_EINVAL,
                       "the day of discovery, '%s', is not a valid date; write it as YYYY-MM-DD", q->found);
    if (q->found && strcmp(q->found, q->arrived) < 0)
        return tb_fail(err, TB_EINVAL, "found on %s, but the goods arrived on %s", q->found, q->arrived);
    return TB_OK;
}

static bool in_range(int days)
{
    return days == TB_CLAIM_NO_TERM || (days >= 0 && days <= TB_CLAIM_DAYS_MOST);
}

static tb_rc check_term(const struct tb_claim_term *t, struct tb_err *err)
{
    if (!in_range(t->open_days) || !in_range(t->hidden_days))
        return tb_fail(err, TB_EINVAL, "%s: a term is 0 to %d days", t->name, TB_CLAIM_DAYS_MOST);
    if (t->last_months != TB_CLAIM_NO_TERM && (t->last_months < 1 || t->last_months > 1200))
        return tb_fail(err, TB_EINVAL, "%s: the last day lies 1 to 1200 months after arrival", t->name);
    return TB_OK;
}

/* 0 Sunday .. 6 Saturday; day 0, 1970-01-01, was a Thursday. */
static int week_day(long number)
{
    return (int)(((number + 4) % 7 + 7) % 7);
}

static bool rests(long number, enum tb_weekend w)
{
    int d = week_day(number);

    return w == TB_WEEKEND_SAT_SUN ? d == 0 || d == 6 : w == TB_WEEKEND_FRI_SAT ? d == 5 || d == 6 : d == 0;
}

/* The earlier day stays; of two equal ones the row named first, so that the answer does not depend on chance. */
static void earlier(struct tb_claim_due *due, const char *day, size_t by)
{
    if (due->day[0] && strcmp(due->day, day) <= 0)
        return;
    memcpy(due->day, day, TB_DAY_LEN + 1);
    due->by = by;
}

/*
 * A term from discovery runs only once something was found; rows that count from arrival run in any case, for then a
 * claim may be lost before anybody knows of it.
 */
static void count_term(struct tb_claim_clock *out, const struct tb_claim_question *q, size_t i)
{
    const struct tb_claim_term *t = &q->term[i];
    const char *from = t->hidden_from_arrival ? q->arrived : q->found;
    char day[TB_DAY_LEN + 1];

    assert(q->arrived);
    if (t->open_days != TB_CLAIM_NO_TERM) {
        tb_day_after(day, q->arrived, t->open_days, t->working, q->weekend);
        earlier(&out->arrival, day, i);
    }
    if (t->hidden_days != TB_CLAIM_NO_TERM && from) {
        tb_day_after(day, from, t->hidden_days, t->working, q->weekend);
        earlier(&out->discovery, day, i);
    }
    if (t->last_months != TB_CLAIM_NO_TERM) {
        tb_day_months_after(day, q->arrived, t->last_months);
        earlier(&out->last, day, i);
    }
    if (t->open_days == TB_CLAIM_NO_TERM && t->hidden_days == TB_CLAIM_NO_TERM)
        out->undated++;
    if (t->before_cutting && !out->before_cutting) {
        out->before_cutting = true;
        out->cutting_by = i;
    }
}

/* What is left of a term, and the working day on which a letter is best sent. */
static void finish(struct tb_claim_due *due, const struct tb_claim_question *q)
{
    long end, today = tb_day_number(q->today), start = tb_day_number(q->arrived), by;

    if (!due->day[0])
        return;
    end = tb_day_number(due->day);
    due->left = end - today;
    for (long d = today + 1; d <= end; d++)
        due->work_left += !rests(d, q->weekend);
    for (by = end; by > start && rests(by, q->weekend); by--)
        ;
    tb_day_from_number(due->work_by, by);
}

tb_rc tb_claim_clock(struct tb_claim_clock *out, const struct tb_claim_question *q, struct tb_err *err)
{
    struct tb_claim_clock c = { 0 };
    tb_rc rc = check_days(q, err);

    for (size_t i = 0; i < q->n && rc == TB_OK; i++)
        rc = check_term(&q->term[i], err);
    if (rc != TB_OK)
        return rc;
    for (size_t i = 0; i < q->n; i++)
        count_term(&c, q, i);
    finish(&c.arrival, q);
    finish(&c.discovery, q);
    finish(&c.last, q);
    c.first = c.arrival;
    if (c.discovery.day[0] && (!c.first.day[0] || strcmp(c.discovery.day, c.first.day) < 0))
        c.first = c.discovery;
    *out = c;
    return TB_OK;
}

/* --- days ------------------------------------------------------------------------------------------------------ */

bool tb_weekend_read(enum tb_weekend *out, const char *text)
{
    static const char *const key[] = { "sat-sun", "fri-sat", "sun" };

    for (size_t i = 0; i < TB_COUNT(key); i++)
        if (strcmp(key[i], text) == 0) {
            *out = (enum tb_weekend)i;
            return true;
        }
    return false;
}

int tb_day_of_week(const char *day)
{
    return week_day(tb_day_number(day));
}

void tb_day_after(char out[TB_DAY_LEN + 1], const char *day, int n, bool working, enum tb_weekend weekend)
{
    long d = tb_day_number(day), last = tb_day_number(LAST_DAY);

    if (!working)
        d += n;
    while (working && n > 0)
        n -= !rests(++d, weekend);
    tb_day_from_number(out, d < last ? d : last);
}

/* The last day of a shorter month stands for a day it does not have: 31 January and one month is 28 February. */
void tb_day_months_after(char out[TB_DAY_LEN + 1], const char *day, int n)
{
    int month = (day[5] - '0') * 10 + day[6] - '0', date = (day[8] - '0') * 10 + day[9] - '0', year = 0;

    for (int i = 0; i < 4; i++)
        year = year * 10 + day[i] - '0';
    month += year * 12 + n - 1;
    if (month / 12 > 2999)
        memcpy(out, LAST_DAY, sizeof LAST_DAY);
    else
        while (!tb_day_from_parts(out, month / 12, month % 12 + 1, date))
            date--;
}
