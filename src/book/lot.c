/* Lots: the goods of one article and colour in a delivery. */
#include "book/named.h"
#include "book/stmt.h"
#include "tenterbook/limits.h"
#include "tenterbook/void.h"

#include <math.h>
#include <stdio.h>

/* The lot that has this bolt; several is a question to the person, not a choice of ours. */
static tb_rc ref_by_bolt(const char **ref, struct tb_book *b, const char *number, struct tb_arena *mem,
                         struct tb_err *err)
{
    struct tb_text all = { 0 };
    const char **found;
    size_t n;
    tb_rc rc = tb_all_text(&found, &n, tb_sql_lot_refs_by_bolt(b, number), mem, err);

    if (rc == TB_OK && n == 0) /* people leave out the zeros that fill a number up */
        rc = tb_all_text(&found, &n, tb_sql_lot_refs_by_bolt_like(b, number), mem, err);
    if (rc != TB_OK)
        return rc;
    if (n == 0) {
        const char *written = tb_ref_as_written(number, mem);

        rc = tb_fail(err, TB_ENOTFOUND, "there is no lot and no bolt %s in this book", number);
        rc = tb_voided_refuse(b, written ? written : number, rc, err);
        return tb_nearest_offer(b, "lot bolt", NULL, number, rc, err);
    }
    *ref = found[0];
    if (n == 1)
        return TB_OK;
    for (size_t i = 0; i < n; i++)
        tb_text_addf(&all, "%s%s", i ? ", " : "", found[i]);
    rc = tb_fail(err, TB_EINVAL, "bolt %s is in several lots: %s; name the lot", number, all.s);
    tb_text_free(&all);
    return rc;
}

/* Of bolts settled by themselves those that are now as the lot is not; where `is` the lot is so, all but those that are otherwise. */
static int64_t in_part(bool is, int64_t so, int64_t singles, int64_t bolts)
{
    return !is ? so : singles > so ? bolts - singles + so : 0;
}

static tb_rc take_singles(struct tb_lot *lot, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_singles s;
    int64_t any;
    tb_rc rc = tb_ask_whole(&any, tb_sql_lot_has_singles(b, lot->id), err);

    if (rc != TB_OK || !any ||
        (rc = tb_one_singles(&s, tb_sql_singles_of_lot(b, lot->id), mem, err)) != TB_OK)
        return rc;
    lot->released_in_part = in_part(lot->standing == TB_RELEASED, s.released, s.singles, lot->bolts);
    lot->returned_in_part = in_part(lot->standing == TB_RETURNED, s.returned, s.singles, lot->bolts);
    lot->held_in_part =
        in_part(lot->standing == TB_HELD, s.singles - s.released - s.returned, s.singles, lot->bolts);
    return TB_OK;
}

/* The lot of lot_by_ref or lot_ever. */
static tb_rc one_lot(struct tb_lot *out, struct tb_stmt *q, struct tb_book *b, struct tb_arena *mem,
                     struct tb_err *err)
{
    tb_rc rc = tb_one_lot(out, q, mem, err);

    return rc == TB_OK ? take_singles(out, b, mem, err) : rc;
}

tb_rc tb_lot_find(struct tb_lot *out, struct tb_book *b, const char *ref_or_bolt, struct tb_arena *mem,
                  struct tb_err *err)
{
    /* a reference first: a bolt may be numbered like a lot, and then the lot is meant */
    const char *ref = NULL;
    const char *written = tb_ref_as_written(ref_or_bolt, mem);
    tb_rc rc = one_lot(out, tb_sql_lot_by_ref(b, ref_or_bolt), b, mem, err);

    if (rc == TB_ENOTFOUND && written)
        rc = one_lot(out, tb_sql_lot_by_ref(b, written), b, mem, err);
    if (rc != TB_ENOTFOUND)
        return rc;
    if ((rc = ref_by_bolt(&ref, b, ref_or_bolt, mem, err)) != TB_OK)
        return rc;
    return one_lot(out, tb_sql_lot_by_ref(b, ref), b, mem, err);
}

tb_rc tb_lot_ever(struct tb_lot *out, struct tb_book *b, const char *ref_or_bolt, struct tb_arena *mem,
                  struct tb_err *err)
{
    const char *written = tb_ref_as_written(ref_or_bolt, mem);
    tb_rc rc = one_lot(out, tb_sql_lot_ever(b, written ? written : ref_or_bolt), b, mem, err);

    return rc == TB_ENOTFOUND ? tb_lot_find(out, b, ref_or_bolt, mem, err) : rc;
}

tb_rc tb_lot_of_id(struct tb_lot *out, struct tb_book *b, const char *id, struct tb_arena *mem,
                   struct tb_err *err)
{
    const char *ref;
    tb_rc rc = tb_ask_text(&ref, tb_sql_lot_ref(b, id), mem, err);

    return rc == TB_OK ? one_lot(out, tb_sql_lot_ever(b, ref), b, mem, err) : rc;
}

tb_rc tb_lot_price_add(const struct tb_invoiced *price, struct tb_book *b, const char *lot_id,
                       struct tb_err *err)
{
    return tb_put_lot_price(&(struct tb_lot_price_fact){ .lot = lot_id,
                                                         .price = price->price,
                                                         .unit = price->unit,
                                                         .metres = price->unit_metres,
                                                         .currency = price->currency },
                            b, err);
}

double tb_invoiced_quantity(double unit_metres, const struct tb_measured *m)
{
    if (!isnan(unit_metres))
        return m->unknown ? (double)NAN : m->metres / unit_metres;
    return m->derived + m->unknown + m->weighed == m->bolts
               ? (m->kg > 0 ? m->kg : 0) + (m->weighed ? m->weight_kg : 0)
               : (double)NAN;
}

struct tb_measured tb_measured_of(const struct tb_lot *lot)
{
    return (struct tb_measured){ lot->metres,  lot->kg,      lot->weight_kg, lot->bolts,
                                 lot->derived, lot->unknown, lot->weighed };
}

tb_rc tb_lot_invoiced(struct tb_invoiced *out, struct tb_book *b, const struct tb_lot *lot,
                      struct tb_arena *mem, struct tb_err *err)
{
    const struct tb_measured all = tb_measured_of(lot);
    tb_rc rc = tb_one_invoiced(out, tb_sql_lot_invoiced(b, lot->id), mem, err);

    out->quantity = tb_invoiced_quantity(out->unit_metres, &all);
    out->value = out->price * out->quantity;
    return rc;
}

tb_rc tb_lot_each(struct tb_book *b, const struct tb_lot_filter *filter, tb_lot_fn *fn, void *arg,
                  struct tb_err *err)
{
    static const struct tb_lot_filter everything = { 0 };

    return tb_each_lot(tb_sql_lot_where(b, filter ? filter : &everything), fn, arg, err);
}

tb_rc tb_lot_add(struct tb_lot *lot, struct tb_book *b, const struct tb_delivery *d, int64_t serial,
                 struct tb_arena *mem, struct tb_err *err)
{
    struct tb_lot put;
    char ref[48];
    tb_rc rc;

    if (!isnan(lot->unit_price) && !(lot->unit_price >= 0 && lot->unit_price <= 2 * TB_PRICE_MOST))
        return tb_fail(err, TB_EINVAL, "lot %lld costs %g a metre; it takes 0 to %.0f", (long long)serial,
                       lot->unit_price, TB_PRICE_MOST);
    (void)snprintf(ref, sizeof ref, "%s.%02lld", d->ref, (long long)serial);
    lot->id = tb_new_key(mem);
    lot->ref = tb_arena_strdup(mem, ref);
    lot->delivery = d->id;
    lot->serial = serial;
    put = *lot;
    if (isnan(put.metres))
        put.metres = 0;
    rc = tb_put_lot(&put, b, err);
    if (rc == TB_OK && lot->kg > 0)
        rc = tb_put_lot_mass(
            &(struct tb_lot_mass_fact){
                .lot = lot->id, .kg = lot->kg, .derived = lot->derived, .unknown = lot->unknown },
            b, err);
    if (rc == TB_OK && lot->weighed)
        rc = tb_put_lot_weight(
            &(struct tb_lot_weight_fact){ .lot = lot->id, .kg = lot->weight_kg, .bolts = lot->weighed }, b,
            err);
    return rc;
}
