/* apart.c - the terms of a burn taken out of the likelihood of compositions, one by one. */
#include "evidence/apart.h"

#include <math.h>
#include <stdlib.h>

/* From the chance of every term to 1 over it, to the power of its channel's weight, in place. */
static void undo_chances(double *undo, const struct tb_evidence *ev, const struct tb_terms *terms)
{
    for (size_t t = 0; t < terms->n; t++)
        undo[t] = 1 / tb_quarters(undo[t], ev->cue[terms->term[t].cue].group + 1);
}

/* Without a term, as a share of what they make of all of it. */
void tb_apart_strange(struct tb_apart *a, const struct tb_evidence *ev, const struct tb_pattern *p)
{
    const struct tb_terms *terms = p->terms;
    const struct tb_strange *strange = &p->strange;

    a->odd_undo = tb_array(double, terms->n + TB_CHUNK);
    a->act_undo = tb_array(double, terms->n + TB_CHUNK);
    a->any_undo = tb_array(double, terms->n + TB_CHUNK);
    for (int f = 0; f < ev->fibres; f++) {
        struct tb_blend pure = { .n = 1, .fibre = { f }, .share = { 1 } };
        double undo[TB_CUES_MOST], odd, burn, all;
        struct tb_logs l;

        tb_blend_chances(undo, ev, &pure, terms);
        tb_chance_logs(&l, ev, undo, terms);
        undo_chances(undo, ev, terms);
        odd = ev->odd[f] * exp(l.rest - strange->odd);
        burn = ev->odd[f] * exp(l.telling + l.rest - strange->burn);
        all = l.telling + l.rest - strange->any;
        for (int c = 0; c < ev->channels; c++)
            all += l.tests & 1u << c ? l.test[c] : 0;
        for (size_t t = 0; t < terms->n; t++) {
            int c = ev->cue[terms->term[t].cue].channel;

            a->odd_undo[t] += odd * undo[t];
            a->act_undo[t] += l.tests & 1u << c ? 0 : burn * undo[t];
            a->any_undo[t] += ev->odd[f] * exp(all) * undo[t];
        }
    }
    for (size_t t = 0; t < terms->n; t++) {
        double any = tb_mistaken_chance(ev, terms->term[t].cue);

        if (ev->channel[ev->cue[terms->term[t].cue].channel].bench)
            a->act_undo[t] = 1 / (terms->term[t].seen ? any : 1 - any);
    }
}

void tb_apart_open(struct tb_apart *out, double *chance, size_t rows)
{
    *out = (struct tb_apart){ .undo = chance,
                              .rest = tb_array(double, rows + 1),
                              .mistaken = tb_array(struct tb_mistaken, rows + 1) };
}

/* Where there is no bench test, a mix-up and a mistake in burning are one (tb_join_logs). */
static void take_mistaken(struct tb_mistaken *out, const struct tb_evidence *ev, int fibres,
                          const struct tb_logs *l, const struct tb_strange *strange)
{
    double e = l->tests ? ev->fig.mixup : ev->fig.bench_error;

    out->mixup = e * exp(strange->any - tb_join_logs(ev, fibres, l, strange));
    if (!l->tests)
        return;
    out->burn = ev->fig.burn_error * exp(strange->burn - tb_burn_log(ev, fibres, l, strange));
    for (int c = 0; c < ev->channels; c++)
        if (l->tests & 1u << c)
            out->test[c] = ev->fig.test_error * exp(strange->test[c] - tb_test_log(ev, c, l, strange));
}

void tb_apart_take(struct tb_apart *a, size_t row, const struct tb_evidence *ev, const struct tb_pattern *p,
                   const struct tb_logs *l, int fibres)
{
    undo_chances(a->undo + row * p->terms->n, ev, p->terms);
    a->rest[row] =
        exp(fmin(l->rest - p->strange.odd, 600)); /* beyond that the odd burn is nothing beside it */
    take_mistaken(&a->mistaken[row], ev, fibres, l, &p->strange);
}

void tb_apart_free(struct tb_apart *a)
{
    free(a->rest);
    free(a->mistaken);
    free(a->odd_undo);
    free(a->act_undo);
    free(a->any_undo);
    *a = (struct tb_apart){ 0 };
}
