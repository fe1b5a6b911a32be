/* The body of one kernel: KERNEL(name) names its functions, KERNEL_WIDE doubles go at once. Included by kernel.c. */
typedef double KERNEL(vec) __attribute__((vector_size(8 * KERNEL_WIDE), aligned(8), may_alias));

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

/* x^(1/4) y^(1/2) z^(3/4) f by two square roots. */
KERNEL_TARGET static void KERNEL(fill)(double *out, const double *in, const double *uv, const double *w,
                                       const struct tb_factors *f, size_t lanes)
{
    for (size_t l = 0; l < lanes; l += KERNEL_WIDE) {
        double g[4][KERNEL_WIDE], x[KERNEL_WIDE], y[KERNEL_WIDE];

        KERNEL(group)(g[3], uv, w, f->factor + f->from[3], f->factor + f->from[4], l);
        if (f->from[3] > 0) {
            for (int k = 0; k < 3; k++)
                KERNEL(group)(g[k], uv, w, f->factor + f->from[k], f->factor + f->from[k + 1], l);
            for (size_t i = 0; i < KERNEL_WIDE; i++)
                x[i] = g[0][i] * g[2][i];
            KERNEL(root)(x, KERNEL_WIDE);
            for (size_t i = 0; i < KERNEL_WIDE; i++)
                y[i] = g[1][i] * g[2][i] * x[i];
            KERNEL(root)(y, KERNEL_WIDE);
            for (size_t i = 0; i < KERNEL_WIDE; i++)
                g[3][i] *= y[i];
        }
        for (size_t i = 0; i < KERNEL_WIDE; i++)
            out[l + i] = in[l + i] * g[3][i];
    }
}

KERNEL_TARGET static void KERNEL(join)(double *out, const double *telling, const double *rest, double pi,
                                       double odd, size_t lanes)
{
    for (size_t l = 0; l < lanes; l += KERNEL_WIDE)
        *(KERNEL(vec) *)(out + l) =
            *(const KERNEL(vec) *)(telling + l) * ((1 - pi) * *(const KERNEL(vec) *)(rest + l) + pi * odd);
}
