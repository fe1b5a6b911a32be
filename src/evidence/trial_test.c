/* trial_test.c - the bench test beside a burn: what each of its results multiplies into the compositions. */
#include "evidence/chances.h"
#include "evidence/trial.h"

#include <stdlib.h>

/* The chance of a result in every lane that is a cloth; what pads them is 1. */
static void spread(double *lanes, const struct tb_trial *a, const double *chance)
{
    for (size_t l = a->from[TB_TRIAL_PURE] * TB_CHUNK; l < a->from[TB_TRIAL_KINDS] * TB_CHUNK; l++)
        lanes[l] = 1;
    for (size_t i = 0; i < a->list.n; i++)
        if (a->lane[i] >= a->from[TB_TRIAL_PURE] * TB_CHUNK)
            lanes[a->lane[i]] = chance[i];
}

void tb_trial_test_open(struct tb_trial_test *out, const struct tb_trial *a, const struct tb_channel *ch,
                        struct tb_arena *mem)
{
    size_t n = a->from[TB_TRIAL_KINDS];
    double e = a->ev->fig.test_error,
           *chance = tb_realloc(NULL, (size_t)ch->n * a->list.n + 1, sizeof *chance);
    struct tb_terms all = { .n = 0 };

    out->channel = ch;
    for (int c = ch->first; c < ch->first + ch->n; c++)
        all.term[all.n++] = (struct tb_term){ c, true, false };
    tb_chances_take(chance, a->list.n, 1, a->ev, a->list.entry, a->list.n, &all);
    for (size_t t = 0; t < all.n; t++) {
        int c = all.term[t].cue;
        double *r = out->result[c] = tb_arena_alloc(mem, n * TB_CHUNK * sizeof *r);
        double mistaken = e * tb_mistaken_chance(a->ev, c);

        spread(r, a, chance + t * a->list.n);
        a->ev->kernel->power(r, NULL, tb_weight_of(a->ev, c), n);
        for (size_t l = a->from[TB_TRIAL_PURE] * TB_CHUNK; l < n * TB_CHUNK; l++)
            r[l] = (1 - e) * r[l] + mistaken;
        tb_trial_bound(r, a);
    }
    free(chance);
}
