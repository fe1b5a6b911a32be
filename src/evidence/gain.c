/*
 * gain.c - what a test is expected to tell of "declared or not".
 *
 * The gain of a test is how much its result is expected to lower the entropy of that question, in bits. Results of a
 * solvent, melting or float test exclude each other; of a burn's channel and of the microscope the most telling few cues
 * are imagined together. Now and then the result of a bench test is any of them, by a mistake.
 */
#include "evidence/next.h"

#include <math.h>

#define IMAGINED_MOST TB_RESULT_CUES /* cues of one channel imagined together: 64 results */
#define RESULTS_MOST 32              /* of one exclusive test */

/* Of a yes-or-no question, in bits. */
double tb_open_bits(double p)
{
    return p <= 0 || p >= 1 ? 0 : -(p * log2(p) + (1 - p) * log2(1 - p));
}

double tb_gain_bits(double chance, const double *declared, const double *other, int results)
{
    double rest = 0;

    for (int r = 0; r < results; r++) {
        double both = chance * declared[r] + (1 - chance) * other[r];

        rest += both > 0 ? both * tb_open_bits(chance * declared[r] / both) : 0;
    }
    return tb_open_bits(chance) - rest;
}

/* A mistake makes any result of a bench test alike; those of a burn are in what is judged already, and rare. */
static double gain_with_mistakes(const struct tb_mind *m, const struct tb_channel *ch, double *const p[2],
                                 const double *mistaken, int results)
{
    double e = ch->bench ? m->s->ev->fig.test_error : 0;

    for (int side = 0; side < 2; side++)
        for (int r = 0; r < results; r++)
            p[side][r] = (1 - e) * p[side][r] + e * mistaken[r];
    return tb_gain_bits(m->declared, p[0], p[1], results);
}

/* The chance of a cue on the declared side, and on the other. */
static void sides_of(double out[2], const struct tb_mind *m, int cue)
{
    size_t i = 0;

    for (out[0] = 0; i < m->as_declared; i++)
        out[0] += m->weight[i] * tb_mind_chance(m, cue, i);
    for (out[1] = 0; i < m->s->n; i++)
        out[1] += m->weight[i] * tb_mind_chance(m, cue, i);
}

/* The results are all there can be, so their chances are made to add up to 1. */
static double gain_exclusive(const struct tb_mind *m, const struct tb_channel *ch)
{
    double all[2] = { 0, 0 }, p[2][RESULTS_MOST] = { { 0 } }, mistaken[RESULTS_MOST];
    int n = ch->n < RESULTS_MOST ? ch->n : RESULTS_MOST;

    for (int c = 0; c < n; c++) {
        mistaken[c] = 1.0 / n;
        for (size_t i = 0; i < m->s->n; i++) {
            double chance = m->weight[i] * tb_mind_chance(m, ch->first + c, i);
            int side = i < m->as_declared ? 0 : 1;

            p[side][c] += chance;
            all[side] += chance;
        }
    }
    for (int c = 0; c < n; c++) {
        p[0][c] /= all[0];
        p[1][c] /= all[1];
    }
    return gain_with_mistakes(m, ch, (double *const[]){ p[0], p[1] }, mistaken, n);
}

/* A single cue has two results, seen and not seen. */
static double gain_one(const struct tb_mind *m, int cue)
{
    double side[2], p[2][2];

    sides_of(side, m, cue);
    for (int k = 0; k < 2; k++) {
        p[k][0] = side[k];
        p[k][1] = 1 - side[k];
    }
    return tb_gain_bits(m->declared, p[0], p[1], 2);
}

/* The cues of a channel that say most, each for itself. */
static int telling_most(int out[IMAGINED_MOST], const struct tb_mind *m, const struct tb_channel *ch)
{
    double gain[IMAGINED_MOST];
    int n = 0;

    for (int c = ch->first; c < ch->first + ch->n; c++) {
        double g = gain_one(m, c);
        int at = n;

        while (at > 0 && gain[at - 1] < g)
            at--;
        if (at == IMAGINED_MOST)
            continue;
        n += n < IMAGINED_MOST;
        for (int i = n - 1; i > at; i--) {
            gain[i] = gain[i - 1];
            out[i] = out[i - 1];
        }
        gain[at] = g;
        out[at] = c;
    }
    return n;
}

/* The cues of a channel are looked at in one burn, so their results come together: 64 of them at most. */
static double gain_together(const struct tb_mind *m, const struct tb_channel *ch)
{
    int cue[IMAGINED_MOST], n = telling_most(cue, m, ch);
    double p[2][1 << IMAGINED_MOST] = { { 0 } }, mistaken[1 << IMAGINED_MOST] = { 0 };
    const struct tb_kernel *kernel = m->s->ev->kernel;
    double any[IMAGINED_MOST];

    for (size_t i = 0; i < m->s->n; i++) {
        double chance[IMAGINED_MOST];

        for (int c = 0; c < n; c++)
            chance[c] = tb_mind_chance(m, cue[c], i);
        kernel->results(p[i < m->as_declared ? 0 : 1], m->weight[i], chance, n);
    }
    for (int c = 0; c < n; c++)
        any[c] = tb_mistaken_chance(m->s->ev, cue[c]);
    kernel->results(mistaken, 1, any, n);
    return gain_with_mistakes(m, ch, (double *const[]){ p[0], p[1] }, mistaken, 1 << n);
}

/* A look at the same channel in one more burn says less, as repeats do, and only where another person burns it. */
double tb_gain_of(const struct tb_mind *m, int channel, bool again)
{
    const struct tb_channel *ch = &m->s->ev->channel[channel];
    double g = ch->exclusive ? gain_exclusive(m, ch) : gain_together(m, ch);

    g *= tb_weight_of(m->s->ev, ch->first);
    return again ? g * (2 / (1 + m->s->ev->fig.icc_lot) - 1) : g;
}
