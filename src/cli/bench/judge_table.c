/* judge --from: what came of a table of burns, one JSON object a line. */
#include "cli/bench/judge.h"
#include "tenterbook/judge_rows.h"

static tb_rc print_all(FILE *out, const struct tb_judged_rows *r, const char *path, struct tb_err *err)
{
    size_t first = 0;

    for (size_t i = r->n; i > 0; i--)
        if (r->row[i - 1].bad)
            first = r->row[i - 1].line;
    for (size_t i = 0; i < r->n; i++)
        (void)fprintf(out, "%s\n", r->row[i].json);
    if (r->bad)
        return tb_fail(err, TB_EINVAL,
                       "%s: %zu of %zu rows could not be judged, the first on line %zu; the output says why",
                       path, r->bad, r->n, first);
    return TB_OK;
}

tb_rc tb_judge_table(struct tb_ctx *ctx, const char *path, struct tb_err *err)
{
    struct tb_evidence *ev = NULL;
    struct tb_judged_rows rows = { 0 };
    tb_rc rc;

    if ((rc = tb_judge_model(&ev, ctx, err)) == TB_OK &&
        (rc = tb_judge_rows(&rows, path, tb_opt_on(ctx, "outcomes"), ev, err)) == TB_OK)
        rc = print_all(ctx->out, &rows, path, err);
    tb_judged_rows_free(&rows);
    tb_evidence_free(ev);
    return rc;
}
