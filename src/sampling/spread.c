/* spread.c - draws spread over dye lots: how many from each. */
#include "sampling/inside.h"

#include <math.h>

/* Adams' rule with a divisor d gives ceil(bolts / d) bolts to a stratum. */
static long shared_out(struct tb_stratum *s, size_t n, double d)
{
    long sum = 0;

    for (size_t i = 0; i < n; i++) {
        s[i].cut = (long)fmin(ceil((double)s[i].bolts / d), (double)s[i].bolts);
        sum += s[i].cut;
    }
    return sum;
}

/* One bolt more for the stratum that is looked at least; of equals the first. */
static void one_more(struct tb_stratum *s, size_t n)
{
    struct tb_stratum *worst = NULL;

    for (size_t i = 0; i < n; i++)
        if (s[i].cut < s[i].bolts &&
            (!worst || (double)s[i].bolts * (double)worst->cut > (double)worst->bolts * (double)s[i].cut ||
             (s[i].cut == 0 && worst->cut == 0 && s[i].bolts > worst->bolts)))
            worst = &s[i];
    if (worst)
        worst->cut++;
}

/* Fewer cuts than strata cannot reach each of them; the largest are looked at first. */
tb_rc tb_spread(struct tb_stratum *strata, size_t n, long cut, struct tb_err *err)
{
    long bolts, given = 0;
    double least = 1, most;
    tb_rc rc;

    if ((rc = tb_check_strata(&bolts, strata, n, err)) != TB_OK ||
        (rc = tb_check_cut(cut, bolts, err)) != TB_OK)
        return rc;
    most = (double)bolts + 1;
    if (cut < (long)n) {
        for (size_t i = 0; i < n; i++)
            strata[i].cut = 0;
    } else {
        /* the divisor is bisected down to where no more than `cut` are given; the rest go one by one */
        for (int i = 0; i < 80; i++) {
            double d = (least + most) / 2;

            if (shared_out(strata, n, d) > cut)
                least = d;
            else
                most = d;
        }
        given = shared_out(strata, n, most);
    }
    for (; given < cut; given++)
        one_more(strata, n);
    return TB_OK;
}

/* At least as many as from one undivided lot, which gives the bisection its lower end. */
tb_rc tb_spread_cut(long *cut, struct tb_stratum *strata, size_t n, long bad, double sure,
                    double catch_chance, struct tb_err *err)
{
    long bolts, least, most;
    tb_rc rc;

    if ((rc = tb_check_strata(&bolts, strata, n, err)) != TB_OK ||
        (rc = tb_discovery_cut(&least, bolts, bad, sure, catch_chance, err)) != TB_OK)
        return rc;
    if (least < 0) {
        *cut = -1;
        return tb_spread(strata, n, bolts, err);
    }
    most = bolts;
    while (rc == TB_OK && least < most) { /* Adams' rule never takes a bolt away when one more is cut */
        long c = least + (most - least) / 2;
        double miss = 1;

        rc = tb_spread(strata, n, c, err);
        if (rc == TB_OK)
            rc = tb_spread_chance(NULL, &miss, strata, n, bad, catch_chance, err);
        if (miss <= (1 - sure) * TB_TIE)
            most = c;
        else
            least = c + 1;
    }
    *cut = least;
    return rc == TB_OK ? tb_spread(strata, n, least, err) : rc;
}
