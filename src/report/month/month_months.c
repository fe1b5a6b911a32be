/* month_months.c - month by month: the figures behind the chart of the trend. */
#include "report/month/month_impl.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct tb_column columns[] = {
    { "month", N_("Month of arrival"), NULL, TB_COL_TEXT, 0, 12, false, false, TB_FROM_HAND },
    { "lots", N_("Lots"), NULL, TB_COL_COUNT, 0, 9, false, false, TB_FROM_HAND },
    { "judged", N_("Lots judged"), NULL, TB_COL_COUNT, 0, 9, false, false, TB_FROM_HAND },
    { "fits", N_("Fit"), NULL, TB_COL_COUNT, 0, 9, false, false, TB_FROM_HAND },
    { "contradicts", N_("Contradict"), NULL, TB_COL_COUNT, 0, 10, false, false, TB_FROM_HAND },
    { "against", N_("Speak against"), NULL, TB_COL_COUNT, 0, 9, false, false, TB_FROM_HAND },
    { "undecided", N_("Undecided"), NULL, TB_COL_COUNT, 0, 10, false, false, TB_FROM_HAND },
    { "share", N_("Share that contradicts"), NULL, TB_COL_SHARE, 1, 12, false, false, TB_FROM_HAND },
    { "share_low", N_("at least (95 %)"), NULL, TB_COL_SHARE, 1, 10, false, false, TB_FROM_HAND },
    { "share_high", N_("at most (95 %)"), NULL, TB_COL_SHARE, 1, 10, false, false, TB_FROM_HAND },
    { "length_m", N_("Length"), "m", TB_COL_NUMBER, 1, 12, false, false, TB_FROM_HAND },
    { "held_m", N_("Held now"), "m", TB_COL_NUMBER, 1, 12, false, false, TB_FROM_HAND },
    { "rows", N_("Where its lots are"), NULL, TB_COL_TEXT, 0, 22, false, false, TB_FROM_HAND },
    { "to_share", N_("from low end to share"), NULL, TB_COL_SHARE, 1, 11, false, false, TB_FROM_HAND },
    { "to_high", N_("from share to high end"), NULL, TB_COL_SHARE, 1, 11, false, false, TB_FROM_HAND },
};

static tb_rc take_month(void *arg, const struct tb_month_tally *t, struct tb_err *err)
{
    struct month *m = arg;
    struct trend one = { .t = *t };
    tb_rc rc;

    (void)snprintf(one.month, sizeof one.month, "%s", t->month);
    one.t.month = NULL;
    if (!tb_month_valid(one.month))
        return tb_fail(err, TB_EINVAL, "'%s' is not a month of arrival", t->month);
    tb_month_span(one.from, one.until, one.month);
    one.inside = strcmp(one.from, m->plan->from) >= 0 && strcmp(one.until, m->plan->until) <= 0;
    if ((rc = tb_month_rate(&one.rate, t->fits, t->contradicts, t->against + t->undecided, err)) != TB_OK)
        return tb_within(err, rc, "%s", one.month);
    TB_PUSH_ROOM(m->trend, m->trends, m->trend_cap);
    m->trend[m->trends++] = one;
    return TB_OK;
}

/* The first day to look back to: the year up to the end of the span, or all of a longer span. */
static void first_day(char out[TB_DAY_LEN + 1], const struct tb_month_plan *plan)
{
    int year = atoi(plan->until) - 1;

    /* a year before the day after the last: the span ends with a month, so that is the first of a month, too */
    (void)snprintf(out, TB_DAY_LEN + 1, "%04u%.6s", (unsigned)year % 10000u, plan->until + 4);
    if (strcmp(plan->from, out) < 0)
        (void)snprintf(out, TB_DAY_LEN + 1, "%s", plan->from);
}

/* A count of the month: over the list of lots where they are in it, a plain figure where they are not. */
static void put_over(struct month *m, const struct trend *d, const char *sum, const char *column,
                     const char *words, double value, enum tb_column_type as)
{
    struct tb_tab *t = m->tab[TAB_MONTHS];
    char from[24], until[24];
    struct tb_where where[3] = { { "arrived", from }, { "arrived", until }, { column, words } };

    (void)snprintf(from, sizeof from, ">=%ld", (long)tb_day_number(d->from) + TB_SHEET_1970);
    (void)snprintf(until, sizeof until, "<%ld", (long)tb_day_number(d->until) + TB_SHEET_1970);
    if (d->inside)
        tb_month_put_over(t, m, sum, where, column ? 3 : 2, value, as);
    else
        tb_month_put_plain(t, value, as);
}

/*
 * A month of which only a part is in the span has figures of the book, not of the list: it would be counted short.
 */
static tb_rc put(struct month *m, const struct trend *d, struct tb_err *err)
{
    struct tb_tab *t = m->tab[TAB_MONTHS];

    tb_put_text(t, d->month);
    put_over(m, d, NULL, NULL, NULL, (double)d->t.lots, TB_COL_COUNT);
    tb_month_put_sum(t, "fits", "undecided", (double)d->rate.judged);
    put_over(m, d, NULL, "verdict", tb_grade_key(TB_GRADE_FITS), (double)d->t.fits, TB_COL_COUNT);
    put_over(m, d, NULL, "verdict", tb_grade_key(TB_GRADE_CONTRADICTS), (double)d->t.contradicts,
             TB_COL_COUNT);
    put_over(m, d, NULL, "verdict", tb_grade_key(TB_GRADE_SPEAKS_AGAINST), (double)d->t.against,
             TB_COL_COUNT);
    put_over(m, d, NULL, "verdict", tb_grade_key(TB_GRADE_UNDECIDED), (double)d->t.undecided, TB_COL_COUNT);
    tb_month_put_rate(t, &d->rate);
    put_over(m, d, "length_m", NULL, NULL, d->t.metres, TB_COL_NUMBER);
    put_over(m, d, "length_m", "standing", tb_standing_key(TB_HELD), d->t.held_metres, TB_COL_NUMBER);
    tb_put_text(t, d->inside ? _("in this workbook") : _("in the book, not here"));
    tb_month_put_spans(t, &d->rate);
    return tb_tab_row(t, err);
}

static tb_rc fill(struct month *m, struct tb_err *err)
{
    char first[TB_DAY_LEN + 1];
    tb_rc rc = TB_OK;

    first_day(first, m->plan);
    if (m->source->months)
        rc = m->source->months(m->source->from, first, take_month, m, err);
    for (size_t i = 0; i < m->trends && rc == TB_OK; i++)
        rc = put(m, &m->trend[i], err);
    return rc;
}

/* At least a year is shown: one month alone is no trend. */
const struct sheet tb_month_months = {
    .key = "months",
    .tab = N_("Months"),
    .title = N_("Month by month"),
    .note = N_("Lots by the month of arrival, as they stand now. Months before the span are figures of the "
               "book: their lots are not in this workbook."),
    .column = columns,
    .columns = TB_COUNT(columns),
    .printed = TB_COUNT(columns) - 2,
    .fill = fill,
};
