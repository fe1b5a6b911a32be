/*
 * settle.c - between the passes: what the file shows is taken, what it leaves open is asked for, by the option
 * that decides.
 */
#include "intake/reader.h"

#include "base/say.h"

#include <stdint.h>
#include <string.h>

static void add_missing(struct tb_text *t, size_t *n, const char *what)
{
    tb_text_addf(t, "%s%s", (*n)++ ? ", " : "", what);
}

/* All that is missing is named at once. */
static tb_rc check_columns(struct tb_list_reader *r, struct tb_err *err)
{
    struct tb_text missing = { 0 };
    size_t n = 0, must;
    bool article = tb_somewhere(r, TB_FIELD_ARTICLE) || tb_somewhere(r, TB_FIELD_DESIGN) || r->any_article ||
                   (r->headed.said && !tb_headed_below(r)) || r->opts->article;
    bool declared = tb_somewhere(r, TB_FIELD_COMPOSITION) || r->any_composition || r->opts->declared;
    tb_rc rc = TB_OK;

    if (!tb_somewhere(r, TB_FIELD_BOLT) && !r->given.n && !(r->opts->without & (uint64_t)1 << TB_FIELD_BOLT))
        add_missing(&missing, &n, _(tb_field_name(TB_FIELD_BOLT)));
    if (!tb_somewhere(r, TB_FIELD_LENGTH))
        add_missing(&missing, &n, _(tb_field_name(TB_FIELD_LENGTH)));
    must = n;
    if (!article)
        add_missing(&missing, &n, _("article (or --article)"));
    if (!declared)
        add_missing(&missing, &n, _("declared composition (or --declared)"));
    if (must)
        rc = tb_ask_columns(r, &missing, err);
    else if (!r->layouts)
        rc = tb_about(err,
                      tb_fail(err, TB_EINVAL, "no row of this file looks like the header of a packing list"),
                      "by-hand");
    if (must || tb_list_asked(r->list, "columns", NULL))
        article = declared = true; /* a column may give them: the next reading shows it */
    if (rc == TB_OK && !article)
        tb_ask_article(r);
    if (rc == TB_OK && !declared)
        tb_ask_declared(r);
    tb_text_free(&missing);
    return rc;
}

/* Who sent the goods, and under which number: rows that lack it are asked about where they stand. */
static void check_names(struct tb_list_reader *r)
{
    static const struct {
        enum tb_field field;
        const char *option, *ask;
    } name[] = { { TB_FIELD_SUPPLIER, "supplier",
                   N_("the file does not name the supplier; say --supplier NAME") },
                 { TB_FIELD_NOTE, "note",
                   N_("the file does not give the number of the delivery note; say --note NUMBER") } };

    for (size_t i = 0; i < TB_COUNT(name); i++)
        if (!tb_somewhere(r, name[i].field) && !(r->said & (uint64_t)1 << name[i].field) &&
            !(i == 0 ? r->opts->supplier : r->opts->note))
            tb_intake_ask_text(r, name[i].option, tb_proposed(r, name[i].field), name[i].ask);
}

/* The day of arrival says what the file does not: which of two days it was. */
static void say_late(struct tb_list_reader *r)
{
    struct tb_day_reading day;
    const char *taken, *late = NULL;

    if (!r->late_day || r->opts->dates || !(r->days_written & (r->days_written - 1)))
        return;
    (void)tb_day_scan(&day, r->late_day);
    taken = tb_day_value(&day, r->day_order);
    for (size_t i = 0; i < TB_DAY_ORDERS && !late; i++) {
        late = tb_day_value(&day, tb_day_orders[i].name[0]);
        late = late && strcmp(late, r->opts->arrived) > 0 ? late : NULL;
    }
    if (taken && late)
        tb_list_say(r->list, "line %zu: '%s' is read as %s; the goods came before %s", r->late_line,
                    tb_store_brief(r->list->store, r->late_day), taken, late);
}

/* One order that suits all days is taken; two are asked about with what each would make of one of them. */
static void settle_days(struct tb_list_reader *r)
{
    const struct tb_day_order *can[TB_DAY_ORDERS];
    struct tb_day_reading day;
    struct tb_question *q = NULL;
    unsigned days = r->opts->dates ? r->days_written : r->days; /* whoever says the order knows better */
    size_t n = 0;

    r->day_order = r->opts->dates ? r->opts->dates : 'd';
    if (!r->day_text || r->opts->day)
        return;
    for (size_t i = 0; i < TB_DAY_ORDERS; i++)
        if (!days || (days & tb_day_orders[i].bit))
            can[n++] = &tb_day_orders[i];
    if (n == 1) {
        r->day_order = can[0]->name[0]; /* the file itself says it, or the day of arrival */
        say_late(r);
    }
    if (n < 2 || r->opts->dates)
        return;
    (void)tb_day_scan(&day, r->day_text);
    if ((days & TB_DAY_DMY) && tb_header_day_first(r)) {
        r->day_order = 'd';
        tb_list_say(
            r->list,
            "line %zu: '%s' is read as %s, day first, as the language of the header writes it (--dates "
            "says otherwise)",
            r->day_line, tb_store_brief(r->list->store, r->day_text), tb_day_value(&day, 'd'));
        return;
    }
    if (!days)
        q = tb_list_ask(
            r->list, r->day_line,
            "the dates of this file are not all written in one order ('%s', line %zu); say --dates "
            "dmy, mdy or ymd",
            r->day_text, r->day_line);
    else
        q = tb_list_ask(
            r->list, r->day_line,
            "the date '%s' (line %zu) is %s with --dates %s and %s with --dates %s; say which is meant",
            r->day_text, r->day_line, tb_day_value(&day, can[0]->name[0]), can[0]->name,
            tb_day_value(&day, can[1]->name[0]), can[1]->name);
    for (size_t i = 0; i < n; i++)
        tb_list_answer(r->list, q, "dates", can[i]->name);
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
    (void)tb_header_map(r->partial, r->words, &r->shown, r->list, NULL, &r->best, &spare);
}

/* The signs of the whole file are counted first: a column without evidence follows the others. */
tb_rc tb_intake_settle(struct tb_list_reader *r, struct tb_err *err)
{
    tb_rc rc;

    map_best(r);
    tb_settle_labelled(r);
    rc = check_columns(r, err);
    if (rc == TB_OK)
        check_names(r);
    for (size_t i = 0; i < r->layouts; i++)
        for (size_t k = 0; k < r->layout[i]->n; k++) {
            r->point += r->layout[i]->column[k].only_point;
            r->comma += r->layout[i]->column[k].only_comma;
        }
    for (size_t i = 0; rc == TB_OK && i < r->layouts; i++) {
        struct tb_table_layout *l = r->layout[i];

        for (size_t k = 0; rc == TB_OK && k < l->n; k++)
            rc = tb_settle_column(r, l, &l->column[k], err);
        if (rc == TB_OK)
            tb_ask_gross(r, l);
    }
    if (rc != TB_OK)
        return rc;
    tb_ask_unread(r);
    tb_ask_empty(r);
    tb_ask_touching(r);
    settle_days(r);
    tb_ask_loose_day(r);
    if (r->list->question_count)
        return tb_fail(err, TB_EINVAL, "%s", r->list->question[0].ask);
    say_typed_bolts(r);
    return TB_OK;
}
