/* What every command needs to answer: JSON, and options that give a day or a moment. */
#include "cli/show.h"

#include "tenterbook/date.h"

/* Indented by one, so that a person can read it and a line can be searched. */
tb_rc tb_print_json(struct tb_ctx *ctx, json_t *json, struct tb_err *err)
{
    int bad = json_dumpf(json, ctx->out, JSON_INDENT(1) | JSON_REAL_PRECISION(17));

    json_decref(json);
    return bad || fputc('\n', ctx->out) == EOF ? tb_fail(err, TB_EIO, "the output could not be written")
                                               : TB_OK;
}

tb_rc tb_opt_moment(const char **out, const struct tb_ctx *ctx, const char *name, struct tb_arena *mem,
                    struct tb_err *err)
{
    char option[32];

    (void)snprintf(option, sizeof option, "--%s", name);
    return tb_past_moment(out, option, tb_opt(ctx, name), mem, err);
}

/* A day stays text: it is what the book keeps and compares. */
tb_rc tb_opt_day(const char **out, const struct tb_ctx *ctx, const char *name, struct tb_err *err)
{
    const char *text = tb_opt(ctx, name);

    if (text && !tb_day_valid(text))
        return tb_fail(err, TB_EINVAL, "--%s is '%s'; it takes a day like 2026-10-05", name, text);
    if (text)
        *out = text;
    return TB_OK;
}
