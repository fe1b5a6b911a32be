/* How sentences, failures and answers are printed. */
#include "line/print.h"

#include "tenterbook/json.h"
#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>

static void vsay(FILE *out, const char *fmt, va_list ap) TB_PRINTF(2, 0);
static void vsay(FILE *out, const char *fmt, va_list ap)
{
    char line[1000], *shown; /* most of them fit, and the last words of a run that finds no memory have to */
    struct tb_text t = { 0 };
    const char *said = line;
    va_list again;
    int n;

    va_copy(again, ap);
    n = vsnprintf(line, sizeof line, _(fmt), ap); /* NOLINT(clang-diagnostic-format-nonliteral) */
    if (n < 0 || (size_t)n >= sizeof line) {
        tb_text_vsay(&t, fmt, again);
        said = tb_text_str(&t);
    }
    va_end(again);
    shown = tb_utf8_shown(said, strlen(said), "\n\t");
    (void)fputs(shown ? shown : said, out);
    free(shown);
    tb_text_free(&t);
}

const char *tb_shown(struct tb_ctx *ctx, const char *name)
{
    char *shown = tb_utf8_shown(name, strlen(name), "");
    const char *kept = shown ? tb_arena_strdup(&ctx->mem, shown) : name;

    free(shown);
    return kept;
}

void tb_say(FILE *out, const char *fmt, ...)
{
    va_list ap;

    va_start(ap, fmt);
    vsay(out, fmt, ap);
    va_end(ap);
}

/* The option of a name that a failure is about; the person stands before the command. */
static const struct tb_opt *option_of(const struct tb_cmd *cmd, const char *name, size_t n)
{
    static const struct tb_opt person = { "as-person", "NAME", NULL, false };

    for (const struct tb_opt *o = cmd ? cmd->opts : NULL; o && o->name; o++)
        if (strlen(o->name) == n && strncmp(o->name, name, n) == 0)
            return o;
    return strlen(person.name) == n && strncmp(person.name, name, n) == 0 ? &person : NULL;
}

void tb_print_failure(const struct tb_ctx *ctx, const struct tb_err *err)
{
    struct tb_text how = { 0 };

    for (const char *p = err->about; *p; p += strcspn(p, " "), p += strspn(p, " ")) {
        const struct tb_opt *o = option_of(ctx->cmd, p, strcspn(p, " "));

        if (o)
            tb_text_addf(&how, "%s--%s%s%s", how.n ? " " : "", o->name, o->arg ? " " : "",
                         o->arg ? o->arg : "");
    }
    tb_say(stderr, how.n ? "tenterbook: %s (%s)\n" : "tenterbook: %s\n", err->msg, tb_text_str(&how));
    tb_text_free(&how);
}

/* In JSON only texts hold such characters, and there an escape says the same. */
static void put_escaped(FILE *out, const char *s)
{
    for (size_t n = strlen(s), at = 0, used; at < n; at += used) {
        unsigned cp;

        used = tb_utf8_next(s + at, n - at, &cp);
        if (!tb_utf8_unseen(cp) || cp == '\n')
            (void)fwrite(s + at, 1, used, out);
        else if (cp < 0x10000)
            (void)fprintf(out, "\\u%04x", cp);
        else
            (void)fprintf(out, "\\u%04x\\u%04x", 0xD800 + ((cp - 0x10000) >> 10),
                          0xDC00 + ((cp - 0x10000) & 0x3FF));
    }
}

/* Indented by one, so that a person can read it and a line can be searched. */
tb_rc tb_print_json(struct tb_ctx *ctx, json_t *json, struct tb_err *err)
{
    char *text = tb_json_shown(json, JSON_INDENT(1));
    bool bad;

    json_decref(json);
    if (!text)
        return tb_fail(err, TB_EIO, "the output could not be written");
    put_escaped(ctx->out, text);
    free(text);
    bad = ferror(ctx->out) != 0;
    return bad || fputc('\n', ctx->out) == EOF ? tb_fail(err, TB_EIO, "the output could not be written")
                                               : TB_OK;
}

void tb_print_words(struct tb_ctx *ctx, struct tb_text *words)
{
    (void)fputs(tb_text_str(words), ctx->out);
    tb_text_free(words);
}

tb_rc tb_print(struct tb_ctx *ctx, json_t *json, struct tb_text *words, struct tb_err *err)
{
    if (!ctx->json) {
        json_decref(json);
        tb_print_words(ctx, words);
        return TB_OK;
    }
    tb_text_free(words);
    return tb_print_json(ctx, json, err);
}

tb_rc tb_opt_seen(struct tb_observation *seen, struct tb_ctx *ctx)
{
    tb_rc rc = tb_observation_read(seen, tb_opt_list(ctx, "saw"), tb_opt_list(ctx, "not"),
                                   tb_opt_list(ctx, "looked"), ctx->err);

    return rc == TB_OK ? tb_observation_could_not(seen, tb_opt_list(ctx, "could-not"), ctx->err) : rc;
}

const char *tb_file_twin(struct tb_ctx *ctx, const char *path, const char *ending)
{
    const char *dot = strrchr(path, '.');

    return tb_arena_printf(&ctx->mem, "%.*s%s", (int)(dot ? (size_t)(dot - path) : strlen(path)), path,
                           ending);
}
