/* month_figures.c - the figures behind the charts: month by month, what is at stake, found instead of declared. */
#include "report/month/month_impl.h"

#include "tenterbook/interval.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DAYS_TO_1970 25569 /* serial number of 1970-01-01 in a spreadsheet */

/* --- formulas in a row ------------------------------------------------------------------------------------------ */

void tb_month_put_over(struct tb_tab *t, const struct month *m, const char *column,
                       const struct tb_where *where, size_t n, double value, enum tb_column_type as)
{
    struct tb_text f = { 0 };

    tb_tab_formula_where(&f, m->lots, column, where, n);
    tb_put_formula(t, tb_text_str(&f), value, as);
    tb_text_free(&f);
}

/* BETAINV is the name every spreadsheet knows; the ends are those of docs/sampling.md. */
void tb_month_put_interval(struct tb_tab *t, int64_t judged, double share, double low, double high)
{
    struct tb_text f = { 0 };
    char k[24], n[24];

    (void)judged;
    tb_tab_cell(k, t, "contradicts");
    tb_tab_cell(n, t, "judged");
    tb_text_addf(&f, "=IF(%s=0,\"\",%s/%s)", n, k, n);
    tb_put_formula(t, tb_text_str(&f), share, TB_COL_SHARE);
    tb_text_clear(&f);
    tb_text_addf(&f, "=IF(%s=0,\"\",IF(%s=0,0,BETAINV(0.025,%s,%s-%s+1)))", n, k, k, n, k);
    tb_put_formula(t, tb_text_str(&f), low, TB_COL_SHARE);
    tb_text_clear(&f);
    tb_text_addf(&f, "=IF(%s=0,\"\",IF(%s=%s,1,BETAINV(0.975,%s+1,%s-%s)))", n, k, n, k, n, k);
    tb_put_formula(t, tb_text_str(&f), high, TB_COL_SHARE);
    tb_text_free(&f);
}

static void put_difference(struct tb_tab *t, const char *a, const char *b, double value)
{
    struct tb_text f = { 0 };
    char x[24], y[24];

    tb_tab_cell(x, t, a);
    tb_tab_cell(y, t, b);
    tb_text_addf(&f, "=IF(%s=\"\",\"\",%s-%s)", x, x, y);
    tb_put_formula(t, tb_text_str(&f), value, TB_COL_SHARE);
    tb_text_free(&f);
}

void tb_month_put_spans(struct tb_tab *t, double share, double low, double high)
{
    put_difference(t, "share", "share_low", share - low);
    put_difference(t, "share_high", "share", high - share);
}

/* --- month by month ---------------------------------------------------------------------------------------------- */

static const struct tb_column month_columns[] = {
    { "month", N_("Month of arrival"), NULL, TB_COL_TEXT, 0, 12, false, false },
    { "lots", N_("Lots"), NULL, TB_COL_COUNT, 0, 9, false, false },
    { "judged", N_("Lots judged"), NULL, TB_COL_COUNT, 0, 9, false, false },
    { "fits", N_("Fit"), NULL, TB_COL_COUNT, 0, 9, false, false },
    { "contradicts", N_("Contradict"), NULL, TB_COL_COUNT, 0, 10, false, false },
    { "undecided", N_("Undecided"), NULL, TB_COL_COUNT, 0, 10, false, false },
    { "share", N_("Share that contradicts"), NULL, TB_COL_SHARE, 1, 12, false, false },
    { "share_low", N_("at least (95 %)"), NULL, TB_COL_SHARE, 1, 10, false, false },
    { "share_high", N_("at most (95 %)"), NULL, TB_COL_SHARE, 1, 10, false, false },
    { "length_m", N_("Length"), "m", TB_COL_NUMBER, 1, 12, false, false },
    { "held_m", N_("Held now"), "m", TB_COL_NUMBER, 1, 12, false, false },
    { "rows", N_("Where its lots are"), NULL, TB_COL_TEXT, 0, 22, false, false },
    { "to_share", N_("from low end to share"), NULL, TB_COL_SHARE, 1, 11, false, false },
    { "to_high", N_("from share to high end"), NULL, TB_COL_SHARE, 1, 11, false, false },
};

static tb_rc take_month(void *arg, const struct tb_month_tally *t, struct tb_err *err)
{
    struct month *m = arg;
    struct trend one = { .t = *t, .share = NAN, .low = NAN, .high = NAN };
    tb_rc rc = TB_OK;

    (void)snprintf(one.month, sizeof one.month, "%s", t->month);
    one.t.month = NULL;
    if (!tb_month_valid(one.month))
        return tb_fail(err, TB_EINVAL, "'%s' is not a month of arrival", t->month);
    tb_month_span(one.from, one.until, one.month);
    one.inside = strcmp(one.from, m->plan->from) >= 0 && strcmp(one.until, m->plan->until) <= 0;
    one.judged = t->fits + t->contradicts + t->undecided;
    if (one.judged) {
        one.share = (double)t->contradicts / (double)one.judged;
        rc = tb_interval_exact(&one.low, &one.high, (long)t->contradicts, (long)one.judged, 0.95, err);
    }
    if (rc != TB_OK)
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
static void put_month_count(struct month *m, const struct trend *d, const char *sum, const char *column,
                            const char *words, double value, enum tb_column_type as)
{
    char from[24], until[24];
    struct tb_where where[3] = { { "arrived", from }, { "arrived", until }, { column, words } };

    (void)snprintf(from, sizeof from, ">=%ld", (long)tb_day_number(d->from) + DAYS_TO_1970);
    (void)snprintf(until, sizeof until, "<%ld", (long)tb_day_number(d->until) + DAYS_TO_1970);
    if (d->inside)
        tb_month_put_over(m->months, m, sum, where, column ? 3 : 2, value, as);
    else if (as == TB_COL_COUNT)
        tb_put_count(m->months, (int64_t)value);
    else
        tb_put_number(m->months, value);
}

static tb_rc put_month(struct month *m, const struct trend *d, struct tb_err *err)
{
    struct tb_tab *t = m->months;
    char from[24], to[24];
    struct tb_text f = { 0 };

    tb_put_text(t, d->month);
    put_month_count(m, d, NULL, NULL, NULL, (double)d->t.lots, TB_COL_COUNT);
    tb_tab_cell(from, t, "fits");
    tb_tab_cell(to, t, "undecided");
    tb_text_addf(&f, "=SUM(%s:%s)", from, to);
    tb_put_formula(t, tb_text_str(&f), (double)d->judged, TB_COL_COUNT);
    tb_text_free(&f);
    put_month_count(m, d, NULL, "verdict", "fits", (double)d->t.fits, TB_COL_COUNT);
    put_month_count(m, d, NULL, "verdict", "contradicts", (double)d->t.contradicts, TB_COL_COUNT);
    put_month_count(m, d, NULL, "verdict", "undecided", (double)d->t.undecided, TB_COL_COUNT);
    tb_month_put_interval(t, d->judged, d->share, d->low, d->high);
    put_month_count(m, d, "length_m", NULL, NULL, d->t.metres, TB_COL_NUMBER);
    put_month_count(m, d, "length_m", "standing", "held", d->t.held_metres, TB_COL_NUMBER);
    tb_put_text(t, d->inside ? _("in this workbook") : _("in the book, not here"));
    tb_month_put_spans(t, d->share, d->low, d->high);
    return tb_tab_row(t, err);
}

static tb_rc months(struct month *m, struct tb_err *err)
{
    struct tb_tab_plan plan = {
        .key = "months",
        .tab = _("Months"),
        .note =
            _("Lots by the month of arrival, as they stand now. Months before the span are figures of the "
              "book: their lots are not in this workbook."),
        .column = month_columns,
        .columns = TB_COUNT(month_columns),
        .printed = TB_COUNT(month_columns) - 2,
    };
    char first[TB_DAY_LEN + 1];
    tb_rc rc = tb_month_list(&m->months, m, plan, _("Month by month"), err);

    first_day(first, m->plan);
    if (rc == TB_OK && m->source->months)
        rc = m->source->months(m->source->from, first, take_month, m, err);
    for (size_t i = 0; i < m->trends && rc == TB_OK; i++)
        rc = put_month(m, &m->trend[i], err);
    return rc == TB_OK ? tb_tab_end(m->months, err) : rc;
}

/* --- what is at stake ---------------------------------------------------------------------------------------------- */

static const struct tb_column stake_columns[] = {
    { "measure", N_("Measure"), NULL, TB_COL_TEXT, 0, 16, false, false },
    { "unit", N_("Unit"), NULL, TB_COL_TEXT, 0, 10, false, false },
    { "came_in", N_("Came in"), NULL, TB_COL_NUMBER, 2, 18, false, false },
    { "held", N_("Held now"), NULL, TB_COL_NUMBER, 2, 18, false, false },
    { "share", N_("Share held"), NULL, TB_COL_SHARE, 1, 12, false, false },
    { "words", N_("In words"), NULL, TB_COL_TEXT, 0, 44, false, false },
};

static void add_stake(struct month *m, const char *unit, bool money, double all, double held)
{
    struct stake *s = &m->stake[m->n_stake++];

    *s = (struct stake){ .money = money, .all = all, .held = held };
    (void)snprintf(s->unit, sizeof s->unit, "%s", unit);
    (void)snprintf(s->words, sizeof s->words, _("%s: %.0f of %.0f %s"), money ? _("value") : _("length"),
                   held, all, unit);
}

static bool is_currency(const char *s)
{
    return strlen(s) == 3 && strspn(s, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == 3;
}

static void put_stake_sum(struct month *m, const struct stake *s, bool held)
{
    struct tb_where where[2];
    size_t n = 0;
    double value = held ? s->held : s->all;

    if (s->money)
        where[n++] = (struct tb_where){ "currency", s->unit };
    if (held)
        where[n++] = (struct tb_where){ "standing", "held" };
    if (s->money && !is_currency(s->unit))
        tb_put_number(m->stakes, value); /* a word of the supplier's: never into a formula */
    else if (n)
        tb_month_put_over(m->stakes, m, s->money ? "value" : "length_m", where, n, value, TB_COL_NUMBER);
    else {
        struct tb_text f = { 0 };

        tb_tab_formula(&f, m->lots, "SUM", "length_m", NULL);
        tb_put_formula(m->stakes, tb_text_str(&f), value, TB_COL_NUMBER);
        tb_text_free(&f);
    }
}

static tb_rc put_stake(struct month *m, const struct stake *s, struct tb_err *err)
{
    struct tb_tab *t = m->stakes;
    struct tb_text f = { 0 };
    char all[24], held[24];

    tb_put_text(t, s->money ? _("Value") : _("Length"));
    tb_put_text(t, s->unit);
    put_stake_sum(m, s, false);
    put_stake_sum(m, s, true);
    tb_tab_cell(all, t, "came_in");
    tb_tab_cell(held, t, "held");
    tb_text_addf(&f, "=IF(%s=0,\"\",%s/%s)", all, held, all);
    tb_put_formula(t, tb_text_str(&f), s->all > 0 ? s->held / s->all : NAN, TB_COL_SHARE);
    tb_text_free(&f);
    tb_put_text(t, s->words);
    return tb_tab_row(t, err);
}

static tb_rc stakes(struct month *m, struct tb_err *err)
{
    struct tb_tab_plan plan = {
        .key = "stakes",
        .tab = _("At stake"),
        .note = _("Length as declared; value is price a metre times length, of lots with a price, every "
                  "currency by itself."),
        .column = stake_columns,
        .columns = TB_COUNT(stake_columns),
    };
    tb_rc rc = tb_month_list(&m->stakes, m, plan, _("What came in and what is held"), err);

    if (m->sums.lots)
        add_stake(m, "m", false, m->sums.metres, m->sums.held.metres);
    for (size_t i = 0; i < m->sums.monies; i++)
        add_stake(m, m->sums.money[i].currency, true, m->sums.money[i].all, m->sums.money[i].held);
    for (size_t i = 0; i < m->n_stake && rc == TB_OK; i++)
        rc = put_stake(m, &m->stake[i], err);
    return rc == TB_OK ? tb_tab_end(m->stakes, err) : rc;
}

/* --- found instead of declared ---------------------------------------------------------------------------------- */

static bool is_rest(const char *word)
{
    return strcmp(word, _("other kinds")) == 0;
}

/* A kind as a key of the twin: "cellulose + polyester" is found_cellulose_polyester. */
static char *key_of(const char *word)
{
    struct tb_text t = { 0 };

    tb_text_add(&t, "found_");
    for (const char *c = word; *c; c++)
        if (*c == ' ' || *c == '+') {
            if (t.s[t.n - 1] != '_')
                tb_text_addc(&t, '_');
        } else
            tb_text_addc(&t, *c);
    return tb_text_take(&t);
}

static struct tb_column *found_columns(const struct month *m)
{
    struct tb_column *c = tb_array(struct tb_column, m->columns + 2);

    c[0] = (struct tb_column){ "declared_kind", _("Kinds declared"), NULL, TB_COL_TEXT, 0, 26, true, true };
    for (size_t i = 0; i < m->columns; i++)
        c[i + 1] =
            (struct tb_column){ key_of(m->seen[i]), m->seen[i], NULL, TB_COL_COUNT, 0, 13, false, true };
    c[m->columns + 1] =
        (struct tb_column){ "judged", _("Lots judged"), NULL, TB_COL_COUNT, 0, 9, false, true };
    c[0].total = false;
    return c;
}

/* Lots of a row and a column; the row or column of the rest is what the others leave, a plain figure. */
static void put_cell(struct month *m, size_t r, size_t c)
{
    double v = m->cell[r * m->columns + c];
    char row[32] = "=", cell[24];
    struct tb_where where[2] = { { "declared_kind", row }, { "found_kind", m->seen[c] } };
    bool same = strcmp(m->declared[r], m->seen[c]) == 0, undecided = c + 1 == m->columns;

    tb_tab_cell(cell, m->found, "declared_kind");
    (void)snprintf(row, sizeof row, "=%s", cell);
    tb_put_tone(m->found, v == 0      ? TB_TONE_QUIET
                          : same      ? TB_TONE_AGREE
                          : undecided ? TB_TONE_DOUBT
                                      : TB_TONE_ALARM);
    if (is_rest(m->declared[r]) || is_rest(m->seen[c]))
        tb_put_count(m->found, (int64_t)v);
    else
        tb_month_put_over(m->found, m, NULL, where, 2, v, TB_COL_COUNT);
}

static tb_rc put_found(struct month *m, size_t r, const char *first, const char *last, struct tb_err *err)
{
    struct tb_tab *t = m->found;
    struct tb_text f = { 0 };
    char from[24], to[24];
    double sum = 0;

    tb_put_text(t, m->declared[r]);
    for (size_t c = 0; c < m->columns; c++) {
        put_cell(m, r, c);
        sum += m->cell[r * m->columns + c];
    }
    tb_tab_cell(from, t, first);
    tb_tab_cell(to, t, last);
    tb_text_addf(&f, "=SUM(%s:%s)", from, to);
    tb_put_formula(t, tb_text_str(&f), sum, TB_COL_COUNT);
    tb_text_free(&f);
    return tb_tab_row(t, err);
}

static tb_rc found(struct month *m, struct tb_err *err)
{
    struct tb_column *columns;
    struct tb_tab_plan plan = {
        .key = "found",
        .tab = _("Found"),
        .note =
            _("Judged lots: kinds of fibre declared (rows) and found (columns), of 10 % or more. Where a lot "
              "contradicts, the likeliest composition counts; kinds, not shares."),
    };
    tb_rc rc;

    tb_month_matrix(m);
    columns = found_columns(m);
    m->found_column = columns;
    plan.column = columns;
    plan.columns = m->columns + 2;
    rc = tb_month_list(&m->found, m, plan, _("Found instead of declared"), err);
    for (size_t r = 0; r < m->rows && m->columns && rc == TB_OK; r++)
        rc = put_found(m, r, columns[1].key, columns[m->columns].key, err);
    if (rc == TB_OK)
        rc = tb_tab_end(m->found, err);
    return rc;
}

tb_rc tb_month_figures(struct month *m, struct tb_err *err)
{
    tb_rc rc;

    if ((rc = months(m, err)) != TB_OK || (rc = stakes(m, err)) != TB_OK)
        return rc;
    return found(m, err);
}
