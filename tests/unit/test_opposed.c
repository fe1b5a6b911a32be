/* Two analyses of one part: whether their answers or their figures contradict each other. */
#include "tenterbook/act_bench.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static struct tb_analysis of(const char *found, double u, const char *answers)
{
    return (struct tb_analysis){ .part = TB_PART_WHOLE,
                                 .found = found,
                                 .u = u,
                                 .answers = answers,
                                 .declared = "65% polyester 35% cotton" };
}

/* 2 sqrt(1 + 1) is 2.83 points, and 2 sqrt(0.09 + 0.16) is 1: JCGM 100:2008, 5.1.2 and 6.2.1. */
static void figures_are_apart_beyond_twice_the_uncertainty_of_their_difference(void **state)
{
    const struct tb_analysis a = of("67 % polyester, 33 % cotton", 1, ""),
                             near = of("69.8 % polyester, 30.2 % cotton", 1, ""),
                             far = of("69.9 % polyester, 30.1 % cotton", 1, ""),
                             sharp = of("67 % polyester, 33 % cotton", 0.3, ""),
                             within = of("67.9 % polyester, 32.1 % cotton", 0.4, ""),
                             beyond = of("68.1 % polyester, 31.9 % cotton", 0.4, ""),
                             other = of("67 % viscose, 33 % cotton", 1, ""),
                             bare = of("20 % polyester, 80 % cotton", 0, ""),
                             unsaid = of("20 % polyester, 80 % cotton", (double)NAN, "");
    struct tb_analysis warp = far;

    (void)state;
    assert_false(tb_analysis_apart(&a, &a));
    assert_false(tb_analysis_apart(&a, &near));
    assert_true(tb_analysis_apart(&a, &far) && tb_analysis_apart(&far, &a));
    assert_false(tb_analysis_apart(&sharp, &within));
    assert_true(tb_analysis_apart(&sharp, &beyond));
    assert_true(tb_analysis_apart(&a, &other)); /* another fibre: 67 points of it */
    assert_false(tb_analysis_apart(&a, &bare)); /* without an uncertainty nobody can say */
    assert_false(tb_analysis_apart(&a, &unsaid));
    warp.part = TB_PART_WARP;
    assert_false(tb_analysis_apart(&a, &warp));
}

static struct tb_laboratory both(const struct tb_analysis *x)
{
    struct tb_laboratory l;

    tb_laboratory_take(&l, x, 2, "65% polyester 35% cotton");
    return l;
}

static void one_that_fails_and_one_that_cannot_say_disagree_where_they_are_apart(void **state)
{
    const struct tb_analysis apart[] = { of("75 % polyester, 25 % cotton", 1, "eu:does_not_conform"),
                                         of("67 % polyester, 33 % cotton", 1, "eu:cannot_be_said") },
                             near[] = { of("70 % polyester, 30 % cotton", 1, "eu:does_not_conform"),
                                        of("68 % polyester, 32 % cotton", 1, "eu:cannot_be_said") },
                             alike[] = { of("75 % polyester, 25 % cotton", 1, "eu:does_not_conform"),
                                         of("90 % polyester, 10 % cotton", 1, "eu:does_not_conform") },
                             opposite[] = { of("66 % polyester, 34 % cotton", 2, "eu:conforms"),
                                            of("69 % polyester, 31 % cotton", 2, "eu:does_not_conform") };
    struct tb_laboratory l = both(apart);

    (void)state;
    assert_true(l.disagree && l.apart && !l.opposite);
    assert_int_equal(l.answer, TB_LAB_UNSAID);
    l = both(near);
    assert_true(!l.disagree && !l.apart);
    assert_int_equal(l.answer, TB_LAB_FAILS);
    l = both(alike); /* neither finds the words kept: how far they are apart is said beside it */
    assert_true(!l.disagree && l.apart);
    assert_int_equal(l.answer, TB_LAB_FAILS);
    l = both(opposite);
    assert_true(l.disagree && !l.apart && l.opposite);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(figures_are_apart_beyond_twice_the_uncertainty_of_their_difference),
        cmocka_unit_test(one_that_fails_and_one_that_cannot_say_disagree_where_they_are_apart),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
