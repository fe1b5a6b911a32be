/* case LOT --notice: the one-page notice, and the same as text. */
#include "tenterbook/notice.h"
#include "cli/paper/case.h"

#include <stdlib.h>
#include <string.h>

/* The next command is offered whole: a notice that nobody can prove was sent is worth little. */
static tb_rc print(struct tb_ctx *ctx, const struct tb_notice *n, const char *path, struct tb_err *err)
{
    struct tb_text text = { 0 };
    tb_rc rc = TB_OK;

    tb_notice_text(&text, n);
    if (ctx->json)
        rc = tb_print_json(
            ctx,
            json_pack("{s:s, s:s, s:o}", "lot", tb_notice_lot(n), "file", path, "text", tb_json_text(text.s)),
            err);
    else
        tb_say(ctx->out,
               "Written: %s, and the same as text in %.*s.txt.\n"
               "Send it in a way that can be proved, then record it with the file itself:\n"
               "  tenterbook dispute %s --notified --by CHANNEL --proof NUMBER --document %s\n"
               "Information, not legal advice: the contract, the official text and local counsel decide.\n",
               path, (int)strlen(path) - 4, path, tb_notice_lot(n), path);
    tb_text_free(&text);
    return rc;
}

tb_rc tb_case_notice(struct tb_ctx *ctx, struct tb_err *err)
{
    char today[TB_DAY_LEN + 1];
    struct tb_notice_plan plan = { .lot = ctx->argv[0],
                                   .day = today,
                                   .by = ctx->who,
                                   .asked = tb_opt(ctx, "ask"),
                                   .answer_by = tb_opt(ctx, "answer-by") };
    struct tb_outset files = { .replace = tb_opt_on(ctx, "replace") };
    struct tb_text path = { 0 };
    struct tb_notice *n = NULL;
    tb_rc rc;

    tb_today(today);
    if ((rc = tb_opt_day(&plan.day, ctx, "on", err)) != TB_OK ||
        (rc = tb_notice_make(&n, ctx->book, &plan, err)) != TB_OK)
        return rc;
    if (tb_opt(ctx, "out"))
        tb_text_add(&path, tb_opt(ctx, "out"));
    else
        tb_text_addf(&path, "notice-%s.pdf", tb_notice_lot(n));
    rc = tb_notice_write(&files, path.s, n, err);
    rc = tb_outset_end(&files, rc, err);
    ctx->done = rc == TB_OK;
    if (rc == TB_OK)
        rc = print(ctx, n, path.s, err);
    tb_text_free(&path);
    tb_notice_free(n);
    return rc;
}
