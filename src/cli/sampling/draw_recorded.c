/* draw --again and --proof: a recorded draw drawn again, and what its burns prove so far. */
#include "cli/sampling/draw.h"

tb_rc draw_anew(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_draw_outcome o;
    struct tb_draw r = { 0 };
    struct tb_text t = { 0 };
    tb_rc rc = tb_draw_again(&o, &r, ctx->book, (const char *const *)ctx->argv, ctx->argc, &ctx->mem, err);

    if (rc != TB_OK)
        return rc;
    if (ctx->json)
        return tb_print_json(ctx, tb_json_draw_again(&r), err);
    tb_say(ctx->out,
           _n("Drawn by %s on %.10s, and drawn again now: the seed gives the same %zu bolt.\n",
              "Drawn by %s on %.10s, and drawn again now: the seed gives the same %zu bolts.\n", o.n),
           r.drawn_by, r.drawn_at, o.n);
    draw_print_bolts(ctx->out, &o);
    tb_draw_caveat_words(&t, &r, o.befores);
    tb_print_words(ctx, &t);
    return TB_OK;
}

tb_rc draw_prove(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_draw_proof_request r = { .name = (const char *const *)ctx->argv, .names = ctx->argc };
    struct tb_plan_wish want; /* of the options of a plan, a proof hears only --sure and --catch */
    struct tb_draw_proof p;
    struct tb_text t = { 0 };
    tb_rc rc = draw_options(&want, ctx, TB_LOT_MOST, err);

    r.sure = want.sure;
    r.catch_one = want.catch_one;
    if (rc != TB_OK || (rc = tb_draw_prove(&p, ctx->book, &r, &ctx->mem, err)) != TB_OK)
        return rc;
    tb_proof_words(&t, &p);
    return tb_print(ctx, tb_json_proof(&p), &t, err);
}
