/* proof.c - what the burns prove: bounds on the false bolts of the lot and on the metres they hold. */
#include "sampling/dist.h"
#include "sampling/inside.h"

#include <math.h>
#include <stdlib.h>

/* More false bolts make so small a count rarer, so the bound is found by bisection. */
tb_rc tb_proof_most(long *most, long lot, long drawn, long found, double catch_chance, double conf,
                    struct tb_err *err)
{
    long least = found, top = lot;
    tb_rc rc;

    if ((rc = tb_check_lot(lot, err)) != TB_OK || (rc = tb_check_burned(drawn, lot, err)) != TB_OK ||
        (rc = tb_check_false(found, drawn, err)) != TB_OK ||
        (rc = tb_check_catch(catch_chance, err)) != TB_OK || (rc = tb_check_sure(conf, err)) != TB_OK)
        return rc;
    while (least < top) { /* the last number of false bolts under which so few found is not yet too rare */
        long bad = least + (top - least + 1) / 2;

        if (tb_discovery_at_most(found, lot, bad, drawn, catch_chance) > (1 - conf) * TB_TIE)
            least = bad;
        else
            top = bad - 1;
    }
    *most = least;
    return TB_OK;
}

/* Fewer false bolts make so large a count rarer. The chance of at least `found` is what `found - 1` at most leaves:
 * largest where every look shows a false bolt, so that the bound holds whatever a look misses. */
tb_rc tb_proof_least(long *least, long lot, long drawn, long found, double conf, struct tb_err *err)
{
    long low = found, top = lot;
    tb_rc rc;

    if ((rc = tb_check_lot(lot, err)) != TB_OK || (rc = tb_check_burned(drawn, lot, err)) != TB_OK ||
        (rc = tb_check_false(found, drawn, err)) != TB_OK || (rc = tb_check_sure(conf, err)) != TB_OK)
        return rc;
    while (found > 0 && low < top) { /* the first number under which so many found is not too rare */
        long bad = low + (top - low) / 2;

        if (1 - tb_discovery_at_most(found - 1, lot, bad, drawn, 1) > (1 - conf) * TB_TIE)
            top = bad;
        else
            low = bad + 1;
    }
    *least = low;
    return TB_OK;
}

/* The worst case: those that may still be false are the longest. */
static int longest_first(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;

    return x < y ? 1 : x > y ? -1 : 0;
}

static tb_rc check_metres(const double *m, size_t n, struct tb_err *err)
{
    for (size_t i = 0; i < n; i++)
        if (!(m[i] >= 0) || !isfinite(m[i]))
            return tb_fail(err, TB_EINVAL, "a bolt of %g m is not possible", m[i]);
    return TB_OK;
}

/* The found ones count in full, the rest as long as they could be. */
tb_rc tb_proof_metres(double *metres, long most, const double *found, size_t n_found, double *other,
                      size_t n_other, struct tb_err *err)
{
    double sum = 0;
    tb_rc rc = check_metres(found, n_found, err);

    if (rc == TB_OK)
        rc = check_metres(other, n_other, err);
    if (rc == TB_OK && most < (long)n_found)
        rc =
            tb_fail(err, TB_EINVAL, "at most %ld false bolts is not possible; %zu were found", most, n_found);
    if (rc != TB_OK)
        return rc;
    if (n_other > 1)
        qsort(other, n_other, sizeof *other, longest_first);
    for (size_t i = 0; i < n_found; i++)
        sum += found[i];
    for (size_t i = 0; i < n_other && (long)(i + n_found) < most; i++)
        sum += other[i];
    *metres = sum;
    return TB_OK;
}
