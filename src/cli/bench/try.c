/* try: a bench test without a flame. */
#include "cli/show.h"

static tb_rc print(struct tb_ctx *ctx, const struct tb_try_outcome *done, struct tb_err *err)
{
    const struct tb_swatch *s = &done->swatch;
    const struct tb_bench_test *t = &done->test;
    const struct tb_rejudged *r = &done->judged;

    if (ctx->json) {
        json_t *j = json_pack("{s:s, s:s, s:s, s:s}", "bench_test", t->id, "swatch", s->tag, "test", t->test,
                              "result", t->result);

        if (s->lot)
            tb_json_rejudged(j, r, t->tested_at);
        return tb_print_json(ctx, j, err);
    }
    tb_say(ctx->out, "Recorded test %s of swatch %s: %s.\n", t->id, s->tag, done->meaning);
    tb_print_early(ctx, t->tested_at, &r->lot);
    if (s->lot) {
        tb_print_rejudged(ctx, r);
        tb_print_cautions(ctx, &r->v.declaration.comp, t->test);
    }
    return TB_OK;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_try_request request = { .swatch = ctx->argv[0],
                                      .test = tb_opt(ctx, "test"),
                                      .result = tb_opt(ctx, "result"),
                                      .note = tb_opt(ctx, "note"),
                                      .corrects = tb_opt(ctx, "corrects") };
    struct tb_try_outcome done = { 0 };
    tb_rc rc;

    request.tested_at = tb_opt_moment(ctx, "at");
    if ((rc = ctx->rc) == TB_OK && (rc = tb_act_try(&done, &ctx->actor, &request, &ctx->mem, err)) == TB_OK)
        rc = print(ctx, &done, err);
    tb_rejudged_free(&done.judged);
    return rc;
}

static const struct tb_opt opts[] = {
    { "test", "TEST", "the bench test: acetone, melting, microscope ...", false },
    { "result", "RESULT", "what it showed", false },
    { "note", "TEXT", "anything else: strength of the reagent, time", false },
    { "corrects", "TEST", "the record this one corrects; both stay in the book", false },
    { "at", "MOMENT", "when it was done, UTC, where that is not now", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_try = {
    .name = "try",
    .args = "SWATCH --test TEST --result RESULT",
    .brief = "record a bench test: solvent, melting, microscope, float",
    .about = "Records what a bench test without a flame showed, and judges the lot again. Without --test or "
             "--result it answers with the names that may be given.\n\n"
             "Solvents and acids: the safety data sheet, the local rules and licensed practice come first; "
             "where they do not allow the test, send the swatch to a laboratory.",
    .example = "tenterbook try W26-014.02.03 --test acetone --result dissolves",
    .opts = opts,
    .min = 1,
    .max = 1,
    .flags = TB_WRITES,
    .run = run,
};
