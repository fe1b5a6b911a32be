/* judge LOT: the verdict on a lot of the book, now or as of a journal row. */
#include "cli/bench/judge.h"

#include "cli/show.h"

static json_t *as_json(const struct tb_lot *lot, const struct tb_lot_verdict *v)
{
    json_t *j = tb_lot_verdict_json(v, lot);

    tb_json_put(j, "standing", tb_json_text(tb_standing_key(lot->standing)));
    return j;
}

static tb_rc print(struct tb_ctx *ctx, const struct tb_rejudged *r, struct tb_err *err)
{
    const struct tb_lot *lot = &r->lot;
    const struct tb_lot_verdict *v = &r->v;
    struct tb_text t = { 0 };
    tb_rc rc = TB_OK;

    if (ctx->json)
        return tb_print_json(ctx, as_json(lot, v), err);
    tb_text_addf(&t, _("Lot %s of %s, arrived %s: "), lot->ref, lot->supplier_name, lot->arrived);
    tb_bench_coverage(&t, lot->bolts_burnt, lot->bolts);
    tb_text_add(&t, lot->bolts_burnt
                        ? _("; the verdict speaks of those, and of the metres they hold, not of the rest.\n")
                        : _("; nothing can be said yet.\n"));
    tb_verdict_explain(&t, &v->verdict, &v->declaration);
    if (fputs(t.s, ctx->out) == EOF)
        rc = tb_fail(err, TB_EIO, "the output could not be written");
    else
        tb_print_hold(ctx, r);
    tb_text_free(&t);
    return rc;
}

tb_rc tb_judge_lot(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_rejudged r = { 0 };
    long row = 0;
    tb_rc rc = tb_ctx_book(ctx, err);

    if (rc == TB_OK && (rc = tb_opt_whole(&row, ctx, "as-of", 1, 1000000000, err)) == TB_OK &&
        (rc = row ? tb_judge_as_of(&r, ctx->book, ctx->argv[0], row, &ctx->mem, err)
                  : tb_act_judge(&r, &ctx->actor, ctx->argv[0], TB_WANT_ALL, &ctx->mem, err)) == TB_OK)
        rc = print(ctx, &r, err);
    tb_rejudged_free(&r);
    return rc;
}
