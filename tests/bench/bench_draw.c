/*
 * How long does a plan for a million-bolt lot take, against the plain way: a loop over the numbers of bolts to cut,
 * multiplying one ratio a bolt until the miss is rare enough (perfect burns only; the loop has no other form)?
 */
#include "tenterbook/sampling.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include <sodium.h>

#define LOT 1000000L
#define ROUNDS 21

static struct tb_err err;

static double now(void)
{
    struct timespec t;

    (void)clock_gettime(CLOCK_MONOTONIC, &t);
    return 1e3 * (double)t.tv_sec + 1e-6 * (double)t.tv_nsec;
}

static void need(tb_rc rc)
{
    if (rc == TB_OK)
        return;
    (void)fprintf(stderr, "bench_draw: %s\n", err.msg);
    exit(1);
}

static long by_loop(long bad)
{
    double miss = 1;

    for (long n = 1; n <= LOT; n++) {
        miss *= (double)(LOT - bad - n + 1) / (double)(LOT - n + 1);
        if (miss <= 0.05)
            return n;
    }
    return -1;
}

static int rising(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;

    return (x > y) - (x < y);
}

static double middle(double *t)
{
    qsort(t, ROUNDS, sizeof *t, rising);
    return t[ROUNDS / 2];
}

static void plan(long bad, double catch_chance)
{
    double ours[ROUNDS], loop[ROUNDS], draw[ROUNDS];
    long cut = 0, same = 0, *place = (long *)tb_alloc((size_t)LOT, sizeof *place);

    for (int i = 0; i < ROUNDS; i++) {
        double from = now();

        need(tb_discovery_cut(&cut, LOT, bad, 0.95, catch_chance, &err));
        ours[i] = now() - from;
        from = now();
        same = by_loop(bad);
        loop[i] = now() - from;
        from = now();
        if (cut > 0)
            need(tb_pick(place, LOT, cut, "seed", "", &err));
        draw[i] = now() - from;
    }
    (void)printf("%7ld false, catch %.2f: cut %7ld in %7.3f ms, places drawn in %6.1f ms; ", bad,
                 catch_chance, cut, middle(ours), middle(draw));
    if (catch_chance < 1)
        (void)printf("the loop has no answer\n");
    else
        (void)printf("loop %7.3f ms (%ld), ratio %.2f\n", middle(loop), same, middle(ours) / middle(loop));
    free(place);
}

static void proof(void)
{
    double ours[ROUNDS];
    long most = 0;

    for (int i = 0; i < ROUNDS; i++) {
        double from = now();

        need(tb_proof_most(&most, LOT, LOT / 4, 900, 0.8, 0.95, &err));
        ours[i] = now() - from;
    }
    (void)printf("900 of %ld burned shown false: at most %ld false, in %.3f ms\n", LOT / 4, most,
                 middle(ours));
}

int main(void)
{
    if (sodium_init() < 0)
        return 1;
    (void)printf("a lot of %ld bolts, 95 %% sure; target 50 ms for the whole command\n", LOT);
    plan(1, 1);
    plan(10, 1);
    plan(10, 0.9);
    plan(1000, 0.9);
    plan(100000, 0.5);
    proof();
    return 0;
}
