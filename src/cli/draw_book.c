/* draw on lots of the book. */
#include "cli/draw.h"

tb_rc draw_on_book(struct tb_ctx *ctx, struct tb_err *err)
{
    return tb_ctx_book(ctx, err);
}
