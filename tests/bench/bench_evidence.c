/*
 * bench_evidence - the full posterior, one more tick, a row of a file and a lot of many burns, against the bare kernel and a NumPy
 * twin. Times are of the processor, not of the wall: on a busy machine they tell more.
 *
 * The bare kernel multiplies the same number of factors over the same number of compositions, from one small
 * table, and does nothing else: no log, no prior, no sums. The twin (evidence_twin.py) does the whole posterior
 * with vectorised NumPy on the same model, which this program writes for it as numbers.
 */
#include "evidence/space.h"
#include "evidence/sums.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

static double now(void)
{
    struct timespec t;

    (void)clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
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

/* How many the model weighs: pure fibres, pairs and triples on the grid of twentieths. */
static size_t compositions(const struct tb_evidence *ev)
{
    size_t f = (size_t)ev->fibres, pairs = f * (f - 1) / 2, triples = pairs * (f - 2) / 3;

    return f + pairs * (TB_STEPS - 1) + triples * ((TB_STEPS - 1) * (TB_STEPS - 2) / 2);
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
    size_t n = compositions(ev);
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
        const struct tb_power_of once = { 0, 1 };
        double from = now();
        struct tb_terms t;
        struct tb_factored *table;
        struct tb_sums s;

        tb_terms_of(&t, ev, o);
        table = tb_factored_new(ev, &t);
        tb_space_weigh(&(struct tb_pick){ .of = &once, .n = 1, .sums = &s }, 1, ev, &table, 1, k);
        tb_factored_free(table);
        tb_sums_free(&s);
        best = now() - from < best ? now() - from : best;
    }
    return best;
}

/* The burn with every result of one bench test at once: what each costs besides the first. */
static double tick(const struct tb_evidence *ev, const struct tb_observation *o, const struct tb_kernel *k)
{
    const struct tb_channel *ch = &ev->channel[tb_channel_by_key("acetone")];
    struct tb_factored *table[8];
    struct tb_power_of once[8];
    struct tb_pick pick[8];
    struct tb_sums sums[8];
    size_t n = (size_t)ch->n < 8 ? (size_t)ch->n : 8;
    double all = 1e9, first = 1e9;

    for (size_t i = 0; i < n; i++) {
        struct tb_observation with = *o;
        struct tb_terms t;

        tb_observation_see(&with, ch->first + (int)i);
        tb_terms_of(&t, ev, &with);
        table[i] = tb_factored_new(ev, &t);
        table[i]->same_burn = i ? table[0] : NULL;
        once[i] = (struct tb_power_of){ i, 1 };
        pick[i] = (struct tb_pick){ .of = &once[i], .n = 1, .sums = &sums[i] };
    }
    for (int rep = 0; rep < 18; rep++) {
        size_t now_of = rep % 2 ? n : 1;
        double from = now(), *best = rep % 2 ? &all : &first;

        tb_space_weigh(pick, now_of, ev, table, now_of, k);
        *best = now() - from < *best ? now() - from : *best;
        for (size_t i = 0; i < now_of; i++)
            tb_sums_free(&sums[i]);
    }
    for (size_t i = 0; i < n; i++)
        tb_factored_free(table[i]);
    return (all - first) / (double)(n - 1);
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

/* A lot of 40 bolts, five swatches of each burned, judged with every bolt by itself: seconds, the best of three. */
enum { LOT_BURNS = 200, LOT_BOLTS = 40 };

static double lot(const struct tb_evidence *ev, size_t patterns)
{
    static const char words[] = "65% polyester 35% cotton",
                      looked[] = "approach in_flame removed smoke odour residue_form";
    static const char *const saw[] = { "in_flame:melts", "smoke:black",       "odour:sweet",
                                       "in_flame:drips", "odour:acrid",       "smoke:sooty",
                                       "smoke:dense",    "removed:afterglow", "residue_form:hard_bead" };
    struct tb_observation *o = tb_array(struct tb_observation, LOT_BURNS);
    size_t *set = tb_array(size_t, LOT_BURNS);
    struct tb_declaration decl = { 0 };
    struct tb_err err = { 0 };
    double best = 1e9;

    tb_declaration_read(&decl, words, sizeof words - 1);
    for (size_t i = 0; i < LOT_BURNS; i++) {
        set[i] = i % LOT_BOLTS;
        if (tb_observation_read(&o[i], NULL, NULL, looked, &err) != TB_OK)
            exit(1);
        for (size_t c = 0; c < TB_COUNT(saw); c++)
            if ((i * 7 / 3 % patterns + 5) >> c & 1)
                tb_observation_see(&o[i], tb_cue_by_key(saw[c]));
    }
    for (int rep = 0; rep < 3; rep++) {
        struct tb_verdict together = { 0 }, alone[LOT_BOLTS] = { { 0 } };
        double from = now();

        if (tb_evidence_judge_sets(&together, alone, ev, NULL, &decl, o, LOT_BURNS, set, LOT_BOLTS,
                                   TB_WANT_CUES, &err) != TB_OK)
            exit(1);
        best = now() - from < best ? now() - from : best;
        tb_verdict_free(&together);
        for (size_t s = 0; s < LOT_BOLTS; s++)
            tb_verdict_free(&alone[s]);
    }
    tb_declaration_free(&decl);
    free(o);
    free(set);
    return best;
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
    (void)printf("compositions: %zu\n", compositions(ev));
    for (size_t k = 0; k < kernels; k++)
        (void)printf("cold, %s: %.2f ms\n", kernel[k]->name, 1e3 * cold(ev, &o, kernel[k]));
    (void)printf("one more tick, such as one more result of a test on the same burn: %.2f ms\n",
                 1e3 * tick(ev, &o, kernel[0]));
    each = row(ev);
    (void)printf(
        "a row of judge --from, every burning channel looked at: %.2f ms, %.0f a second on one processor, "
        "10,000 in %.0f s on %ld\n",
        1e3 * each, 1 / each, 1e4 * each / (double)sysconf(_SC_NPROCESSORS_ONLN),
        sysconf(_SC_NPROCESSORS_ONLN));
    (void)printf(
        "a lot of %d burns of %d bolts, all alike: %.1f ms; of six kinds: %.1f ms; all different: %.1f ms\n",
        LOT_BURNS, LOT_BOLTS, 1e3 * lot(ev, 1), 1e3 * lot(ev, 6), 1e3 * lot(ev, 466));
    floor = bare(ev);
    (void)printf("bare kernel, 48 factors in float: %.2f ms; the posterior takes %.2f times that\n",
                 1e3 * floor, best / floor);
    tb_evidence_free(ev);
    return 0;
}
