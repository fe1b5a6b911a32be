/*
 * ragged.c - a row of a CSV file with more cells than its header, or fewer: an unquoted comma, or a cell that is missing, moves what
 * follows into the columns beside it.
 */
#include "intake/rows.h"

#include <string.h>

/* A unit behind the last figure moves nothing. */
static bool is_more(const struct tb_table_layout *l, const struct tb_row *row)
{
    for (size_t i = l->cells; i < row->n; i++)
        if (row->cell[i].type != TB_CELL_EMPTY && !tb_header_is_unit(row->cell[i].text) &&
            !(i < TB_COLUMNS_MOST && l->beyond & (uint64_t)1 << i))
            return true;
    return false;
}

/* Cells at the end may be left away where they are empty: the bolts of the table show whether they mostly are. */
static bool is_less(const struct tb_table_layout *l, const struct tb_row *row)
{
    for (size_t i = row->n; i < l->cells && i < TB_COLUMNS_MOST; i++)
        if (l->content[i].filled * 2 >= l->habit.rows && l->content[i].filled)
            return true;
    return false;
}

bool tb_refuse_ragged(struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_table_layout *l = r->now;

    if (r->sheet.kind != TB_SHEET_CSV || r->sheet.delimiter == ' ' || r->beside || l->given || !l->cells)
        return false;
    if (is_more(l, row))
        tb_row_bad(
            r, row, NULL,
            "this row has %zu cells, and the header has %zu; quote a cell whole that holds the sign between "
            "cells, as a decimal comma may be, or write a header over each cell",
            row->n, l->cells);
    else if (is_less(l, row))
        tb_row_bad(r, row, NULL,
                   "this row has %zu cells, and the header has %zu; those that it lacks are filled in other "
                   "rows, so "
                   "a cell before them may be missing: write an empty one too",
                   row->n, l->cells);
    else
        return false;
    return true;
}
