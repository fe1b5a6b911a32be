#include "cli/help/help.h"

#include <string.h>

static tb_rc help(struct tb_ctx *ctx, struct tb_err *err)
{
    const struct tb_cmd *cmd;

    if (tb_opt_on(ctx, "man")) {
        tb_help_man(ctx->out);
        return TB_OK;
    }
    if (ctx->argc == 0) {
        tb_help_all(ctx->out);
        return TB_OK;
    }
    cmd = tb_cmd_find(ctx->argv[0]);
    if (!cmd)
        return tb_misuse(err, "there is no command '%s'", ctx->argv[0]);
    tb_help_command(ctx->out, cmd);
    return TB_OK;
}

static const struct tb_opt opts[] = {
    { "man", NULL, "print the manual page (mdoc) instead", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_help = {
    .name = "help",
    .args = "[COMMAND]",
    .brief = "list the commands, or explain one",
    .about = "Prints the list of commands, or what one command does with its options.",
    .example = "tenterbook help\ntenterbook help receive",
    .opts = opts,
    .max = 1,
    .run = help,
};
