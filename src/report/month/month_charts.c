/* month_charts.c - one sheet of charts the spreadsheet draws from the lists: they follow when a figure changes. */
#include "report/month/month_impl.h"

#include <math.h>
#include <stdio.h>

/* The sheet is one A4 page on its side: two charts beside each other, two rows of them. */
#define WIDE 545.0
#define HIGH 312.0
#define GAP 10.0

/* Narrow columns: a chart hangs on the cells under its corners, whatever width a spreadsheet makes of them. */
#define CELL(k)                                                                                              \
    {                                                                                                        \
        k, k, NULL, TB_COL_TEXT, 0, 6, false, false, TB_FROM_HAND                                            \
    }
static const struct tb_column columns[] = {
    CELL("1"),  CELL("2"),  CELL("3"),  CELL("4"),  CELL("5"),  CELL("6"),  CELL("7"),  CELL("8"),
    CELL("9"),  CELL("10"), CELL("11"), CELL("12"), CELL("13"), CELL("14"), CELL("15"), CELL("16"),
    CELL("17"), CELL("18"), CELL("19"), CELL("20"), CELL("21"), CELL("22"), CELL("23"), CELL("24"),
};

/* A chart without rows is left out: axes around nothing mean nothing. The next one takes its place. */
static tb_rc draw(struct month *m, const struct tb_tab *data, struct tb_sheet_chart k, int *drawn,
                  struct tb_err *err)
{
    int place = *drawn;

    if (!k.rows)
        return TB_OK;
    ++*drawn;
    k.x = place % 2 ? WIDE + GAP : 0;
    k.y = 6 + (place / 2 ? HIGH + GAP : 0);
    k.width = WIDE;
    k.height = HIGH;
    return tb_tab_chart(m->tab[TAB_CHARTS], data, &k, err);
}

void tb_month_points(struct tb_sheet_chart *k, const struct month *m)
{
    static const char *const series[] = { "share_low", "share", "share_high", "target" };

    *k = (struct tb_sheet_chart){
        .kind = TB_SHEET_POINTS, .label = "month", .series = series, .n = 3, .rows = m->trends, .share = true
    };
    for (size_t i = 0; i < m->trends; i++)
        if (m->trend[i].aim > 0)
            k->n = TB_COUNT(series);
}

/* Month after month, with the target of the site. */
static tb_rc by_month(struct month *m, int *drawn, struct tb_err *err)
{
    struct tb_sheet_chart k;
    bool any = false;

    tb_month_points(&k, m);
    k.title = _("Share of lots looked at that do not conform, by month");
    for (size_t i = 0; i < m->trends; i++) {
        any = any || m->trend[i].rate.judged; /* without any a spreadsheet draws an axis to 1000 % */
        if (m->trend[i].rate.high > 0.8)      /* left to itself it draws one to 120 % */
            k.y_most = 1;
    }
    return any ? draw(m, m->tab[TAB_MONTHS], k, drawn, err) : TB_OK;
}

static tb_rc by_supplier(struct month *m, int *drawn, struct tb_err *err)
{
    static const char *const series[] = { "share_low", "to_share", "to_high" };
    const char *const name[] = { _("no bar: 0 to the low end (95 %)"), _("low end (95 %) to the share"),
                                 _("the share to the high end (95 %)") };
    struct tb_sheet_chart ranks = { .kind = TB_SHEET_SPANS_LYING,
                                    .label = "supplier",
                                    .series = series,
                                    .name = name,
                                    .n = 3,
                                    .share = true,
                                    .y_most = 1 };
    struct tb_text title = { 0 };
    size_t all = tb_month_ranked(m);
    tb_rc rc;

    ranks.rows = all < MONTH_RANKED_MOST ? all : MONTH_RANKED_MOST;
    if (ranks.rows < all)
        tb_text_addf(&title,
                     _("Share of lots looked at that do not conform, by supplier (the first %d of %zu)"),
                     MONTH_RANKED_MOST, all);
    else
        tb_text_addf(&title, _("Share of lots looked at that do not conform, by supplier"));
    ranks.title = tb_text_str(&title);
    rc = draw(m, m->tab[TAB_SUPPLIERS], ranks, drawn, err);
    tb_text_free(&title);
    return rc;
}

/* The same rows as on the sheet, stacked in three parts: which kind it was otherwise stands there, and more hatchings are not told apart. */
static tb_rc found(struct month *m, int *drawn, struct tb_err *err)
{
    const char *const key[] = { "as_declared", "otherwise", m->found_column[m->columns].key };
    const char *const name[] = { _("as declared"), _("another kind"), _("undecided") };
    struct tb_sheet_chart parts = { .kind = TB_SHEET_PARTS,
                                    .title = _("What was found of what was declared (rows), lots"),
                                    .label = "declared_kind",
                                    .series = key,
                                    .name = name,
                                    .n = TB_COUNT(key),
                                    .rows = m->columns ? m->rows : 0 };

    return draw(m, m->tab[TAB_FOUND], parts, drawn, err);
}

/* Length and value in one chart: shares of different units can stand beside each other. */
static tb_rc stakes(struct month *m, int *drawn, struct tb_err *err)
{
    static const char *const series[] = { "share" };
    struct tb_sheet_chart bars = { .kind = TB_SHEET_BARS,
                                   .title = _("Share of length and value that is held now"),
                                   .label = "words",
                                   .series = series,
                                   .n = 1,
                                   .rows = m->n_stake,
                                   .share = true };

    return draw(m, m->tab[TAB_STAKES], bars, drawn, err);
}

static tb_rc fill(struct month *m, struct tb_err *err)
{
    const struct tb_month_sums *s = &m->sums;
    struct tb_text words = { 0 };
    int drawn = 0;
    tb_rc rc;

    tb_text_addf(
        &words,
        s->bolts == 1
            ? _("%lld of %lld bolt tested. Intervals are exact (Clopper-Pearson, 95 %%) and hold for all "
                "lots only if those looked at were drawn at random.")
            : _("%lld of %lld bolts tested. Intervals are exact (Clopper-Pearson, 95 %%) and hold for all "
                "lots only if those looked at were drawn at random."),
        (long long)s->bolts_tested, (long long)s->bolts);
    tb_put_text(m->tab[TAB_CHARTS],
                s->lots ? tb_text_str(&words) : _("Nothing came in: there is nothing to draw."));
    tb_text_free(&words);
    if ((rc = tb_tab_row(m->tab[TAB_CHARTS], err)) != TB_OK || (rc = by_month(m, &drawn, err)) != TB_OK ||
        (rc = by_supplier(m, &drawn, err)) != TB_OK || (rc = found(m, &drawn, err)) != TB_OK)
        return rc;
    return stakes(m, &drawn, err);
}

const struct sheet tb_month_charts = {
    .key = "charts",
    .tab = N_("Charts"),
    .title = N_("The span in charts"),
    .note = N_("Drawn from the sheets Months, Suppliers, Found and At stake. Hatching, not colour, tells the "
               "parts apart."),
    .column = columns,
    .columns = TB_COUNT(columns),
    .layout = TB_LAYOUT_FORM,
    .no_twin = true,
    .last = true,
    .fill = fill,
};
