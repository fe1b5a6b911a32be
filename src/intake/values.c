/* Lengths, widths, masses and prices of one row, in the units of the book. */
#include "rows.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define METRES_MOST 100000.0
#define GSM_OF_OZ_YD2 33.905747504 /* 28.349523125 g / 0.83612736 m2 */
#define GSM_OF_MOMME 4.340         /* pounds a piece of 45 in by 100 yd: 453.59237 / (1.143 x 91.44) */

static enum tb_unit length_unit(const struct reader *r, const struct tb_row *row, const struct figure *f)
{
    const struct column *c = r->now->of[TB_FIELD_LENGTH], *u = r->now->of[TB_FIELD_UNIT];
    const struct tb_cell *cell = u ? cell_at(row, u) : NULL;
    enum tb_unit unit = TB_UNIT_NONE;

    if (f && f->rest_n)
        return unit_find(TB_FIELD_LENGTH, f->rest, f->rest_n);
    if (cell && cell->type)
        unit = unit_find(TB_FIELD_LENGTH, cell->text, strlen(cell->text));
    return unit ? unit : c->unit;
}

double length_metres(const struct reader *r, const struct tb_row *row, const struct tb_cell *cell)
{
    struct figure f;

    if (cell->type == TB_CELL_NUMBER)
        return cell->number * unit_metres(length_unit(r, row, NULL));
    if (cell->type != TB_CELL_TEXT || !figure_scan(&f, cell->text) || f.range)
        return NAN;
    return figure_value(&f, r->now->of[TB_FIELD_LENGTH]->decimal) * unit_metres(length_unit(r, row, &f));
}

/* Why a length cannot be taken; NULL when it can. */
static const char *length_fault(const struct reader *r, const struct tb_row *row, const struct tb_cell *cell,
                                double *metres, enum tb_unit *unit, unsigned *parts)
{
    const struct column *c = r->now->of[TB_FIELD_LENGTH];
    struct figure f = { .parts = 1 };
    double v = cell->number;

    if (cell->type == TB_CELL_DAY)
        return "the spreadsheet keeps this length as a date";
    if (cell->type == TB_CELL_TEXT) {
        if (!figure_scan(&f, cell->text) || f.before_n)
            return "this is no length";
        if (f.range)
            return "this is a range, not the length of one bolt";
        v = figure_value(&f, c->decimal);
        if (isnan(v))
            return c->decimal == ',' ? "this is no number with a decimal comma, as the rest of the column is"
                                     : "this is no number with a decimal point, as the rest of the column is";
    }
    *unit = length_unit(r, row, cell->type == TB_CELL_TEXT ? &f : NULL);
    if (*unit == TB_UNIT_NONE || *unit == TB_UNIT_KG)
        return f.rest_n || r->now->of[TB_FIELD_UNIT] ? "its unit is neither metres, yards nor feet"
                                                     : "it has no unit";
    *parts = f.parts;
    *metres = v * unit_metres(*unit);
    if (v < 0)
        return "a length below zero: goods going back are not taken in with a delivery";
    if (v == 0)
        return "a bolt without length";
    return *metres > METRES_MOST ? "no bolt is longer than 100,000 m" : NULL;
}

/* What the book keeps where it was not plain metres: the words, with the unit if the cell itself has none. */
static const char *length_said(struct reader *r, const struct tb_cell *cell, enum tb_unit unit,
                               unsigned parts)
{
    size_t n = strlen(cell->text);
    bool bare = cell->text[n - 1] >= '0' && cell->text[n - 1] <= '9';
    struct tb_text t = { 0 };
    const char *said;

    if (unit == TB_UNIT_M && parts == 1)
        return "";
    tb_text_addf(&t, "%s%s%s", cell->text, bare ? " " : "", bare ? tb_unit_key(unit) : "");
    said = store_intern(r->list->store, t.s, t.n);
    tb_text_free(&t);
    return said;
}

static bool take_parts(struct reader *r, const struct tb_row *row, struct tb_list_bolt *bolt)
{
    const struct column *c = r->now->of[TB_FIELD_PARTS];
    const struct tb_cell *cell = c ? cell_at(row, c) : NULL;
    unsigned n = 0;
    size_t digits;

    if (!cell || !cell->type || ditto(cell->text))
        return true;
    digits = strspn(cell->text, "0123456789");
    if (digits == 0 || digits > 3 || cell->text[digits])
        return true; /* "yes", "2x30": a remark, not a count */
    for (size_t i = 0; i < digits; i++)
        n = n * 10 + (unsigned)(cell->text[i] - '0');
    if (n > 1)
        bolt->parts = (uint16_t)n;
    return true;
}

bool take_length(struct reader *r, const struct tb_row *row, struct tb_list_bolt *bolt)
{
    const struct column *c = r->now->of[TB_FIELD_LENGTH];
    const struct tb_cell *cell = cell_at(row, c);
    enum tb_unit unit = TB_UNIT_NONE;
    unsigned parts = 1;
    const char *fault = length_fault(r, row, cell, &bolt->metres, &unit, &parts);

    if (fault) {
        row_bad(r, row, c, "%s", fault);
        return false;
    }
    bolt->unit = (uint8_t)unit;
    bolt->parts = (uint16_t)parts;
    bolt->said = length_said(r, cell, unit, parts);
    return take_parts(r, row, bolt);
}

/* --- width and mass ------------------------------------------------------------------------------------------ */
/* The smaller end of a range counts: that much is there in any case. */
static double lower(const struct figure *f, char decimal)
{
    double a = figure_value(f, decimal), b = f->range ? figure_high(f, decimal) : a;

    return b < a ? b : a;
}

static double width_cm(double v, enum tb_unit unit)
{
    return v * unit_metres(unit) * 100;
}

/* g/m2 of a mass; masses along the length need the width. */
static double mass_gsm(double v, enum tb_unit unit, double cm)
{
    switch (unit) {
    case TB_UNIT_GSM:
        return v;
    case TB_UNIT_OZ_YD2:
        return v * GSM_OF_OZ_YD2;
    case TB_UNIT_MOMME:
        return v * GSM_OF_MOMME;
    case TB_UNIT_G_PER_M:
        return v / (cm / 100);
    case TB_UNIT_OZ_PER_YD:
        return v * 28.349523125 / 0.9144 / (cm / 100);
    default:
        return NAN;
    }
}

static const char *measure_fault(struct measure *out, enum tb_field field, const struct tb_cell *cell,
                                 char decimal, enum tb_unit unit, double cm)
{
    struct figure f = { .range = false };
    double v = cell->number;
    bool width = field == TB_FIELD_WIDTH || field == TB_FIELD_WIDTH_USABLE;

    if (cell->type == TB_CELL_DAY)
        return "the spreadsheet keeps this figure as a date";
    if (cell->type == TB_CELL_TEXT) {
        enum tb_unit own;

        if (!figure_scan(&f, cell->text) || f.before_n || f.parts > 1)
            return "this is no figure";
        v = lower(&f, decimal);
        if (isnan(v))
            return decimal == ',' ? "this is no number with a decimal comma, as the rest of the column is"
                                  : "this is no number with a decimal point, as the rest of the column is";
        own = f.rest_n ? unit_find(field, f.rest, f.rest_n) : TB_UNIT_NONE;
        if (f.rest_n && !own)
            return width ? "its unit is neither m, cm, mm nor in"
                         : "its unit is neither g/m2, oz/yd2, momme nor a mass along the length";
        if (own && !(own == TB_UNIT_OZ && unit))
            unit = own;
    }
    if (!width && unit == TB_UNIT_KG) {
        out->value = NAN; /* the weight of the bolt, not of the cloth */
        return NULL;
    }
    if (unit == TB_UNIT_OZ)
        return "ounces a square yard or ounces a running yard? Say --mass-unit oz/yd2 or --mass-unit oz/yd";
    if (unit == TB_UNIT_NONE)
        return "it has no unit";
    if (!width && (unit == TB_UNIT_G_PER_M || unit == TB_UNIT_OZ_PER_YD) && isnan(cm))
        return "a mass along the length can be turned into g/m2 only with the width";
    out->value = width ? width_cm(v, unit) : mass_gsm(v, unit, cm);
    out->said = f.range ? cell->text : NULL;
    if (width && !(out->value >= 1 && out->value <= 1000))
        return "no cloth is that wide";
    return !width && !(out->value >= 1 && out->value <= 5000) ? "no cloth weighs that" : NULL;
}

/* One measured column of the row: the cell, or what stood above it, or what the title says. */
static bool take_measure(struct reader *r, const struct tb_row *row, enum tb_field field, struct measure *m,
                         double cm)
{
    struct column *c = r->now->of[field];
    const struct tb_cell *cell = c ? cell_at(row, c) : NULL;
    struct measure next = { .value = NAN };
    const char *fault;

    if (!cell || !cell->type) {
        if (c && m->text)
            c->filled++;
        return true;
    }
    if (ditto(cell->text))
        return true;
    if (m->text && strcmp(m->text, cell->text) == 0 && (field != TB_FIELD_MASS_LINEAR))
        return true;
    fault = measure_fault(&next, field, cell, c->decimal, c->unit, cm);
    if (fault) {
        row_bad(r, row, c, "%s", fault);
        return false;
    }
    next.text = store_intern(r->list->store, cell->text, strlen(cell->text));
    if (next.said)
        next.said = next.text;
    *m = next;
    return true;
}

bool take_width_mass(struct reader *r, const struct tb_row *row, struct tb_list_bolt *bolt)
{
    struct rows *s = r->rows;
    const struct layout *l = r->now;
    enum tb_field width = l->of[TB_FIELD_WIDTH] ? TB_FIELD_WIDTH : TB_FIELD_WIDTH_USABLE;
    enum tb_field mass = l->of[TB_FIELD_MASS] ? TB_FIELD_MASS : TB_FIELD_MASS_LINEAR;
    const struct measure *w = &s->width, *m = &s->mass;

    if (!take_measure(r, row, width, &s->width, NAN))
        return false;
    if (!w->text)
        w = &s->title_width;
    if (!take_measure(r, row, mass, &s->mass, w->text ? w->value : NAN))
        return false;
    if (!m->text)
        m = &s->title_mass;
    bolt->width_cm = w->text ? (float)w->value : NAN;
    bolt->mass_gsm = m->text ? (float)m->value : NAN;
    if (w->text && w->said) {
        struct tb_text t = { 0 };

        tb_text_addf(&t, "%s%swidth %s", bolt->said, *bolt->said ? ", " : "", w->said);
        bolt->said = store_intern(r->list->store, t.s, t.n);
        tb_text_free(&t);
    }
    return true;
}

void title_measure(struct reader *r, enum tb_field field, struct measure *to, enum tb_unit unit)
{
    const char *text = r->title.value[field], *fault;
    struct tb_cell cell = { TB_CELL_TEXT, text, NAN };
    char decimal = r->opts->decimal ? r->opts->decimal : r->comma > 0 && r->point == 0 ? ',' : '.';
    struct measure m = { .value = NAN };

    if (!text || to->text == text)
        return;
    fault = measure_fault(&m, field, &cell, decimal, unit, NAN);
    if (fault) {
        list_say(r->list, "the %s above the table, '%s', is not taken: %s", tb_field_name(field),
                 store_brief(r->list->store, text), fault);
        return;
    }
    m.text = text;
    *to = m;
}

/* --- price ----------------------------------------------------------------------------------------------------- */
/* The code of a currency cell or title, as received where it is none we know. */
static const char *currency_text(const char *text)
{
    const char *code = text ? currency_find(text, strlen(text)) : NULL;

    return code ? code : text;
}

/* The figure of a price cell, and what stands around it: currency before or after, "/m" or "/yd". */
static const char *price_fault(struct tb_list_lot *lot, const char **currency, const char *text,
                               const struct column *c, bool number)
{
    struct figure f;
    const char *per;
    enum tb_unit unit;

    if (!figure_scan(&f, text) || f.range || f.parts > 1)
        return "this is no price";
    lot->price = figure_value(&f, number ? '.' : c->decimal);
    if (isnan(lot->price))
        return c->decimal == ',' ? "this is no number with a decimal comma, as the rest of the column is"
                                 : "this is no number with a decimal point, as the rest of the column is";
    if (lot->price < 0)
        return "a price below zero";
    if (!*currency && f.before_n)
        *currency = currency_find(f.before, f.before_n);
    if (!*currency && f.rest_n)
        *currency = currency_find(f.rest, f.rest_n);
    per = strchr(f.rest, '/');
    unit = per ? unit_find(TB_FIELD_PRICE, per + 1, strlen(per + 1)) : TB_UNIT_NONE;
    if (unit)
        lot->price_unit = unit;
    return NULL;
}

bool take_price(struct reader *r, const struct tb_row *row, struct tb_list_lot *lot)
{
    struct rows *s = r->rows;
    const struct column *c = r->now->of[TB_FIELD_PRICE], *length = r->now->of[TB_FIELD_LENGTH];
    const char *text = c ? field_text(r, row, TB_FIELD_PRICE) : NULL, *fault;
    const char *column = r->now->of[TB_FIELD_CURRENCY] ? field_text(r, row, TB_FIELD_CURRENCY) : NULL,
               *currency;

    if (!text)
        return true;
    if (text != s->price.text || column != s->price.currency) {
        struct tb_list_lot read = { .price = NAN };

        read.price_unit = c->unit ? c->unit : length->unit ? length->unit : TB_UNIT_M;
        currency = currency_text(column);
        fault = price_fault(&read, &currency, text, c, cell_at(row, c)->type == TB_CELL_NUMBER);
        if (fault) {
            row_bad(r, row, c, "%s", fault);
            return false;
        }
        if (!currency)
            currency = c->currency ? c->currency : currency_text(r->title.value[TB_FIELD_CURRENCY]);
        if (!currency)
            currency = r->opts->currency;
        read.currency = currency ? store_intern(r->list->store, currency, strlen(currency)) : "";
        s->price.text = text;
        s->price.currency = column;
        s->price.lot = read;
    }
    lot->price = s->price.lot.price;
    lot->price_unit = s->price.lot.price_unit;
    lot->currency = s->price.lot.currency;
    return true;
}
