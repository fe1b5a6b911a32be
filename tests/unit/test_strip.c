/* test_strip.c - the ways to share out a cloth: those that stand for all sum up what all sum up. */
#include "evidence/strip.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

/* x^a y^b z^c of the shares of one way, in twentieths. */
static double power_of(const int *steps, const int *power)
{
    double x = 1;

    for (int r = 0; r < 3; r++)
        for (int i = 0; i < power[r]; i++)
            x *= steps[r];
    return x;
}

static unsigned shown(const int *steps, int roles)
{
    unsigned bits = 0;

    for (int r = 0; r < roles; r++)
        bits |= steps[r] >= TB_SHOWN_STEPS ? 1u << r : 0;
    return bits;
}

/* Over every way of the grid that shows just these roles. */
static double over_all(int roles, unsigned shows, const int *power)
{
    double sum = 0;

    for (int a = 1; a < TB_STEPS; a++)
        for (int b = 1; a + b <= TB_STEPS; b++) {
            const int steps[3] = { a, b, TB_STEPS - a - b };

            if ((steps[2] == 0) == (roles == 2) && shown(steps, roles) == shows)
                sum += power_of(steps, power);
        }
    return sum;
}

static double over_lanes(const struct tb_layout *l, unsigned shows, const int *power)
{
    double sum = 0;

    for (int c = 0; c < l->chunks; c++)
        for (int r = 0; r < l->chunk[c].runs; r++)
            for (int lane = 0; l->chunk[c].run[r].shows == shows && lane < TB_CHUNK; lane++) {
                const int steps[3] = { l->chunk[c].steps[0][lane], l->chunk[c].steps[1][lane],
                                       l->chunk[c].steps[2][lane] };

                sum += l->chunk[c].run[r].weight[lane] * power_of(steps, power);
            }
    return sum;
}

static void sums_up_as_all_do(int roles, int degree)
{
    struct tb_layout l;

    tb_layout_make(&l, roles);
    for (unsigned shows = 1; shows < 1u << roles; shows++)
        for (int a = 0; a <= degree; a++)
            for (int b = 0; a + b <= degree; b++)
                for (int c = 0; a + b + c <= degree; c++) {
                    const int power[3] = { a, b, c };
                    double all = over_all(roles, shows, power);

                    assert_true(fabs(over_lanes(&l, shows, power) - all) <= 1e-9 * all);
                }
}

static void three_fibres_have_the_sums_of_all_ways_up_to_the_fourth_degree(void **state)
{
    (void)state;
    sums_up_as_all_do(3, 4);
}

static void two_fibres_are_weighed_in_all_their_ways(void **state)
{
    (void)state;
    sums_up_as_all_do(2, 8);
}

/* What is cut off a sum by its most counts on it. */
static void no_lane_stands_for_less_than_itself(void **state)
{
    struct tb_layout l;

    (void)state;
    for (int roles = 2; roles <= 3; roles++) {
        int ways = 0;

        tb_layout_make(&l, roles);
        for (int c = 0; c < l.chunks; c++) {
            for (int lane = 0; lane < TB_CHUNK; lane++) {
                double weight = 0;
                int shared =
                    l.chunk[c].steps[0][lane] + l.chunk[c].steps[1][lane] + l.chunk[c].steps[2][lane];

                for (int r = 0; r < l.chunk[c].runs; r++)
                    weight += l.chunk[c].run[r].weight[lane];
                assert_true(lane < l.chunk[c].ways ? weight >= 1 : weight == 0);
                assert_int_equal(shared, TB_STEPS);
            }
            ways += l.chunk[c].ways;
        }
        assert_int_equal(ways, roles == 2 ? 19 : 39);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(three_fibres_have_the_sums_of_all_ways_up_to_the_fourth_degree),
        cmocka_unit_test(two_fibres_are_weighed_in_all_their_ways),
        cmocka_unit_test(no_lane_stands_for_less_than_itself),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
