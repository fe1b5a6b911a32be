/* formula.c - the formulas of Regulation (EU) 1007/2011, Annex VIII, over complex numbers. */
#include "lab/inside.h"

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

void tb_lab_dry_z(tb_lab_z *dry, enum tb_lab_route route, size_t fibres, const tb_lab_z *d,
                  const tb_lab_z *in)
{
    switch (route) {
    case TB_LAB_DISSOLVE: /* chapter 2, I.8.1: what stays is r, with what it lost put back by d */
        dry[0] = 100 * in[1] * d[0] / in[0];
        dry[1] = 100 - dry[0];
        break;
    case TB_LAB_HAND:
        by_hand(dry, fibres, in);
        break;
    case TB_LAB_VARIANT_1:
        variant_1(dry, d, in);
        break;
    case TB_LAB_VARIANT_2: /* the second residue is c alone, with a and b gone */
        dry[2] = 100 * d[3] * in[3] / in[2];
        dry[1] = 100 * d[0] * in[1] / in[0] - d[0] / d[1] * dry[2];
        dry[0] = 100 - (dry[1] + dry[2]);
        break;
    case TB_LAB_VARIANT_3: /* each specimen leaves one fibre, the first c and the second a */
        dry[2] = 100 * d[1] * in[1] / in[0];
        dry[0] = 100 * d[2] * in[3] / in[2];
        dry[1] = 100 - (dry[0] + dry[2]);
        break;
    case TB_LAB_VARIANT_4: /* one specimen; here d3 is c in both reagents, one after the other */
        dry[2] = 100 * d[2] * in[2] / in[0];
        dry[1] = 100 * d[0] * in[1] / in[0] - d[0] / d[1] * dry[2];
        dry[0] = 100 - (dry[1] + dry[2]);
        break;
    case TB_LAB_NITROGEN: /* method 12: where the nitrogen found lies between that of jute and of animal fibre */
        dry[0] = 100 * (TB_LAB_N_FACTOR * (in[1] - in[2]) * in[3] / in[0] - TB_LAB_N_JUTE) /
                 (TB_LAB_N_ANIMAL - TB_LAB_N_JUTE);
        dry[1] = 100 - dry[0];
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
