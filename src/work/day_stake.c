/* What there is to burn of a lot, and what is at stake with it. */
#include "work/day_stake.h"

#include "work/draw.h"

#include <math.h>
#include <string.h>

bool tb_stake_is_money(const char *currency)
{
    return strcmp(currency, TB_STAKE_METRES) != 0 && strcmp(currency, TB_STAKE_KILOGRAMS) != 0;
}

tb_rc tb_left_find(struct tb_measured *out, struct tb_book *b, const struct tb_lot *lot,
                   struct tb_arena *passing, struct tb_err *err)
{
    struct tb_bolt *bolt = NULL;
    size_t n = 0;
    tb_rc rc;

    *out = tb_measured_of(lot);
    out->metres = isnan(lot->metres) ? 0 : lot->metres;
    if (!(lot->released_in_part || lot->returned_in_part || lot->held_in_part))
        return TB_OK;
    if ((rc = tb_bolt_list(&bolt, &n, b, lot->id, passing, err)) != TB_OK ||
        (rc = tb_bolts_to_draw(bolt, &n, b, lot->id, NULL, passing, err)) != TB_OK)
        return rc;
    *out = (struct tb_measured){ .bolts = (int64_t)n };
    for (size_t i = 0; i < n; i++) {
        out->metres += isnan(bolt[i].metres) ? 0 : bolt[i].metres;
        out->kg += bolt[i].kg > 0 ? bolt[i].kg : 0;
        out->derived += bolt[i].derived;
        out->unknown += isnan(bolt[i].metres);
        out->weight_kg += bolt[i].weight_kg > 0 ? bolt[i].weight_kg : 0;
        out->weighed += bolt[i].weight_kg > 0;
    }
    return TB_OK;
}

tb_rc tb_stake_find(struct tb_stake *out, struct tb_book *b, const struct tb_lot *lot,
                    const struct tb_measured *left, bool by_metres, struct tb_arena *passing,
                    struct tb_err *err)
{
    struct tb_invoiced in;
    tb_rc rc = tb_lot_invoiced(&in, b, lot, passing, err);

    if (rc != TB_OK)
        return rc;
    *out = (struct tb_stake){ in.price * tb_invoiced_quantity(in.unit_metres, left), in.currency };
    if (isnan(out->value) || by_metres)
        *out = !left->unknown ? (struct tb_stake){ left->metres, TB_STAKE_METRES }
               : left->derived + left->unknown == left->bolts
                   ? (struct tb_stake){ left->kg, TB_STAKE_KILOGRAMS }
                   : (struct tb_stake){ (double)NAN, "" };
    return TB_OK;
}
