/* Published figures for what the evidence model is made of: noisy-OR with a leak, information gain. */
#include "evidence/model.h"
#include "evidence/shortlist.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

/* A model of one cue and up to three causes: cause i makes it with chance p[i]; leak as given. */
static double noisy_or(const double *p, const int *on, int causes, double leak, enum tb_cue_law law)
{
    struct tb_evidence *ev = tb_new(struct tb_evidence);
    struct tb_blend b = { .n = 0 };
    double out;

    ev->ramp[ev->ramps++] = (struct tb_ramp){ 0, 0.2, 1 };
    ev->fig.leak_floor = leak;
    ev->cue[0].law = law;
    for (int i = 0; i < causes; i++) {
        ev->q[i][0] = p[i];
        if (on[i]) {
            b.fibre[b.n] = i;
            b.share[b.n++] = 0.3; /* plentiful enough to show fully */
        }
    }
    out = tb_cue_chance(ev, &b, 0);
    free(ev);
    return out;
}

static void noisy_or_of_three_causes_gives_the_published_table(void **state)
{
    /* Russell and Norvig, Artificial Intelligence: fever from cold, flu, malaria; inhibition 0.6, 0.2, 0.1 */
    static const double p[] = { 0.4, 0.8, 0.9 };
    static const struct {
        int on[3];
        double fever;
    } row[] = { { { 0, 0, 0 }, 0 },    { { 0, 0, 1 }, 0.9 },  { { 0, 1, 0 }, 0.8 },  { { 0, 1, 1 }, 0.98 },
                { { 1, 0, 1 }, 0.94 }, { { 1, 1, 0 }, 0.88 }, { { 1, 1, 1 }, 0.988 } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++)
        assert_true(fabs(noisy_or(p, row[i].on, 3, 0, TB_LAW_ANY) - row[i].fever) < 1e-12);
}

static void a_leak_adds_a_cause_of_its_own(void **state)
{
    /* BayesiaLab user guide, NoisyOr formula: leak 0.1, causes 0.8 and 0.6 */
    static const double p[] = { 0.8, 0.6 };
    static const int second[] = { 0, 1 }, first[] = { 1, 0 }, both[] = { 1, 1 };

    (void)state;
    assert_true(fabs(noisy_or(p, second, 2, 0.1, TB_LAW_ANY) - 0.64) < 1e-12);
    assert_true(fabs(noisy_or(p, first, 2, 0.1, TB_LAW_ANY) - 0.82) < 1e-12);
    assert_true(fabs(noisy_or(p, both, 2, 0.1, TB_LAW_ANY) - 0.928) < 1e-12);
}

static void noisy_and_is_the_mirror_of_noisy_or(void **state)
{
    /* the same guide's table read for what must not fail: 1 - (1 - 0.8)(1 - 0.6) = 0.92 against 0.8 * 0.6 */
    static const double p[] = { 0.8, 0.6 }, q[] = { 0.2, 0.4 };
    static const int both[] = { 1, 1 };

    (void)state;
    assert_true(fabs(noisy_or(p, both, 2, 0, TB_LAW_ALL) - 0.48) < 1e-12);
    assert_true(fabs(noisy_or(p, both, 2, 0, TB_LAW_ALL) - (1 - noisy_or(q, both, 2, 0, TB_LAW_ANY))) <
                1e-12);
}

static void expected_information_gives_the_published_gains(void **state)
{
    /* Quinlan's play-tennis data, Mitchell, Machine Learning (1997), ch. 3: yes and no by result, bits as printed */
    static const struct {
        double yes[3], no[3];
        int n;
        double bits;
    } row[] = { { { 2, 4, 3 }, { 3, 0, 2 }, 3, 0.2467 },   /* outlook */
                { { 3, 6 }, { 4, 1 }, 2, 0.1518 },         /* humidity */
                { { 2, 4, 3 }, { 2, 2, 1 }, 3, 0.0292 } }; /* temperature */

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        double declared[3], other[3];

        for (int r = 0; r < row[i].n; r++) {
            declared[r] = row[i].yes[r] / 9;
            other[r] = row[i].no[r] / 5;
        }
        assert_true(fabs(tb_gain_bits(9.0 / 14, declared, other, row[i].n) - row[i].bits) < 5e-5);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(noisy_or_of_three_causes_gives_the_published_table),
        cmocka_unit_test(a_leak_adds_a_cause_of_its_own),
        cmocka_unit_test(noisy_and_is_the_mirror_of_noisy_or),
        cmocka_unit_test(expected_information_gives_the_published_gains),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
