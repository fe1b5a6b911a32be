/* A file of burns written down elsewhere, as rows of text. */
#include "tenterbook/act_bench.h"
#include "tenterbook/sheet.h"

#include <stdlib.h>
#include <string.h>

enum column { LOT, BOLT, PART, AT, SAW, NOT, LOOKED, FLAME, NOTE, COLUMNS };

static const char *const column_name[COLUMNS] = { "lot", "bolt",   "part",  "at",  "saw",
                                                  "not", "looked", "flame", "note" };

struct reading {
    struct tb_burn_row *row;
    size_t n, cap;
    int at[COLUMNS]; /* which cell of a row; -1 the column is not there */
    bool headed;
    struct tb_arena *mem;
};

static tb_rc read_heading(struct reading *f, const struct tb_row *row, struct tb_err *err)
{
    for (int c = 0; c < COLUMNS; c++)
        f->at[c] = -1;
    for (size_t i = 0; i < row->n; i++) {
        int c = 0;

        while (c < COLUMNS && strcmp(row->cell[i].text, column_name[c]) != 0)
            c++;
        if (c == COLUMNS)
            return tb_fail(
                err, TB_EINVAL,
                "line %zu: there is no column '%s'; columns are lot,bolt,part,at,saw,not,looked,flame,note",
                row->line, row->cell[i].text);
        f->at[c] = (int)i;
    }
    f->headed = true;
    if (f->at[BOLT] < 0 || f->at[SAW] < 0)
        return tb_fail(err, TB_EINVAL, "line %zu: the columns bolt and saw must be there", row->line);
    return TB_OK;
}

static const char *cell_of(const struct reading *f, const struct tb_row *row, enum column c)
{
    return f->at[c] >= 0 && (size_t)f->at[c] < row->n ? tb_arena_strdup(f->mem, row->cell[f->at[c]].text)
                                                      : "";
}

static tb_rc take_row(void *arg, const struct tb_row *row, struct tb_err *err)
{
    struct reading *f = arg;

    if (!f->headed)
        return read_heading(f, row, err);
    TB_PUSH_ROOM(f->row, f->n, f->cap);
    f->row[f->n++] = (struct tb_burn_row){ .line = row->line,
                                           .lot = cell_of(f, row, LOT),
                                           .bolt = cell_of(f, row, BOLT),
                                           .part = cell_of(f, row, PART),
                                           .at = cell_of(f, row, AT),
                                           .saw = cell_of(f, row, SAW),
                                           .not_seen = cell_of(f, row, NOT),
                                           .looked = cell_of(f, row, LOOKED),
                                           .flame = cell_of(f, row, FLAME),
                                           .note = cell_of(f, row, NOTE) };
    return TB_OK;
}

tb_rc tb_burn_rows_read(struct tb_burn_row **out, size_t *n, const char *path, struct tb_arena *mem,
                        struct tb_err *err)
{
    struct reading f = { .mem = mem };
    struct tb_sheet_sink sink = { .row = take_row, .arg = &f };
    tb_rc rc = tb_sheet_read(path, &sink, err);

    if (rc == TB_OK && f.n == 0)
        rc = tb_fail(err, TB_EINVAL, "there is no burn in it");
    if (rc == TB_OK) {
        *out = tb_arena_alloc(mem, f.n * sizeof **out);
        memcpy(*out, f.row, f.n * sizeof **out);
        *n = f.n;
    }
    free(f.row);
    return rc == TB_OK ? TB_OK : tb_within(err, rc, "%s", path);
}
