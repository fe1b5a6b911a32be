/* What stands on the command line: the options of the command, and those that every command takes. */
#include "line/options.h"

#include "tenterbook/said.h"
#include "tenterbook/typed.h"
#include "tenterbook/utf8.h"
#include "tenterbook/words.h"

#include <getopt.h>
#include <string.h>

#define OPTS_MOST 64

enum { HELP, JSON, BOOK, PERSON, FAR_OFF };
static const struct tb_opt common[] = {
    [HELP] = { "help", NULL, "show what the command does", false },
    [JSON] = { "json", NULL, "print JSON for programs", false },
    [BOOK] = { "book", "FILE", "the book", false },
    [PERSON] = { "as-person", "NAME", "who writes", false },
    [FAR_OFF] = { "far-off", NULL, "a day years from today is meant as it stands", false },
    { NULL, NULL, NULL, false },
};

static const struct tb_opt *common_of(const char *word)
{
    size_t n = strcspn(word, "=");

    if (strcmp(word, "-h") == 0)
        return &common[HELP];
    for (const struct tb_opt *o = common; o->name && n > 2; o++)
        if (strlen(o->name) == n - 2 && strncmp(o->name, word + 2, n - 2) == 0)
            return o;
    return NULL;
}

tb_rc tb_options_before(int *at, int *about, int argc, char **argv, struct tb_err *err)
{
    for (*at = 1; *at < argc && argv[*at][0] == '-'; ++*at) {
        const struct tb_opt *o = common_of(argv[*at]);
        bool version = strcmp(argv[*at], "--version") == 0;

        if (!*about && (version || o == &common[HELP]))
            *about = *at;
        if (version)
            return TB_OK;
        if (!o)
            return tb_misuse(err, "there is no option %s before the command", argv[*at]);
        if (o->arg && !strchr(argv[*at], '=') && ++*at == argc)
            return tb_misuse(err, "%s needs a value", argv[*at - 1]);
    }
    return TB_OK;
}

static size_t add_options(struct option *lo, size_t n, const struct tb_opt *o)
{
    for (; o && o->name && n < OPTS_MOST - 1; o++, n++)
        lo[n] = (struct option){ o->name, o->arg ? required_argument : no_argument, NULL, (int)n };
    return n;
}

/* The rule is that of records (said.h); the names of files are the folder's business. */
tb_rc tb_option_words(const char *what, const char *words, struct tb_err *err)
{
    struct tb_err why = { 0 };

    if (tb_said_check(what, words, &why) == TB_OK)
        return TB_OK;
    if (!tb_utf8_valid(words, strlen(words)))
        return tb_misuse(err, "%s holds bytes that are not UTF-8; is the terminal set to UTF-8?", what);
    return tb_misuse(err, "%s", why.msg);
}

/* A value that is silently replaced by a later one is evidence that somebody believes to be recorded. */
static tb_rc twice(const struct tb_opt *o, struct tb_err *err)
{
    return o->arg ? tb_misuse(err, "--%s is given twice; it takes one value", o->name)
                  : tb_misuse(err, "--%s is given twice", o->name);
}

static tb_rc take_common(struct tb_ctx *ctx, int which, const char *value, struct tb_err *err)
{
    switch (which) {
    case BOOK:
        ctx->book_path = value;
        break;
    case PERSON:
        ctx->who = value;
        break;
    case JSON:
        ctx->json = true;
        break;
    case FAR_OFF:
        ctx->far_off = true;
        break;
    default:
        break;
    }
    return value && !*value ? tb_misuse(err, "--%s needs a value", common[which].name) : TB_OK;
}

/* What stands on a tag or a ticket, and may have been scanned. */
static bool is_name(const char *arg)
{
    static const char names[] = "SWATCH LOT BOLT BURN TEST DELIVERY NUMBER ID CARD";

    return arg && tb_word_listed(names, arg, strlen(arg), " ");
}

static void take_arguments(struct tb_ctx *ctx, size_t n, char **argv)
{
    const char **arg = tb_arena_alloc(&ctx->mem, (n + 1) * sizeof *arg);
    const char *said = ctx->cmd->args;

    for (size_t i = 0; i < n; i++)
        arg[i] = said && strncmp(said, "FILE", 4) == 0 ? argv[i] : tb_scanned(argv[i], &ctx->mem);
    ctx->argc = n;
    ctx->argv = arg;
}

static tb_rc take_own(struct tb_ctx *ctx, const struct tb_opt *o, const char *value, struct tb_err *err)
{
    char name[64];
    tb_rc rc = TB_OK;

    if (is_name(o->arg))
        value = tb_scanned(value, &ctx->mem);
    if (!o->repeats && tb_opt_on(ctx, o->name))
        return twice(o, err);
    (void)snprintf(name, sizeof name, "--%s", o->name);
    if (o->arg && strncmp(o->arg, "FILE", 4) != 0)
        rc = tb_option_words(name, value, err);
    ctx->given[ctx->givens].opt = o;
    ctx->given[ctx->givens++].value = value && !tb_said_blank(value) ? value : "";
    return rc;
}

/* The word that getopt stands at: it goes on within "-x.csv" before it leaves it. */
static const char *word_at(int argc, char **argv, bool within)
{
    if (within && optind < argc && argv[optind][0] == '-' && argv[optind][1] == optopt)
        return argv[optind];
    return argv[optind > 1 ? optind - 1 : 1];
}

/* The options that begin as `word` does, "--sample-mm, --saw"; how many. */
static size_t begun_so(struct tb_text *out, const struct tb_opt *o, const char *word)
{
    size_t n = strcspn(word, "="), found = 0;

    for (; n > 2 && o && o->name; o++)
        if (strncmp(o->name, word + 2, n - 2) == 0)
            tb_text_addf(out, "%s--%s", found++ ? ", " : "", o->name);
    return found;
}

static tb_rc no_option(const struct tb_ctx *ctx, const char *word, struct tb_err *err)
{
    const char *args = ctx->cmd->args;
    struct tb_text fit = { 0 };
    tb_rc rc;

    if (args && strncmp(args, "FILE", 4) == 0 && word[1] != '-' && word[1] && word[2])
        return tb_misuse(err, "%s has no option %s; a file of that name is given as ./%s", ctx->cmd->name,
                         word, word);
    if (begun_so(&fit, ctx->cmd->opts, word) > 1)
        rc = tb_misuse(err, "%s has no option %s; so begin %s", ctx->cmd->name, word, fit.s);
    else
        rc = tb_misuse(err, "%s has no option %s", ctx->cmd->name, word);
    tb_text_free(&fit);
    return rc;
}

tb_rc tb_options_read(struct tb_ctx *ctx, int argc, char **argv, bool *help, struct tb_err *err)
{
    struct option lo[OPTS_MOST] = { 0 };
    bool said[TB_COUNT(common)] = { false };
    int at, own = (int)add_options(lo, 0, ctx->cmd->opts);
    tb_rc rc = TB_OK;

    (void)add_options(lo, (size_t)own, common);
    ctx->given = tb_alloc((size_t)argc + 1, sizeof *ctx->given);
    optind = 0; /* glibc: start afresh */
    opterr = 0;
    while (rc == TB_OK && (at = getopt_long(argc, argv, ":h", lo, NULL)) != -1) {
        const char *word = word_at(argc, argv, at == '?' && optopt);
        int which = (at == 'h' ? own + HELP : at) - own;

        if (at == ':')
            return tb_misuse(err, "%s needs a value", word);
        if (at == '?')
            return no_option(ctx, word, err);
        if (which < 0) {
            rc = take_own(ctx, &ctx->cmd->opts[at], optarg, err);
            continue;
        }
        rc = said[which] ? twice(&common[which], err) : take_common(ctx, which, optarg, err);
        *help = *help || which == HELP;
        said[which] = true;
    }
    take_arguments(ctx, (size_t)(argc - optind), argv + optind);
    return rc;
}
