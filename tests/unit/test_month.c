/* test_month.c - the month's sheets from rows that are not from a book. All names are invented. */
#include "tenterbook/month.h"
#include "unit/months_before.h"

#include <dirent.h>
#include <math.h>
#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

#define NOW "2026-04-01T08:00:00Z"

static char folder[] = "/tmp/test_month_XXXXXX";

struct trade {
    const struct tb_month_lot *lot;
    size_t lots;
};

static const struct tb_month_lot march[] = {
    { "W26-001.01",
      "W26-001",
      "N-77",
      "2026-03-02",
      "Lindqvist & Sorel",
      "voile 12",
      "ecru",
      "D4",
      "IT",
      "60% Cotton / 40% Polyester",
      true,
      7,
      2,
      2,
      310.5,
      4.20,
      "EUR",
      TB_FITS,
      2.3,
      TB_RELEASED,
      "2026-03-04T10:00:00Z",
      "fits",
      NULL,
      NULL,
      NULL,
      NULL,
      0,
      2,
      0,
      false,
      0,
      0,
      0,
      0,
      NULL,
      0,
      0,
      false,
      NULL,
      NULL,
      NULL,
      0,
      0,
      0,
      0,
      0,
      NULL,
      0,
      .unit = "m",
      .unit_metres = 1 },
    { "W26-001.02",
      "W26-001",
      "N-77",
      "2026-03-02",
      "Lindqvist & Sorel",
      "voile 13",
      "",
      "",
      "IT",
      "100% Seide",
      true,
      3,
      3,
      4,
      120,
      18.0,
      "EUR",
      TB_CONTRADICTS,
      -6.2,
      TB_HELD,
      "2026-03-05T10:00:00Z",
      "melts and beads",
      "{\"verdict\":\"contradicts\",\"likeliest\":[{\"part\":\"whole\",\"fibres\":[{\"fibre\":\"polyester\","
      "\"percent\":100}]}]}",
      NULL,
      NULL,
      NULL,
      0,
      3,
      0,
      false,
      0,
      0,
      0,
      0,
      NULL,
      0,
      0,
      false,
      NULL,
      NULL,
      NULL,
      0,
      0,
      0,
      0,
      0,
      NULL,
      0,
      .unit = "m",
      .unit_metres = 1 },
    { "W26-002.01",
      "W26-002",
      "",
      "2026-03-19",
      "\xCE\xA5\xCF\x86\xCE\xAC\xCF\x83\xCE\xBC\xCE\xB1\xCF\x84\xCE\xB1 "
      "\xCE\x91\xCE\xB9\xCE\xB3\xCE\xB1\xCE\xAF\xCE\xBF\xCF\x85",
      "=cmd",
      "blau",
      "",
      "",
      "warp cotton, weft linen",
      true,
      2,
      1,
      1,
      80,
      NAN,
      "",
      TB_UNDECIDED,
      0.1,
      TB_WAITING,
      NULL,
      "",
      NULL,
      NULL,
      NULL,
      NULL,
      0,
      1,
      0,
      false,
      0,
      0,
      0,
      0,
      NULL,
      0,
      0,
      false,
      NULL,
      NULL,
      NULL,
      0,
      0,
      0,
      0,
      0,
      NULL,
      0,
      .unit = "m",
      .unit_metres = 1 },
    { "W26-003.01",
      "W26-003",
      "",
      "2026-03-30",
      "\xE7\xB6\xA2\xE5\xB8\x83\xE8\xA1\x8C",
      "x",
      "",
      "",
      "",
      "PE 100",
      false,
      4,
      0,
      0,
      200,
      2.5,
      "USD",
      TB_UNJUDGED,
      NAN,
      TB_WAITING,
      NULL,
      "",
      NULL,
      NULL,
      NULL,
      NULL,
      0,
      0,
      0,
      false,
      0,
      0,
      0,
      0,
      NULL,
      0,
      0,
      false,
      NULL,
      NULL,
      NULL,
      0,
      0,
      0,
      0,
      0,
      NULL,
      0,
      .unit = "m",
      .unit_metres = 1 },
};

static tb_rc goods(void *from, tb_month_lot_fn *lot, tb_month_bolt_fn *bolt, void *arg, struct tb_err *err)
{
    struct trade *t = from;
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < t->lots && rc == TB_OK; i++) {
        const struct tb_month_lot *l = &t->lot[i];

        rc = lot(arg, l, err);
        for (int64_t b = 0; bolt && b < l->bolts && rc == TB_OK; b++) {
            char number[32];
            struct tb_month_bolt one = {
                number, l->metres / (double)l->bolts, 150,   b ? 180 : NAN,    b < l->bolts_burnt ? 1 : 0,
                NULL,   b < l->bolts_tested,          false, TB_STANDING_NONE, 0,
                0
            };

            (void)snprintf(number, sizeof number, "B%03lld", (long long)b + 1);
            rc = bolt(arg, l, &one, err);
        }
    }
    return rc;
}

static tb_rc open_lots(void *from, tb_month_lot_fn *fn, void *arg, struct tb_err *err)
{
    struct trade *t = from;
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < t->lots && rc == TB_OK; i++)
        if (t->lot[i].standing == TB_HELD || t->lot[i].standing == TB_WAITING)
            rc = fn(arg, &t->lot[i], err);
    return rc;
}

static tb_rc work(struct tb_month_work *out, void *from, struct tb_err *err)
{
    (void)from;
    (void)err;
    *out = (struct tb_month_work){
        .deliveries = 3, .swatches = 6, .burns = 7, .bench_tests = 1, .verdicts = 3, .settled = 2
    };
    return TB_OK;
}

static tb_rc broken(void *from, tb_month_lot_fn *fn, void *arg, struct tb_err *err)
{
    (void)from;
    (void)fn;
    (void)arg;
    return tb_fail(err, TB_EIO, "the book cannot be read");
}

static tb_rc before(void *from, const char *first, tb_month_said_fn *fn, void *arg, struct tb_err *err)
{
    assert_string_equal(first, "2025-03-01");
    return ((struct trade *)from)->lots ? nine_lots_before(fn, arg, "2026-01-20", err) : TB_OK;
}

static char *path_of(const char *name)
{
    struct tb_text t = { 0 };

    tb_text_addf(&t, "%s/%s", folder, name);
    return tb_text_take(&t);
}

static struct tb_month_source source_of(struct trade *t)
{
    return (struct tb_month_source){ goods, open_lots, work, t, "Weir Street store", "journal row 812",
                                     "",    before,    NULL };
}

static tb_rc write_month(struct tb_month_sums *sums, const char *name, const struct tb_month_source *source,
                         struct tb_err *err)
{
    char *path = path_of(name);
    char *page = tb_strdup(path);
    static const char *const market[] = { "eu", "us" };

    strcpy(page + strlen(page) - 5, ".pdf");
    struct tb_outset files = { .replace = true };
    struct tb_month_plan plan = { .files = &files,
                                  .path = path,
                                  .from = "2026-03-01",
                                  .until = "2026-04-01",
                                  .name = "2026-03",
                                  .now = NOW,
                                  .page = page,
                                  .market = market,
                                  .markets = 2,
                                  .base_from = TB_BASE_UNSAID };
    tb_rc rc = tb_outset_end(&files, tb_month_write(sums, &plan, source, err), err);

    free(page);
    free(path);
    return rc;
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

static void the_sums_are_those_of_the_rows(void **state)
{
    struct trade t = { march, TB_COUNT(march) };
    struct tb_month_source source = source_of(&t);
    struct tb_month_sums s = { 0 };
    struct tb_err err = { 0 };

    (void)state;
    if (write_month(&s, "march.xlsx", &source, &err) != TB_OK)
        fail_msg("%s (%s)", err.msg, err.detail);
    assert_int_equal(s.lots, 4);
    assert_int_equal(s.bolts, 16);
    assert_int_equal(s.bolts_burnt, 6);
    assert_true(fabs(s.metres - 710.5) < 1e-9);
    assert_int_equal(s.fits, 1);
    assert_int_equal(s.contradicts, 1);
    assert_int_equal(s.undecided, 1);
    assert_int_equal(s.unjudged, 1);
    assert_int_equal(s.held.lots, 1);
    assert_int_equal(s.waiting.lots, 2);
    assert_int_equal(s.unpriced, 1);
    assert_int_equal(s.monies, 2);
    assert_true(fabs(s.money[0].all - (310.5 * 4.2 + 120 * 18)) < 1e-9);
    assert_true(fabs(s.money[0].held - 2160) < 1e-9);
    /* Clopper-Pearson for 1 of 3: 1 - 0.975^(1/3) and 1 - the same of two successes (R: binom.test(1, 3)) */
    assert_true(fabs(s.low - 0.008403759) < 1e-8);
    assert_true(fabs(s.high - 0.905700586) < 1e-7);
}

static void n_of_m_bolts_burnt_stands_beside_every_verdict(void **state)
{
    char *lots = slurp("march-lots.csv"), *bolts = slurp("march-bolts.csv"), *open = slurp("march-open.csv");

    (void)state;
    assert_non_null(strstr(lots, ",does not conform,3 of 3 bolts burnt,"));
    assert_non_null(strstr(lots, ",no finding against it,2 of 7 bolts burnt,"));
    assert_non_null(strstr(bolts, ",open,1 of 2 bolts burnt,"));
    assert_non_null(strstr(open, ",held,does not conform,3 of 3 bolts burnt,"));
    assert_null(strstr(open, "W26-001.01"));
    assert_non_null(strstr(lots, ",'=cmd,"));
    free(lots);
    free(bolts);
    free(open);
}

/* A lot of a supplier, judged so. */
static struct tb_month_lot of(const char *supplier, double metres, enum tb_verdict_kind verdict)
{
    struct tb_month_lot l = march[0];

    l.supplier = supplier;
    l.metres = metres;
    l.verdict = verdict;
    l.log_ratio = NAN;
    return l;
}

static void suppliers_stand_by_the_low_end_of_the_interval(void **state)
{
    /* 1 of 1 against 6 of 12: the raw share would put the first before the second */
    struct tb_month_lot lot[14];
    struct trade t = { lot, TB_COUNT(lot) };
    struct tb_month_source source = source_of(&t);
    struct tb_month_sums s = { 0 };
    struct tb_err err = { 0 };
    char *csv;
    const char *one, *six, *none;

    (void)state;
    lot[0] = of("Nothing judged", 9999, TB_UNJUDGED);
    lot[1] = of("One of one", 10, TB_CONTRADICTS);
    for (size_t i = 2; i < TB_COUNT(lot); i++)
        lot[i] = of("Six of twelve", 75, i % 2 ? TB_CONTRADICTS : TB_FITS);
    assert_int_equal(write_month(&s, "rank.xlsx", &source, &err), TB_OK);
    csv = slurp("rank-suppliers.csv");
    six = strstr(csv, "Six of twelve,1,12,84,900,12,0,6,6,0,0,0,");
    one = strstr(csv, "One of one,1,1,7,10,1,0,0,1,0,0,0,");
    none = strstr(csv, "Nothing judged");
    assert_true(six && one && none && six < one && one < none);
    assert_non_null(strstr(none, ",0,0,0,0,0,0,,,,,,"));
    free(csv);
}

static tb_rc half_a_year_before(void *from, const char *first, tb_month_said_fn *fn, void *arg,
                                struct tb_err *err)
{
    (void)from;
    (void)first;
    return nine_lots_before(fn, arg, "2025-10-20", err);
}

typedef tb_rc before_fn(void *from, const char *first, tb_month_said_fn *fn, void *arg, struct tb_err *err);

/* Where a printed page of the cards ends by hand, in a workbook of two suppliers of March and one before. */
static int breaks_of_the_cards(before_fn *before_march)
{
    struct tb_month_lot lot[2] = { of("Ash Mill", 10, TB_FITS), of("Beck Mill", 10, TB_FITS) };
    struct trade t = { lot, TB_COUNT(lot) };
    struct tb_month_source source = source_of(&t);
    struct tb_month_sums s = { 0 };
    struct tb_text command = { 0 };
    struct tb_err err = { 0 };
    char *xml;
    int n = 0;

    source.before = before_march;
    assert_int_equal(write_month(&s, "cards.xlsx", &source, &err), TB_OK);
    /* the eleventh tab, as test_month_golden.c counts them */
    tb_text_addf(&command, "cd %s && unzip -p cards.xlsx xl/worksheets/sheet11.xml >cards.xml", folder);
    assert_int_equal(system(command.s), 0);
    tb_text_free(&command);
    xml = slurp("cards.xml");
    assert_non_null(strstr(xml, "<sheetData>"));
    for (const char *at = xml; (at = strstr(at, "<brk ")) != NULL; at++)
        n++;
    free(xml);
    return n;
}

static void each_supplier_has_a_page_of_its_own_and_only_cards_of_one_month_share_one(void **state)
{
    (void)state;
    assert_int_equal(breaks_of_the_cards(half_a_year_before), 2); /* three cards of six months */
    assert_int_equal(breaks_of_the_cards(before), 2);             /* of three months */
    assert_int_equal(breaks_of_the_cards(NULL), 0);               /* two of one */
}

static void a_span_without_lots_has_no_share(void **state)
{
    struct trade t = { NULL, 0 };
    struct tb_month_source source = source_of(&t);
    struct tb_month_sums s = { 0 };
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(write_month(&s, "nothing.xlsx", &source, &err), TB_OK);
    assert_true(isnan(s.low));
}

static void what_was_found_instead_of_what_was_declared_is_a_matrix(void **state)
{
    char *found = slurp("march-found.csv"), *lots = slurp("march-lots.csv");

    (void)state;
    /* one fits (as declared), silk burnt like polyester, one is undecided; the lot that was not judged is nowhere */
    assert_non_null(strstr(found, "declared_kind,found_cellulose_polyester,found_polyester,found_undecided,"
                                  "looked_at,as_declared,otherwise\r\n"));
    assert_non_null(strstr(found, "cellulose + polyester,1,0,0,1,1,0\r\n"));
    assert_non_null(strstr(found, "protein,0,1,0,1,0,1\r\n"));
    assert_non_null(strstr(found, "cellulose,0,0,1,1,0,0\r\n"));
    assert_non_null(strstr(lots, ",protein,polyester,"));
    free(found);
    free(lots);
}

/* Seven kinds three times each, and two so rare that they stand together as "other kinds". */
static void rare_kinds_that_differ_are_not_counted_as_found_as_declared(void **state)
{
    static const char *const often[] = { "100% cotton",       "100% wool",    "100% polyester",
                                         "100% polyamide",    "100% acetate", "100% acrylic",
                                         "100% polypropylene" };
    struct tb_month_lot lot[23];
    struct trade t = { lot, TB_COUNT(lot) };
    struct tb_month_source source = source_of(&t);
    struct tb_month_sums s = { 0 };
    struct tb_err err = { 0 };
    char *csv;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(lot); i++) {
        lot[i] = march[0];
        lot[i].declared = i < 21 ? often[i % 7] : "100% aramid";
    }
    lot[22].verdict = TB_CONTRADICTS;
    lot[22].detail = "{\"verdict\":\"contradicts\",\"likeliest\":[{\"part\":\"whole\",\"fibres\":[{\"fibre\":"
                     "\"polyimide\",\"percent\":100}]}]}";
    assert_int_equal(write_month(&s, "rare.xlsx", &source, &err), TB_OK);
    csv = slurp("rare-found.csv");
    assert_non_null(strstr(
        csv, ",found_other_kinds,found_something_else,found_undecided,looked_at,as_declared,otherwise\r\n"));
    assert_non_null(strstr(csv, "other kinds,0,0,0,0,0,0,0,1,1,0,2,1,1\r\n"));
    assert_non_null(
        strstr(csv, "cellulose,0,0,3,0,0,0,0,0,0,0,3,3,0\r\n")); /* among equals by the alphabet */
    free(csv);
}

static void a_damaged_verdict_names_its_lot_and_nothing_is_written(void **state)
{
    struct tb_month_lot lot[1] = { march[0] };
    struct trade t = { lot, 1 };
    struct tb_month_source source = source_of(&t);
    struct tb_month_sums s = { .lots = 77 };
    struct tb_err err = { 0 };
    struct tb_text want = { 0 };
    char *path = path_of("damaged.xlsx");

    (void)state;
    lot[0].verdict = TB_CONTRADICTS;
    lot[0].detail = "{\"verdict\":\"contradicts\",\"likeliest\":7}";
    tb_text_addf(&want, "lot %s: the stored verdict is damaged: the member 'likeliest' is not a list",
                 lot[0].ref);
    assert_int_equal(write_month(&s, "damaged.xlsx", &source, &err), TB_EFORMAT);
    assert_string_equal(err.msg, want.s);
    assert_int_equal(s.lots, 77);
    assert_int_equal(access(path, F_OK), -1);
    tb_text_free(&want);
    free(path);
}

static void a_kind_has_a_column_of_its_own_where_it_has_a_row(void **state)
{
    /* eight kinds declared once each, the ninth only found: it must not push one of them from the columns alone */
    static const char *const once[] = { "100% cotton",        "100% wool",    "100% polyester",
                                        "100% polyamide",     "100% acetate", "100% acrylic",
                                        "100% polypropylene", "100% aramid" };
    struct tb_month_lot lot[9];
    struct trade t = { lot, TB_COUNT(lot) };
    struct tb_month_source source = source_of(&t);
    struct tb_month_sums s = { 0 };
    struct tb_err err = { 0 };
    char *csv, *line, *row, *rest;
    int rows = 0;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(lot); i++) {
        lot[i] = march[0];
        lot[i].declared = once[i % 8];
    }
    lot[8].verdict = TB_CONTRADICTS;
    lot[8].detail = "{\"verdict\":\"contradicts\",\"likeliest\":[{\"part\":\"whole\",\"fibres\":[{\"fibre\":"
                    "\"polyimide\",\"percent\":100}]}]}";
    assert_int_equal(write_month(&s, "once.xlsx", &source, &err), TB_OK);
    csv = slurp("once-found.csv");
    line = strtok_r(csv, "\r\n", &rest);
    while ((row = strtok_r(NULL, "\r\n", &rest)) != NULL) {
        char head[64];

        (void)snprintf(head, sizeof head, "found_%.*s,", (int)strcspn(row, " ,"), row);
        assert_non_null(strstr(line, strncmp(row, "other kinds", 11) == 0 ? "found_other_kinds," : head));
        rows++;
    }
    assert_int_equal(rows, 8);
    free(csv);
}

/* The words of a page, as a reader takes them out of the PDF. */
static char *words_of_page(const char *name)
{
    char *path = path_of(name), command[256];
    char *s = tb_alloc(65536, 1);
    FILE *f;

    (void)snprintf(command, sizeof command, "pdftotext -layout '%s' -", path);
    f = popen(command, "r");
    assert_non_null(f);
    assert_true(fread(s, 1, 65535, f) > 0);
    assert_int_equal(pclose(f), 0);
    free(path);
    return s;
}

static void large_figures_keep_their_words_on_the_page(void **state)
{
    enum { LOTS = 4321 };
    struct tb_month_lot *lot = tb_array(struct tb_month_lot, LOTS);
    struct trade t = { lot, LOTS };
    struct tb_month_source source = source_of(&t);
    struct tb_month_sums s = { 0 };
    struct tb_err err = { 0 };
    char *page;

    (void)state;
    for (size_t i = 0; i < LOTS; i++) {
        lot[i] = march[1];
        lot[i].bolts = lot[i].bolts_burnt = lot[i].bolts_tested = 1;
        lot[i].supplier =
            "Nordwind Spinning, Weaving, Dyeing and Finishing Company of the Northern Districts";
    }
    assert_int_equal(write_month(&s, "many.xlsx", &source, &err), TB_OK);
    page = words_of_page("many.pdf");
    assert_non_null(strstr(page, "4321 do not conform"));
    assert_non_null(strstr(page, "one for each lot in each of 2 markets"));
    free(page);
    free(lot);
}

static void months_before_the_span_are_marked_as_not_in_the_workbook(void **state)
{
    char *csv = slurp("march-months.csv");

    (void)state;
    /* 1 of 7: binom.test(1, 7) in R gives 0.00361 .. 0.57872 */
    assert_non_null(strstr(csv, "2026-01,9,7,0,5,1,1,0,0.142857,0.003610"));
    assert_non_null(strstr(csv, "900,0,\"in the book, not here\","));
    assert_non_null(strstr(csv, "2026-03,4,3,0,1,1,1,0,0.333333,0.008403"));
    assert_non_null(strstr(csv, "710.5,120,in this workbook,"));
    free(csv);
}

static void what_contradicts_gets_no_leave_to_be_labelled(void **state)
{
    char *csv = slurp("march-labels.csv");
    const char *silk = strstr(csv, "eu,W26-001.02,"), *blend = strstr(csv, "us,W26-001.01,");

    (void)state;
    assert_non_null(silk);
    assert_non_null(strstr(silk, "hold: see conclusion"));
    assert_non_null(blend);
    assert_non_null(strstr(blend, "60%"));
    free(csv);
}

static void the_page_is_one_and_the_same_each_time(void **state)
{
    struct trade t = { march, TB_COUNT(march) };
    struct tb_month_source source = source_of(&t);
    struct tb_month_sums s = { 0 };
    struct tb_err err = { 0 };
    char *one, *two;

    (void)state;
    assert_int_equal(write_month(&s, "a.xlsx", &source, &err), TB_OK);
    assert_int_equal(write_month(&s, "b.xlsx", &source, &err), TB_OK);
    one = slurp("a.pdf");
    two = slurp("b.pdf");
    assert_memory_equal(one, "%PDF-1.", 7);
    assert_string_equal(one, two);
    free(one);
    free(two);
}

static void a_market_that_is_none_leaves_no_file(void **state)
{
    struct trade t = { march, TB_COUNT(march) };
    struct tb_month_source source = source_of(&t);
    static const char *const market[] = { "atlantis" };
    struct tb_month_sums s = { 0 };
    struct tb_err err = { 0 };
    char *path = path_of("none.xlsx");
    struct tb_outset files = { 0 };
    struct tb_month_plan plan = { .files = &files,
                                  .path = path,
                                  .from = "2026-03-01",
                                  .until = "2026-04-01",
                                  .name = "2026-03",
                                  .now = NOW,
                                  .market = market,
                                  .markets = 1,
                                  .base_from = TB_BASE_UNSAID };

    (void)state;
    assert_int_equal(tb_outset_end(&files, tb_month_write(&s, &plan, &source, &err), &err), TB_ENOTFOUND);
    assert_non_null(strstr(err.msg, "atlantis"));
    assert_int_equal(access(path, F_OK), -1);
    free(path);
}

static void a_source_that_fails_leaves_no_file(void **state)
{
    struct trade t = { march, TB_COUNT(march) };
    struct tb_month_source source = source_of(&t);
    struct tb_month_sums s = { .lots = 77 };
    struct tb_err err = { 0 };
    struct dirent *e;
    DIR *d;

    (void)state;
    source.open = broken;
    assert_int_equal(write_month(&s, "half.xlsx", &source, &err), TB_EIO);
    assert_string_equal(err.msg, "the book cannot be read");
    assert_int_equal(s.lots, 77);
    d = opendir(folder);
    assert_non_null(d);
    while ((e = readdir(d)))
        assert_null(strstr(e->d_name, "half"));
    (void)closedir(d);
}

static int make_folder(void **state)
{
    (void)state;
    return mkdtemp(folder) ? 0 : -1;
}

static int remove_folder(void **state)
{
    DIR *d = opendir(folder);
    struct dirent *e;

    (void)state;
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
        cmocka_unit_test(the_sums_are_those_of_the_rows),
        cmocka_unit_test(n_of_m_bolts_burnt_stands_beside_every_verdict),
        cmocka_unit_test(suppliers_stand_by_the_low_end_of_the_interval),
        cmocka_unit_test(each_supplier_has_a_page_of_its_own_and_only_cards_of_one_month_share_one),
        cmocka_unit_test(a_span_without_lots_has_no_share),
        cmocka_unit_test(what_was_found_instead_of_what_was_declared_is_a_matrix),
        cmocka_unit_test(rare_kinds_that_differ_are_not_counted_as_found_as_declared),
        cmocka_unit_test(large_figures_keep_their_words_on_the_page),
        cmocka_unit_test(a_damaged_verdict_names_its_lot_and_nothing_is_written),
        cmocka_unit_test(a_kind_has_a_column_of_its_own_where_it_has_a_row),
        cmocka_unit_test(months_before_the_span_are_marked_as_not_in_the_workbook),
        cmocka_unit_test(what_contradicts_gets_no_leave_to_be_labelled),
        cmocka_unit_test(the_page_is_one_and_the_same_each_time),
        cmocka_unit_test(a_market_that_is_none_leaves_no_file),
        cmocka_unit_test(a_source_that_fails_leaves_no_file),
    };

    return cmocka_run_group_tests(tests, make_folder, remove_folder);
}
