/* Methods, factors, allowances, plans and tables of masses. */
#include "tenterbook/lab.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static int fibre(const char *key)
{
    int f = tb_fibre_by_key(key);

    assert_true(f >= 0);
    return f;
}

static void every_method_is_complete_and_its_factors_are_sane(void **state)
{
    (void)state;
    assert_int_equal(tb_lab_method_count(), 17);
    for (int n = 1; n <= 17; n++) {
        struct tb_lab_method m;

        assert_true(tb_lab_method_get(&m, n));
        assert_true(m.reagent[0] && m.conditions[0] && m.hazard[0] && m.source[0] && m.status[0]);
        assert_true(n == 17 ? isnan(m.limit) : m.limit == (n == 3 || n == 16 ? 2 : 1));
        for (size_t f = 0; f < tb_fibre_count(); f++) {
            double d = 1;
            struct tb_err err = { 0 };

            if (tb_lab_factor(&d, n, (int)f, NULL, &err) == TB_OK)
                assert_int_equal(tb_lab_method_role(n, (int)f), TB_LAB_ROLE_RESIDUE);
            assert_true(d >= 0.98 && d <= 1.03);
        }
    }
    assert_false(tb_lab_method_get(&(struct tb_lab_method){ 0 }, 18));
}

static void factors_and_allowances_are_those_of_the_regulation(void **state)
{
    /* Regulation (EU) 1007/2011, Annex VIII chapter 2 IV and Annex IX */
    static const struct {
        int method;
        const char *fibre, *conditions;
        double d;
    } factor[] = {
        { 2, "cotton", NULL, 1.01 }, { 2, "cotton", "unbleached", 1.03 }, { 3, "cotton", NULL, 1.02 },
        { 7, "polyester", NULL, 1 }, { 8, "wool", NULL, 1.01 },           { 11, "wool", NULL, 0.985 },
    };
    static const struct {
        const char *fibre, *conditions;
        double a, b;
        bool assumed;
    } allowance[] = {
        { "wool", NULL, 17, 0, true },
        { "wool", "combed", 18.25, 0, false },
        { "cotton", NULL, 8.5, 0, true },
        { "cotton", "unbleached", 8.5, 4, false },
        { "cotton", "mercerised", 10.5, 0, false },
        { "nylon", "filament", 5.75, 0, false },
        { "nylon", NULL, 6.25, 0, true },
        { "polyester", NULL, 1.5, 0, false },
        { "silk", NULL, 11, 0, false },
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(factor); i++) {
        double d = 0;
        struct tb_err err = { 0 };

        assert_int_equal(
            tb_lab_factor(&d, factor[i].method, fibre(factor[i].fibre), factor[i].conditions, &err), TB_OK);
        assert_true(d == factor[i].d);
    }
    for (size_t i = 0; i < TB_COUNT(allowance); i++) {
        struct tb_lab_allowance a;
        struct tb_err err = { 0 };

        assert_int_equal(
            tb_lab_allowance(&a, TB_LAB_EU, fibre(allowance[i].fibre), allowance[i].conditions, &err), TB_OK);
        assert_true(a.percent == allowance[i].a && a.loss == allowance[i].b &&
                    a.assumed == allowance[i].assumed);
        assert_string_equal(a.status, "seen");
    }
}

static void a_regain_from_memory_says_so(void **state)
{
    struct tb_lab_allowance a;
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(tb_lab_allowance(&a, TB_LAB_US, fibre("wool"), "combed", &err), TB_OK);
    assert_true(a.percent == 13.6 && a.loss == 0);
    assert_string_equal(a.status, "second-hand");
    assert_int_equal(tb_lab_allowance(&a, TB_LAB_US, fibre("polyester"), NULL, &err), TB_OK);
    assert_true(a.percent == 0.4);
    assert_string_equal(a.status, "memory");
}

static void conditions_are_known_by_fibre(void **state)
{
    (void)state;
    assert_true(tb_lab_condition_known(fibre("cotton"), "mercerised"));
    assert_true(tb_lab_condition_known(fibre("cotton"), "bleached"));
    assert_true(tb_lab_condition_known(fibre("wool"), "combed"));
    assert_false(tb_lab_condition_known(fibre("polyester"), "mercerised"));
    assert_false(tb_lab_condition_known(fibre("cotton"), ""));
}

/* Ways for fibres separated by spaces, percentages equal. */
static tb_rc plan(struct tb_lab_way *way, size_t *n, const char *keys, double first, struct tb_err *err)
{
    struct tb_share share[5] = { 0 };
    struct tb_part part = { .share = share };
    char copy[200], *save = NULL;

    (void)strncpy(copy, keys, sizeof copy - 1);
    copy[sizeof copy - 1] = '\0';
    for (char *k = strtok_r(copy, " ", &save); k && part.n < 5; k = strtok_r(NULL, " ", &save), part.n++)
        share[part.n] = (struct tb_share){ fibre(k), part.n == 0 ? first : 100 - first, NAN, 0, 0 };
    return tb_lab_plan(way, n, &part, NULL, err);
}

static bool has(const struct tb_lab_way *way, size_t n, enum tb_lab_route route, int first, int second)
{
    for (size_t i = 0; i < n; i++)
        if (way[i].route == route && way[i].method[0] == first && way[i].method[1] == second)
            return true;
    return false;
}

static void cotton_and_polyester_are_separated_by_sulphuric_acid(void **state)
{
    struct tb_lab_way way[TB_LAB_WAYS_MOST];
    size_t n = 0;
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(plan(way, &n, "cotton polyester", 60, &err), TB_OK);
    assert_int_equal(way[0].method[0], 7);
    assert_int_equal(way[0].fibre[0], fibre("polyester")); /* stays */
    assert_int_equal(way[0].fibre[1], fibre("cotton"));    /* goes */
    assert_true(way[0].d[0] == 1 && way[0].limit[0] == 1);
}

/* By hand: 60 / 1.085 and 40 / 1.015 g are dry; method 7 takes the cotton (d = 1), and 39.409 / 94.708 stays. */
static void a_plan_forecasts_the_residue_of_what_is_declared(void **state)
{
    struct tb_share share[] = { { fibre("cotton"), 60, NAN, 0, 0 }, { fibre("polyester"), 40, NAN, 0, 0 } };
    const struct tb_part part = { .share = share, .n = 2 };
    struct tb_lab_way way[TB_LAB_WAYS_MOST];
    struct tb_lab_det det;
    struct tb_err err = { 0 };
    size_t n = 0;

    (void)state;
    assert_int_equal(tb_lab_plan(way, &n, &part, NULL, &err), TB_OK);
    assert_true(tb_lab_forecast(&det, &way[0], &part));
    assert_true(fabs(det.in[0] - 1) < 1e-12);
    assert_true(fabs(det.in[1] - (40 / 1.015) / (60 / 1.085 + 40 / 1.015)) < 1e-9);
    share[0].percent = NAN;
    assert_false(tb_lab_forecast(&det, &way[0], &part));
    share[0].percent = 70; /* 110 in all: such a declaration forecasts nothing */
    assert_false(tb_lab_forecast(&det, &way[0], &part));
}

static void much_wool_sends_nylon_to_another_method(void **state)
{
    struct tb_lab_way way[TB_LAB_WAYS_MOST];
    size_t n = 0;
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(plan(way, &n, "wool nylon", 60, &err), TB_OK);
    assert_int_equal(way[0].method[0], 2);
    assert_true(has(way, n, TB_LAB_DISSOLVE, 4, 0));
    for (size_t i = 0; i < n; i++)
        assert_int_equal(way[i].caution[0] != '\0', way[i].method[0] == 4);
    assert_int_equal(plan(way, &n, "wool nylon", 25, &err), TB_OK); /* not above 25 */
    for (size_t i = 0; i < n; i++)
        assert_true(way[i].caution[0] == '\0');
}

static void three_fibres_follow_the_table_of_the_regulation(void **state)
{
    struct tb_lab_way way[TB_LAB_WAYS_MOST];
    size_t n = 0;
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(plan(way, &n, "wool nylon cotton", 20, &err), TB_OK); /* mixture 2 */
    assert_true(has(way, n, TB_LAB_VARIANT_1, 2, 4) && has(way, n, TB_LAB_VARIANT_4, 2, 4));
    for (size_t i = 0; i < n; i++)
        if (way[i].route == TB_LAB_VARIANT_1) {
            assert_true(way[i].d[0] == 1 && way[i].d[1] == 1.01 && way[i].d[2] == 1 && way[i].d[3] == 1);
            assert_true(way[i].limit[0] == 1 && way[i].limit[1] == 1 && way[i].limit[2] == 2);
            assert_false(way[i].derived);
        }
}

static void mixtures_nothing_can_separate_are_said_to_be_so(void **state)
{
    static const struct {
        const char *keys, *says;
        tb_rc rc;
    } row[] = {
        { "wool cashmere", "no method in the tables separates wool from cashmere", TB_ENOTFOUND },
        { "cotton", "one fibre needs no separating", TB_EINVAL },
        { "cotton cotton", "cotton is named twice", TB_EINVAL },
        { "cotton polyester wool silk", "4 fibres are too many: the methods separate two or three",
          TB_EINVAL },
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_lab_way way[TB_LAB_WAYS_MOST];
        size_t n = 0;
        struct tb_err err = { 0 };

        assert_int_equal(plan(way, &n, row[i].keys, 50, &err), row[i].rc);
        assert_non_null(strstr(err.msg, row[i].says));
    }
}

static void every_pair_and_triple_is_planned_or_refused_with_a_sentence(void **state)
{
    int all = (int)tb_fibre_count();

    (void)state;
    for (int a = 0; a < all; a++)
        for (int b = a + 1; b < all; b++)
            for (int c = b; c < all; c += 11) { /* c == b stands for a pair */
                struct tb_share share[3] = { { a, NAN, NAN, 0, 0 },
                                             { b, NAN, NAN, 0, 0 },
                                             { c, NAN, NAN, 0, 0 } };
                struct tb_part part = { .share = share, .n = c == b ? 2 : 3 };
                struct tb_lab_way way[TB_LAB_WAYS_MOST];
                size_t n = 0;
                struct tb_err err = { 0 };
                tb_rc rc = tb_lab_plan(way, &n, &part, NULL, &err);

                assert_true(rc == TB_OK ? n > 0 && n <= TB_LAB_WAYS_MOST : err.msg[0] != '\0');
                for (size_t i = 0; i < n; i++)
                    assert_true(tb_lab_fibres_fit(way[i].route, part.n));
            }
}

static tb_rc feed(struct tb_lab_masses *m, const char *const *cell, size_t n, size_t line, struct tb_err *err)
{
    return tb_lab_masses_row(m, cell, n, line, err);
}

static void masses_are_read_in_any_column_order(void **state)
{
    static const char *const head[] = { "Residue", "note", "SPECIMEN" },
                             *const row[] = { "0,603", "first", " 1.002 " }, *const blank[] = { "", " ", "" };
    struct tb_lab_masses m;
    struct tb_err err = { 0 };

    (void)state;
    tb_lab_masses_start(&m, TB_LAB_DISSOLVE, 2, NULL);
    assert_int_equal(feed(&m, head, 3, 1, &err), TB_OK);
    assert_int_equal(feed(&m, row, 3, 2, &err), TB_OK);
    assert_int_equal(feed(&m, blank, 3, 3, &err), TB_OK);
    assert_int_equal(tb_lab_masses_end(&m, &err), TB_OK);
    assert_int_equal(m.n, 1);
    assert_true(m.det[0].in[0] == 1.002 && m.det[0].in[1] == 0.603);
}

static void a_wrong_table_is_refused_by_line_and_column(void **state)
{
    static const char *const head[] = { "specimen", "residue" };
    static const struct {
        const char *cell[3];
        size_t n;
        bool first; /* it is the heading */
        const char *says;
    } row[] = {
        { { "specimen", "weight" },
          2,
          true,
          "line 1: no reading is called 'weight'; the columns are specimen, residue" },
        { { "specimen", "specimen" }, 2, true, "line 1: there are two columns 'specimen'" },
        { { "specimen" }, 1, true, "line 1: there is no column 'residue'" },
        { { "1.0", "abc" }, 2, false, "line 2, column residue: 'abc' is not a number" },
        { { "1.0", "nan" }, 2, false, "line 2, column residue: 'nan' is not a number" },
        { { "1.0", "1e999" }, 2, false, "line 2, column residue: '1e999' is not a number" },
        { { "1.0", "" }, 2, false, "line 2, column residue: there is no number" },
        { { "1.0" }, 1, false, "line 2: residue is missing" },
        { { "1.0", "1.1" }, 2, false, "line 2: residue (1.1 g) is more than specimen (1 g)" },
        { { "1.0", "-0.1" }, 2, false, "line 2: residue is -0.1; it cannot be negative" },
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_lab_masses m;
        struct tb_err err = { 0 };

        tb_lab_masses_start(&m, TB_LAB_DISSOLVE, 2, NULL);
        if (!row[i].first)
            assert_int_equal(feed(&m, head, 2, 1, &err), TB_OK);
        assert_int_equal(feed(&m, row[i].cell, row[i].n, row[i].first ? 1 : 2, &err), TB_EINVAL);
        assert_string_equal(err.msg, row[i].says);
        assert_int_equal(m.n, 0);
    }
}

static void random_cells_never_do_more_than_refuse(void **state)
{
    static const char *const words[] = {
        "specimen",  "residue", "specimen2",
        "residue2",  "acid",    "blank",
        "normality", "cotton",  "",
        "1.0",       "0.5",     "-1",
        "1e308",     "1,5",     "NaN",
        "\xff\xfe",  "id",      "9999999999999999999999999999999999999999999",
        ",",         "e",       "note",
        "0"
    };
    uint64_t chance = 42;
    size_t taken = 0;

    (void)state;
    for (int round = 0; round < 20000; round++) {
        static const char *const names[] = { "cotton", "wool", "silk" };
        static struct tb_lab_masses m;
        enum tb_lab_route route = (enum tb_lab_route)(round % TB_LAB_ROUTES);

        tb_lab_masses_start(&m, route, tb_lab_fibres_fit(route, 3) ? 3 : 2, names);
        for (size_t line = 1; line < 5; line++) {
            const char *cell[6];
            size_t n;
            struct tb_err err = { 0 };

            chance = chance * 6364136223846793005ULL + 1442695040888963407ULL;
            n = (chance >> 33) % 6;
            for (size_t c = 0; c < n; c++) {
                chance = chance * 6364136223846793005ULL + 1442695040888963407ULL;
                cell[c] = words[(chance >> 33) % TB_COUNT(words)];
                /* mostly sensible beginnings, so that rows are reached */
                if (line == 1 && c < tb_lab_inputs(route, m.fibres) && (chance >> 20) % 4)
                    cell[c] = route == TB_LAB_HAND ? names[c] : tb_lab_input_name(route, c);
            }
            if (tb_lab_masses_row(&m, cell, n, line, &err) != TB_OK) {
                assert_true(err.msg[0] != '\0');
                break;
            }
        }
        for (size_t i = 0; i < m.n; i++) {
            struct tb_err err = { 0 };

            assert_int_equal(tb_lab_check(route, m.fibres, &m.det[i], &err), TB_OK);
            taken++;
        }
    }
    assert_true(taken > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_method_is_complete_and_its_factors_are_sane),
        cmocka_unit_test(factors_and_allowances_are_those_of_the_regulation),
        cmocka_unit_test(a_regain_from_memory_says_so),
        cmocka_unit_test(conditions_are_known_by_fibre),
        cmocka_unit_test(cotton_and_polyester_are_separated_by_sulphuric_acid),
        cmocka_unit_test(a_plan_forecasts_the_residue_of_what_is_declared),
        cmocka_unit_test(much_wool_sends_nylon_to_another_method),
        cmocka_unit_test(three_fibres_follow_the_table_of_the_regulation),
        cmocka_unit_test(mixtures_nothing_can_separate_are_said_to_be_so),
        cmocka_unit_test(every_pair_and_triple_is_planned_or_refused_with_a_sentence),
        cmocka_unit_test(masses_are_read_in_any_column_order),
        cmocka_unit_test(a_wrong_table_is_refused_by_line_and_column),
        cmocka_unit_test(random_cells_never_do_more_than_refuse),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
