#include "cli/show.h"
#include "tenterbook/intake.h"
#include "tenterbook/law.h"
#include "tenterbook/setting.h"

#include <stdlib.h>
#include <string.h>

static tb_rc list_all(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_table t;
    json_t *json = json_object();
    tb_rc rc = TB_OK;

    tb_table_begin(&t, 3);
    for (const struct tb_setting_spec *s = tb_setting_specs; s->name && rc == TB_OK; s++) {
        const char *value = "";

        if (s->name[strlen(s->name) - 1] != ':' &&
            (rc = tb_setting_text(&value, ctx->book, s->name, TB_BOOK_NOW, &mem, err)) != TB_OK)
            break;
        tb_table_cell(&t, "%s", s->name);
        tb_table_cell(&t, "%s", value);
        tb_table_cell(&t, "%s", _(s->brief));
        (void)json_object_set_new(json, s->name, tb_json_text(value));
    }
    if (rc == TB_OK && ctx->json)
        rc = tb_print_json(ctx, json_incref(json), err);
    else if (rc == TB_OK)
        tb_table_print(&t, ctx->out, "lll", 100);
    tb_table_drop(&t);
    json_decref(json);
    tb_arena_free(&mem);
    return rc;
}

/* What a market or a field is called is known to the law and to the packing lists, not to the table of settings. */
static tb_rc check_names(const struct tb_setting_spec *spec, const char *value, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    if (strcmp(spec->name, "header:") == 0 && *value && tb_field_by_key(value) < 0)
        return tb_fail(err, TB_EINVAL,
                       "'%s' is no field of a packing list; 'tenterbook receive --help' lists them", value);
    if (strcmp(spec->name, "market") != 0)
        return TB_OK;
    for (value += strspn(value, ", "); *value && rc == TB_OK; value += strspn(value, ", ")) {
        size_t n = strcspn(value, ", ");
        char *one = tb_strndup(value, n);

        rc = tb_market_check(one, err);
        free(one);
        value += n;
    }
    return rc;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    const struct tb_setting_spec *spec;
    tb_rc rc;

    if (ctx->argc == 0)
        return list_all(ctx, err);
    if (ctx->argc == 1)
        return tb_misuse(err, "set needs a value for %s", ctx->argv[0]);
    if ((rc = tb_setting_spec(&spec, ctx->argv[0], err)) != TB_OK ||
        (rc = tb_setting_check(spec, ctx->argv[1], err)) != TB_OK ||
        (rc = check_names(spec, ctx->argv[1], err)) != TB_OK || (rc = tb_ctx_begin(ctx, "set", err)) != TB_OK)
        return rc;
    tb_book_subject(ctx->book, ctx->argv[0]);
    if ((rc = tb_setting_set(ctx->book, ctx->argv[0], ctx->argv[1], err)) == TB_OK)
        rc = tb_book_commit(ctx->book, err);
    else
        tb_book_rollback(ctx->book);
    if (rc == TB_OK && ctx->json)
        return tb_print_json(ctx, json_pack("{s:o}", ctx->argv[0], tb_json_text(ctx->argv[1])), err);
    if (rc == TB_OK)
        (void)fprintf(ctx->out, _("%s is now %s.\n"), ctx->argv[0], ctx->argv[1]);
    return rc;
}

const struct tb_cmd tb_cmd_set = {
    .name = "set",
    .args = "[NAME VALUE]",
    .brief = "show the site's settings, or change one",
    .about =
        "Without arguments lists the settings with their values. With a name and a value records the value; "
        "who changed it and when stays in the journal.",
    .example = "tenterbook set\ntenterbook set flame yes\ntenterbook set header:Warenbezeichnung article",
    .max = 2,
    .flags = TB_WRITES,
    .run = run,
};
