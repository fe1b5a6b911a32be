/* The body of one kernel: KERNEL(name) names its functions, KERNEL_WIDE doubles go at once. Included by kernel.c. */
typedef double KERNEL(vec) __attribute__((vector_size(8 * KERNEL_WIDE), aligned(8), may_alias));
typedef long long KERNEL(mask) __attribute__((vector_size(8 * KERNEL_WIDE)));

KERNEL_TARGET static inline void KERNEL(root)(double *x, size_t n)
{
    for (size_t l = 0; l < n; l++)
        x[l] = __builtin_sqrt(x[l]);
}

/* The product over one group of factors at lanes l .. l + KERNEL_WIDE - 1. */
KERNEL_TARGET static inline void KERNEL(group)(double *to, const double *uv, const double *w,
                                               const struct tb_factor *f, const struct tb_factor *end,
                                               size_t l)
{
    KERNEL(vec) acc = { 0 };

    acc += 1.0;
    for (; f < end; f++) {
        const double *u = uv + (size_t)f->first * TB_LANES + l, *v = w + (size_t)f->first * TB_LANES + l;
        KERNEL(vec)
        s = f->sum ? *(const KERNEL(vec) *)u + *(const KERNEL(vec) *)v
                   : *(const KERNEL(vec) *)u * *(const KERNEL(vec) *)v;

        for (int r = 1; r < f->rows; r++)
            s += *(const KERNEL(vec) *)(u + (size_t)r * TB_LANES) *
                 *(const KERNEL(vec) *)(v + (size_t)r * TB_LANES);
        acc *= f->a + f->b * s;
    }
    *(KERNEL(vec) *)to = acc;
}

/* The weighted product of all groups: x^(1/4) y^(1/2) z^(3/4) f by two square roots. */
KERNEL_TARGET static inline void KERNEL(weighted)(double *g3, const double *uv, const double *w,
                                                  const struct tb_factors *f, size_t l)
{
    double g[3][KERNEL_WIDE], x[KERNEL_WIDE];

    KERNEL(group)(g3, uv, w, f->factor + f->from[3], f->factor + f->from[4], l);
    if (f->from[3] == 0)
        return;
    for (int k = 0; k < 3; k++)
        KERNEL(group)(g[k], uv, w, f->factor + f->from[k], f->factor + f->from[k + 1], l);
    for (size_t i = 0; i < KERNEL_WIDE; i++)
        x[i] = g[0][i] * g[2][i];
    KERNEL(root)(x, KERNEL_WIDE);
    for (size_t i = 0; i < KERNEL_WIDE; i++)
        x[i] *= g[1][i] * g[2][i];
    KERNEL(root)(x, KERNEL_WIDE);
    for (size_t i = 0; i < KERNEL_WIDE; i++)
        g3[i] *= x[i];
}

KERNEL_TARGET static void KERNEL(fill)(double *out, double lead, size_t row, const double *uv,
                                       const double *w, const struct tb_factors *f, size_t lanes, int over)
{
    const double *u = uv + row * TB_LANES, *v = w + row * TB_LANES;

    for (size_t l = 0; l < lanes; l += KERNEL_WIDE) {
        double g[KERNEL_WIDE];
        KERNEL(vec) x;

        KERNEL(weighted)(g, uv, w, f, l);
        x = lead * *(const KERNEL(vec) *)(u + l) * *(const KERNEL(vec) *)(v + l) * *(const KERNEL(vec) *)g;
        if (over > 0)
            x *= *(const KERNEL(vec) *)(out + l);
        else if (over < 0)
            x = *(const KERNEL(vec) *)(out + l) / x;
        *(KERNEL(vec) *)(out + l) = x;
    }
}

KERNEL_TARGET static void KERNEL(sum)(double *sum, double *most, const double *x, size_t from, size_t to)
{
    KERNEL(vec) s = { 0 }, m = { 0 };
    size_t l = from;

    *sum = *most = 0;
    for (; l + KERNEL_WIDE <= to; l += KERNEL_WIDE) {
        KERNEL(vec) v = *(const KERNEL(vec) *)(x + l);
        KERNEL(mask) more = v > m;

        m = (KERNEL(vec))((more & (KERNEL(mask))v) | (~more & (KERNEL(mask))m));
        s += v;
    }
    for (size_t i = 0; i < KERNEL_WIDE; i++) {
        *sum += s[i];
        *most = m[i] > *most ? m[i] : *most;
    }
    for (; l < to; l++) {
        *sum += x[l];
        *most = x[l] > *most ? x[l] : *most;
    }
}

KERNEL_TARGET static void KERNEL(join)(double *out, const double *telling, const double *rest, double pi,
                                       double odd, size_t lanes)
{
    for (size_t l = 0; l < lanes; l += KERNEL_WIDE)
        *(KERNEL(vec) *)(out + l) =
            *(const KERNEL(vec) *)(telling + l) * ((1 - pi) * *(const KERNEL(vec) *)(rest + l) + pi * odd);
}
