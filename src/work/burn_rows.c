/* A file of burns written down elsewhere, as rows of text. */
#include "tenterbook/act_bench.h"

static const struct tb_named_column column[] = {
    { "lot", false }, { "bolt", true },    { "part", false },  { "at", false },   { "saw", true },
    { "not", false }, { "looked", false }, { "flame", false }, { "note", false }, { "could-not", false },
};

static tb_rc take_rows(struct tb_burn_row **out, const struct tb_named_row *row, size_t n, const char *name,
                       struct tb_arena *mem, struct tb_err *err)
{
    if (n == 0)
        return tb_within(err, tb_fail(err, TB_EINVAL, "there is no burn in it"), "%s", name);
    *out = tb_arena_alloc(mem, n * sizeof **out);
    for (size_t i = 0; i < n; i++) {
        const char **f = row[i].field;

        (*out)[i] =
            (struct tb_burn_row){ row[i].line, f[0], f[1], f[2], f[3], f[4], f[5], f[6], f[7], f[8], f[9] };
    }
    return TB_OK;
}

tb_rc tb_burn_rows_read(struct tb_burn_row **out, size_t *n, const char *path, struct tb_arena *mem,
                        struct tb_err *err)
{
    struct tb_named_row *row = NULL;
    tb_rc rc = tb_named_rows_read(&row, n, path, column, TB_COUNT(column), false, mem, err);

    return rc == TB_OK ? take_rows(out, row, *n, path, mem, err) : rc;
}

tb_rc tb_burn_rows_sent(struct tb_burn_row **out, size_t *n, const struct tb_sent *sent, struct tb_arena *mem,
                        struct tb_err *err)
{
    struct tb_named_row *row = NULL;
    tb_rc rc = tb_named_rows_sent(&row, n, sent, column, TB_COUNT(column), false, mem, err);

    return rc == TB_OK ? take_rows(out, row, *n, sent->name, mem, err) : rc;
}
