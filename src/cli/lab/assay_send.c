/* assay LOT --sent-to: swatches of the lot went to a laboratory; its report is recorded when it comes. */
#include "cli/lab/assay.h"

tb_rc assay_send(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_send_request request = { .lot = ctx->argv[0],
                                       .laboratory = tb_opt(ctx, "sent-to"),
                                       .sent_on = tb_opt_day(ctx, "on"),
                                       .anyway = tb_opt_on(ctx, "anyway") };
    const char *other = tb_opt_among(
        ctx, "masses specimen residue weights acid found mixture method dissolved by-hand nitrogen "
             "variant part laboratory report corrects market basis sure");
    struct tb_send_outcome done;
    struct tb_text t = { 0 };
    tb_rc rc = ctx->rc;

    if (other)
        return tb_misuse(err,
                         "--sent-to says that a sample went to the laboratory; what came back (--%s) is "
                         "recorded by itself",
                         other);
    request.swatch = tb_opt_each(&request.swatches, ctx, "swatches");
    if (rc != TB_OK || (rc = tb_act_send(&done, &ctx->actor, &request, &ctx->mem, err)) != TB_OK)
        return rc;
    tb_sendings_words(&t, &done.sending, 1);
    if (!done.sending.answered)
        tb_text_say(&t,
                    "tenterbook todo lists it until its report is recorded: tenterbook assay %s --found ... "
                    "--laboratory ...\n",
                    done.lot.ref);
    return tb_print(ctx, tb_json_sent(&done), &t, err);
}
