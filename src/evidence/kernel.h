/*
 * kernel.h - the arithmetic over blocks of compositions, in portable C with GCC's vector types, compiled for
 * what the processor has.
 *
 * A block is all fractions of one set of fibres, one lane a composition. Three roles (first, second, third
 * fibre) bring a row of numbers each; a row of the pair (i, j) is made once and met with every third fibre.
 */
#ifndef TENTERBOOK_EVIDENCE_KERNEL_H
#define TENTERBOOK_EVIDENCE_KERNEL_H

#include <stddef.h>

#define TB_LANES 176 /* most lanes of a block: 171 compositions of three fibres, padded */

/* t = a + b * S, S the sum of `rows` rows; product rows are u v w, sum rows u + v + w. */
struct tb_factor {
    double a, b;
    int first, rows;
    int sum; /* 1: rows are sums */
};

/* Factors in groups by weight (quarters): group g holds from[g] .. from[g + 1] - 1. */
struct tb_factors {
    const struct tb_factor *factor;
    int from[5];
};

/*
 * uv and w: row r at [r * TB_LANES]. out[l] = lead * uv[row][l] * w[row][l] * the product of the weighted factors;
 * l < lanes, a multiple of 8. With `over`, what out held is multiplied (1) or divided (-1) by that instead.
 */
typedef void tb_kernel_fn(double *out, double lead, size_t row, const double *uv, const double *w,
                          const struct tb_factors *f, size_t lanes, int over);
/* out = telling * ((1 - pi) rest + pi odd): likelihoods of the block, padding included. */
typedef void tb_join_fn(double *out, const double *telling, const double *rest, double pi, double odd,
                        size_t lanes);
/* Sum and greatest of x[from .. to - 1]. */
typedef void tb_sum_fn(double *sum, double *most, const double *x, size_t from, size_t to);

struct tb_kernel {
    const char *name;
    tb_kernel_fn *fill;
    tb_join_fn *join;
    tb_sum_fn *sum;
};
/* The kernels this processor can run, best first; always one at least. Returns how many, up to `most`. */
size_t tb_kernels(const struct tb_kernel **out, size_t most);
/* out[l] = u[l] * v[l], or the sum: rows of a pair. */
void tb_rows_meet(double *out, const double *u, const double *v, size_t lanes, int sum);

#endif
