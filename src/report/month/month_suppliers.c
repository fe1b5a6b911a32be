/* month_suppliers.c - the suppliers, in the order of the low end of the interval of their share. */
#include "report/month/month_impl.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct tb_column columns[] = {
    { "supplier", N_("Supplier"), NULL, TB_COL_TEXT, 0, 32, true, false, TB_FROM_HAND },
    { "deliveries", N_("Deliveries"), NULL, TB_COL_COUNT, 0, 10, false, true, TB_FROM_HAND },
    { "lots", N_("Lots"), NULL, TB_COL_COUNT, 0, 7, false, true, TB_FROM_HAND },
    { "bolts", N_("Bolts"), NULL, TB_COL_COUNT, 0, 8, false, true, TB_FROM_HAND },
    { "length_m", N_("Length"), "m", TB_COL_NUMBER, 1, 11, false, true, TB_FROM_HAND },
    { "judged", N_("Lots judged"), NULL, TB_COL_COUNT, 0, 8, false, true, TB_FROM_HAND },
    { "fits", N_("Fit"), NULL, TB_COL_COUNT, 0, 7, false, true, TB_FROM_HAND },
    { "contradicts", N_("Contradict"), NULL, TB_COL_COUNT, 0, 10, false, true, TB_FROM_HAND },
    { "against", N_("Speak against"), NULL, TB_COL_COUNT, 0, 8, false, true, TB_FROM_HAND },
    { "undecided", N_("Undecided"), NULL, TB_COL_COUNT, 0, 10, false, true, TB_FROM_HAND },
    { "held", N_("Held now"), NULL, TB_COL_COUNT, 0, 7, false, true, TB_FROM_HAND },
    { "share", N_("Share that contradicts"), NULL, TB_COL_SHARE, 1, 12, false, false, TB_FROM_HAND },
    { "share_low", N_("at least (95 %)"), NULL, TB_COL_SHARE, 1, 10, false, false, TB_FROM_HAND },
    { "share_high", N_("at most (95 %)"), NULL, TB_COL_SHARE, 1, 10, false, false, TB_FROM_HAND },
    { "to_share", N_("from low end to share"), NULL, TB_COL_SHARE, 1, 11, false, false, TB_FROM_HAND },
    { "to_high", N_("from share to high end"), NULL, TB_COL_SHARE, 1, 11, false, false, TB_FROM_HAND },
    { "supplier_no", N_("Number, as in Lots"), NULL, TB_COL_COUNT, 0, 10, false, false, TB_FROM_HAND },
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
    struct ranked one = { .s = *s };
    tb_rc rc = tb_month_rate(&one.rate, s->fits, s->contradicts, s->against + s->undecided, err);

    if (rc != TB_OK)
        return tb_within(err, rc, "%s", s->name);
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
    double lx = isnan(x->rate.low) ? -1 : x->rate.low, ly = isnan(y->rate.low) ? -1 : y->rate.low;

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
    struct tb_tab *t = m->tab[TAB_SUPPLIERS];
    char number[32], cell[24];
    struct tb_where where[2] = { { "supplier_no", number }, { column, words } };

    tb_tab_cell(cell, t, "supplier_no");
    (void)snprintf(number, sizeof number, "=%s", cell);
    if (r->number)
        tb_month_put_over(t, m, sum, where, column ? 2 : 1, value, as);
    else
        tb_month_put_plain(t, value, as);
}

static tb_rc put(struct month *m, const struct ranked *r, struct tb_err *err)
{
    struct tb_tab *t = m->tab[TAB_SUPPLIERS];

    tb_put_text(t, r->s.name);
    tb_put_count(t, r->s.deliveries);
    put_over(m, r, NULL, NULL, NULL, (double)r->s.lots, TB_COL_COUNT);
    put_over(m, r, "bolts", NULL, NULL, (double)r->s.bolts, TB_COL_COUNT);
    put_over(m, r, "length_m", NULL, NULL, r->s.metres, TB_COL_NUMBER);
    tb_month_put_sum(t, "fits", "undecided", (double)r->rate.judged);
    put_over(m, r, NULL, "verdict", tb_grade_key(TB_GRADE_FITS), (double)r->s.fits, TB_COL_COUNT);
    put_over(m, r, NULL, "verdict", tb_grade_key(TB_GRADE_CONTRADICTS), (double)r->s.contradicts,
             TB_COL_COUNT);
    put_over(m, r, NULL, "verdict", tb_grade_key(TB_GRADE_SPEAKS_AGAINST), (double)r->s.against,
             TB_COL_COUNT);
    put_over(m, r, NULL, "verdict", tb_grade_key(TB_GRADE_UNDECIDED), (double)r->s.undecided, TB_COL_COUNT);
    put_over(m, r, NULL, "standing", tb_standing_key(TB_HELD), (double)r->s.held, TB_COL_COUNT);
    tb_month_put_rate(t, &r->rate);
    tb_month_put_spans(t, &r->rate);
    if (r->number)
        tb_put_count(t, r->number);
    return tb_tab_row(t, err);
}

static tb_rc fill(struct month *m, struct tb_err *err)
{
    tb_rc rc = m->source->suppliers(m->source->from, rank, m, err);

    if (m->ranks)
        qsort(m->rank, m->ranks, sizeof *m->rank, worse);
    for (size_t i = 0; i < m->ranks && rc == TB_OK; i++)
        rc = put(m, &m->rank[i], err);
    return rc;
}

const struct sheet tb_month_suppliers = {
    .key = "suppliers",
    .tab = N_("Suppliers"),
    .title = N_("Suppliers"),
    .note =
        N_("In the order of the low end of the exact 95 % interval, not of the raw share: a few lots prove "
           "little. The interval holds if the judged lots were drawn at random."),
    .column = columns,
    .columns = TB_COUNT(columns),
    .printed = TB_COUNT(columns) - 3,
    .fill = fill,
};
