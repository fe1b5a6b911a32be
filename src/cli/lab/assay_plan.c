/* assay --plan: which methods separate a mixture, and what to expect on the balance. */
#include "cli/lab/assay.h"

#include "tenterbook/limits.h"

tb_rc assay_plan(struct tb_ctx *ctx, const char *text, struct tb_err *err)
{
    struct tb_assay_plan plan = { 0 };
    struct tb_text t = { 0 };
    double gsm = tb_opt_number(ctx, "mass-per-area", 0, TB_MASS_LEAST, TB_MASS_MOST);
    tb_rc rc = ctx->rc;

    if (rc == TB_OK && (rc = tb_assay_plan_make(&plan, text, err)) == TB_OK) {
        tb_assay_plan_words(&t, &plan);
        if (gsm > 0)
            tb_text_say(&t,
                        "A specimen of 1 g takes %.0f cm2 of this cloth; cut it across a whole repeat of the "
                        "warp, and take more: pre-treatment and drying cost some.\n",
                        tb_lab_cloth_cm2(1, gsm));
        rc = tb_print(ctx, tb_json_assay_plan(&plan), &t, err);
    }
    tb_assay_plan_free(&plan);
    return rc;
}
