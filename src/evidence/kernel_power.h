/*
 * The body of one kernel's powers: logarithm, product, exponential, all lanes at once. Included by kernel.c behind
 * kernel_body.h.
 *
 * Source: the series of artanh and exp (Abramowitz and Stegun 4.6.33, 4.2.1), cut where the next term is below half a
 * unit of the last place; the parts of a double by its bits.
 */
typedef unsigned long long KERNEL(bits) __attribute__((vector_size(8 * KERNEL_WIDE), aligned(8), may_alias));

/* Base 2, of a normal number: 2^e m with m from sqrt(1/2) to sqrt(2), ln m = 2 artanh((m - 1) / (m + 1)). */
KERNEL_TARGET KERNEL_INLINE KERNEL(vec) KERNEL(log2)(KERNEL(vec) x)
{
    KERNEL(bits) all = (KERNEL(bits))x, e = (all - POWER_ROOT_HALF + (POWER_OFFSET << 52)) >> 52;
    KERNEL(vec) m = (KERNEL(vec))(all - ((e - POWER_OFFSET) << 52)), s = (m - 1) / (m + 1), z = s * s;
    KERNEL(vec) sum = z * (1.0 / 21) + 1.0 / 19;

    for (int n = 17; n > 0; n -= 2)
        sum = sum * z + 1.0 / n;
    return (KERNEL(vec))(e | POWER_WHOLE) - (0x1p52 + POWER_OFFSET) + s * sum * (2 / POWER_LN2);
}

/* 2^y, y from -1022 to 1023: the whole part goes into the bits of the exponent. */
KERNEL_TARGET KERNEL_INLINE KERNEL(vec) KERNEL(exp2)(KERNEL(vec) y)
{
    KERNEL(vec)
    near = y + POWER_ROUND,
    t = (y - (near - POWER_ROUND)) * POWER_LN2, sum = t * power_factorial[13] + power_factorial[12];

    for (int n = 11; n >= 0; n--)
        sum = sum * t + power_factorial[n];
    return (KERNEL(vec))((KERNEL(bits))sum + ((KERNEL(bits))near << 52));
}

/* What a number was lifted by goes into its logarithm; only the whole lifts stay beside it. */
KERNEL_TARGET static void KERNEL(power)(double *x, double *lifts, double exponent, size_t n)
{
    for (size_t l = 0; l < n * TB_CHUNK; l += KERNEL_WIDE) {
        KERNEL(vec) y = *(const KERNEL(vec) *)(x + l);
        KERNEL(bits) keep = (KERNEL(bits))(y >= POWER_LEAST);
        KERNEL(vec) log = KERNEL(log2)(y) * exponent;

        if (lifts) {
            KERNEL(vec)
            all = *(const KERNEL(vec) *)(lifts + l) * exponent,
            whole = all + POWER_ROUND - POWER_ROUND;

            whole -= (KERNEL(vec))((KERNEL(bits))((KERNEL(vec)){ 0 } + 1.0) & (KERNEL(bits))(whole > all));
            *(KERNEL(vec) *)(lifts + l) = whole;
            log -= POWER_LIFT * (all - whole);
        }
        keep &= (KERNEL(bits))(log >= POWER_LEAST_LOG2);
        *(KERNEL(vec) *)(x + l) = (KERNEL(vec))((KERNEL(bits))KERNEL(exp2)(log) & keep);
    }
}

KERNEL_TARGET static void KERNEL(product)(double *out, const double *base, const double *const *by,
                                          size_t factors, size_t n)
{
    for (size_t l = 0; l < n * TB_CHUNK; l += TB_CHUNK) {
        KERNEL(vec) y[TB_CHUNK / KERNEL_WIDE];

        for (size_t i = 0; i < TB_CHUNK / KERNEL_WIDE; i++)
            y[i] = *(const KERNEL(vec) *)(base + l + i * KERNEL_WIDE);
        for (size_t f = 0; f < factors; f++)
            for (size_t i = 0; i < TB_CHUNK / KERNEL_WIDE; i++)
                y[i] *= *(const KERNEL(vec) *)(by[f] + l + i * KERNEL_WIDE);
        for (size_t i = 0; i < TB_CHUNK / KERNEL_WIDE; i++)
            *(KERNEL(vec) *)(out + l + i * KERNEL_WIDE) = y[i];
    }
}

/* Lane by lane first and the lanes in their order, so that the sum is the same however wide the vectors are. */
KERNEL_TARGET static double KERNEL(dot)(const double *x, const double *w, size_t n)
{
    KERNEL(vec) sum[TB_CHUNK / KERNEL_WIDE] = { { 0 } };
    double all = 0;

    for (size_t l = 0; l < n * TB_CHUNK; l += TB_CHUNK)
        for (size_t i = 0; i < TB_CHUNK / KERNEL_WIDE; i++)
            sum[i] += *(const KERNEL(vec) *)(x + l + i * KERNEL_WIDE) *
                      *(const KERNEL(vec) *)(w + l + i * KERNEL_WIDE);
    for (size_t l = 0; l < TB_CHUNK; l++)
        all += sum[l / KERNEL_WIDE][l % KERNEL_WIDE];
    return all;
}
