/* What a command was told: the options of this run. */
#include "cli/cmd.h"
#include "tenterbook/act_bench.h"
#include "tenterbook/date.h"
#include "tenterbook/limits.h"
#include "tenterbook/words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const char *tb_opt_nth(const struct tb_ctx *ctx, const char *name, size_t i)
{
    for (size_t k = 0; k < ctx->givens; k++)
        if (strcmp(ctx->given[k].opt->name, name) == 0 && i-- == 0)
            return ctx->given[k].value;
    return NULL;
}

size_t tb_opt_count(const struct tb_ctx *ctx, const char *name)
{
    size_t n = 0;

    while (tb_opt_nth(ctx, name, n))
        n++;
    return n;
}

const char *const *tb_opt_all(size_t *n, struct tb_ctx *ctx, const char *name)
{
    const char **all;

    *n = tb_opt_count(ctx, name);
    all = tb_arena_alloc(&ctx->mem, (*n + 1) * sizeof *all);
    for (size_t i = 0; i < *n; i++)
        all[i] = tb_opt_nth(ctx, name, i);
    return all;
}

/* The last one counts, as with any other program: a script can add to a line. */
const char *tb_opt(const struct tb_ctx *ctx, const char *name)
{
    const char *value = NULL;

    for (size_t k = 0; k < ctx->givens; k++)
        if (strcmp(ctx->given[k].opt->name, name) == 0)
            value = ctx->given[k].value;
    return value;
}

const char *tb_opt_among(const struct tb_ctx *ctx, const char *names)
{
    for (size_t k = 0; k < ctx->givens; k++)
        if (tb_word_listed(names, ctx->given[k].opt->name, strlen(ctx->given[k].opt->name), " "))
            return ctx->given[k].opt->name;
    return NULL;
}

bool tb_opt_on(const struct tb_ctx *ctx, const char *name)
{
    return tb_opt(ctx, name) != NULL;
}

/* Whether an option is still to be read: after a refusal what else is wrong is not looked at. */
static const char *open_option(const struct tb_ctx *ctx, const char *name)
{
    return ctx->rc == TB_OK ? tb_opt(ctx, name) : NULL;
}

/* Infinity and not-a-number are numbers to strtod, but not to anybody at the bench. */
double tb_opt_number(struct tb_ctx *ctx, const char *name, double unless, double least, double most)
{
    const char *text = open_option(ctx, name);
    char *end;
    double v;

    if (!text)
        return unless;
    v = strtod(text, &end);
    if (!*text || *end || !isfinite(v) || v < least || v > most)
        ctx->rc = tb_fail(ctx->err, TB_EINVAL, "--%s is '%s'; it takes a number from %g to %g", name, text,
                          least, most);
    return v;
}

long tb_opt_whole(struct tb_ctx *ctx, const char *name, long unless, long least, long most)
{
    const char *text = open_option(ctx, name);
    char *end;
    long v;

    if (!text)
        return unless;
    v = strtol(text, &end, 10);
    if (!*text || *end || v < least || v > most)
        ctx->rc = tb_fail(ctx->err, TB_EINVAL, "--%s is '%s'; it takes a whole number from %ld to %ld", name,
                          text, least, most);
    return v;
}

double tb_opt_chance(struct tb_ctx *ctx, const char *name, double unless, bool certain_too)
{
    double v = tb_opt_number(ctx, name, unless, 0, 1);

    if (open_option(ctx, name) && (v <= 0 || (v >= 1 && !certain_too)))
        ctx->rc = tb_fail(ctx->err, TB_EINVAL,
                          certain_too ? N_("--%s is %g; it takes a chance above 0, at most 1")
                                      : N_("--%s is %g; it takes a chance above 0 and below 1"),
                          name, v);
    return v;
}

int tb_opt_word(struct tb_ctx *ctx, const char *name, int unless, const struct tb_words *words)
{
    const char *text = open_option(ctx, name);

    if (text)
        ctx->rc = tb_word_read(&unless, words, text, ctx->err);
    return unless;
}

const char *tb_opt_moment(struct tb_ctx *ctx, const char *name)
{
    const char *moment = NULL;
    char option[32];

    (void)snprintf(option, sizeof option, "--%s", name);
    if (ctx->rc == TB_OK)
        ctx->rc = tb_past_moment(&moment, option, tb_opt(ctx, name), &ctx->mem, ctx->err);
    return moment;
}

/* A day stays text: it is what the book keeps and compares. */
const char *tb_opt_day(struct tb_ctx *ctx, const char *name)
{
    const char *text = open_option(ctx, name);

    if (text && !tb_day_valid(text))
        ctx->rc = tb_fail(ctx->err, TB_EINVAL, "--%s is '%s'; it takes a day like 2026-10-05", name, text);
    else if (text && !tb_day_recorded(text))
        ctx->rc = tb_fail(ctx->err, TB_EINVAL, "--%s is '%s'; it takes a day from %s to %s", name, text,
                          TB_DAY_FIRST, TB_DAY_LAST);
    return text;
}

tb_rc tb_misuse(struct tb_err *err, const char *fmt, ...)
{
    char text[sizeof err->msg];
    va_list ap;

    va_start(ap, fmt);
    (void)vsnprintf(text, sizeof text, _(fmt), ap);
    va_end(ap);
    return tb_fail(err, TB_EUSAGE, "%s", text);
}
