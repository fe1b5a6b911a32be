/* month_list.c - what the lists have in common: a lot as they tell it, formulas over other lists and within a row. */
#include "report/month/month_impl.h"

#include "tenterbook/interval.h"
#include "tenterbook/tell.h"
#include "tenterbook/work.h"

#include <math.h>
#include <stdio.h>

const char *tb_month_standing(enum tb_standing_kind whole, int64_t released, int64_t held, int64_t returned)
{
    return released   ? _("released in part")
           : held     ? _("held in part")
           : returned ? _("returned in part")
                      : tb_standing_key(whole);
}

/* What the lot was when it came, its bolts, stands as they do: each is counted where it stands. */
static void take_standing(struct told *out, const struct tb_month_lot *lot)
{
    const struct standing_part single[] = { { lot->released_single, lot->released_metres, 0, 0 },
                                            { lot->returned_single, lot->returned_metres, 0, 0 },
                                            { lot->held_single, lot->held_metres, 0, 0 } };
    const enum tb_standing_kind as[] = { TB_RELEASED, TB_RETURNED, TB_HELD };
    enum tb_standing_kind rest = lot->standing == TB_STANDING_NONE ? TB_WAITING : lot->standing;
    struct standing_part *others = &out->stands[rest];
    bool part = false;

    others->bolts = lot->bolts;
    others->metres = isnan(lot->metres) ? 0 : lot->metres;
    for (size_t i = 0; i < TB_COUNT(single); i++) {
        others->bolts -= single[i].bolts;
        others->metres -= single[i].metres;
        out->stands[as[i]].bolts += single[i].bolts;
        out->stands[as[i]].metres += single[i].metres;
        part = part || (single[i].bolts && as[i] != rest);
    }
    for (enum tb_standing_kind k = TB_WAITING; k <= TB_RETURNED; k++) {
        out->kg += out->stands[k].kg = lot->weighed.kg[k];
        out->stands[k].all_kg = lot->weighed.all[k];
    }
    (void)snprintf(out->standing, sizeof out->standing, "%s",
                   tb_month_standing(rest, part ? out->stands[TB_RELEASED].bolts : 0,
                                     part ? out->stands[TB_HELD].bolts : 0,
                                     part ? out->stands[TB_RETURNED].bolts : 0));
}

/* What decided stands first; how much of the lot was looked at stands beside it in any case. */
static void take_proof(struct told *out, const struct tb_month_lot *lot)
{
    const struct tb_concluded *c = &out->concluded;
    struct tb_text proof = { 0 };

    if (c->by == TB_BY_LABORATORY)
        tb_text_addf(&proof,
                     c->open == TB_OPEN_DISAGREE ? _("laboratories disagree (%s)")
                     : *c->markets               ? _("laboratory (%s)")
                                                 : _("laboratory"),
                     c->markets);
    if (proof.n)
        tb_text_add(&proof, ", ");
    tb_bench_coverage(&proof, TB_READER, lot->bolts_burnt, lot->bolts_tested, lot->bolts);
    if (c->told.one_look && c->by != TB_BY_LABORATORY)
        tb_clause(&proof, "one look alone says so");
    if (tb_bounds_argued(&c->told.bounds, c->told.log_ratio) && c->by != TB_BY_LABORATORY)
        tb_clause(&proof, "the limit of its ratio is not tested");
    if (*c->bolts)
        tb_clause(&proof, "by itself: %s", c->bolts);
    if (out->stands[TB_RELEASED].bolts && out->stands[TB_RELEASED].bolts < lot->bolts)
        tb_clause(&proof, "released in part: %lld of %lld bolts", (long long)out->stands[TB_RELEASED].bolts,
                  (long long)lot->bolts);
    if (out->stands[TB_HELD].bolts && out->stands[TB_HELD].bolts < lot->bolts)
        tb_clause(&proof, "held: %lld of %lld bolts", (long long)out->stands[TB_HELD].bolts,
                  (long long)lot->bolts);
    if (out->stands[TB_RETURNED].bolts && out->stands[TB_RETURNED].bolts < lot->bolts)
        tb_clause(&proof, "returned: %lld of %lld bolts", (long long)out->stands[TB_RETURNED].bolts,
                  (long long)lot->bolts);
    if (out->stands[TB_RELABELLED].bolts && out->stands[TB_RELABELLED].bolts < lot->bolts)
        tb_clause(&proof, "relabelled: %lld of %lld bolts", (long long)out->stands[TB_RELABELLED].bolts,
                  (long long)lot->bolts);
    (void)snprintf(out->proof, sizeof out->proof, "%s", tb_text_str(&proof));
    tb_text_free(&proof);
}

void tb_month_amount_add(struct amount *to, const struct amount *more)
{
    to->metres += isnan(more->metres) ? 0 : more->metres;
    to->held_metres += more->held_metres;
    to->kg += more->kg;
    to->held_kg += more->held_kg;
}

struct amount tb_month_amount(const struct told *of)
{
    return (struct amount){ of->lot.metres, of->stands[TB_HELD].metres, of->kg, of->stands[TB_HELD].kg };
}

/* In the unit of the invoice. Of goods by weight a part is known where the weight of all bolts is. */
static double quantity_of(const struct told *t, const struct standing_part *part)
{
    if (!isnan(t->lot.unit_metres))
        return t->lot.unknown ? (double)NAN : part->metres / t->lot.unit_metres;
    return part->bolts == t->lot.bolts ? t->quantity
           : !part->bolts              ? 0
           : isnan(t->quantity)        ? (double)NAN
                                       : part->all_kg;
}

/* Without a currency a price is a figure nobody can add up. */
static double price_of(const struct tb_month_lot *lot)
{
    return lot->currency[0] ? lot->price : (double)NAN;
}

double tb_month_part_value(const struct told *of, const struct standing_part *part)
{
    return price_of(&of->lot) * quantity_of(of, part);
}

struct tb_known tb_month_known(const struct tb_month_lot *lot)
{
    return (struct tb_known){ .said = lot->declared,
                              .clear = lot->clear,
                              .verdict = { lot->verdict, lot->log_ratio, lot->grade, lot->lowest,
                                           lot->highest, lot->one_look, lot->untested, lot->detail,
                                           lot->at_odds },
                              .judged = lot->judged,
                              .judged_at = lot->judged_at,
                              .seen = lot->seen,
                              .against = lot->bolts_against,
                              .tested = lot->tests > 0,
                              .analysis = lot->analysis,
                              .n = lot->analysis ? (size_t)lot->analyses : 0 };
}

tb_rc tb_month_tell(struct told *out, const struct tb_month_lot *lot, struct tb_err *err)
{
    const struct tb_measured all = { lot->metres,  lot->kg,      lot->weight_kg,    lot->bolts,
                                     lot->derived, lot->unknown, lot->bolts_weighed };
    struct tb_known k = tb_month_known(lot);
    tb_rc rc;

    *out = (struct told){ .lot = *lot,
                          .quantity = tb_invoiced_quantity(lot->unit_metres, &all),
                          .length_kind = tb_length_kind(lot->bolts, lot->derived, lot->unknown) };
    if ((rc = tb_conclude(&out->concluded, &k, &out->mem, err)) != TB_OK)
        return tb_within(err, rc, "lot %s", lot->ref);
    if (!lot->bolts_weighed)
        out->lot.weight_kg = (double)NAN;
    take_standing(out, lot);
    out->value = price_of(lot) * out->quantity;
    out->held_value = tb_month_part_value(out, &out->stands[TB_HELD]);
    take_proof(out, lot);
    return TB_OK;
}

void tb_month_count(struct tally *t, const struct tb_concluded *c)
{
    t->lots++;
    t->conforms += c->kind == TB_CONFORMS;
    t->nothing_against += c->kind == TB_NOTHING_AGAINST;
    t->does_not += c->kind == TB_DOES_NOT;
    t->open += c->kind == TB_OPEN && c->by != TB_BY_NOTHING;
    t->against += c->open == TB_OPEN_AGAINST;
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

tb_rc tb_month_rate(struct rate *out, const struct tally *t, struct tb_err *err)
{
    *out = (struct rate){ t->conforms + t->nothing_against + t->does_not + t->open, NAN, NAN, NAN, NAN };
    if (!out->judged)
        return TB_OK;
    out->share = (double)t->does_not / (double)out->judged;
    out->most = (double)(t->does_not + t->open) / (double)out->judged;
    return tb_interval_exact(&out->low, &out->high, (long)t->does_not, (long)out->judged, 0.95, err);
}

/* BETAINV is the name every spreadsheet knows; the ends are those of docs/sampling.md. */
void tb_month_put_rate(struct tb_tab *t, const struct rate *r)
{
    char k[24], n[24];

    if (!r->judged) { /* a chart of points would take words, even none, for 0 */
        for (int i = 0; i < 3; i++)
            tb_put_none(t);
        return;
    }
    tb_tab_cell(k, t, "not_conforming");
    tb_tab_cell(n, t, "looked_at");
    tb_month_put_share(t, "not_conforming", "looked_at", r->share);
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
