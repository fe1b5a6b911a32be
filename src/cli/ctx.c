/* What a command was told: the options of this run. */
#include "cli/cmd.h"

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
    for (const char *p = names; *p; p += strcspn(p, " "), p += strspn(p, " "))
        for (size_t k = 0; k < ctx->givens; k++) {
            const char *name = ctx->given[k].opt->name;

            if (strcspn(p, " ") == strlen(name) && strncmp(p, name, strlen(name)) == 0)
                return name;
        }
    return NULL;
}

bool tb_opt_on(const struct tb_ctx *ctx, const char *name)
{
    return tb_opt(ctx, name) != NULL;
}

/* Infinity and not-a-number are numbers to strtod, but not to anybody at the bench. */
tb_rc tb_opt_number(double *out, const struct tb_ctx *ctx, const char *name, double least, double most,
                    struct tb_err *err)
{
    const char *text = tb_opt(ctx, name);
    char *end;
    double v;

    if (!text)
        return TB_OK;
    v = strtod(text, &end);
    if (!*text || *end || !isfinite(v) || v < least || v > most)
        return tb_fail(err, TB_EINVAL, "--%s is '%s'; it takes a number from %g to %g", name, text, least,
                       most);
    *out = v;
    return TB_OK;
}

tb_rc tb_opt_whole(long *out, const struct tb_ctx *ctx, const char *name, long least, long most,
                   struct tb_err *err)
{
    const char *text = tb_opt(ctx, name);
    char *end;
    long v;

    if (!text)
        return TB_OK;
    v = strtol(text, &end, 10);
    if (!*text || *end || v < least || v > most)
        return tb_fail(err, TB_EINVAL, "--%s is '%s'; it takes a whole number from %ld to %ld", name, text,
                       least, most);
    *out = v;
    return TB_OK;
}

tb_rc tb_opt_word(int *out, const struct tb_ctx *ctx, const char *name, const struct tb_words *words,
                  struct tb_err *err)
{
    const char *text = tb_opt(ctx, name);

    return text ? tb_word_read(out, words, text, err) : TB_OK;
}

tb_rc tb_opt_chance(double *out, const struct tb_ctx *ctx, const char *name, bool certain_too,
                    struct tb_err *err)
{
    double v = *out;
    tb_rc rc = tb_opt_number(&v, ctx, name, 0, 1, err);

    if (rc == TB_OK && tb_opt_on(ctx, name) && (v <= 0 || (v >= 1 && !certain_too)))
        return tb_fail(err, TB_EINVAL,
                       certain_too ? N_("--%s is %g; it takes a chance above 0, at most 1")
                                   : N_("--%s is %g; it takes a chance above 0 and below 1"),
                       name, v);
    *out = v;
    return rc;
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
