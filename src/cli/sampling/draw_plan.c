/* Options of `draw` into a plan, and the plan worked out. */
#include "cli/sampling/draw.h"

#include <math.h>
#include <sodium.h>
#include <string.h>

static tb_rc read_chance(double *out, const struct tb_ctx *ctx, const char *name, bool one_allowed,
                         struct tb_err *err)
{
    double v = *out;
    tb_rc rc = tb_opt_number(&v, ctx, name, 0, 1, err);

    if (rc == TB_OK && tb_opt(ctx, name) && (v <= 0 || (v >= 1 && !one_allowed)))
        return tb_fail(err, TB_EINVAL,
                       one_allowed ? "--%s is %g; it takes a chance above 0, at most 1"
                                   : "--%s is %g; it takes a chance above 0 and below 1",
                       name, v);
    *out = v;
    return rc;
}

static tb_rc read_acceptance(struct draw *d, const struct tb_ctx *ctx, struct tb_err *err)
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
    d->level = (enum tb_level)at;
    d->inspection = (enum tb_inspection)how;
    return tb_opt_number(&d->aql, ctx, "aql", 0.01, 1000, err);
}

static tb_rc choose(struct draw *d, const struct tb_ctx *ctx, struct tb_err *err)
{
    int plans = tb_opt_on(ctx, "aql") + tb_opt_on(ctx, "share") + tb_opt_on(ctx, "every");

    if (plans > 1)
        return tb_misuse(err, "--aql, --share and --every are three plans; give one of them");
    if (!tb_opt_on(ctx, "aql") && (tb_opt_on(ctx, "level") || tb_opt_on(ctx, "inspection")))
        return tb_misuse(err, "--level and --inspection belong to a plan with --aql");
    if (tb_opt_on(ctx, "aql"))
        d->plan = DRAW_ACCEPTANCE;
    else if (tb_opt_on(ctx, "share"))
        d->plan = DRAW_SHARE;
    else if (tb_opt_on(ctx, "every"))
        d->plan = DRAW_EVERY;
    return TB_OK;
}

tb_rc draw_options(struct draw *d, const struct tb_ctx *ctx, struct tb_err *err)
{
    tb_rc rc = choose(d, ctx, err);

    d->sure = d->sure > 0 ? d->sure : TB_SURE_DEFAULT;
    d->bad_given = tb_opt_on(ctx, "false");
    if (tb_opt_on(ctx, "catch"))
        (void)snprintf(d->catch_from, sizeof d->catch_from, "%s", _("as given"));
    if (rc == TB_OK)
        rc = read_chance(&d->sure, ctx, "sure", false, err);
    if (rc == TB_OK)
        rc = read_chance(&d->catch_one, ctx, "catch", true, err);
    if (rc == TB_OK && d->plan == DRAW_SHARE)
        rc = read_chance(&d->share, ctx, "share", true, err);
    if (rc == TB_OK && d->plan == DRAW_ACCEPTANCE)
        rc = read_acceptance(d, ctx, err);
    if (rc == TB_OK)
        rc = tb_opt_whole(&d->bad, ctx, "false", 1, d->bolts, err);
    /* a tenth of the bolts is what nobody would want to miss; stated in docs/sampling.md */
    if (rc == TB_OK && !d->bad_given && d->plan == DRAW_DISCOVERY) {
        d->bad = (d->bolts + 9) / 10;
        d->bad_given = true;
    }
    return rc;
}

tb_rc draw_shows(double *chance, const struct draw *d, long bad, struct tb_err *err)
{
    double accepted = 0;
    tb_rc rc;

    if (d->strata && d->accept == 0)
        return tb_spread_chance(chance, NULL, d->strata, d->n_strata, bad, d->catch_one, err);
    if (d->accept == 0)
        return tb_discovery_chance(chance, NULL, d->bolts, bad, d->cut < 0 ? d->bolts : d->cut, d->catch_one,
                                   err);
    rc = tb_accept_lot(&accepted, d->bolts, bad, d->cut, d->accept, d->catch_one, err);
    *chance = 1 - accepted;
    return rc;
}

/* Smallest number of false bolts that shows with the chance asked for; all of them where none does. */
static tb_rc least_shown(long *bad, const struct draw *d, struct tb_err *err)
{
    long least = 1, most = d->bolts;
    tb_rc rc = TB_OK;

    while (rc == TB_OK && least < most) {
        long k = least + (most - least) / 2;
        double chance = 0;

        rc = draw_shows(&chance, d, k, err);
        if (1 - chance <= (1 - d->sure) * (1 + 1e-12)) /* a tie counts as reached, as in a plan */
            most = k;
        else
            least = k + 1;
    }
    *bad = least;
    return rc;
}

static tb_rc cut_of(struct draw *d, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    switch (d->plan) {
    case DRAW_DISCOVERY:
        if (d->strata)
            return tb_spread_cut(&d->cut, d->strata, d->n_strata, d->bad, d->sure, d->catch_one, err);
        return tb_discovery_cut(&d->cut, d->bolts, d->bad, d->sure, d->catch_one, err);
    case DRAW_ACCEPTANCE:
        rc = tb_acceptance_plan(&d->acceptance, d->bolts, d->level, d->aql, d->inspection, err);
        d->cut = d->acceptance.cut;
        d->accept = d->acceptance.refuse - 1; /* in the gap of a reduced plan the lot passes too */
        break;
    case DRAW_SHARE:
        d->cut = (long)fmax(1, ceil(d->share * (double)d->bolts * (1 - 1e-12)));
        break;
    case DRAW_EVERY:
        d->cut = d->bolts;
        break;
    }
    if (rc == TB_OK && d->strata)
        rc = tb_spread(d->strata, d->n_strata, d->cut, err);
    return rc;
}

tb_rc draw_work_out(struct draw *d, struct tb_err *err)
{
    tb_rc rc = cut_of(d, err);

    if (rc == TB_OK && !d->bad_given)
        rc = least_shown(&d->bad, d, err);
    return rc == TB_OK ? draw_shows(&d->chance, d, d->bad, err) : rc;
}

/* Numbers of false bolts for the curve: 1, 2, 3 ... and wider steps until nearly everything shows. */
tb_rc draw_curve(struct draw_point *out, size_t *n, size_t most, const struct draw *d, struct tb_err *err)
{
    long top = d->bolts;
    double step;
    tb_rc rc = TB_OK;

    *n = 0;
    for (long k = 1; k < d->bolts; k *= 2) {
        double chance = 0;

        if ((rc = draw_shows(&chance, d, k, err)) != TB_OK)
            return rc;
        if (chance > 0.999) {
            top = k;
            break;
        }
    }
    step = pow((double)top, 1 / (double)(most - 1));
    for (size_t i = 0; i < most && rc == TB_OK; i++) {
        double at = d->accept > 0 ? (double)top * (double)(i + 1) / (double)most : pow(step, (double)i);
        long k = lround(top < (long)most ? (double)(i + 1) : at);

        if (*n > 0 && k <= out[*n - 1].bad)
            k = out[*n - 1].bad + 1;
        if (k > top)
            break;
        out[*n].bad = k;
        rc = draw_shows(&out[*n].chance, d, k, err);
        ++*n;
    }
    return rc;
}

void draw_seed_make(char out[17])
{
    unsigned char bytes[8];

    randombytes_buf(bytes, sizeof bytes);
    (void)sodium_bin2hex(out, 17, bytes, sizeof bytes);
}
