/*
 * kernel.c - one arithmetic for three widths of vector; the best one the processor has is chosen as the
 * program runs.
 */
#include "evidence/kernel.h"

#define KERNEL_INLINE __attribute__((always_inline)) static inline
#define KERNEL_FIBRES                                                                                        \
    4 /* last fibres worked through together: as many products that do not wait for each other */

#define KERNEL(name) plain_##name
#define KERNEL_WIDE 2
#define KERNEL_TARGET
#include "evidence/kernel_body.h"
#undef KERNEL
#undef KERNEL_WIDE
#undef KERNEL_TARGET

#if defined(__x86_64__)
#define KERNEL(name) avx2_##name
#define KERNEL_WIDE 4
#define KERNEL_TARGET __attribute__((target("avx2,fma")))
#include "evidence/kernel_body.h"
#undef KERNEL
#undef KERNEL_WIDE
#undef KERNEL_TARGET

#define KERNEL(name) avx512_##name
#define KERNEL_WIDE 8
#define KERNEL_TARGET __attribute__((target("avx512f,fma")))
#include "evidence/kernel_body.h"
#undef KERNEL
#undef KERNEL_WIDE
#undef KERNEL_TARGET
#endif

static const struct tb_kernel plain = { "plain", plain_meet, plain_fill, plain_join, plain_sum, plain_times };
#if defined(__x86_64__)
static const struct tb_kernel avx2 = { "avx2", avx2_meet, avx2_fill, avx2_join, avx2_sum, avx2_times };
static const struct tb_kernel avx512 = { "avx512",    avx512_meet, avx512_fill,
                                         avx512_join, avx512_sum,  avx512_times };
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
