/* placed.c - cells that nothing was made of: under no header, or figures beside no bolt that may be a total. No cell is lost without a word. */
#include "intake/rows.h"

#include <string.h>

#define SAID_MOST 8

/* Columns without a header that most rows fill are named by nothing else, nor are figures in a column that is hardly used. */
static bool is_told(const struct tb_table_layout *l, size_t i, const struct tb_cell *cell)
{
    const char *header = l->given ? NULL : l->head[1][i] ? l->head[1][i] : l->head[0][i];
    bool most = l->content[i].filled * 2 >= l->habit.rows;

    if (l->meant[i] || tb_header_is_unit(cell->text))
        return true;
    if (header && *header && most)
        return true;
    return !l->given && !most && cell->type == TB_CELL_TEXT && tb_has_letter(cell->text, strlen(cell->text));
}

void tb_keep_unplaced(struct tb_list_reader *r, const struct tb_row *row)
{
    for (size_t i = 0; i < row->n && i < TB_COLUMNS_MOST; i++) {
        const struct tb_cell *cell = &row->cell[i];
        struct tb_unplaced *u = &r->unplaced[i];

        if (cell->type == TB_CELL_EMPTY || is_told(r->now, i, cell))
            continue;
        if (!u->cells++) {
            u->line = row->line;
            u->text = tb_store_brief(r->list->store, cell->text);
        }
    }
}

void tb_say_unplaced(struct tb_list_reader *r)
{
    size_t said = 0;

    for (size_t i = 0; i < TB_COLUMNS_MOST && said < SAID_MOST; i++) {
        const struct tb_unplaced *u = &r->unplaced[i];
        char letters[8];

        if (!u->cells)
            continue;
        tb_column_letters(letters, i);
        tb_list_say(r->list,
                    u->cells == 1
                        ? "not read: %zu cell of column %s, which has no field ('%s' on line %zu)"
                        : "not read: %zu cells of column %s, which has no field (the first '%s' on line %zu)",
                    u->cells, letters, u->text, u->line);
        said++;
    }
}

/* A figure that a column of its own explains, as a width, is no length. */
static bool may_be_length(const struct tb_list_reader *r, const struct tb_row *row, size_t i)
{
    enum tb_field f = i < TB_COLUMNS_MOST ? (enum tb_field)r->now->meant[i] : TB_FIELD_NONE;
    const struct tb_cell *cell = &row->cell[i];

    return cell->type != TB_CELL_EMPTY && cell->type != TB_CELL_DAY && tb_cell_is_length(cell) &&
           (f <= TB_FIELD_LENGTH || f == TB_FIELD_COMPOSITION || f >= TB_FIELD_PACKAGE);
}

/* The same of a total: sums of weights stand under weights. */
static bool may_be_total(const struct tb_list_reader *r, const struct tb_row *row, size_t i)
{
    return may_be_length(r, row, i) && (i >= TB_COLUMNS_MOST || r->now->meant[i] < TB_FIELD_PACKAGE ||
                                        r->now->meant[i] == TB_FIELD_IGNORE);
}

/* Words beside it may be anybody's: a figure alone, or under a word for a total, is a total. */
static bool is_about_totals(const struct tb_list_reader *r, const struct tb_row *row)
{
    for (size_t i = 0; i < row->n; i++) {
        const struct tb_cell *cell = &row->cell[i];

        if (cell->type == TB_CELL_TEXT && !tb_cell_is_length(cell) && !tb_header_is_unit(cell->text) &&
            tb_header_word_total(r->words, cell->text) == TB_TOTAL_NOT)
            return false;
    }
    return true;
}

/* Between the bolts, or as full as half of one. */
static bool is_about_goods(const struct tb_list_reader *r, const struct tb_row *row)
{
    size_t filled = tb_row_cells(row);

    return filled >= 2 && (row->line <= r->now->last_length || filled * 2 >= r->now->n);
}

static void ask_figure(struct tb_list_reader *r, const struct tb_row *row, const struct tb_cell *figure,
                       bool total)
{
    const char *at = tb_row_place(r, row), *said = tb_store_brief(r->list->store, figure->text);
    struct tb_question *q;

    if (total)
        q = tb_list_ask(
            r->list, row->line,
            "line %zu: '%s' may be a total, and stands under no length; the bolts above add up to "
            "%.2f %s. Say --total-line %s if it is none of theirs",
            row->line, said, r->rows->sheet.metres, tb_length_unit_key(r), at);
    else
        q = tb_list_ask(
            r->list, row->line,
            "line %zu: '%s' stands in a row without a bolt number and a length; the row of a bolt may be "
            "divided there, or its cells have moved. Mend the file, or say --total-line %s if nothing of "
            "it is a bolt",
            row->line, said, at);
    tb_list_answer(r->list, q, "total-line", at);
    if (q)
        q->open = true;
}

bool tb_hold_figures(struct tb_list_reader *r, const struct tb_row *row)
{
    bool total = is_about_totals(r, row);
    const struct tb_cell *other = NULL;

    if (!r->rows->file.bolts || tb_said_total(r, row) || !(total || is_about_goods(r, row)))
        return false;
    for (size_t i = 0; i < row->n; i++) {
        const struct tb_cell *cell = &row->cell[i];
        bool decimal = strpbrk(cell->text, ".,") != NULL;
        double v;

        if (!total) {
            other = !other && decimal && may_be_length(r, row, i) ? cell : other;
            continue;
        }
        if (!may_be_total(r, row, i) || !((v = tb_length_metres(r, row, cell)) > 0))
            continue;
        if (tb_sum_of(r->rows, v, 0).bolts) {
            r->list->totals++;
            return true;
        }
        if ((decimal || v > r->rows->longest * 2) && !tb_sum_counts(r->rows, (size_t)v))
            other = cell;
    }
    if (other)
        ask_figure(r, row, other, total);
    return other != NULL;
}
