/* Sentences that several commands print, and the way to print one. */
#include "cli/show.h"

void tb_say(FILE *out, const char *fmt, ...)
{
    va_list ap;

    va_start(ap, fmt);
    (void)vfprintf(out, _(fmt), ap); /* NOLINT(clang-diagnostic-format-nonliteral) */
    va_end(ap);
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
