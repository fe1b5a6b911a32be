/*
 * bench_evidence - the full posterior, cold and after one more tick, against the bare kernel and a NumPy twin.
 *
 * The bare kernel multiplies the same number of factors over the same number of compositions, from one small
 * table, and does nothing else: no log, no prior, no sums. The twin (evidence_twin.py) does the whole posterior
 * with vectorised NumPy on the same model, which this program writes for it as numbers.
 */
#include "evidence/table.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

static double now(void)
{
    struct timespec t;

    (void)clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + (double)t.tv_nsec / 1e9;
}

/* 45 cues looked at, a third of them seen: the first burning ones of the table. */
static void ticks(struct tb_observation *o, const struct tb_evidence *ev)
{
    struct tb_terms t;
    static const char *const seen[] = {
        "in_flame:melts",      "in_flame:drips",         "smoke:black",      "odour:chemical_plastic",
        "odour:sweet",         "residue_form:hard_bead", "residue_form:ash", "smoke:sooty",
        "odour:burning_paper", "residue_form:strings",   "odour:acrid",      "smoke:dense",
        "residue_form:sticky", "odour:faint_none",       "in_flame:sputters"
    };

    memset(o, 0, sizeof *o);
    for (size_t i = 0; i < TB_COUNT(seen); i++)
        tb_observation_see(o, tb_cue_by_key(seen[i]));
    o->looked[tb_channel_by_key("in_flame")] = 0;
    tb_terms_of(&t, ev, o);
    (void)printf("cues that count: %zu\n", t.n);
}

typedef float v16 __attribute__((vector_size(64), aligned(16)));

/* Three table look-ups, two multiplies and one product over 48 factors a composition, in float: nothing else. */
__attribute__((noinline)) static double bare_pass(const float row[][48], size_t n)
{
    double sum = 0;

    for (size_t h = 0; h < n; h++) {
        const v16 *u = (const v16 *)row[h % 29], *v = (const v16 *)row[h / 29 % 29],
                  *w = (const v16 *)row[h / 841 % 29];
        v16 t = (1 - 0.99f * u[0] * v[0] * w[0]) * (1 - 0.99f * u[1] * v[1] * w[1]) *
                (1 - 0.99f * u[2] * v[2] * w[2]);

        sum += (double)((t[0] * t[8]) * (t[4] * t[12])) * (double)((t[1] * t[9]) * (t[5] * t[13])) *
               (double)((t[2] * t[10]) * (t[6] * t[14])) * (double)((t[3] * t[11]) * (t[7] * t[15]));
    }
    return sum;
}

static double bare(const struct tb_evidence *ev)
{
    static float row[29][48] __attribute__((aligned(64)));
    size_t n = tb_evidence_compositions(ev);
    double best = 1e9, out = 0;

    for (int f = 0; f < 29; f++)
        for (int r = 0; r < 48; r++)
            row[f][r] = 0.3f + 0.6f * (float)((f * 37 + r * 11) % 100) / 100;
    for (int rep = 0; rep < 9; rep++) {
        double from = now();

        out += bare_pass((const float(*)[48])row, n);
        best = now() - from < best ? now() - from : best;
    }
    return out > -1 ? best : 0;
}

static double cold(const struct tb_evidence *ev, const struct tb_observation *o, const struct tb_kernel *k)
{
    double best = 1e9;

    for (int rep = 0; rep < 9; rep++) {
        double from = now(), power = 1;
        struct tb_terms t;
        struct tb_table *table;
        struct tb_sums s;
        size_t at = 0;

        tb_terms_of(&t, ev, o);
        table = tb_table_new(ev, &t);
        tb_space_weigh(&(struct tb_pick){ &at, 1, &s }, 1, ev, &table, &power, 1, k);
        tb_table_free(table);
        tb_sums_free(&s);
        best = now() - from < best ? now() - from : best;
    }
    return best;
}

static double tick(const struct tb_evidence *ev, const struct tb_observation *o)
{
    struct tb_posterior *p = tb_posterior_new(ev);
    struct tb_observation more = *o;
    double best = 1e9;

    tb_observation_see(&more, tb_cue_by_key("odour:vinegar"));
    for (int rep = 0; rep < 9; rep++) {
        double from;

        (void)tb_posterior_observe(p, o);
        from = now();
        (void)tb_posterior_observe(p, &more);
        best = now() - from < best ? now() - from : best;
    }
    tb_posterior_free(p);
    return best;
}

/*
 * What `judge --from` does with a row but for reading and printing it: verdict, cue weights and next tests. A careful
 * burn looks at every channel.
 */
static double row(const struct tb_evidence *ev)
{
    static const char words[] = "65% polyester 35% cotton",
                      looked[] =
                          "approach in_flame removed flame_colour smoke odour residue_form residue_colour";
    static const char *const saw[] = {
        "in_flame:melts in_flame:drips smoke:black odour:sweet residue_form:hard_bead residue_colour:black",
        "approach:ignites_easily in_flame:burns_fast smoke:grey odour:burning_paper "
        "residue_form:light_fluffy_ash",
        "in_flame:sizzles removed:self_extinguishes odour:burning_hair residue_form:crushable_bead",
        "approach:shrinks_away in_flame:melts smoke:white odour:celery residue_form:hard_bead "
        "residue_colour:tan",
        "in_flame:burns in_flame:melts smoke:black odour:burning_paper residue_form:hard_bead",
        "in_flame:melts in_flame:sputters smoke:black odour:acrid residue_form:brittle_bead "
        "residue_colour:black"
    };
    const size_t rows = 10 * TB_COUNT(saw);
    struct tb_declaration decl = { 0 };
    struct tb_err err = { 0 };
    double from = now();

    tb_declaration_read(&decl, words, sizeof words - 1);
    for (size_t i = 0; i < rows; i++) {
        struct tb_observation o = { 0 };
        struct tb_verdict v = { 0 };

        if (tb_observation_read(&o, saw[i % TB_COUNT(saw)], NULL, looked, &err) != TB_OK ||
            tb_evidence_judge(&v, ev, &decl, &o, 1, TB_WANT_CUES | TB_WANT_NEXT, &err) != TB_OK) {
            (void)fprintf(stderr, "%s\n", err.msg);
            exit(1);
        }
        tb_verdict_free(&v);
    }
    tb_declaration_free(&decl);
    return (now() - from) / (double)rows;
}

int main(int argc, char **argv)
{
    const struct tb_kernel *kernel[4];
    struct tb_evidence *ev = NULL;
    struct tb_err err = { 0 };
    struct tb_observation o;
    struct tb_terms t;
    size_t kernels;
    double best, floor, each;

    (void)argc;
    (void)argv;
    if (tb_evidence_new(&ev, NULL, NULL, 0, &err) != TB_OK)
        return 1;
    ticks(&o, ev);
    tb_terms_of(&t, ev, &o);
    kernels = tb_kernels(kernel, TB_COUNT(kernel));
    best = cold(ev, &o, kernel[0]);
    (void)printf("compositions: %zu\n", tb_evidence_compositions(ev));
    for (size_t k = 0; k < kernels; k++)
        (void)printf("cold, %s: %.2f ms\n", kernel[k]->name, 1e3 * cold(ev, &o, kernel[k]));
    (void)printf("after one more tick: %.2f ms\n", 1e3 * tick(ev, &o));
    each = row(ev);
    (void)printf(
        "a row of judge --from, every burning channel looked at: %.2f ms, %.0f a second on one processor, "
        "10,000 in %.0f s on %ld\n",
        1e3 * each, 1 / each, 1e4 * each / (double)sysconf(_SC_NPROCESSORS_ONLN),
        sysconf(_SC_NPROCESSORS_ONLN));
    floor = bare(ev);
    (void)printf("bare kernel, 48 factors in float: %.2f ms; the posterior takes %.2f times that\n",
                 1e3 * floor, best / floor);
    tb_evidence_free(ev);
    return 0;
}
