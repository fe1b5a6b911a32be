/* measure.c - the width of a bolt in centimetres and its mass in grams a square metre. */
#include "intake/rows.h"

#include "base/say.h"
#include "tenterbook/limits.h"

#include <math.h>
#include <string.h>

#define GSM_OF_OZ_YD2 33.905747504 /* 28.349523125 g / 0.83612736 m2 */
#define GSM_OF_MOMME 4.340         /* pounds a piece of 45 in by 100 yd: 453.59237 / (1.143 x 91.44) */

/* The smaller end of a range counts: that much is there in any case. */
static double lower(const struct tb_figure *f, char decimal)
{
    double a = tb_figure_value(f, decimal), b = f->range ? tb_figure_high(f, decimal) : a;

    return b < a ? b : a;
}

static double width_cm(double v, enum tb_unit unit)
{
    return v * tb_unit_metres(unit) * 100;
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

/* The unit of the cell comes before that of the column, and a plain "oz" only where the column has none. */
static const char *measure_fault(struct tb_measure *out, enum tb_field field, const struct tb_cell *cell,
                                 char decimal, enum tb_unit unit, double cm)
{
    struct tb_figure f = { .range = false };
    double v = cell->number;
    bool width = field == TB_FIELD_WIDTH || field == TB_FIELD_WIDTH_USABLE;

    if (cell->type == TB_CELL_DAY)
        return _("the spreadsheet keeps this figure as a date");
    if (cell->type == TB_CELL_TEXT) {
        enum tb_unit own;

        if (!tb_figure_scan(&f, cell->text) || f.before_n || f.parts > 1)
            return _("this is not a number");
        v = lower(&f, decimal);
        if (isnan(v))
            return tb_decimal_fault(decimal);
        own = f.rest_n ? tb_unit_find(field, f.rest, f.rest_n) : TB_UNIT_NONE;
        if (f.rest_n && !own)
            return width ? _("its unit is neither m, cm, mm nor in")
                         : _("its unit is neither g/m2, oz/yd2, momme nor a mass along the length");
        if (own && !(own == TB_UNIT_OZ && unit))
            unit = own;
    }
    if (!width && unit == TB_UNIT_KG) {
        out->value = NAN; /* the weight of the bolt, not of the cloth */
        return NULL;
    }
    if (unit == TB_UNIT_OZ)
        return _(
            "ounces a square yard or ounces a running yard? Say --mass-unit oz/yd2 or --mass-unit oz/yd");
    if (unit == TB_UNIT_NONE)
        return _("it has no unit");
    if (!width && (unit == TB_UNIT_G_PER_M || unit == TB_UNIT_OZ_PER_YD) && isnan(cm)) {
        out->no_width = true;
        return _("a mass along the length can be turned into g/m2 only with the width");
    }
    out->value = width ? width_cm(v, unit) : mass_gsm(v, unit, cm);
    out->said = f.range ? cell->text : NULL;
    if (width && !(out->value >= TB_WIDTH_LEAST && out->value <= TB_WIDTH_MOST))
        return _("no cloth is that wide: it takes 1 to 1000 cm");
    return !width && !(out->value >= TB_MASS_LEAST && out->value <= TB_MASS_MOST)
               ? _("no cloth weighs that: it takes 1 to 5000 g/m2")
               : NULL;
}

/* One measured column of the row: the cell, or what stood above it, or what the title says. */
static bool take_measure(struct tb_list_reader *r, const struct tb_row *row, enum tb_field field,
                         struct tb_measure *m, double cm)
{
    struct tb_source_column *c = r->now->of[field];
    const struct tb_cell *cell = tb_cell_at(row, c);
    struct tb_measure next = { .value = NAN };
    const char *fault;

    if (!cell || !cell->type) {
        if (c && m->text)
            c->filled++;
        return true;
    }
    if (tb_is_ditto(cell->text))
        return true;
    if (m->text && !m->no_width && strcmp(m->text, cell->text) == 0 && (field != TB_FIELD_MASS_LINEAR))
        return true;
    fault = measure_fault(&next, field, cell, c->decimal, c->unit, cm);
    if (fault && !next.no_width) {
        tb_row_bad_why(r, row, c, fault);
        return false;
    }
    next.text = tb_store_text(r->list->store, cell->text);
    if (next.said)
        next.said = next.text;
    *m = next;
    return true;
}

/* The width first: a mass along the length needs it. */
bool tb_take_width_mass(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_bolt *bolt)
{
    struct tb_list_rows *s = r->rows;
    const struct tb_table_layout *l = r->now;
    enum tb_field width = l->of[TB_FIELD_WIDTH] ? TB_FIELD_WIDTH : TB_FIELD_WIDTH_USABLE;
    enum tb_field mass = l->of[TB_FIELD_MASS] ? TB_FIELD_MASS : TB_FIELD_MASS_LINEAR;
    const struct tb_measure *w = &s->width, *m = &s->mass;

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
    s->no_width += m->text && m->no_width; /* that is said, and stops nothing */
    if (w->text && w->said)
        bolt->said =
            tb_store_internf(r->list->store, "%s%swidth %s", bolt->said, *bolt->said ? ", " : "", w->said);
    return true;
}

/* Above a table nobody says which sign is the decimal one, so the file as a whole is asked. */
void tb_title_measure(struct tb_list_reader *r, enum tb_field field, struct tb_measure *to, enum tb_unit unit)
{
    const char *text = r->title.value[field], *fault;
    struct tb_cell cell = { TB_CELL_TEXT, text, NAN };
    char decimal = r->opts->decimal ? r->opts->decimal : r->comma > 0 && r->point == 0 ? ',' : '.';
    struct tb_measure m = { .value = NAN };

    if (!text || to->text == text || (r->opts->without & (uint64_t)1 << field))
        return;
    fault = measure_fault(&m, field, &cell, decimal, unit, NAN);
    if (fault) {
        tb_list_say(r->list, "the %s above the table, '%s', is not taken: %s", tb_field_name(field),
                    tb_store_brief(r->list->store, text), fault);
        return;
    }
    m.text = text;
    *to = m;
}
