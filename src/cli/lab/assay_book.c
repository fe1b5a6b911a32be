/* assay LOT: compare with what the lot declares, record the result, or list what was recorded. */
#include "cli/lab/assay.h"

#include "tenterbook/dispute.h"
#include "tenterbook/utf8.h"

#include <stdlib.h>

/* --- what is on record ---------------------------------------------------------------------------------------- */

static tb_rc list(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_lot lot;
    struct tb_analysis *x;
    struct tb_sending *sent;
    struct tb_text t = { 0 };
    size_t n, sendings;
    json_t *j;
    tb_rc rc;

    if ((rc = tb_lot_find(&lot, ctx->book, ctx->argv[0], &ctx->mem, err)) != TB_OK ||
        (rc = tb_analysis_list(&x, &n, ctx->book, lot.id, &ctx->mem, err)) != TB_OK ||
        (rc = tb_sending_list(&sent, &sendings, ctx->book, lot.id, &ctx->mem, err)) != TB_OK)
        return rc;
    tb_analysis_list_words(&t, &lot, x, n);
    tb_sendings_words(&t, sent, sendings);
    j = tb_json_analysis_list(&lot, x, n);
    tb_json_put(j, "sendings", tb_json_sendings(sent, sendings));
    return tb_print(ctx, j, &t, err);
}

/* --- a new result --------------------------------------------------------------------------------------------- */

/* A report is worth as much as the proof of what was analysed: where nobody recorded that, how to is said. */
static tb_rc sample_words(struct tb_text *out, struct tb_ctx *ctx, const struct tb_assay_lot_outcome *done,
                          struct tb_err *err)
{
    struct tb_joint_sample *joint;
    size_t joints;
    tb_rc rc = tb_joint_sample_list(&joint, &joints, ctx->book, done->lot.id, &ctx->mem, err);
    const char *named = done->analysis.laboratory ? done->analysis.laboratory : "";
    bool sent = joints > 0;

    for (size_t i = 0; i < done->sendings; i++)
        sent = sent || tb_fold_same(done->sending[i].laboratory, named);
    if (rc == TB_OK && !sent)
        tb_text_say(
            out,
            "Which swatch or bolt the laboratory had is not recorded, and the case says so. Where you "
            "know it: tenterbook assay %s --sent-to \"%s\" --swatches TAGS --on DAY\n",
            done->lot.ref, *named ? named : _("LABORATORY"));
    return rc;
}

static tb_rc show_recorded(struct tb_ctx *ctx, const struct tb_assay_lot_outcome *done, struct tb_err *err)
{
    const struct tb_assay *a = &done->assay;
    const char *lot = done->lot.ref;
    struct tb_text t = { 0 };
    tb_rc rc;

    tb_assay_words(&t, a, ASSAY_CONDITION);
    if (!a->claim)
        tb_text_say(
            &t, "\nThe declaration of lot %s (\"%s\") cannot be read for certain: nothing was compared.\n",
            lot, done->said.text);
    if (done->held)
        tb_text_say(
            &t,
            "\nThe lot is now held: no bolt of it goes into use until somebody settles it (tenterbook "
            "settle %s --as ... --why ...).\n",
            lot);
    if (done->lifted)
        tb_text_say(&t, "\nThe hold that the corrected result made is lifted: lot %s is %s.\n", lot,
                    tb_standing_key(done->lot.standing));
    if (done->lot.own_words) {
        tb_text_say(&t, "\nThis answers the words of the supplier.\n");
        tb_assay_label_words(&t, &done->label);
    }
    tb_text_say(&t, "\nRecorded for lot %s as analysis %s.\n", lot, done->analysis.id);
    tb_sendings_open_words(&t, done->sending, done->sendings);
    if ((rc = sample_words(&t, ctx, done, err)) != TB_OK) {
        tb_text_free(&t);
        return rc;
    }
    return tb_print(ctx, tb_json_assay_recorded(done), &t, err);
}

static tb_rc new_result(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_assay_lot_outcome *done = tb_new(struct tb_assay_lot_outcome);
    struct tb_assay_request assay;
    struct tb_assay_lot_request request = { .lot = ctx->argv[0],
                                            .laboratory = tb_opt(ctx, "laboratory"),
                                            .report = tb_opt(ctx, "report"),
                                            .corrects = tb_opt(ctx, "corrects"),
                                            .anyway = tb_opt_on(ctx, "anyway"),
                                            .assay = &assay };
    tb_rc rc;

    request.part = (enum tb_part_kind)tb_opt_word(ctx, "part", TB_PART_WHOLE, &tb_part_words);
    request.analysed_on = tb_opt_day(ctx, "on");
    if ((rc = assay_read(&assay, ctx, err)) == TB_OK &&
        (rc = tb_act_assay(done, &ctx->actor, &request, &ctx->mem, err)) == TB_OK)
        rc = show_recorded(ctx, done, err);
    tb_assay_lot_outcome_free(done);
    free(done);
    return rc;
}

tb_rc assay_on_book(struct tb_ctx *ctx, struct tb_err *err)
{
    tb_rc rc;

    if (tb_opt_on(ctx, "declared"))
        return tb_misuse(err, "a lot has its own declaration; leave --declared out");
    if ((rc = tb_ctx_book(ctx, err)) != TB_OK)
        return rc;
    if (tb_opt_on(ctx, "sent-to") || tb_opt_on(ctx, "swatches"))
        return assay_send(ctx, err);
    return tb_opt_among(ctx, "masses specimen residue weights acid found mixture method")
               ? new_result(ctx, err)
               : list(ctx, err);
}
