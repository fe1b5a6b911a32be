#include "cli/help/help.h"
#include "cli/show.h"

#include <string.h>

/* `help cues hair` finds "burnt hair": people know what they saw, not what a table calls it. */
static tb_rc cues(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *const *word = (const char *const *)ctx->argv + 1;
    struct tb_text t = { 0 }, all = { 0 };
    size_t n = ctx->argc - 1, found;
    tb_rc rc = TB_OK;

    if (ctx->json) {
        json_t *json = tb_json_cues(&found, word, n);

        if (found)
            return tb_print_json(ctx, json, err);
        json_decref(json);
    } else {
        found = tb_cues_words(&t, word, n);
    }
    for (size_t i = 0; i < n; i++)
        tb_text_addf(&all, "%s%s", i ? " " : "", word[i]);
    if (!found)
        rc = tb_fail(err, TB_ENOTFOUND,
                     "no cue has '%s' in its name or meaning, and no description of such a fibre is known; "
                     "tenterbook help cues lists all",
                     all.s);
    else
        tb_print_words(ctx, &t);
    tb_text_free(&t);
    tb_text_free(&all);
    return rc;
}

static tb_rc help(struct tb_ctx *ctx, struct tb_err *err)
{
    const struct tb_cmd *cmd;

    if (ctx->json && (ctx->argc == 0 || strcmp(ctx->argv[0], "cues") != 0))
        return tb_misuse(err, "help is for people to read; only 'help cues' answers as JSON");
    if (tb_opt_on(ctx, "man")) {
        tb_help_man(ctx->out);
        return TB_OK;
    }
    if (ctx->argc == 0) {
        tb_help_all(ctx->out);
        return TB_OK;
    }
    if (strcmp(ctx->argv[0], "cues") == 0)
        return cues(ctx, err);
    if (ctx->argc > 1)
        return tb_misuse(err, "help does not know what to do with '%s'", ctx->argv[1]);
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
    .args = "[COMMAND | cues [WORD ...]]",
    .brief = "list the commands, or explain one",
    .about =
        "Prints the list of commands, or what one command does with its options. `help cues` lists all that "
        "may be seen, by channel, with its meaning; words after it look for those that have them, and the "
        "name "
        "of a fibre for what published descriptions say of it.",
    .example =
        "tenterbook help\ntenterbook help receive\ntenterbook help cues hair\ntenterbook help cues wool",
    .opts = opts,
    .max = 9,
    .run = help,
};
