/* new: make a book. */
#include "cli/show.h"

/* The next step is told: nothing can be burned in a new book before somebody has said that flames are allowed. */
static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *code = tb_opt(ctx, "code"), *name = tb_opt(ctx, "name"), *country = tb_opt(ctx, "country");
    tb_rc rc = tb_book_make(ctx->book_path, code ? code : "W", name ? name : "", country ? country : "",
                            ctx->who, err);

    if (rc != TB_OK)
        return rc;
    ctx->done = true;
    if (ctx->json)
        return tb_print_json(
            ctx, json_pack("{s:o, s:s}", "book", tb_json_text(ctx->book_path), "code", code ? code : "W"),
            err);
    tb_say(ctx->out,
           "Made the book %s.\n"
           "Burns can be recorded once flame work is permitted at this bench by the local fire code and the "
           "employer's rules:\n  tenterbook --book %s set flame yes\n",
           tb_shown(ctx, ctx->book_path), tb_shown(ctx, ctx->book_path));
    if (!name || !*name)
        tb_say(ctx->out,
               "The warehouse has no name: papers will not say where the goods were received. Its name "
               "is given when the book is made (--name TEXT).\n");
    return TB_OK;
}

static const struct tb_opt opts[] = {
    { "code", "CODE", "1 to 4 capital letters or digits that begin every reference number (W)", false },
    { "name", "TEXT", "name of the warehouse", false },
    { "country", "XX", "country of the warehouse, two letters (ISO 3166-1)", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_new = {
    .name = "new",
    .args = "[--code CODE] [--name TEXT] [--country XX]",
    .brief = "make a book",
    .about = "Makes a new, empty book. A file that is there already is never overwritten.",
    .example = "tenterbook --book shed.db new --code M --name \"Mill Lane shed\" --country GB",
    .opts = opts,
    .run = run,
};
