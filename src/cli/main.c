#include "cli/end.h"
#include "cli/pass.h"
#include "cli/screen.h"
#include "tenterbook/anchor.h"
#include "tenterbook/said.h"
#include "tenterbook/utf8.h"

#include <getopt.h>
#include <locale.h>
#include <pwd.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <gsl/gsl_errno.h>
#include <sodium.h>

#define OPTS_MOST 64

static const struct tb_opt common[] = {
    { "help", NULL, "show what the command does", false },
    { "json", NULL, "print JSON for programs", false },
    { NULL, NULL, NULL, false },
};

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

/* Fill getopt's table from the command's options and the common ones; returns how many. */
static size_t long_options(struct option *lo, const struct tb_opt **of, const struct tb_cmd *cmd)
{
    const struct tb_opt *lists[] = { cmd->opts, common };
    size_t n = 0;

    for (size_t l = 0; l < TB_COUNT(lists); l++)
        for (const struct tb_opt *o = lists[l]; o && o->name && n < OPTS_MOST - 1; o++) {
            lo[n] = (struct option){ o->name, o->arg ? required_argument : no_argument, NULL, (int)n };
            of[n++] = o;
        }
    return n;
}

/* The rule is that of records (said.h); the names of files are the folder's business. */
static tb_rc check_words(const char *option, const char *words, struct tb_err *err)
{
    struct tb_err why = { 0 };

    if (tb_said_check(option, words, &why) == TB_OK)
        return TB_OK;
    if (!tb_utf8_valid(words, strlen(words)))
        return tb_misuse(err, "%s holds bytes that are not UTF-8; is the terminal set to UTF-8?", option);
    return tb_misuse(err, "%s", why.msg);
}

static tb_rc check_option(const struct tb_opt *o, const char *value, struct tb_err *err)
{
    char name[64];

    if (!o->arg || strncmp(o->arg, "FILE", 4) == 0)
        return TB_OK;
    (void)snprintf(name, sizeof name, "--%s", o->name);
    return check_words(name, value, err);
}

static tb_rc read_options(struct tb_ctx *ctx, int argc, char **argv, bool *help, struct tb_err *err)
{
    struct option lo[OPTS_MOST] = { 0 };
    const struct tb_opt *of[OPTS_MOST];
    tb_rc rc;
    int at;

    (void)long_options(lo, of, ctx->cmd);
    ctx->given = tb_alloc((size_t)argc + 1, sizeof *ctx->given);
    optind = 0; /* glibc: start afresh */
    opterr = 0;
    while ((at = getopt_long(argc, argv, ":", lo, NULL)) != -1) {
        const char *word = argv[optind > 1 ? optind - 1 : 1];

        if (at == ':')
            return tb_misuse(err, "%s needs a value", word);
        if (at == '?')
            return tb_misuse(err, "%s has no option %s", ctx->cmd->name, word);
        if (of[at] == &common[0])
            *help = true;
        if (of[at] == &common[1])
            ctx->json = true;
        if ((rc = check_option(of[at], optarg, err)) != TB_OK)
            return rc;
        ctx->given[ctx->givens].opt = of[at];
        ctx->given[ctx->givens++].value = optarg && !tb_said_blank(optarg) ? optarg : "";
    }
    ctx->argc = (size_t)(argc - optind);
    ctx->argv = argv + optind;
    return TB_OK;
}

static tb_rc run_command(struct tb_ctx *ctx, int argc, char **argv, struct tb_err *err)
{
    bool help = false;
    tb_rc rc = read_options(ctx, argc, argv, &help, err);

    if (rc != TB_OK)
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
            (rc = check_words(_("an argument"), ctx->argv[i], err)) != TB_OK)
            return rc;
    if ((ctx->cmd->flags & (TB_BOOK | TB_WRITES)) && (rc = tb_ctx_book(ctx, err)) != TB_OK)
        return rc;
    return ctx->cmd->run(ctx, err);
}

/* --book and --as-person stand before the command. Returns the index of the command's name, argc if none. */
static int read_globals(struct tb_ctx *ctx, int argc, char **argv, struct tb_err *err, tb_rc *rc)
{
    int i = 1;

    for (; i < argc && argv[i][0] == '-' && *rc == TB_OK; i++) {
        const char **slot = NULL;
        size_t name;
        int named = i;

        if (strcmp(argv[i], "--help") == 0 || strcmp(argv[i], "--version") == 0)
            return i;
        name = strcspn(argv[i], "=");
        if (strncmp(argv[i], "--book", name) == 0 && name == 6)
            slot = &ctx->book_path;
        else if (strncmp(argv[i], "--as-person", name) == 0 && name == 11)
            slot = &ctx->who;
        if (!slot)
            *rc = tb_misuse(err, "there is no option %s before the command", argv[i]);
        else if (argv[i][name] == '=')
            *slot = argv[i] + name + 1;
        else if (i + 1 < argc)
            *slot = argv[++i];
        else
            *rc = tb_misuse(err, "%s needs a value", argv[i]);
        if (*rc == TB_OK && slot && !**slot)
            *rc = tb_misuse(err, "%.*s needs a value", (int)name, argv[named]);
    }
    return i;
}

static void suggest(const char *word)
{
    char *folded = tb_fold(word, strlen(word));

    for (size_t i = 0; tb_commands[i]; i++)
        if (tb_edit_distance(folded, tb_commands[i]->name, 2) <= 2)
            tb_say(stderr, "did you mean '%s'?\n", tb_commands[i]->name);
    free(folded);
}

static tb_rc dispatch(struct tb_ctx *ctx, int argc, char **argv, struct tb_err *err)
{
    tb_rc rc = TB_OK;
    int at = read_globals(ctx, argc, argv, err, &rc);

    if (rc != TB_OK)
        return rc;
    if (at >= argc)
        return tb_misuse(err, "no command given");
    if ((rc = check_words(_("the name of who writes"), ctx->who, err)) != TB_OK)
        return rc;
    if (strcmp(argv[at], "--version") == 0) {
        bool all = at + 1 < argc && strcmp(argv[at + 1], "--verbose") == 0;

        if (at + 1 + all < argc)
            return tb_misuse(err, "--version does not know what to do with '%s'", argv[at + 1 + all]);
        tb_version_say(ctx->out, all);
        return TB_OK;
    }
    if (strcmp(argv[at], "--help") == 0) {
        tb_help_all(ctx->out);
        return TB_OK;
    }
    ctx->cmd = tb_cmd_find(argv[at]);
    if (!ctx->cmd) {
        suggest(argv[at]);
        return tb_misuse(err, "there is no command '%s'", argv[at]);
    }
    return run_command(ctx, argc - at, argv + at, err);
}

void tb_ctx_close(struct tb_ctx *ctx);

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
