/* use: bolts that are cut into. With the first cut the right to claim usually ends. */
#include "cli/show.h"

#include <math.h>
#include <string.h>

/* The claim a person is about to lose is named with what is known of the lot, so that the next step is the right one. */
static void say_unreleased(struct tb_text *t, const struct tb_lot *lot, const struct tb_concluded *c)
{
    switch (c->by == TB_BY_NOTHING ? -1 : (int)c->kind) {
    case TB_CONFORMS:
        tb_text_addf(t,
                     _("Nobody released this lot yet, though a laboratory found that it conforms (tenterbook "
                       "settle %s --as released --why ...). The right to claim usually ends with the first "
                       "cut."),
                     lot->ref);
        break;
    case TB_OPEN:
        tb_text_addf(t,
                     _("Nobody released this lot, and what was seen decides nothing yet. The right to claim "
                       "usually ends with the first cut: test it further before more is cut (tenterbook "
                       "judge %s)."),
                     lot->ref);
        break;
    case TB_NOTHING_AGAINST:
        tb_text_addf(t,
                     _("Nobody released this lot yet, though what was seen fits its declaration (tenterbook "
                       "settle %s --as released --why ...). The right to claim usually ends with the first "
                       "cut."),
                     lot->ref);
        break;
    default:
        tb_text_add(t, _("Nobody released this lot yet. The right to claim usually ends with the first cut: "
                         "burn and judge it before more is cut."));
    }
}

/* What the person should know, in a few sentences; nothing where nothing stands against cutting. */
static void say_warning(struct tb_text *t, const struct tb_use_outcome *done)
{
    switch (done->warning) {
    case TB_USE_ANYWAY:
        tb_text_add(t,
                    _("The lot was cut although that may end a claim; the reason is kept. The right to claim "
                      "usually ends here."));
        break;
    case TB_USE_UNRELEASED:
        say_unreleased(t, &done->lot, &done->concluded);
        break;
    case TB_USE_ENDS_TERM:
        tb_text_add(
            t, _("A term with this supplier ends with the first cut: a claim may be lost from here on."));
        break;
    case TB_USE_FINE:
        break;
    }
}

/* Two records of one whole bolt: the second is a slip, or pieces were cut whose metres nobody said. */
static void say_bolt(struct tb_text *out, const char *bolt, const struct tb_use_outcome *done, bool back)
{
    const struct tb_bolt_use *before = NULL;
    const char *lot = done->lot.ref;

    for (size_t i = 0; i < done->befores; i++)
        if (strcmp(done->before[i].bolt_number, bolt) == 0)
            before = &done->before[i];
    if (back && before)
        tb_text_say(out, "The last record of bolt %s of lot %s is taken back; that of %s by %s stays.\n",
                    bolt, lot, before->used_at, before->used_by);
    else if (back)
        tb_text_say(out, "Bolt %s of lot %s is not cut into: the record is taken back.\n", bolt, lot);
    else
        tb_text_say(out, "Bolt %s of lot %s is cut into.\n", bolt, lot);
    if (before && !back)
        tb_text_say(
            out,
            "Please note: bolt %s was recorded as cut into already, at %s by %s. If this is the same cut, "
            "take this record back: tenterbook use %s --lot %s --back --why ...\n",
            bolt, before->used_at, before->used_by, bolt, lot);
}

static tb_rc print(struct tb_ctx *ctx, const struct tb_use_request *request,
                   const struct tb_use_outcome *done, struct tb_err *err)
{
    struct tb_text warn = { 0 }, t = { 0 };
    json_t *j;

    say_warning(&warn, done);
    j = tb_json_use(request, done, warn.s);
    for (size_t i = 0; i < request->bolts; i++)
        say_bolt(&t, request->bolt[i], done, request->back);
    tb_early_words(&t, request->used_at, &done->lot);
    if (warn.n)
        tb_text_addf(&t, "%s\n", warn.s);
    tb_text_free(&warn);
    return tb_print(ctx, j, &t, err);
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
