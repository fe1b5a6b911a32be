/*
 * Probabilities of counts against their definitions: for small lots every term is a quotient of numbers of ways, which
 * doubles hold exactly. tests/vectors holds what is published for large ones.
 */
#include "sampling/dist.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

/* In how many ways k are chosen of n; 0 where that cannot be. */
static double ways(long n, long k)
{
    double w = 1;

    if (k < 0 || k > n)
        return 0;
    for (long i = 1; i <= k; i++)
        w = w * (double)(n - k + i) / (double)i;
    return w;
}

static void close_to(double got, double want, const char *what, long a, long b, long c, long d)
{
    if (!(fabs(got - want) <= 1e-12 * fmax(want, 1e-3)))
        fail_msg("%s of %ld, %ld, %ld, %ld is %.17g, by its definition %.17g", what, a, b, c, d, got, want);
}

static void a_binomial_is_what_its_definition_says(void **state)
{
    static const double chance[] = { 0.01, 0.2, 0.5, 0.85, 0.99 };

    (void)state;
    for (size_t i = 0; i < sizeof chance / sizeof *chance; i++)
        for (long n = 1; n <= 14; n++) {
            double p = chance[i], below = 0;

            for (long k = 0; k <= n; k++) {
                double term = ways(n, k) * pow(p, (double)k) * pow(1 - p, (double)(n - k));

                close_to(tb_dist_binomial_at_least(k, n, p), 1 - below, "at least", k, n, (long)i, 0);
                below += term;
                close_to(tb_dist_binomial_pmf(k, n, p), term, "exactly", k, n, (long)i, 0);
                close_to(tb_dist_binomial_at_most(k, n, p), below, "at most", k, n, (long)i, 0);
            }
        }
}

static void a_count_that_cannot_be_has_no_chance(void **state)
{
    (void)state;
    assert_true(tb_dist_binomial_pmf(-1, 5, 0.5) == 0 && tb_dist_binomial_pmf(6, 5, 0.5) == 0);
    assert_true(tb_dist_binomial_at_most(-1, 5, 0.5) == 0 && tb_dist_binomial_at_most(5, 5, 0.5) == 1);
    assert_true(tb_dist_binomial_at_least(6, 5, 0.5) == 0 && tb_dist_binomial_at_least(0, 5, 0.5) == 1);
    assert_true(tb_dist_binomial_pmf(0, 5, 0) == 1 && tb_dist_binomial_pmf(1, 5, 0) == 0);
    assert_true(tb_dist_binomial_pmf(5, 5, 1) == 1 && tb_dist_binomial_pmf(4, 5, 1) == 0);
    assert_true(tb_dist_hyper_pmf(-1, 9, 4, 3) == 0 && tb_dist_hyper_pmf(4, 9, 4, 3) == 0);
    assert_true(tb_dist_hyper_pmf(3, 9, 2, 3) == 0); /* more than there are */
    assert_true(tb_dist_hyper_pmf(0, 9, 8, 3) == 0); /* two at most are not among the bad */
    assert_true(tb_dist_hyper_at_most(-1, 9, 4, 3) == 0 && tb_dist_hyper_at_most(3, 9, 4, 3) == 1);
    assert_true(tb_dist_hyper_at_most(0, 9, 8, 3) == 0 && tb_dist_hyper_at_most(2, 9, 2, 5) == 1);
}

static void a_draw_without_putting_back_is_what_its_definition_says(void **state)
{
    (void)state;
    for (long lot = 1; lot <= 12; lot++)
        for (long bad = 0; bad <= lot; bad++)
            for (long drawn = 0; drawn <= lot; drawn++) {
                double below = 0;

                for (long k = 0; k <= drawn && k <= bad; k++) {
                    double term = ways(bad, k) * ways(lot - bad, drawn - k) / ways(lot, drawn);

                    below += term;
                    close_to(tb_dist_hyper_pmf(k, lot, bad, drawn), term, "exactly", k, lot, bad, drawn);
                    close_to(tb_dist_hyper_at_most(k, lot, bad, drawn), below, "at most", k, lot, bad, drawn);
                }
            }
}

/* Of beta(a, b) with whole a and b: at most x is at least a of a + b - 1 with chance x (NIST DLMF 8.17.5). */
static void a_quantile_is_where_the_chance_is_reached(void **state)
{
    static const double chance[] = { 0.001, 0.025, 0.3, 0.5, 0.8, 0.975, 0.999 };

    (void)state;
    for (long a = 1; a <= 9; a += 2)
        for (long b = 1; b <= 9; b += 4)
            for (size_t i = 0; i < sizeof chance / sizeof *chance; i++) {
                double rest, x = tb_dist_beta_quantile(chance[i], (double)a, (double)b, &rest);

                assert_true(x > 0 && x < 1);
                close_to(x + rest, 1, "both sides", a, b, (long)i, 0);
                close_to(tb_dist_binomial_at_least(a, a + b - 1, x), chance[i], "the chance", a, b, (long)i,
                         0);
                assert_true(tb_dist_beta_quantile(chance[i], (double)a, (double)b, NULL) == x);
            }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_binomial_is_what_its_definition_says),
        cmocka_unit_test(a_count_that_cannot_be_has_no_chance),
        cmocka_unit_test(a_draw_without_putting_back_is_what_its_definition_says),
        cmocka_unit_test(a_quantile_is_where_the_chance_is_reached),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
