/* Between the passes: what the file shows is taken, what it leaves open is asked for, by the option that decides. */
#include "intake_in.h"

#include <stdio.h>
#include <string.h>

/* --- which columns are there ------------------------------------------------------------------------------- */
static bool somewhere(const struct reader *r, enum tb_field f)
{
    for (size_t i = 0; i < r->layouts; i++)
        if (r->layout[i]->of[f])
            return true;
    return !r->layouts && r->partial && r->partial->of[f];
}

static void add_missing(struct tb_text *t, size_t *n, const char *what)
{
    tb_text_addf(t, "%s%s", (*n)++ ? ", " : "", what);
}

static void headers_seen(const struct reader *r, struct tb_text *t)
{
    size_t shown = 0;

    for (size_t i = 0; i < r->list->columns && shown < 20; i++)
        tb_text_addf(t, "%s'%s'", shown++ ? ", " : "",
                     store_brief(r->list->store, r->list->column[i].header));
    for (size_t i = 0; !r->list->columns && i < r->best.n && shown < 20; i++)
        if (r->best.text[i])
            tb_text_addf(t, "%s'%s'", shown++ ? ", " : "", store_brief(r->list->store, r->best.text[i]));
}

static tb_rc check_columns(const struct reader *r, struct tb_err *err)
{
    struct tb_text missing = { 0 }, seen = { 0 };
    size_t n = 0, line = r->layouts ? r->layout[0]->line : r->best.line;
    tb_rc rc = TB_OK;

    if (!somewhere(r, TB_FIELD_BOLT))
        add_missing(&missing, &n, tb_field_name(TB_FIELD_BOLT));
    if (!somewhere(r, TB_FIELD_LENGTH))
        add_missing(&missing, &n, tb_field_name(TB_FIELD_LENGTH));
    if (!somewhere(r, TB_FIELD_ARTICLE) && !somewhere(r, TB_FIELD_DESIGN) && !r->any_article &&
        !r->opts->article)
        add_missing(&missing, &n, "article (or --article)");
    if (!somewhere(r, TB_FIELD_COMPOSITION) && !r->any_composition && !r->opts->declared)
        add_missing(&missing, &n, "declared composition (or --declared)");
    headers_seen(r, &seen);
    if (n && seen.n)
        rc = tb_fail(
            err, TB_EINVAL,
            "no column was found for: %s. The headers seen on line %zu are %s; --map \"HEADER=FIELD\" says "
            "what one of them means",
            missing.s, line, seen.s);
    else if (n || !r->layouts)
        rc = tb_fail(err, TB_EINVAL, "no row of this file looks like the header of a packing list");
    tb_text_free(&missing);
    tb_text_free(&seen);
    return rc;
}

/* --- decimal signs ------------------------------------------------------------------------------------------ */
static tb_rc ask_decimal(const struct column *c, struct tb_err *err)
{
    struct figure f;

    if (c->only_point && c->only_comma)
        return tb_fail(err, TB_EINVAL,
                       "the column '%s' writes '%s' on line %zu and '%s' on line %zu; say --decimal point or "
                       "--decimal comma",
                       c->header, c->point_text, c->point_line, c->comma_text, c->comma_line);
    if (!figure_scan(&f, c->either_text)) /* too long to show */
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

static tb_rc settle_decimal(struct reader *r, struct column *c, struct tb_err *err)
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

/* --- units --------------------------------------------------------------------------------------------------- */
static tb_rc settle_length(struct reader *r, const struct layout *l, struct column *c, struct tb_err *err)
{
    const char *title = r->title.value[TB_FIELD_UNIT];

    if (!c->unit && title)
        c->unit = unit_find(TB_FIELD_LENGTH, title, strlen(title));
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

static void choices(char *out, size_t room, unsigned mask)
{
    size_t n = 0;

    out[0] = '\0';
    for (int u = 1; u < TB_UNITS && n + 12 < room; u++)
        if (mask & 1u << u)
            n += (size_t)snprintf(out + n, room - n, "%s%s", n ? " or " : "", tb_unit_key((enum tb_unit)u));
}

static tb_rc settle_by_size(struct reader *r, struct column *c, enum tb_unit option, const char *name,
                            const char *what, unsigned all, struct tb_err *err)
{
    char list[100];
    unsigned mask = c->unit_mask & all;

    if (c->unit == TB_UNIT_OZ) {
        c->unit = option;
        mask = 1u << TB_UNIT_OZ_YD2 | 1u << TB_UNIT_OZ_PER_YD;
        if (option == TB_UNIT_NONE)
            c->unitless = "oz";
    }
    if (c->unit || !c->unitless)
        return TB_OK;
    if (option) {
        c->unit = option;
        return TB_OK;
    }
    if (mask && !(mask & (mask - 1))) {
        for (int u = 1; u < TB_UNITS; u++)
            if (mask == 1u << u)
                c->unit = (enum tb_unit)u;
        list_say(r->list, "the column '%s' names no unit; by their size its figures are %s", c->header,
                 tb_unit_key(c->unit));
        return TB_OK;
    }
    choices(list, sizeof list, mask ? mask : all);
    return tb_fail(err, TB_EINVAL, "the %s in the column '%s' ('%s') can be %s; say which with --%s", what,
                   c->header, c->unitless, list, name);
}

static tb_rc settle_column(struct reader *r, struct layout *l, struct column *c, struct tb_err *err)
{
    tb_rc rc;

    switch (c->field) {
    case TB_FIELD_LENGTH:
        rc = settle_length(r, l, c, err);
        break;
    case TB_FIELD_WIDTH:
    case TB_FIELD_WIDTH_USABLE:
        rc = settle_by_size(r, c, r->opts->width_unit, "width-unit", "widths",
                            1u << TB_UNIT_M | 1u << TB_UNIT_CM | 1u << TB_UNIT_MM | 1u << TB_UNIT_IN, err);
        break;
    case TB_FIELD_MASS:
        rc = settle_by_size(
            r, c, r->opts->mass_unit, "mass-unit", "masses",
            1u << TB_UNIT_GSM | 1u << TB_UNIT_OZ_YD2 | 1u << TB_UNIT_MOMME | 1u << TB_UNIT_OZ_PER_YD, err);
        break;
    case TB_FIELD_MASS_LINEAR:
        rc = settle_by_size(r, c, r->opts->mass_unit, "mass-unit", "masses",
                            1u << TB_UNIT_G_PER_M | 1u << TB_UNIT_OZ_PER_YD, err);
        break;
    case TB_FIELD_PRICE:
        rc = TB_OK;
        break;
    default:
        return TB_OK;
    }
    return rc == TB_OK ? settle_decimal(r, c, err) : rc;
}

/* --- days ---------------------------------------------------------------------------------------------------- */
static tb_rc settle_days(struct reader *r, struct tb_err *err)
{
    static const struct {
        unsigned bit;
        const char *name, *say; /* the first letter of the name is the order */
    } order[] = { { DAY_DMY, "dmy", "day first" },
                  { DAY_MDY, "mdy", "month first" },
                  { DAY_YMD, "ymd", "year first" } };
    struct day_reading day;
    size_t can[3], n = 0;

    r->day_order = r->opts->dates ? r->opts->dates : 'd';
    if (!r->day_text)
        return TB_OK;
    if (!r->days && !r->opts->dates)
        return tb_fail(
            err, TB_EINVAL,
            "the dates of this file are not all written in one order ('%s', line %zu); say --dates dmy, "
            "mdy or ymd",
            r->day_text, r->day_line);
    for (size_t i = 0; i < TB_COUNT(order); i++)
        if (r->days & order[i].bit)
            can[n++] = i;
    if (n == 1)
        r->day_order = order[can[0]].name[0]; /* the file itself says it */
    if (n < 2 || r->opts->dates)
        return TB_OK;
    (void)day_scan(&day, r->day_text);
    return tb_fail(
        err, TB_EINVAL, "the date '%s' (line %zu) can be %s (%s) or %s (%s); say --dates %s or --dates %s",
        r->day_text, r->day_line, day_value(&day, order[can[0]].name[0]), order[can[0]].say,
        day_value(&day, order[can[1]].name[0]), order[can[1]].say, order[can[0]].name, order[can[1]].name);
}

static void say_typed_bolts(struct reader *r)
{
    for (size_t i = 0; i < r->layouts; i++) {
        const struct column *c = r->layout[i]->of[TB_FIELD_BOLT];

        if (c && c->typed_day)
            list_say(
                r->list,
                c->typed_day == 1
                    ? "%zu bolt number in the column '%s' is kept by the spreadsheet as a date (on line "
                      "%zu): what was typed, such as 12/3, is lost; compare it with the ticket"
                    : "%zu bolt numbers in the column '%s' are kept by the spreadsheet as dates (first on "
                      "line %zu): what was typed, such as 12/3, is lost; compare them with the tickets",
                c->typed_day, c->header, c->typed_line);
        if (c && c->typed_number)
            list_say(
                r->list,
                c->typed_number == 1
                    ? "%zu bolt number in the column '%s' is kept by the spreadsheet as a number (on line "
                      "%zu): zeros in front are lost if there were any"
                    : "%zu bolt numbers in the column '%s' are kept by the spreadsheet as numbers (first on "
                      "line %zu): zeros in front are lost if there were any",
                c->typed_number, c->header, c->typed_line);
    }
}

/* Nothing was a header: understand the row that came nearest, to name what it lacks. */
static void map_best(struct reader *r)
{
    struct tb_err spare = { 0 };

    if (r->layouts || r->partial || !r->best.n)
        return;
    r->partial = tb_new(struct layout);
    r->partial->sheet_name = "";
    (void)header_map(r->partial, r->words, r->list, NULL, &r->best, &spare);
}

tb_rc settle(struct reader *r, struct tb_err *err)
{
    tb_rc rc;

    map_best(r);
    rc = check_columns(r, err);

    for (size_t i = 0; i < r->layouts; i++)
        for (size_t k = 0; k < r->layout[i]->n; k++) {
            r->point += r->layout[i]->column[k].only_point;
            r->comma += r->layout[i]->column[k].only_comma;
        }
    for (size_t i = 0; rc == TB_OK && i < r->layouts; i++) {
        struct layout *l = r->layout[i];

        for (size_t k = 0; rc == TB_OK && k < l->n; k++)
            rc = settle_column(r, l, &l->column[k], err);
    }
    if (rc == TB_OK)
        rc = settle_days(r, err);
    if (rc == TB_OK)
        say_typed_bolts(r);
    return rc;
}
