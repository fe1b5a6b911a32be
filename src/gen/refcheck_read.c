/* refcheck_read.c - the reference tables as text, each row with its place, so that a complaint can name it. */
#include "refcheck.h"

#include "tenterbook/base.h"

#include <csv.h>
#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct ref_table table[100];
static size_t tables, wrongs;

struct reading {
    struct ref_table *t;
    const char *file;
    size_t row, cell;
    bool more; /* a further file: its header is that of the first, which refgen has compared */
};

static void stop(const char *file, const char *what)
{
    (void)fprintf(stderr, "refcheck: %s: %s\n", file, what);
    exit(1);
}

static void on_cell(void *data, size_t len, void *arg)
{
    struct reading *at = arg;
    struct ref_table *t = at->t;
    char *text = tb_strndup(data ? data : "", len);

    if (at->cell == REF_COLUMNS_MOST)
        stop(at->file, "more columns than this program can hold");
    if (at->row == 0) {
        text[strcspn(text, ":")] = '\0';
        if (at->more)
            free(text);
        else
            t->column[t->columns++] = text;
    } else {
        if (at->cell == 0) {
            TB_PUSH_ROOM(t->row, t->rows, t->cap);
            t->row[t->rows++] = (struct ref_row){ .file = at->file, .number = at->row + 1 };
        }
        t->row[t->rows - 1].cell[at->cell] = text;
    }
    at->cell++;
}

static void on_row(int ch, void *arg)
{
    struct reading *at = arg;

    (void)ch;
    if (at->cell != at->t->columns)
        stop(at->file, "a row has not as many cells as the header");
    at->cell = 0;
    at->row++;
}

static struct ref_table *table_to_fill(const char *name, size_t n)
{
    for (size_t i = 0; i < tables; i++)
        if (strlen(table[i].name) == n && memcmp(table[i].name, name, n) == 0)
            return &table[i];
    if (tables == TB_COUNT(table))
        stop(name, "more tables than this program can hold");
    table[tables].name = tb_strndup(name, n);
    return &table[tables++];
}

void ref_read(const char *dir, const char *file_name)
{
    struct tb_text path = { 0 };
    struct reading at = { .t = table_to_fill(file_name, strlen(file_name) - strlen(".csv")) };
    struct csv_parser p;
    char buf[65536];
    size_t n;
    FILE *in;

    tb_text_addf(&path, "%s/%s", dir, file_name);
    at.file = tb_strdup(tb_text_str(&path));
    at.more = at.t->columns > 0;
    tb_text_free(&path);
    in = fopen(at.file, "rb");
    if (!in || csv_init(&p, CSV_STRICT | CSV_STRICT_FINI) != 0)
        stop(at.file, strerror(errno));
    while ((n = fread(buf, 1, sizeof buf, in)) > 0)
        if (csv_parse(&p, buf, n, on_cell, on_row, &at) != n)
            stop(at.file, csv_strerror(csv_error(&p)));
    if (csv_fini(&p, on_cell, on_row, &at) != 0)
        stop(at.file, csv_strerror(csv_error(&p)));
    csv_free(&p);
    (void)fclose(in);
}

const struct ref_table *ref_table(const char *name)
{
    for (size_t i = 0; i < tables; i++)
        if (strcmp(table[i].name, name) == 0)
            return &table[i];
    stop(name, "there is no such table");
    return NULL;
}

const char *ref_cell(const struct ref_table *t, const struct ref_row *r, const char *column)
{
    for (size_t i = 0; i < t->columns; i++)
        if (strcmp(t->column[i], column) == 0)
            return r->cell[i];
    stop(t->name, column);
    return NULL;
}

void ref_wrong(const struct ref_row *r, const char *fmt, ...)
{
    va_list ap;

    (void)fprintf(stderr, "refcheck: %s row %zu (%s): ", r->file, r->number, r->cell[0]);
    va_start(ap, fmt);
    (void)vfprintf(stderr, fmt, ap);
    va_end(ap);
    (void)fputc('\n', stderr);
    wrongs++;
}

size_t ref_wrongs(void)
{
    return wrongs;
}
