/* Published intervals for a share, tests/vectors/intervals.csv; the source stands beside each row there. */
#include "tenterbook/interval.h"
#include "tenterbook/sampling.h"

#include "sampling/dist.h"
#include "vectors/stats_rows.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static bool starts(const struct stats_row *r, const char *with)
{
    return strncmp(r->cell[1], with, strlen(with)) == 0;
}

/* The end of the interval a row asks for; NAN when the row is of another kind. */
static double end_of(const struct stats_row *r)
{
    double lo = NAN, hi = NAN, conf = stats_number(r, "conf", 0.95);
    long k = (long)stats_number(r, "x", 0), n = (long)stats_number(r, "n", 0);
    enum tb_side side = stats_is(r, "side", "less")      ? TB_SIDE_LESS
                        : stats_is(r, "side", "greater") ? TB_SIDE_GREATER
                                                         : TB_SIDE_BOTH;
    struct tb_err err = { 0 };
    tb_rc rc = TB_ENOTFOUND;

    if (starts(r, "Clopper-Pearson"))
        rc = tb_interval_exact_side(&lo, &hi, k, n, conf, side, &err);
    else if (starts(r, "Jeffreys"))
        rc = tb_interval_beta(&lo, &hi, (double)k + 0.5, (double)(n - k) + 0.5, conf, &err);
    if (rc != TB_OK)
        return NAN;
    return strstr(r->cell[1], "lower") ? lo : hi;
}

/* Exact tests of a count, and what the next lot will be after the lots so far. */
static double count_of(const struct stats_row *r)
{
    double x[3] = { 0 }, a[3] = { 1, 1, 1 }, p = NAN, n = stats_number(r, "n", 0);
    const char *alpha = stats_input(r, "alpha");
    struct tb_posterior post;
    struct tb_err err = { 0 };

    (void)sscanf(stats_input(r, "x"), "%lf %lf %lf", &x[0], &x[1], &x[2]);
    if (alpha)
        (void)sscanf(alpha, "%lf %lf %lf", &a[0], &a[1], &a[2]);
    if (starts(r, "exact two-sided") &&
        tb_binomial_p(&p, NULL, NULL, (long)x[0], (long)n, stats_number(r, "p", 0), &err) != TB_OK)
        return NAN;
    if (starts(r, "exact one-sided") &&
        tb_binomial_p(NULL, &p, NULL, (long)x[0], (long)n, stats_number(r, "p", 0), &err) != TB_OK)
        return NAN;
    if (starts(r, "posterior predictive") &&
        tb_record_posterior(&post, &(struct tb_beta){ a[0], a[1] + a[2] },
                            &(struct tb_tally){ (long)(x[0] + x[1] + x[2]), (long)x[0] }, 0.95,
                            &err) == TB_OK)
        p = post.next_wrong;
    return p;
}

static void every_published_interval_and_chance_is_met(void **state)
{
    struct stats_rows t = stats_read("intervals");
    size_t met = 0;

    (void)state;
    for (size_t i = 1; i < t.n; i++) {
        double got = end_of(&t.row[i]);

        met += stats_agrees(&t.row[i], isnan(got) ? count_of(&t.row[i]) : got);
    }
    assert_int_equal(t.n - 1, 54);
    stats_free(&t);
    assert_int_equal(met, 54);
}

static void the_exact_interval_of_nothing_is_closed_at_zero(void **state)
{
    double lo = -1, hi = -1;
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(tb_interval_exact(&lo, &hi, 0, 20, 0.95, &err), TB_OK);
    assert_true(lo == 0);
    /* 1 - 0.025^(1/20), by hand */
    assert_true(fabs(hi - (1 - pow(0.025, 0.05))) < 1e-14);
    assert_int_equal(tb_interval_jeffreys(&lo, &hi, 20, 20, 0.95, &err), TB_OK);
    assert_true(hi == 1 && lo > 0.88 && lo < 0.9);
}

static void a_count_beyond_its_number_is_refused_and_nothing_is_touched(void **state)
{
    double lo = -1, hi = -1;
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(tb_interval_exact(&lo, &hi, 21, 20, 0.95, &err), TB_EINVAL);
    assert_string_equal(err.msg, "21 of 20 is not a possible count; it lies between 0 and 20");
    assert_int_equal(tb_interval_exact(&lo, &hi, 0, 0, 0.95, &err), TB_EINVAL);
    assert_string_equal(err.msg, "a share needs at least one that was checked; there were 0");
    assert_int_equal(tb_interval_jeffreys(&lo, &hi, 0, 5, 1, &err), TB_EINVAL);
    assert_string_equal(err.msg, "a confidence of 1 is not possible; it lies above 0 and below 1");
    assert_int_equal(tb_interval_beta(&lo, &hi, 0, 5, 0.9, &err), TB_EINVAL);
    assert_true(lo == -1 && hi == -1);
}

static void the_exact_interval_covers_as_often_as_it_says(void **state)
{
    struct tb_err err = { 0 };

    (void)state;
    for (int i = 1; i < 40; i++) {
        double p = i / 40.0, covered = 0;

        for (long k = 0; k <= 25; k++) {
            double lo, hi;

            assert_int_equal(tb_interval_exact(&lo, &hi, k, 25, 0.95, &err), TB_OK);
            if (lo <= p && p <= hi)
                covered += tb_dist_binomial_pmf(k, 25, p);
        }
        assert_true(covered >= 0.95);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_published_interval_and_chance_is_met),
        cmocka_unit_test(the_exact_interval_of_nothing_is_closed_at_zero),
        cmocka_unit_test(a_count_beyond_its_number_is_refused_and_nothing_is_touched),
        cmocka_unit_test(the_exact_interval_covers_as_often_as_it_says),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
