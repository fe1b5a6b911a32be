/* month_months.c - month by month: the figures behind the chart of the trend. */
#include "report/month/month_impl.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct tb_column columns[] = {
    { "month", N_("Month of arrival"), NULL, TB_COL_TEXT, 0, 12, false, false, TB_FROM_HAND },
    { "lots", N_("Lots"), NULL, TB_COL_COUNT, 0, 9, false, false, TB_FROM_HAND },
    { "looked_at", N_("Lots looked at"), NULL, TB_COL_COUNT, 0, 9, false, false, TB_FROM_HAND },
    { "conforming", N_("Conform"), NULL, TB_COL_COUNT, 0, 9, false, false, TB_FROM_HAND },
    { "nothing_against", N_("No finding against"), NULL, TB_COL_COUNT, 0, 9, false, false, TB_FROM_HAND },
    { "not_conforming", N_("Do not conform"), NULL, TB_COL_COUNT, 0, 10, false, false, TB_FROM_HAND },
    { "open", N_("Open"), NULL, TB_COL_COUNT, 0, 9, false, false, TB_FROM_HAND },
    { "against", N_("Open, spoken against"), NULL, TB_COL_COUNT, 0, 10, false, false, TB_FROM_HAND },
    { "share", N_("Share that does not conform"), NULL, TB_COL_SHARE, 1, 12, false, false, TB_FROM_HAND },
    { "share_low", N_("at least (95 %)"), NULL, TB_COL_SHARE, 1, 10, false, false, TB_FROM_HAND },
    { "share_high", N_("at most (95 %)"), NULL, TB_COL_SHARE, 1, 10, false, false, TB_FROM_HAND },
    { "target", N_("Target: at most"), NULL, TB_COL_SHARE, 1, 10, false, false, TB_FROM_HAND },
    { "length_m", N_("Length"), "m", TB_COL_NUMBER, 1, 12, false, false, TB_FROM_HAND },
    { "held_m", N_("Held now"), "m", TB_COL_NUMBER, 1, 12, false, false, TB_FROM_HAND },
    { "rows", N_("Where its lots are"), NULL, TB_COL_TEXT, 0, 22, false, false, TB_FROM_HAND },
    { "to_share", N_("from low end to share"), NULL, TB_COL_SHARE, 1, 11, false, false, TB_FROM_HAND },
    { "to_high", N_("from share to high end"), NULL, TB_COL_SHARE, 1, 11, false, false, TB_FROM_HAND },
    { "weight_kg", N_("Weight where the length is not known"), "kg", TB_COL_NUMBER, 2, 12, false, false,
      TB_FROM_HAND },
    { "held_kg", N_("Of that held now"), "kg", TB_COL_NUMBER, 2, 12, false, false, TB_FROM_HAND },
};

tb_rc tb_month_trend(struct trend **out, struct month *m, const char *arrived, struct tb_err *err)
{
    struct trend one = { .inside = false };

    for (size_t i = m->trends; i > 0; i--)
        if (strncmp(m->trend[i - 1].month, arrived, sizeof one.month - 1) == 0) {
            *out = &m->trend[i - 1];
            return TB_OK;
        }
    (void)snprintf(one.month, sizeof one.month, "%.7s", arrived);
    if (!tb_month_valid(one.month))
        return tb_fail(err, TB_EINVAL, "'%s' is not a day of arrival", arrived);
    tb_month_span(one.from, one.until, one.month);
    for (size_t i = 0; i < m->plan->aims && strcmp(m->plan->aimed[i].from, one.until) < 0; i++)
        one.aim = m->plan->aimed[i].share;
    one.inside = strcmp(one.from, m->plan->from) >= 0 && strcmp(one.until, m->plan->until) <= 0;
    TB_PUSH_ROOM(m->trend, m->trends, m->trend_cap);
    m->trend[m->trends] = one;
    *out = &m->trend[m->trends++];
    return TB_OK;
}

/* A lot that is not in this workbook. */
static tb_rc take_before(void *arg, const struct tb_lot_said *said, const struct tb_month_weighed *weighed,
                         const struct tb_analysis *analysis, size_t n, struct tb_err *err)
{
    struct amount amount = { said->metres, said->held_metres, 0, weighed->kg[TB_HELD] };
    struct month *m = arg;
    struct tb_arena mem = { 0 };
    struct tb_concluded c = { 0 };
    struct tb_known k;
    struct trend *d;
    tb_rc rc;

    for (enum tb_standing_kind s = TB_WAITING; s <= TB_RETURNED; s++)
        amount.kg += weighed->kg[s];
    tb_known_said(&k, said, analysis, n);
    if ((rc = tb_conclude(&c, &k, &mem, err)) == TB_OK &&
        (rc = tb_month_trend(&d, m, said->arrived, err)) == TB_OK) {
        tb_month_amount_add(&d->amount, &amount);
        tb_month_count(&d->t, &c);
        tb_month_score(m, &(struct tb_month_scored){ said->ref, said->supplier_name, said->arrived,
                                                     said->said, &c, amount });
    }
    tb_arena_free(&mem);
    return rc == TB_OK ? TB_OK : tb_within(err, rc, "lot %s", said->ref);
}

static int earlier(const void *a, const void *b)
{
    const struct trend *x = a, *y = b;

    return strcmp(x->month, y->month);
}

void tb_month_back(char out[TB_DAY_LEN + 1], const char *from, const char *until)
{
    int year = atoi(until) - 1, month = atoi(until + 5) - 1;

    /* thirteen months before the day after the last: the same month of the year before is there to compare with */
    if (month == 0) {
        month = 12;
        year--;
    }
    (void)snprintf(out, TB_DAY_LEN + 1, "%04u-%02u-01", (unsigned)year % 10000u, (unsigned)month % 100u);
    if (strcmp(from, out) < 0)
        (void)snprintf(out, TB_DAY_LEN + 1, "%s", from);
}

/* A figure of the month: over the list of lots where they are in it, a plain figure where they are not. */
static void put_where(struct month *m, const struct trend *d, const char *sum, const struct tb_where *more,
                      size_t n, double value, enum tb_column_type as)
{
    struct tb_tab *t = m->tab[TAB_MONTHS];
    char from[24], until[24];
    struct tb_where where[4] = { { "arrived", from }, { "arrived", until } };

    (void)snprintf(from, sizeof from, ">=%ld", (long)tb_day_number(d->from) + TB_SHEET_1970);
    (void)snprintf(until, sizeof until, "<%ld", (long)tb_day_number(d->until) + TB_SHEET_1970);
    for (size_t i = 0; i < n; i++)
        where[2 + i] = more[i];
    if (d->inside)
        tb_month_put_over(t, m, sum, where, 2 + n, value, as);
    else
        tb_month_put_plain(t, value, as);
}

static void put_over(struct month *m, const struct trend *d, const char *sum, const char *column,
                     const char *words, double value, enum tb_column_type as)
{
    put_where(m, d, sum, &(struct tb_where){ column, words }, column ? 1 : 0, value, as);
}

/* As on the sheet of suppliers: open lots that nobody looked at are not among those that were. */
static void put_concluded(struct month *m, const struct trend *d, enum tb_concluded_kind kind, int64_t n)
{
    const struct tb_where where[] = { { "conclusion", tb_word(&tb_concluded_words, (int)kind) },
                                      { "concluded_by", "?*" } };

    put_where(m, d, NULL, where, TB_COUNT(where), (double)n, TB_COL_COUNT);
}

/*
 * A month of which only a part is in the span has figures of the book, not of the list: it would be counted short.
 */
static tb_rc put(struct month *m, const struct trend *d, struct tb_err *err)
{
    struct tb_tab *t = m->tab[TAB_MONTHS];

    tb_put_text(t, d->month);
    put_over(m, d, NULL, NULL, NULL, (double)d->t.lots, TB_COL_COUNT);
    tb_month_put_sum(t, "conforming", "open", (double)d->rate.judged);
    put_concluded(m, d, TB_CONFORMS, d->t.conforms);
    put_concluded(m, d, TB_NOTHING_AGAINST, d->t.nothing_against);
    put_concluded(m, d, TB_DOES_NOT, d->t.does_not);
    put_concluded(m, d, TB_OPEN, d->t.open);
    put_over(m, d, NULL, "why_open", tb_word(&tb_open_words, TB_OPEN_AGAINST), (double)d->t.against,
             TB_COL_COUNT);
    tb_month_put_rate(t, &d->rate);
    tb_put_share(t, d->aim > 0 ? d->aim : NAN);
    put_over(m, d, "length_m", NULL, NULL, d->amount.metres, TB_COL_NUMBER);
    put_over(m, d, "held_m", NULL, NULL, d->amount.held_metres, TB_COL_NUMBER);
    tb_put_text(t, !d->t.lots  ? _("no delivery arrived")
                   : d->inside ? _("in this workbook")
                               : _("in the book, not here"));
    tb_month_put_spans(t, &d->rate);
    put_over(m, d, "weight_kg", NULL, NULL, d->amount.kg, TB_COL_NUMBER);
    put_over(m, d, "held_kg", NULL, NULL, d->amount.held_kg, TB_COL_NUMBER);
    return tb_tab_row(t, err);
}

/* From the first month with a delivery to the end of the span each has its place, so that a line through them tells the truth. */
static tb_rc fill_gaps(struct month *m, const char *back, struct tb_err *err)
{
    const char *begun = m->source->first, *from = m->trends ? m->trend[0].from : m->plan->until;
    char day[TB_DAY_LEN + 1], next[TB_DAY_LEN + 1];
    struct trend *d;
    tb_rc rc = TB_OK;

    if (begun && *begun)
        from = strcmp(begun, back) > 0 ? begun : back;
    (void)snprintf(day, sizeof day, "%s", from);
    for (; rc == TB_OK && strcmp(day, m->plan->until) < 0; memcpy(day, next, sizeof day)) {
        char month[8], first[TB_DAY_LEN + 1];

        (void)snprintf(month, sizeof month, "%.7s", day);
        tb_month_span(first, next, month);
        rc = tb_month_trend(&d, m, day, err);
    }
    if (m->trends)
        qsort(m->trend, m->trends, sizeof *m->trend, earlier);
    return rc;
}

/* Lots of the span were counted while their list was written. */
static tb_rc fill(struct month *m, struct tb_err *err)
{
    char first[TB_DAY_LEN + 1];
    tb_rc rc = TB_OK;

    tb_month_back(first, m->plan->from, m->plan->until);
    if (m->source->before)
        rc = m->source->before(m->source->from, first, take_before, m, err);
    if (m->trends)
        qsort(m->trend, m->trends, sizeof *m->trend, earlier);
    if (rc == TB_OK)
        rc = fill_gaps(m, first, err);
    for (size_t i = 0; i < m->trends && rc == TB_OK; i++)
        if ((rc = tb_month_rate(&m->trend[i].rate, &m->trend[i].t, err)) == TB_OK)
            rc = put(m, &m->trend[i], err);
    return rc;
}

/* At least a year is shown: one month alone is no trend. */
const struct sheet tb_month_months = {
    .key = "months",
    .tab = N_("Months"),
    .title = N_("Month by month"),
    .note = N_("Lots by the month of arrival, as they stood when the book was read. Months before the span "
               "are figures of the "
               "book: their lots are not in this workbook."),
    .column = columns,
    .columns = TB_COUNT(columns),
    .printed = TB_COUNT(columns) - 4,
    .fill = fill,
};
