/* Suppliers' tallies out of a table: supplier, lots, wrong. */
#include "tenterbook/act_draw.h"

#include "tenterbook/sheet.h"

#include <stdlib.h>
#include <string.h>

#define LOTS_MOST 1000000L /* of one supplier; above it is a typing error */

struct reading {
    struct tb_arena *mem;
    struct tb_tally *tally;
    const char **name;
    size_t n, cap;
};

/* A whole number from 0 to LOTS_MOST, with nothing around it; -1: it is not one. */
static long count_of(const char *text)
{
    char *end;
    long v = strtol(text, &end, 10);

    return *text && !*end && v >= 0 && v <= LOTS_MOST ? v : -1;
}

static tb_rc take_row(void *arg, const struct tb_row *row, struct tb_err *err)
{
    struct reading *t = arg;
    struct tb_tally y;

    if (row->line == 1)
        return row->n >= 3 && strcmp(row->cell[0].text, "supplier") == 0
                   ? TB_OK
                   : tb_fail(err, TB_EINVAL, "line 1: the columns are supplier,lots,wrong");
    if (row->n < 3)
        return tb_fail(err, TB_EINVAL, "line %zu: supplier, lots and wrong are wanted", row->line);
    y = (struct tb_tally){ count_of(row->cell[1].text), count_of(row->cell[2].text) };
    if (y.lots < 0 || y.wrong < 0 || y.wrong > y.lots)
        return tb_fail(err, TB_EINVAL, "line %zu: '%s' wrong of '%s' lots is no record", row->line,
                       row->cell[2].text, row->cell[1].text);
    if (t->n == t->cap) {
        t->cap = t->cap ? 2 * t->cap : 16;
        t->tally = tb_realloc(t->tally, t->cap, sizeof *t->tally);
        t->name = tb_realloc(t->name, t->cap, sizeof *t->name);
    }
    t->tally[t->n] = y;
    t->name[t->n++] = tb_arena_strdup(t->mem, row->cell[0].text);
    return TB_OK;
}

tb_rc tb_tallies_from(struct tb_tallies *out, const char *path, struct tb_arena *mem, struct tb_err *err)
{
    struct reading t = { .mem = mem };
    const struct tb_sheet_sink sink = { .row = take_row, .arg = &t };
    tb_rc rc = tb_sheet_read(path, &sink, err);

    *out = (struct tb_tallies){ .name = tb_arena_alloc(mem, (t.n + 1) * sizeof *out->name),
                                .tally = tb_arena_alloc(mem, (t.n + 1) * sizeof *out->tally),
                                .n = t.n };
    if (t.n) {
        memcpy(out->name, t.name, t.n * sizeof *out->name);
        memcpy(out->tally, t.tally, t.n * sizeof *out->tally);
    }
    free(t.name);
    free(t.tally);
    return rc == TB_OK ? TB_OK : tb_within(err, rc, "%s", path);
}
