/* keep: a safe copy of the book in another file. */
#include "cli/show.h"

/* The copy is made by the book itself, so that it is whole while others write. */
static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    tb_rc rc = tb_book_keep(ctx->book, ctx->argv[0], err);

    if (rc != TB_OK)
        return rc;
    ctx->done = true;
    if (ctx->json)
        return tb_print_json(ctx, json_pack("{s:s}", "copy", ctx->argv[0]), err);
    tb_say(ctx->out, "Copied the book to %s, and proved the copy.\n", ctx->argv[0]);
    return TB_OK;
}

const struct tb_cmd tb_cmd_keep = {
    .name = "keep",
    .args = "FILE",
    .brief = "copy the book to another file, safely while it is in use",
    .about =
        "Writes a whole and consistent copy of the book, reads it again and proves it; where it does not "
        "prove, "
        "nothing is left behind. A file that is there already is never overwritten. The copy is a book: open "
        "it with --book.",
    .example = "tenterbook keep /backup/shed-2026-10-31.db",
    .min = 1,
    .max = 1,
    .flags = TB_BOOK,
    .run = run,
};
