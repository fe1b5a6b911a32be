/* The book of this run: opened when a command needs it, closed at the end. */
#include "line/cmd.h"
#include "tenterbook/book.h"

#include <stdlib.h>

/* Without it a person would think that the program hangs. */
static void say_wait(void *arg, int seconds)
{
    (void)arg;
    tb_say(stderr, "somebody else is writing to this book; waiting up to %d seconds\n", seconds);
}

/* Opening may upgrade the book; the copy that was kept is told, since it is the way back. */
tb_rc tb_ctx_book(struct tb_ctx *ctx, struct tb_err *err)
{
    char *copy = NULL;
    tb_rc rc;

    if (ctx->book)
        return TB_OK;
    rc = tb_book_open(&ctx->book, ctx->book_path, &copy, err);
    if (rc == TB_OK) {
        ctx->actor = (struct tb_actor){ ctx->book, ctx->who };
        tb_book_on_wait(ctx->book, say_wait, NULL);
    }
    if (copy)
        tb_say(stderr, "the book was brought up to date; the old one is kept as %s\n", tb_shown(ctx, copy));
    free(copy);
    return rc;
}

void tb_ctx_close(struct tb_ctx *ctx)
{
    tb_book_close(ctx->book);
    ctx->book = NULL;
}
