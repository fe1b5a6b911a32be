/*
 * The body of one kernel: KERNEL(name) names its functions, KERNEL_WIDE doubles go at once. Included by
 * kernel.c.
 */
typedef double KERNEL(vec) __attribute__((vector_size(8 * KERNEL_WIDE), aligned(8), may_alias));
typedef long long KERNEL(bits) __attribute__((vector_size(8 * KERNEL_WIDE), aligned(8), may_alias));

KERNEL_TARGET static void KERNEL(meet)(double *x, const double *u, const double *v,
                                       const struct tb_factor_row *row, int rows)
{
    for (int r = 0; r < rows; r++)
        for (size_t l = 0; l < TB_CHUNK; l += KERNEL_WIDE) {
            size_t at = (size_t)r * TB_CHUNK + l;
            KERNEL(vec) y = *(const KERNEL(vec) *)(u + at);

            if (v && row[r].sum)
                y += *(const KERNEL(vec) *)(v + at);
            else if (v)
                y *= *(const KERNEL(vec) *)(v + at);
            *(KERNEL(vec) *)(x + at) = row[r].add + row[r].mul * y;
        }
}

/* acc[k] times the product over one group of factors, k < fibres; x and w already at the lanes. */
KERNEL_TARGET KERNEL_INLINE void KERNEL(group)(KERNEL(vec) * acc, const double *x, const double *w,
                                               size_t stride, const struct tb_factor *f,
                                               const struct tb_factor *end, size_t fibres)
{
    for (; f < end; f++) {
        const double *xr = x + f->first * TB_CHUNK, *wr = w + f->first * TB_CHUNK;
        KERNEL(vec) t[KERNEL_FIBRES], first = *(const KERNEL(vec) *)xr;

        for (size_t k = 0; k < fibres; k++)
            t[k] = f->sum ? first + f->b * *(const KERNEL(vec) *)(wr + k * stride)
                          : f->a + first * *(const KERNEL(vec) *)(wr + k * stride);
        for (int r = 1; r < f->rows; r++)
            for (size_t k = 0; k < fibres; k++)
                t[k] += *(const KERNEL(vec) *)(xr + r * TB_CHUNK) *
                        *(const KERNEL(vec) *)(wr + k * stride + (size_t)r * TB_CHUNK);
        for (size_t k = 0; k < fibres; k++)
            acc[k] *= t[k];
    }
}

/* The groups of less than full weight: a^(1/4) b^(1/2) c^(3/4) by two square roots. */
KERNEL_TARGET KERNEL_INLINE void KERNEL(light)(KERNEL(vec) * out, const struct tb_factors *f, const double *x,
                                               const double *w, size_t stride, size_t fibres)
{
    const struct tb_factor *at = f->factor;
    KERNEL(vec) ac[KERNEL_FIBRES] = { { 0 } }, b[KERNEL_FIBRES];
    double root[KERNEL_FIBRES * KERNEL_WIDE], times[KERNEL_FIBRES * KERNEL_WIDE];

    for (size_t k = 0; k < fibres; k++)
        ac[k] += 1.0;
    KERNEL(group)(ac, x, w, stride, at + f->from[2], at + f->from[3], fibres);
    for (size_t k = 0; k < fibres; k++)
        b[k] = ac[k];
    KERNEL(group)(ac, x, w, stride, at + f->from[0], at + f->from[1], fibres);
    KERNEL(group)(b, x, w, stride, at + f->from[1], at + f->from[2], fibres);
    for (size_t k = 0; k < fibres; k++) {
        *(KERNEL(vec) *)(root + k * KERNEL_WIDE) = ac[k];
        *(KERNEL(vec) *)(times + k * KERNEL_WIDE) = b[k];
    }
    for (size_t l = 0; l < fibres * KERNEL_WIDE;
         l++) /* a plain loop: the compiler has vector square roots for it */
        root[l] = __builtin_sqrt(__builtin_sqrt(root[l]) * times[l]);
    for (size_t k = 0; k < fibres; k++)
        out[k] = *(const KERNEL(vec) *)(root + k * KERNEL_WIDE);
}

/* Some last fibres of a strip; the compiler makes one version for each number of them. */
KERNEL_TARGET KERNEL_INLINE void KERNEL(fill_some)(double *out, const struct tb_factors *f, const double *x,
                                                   const double *w, size_t stride, size_t fibres)
{
    const struct tb_factor *heavy = f->factor + f->from[3], *end = f->factor + f->from[4];
    size_t lead = (size_t)f->lead * TB_CHUNK;

    for (size_t l = 0; l < TB_CHUNK; l += KERNEL_WIDE) {
        KERNEL(vec) y[KERNEL_FIBRES], lighter[KERNEL_FIBRES];

        if (f->from[3] > 0)
            KERNEL(light)(lighter, f, x + l, w + l, stride, fibres);
        for (size_t k = 0; k < fibres; k++)
            y[k] = *(const KERNEL(vec) *)(x + lead + l) * *(const KERNEL(vec) *)(w + k * stride + lead + l);
        for (size_t k = 0; f->from[3] > 0 && k < fibres; k++)
            y[k] *= lighter[k];
        KERNEL(group)(y, x + l, w + l, stride, heavy, end, fibres);
        for (size_t k = 0; k < fibres; k++)
            *(KERNEL(vec) *)(out + k * TB_CHUNK + l) = y[k];
    }
}

/* Fibres go together from the last one down, the same for every strip: only the first of a strip may be fewer. */
KERNEL_TARGET static void KERNEL(fill)(const struct tb_filling *s, size_t strips, const struct tb_factors *f,
                                       const double *w, size_t stride, size_t fibres)
{
    for (size_t end = fibres, least; end > 0; end = least) {
        least = end > KERNEL_FIBRES ? end - KERNEL_FIBRES : 0;
        for (size_t i = 0; i < strips; i++) {
            size_t from = s[i].first > least ? s[i].first : least;
            double *out = s[i].out + (from - s[i].first) * TB_CHUNK;

            if (from + 4 == end)
                KERNEL(fill_some)(out, f, s[i].x, w + from * stride, stride, 4);
            else if (from + 3 == end)
                KERNEL(fill_some)(out, f, s[i].x, w + from * stride, stride, 3);
            else if (from + 2 == end)
                KERNEL(fill_some)(out, f, s[i].x, w + from * stride, stride, 2);
            else if (from + 1 == end)
                KERNEL(fill_some)(out, f, s[i].x, w + from * stride, stride, 1);
        }
    }
}

/* Halves onto halves, as far as vectors go and then within one: the same order, and so the same bits, whatever their width. */
KERNEL_TARGET static void KERNEL(sum)(double *sum, const double *x, const double *weight, size_t n)
{
    for (size_t m = 0; m < n; m++) {
        KERNEL(vec) v[TB_CHUNK / KERNEL_WIDE];

        for (size_t i = 0; i < TB_CHUNK / KERNEL_WIDE; i++)
            v[i] = *(const KERNEL(vec) *)(x + m * TB_CHUNK + i * KERNEL_WIDE) *
                   *(const KERNEL(vec) *)(weight + i * KERNEL_WIDE);
        for (size_t half = TB_CHUNK / KERNEL_WIDE / 2; half > 0; half /= 2)
            for (size_t i = 0; i < half; i++)
                v[i] += v[i + half];
#if KERNEL_WIDE >= 8
        v[0] += __builtin_shufflevector(v[0], v[0], 4, 5, 6, 7, 0, 1, 2, 3);
        v[0] += __builtin_shufflevector(v[0], v[0], 2, 3, 0, 1, 6, 7, 4, 5);
        v[0] += __builtin_shufflevector(v[0], v[0], 1, 0, 3, 2, 5, 4, 7, 6);
#elif KERNEL_WIDE >= 4
        v[0] += __builtin_shufflevector(v[0], v[0], 2, 3, 0, 1);
        v[0] += __builtin_shufflevector(v[0], v[0], 1, 0, 3, 2);
#else
        v[0] += __builtin_shufflevector(v[0], v[0], 1, 0);
#endif
        sum[m] = v[0][0];
    }
}

KERNEL_TARGET static void KERNEL(join)(double *out, const double *telling, const double *rest,
                                       const struct tb_joint *joint, size_t n)
{
    const double own = joint->own, odd = joint->odd, any = joint->any;

    for (size_t l = 0; l < n * TB_CHUNK; l += KERNEL_WIDE)
        *(KERNEL(vec) *)(out + l) =
            any + *(const KERNEL(vec) *)(telling + l) * (own * *(const KERNEL(vec) *)(rest + l) + odd);
}

/* A comparison of vectors gives all bits where it is so: the factor is LIFT there and 1 elsewhere. */
KERNEL_TARGET static void KERNEL(times)(double *x, double *lifts, const double *by, const double *by_lifts,
                                        size_t n)
{
    const KERNEL(vec) one = (KERNEL(vec)){ 0 } + 1.0, lift = (KERNEL(vec)){ 0 } + TB_LIFT;

    for (size_t l = 0; l < n * TB_CHUNK; l += KERNEL_WIDE) {
        KERNEL(vec) y = *(const KERNEL(vec) *)(x + l) * *(const KERNEL(vec) *)(by + l);
        KERNEL(vec) up = *(const KERNEL(vec) *)(lifts + l);
        KERNEL(bits) low = (KERNEL(bits))(y < one / TB_LIFT);

        if (by_lifts)
            up += *(const KERNEL(vec) *)(by_lifts + l);
        *(KERNEL(vec) *)(x + l) = y * (KERNEL(vec))(((KERNEL(bits))lift & low) | ((KERNEL(bits))one & ~low));
        *(KERNEL(vec) *)(lifts + l) = up + (KERNEL(vec))((KERNEL(bits))one & low);
    }
}
