/* set: the site's settings, listed or changed. */
#include "cli/show.h"
#include "tenterbook/act_site.h"
#include "tenterbook/setting.h"
#include "tenterbook/typed.h"

#include <math.h>
#include <string.h>

struct listing {
    struct tb_ctx *ctx;
    struct tb_table table;
    json_t *json;
};

static void list_one(struct listing *l, const char *name, const char *value, const char *brief)
{
    tb_table_texts(&l->table, name, value, brief);
    tb_json_put(l->json, name, tb_json_text(value));
}

/* Families such as header:WORD have no value of their own: those that were set, each by its own name. */
static tb_rc list_family(struct listing *l, const struct tb_setting_spec *s, struct tb_err *err)
{
    struct tb_setting *set = NULL;
    size_t n = 0;
    tb_rc rc = tb_setting_list(&set, &n, l->ctx->book, s->name, &l->ctx->mem, err);

    list_one(l, s->name, "", _(s->brief));
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if (*set[i].value) /* set to nothing: forgotten again */
            list_one(l, set[i].name, set[i].value, _("taught here"));
    return rc;
}

static tb_rc list_settings(struct listing *l, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (const struct tb_setting_spec *s = tb_setting_specs; s->name && rc == TB_OK; s++) {
        const char *value = "";

        if (s->name[strlen(s->name) - 1] == ':')
            rc = list_family(l, s, err);
        else if ((rc = tb_setting_text(&value, l->ctx->book, s->name, TB_BOOK_NOW, &l->ctx->mem, err)) ==
                 TB_OK)
            list_one(l, s->name, value, _(s->brief));
    }
    return rc;
}

static tb_rc list_all(struct tb_ctx *ctx, struct tb_err *err)
{
    struct listing l = { .ctx = ctx, .json = json_object() };
    tb_rc rc;

    tb_table_begin(&l.table, 3);
    rc = list_settings(&l, err);
    if (rc == TB_OK && ctx->json)
        rc = tb_print_json(ctx, json_incref(l.json), err);
    else if (rc == TB_OK)
        tb_table_print(&l.table, ctx->out, "lll", 100);
    tb_table_drop(&l.table);
    json_decref(l.json);
    return rc;
}

/* "27 %" and "0,27" as the book has them; what is no figure, or can be two, stays for the act to refuse. */
static const char *plain(struct tb_ctx *ctx, const char *name, const char *value)
{
    const struct tb_setting_spec *spec;
    struct tb_err unknown = { 0 };
    struct tb_typed_number v;

    if (tb_setting_spec(&spec, name, &unknown) != TB_OK ||
        (spec->kind != TB_SETTING_NUMBER && spec->kind != TB_SETTING_WHOLE) || !strpbrk(value, ",%") ||
        !tb_number_typed(&v, value) || !isnan(v.other) || (v.percent && spec->most > 1))
        return value;
    return tb_arena_printf(&ctx->mem, "%.15g", v.percent ? v.value / 100 : v.value);
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_set_request request;
    tb_rc rc;

    if (ctx->argc == 0)
        return list_all(ctx, err);
    if (ctx->argc == 1)
        return tb_misuse(err, "set needs a value for %s", ctx->argv[0]);
    request = (struct tb_set_request){ ctx->argv[0], plain(ctx, ctx->argv[0], ctx->argv[1]) };
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
