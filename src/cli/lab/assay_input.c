/* assay: options to what the analysis is asked. */
#include "cli/lab/assay.h"

#include <stdlib.h>

/* Three ways to say it, since each is what a laboratory calls it; together they would contradict each other. */
static tb_rc read_route(enum tb_lab_route *route, struct tb_ctx *ctx, struct tb_err *err)
{
    long variant = tb_opt_whole(ctx, "variant", 0, 1, 4);
    int said = (tb_opt(ctx, "variant") != NULL) + tb_opt_on(ctx, "by-hand") + tb_opt_on(ctx, "nitrogen");

    if (ctx->rc != TB_OK)
        return ctx->rc;
    if (said > 1)
        return tb_misuse(err, "--variant, --by-hand and --nitrogen exclude one another");
    *route = variant                      ? (enum tb_lab_route)(TB_LAB_VARIANT_1 + variant - 1)
             : tb_opt_on(ctx, "by-hand")  ? TB_LAB_HAND
             : tb_opt_on(ctx, "nitrogen") ? TB_LAB_NITROGEN
                                          : TB_LAB_DISSOLVE;
    return TB_OK;
}

/* The tables say how many methods there are, so that a new one needs no change here. */
static tb_rc read_methods(int method[2], const struct tb_ctx *ctx, struct tb_err *err)
{
    const char *text;

    for (size_t i = 0; (text = tb_opt_nth(ctx, "method", i)); i++) {
        char *end;
        long number = strtol(text, &end, 10);

        if (i == 2)
            return tb_misuse(err, "an analysis uses one method or two");
        if (!*text || *end || number < 1 || number > (long)tb_lab_method_count())
            return tb_fail(err, TB_EINVAL, "--method is '%s'; the methods are numbered 1 to %zu", text,
                           tb_lab_method_count());
        method[i] = (int)number;
    }
    return TB_OK;
}

/* Every reading there is, whatever the route: which are needed is known only where the fibres are. */
static void read_readings(struct tb_assay_request *r, struct tb_ctx *ctx)
{
    static const char *const names[] = { "specimen", "residue", "specimen2", "residue2",
                                         "acid",     "blank",   "normality", "weights" };

    for (size_t i = 0; i < TB_COUNT(names); i++) {
        struct tb_assay_reading *reading = &r->reading[r->readings++];

        reading->name = names[i];
        reading->value = tb_opt_all(&reading->n, ctx, names[i]);
    }
}

tb_rc assay_read(struct tb_assay_request *r, struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_assay_row *row;
    tb_rc rc;

    tb_assay_request_init(r);
    r->declared = tb_opt(ctx, "declared");
    r->mixture = tb_opt(ctx, "mixture");
    r->dissolved = tb_opt(ctx, "dissolved");
    r->factors = tb_opt_list(ctx, "d");
    r->found = tb_opt(ctx, "found");
    r->basis = tb_opt(ctx, "basis");
    r->carded = tb_opt_on(ctx, "carded");
    r->virgin = tb_opt_on(ctx, "virgin");
    r->condition = tb_opt_all(&r->conditions, ctx, "condition");
    r->market = tb_opt_all(&r->markets, ctx, "market");
    r->table = tb_opt(ctx, "masses");
    read_readings(r, ctx);
    for (size_t i = 0; i < TB_ASSAY_FIGURES; i++)
        r->figure[i] = tb_opt_number(ctx, tb_assay_ranges[i].name, r->figure[i], tb_assay_ranges[i].least,
                                     tb_assay_ranges[i].most);
    if ((rc = read_route(&r->route, ctx, err)) != TB_OK ||
        (rc = read_methods(r->method, ctx, err)) != TB_OK || !r->table || r->found)
        return rc;
    rc = tb_assay_rows_read(&row, &r->rows, r->table, &ctx->mem, err);
    r->row = row;
    return rc;
}
