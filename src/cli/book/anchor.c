/* anchor: the last journal row as a line that others keep. */
#include "tenterbook/anchor.h"
#include "cli/show.h"

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_text line = { 0 };
    struct tb_anchor a;
    tb_rc rc = tb_anchor_now(&a, ctx->book, err);

    if (rc != TB_OK)
        return rc;
    if (tb_opt_on(ctx, "spell"))
        tb_anchor_spell(&line, &a);
    else
        tb_anchor_line(&line, &a);
    if (ctx->json)
        rc = tb_print_json(ctx,
                           json_pack("{s:s, s:s, s:I, s:s, s:s, s:s}", "line", tb_text_str(&line), "site",
                                     a.site, "number", (json_int_t)a.number, "digest", a.digest, "key", a.key,
                                     "signature", a.signature),
                           err);
    else
        (void)fprintf(ctx->out, "%s\n", tb_text_str(&line));
    tb_text_free(&line);
    return rc;
}

static const struct tb_opt opts[] = {
    { "spell", NULL, "number and digest alone, in groups of four digits, to be read out or written down",
      false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_anchor = {
    .name = "anchor",
    .args = "[--spell]",
    .brief = "the end of the journal as one line that others keep",
    .about = "Prints site, number and digest of the last journal row, and where it is signed the public key "
             "and the "
             "signature, as one line. Send it to somebody who does not work for you, print it, read it out: "
             "it says "
             "nothing of what is in the book, and later shows that nothing up to that row was cut off or "
             "rewritten "
             "(prove --since).\n\n"
             "The book is not proved by this; prove does that.",
    .example = "tenterbook anchor\ntenterbook anchor --spell",
    .opts = opts,
    .flags = TB_BOOK,
    .run = run,
};
