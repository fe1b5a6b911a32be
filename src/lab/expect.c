/* expect.c - the other way round: the readings that shares would give, as said or as declared, and the cloth to take. */
#include "lab/inside.h"

#include <math.h>

/* A square metre is 1e4 square centimetres. */
double tb_lab_cloth_cm2(double grams, double grams_a_square_metre)
{
    return grams * 1e4 / grams_a_square_metre;
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
        in[1] = in[2] + (TB_LAB_N_JUTE + p[0] * (TB_LAB_N_ANIMAL - TB_LAB_N_JUTE)) * in[0] /
                            (TB_LAB_N_FACTOR * in[3]);
        break;
    case TB_LAB_ROUTES:
        break;
    }
}

/* Specimens of 1 g, so that the readings can be read as shares. */
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

/* --- what a way of analysis would give on the balance, from what is declared --------------------------------- */

#define SUM_SLACK 0.5 /* points by which declared shares may miss 100 */

/* Declared shares hold agreed allowances and losses: dry mass is what is left without them. */
static double dry_of(const struct tb_share *share)
{
    struct tb_lab_allowance a;
    struct tb_err missing = { 0 };

    if (tb_lab_allowance(&a, TB_LAB_EU, share->fibre, NULL, &missing) != TB_OK)
        return (double)NAN;
    return share->percent / (1 + (a.percent + a.loss) / 100);
}

/* Dry shares are scaled to the whole again: what allowances and losses took away differs from fibre to fibre. */
bool tb_lab_forecast(struct tb_lab_det *out, const struct tb_lab_way *way, const struct tb_part *part)
{
    double dry[TB_LAB_FIBRES_MOST], declared = 0, sum = 0;
    struct tb_err ignored = { 0 };

    for (size_t i = 0; i < part->n; i++) {
        dry[i] = (double)NAN;
        for (size_t k = 0; k < part->n; k++)
            if (part->share[k].fibre == way->fibre[i])
                dry[i] = dry_of(&part->share[k]);
        declared += part->share[i].percent;
        sum += dry[i];
    }
    for (size_t i = 0; i < part->n; i++)
        dry[i] *= 100 / sum;
    return fabs(declared - 100) < SUM_SLACK && isfinite(sum) &&
           tb_lab_expect(out, way->route, part->n, way->d, dry, &ignored) == TB_OK;
}
