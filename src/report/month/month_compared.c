/* month_compared.c - the last month of the span against the month before, the same month a year before, and the site's target. */
#include "report/month/month_impl.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The month so many before the last of the span, "2026-10". */
static void month_back(char out[8], const struct month *m, int back)
{
    char last[TB_DAY_LEN + 1];
    int year, month;

    tb_day_from_number(last, tb_day_number(m->plan->until) - 1);
    year = atoi(last);
    month = atoi(last + 5) - 1 - back;
    while (month < 0) {
        month += 12;
        year--;
    }
    (void)snprintf(out, 8, "%04u-%02u", (unsigned)year % 10000u, (unsigned)(month + 1) % 100u);
}

static const struct trend *trend_of(const struct month *m, const char *month)
{
    for (size_t i = 0; i < m->trends; i++)
        if (strcmp(m->trend[i].month, month) == 0)
            return &m->trend[i];
    return NULL;
}

/* Of a month of which no lot was looked at, why that is so. */
static const char *nothing_seen(const struct trend *now)
{
    return !now          ? _("the book begins after this month")
           : now->t.lots ? _("no lot of this month was looked at")
                         : _("no delivery arrived in this month");
}

/* Shares of few lots differ by chance alone: that is said as long as one interval reaches into the other. */
static void say_change(struct tb_text *out, const struct rate *now, const struct rate *then)
{
    double points = 100 * (now->share - then->share);
    bool overlap = now->low <= then->high && then->low <= now->high;

    if (overlap)
        tb_text_addf(out, _("this month %+.1f points; the 95 %% intervals overlap, so it may be chance"),
                     points);
    else
        tb_text_addf(out, _("this month %+.1f points; the 95 %% intervals are apart"), points);
}

/* A month without a delivery keeps its place, and one before the book is not called empty. */
static void say_then(struct tb_text *out, const struct trend *now, const struct trend *then)
{
    if (!then)
        tb_text_add(out, _("the book has nothing of that month, and nothing before it"));
    else if (!then->t.lots)
        tb_text_add(out, _("no delivery arrived in that month"));
    else if (!then->rate.judged)
        tb_text_addf(out, _("lots that arrived: %lld, of which none was looked at"), (long long)then->t.lots);
    else {
        tb_text_addf(out, _("%lld of %lld looked at, 95 %% interval %.1f to %.1f %%; "),
                     (long long)then->t.does_not, (long long)then->rate.judged, 100 * then->rate.low,
                     100 * then->rate.high);
        if (now && now->rate.judged)
            say_change(out, &now->rate, &then->rate);
        else
            tb_text_addf(out, _("%s: there is nothing to compare"), nothing_seen(now));
    }
}

/* What can be said of a target by lots that were looked at: kept or missed for certain only where the whole interval is. */
void tb_month_target_words(struct tb_text *out, double target, const struct rate *now)
{
    if (now->high <= target)
        tb_text_add(out, _("kept: the whole 95 % interval is below it"));
    else if (now->low > target)
        tb_text_add(out, _("missed: the whole 95 % interval is above it"));
    else if (now->share <= target)
        tb_text_addf(out, _("kept by the lots looked at; the 95 %% interval reaches to %.1f %%"),
                     100 * now->high);
    else
        tb_text_addf(out, _("missed by the lots looked at; the 95 %% interval begins at %.1f %%"),
                     100 * now->low);
}

/* --- on the summary ----------------------------------------------------------------------------------------------- */

static tb_rc put_row(struct month *m, const char *item, double figure, enum tb_column_type as,
                     const char *unit, const char *note, struct tb_err *err)
{
    struct tb_tab *t = m->tab[TAB_SUMMARY];

    tb_put_text(t, item);
    tb_month_put_plain(t, figure, as);
    tb_put_text(t, unit);
    tb_put_text(t, note);
    return tb_tab_row(t, err);
}

static tb_rc put_then(struct month *m, const char *words, int back, const struct trend *now,
                      struct tb_err *err)
{
    char month[8];
    const struct trend *then;
    struct tb_text item = { 0 }, note = { 0 };
    tb_rc rc;

    month_back(month, m, back);
    then = trend_of(m, month);
    tb_text_addf(&item, words, month);
    say_then(&note, now, then);
    rc = put_row(m, item.s, then ? then->rate.share : NAN, TB_COL_SHARE, NULL, tb_text_str(&note), err);
    if (rc == TB_OK && then)
        rc = put_row(m, _("  metres that arrived then"), then->amount.metres, TB_COL_NUMBER, "m",
                     then->amount.kg > 0 ? _("of bolts whose length is known") : NULL, err);
    if (rc == TB_OK && then && then->amount.kg > 0)
        rc = put_row(m, _("  kilograms that arrived then"), then->amount.kg, TB_COL_NUMBER, "kg",
                     _("of bolts whose length is not known"), err);
    tb_text_free(&item);
    tb_text_free(&note);
    return rc;
}

static tb_rc put_target(struct month *m, const struct trend *now, struct tb_err *err)
{
    const struct tb_month_plan *p = m->plan;
    struct tb_text note = { 0 };
    tb_rc rc;

    if (isnan(p->target) || !p->target_from)
        return put_row(m, _("Target of the site"), NAN, TB_COL_SHARE, NULL,
                       _("none is set: set target:2026-01-01 \"5 % in your own words\""), err);
    if (now && now->rate.judged)
        tb_month_target_words(&note, p->target, &now->rate);
    else
        tb_text_add(&note, nothing_seen(now));
    tb_text_addf(&note, *p->target_words ? _("; from %s on: %s") : _("; from %s on"), p->target_from,
                 p->target_words);
    rc = put_row(m, _("Target of the site: at most"), p->target, TB_COL_SHARE, NULL, note.s, err);
    tb_text_free(&note);
    return rc;
}

tb_rc tb_month_compared(struct month *m, struct tb_err *err)
{
    const struct trend *now;
    struct tb_text heading = { 0 };
    char month[8];
    tb_rc rc;

    month_back(month, m, 0);
    now = trend_of(m, month);
    tb_text_addf(&heading, _("Share that does not conform, %s against earlier months and the target"), month);
    rc = tb_tab_section(m->tab[TAB_SUMMARY], heading.s, err);
    tb_text_free(&heading);
    if (rc == TB_OK)
        rc = put_then(m, _("Last month, %s"), 1, now, err);
    if (rc == TB_OK)
        rc = put_then(m, _("Last year, %s"), 12, now, err);
    return rc == TB_OK ? put_target(m, now, err) : rc;
}

/* --- on the page --------------------------------------------------------------------------------------------------- */

static void add_then(struct tb_text *out, const char *words, const struct month *m, int back)
{
    const struct trend *then;
    char month[8];

    month_back(month, m, back);
    then = trend_of(m, month);
    tb_text_addf(out, words, month);
    if (!then)
        tb_text_add(out, _("nothing in the book"));
    else if (!then->t.lots)
        tb_text_add(out, _("no delivery"));
    else if (!then->rate.judged)
        tb_text_add(out, _("none looked at"));
    else
        tb_text_addf(out, _("%.1f %% (%lld of %lld)"), 100 * then->rate.share, (long long)then->t.does_not,
                     (long long)then->rate.judged);
    tb_text_add(out, "; ");
}

void tb_month_compared_words(struct tb_text *out, const struct month *m)
{
    const struct trend *now;
    char month[8];

    month_back(month, m, 0);
    now = trend_of(m, month);
    tb_text_clear(out);
    tb_text_addf(out, _("Not conforming in %s: "), month);
    if (now && now->rate.judged)
        tb_text_addf(out, _("%.1f %% (%lld of %lld); "), 100 * now->rate.share, (long long)now->t.does_not,
                     (long long)now->rate.judged);
    else
        tb_text_addf(out, "%s; ",
                     !now          ? _("nothing in the book")
                     : now->t.lots ? _("none looked at")
                                   : _("no delivery"));
    add_then(out, _("last month, %s: "), m, 1);
    add_then(out, _("last year, %s: "), m, 12);
    if (isnan(m->plan->target) || !m->plan->target_from)
        tb_text_add(out, _("no target is set"));
    else
        tb_text_addf(out, _("target: at most %.1f %%"), 100 * m->plan->target);
    if (m->plan->target_from && now && now->rate.judged) {
        tb_text_add(out, ", ");
        tb_month_target_words(out, m->plan->target, &now->rate);
    }
    tb_text_add(out, ".");
}
