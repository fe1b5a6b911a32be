#include "cli/help/help.h"
#include "line/end.h"
#include "line/options.h"
#include "tenterbook/anchor.h"
#include "tenterbook/figure.h"
#include "tenterbook/utf8.h"
#include "terminal/pass.h"
#include "terminal/screen.h"

#include <locale.h>
#include <pwd.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <gsl/gsl_errno.h>
#include <sodium.h>

static const char *login_name(void)
{
    /* cppcheck-suppress getpwuidCalled ; asked before there is any thread */
    const struct passwd *pw = getpwuid(getuid());

    return pw ? pw->pw_name : "unknown";
}

static void usage(const struct tb_cmd *cmd)
{
    if (cmd)
        tb_say(stderr, "usage: tenterbook [--book FILE] %s %s\n", cmd->name, cmd->args);
    else
        (void)fputs(_("usage: tenterbook [--book FILE] COMMAND ...   (tenterbook help lists the commands)\n"),
                    stderr);
}

static tb_rc run_command(struct tb_ctx *ctx, int argc, char **argv, struct tb_err *err)
{
    bool help = false;
    tb_rc rc = tb_options_read(ctx, argc, argv, &help, err);

    if (rc != TB_OK || (rc = tb_option_words(_("the name of who writes"), ctx->who, err)) != TB_OK ||
        (rc = tb_figures_asked(err)) != TB_OK)
        return rc;
    if (ctx->json)
        ctx->out = stdout; /* for programs: nothing is broken into lines */
    if (help) {
        tb_help_command(ctx->out, ctx->cmd);
        return TB_OK;
    }
    if (ctx->argc < ctx->cmd->min)
        return tb_misuse(err, "%s needs %s", ctx->cmd->name, ctx->cmd->args);
    if (ctx->argc > ctx->cmd->max)
        return tb_misuse(err, "%s does not know what to do with '%s'", ctx->cmd->name,
                         ctx->argv[ctx->cmd->max]);
    for (size_t i = 0; i < ctx->argc; i++)
        if (strncmp(ctx->cmd->args, "FILE", 4) != 0 &&
            (rc = tb_option_words(_("an argument"), ctx->argv[i], err)) != TB_OK)
            return rc;
    if ((ctx->cmd->flags & (TB_BOOK | TB_WRITES)) && (rc = tb_ctx_book(ctx, err)) != TB_OK)
        return rc;
    return ctx->cmd->run(ctx, err);
}

static void suggest(const char *word)
{
    char *folded = tb_fold(word, strlen(word));

    for (size_t i = 0; tb_commands[i]; i++)
        if (tb_edit_distance(folded, tb_commands[i]->name, 2) <= 2)
            tb_say(stderr, "did you mean '%s'?\n", tb_commands[i]->name);
    free(folded);
}

/* --help and --version where no command is named. */
static tb_rc about_program(struct tb_ctx *ctx, int argc, char **argv, struct tb_err *err)
{
    bool all = argc == 2 && strcmp(argv[1], "--verbose") == 0;

    if (strcmp(argv[0], "--version") != 0)
        tb_help_all(ctx->out);
    else if (argc > 1 + all)
        return tb_misuse(err, "--version does not know what to do with '%s'", argv[1 + all]);
    else
        tb_version_say(ctx->out, all);
    return TB_OK;
}

/* What stands before the command is read as if it stood behind it. */
static tb_rc dispatch(struct tb_ctx *ctx, int argc, char **argv, struct tb_err *err)
{
    int at = 1, about = 0;
    tb_rc rc = tb_options_before(&at, &about, argc, argv, err);

    if (rc != TB_OK)
        return rc;
    if (about && (at >= argc || strcmp(argv[about], "--version") == 0))
        return about_program(ctx, argc - about, argv + about, err);
    if (at >= argc)
        return tb_misuse(err, "no command given");
    ctx->cmd = tb_cmd_find(argv[at]);
    if (!ctx->cmd) {
        suggest(argv[at]);
        return tb_misuse(err, "there is no command '%s'", argv[at]);
    }
    memmove(argv + 2, argv + 1, (size_t)(at - 1) * sizeof *argv);
    return run_command(ctx, argc - 1, argv + 1, err);
}

int main(int argc, char **argv)
{
    const char *book = getenv("TENTERBOOK_BOOK"), *who = getenv("TENTERBOOK_WHO");
    const char *catalogues = getenv("TENTERBOOK_LOCALE_DIR"); /* a translator tries a catalogue out */
    struct tb_ctx ctx = { .book_path = book && *book ? book : "tenterbook.db",
                          .who = who && *who ? who : login_name(),
                          .out = tb_screen() };
    FILE *screen = ctx.out;
    struct tb_err err = { 0 };
    tb_rc rc;
    int code;

    tb_memory_ready();
    ctx.err = &err;
    tb_end_without_memory(&ctx);
    tb_streams_ready();
    (void)signal(SIGXFSZ, SIG_IGN); /* a limit on file sizes is a write that fails, to be cleaned up after */
    (void)setlocale(LC_CTYPE, "C.UTF-8"); /* numbers stay with the point: never LC_NUMERIC */
    (void)setlocale(LC_MESSAGES, "");
    (void)bindtextdomain(TB_DOMAIN, catalogues && *catalogues ? catalogues : TB_LOCALE_DIR);
    (void)
        gsl_set_error_handler_off(); /* its own ends the program; every result is checked where it is used */
    if (sodium_init() < 0) {
        (void)fputs("tenterbook: the system gives no random numbers\n", stderr);
        return 1;
    }
    tb_key_on_pass(tb_pass_ask, NULL);
    rc = dispatch(&ctx, argc, argv, &err);
    if (rc == TB_OK && ctx.book)
        rc = tb_book_still(ctx.book, &err);
    code = tb_end(&ctx, rc, screen, &err);
    if (rc == TB_EUSAGE)
        usage(ctx.cmd);
    tb_end_told(code);
    tb_ctx_close(&ctx);
    tb_arena_free(&ctx.mem);
    free(ctx.given);
    return code;
}
