/* test_kernel.c - powers, products and sums of the kernels, against the C library and against each other. */
#include "evidence/kernel.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#define CHUNKS 40
#define LANES (CHUNKS * TB_CHUNK)

/* Numbers of all sizes: the mantissa goes round, the exponent of two from -1021 to 1017. */
static void fill(double *x)
{
    for (int i = 0; i < LANES; i++)
        x[i] = ldexp(0.5 + (i * 37 % 101) / 202.0, -1020 + i * 2037 / (LANES - 1));
}

static void a_power_is_that_of_the_c_library(void **state)
{
    static const double exponent[] = { 1, 2.0 / 3, 0.625, 0.5, 0.1, 1e-3 };
    const struct tb_kernel *kernel[4];
    size_t n = tb_kernels(kernel, 4);
    double x[LANES], y[LANES];

    (void)state;
    fill(x);
    for (size_t k = 0; k < n; k++)
        for (size_t e = 0; e < sizeof exponent / sizeof *exponent; e++) {
            memcpy(y, x, sizeof y);
            kernel[k]->power(y, NULL, exponent[e], CHUNKS);
            for (int i = 0; i < LANES; i++)
                assert_true(fabs(y[i] / pow(x[i], exponent[e]) - 1) < 3e-13);
        }
}

static void nothing_stays_nothing_under_a_power(void **state)
{
    const struct tb_kernel *kernel[4];
    size_t n = tb_kernels(kernel, 4);

    (void)state;
    for (size_t k = 0; k < n; k++) {
        double x[TB_CHUNK] = { 0, 1, 0x1p-1070, 0x1p-1022, 0.25, 4, 0, 1 };

        kernel[k]->power(x, NULL, 0.5, 1);
        assert_true(x[0] == 0 && x[2] == 0 && x[6] == 0);
        assert_true(fabs(x[1] - 1) < 1e-15 && fabs(x[4] - 0.5) < 1e-15 && fabs(x[5] - 2) < 1e-15);
        assert_true(fabs(x[3] / 0x1p-511 - 1) < 1e-13);
    }
}

/* A number lifted three times stands for x 2^-1500, whose root is the root of x times 2^-750: one lift, and 2^-250. */
static void what_was_lifted_goes_into_the_power(void **state)
{
    const struct tb_kernel *kernel[4];
    size_t n = tb_kernels(kernel, 4);

    (void)state;
    for (size_t k = 0; k < n; k++) {
        double x[TB_CHUNK] = { 0.25, 0.25, 0.25, 0x1p-300 }, lifts[TB_CHUNK] = { 0, 3, 2, 1 };

        kernel[k]->power(x, lifts, 0.5, 1);
        assert_true(lifts[0] == 0 && lifts[1] == 1 && lifts[2] == 1 && lifts[3] == 0);
        assert_true(fabs(x[0] - 0.5) < 1e-15 && fabs(x[1] / 0x1p-251 - 1) < 1e-13);
        assert_true(fabs(x[2] - 0.5) < 1e-15 && fabs(x[3] / 0x1p-400 - 1) < 1e-13);
    }
}

static void a_product_and_a_sum_are_those_of_a_plain_loop(void **state)
{
    static double base[LANES], by[3][LANES], out[LANES];
    const double *const factor[] = { by[0], by[1], by[2] };
    const struct tb_kernel *kernel[4];
    size_t n = tb_kernels(kernel, 4);

    (void)state;
    for (int i = 0; i < LANES; i++) {
        base[i] = 1 + i % 7;
        for (int f = 0; f < 3; f++)
            by[f][i] = 1 / (1.0 + (i * (f + 3) % 11));
    }
    for (size_t k = 0; k < n; k++) {
        double sum = 0;

        kernel[k]->product(out, base, factor, 3, 5, CHUNKS - 5);
        for (int i = 5 * TB_CHUNK; i < LANES; i++)
            assert_true(out[i - 5 * TB_CHUNK] == base[i] * by[0][i] * by[1][i] * by[2][i]);
        kernel[k]->product(out, base, factor, 3, 0, CHUNKS);
        for (int i = 0; i < LANES; i++) {
            assert_true(out[i] == base[i] * by[0][i] * by[1][i] * by[2][i]);
            sum += out[i] * base[i];
        }
        assert_true(fabs(kernel[k]->dot(out, base, CHUNKS) / sum - 1) < 1e-13);
        assert_true(kernel[k]->dot(out, base, 0) == 0);
    }
}

static void every_kernel_gives_the_same_bits(void **state)
{
    const struct tb_kernel *kernel[4];
    size_t n = tb_kernels(kernel, 4);
    double first[LANES], x[LANES], lifts[LANES], dot = 0;

    (void)state;
    for (size_t k = 0; k < n; k++) {
        fill(x);
        for (int i = 0; i < LANES; i++)
            lifts[i] = i % 3;
        kernel[k]->power(x, lifts, 0.7, CHUNKS);
        if (k == 0) {
            memcpy(first, x, sizeof x);
            dot = kernel[k]->dot(x, lifts, CHUNKS);
        }
        assert_memory_equal(first, x, sizeof x);
        assert_true(kernel[k]->dot(x, lifts, CHUNKS) == dot);
    }
}

/* Term by term as weigh.c has it, in the order of a plain loop: the same bits in every kernel. */
static void terms_taken_out_are_those_of_a_plain_loop(void **state)
{
    double undo[24], odd[24], act[24], any[24], slip[24];
    long long firm[24];
    const struct tb_takings of = { odd, act, any, slip, firm };
    const struct tb_taken e = { undo, 0.3, 0.8, 0.2, 0.01 };
    const struct tb_kernel *kernel[4];
    size_t n = tb_kernels(kernel, 4);

    (void)state;
    for (int t = 0; t < 24; t++) {
        undo[t] = 1 + t / 7.0;
        odd[t] = 2 - t / 30.0;
        act[t] = t % 5;
        any[t] = 1.0 / (1 + t);
        slip[t] = t % 3 / 50.0;
        firm[t] = t % 4 ? 0 : -1;
    }
    for (size_t k = 0; k < n; k++) {
        double without[24] = { 0 }, alone[24] = { 0 };

        kernel[k]->without(without, alone, &e, &of, 3);
        kernel[k]->without(without, alone, &e, &of, 3);
        for (int t = 0; t < 24; t++) {
            double times = t % 4 ? e.own * undo[t] + e.strange * odd[t] : undo[t];

            times += slip[t] * (act[t] - times);
            times += e.mixup * (any[t] - times);
            assert_true(without[t] == e.weight * times + e.weight * times);
            assert_true(alone[t] == e.weight / undo[t] + e.weight / undo[t]);
        }
    }
}

/* Chances of independent cues: bit c of a result says that cue c is seen. */
static void results_share_out_what_is_looked_at(void **state)
{
    static const double chance[TB_RESULT_CUES] = { 0.5, 0.1, 0.9, 0.25, 0.6, 0.03 };
    const struct tb_kernel *kernel[4];
    size_t n = tb_kernels(kernel, 4);

    (void)state;
    for (int cues = 0; cues <= TB_RESULT_CUES; cues++) {
        double first[1 << TB_RESULT_CUES] = { 0 };

        for (size_t k = 0; k < n; k++) {
            double to[1 << TB_RESULT_CUES] = { 0 }, all = 0;

            kernel[k]->results(to, 0.7, chance, cues);
            for (int r = 0; r < 1 << TB_RESULT_CUES; r++) {
                double p = r < 1 << cues ? 0.7 : 0;

                for (int c = 0; c < cues; c++)
                    p *= r >> c & 1 ? chance[c] : 1 - chance[c];
                assert_true(fabs(to[r] - p) < 1e-15);
                all += to[r];
            }
            assert_true(fabs(all - 0.7) < 1e-14);
            if (k == 0)
                memcpy(first, to, sizeof to);
            assert_memory_equal(first, to, sizeof to);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_power_is_that_of_the_c_library),
        cmocka_unit_test(nothing_stays_nothing_under_a_power),
        cmocka_unit_test(what_was_lifted_goes_into_the_power),
        cmocka_unit_test(a_product_and_a_sum_are_those_of_a_plain_loop),
        cmocka_unit_test(every_kernel_gives_the_same_bits),
        cmocka_unit_test(terms_taken_out_are_those_of_a_plain_loop),
        cmocka_unit_test(results_share_out_what_is_looked_at),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
