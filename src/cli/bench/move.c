/* move: a burn or a test recorded of the wrong swatch. */
#include "cli/show.h"

static tb_rc print(struct tb_ctx *ctx, const struct tb_move_outcome *done, struct tb_err *err)
{
    struct tb_text t = { 0 };

    if (done->test.id)
        tb_text_say(
            &t, "Test %s of swatch %s is void; it is recorded as test %s of swatch %s, made by %s at %s.\n",
            done->was, done->from, done->test.id, done->test.tag, done->test.tested_by, done->test.tested_at);
    else
        tb_text_say(
            &t, "Burn %s of swatch %s is void; it is recorded as burn %s of swatch %s, burned by %s at %s.\n",
            done->was, done->from, done->burn.id, done->burn.tag, done->burn.burned_by, done->burn.burned_at);
    for (size_t i = 0; i < done->lots; i++)
        tb_void_lot_words(&t, &done->lot[i]);
    return tb_print(ctx, tb_json_moved(done), &t, err);
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_move_request request = { .burn = ctx->argv[0],
                                       .swatch = tb_opt(ctx, "to"),
                                       .why = tb_opt(ctx, "why") };
    struct tb_move_outcome done = { 0 };
    tb_rc rc;

    if (!request.swatch || !request.why || !*request.why)
        return tb_misuse(err,
                         "move needs --to with the tag of the swatch that was burned or tested, and --why");
    if ((rc = tb_burn_named(&request.burn, ctx->book, request.burn, ctx->who, &ctx->mem, err)) == TB_OK &&
        (rc = tb_act_move(&done, &ctx->actor, &request, &ctx->mem, err)) == TB_OK)
        rc = print(ctx, &done, err);
    tb_move_free(&done);
    return rc;
}

static const struct tb_opt opts[] = {
    { "to", "SWATCH", "the tag of the swatch that was burned or tested", false },
    { "why", "TEXT", "how it came to the wrong one, in a sentence", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_move = {
    .name = "move",
    .args = "BURN|TEST --to SWATCH --why TEXT",
    .brief = "move a burn or a test to the right swatch",
    .about =
        "A burn or a bench test that was recorded of the wrong swatch, by its number as 'look' shows it; a "
        "burn "
        "also by the tag of the swatch, where that was burned once, or by 'last'. It "
        "is void there and recorded of the right one, with its moment, the person who burned or tested it "
        "and its photographs; both records stay in the book. The lots of both swatches are judged again.",
    .example = "tenterbook move 06h1l3k5agg1b711nmllchaib0 --to W26-014.02.03 --why \"tags swapped\"",
    .opts = opts,
    .min = 1,
    .max = 1,
    .flags = TB_WRITES,
    .run = run,
};
