/* Sentences that several commands print, and the way to print one. */
#include "cli/show.h"

#include <string.h>

void tb_say(FILE *out, const char *fmt, ...)
{
    va_list ap;

    va_start(ap, fmt);
    (void)vfprintf(out, _(fmt), ap); /* NOLINT(clang-diagnostic-format-nonliteral) */
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
    (void)fprintf(stderr, how.n ? "tenterbook: %s (%s)\n" : "tenterbook: %s\n", err->msg, tb_text_str(&how));
    tb_text_free(&how);
}

/* Indented by one, so that a person can read it and a line can be searched. */
tb_rc tb_print_json(struct tb_ctx *ctx, json_t *json, struct tb_err *err)
{
    int bad = json_dumpf(json, ctx->out, JSON_INDENT(1) | JSON_REAL_PRECISION(17));

    json_decref(json);
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
    return tb_observation_read(seen, tb_opt(ctx, "saw"), tb_opt(ctx, "not"), tb_opt(ctx, "looked"), ctx->err);
}

/* Before anything is lit, not after: the list stands above what is to be done. */
void tb_print_cautions(struct tb_ctx *ctx, const struct tb_composition *c, const char *test)
{
    const struct tb_caution *list;
    size_t n;

    tb_bench_cautions(&list, &n, c, test, &ctx->mem);
    if (n)
        tb_say(ctx->out, "Cautions:\n");
    for (size_t i = 0; i < n; i++)
        (void)fprintf(ctx->out, "  - %s\n", list[i].say);
}

void tb_print_early(struct tb_ctx *ctx, json_t *json, const char *moment, const struct tb_lot *lot)
{
    struct tb_text t = { 0 };

    tb_early_words(&t, moment, lot);
    if (t.n && json)
        tb_json_put(json, "note", tb_json_text(t.s));
    else if (t.n)
        tb_say(ctx->out, "Note: %s\n", t.s);
    tb_text_free(&t);
}
