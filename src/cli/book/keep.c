/* keep: a safe copy of the book in another file, or the next of a series of copies. */
#include "cli/show.h"
#include "tenterbook/copies.h"

#define HOLD_USUAL 30

static tb_rc print_json(struct tb_ctx *ctx, const struct tb_copy *c, struct tb_err *err)
{
    json_t *gone = json_array();

    for (size_t i = 0; i < c->gone_n; i++)
        (void)json_array_append_new(gone, tb_json_text(c->gone[i]));
    return tb_print_json(ctx,
                         json_pack("{s:o, s:b, s:I, s:s, s:o}", "copy", tb_json_text(c->path), "was_there",
                                   c->was_there, "rows", (json_int_t)c->rows, "digest", c->digest, "gone",
                                   gone),
                         err);
}

static void say(struct tb_ctx *ctx, const struct tb_copy *c)
{
    const char *path = tb_shown(ctx, c->path);

    if (c->was_there)
        tb_say(ctx->out, "%s is there already; nothing was copied.\n", path);
    else
        tb_say(ctx->out, "Copied the book to %s; the copy proves. Its journal ends with %lld:%s\n", path,
               (long long)c->rows, c->digest);
    for (size_t i = 0; i < c->gone_n; i++)
        tb_say(ctx->out, "Took the old copy %s away.\n", tb_shown(ctx, c->gone[i]));
}

static tb_rc make(struct tb_copy *c, struct tb_ctx *ctx, struct tb_err *err)
{
    enum tb_period period = (enum tb_period)tb_opt_word(ctx, "every", 0, &tb_period_words);
    long hold = tb_opt_whole(ctx, "hold", HOLD_USUAL, 1, TB_HOLD_MOST);

    if (ctx->rc != TB_OK)
        return ctx->rc;
    if (tb_opt_on(ctx, "every"))
        return tb_copy_every(c, ctx->book, ctx->argv[0], period, (size_t)hold, &ctx->mem, err);
    if (tb_opt_on(ctx, "hold"))
        return tb_misuse(err, "--hold goes with --every");
    return tb_copy_make(c, ctx->book, ctx->argv[0], &ctx->mem, err);
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_copy c = { 0 };
    tb_rc rc = make(&c, ctx, err);

    if (rc != TB_OK)
        return rc;
    ctx->done = true;
    if (ctx->json)
        return print_json(ctx, &c, err);
    say(ctx, &c);
    return TB_OK;
}

static const struct tb_opt opts[] = {
    { "every", "PERIOD", "the argument is a folder: copy once an hour, day, week or month (in UTC)", false },
    { "hold", "NUMBER", "with --every: so many copies stay, the oldest go (30)", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_keep = {
    .name = "keep",
    .args = "FILE | --every PERIOD FOLDER",
    .brief = "copy the book to another file, safely while it is in use",
    .about = "Writes a whole and consistent copy of the book, reads it again and proves it. A file that is "
             "there already "
             "is never overwritten. The copy is a book: open it with --book, check it with prove. It has the "
             "mode, the "
             "owner and the group of the book, as far as you may give them.\n\n"
             "With --every, the copy goes into a folder under the name of the book and of the hour, day, "
             "week or month, "
             "and nothing happens when that one is there already: a timer may call it as often as it likes. "
             "The oldest "
             "copies of the series go once the new one proves.\n\n"
             "Number and digest of the last journal row are printed: noted elsewhere, they show later that "
             "nothing was cut off or rewritten (prove --since).",
    .example = "tenterbook keep /backup/shed-2026-10-31.db\ntenterbook keep --every day --hold 60 /backup",
    .opts = opts,
    .min = 1,
    .max = 1,
    .flags = TB_BOOK,
    .run = run,
};
