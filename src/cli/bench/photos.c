/* photos.c - the files of --photo, for the commands that keep photographs with what they record. */
#include "cli/show.h"
#include "tenterbook/act_bench.h"
#include "tenterbook/attachment.h"

tb_rc tb_opt_photos(const struct tb_attachment **out, size_t *n, struct tb_ctx *ctx, struct tb_err *err)
{
    size_t given = tb_opt_count(ctx, "photo");
    struct tb_attachment *photo = tb_arena_alloc(&ctx->mem, (given + 1) * sizeof *photo);
    tb_rc rc = TB_OK;

    *out = photo;
    *n = 0;
    for (; *n < given && *n <= TB_PHOTOS_MOST && rc == TB_OK; ++*n)
        rc = tb_attachment_read(&photo[*n], tb_opt_nth(ctx, "photo", *n), &ctx->mem, err);
    return rc;
}
