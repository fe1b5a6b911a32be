/* refcheck_read.c - the reference tables, looked up by name, and complaints about their rows. */
#include "gen/refcheck.h"

#include "tenterbook/base.h"

#include <stdarg.h>
#include <string.h>

static struct ref_table table[100];
static size_t tables, wrongs;

static struct ref_table *find(const char *name)
{
    for (size_t i = 0; i < tables; i++)
        if (strcmp(table[i].name, name) == 0)
            return &table[i];
    return NULL;
}

void ref_read(const char *dir, const char *file_name)
{
    char *name = tb_strndup(file_name, strlen(file_name) - strlen(".csv"));
    char *path = joined(joined(joined(NULL, dir), "/"), file_name);
    const struct csv_rows all = read_csv(path);
    struct ref_table *t = find(name);

    if (!t) {
        if (tables == TB_COUNT(table))
            stop(all.row[0].at, "more tables than this program can hold");
        t = &table[tables++];
        *t = (struct ref_table){ .name = name, .column = all.row[0].cell, .columns = all.row[0].n };
    }
    t->row = grown(t->row, t->rows + all.n - 1, sizeof *t->row);
    memcpy(t->row + t->rows, all.row + 1, (all.n - 1) * sizeof *t->row);
    t->rows += all.n - 1;
}

const struct ref_table *ref_table(const char *name)
{
    const struct ref_table *t = find(name);

    if (!t)
        stop((struct place){ .file = name }, "there is no such table");
    return t;
}

const char *ref_cell(const struct ref_table *t, const struct csv_row *r, const char *column)
{
    size_t n = strlen(column);

    for (size_t i = 0; i < t->columns; i++)
        if (strncmp(t->column[i], column, n) == 0 && strchr(":", t->column[i][n]))
            return r->cell[i];
    stop((struct place){ .file = t->name }, "there is no column '%s'", column);
}

void ref_wrong(const struct csv_row *r, const char *fmt, ...)
{
    struct tb_text t = { 0 };
    va_list ap;

    va_start(ap, fmt);
    tb_text_vaddf(&t, fmt, ap);
    va_end(ap);
    (void)fprintf(stderr, "refcheck: %s row %d (%s): %s\n", r->at.file, r->at.line, r->cell[0], t.s);
    tb_text_free(&t);
    wrongs++;
}

size_t ref_wrongs(void)
{
    return wrongs;
}
