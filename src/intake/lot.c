/* lot.c - the lot a row belongs to: article, shade, dye lot, declared words and price. */
#include "intake/rows.h"

#include <math.h>
#include <string.h>

static const char *or_empty(const char *s)
{
    return s ? s : "";
}

/* An article cell may hold the headings of the lot, where no columns do. */
static bool split_article(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_lot *key)
{
    struct tb_heads h = { 0 };
    struct tb_stretch part;
    enum tb_parts parts = tb_article_parts(&h, r, key->article);

    if (parts == TB_PARTS_UNCLEAR) {
        tb_row_bad(r, row, r->now->of[TB_FIELD_ARTICLE],
                   "several headings in one cell, which cannot be told apart; write before each what it is "
                   "(Colour: ...)");
        return false;
    }
    if (parts == TB_PARTS_NOT) {
        if (tb_declares(&part, key->article)) /* "Satin Mira, 100% viscose" is the article and declares */
            key->declared = tb_store_intern(r->list->store, key->article + part.at, part.n);
        return true;
    }
    if (h.guessed && r->rows->split_said != key->article)
        tb_heads_say(r, row, &h);
    r->rows->split_said = key->article;
    key->article = h.value[TB_FIELD_ARTICLE] ? h.value[TB_FIELD_ARTICLE] : key->article;
    if (h.value[TB_FIELD_DESIGN])
        key->article = tb_store_internf(r->list->store, "%s / %s", key->article, h.value[TB_FIELD_DESIGN]);
    key->shade = *key->shade || !h.value[TB_FIELD_COLOUR] ? key->shade : h.value[TB_FIELD_COLOUR];
    key->dye_lot = *key->dye_lot || !h.value[TB_FIELD_LOT] ? key->dye_lot : h.value[TB_FIELD_LOT];
    key->declared = h.value[TB_FIELD_COMPOSITION];
    return true;
}

/* On paper "Poplin 118 98% cotton" under the article, and nothing under the composition, are two cells that touch. */
static bool holds_composition(struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_source_column *said = r->now->of[TB_FIELD_COMPOSITION];
    bool drawn = tb_is_drawn(r);
    struct tb_stretch part;

    if (!drawn || !said || tb_cell_filled(row, said))
        return false;
    for (size_t i = 0; i < r->now->n; i++) {
        const struct tb_source_column *c = &r->now->column[i];

        if (!tb_field_of_goods(c->field) || !tb_cell_filled(row, c) ||
            !tb_declares(&part, tb_cell_at(row, c)->text) || !part.at)
            continue;
        tb_row_bad(r, row, c,
                   "this ends in a composition, and nothing stands under '%s': the two touch on paper. Ask "
                   "for the list as a workbook or type it (receive --by-hand)",
                   said->header);
        return true;
    }
    return false;
}

/* A lot keeps its first price and its first origin; a price that differs is counted and reported. */
bool tb_take_lot(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_bolt *bolt)
{
    struct tb_list_rows *s = r->rows;
    struct tb_list_lot key = { .delivery = s->delivery, .price = NAN, .currency = "" };
    const char *article = tb_group_text(r, row, TB_FIELD_ARTICLE), *declared;
    bool in_cell;
    struct tb_list_lot *lot;

    if (holds_composition(r, row))
        return false;
    if (!article)
        article = r->opts->article ? tb_store_text(r->list->store, r->opts->article) : NULL;
    if (!article) {
        tb_row_bad(
            r, row, r->now->of[TB_FIELD_ARTICLE],
            "the bolt names no article, and none stands above it; --article TEXT says it of such bolts");
        return false;
    }
    key.article = article;
    s->of_title =
        !s->carry[TB_FIELD_ARTICLE] && (r->title.value[TB_FIELD_ARTICLE] || !s->carry[TB_FIELD_DESIGN]);
    key.shade = or_empty(tb_group_text(r, row, TB_FIELD_COLOUR));
    key.dye_lot = or_empty(tb_group_text(r, row, TB_FIELD_LOT));
    key.origin = or_empty(tb_group_text(r, row, TB_FIELD_ORIGIN));
    if (!split_article(r, row, &key))
        return false;
    declared = tb_group_text(r, row, TB_FIELD_COMPOSITION);
    in_cell = !declared && key.declared;
    declared = in_cell ? key.declared : declared;
    key.declared_from = in_cell     ? TB_ORIGIN_ROW
                        : !declared ? TB_ORIGIN_OPTION
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
