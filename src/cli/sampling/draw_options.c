/* The options of `draw` into the plan that is asked for. */
#include "cli/sampling/draw.h"

static tb_rc read_acceptance(struct tb_plan_wish *w, const struct tb_ctx *ctx, struct tb_err *err)
{
    const char *level = tb_opt(ctx, "level"), *inspection = tb_opt(ctx, "inspection");
    int at = tb_level_by_key(level ? level : "II"), how;

    how = tb_inspection_by_key(inspection ? inspection : "normal");
    if (at < 0)
        return tb_fail(err, TB_EINVAL, "there is no inspection level '%s'; they are S-1 S-2 S-3 S-4 I II III",
                       level);
    if (how < 0)
        return tb_fail(err, TB_EINVAL, "there is no inspection '%s'; it is normal, tightened or reduced",
                       inspection);
    w->level = (enum tb_level)at;
    w->inspection = (enum tb_inspection)how;
    return tb_opt_number(&w->aql, ctx, "aql", 0.01, 1000, err);
}

/* Two plans at once have no answer, and an option of another plan would go unheard. */
static tb_rc choose(struct tb_plan_wish *w, const struct tb_ctx *ctx, struct tb_err *err)
{
    int plans = tb_opt_on(ctx, "aql") + tb_opt_on(ctx, "share") + tb_opt_on(ctx, "every");

    if (plans > 1)
        return tb_misuse(err, "--aql, --share and --every are three plans; give one of them");
    if (!tb_opt_on(ctx, "aql") && (tb_opt_on(ctx, "level") || tb_opt_on(ctx, "inspection")))
        return tb_misuse(err, "--level and --inspection belong to a plan with --aql");
    w->kind = tb_opt_on(ctx, "aql")     ? TB_PLAN_ACCEPTANCE
              : tb_opt_on(ctx, "share") ? TB_PLAN_SHARE
              : tb_opt_on(ctx, "every") ? TB_PLAN_EVERY
                                        : TB_PLAN_DISCOVERY;
    return TB_OK;
}

tb_rc draw_options(struct tb_plan_wish *w, const struct tb_ctx *ctx, long bolts, struct tb_err *err)
{
    tb_rc rc;

    *w = (struct tb_plan_wish){ 0 }; /* what is not given takes the defaults of plan.h */
    if ((rc = choose(w, ctx, err)) != TB_OK ||
        (rc = tb_opt_chance(&w->sure, ctx, "sure", false, err)) != TB_OK ||
        (rc = tb_opt_chance(&w->catch_one, ctx, "catch", true, err)) != TB_OK)
        return rc;
    if (w->kind == TB_PLAN_SHARE)
        rc = tb_opt_chance(&w->share, ctx, "share", true, err);
    else if (w->kind == TB_PLAN_ACCEPTANCE)
        rc = read_acceptance(w, ctx, err);
    return rc == TB_OK ? tb_opt_whole(&w->bad, ctx, "false", 1, bolts, err) : rc;
}
