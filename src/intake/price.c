/* price.c - the price of a lot: figure, currency and the unit it is for. */
#include "intake/rows.h"

#include "base/say.h"
#include "tenterbook/limits.h"

#include <math.h>
#include <string.h>

/* The code of a currency cell or title, as received where we do not know it. */
static const char *currency_text(const char *text)
{
    const char *code = text ? tb_currency_find(text, strlen(text)) : NULL;

    return code ? code : text;
}

/* The figure of a price cell, and what stands around it: currency before or after, "/m" or "/yd". */
static const char *price_fault(struct tb_list_lot *lot, const char **currency, const char *text,
                               const struct tb_source_column *c, bool number)
{
    struct tb_figure f;
    enum tb_unit unit;

    if (!tb_figure_scan(&f, text) || f.range || f.parts > 1)
        return _("this is not a price");
    lot->price = tb_figure_value(&f, number ? '.' : c->decimal);
    if (isnan(lot->price))
        return tb_decimal_fault(c->decimal);
    if (lot->price < 0)
        return _("a price below zero");
    if (lot->price > TB_PRICE_MOST)
        return _("no cloth costs more than 1,000,000,000 a metre");
    if (!*currency && f.before_n)
        *currency = tb_currency_find(f.before, f.before_n);
    if (!*currency && f.rest_n)
        *currency = tb_currency_find(f.rest, f.rest_n);
    unit = tb_price_words_unit(f.rest, f.rest_n);
    if (!unit)
        unit = tb_price_words_unit(f.before, f.before_n);
    if (unit)
        lot->price_unit = unit;
    return NULL;
}

/* A price beside metres is one a metre; beside yards or kilograms nobody but the list, or a person, says what it is for. */
static enum tb_unit price_unit(struct tb_list_reader *r, const struct tb_row *row,
                               const struct tb_source_column *c)
{
    enum tb_unit counted = tb_length_unit(r, row);
    struct tb_question *q;

    if (r->opts->price_unit)
        return r->opts->price_unit;
    if (!counted || counted == TB_UNIT_M)
        return TB_UNIT_M;
    if (!tb_list_asked(r->list, "price-unit", NULL)) {
        q = tb_list_ask(r->list, row->line,
                        "the prices in the column '%s' do not say whether they are per %s or per m; say "
                        "--price-unit %s or --price-unit m",
                        c->header, tb_unit_key(counted), tb_unit_key(counted));
        tb_list_answer(r->list, q, "price-unit", tb_unit_key(counted));
        tb_list_answer(r->list, q, "price-unit", tb_unit_key(TB_UNIT_M));
    }
    return counted;
}

/* Most rows repeat the price above, which then is not read again. */
bool tb_take_price(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_lot *lot)
{
    struct tb_list_rows *s = r->rows;
    const struct tb_source_column *c = r->now->of[TB_FIELD_PRICE];
    const char *text = c ? tb_field_text(r, row, TB_FIELD_PRICE) : NULL, *fault;
    const char *column = r->now->of[TB_FIELD_CURRENCY] ? tb_field_text(r, row, TB_FIELD_CURRENCY) : NULL,
               *currency;

    if (!text)
        return true;
    if (text != s->price.text || column != s->price.currency) {
        struct tb_list_lot read = { .price = NAN };

        read.price_unit = c->unit;
        currency = currency_text(column);
        fault = price_fault(&read, &currency, text, c, tb_cell_at(row, c)->type == TB_CELL_NUMBER);
        if (fault) {
            tb_row_bad_why(r, row, c, fault);
            return false;
        }
        if (!currency)
            currency = c->currency ? c->currency : currency_text(r->title.value[TB_FIELD_CURRENCY]);
        if (!currency)
            currency = r->opts->currency;
        read.currency = currency ? tb_store_text(r->list->store, currency) : "";
        s->price.text = text;
        s->price.currency = column;
        s->price.lot = read;
    }
    lot->price_unit = s->price.lot.price_unit ? s->price.lot.price_unit : price_unit(r, row, c);
    lot->price = s->price.lot.price;
    lot->currency = s->price.lot.currency;
    return true;
}
