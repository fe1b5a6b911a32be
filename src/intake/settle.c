/*
 * settle.c - between the passes: what the file shows is taken, what it leaves open is asked for, by the option
 * that decides.
 */
#include "intake/reader.h"

#include "base/say.h"

#include <string.h>

/* In any table: a file may name the article in one and the composition in another. */
static bool somewhere(const struct tb_list_reader *r, enum tb_field f)
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

/* What a person sees in the file, so that they can point at a column. */
static void headers_seen(const struct tb_list_reader *r, struct tb_text *t)
{
    size_t shown = 0;

    for (size_t i = 0; i < r->list->columns && shown < 20; i++)
        tb_text_addf(t, "%s'%s'", shown++ ? ", " : "",
                     tb_store_brief(r->list->store, r->list->column[i].header));
    for (size_t i = 0; !r->list->columns && i < r->best.n && shown < 20; i++)
        if (r->best.text[i])
            tb_text_addf(t, "%s'%s'", shown++ ? ", " : "", tb_store_brief(r->list->store, r->best.text[i]));
}

/* All that is missing is named at once. */
static tb_rc check_columns(const struct tb_list_reader *r, struct tb_err *err)
{
    struct tb_text missing = { 0 }, seen = { 0 };
    size_t n = 0, line = r->layouts ? r->layout[0]->line : r->best.line;
    tb_rc rc = TB_OK;

    if (!somewhere(r, TB_FIELD_BOLT))
        add_missing(&missing, &n, _(tb_field_name(TB_FIELD_BOLT)));
    if (!somewhere(r, TB_FIELD_LENGTH))
        add_missing(&missing, &n, _(tb_field_name(TB_FIELD_LENGTH)));
    if (!somewhere(r, TB_FIELD_ARTICLE) && !somewhere(r, TB_FIELD_DESIGN) && !r->any_article &&
        !r->opts->article)
        add_missing(&missing, &n, _("article (or --article)"));
    if (!somewhere(r, TB_FIELD_COMPOSITION) && !r->any_composition && !r->opts->declared)
        add_missing(&missing, &n, _("declared composition (or --declared)"));
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

/* One order that suits all days is taken; two are asked about with what each would make of one of them. */
static tb_rc settle_days(struct tb_list_reader *r, struct tb_err *err)
{
    static const struct {
        unsigned bit;
        const char *name; /* its first letter is the order */
    } order[] = { { TB_DAY_DMY, "dmy" }, { TB_DAY_MDY, "mdy" }, { TB_DAY_YMD, "ymd" } };
    struct tb_day_reading day;
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
    (void)tb_day_scan(&day, r->day_text);
    return tb_fail(
        err, TB_EINVAL,
        "the date '%s' (line %zu) is %s with --dates %s and %s with --dates %s; say which is meant",
        r->day_text, r->day_line, tb_day_value(&day, order[can[0]].name[0]), order[can[0]].name,
        tb_day_value(&day, order[can[1]].name[0]), order[can[1]].name);
}

/* What the spreadsheet changed cannot be undone, so the person is told where to look. */
static void say_typed_bolts(struct tb_list_reader *r)
{
    for (size_t i = 0; i < r->layouts; i++) {
        const struct tb_source_column *c = r->layout[i]->of[TB_FIELD_BOLT];

        if (c && c->typed_day)
            tb_list_say(
                r->list,
                c->typed_day == 1
                    ? "%zu bolt number in the column '%s' is kept by the spreadsheet as a date (on line "
                      "%zu): what was typed, such as 12/3, is lost; compare it with the ticket"
                    : "%zu bolt numbers in the column '%s' are kept by the spreadsheet as dates (first on "
                      "line %zu): what was typed, such as 12/3, is lost; compare them with the tickets",
                c->typed_day, c->header, c->typed_line);
        if (c && c->typed_number)
            tb_list_say(
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
static void map_best(struct tb_list_reader *r)
{
    struct tb_err spare = { 0 };

    if (r->layouts || r->partial || !r->best.n)
        return;
    r->partial = tb_new(struct tb_table_layout);
    r->partial->sheet_name = "";
    (void)tb_header_map(r->partial, r->words, r->list, NULL, &r->best, &spare);
}

/* The signs of the whole file are counted first: a column without evidence follows the others. */
tb_rc tb_intake_settle(struct tb_list_reader *r, struct tb_err *err)
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
        struct tb_table_layout *l = r->layout[i];

        for (size_t k = 0; rc == TB_OK && k < l->n; k++)
            rc = tb_settle_column(r, l, &l->column[k], err);
    }
    if (rc == TB_OK)
        rc = settle_days(r, err);
    if (rc == TB_OK)
        say_typed_bolts(r);
    return rc;
}
