/* length.c - the length of a bolt, in metres. */
#include "intake/rows.h"

#include "base/say.h"
#include "tenterbook/limits.h"

#include <math.h>
#include <string.h>

/* The cell itself counts first, then the unit column of the row, then the header. */
static enum tb_unit length_unit(const struct tb_list_reader *r, const struct tb_row *row,
                                const struct tb_figure *f)
{
    const struct tb_source_column *c = r->now->of[TB_FIELD_LENGTH], *u = r->now->of[TB_FIELD_UNIT];
    const struct tb_cell *cell = tb_cell_at(row, u);
    enum tb_unit unit = TB_UNIT_NONE;

    if (f && f->rest_n)
        return tb_unit_find(TB_FIELD_LENGTH, f->rest, f->rest_n);
    if (cell && cell->type)
        unit = tb_unit_find(TB_FIELD_LENGTH, cell->text, strlen(cell->text));
    return unit ? unit : c->unit;
}

enum tb_unit tb_length_unit(const struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_cell *cell = tb_cell_at(row, r->now->of[TB_FIELD_LENGTH]);
    struct tb_figure f;
    bool text = cell && cell->type == TB_CELL_TEXT && tb_figure_scan(&f, cell->text);

    return length_unit(r, row, text ? &f : NULL);
}

/* What is added up: metres, or the kilograms of what is counted in them. */
static double measure_of(enum tb_unit unit)
{
    return unit == TB_UNIT_KG ? 1 : tb_unit_metres(unit);
}

double tb_length_metres(const struct tb_list_reader *r, const struct tb_row *row, const struct tb_cell *cell)
{
    struct tb_figure f;

    if (cell->type == TB_CELL_NUMBER)
        return cell->number * measure_of(length_unit(r, row, NULL));
    if (cell->type != TB_CELL_TEXT || !tb_figure_scan(&f, cell->text) || f.range)
        return NAN;
    return tb_figure_value(&f, r->now->of[TB_FIELD_LENGTH]->decimal) * measure_of(length_unit(r, row, &f));
}

/* Why a length cannot be taken; NULL when it can. */
static const char *length_fault(const struct tb_list_reader *r, const struct tb_row *row,
                                const struct tb_cell *cell, double *metres, enum tb_unit *unit,
                                unsigned *parts)
{
    const struct tb_source_column *c = r->now->of[TB_FIELD_LENGTH];
    struct tb_figure f = { .parts = 1 };
    double v = cell->number;

    if (cell->type == TB_CELL_DAY)
        return _("the spreadsheet keeps this length as a date");
    if (cell->type == TB_CELL_TEXT) {
        if (!tb_figure_scan(&f, cell->text) || f.before_n)
            return _("this is not a length");
        if (f.range)
            return _("this is a range, not the length of one bolt");
        v = tb_figure_value(&f, c->decimal);
        if (isnan(v))
            return tb_decimal_fault(c->decimal);
    }
    *unit = length_unit(r, row, cell->type == TB_CELL_TEXT ? &f : NULL);
    if (*unit == TB_UNIT_NONE)
        return f.rest_n || r->now->of[TB_FIELD_UNIT] ? _("its unit is neither metres, yards nor feet")
                                                     : _("it has no unit");
    *parts = f.parts;
    *metres = v * measure_of(*unit);
    if (v < 0)
        return _("a length below zero: goods going back are not taken in with a delivery");
    if (v == 0)
        return *unit == TB_UNIT_KG ? _("a bolt without weight") : _("a bolt without length");
    if (*unit == TB_UNIT_KG)
        return *metres < TB_KG_LEAST || *metres > TB_KG_MOST
                   ? _("no bolt weighs that: it takes 0.001 to 100,000 kg")
                   : NULL;
    if (*metres < TB_METRES_LEAST)
        return _("no bolt is shorter than 0.01 m");
    return *metres > TB_METRES_MOST ? _("no bolt is longer than 100,000 m") : NULL;
}

/* What the book keeps where it was not plain metres: the words, with the unit if the cell itself has none. */
static const char *length_said(struct tb_list_reader *r, const struct tb_cell *cell, enum tb_unit unit,
                               unsigned parts)
{
    size_t n = strlen(cell->text);
    bool bare = cell->text[n - 1] >= '0' && cell->text[n - 1] <= '9';

    if (unit == TB_UNIT_M && parts == 1)
        return "";
    return tb_store_internf(r->list->store, "%s%s%s", cell->text, bare ? " " : "",
                            bare ? tb_unit_key(unit) : "");
}

enum tb_unit tb_length_said_in(const char *said)
{
    struct tb_figure f;

    if (!*said)
        return TB_UNIT_M;
    return tb_figure_scan(&f, said) && f.rest_n ? tb_unit_find(TB_FIELD_LENGTH, f.rest, f.rest_n)
                                                : TB_UNIT_NONE;
}

/* What is not a small whole number is a remark and changes nothing. */
static bool take_parts(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_bolt *bolt)
{
    const struct tb_source_column *c = r->now->of[TB_FIELD_PARTS];
    const struct tb_cell *cell = tb_cell_at(row, c);
    unsigned n = 0;
    size_t digits;

    if (!cell || !cell->type || tb_is_ditto(cell->text))
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

/* Kilograms, width and mass per area give a length; it is rounded to the centimetre. */
bool tb_derive_length(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_bolt *bolt)
{
    double metres = bolt->kg * 1000 / ((double)bolt->mass_gsm * (double)bolt->width_cm / 100);

    if (!(bolt->kg > 0) || isnan(metres))
        return true;
    if (metres < TB_METRES_LEAST || metres > TB_METRES_MOST) {
        tb_row_bad(r, row, r->now->of[TB_FIELD_LENGTH],
                   "with its width and mass per area it would be %.0f m long; no bolt is that", metres);
        return false;
    }
    bolt->metres = round(metres * 100) / 100;
    bolt->derived = true;
    return true;
}

/* The words are kept beside the metres wherever they were not plain metres. */
bool tb_take_length(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_bolt *bolt)
{
    const struct tb_source_column *c = r->now->of[TB_FIELD_LENGTH];
    const struct tb_cell *cell = tb_cell_at(row, c);
    enum tb_unit unit = TB_UNIT_NONE;
    unsigned parts = 1;
    const char *fault = length_fault(r, row, cell, &bolt->metres, &unit, &parts);

    if (fault) {
        tb_row_bad_why(r, row, c, fault);
        return false;
    }
    bolt->kg = unit == TB_UNIT_KG ? bolt->metres : 0;
    if (unit == TB_UNIT_KG)
        bolt->metres = NAN;
    bolt->unit = (uint8_t)unit;
    bolt->parts = (uint16_t)parts;
    bolt->said = length_said(r, cell, unit, parts);
    return take_parts(r, row, bolt);
}
