/* settle_column.c - the decimal sign and the unit of a column: taken where the file shows it, else asked for. */
#include "intake/reader.h"

#include <string.h>

/* With both values, since the difference is what a person can see. */
static tb_rc ask_decimal(const struct tb_source_column *c, struct tb_err *err)
{
    struct tb_figure f;

    if (c->only_point && c->only_comma)
        return tb_fail(err, TB_EINVAL,
                       "the column '%s' writes '%s' on line %zu and '%s' on line %zu; say --decimal point or "
                       "--decimal comma",
                       c->header, c->point_text, c->point_line, c->comma_text, c->comma_line);
    if (!tb_figure_scan(&f, c->either_text)) /* too long to show */
        return tb_fail(
            err, TB_EINVAL,
            "the figures in the column '%s', line %zu, can be read in two ways; say --decimal comma or "
            "--decimal point",
            c->header, c->either_line);
    return tb_fail(
        err, TB_EINVAL,
        "'%s' in the column '%s', line %zu, can be read as %.10g or as %.10g; say --decimal comma or "
        "--decimal point",
        c->either_text, c->header, c->either_line, f.comma, f.point);
}

/* The column itself, then what was said, then the rest of the file, and then the person. */
static tb_rc settle_decimal(struct tb_list_reader *r, struct tb_source_column *c, struct tb_err *err)
{
    bool point = c->only_point > 0, comma = c->only_comma > 0;

    if (point != comma)
        c->decimal = comma ? ',' : '.';
    else if (r->opts->decimal)
        c->decimal = r->opts->decimal;
    else if (point)
        return ask_decimal(c, err);
    else if ((r->point > 0) != (r->comma > 0))
        c->decimal = r->comma ? ',' : '.';
    else if (c->either)
        return ask_decimal(c, err);
    return TB_OK;
}

/* A unit the file states is never overruled by an option: one of the two is a mistake. */
static tb_rc settle_length(struct tb_list_reader *r, const struct tb_table_layout *l,
                           struct tb_source_column *c, struct tb_err *err)
{
    const char *title = r->title.value[TB_FIELD_UNIT];

    if (!c->unit && title)
        c->unit = tb_unit_find(TB_FIELD_LENGTH, title, strlen(title));
    if (c->unit && r->opts->length_unit && c->unit != r->opts->length_unit)
        return tb_fail(err, TB_EINVAL, "the column '%s' says its lengths are in %s, and --unit says %s",
                       c->header, tb_unit_key(c->unit), tb_unit_key(r->opts->length_unit));
    if (!c->unit)
        c->unit = r->opts->length_unit;
    if (c->unit == TB_UNIT_KG)
        return tb_fail(
            err, TB_EINVAL,
            "the column '%s' gives kilograms; a bolt is taken in by its length, so ask the supplier for "
            "metres or yards",
            c->header);
    if (!c->unit && c->unitless && !l->of[TB_FIELD_UNIT])
        return tb_fail(
            err, TB_EINVAL,
            "the lengths in the column '%s' ('%s') do not say whether they are metres or yards; say "
            "--unit m or --unit yd",
            c->header, c->unitless);
    return TB_OK;
}

/* Units a bare width or mass may be in, and how to ask which. */
struct by_size {
    enum tb_unit option; /* what was said for the whole file */
    unsigned units;      /* bit per enum tb_unit */
    bool width;
};

static tb_rc ask_unit(const struct tb_source_column *c, const struct by_size *by, unsigned mask,
                      struct tb_err *err)
{
    struct tb_text list = { 0 };
    tb_rc rc;

    for (int u = 1; u < TB_UNITS; u++)
        if (mask & 1u << u)
            tb_text_addf(&list, "%s%s", list.n ? ", " : "", tb_unit_key((enum tb_unit)u));
    rc = by->width
             ? tb_fail(err, TB_EINVAL,
                       "the widths in the column '%s' ('%s') can be in any of these units: %s; say which "
                       "with --width-unit",
                       c->header, c->unitless, tb_text_str(&list))
             : tb_fail(err, TB_EINVAL,
                       "the masses in the column '%s' ('%s') can be in any of these units: %s; say which "
                       "with --mass-unit",
                       c->header, c->unitless, tb_text_str(&list));
    tb_text_free(&list);
    return rc;
}

static tb_rc settle_by_size(struct tb_list_reader *r, struct tb_source_column *c, const struct by_size *by,
                            struct tb_err *err)
{
    unsigned mask = c->unit_mask & by->units;

    if (c->unit == TB_UNIT_OZ) {
        c->unit = by->option;
        mask = 1u << TB_UNIT_OZ_YD2 | 1u << TB_UNIT_OZ_PER_YD;
        if (by->option == TB_UNIT_NONE)
            c->unitless = "oz";
    }
    if (c->unit || !c->unitless)
        return TB_OK;
    if (by->option) {
        c->unit = by->option;
        return TB_OK;
    }
    if (mask && !(mask & (mask - 1))) {
        for (int u = 1; u < TB_UNITS; u++)
            if (mask == 1u << u)
                c->unit = (enum tb_unit)u;
        tb_list_say(r->list, "the column '%s' names no unit; by their size its figures are %s", c->header,
                    tb_unit_key(c->unit));
        return TB_OK;
    }
    return ask_unit(c, by, mask ? mask : by->units, err);
}

tb_rc tb_settle_column(struct tb_list_reader *r, const struct tb_table_layout *l, struct tb_source_column *c,
                       struct tb_err *err)
{
    const struct by_size width = { r->opts->width_unit,
                                   1u << TB_UNIT_M | 1u << TB_UNIT_CM | 1u << TB_UNIT_MM | 1u << TB_UNIT_IN,
                                   true },
                         mass = { r->opts->mass_unit,
                                  1u << TB_UNIT_GSM | 1u << TB_UNIT_OZ_YD2 | 1u << TB_UNIT_MOMME |
                                      1u << TB_UNIT_OZ_PER_YD,
                                  false },
                         along = { r->opts->mass_unit, 1u << TB_UNIT_G_PER_M | 1u << TB_UNIT_OZ_PER_YD,
                                   false };
    tb_rc rc = TB_OK;

    switch (c->field) {
    case TB_FIELD_LENGTH:
        rc = settle_length(r, l, c, err);
        break;
    case TB_FIELD_WIDTH:
    case TB_FIELD_WIDTH_USABLE:
        rc = settle_by_size(r, c, &width, err);
        break;
    case TB_FIELD_MASS:
        rc = settle_by_size(r, c, &mass, err);
        break;
    case TB_FIELD_MASS_LINEAR:
        rc = settle_by_size(r, c, &along, err);
        break;
    case TB_FIELD_PRICE:
        break;
    default:
        return TB_OK;
    }
    return rc == TB_OK ? settle_decimal(r, c, err) : rc;
}
