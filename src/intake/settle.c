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

#define BOLTS_IN_A_ROW_MOST 100 /* more in the mean are numbers of bolts, not counts of them */

/* Without a header: a column under a word for a number of bolts that counts several in most rows. */
static bool rows_count_several(const struct tb_profile *p)
{
    for (size_t i = 0; i < TB_PROFILED_MOST; i++)
        if (p->column[i].word == TB_FIELD_COUNT && p->column[i].figures &&
            p->column[i].ones * 2 < p->column[i].figures)
            return true;
    return false;
}

/* No header, or none with lengths: the columns are asked for, all at once, with what stands in the first of the rows. */
static bool ask_headless(struct tb_list_reader *r)
{
    const char *columns = r->given.n || r->layouts ? NULL : tb_proposed_columns(r);
    const struct tb_profile *p = r->whole.rows >= r->profile.rows ? &r->whole : &r->profile;
    struct tb_text row = { 0 };
    struct tb_question *q;

    if (!columns)
        return false;
    for (size_t i = 0; i < TB_PROFILED_MOST; i++) {
        char letters[8];

        tb_column_letters(letters, i);
        if (p->column[i].filled && row.n < 200)
            tb_text_addf(&row, "%s%s '%s'", row.n ? ", " : "", letters, p->column[i].first);
    }
    q = tb_list_ask(
        r->list, 0,
        "no header says what the columns hold (they begin with: %s); say --columns with the fields in "
        "their order, - for one that is left out, length* for lengths side by side",
        tb_text_str(&row));
    tb_list_answer(r->list, q, "columns", columns);
    if (q) {
        q->open = rows_count_several(&r->whole);
        q->proposed = !q->open;
    }
    tb_text_free(&row);
    return true;
}

/* "Stück" over 5501, 5502, 5503 counts nothing: the bolts have these numbers. NULL: no column of counts does that. */
static const char *numbers_bolts(const struct tb_list_reader *r)
{
    const struct tb_source_column *c = r->partial ? r->partial->of[TB_FIELD_COUNT] : NULL;

    if (!c || c->index >= TB_PROFILED_MOST ||
        tb_profile_likeness(&r->profile, c->index, TB_FIELD_BOLT) <= 0 ||
        r->profile.column[c->index].sum < BOLTS_IN_A_ROW_MOST * (double)r->profile.column[c->index].figures)
        return NULL;
    return tb_store_internf(r->list->store, "%s=%s", c->header, tb_field_key(TB_FIELD_BOLT));
}

/* "Pcs 3": a carton, or the bolts of a colour, in one row; NULL: no column counts several. */
static const char *counts_several(const struct tb_list_reader *r)
{
    const struct tb_source_column *c = r->partial ? r->partial->of[TB_FIELD_COUNT] : NULL;

    if (!c || c->index >= TB_PROFILED_MOST ||
        r->profile.column[c->index].ones * 2 >= r->profile.column[c->index].figures)
        return NULL;
    return c->header;
}

/* Rows that stand for several bolts would store fewer than came: nobody is told to take them for one each. */
static void ask_pieces(struct tb_list_reader *r, size_t line, const char *count)
{
    struct tb_question *q = tb_list_ask(
        r->list, line,
        "no column numbers the bolts, and the column '%s' counts several in a row; each bolt needs a row "
        "with "
        "its own length: ask for such a list, or type it (receive --by-hand). --without bolt-numbers takes "
        "each row for one bolt",
        count);

    tb_list_answer(r->list, q, "without", "bolt-numbers");
    if (q)
        q->open = true;
}

/* What a column of the header holds, as --columns says it. */
static const char *partial_key(const struct tb_list_reader *r, size_t index)
{
    for (size_t i = 0; i < r->partial->n; i++)
        if (r->partial->column[i].index == index && r->partial->column[i].field <= TB_FIELD_PARTS)
            return tb_field_key(r->partial->column[i].field);
    return "-";
}

/* Figures under no header behind the lengths are lengths too: "Lengths (m)" over four columns. False: there are none. */
static bool ask_beside(struct tb_list_reader *r, size_t line)
{
    const struct tb_source_column *c = r->partial->of[TB_FIELD_LENGTH];
    struct tb_text t = { 0 };
    size_t n = 1;
    struct tb_question *q;

    while (c->index + n < TB_PROFILED_MOST && r->profile.column[c->index + n].figures &&
           (c->index + n >= r->best.n || !r->best.text[c->index + n]))
        n++;
    if (n == 1)
        return false;
    for (size_t i = 0; i < c->index; i++)
        tb_text_addf(&t, "%s,", partial_key(r, i));
    tb_text_addf(&t, "length*%zu", n);
    q = tb_list_ask(
        r->list, line,
        "lengths stand side by side under and behind the header '%s'; say --columns with the fields in "
        "their order, - for one that is left out, length*%zu for the lengths",
        c->header, n);
    tb_list_answer(r->list, q, "columns", tb_text_str(&t));
    tb_text_free(&t);
    return true;
}

/* One column is the likely one, of several nobody knows which. */
static void answer_maps(struct tb_list_reader *r, struct tb_question *q, const char *const *map, size_t maps)
{
    for (size_t i = 0; i < maps; i++)
        tb_list_answer(r->list, q, "map", map[i]);
    if (q)
        q->open = maps > 1;
}

/* A bolt or a length cannot be done without; the likely column is proposed, where the rows below show one. */
static tb_rc ask_columns(struct tb_list_reader *r, struct tb_text *missing, struct tb_err *err)
{
    size_t line = r->layouts ? r->layout[0]->line : r->best.line;
    const char *map[TB_ANSWERS_MOST];
    size_t maps = tb_profile_map(r, !tb_somewhere(r, TB_FIELD_LENGTH) ? TB_FIELD_LENGTH : TB_FIELD_BOLT, map,
                                 TB_ANSWERS_MOST - 1);
    static const char say[] =
        N_("no column was found for: %s. The headers seen on line %zu are %s; --map \"HEADER=FIELD\" says "
           "what one of them means");
    static const char none[] =
        N_("no column was found for: %s. The headers seen on line %zu are %s; --map \"HEADER=FIELD\" says "
           "what one of them means, --without bolt-numbers that the bolts have none and are given some");
    struct tb_question *q;
    struct tb_text seen = { 0 };
    tb_rc rc = TB_OK;

    headers_seen(r, &seen);
    if (r->partial && tb_somewhere(r, TB_FIELD_LENGTH) && numbers_bolts(r)) {
        q = tb_list_ask(r->list, line, none, missing->s, line, seen.s);
        tb_list_answer(r->list, q, "map", numbers_bolts(r));
    } else if (r->partial && tb_somewhere(r, TB_FIELD_LENGTH) && counts_several(r)) {
        ask_pieces(r, line, counts_several(r));
    } else if (r->partial && tb_somewhere(r, TB_FIELD_LENGTH) && ask_beside(r, line)) {
        rc = TB_OK;
    } else if (r->partial && tb_somewhere(r, TB_FIELD_LENGTH)) {
        q = tb_list_ask(r->list, line, none, missing->s, line, seen.s);
        answer_maps(r, q, map, maps);
        tb_list_answer(r->list, q, "without", "bolt-numbers");
    } else if (!maps && ask_headless(r))
        rc = TB_OK;
    else if (!seen.n)
        rc = tb_about(err,
                      tb_fail(err, TB_EINVAL, "no row of this file looks like the header of a packing list"),
                      "by-hand");
    else if (!maps)
        rc = tb_about(err, tb_fail(err, TB_EINVAL, say, missing->s, line, seen.s), "by-hand");
    else
        answer_maps(r, tb_list_ask(r->list, line, say, missing->s, line, seen.s), map, maps);
    tb_text_free(&seen);
    return rc;
}

/* All that is missing is named at once. */
static tb_rc check_columns(struct tb_list_reader *r, struct tb_err *err)
{
    struct tb_text missing = { 0 };
    size_t n = 0, must;
    bool article = tb_somewhere(r, TB_FIELD_ARTICLE) || tb_somewhere(r, TB_FIELD_DESIGN) || r->any_article ||
                   r->opts->article;
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
        rc = ask_columns(r, &missing, err);
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

/* One order that suits all days is taken; two are asked about with what each would make of one of them. */
static void settle_days(struct tb_list_reader *r)
{
    static const struct {
        unsigned bit;
        const char *name; /* its first letter is the order */
    } order[] = { { TB_DAY_DMY, "dmy" }, { TB_DAY_MDY, "mdy" }, { TB_DAY_YMD, "ymd" } };
    struct tb_day_reading day;
    struct tb_question *q = NULL;
    size_t can[3], n = 0;

    r->day_order = r->opts->dates ? r->opts->dates : 'd';
    if (!r->day_text || r->opts->day)
        return;
    for (size_t i = 0; i < TB_COUNT(order); i++)
        if (!r->days || (r->days & order[i].bit))
            can[n++] = i;
    if (n == 1)
        r->day_order = order[can[0]].name[0]; /* the file itself says it */
    if (n < 2 || r->opts->dates)
        return;
    (void)tb_day_scan(&day, r->day_text);
    if (!r->days)
        q = tb_list_ask(
            r->list, r->day_line,
            "the dates of this file are not all written in one order ('%s', line %zu); say --dates "
            "dmy, mdy or ymd",
            r->day_text, r->day_line);
    else
        q = tb_list_ask(
            r->list, r->day_line,
            "the date '%s' (line %zu) is %s with --dates %s and %s with --dates %s; say which is meant",
            r->day_text, r->day_line, tb_day_value(&day, order[can[0]].name[0]), order[can[0]].name,
            tb_day_value(&day, order[can[1]].name[0]), order[can[1]].name);
    for (size_t i = 0; i < n; i++)
        tb_list_answer(r->list, q, "dates", order[can[i]].name);
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
    }
    if (rc != TB_OK)
        return rc;
    settle_days(r);
    tb_ask_loose_day(r);
    if (r->list->question_count)
        return tb_fail(err, TB_EINVAL, "%s", r->list->question[0].ask);
    say_typed_bolts(r);
    return TB_OK;
}
