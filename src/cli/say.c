/* Sentences that several commands say, and the ways to say one. */
#include "cli/show.h"

#include <math.h>

void tb_say(FILE *out, const char *fmt, ...)
{
    va_list ap;

    va_start(ap, fmt);
    (void)vfprintf(out, _(fmt), ap); /* NOLINT(clang-diagnostic-format-nonliteral) */
    va_end(ap);
}

void tb_part(struct tb_text *list, const char *fmt, ...)
{
    va_list ap;

    if (list->n)
        tb_text_add(list, ", ");
    va_start(ap, fmt);
    tb_text_vsay(list, fmt, ap);
    va_end(ap);
}

void tb_clause(struct tb_text *sentence, const char *fmt, ...)
{
    va_list ap;

    if (sentence->n)
        tb_text_add(sentence, "; ");
    va_start(ap, fmt);
    tb_text_vsay(sentence, fmt, ap);
    va_end(ap);
}

void tb_ratio_words(struct tb_text *out, double log_ratio)
{
    double odds = exp(fabs(log_ratio));

    if (isnan(log_ratio))
        tb_text_add(out, _("not judged"));
    else if (odds < 1.1)
        tb_text_add(out, _("about even"));
    else if (odds >= 1e6)
        tb_text_addf(out, log_ratio > 0 ? _("more than a million to 1 for it")
                                        : _("more than a million to 1 against it"));
    else
        tb_text_addf(out, log_ratio > 0 ? _("%.*f to 1 for it") : _("%.*f to 1 against it"),
                     odds < 9.95 ? 1 : 0, odds);
}

void tb_print_cautions(struct tb_ctx *ctx, const struct tb_composition *c, const char *test)
{
    const struct tb_caution *list;
    struct tb_arena mem = { 0 };
    size_t n;

    tb_bench_cautions(&list, &n, c, test, &mem);
    if (n)
        (void)fputs(_("Cautions:\n"), ctx->out);
    for (size_t i = 0; i < n; i++)
        (void)fprintf(ctx->out, "  - %s\n", list[i].say);
    tb_arena_free(&mem);
}

void tb_early_words(struct tb_text *out, const char *moment, const struct tb_lot *lot)
{
    if (!tb_before_arrival(moment, lot))
        return;
    tb_text_addf(
        out,
        _("%.10s is before delivery %s arrived (%s): one of the two days is wrong, unless the cloth came "
          "ahead of the delivery."),
        moment, lot->delivery_ref, lot->arrived);
}

void tb_print_early(struct tb_ctx *ctx, json_t *json, const char *moment, const struct tb_lot *lot)
{
    struct tb_text t = { 0 };

    tb_early_words(&t, moment, lot);
    if (t.n && json)
        (void)json_object_set_new(json, "note", tb_json_text(t.s));
    else if (t.n)
        (void)fprintf(ctx->out, _("Note: %s\n"), t.s);
    tb_text_free(&t);
}

const char *tb_counted(char out[TB_COUNTED], size_t n, const char *word)
{
    (void)snprintf(out, TB_COUNTED, "%zu %s", n, word);
    return out;
}
