/* acceptance.c - acceptance sampling by attributes: the plans of the standard, and what any plan does. */
#include "gen/ref_sampling_code.h"
#include "gen/ref_sampling_plan.h"
#include "sampling/inside.h"
#include "tenterbook/interval.h"

#include <math.h>
#include <string.h>
#include <strings.h>

static const char *const level_keys[] = { "S-1", "S-2", "S-3", "S-4", "I", "II", "III" };
static const char *const inspection_keys[] = { "normal", "tightened", "reduced" };

/* Upper and lower case alike: people write "ii" and "II". */
static int by_key(const char *const *keys, size_t n, const char *key)
{
    for (size_t i = 0; i < n; i++)
        if (strcasecmp(keys[i], key) == 0)
            return (int)i;
    return -1;
}

int tb_level_by_key(const char *key)
{
    return by_key(level_keys, TB_COUNT(level_keys), key);
}

const char *tb_level_key(enum tb_level level)
{
    return level_keys[level];
}

int tb_inspection_by_key(const char *key)
{
    return by_key(inspection_keys, TB_COUNT(inspection_keys), key);
}

const char *tb_inspection_key(enum tb_inspection inspection)
{
    return inspection_keys[inspection];
}

/* The table has the first lot size of each row; the last row whose size is reached counts. */
static const char *code_of(long lot, enum tb_level level)
{
    const struct tb_ref_sampling_code *r = &tb_ref_sampling_code[0]; /* a lot of one counts as one of two */

    for (size_t i = 0; i < tb_ref_sampling_code_n; i++)
        if (lot >= tb_ref_sampling_code[i].lot_min)
            r = &tb_ref_sampling_code[i];
    return (const char *const[]){ r->s1, r->s2, r->s3, r->s4, r->i, r->ii, r->iii }[level];
}

#define AQL_SLACK 1e-9 /* 0.065 typed and 0.065 read may differ in the last digit */

static bool same_aql(double a, double b)
{
    return fabs(a - b) <= AQL_SLACK * a;
}

/* The AQL as the table writes it; else the two values of the table around it are named. */
static tb_rc check_aql(double aql, struct tb_err *err)
{
    double below = 0, above = INFINITY;

    for (size_t i = 0; i < tb_ref_sampling_plan_n; i++) {
        double v = tb_ref_sampling_plan[i].aql_percent;

        if (same_aql(v, aql))
            return TB_OK;
        if (v < aql)
            below = fmax(below, v);
        else
            above = fmin(above, v);
    }
    if (!isfinite(aql) || below == 0)
        return tb_fail(err, TB_EINVAL, "an AQL of %g %% is not in the standard's table; the smallest is %g",
                       aql, above);
    if (isinf(above))
        return tb_fail(err, TB_EINVAL, "an AQL of %g %% is not in the standard's table; the largest is %g",
                       aql, below);
    return tb_fail(err, TB_EINVAL, "an AQL of %g %% is not in the standard's table; take %g or %g", aql,
                   below, above);
}

/* The arrows of the table are followed when the reference is made, so that a row gives its plan at once. */
tb_rc tb_acceptance_plan(struct tb_acceptance *out, long lot, enum tb_level level, double aql,
                         enum tb_inspection inspection, struct tb_err *err)
{
    tb_rc rc;
    const char *code;

    if ((rc = tb_check_lot(lot, err)) != TB_OK || (rc = check_aql(aql, err)) != TB_OK)
        return rc;
    code = code_of(lot, level);
    for (size_t i = 0; i < tb_ref_sampling_plan_n; i++) {
        const struct tb_ref_sampling_plan *r = &tb_ref_sampling_plan[i];

        if (strcmp(r->code, code) != 0 || strcmp(r->inspection, inspection_keys[inspection]) != 0 ||
            !same_aql(r->aql_percent, aql))
            continue;
        *out = (struct tb_acceptance){ code,      r->use_code, r->use_n, lot < r->use_n ? lot : r->use_n,
                                       r->accept, r->refuse };
        return TB_OK;
    }
    return tb_fail(err, TB_ENOTFOUND, "the standard has no plan for code %s, AQL %g, %s inspection", code,
                   aql, inspection_keys[inspection]);
}

/* Exact for a finite lot: the binomial law would be wrong where most of a lot is cut. */
tb_rc tb_accept_lot(double *chance, long lot, long bad, long drawn, long accept, double catch_chance,
                    struct tb_err *err)
{
    tb_rc rc;

    if ((rc = tb_check_lot(lot, err)) != TB_OK || (rc = tb_check_false(bad, lot, err)) != TB_OK ||
        (rc = tb_check_cut(drawn, lot, err)) != TB_OK || (rc = tb_check_catch(catch_chance, err)) != TB_OK)
        return rc;
    *chance = tb_discovery_at_most(accept, lot, bad, drawn, catch_chance);
    return TB_OK;
}
