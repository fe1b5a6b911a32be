/*
 * How long does recording one burn take, against a bare commit of the same store?
 *
 * Baseline: one row into a table with one index, WAL, synchronous=FULL, in the same folder, turn and turn about.
 * Both end in one fsync. The book's burn is a burn, three cues, a swatch and a journal row with its digests.
 * The same again in a book that holds many burns: what a book holds must not make the next record slower.
 */
#include "tenterbook/book.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include <sodium.h>
#include <sqlite3.h>

#define ROUNDS 9
#define EACH 60
#define MANY 20000 /* burns */

static struct tb_err err;

static void need(tb_rc rc)
{
    if (rc == TB_OK)
        return;
    (void)fprintf(stderr, "bench_commit: %s (%s)\n", err.msg, err.detail);
    exit(1);
}

static double now(void)
{
    struct timespec t;

    (void)clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static double bare(sqlite3 *db)
{
    double from = now();
    sqlite3_stmt *st;

    (void)sqlite3_prepare_v2(db, "INSERT INTO t VALUES (?, ?)", -1, &st, NULL);
    for (int i = 0; i < EACH; i++) {
        char key[TB_ID_LEN + 1];

        tb_id_make(key);
        (void)sqlite3_exec(db, "BEGIN IMMEDIATE", NULL, NULL, NULL);
        (void)sqlite3_bind_text(st, 1, key, -1, SQLITE_TRANSIENT);
        (void)sqlite3_bind_text(st, 2, "smoke:black residue_form:hard_bead approach:shrinks_away", -1,
                                SQLITE_STATIC);
        if (sqlite3_step(st) != SQLITE_DONE)
            exit(1);
        (void)sqlite3_reset(st);
        (void)sqlite3_exec(db, "COMMIT", NULL, NULL, NULL);
    }
    (void)sqlite3_finalize(st);
    return (now() - from) / EACH;
}

/* A swatch and its burn. */
static void burn_one(struct tb_book *b, const struct tb_lot *lot, const char *bolt, struct tb_arena *mem)
{
    struct tb_cue_seen cue[] = { { "smoke:black", true },
                                 { "residue_form:hard_bead", true },
                                 { "approach:shrinks_away", true } };
    struct tb_swatch s = { .lot = lot->id, .lot_ref = lot->ref, .bolt = bolt, .part = TB_PART_WHOLE };
    struct tb_burn u = {
        .looked = "approach smoke residue_form", .cue = cue, .cues = 3, .sample_mm = (double)NAN
    };

    need(tb_swatch_add(&s, b, mem, &err));
    u.swatch = s.id;
    need(tb_burn_add(&u, b, mem, &err));
}

static double book(struct tb_book *b, const struct tb_lot *lot, const char *bolt)
{
    struct tb_arena mem = { 0 };
    double from = now();

    for (int i = 0; i < EACH; i++) {
        need(tb_book_begin(b, "bench", "burn", &err));
        burn_one(b, lot, bolt, &mem);
        need(tb_book_commit(b, &err));
    }
    from = (now() - from) / EACH;
    tb_arena_free(&mem);
    return from;
}

/* Many burns at once. */
static void fill(struct tb_book *b, const struct tb_lot *lot, const char *bolt)
{
    struct tb_arena mem = { 0 };

    need(tb_book_begin(b, "bench", "burn", &err));
    for (int i = 0; i < MANY; i++)
        burn_one(b, lot, bolt, &mem);
    need(tb_book_commit(b, &err));
    tb_arena_free(&mem);
}

static int rising(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;

    return (x > y) - (x < y);
}

static void say(const char *what, double *sample)
{
    qsort(sample, ROUNDS, sizeof *sample, rising);
    (void)printf("%-27s%.3f ms (least %.3f)\n", what, 1e3 * sample[ROUNDS / 2], 1e3 * sample[0]);
}

int main(void)
{
    char dir[] = "/tmp/tenterbook-bench-XXXXXX", path[96], other[96], command[128];
    double a[ROUNDS], c[ROUNDS], big[ROUNDS];
    struct tb_arena mem = { 0 };
    struct tb_book *b = NULL;
    struct tb_supplier supplier;
    struct tb_delivery d = { .arrived = "2026-10-05" };
    struct tb_lot lot = { .bolts = 1, .metres = 50, .unit_price = (double)NAN };
    struct tb_bolt bolt = { .number = "1", .metres = 50, .width_cm = (double)NAN, .mass_gm2 = (double)NAN };
    sqlite3 *db;

    if (sodium_init() < 0 || !mkdtemp(dir))
        return 1;
    (void)snprintf(path, sizeof path, "%s/a.db", dir);
    (void)snprintf(other, sizeof other, "%s/bare.db", dir);
    need(tb_book_make(path, "B", "bench", "", "bench", &err));
    need(tb_book_open(&b, path, NULL, &err));
    need(tb_book_begin(b, "bench", "receive", &err));
    need(tb_supplier_ensure(&supplier, b, "bench", &mem, &err));
    d.supplier = supplier.id;
    need(tb_delivery_add(&d, b, &mem, &err));
    need(tb_lot_add(&lot, b, &d, 1, &mem, &err));
    bolt.lot = lot.id;
    need(tb_bolt_add(&bolt, b, &err));
    need(tb_bolt_find(&bolt, b, lot.id, "1", &mem, &err));
    need(tb_book_commit(b, &err));
    (void)sqlite3_open(other, &db);
    (void)sqlite3_exec(db,
                       "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; CREATE TABLE t (id TEXT PRIMARY "
                       "KEY, v TEXT); CREATE INDEX i ON t (v)",
                       NULL, NULL, NULL);
    for (int i = 0; i < ROUNDS; i++) {
        a[i] = bare(db);
        c[i] = book(b, &lot, bolt.id);
    }
    fill(b, &lot, bolt.id);
    for (int i = 0; i < ROUNDS; i++)
        big[i] = book(b, &lot, bolt.id);
    say("bare commit, WAL FULL", a);
    say("recording a burn", c);
    (void)printf("ratio                      %.2f (least to least %.2f)\n", c[ROUNDS / 2] / a[ROUNDS / 2],
                 c[0] / a[0]);
    say("the same after 20000 burns", big);
    (void)printf("ratio to the small book    %.2f (least to least %.2f)\n", big[ROUNDS / 2] / c[ROUNDS / 2],
                 big[0] / c[0]);
    (void)sqlite3_close(db);
    tb_book_close(b);
    tb_arena_free(&mem);
    (void)snprintf(command, sizeof command, "rm -rf '%s'", dir);
    return system(command) == 0 ? 0 : 1;
}
