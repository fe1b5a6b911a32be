/*
 * kernel.h - the arithmetic over strips of compositions, in portable C with GCC's vector types, compiled for
 * what the processor has.
 *
 * A chunk is eight ways to share out the cloth, one lane each; a strip holds the compositions of one chunk that
 * differ in their last fibre only. What the fibres before the last bring is met once a strip (x); what every
 * last fibre brings to a chunk (w) stays in the cache while all strips of the chunk are worked through.
 */
#ifndef TENTERBOOK_EVIDENCE_KERNEL_H
#define TENTERBOOK_EVIDENCE_KERNEL_H

#include <stdbool.h>
#include <stddef.h>

#define TB_FIBRES_MOST 40                         /* fibres the model weighs */
#define TB_CHUNK 8                                /* lanes of a chunk */
#define TB_STRIP_MOST (TB_FIBRES_MOST * TB_CHUNK) /* lanes of a strip: a chunk of every fibre */

/* One row of x from the first fibre's u and the second's v (1, or 0 in a sum, where there is no second). */
struct tb_factor_row {
    double mul, add;
    bool sum; /* x = add + mul (u + v); else x = mul u v */
};

/* t = a + the sum of x w over `rows` rows; of a sum row t = x + b w. */
struct tb_factor {
    double a, b;
    int first, rows;
    bool sum;
};

/*
 * One product: x w of row `lead`, and factors in groups by weight (quarters): group g holds from[g] ..
 * from[g+1]-1.
 */
struct tb_factors {
    int lead;
    const struct tb_factor *factor;
    int from[5];
};

/* x[row * TB_CHUNK + lane] of all rows; v may be NULL. */
typedef void tb_meet_fn(double *x, const double *u, const double *v, const struct tb_factor_row *row,
                        int rows);
/* One strip of several that are filled together: the last fibres from `first` on, out[(fibre - first) * TB_CHUNK + lane]. */
struct tb_filling {
    double *out;
    const double *x; /* what its fibres before the last bring */
    size_t first;
};
/*
 * The product for every last fibre of some strips of one chunk. The rows of fibre m begin at w + m * stride; they are read once for all
 * strips, some fibres at a time, so that they stay in the first cache.
 */
typedef void tb_fill_fn(const struct tb_filling *s, size_t strips, const struct tb_factors *f,
                        const double *w, size_t stride, size_t fibres);
/* out = any + telling * (own rest + odd), n chunks: likelihoods, padding included; out may be telling. */
struct tb_joint {
    double own, odd, any;
};
typedef void tb_join_fn(double *out, const double *telling, const double *rest, const struct tb_joint *joint,
                        size_t n);
/* The sum of each of n chunks, lane l times weight[l]. */
typedef void tb_sum_fn(double *sum, const double *x, const double *weight, size_t n);

/*
 * Many likelihoods multiply to less than a double holds, so a product is kept as a number and how many times it was
 * lifted by TB_LIFT, both as doubles.
 */
#define TB_LIFT 0x1p500
/*
 * x times `by`, n chunks, lifted once where that is below 1 / TB_LIFT; by_lifts may be NULL: none. x may be
 * `by`.
 */
typedef void tb_times_fn(double *x, double *lifts, const double *by, const double *by_lifts, size_t n);

/*
 * x to the power `exponent`, at most 1 and not 0, n chunks; what x was lifted by goes into it, and what is left of that in
 * whole lifts is put back; lifts may be NULL: none. A number below the least normal one counts as 0.
 */
typedef void tb_power_fn(double *x, double *lifts, double exponent, size_t n);
/* out = base times every one of the factors: n chunks of them from chunk `at` on, to the begin of out. */
typedef void tb_product_fn(double *out, const double *base, const double *const *by, size_t factors,
                           size_t at, size_t n);
/* The sum of x w over n chunks. */
typedef double tb_dot_fn(const double *x, const double *w, size_t n);

/* One composition whose terms are taken out of its likelihood, one by one (weigh.c): what they undo, and its shares of mistakes. */
struct tb_taken {
    const double *undo; /* of each term; up to 7 more are read */
    double weight, own, strange, mixup;
};
/* The same for all compositions, by term, in whole chunks. */
struct tb_takings {
    const double *odd_undo, *act_undo, *any_undo;
    const double *slip;    /* share of a mistake in the act of the term */
    const long long *firm; /* all bits: an odd burn leaves the term alone; else 0 */
};
/* Adds to `without` the weight without each term, and to `alone` that of each term alone: n chunks of terms. */
typedef void tb_without_fn(double *without, double *alone, const struct tb_taken *e,
                           const struct tb_takings *of, size_t n);
#define TB_RESULT_CUES 6 /* that are looked at together in a test */
/*
 * Adds `weight`, shared out over the results of looking at some cues: bit c of a result is whether cue c is seen, which has chance
 * chance[c]. to[1 << cues].
 */
typedef void tb_results_fn(double *to, double weight, const double *chance, int cues);

struct tb_kernel {
    const char *name;
    tb_meet_fn *meet;
    tb_fill_fn *fill;
    tb_join_fn *join;
    tb_sum_fn *sum;
    tb_times_fn *times;
    tb_power_fn *power;
    tb_product_fn *product;
    tb_dot_fn *dot;
    tb_without_fn *without;
    tb_results_fn *results;
};
/* The kernels this processor can run, best first; always one at least. Returns how many, up to `most`. */
size_t tb_kernels(const struct tb_kernel **out, size_t most);

#endif
