/* What a way of analysis would give on the balance, from what is declared. */
#include "tenterbook/lab.h"

#include <math.h>

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
