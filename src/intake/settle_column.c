/* settle_column.c - the decimal sign and the unit of a column: taken where the file shows it, else asked for. */
#include "intake/reader.h"

#include <math.h>
#include <string.h>

/* Of two readings the one a cloth can have: 3 to 1000 m, 30 to 1500 g/m2, 0.1 to 1000 for the rest. */
static bool likely_size(enum tb_field field, double v)
{
    double least = field == TB_FIELD_LENGTH ? 3 : field == TB_FIELD_MASS ? 30 : 0.1;

    return v >= least && v <= (field == TB_FIELD_MASS ? 1500 : 1000);
}

/* One answer holds for the whole file, so it is asked for once. */
static void ask_decimal(struct tb_list_reader *r, struct tb_source_column *c)
{
    struct tb_packing_list *l = r->list;
    struct tb_question *q;
    struct tb_figure f = { .comma = 0 };
    bool comma = c->only_comma > c->only_point;

    if (c->only_point && c->only_comma) {
        q = tb_list_ask(
            l, c->point_line,
            "the column '%s' writes '%s' on line %zu and '%s' on line %zu; say --decimal point or "
            "--decimal comma",
            c->header, c->point_text, c->point_line, c->comma_text, c->comma_line);
    } else if (!tb_figure_scan(&f, c->either_text)) { /* too long to show */
        q = tb_list_ask(
            l, c->either_line,
            "the figures in the column '%s', line %zu, can be read in two ways; say --decimal comma "
            "or --decimal point",
            c->header, c->either_line);
    } else {
        comma = likely_size(c->field, f.comma) || !likely_size(c->field, f.point);
        q = tb_list_ask(l, c->either_line,
                        "'%s' in the column '%s', line %zu, can be read as %.10g or as %.10g; say --decimal "
                        "comma or --decimal point",
                        c->either_text, c->header, c->either_line, f.comma, f.point);
    }
    tb_list_answer(l, q, "decimal", comma ? "comma" : "point");
    tb_list_answer(l, q, "decimal", comma ? "point" : "comma");
}

/* The column itself, then what was said, then the rest of the file, and then the person. */
static void settle_decimal(struct tb_list_reader *r, struct tb_source_column *c)
{
    bool point = c->only_point > 0, comma = c->only_comma > 0;

    if (point != comma)
        c->decimal = comma ? ',' : '.';
    else if (r->opts->decimal)
        c->decimal = r->opts->decimal;
    else if (!point && (r->point > 0) != (r->comma > 0))
        c->decimal = r->comma ? ',' : '.';
    else if ((point || c->either) && !tb_list_asked(r->list, "decimal", NULL))
        ask_decimal(r, c);
}

/* What a title, a heading, a total or another header names; of several units none is likely. */
static enum tb_unit named_unit(const struct tb_list_reader *r, bool *several)
{
    unsigned named = r->named;

    for (size_t i = 0; i < r->list->columns; i++)
        named |= 1u << tb_header_words_unit(r->list->column[i].header);
    named &= 1u << TB_UNIT_M | 1u << TB_UNIT_YD;
    *several = (named & (named - 1)) != 0;
    return *several || !named ? TB_UNIT_NONE : named & 1u << TB_UNIT_YD ? TB_UNIT_YD : TB_UNIT_M;
}

/* Inches and yards go together, as metres do with centimetres. */
static bool in_yards(const struct tb_list_reader *r)
{
    for (size_t i = 0; i < r->layouts; i++)
        for (size_t k = 0; k < r->layout[i]->n; k++)
            if (r->layout[i]->column[k].unit == TB_UNIT_IN || r->layout[i]->column[k].unit == TB_UNIT_YD ||
                r->layout[i]->column[k].unit == TB_UNIT_OZ_YD2)
                return true;
    return false;
}

/* A unit that stands beside some of the figures is the likely one; of "Net" without any nobody knows what it counts. */
static void ask_length_unit(struct tb_list_reader *r, const struct tb_source_column *c)
{
    static const enum tb_unit unit[] = { TB_UNIT_M, TB_UNIT_YD, TB_UNIT_KG };
    bool several;
    enum tb_unit named = named_unit(r, &several);
    enum tb_unit likely = c->seen && !c->seen_two ? c->seen
                          : named                 ? named
                          : in_yards(r)           ? TB_UNIT_YD
                                                  : TB_UNIT_M;
    bool weighs = c->maybe_weight || c->seen == TB_UNIT_KG;
    struct tb_question *q =
        weighs ? tb_list_ask(
                     r->list, 0,
                     "the figures in the column '%s' ('%s') do not say whether they are metres, yards or "
                     "kilograms; say --unit m, --unit yd or --unit kg",
                     c->header, c->unitless)
               : tb_list_ask(r->list, 0,
                             "the lengths in the column '%s' ('%s') do not say whether they are metres or "
                             "yards; say --unit m or --unit yd",
                             c->header, c->unitless);

    tb_list_answer(r->list, q, "unit", tb_unit_key(likely));
    for (size_t i = 0; i < TB_COUNT(unit); i++)
        if (unit[i] != likely && (weighs || unit[i] != TB_UNIT_KG))
            tb_list_answer(r->list, q, "unit", tb_unit_key(unit[i]));
    if (q)
        q->open = c->seen_two || ((c->maybe_weight || several) && !c->seen);
}

/* "Length (cm)", "Qty (pcs)": a carton's length, or a number of pieces; neither metres nor yards are likely. */
static void ask_no_length(struct tb_list_reader *r, const struct tb_source_column *c, size_t at, size_t n)
{
    struct tb_question *q = tb_list_ask(r->list, 0,
                                        "the column '%s' is taken for the length, and its header says '%s', "
                                        "in which no length is counted here; "
                                        "say --map \"HEADER=length\" for another column, or --unit m or "
                                        "--unit yd where its figures are metres "
                                        "or yards all the same",
                                        c->header, tb_store_intern(r->list->store, c->header + at, n));

    tb_list_answer(r->list, q, "unit", tb_unit_key(TB_UNIT_M));
    tb_list_answer(r->list, q, "unit", tb_unit_key(TB_UNIT_YD));
    if (q)
        q->open = true;
}

/* An option that answers for one table does not contradict the others. */
static bool any_other_unit(const struct tb_list_reader *r)
{
    for (size_t i = 0; i < r->layouts; i++) {
        const struct tb_source_column *c = r->layout[i]->of[TB_FIELD_LENGTH];

        if (c && (tb_other_unit(r, r->layout[i], c->unit) || c->answered))
            return true;
    }
    return false;
}

/* A unit the file states is never overruled by an option: one of the two is a mistake. */
static tb_rc settle_length(struct tb_list_reader *r, const struct tb_table_layout *l,
                           struct tb_source_column *c, struct tb_err *err)
{
    const char *title = r->title.value[TB_FIELD_UNIT];
    const struct tb_unit_said *other;
    size_t at, n;

    if (!c->unit && title)
        c->unit = tb_unit_find(TB_FIELD_LENGTH, title, strlen(title));
    if ((other = tb_other_unit(r, l, c->unit))) { /* two are stated, and one of them is to be chosen */
        if (r->opts->length_unit == other->unit)
            c->unit = other->unit, c->answered = true;
        else if (!r->opts->length_unit && !tb_list_asked(r->list, "unit", NULL))
            tb_ask_other_unit(r, c, other);
    }
    if (c->unit && r->opts->length_unit && c->unit != r->opts->length_unit && !any_other_unit(r))
        return tb_fail(err, TB_EINVAL, "the column '%s' says its lengths are in %s, and --unit says %s",
                       c->header, tb_unit_key(c->unit), tb_unit_key(r->opts->length_unit));
    if (!c->unit)
        c->unit = r->opts->length_unit;
    if (c->weight && c->unit != TB_UNIT_KG && c->unit)
        return tb_fail(
            err, TB_EINVAL,
            "the column '%s' gives weights, and --unit says %s; goods counted in kilograms have no length",
            c->header, tb_unit_key(c->unit));
    if (c->weight && !c->unit && c->unitless && !l->of[TB_FIELD_UNIT] &&
        !tb_list_asked(r->list, "unit", NULL)) {
        tb_list_answer(
            r->list,
            tb_list_ask(r->list, 0,
                        "the weights in the column '%s' ('%s') do not say in which unit they are; say --unit "
                        "kg if they are kilograms",
                        c->header, c->unitless),
            "unit", "kg");
        return TB_OK;
    }
    if (!c->unit && c->unitless && !l->of[TB_FIELD_UNIT] && !tb_list_asked(r->list, "unit", NULL)) {
        if (tb_header_words_no_length(r->words, c->header, &at, &n))
            ask_no_length(r, c, at, n);
        else
            ask_length_unit(r, c);
    }
    return TB_OK;
}

/* Units a bare width or mass may be in, and how to ask which. */
struct by_size {
    enum tb_unit option; /* what was said for the whole file */
    unsigned units;      /* bit per enum tb_unit */
    bool width;
};

/* The first of these that a cloth can have: most are 36 to 72 inches or 73 to 360 cm wide; a mass is mostly in g/m2. */
static enum tb_unit likely_unit(const struct tb_source_column *c, unsigned mask)
{
    static const struct {
        enum tb_unit unit;
        double least, most;
    } likely[] = { { TB_UNIT_KG, 0.1, 120 },    { TB_UNIT_IN, 12, 72 },       { TB_UNIT_CM, 30, 360 },
                   { TB_UNIT_M, 0.3, 3.6 },     { TB_UNIT_MM, 500, 3600 },    { TB_UNIT_GSM, 10, 1500 },
                   { TB_UNIT_OZ_YD2, 0.5, 60 }, { TB_UNIT_G_PER_M, 10, 3000 } };
    struct tb_figure f;
    double v = tb_figure_scan(&f, c->unitless) ? f.point : (double)NAN;

    for (size_t i = 0; i < TB_COUNT(likely); i++)
        if ((mask & 1u << likely[i].unit) && v >= likely[i].least && v <= likely[i].most)
            return likely[i].unit;
    return TB_UNIT_NONE;
}

static void ask_unit(struct tb_list_reader *r, const struct tb_source_column *c, const struct by_size *by,
                     unsigned mask)
{
    const char *option = by->width ? "width-unit" : "mass-unit";
    enum tb_unit likely = likely_unit(c, mask);
    struct tb_text list = { 0 };
    struct tb_question *q;

    if (tb_list_asked(r->list, option, NULL))
        return;
    for (int u = 1; u < TB_UNITS; u++)
        if (mask & 1u << u)
            tb_text_addf(&list, "%s%s", list.n ? ", " : "", tb_unit_key((enum tb_unit)u));
    q = by->width ? tb_list_ask(r->list, 0,
                                "the widths in the column '%s' ('%s') can be in any of these units: %s; say "
                                "which with --width-unit",
                                c->header, c->unitless, tb_text_str(&list))
                  : tb_list_ask(r->list, 0,
                                "the masses in the column '%s' ('%s') can be in any of these units: %s; say "
                                "which with --mass-unit",
                                c->header, c->unitless, tb_text_str(&list));
    if (likely)
        tb_list_answer(r->list, q, option, tb_unit_key(likely));
    for (int u = 1; u < TB_UNITS; u++)
        if ((mask & 1u << u) && u != (int)likely)
            tb_list_answer(r->list, q, option, tb_unit_key((enum tb_unit)u));
    tb_text_free(&list);
}

static void settle_by_size(struct tb_list_reader *r, struct tb_source_column *c, const struct by_size *by)
{
    unsigned mask = c->unit_mask & by->units;

    if (c->unit == TB_UNIT_OZ) {
        c->unit = by->option;
        mask = 1u << TB_UNIT_OZ_YD2 | 1u << TB_UNIT_OZ_PER_YD;
        if (by->option == TB_UNIT_NONE)
            c->unitless = "oz";
    }
    if (c->unit || !c->unitless)
        return;
    if (by->option) {
        c->unit = by->option;
        return;
    }
    if (mask && !(mask & (mask - 1))) {
        for (int u = 1; u < TB_UNITS; u++)
            if (mask == 1u << u)
                c->unit = (enum tb_unit)u;
        tb_list_say(r->list, "the column '%s' names no unit; by their size its figures are %s", c->header,
                    tb_unit_key(c->unit));
        return;
    }
    ask_unit(r, c, by, mask ? mask : by->units);
}

/* "Weight" beside lengths and a price by the kilogram is that of a bolt as likely as that of the cloth. */
static bool may_weigh_bolts(const struct tb_list_reader *r, const struct tb_table_layout *l)
{
    const struct tb_source_column *length = l->of[TB_FIELD_LENGTH];

    return tb_priced_by_kg(r, l) && length && !length->weight && !l->of[TB_FIELD_WEIGHT_NET];
}

tb_rc tb_settle_column(struct tb_list_reader *r, const struct tb_table_layout *l, struct tb_source_column *c,
                       struct tb_err *err)
{
    const struct by_size width = { r->opts->width_unit,
                                   1u << TB_UNIT_M | 1u << TB_UNIT_CM | 1u << TB_UNIT_MM | 1u << TB_UNIT_IN,
                                   true },
                         mass = { r->opts->mass_unit,
                                  1u << TB_UNIT_GSM | 1u << TB_UNIT_OZ_YD2 | 1u << TB_UNIT_MOMME |
                                      1u << TB_UNIT_OZ_PER_YD |
                                      (may_weigh_bolts(r, l) ? 1u << TB_UNIT_KG : 0),
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
        settle_by_size(r, c, &width);
        break;
    case TB_FIELD_MASS:
        settle_by_size(r, c, &mass);
        break;
    case TB_FIELD_MASS_LINEAR:
        settle_by_size(r, c, &along);
        break;
    case TB_FIELD_PRICE:
        break;
    case TB_FIELD_WEIGHT_NET:
        if (tb_settle_weight(r, l, c))
            return TB_OK;
        break;
    default:
        return TB_OK;
    }
    if (rc == TB_OK)
        settle_decimal(r, c);
    return rc;
}
