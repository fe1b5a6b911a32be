/* A table of masses from a file, row by row as text. */
#include "tenterbook/assay.h"
#include "tenterbook/sheet.h"

struct taking {
    struct tb_assay_row *row;
    size_t n, cap;
    struct tb_arena *mem;
};

static tb_rc take(void *arg, const struct tb_row *row, struct tb_err *err)
{
    struct taking *t = arg;
    const char **cell = tb_arena_alloc(t->mem, (row->n + 1) * sizeof *cell);

    (void)err;
    for (size_t i = 0; i < row->n; i++)
        cell[i] = tb_arena_strdup(t->mem, row->cell[i].text);
    TB_ARENA_ROOM(t->mem, t->row, t->n, t->cap);
    t->row[t->n++] = (struct tb_assay_row){ row->line, cell, row->n };
    return TB_OK;
}

tb_rc tb_assay_rows_read(struct tb_assay_row **out, size_t *n, const char *path, struct tb_arena *mem,
                         struct tb_err *err)
{
    struct taking t = { .mem = mem };
    struct tb_sheet_sink sink = { .row = take, .arg = &t };
    tb_rc rc = tb_sheet_read(path, &sink, err);

    *n = t.n;
    *out = t.row;
    return rc == TB_OK ? rc : tb_within(err, rc, "%s", path);
}
