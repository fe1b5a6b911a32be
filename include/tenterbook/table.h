/*
 * table.h - tables for a terminal: cells are added row by row, widths counted in columns of the terminal.
 */
#ifndef TENTERBOOK_TABLE_H
#define TENTERBOOK_TABLE_H

#include "tenterbook/base.h"

#include <stdio.h>

/* Columns of the terminal standard output goes to; 0 when it goes to a file or a program. */
size_t tb_screen_columns(void);

struct tb_table {
    struct tb_text *cell;
    size_t cells, cap, columns;
};
/* An empty table of so many columns. What it held before is not freed. */
void tb_table_begin(struct tb_table *t, size_t columns);
/* The same with a first row. */
void tb_table_head(struct tb_table *t, const char *const *head, size_t columns);
/* One more cell; breaks and control characters in it become blanks, since a cell is one line. */
void tb_table_cell(struct tb_table *t, const char *fmt, ...) TB_PRINTF(2, 3);
/* Several cells of text at once: tb_table_texts(&t, "a", "b"). */
#define tb_table_texts(t, ...)                                                                               \
    tb_table_add((t), (const char *const[]){ __VA_ARGS__ },                                                  \
                 sizeof((const char *const[]){ __VA_ARGS__ }) / sizeof(const char *))
/* What tb_table_texts calls: n cells. */
void tb_table_add(struct tb_table *t, const char *const *text, size_t n);
/*
 * tb_table_print - print it and free it.
 *
 *   align   a letter a column; 'r' sets it right, 'L' is shown whole
 *   widest  text of more columns is cut with an ellipsis
 *
 * On a terminal that is narrower than the table every row goes on in further lines.
 */
void tb_table_print(struct tb_table *t, FILE *out, const char *align, size_t widest);
/* For a table that is not printed. Twice does no harm, nor does a table all zero. */
void tb_table_drop(struct tb_table *t);

#endif
