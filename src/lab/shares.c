/* shares.c - shares of one determination, refused where the readings cannot be. */
#include "lab/inside.h"

/* Beyond a point outside 0 to 100 no weighing error explains it. */
static tb_rc shares_within_reach(const double *dry, size_t fibres, struct tb_err *err)
{
    for (size_t i = 0; i < fibres; i++)
        if (!(dry[i] >= TB_LAB_SHARE_LEAST && dry[i] <= TB_LAB_SHARE_MOST))
            return tb_fail(
                err, TB_EINVAL,
                "fibre %zu would be %.2f %%: these masses do not fit these fibres, factors and method", i + 1,
                dry[i]);
    return TB_OK;
}

/* The legal and the exact formula take the same readings and are refused by the same rules. */
static tb_rc dry_by(void (*by)(tb_lab_z *, enum tb_lab_route, size_t, const tb_lab_z *, const tb_lab_z *),
                    double *dry, enum tb_lab_route route, size_t fibres, const double *d,
                    const struct tb_lab_det *det, struct tb_err *err)
{
    tb_lab_z z[TB_LAB_FIBRES_MOST] = { 0 }, zd[TB_LAB_FACTORS_MOST], in[TB_LAB_INPUTS_MOST];
    double found[TB_LAB_FIBRES_MOST];
    tb_rc rc;

    if ((rc = tb_lab_check_shape(route, fibres, d, err)) != TB_OK ||
        (rc = tb_lab_check(route, fibres, det, err)) != TB_OK)
        return rc;
    for (size_t i = 0; i < TB_LAB_FACTORS_MOST; i++)
        zd[i] = i < tb_lab_factors(route) ? d[i] : 1;
    for (size_t i = 0; i < TB_LAB_INPUTS_MOST; i++)
        in[i] = det->in[i];
    by(z, route, fibres, zd, in);
    for (size_t i = 0; i < fibres; i++)
        found[i] = creal(z[i]);
    if ((rc = shares_within_reach(found, fibres, err)) != TB_OK)
        return rc;
    for (size_t i = 0; i < fibres; i++)
        dry[i] = found[i];
    return TB_OK;
}

tb_rc tb_lab_dry(double *dry, enum tb_lab_route route, size_t fibres, const double *d,
                 const struct tb_lab_det *det, struct tb_err *err)
{
    return dry_by(tb_lab_dry_z, dry, route, fibres, d, det, err);
}

static void exact_or_dry(tb_lab_z *dry, enum tb_lab_route route, size_t fibres, const tb_lab_z *d,
                         const tb_lab_z *in)
{
    if (route == TB_LAB_VARIANT_1)
        tb_lab_exact_z(dry, d, in);
    else
        tb_lab_dry_z(dry, route, fibres, d, in);
}

tb_rc tb_lab_dry_exact(double *dry, enum tb_lab_route route, size_t fibres, const double *d,
                       const struct tb_lab_det *det, struct tb_err *err)
{
    return dry_by(exact_or_dry, dry, route, fibres, d, det, err);
}

/* All are checked before any is computed, since one of them being wrong makes all of them wrong. */
tb_rc tb_lab_adjust(double *out, const double *dry, const double *a, const double *b, size_t fibres,
                    struct tb_err *err)
{
    tb_lab_z z[TB_LAB_FIBRES_MOST], found[TB_LAB_FIBRES_MOST];

    if (fibres < 1 || fibres > TB_LAB_FIBRES_MOST)
        return tb_fail(err, TB_EINVAL, "%zu fibres; an analysis has 1 to %d", fibres, TB_LAB_FIBRES_MOST);
    for (size_t i = 0; i < fibres; i++) {
        if (!(dry[i] >= TB_LAB_SHARE_LEAST && dry[i] <= TB_LAB_SHARE_MOST))
            return tb_fail(err, TB_EINVAL, "share %zu is %.2f %%; it must lie between 0 and 100", i + 1,
                           dry[i]);
        if (!(a[i] >= 0 && a[i] <= 100))
            return tb_fail(err, TB_EINVAL, "allowance %zu is %.2f %%; it must lie between 0 and 100", i + 1,
                           a[i]);
        if (!(b[i] >= 0 && b[i] <= 50))
            return tb_fail(err, TB_EINVAL, "loss %zu is %.2f %%; it must lie between 0 and 50", i + 1, b[i]);
        z[i] = dry[i];
    }
    tb_lab_adjust_z(found, z, a, b, fibres);
    for (size_t i = 0; i < fibres; i++)
        out[i] = creal(found[i]);
    return TB_OK;
}
