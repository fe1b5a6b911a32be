/* try: a bench test without a flame. */
#include "cli/show.h"

static tb_rc print(struct tb_ctx *ctx, const struct tb_try_outcome *done, struct tb_err *err)
{
    const struct tb_bench_test *test = &done->test;
    struct tb_text t = { 0 };

    tb_text_say(&t, "Recorded test %s of swatch %s: %s.\n", test->id, done->swatch.tag, done->meaning);
    if (done->swatch.lot) {
        tb_early_words(&t, test->tested_at, &done->judged.lot);
        tb_rejudged_words(&t, &done->judged);
        tb_corrected_words(&t, &done->judged);
        tb_cautions_words(&t, &done->judged.v.declaration, test->test);
    }
    return tb_print(ctx, tb_json_tried(done), &t, err);
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
    { "result", "RESULT", "what it showed; of a microscope all kinds of fibre that were seen", true },
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
