/*
 * bench_receive.c - a packing list of a million bolts into the book, against bare prepared INSERTs.
 *
 *   bench_receive [BOLTS [RUNS]]     each run in a process of its own, turn about; the best of RUNS counts
 *
 * bare      the same rows into the same tables (the book's own schema, text keys, WAL, FULL, foreign keys, one
 *           transaction, the index by bolt number built at the end); nothing is read, checked or hashed
 * parsed    the same with the values taken out of the CSV file by libcsv, unchecked
 * receive   the whole job: headers found, every cell read and checked, lots grouped, declarations read, the
 *           file's SHA-256, every fact hashed into the journal
 */
#include "gen/sql.h"
#include "tenterbook/act_intake.h"

#include <csv.h>
#include <math.h>
#include <sodium.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#define BOLTS_A_LOT 500

static char folder[] = "/tmp/bench_receive_XXXXXX";
static char list_path[64];
static long bolts = 1000000;

struct took {
    double whole, reading;
    long peak_kib;
};

static double now(void)
{
    struct timespec t;

    (void)clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static void stop(const char *what, const char *why)
{
    (void)fprintf(stderr, "bench_receive: %s: %s\n", what, why);
    exit(1);
}

/* Bolt numbers in no order: multiplication by an odd number walks through all of them. */
static void bolt_number(char out[16], long i)
{
    (void)snprintf(out, 16, "R%07lu", (unsigned long)i * 7368787ul % 9999991ul);
}

static double bolt_metres(long i)
{
    return 30.0 + (double)(i * 37 % 4000) / 100.0;
}

static void write_list(void)
{
    static const char *const declared[] = { "100% cotton", "65% polyester 35% cotton", "100% viscose",
                                            "55% linen 45% cotton" };
    FILE *f = fopen(list_path, "w");

    if (!f)
        stop(list_path, "cannot be written");
    (void)fputs("Article,Colour,Dye lot,Bolt No.,Length (m),Width (cm),Weight "
                "(g/m2),Composition,Origin,Supplier,Packing list no.,Date\n",
                f);
    for (long i = 0; i < bolts; i++) {
        long lot = i / BOLTS_A_LOT;
        char number[16];

        bolt_number(number, i);
        (void)fprintf(f,
                      "Plain %ld,shade %ld,L%05ld,%s,%.2f,150,%ld,%s,Portugal,Harrow Invented "
                      "Weavers,PL-2026-10,2026-10-02\n",
                      1000 + lot % 40, lot % 25, lot, number, bolt_metres(i), 120 + lot % 80,
                      declared[lot % 4]);
    }
    if (fclose(f) != 0)
        stop(list_path, "cannot be written");
}

/* --- bare ------------------------------------------------------------------------------------------------- */

struct bare {
    sqlite3 *db;
    sqlite3_stmt *lot, *declaration, *bolt;
    char delivery[TB_ID_LEN + 1], lot_id[TB_ID_LEN + 1], last_dye_lot[32];
    long n;
};

static void must(struct bare *b, int code)
{
    if (code != SQLITE_OK && code != SQLITE_DONE && code != SQLITE_ROW)
        stop("sqlite", sqlite3_errmsg(b->db));
}

static void step(struct bare *b, sqlite3_stmt *st)
{
    must(b, sqlite3_step(st));
    must(b, sqlite3_reset(st));
}

static void text(sqlite3_stmt *st, int n, const char *s)
{
    (void)sqlite3_bind_text(st, n, s, -1, SQLITE_TRANSIENT);
}

static void bare_open(struct bare *b, const char *path)
{
    char sql[1024], site[TB_ID_LEN + 1], person[TB_ID_LEN + 1], supplier[TB_ID_LEN + 1];

    must(b, sqlite3_open(path, &b->db));
    must(b, sqlite3_exec(b->db,
                         "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON; PRAGMA "
                         "cache_size=-16384;"
                         "PRAGMA temp_store=MEMORY",
                         NULL, NULL, NULL));
    for (size_t i = 0; i < tb_migration_n; i++)
        must(b, sqlite3_exec(b->db, tb_migration_table[i].text, NULL, NULL, NULL));
    tb_id_make(site);
    tb_id_make(person);
    tb_id_make(supplier);
    tb_id_make(b->delivery);
    (void)snprintf(
        sql, sizeof sql,
        "BEGIN; DROP INDEX bolt_by_number; INSERT INTO journal VALUES (1,'','','','','','','',1,'','');"
        "INSERT INTO site VALUES ('%s','B','','',1); INSERT INTO person VALUES ('%s','x',1);"
        "INSERT INTO supplier VALUES ('%s','x','x',1);"
        "INSERT INTO delivery VALUES "
        "('%s','B26-001','%s',2026,1,'%s','','',NULL,'2026-10-02','','%s','','','',1)",
        site, person, supplier, b->delivery, site, supplier, person);
    must(b, sqlite3_exec(b->db, sql, NULL, NULL, NULL));
    must(b, sqlite3_prepare_v2(b->db, "INSERT INTO lot VALUES (?,?,?,?,?,?,?,?,NULL,'',?,?,1)", -1, &b->lot,
                               NULL));
    must(b, sqlite3_prepare_v2(b->db, "INSERT INTO declaration VALUES (?,?,?,?,1,'','row',NULL,1)", -1,
                               &b->declaration, NULL));
    must(b, sqlite3_prepare_v2(b->db, "INSERT INTO bolt VALUES (?,?,?,?,?,?,'',1)", -1, &b->bolt, NULL));
}

static void bare_row(struct bare *b, const char *const cell[8])
{
    char id[TB_ID_LEN + 1], ref[32];

    if (strcmp(cell[2], b->last_dye_lot) != 0) {
        (void)snprintf(b->last_dye_lot, sizeof b->last_dye_lot, "%s", cell[2]);
        tb_id_make(b->lot_id);
        (void)snprintf(ref, sizeof ref, "B26-001.%ld", b->n / BOLTS_A_LOT + 1);
        text(b->lot, 1, b->lot_id);
        text(b->lot, 2, ref);
        text(b->lot, 3, b->delivery);
        (void)sqlite3_bind_int64(b->lot, 4, b->n / BOLTS_A_LOT + 1);
        text(b->lot, 5, cell[0]);
        text(b->lot, 6, cell[1]);
        text(b->lot, 7, cell[2]);
        text(b->lot, 8, "Portugal");
        (void)sqlite3_bind_int64(b->lot, 9, BOLTS_A_LOT);
        (void)sqlite3_bind_double(b->lot, 10, 1.0);
        step(b, b->lot);
        tb_id_make(id);
        text(b->declaration, 1, id);
        text(b->declaration, 2, b->lot_id);
        text(b->declaration, 3, cell[7]);
        text(b->declaration, 4, cell[7]);
        step(b, b->declaration);
    }
    tb_id_make(id);
    text(b->bolt, 1, id);
    text(b->bolt, 2, b->lot_id);
    text(b->bolt, 3, cell[3]);
    (void)sqlite3_bind_double(b->bolt, 4, strtod(cell[4], NULL));
    (void)sqlite3_bind_double(b->bolt, 5, strtod(cell[5], NULL));
    (void)sqlite3_bind_double(b->bolt, 6, strtod(cell[6], NULL));
    step(b, b->bolt);
    b->n++;
}

static void bare_close(struct bare *b)
{
    must(b, sqlite3_exec(b->db, "CREATE INDEX bolt_by_number ON bolt (number); COMMIT", NULL, NULL, NULL));
    (void)sqlite3_finalize(b->lot);
    (void)sqlite3_finalize(b->declaration);
    (void)sqlite3_finalize(b->bolt);
    (void)sqlite3_close(b->db);
}

static struct took run_bare(const char *path)
{
    struct took t = { .whole = now() };
    struct bare b = { 0 };

    bare_open(&b, path);
    for (long i = 0; i < bolts; i++) {
        char article[24], shade[24], dye[24], number[16], metres[24], mass[24];
        long lot = i / BOLTS_A_LOT;
        const char *const cell[8] = { article, shade, dye, number, metres, "150", mass, "100% cotton" };

        (void)snprintf(article, sizeof article, "Plain %ld", 1000 + lot % 40);
        (void)snprintf(shade, sizeof shade, "shade %ld", lot % 25);
        (void)snprintf(dye, sizeof dye, "L%05ld", lot);
        bolt_number(number, i);
        (void)snprintf(metres, sizeof metres, "%.2f", bolt_metres(i));
        (void)snprintf(mass, sizeof mass, "%ld", 120 + lot % 80);
        bare_row(&b, cell);
    }
    bare_close(&b);
    t.whole = now() - t.whole;
    return t;
}

struct parsing {
    struct bare b;
    char cell[16][64];
    size_t at;
    bool headed;
};

static void on_cell(void *s, size_t n, void *arg)
{
    struct parsing *p = arg;

    if (p->at < 16)
        (void)snprintf(p->cell[p->at++], 64, "%.*s", (int)n, (const char *)s);
}

static void on_row(int c, void *arg)
{
    struct parsing *p = arg;
    const char *cell[8];

    (void)c;
    for (int i = 0; i < 8; i++)
        cell[i] = p->cell[i];
    if (p->headed)
        bare_row(&p->b, cell);
    p->headed = true;
    p->at = 0;
}

static struct took run_parsed(const char *path)
{
    struct took t = { .whole = now() };
    struct parsing p = { 0 };
    struct csv_parser csv;
    char buf[65536];
    FILE *f = fopen(list_path, "r");
    size_t n;

    if (!f || csv_init(&csv, 0) != 0)
        stop(list_path, "cannot be read");
    bare_open(&p.b, path);
    while ((n = fread(buf, 1, sizeof buf, f)) > 0)
        if (csv_parse(&csv, buf, n, on_cell, on_row, &p) != n)
            stop(list_path, "broken");
    (void)csv_fini(&csv, on_cell, on_row, &p);
    csv_free(&csv);
    (void)fclose(f);
    bare_close(&p.b);
    t.whole = now() - t.whole;
    return t;
}

/* --- the whole job ------------------------------------------------------------------------------------------ */

/* The first bolt that is stored ends the reading. */
static void reading_ends(void *arg, size_t stored, size_t of)
{
    struct took *t = arg;

    (void)of;
    if (stored == 0)
        t->reading = now() - t->whole;
}

static struct took run_receive(const char *path)
{
    struct tb_err err = { 0 };
    struct took t = { 0 };
    struct tb_receive_request request = {
        .path = list_path, .arrived = "2026-10-03", .progress = reading_ends, .progress_arg = &t
    };
    struct tb_receive_outcome out;
    struct tb_actor actor = { NULL, "bench" };
    struct tb_arena mem = { 0 };

    if (tb_book_make(path, "B", "bench", "", "bench", &err) != TB_OK ||
        tb_book_open(&actor.book, path, NULL, &err) != TB_OK)
        stop(path, err.msg);
    t.whole = now();
    if (tb_act_receive(&out, &actor, &request, &mem, &err) != TB_OK)
        stop(list_path, err.msg);
    t.whole = now() - t.whole;
    if ((long)out.list.bolts != bolts)
        stop(list_path, "other bolts than were written");
    tb_receive_outcome_free(&out);
    tb_arena_free(&mem);
    tb_book_close(actor.book);
    return t;
}

/* Run one way in a process of its own and bring back what it took. */
static struct took apart(struct took (*way)(const char *), const char *name)
{
    char path[96], trash[384];
    struct took t = { 0 };
    int pipes[2], status;
    pid_t child;

    (void)snprintf(path, sizeof path, "%s/%s.db", folder, name);
    if (pipe(pipes) != 0 || (child = fork()) < 0)
        stop(name, "cannot be started");
    if (child == 0) {
        struct rusage u;

        t = way(path);
        (void)getrusage(RUSAGE_SELF, &u);
        t.peak_kib = u.ru_maxrss;
        _exit(write(pipes[1], &t, sizeof t) == sizeof t ? 0 : 1);
    }
    (void)close(pipes[1]);
    if (read(pipes[0], &t, sizeof t) != sizeof t || waitpid(child, &status, 0) != child || status != 0)
        stop(name, "failed");
    (void)close(pipes[0]);
    (void)snprintf(trash, sizeof trash, "rm -f '%s' '%s-wal' '%s-shm'", path, path, path);
    (void)!system(trash);
    return t;
}

static void keep_best(struct took *best, struct took t)
{
    if (best->whole == 0 || t.whole < best->whole)
        *best = t;
}

static void line(const char *name, const struct took *t)
{
    (void)printf("%-10s %6.2f s  %8.0f bolts/s  peak %5.1f MiB", name, t->whole, (double)bolts / t->whole,
                 (double)t->peak_kib / 1024.0);
    if (t->reading > 0)
        (void)printf("  (reading %.2f s, storing %.2f s)", t->reading, t->whole - t->reading);
    (void)putchar('\n');
}

int main(int argc, char **argv)
{
    struct took bare = { 0 }, parsed = { 0 }, receive = { 0 };
    int runs = argc > 2 ? atoi(argv[2]) : 3;
    char trash[64];

    if (argc > 1)
        bolts = atol(argv[1]);
    if (sodium_init() < 0 || !mkdtemp(folder) || bolts < 1 || runs < 1)
        return 2;
    (void)snprintf(list_path, sizeof list_path, "%s/list.csv", folder);
    write_list();
    for (int i = 0; i < runs; i++) {
        keep_best(&bare, apart(run_bare, "bare"));
        keep_best(&receive, apart(run_receive, "receive"));
        keep_best(&parsed, apart(run_parsed, "parsed"));
    }
    (void)printf("%ld bolts in %ld lots, best of %d\n", bolts, (bolts + BOLTS_A_LOT - 1) / BOLTS_A_LOT, runs);
    line("bare", &bare);
    line("parsed", &parsed);
    line("receive", &receive);
    (void)printf("receive against bare %.2f, against parsed %.2f; reading against storing %.2f\n",
                 receive.whole / bare.whole, receive.whole / parsed.whole,
                 receive.reading / (receive.whole - receive.reading));
    (void)snprintf(trash, sizeof trash, "rm -rf '%s'", folder);
    return system(trash) == 0 ? 0 : 1;
}
