/*
 * kernel.c - one arithmetic for three widths of vector; the best one the processor has is chosen as the
 * program runs.
 */
#include "evidence/kernel.h"

#define KERNEL_INLINE __attribute__((always_inline)) static inline
#define KERNEL_FIBRES                                                                                        \
    4 /* last fibres worked through together: as many products that do not wait for each other */

#define POWER_VECTORS 4 /* worked through together */
#define POWER_LN2 0.693147180559945309417
#define POWER_LIFT 500        /* log2 of TB_LIFT */
#define POWER_LEAST 0x1p-1022 /* least normal number */
#define POWER_LEAST_LOG2 (-1022)
#define POWER_ROUND 0x1.8p52                  /* added and taken away again: the nearest whole number */
#define POWER_ROOT_HALF 0x3fe6a09e667f3bcdull /* the bits of sqrt(1/2) */
#define POWER_OFFSET 1024ull                  /* keeps the exponent of two above 0 while it is shifted */
#define POWER_WHOLE 0x4330000000000000ull     /* the bits of 2^52, whose last ones are a whole number */
/* 1 / n! */
static const double power_factorial[] = {
    1,          1,           1.0 / 2,      1.0 / 6,       1.0 / 24,       1.0 / 120,       1.0 / 720,
    1.0 / 5040, 1.0 / 40320, 1.0 / 362880, 1.0 / 3628800, 1.0 / 39916800, 1.0 / 479001600, 1.0 / 6227020800
};

#define KERNEL(name) plain_##name
#define KERNEL_WIDE 2
#define KERNEL_TARGET
#include "evidence/kernel_body.h"
#include "evidence/kernel_list.h"
#include "evidence/kernel_power.h"
#undef KERNEL
#undef KERNEL_WIDE
#undef KERNEL_TARGET

#if defined(__x86_64__)
#define KERNEL(name) avx2_##name
#define KERNEL_WIDE 4
#define KERNEL_TARGET __attribute__((target("avx2,fma")))
#include "evidence/kernel_body.h"
#include "evidence/kernel_list.h"
#include "evidence/kernel_power.h"
#undef KERNEL
#undef KERNEL_WIDE
#undef KERNEL_TARGET

#define KERNEL(name) avx512_##name
#define KERNEL_WIDE 8
#define KERNEL_TARGET __attribute__((target("avx512f,fma")))
#include "evidence/kernel_body.h"
#include "evidence/kernel_list.h"
#include "evidence/kernel_power.h"
#undef KERNEL
#undef KERNEL_WIDE
#undef KERNEL_TARGET
#endif

#define KERNEL_NAMED(k)                                                                                      \
    {                                                                                                        \
        .name = #k, .meet = k##_meet, .fill = k##_fill, .join = k##_join, .sum = k##_sum,                    \
        .times = k##_times, .power = k##_power, .product = k##_product, .dot = k##_dot,                      \
        .without = k##_without, .results = k##_results                                                       \
    }
static const struct tb_kernel plain = KERNEL_NAMED(plain);
#if defined(__x86_64__)
static const struct tb_kernel avx2 = KERNEL_NAMED(avx2);
static const struct tb_kernel avx512 = KERNEL_NAMED(avx512);
#endif

/* Asked of the processor as the program runs, since one package serves many machines. */
size_t tb_kernels(const struct tb_kernel **out, size_t most)
{
    size_t n = 0;

#if defined(__x86_64__)
    __builtin_cpu_init();
    if (n < most && __builtin_cpu_supports("avx512f"))
        out[n++] = &avx512;
    if (n < most && __builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma"))
        out[n++] = &avx2;
#endif
    if (n < most)
        out[n++] = &plain;
    return n;
}
