/* tables.c - the first pass: where the tables of a file begin. */
#include "intake/reader.h"

#include <ctype.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#define TABLES_MOST 2000

/* The fullest header that lacks bolts or lengths: what a refusal will name. */
static void keep_partial(struct tb_list_reader *r, struct tb_table_layout *l)
{
    if (r->partial && r->partial->n >= l->n) {
        free(l);
        return;
    }
    free(r->partial);
    r->partial = l;
    tb_texts_free(&r->best);
    r->best = r->held;
    r->best.known = SIZE_MAX;
    r->best.sheet = r->sheet.number;
    r->profile = (struct tb_profile){ 0 };
    r->held = (struct tb_texts){ 0 };
}

static tb_rc refuse_hidden(const struct tb_list_reader *r, struct tb_err *err)
{
    return tb_fail(err, TB_EINVAL,
                   "the sheet '%s' is hidden and holds a table of bolts; --sheet '%s' takes it in, --sheet "
                   "with the names of the others leaves it out",
                   r->sheet_name, r->sheet_name);
}

/* Columns somebody does without. */
static void leave_out(struct tb_table_layout *l, uint64_t without)
{
    for (size_t i = 0; without && i < l->n; i++) {
        struct tb_source_column *c = &l->column[i];

        if (!(without & (uint64_t)1 << c->field))
            continue;
        l->of[c->field] = NULL;
        l->made_of_n[c->field] = 0;
        c->field = TB_FIELD_IGNORE;
    }
}

/* What was said of the columns is taken back when it turns out not to be a table. */
static tb_rc begin_table(struct tb_list_reader *r, const struct tb_row *second, struct tb_err *err)
{
    size_t columns = r->list->columns, says = r->list->says, questions = r->list->question_count;
    struct tb_table_layout *l;
    tb_rc rc;

    if (r->layouts == TABLES_MOST)
        return tb_fail(err, TB_EINVAL, "the file has more than %d tables", TABLES_MOST);
    l = tb_new(struct tb_table_layout);
    l->sheet = r->sheet.number;
    l->sheet_name = r->sheet_name;
    l->line = r->held.line;
    l->sides = r->beside != NULL;
    l->cells = second && second->n > r->held.n ? second->n : r->held.n;
    l->last_line = second ? second->line : l->line;
    rc = tb_header_map(l, r->words, &r->shown, r->list, second, &r->held, err);
    tb_header_keep(l, r->list->store, &r->held, second);
    leave_out(l, r->opts->without);
    if (rc == TB_OK && !(l->of[TB_FIELD_LENGTH] &&
                         (l->of[TB_FIELD_BOLT] || (r->opts->without & (uint64_t)1 << TB_FIELD_BOLT)))) {
        /* a summary, or labels of the title: not a table of bolts, unless nothing better comes */
        r->list->columns = columns;
        r->list->says = says;
        tb_list_unask(r->list, questions);
        keep_partial(r, l);
        r->other_table = r->sheet.number;
    } else {
        TB_PUSH_ROOM(r->layout, r->layouts, r->layout_cap);
        r->layout[r->layouts++] = l;
        r->now = l;
    }
    tb_texts_free(&r->held);
    return rc == TB_OK && r->now == l && r->sheet.hidden ? refuse_hidden(r, err) : rc;
}

/* "Data 17/09/2026": a title; a header has at most a figure or two ("g/m2"). */
static bool holds_number(const struct tb_row *row)
{
    for (size_t i = 0; i < row->n; i++) {
        size_t digits = 0;

        for (const char *c = row->cell[i].text; *c; c++)
            digits += *c >= '0' && *c <= '9';
        if (digits >= 3)
            return true;
    }
    return false;
}

/* For the refusal: if no header is found, this is the row a person would have called one. */
static void remember_best(struct tb_list_reader *r, const struct tb_header_look *k, const struct tb_row *row)
{
    /* of tables side by side, two columns each, one word is enough */
    size_t least = r->beside ? 1 : 2;

    if (k->figures || holds_number(row) || k->cells < 2 || (k->cells == 2 && k->known < least) ||
        (r->best.n && k->known <= r->best.known))
        return;
    tb_texts_take(&r->best, row);
    r->profile = (struct tb_profile){ 0 };
    r->best.known = k->known;
    r->best.sheet = r->sheet.number;
}

/* A row that may be a header: hold it until the row after it is seen. True: it was one. */
static bool try_header(struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_header_look k;

    if (tb_row_pairs(r->words, row))
        return false;
    tb_header_look_at(&k, r->words, row);
    if (r->now == NULL)
        remember_best(r, &k, row);
    if (!tb_header_is(&k)) {
        if (!r->now && tb_header_may_be_upper(&k, row)) {
            tb_texts_take(&r->held, row);
            r->held_upper = true;
        }
        return false;
    }
    if (r->now && tb_header_same(r->now, r->words, row))
        return true; /* one more page, not a new table */
    tb_texts_take(&r->held, row);
    r->held_upper = false;
    return true;
}

/* "Piece" over "No." and "Length m": neither row alone is the header. True: the row is the lower half of the one that is held. */
static bool completes_header(struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_header_look k;

    tb_header_look_at(&k, r->words, row);
    if ((k.bolt || k.length) && tb_header_second(r->words, row))
        return true;
    tb_texts_free(&r->held);
    return false;
}

/* A second header stands where lengths were, and is words. */
static bool length_is_words(const struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_source_column *c = r->now->of[TB_FIELD_LENGTH], *b = r->now->of[TB_FIELD_BOLT];
    const struct tb_cell *cell = tb_cell_at(row, c);
    struct tb_figure f;

    if (cell && cell->type == TB_CELL_TEXT)
        return !(cell->text[0] >= '0' && cell->text[0] <= '9') && !tb_figure_scan(&f, cell->text);
    if (!b)
        return !tb_cell_filled(row, c);
    /* a second table with other columns: neither length nor bolt stands where it stood */
    return !tb_cell_filled(row, c) && !tb_cell_filled(row, b);
}

/* "1 2 3 4" beside words are the numbers of columns. */
static bool numbers_columns(const struct tb_row *row)
{
    unsigned long next = 1;

    for (size_t i = 0; i < row->n; i++)
        if (row->cell[i].type != TB_CELL_EMPTY && row->cell[i].text[0] >= '0' &&
            row->cell[i].text[0] <= '9') {
            char *end;

            if (strtoul(row->cell[i].text, &end, 10) != next++ || *end)
                return false;
        }
    return next > 3;
}

/* Where no header is found, its columns are proposed by what stands in all rows with a figure. */
static void learn_whole(struct tb_list_reader *r, const struct tb_row *row, bool titled)
{
    size_t figures = 0;

    for (size_t i = 0; i < row->n; i++)
        figures +=
            row->cell[i].type == TB_CELL_NUMBER ||
            (row->cell[i].type == TB_CELL_TEXT && row->cell[i].text[0] >= '0' && row->cell[i].text[0] <= '9');
    if (tb_row_pairs(r->words, row))
        return;
    if (!figures || numbers_columns(row))
        tb_profile_word(&r->whole, r->words, row);
    else if (!tb_row_alone(row) && !tb_row_says_total(r, row) && !(titled && figures < 2))
        tb_profile_learn(&r->whole, row);
}

/* The head of a mail has labels and addresses, and a greeting ends in a comma: neither is the name of a firm. */
static bool may_name_firm(const char *text)
{
    size_t n = strlen(text);

    return n && n <= 80 && text[n - 1] != ',' && !strchr(text, '@') && !tb_colon_in(text, NULL);
}

/* The first words alone in a row are mostly the name of the firm; rows below the likeliest header show its columns. */
static void learn_loose(struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_cell *cell = row->cell;

    if (tb_row_alone(row)) {
        while (cell->type == TB_CELL_EMPTY)
            cell++;
        if (!r->name_like && cell->type == TB_CELL_TEXT && may_name_firm(cell->text))
            r->name_like = tb_store_text(r->list->store, cell->text);
    } else if (r->best.n && r->best.sheet == r->sheet.number && row->line > r->best.line &&
               !(row->cell[0].type == TB_CELL_EMPTY && numbers_columns(row)) && !tb_row_says_total(r, row)) {
        tb_profile_learn(&r->profile, row);
    }
}

/* Columns that were given: the table begins with its first bolt. */
static tb_rc learn_given(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err)
{
    struct tb_table_layout *l = r->now ? NULL : tb_given_begin(r, row);

    if (l && r->sheet.hidden) {
        free(l);
        return refuse_hidden(r, err);
    }
    if (l) {
        leave_out(l, r->opts->without);
        TB_PUSH_ROOM(r->layout, r->layouts, r->layout_cap);
        r->now = r->layout[r->layouts++] = l;
    }
    if (r->now)
        tb_learn_body(r, row);
    else {
        const char *before = r->title.value[TB_FIELD_COMPOSITION];

        tb_learn_loose_article(r, row);
        tb_learn_unread(r, row);
        if (tb_heads_take(&r->title, r->words, r->list->store, row) == 0)
            learn_loose(r, row);
        if (r->title.value[TB_FIELD_COMPOSITION] == before)
            tb_learn_loose(r, row);
        tb_learn_title_day(r, row);
    }
    if (!r->now && r->title.value[TB_FIELD_DAY])
        tb_learn_day(r, r->title.value[TB_FIELD_DAY], row->line);
    return TB_OK;
}

/* Words side by side, without figures and without labels: the header of another table, as an invoice beside a packing list has. */
static bool heads_another(const struct tb_row *row, const struct tb_table_layout *before)
{
    size_t words = 0, columns = 0;

    for (size_t i = 0; i < row->n; i++) {
        if (row->cell[i].type == TB_CELL_EMPTY)
            continue;
        if (row->cell[i].type != TB_CELL_TEXT ||
            (i < TB_COLUMNS_MOST && isdigit((unsigned char)row->cell[i].text[0])) ||
            tb_colon_in(row->cell[i].text, NULL))
            return false;
        words++;
    }
    for (size_t i = 0; i < before->n; i++)
        columns += before->content[before->column[i].index].filled > 0;
    return words >= 2 && words * 2 >= columns;
}

/* A row of bolts on a sheet without header that is built like those of the sheet before goes on with its table. */
static tb_rc go_on(struct tb_list_reader *r, const struct tb_row *row, bool *is, struct tb_err *err)
{
    const struct tb_table_layout *before = r->layouts ? r->layout[r->layouts - 1] : NULL;
    struct tb_table_layout *l;

    if (before && before->sheet != r->sheet.number && heads_another(row, before))
        r->other_table = r->sheet.number;
    *is = before && before->sheet != r->sheet.number && r->other_table != r->sheet.number &&
          tb_row_continues(before, row) && !tb_row_says_total(r, row);
    if (!*is)
        return TB_OK;
    if (r->sheet.hidden)
        return refuse_hidden(r, err);
    l = tb_new(struct tb_table_layout);
    *l = *before;
    for (int f = 0; f < TB_FIELDS; f++)
        l->of[f] = before->of[f] ? &l->column[before->of[f] - before->column] : NULL;
    for (size_t i = 0; i < l->n; i++)
        l->column[i].typed_number = l->column[i].typed_day = 0;
    l->sheet = r->sheet.number;
    l->sheet_name = r->sheet_name;
    l->line = l->last_line = row->line;
    l->given = true;
    tb_list_say(r->list, "the sheet '%s' has no header; it is read by the columns of the table before it",
                r->sheet_name);
    TB_PUSH_ROOM(r->layout, r->layouts, r->layout_cap);
    r->now = r->layout[r->layouts++] = l;
    return TB_OK;
}

/* A header is held until the next row is seen, which may be its second half. */
tb_rc tb_learn_row(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err)
{
    const char *before;
    tb_rc rc;

    if (r->given.n)
        return learn_given(r, row, err);
    if (r->held.n && (!r->held_upper || completes_header(r, row))) {
        bool second = tb_header_second(r->words, row) || tb_header_below_merged(&r->held, row);

        size_t tables = r->layouts;

        rc = begin_table(r, second ? row : NULL, err);
        if (rc != TB_OK || (second && r->layouts > tables))
            return rc;
    }
    if (!r->now) {
        bool is, titled;

        if (try_header(r, row))
            return TB_OK;
        if ((rc = go_on(r, row, &is, err)) != TB_OK)
            return rc;
        if (is) {
            tb_learn_body(r, row);
            return TB_OK;
        }
        tb_learn_named(r, row);
        tb_learn_other_unit(r, row);
        tb_learn_loose_article(r, row);
        tb_learn_unread(r, row);
        before = r->title.value[TB_FIELD_COMPOSITION];
        titled = tb_heads_take(&r->title, r->words, r->list->store, row) > 0;
        learn_whole(r, row, titled);
        if (!titled)
            learn_loose(r, row);
        if (r->title.value[TB_FIELD_COMPOSITION] == before)
            tb_learn_loose(r, row);
        tb_learn_title_day(r, row);
        if (r->title.value[TB_FIELD_DAY])
            tb_learn_day(r, r->title.value[TB_FIELD_DAY], row->line);
        return TB_OK;
    }
    if (length_is_words(r, row) && try_header(r, row))
        return TB_OK;
    tb_learn_body(r, row);
    return TB_OK;
}

tb_rc tb_learn_sheet_end(struct tb_list_reader *r, struct tb_err *err)
{
    tb_rc rc = r->held.n && !r->held_upper ? begin_table(r, NULL, err) : TB_OK;

    tb_texts_free(&r->held);

    r->any_article = r->any_article || r->title.value[TB_FIELD_ARTICLE];
    r->any_composition = r->any_composition || r->title.value[TB_FIELD_COMPOSITION];
    tb_learn_said(r, &r->title);
    return rc;
}
