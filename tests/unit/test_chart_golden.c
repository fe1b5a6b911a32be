/*
 * test_chart_golden.c - where everything of a chart is drawn: the ink of each kind of chart, line by line and column by
 * column, against files whose pictures were looked at. Invented figures.
 */
#include "golden_compare.h"
#include "ink.h"
#include "report/draw/fonts.h"
#include "tenterbook/chart.h"

#include <cairo.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>

#include <cmocka.h>

#define WIDTH 420
#define HEIGHT 260

static const struct tb_chart_point months[] = {
    { "2026-01", 1, 0.12, 0.04, 0.26, "4 of 33", 0 },
    { "2026-02", 2, NAN, NAN, NAN, "0 of 0", 0 },
    { "2026-03", 3, 0.25, 0.13, 0.41, "9 of 36", 0 },
    { "2026-04", 4, 0, 0, 0.14, "0 of 24", 0 },
};
static const struct tb_chart_point suppliers[] = {
    { "Ohm Weavers & Daughters of the Long Valley", 0, 0.5, 0.21, 0.79, "6 of 12", 0 },
    { "Lindqvist & Sorel", 0, 1, 0.025, 1, "1 of 1", 0 },
    { "Harrow Mill", 0, 0, 0, 0.31, "0 of 10", 0 },
};
static const struct tb_chart_point few[] = { { "2026-01", 1, 0.9, NAN, NAN, NULL, 0 },
                                             { "2026-02", 2, 0.7, 0.6, 0.95, NULL, 0 },
                                             { "2026-03", 3, NAN, NAN, NAN, NULL, 0 },
                                             { "2026-04", 4, 0.4, NAN, NAN, NULL, 0 } };
static const struct tb_chart_limit limit[] = { { 0.2, "mean of the year" }, { 0.35, "upper limit" } };
static const char *const declared[] = { "silk", "cotton, flax", "wool" };
static const char *const found[] = { "polyester", "viscose", "wool", "cotton" };
static const double cells[] = { 5, 1, NAN, NAN, 2, 9, NAN, NAN, 1, NAN, 23, 1 };

static bool draws(const char *name, const struct tb_chart *k)
{
    cairo_surface_t *s = cairo_image_surface_create(CAIRO_FORMAT_RGB24, WIDTH, HEIGHT);
    cairo_t *c = cairo_create(s);
    unsigned char *grey = tb_alloc(WIDTH, HEIGHT);
    struct tb_text t = { 0 };
    const unsigned char *data;
    bool same;

    cairo_set_source_rgb(c, 1, 1, 1);
    cairo_paint(c);
    tb_chart_draw(c, k, 0, 0, WIDTH, HEIGHT);
    assert_int_equal(cairo_status(c), CAIRO_STATUS_SUCCESS);
    cairo_surface_flush(s);
    data = cairo_image_surface_get_data(s);
    for (size_t y = 0; y < HEIGHT; y++)
        for (size_t x = 0; x < WIDTH; x++) {
            const unsigned char *p = data + y * (size_t)cairo_image_surface_get_stride(s) + 4 * x;

            grey[y * WIDTH + x] = (unsigned char)((p[0] + p[1] + p[2]) / 3);
        }
    if (getenv("TB_GOLDEN_PICTURES")) { /* for whoever wants to look */
        tb_text_addf(&t, "%s/%s.png", getenv("TB_GOLDEN_PICTURES"), name);
        (void)cairo_surface_write_to_png(s, tb_text_str(&t));
        tb_text_clear(&t);
    }
    ink(&t, grey, WIDTH, HEIGHT);
    same = golden_near(name, tb_text_str(&t), 1.6);
    tb_text_free(&t);
    free(grey);
    cairo_destroy(c);
    cairo_surface_destroy(s);
    return same;
}

static void bars_stand_on_their_axis_with_intervals_and_limits(void **state)
{
    struct tb_chart_series s[] = { { NULL, TB_LINE_SOLID, months, 4 } };
    struct tb_chart k = { .kind = TB_CHART_BARS,
                          .title = "Share that contradicts, by month",
                          .note = "bars: share; lines: exact 95 % interval",
                          .y_share = true,
                          .series = s,
                          .n = 1,
                          .limit = limit,
                          .limits = 2 };

    (void)state;
    assert_true(draws("chart-bars.txt", &k));
}

static void a_rank_lies_with_its_counts_beside_it(void **state)
{
    struct tb_chart_series s[] = { { NULL, TB_LINE_SOLID, suppliers, 3 } };
    struct tb_chart k = { .kind = TB_CHART_RANK,
                          .title = "Suppliers, by what is proved",
                          .y_share = true,
                          .y_most = 1,
                          .series = s,
                          .n = 1 };

    (void)state;
    assert_true(draws("chart-rank.txt", &k));
}

static void lines_have_axes_in_figures_and_a_key(void **state)
{
    struct tb_chart_point curve[3][50];
    struct tb_chart_series s[] = { { "n = 5", TB_LINE_SOLID, curve[0], 50 },
                                   { "n = 20", TB_LINE_DASHED, curve[1], 30 },
                                   { "n = 50", TB_LINE_DOTTED, curve[2], 12 } };
    struct tb_chart k = { .kind = TB_CHART_LINE,
                          .title = "Chance of release",
                          .x_name = "share wrong",
                          .y_name = "released",
                          .x_share = true,
                          .y_share = true,
                          .series = s,
                          .n = 3 };

    (void)state;
    for (size_t i = 0; i < 50; i++)
        for (size_t n = 0; n < 3; n++)
            curve[n][i] = (struct tb_chart_point){
                NULL, (double)i / 50, pow(1 - (double)i / 50, 5 + 15 * (double)n), NAN, NAN, NULL, 0
            };
    assert_true(draws("chart-lines.txt", &k));
}

static void a_line_leaves_a_gap_where_nothing_is_known(void **state)
{
    struct tb_chart_series s[] = { { "released", TB_LINE_SOLID, few, 4 },
                                   { "held", TB_LINE_POINTS, months, 4 } };
    struct tb_chart k = { .kind = TB_CHART_LINE,
                          .title = "Released at once",
                          .y_name = "share",
                          .y_most = 2,
                          .series = s,
                          .n = 2,
                          .limit = limit,
                          .limits = 1 };

    (void)state;
    assert_true(draws("chart-months.txt", &k));
}

static void one_point_alone_stands_in_the_middle(void **state)
{
    struct tb_chart_point one[] = { { NULL, 7, 12, 5, 30, NULL, 0 } };
    struct tb_chart_series s[] = { { NULL, TB_LINE_POINTS, one, 1 } };
    struct tb_chart k = { .kind = TB_CHART_LINE, .title = "One", .x_name = "burns", .series = s, .n = 1 };

    (void)state;
    assert_true(draws("chart-one.txt", &k));
}

static void a_matrix_is_hatched_by_count_and_frames_what_agrees(void **state)
{
    struct tb_chart k = { .kind = TB_CHART_MATRIX,
                          .title = "Declared <and> found",
                          .x_name = "found",
                          .y_name = "declared",
                          .row = declared,
                          .rows = 3,
                          .column = found,
                          .columns = 4,
                          .cell = cells,
                          .same_framed = true };

    (void)state;
    assert_true(draws("chart-matrix.txt", &k));
}

static void a_curve_over_counts_has_marks_at_whole_numbers(void **state)
{
    struct tb_chart_point curve[4];
    struct tb_chart_series s[] = { { NULL, TB_LINE_SOLID, curve, 4 } };
    struct tb_chart k = { .kind = TB_CHART_LINE,
                          .title = "Chance of seeing it",
                          .x_name = "false bolts",
                          .y_name = "chance",
                          .x_whole = true,
                          .y_share = true,
                          .series = s,
                          .n = 1 };

    (void)state;
    for (int i = 0; i < 4; i++)
        curve[i] = (struct tb_chart_point){ NULL, i, 0.3 * i, NAN, NAN, NULL, 0 };
    assert_true(draws("chart-counts.txt", &k));
}

static int load_fonts(void **state)
{
    struct tb_err err = { 0 };

    (void)state;
    return tb_fonts_ready(&err) == TB_OK ? 0 : -1;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bars_stand_on_their_axis_with_intervals_and_limits),
        cmocka_unit_test(a_rank_lies_with_its_counts_beside_it),
        cmocka_unit_test(lines_have_axes_in_figures_and_a_key),
        cmocka_unit_test(a_line_leaves_a_gap_where_nothing_is_known),
        cmocka_unit_test(one_point_alone_stands_in_the_middle),
        cmocka_unit_test(a_matrix_is_hatched_by_count_and_frames_what_agrees),
        cmocka_unit_test(a_curve_over_counts_has_marks_at_whole_numbers),
    };

    return cmocka_run_group_tests(tests, load_fonts, NULL);
}
