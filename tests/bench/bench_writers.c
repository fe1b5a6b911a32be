/*
 * Twenty people burn swatches of one lot at the same moment: is anybody refused, is anything lost, how long does one wait?
 *
 * Each process opens the book for itself and carries out the act of burning, as the command does. The lot has 200 burns
 * already, so that every verdict weighs many. Beside it, in the same run, the same burns by one process after another.
 */
#include "tenterbook/act_bench.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include <sodium.h>

#define WRITERS 20
#define EACH 5
#define BOLTS 40
#define BEFORE 200

static struct tb_err err;

static void need(tb_rc rc)
{
    if (rc == TB_OK)
        return;
    (void)fprintf(stderr, "bench_writers: %s (%s)\n", err.msg, err.detail);
    exit(1);
}

static double now(void)
{
    struct timespec t;

    (void)clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* Several ways a polyester burns, so that not all burns say the same. */
static const char *const saw[] = {
    "approach:shrinks_away smoke:black residue_form:hard_bead",
    "smoke:black odour:sweet residue_form:hard_bead",
    "approach:shrinks_away in_flame:drips residue_form:hard_bead",
    "in_flame:melts smoke:black",
    "approach:shrinks_away in_flame:melts odour:sweet",
};

static tb_rc burn(const struct tb_actor *actor, const char *lot, int i, struct tb_arena *mem)
{
    struct tb_observation seen = { 0 };
    struct tb_burn_outcome done = { 0 };
    struct tb_cut_outcome cut;
    char bolt[16];
    tb_rc rc;

    (void)snprintf(bolt, sizeof bolt, "%d", 1 + i % BOLTS);
    need(tb_observation_read(&seen, saw[(size_t)i % TB_COUNT(saw)], NULL, NULL, &err));
    if ((rc = tb_act_cut(&cut, actor, &(struct tb_cut_request){ .bolt = bolt, .lot = lot }, mem, &err)) ==
        TB_OK)
        rc = tb_act_burn(
            &done, actor,
            &(struct tb_burn_request){ .swatch = cut.swatch.tag, .seen = &seen, .sample_mm = (double)NAN },
            mem, &err);
    tb_rejudged_free(&done.judged);
    return rc;
}

static const char *make_book(const char *path, struct tb_arena *mem)
{
    struct tb_supplier supplier;
    struct tb_delivery d = { .arrived = "2026-10-05" };
    struct tb_lot lot = { .bolts = BOLTS, .metres = 50 * BOLTS, .unit_price = (double)NAN };
    struct tb_actor actor = { NULL, "bench" };

    need(tb_book_make(path, "B", "bench", "", "bench", &err));
    need(tb_book_open(&actor.book, path, NULL, &err));
    need(tb_book_begin(actor.book, "bench", "receive", &err));
    need(tb_supplier_ensure(&supplier, actor.book, "bench", mem, &err));
    d.supplier = supplier.id;
    need(tb_delivery_add(&d, actor.book, mem, &err));
    need(tb_lot_add(&lot, actor.book, &d, 1, mem, &err));
    need(tb_declaration_add(actor.book, lot.id, "100% polyester", TB_ORIGIN_ROW, NULL, &err));
    for (int i = 0; i < BOLTS; i++) {
        char number[16];
        struct tb_bolt bolt = {
            .lot = lot.id, .number = number, .metres = 50, .width_cm = (double)NAN, .mass_gm2 = (double)NAN
        };

        (void)snprintf(number, sizeof number, "%d", i + 1);
        need(tb_bolt_add(&bolt, actor.book, &err));
    }
    need(tb_setting_set(actor.book, "flame", "yes", &err));
    need(tb_book_commit(actor.book, &err));
    for (int i = 0; i < BEFORE; i++)
        need(burn(&actor, lot.ref, i, mem));
    tb_book_close(actor.book);
    return lot.ref;
}

/* One person: answers how many burns were refused. */
static int write_some(const char *path, const char *lot, int who, double *longest)
{
    struct tb_arena mem = { 0 };
    struct tb_actor actor = { NULL, "bench" };
    int refused = 0;

    need(tb_book_open(&actor.book, path, NULL, &err));
    for (int i = 0; i < EACH; i++) {
        double from = now();

        if (burn(&actor, lot, who * EACH + i, &mem) != TB_OK) {
            (void)fprintf(stderr, "refused: %s (%s)\n", err.msg, err.detail);
            refused++;
        }
        if (now() - from > *longest)
            *longest = now() - from;
    }
    tb_book_close(actor.book);
    tb_arena_free(&mem);
    return refused;
}

static int64_t burns_of(const char *path, const char *lot)
{
    struct tb_arena mem = { 0 };
    struct tb_book *b;
    struct tb_lot found;
    struct tb_proof proof;

    need(tb_book_open(&b, path, NULL, &err));
    need(tb_lot_find(&found, b, lot, &mem, &err));
    need(tb_book_prove(&proof, b, &err));
    if (!proof.fits)
        (void)fprintf(stderr, "bench_writers: the journal does not prove: %s\n", proof.why);
    tb_book_close(b);
    tb_arena_free(&mem);
    return found.burns;
}

struct told {
    int refused;
    double longest;
};

static void all_at_once(const char *path, const char *lot, struct told *sum)
{
    int pipes[2];

    if (pipe(pipes) != 0)
        exit(1);
    for (int w = 0; w < WRITERS; w++)
        if (fork() == 0) {
            struct told t = { 0 };

            t.refused = write_some(path, lot, w, &t.longest);
            _exit(write(pipes[1], &t, sizeof t) == (ssize_t)sizeof t ? 0 : 1);
        }
    for (int w = 0; w < WRITERS; w++) {
        struct told t;

        if (read(pipes[0], &t, sizeof t) != (ssize_t)sizeof t)
            exit(1);
        sum->refused += t.refused;
        sum->longest = t.longest > sum->longest ? t.longest : sum->longest;
        (void)wait(NULL);
    }
}

int main(void)
{
    char dir[] = "/tmp/tenterbook-bench-XXXXXX", path[96], command[128];
    struct tb_arena mem = { 0 };
    struct told sum = { 0 };
    double from, alone, together;
    const char *lot;
    int64_t before;

    if (sodium_init() < 0 || !mkdtemp(dir))
        return 1;
    (void)snprintf(path, sizeof path, "%s/a.db", dir);
    lot = make_book(path, &mem);
    from = now();
    for (int w = 0; w < WRITERS; w++)
        (void)write_some(path, lot, w, &sum.longest);
    alone = now() - from;
    (void)printf("one after another          %.1f ms a swatch cut and burned, longest %.0f ms\n",
                 1e3 * alone / (WRITERS * EACH), 1e3 * sum.longest);
    before = burns_of(path, lot);
    sum = (struct told){ 0 };
    from = now();
    all_at_once(path, lot, &sum);
    together = now() - from;
    (void)printf(
        "%d at once on one lot      %.1f ms a swatch cut and burned, longest wait %.0f ms, ratio %.2f\n",
        WRITERS, 1e3 * together / (WRITERS * EACH), 1e3 * sum.longest, together / alone);
    (void)printf("refused                    %d of %d, lost %lld\n", sum.refused, WRITERS * EACH,
                 (long long)(before + WRITERS * EACH - sum.refused - burns_of(path, lot)));
    tb_arena_free(&mem);
    (void)snprintf(command, sizeof command, "rm -rf '%s'", dir);
    return system(command);
}
