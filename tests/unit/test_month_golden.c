/*
 * test_month_golden.c - the month's sheets of committed rows, compared with committed expectations: parts of the
 * workbook, its CSV twins, the text of the page. `make golden-review` shows differences and asks. Invented trade, with
 * four scripts, a declaration of 300 characters and names a spreadsheet would take for formulas.
 */
#include "golden_compare.h"
#include "tenterbook/money.h"
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
#include <zip.h>

static char folder[] = "/tmp/test_month_golden_XXXXXX";
static struct tb_text differs; /* names of what is not as expected */

#define POLY                                                                                                 \
    "{\"verdict\":\"contradicts\",\"likeliest\":[{\"part\":\"whole\",\"fibres\":[{\"fibre\":\"polyester\","  \
    "\"percent\":85},"                                                                                       \
    "{\"fibre\":\"cotton\",\"percent\":15}]}]}"

#define AGAINST                                                                                              \
    "{\"verdict\":\"undecided\",\"grade\":\"speaks "                                                         \
    "against\",\"one_look\":true,\"limits\":{\"lowest\":0.0625,"                                             \
    "\"highest\":16}}"

/* What differs from lot to lot; the rest is the same for all. */
static const struct {
    const char *supplier, *article, *declared;
    enum tb_verdict_kind verdict;
    enum tb_standing_kind standing;
    const char *detail, *found;
    double log_ratio;
    int burnt;
} row[] = {
    { "Brindlewick Weaving", "Poplin", "60% cotton 40% polyester", TB_FITS, TB_RELEASED, NULL, NULL, 2.5, 2 },
    { "\xCE\xA5\xCF\x86\xCE\xAC\xCF\x83\xCE\xBC\xCE\xB1\xCF\x84\xCE\xB1", "Silk", "100% silk", TB_CONTRADICTS,
      TB_HELD, POLY, NULL, -6, 3 },
    { "\xD0\xA8\xD1\x91\xD0\xBB\xD0\xBA \xD0\xB8 \xD0\xBB\xD1\x91\xD0\xBD", "Linen", "100% linen",
      TB_UNDECIDED, TB_WAITING, AGAINST, NULL, -3.5, 1 },
    { "\xD9\x86\xD8\xB3\xD9\x8A\xD8\xAC \xD8\xA7\xD9\x84\xD9\x88\xD8\xA7\xD8\xAF\xD9\x8A", "Twill",
      "95% cotton 5% elastane", TB_FITS, TB_WAITING, NULL, "cotton 94; elastane 6", 1.9, 1 },
    { "\xE7\xB6\xA2\xE5\xB8\x83\xE8\xA1\x8C", "Crepe", "PE 100", TB_UNJUDGED, TB_WAITING, NULL, NULL, NAN,
      0 },
    { "=HYPERLINK(A1)", "@SUM(1)",
      "+100% polyester, woven with care for a customer who asked for a cloth that is washed before it is "
      "cut, pressed "
      "without steam, kept out of the sun, rolled on tubes of sixty millimetres, wrapped twice, marked on "
      "both ends, "
      "and described on the note in full as the customer of our customer demands it, one line a bolt",
      TB_FITS, TB_RELEASED, NULL, NULL, 3.1, 1 },
};

static tb_rc goods(void *from, tb_month_lot_fn *lot, tb_month_bolt_fn *bolt, void *arg, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    (void)from;
    for (size_t i = 0; i < TB_COUNT(row) && rc == TB_OK; i++) {
        char ref[32];
        struct tb_month_lot l = { ref,
                                  "W26-001",
                                  "N-1",
                                  "2026-03-09",
                                  row[i].supplier,
                                  row[i].article,
                                  "-ecru",
                                  "D4",
                                  "IT",
                                  row[i].declared,
                                  row[i].verdict != TB_UNJUDGED,
                                  4,
                                  row[i].burnt,
                                  row[i].burnt,
                                  200 + 10 * (double)i,
                                  i == 2 ? NAN : 4.5,
                                  i == 2 ? "" : "EUR",
                                  row[i].verdict,
                                  row[i].log_ratio,
                                  row[i].standing,
                                  NULL,
                                  "",
                                  row[i].detail,
                                  row[i].found,
                                  NULL,
                                  NULL,
                                  0,
                                  row[i].burnt,
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
                                  .unit_metres = 1 };

        (void)snprintf(ref, sizeof ref, "W26-001.%02zu", i + 1);
        rc = lot(arg, &l, err);
        for (int b = 0; bolt && b < 4 && rc == TB_OK; b++) {
            char number[32];
            struct tb_month_bolt one = {
                number, l.metres / 4,     150, NAN, b < row[i].burnt, NULL, b < row[i].burnt,
                false,  TB_STANDING_NONE, 0,   0
            };

            (void)snprintf(number, sizeof number, b == 3 ? "=1+%d" : "B%d", b + 1);
            rc = bolt(arg, &l, &one, err);
        }
    }
    return rc;
}

struct held {
    tb_month_lot_fn *fn;
    void *arg;
};

static tb_rc if_open(void *arg, const struct tb_month_lot *l, struct tb_err *err)
{
    struct held *h = arg;

    return l->standing == TB_RELEASED ? TB_OK : h->fn(h->arg, l, err);
}

static tb_rc open_lots(void *from, tb_month_lot_fn *fn, void *arg, struct tb_err *err)
{
    struct held h = { fn, arg };

    return goods(from, if_open, NULL, &h, err);
}

static tb_rc work(struct tb_month_work *out, void *from, struct tb_err *err)
{
    (void)from;
    (void)err;
    *out = (struct tb_month_work){ .deliveries = 1, .swatches = 8, .burns = 8, .verdicts = 5, .settled = 2 };
    return TB_OK;
}

static tb_rc before(void *from, const char *first, tb_month_said_fn *fn, void *arg, struct tb_err *err)
{
    (void)from;
    (void)first;
    return nine_lots_before(fn, arg, "2026-02-20", err);
}

static char *path_of(const char *name)
{
    struct tb_text t = { 0 };

    tb_text_addf(&t, "%s/%s", folder, name);
    return tb_text_take(&t);
}

static char *slurp(const char *path, size_t *n)
{
    FILE *f = fopen(path, "rb");
    struct tb_text t = { 0 };
    char buffer[4096];
    size_t got;

    while (f && (got = fread(buffer, 1, sizeof buffer, f)) > 0)
        tb_text_addn(&t, buffer, got);
    if (f)
        (void)fclose(f);
    *n = t.n;
    return tb_text_take(&t);
}

/* What is there now against tests/golden/NAME; where TB_GOLDEN_NEW names a folder, it is put there for review. */
static void compare(const char *name, const char *s, size_t n)
{
    struct tb_text path = { 0 };
    const char *review = getenv("TB_GOLDEN_NEW");
    size_t want_n;
    char *want;

    tb_text_addf(&path, "%s/tests/golden/%s", TB_SOURCE_DIR, name);
    want = slurp(path.s, &want_n);
    if (want_n != n || memcmp(want, s, n) != 0)
        tb_text_addf(&differs, " %s", name);
    if (review) {
        FILE *f;

        tb_text_clear(&path);
        tb_text_addf(&path, "%s/%s", review, name);
        f = fopen(path.s, "wb");
        assert_non_null(f);
        assert_int_equal(fwrite(s, 1, n, f), n);
        assert_int_equal(fclose(f), 0);
    }
    free(want);
    tb_text_free(&path);
}

static void nothing_differs(void)
{
    char *names = tb_text_take(&differs);

    if (*names)
        print_error("not what was expected:%s; see it with make golden-review\n", names);
    assert_string_equal(names, "");
    free(names);
}

/* A part of the workbook, one element a line, so that a difference is a line. */
static char *part_of(const char *part)
{
    char *path = path_of("month.xlsx"), buffer[4096];
    zip_t *z = zip_open(path, ZIP_RDONLY, NULL);
    zip_file_t *f = z ? zip_fopen(z, part, 0) : NULL;
    struct tb_text t = { 0 };
    zip_int64_t got;

    assert_non_null(f);
    while ((got = zip_fread(f, buffer, sizeof buffer)) > 0)
        for (zip_int64_t i = 0; i < got; i++) {
            if (buffer[i] == '<' && t.n && t.s[t.n - 1] == '>')
                tb_text_addc(&t, '\n');
            tb_text_addc(&t, buffer[i]);
        }
    (void)zip_fclose(f);
    zip_discard(z);
    free(path);
    return tb_text_take(&t);
}

static void the_tabs_of_the_workbook_are_as_expected(void **state)
{
    static const char *const tab[] = { "Summary",       "Charts",   "Lots",  "Bolts",  "Suppliers",
                                       "Held and open", "Claims",   "Money", "Labels", "Months",
                                       "Scorecards",    "At stake", "Found", "Legend" };
    char *workbook = part_of("xl/workbook.xml");

    (void)state;
    for (size_t i = 0; i < TB_COUNT(tab); i++) {
        struct tb_text part = { 0 }, name = { 0 };
        char *xml;

        golden_tab(&part, workbook, tab[i]);
        if (!part.n)
            fail_msg("the workbook has no tab '%s'", tab[i]);
        tb_text_addf(&name, "month-tab-%s.xml", tab[i]);
        for (char *c = name.s; *c; c++)
            *c = *c == ' ' ? '-' : *c;
        xml = part_of(part.s);
        compare(name.s, xml, strlen(xml));
        free(xml);
        tb_text_free(&part);
        tb_text_free(&name);
    }
    free(workbook);
    nothing_differs();
}

static void the_parts_of_the_workbook_are_as_expected(void **state)
{
    static const char *const part[] = { "charts/chart1", "charts/chart2", "styles", "workbook" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(part); i++) {
        struct tb_text zip = { 0 }, name = { 0 };
        char *xml;

        tb_text_addf(&zip, "xl/%s.xml", part[i]);
        tb_text_addf(&name, "month-%s.xml", strchr(part[i], '/') ? strchr(part[i], '/') + 1 : part[i]);
        xml = part_of(zip.s);
        compare(name.s, xml, strlen(xml));
        free(xml);
        tb_text_free(&zip);
        tb_text_free(&name);
    }
    nothing_differs();
}

static void the_csv_twins_are_as_expected(void **state)
{
    static const char *const key[] = { "summary", "lots",   "suppliers",  "open",   "money",
                                       "labels",  "months", "scorecards", "stakes", "found" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(key); i++) {
        struct tb_text name = { 0 };
        size_t n;
        char *path, *s;

        tb_text_addf(&name, "month-%s.csv", key[i]);
        path = path_of(name.s);
        s = slurp(path, &n);
        compare(name.s, s, n);
        free(s);
        free(path);
        tb_text_free(&name);
    }
    nothing_differs();
}

static void the_words_of_the_page_are_as_expected(void **state)
{
    char *pdf = path_of("month.pdf"), *text = path_of("month.txt"), *s;
    struct tb_text command = { 0 };
    size_t n;

    (void)state;
    /* order of the file, not of the paper: which fonts stand in for other scripts differs from machine to machine */
    tb_text_addf(&command, "pdftotext -raw %s - | grep -av -e '[^ -~]' -e '^W26-001.05' >%s", pdf, text);
    assert_int_equal(system(command.s), 0);
    s = slurp(text, &n);
    compare("month.txt", s, n);
    free(s);
    free(pdf);
    free(text);
    tb_text_free(&command);
    nothing_differs();
}

static int make_files(void **state)
{
    struct tb_month_source source = {
        goods,
        open_lots,
        work,
        NULL,
        "Weir Street store",
        "journal 812",
        "W:812:3ee580377b151ece72de424a495f8bd9fbb20a4e5e3ac74f3668619ae42938f2",
        before,
        NULL
    };
    static const char *const market[] = { "eu", "us" };
    struct tb_month_sums sums;
    struct tb_err err = { 0 };
    char *path, *page;
    tb_rc rc;

    (void)state;
    if (!mkdtemp(folder))
        return -1;
    path = path_of("month.xlsx");
    page = path_of("month.pdf");
    /* 1 USD = 0.9 EUR: 500 x 0.9 + 1200 = 1650 and so on, by hand; of the yen nobody knows a rate */
    struct tb_money_sum sum[] = { { "Alder Mill", "2026-03", "EUR", 1200, 900, 400, 500, 1 },
                                  { "Alder Mill", "2026-03", "USD", 500, 0, 0, 0, 1 },
                                  { "=HYPERLINK(\"x\")", "2026-03", "JPY", 70000, 0, 0, 0, 1 } };
    struct tb_money_sum total[] = { { "", "", "EUR", 1200, 900, 400, 500, 1 },
                                    { "", "", "JPY", 70000, 0, 0, 0, 1 },
                                    { "", "", "USD", 500, 0, 0, 0, 1 } };
    struct tb_money_rate rate[] = { { "JPY", NAN, "", "2026-03", "2026-03" },
                                    { "USD", 0.9, "2026-02-01", "2026-03", "2026-03" } };
    const struct tb_money money = { .row = sum,
                                    .rows = TB_COUNT(sum),
                                    .total = total,
                                    .totals = TB_COUNT(total),
                                    .money = "EUR",
                                    .whole = { "", "", "EUR", 1650, 900, 400, 500, 2 },
                                    .rate = rate,
                                    .rates = TB_COUNT(rate),
                                    .unrated = 1 };
    struct tb_outset files = { 0 };
    struct tb_month_plan plan = { .files = &files,
                                  .path = path,
                                  .from = "2026-03-01",
                                  .until = "2026-04-01",
                                  .name = "2026-03",
                                  .now = "2026-04-01T08:00:00Z",
                                  .page = page,
                                  .market = market,
                                  .markets = 2,
                                  .money = &money,
                                  .base_rate = 0.27,
                                  .base_from = TB_BASE_PUBLISHED,
                                  .contradicts_below = 0.05,
                                  .speaks_below = 0.125,
                                  .fits_above = 4 };
    rc = tb_outset_end(&files, tb_month_write(&sums, &plan, &source, &err), &err);
    if (rc != TB_OK)
        print_error("%s (%s)\n", err.msg, err.detail);
    free(path);
    free(page);
    return rc == TB_OK ? 0 : -1;
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
        cmocka_unit_test(the_tabs_of_the_workbook_are_as_expected),
        cmocka_unit_test(the_parts_of_the_workbook_are_as_expected),
        cmocka_unit_test(the_csv_twins_are_as_expected),
        cmocka_unit_test(the_words_of_the_page_are_as_expected),
    };

    return cmocka_run_group_tests(tests, make_files, remove_folder);
}
