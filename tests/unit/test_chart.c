/* test_chart.c - charts as pictures, on paper and in words. Invented figures. */
#include "report/draw/fonts.h"
#include "tenterbook/chart.h"

#include <cairo-pdf.h>
#include <math.h>
#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

static const struct tb_chart_point months[] = {
    { "2026-01", 1, 0.12, 0.04, 0.26, "4 of 33", 0 },
    { "2026-02", 2, NAN, NAN, NAN, "0 of 0", 0 },
    { "2026-03", 3, 0.25, 0.13, 0.41, "9 of 36", 0.2 },
    { "2026-04", 4, 0, 0, 0.14, "0 of 24", 0 },
};
static const struct tb_chart_point suppliers[] = {
    { "Ohm Weavers & Daughters of the Long Valley", 0, 0.5, 0.21, 0.79, "6 of 12", 0 },
    { "Lindqvist & Sorel", 0, 1, 0.025, 1, "1 of 1", 0 },
    { "\xCE\xA5\xCF\x86\xCE\xAC\xCF\x83\xCE\xBC\xCE\xB1\xCF\x84\xCE\xB1", 0, 0, 0, 0.31, "0 of 10", 0 },
};
static const struct tb_chart_series by_month[] = { { NULL, TB_LINE_SOLID, months, 4 } };
static const struct tb_chart_series by_supplier[] = { { NULL, TB_LINE_SOLID, suppliers, 3 } };
static const struct tb_chart_limit limit[] = { { 0.2, "mean of the year" } };
static const char *const declared[] = { "silk", "cotton, flax", "wool" };
static const char *const found[] = { "polyester", "viscose", "acrylic", "cotton" };
static const double cells[] = { 5, 1, NAN, NAN, 2, 9, NAN, NAN, 1, NAN, 3, 1 };

static const struct tb_chart bars = { .kind = TB_CHART_BARS,
                                      .title = "Share that contradicts, by month",
                                      .note = "bars: share; lines: exact 95 % interval",
                                      .y_share = true,
                                      .series = by_month,
                                      .n = 1,
                                      .limit = limit,
                                      .limits = 1 };
static const struct tb_chart rank = { .kind = TB_CHART_RANK,
                                      .title = "Suppliers, by what is proved",
                                      .y_share = true,
                                      .y_most = 1,
                                      .series = by_supplier,
                                      .n = 1 };
static const struct tb_chart matrix = { .kind = TB_CHART_MATRIX,
                                        .title = "Declared <and> found",
                                        .x_name = "found",
                                        .y_name = "declared",
                                        .row = declared,
                                        .rows = 3,
                                        .column = found,
                                        .columns = 4,
                                        .cell = cells };

static char *draw(const struct tb_chart *k, size_t *n)
{
    struct tb_text t = { 0 };
    struct tb_err err = { 0 };

    if (tb_chart_svg(&t, k, 420, 260, &err) != TB_OK)
        fail_msg("%s (%s)", err.msg, err.detail);
    *n = t.n;
    return tb_text_take(&t);
}

static void every_kind_draws_and_the_same_chart_gives_the_same_bytes(void **state)
{
    struct tb_chart_point oc[50];
    struct tb_chart_series curve[] = { { "n = 5", TB_LINE_SOLID, oc, 50 },
                                       { "n = 20", TB_LINE_DASHED, oc, 30 } };
    struct tb_chart line = { .kind = TB_CHART_LINE,
                             .title = "Chance of release",
                             .x_name = "share wrong",
                             .y_name = "released",
                             .x_share = true,
                             .y_share = true,
                             .series = curve,
                             .n = 2 };
    const struct tb_chart *all[] = { &bars, &rank, &matrix, &line };

    (void)state;
    for (int i = 0; i < 50; i++)
        oc[i] = (struct tb_chart_point){ NULL, i / 50.0, pow(1 - i / 50.0, 5), NAN, NAN, NULL, 0 };
    for (size_t i = 0; i < TB_COUNT(all); i++) {
        size_t na, nb;
        char *a = draw(all[i], &na), *b = draw(all[i], &nb);

        assert_true(na > 1000);
        assert_memory_equal(a, "<?xml", 5);
        assert_int_equal(na, nb);
        assert_memory_equal(a, b, na);
        free(a);
        free(b);
    }
}

/* The chart on a page of its own, and the words of the page as a reader takes them out, each on a line. */
static char *words_on_paper(const struct tb_chart *k)
{
    char path[] = "/tmp/test_chart_XXXXXX", command[128];
    int fd = mkstemp(path);
    cairo_surface_t *s = cairo_pdf_surface_create(path, 420, 260);
    cairo_t *c = cairo_create(s);
    char *words = tb_alloc(4096, 1);
    struct tb_err err;
    FILE *f;

    assert_true(fd >= 0);
    assert_int_equal(close(fd), 0);
    assert_int_equal(tb_fonts_ready(&err), TB_OK);
    tb_chart_draw(c, k, 0, 0, 420, 260);
    cairo_destroy(c);
    cairo_surface_finish(s);
    assert_int_equal(cairo_surface_status(s), CAIRO_STATUS_SUCCESS);
    cairo_surface_destroy(s);
    (void)snprintf(command, sizeof command, "pdftotext -raw %s -", path);
    f = popen(command, "r");
    assert_non_null(f);
    assert_true(fread(words, 1, 4095, f) > 0);
    assert_int_equal(pclose(f), 0);
    assert_int_equal(unlink(path), 0);
    return words;
}

/* 0 .. 3 false bolts: a mark at each whole number and at none between; shares in steps of 20 %. */
static void the_axes_of_a_line_say_their_figures(void **state)
{
    const struct tb_chart_point p[] = { { NULL, 0, 0, NAN, NAN, NULL, 0 },
                                        { NULL, 3, 1, NAN, NAN, NULL, 0 } };
    const struct tb_chart_series s[] = { { NULL, TB_LINE_SOLID, p, 2 } };
    const struct tb_chart k = { .kind = TB_CHART_LINE,
                                .x_name = "false",
                                .y_name = "shows",
                                .y_share = true,
                                .x_whole = true,
                                .y_most = 1,
                                .series = s,
                                .n = 1 };
    char *words = words_on_paper(&k);

    (void)state;
    assert_string_equal(words, "0 %\n20 %\n40 %\n60 %\n80 %\n100 %\nshows\nfalse\n0 1 2 3\n\f");
    free(words);
}

static void a_chart_says_in_words_what_it_shows(void **state)
{
    struct tb_text t = { 0 };
    char *svg;
    size_t n;

    (void)state;
    tb_chart_words(&t, &bars);
    assert_non_null(strstr(t.s, "2026-03: 25.0 % (13.0 % .. 41.0 %), 9 of 36, aim 20.0 %;"));
    assert_non_null(strstr(t.s, "2026-02: -, 0 of 0;"));
    tb_text_free(&t);
    svg = draw(&matrix, &n);
    assert_non_null(strstr(svg, "role=\"img\""));
    assert_non_null(strstr(svg, "<title>Declared &lt;and&gt; found</title>"));
    assert_non_null(strstr(svg, "cotton, flax / viscose: 9;"));
    free(svg);
}

static void an_empty_chart_is_drawn_and_a_wrong_size_refused(void **state)
{
    struct tb_chart none = { .kind = TB_CHART_BARS, .title = "Nothing" };
    struct tb_text t = { 0 };
    struct tb_err err = { 0 };
    size_t n;

    (void)state;
    for (int kind = TB_CHART_BARS; kind <= TB_CHART_MATRIX; kind++) {
        none.kind = (enum tb_chart_kind)kind;
        free(draw(&none, &n));
        assert_true(n > 200);
    }
    assert_int_equal(tb_chart_svg(&t, &bars, 40, 300, &err), TB_EINVAL);
    assert_string_equal(err.msg, "a chart is 120 to 2000 points wide and high, not 40 by 300");
    assert_int_equal(tb_chart_svg(&t, &bars, 400, 2001, &err), TB_EINVAL);
    assert_null(t.s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_kind_draws_and_the_same_chart_gives_the_same_bytes),
        cmocka_unit_test(the_axes_of_a_line_say_their_figures),
        cmocka_unit_test(a_chart_says_in_words_what_it_shows),
        cmocka_unit_test(an_empty_chart_is_drawn_and_a_wrong_size_refused),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
