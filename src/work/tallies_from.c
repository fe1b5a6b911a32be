/* Suppliers' tallies out of a table: supplier, lots, wrong. */
#include "tenterbook/act_draw.h"

#include "tenterbook/sheet.h"

#include <stdlib.h>

#define LOTS_MOST 1000000L /* of one supplier; above it is a typing error */

/* A whole number from 0 to LOTS_MOST, with nothing around it; -1: it is not one. */
static long count_of(const char *text)
{
    char *end;
    long v = strtol(text, &end, 10);

    return *text && !*end && v >= 0 && v <= LOTS_MOST ? v : -1;
}

tb_rc tb_tallies_from(struct tb_tallies *out, const char *path, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_named_column columns[] = { { "supplier", true },
                                                      { "lots", true },
                                                      { "wrong", true } };
    struct tb_named_row *row = NULL;
    size_t n = 0;
    tb_rc rc = tb_named_rows_read(&row, &n, path, columns, TB_COUNT(columns), true, mem, err);

    *out = (struct tb_tallies){ .name = tb_arena_alloc(mem, (n + 1) * sizeof *out->name),
                                .tally = tb_arena_alloc(mem, (n + 1) * sizeof *out->tally) };
    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        const char *lots = row[i].field[1], *wrong = row[i].field[2];
        struct tb_tally t = { count_of(lots), count_of(wrong) };

        if (t.lots < 0 || t.wrong < 0 || t.wrong > t.lots)
            return tb_fail(err, TB_EINVAL, "%s: line %zu: '%s' wrong of '%s' lots is not a record", path,
                           row[i].line, wrong, lots);
        out->name[i] = row[i].field[0];
        out->tally[i] = t;
        out->n++;
    }
    return rc;
}
