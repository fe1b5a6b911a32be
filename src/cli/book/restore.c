/* restore: a copy becomes the book again. */
#include "cli/show.h"
#include "tenterbook/copies.h"

#include <limits.h>

static tb_rc print_json(struct tb_ctx *ctx, const struct tb_restored *r, struct tb_err *err)
{
    return tb_print_json(ctx,
                         json_pack("{s:o, s:I, s:s, s:o, s:o, s:I}", "book", tb_json_text(ctx->book_path),
                                   "rows", (json_int_t)r->rows, "digest", r->digest, "aside",
                                   r->aside ? tb_json_text(r->aside) : json_null(), "rows_aside",
                                   r->aside && r->rows_aside >= 0 ? json_integer(r->rows_aside) : json_null(),
                                   "lacks", (json_int_t)r->lacks),
                         err);
}

/* What the copy does not have has to be typed again: the person is told that there is something. */
static void say_aside(struct tb_ctx *ctx, const struct tb_restored *r)
{
    char rows[TB_COUNTED];
    size_t lacks = (size_t)r->lacks;

    tb_say(ctx->out, "The book that was there is kept as %s.\n", tb_shown(ctx, r->aside));
    if (r->rows_aside < 0)
        tb_say(ctx->out,
               "It is damaged: what was recorded after the copy was made has to be recorded again.\n");
    else if (lacks)
        tb_say(ctx->out, "It has %s that the copy lacks: record that again, or go back to it.\n",
               tb_counted(rows, lacks, _n("journal row", "journal rows", lacks)));
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    long lacks = tb_opt_whole(ctx, "lacks", 0, 1, LONG_MAX);
    struct tb_restored r;
    tb_rc rc;

    if (ctx->rc != TB_OK)
        return ctx->rc;
    if (lacks && !tb_opt_on(ctx, "aside"))
        return tb_misuse(err, "--lacks goes with --aside");
    rc = tb_copy_restore(&r, ctx->argv[0], ctx->book_path, tb_opt_on(ctx, "aside"), lacks, &ctx->mem, err);
    if (rc != TB_OK)
        return rc;
    ctx->done = true;
    if (ctx->json)
        return print_json(ctx, &r, err);
    tb_say(ctx->out, "The copy proves and is the book %s now. Its journal ends with %lld:%s\n",
           tb_shown(ctx, ctx->book_path), (long long)r.rows, r.digest);
    if (r.aside)
        say_aside(ctx, &r);
    return TB_OK;
}

static const struct tb_opt opts[] = {
    { "aside", NULL, "move the book that is there out of the way; it is kept", false },
    { "lacks", "NUMBER", "go back although the copy lacks so many journal rows of the book", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_restore = {
    .name = "restore",
    .args = "FILE [--aside [--lacks NUMBER]]",
    .brief = "put a copy in the place of the book",
    .about =
        "Proves a copy that keep made and makes it the book, under the name that --book says. The copy "
        "stays as it is. "
        "A book that is there is never overwritten: with --aside it is moved out of the way, with its "
        "log, and the copy gets its mode, owner and group. Nobody may have it open "
        "meanwhile.\n\n"
        "Both journals are compared. A copy of another book is refused. Where the copy lacks journal rows "
        "of the book, because it is older or because the two went apart, their number is told, and "
        "--lacks with that number goes back all the same: what they recorded has to be recorded again.",
    .example = "tenterbook restore /backup/shed-2026-10-31.db --aside",
    .opts = opts,
    .min = 1,
    .max = 1,
    .flags = TB_NO_BOOK,
    .run = run,
};
