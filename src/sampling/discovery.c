/* discovery.c - the chance to see at least one false bolt, and how many to cut for it. */
#include "sampling/inside.h"

#include "sampling/dist.h"

#include <math.h>

/* A lot and a draw from it, and the weight each number of false bolts drawn is counted with. */
struct sum {
    long lot, bad, drawn, most;
    double catch_chance;
    double (*weight)(const struct sum *s, long j);
};

/* none of j false bolts drawn is caught */
static double none_caught(const struct sum *s, long j)
{
    return s->catch_chance < 1 ? exp((double)j * log1p(-s->catch_chance)) : j == 0;
}

/* By expm1, since the chance may be far below the last digit of 1. */
static double some_caught(const struct sum *s, long j)
{
    return s->catch_chance < 1 ? -expm1((double)j * log1p(-s->catch_chance)) : j > 0;
}

static double few_caught(const struct sum *s, long j)
{
    return tb_dist_binomial_at_most(s->most, j, s->catch_chance);
}

/* Of neighbouring point masses: the sum needs no factorials after its first term. */
static double mass_ratio(const struct sum *s, long j)
{
    return (double)(s->bad - j) / (double)(j + 1) *
           ((double)(s->drawn - j) / (double)(s->lot - s->bad - s->drawn + j + 1));
}

/* Largest term of weight x mass: the terms are log-concave in j, so the first j whose successor is smaller. */
static long top_of(const struct sum *s, long least, long most)
{
    while (least < most) {
        long j = least + (most - least) / 2;
        double here = s->weight(s, j), next = s->weight(s, j + 1);

        if (here > 0 ? next / here * mass_ratio(s, j) >= 1 : next > 0)
            least = j + 1;
        else
            most = j;
    }
    return least;
}

/* Sum of weight x mass, outward from the largest term until a term no longer counts: of the order of the
 * deviation of the count, never of the lot. */
static double sum_terms(const struct sum *s)
{
    long least = s->drawn > s->lot - s->bad ? s->drawn - (s->lot - s->bad) : 0;
    long most = s->bad < s->drawn ? s->bad : s->drawn;
    long top = top_of(s, least, most);
    double mass = tb_dist_hyper_pmf(top, s->lot, s->bad, s->drawn), m = mass;
    double total = mass * s->weight(s, top), term = total;

    for (long j = top; j < most && term > total * TB_TERM_COUNTS; j++) {
        m *= mass_ratio(s, j);
        term = m * s->weight(s, j + 1);
        total += term;
    }
    m = mass;
    term = total;
    for (long j = top; j > least && term > total * TB_TERM_COUNTS; j--) {
        m /= mass_ratio(s, j - 1);
        term = m * s->weight(s, j - 1);
        total += term;
    }
    return total;
}

/* Burns that always show leave one term of the sum. */
double tb_discovery_miss(long lot, long bad, long drawn, double catch_chance)
{
    struct sum s = { lot, bad, drawn, 0, catch_chance, none_caught };

    if (bad == 0 || drawn == 0)
        return 1;
    if (catch_chance >= 1)
        return tb_dist_hyper_pmf(0, lot, bad, drawn);
    return fmin(1, sum_terms(&s));
}

static double hit(long lot, long bad, long drawn, double catch_chance)
{
    struct sum s = { lot, bad, drawn, 0, catch_chance, some_caught };
    double miss = tb_discovery_miss(lot, bad, drawn, catch_chance);

    if (bad == 0 || drawn == 0)
        return 0;
    /* a small chance is summed by itself: 1 - miss would lose its digits */
    return miss < 0.5 ? 1 - miss : fmin(1, sum_terms(&s));
}

/* The cases with a closed form come first: they are most of what is asked. */
double tb_discovery_at_most(long most, long lot, long bad, long drawn, double catch_chance)
{
    struct sum s = { lot, bad, drawn, most, catch_chance, few_caught };

    if (most < 0)
        return 0;
    if (most >= bad || most >= drawn)
        return 1;
    if (most == 0)
        return tb_discovery_miss(lot, bad, drawn, catch_chance);
    if (catch_chance >= 1)
        return tb_dist_hyper_at_most(most, lot, bad, drawn);
    return fmin(1, sum_terms(&s));
}

static tb_rc check(long lot, long bad, double catch_chance, struct tb_err *err)
{
    tb_rc rc;

    if ((rc = tb_check_lot(lot, err)) != TB_OK || (rc = tb_check_false(bad, lot, err)) != TB_OK)
        return rc;
    return tb_check_catch(catch_chance, err);
}

tb_rc tb_discovery_chance(double *chance, double *miss, long lot, long bad, long drawn, double catch_chance,
                          struct tb_err *err)
{
    tb_rc rc;

    if ((rc = check(lot, bad, catch_chance, err)) != TB_OK || (rc = tb_check_cut(drawn, lot, err)) != TB_OK)
        return rc;
    if (chance)
        *chance = hit(lot, bad, drawn, catch_chance);
    if (miss)
        *miss = tb_discovery_miss(lot, bad, drawn, catch_chance);
    return TB_OK;
}

/* Even burning every bolt may not be sure enough, where a burn can miss. */
tb_rc tb_discovery_cut(long *cut, long lot, long bad, double sure, double catch_chance, struct tb_err *err)
{
    tb_rc rc = check(lot, bad, catch_chance, err);
    long least = 1, most = lot;
    double allowed;

    if (rc == TB_OK)
        rc = tb_check_sure(sure, err);
    if (rc == TB_OK && bad < 1)
        rc = tb_fail(err, TB_EINVAL,
                     "to see a false bolt there must be one; the number to look for is 1 or more");
    if (rc != TB_OK)
        return rc;
    allowed = (1 - sure) * TB_TIE;
    if (tb_discovery_miss(lot, bad, lot, catch_chance) > allowed) {
        *cut = -1;
        return TB_OK;
    }
    while (least < most) { /* the miss falls with every bolt more */
        long n = least + (most - least) / 2;

        if (tb_discovery_miss(lot, bad, n, catch_chance) <= allowed)
            most = n;
        else
            least = n + 1;
    }
    *cut = least;
    return TB_OK;
}
