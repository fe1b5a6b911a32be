/* month_goods.c - the lists of lots and of their bolts, and the sums over them. */
#include "report/month/month_impl.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Printed: what a manager reads. Beside, on the screen and in the twin: what is looked up. */
static const struct tb_column lot_columns[] = {
    { "lot", N_("Lot"), NULL, TB_COL_TEXT, 0, 13, false, false },
    { "arrived", N_("Arrived"), NULL, TB_COL_DAY, 0, 10.5, false, false },
    { "supplier", N_("Supplier"), NULL, TB_COL_TEXT, 0, 20, true, false },
    { "article", N_("Article"), NULL, TB_COL_TEXT, 0, 14, true, false },
    { "declared", N_("Declared, in the supplier's words"), NULL, TB_COL_TEXT, 0, 32, true, false },
    { "bolts", N_("Bolts"), NULL, TB_COL_COUNT, 0, 6.5, false, true },
    { "length_m", N_("Length"), "m", TB_COL_NUMBER, 1, 9, false, true },
    { "verdict", N_("Verdict"), NULL, TB_COL_TEXT, 0, 12, false, false },
    { "proof", N_("What it rests on"), NULL, TB_COL_TEXT, 0, 17, false, false },
    { "standing", N_("Standing"), NULL, TB_COL_TEXT, 0, 11.5, false, false },
    { "value", N_("Value"), NULL, TB_COL_NUMBER, 2, 11, false, false },
    { "currency", N_("Money"), NULL, TB_COL_TEXT, 0, 7, false, false },
    { "price", N_("Price a metre"), NULL, TB_COL_NUMBER, 2, 9, false, false },
    { "colour", N_("Colour"), NULL, TB_COL_TEXT, 0, 12, true, false },
    { "dye_lot", N_("Dye lot"), NULL, TB_COL_TEXT, 0, 10, true, false },
    { "evidence_ratio", N_("Evidence ratio"), NULL, TB_COL_NUMBER, TB_DECIMALS_FREE, 9, false, false },
    { "burns", N_("Burns"), NULL, TB_COL_COUNT, 0, 7, false, true },
    { "declared_kind", N_("Kinds declared"), NULL, TB_COL_TEXT, 0, 22, false, false },
    { "found_kind", N_("Kinds found"), NULL, TB_COL_TEXT, 0, 22, false, false },
    { "laboratory", N_("A laboratory found"), NULL, TB_COL_TEXT, 0, 28, true, false },
    { "supplier_no", N_("Supplier's number"), NULL, TB_COL_COUNT, 0, 10, false, false },
};
#define LOT_PRINTED 12

static const struct tb_column bolt_columns[] = {
    { "bolt", N_("Bolt"), NULL, TB_COL_TEXT, 0, 16, false, false },
    { "lot", N_("Lot"), NULL, TB_COL_TEXT, 0, 14, false, false },
    { "arrived", N_("Arrived"), NULL, TB_COL_DAY, 0, 11, false, false },
    { "supplier", N_("Supplier"), NULL, TB_COL_TEXT, 0, 28, false, false },
    { "length_m", N_("Length"), "m", TB_COL_NUMBER, 1, 10, false, true },
    { "width_cm", N_("Width"), "cm", TB_COL_NUMBER, 1, 9, false, false },
    { "mass_gm2", N_("Mass"), "g/m\xC2\xB2", TB_COL_NUMBER, 0, 9, false, false },
    { "burns", N_("Burns of this bolt"), NULL, TB_COL_COUNT, 0, 10, false, true },
    { "verdict_of_lot", N_("Verdict on the lot"), NULL, TB_COL_TEXT, 0, 12, false, false },
    { "proof", N_("What it rests on"), NULL, TB_COL_TEXT, 0, 20, false, false },
    { "standing", N_("Standing"), NULL, TB_COL_TEXT, 0, 11, false, false },
};

/* Currencies are never added up; a lot without a price, or in one currency too many, is counted as unpriced. */
static void add_money(struct tb_month_sums *s, const struct tb_month_lot *lot, bool held)
{
    double value = tb_month_value(lot);
    size_t i = 0;

    if (!isfinite(value)) {
        s->unpriced++;
        return;
    }
    while (i < s->monies && strcmp(s->money[i].currency, lot->currency) != 0)
        i++;
    if (i == TB_COUNT(s->money) || strlen(lot->currency) >= sizeof s->money[i].currency) {
        s->unpriced++;
        return;
    }
    if (i == s->monies)
        (void)snprintf(s->money[s->monies++].currency, sizeof s->money[i].currency, "%s", lot->currency);
    s->money[i].all += value;
    s->money[i].held += held ? value : 0;
}

/* Where a standing is counted. */
static struct tb_month_standing *standing_of(struct tb_month_sums *s, enum tb_standing_kind standing)
{
    return standing == TB_HELD         ? &s->held
           : standing == TB_RELEASED   ? &s->released
           : standing == TB_RELABELLED ? &s->relabelled
           : standing == TB_RETURNED   ? &s->returned
                                       : &s->waiting;
}

/* Summed as it comes: the list is not kept. */
static void add_lot(struct tb_month_sums *s, const struct tb_month_lot *lot)
{
    struct tb_month_standing *st = standing_of(s, lot->standing);

    s->lots++;
    s->bolts += lot->bolts;
    s->bolts_burnt += lot->bolts_burnt;
    s->metres += lot->metres;
    st->lots++;
    st->metres += lot->metres;
    add_money(s, lot, st == &s->held);
    if (lot->verdict == TB_UNJUDGED)
        s->unjudged++;
    else if (lot->verdict == TB_FITS)
        s->fits++;
    else if (lot->verdict == TB_CONTRADICTS)
        s->contradicts++;
    else
        s->undecided++;
}

/* Looked up from the end: the lots of one supplier arrive together. */
static int64_t number_of(struct month *m, const char *name)
{
    for (size_t i = m->names; i > 0; i--)
        if (strcmp(m->name[i - 1], name) == 0)
            return (int64_t)i;
    TB_PUSH_ROOM(m->name, m->names, m->name_cap);
    m->name[m->names++] = tb_strdup(name);
    return (int64_t)m->names;
}

/* Length times price, both in the same row. */
static void put_value(struct tb_tab *t, const struct tb_month_lot *lot)
{
    struct tb_text f = { 0 };
    char metres[24], price[24];

    if (!isfinite(tb_month_value(lot))) {
        tb_put_none(t);
        return;
    }
    tb_tab_cell(metres, t, "length_m");
    tb_tab_cell(price, t, "price");
    tb_text_addf(&f, "=%s*%s", metres, price);
    tb_put_formula(t, tb_text_str(&f), tb_month_value(lot), TB_COL_NUMBER);
    tb_text_free(&f);
}

/* The same words as in the matrix, so that its cells can be formulas over these columns. */
static tb_rc put_kinds(struct month *m, const struct tb_month_lot *lot, struct tb_err *err)
{
    struct tb_text declared = { 0 }, found = { 0 };
    tb_rc rc;

    tb_month_kind_declared(&declared, lot->declared);
    rc = tb_month_kind_found(&found, lot, tb_text_str(&declared), err);
    if (lot->verdict != TB_UNJUDGED)
        tb_month_pair(m, tb_text_str(&declared), tb_text_str(&found));
    tb_put_text(m->lots, tb_text_str(&declared));
    tb_put_text(m->lots, tb_text_str(&found));
    tb_text_free(&declared);
    tb_text_free(&found);
    return rc;
}

static tb_rc put_lot(void *arg, const struct tb_month_lot *lot, struct tb_err *err)
{
    struct month *m = arg;
    struct tb_tab *t = m->lots;
    tb_rc rc;

    add_lot(&m->sums, lot);
    tb_month_proof(m->proof, lot);
    tb_put_text(t, lot->ref);
    tb_put_day(t, lot->arrived);
    tb_put_text(t, lot->supplier);
    tb_put_text(t, lot->article);
    tb_put_text(t, lot->declared);
    tb_put_count(t, lot->bolts);
    tb_put_number(t, lot->metres);
    tb_put_text(t, tb_verdict_key(lot->verdict));
    tb_put_text(t, m->proof);
    tb_put_text(t, tb_standing_key(lot->standing));
    put_value(t, lot);
    tb_put_text(t, lot->currency);
    tb_put_number(t, lot->unit_price);
    tb_put_text(t, lot->colour);
    tb_put_text(t, lot->dye_lot);
    tb_put_number(t, exp(lot->log_ratio));
    tb_put_count(t, lot->burns);
    if ((rc = put_kinds(m, lot, err)) != TB_OK)
        return tb_within(err, rc, "lot %s", lot->ref);
    tb_put_text(t, lot->found);
    tb_put_count(t, number_of(m, lot->supplier));
    return tb_tab_row(t, err);
}

/* The verdict is that on the lot, and the column says so; beside it stands what it rests on. */
static tb_rc put_bolt(void *arg, const struct tb_month_lot *lot, const struct tb_month_bolt *bolt,
                      struct tb_err *err)
{
    struct month *m = arg;
    struct tb_tab *t = m->bolts;

    tb_put_text(t, bolt->number);
    tb_put_text(t, lot->ref);
    tb_put_day(t, lot->arrived);
    tb_put_text(t, lot->supplier);
    tb_put_number(t, bolt->metres);
    tb_put_number(t, bolt->width_cm);
    tb_put_number(t, bolt->mass_gm2);
    tb_put_count(t, bolt->burns);
    tb_put_text(t, tb_verdict_key(lot->verdict));
    tb_put_text(t, m->proof);
    tb_put_text(t, tb_standing_key(lot->standing));
    return tb_tab_row(t, err);
}

/* Both lists are filled in one walk: the bolts of a lot come right after it. */
tb_rc tb_month_goods(struct month *m, struct tb_err *err)
{
    struct tb_tab_plan lots = {
        .key = "lots",
        .tab = _("Lots"),
        .note =
            _("Lots of the deliveries that arrived in the span, as they stand now. A verdict rests on the "
              "bolts that were burnt, not on the lot."),
        .column = lot_columns,
        .columns = TB_COUNT(lot_columns),
        .printed = LOT_PRINTED,
    };
    struct tb_tab_plan bolts = {
        .key = "bolts",
        .tab = _("Bolts"),
        .note = _("Every bolt of those lots. A bolt with 0 burns was not tested itself."),
        .column = bolt_columns,
        .columns = TB_COUNT(bolt_columns),
    };
    tb_rc rc;

    if ((rc = tb_month_list(&m->lots, m, lots, _("Lots"), err)) != TB_OK ||
        (rc = tb_month_list(&m->bolts, m, bolts, _("Bolts"), err)) != TB_OK ||
        (rc = m->source->goods(m->source->from, put_lot, put_bolt, m, err)) != TB_OK)
        return rc;
    return (rc = tb_tab_end(m->lots, err)) != TB_OK ? rc : tb_tab_end(m->bolts, err);
}
