/*
 * The body of one kernel's powers: logarithm, product, exponential, all lanes at once. Included by kernel.c behind
 * kernel_body.h.
 *
 * Source: the series of artanh and exp (Abramowitz and Stegun 4.6.33, 4.2.1), cut where the next term is below half a
 * unit of the last place; the parts of a double by its bits.
 */
typedef unsigned long long KERNEL(word) __attribute__((vector_size(8 * KERNEL_WIDE), aligned(8), may_alias));

/* Base 2, of normal numbers: 2^e m with m from sqrt(1/2) to sqrt(2), ln m = 2 artanh((m - 1) / (m + 1)). */
KERNEL_TARGET KERNEL_INLINE void KERNEL(log2)(KERNEL(vec) * x, size_t vectors)
{
    KERNEL(vec) s[POWER_VECTORS], z[POWER_VECTORS], sum[POWER_VECTORS], whole[POWER_VECTORS];

    for (size_t k = 0; k < vectors; k++) {
        KERNEL(word) all = (KERNEL(word))x[k], e = (all - POWER_ROOT_HALF + (POWER_OFFSET << 52)) >> 52;
        KERNEL(vec) m = (KERNEL(vec))(all - ((e - POWER_OFFSET) << 52));

        whole[k] = (KERNEL(vec))(e | POWER_WHOLE) - (0x1p52 + POWER_OFFSET);
        s[k] = (m - 1) / (m + 1);
        z[k] = s[k] * s[k];
        sum[k] = z[k] * (1.0 / 21) + 1.0 / 19;
    }
    for (int n = 17; n > 0; n -= 2)
        for (size_t k = 0; k < vectors; k++)
            sum[k] = sum[k] * z[k] + 1.0 / n;
    for (size_t k = 0; k < vectors; k++)
        x[k] = whole[k] + s[k] * sum[k] * (2 / POWER_LN2);
}

/* 2^y, y from -1022 to 1023: the whole part goes into the bits of the exponent. */
KERNEL_TARGET KERNEL_INLINE void KERNEL(exp2)(KERNEL(vec) * y, size_t vectors)
{
    KERNEL(vec) near[POWER_VECTORS], t[POWER_VECTORS], sum[POWER_VECTORS];

    for (size_t k = 0; k < vectors; k++) {
        near[k] = y[k] + POWER_ROUND;
        t[k] = (y[k] - (near[k] - POWER_ROUND)) * POWER_LN2;
        sum[k] = t[k] * power_factorial[13] + power_factorial[12];
    }
    for (int n = 11; n >= 0; n--)
        for (size_t k = 0; k < vectors; k++)
            sum[k] = sum[k] * t[k] + power_factorial[n];
    for (size_t k = 0; k < vectors; k++)
        y[k] = (KERNEL(vec))((KERNEL(word))sum[k] + ((KERNEL(word))near[k] << 52));
}

/* Some vectors together, since each step of the series waits for the one before. */
KERNEL_TARGET KERNEL_INLINE void KERNEL(power_some)(double *x, double *lifts, double exponent, size_t vectors)
{
    KERNEL(vec) y[POWER_VECTORS];
    KERNEL(word) keep[POWER_VECTORS];

    for (size_t k = 0; k < vectors; k++) {
        y[k] = *(const KERNEL(vec) *)(x + k * KERNEL_WIDE);
        keep[k] = (KERNEL(word))(y[k] >= POWER_LEAST);
    }
    KERNEL(log2)(y, vectors);
    for (size_t k = 0; k < vectors; k++) {
        y[k] *= exponent;
        if (lifts) {
            KERNEL(vec)
            all = *(const KERNEL(vec) *)(lifts + k * KERNEL_WIDE) * exponent,
            whole = all + POWER_ROUND - POWER_ROUND;

            whole -= (KERNEL(vec))((KERNEL(word))((KERNEL(vec)){ 0 } + 1.0) & (KERNEL(word))(whole > all));
            *(KERNEL(vec) *)(lifts + k * KERNEL_WIDE) = whole;
            y[k] -= POWER_LIFT * (all - whole);
        }
        keep[k] &= (KERNEL(word))(y[k] >= POWER_LEAST_LOG2);
    }
    KERNEL(exp2)(y, vectors);
    for (size_t k = 0; k < vectors; k++)
        *(KERNEL(vec) *)(x + k * KERNEL_WIDE) = (KERNEL(vec))((KERNEL(word))y[k] & keep[k]);
}

/* What a number was lifted by goes into its logarithm; only the whole lifts stay beside it. */
KERNEL_TARGET static void KERNEL(power)(double *x, double *lifts, double exponent, size_t n)
{
    size_t l = 0, all = n * TB_CHUNK;

    for (; l + POWER_VECTORS * KERNEL_WIDE <= all; l += POWER_VECTORS * KERNEL_WIDE)
        KERNEL(power_some)(x + l, lifts ? lifts + l : NULL, exponent, POWER_VECTORS);
    for (; l < all; l += KERNEL_WIDE)
        KERNEL(power_some)(x + l, lifts ? lifts + l : NULL, exponent, 1);
}

/* Some vectors together, since each factor waits for the one before. */
KERNEL_TARGET KERNEL_INLINE void KERNEL(product_some)(double *out, const double *base,
                                                      const double *const *by, size_t factors, size_t at,
                                                      size_t vectors)
{
    KERNEL(vec) y[POWER_VECTORS];

    for (size_t k = 0; k < vectors; k++)
        y[k] = *(const KERNEL(vec) *)(base + at + k * KERNEL_WIDE);
    for (size_t f = 0; f < factors; f++)
        for (size_t k = 0; k < vectors; k++)
            y[k] *= *(const KERNEL(vec) *)(by[f] + at + k * KERNEL_WIDE);
    for (size_t k = 0; k < vectors; k++)
        *(KERNEL(vec) *)(out + k * KERNEL_WIDE) = y[k];
}

KERNEL_TARGET static void KERNEL(product)(double *out, const double *base, const double *const *by,
                                          size_t factors, size_t at, size_t n)
{
    size_t l = 0, all = n * TB_CHUNK, from = at * TB_CHUNK;

    for (; l + POWER_VECTORS * KERNEL_WIDE <= all; l += POWER_VECTORS * KERNEL_WIDE)
        KERNEL(product_some)(out + l, base, by, factors, from + l, POWER_VECTORS);
    for (; l < all; l += KERNEL_WIDE)
        KERNEL(product_some)(out + l, base, by, factors, from + l, 1);
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
