/* set: the site's settings, listed or changed. */
#include "cli/show.h"
#include "tenterbook/act_site.h"
#include "tenterbook/setting.h"

#include <string.h>

/* Families such as header:WORD have no value of their own, only their description. */
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
        tb_table_texts(&t, s->name, value, _(s->brief));
        tb_json_put(json, s->name, tb_json_text(value));
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

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_set_request request;
    tb_rc rc;

    if (ctx->argc == 0)
        return list_all(ctx, err);
    if (ctx->argc == 1)
        return tb_misuse(err, "set needs a value for %s", ctx->argv[0]);
    request = (struct tb_set_request){ ctx->argv[0], ctx->argv[1] };
    if ((rc = tb_act_set(&ctx->actor, &request, err)) != TB_OK)
        return rc;
    if (ctx->json)
        return tb_print_json(ctx, json_pack("{s:o}", request.name, tb_json_text(request.value)), err);
    tb_say(ctx->out, "%s is now %s.\n", request.name, request.value);
    return TB_OK;
}

const struct tb_cmd tb_cmd_set = {
    .name = "set",
    .args = "[NAME VALUE]",
    .brief = "show the site's settings, or change one",
    .about = "Without arguments lists the settings with their values. With a name and a value records the "
             "value; who changed it and when stays in the journal.",
    .example = "tenterbook set\ntenterbook set flame yes\ntenterbook set header:Warenbezeichnung article",
    .max = 2,
    .flags = TB_WRITES,
    .run = run,
};
