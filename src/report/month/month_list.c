/* month_list.c - what the lists have in common: title and emphasis, formulas over other lists and within a row. */
#include "report/month/month_impl.h"

#include <math.h>

static const struct tb_emphasis emphasis[] = {
    { "verdict", "contradicts", TB_TONE_ALARM },
    { "verdict", "undecided", TB_TONE_DOUBT },
    { "verdict_of_lot", "contradicts", TB_TONE_ALARM },
    { "verdict_of_lot", "undecided", TB_TONE_DOUBT },
    { "standing", "held", TB_TONE_ALARM },
    { "standing", "waiting", TB_TONE_DOUBT },
};

tb_rc tb_month_list(struct tb_tab **out, struct month *m, struct tb_tab_plan plan, const char *title,
                    struct tb_err *err)
{
    struct tb_text t = { 0 };
    tb_rc rc;

    tb_text_addf(&t, "%s \xC2\xB7 %s", title, m->plan->name);
    plan.title = tb_text_str(&t);
    if (!plan.emphasis) {
        plan.emphasis = emphasis;
        plan.emphases = TB_COUNT(emphasis);
    }
    rc = tb_tab_begin(out, m->book, &plan, err);
    tb_text_free(&t);
    return rc;
}

/* Without a currency a price is a figure nobody can add up. */
double tb_month_value(const struct tb_month_lot *lot)
{
    return lot->currency[0] ? lot->unit_price * lot->metres : NAN;
}

/* The value is computed here as well: not every program that opens the file calculates. */
void tb_month_put_over(struct tb_tab *t, const struct month *m, const char *column,
                       const struct tb_where *where, size_t n, double value, enum tb_column_type as)
{
    struct tb_text f = { 0 };

    tb_tab_formula_where(&f, m->lots, column, where, n);
    tb_put_formula(t, tb_text_str(&f), value, as);
    tb_text_free(&f);
}

/* BETAINV is the name every spreadsheet knows; the ends are those of docs/sampling.md. */
void tb_month_put_interval(struct tb_tab *t, double share, double low, double high)
{
    struct tb_text f = { 0 };
    char k[24], n[24];

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

/* Empty where the first cell is: a spreadsheet would take an empty one for 0. */
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

/* The parts of a floating bar: from the low end to the share, and on to the high end. */
void tb_month_put_spans(struct tb_tab *t, double share, double low, double high)
{
    put_difference(t, "share", "share_low", share - low);
    put_difference(t, "share_high", "share", high - share);
}
