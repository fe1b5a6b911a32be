/* The options of `draw`: the plan that is asked for, and the file of its curve. */
#include "cli/sampling/draw.h"

#include "tenterbook/plan_curve.h"

static tb_rc read_acceptance(struct tb_plan_wish *w, struct tb_ctx *ctx, struct tb_err *err)
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
    w->aql = tb_opt_number(ctx, "aql", w->aql, 0.01, 1000);
    return ctx->rc;
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

tb_rc draw_options(struct tb_plan_wish *w, struct tb_ctx *ctx, long bolts, struct tb_err *err)
{
    tb_rc rc;

    *w = (struct tb_plan_wish){ 0 }; /* what is not given takes the defaults of plan.h */
    if ((rc = choose(w, ctx, err)) != TB_OK)
        return rc;
    w->sure = tb_opt_chance(ctx, "sure", 0, false);
    w->catch_one = tb_opt_chance(ctx, "catch", 0, true);
    w->share = tb_opt_chance(ctx, "share", 0, true);
    if (w->kind == TB_PLAN_ACCEPTANCE && (rc = read_acceptance(w, ctx, err)) != TB_OK)
        return rc;
    w->bad = tb_opt_whole(ctx, "false", 0, 1, bolts);
    return ctx->rc;
}

tb_rc draw_curve_begin(struct tb_outset *files, const struct tb_ctx *ctx, struct tb_err *err)
{
    const char *path = tb_opt(ctx, "curve");
    struct tb_outfile *file;
    tb_rc rc;

    files->replace = tb_opt_on(ctx, "replace");
    rc = path ? tb_outset_add(&file, files, path, ".svg", err) : TB_OK;
    return rc == TB_EEXISTS ? TB_EREFUSED : rc; /* what is there twice in a draw is a lot, and a misuse */
}

tb_rc draw_curve_end(struct tb_outset *files, tb_rc rc, const struct tb_plan *p, struct tb_err *err)
{
    if (rc == TB_OK && files->n)
        rc = tb_plan_curve_svg(files->file[0]->f, p, err);
    return tb_outset_end(files, rc, err);
}
