/* analyse.c - a whole analysis: determinations to mean percentages on every basis, and what gives pause. */
#include "lab/inside.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

const char *tb_lab_basis_key(enum tb_lab_basis basis)
{
    static const char *const key[] = { "dry", "eu", "us" };

    return key[basis];
}

/*
 * The errors are those of an ordinary balance and burette; NAN says that a figure is not known, not that it is
 * 0.
 */
void tb_lab_task_init(struct tb_lab_task *task, enum tb_lab_route route, size_t fibres)
{
    *task = (struct tb_lab_task){ .route = route,
                                  .fibres = fibres,
                                  .d = { 1, 1, 1, 1 },
                                  .mass_error = 0.0002,
                                  .volume_error = 0.02,
                                  .factor_error = 0.005,
                                  .limit = { NAN, NAN } };
    for (size_t b = TB_LAB_EU; b < TB_LAB_BASES; b++)
        for (size_t i = 0; i < TB_LAB_FIBRES_MOST; i++)
            task->allowance[b][i] = NAN;
}

/* A published limit is 95 % for one result; without one, a point is the usual figure of the methods. */
static void look_for_trouble(struct tb_lab_result *r, const struct tb_lab_task *t)
{
    double limit[TB_LAB_FIBRES_MOST], widest = 0;

    tb_lab_limits(limit, t->route, t->fibres, t->limit);
    r->spread_limit = INFINITY;
    if (r->dets == 1)
        r->warnings |= TB_LAB_WARN_SINGLE;
    for (size_t i = 0; i < t->fibres; i++) {
        const struct tb_lab_share *s = &r->share[TB_LAB_DRY][i];
        double one = isnan(limit[i]) ? 1 : limit[i];
        double most = tb_lab_critical_range(r->dets) * one / gsl_cdf_ugaussian_Pinv(0.975);

        if (isnan(limit[i]))
            r->warnings |= TB_LAB_WARN_NO_LIMIT;
        if (r->dets > 1 && s->spread > most)
            r->warnings |= TB_LAB_WARN_SPREAD;
        if (r->dets > 1 && (widest == 0 || most < widest))
            r->spread_limit = widest = most;
        if (s->percent < 0 || s->percent > 100)
            r->warnings |= TB_LAB_WARN_OUTSIDE;
    }
}

/* The shares it tries are not the result: they only bring the losses and allowances through the checks. */
static tb_rc check_task(const struct tb_lab_task *t, struct tb_err *err)
{
    static const double fine[TB_LAB_FIBRES_MOST];
    double shares[TB_LAB_FIBRES_MOST] = { 100 }, out[TB_LAB_FIBRES_MOST];
    tb_rc rc = tb_lab_check_shape(t->route, t->fibres, t->d, err);

    if (rc != TB_OK)
        return rc;
    if (!(t->mass_error >= 0 && t->mass_error <= 1) || !(t->volume_error >= 0 && t->volume_error <= 10) ||
        !(t->factor_error >= 0 && t->factor_error <= 0.5))
        return tb_fail(err, TB_EINVAL, "the error of a weighing, a burette or a factor is out of range");
    for (size_t k = 0; k < 2; k++)
        if (!isnan(t->limit[k]) && !(t->limit[k] >= 0 && t->limit[k] <= 50))
            return tb_fail(err, TB_EINVAL, "a method's limit is %g points; it lies between 0 and 50",
                           t->limit[k]);
    if ((rc = tb_lab_adjust(out, shares, fine, t->loss, t->fibres, err)) != TB_OK)
        return rc;
    for (size_t b = 0; b < TB_LAB_BASES; b++)
        for (size_t i = 0; i < t->fibres; i++)
            if (!isnan(t->allowance[b][i]) && !(t->allowance[b][i] >= 0 && t->allowance[b][i] <= 100))
                return tb_fail(err, TB_EINVAL, "allowance %zu is %g %%; it lies between 0 and 100", i + 1,
                               t->allowance[b][i]);
    return TB_OK;
}

/* Dry shares of every determination, legal and exact: refuses what cannot be, and leaves the bias. */
static tb_rc compare_exact(struct tb_lab_result *r, const struct tb_lab_task *t, const struct tb_lab_det *det,
                           size_t dets, struct tb_err *err)
{
    for (size_t k = 0; k < dets; k++) {
        double legal[TB_LAB_FIBRES_MOST], exact[TB_LAB_FIBRES_MOST];
        tb_rc rc = tb_lab_dry(legal, t->route, t->fibres, t->d, &det[k], err);

        if (rc == TB_OK)
            rc = tb_lab_dry_exact(exact, t->route, t->fibres, t->d, &det[k], err);
        if (rc != TB_OK)
            return tb_within(err, rc, "determination %zu", k + 1);
        for (size_t i = 0; i < t->fibres; i++) {
            r->exact[i] += exact[i] / (double)dets;
            r->bias[i] += (legal[i] - exact[i]) / (double)dets;
        }
    }
    return TB_OK;
}

/* Into a copy, so that a failure in the last determination leaves nothing half computed. */
tb_rc tb_lab_compute(struct tb_lab_result *out, const struct tb_lab_task *task, const struct tb_lab_det *det,
                     size_t dets, struct tb_err *err)
{
    struct tb_lab_result r = { .fibres = task->fibres, .dets = dets };
    tb_rc rc = check_task(task, err);

    if (rc != TB_OK)
        return rc;
    if (dets < 1 || dets > TB_LAB_DETS_MOST)
        return tb_fail(err, TB_EINVAL,
                       "%zu determinations; an analysis has 1 to %d, and at least two are advised", dets,
                       TB_LAB_DETS_MOST);
    if ((rc = compare_exact(&r, task, det, dets, err)) != TB_OK)
        return rc;
    for (enum tb_lab_basis b = TB_LAB_DRY; b < TB_LAB_BASES; b++) {
        r.known[b] = true;
        for (size_t i = 0; i < task->fibres; i++)
            r.known[b] = r.known[b] && !isnan(task->allowance[b][i]);
        if (r.known[b])
            tb_lab_one_basis(&r, task, b, det, dets);
    }
    look_for_trouble(&r, task);
    *out = r;
    return TB_OK;
}
