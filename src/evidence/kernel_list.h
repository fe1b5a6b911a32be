/*
 * Lists of compositions, one after the other, a term or a result of a test in each lane: the part of one kernel that serves
 * weigh.c and gain.c. Included by kernel.c after kernel_body.h.
 */
KERNEL_TARGET static void KERNEL(without)(double *without, double *alone, const struct tb_taken *e,
                                          const struct tb_takings *of, size_t n)
{
    for (size_t l = 0; l < n * TB_CHUNK; l += KERNEL_WIDE) {
        KERNEL(vec) undo = *(const KERNEL(vec) *)(e->undo + l);
        KERNEL(vec) odd = e->own * undo + e->strange * *(const KERNEL(vec) *)(of->odd_undo + l);
        KERNEL(bits) firm = *(const KERNEL(bits) *)(of->firm + l);
        KERNEL(vec) times = (KERNEL(vec))(((KERNEL(bits))undo & firm) | ((KERNEL(bits))odd & ~firm));

        times += *(const KERNEL(vec) *)(of->slip + l) * (*(const KERNEL(vec) *)(of->act_undo + l) - times);
        times += e->mixup * (*(const KERNEL(vec) *)(of->any_undo + l) - times);
        *(KERNEL(vec) *)(without + l) += e->weight * times;
        *(KERNEL(vec) *)(alone + l) += e->weight / undo;
    }
}

/* From eight results on each half is a whole number of vectors. */
KERNEL_TARGET static void KERNEL(results)(double *to, double weight, const double *chance, int cues)
{
    double w[1 << TB_RESULT_CUES] = { weight };

    for (int c = 0; c < cues && c < 3; c++)
        for (int i = 0, r = 1 << c; i < r; i++) {
            w[i + r] = w[i] * chance[c];
            w[i] -= w[i + r];
        }
    for (int c = 3; c < cues; c++)
        for (size_t i = 0, r = (size_t)1 << c; i < r; i += KERNEL_WIDE) {
            KERNEL(vec) seen = *(const KERNEL(vec) *)(w + i) * chance[c];

            *(KERNEL(vec) *)(w + i + r) = seen;
            *(KERNEL(vec) *)(w + i) -= seen;
        }
    if (cues < 3)
        for (int r = 0; r < 1 << cues; r++)
            to[r] += w[r];
    else
        for (size_t r = 0; r < (size_t)1 << cues; r += KERNEL_WIDE)
            *(KERNEL(vec) *)(to + r) += *(const KERNEL(vec) *)(w + r);
}
