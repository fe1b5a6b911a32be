/* sheet_named.c - tables that name their columns in the first row, read whole. */
#include "base/infile.h"
#include "tenterbook/sheet.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct reading {
    const struct tb_named_column *column;
    size_t columns;
    bool others, headed;
    size_t *at; /* which cell of a row each wanted column is; SIZE_MAX: it is not there */
    struct tb_named_row *row;
    size_t n, cap;
    struct tb_arena *mem;
};

static void name_columns(struct tb_text *t, const struct reading *r, bool only_musts)
{
    for (size_t c = 0; c < r->columns; c++)
        if (!only_musts || r->column[c].must)
            tb_text_addf(t, "%s%s", t->n ? ", " : "", r->column[c].name);
}

/* The columns that must be there but are not make the table one that was meant for something else. */
static tb_rc check_musts(const struct reading *r, size_t line, struct tb_err *err)
{
    struct tb_text all = { 0 }, musts = { 0 };
    tb_rc rc = TB_OK;

    for (size_t c = 0; c < r->columns && rc == TB_OK; c++)
        if (r->column[c].must && r->at[c] == SIZE_MAX) {
            name_columns(&all, r, false);
            name_columns(&musts, r, true);
            rc = tb_fail(err, TB_EINVAL, "line %zu: the columns %s must be there; it may have %s", line,
                         tb_text_str(&musts), tb_text_str(&all));
        }
    tb_text_free(&all);
    tb_text_free(&musts);
    return rc;
}

static tb_rc read_heading(struct reading *r, const struct tb_row *row, struct tb_err *err)
{
    struct tb_text all = { 0 };
    tb_rc rc = TB_OK;

    r->headed = true;
    r->at = tb_array(size_t, r->columns);
    for (size_t c = 0; c < r->columns; c++)
        r->at[c] = SIZE_MAX;
    for (size_t i = 0; i < row->n && rc == TB_OK; i++) {
        size_t c = 0;

        while (c < r->columns && strcasecmp(row->cell[i].text, r->column[c].name) != 0)
            c++;
        if (c < r->columns) {
            r->at[c] = i;
        } else if (!r->others) {
            name_columns(&all, r, false);
            rc = tb_fail(err, TB_EINVAL, "line %zu: there is no column '%s'; the columns are %s", row->line,
                         row->cell[i].text, tb_text_str(&all));
        }
    }
    tb_text_free(&all);
    return rc == TB_OK ? check_musts(r, row->line, err) : rc;
}

static tb_rc take_row(void *arg, const struct tb_row *row, struct tb_err *err)
{
    struct reading *r = arg;
    struct tb_named_row *to;

    if (!r->headed)
        return read_heading(r, row, err);
    TB_PUSH_ROOM(r->row, r->n, r->cap);
    to = &r->row[r->n++];
    *to = (struct tb_named_row){ row->line, tb_arena_alloc(r->mem, r->columns * sizeof *to->field) };
    for (size_t c = 0; c < r->columns; c++)
        to->field[c] = r->at[c] < row->n ? tb_arena_strdup(r->mem, row->cell[r->at[c]].text) : "";
    return TB_OK;
}

/* A table is looked at twice, for its encoding and for its rows: what comes through a pipe is put into a file first. */
static tb_rc read_from(struct reading *r, const char *path, struct tb_err *err)
{
    const struct tb_sheet_sink sink = { .row = take_row, .arg = r };
    char spooled[32];
    FILE *file;
    tb_rc rc;

    if (strcmp(path, "-") != 0)
        return tb_sheet_read(path, &sink, err);
    if ((rc = tb_in_standard(&file, TB_SHEET_FILE_MOST, err)) != TB_OK)
        return rc;
    (void)snprintf(spooled, sizeof spooled, "/proc/self/fd/%d", fileno(file));
    rc = tb_sheet_read(spooled, &sink, err);
    (void)fclose(file);
    return rc;
}

static tb_rc read_rows(struct tb_named_row **out, size_t *n, struct reading *r, const char *path,
                       const char *name, struct tb_err *err)
{
    tb_rc rc = read_from(r, path, err);

    if (rc == TB_OK && !r->headed)
        rc = tb_fail(err, TB_EINVAL, "there is nothing in it");
    if (rc == TB_OK) {
        *out = tb_arena_alloc(r->mem, (r->n + 1) * sizeof **out);
        if (r->n)
            memcpy(*out, r->row, r->n * sizeof **out);
        *n = r->n;
    }
    free(r->at);
    free(r->row);
    return rc == TB_OK ? TB_OK : tb_within(err, rc, "%s", name);
}

tb_rc tb_named_rows_read(struct tb_named_row **out, size_t *n, const char *path,
                         const struct tb_named_column *column, size_t columns, bool others,
                         struct tb_arena *mem, struct tb_err *err)
{
    struct reading r = { .column = column, .columns = columns, .others = others, .mem = mem };

    return read_rows(out, n, &r, path, strcmp(path, "-") == 0 ? "standard input" : path, err);
}

tb_rc tb_named_rows_sent(struct tb_named_row **out, size_t *n, const struct tb_sent *sent,
                         const struct tb_named_column *column, size_t columns, bool others,
                         struct tb_arena *mem, struct tb_err *err)
{
    struct reading r = { .column = column, .columns = columns, .others = others, .mem = mem };
    struct tb_sent_file file = { 0 };
    tb_rc rc = tb_sent_file_open(&file, sent, err);

    if (rc == TB_OK)
        rc = read_rows(out, n, &r, file.path, sent->name, err);
    tb_sent_file_close(&file);
    return rc;
}
