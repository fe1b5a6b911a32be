/* plan.c - a draw planned: the defaults, the number of bolts to cut, and what that shows. */
#include "tenterbook/plan.h"

#include "sampling/inside.h"

#include <math.h>

const char *tb_plan_key(enum tb_plan_kind kind)
{
    static const char *const keys[] = { "discovery", "acceptance", "share", "every" };

    return keys[kind];
}

tb_rc tb_plan_shows(double *chance, const struct tb_plan *p, long bad, struct tb_err *err)
{
    double catch_one = p->want.catch_one, accepted = 0;
    tb_rc rc;

    if (p->strata && p->accept == 0)
        return tb_spread_chance(chance, NULL, p->strata, p->n_strata, bad, catch_one, err);
    if (p->accept == 0)
        return tb_discovery_chance(chance, NULL, p->bolts, bad, p->cut < 0 ? p->bolts : p->cut, catch_one,
                                   err);
    if ((rc = tb_accept_lot(&accepted, p->bolts, bad, p->cut, p->accept, catch_one, err)) == TB_OK)
        *chance = 1 - accepted;
    return rc;
}

/* Smallest number of false bolts that shows with the chance asked for; all of them where none does. */
static tb_rc least_shown(long *bad, const struct tb_plan *p, struct tb_err *err)
{
    long least = 1, most = p->bolts;
    tb_rc rc = TB_OK;

    while (rc == TB_OK && least < most) {
        long k = least + (most - least) / 2;
        double chance = 0;

        rc = tb_plan_shows(&chance, p, k, err);
        if (1 - chance <= (1 - p->want.sure) * TB_TIE)
            most = k;
        else
            least = k + 1;
    }
    *bad = least;
    return rc;
}

static void fill_defaults(struct tb_plan *p)
{
    struct tb_plan_wish *w = &p->want;

    if (!(w->sure > 0))
        w->sure = TB_SURE_DEFAULT;
    if (!(w->catch_one > 0))
        w->catch_one = TB_CATCH_DEFAULT;
    /* a tenth of the bolts is what nobody would want to miss; stated in docs/sampling.md */
    if (w->bad == 0 && w->kind == TB_PLAN_DISCOVERY)
        w->bad = (p->bolts + 9) / 10;
}

static tb_rc cut_of(struct tb_plan *p, struct tb_err *err)
{
    const struct tb_plan_wish *w = &p->want;
    tb_rc rc = TB_OK;

    switch (w->kind) {
    case TB_PLAN_DISCOVERY:
        if (p->strata)
            return tb_spread_cut(&p->cut, p->strata, p->n_strata, w->bad, w->sure, w->catch_one, err);
        return tb_discovery_cut(&p->cut, p->bolts, w->bad, w->sure, w->catch_one, err);
    case TB_PLAN_ACCEPTANCE:
        rc = tb_acceptance_plan(&p->acceptance, p->bolts, w->level, w->aql, w->inspection, err);
        p->cut = p->acceptance.cut;
        p->accept = p->acceptance.refuse - 1; /* in the gap of a reduced plan the lot passes too */
        break;
    case TB_PLAN_SHARE:
        if (w->share == 0)
            return tb_fail(err, TB_EINVAL, "a share of nothing leaves no bolt to cut");
        if ((rc = tb_check_share(w->share, err)) == TB_OK)
            p->cut = (long)fmax(1, ceil(w->share * (double)p->bolts / TB_TIE));
        break;
    case TB_PLAN_EVERY:
        p->cut = p->bolts;
        break;
    }
    if (rc == TB_OK && p->strata)
        rc = tb_spread(p->strata, p->n_strata, p->cut, err);
    return rc;
}

tb_rc tb_plan_work_out(struct tb_plan *p, struct tb_err *err)
{
    tb_rc rc;

    fill_defaults(p);
    p->cut = p->accept = 0;
    if ((rc = tb_check_lot(p->bolts, err)) != TB_OK || (rc = tb_check_sure(p->want.sure, err)) != TB_OK ||
        (rc = tb_check_catch(p->want.catch_one, err)) != TB_OK)
        return rc;
    /* 0 was the default, and stands for a number by now */
    if (p->want.bad < 0 || p->want.bad > p->bolts)
        return tb_fail(err, TB_EINVAL, "%ld false bolts of %ld is not possible; it is a number from 1 to %ld",
                       p->want.bad, p->bolts, p->bolts);
    if ((rc = cut_of(p, err)) != TB_OK ||
        (p->want.bad == 0 && (rc = least_shown(&p->want.bad, p, err)) != TB_OK))
        return rc;
    return tb_plan_shows(&p->chance, p, p->want.bad, err);
}

/* The number of false bolts above which nearly every draw shows it: a curve has nothing to tell there. */
static tb_rc where_all_shows(long *top, const struct tb_plan *p, struct tb_err *err)
{
    *top = p->bolts;
    for (long k = 1; k < p->bolts; k *= 2) {
        double chance = 0;
        tb_rc rc = tb_plan_shows(&chance, p, k, err);

        if (rc != TB_OK)
            return rc;
        if (chance > 0.999) {
            *top = k;
            break;
        }
    }
    return TB_OK;
}

tb_rc tb_plan_curve(struct tb_plan_point *out, size_t *n, size_t most, const struct tb_plan *p,
                    struct tb_err *err)
{
    long top;
    double step;
    tb_rc rc = where_all_shows(&top, p, err);

    *n = 0;
    if (rc != TB_OK)
        return rc;
    step = pow((double)top, 1 / (double)(most - 1));
    for (size_t i = 0; i < most && rc == TB_OK; i++) {
        /* a plan that accepts some false bolts turns in the middle, any other near the left end */
        double at = p->accept > 0 ? (double)top * (double)(i + 1) / (double)most : pow(step, (double)i);
        long k = lround(top < (long)most ? (double)(i + 1) : at);

        if (*n > 0 && k <= out[*n - 1].bad)
            k = out[*n - 1].bad + 1;
        if (k > top)
            break;
        out[*n].bad = k;
        rc = tb_plan_shows(&out[*n].chance, p, k, err);
        ++*n;
    }
    return rc;
}
