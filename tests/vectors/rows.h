/*
 * rows.h - a small table of published texts for a test: CSV with a header row, every cell text.
 * Ends the test program when the file is not there, is broken, or has rows of different lengths.
 */
#ifndef TENTERBOOK_TESTS_ROWS_H
#define TENTERBOOK_TESTS_ROWS_H

#include <csv.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define ROWS_COLUMNS 8

struct rows {
    char *(*row)[ROWS_COLUMNS];
    size_t n, columns, column;
};

static inline void rows_cell(void *data, size_t n, void *ctx)
{
    struct rows *t = ctx;

    if (t->column == 0) {
        t->row = realloc(t->row, (t->n + 1) * sizeof *t->row);
        if (!t->row)
            abort();
        memset(t->row[t->n++], 0, sizeof *t->row);
    }
    if (t->column == ROWS_COLUMNS)
        abort();
    t->row[t->n - 1][t->column++] = strndup(data ? data : "", n);
}

static inline void rows_end(int c, void *ctx)
{
    struct rows *t = ctx;

    (void)c;
    if (t->n == 1)
        t->columns = t->column;
    if (t->column != t->columns)
        abort();
    t->column = 0;
}

/* Row 0 is the header. */
static inline struct rows rows_read(const char *name)
{
    struct rows t = { 0 };
    struct csv_parser p;
    char path[1024], buffer[65536];
    size_t n;
    FILE *f;

    (void)snprintf(path, sizeof path, "%s/tests/vectors/%s", TB_SOURCE_DIR, name);
    f = fopen(path, "rb");
    if (!f || csv_init(&p, CSV_STRICT | CSV_STRICT_FINI) != 0)
        abort();
    while ((n = fread(buffer, 1, sizeof buffer, f)) > 0)
        if (csv_parse(&p, buffer, n, rows_cell, rows_end, &t) != n)
            abort();
    if (csv_fini(&p, rows_cell, rows_end, &t) != 0)
        abort();
    csv_free(&p);
    (void)fclose(f);
    return t;
}

static inline void rows_free(struct rows *t)
{
    for (size_t i = 0; i < t->n; i++)
        for (size_t k = 0; k < ROWS_COLUMNS; k++)
            free(t->row[i][k]);
    free(t->row);
    *t = (struct rows){ 0 };
}

#endif
