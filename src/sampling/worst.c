/* worst.c - what a draw spread over dye lots shows and proves, wherever the false bolts are. */
#include "sampling/inside.h"

#include "sampling/dist.h"

#include <math.h>
#include <stdlib.h>

/* Their sum too: many lots that can each be sampled may be more than can be handled together. */
tb_rc tb_check_strata(long *bolts, const struct tb_stratum *s, size_t n, struct tb_err *err)
{
    long sum = 0;

    for (size_t i = 0; i < n; i++) {
        tb_rc rc = tb_check_lot(s[i].bolts, err);

        if (rc != TB_OK)
            return rc;
        sum += s[i].bolts;
    }
    *bolts = sum;
    return tb_check_lot(sum, err);
}

/* Where many bolts are false only their bound is computed: (1 - catch x share looked at) for each, the strata that
 * are looked at least filled first. */
static double miss_bound(const struct tb_stratum *s, size_t n, long bad, double catch_chance, bool *used)
{
    double log_miss = 0;

    for (size_t i = 0; i < n; i++)
        used[i] = false;
    while (bad > 0) {
        size_t worst = n;
        long here;

        for (size_t i = 0; i < n; i++)
            if (!used[i] && (worst == n || (double)s[i].cut * (double)s[worst].bolts <
                                               (double)s[worst].cut * (double)s[i].bolts))
                worst = i;
        here = s[worst].bolts < bad ? s[worst].bolts : bad;
        log_miss += (double)here * log1p(-catch_chance * (double)s[worst].cut / (double)s[worst].bolts);
        used[worst] = true;
        bad -= here;
    }
    return exp(log_miss);
}

/*
 * The worst placing of `bad` false bolts: each goes where it lowers the chance of a miss least. Exact because the
 * log of the miss is concave in the false bolts of a stratum (docs/sampling.md, "Spread draws").
 * Stops early, and says how many were placed, when the miss has fallen to `enough`.
 */
static double worst_miss(const struct tb_stratum *s, size_t n, long bad, double catch_chance, double enough,
                         long *placed)
{
    double *now = tb_array(double, n), *next = tb_array(double, n), miss = 1;
    long *in = (long *)tb_alloc(n, sizeof *in), done = 0;

    for (size_t i = 0; i < n; i++) {
        now[i] = 1;
        next[i] = tb_discovery_miss(s[i].bolts, 1, s[i].cut, catch_chance);
    }
    for (; done < bad && miss > enough; done++) {
        size_t worst = n;

        for (size_t i = 0; i < n; i++)
            if (in[i] < s[i].bolts && (worst == n || next[i] * now[worst] > next[worst] * now[i]))
                worst = i;
        miss *= now[worst] > 0 ? next[worst] / now[worst] : 0;
        now[worst] = next[worst];
        if (++in[worst] < s[worst].bolts)
            next[worst] = tb_discovery_miss(s[worst].bolts, in[worst] + 1, s[worst].cut, catch_chance);
    }
    free(now);
    free(next);
    free(in);
    *placed = done;
    return miss;
}

/* Above TB_SPREAD_EXACT the bound does: it is on the safe side, and its cost does not grow with the number. */
static double spread_miss(const struct tb_stratum *s, size_t n, long bad, double catch_chance)
{
    long placed;
    double miss;
    bool *used;

    if (bad <= TB_SPREAD_EXACT)
        return worst_miss(s, n, bad, catch_chance, -1, &placed);
    used = tb_array(bool, n);
    miss = miss_bound(s, n, bad, catch_chance, used);
    free(used);
    return miss;
}

/* One stratum is an undivided lot, and its chance needs no worst case. */
tb_rc tb_spread_chance(double *chance, double *miss, const struct tb_stratum *strata, size_t n, long bad,
                       double catch_chance, struct tb_err *err)
{
    long bolts;
    double m;
    tb_rc rc;

    if ((rc = tb_check_strata(&bolts, strata, n, err)) != TB_OK ||
        (rc = tb_check_false(bad, bolts, err)) != TB_OK || (rc = tb_check_catch(catch_chance, err)) != TB_OK)
        return rc;
    for (size_t i = 0; i < n; i++)
        if ((rc = tb_check_cut(strata[i].cut, strata[i].bolts, err)) != TB_OK)
            return rc;
    m = n == 1 ? tb_discovery_miss(bolts, bad, strata[0].cut, catch_chance)
               : spread_miss(strata, n, bad, catch_chance);
    if (miss)
        *miss = m;
    if (chance)
        *chance = 1 - m;
    return TB_OK;
}

/* With some found, the count found is a sum of independent chances of the same mean (the law is strongly Rayleigh),
 * so Hoeffding's inequality bounds its lower tail by the binomial one of the least share looked at. */
static long most_when_found(long bolts, double least_share, long found, double alpha)
{
    long least = found, top = bolts;

    while (least < top) {
        long bad = least + (top - least + 1) / 2;
        double mean = (double)bad * least_share;

        if (mean < (double)found + 1 || tb_dist_binomial_at_most(found, bad, least_share) > alpha)
            least = bad;
        else
            top = bad - 1;
    }
    return least;
}

/* With nothing found the bound is exact for the worst placing; with something found it is on the safe side. */
tb_rc tb_proof_most_spread(long *most, const struct tb_stratum *strata, size_t n, long found,
                           double catch_chance, double conf, struct tb_err *err)
{
    long bolts, drawn = 0, placed;
    double least_share = 1, alpha = (1 - conf) * TB_TIE;
    tb_rc rc = tb_check_strata(&bolts, strata, n, err);

    for (size_t i = 0; rc == TB_OK && i < n; i++) {
        rc = tb_check_burned(strata[i].cut, strata[i].bolts, err);
        drawn += strata[i].cut;
        least_share = fmin(least_share, (double)strata[i].cut / (double)strata[i].bolts);
    }
    if (rc != TB_OK || (rc = tb_check_false(found, drawn, err)) != TB_OK ||
        (rc = tb_check_catch(catch_chance, err)) != TB_OK || (rc = tb_check_sure(conf, err)) != TB_OK)
        return rc;
    if (n == 1)
        return tb_proof_most(most, bolts, drawn, found, catch_chance, conf, err);
    if (found > 0) {
        *most = most_when_found(bolts, least_share * catch_chance, found, alpha);
        return TB_OK;
    }
    /* worst_miss stops at the first number of false bolts that would have been seen */
    *most = worst_miss(strata, n, bolts, catch_chance, alpha, &placed) <= alpha ? placed - 1 : bolts;
    return TB_OK;
}
