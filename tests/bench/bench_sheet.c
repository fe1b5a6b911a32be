/*
 * bench_sheet.c - a month of a million bolts on sheets, against bare libxlsxwriter writing the cells of the bolt
 * sheet alone, with the same formats. Ours writes more: five other sheets, all the CSV twins, everything synced.
 *
 *   bench_sheet [ROWS [RUNS]]     each run in a process of its own; times and peak memory are the best of RUNS
 */
#include "tenterbook/book.h"
#include "tenterbook/month.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include <xlsxwriter.h>

#define BOLTS_A_LOT 50
#define SUPPLIERS 40

static char folder[] = "/tmp/bench_sheet_XXXXXX";
static int64_t rows;

static char *path_of(const char *name)
{
    struct tb_text t = { 0 };

    tb_text_addf(&t, "%s/%s", folder, name);
    return tb_text_take(&t);
}

static void stop(const struct tb_err *err)
{
    (void)fprintf(stderr, "bench_sheet: %s (%s)\n", err->msg, err->detail);
    exit(1);
}

/* --- a month nobody traded ----------------------------------------------------------------------------------- */

struct words {
    char ref[32], delivery[32], day[TB_DAY_LEN + 1], supplier[32];
};

static struct tb_month_lot lot_number(int64_t i, struct words *w)
{
    static const enum tb_verdict_kind verdict[] = { TB_FITS, TB_FITS, TB_UNDECIDED, TB_UNJUDGED,
                                                    TB_CONTRADICTS };
    static const enum tb_standing_kind standing[] = { TB_RELEASED, TB_RELEASED, TB_WAITING, TB_WAITING,
                                                      TB_HELD };

    (void)snprintf(w->ref, sizeof w->ref, "W26-%03lld.%02lld", (long long)(i / 20), (long long)(i % 20 + 1));
    (void)snprintf(w->delivery, sizeof w->delivery, "W26-%03lld", (long long)(i / 20));
    (void)snprintf(w->supplier, sizeof w->supplier, "Invented Weavers %02lld", (long long)(i % SUPPLIERS));
    (void)snprintf(w->day, sizeof w->day, "2026-03-%02d", (int)(i % 31) + 1);
    return (struct tb_month_lot){ w->ref,
                                  w->delivery,
                                  "N",
                                  w->day,
                                  w->supplier,
                                  "voile 12",
                                  "ecru",
                                  "D4",
                                  "IT",
                                  "60% cotton 40% polyester",
                                  true,
                                  BOLTS_A_LOT,
                                  2,
                                  2,
                                  50.5 * BOLTS_A_LOT,
                                  4.2,
                                  "EUR",
                                  verdict[i % 5],
                                  i % 5 == 3 ? NAN : 0.7,
                                  standing[i % 5],
                                  "2026-03-31T10:00:00Z",
                                  "reason",
                                  NULL,
                                  NULL,
                                  NULL,
                                  NULL,
                                  0,
                                  2,
                                  0,
                                  .unit = "m",
                                  .unit_metres = 1 };
}

static tb_rc goods(void *from, tb_month_lot_fn *lot, tb_month_bolt_fn *bolt, void *arg, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    (void)from;
    for (int64_t i = 0; i < rows / BOLTS_A_LOT && rc == TB_OK; i++) {
        struct words w;
        struct tb_month_lot l = lot_number(i, &w);

        rc = lot(arg, &l, err);
        for (int b = 0; bolt && b < BOLTS_A_LOT && rc == TB_OK; b++) {
            char number[32];
            struct tb_month_bolt one = { number, 40 + b * 0.5, 150, 180, b < 2, NULL, b < 2 };

            (void)snprintf(number, sizeof number, "%07lld", (long long)(i * BOLTS_A_LOT + b));
            rc = bolt(arg, &l, &one, err);
        }
    }
    return rc;
}

static tb_rc open_lots(void *from, tb_month_lot_fn *fn, void *arg, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    (void)from;
    for (int64_t i = 4; i < rows / BOLTS_A_LOT && rc == TB_OK; i += 5) {
        struct words w;
        struct tb_month_lot l = lot_number(i, &w);

        rc = fn(arg, &l, err);
    }
    return rc;
}

static tb_rc work(struct tb_month_work *out, void *from, struct tb_err *err)
{
    (void)from;
    (void)err;
    *out = (struct tb_month_work){ rows / BOLTS_A_LOT / 20, 0, 0, 0, 0, 0 };
    return TB_OK;
}

/* --- the jobs -------------------------------------------------------------------------------------------------- */

static void write_sheets(const struct tb_month_source *source, const char *name)
{
    struct tb_month_sums sums;
    struct tb_err err = { 0 };
    char *path = path_of(name);
    struct tb_outset files = { .replace = true };
    struct tb_month_plan plan = { &files,
                                  path,
                                  "2026-03-01",
                                  "2026-04-01",
                                  "2026-03",
                                  "2026-04-01T08:00:00Z",
                                  NULL,
                                  NULL,
                                  0,
                                  NULL,
                                  0,
                                  0,
                                  TB_BASE_UNSAID,
                                  0,
                                  0,
                                  0 };

    if (tb_outset_end(&files, tb_month_write(&sums, &plan, source, &err), &err) != TB_OK)
        stop(&err);
    if (sums.bolts != rows) {
        (void)fprintf(stderr, "bench_sheet: %lld bolts, not %lld\n", (long long)sums.bolts, (long long)rows);
        exit(1);
    }
    free(path);
}

static void ours(void)
{
    struct tb_month_source s = { goods, open_lots, work, NULL, "Bench", "", NULL };

    write_sheets(&s, "ours.xlsx");
}

static void from_book(void)
{
    struct tb_month_source source;
    struct tb_month_book *m = NULL;
    struct tb_book *book = NULL;
    struct tb_err err = { 0 };
    char *path = path_of("book.db");

    if (tb_book_open(&book, path, NULL, &err) != TB_OK ||
        tb_month_from_book(&m, &source, book, "2026-03-01", "2026-04-01", &err) != TB_OK)
        stop(&err);
    write_sheets(&source, "book.xlsx");
    tb_month_book_close(m);
    tb_book_close(book);
    free(path);
}

struct bare {
    lxw_worksheet *ws;
    lxw_format *text, *first, *day, *tenth, *whole;
    lxw_row_t row;
};

static lxw_format *dress(lxw_workbook *w, const char *number, bool indent)
{
    lxw_format *f = workbook_add_format(w);

    format_set_font_name(f, "Arial");
    format_set_font_size(f, 10);
    format_set_bottom(f, LXW_BORDER_HAIR);
    format_set_align(f, LXW_ALIGN_VERTICAL_TOP);
    if (number)
        format_set_num_format(f, number);
    if (indent)
        format_set_indent(f, 1);
    return f;
}

static tb_rc no_lot(void *arg, const struct tb_month_lot *lot, struct tb_err *err)
{
    (void)arg;
    (void)lot;
    (void)err;
    return TB_OK;
}

static tb_rc bare_bolt(void *arg, const struct tb_month_lot *lot, const struct tb_month_bolt *bolt,
                       struct tb_err *err)
{
    struct bare *b = arg;
    lxw_row_t r = b->row++;

    (void)err;
    (void)worksheet_write_string(b->ws, r, 0, bolt->number, b->first);
    (void)worksheet_write_string(b->ws, r, 1, lot->ref, b->text);
    (void)worksheet_write_number(b->ws, r, 2, (double)(tb_day_number(lot->arrived) + 25569), b->day);
    (void)worksheet_write_string(b->ws, r, 3, lot->supplier, b->text);
    (void)worksheet_write_number(b->ws, r, 4, bolt->metres, b->tenth);
    (void)worksheet_write_number(b->ws, r, 5, bolt->width_cm, b->tenth);
    (void)worksheet_write_number(b->ws, r, 6, bolt->mass_gm2, b->whole);
    (void)worksheet_write_number(b->ws, r, 7, (double)bolt->burns, b->whole);
    (void)worksheet_write_string(b->ws, r, 8, tb_verdict_key(lot->verdict), b->text);
    (void)worksheet_write_string(b->ws, r, 9, "2 of 50 bolts burnt", b->text);
    (void)worksheet_write_string(b->ws, r, 10, tb_standing_key(lot->standing), b->text);
    return TB_OK;
}

static void bare(void)
{
    lxw_workbook_options o = { .constant_memory = LXW_TRUE, .tmpdir = folder };
    char *path = path_of("bare.xlsx");
    lxw_workbook *w = workbook_new_opt(path, &o);
    struct bare b = { workbook_add_worksheet(w, "Bolts"),
                      dress(w, NULL, true),
                      dress(w, NULL, false),
                      dress(w, "yyyy-mm-dd", false),
                      dress(w, "#,##0.0", false),
                      dress(w, "#,##0", false),
                      1 };
    struct tb_err err = { 0 };

    if (goods(NULL, no_lot, bare_bolt, &b, &err) != TB_OK || workbook_close(w) != LXW_NO_ERROR)
        stop(&err);
    free(path);
}

/* --- measuring ---------------------------------------------------------------------------------------------------- */

static double seconds(void)
{
    struct timespec t;

    (void)clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

struct took {
    double wall, cpu, mib;
};

static void keep_less(double *best, double v)
{
    *best = v < *best ? v : *best;
}

static void run(void (*job)(void), struct took *best)
{
    double from = seconds();
    struct rusage use;
    int status;
    pid_t child = fork();

    if (child == 0) {
        job();
        exit(0);
    }
    if (child < 0 || wait4(child, &status, 0, &use) != child || status != 0) {
        (void)fprintf(stderr, "bench_sheet: a run failed\n");
        exit(1);
    }
    keep_less(&best->wall, seconds() - from);
    keep_less(&best->cpu, (double)(use.ru_utime.tv_sec + use.ru_stime.tv_sec) +
                              (double)(use.ru_utime.tv_usec + use.ru_stime.tv_usec) * 1e-6);
    keep_less(&best->mib, (double)use.ru_maxrss / 1024);
}

/* A book of as many bolts, recorded in one transaction as `receive` does it. */
static void make_book(void)
{
    struct tb_arena mem = { 0 };
    struct tb_book *book = NULL;
    struct tb_err err = { 0 };
    char *path = path_of("book.db");
    struct tb_supplier s;
    struct tb_delivery d = { .note = "N", .order_no = "", .file_name = "", .file_digest = "", .remark = "" };
    tb_rc rc;

    if (tb_book_make(path, "W", "Bench", "GB", "bench", &err) != TB_OK ||
        tb_book_open(&book, path, NULL, &err) != TB_OK ||
        tb_book_begin(book, "bench", "receive", &err) != TB_OK ||
        tb_supplier_ensure(&s, book, "Invented Weavers", &mem, &err) != TB_OK ||
        tb_bolts_begin(book, rows, &err) != TB_OK)
        stop(&err);
    d.supplier = s.id;
    for (int64_t i = 0; i < rows / BOLTS_A_LOT; i++) {
        struct words w;
        struct tb_month_lot l = lot_number(i, &w);
        struct tb_lot lot = { .article = l.article,
                              .colour = l.colour,
                              .dye_lot = l.dye_lot,
                              .origin = l.origin,
                              .unit_price = l.price,
                              .currency = "EUR",
                              .bolts = BOLTS_A_LOT,
                              .metres = l.metres };

        d.arrived = l.arrived;
        rc = i % 20 == 0 ? tb_delivery_add(&d, book, &mem, &err) : TB_OK;
        if (rc != TB_OK || tb_lot_add(&lot, book, &d, i % 20 + 1, &mem, &err) != TB_OK)
            stop(&err);
        for (int b = 0; b < BOLTS_A_LOT; b++) {
            char number[32];
            struct tb_bolt bolt = { .lot = lot.id,
                                    .number = number,
                                    .metres = 40 + b * 0.5,
                                    .width_cm = 150,
                                    .mass_gm2 = 180,
                                    .said = "" };

            (void)snprintf(number, sizeof number, "%07lld", (long long)(i * BOLTS_A_LOT + b));
            if (tb_bolt_add(&bolt, book, &err) != TB_OK)
                stop(&err);
        }
    }
    if (tb_bolts_end(book, &err) != TB_OK || tb_book_commit(book, &err) != TB_OK)
        stop(&err);
    tb_book_close(book);
    tb_arena_free(&mem);
    free(path);
}

static void say(const char *what, const struct took *t, const struct took *base)
{
    (void)printf("  %-42s %6.2f s %5.2fx   cpu %6.2f s %5.2fx   %6.1f MiB\n", what, t->wall,
                 t->wall / base->wall, t->cpu, t->cpu / base->cpu, t->mib);
}

int main(int argc, char **argv)
{
    struct took t[3] = { { 1e9, 1e9, 1e9 }, { 1e9, 1e9, 1e9 }, { 1e9, 1e9, 1e9 } }, none = { 0 };
    int runs = argc > 2 ? atoi(argv[2]) : 2;
    char clean[64];

    rows = argc > 1 ? atoll(argv[1]) / BOLTS_A_LOT * BOLTS_A_LOT : 1000000;
    if (!mkdtemp(folder) || rows < BOLTS_A_LOT || runs < 1)
        return 1;
    run(make_book, &none);
    for (int i = 0; i < runs; i++) {
        run(bare, &t[0]);
        run(ours, &t[1]);
        run(from_book, &t[2]);
    }
    (void)printf("sheet of %lld bolts, best of %d (target 1.20x, 64 MiB)\n", (long long)rows, runs);
    say("bare libxlsxwriter, bolt sheet alone", &t[0], &t[0]);
    say("all sheets and CSV twins", &t[1], &t[0]);
    say("the same from a book", &t[2], &t[0]);
    (void)snprintf(clean, sizeof clean, "rm -rf '%s'", folder);
    return system(clean) == 0 ? 0 : 1;
}
