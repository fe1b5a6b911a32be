/* kept.c - the compositions that a declaration leaves open, with the chances of their cues. */
#include "evidence/kept.h"

#include <stdlib.h>

static void keep(void *to, const struct tb_blend *b, double weight)
{
    struct tb_kept *k = to;
    size_t n = k->n;

    TB_PUSH_ROOM(k->blend, k->n, k->cap);
    TB_PUSH_ROOM(k->weight, n, k->cap_weight);
    k->blend[k->n] = *b;
    k->weight[k->n++] = weight;
}

struct tb_kept *tb_kept_new(const struct tb_evidence *ev, const struct tb_declared_blend *d)
{
    struct tb_kept *k = tb_new(struct tb_kept);

    tb_declared_walk(ev, d, (1u << d->n_shown) - 1, keep, k);
    k->chance = tb_realloc(NULL, k->n * (size_t)ev->cues + 1, sizeof *k->chance);
    return k;
}

void tb_kept_free(struct tb_kept *k)
{
    if (!k)
        return;
    free(k->blend);
    free(k->weight);
    free(k->chance);
    free(k);
}

void tb_kept_know(struct tb_kept *k, const struct tb_evidence *ev, const struct tb_terms *terms)
{
    struct tb_terms more = { .n = 0 };
    double chance[TB_CUES_MOST];

    for (size_t t = 0; t < terms->n; t++)
        if (!k->known[terms->term[t].cue]) {
            k->known[terms->term[t].cue] = true;
            more.term[more.n++] = (struct tb_term){ terms->term[t].cue, true, false };
        }
    for (size_t i = 0; i < k->n && more.n; i++) {
        tb_blend_chances(chance, ev, &k->blend[i], &more);
        for (size_t t = 0; t < more.n; t++)
            k->chance[i * (size_t)ev->cues + (size_t)more.term[t].cue] = chance[t];
    }
}

void tb_kept_chances(double *out, const struct tb_kept *k, const struct tb_evidence *ev, size_t blend,
                     const struct tb_terms *terms)
{
    const double *chance = k->chance + blend * (size_t)ev->cues;

    for (size_t t = 0; t < terms->n; t++) {
        double p = chance[terms->term[t].cue];

        out[t] = terms->term[t].seen ? p : 1 - p;
    }
}
