/* use: bolts that are cut into. With the first cut the right to claim usually ends. */
#include "cli/show.h"

#include <math.h>
#include <string.h>

/* What the person should know, in one sentence; NULL: nothing stands against cutting. */
static const char *warning(enum tb_use_warning w)
{
    switch (w) {
    case TB_USE_ANYWAY:
        return _("The lot was cut although it is held or in dispute; the reason is kept. The right to claim "
                 "usually ends here.");
    case TB_USE_UNRELEASED:
        return _("Nobody released this lot yet. The right to claim usually ends with the first cut: burn and "
                 "judge it before more is cut.");
    case TB_USE_ENDS_TERM:
        return _("A term with this supplier ends with the first cut: a claim may be lost from here on.");
    case TB_USE_FINE:
        break;
    }
    return NULL;
}

static tb_rc print(struct tb_ctx *ctx, const struct tb_use_request *request,
                   const struct tb_use_outcome *done, struct tb_err *err)
{
    const struct tb_lot *lot = &done->lot;
    const char *warn = warning(done->warning), *used_at = request->used_at;
    bool back = request->back, anyway = done->warning == TB_USE_ANYWAY;
    json_t *list, *j;

    if (ctx->json) {
        list = json_array();
        for (size_t i = 0; i < ctx->argc; i++)
            tb_json_push(list, tb_json_text(ctx->argv[i]));
        j = json_pack("{s:s, s:o, s:b, s:b, s:o}", "lot", lot->ref, "bolts", list, "used", !back, "anyway",
                      anyway, "warning", tb_json_text(warn));
        tb_print_early(ctx, j, used_at, lot);
        return tb_print_json(ctx, j, err);
    }
    for (size_t i = 0; i < ctx->argc; i++)
        (void)fprintf(ctx->out,
                      back ? _("Bolt %s of lot %s is not cut into: the record is taken back.\n")
                           : _("Bolt %s of lot %s is cut into.\n"),
                      ctx->argv[i], lot->ref);
    tb_print_early(ctx, NULL, used_at, lot);
    if (warn)
        (void)fprintf(ctx->out, "%s\n", warn);
    return TB_OK;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_use_request request = { .bolt = (const char *const *)ctx->argv,
                                      .bolts = ctx->argc,
                                      .lot = tb_opt(ctx, "lot"),
                                      .back = tb_opt_on(ctx, "back"),
                                      .metres = tb_opt_number(ctx, "metres", (double)NAN, 0, 1e6),
                                      .anyway = tb_opt_on(ctx, "anyway"),
                                      .why = tb_opt(ctx, "why") };
    struct tb_use_outcome done;
    tb_rc rc;

    request.used_at = tb_opt_moment(ctx, "at");
    if ((rc = ctx->rc) != TB_OK || (rc = tb_act_use(&done, &ctx->actor, &request, &ctx->mem, err)) != TB_OK)
        return rc;
    return print(ctx, &request, &done, err);
}

static const struct tb_opt opts[] = {
    { "lot", "LOT", "the lot, where several have a bolt of that number", false },
    { "metres", "M", "how much is cut off each, where that is not the whole bolt", false },
    { "why", "TEXT", "what for; with --anyway, the reason", false },
    { "at", "MOMENT", "when it was cut, UTC, where that is not now", false },
    { "anyway", NULL, "although the lot is held or in dispute", false },
    { "back", NULL, "take the last record of these bolts back: it was a mistake", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_use = {
    .name = "use",
    .args = "BOLT... [--lot LOT] [--metres M] [--anyway --why TEXT]",
    .brief = "record bolts that are cut into",
    .about =
        "Records that bolts are taken into use. Refused while their lot is held, returned or in dispute, "
        "unless somebody says that it shall be cut all the same, and why: under nearly every term of the "
        "trade the right to claim ends with the first cut. A swatch that is cut is not use in this sense "
        "(tenterbook cut).",
    .example =
        "tenterbook use 00412 00413 --why \"order 88\"\ntenterbook use 00412 --back --why \"wrong bolt\"",
    .opts = opts,
    .min = 1,
    .max = 1000,
    .flags = TB_WRITES,
    .run = run,
};
