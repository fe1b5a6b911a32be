/* lot.c - the lot a row belongs to: article, shade, dye lot, declared words and price. */
#include "intake/rows.h"

#include <math.h>
#include <string.h>

static const char *or_empty(const char *s)
{
    return s ? s : "";
}

/* A lot keeps its first price and its first origin; a price that differs is counted and reported. */
bool tb_take_lot(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_bolt *bolt)
{
    struct tb_list_rows *s = r->rows;
    struct tb_list_lot key = { .delivery = s->delivery, .price = NAN, .currency = "" };
    const char *article = tb_group_text(r, row, TB_FIELD_ARTICLE), *declared;
    struct tb_list_lot *lot;

    if (!article)
        article = r->opts->article ? tb_store_text(r->list->store, r->opts->article) : NULL;
    if (!article) {
        tb_row_bad(r, row, r->now->of[TB_FIELD_ARTICLE],
                   "the bolt names no article, and none stands above it");
        return false;
    }
    key.article = article;
    key.shade = or_empty(tb_group_text(r, row, TB_FIELD_COLOUR));
    key.dye_lot = or_empty(tb_group_text(r, row, TB_FIELD_LOT));
    key.origin = or_empty(tb_group_text(r, row, TB_FIELD_ORIGIN));
    declared = tb_group_text(r, row, TB_FIELD_COMPOSITION);
    key.declared_from = !declared ? TB_ORIGIN_OPTION
                        : !s->carry[TB_FIELD_COMPOSITION] || s->from_heading[TB_FIELD_COMPOSITION]
                            ? TB_ORIGIN_TITLE
                            : TB_ORIGIN_ROW;
    s->declared_by_option += !declared && r->opts->declared && *r->opts->declared;
    if (!declared)
        declared = or_empty(r->opts->declared);
    key.declared = *declared ? tb_store_text(r->list->store, declared) : "";
    if (!tb_take_price(r, row, &key))
        return false;
    bolt->lot = tb_list_put_lot(r->list, &key);
    lot = &r->list->lot[bolt->lot];
    if (isnan(lot->price) && !isnan(key.price)) {
        lot->price = key.price;
        lot->currency = key.currency;
        lot->price_unit = key.price_unit;
    } else if (!isnan(key.price) && key.price != lot->price) {
        s->prices_differ++;
    }
    if (!*lot->origin)
        lot->origin = key.origin;
    return true;
}
