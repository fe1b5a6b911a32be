/* month_list.c - what the lists have in common: a lot as they tell it, formulas over other lists and within a row. */
#include "report/month/month_impl.h"

#include "tenterbook/interval.h"
#include "tenterbook/tell.h"
#include "tenterbook/work.h"

#include <math.h>
#include <stdio.h>

/* Without a currency a price is a figure nobody can add up. */
tb_rc tb_month_tell(struct told *out, const struct tb_month_lot *lot, struct tb_err *err)
{
    struct tb_text proof = { 0 };
    tb_rc rc;

    *out = (struct told){ .lot = *lot,
                          .value = lot->currency[0] && !lot->unknown ? lot->unit_price * lot->metres : NAN,
                          .length_kind = tb_length_kind(lot->bolts, lot->derived, lot->unknown) };
    rc =
        tb_told_verdict_read(&out->verdict,
                             &(struct tb_kept_verdict){ lot->verdict, lot->log_ratio, lot->grade, lot->lowest,
                                                        lot->highest, lot->one_look, lot->detail },
                             err);
    if (rc != TB_OK)
        return tb_within(err, rc, "lot %s", lot->ref);
    tb_bench_coverage(&proof, lot->bolts_burnt, lot->bolts_tested, lot->bolts);
    if (out->verdict.one_look)
        tb_clause(&proof, "one look alone says so");
    if (lot->in_part)
        tb_clause(&proof, "released in part: %lld of %lld bolts", (long long)lot->in_part,
                  (long long)lot->bolts);
    (void)snprintf(out->proof, sizeof out->proof, "%s", tb_text_str(&proof));
    tb_text_free(&proof);
    return TB_OK;
}

void tb_month_put_plain(struct tb_tab *t, double value, enum tb_column_type as)
{
    if (as == TB_COL_COUNT)
        tb_put_count(t, (int64_t)value);
    else if (as == TB_COL_SHARE)
        tb_put_share(t, value);
    else
        tb_put_number(t, value);
}

/* The value is computed here as well: not every program that opens the file calculates. */
void tb_month_put_over(struct tb_tab *t, const struct month *m, const char *column,
                       const struct tb_where *where, size_t n, double value, enum tb_column_type as)
{
    struct tb_text f = { 0 };

    if (n)
        tb_tab_formula_where(&f, m->tab[TAB_LOTS], column, where, n);
    else
        tb_tab_formula(&f, m->tab[TAB_LOTS], "SUM", column, NULL);
    tb_put_formula(t, value, as, "%s", tb_text_str(&f));
    tb_text_free(&f);
}

void tb_month_put_sum(struct tb_tab *t, const char *from, const char *to, double value)
{
    char a[24], b[24];

    tb_tab_cell(a, t, from);
    tb_tab_cell(b, t, to);
    tb_put_formula(t, value, TB_COL_COUNT, "=SUM(%s:%s)", a, b);
}

void tb_month_put_share(struct tb_tab *t, const char *part, const char *whole, double value)
{
    char k[24], n[24];

    tb_tab_cell(k, t, part);
    tb_tab_cell(n, t, whole);
    tb_put_formula(t, value, TB_COL_SHARE, "=IF(%s=0,\"\",%s/%s)", n, k, n);
}

tb_rc tb_month_rate(struct rate *out, int64_t fits, int64_t contradicts, int64_t open, struct tb_err *err)
{
    *out = (struct rate){ fits + contradicts + open, NAN, NAN, NAN, NAN };
    if (!out->judged)
        return TB_OK;
    out->share = (double)contradicts / (double)out->judged;
    out->most = (double)(contradicts + open) / (double)out->judged;
    return tb_interval_exact(&out->low, &out->high, (long)contradicts, (long)out->judged, 0.95, err);
}

/* BETAINV is the name every spreadsheet knows; the ends are those of docs/sampling.md. */
void tb_month_put_rate(struct tb_tab *t, const struct rate *r)
{
    char k[24], n[24];

    tb_tab_cell(k, t, "contradicts");
    tb_tab_cell(n, t, "judged");
    tb_month_put_share(t, "contradicts", "judged", r->share);
    tb_put_formula(t, r->low, TB_COL_SHARE, "=IF(%s=0,\"\",IF(%s=0,0,BETAINV(0.025,%s,%s-%s+1)))", n, k, k, n,
                   k);
    tb_put_formula(t, r->high, TB_COL_SHARE, "=IF(%s=0,\"\",IF(%s=%s,1,BETAINV(0.975,%s+1,%s-%s)))", n, k, n,
                   k, n, k);
}

/* Empty where the first cell is: a spreadsheet would take an empty one for 0. */
static void put_difference(struct tb_tab *t, const char *a, const char *b, double value)
{
    char x[24], y[24];

    tb_tab_cell(x, t, a);
    tb_tab_cell(y, t, b);
    tb_put_formula(t, value, TB_COL_SHARE, "=IF(%s=\"\",\"\",%s-%s)", x, x, y);
}

void tb_month_put_spans(struct tb_tab *t, const struct rate *r)
{
    put_difference(t, "share", "share_low", r->share - r->low);
    put_difference(t, "share_high", "share", r->high - r->share);
}
