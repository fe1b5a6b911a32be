/* unroll.c - lists whose columns somebody gave: where their rows begin, and lengths side by side made one a row. */
#include "intake/rows.h"

#include "tenterbook/utf8.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static tb_rc hand_on(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err)
{
    return r->second_pass ? tb_take_row(r, row, err) : tb_learn_row(r, row, err);
}

/* "1 2 3 4" above the lengths numbers the columns. */
static bool numbers_columns(const struct tb_row *row, size_t from, size_t to)
{
    size_t n = 0;

    for (size_t i = from; i < to; i++)
        if (row->cell[i].type != TB_CELL_EMPTY && strtoul(row->cell[i].text, NULL, 10) != ++n)
            return false;
    return n > 2;
}

/* The row with one of its lengths; what stands behind them moves up. */
static tb_rc hand_length(struct tb_list_reader *r, const struct tb_row *row, size_t at, size_t end,
                         struct tb_err *err)
{
    const struct tb_given *g = &r->given;
    struct tb_cell cell[TB_COLUMNS_MOST];
    struct tb_row one = { row->line, cell, 0, row->look };

    for (size_t i = 0; i < g->n; i++) {
        size_t from = i < g->grid ? i : i == g->grid ? at : end + (i - g->grid - 1);

        cell[one.n++] =
            row->cell && from < row->n ? row->cell[from] : (struct tb_cell){ TB_CELL_EMPTY, "", 0 };
    }
    return hand_on(r, &one, err);
}

/* A row with words among its lengths is one row: a total, a heading, the numbers of the columns. */
static tb_rc hand_words(struct tb_list_reader *r, const struct tb_row *row, size_t to, size_t end,
                        struct tb_err *err)
{
    size_t last = r->given.grid;

    for (size_t i = r->given.grid; i < to; i++)
        if (row->cell[i].type != TB_CELL_EMPTY)
            last = i;
    return hand_length(r, row, last, end, err);
}

/* The cell with what the lengths of a row add up to; NULL: there is none, or it is empty. */
static const struct tb_cell *total_cell(const struct tb_given *g, const struct tb_row *row, size_t end)
{
    size_t at = end + (g->total - g->grid - 1);

    return g->total && at < row->n && tb_cell_is_length(&row->cell[at]) ? &row->cell[at] : NULL;
}

/* A row whose lengths do not add up to its total has a wrong length or a wrong total: nobody knows which. */
static void hold_to_total(struct tb_list_reader *r, const struct tb_row *row, size_t to,
                          const struct tb_cell *total)
{
    double sum = 0, stated = tb_length_metres(r, row, total);
    size_t n = 0;

    for (size_t i = r->given.grid; i < to; i++)
        if (row->cell[i].type != TB_CELL_EMPTY) {
            sum += tb_length_metres(r, row, &row->cell[i]);
            n++;
        }
    if (fabs(sum - stated) <= 0.005 * (double)n + 0.011) {
        r->list->totals++;
        return;
    }
    tb_row_bad(r, row, NULL, "its lengths add up to %.2f m, and its total says %.2f m", sum, stated);
}

/* Below the rows: what all of them add up to, never a bolt. */
static tb_rc grand_total(struct tb_list_reader *r, const struct tb_row *row, const struct tb_cell *total)
{
    double metres;

    if (!r->second_pass || !r->now)
        return TB_OK;
    metres = tb_length_metres(r, row, total);
    if (tb_sum_of(r->rows, metres, 0).bolts)
        r->list->totals++;
    else {
        r->list->totals_off++;
        tb_list_say(r->list,
                    "line %zu: the total says %.2f m, the %zu bolts above it add up to %.2f m: a difference "
                    "of %+.2f m",
                    row->line, metres, r->rows->sheet.bolts, r->rows->sheet.metres,
                    metres - r->rows->sheet.metres);
    }
    tb_sum_close(r->rows);
    return TB_OK;
}

bool tb_row_says_total(const struct tb_list_reader *r, const struct tb_row *row)
{
    for (size_t i = 0; i < row->n; i++)
        if (row->cell[i].type == TB_CELL_TEXT &&
            tb_header_word_total(r->words, row->cell[i].text) != TB_TOTAL_NOT)
            return true;
    return false;
}

static tb_rc unroll(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err)
{
    const struct tb_given *g = &r->given;
    size_t end = g->lengths == SIZE_MAX ? row->n : g->grid + g->lengths, to = end < row->n ? end : row->n;
    size_t lengths = 0, others = 0;
    const struct tb_cell *total;
    tb_rc rc = TB_OK;

    for (size_t i = g->grid; i < to; i++) {
        lengths += tb_cell_is_length(&row->cell[i]);
        others += row->cell[i].type != TB_CELL_EMPTY && !tb_cell_is_length(&row->cell[i]);
    }
    if (r->now ? tb_row_heads(r, row) : tb_row_pairs(r->words, row))
        return hand_on(r, row, err);
    if (lengths && !others && !r->now && numbers_columns(row, g->grid, to))
        return TB_OK;
    total = total_cell(g, row, end);
    if (total && (!lengths || others || tb_row_says_total(r, row)))
        return grand_total(r, row, total);
    if (!r->now && (!lengths || others) && !tb_cell_is_length(g->grid < row->n ? &row->cell[g->grid] : NULL))
        return hand_on(r, row, err); /* the title keeps all its cells */
    if (!lengths || others || tb_row_says_total(r, row))
        return hand_words(r, row, to, end, err);
    if (r->second_pass && r->rows)
        tb_sum_mark(r->rows); /* the last may be the sum of its row */
    for (size_t i = g->grid; i < to && rc == TB_OK; i++)
        if (row->cell[i].type != TB_CELL_EMPTY)
            rc = hand_length(r, row, i, end, err);
    if (rc == TB_OK && total && r->second_pass && r->now)
        hold_to_total(r, row, to, total);
    return rc;
}

tb_rc tb_given_row(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err)
{
    if (!r->second_pass && (!r->now || tb_row_says_total(r, row)))
        tb_learn_named(r, row);
    return r->given.lengths ? unroll(r, row, err) : hand_on(r, row, err);
}

/* Is it the first bolt? What stands above it is the title. */
static bool begins(const struct tb_list_reader *r, const struct tb_row *row)
{
    size_t length = 0, bolt = SIZE_MAX;

    for (size_t i = 0; i < r->given.n; i++) {
        length = r->given.field[i] == TB_FIELD_LENGTH ? i : length;
        bolt = r->given.field[i] == TB_FIELD_BOLT ? i : bolt;
    }
    return !tb_row_pairs(r->words, row) && length < row->n && tb_cell_is_length(&row->cell[length]) &&
           (bolt == SIZE_MAX || tb_row_filled(row, bolt)) && !tb_row_says_total(r, row);
}

struct tb_table_layout *tb_given_begin(struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_table_layout *l;

    if (!begins(r, row))
        return NULL;
    l = tb_new(struct tb_table_layout);
    l->sheet = r->sheet.number;
    l->sheet_name = r->sheet_name;
    l->line = l->last_line = row->line;
    l->given = true;
    tb_given_layout(l, &r->given, r->list);
    return l;
}

/* A supplier whose lists are known to have no header; the name stands in the title, or was said. */
tb_rc tb_given_kept(struct tb_list_reader *r, struct tb_err *err)
{
    const char *name = r->opts->supplier ? r->opts->supplier : r->title.value[TB_FIELD_SUPPLIER];
    tb_rc rc = TB_OK;

    if (!name)
        name = r->name_like;
    for (size_t i = 0; name && i < r->opts->kepts && rc == TB_OK && !r->given.n; i++) {
        const struct tb_columns_of *kept = &r->opts->kept[i];

        if (!tb_fold_same(kept->supplier, name))
            continue;
        if ((rc = tb_given_read(&r->given, kept->columns, err)) != TB_OK)
            return tb_within(err, rc, "setting columns:%s", kept->supplier);
        tb_list_say(r->list, "the file has no header; its columns are taken as those of '%s' are kept: %s",
                    name, kept->columns);
    }
    return rc;
}
