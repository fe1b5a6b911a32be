/* month_suppliers.c - the suppliers, in the order of the low end of the interval of their share. */
#include "report/month/month_impl.h"

#include "tenterbook/interval.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct tb_column columns[] = {
    { "supplier", N_("Supplier"), NULL, TB_COL_TEXT, 0, 32, true, false },
    { "deliveries", N_("Deliveries"), NULL, TB_COL_COUNT, 0, 10, false, true },
    { "lots", N_("Lots"), NULL, TB_COL_COUNT, 0, 7, false, true },
    { "bolts", N_("Bolts"), NULL, TB_COL_COUNT, 0, 8, false, true },
    { "length_m", N_("Length"), "m", TB_COL_NUMBER, 1, 11, false, true },
    { "judged", N_("Lots judged"), NULL, TB_COL_COUNT, 0, 8, false, true },
    { "fits", N_("Fit"), NULL, TB_COL_COUNT, 0, 7, false, true },
    { "contradicts", N_("Contradict"), NULL, TB_COL_COUNT, 0, 10, false, true },
    { "undecided", N_("Undecided"), NULL, TB_COL_COUNT, 0, 10, false, true },
    { "held", N_("Held now"), NULL, TB_COL_COUNT, 0, 7, false, true },
    { "share", N_("Share that contradicts"), NULL, TB_COL_SHARE, 1, 12, false, false },
    { "share_low", N_("at least (95 %)"), NULL, TB_COL_SHARE, 1, 10, false, false },
    { "share_high", N_("at most (95 %)"), NULL, TB_COL_SHARE, 1, 10, false, false },
    { "to_share", N_("from low end to share"), NULL, TB_COL_SHARE, 1, 11, false, false },
    { "to_high", N_("from share to high end"), NULL, TB_COL_SHARE, 1, 11, false, false },
    { "supplier_no", N_("Number, as in Lots"), NULL, TB_COL_COUNT, 0, 10, false, false },
};

static int64_t number_of(const struct month *m, const char *name)
{
    for (size_t i = 0; i < m->names; i++)
        if (strcmp(m->name[i], name) == 0)
            return (int64_t)i + 1;
    return 0;
}

static tb_rc rank(void *arg, const struct tb_month_supplier *s, struct tb_err *err)
{
    struct month *m = arg;
    struct ranked one = { .s = *s, .share = NAN, .low = NAN, .high = NAN };
    tb_rc rc;

    one.judged = s->fits + s->contradicts + s->undecided;
    if (one.judged) {
        one.share = (double)s->contradicts / (double)one.judged;
        if ((rc = tb_interval_exact(&one.low, &one.high, (long)s->contradicts, (long)one.judged, 0.95,
                                    err)) != TB_OK)
            return tb_within(err, rc, "%s", s->name);
    }
    one.s.name = tb_strdup(s->name);
    one.number = number_of(m, s->name);
    TB_PUSH_ROOM(m->rank, m->ranks, m->rank_cap);
    m->rank[m->ranks++] = one;
    return TB_OK;
}

/* By the low end of the interval, so that one bad lot of one does not lead the list; unjudged ones last. */
static int worse(const void *a, const void *b)
{
    const struct ranked *x = a, *y = b;
    double lx = isnan(x->low) ? -1 : x->low, ly = isnan(y->low) ? -1 : y->low;

    if (lx != ly)
        return lx > ly ? -1 : 1;
    if (x->s.metres != y->s.metres)
        return x->s.metres > y->s.metres ? -1 : 1;
    return strcmp(x->s.name, y->s.name);
}

/* Counted over the list of lots by the supplier's number: a name may hold what a formula takes for a sign. */
static void put_over(struct month *m, const struct ranked *r, const char *sum, const char *column,
                     const char *words, double value, enum tb_column_type as)
{
    char number[32], cell[24];
    struct tb_where where[2] = { { "supplier_no", number }, { column, words } };

    tb_tab_cell(cell, m->suppliers, "supplier_no");
    (void)snprintf(number, sizeof number, "=%s", cell);
    if (r->number)
        tb_month_put_over(m->suppliers, m, sum, where, column ? 2 : 1, value, as);
    else if (as == TB_COL_COUNT)
        tb_put_count(m->suppliers, (int64_t)value);
    else
        tb_put_number(m->suppliers, value);
}

static void put_judged(struct tb_tab *t, int64_t judged)
{
    char from[24], to[24];
    struct tb_text f = { 0 };

    tb_tab_cell(from, t, "fits");
    tb_tab_cell(to, t, "undecided");
    tb_text_addf(&f, "=SUM(%s:%s)", from, to);
    tb_put_formula(t, tb_text_str(&f), (double)judged, TB_COL_COUNT);
    tb_text_free(&f);
}

static tb_rc put(struct month *m, const struct ranked *r, struct tb_err *err)
{
    struct tb_tab *t = m->suppliers;

    tb_put_text(t, r->s.name);
    tb_put_count(t, r->s.deliveries);
    put_over(m, r, NULL, NULL, NULL, (double)r->s.lots, TB_COL_COUNT);
    put_over(m, r, "bolts", NULL, NULL, (double)r->s.bolts, TB_COL_COUNT);
    put_over(m, r, "length_m", NULL, NULL, r->s.metres, TB_COL_NUMBER);
    put_judged(t, r->judged);
    put_over(m, r, NULL, "verdict", tb_verdict_key(TB_FITS), (double)r->s.fits, TB_COL_COUNT);
    put_over(m, r, NULL, "verdict", tb_verdict_key(TB_CONTRADICTS), (double)r->s.contradicts, TB_COL_COUNT);
    put_over(m, r, NULL, "verdict", tb_verdict_key(TB_UNDECIDED), (double)r->s.undecided, TB_COL_COUNT);
    put_over(m, r, NULL, "standing", tb_standing_key(TB_HELD), (double)r->s.held, TB_COL_COUNT);
    tb_month_put_interval(t, r->share, r->low, r->high);
    tb_month_put_spans(t, r->share, r->low, r->high);
    if (r->number)
        tb_put_count(t, r->number);
    return tb_tab_row(t, err);
}

tb_rc tb_month_suppliers(struct month *m, struct tb_err *err)
{
    struct tb_tab_plan plan = {
        .key = "suppliers",
        .tab = _("Suppliers"),
        .note = _(
            "In the order of the low end of the exact 95 % interval, not of the raw share: a few lots prove "
            "little. The interval holds if the judged lots were drawn at random."),
        .column = columns,
        .columns = TB_COUNT(columns),
        .printed = TB_COUNT(columns) - 3,
    };
    tb_rc rc = tb_month_list(&m->suppliers, m, plan, _("Suppliers"), err);

    if (rc == TB_OK)
        rc = m->source->suppliers(m->source->from, rank, m, err);
    if (m->ranks)
        qsort(m->rank, m->ranks, sizeof *m->rank, worse);
    for (size_t i = 0; i < m->ranks && rc == TB_OK; i++)
        rc = put(m, &m->rank[i], err);
    return rc == TB_OK ? tb_tab_end(m->suppliers, err) : rc;
}
