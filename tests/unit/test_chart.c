/* test_chart.c - charts in three forms from one drawing. Invented figures. */
#include "tenterbook/chart.h"

#include <dirent.h>
#include <math.h>
#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

static char folder[] = "/tmp/test_chart_XXXXXX";

static const struct tb_chart_point months[] = {
    { "2026-01", 1, 0.12, 0.04, 0.26, "4 of 33" },
    { "2026-02", 2, NAN, NAN, NAN, "0 of 0" },
    { "2026-03", 3, 0.25, 0.13, 0.41, "9 of 36" },
    { "2026-04", 4, 0, 0, 0.14, "0 of 24" },
};
static const struct tb_chart_point suppliers[] = {
    { "Ohm Weavers & Daughters of the Long Valley", 0, 0.5, 0.21, 0.79, "6 of 12" },
    { "Lindqvist & Sorel", 0, 1, 0.025, 1, "1 of 1" },
    { "\xCE\xA5\xCF\x86\xCE\xAC\xCF\x83\xCE\xBC\xCE\xB1\xCF\x84\xCE\xB1", 0, 0, 0, 0.31, "0 of 10" },
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

static char *path_of(const char *name)
{
    struct tb_text t = { 0 };

    tb_text_addf(&t, "%s/%s", folder, name);
    return tb_text_take(&t);
}

static char *draw(const struct tb_chart *k, const char *name, size_t *n)
{
    char *path = path_of(name), *s;
    struct tb_err err = { 0 };
    FILE *f;

    if (tb_chart_write(path, k, 420, 260, "2026-03-31T18:00:00Z", &err) != TB_OK)
        fail_msg("%s (%s)", err.msg, err.detail);
    f = fopen(path, "rb");
    assert_non_null(f);
    assert_int_equal(fseek(f, 0, SEEK_END), 0);
    *n = (size_t)ftell(f);
    rewind(f);
    s = tb_alloc(*n + 1, 1);
    assert_int_equal(fread(s, 1, *n, f), *n);
    (void)fclose(f);
    free(path);
    return s;
}

static void every_kind_draws_in_every_form(void **state)
{
    struct tb_chart_point oc[50], said[5];
    struct tb_chart_series curve[] = { { "n = 5", TB_LINE_SOLID, oc, 50 },
                                       { "n = 20", TB_LINE_DASHED, oc, 30 } };
    struct tb_chart_series rel[] = { { NULL, TB_LINE_POINTS, said, 5 } };
    struct tb_chart line = { .kind = TB_CHART_LINE,
                             .title = "Chance of release",
                             .x_name = "share wrong",
                             .y_name = "released",
                             .x_share = true,
                             .y_share = true,
                             .series = curve,
                             .n = 2 };
    struct tb_chart reliable = { .kind = TB_CHART_RELIABLE,
                                 .title = "Said and so",
                                 .x_name = "said",
                                 .y_name = "was so",
                                 .x_share = true,
                                 .y_share = true,
                                 .series = rel,
                                 .n = 1 };
    const struct tb_chart *all[] = { &bars, &rank, &matrix, &line, &reliable };

    (void)state;
    for (int i = 0; i < 50; i++)
        oc[i] = (struct tb_chart_point){ NULL, i / 50.0, pow(1 - i / 50.0, 5), NAN, NAN, NULL };
    for (int i = 0; i < 5; i++)
        said[i] = (struct tb_chart_point){ NULL,           0.1 + 0.2 * i, 0.12 + 0.18 * i, 0.05 + 0.18 * i,
                                           0.2 + 0.18 * i, NULL };
    for (size_t i = 0; i < TB_COUNT(all); i++) {
        static const char *const begin[] = { "%PDF-", "<?xml", "\x89PNG" };
        static const char *const dot[] = { "pdf", "svg", "png" };

        for (int k = 0; k < 3; k++) {
            char name[32], *s;
            size_t n;

            (void)snprintf(name, sizeof name, "c%zu.%s", i, dot[k]);
            s = draw(all[i], name, &n);
            assert_true(n > 1000);
            assert_memory_equal(s, begin[k], strlen(begin[k]));
            free(s);
        }
    }
}

static void the_same_chart_gives_the_same_bytes(void **state)
{
    static const char *const name[] = { "same.pdf", "same.svg", "same.png" };

    (void)state;
    for (int i = 0; i < 3; i++) {
        size_t na, nb;
        char *a = draw(&bars, name[i], &na), *b = draw(&bars, name[i], &nb);

        assert_int_equal(na, nb);
        assert_memory_equal(a, b, na);
        free(a);
        free(b);
    }
}

static void a_chart_says_in_words_what_it_shows(void **state)
{
    struct tb_text t = { 0 };
    char *svg;
    size_t n;

    (void)state;
    tb_chart_words(&t, &bars);
    assert_non_null(strstr(t.s, "2026-03: 25.0 % (13.0 % .. 41.0 %), 9 of 36;"));
    assert_non_null(strstr(t.s, "2026-02: -, 0 of 0;"));
    tb_text_free(&t);
    svg = draw(&matrix, "words.svg", &n);
    assert_non_null(strstr(svg, "role=\"img\""));
    assert_non_null(strstr(svg, "<title>Declared &lt;and&gt; found</title>"));
    assert_non_null(strstr(svg, "cotton, flax / viscose: 9;"));
    free(svg);
}

static void an_empty_chart_is_drawn_and_a_wrong_name_refused(void **state)
{
    struct tb_chart none = { .kind = TB_CHART_BARS, .title = "Nothing" };
    struct tb_err err = { 0 };
    size_t n;

    (void)state;
    for (int kind = TB_CHART_BARS; kind <= TB_CHART_RELIABLE; kind++) {
        none.kind = (enum tb_chart_kind)kind;
        free(draw(&none, "none.svg", &n));
        assert_true(n > 200);
    }
    assert_int_equal(tb_chart_write("x.gif", &bars, 400, 300, NULL, &err), TB_EINVAL);
    assert_string_equal(err.msg, "x.gif: a chart is written as .pdf, .svg or .png");
    assert_int_equal(tb_chart_write("x.png", &bars, 40, 300, NULL, &err), TB_EINVAL);
    assert_int_equal(tb_chart_write("/no/such/x.png", &bars, 400, 300, NULL, &err), TB_EIO);
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
        cmocka_unit_test(every_kind_draws_in_every_form),
        cmocka_unit_test(the_same_chart_gives_the_same_bytes),
        cmocka_unit_test(a_chart_says_in_words_what_it_shows),
        cmocka_unit_test(an_empty_chart_is_drawn_and_a_wrong_name_refused),
    };

    return cmocka_run_group_tests(tests, make_folder, remove_folder);
}
