/* month_goods.c - the lists of lots and of their bolts, and the sums over them. */
#include "report/month/month_impl.h"
#include "tenterbook/evidence.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A lot with one of its bolts: both lists are rows of it. */
struct goods_row {
    struct told of;
    char *declared_kind, *found_kind, *likeliest;
    int64_t supplier_no;
    struct tb_month_bolt bolt;
    const char *bolt_length_kind;
};
#define ROW(member) TB_FROM(struct goods_row, member)
#define LOT(member) ROW(of.lot.member)
#define CONCLUDED(member) ROW(of.concluded.member)
#define CONCLUSION TB_FROM_OF(struct goods_row, of.concluded.kind, &tb_concluded_words)
#define VERDICT TB_FROM_OF(struct goods_row, of.concluded.told.grade, &tb_grade_words)

/* Length in the unit of the invoice, from the same row; kilograms as they came. */
static void put_quantity(struct tb_tab *t, const void *record)
{
    const struct goods_row *r = record;
    char metres[24], one[24];

    if (!isfinite(r->of.quantity) || isnan(r->of.lot.unit_metres)) {
        tb_put_number(t, r->of.quantity);
        return;
    }
    tb_tab_cell(metres, t, "length_m");
    tb_tab_cell(one, t, "unit_metres");
    tb_put_formula(t, r->of.quantity, TB_COL_NUMBER, "=%s/%s", metres, one);
}

/* Quantity times price, both in the same row. */
static void put_value(struct tb_tab *t, const void *record)
{
    const struct goods_row *r = record;
    char quantity[24], price[24];

    if (!isfinite(r->of.value)) {
        tb_put_none(t);
        return;
    }
    tb_tab_cell(quantity, t, "quantity");
    tb_tab_cell(price, t, "price");
    tb_put_formula(t, r->of.value, TB_COL_NUMBER, "=%s*%s", quantity, price);
}

/* The length held, in the unit of the invoice, times price; by weight it is that of all or of nothing. */
static void put_held_value(struct tb_tab *t, const void *record)
{
    const struct goods_row *r = record;
    char metres[24], one[24], price[24];

    if (!isfinite(r->of.held_value) || isnan(r->of.lot.unit_metres)) {
        tb_put_number(t, r->of.held_value);
        return;
    }
    tb_tab_cell(metres, t, "held_m");
    tb_tab_cell(one, t, "unit_metres");
    tb_tab_cell(price, t, "price");
    tb_put_formula(t, r->of.held_value, TB_COL_NUMBER, "=%s/%s*%s", metres, one, price);
}

/* Printed: what a manager reads. Beside, on the screen and in the twin: what is looked up. */
static const struct tb_column lot_columns[] = {
    { "lot", N_("Lot"), NULL, TB_COL_TEXT, 0, 13, false, false, LOT(ref) },
    { "arrived", N_("Arrived"), NULL, TB_COL_DAY, 0, 10.5, false, false, LOT(arrived) },
    { "supplier", N_("Supplier"), NULL, TB_COL_TEXT, 0, 20, true, false, LOT(supplier) },
    { "article", N_("Article"), NULL, TB_COL_TEXT, 0, 14, true, false, LOT(article) },
    { "declared", N_("Declared, in the supplier's words"), NULL, TB_COL_TEXT, 0, 32, true, false,
      LOT(declared) },
    { "bolts", N_("Bolts"), NULL, TB_COL_COUNT, 0, 6.5, false, true, LOT(bolts) },
    { "length_m", N_("Length"), "m", TB_COL_NUMBER, 1, 9, false, true, LOT(metres) },
    { "conclusion", N_("Conclusion"), NULL, TB_COL_TEXT, 0, 12, true, false, CONCLUSION },
    { "proof", N_("What it rests on"), NULL, TB_COL_TEXT, 0, 17, true, false, ROW(of.proof) },
    { "standing", N_("Standing"), NULL, TB_COL_TEXT, 0, 11.5, false, false, ROW(of.standing) },
    { "value", N_("Value"), NULL, TB_COL_NUMBER, 2, 11, false, false, TB_FROM_BY(put_value) },
    { "currency", N_("Money"), NULL, TB_COL_TEXT, 0, 7, false, false, LOT(currency) },
    { "verdict", N_("Verdict of burns and tests"), NULL, TB_COL_TEXT, 0, 12, false, false, VERDICT },
    { "concluded_by", N_("Concluded by"), NULL, TB_COL_TEXT, 0, 11, false, false,
      TB_FROM_OF(struct goods_row, of.concluded.by, &tb_ground_words) },
    { "concluded_on", N_("Concluded on"), NULL, TB_COL_DAY, 0, 10.5, false, false, CONCLUDED(on) },
    { "markets", N_("In the markets"), NULL, TB_COL_TEXT, 0, 9, false, false, CONCLUDED(markets) },
    { "why_open", N_("Why it is open"), NULL, TB_COL_TEXT, 0, 14, false, false,
      TB_FROM_OF(struct goods_row, of.concluded.open, &tb_open_words) },
    { "quantity", N_("Quantity invoiced"), NULL, TB_COL_NUMBER, 2, 10, false, false,
      TB_FROM_BY(put_quantity) },
    { "unit", N_("Unit of the invoice"), NULL, TB_COL_TEXT, 0, 8, false, false, LOT(unit) },
    { "unit_metres", N_("Metres in one unit"), NULL, TB_COL_NUMBER, TB_DECIMALS_FREE, 8, false, false,
      LOT(unit_metres) },
    { "price", N_("Price of one unit"), NULL, TB_COL_NUMBER, TB_DECIMALS_FREE, 9, false, false, LOT(price) },
    { "colour", N_("Colour"), NULL, TB_COL_TEXT, 0, 12, true, false, LOT(colour) },
    { "dye_lot", N_("Dye lot"), NULL, TB_COL_TEXT, 0, 10, true, false, LOT(dye_lot) },
    { "evidence_ratio", N_("Evidence ratio"), NULL, TB_COL_NUMBER, TB_DECIMALS_FREE, 9, false, false,
      CONCLUDED(told.ratio) },
    { "burns", N_("Burns"), NULL, TB_COL_COUNT, 0, 7, false, true, LOT(burns) },
    { "tests", N_("Tests without a flame"), NULL, TB_COL_COUNT, 0, 8, false, true, LOT(tests) },
    { "declared_kind", N_("Kinds declared"), NULL, TB_COL_TEXT, 0, 22, false, false, ROW(declared_kind) },
    { "found_kind", N_("Kinds found"), NULL, TB_COL_TEXT, 0, 22, false, false, ROW(found_kind) },
    { "likeliest", N_("Likeliest, where no declaration can be judged"), NULL, TB_COL_TEXT, 0, 28, true, false,
      ROW(likeliest) },
    { "laboratory", N_("A laboratory found"), NULL, TB_COL_TEXT, 0, 28, true, false, LOT(found) },
    { "supplier_no", N_("Supplier's number"), NULL, TB_COL_COUNT, 0, 10, false, false, ROW(supplier_no) },
    { "length_kind", N_("How the length is known"), NULL, TB_COL_TEXT, 0, 22, false, false,
      ROW(of.length_kind) },
    { "bolts_held", N_("Bolts held"), NULL, TB_COL_COUNT, 0, 7, false, true, ROW(of.stands[TB_HELD].bolts) },
    { "bolts_released", N_("Bolts released"), NULL, TB_COL_COUNT, 0, 8, false, true,
      ROW(of.stands[TB_RELEASED].bolts) },
    { "bolts_returned", N_("Bolts returned"), NULL, TB_COL_COUNT, 0, 8, false, true,
      ROW(of.stands[TB_RETURNED].bolts) },
    { "bolts_relabelled", N_("Bolts relabelled"), NULL, TB_COL_COUNT, 0, 9, false, true,
      ROW(of.stands[TB_RELABELLED].bolts) },
    { "held_m", N_("Held"), "m", TB_COL_NUMBER, 1, 9, false, true, ROW(of.stands[TB_HELD].metres) },
    { "released_m", N_("Released"), "m", TB_COL_NUMBER, 1, 9, false, true,
      ROW(of.stands[TB_RELEASED].metres) },
    { "returned_m", N_("Returned"), "m", TB_COL_NUMBER, 1, 9, false, true,
      ROW(of.stands[TB_RETURNED].metres) },
    { "relabelled_m", N_("Relabelled"), "m", TB_COL_NUMBER, 1, 9, false, true,
      ROW(of.stands[TB_RELABELLED].metres) },
    { "weight_kg", N_("Weight where the length is not known"), "kg", TB_COL_NUMBER, 2, 9, false, true,
      ROW(of.kg) },
    { "held_kg", N_("Of that held"), "kg", TB_COL_NUMBER, 2, 9, false, true, ROW(of.stands[TB_HELD].kg) },
    { "released_kg", N_("Of that released"), "kg", TB_COL_NUMBER, 2, 9, false, true,
      ROW(of.stands[TB_RELEASED].kg) },
    { "returned_kg", N_("Of that returned"), "kg", TB_COL_NUMBER, 2, 9, false, true,
      ROW(of.stands[TB_RETURNED].kg) },
    { "relabelled_kg", N_("Of that relabelled"), "kg", TB_COL_NUMBER, 2, 9, false, true,
      ROW(of.stands[TB_RELABELLED].kg) },
    { "held_value", N_("Value held"), NULL, TB_COL_NUMBER, 2, 11, false, false, TB_FROM_BY(put_held_value) },
    { "net_kg", N_("Net weight beside the length"), "kg", TB_COL_NUMBER, 2, 9, false, true, LOT(weight_kg) },
};
#define LOT_PRINTED 12

static const struct tb_column bolt_columns[] = {
    { "bolt", N_("Bolt"), NULL, TB_COL_TEXT, 0, 16, false, false, ROW(bolt.number) },
    { "lot", N_("Lot"), NULL, TB_COL_TEXT, 0, 14, false, false, LOT(ref) },
    { "arrived", N_("Arrived"), NULL, TB_COL_DAY, 0, 11, false, false, LOT(arrived) },
    { "supplier", N_("Supplier"), NULL, TB_COL_TEXT, 0, 28, false, false, LOT(supplier) },
    { "length_m", N_("Length"), "m", TB_COL_NUMBER, 1, 10, false, true, ROW(bolt.metres) },
    { "width_cm", N_("Width"), "cm", TB_COL_NUMBER, 1, 9, false, false, ROW(bolt.width_cm) },
    { "mass_gm2", N_("Mass"), "g/m\xC2\xB2", TB_COL_NUMBER, 0, 9, false, false, ROW(bolt.mass_gm2) },
    { "burns", N_("Burns of this bolt"), NULL, TB_COL_COUNT, 0, 10, false, true, ROW(bolt.burns) },
    { "all_tests", N_("Tests of this bolt, burns included"), NULL, TB_COL_COUNT, 0, 18, false, true,
      ROW(bolt.tests) },
    { "conclusion_of_lot", N_("Conclusion on the lot"), NULL, TB_COL_TEXT, 0, 12, true, false, CONCLUSION },
    { "proof", N_("What it rests on"), NULL, TB_COL_TEXT, 0, 20, false, false, ROW(of.proof) },
    { "standing", N_("Standing"), NULL, TB_COL_TEXT, 0, 11, false, false,
      TB_FROM_OF(struct goods_row, bolt.standing, &tb_standing_words) },
    { "length_kind", N_("How the length is known"), NULL, TB_COL_TEXT, 0, 22, false, false,
      ROW(bolt_length_kind) },
    { "weight_kg", N_("Weight, where it was counted in it"), "kg", TB_COL_NUMBER, 2, 10, false, true,
      ROW(bolt.kg) },
    { "net_kg", N_("Net weight beside the length"), "kg", TB_COL_NUMBER, 2, 10, false, true,
      ROW(bolt.weight_kg) },
};

/* Currencies are never added up; a lot without a price, or in one currency too many, is counted as unpriced. */
static void add_money(struct tb_month_sums *s, const struct told *of)
{
    const char *currency = of->lot.currency;
    size_t i = 0;

    if (!isfinite(of->value)) {
        s->unpriced++;
        return;
    }
    while (i < s->monies && strcmp(s->money[i].currency, currency) != 0)
        i++;
    if (i == TB_COUNT(s->money) || strlen(currency) >= sizeof s->money[i].currency) {
        s->unpriced++;
        return;
    }
    if (i == s->monies)
        (void)snprintf(s->money[s->monies++].currency, sizeof s->money[i].currency, "%s", currency);
    s->money[i].all += of->value;
    s->money[i].held += isfinite(of->held_value) ? of->held_value : 0;
    s->money[i].held_unknown += !isfinite(of->held_value);
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

/* Where a verdict is counted. */
static int64_t *verdict_of(struct tb_month_sums *s, enum tb_grade grade)
{
    return grade == TB_GRADE_FITS             ? &s->fits
           : grade == TB_GRADE_CONTRADICTS    ? &s->contradicts
           : grade == TB_GRADE_SPEAKS_AGAINST ? &s->against
           : grade == TB_GRADE_UNDECIDED      ? &s->undecided
                                              : &s->unjudged;
}

/* Summed as it comes: the list is not kept. */
static void add_lot(struct tb_month_sums *s, const struct told *of)
{
    const struct tb_month_lot *lot = &of->lot;
    const struct tb_concluded *c = &of->concluded;
    size_t ways = 0;

    s->lots++;
    s->bolts += lot->bolts;
    s->bolts_burnt += lot->bolts_burnt;
    s->bolts_tested += lot->bolts_tested;
    s->metres += isnan(lot->metres) ? 0 : lot->metres;
    s->kg += of->kg;
    s->derived += lot->derived;
    s->unknown += lot->unknown;
    for (enum tb_standing_kind k = TB_WAITING; k <= TB_RETURNED; k++) {
        struct tb_month_standing *st = standing_of(s, k);

        st->lots += of->stands[k].bolts > 0;
        st->metres += of->stands[k].metres;
        st->kg += of->stands[k].kg;
        ways += of->stands[k].bolts > 0;
    }
    s->in_part += ways > 1;
    add_money(s, of);
    ++*verdict_of(s, c->told.grade);
    s->laboratory += c->by == TB_BY_LABORATORY;
    s->does_not_laboratory += c->by == TB_BY_LABORATORY && c->kind == TB_DOES_NOT;
}

/* Looked up from the end: the lots of one supplier arrive together. */
static struct ranked *supplier_of(struct month *m, const char *name)
{
    for (size_t i = m->ranks; i > 0; i--)
        if (strcmp(m->rank[i - 1].name, name) == 0)
            return &m->rank[i - 1];
    TB_PUSH_ROOM(m->rank, m->ranks, m->rank_cap);
    m->rank[m->ranks] = (struct ranked){ .name = tb_strdup(name), .number = (int64_t)m->ranks + 1 };
    return &m->rank[m->ranks++];
}

/* The lots of a delivery come one after the other. */
static void add_supplier(struct ranked *r, const struct told *of)
{
    const struct tb_month_lot *lot = &of->lot;

    if (strcmp(r->delivery, lot->delivery_ref) != 0) {
        r->deliveries++;
        (void)snprintf(r->delivery, sizeof r->delivery, "%s", lot->delivery_ref);
    }
    r->bolts += lot->bolts;
    r->metres += isnan(lot->metres) ? 0 : lot->metres;
    r->measured = r->measured || !isnan(lot->metres);
    r->kg += of->kg;
    r->held += of->stands[TB_HELD].bolts > 0;
    tb_month_count(&r->t, &of->concluded);
}

static tb_rc add_month(struct month *m, const struct told *of, struct tb_err *err)
{
    const struct amount amount = tb_month_amount(of);
    struct trend *d;
    tb_rc rc = tb_month_trend(&d, m, of->lot.arrived, err);

    if (rc != TB_OK)
        return rc;
    tb_month_amount_add(&d->amount, &amount);
    tb_month_count(&d->t, &of->concluded);
    tb_month_score(m, &(struct tb_month_scored){ of->lot.ref, of->lot.supplier, of->lot.arrived,
                                                 of->lot.declared, &of->concluded, amount });
    return TB_OK;
}

/* The same words as in the matrix, so that its cells can be formulas over these columns. */
static tb_rc take_kinds(struct goods_row *r, struct month *m, struct tb_err *err)
{
    struct tb_text declared = { 0 }, found = { 0 }, likeliest = { 0 };
    enum found_as as;
    tb_rc rc;

    tb_month_kind_declared(&declared, r->of.lot.declared);
    rc = tb_month_kind_found(&found, &as, &r->of, tb_text_str(&declared), err);
    if (r->of.concluded.by != TB_BY_NOTHING)
        tb_month_pair(m, tb_text_str(&declared), tb_text_str(&found), as);
    if (rc == TB_OK && r->of.concluded.open == TB_OPEN_WORDS)
        rc = tb_month_likeliest(&likeliest, r->of.lot.detail, err);
    r->likeliest = tb_text_take(&likeliest);
    r->declared_kind = tb_text_take(&declared);
    r->found_kind = tb_text_take(&found);
    return rc == TB_OK ? TB_OK : tb_within(err, rc, "lot %s", r->of.lot.ref);
}

struct goods {
    struct month *m;
    struct goods_row row; /* the lot whose bolts are being written */
};

static tb_rc put_lot(void *arg, const struct tb_month_lot *lot, struct tb_err *err)
{
    struct goods *g = arg;
    struct goods_row *r = &g->row;
    struct ranked *supplier = supplier_of(g->m, lot->supplier);
    tb_rc rc;

    tb_arena_free(&r->of.mem);
    *r = (struct goods_row){ .supplier_no = supplier->number };
    if ((rc = tb_month_tell(&r->of, lot, err)) != TB_OK || (rc = add_month(g->m, &r->of, err)) != TB_OK)
        return rc;
    add_lot(&g->m->sums, &r->of);
    add_supplier(supplier, &r->of);
    tb_month_count(&g->m->tally, &r->of.concluded);
    if ((rc = take_kinds(r, g->m, err)) == TB_OK)
        rc = tb_tab_record(g->m->tab[TAB_LOTS], r, err);
    free(r->declared_kind);
    free(r->found_kind);
    free(r->likeliest);
    return rc;
}

/* The conclusion is that on the lot, and the column says so; beside it stands what it rests on. */
static tb_rc put_bolt(void *arg, const struct tb_month_lot *lot, const struct tb_month_bolt *bolt,
                      struct tb_err *err)
{
    struct goods *g = arg;

    g->row.bolt = *bolt;
    if (!(bolt->kg > 0))
        g->row.bolt.kg = (double)NAN;
    if (!(bolt->weight_kg > 0))
        g->row.bolt.weight_kg = (double)NAN;
    g->row.bolt_length_kind = tb_length_kind(1, bolt->derived, isnan(bolt->metres));
    if (bolt->standing == TB_STANDING_NONE)
        g->row.bolt.standing = lot->standing;
    return tb_tab_record(g->m->tab[TAB_BOLTS], &g->row, err);
}

/* Both lists are filled in one walk: the bolts of a lot come right after it. */
static tb_rc fill(struct month *m, struct tb_err *err)
{
    struct goods g = { .m = m };
    tb_rc rc = m->source->goods(m->source->from, put_lot, put_bolt, &g, err);

    tb_arena_free(&g.row.of.mem);
    m->sums.conforms = m->tally.conforms;
    m->sums.nothing_against = m->tally.nothing_against;
    m->sums.does_not = m->tally.does_not;
    m->sums.open = m->tally.open;
    return rc == TB_OK ? tb_tab_end(m->tab[TAB_LOTS], err) : rc;
}

const struct sheet tb_month_lots = {
    .key = "lots",
    .tab = N_("Lots"),
    .title = N_("Lots"),
    .note = N_("Lots of the deliveries that arrived in the span, as they stood when the book was read "
               "(Summary). A verdict rests on the "
               "bolts that were tested, not on the lot; a laboratory's answer outweighs it."),
    .column = lot_columns,
    .columns = TB_COUNT(lot_columns),
    .printed = LOT_PRINTED,
};

const struct sheet tb_month_bolts = {
    .key = "bolts",
    .tab = N_("Bolts"),
    .title = N_("Bolts"),
    .note = N_("Every bolt of those lots. A bolt with 0 tests was not tested itself."),
    .column = bolt_columns,
    .columns = TB_COUNT(bolt_columns),
    .folded = true,
    .fill = fill,
};
