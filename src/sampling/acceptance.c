/* Acceptance sampling by attributes: the plans of the standard, and what any plan does. */
#include "gen/ref_sampling_code.h"
#include "gen/ref_sampling_plan.h"
#include "sampling/check.h"
#include "sampling/discovery.h"
#include "sampling/dist.h"
#include "tenterbook/interval.h"
#include "tenterbook/sampling.h"

#include <math.h>
#include <string.h>
#include <strings.h>

static const char *const level_keys[] = { "S-1", "S-2", "S-3", "S-4", "I", "II", "III" };
static const char *const inspection_keys[] = { "normal", "tightened", "reduced" };

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

static const char *code_of(long lot, enum tb_level level)
{
    const struct tb_ref_sampling_code *r = &tb_ref_sampling_code[0]; /* a lot of one counts as one of two */

    for (size_t i = 0; i < tb_ref_sampling_code_n; i++)
        if (lot >= tb_ref_sampling_code[i].lot_min)
            r = &tb_ref_sampling_code[i];
    switch (level) {
    case TB_LEVEL_S1:
        return r->s1;
    case TB_LEVEL_S2:
        return r->s2;
    case TB_LEVEL_S3:
        return r->s3;
    case TB_LEVEL_S4:
        return r->s4;
    case TB_LEVEL_I:
        return r->i;
    case TB_LEVEL_II:
        return r->ii;
    default:
        return r->iii;
    }
}

/* The AQL as the table writes it; else the two values of the table around it are named. */
static tb_rc check_aql(double aql, struct tb_err *err)
{
    double below = 0, above = INFINITY;

    for (size_t i = 0; i < tb_ref_sampling_plan_n; i++) {
        double v = tb_ref_sampling_plan[i].aql_percent;

        if (fabs(v - aql) < 1e-9 * v)
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

tb_rc tb_acceptance_plan(struct tb_acceptance *out, long lot, enum tb_level level, double aql,
                         enum tb_inspection inspection, struct tb_err *err)
{
    tb_rc rc = tb_check_lot(lot, err);
    const char *code;

    if (rc == TB_OK)
        rc = check_aql(aql, err);
    if (rc != TB_OK)
        return rc;
    code = code_of(lot, level);
    for (size_t i = 0; i < tb_ref_sampling_plan_n; i++) {
        const struct tb_ref_sampling_plan *r = &tb_ref_sampling_plan[i];

        if (strcmp(r->code, code) != 0 || strcmp(r->inspection, inspection_keys[inspection]) != 0 ||
            fabs(r->aql_percent - aql) > 1e-9 * aql)
            continue;
        *out = (struct tb_acceptance){ code,      r->use_code, r->use_n, lot < r->use_n ? lot : r->use_n,
                                       r->accept, r->refuse };
        return TB_OK;
    }
    return tb_fail(err, TB_ENOTFOUND, "the standard has no plan for code %s, AQL %g, %s inspection", code,
                   aql, inspection_keys[inspection]);
}

tb_rc tb_accept_lot(double *chance, long lot, long bad, long drawn, long accept, double catch_chance,
                    struct tb_err *err)
{
    tb_rc rc = tb_check_lot(lot, err);

    if (rc == TB_OK)
        rc = tb_check_part(bad, lot, "false", err);
    if (rc == TB_OK)
        rc = tb_check_part(drawn, lot, "cut", err);
    if (rc == TB_OK)
        rc = tb_check_catch(catch_chance, err);
    if (rc == TB_OK)
        *chance = tb_discovery_at_most(accept, lot, bad, drawn, catch_chance);
    return rc;
}

tb_rc tb_accept_share(double *chance, double share, long drawn, long accept, double catch_chance,
                      struct tb_err *err)
{
    tb_rc rc = tb_check_share(share, err);

    if (rc == TB_OK)
        rc = tb_check_lot(drawn, err);
    if (rc == TB_OK)
        rc = tb_check_catch(catch_chance, err);
    if (rc == TB_OK)
        *chance = tb_dist_binomial_at_most(accept, drawn, share * catch_chance);
    return rc;
}

tb_rc tb_accept_quality(double *share, double chance, long drawn, long accept, struct tb_err *err)
{
    double lo;

    /* P(X <= accept | share) = chance is the one-sided exact upper limit of accept in drawn */
    return tb_interval_exact_side(&lo, share, accept, drawn, 1 - chance, TB_SIDE_LESS, err);
}

/* For an acceptance number: smallest n that refuses p2 often enough; it serves when p1 still passes. */
static long least_drawn(long accept, double p2, double a2)
{
    long least = accept + 1, most = least + 1;

    while (most < TB_LOT_MOST && tb_dist_binomial_at_most(accept, most, p2) > a2 * TB_TIE)
        most *= 2;
    while (least < most) {
        long n = least + (most - least) / 2;

        if (tb_dist_binomial_at_most(accept, n, p2) <= a2 * TB_TIE)
            most = n;
        else
            least = n + 1;
    }
    return least;
}

tb_rc tb_accept_find(long *drawn, long *accept, double p1, double a1, double p2, double a2,
                     struct tb_err *err)
{
    tb_rc rc = tb_check_sure(a1, err);

    if (rc == TB_OK)
        rc = tb_check_sure(a2, err);
    if (rc == TB_OK && !(p1 > 0 && p1 < p2 && p2 < 1))
        rc = tb_fail(
            err, TB_EINVAL,
            "the shares are %g and %g; the first is to lie above 0 and below the second, which is below 1",
            p1, p2);
    if (rc != TB_OK)
        return rc;
    for (long c = 0; c < 100000; c++) {
        long n = least_drawn(c, p2, a2);

        if (tb_dist_binomial_at_most(c, n, p1) * TB_TIE >= a1) {
            *drawn = n;
            *accept = c;
            return TB_OK;
        }
    }
    return tb_fail(err, TB_EINVAL, "the shares %g and %g lie too close together for a plan", p1, p2);
}

/*
 * Stationary law of normal/tightened switching. Normal: the last refusal was never, 1, .. 4 lots ago; a refusal
 * in the last four turns to tightened. Tightened: five accepted in a row turn back. N lots are spent on the average
 * visit to normal, T on the one to tightened; both have closed forms.
 */
tb_rc tb_accept_scheme(double *chance, double normal, double tightened, struct tb_err *err)
{
    double a = normal, r = 1 - normal, four, lots_normal, lots_tight;
    tb_rc rc = tb_check_sure(normal, err);

    if (rc == TB_OK)
        rc = tb_check_sure(tightened, err);
    if (rc != TB_OK)
        return rc;
    /* from "never": 1/r lots to a refusal, then at most four more; with chance a^4 back to "never" */
    four = a * a * a * a;
    lots_normal = (1 / r + (1 + a + a * a + a * a * a)) / (1 - four);
    /* lots until five in a row: (t^-5 - 1) / (1 - t) */
    lots_tight = (pow(tightened, -5) - 1) / (1 - tightened);
    *chance = (lots_normal * normal + lots_tight * tightened) / (lots_normal + lots_tight);
    return TB_OK;
}

tb_rc tb_accept_sequential(double *h1, double *h2, double *slope, double p1, double p2, double alpha,
                           double beta, struct tb_err *err)
{
    double k;
    tb_rc rc = tb_check_sure(alpha, err);

    if (rc == TB_OK)
        rc = tb_check_sure(beta, err);
    if (rc == TB_OK && !(p1 > 0 && p1 < p2 && p2 < 1))
        rc = tb_fail(
            err, TB_EINVAL,
            "the shares are %g and %g; the first is to lie above 0 and below the second, which is below 1",
            p1, p2);
    if (rc == TB_OK && alpha + beta >= 1)
        rc = tb_fail(err, TB_EINVAL,
                     "the two risks, %g and %g, leave nothing to decide; their sum is below 1", alpha, beta);
    if (rc != TB_OK)
        return rc;
    k = log(p2 / p1) + log1p(-p1) - log1p(-p2);
    *h1 = log((1 - alpha) / beta) / k;
    *h2 = log((1 - beta) / alpha) / k;
    *slope = (log1p(-p1) - log1p(-p2)) / k;
    return TB_OK;
}
