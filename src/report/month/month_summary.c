/* month_summary.c - the first tab: one page a director understands, each figure with how it is counted. */
#include "report/month/month_impl.h"

#include <math.h>
#include <stdio.h>

static const struct tb_column columns[] = {
    { "item", N_("Item"), NULL, TB_COL_TEXT, 0, 44, true, false },
    { "figure", N_("Figure"), NULL, TB_COL_ANY, 1, 14, false, false },
    { "unit", N_("Unit"), NULL, TB_COL_TEXT, 0, 9, false, false },
    { "note", N_("How it is counted"), NULL, TB_COL_TEXT, 0, 74, true, false },
};

tb_rc tb_month_summary_begin(struct month *m, struct tb_err *err)
{
    struct tb_text title = { 0 }, note = { 0 };
    struct tb_tab_plan plan = { .key = "summary",
                                .tab = _("Summary"),
                                .layout = TB_LAYOUT_FORM,
                                .column = columns,
                                .columns = TB_COUNT(columns) };
    tb_rc rc;

    tb_month_title(&title, m);
    tb_month_stood(&note, m);
    plan.title = tb_text_str(&title);
    plan.note = tb_text_str(&note);
    rc = tb_tab_begin(&m->summary, m->book, &plan, err);
    tb_text_free(&title);
    tb_text_free(&note);
    return rc;
}

/* One line: the figure is a formula over a list of this workbook where there is one. */
struct line {
    const char *item;
    const char *formula; /* NULL: a plain value */
    double value;
    enum tb_column_type as;
    enum tb_tone tone;
    const char *unit, *note;
};

/* Every line has a note that says how the figure is counted. */
static tb_rc put(struct month *m, const struct line *l, struct tb_err *err)
{
    struct tb_tab *t = m->summary;

    tb_put_text(t, l->item);
    tb_put_tone(t, l->tone);
    if (l->formula)
        tb_put_formula(t, l->formula, l->value, l->as);
    else if (l->as == TB_COL_COUNT)
        tb_put_count(t, (int64_t)l->value);
    else if (l->as == TB_COL_SHARE)
        tb_put_share(t, l->value);
    else
        tb_put_number(t, l->value);
    tb_put_text(t, l->unit);
    tb_put_text(t, l->note);
    return tb_tab_row(t, err);
}

/* Money takes two decimals, whatever the other figures of the form take. */
static tb_rc put_money(struct month *m, const char *item, double value, const char *currency,
                       const char *note, struct tb_err *err)
{
    struct tb_tab *t = m->summary;

    tb_put_text(t, item);
    tb_put_decimals(t, 2);
    tb_put_number(t, value);
    tb_put_text(t, currency);
    tb_put_text(t, note);
    return tb_tab_row(t, err);
}

/* A count over a list, as a formula with its value: function(column[, test]). */
static tb_rc put_over(struct month *m, struct line l, const struct tb_tab *list, const char *function,
                      const char *column, const char *test, struct tb_err *err)
{
    struct tb_text f = { 0 };
    tb_rc rc;

    tb_tab_formula(&f, list, function, column, test);
    l.formula = tb_text_str(&f);
    rc = put(m, &l, err);
    tb_text_free(&f);
    return rc;
}

/* Counts are formulas over the lists, so that a reader can follow them to the rows. */
static tb_rc came_in(struct month *m, struct tb_err *err)
{
    const struct tb_month_sums *s = &m->sums;
    struct line deliveries = { _("Deliveries"), NULL, (double)s->work.deliveries, TB_COL_COUNT,
                               TB_TONE_PLAIN,   NULL, _("by the day of arrival") };
    struct line lots = { _("Lots"),
                         NULL,
                         (double)s->lots,
                         TB_COL_COUNT,
                         TB_TONE_PLAIN,
                         NULL,
                         _("one article and shade under one declaration") };
    struct line bolts = { _("Bolts"), NULL, (double)s->bolts, TB_COL_COUNT, TB_TONE_PLAIN, NULL, NULL };
    struct line metres = {
        _("Length"), NULL, s->metres, TB_COL_NUMBER, TB_TONE_PLAIN, "m", _("as declared on the packing lists")
    };
    tb_rc rc;

    if ((rc = tb_tab_section(m->summary, _("Came in"), err)) != TB_OK ||
        (rc = put(m, &deliveries, err)) != TB_OK ||
        (rc = put_over(m, lots, m->lots, "COUNTA", "lot", NULL, err)) != TB_OK ||
        (rc = put_over(m, bolts, m->lots, "SUM", "bolts", NULL, err)) != TB_OK ||
        (rc = put_over(m, metres, m->lots, "SUM", "length_m", NULL, err)) != TB_OK)
        return rc;
    for (size_t i = 0; i < s->monies && rc == TB_OK; i++)
        rc = put_money(m, _("Value"), s->money[i].all, s->money[i].currency,
                       _("price a metre times length, lots with a price"), err);
    return rc;
}

/* What is judged and what is not, and of how many bolts: a verdict speaks of the bolts that were burnt. */
static tb_rc judged(struct month *m, struct tb_err *err)
{
    const struct tb_month_sums *s = &m->sums;
    int64_t tested = s->fits + s->contradicts + s->undecided;
    struct tb_text f = { 0 };
    struct {
        const char *item;
        enum tb_verdict_kind kind;
        int64_t n;
        enum tb_tone tone;
        const char *note;
    } const row[] = {
        { _("fit"), TB_FITS, s->fits, TB_TONE_PLAIN,
          _("nothing was seen against the words; a burn never confirms them") },
        { _("contradict"), TB_CONTRADICTS, s->contradicts, s->contradicts ? TB_TONE_ALARM : TB_TONE_PLAIN,
          _("what was seen is hard to explain by the declared fibres") },
        { _("undecided"), TB_UNDECIDED, s->undecided, s->undecided ? TB_TONE_DOUBT : TB_TONE_PLAIN,
          _("another test or a laboratory is needed") },
    };
    struct line all = { _("Lots judged"),
                        NULL,
                        (double)tested,
                        TB_COL_COUNT,
                        TB_TONE_PLAIN,
                        NULL,
                        _("lots with a verdict: at least one swatch was burnt") };
    struct line none = {
        _("Lots waiting for a verdict"),      NULL, (double)s->unjudged, TB_COL_COUNT, TB_TONE_PLAIN, NULL,
        _("nothing burnt, or not judged yet")
    };
    struct line bolts = {
        _("Bolts burnt"), NULL, (double)s->bolts_burnt, TB_COL_COUNT, TB_TONE_PLAIN, NULL, NULL
    };
    char of[64];
    tb_rc rc = tb_tab_section(m->summary, _("Judged"), err);

    tb_tab_formula(&f, m->lots, "COUNTIF", "verdict", "?*");
    all.formula = tb_text_str(&f);
    if (rc == TB_OK)
        rc = put(m, &all, err);
    tb_text_free(&f);
    for (size_t i = 0; i < TB_COUNT(row) && rc == TB_OK; i++) {
        struct line l = { row[i].item, NULL, (double)row[i].n, TB_COL_COUNT, row[i].tone, NULL, row[i].note };

        rc = put_over(m, l, m->lots, "COUNTIF", "verdict", tb_verdict_key(row[i].kind), err);
    }
    (void)snprintf(of, sizeof of,
                   _n("of %lld bolt that came in: a verdict speaks of the bolts burnt",
                      "of %lld bolts that came in: a verdict speaks of the bolts burnt", s->bolts),
                   (long long)s->bolts);
    bolts.note = of;
    if (rc == TB_OK)
        rc = put_over(m, none, m->lots, "COUNTBLANK", "verdict", NULL, err);
    return rc == TB_OK ? put_over(m, bolts, m->bolts, "COUNTIF", "burns", ">0", err) : rc;
}

/* The share with its interval, and the most careful reading of the same lots. */
static tb_rc conformity(struct month *m, struct tb_err *err)
{
    const struct tb_month_sums *s = &m->sums;
    int64_t tested = s->fits + s->contradicts + s->undecided;
    double share = tested ? (double)s->contradicts / (double)tested : NAN;
    double upper = tested ? (double)(s->contradicts + s->undecided) / (double)tested : NAN;
    const struct line row[] = {
        { _("Share of judged lots that contradict"), NULL, share, TB_COL_SHARE, TB_TONE_PLAIN, NULL,
          tested ? _("contradict / lots judged") : _("no lot was judged") },
        { _("  at least, with 95 % confidence"), NULL, s->low, TB_COL_SHARE, TB_TONE_PLAIN, NULL,
          _("exact (Clopper-Pearson) interval; it holds for all lots only if the judged ones were drawn at "
            "random") },
        { _("  at most, with 95 % confidence"), NULL, s->high, TB_COL_SHARE, TB_TONE_PLAIN, NULL, NULL },
        { _("Share if every undecided lot were wrong too"), NULL, upper, TB_COL_SHARE, TB_TONE_PLAIN, NULL,
          _("(contradict + undecided) / lots judged") },
    };
    tb_rc rc = tb_tab_section(m->summary, _("Not conforming, by burning"), err);

    for (size_t i = 0; i < TB_COUNT(row) && rc == TB_OK; i++)
        rc = put(m, &row[i], err);
    return rc;
}

/* What became of the lots, each with its length; the value of what is held, currency by currency. */
static tb_rc standings(struct month *m, struct tb_err *err)
{
    const struct tb_month_sums *s = &m->sums;
    struct {
        const char *item;
        enum tb_standing_kind kind;
        const struct tb_month_standing *st;
    } const row[] = {
        { _("Waiting"), TB_WAITING, &s->waiting },    { _("Held"), TB_HELD, &s->held },
        { _("Released"), TB_RELEASED, &s->released }, { _("Relabelled"), TB_RELABELLED, &s->relabelled },
        { _("Returned"), TB_RETURNED, &s->returned },
    };
    tb_rc rc = tb_tab_section(m->summary, _("Standing of these lots"), err);

    for (size_t i = 0; i < TB_COUNT(row) && rc == TB_OK; i++) {
        char metres[64];
        struct line l = { row[i].item, NULL,  (double)row[i].st->lots, TB_COL_COUNT, TB_TONE_PLAIN,
                          _("lots"),   metres };

        (void)snprintf(metres, sizeof metres, _("%.1f m"), row[i].st->metres);
        rc = put_over(m, l, m->lots, "COUNTIF", "standing", tb_standing_key(row[i].kind), err);
    }
    for (size_t i = 0; i < s->monies && rc == TB_OK; i++)
        rc = put_money(m, _("Value held"), s->money[i].held, s->money[i].currency, NULL, err);
    return rc;
}

/* Work is counted by when it was done, lots by when they arrived: the heading says that it is another count. */
static tb_rc work(struct month *m, struct tb_err *err)
{
    const struct tb_month_work *w = &m->sums.work;
    const struct line row[] = {
        { _("Swatches cut"), NULL, (double)w->swatches, TB_COL_COUNT, TB_TONE_PLAIN, NULL, NULL },
        { _("Burns"), NULL, (double)w->burns, TB_COL_COUNT, TB_TONE_PLAIN, NULL,
          _("corrected records counted once") },
        { _("Other bench tests"), NULL, (double)w->bench_tests, TB_COL_COUNT, TB_TONE_PLAIN, NULL, NULL },
        { _("Verdicts"), NULL, (double)w->verdicts, TB_COL_COUNT, TB_TONE_PLAIN, NULL,
          _("a lot judged again counts again") },
        { _("Decisions on lots"), NULL, (double)w->settled, TB_COL_COUNT, TB_TONE_PLAIN, NULL, NULL },
    };
    tb_rc rc = tb_tab_section(m->summary, _("Work done in the span, on any lot"), err);

    for (size_t i = 0; i < TB_COUNT(row) && rc == TB_OK; i++)
        rc = put(m, &row[i], err);
    return rc;
}

tb_rc tb_month_summary_fill(struct month *m, struct tb_err *err)
{
    tb_rc rc;

    if ((rc = came_in(m, err)) != TB_OK || (rc = judged(m, err)) != TB_OK ||
        (rc = conformity(m, err)) != TB_OK || (rc = standings(m, err)) != TB_OK ||
        (rc = work(m, err)) != TB_OK)
        return rc;
    return tb_tab_end(m->summary, err);
}
