#include "cli/cmd.h"

void tb_ctx_close(struct tb_ctx *ctx);

tb_rc tb_ctx_book(struct tb_ctx *ctx, struct tb_err *err)
{
    (void)ctx;
    return tb_fail(err, TB_EIO, "this build has no book yet");
}

void tb_ctx_close(struct tb_ctx *ctx)
{
    (void)ctx;
}
