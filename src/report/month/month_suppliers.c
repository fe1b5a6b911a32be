/* month_suppliers.c - the suppliers, in the order of the low end of the interval of their share. */
#include "report/month/month_impl.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct tb_column columns[] = {
    { "supplier", N_("Supplier"), NULL, TB_COL_TEXT, 0, 30, true, false, TB_FROM_HAND },
    { "deliveries", N_("Deliveries"), NULL, TB_COL_COUNT, 0, 10, false, true, TB_FROM_HAND },
    { "lots", N_("Lots"), NULL, TB_COL_COUNT, 0, 7, false, true, TB_FROM_HAND },
    { "bolts", N_("Bolts"), NULL, TB_COL_COUNT, 0, 8, false, true, TB_FROM_HAND },
    { "length_m", N_("Length"), "m", TB_COL_NUMBER, 1, 11, false, true, TB_FROM_HAND },
    { "looked_at", N_("Lots looked at"), NULL, TB_COL_COUNT, 0, 10, false, true, TB_FROM_HAND },
    { "conforming", N_("Conform"), NULL, TB_COL_COUNT, 0, 8, false, true, TB_FROM_HAND },
    { "nothing_against", N_("No finding against"), NULL, TB_COL_COUNT, 0, 9, false, true, TB_FROM_HAND },
    { "not_conforming", N_("Do not conform"), NULL, TB_COL_COUNT, 0, 9, false, true, TB_FROM_HAND },
    { "open", N_("Open"), NULL, TB_COL_COUNT, 0, 7, false, true, TB_FROM_HAND },
    { "against", N_("Open, spoken against"), NULL, TB_COL_COUNT, 0, 13, false, true, TB_FROM_HAND },
    { "held", N_("Held now"), NULL, TB_COL_COUNT, 0, 7, false, true, TB_FROM_HAND },
    { "share", N_("Share that does not conform"), NULL, TB_COL_SHARE, 1, 12, false, false, TB_FROM_HAND },
    { "share_low", N_("at least (95 %)"), NULL, TB_COL_SHARE, 1, 10, false, false, TB_FROM_HAND },
    { "share_high", N_("at most (95 %)"), NULL, TB_COL_SHARE, 1, 10, false, false, TB_FROM_HAND },
    { "to_share", N_("from low end to share"), NULL, TB_COL_SHARE, 1, 11, false, false, TB_FROM_HAND },
    { "to_high", N_("from share to high end"), NULL, TB_COL_SHARE, 1, 11, false, false, TB_FROM_HAND },
    { "supplier_no", N_("Number, as in Lots"), NULL, TB_COL_COUNT, 0, 10, false, false, TB_FROM_HAND },
    { "weight_kg", N_("Weight where the length is not known"), "kg", TB_COL_NUMBER, 2, 11, false, true,
      TB_FROM_HAND },
};

/* By the low end of the interval, so that one bad lot of one does not lead the list; unjudged ones last. */
static int worse(const void *a, const void *b)
{
    const struct ranked *x = a, *y = b;
    double lx = isnan(x->rate.low) ? -1 : x->rate.low, ly = isnan(y->rate.low) ? -1 : y->rate.low;

    if (lx != ly)
        return lx > ly ? -1 : 1;
    if (x->metres != y->metres)
        return x->metres > y->metres ? -1 : 1;
    return strcmp(x->name, y->name);
}

size_t tb_month_ranked(const struct month *m)
{
    size_t n = 0;

    while (n < m->ranks && m->rank[n].rate.judged)
        n++;
    return n;
}

/* Counted over the list of lots by the supplier's number: a name may hold what a formula takes for a sign. */
static void put_over(struct month *m, const char *sum, const char *column, const char *words, double value,
                     enum tb_column_type as)
{
    struct tb_tab *t = m->tab[TAB_SUPPLIERS];
    char number[32], cell[24];
    struct tb_where where[2] = { { "supplier_no", number }, { column, words } };

    tb_tab_cell(cell, t, "supplier_no");
    (void)snprintf(number, sizeof number, "=%s", cell);
    tb_month_put_over(t, m, sum, where, column ? 2 : 1, value, as);
}

/* Lots of which so is concluded; those that nobody looked at are open, too, and are not among them. */
static void put_concluded(struct month *m, enum tb_concluded_kind kind, int64_t n)
{
    struct tb_tab *t = m->tab[TAB_SUPPLIERS];
    char number[32], cell[24];
    const struct tb_where where[] = { { "supplier_no", number },
                                      { "conclusion", tb_word(&tb_concluded_words, (int)kind) },
                                      { "concluded_by", "?*" } };

    tb_tab_cell(cell, t, "supplier_no");
    (void)snprintf(number, sizeof number, "=%s", cell);
    tb_month_put_over(t, m, NULL, where, TB_COUNT(where), (double)n, TB_COL_COUNT);
}

static tb_rc put(struct month *m, const struct ranked *r, struct tb_err *err)
{
    struct tb_tab *t = m->tab[TAB_SUPPLIERS];

    tb_put_text(t, r->name);
    tb_put_count(t, r->deliveries);
    put_over(m, NULL, NULL, NULL, (double)r->t.lots, TB_COL_COUNT);
    put_over(m, "bolts", NULL, NULL, (double)r->bolts, TB_COL_COUNT);
    if (r->measured)
        put_over(m, "length_m", NULL, NULL, r->metres, TB_COL_NUMBER);
    else
        tb_put_none(t);
    tb_month_put_sum(t, "conforming", "open", (double)r->rate.judged);
    put_concluded(m, TB_CONFORMS, r->t.conforms);
    put_concluded(m, TB_NOTHING_AGAINST, r->t.nothing_against);
    put_concluded(m, TB_DOES_NOT, r->t.does_not);
    put_concluded(m, TB_OPEN, r->t.open);
    put_over(m, NULL, "why_open", tb_word(&tb_open_words, TB_OPEN_AGAINST), (double)r->t.against,
             TB_COL_COUNT);
    put_over(m, NULL, "bolts_held", ">0", (double)r->held, TB_COL_COUNT);
    tb_month_put_rate(t, &r->rate);
    tb_month_put_spans(t, &r->rate);
    tb_put_count(t, r->number);
    put_over(m, "weight_kg", NULL, NULL, r->kg, TB_COL_NUMBER);
    return tb_tab_row(t, err);
}

static tb_rc fill(struct month *m, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < m->ranks && rc == TB_OK; i++)
        if ((rc = tb_month_rate(&m->rank[i].rate, &m->rank[i].t, err)) != TB_OK)
            return tb_within(err, rc, "%s", m->rank[i].name);
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
           "little. The interval holds if the lots looked at were drawn at random. Length is of bolts whose "
           "length is "
           "known; bolts that were only weighed stand beside (kg)."),
    .column = columns,
    .columns = TB_COUNT(columns),
    .printed = TB_COUNT(columns) - 4,
    .fill = fill,
};
