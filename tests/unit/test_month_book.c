/* test_month_book.c - the month's sheets out of a book: what is counted in which month. Invented trade. */
#include "tenterbook/book.h"
#include "tenterbook/month.h"

#include <dirent.h>
#include <math.h>
#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

static char folder[] = "/tmp/test_month_book_XXXXXX";
static struct tb_book *book;
static struct tb_err err;

#define OK(call)                                                                                             \
    do {                                                                                                     \
        if ((call) != TB_OK)                                                                                 \
            fail_msg("%s: %s (%s)", #call, err.msg, err.detail);                                             \
    } while (0)

static char *path_of(const char *name)
{
    struct tb_text t = { 0 };

    tb_text_addf(&t, "%s/%s", folder, name);
    return tb_text_take(&t);
}

/* A delivery of one lot of three bolts; gives the lot. */
static struct tb_lot receive(const char *supplier, const char *day, const char *words, double price,
                             struct tb_arena *mem)
{
    struct tb_supplier s;
    struct tb_delivery d = { .note = "N1", .order_no = "", .file_name = "", .file_digest = "", .remark = "" };
    struct tb_lot lot = { .article = "a",
                          .colour = "",
                          .dye_lot = "",
                          .origin = "",
                          .unit_price = price,
                          .currency = "EUR",
                          .bolts = 3,
                          .metres = 150 };

    OK(tb_supplier_ensure(&s, book, supplier, mem, &err));
    d.supplier = s.id;
    d.arrived = day;
    OK(tb_delivery_add(&d, book, mem, &err));
    OK(tb_lot_add(&lot, book, &d, 1, mem, &err));
    OK(tb_declaration_add(book, lot.id, words, TB_ORIGIN_ROW, NULL, &err));
    for (int i = 0; i < 3; i++) {
        char number[16];
        struct tb_bolt bolt = {
            .lot = lot.id, .number = number, .metres = 50, .width_cm = 150, .mass_gm2 = NAN, .said = ""
        };

        (void)snprintf(number, sizeof number, "B%d", i + 1);
        OK(tb_bolt_add(&bolt, book, &err));
    }
    return lot;
}

static void burn(const struct tb_lot *lot, const char *number, struct tb_arena *mem)
{
    struct tb_bolt bolt;
    struct tb_cue_seen cue = { "smoke:black", true };
    struct tb_swatch s = {
        .lot = lot->id, .lot_ref = lot->ref, .part = TB_PART_WHOLE, .known = "", .kept = ""
    };
    struct tb_burn b = { .looked = "smoke", .flame = "candle", .note = "", .cue = &cue, .cues = 1 };

    OK(tb_bolt_find(&bolt, book, lot->id, number, mem, &err));
    s.bolt = bolt.id;
    OK(tb_swatch_add(&s, book, mem, &err));
    b.swatch = s.id;
    OK(tb_burn_add(&b, book, mem, &err));
}

static void judge(const struct tb_lot *lot, enum tb_verdict_kind verdict, double log_ratio, int64_t burnt,
                  struct tb_arena *mem)
{
    struct tb_judged v = { .lot = lot->id,
                           .verdict = verdict,
                           .reference = "r",
                           .detail = "{}",
                           .log_ratio = log_ratio,
                           .bolts_burnt = burnt,
                           .bolts = 3 };

    OK(tb_judged_add(&v, book, mem, &err));
}

static void settle(const struct tb_lot *lot, enum tb_standing_kind standing, struct tb_arena *mem)
{
    struct tb_standing s = { .lot = lot->id,
                             .standing = standing,
                             .why = "because",
                             .old_words = "",
                             .new_words = "",
                             .goods_of = "" };

    OK(tb_standing_add(&s, book, mem, &err));
}

/* The clock stands at 2026-03-20 (see make_book): burns and verdicts of this book fall into March. */
static void trade(void)
{
    struct tb_arena mem = { 0 };
    struct tb_lot a, b, c;

    OK(tb_book_begin(book, "Ines", "receive", &err));
    a = receive("Lindqvist & Sorel", "2026-03-01", "60% cotton 40% polyester", 4, &mem);
    b = receive("LINDQVIST & SOREL", "2026-03-31", "100% silk", 18, &mem);
    c = receive("Ohm Weavers", "2026-02-28", "100% wool", NAN, &mem);
    (void)receive("Ohm Weavers", "2026-04-01", "100% wool", 9, &mem);
    burn(&a, "B1", &mem);
    burn(&a, "B1", &mem);
    burn(&a, "B3", &mem);
    burn(&b, "B2", &mem);
    judge(&a, TB_UNDECIDED, 0.2, 2, &mem);
    judge(&a, TB_FITS, 2.0, 2, &mem); /* judged again: only this one counts */
    judge(&b, TB_CONTRADICTS, -5, 1, &mem);
    settle(&a, TB_RELEASED, &mem);
    settle(&b, TB_HELD, &mem);
    settle(&c, TB_HELD, &mem);
    OK(tb_book_commit(book, &err));
    tb_arena_free(&mem);
}

static struct tb_month_sums month(const char *name, const char *from, const char *until)
{
    struct tb_month_source source;
    struct tb_month_book *m = NULL;
    struct tb_month_sums s = { 0 };
    char *path = path_of(name);
    struct tb_outset files = { .replace = true };
    struct tb_month_plan plan = { .files = &files,
                                  .path = path,
                                  .from = from,
                                  .until = until,
                                  .name = "x",
                                  .now = "2026-04-02T08:00:00Z",
                                  .base_from = TB_BASE_UNSAID };

    OK(tb_month_from_book(&m, &source, book, from, until, &err));
    OK(tb_outset_end(&files, tb_month_write(&s, &plan, &source, &err), &err));
    tb_month_book_close(m);
    free(path);
    return s;
}

static char *slurp(const char *name)
{
    char *path = path_of(name), *s;
    FILE *f = fopen(path, "rb");
    long n;

    assert_non_null(f);
    assert_int_equal(fseek(f, 0, SEEK_END), 0);
    n = ftell(f);
    rewind(f);
    s = tb_alloc((size_t)n + 1, 1);
    assert_int_equal(fread(s, 1, (size_t)n, f), n);
    (void)fclose(f);
    free(path);
    return s;
}

static void a_month_holds_what_arrived_in_it(void **state)
{
    struct tb_month_sums s = month("march.xlsx", "2026-03-01", "2026-04-01");

    (void)state;
    assert_int_equal(s.work.deliveries, 2);
    assert_int_equal(s.lots, 2);
    assert_int_equal(s.bolts, 6);
    assert_true(fabs(s.metres - 300) < 1e-9);
    assert_int_equal(s.fits, 1);
    assert_int_equal(s.contradicts, 1);
    assert_int_equal(s.undecided, 0);
    assert_int_equal(s.bolts_burnt, 3); /* B1 twice counts once */
    assert_int_equal(s.work.burns, 4);
    assert_int_equal(s.work.verdicts, 3);
    assert_int_equal(s.held.lots, 1);
    assert_true(fabs(s.money[0].all - 150.0 * 22) < 1e-9);
    assert_true(fabs(s.money[0].held - 150.0 * 18) < 1e-9);
}

static void the_lists_say_how_many_bolts_a_verdict_rests_on(void **state)
{
    char *lots = slurp("march-lots.csv"), *bolts = slurp("march-bolts.csv");

    (void)state;
    assert_non_null(
        strstr(lots, ",60% cotton 40% polyester,3,150,no finding against it,2 of 3 bolts burnt,"));
    assert_non_null(strstr(lots, ",100% silk,3,150,does not conform,1 of 3 bolts burnt,"));
    assert_non_null(strstr(bolts, "B1,"));
    assert_non_null(strstr(bolts, ",50,150,,2,2,no finding against it,2 of 3 bolts burnt,released"));
    assert_non_null(strstr(bolts, ",50,150,,0,0,no finding against it,2 of 3 bolts burnt,released"));
    free(lots);
    free(bolts);
}

static void one_supplier_written_two_ways_is_one_line(void **state)
{
    char *csv = slurp("march-suppliers.csv");

    (void)state;
    assert_non_null(strstr(csv, "Lindqvist & Sorel,2,2,6,300,2,0,1,1,0,0,1,0.5,"));
    assert_null(strstr(csv, "LINDQVIST"));
    assert_null(strstr(csv, "Ohm"));
    free(csv);
}

static void what_is_open_from_earlier_months_is_not_forgotten(void **state)
{
    char *csv = slurp("march-open.csv");
    const char *wool = strstr(csv, "Ohm Weavers,2026-02-28,33,"), *silk = strstr(csv, "100% silk");

    (void)state;
    assert_non_null(wool);
    assert_non_null(silk);
    assert_true(wool < silk);
    assert_null(strstr(csv, "2026-04-01")); /* arrived after the span */
    assert_null(strstr(csv, "released"));
    free(csv);
}

static void an_empty_month_is_a_workbook_too(void **state)
{
    struct tb_month_sums s = month("empty.xlsx", "2025-01-01", "2025-02-01");
    char *csv = slurp("empty-lots.csv");

    (void)state;
    assert_int_equal(s.lots, 0);
    assert_true(isnan(s.low));
    assert_null(strchr(strchr(csv, '\n') + 1, '\n')); /* the heading and no row */
    free(csv);
}

static void months_are_made_with_the_markets_of_the_site_and_what_is_open(void **state)
{
    char *path = path_of("spring.xlsx"), *page = path_of("spring.pdf"), *claims;
    struct tb_outset files = { .replace = true };
    struct tb_month_request r = {
        .files = &files, .first = "2026-02", .last = "2026-03", .path = path, .page = page
    };
    struct tb_month_sums s = { 0 };
    char name[TB_SPAN_NAME_LEN + 1];

    (void)state;
    OK(tb_book_begin(book, "Ines", "set", &err));
    OK(tb_setting_set(book, "market", "eu, us eu", &err));
    OK(tb_book_commit(book, &err));
    OK(tb_outset_end(&files, tb_month_make(&s, book, &r, &err), &err));
    assert_int_equal(s.lots, 3);
    assert_int_equal(s.markets, 2);
    assert_int_equal(s.claims, 2); /* two lots are held, and no supplier was told */
    claims = slurp("spring-claims.csv");
    assert_non_null(strstr(claims, "tell the supplier"));
    free(claims);
    free(slurp("spring.pdf"));
    OK(tb_market_list_add(&r.markets, "gb", &err));
    OK(tb_outset_end(&files, tb_month_make(&s, book, &r, &err), &err));
    assert_int_equal(s.markets, 1);
    tb_month_span_name(name, "2026-02", "2026-03");
    assert_string_equal(name, "2026-02..2026-03");
    tb_month_span_name(name, "2026-03", "2026-03");
    assert_string_equal(name, "2026-03");
    r.path = "spring.txt";
    assert_int_equal(tb_outset_end(&files, tb_month_make(&s, book, &r, &err), &err), TB_EINVAL);
    assert_string_equal(err.msg, "spring.txt: the name of what is written there ends in .xlsx");
    free(path);
    free(page);
}

/* A lot of January: one bolt burnt, another tested without a flame; the third only cut. And one that nobody can read. */
static void a_bolt_tested_without_a_flame_counts_as_tested(void **state)
{
    struct tb_arena mem = { 0 };
    struct tb_lot tried, unread;
    struct tb_bolt bolt;
    struct tb_swatch s = { .part = TB_PART_WHOLE, .known = "", .kept = "" };
    struct tb_bench_test t = { .test = "microscope", .result = "scales", .note = "" };
    struct tb_month_sums sums;
    char *lots, *bolts, *summary, *open;

    (void)state;
    OK(tb_book_begin(book, "Ines", "receive", &err));
    tried = receive("Vane Mill", "2026-01-15", "100% wool", 4, &mem);
    unread = receive("Vane Mill", "2026-01-16", "rubbish", 4, &mem);
    burn(&tried, "B1", &mem);
    s.lot = tried.id;
    s.lot_ref = tried.ref;
    for (int i = 2; i <= 3; i++) {
        OK(tb_bolt_find(&bolt, book, tried.id, i == 2 ? "B2" : "B3", &mem, &err));
        s.bolt = bolt.id;
        OK(tb_swatch_add(&s, book, &mem, &err));
        t.swatch = s.id;
        if (i == 2)
            OK(tb_bench_test_add(&t, book, &mem, &err));
    }
    judge(&tried, TB_FITS, 2, 1, &mem);
    judge(&unread, TB_UNDECIDED, 0, 0,
          &mem); /* a ratio of exactly 0 was stored where nothing could be weighed */
    OK(tb_book_commit(book, &err));
    sums = month("january.xlsx", "2026-01-01", "2026-02-01");
    assert_int_equal(sums.bolts_tested, 2);
    assert_int_equal(sums.bolts_burnt, 1);
    lots = slurp("january-lots.csv");
    bolts = slurp("january-bolts.csv");
    summary = slurp("january-summary.csv");
    open = slurp("january-open.csv");
    assert_non_null(
        strstr(lots, ",100% wool,3,150,no finding against it,\"2 of 3 bolts tested, 1 of them burnt\","));
    assert_non_null(strstr(lots, ",7.38906,1,1,")); /* e^2, then a burn and a test without a flame */
    assert_non_null(strstr(lots, ",rubbish,3,150,open,0 of 3 bolts burnt,"));
    assert_null(strstr(lots, ",1,0,0,")); /* no ratio of 1 where nothing was weighed */
    assert_non_null(strstr(lots, ",,0,0,"));
    assert_non_null(strstr(bolts, ",50,150,,1,1,no finding against it,"));
    assert_non_null(strstr(bolts, ",50,150,,0,1,no finding against it,"));
    assert_non_null(strstr(bolts, ",50,150,,0,0,no finding against it,"));
    assert_non_null(strstr(summary, "Bolts tested,2,"));
    assert_non_null(strstr(summary, "Bolts burnt,1,"));
    assert_non_null(strstr(open, "\"2 of 3 bolts tested, 1 of them burnt\""));
    free(lots);
    free(bolts);
    free(summary);
    free(open);
    tb_arena_free(&mem);
}

static int make_book(void **state)
{
    char *path;

    (void)state;
    (void)setenv("TENTERBOOK_CLOCK", "1774000000", 1); /* 2026-03-20T09:46:40Z */
    if (!mkdtemp(folder))
        return -1;
    path = path_of("book.db");
    if (tb_book_make(path, "W", "Weir Street store", "GB", "Ines", &err) != TB_OK ||
        tb_book_open(&book, path, NULL, &err) != TB_OK)
        return -1;
    free(path);
    trade();
    return 0;
}

static int remove_book(void **state)
{
    DIR *d = opendir(folder);
    struct dirent *e;

    (void)state;
    tb_book_close(book);
    while (d && (e = readdir(d))) {
        char *p = path_of(e->d_name);

        (void)unlink(p);
        free(p);
    }
    if (d)
        (void)closedir(d);
    return rmdir(folder);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_month_holds_what_arrived_in_it),
        cmocka_unit_test(the_lists_say_how_many_bolts_a_verdict_rests_on),
        cmocka_unit_test(one_supplier_written_two_ways_is_one_line),
        cmocka_unit_test(what_is_open_from_earlier_months_is_not_forgotten),
        cmocka_unit_test(an_empty_month_is_a_workbook_too),
        cmocka_unit_test(months_are_made_with_the_markets_of_the_site_and_what_is_open),
        cmocka_unit_test(a_bolt_tested_without_a_flame_counts_as_tested),
    };

    return cmocka_run_group_tests(tests, make_book, remove_book);
}
