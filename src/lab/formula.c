/* The formulas of Regulation (EU) 1007/2011 Annex VIII, and their inverse. */
#include "lab/inside.h"

#include <math.h>

/* Nitrogen contents the Regulation uses in method 12, percent. */
#define N_JUTE 0.22
#define N_ANIMAL 16.2

/* 14 mg a milliequivalent, a twentieth of the digest distilled, percent of grams: 14 * 20 * 100 / 1000. */
#define N_FACTOR 28.0

double tb_lab_cloth_cm2(double grams, double grams_a_square_metre)
{
    return grams * 1e4 / grams_a_square_metre;
}

/* Chapter 2, I.8.1: what stays is r, with what it lost put back by d. */
static void dissolve(tb_lab_z *p, const tb_lab_z *d, const tb_lab_z *in)
{
    p[0] = 100 * in[1] * d[0] / in[0];
    p[1] = 100 - p[0];
}

/* II.9: parts over their sum; the last is the rest. */
static void by_hand(tb_lab_z *p, size_t fibres, const tb_lab_z *in)
{
    tb_lab_z sum = 0, rest = 100;

    for (size_t i = 0; i < fibres; i++)
        sum += in[i];
    for (size_t i = 0; i + 1 < fibres; i++) {
        p[i] = 100 * in[i] / sum;
        rest -= p[i];
    }
    p[fibres - 1] = rest;
}

/* Chapter 3, I.8.1. q1 and q2 are residue over specimen; d1 is b in reagent 1, d2 c in reagent 1,
 * d3 a in reagent 2, d4 c in reagent 2. */
static void variant_1(tb_lab_z *p, const tb_lab_z *d, const tb_lab_z *in)
{
    tb_lab_z q1 = in[1] / in[0], q2 = in[3] / in[2];

    p[0] = 100 * (d[1] / d[0] - d[1] * q1 + q2 * (1 - d[1] / d[0]));
    p[1] = 100 * (d[3] / d[2] - d[3] * q2 + q1 * (1 - d[3] / d[2]));
    p[2] = 100 - (p[0] + p[1]);
}

static void variant_2(tb_lab_z *p, const tb_lab_z *d, const tb_lab_z *in)
{
    p[2] = 100 * d[3] * in[3] / in[2];
    p[1] = 100 * d[0] * in[1] / in[0] - d[0] / d[1] * p[2];
    p[0] = 100 - (p[1] + p[2]);
}

static void variant_3(tb_lab_z *p, const tb_lab_z *d, const tb_lab_z *in)
{
    p[2] = 100 * d[1] * in[1] / in[0];
    p[0] = 100 * d[2] * in[3] / in[2];
    p[1] = 100 - (p[0] + p[2]);
}

/* One specimen; here d3 is c in both reagents, one after the other. */
static void variant_4(tb_lab_z *p, const tb_lab_z *d, const tb_lab_z *in)
{
    p[2] = 100 * d[2] * in[2] / in[0];
    p[1] = 100 * d[0] * in[1] / in[0] - d[0] / d[1] * p[2];
    p[0] = 100 - (p[1] + p[2]);
}

/* Method 12: where the nitrogen found lies between that of jute and that of animal fibre. */
static void nitrogen(tb_lab_z *p, const tb_lab_z *in)
{
    tb_lab_z found = N_FACTOR * (in[1] - in[2]) * in[3] / in[0];

    p[0] = 100 * (found - N_JUTE) / (N_ANIMAL - N_JUTE);
    p[1] = 100 - p[0];
}

void tb_lab_dry_z(tb_lab_z *dry, enum tb_lab_route route, size_t fibres, const tb_lab_z *d,
                  const tb_lab_z *in)
{
    switch (route) {
    case TB_LAB_DISSOLVE:
        dissolve(dry, d, in);
        break;
    case TB_LAB_HAND:
        by_hand(dry, fibres, in);
        break;
    case TB_LAB_VARIANT_1:
        variant_1(dry, d, in);
        break;
    case TB_LAB_VARIANT_2:
        variant_2(dry, d, in);
        break;
    case TB_LAB_VARIANT_3:
        variant_3(dry, d, in);
        break;
    case TB_LAB_VARIANT_4:
        variant_4(dry, d, in);
        break;
    case TB_LAB_NITROGEN:
        nitrogen(dry, in);
        break;
    case TB_LAB_ROUTES:
        break;
    }
}

/*
 * Variant 1 from its two mass balances, with the shares summing to 1:
 *     r1/m1 = p2/d1 + p3/d2        r2/m2 = p1/d3 + p3/d4
 * Replace p1 = d3 (q2 - p3/d4) and p2 = d1 (q1 - p3/d2) in the sum and solve for p3.
 */
void tb_lab_exact_z(tb_lab_z *dry, const tb_lab_z *d, const tb_lab_z *in)
{
    tb_lab_z q1 = in[1] / in[0], q2 = in[3] / in[2];
    tb_lab_z c = (1 - d[2] * q2 - d[0] * q1) / (1 - d[2] / d[3] - d[0] / d[1]);

    dry[0] = 100 * d[2] * (q2 - c / d[3]);
    dry[1] = 100 * d[0] * (q1 - c / d[1]);
    dry[2] = 100 * c;
}

/* Chapter 2, I.8.2 and chapter 3, I.8.2: every share times 1 + (a + b)/100, over their sum. */
void tb_lab_adjust_z(tb_lab_z *out, const tb_lab_z *dry, const double *a, const double *b, size_t fibres)
{
    tb_lab_z sum = 0;

    for (size_t i = 0; i < fibres; i++)
        sum += dry[i] * (1 + (a[i] + b[i]) / 100);
    for (size_t i = 0; i < fibres; i++)
        out[i] = 100 * dry[i] * (1 + (a[i] + b[i]) / 100) / sum;
}

static tb_rc shares_within_reach(const double *dry, size_t fibres, struct tb_err *err)
{
    for (size_t i = 0; i < fibres; i++)
        if (!(dry[i] >= -1 && dry[i] <= 101))
            return tb_fail(
                err, TB_EINVAL,
                "fibre %zu would be %.2f %%: these masses do not fit these fibres, factors and method", i + 1,
                dry[i]);
    return TB_OK;
}

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

tb_rc tb_lab_adjust(double *out, const double *dry, const double *a, const double *b, size_t fibres,
                    struct tb_err *err)
{
    tb_lab_z z[TB_LAB_FIBRES_MOST], found[TB_LAB_FIBRES_MOST];

    if (fibres < 1 || fibres > TB_LAB_FIBRES_MOST)
        return tb_fail(err, TB_EINVAL, "%zu fibres; an analysis has 1 to %d", fibres, TB_LAB_FIBRES_MOST);
    for (size_t i = 0; i < fibres; i++) {
        if (!(dry[i] >= -1 && dry[i] <= 101))
            return tb_fail(err, TB_EINVAL, "share %zu is %.2f %%; a share lies between 0 and 100", i + 1,
                           dry[i]);
        if (!(a[i] >= 0 && a[i] <= 100))
            return tb_fail(err, TB_EINVAL, "allowance %zu is %.2f %%; it lies between 0 and 100", i + 1,
                           a[i]);
        if (!(b[i] >= 0 && b[i] <= 50))
            return tb_fail(err, TB_EINVAL, "loss %zu is %.2f %%; it lies between 0 and 50", i + 1, b[i]);
        z[i] = dry[i];
    }
    tb_lab_adjust_z(found, z, a, b, fibres);
    for (size_t i = 0; i < fibres; i++)
        out[i] = creal(found[i]);
    return TB_OK;
}

/* Residues of 1 g specimens whose shares are p (0..1). */
static void expect(double *in, enum tb_lab_route route, size_t fibres, const double *d, const double *p)
{
    switch (route) {
    case TB_LAB_DISSOLVE:
        in[0] = 1, in[1] = p[0] / d[0];
        break;
    case TB_LAB_HAND:
        for (size_t i = 0; i < fibres; i++)
            in[i] = p[i];
        break;
    case TB_LAB_VARIANT_1:
        in[0] = in[2] = 1, in[1] = p[1] / d[0] + p[2] / d[1], in[3] = p[0] / d[2] + p[2] / d[3];
        break;
    case TB_LAB_VARIANT_2:
        in[0] = in[2] = 1, in[1] = p[1] / d[0] + p[2] / d[1], in[3] = p[2] / d[3];
        break;
    case TB_LAB_VARIANT_3:
        in[0] = in[2] = 1, in[1] = p[2] / d[1], in[3] = p[0] / d[2];
        break;
    case TB_LAB_VARIANT_4:
        in[0] = 1, in[1] = p[1] / d[0] + p[2] / d[1], in[2] = p[2] / d[2];
        break;
    case TB_LAB_NITROGEN:
        in[0] = 1, in[2] = 0.5, in[3] = 0.02;
        in[1] = in[2] + (N_JUTE + p[0] * (N_ANIMAL - N_JUTE)) * in[0] / (N_FACTOR * in[3]);
        break;
    case TB_LAB_ROUTES:
        break;
    }
}

tb_rc tb_lab_expect(struct tb_lab_det *out, enum tb_lab_route route, size_t fibres, const double *d,
                    const double *dry, struct tb_err *err)
{
    double p[TB_LAB_FIBRES_MOST] = { 0 }, sum = 0;
    tb_rc rc = tb_lab_check_shape(route, fibres, d, err);

    if (rc != TB_OK)
        return rc;
    for (size_t i = 0; i < fibres; i++) {
        if (!(dry[i] >= 0 && dry[i] <= 100))
            return tb_fail(err, TB_EINVAL, "share %zu is %.2f %%; a share lies between 0 and 100", i + 1,
                           dry[i]);
        sum += dry[i];
        p[i] = dry[i] / 100;
    }
    if (!(fabs(sum - 100) <= 0.5))
        return tb_fail(err, TB_EINVAL, "the shares sum to %.1f %%, not 100", sum);
    *out = (struct tb_lab_det){ { 0 } };
    expect(out->in, route, fibres, d, p);
    return TB_OK;
}
