/* What is said of an analysis, read into figures: typed or in a table it is the same, and what is missing is named. */
#include "tenterbook/assay.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

static struct tb_err err;
static struct tb_assay a;
static struct tb_assay_request r;

static int afresh(void **state)
{
    (void)state;
    tb_assay_request_init(&r);
    return 0;
}

static int drop(void **state)
{
    (void)state;
    tb_assay_free(&a);
    return 0;
}

#define OK(call)                                                                                             \
    do {                                                                                                     \
        tb_assay_free(&a);                                                                                   \
        if ((call) != TB_OK)                                                                                 \
            fail_msg("%s: %s", #call, err.msg);                                                              \
    } while (0)
#define REFUSED(code, words)                                                                                 \
    do {                                                                                                     \
        tb_rc got_;                                                                                          \
        tb_assay_free(&a);                                                                                   \
        got_ = tb_assay_compute(&a, &r, &err);                                                               \
        if (got_ != (code) || !strstr(err.msg, words))                                                       \
            fail_msg("%d '%s', not %d '...%s...'", (int)got_, err.msg, (int)(code), words);                  \
    } while (0)

static void typed(const char *name, const char *const *value, size_t n)
{
    r.reading[r.readings++] = (struct tb_assay_reading){ name, value, n };
}

/* By hand: 0.6 g and 0.4 g dry; with allowances of 8.5 % (cotton) and 1.5 % (polyester), entries 5 and 35 of Annex IX,
 * 0.651 and 0.406 g, and 0.651 / 1.057 is 61.589 %. */
static void weights_typed_become_percentages_on_each_basis(void **state)
{
    const char *weights[] = { "0.6, 0.4", "0,6;0,4" };

    (void)state;
    r.mixture = "cotton / polyester";
    r.route = TB_LAB_HAND;
    typed("weights", weights, 1);
    OK(tb_assay_compute(&a, &r, &err));
    assert_int_equal(a.fibres, 2);
    assert_true(fabs(a.found[TB_LAB_DRY][0].percent - 60) < 1e-9);
    assert_true(fabs(a.found[TB_LAB_EU][0].percent - 100 * 0.651 / 1.057) < 1e-9);
    assert_int_equal(tb_assay_main_basis(&a), TB_LAB_EU);
    assert_null(a.claim);
    assert_int_equal(a.markets, 0);
}

static void a_table_and_the_same_readings_typed_come_to_the_same(void **state)
{
    const char *head[] = { "note", "residue", "specimen" }, *one[] = { "", "0,403", "1,002" },
               *two[] = { "b", "0.399", "0.998" };
    const struct tb_assay_row row[] = { { 1, head, 3 }, { 2, one, 3 }, { 3, two, 3 } };
    const char *specimen[] = { "1.002", "0.998" }, *residue[] = { "0.403", "0.399" };
    struct tb_lab_share table, by_typing;

    (void)state;
    r.mixture = "cotton / polyester";
    r.dissolved = "Baumwolle";
    r.table = "masses.csv";
    r.row = row;
    r.rows = 3;
    OK(tb_assay_compute(&a, &r, &err));
    assert_int_equal(a.result.dets, 2);
    table = a.result.share[TB_LAB_EU][0];
    r.table = NULL;
    typed("specimen", specimen, 2);
    typed("residue", residue, 2);
    OK(tb_assay_compute(&a, &r, &err));
    by_typing = a.result.share[TB_LAB_EU][0];
    assert_memory_equal(&table, &by_typing, sizeof table);
}

static void what_conforms_is_said_for_every_market_asked_for(void **state)
{
    const char *weights[] = { "0.6, 0.4", "0.6, 0.4" }, *market[] = { "eu", "us" };

    (void)state;
    r.mixture = "cotton / polyester";
    r.route = TB_LAB_HAND;
    r.declared = "62% cotton 38% polyester";
    r.market = market;
    r.markets = 2;
    r.figure[TB_ASSAY_SURE] = 0.9;
    typed("weights", weights, 2);
    OK(tb_assay_compute(&a, &r, &err));
    assert_int_equal(a.markets, 2);
    assert_string_equal(a.conform[0].market, "eu");
    assert_int_equal(a.conform[0].answer, TB_LAB_CONFORMS);
    assert_int_equal(a.basis[0], TB_LAB_EU);
    assert_int_equal(a.basis[1], TB_LAB_US);
    r.basis = "dry";
    OK(tb_assay_compute(&a, &r, &err));
    assert_int_equal(a.basis[1], TB_LAB_DRY);
    r.basis = "wet";
    REFUSED(TB_EINVAL, "there is no basis 'wet'; it is dry, eu or us");
    r.basis = NULL;
    market[1] = "zz";
    REFUSED(TB_ENOTFOUND, "there is no market 'zz'");
}

/* One determination by a method without a published limit: its answer would rest on nothing. */
static void a_single_determination_without_a_limit_withholds_the_answer(void **state)
{
    const char *specimen[] = { "1.0" }, *residue[] = { "0.4" };

    (void)state;
    r.mixture = "cotton / polyester";
    r.dissolved = "polyester";
    r.method[0] = 17; /* its limit was not read: sql/reference/lab_method.csv */
    r.factors = "1";
    r.declared = "42% cotton 58% polyester";
    typed("specimen", specimen, 1);
    typed("residue", residue, 1);
    OK(tb_assay_compute(&a, &r, &err));
    assert_true(tb_assay_withheld(&a));
    for (size_t i = 0; i < a.markets; i++)
        assert_int_equal(a.conform[i].answer, TB_LAB_UNSAID);
    assert_true(a.markets >= 4);
    r.figure[TB_ASSAY_LIMIT] = 0.5;
    OK(tb_assay_compute(&a, &r, &err));
    assert_false(tb_assay_withheld(&a));
}

static void percentages_a_laboratory_reports_are_compared_as_they_are(void **state)
{
    (void)state;
    r.found = "58% cotton 42% polyester";
    r.figure[TB_ASSAY_UNCERTAINTY] = 0.5;
    r.declared = "58% cotton 42% polyester";
    OK(tb_assay_compute(&a, &r, &err));
    assert_true(a.reported);
    assert_true(tb_assay_basis_known(&a, TB_LAB_EU));
    assert_false(tb_assay_basis_known(&a, TB_LAB_DRY));
    assert_true(a.markets >= 4);
    for (size_t i = 0; i < a.markets; i++)
        assert_int_equal(a.basis[i], TB_LAB_EU);
    r.basis = "eu";
    REFUSED(TB_EINVAL, "the eu basis is not known");
    r.basis = NULL;
    r.figure[TB_ASSAY_UNCERTAINTY] = NAN;
    REFUSED(TB_EUSAGE, "need its standard uncertainty");
    r.figure[TB_ASSAY_UNCERTAINTY] = 1;
    r.found = "cotton polyester";
    REFUSED(TB_EINVAL, "'cotton polyester': ");
}

static void what_is_missing_or_cannot_be_right_is_named(void **state)
{
    const char *specimen[] = { "1" }, *residue[] = { "x" }, *condition[] = { "cotton" };
    const char *head[] = { "specimen", "residue" }, *row2[] = { "1.0", "1.4" };
    const struct tb_assay_row row[] = { { 1, head, 2 }, { 2, row2, 2 } };

    (void)state;
    REFUSED(TB_EUSAGE, "say which fibres were separated");
    r.mixture = "something soft";
    REFUSED(TB_EINVAL, "'something soft': ");
    r.mixture = "warp: cotton; weft: wool";
    REFUSED(TB_EINVAL, "names several parts of the cloth");
    r.mixture = "cotton / polyester";
    r.dissolved = "xyz";
    REFUSED(TB_EINVAL, "'xyz' is not a fibre");
    r.dissolved = "cotton";
    REFUSED(TB_EUSAGE, "there are no masses: give a table of them, or specimen, residue once");
    typed("specimen", specimen, 1);
    REFUSED(TB_EINVAL, "determination 1 has no residue");
    typed("residue", residue, 1);
    REFUSED(TB_EINVAL, "'x' is not a number");
    assert_string_equal(err.about, "residue");
    r.table = "masses.csv";
    r.row = row;
    r.rows = 2;
    REFUSED(TB_EINVAL, "masses.csv: line 2");
    r.rows = 0;
    REFUSED(TB_EINVAL, "masses.csv: ");
    r.factors = "1.0, 1.0, 1.0, 1.0, 1.0";
    REFUSED(TB_EINVAL, "more than 4 numbers are given");
    assert_string_equal(err.about, "d");
    r.factors = NULL;
    r.condition = condition;
    r.conditions = 1;
    REFUSED(TB_EUSAGE, "'cotton' is not a condition; it reads FIBRE=WORD");
    assert_string_equal(err.about, "condition");
    condition[0] = "wool=combed";
    REFUSED(TB_EINVAL, "'wool' is not one of the fibres");
    condition[0] = "cotton=odd";
    REFUSED(TB_EINVAL, "no table knows 'odd' for cotton");
}

static void weights_need_one_mass_a_fibre(void **state)
{
    const char *weights[] = { "1.0" };

    (void)state;
    r.mixture = "cotton / polyester";
    r.route = TB_LAB_HAND;
    REFUSED(TB_EUSAGE, "or weights once for every determination");
    typed("weights", weights, 1);
    REFUSED(TB_EINVAL, "2 fibres need as many masses, not 1");
    weights[0] = "1.0, 0.0";
    REFUSED(TB_EINVAL, "determination 1");
}

static void figures_out_of_their_range_are_refused(void **state)
{
    (void)state;
    for (size_t i = 0; i < TB_ASSAY_FIGURES; i++) {
        char words[64];

        tb_assay_request_init(&r);
        r.mixture = "cotton / polyester";
        r.figure[i] = tb_assay_ranges[i].most + 1;
        (void)snprintf(words, sizeof words, "%s is '%g'; it takes a number from", tb_assay_ranges[i].name,
                       r.figure[i]);
        REFUSED(TB_EINVAL, words);
        r.figure[i] = tb_assay_ranges[i].least - 1;
        REFUSED(TB_EINVAL, "it takes a number from");
    }
}

static void a_table_is_read_row_by_row_and_a_missing_one_is_named(void **state)
{
    char path[] = "/tmp/tenterbook-test-XXXXXX.csv";
    int fd = mkstemps(path, 4);
    struct tb_assay_row *row;
    struct tb_arena mem = { 0 };
    size_t n;

    (void)state;
    assert_true(fd >= 0);
    assert_int_equal(write(fd, "specimen,residue\n1.002,0.403\n", 29), 29);
    assert_int_equal(close(fd), 0);
    assert_int_equal(tb_assay_rows_read(&row, &n, path, &mem, &err), TB_OK);
    assert_int_equal(n, 2);
    assert_int_equal(row[1].line, 2);
    assert_string_equal(row[1].cell[1], "0.403");
    assert_int_equal(unlink(path), 0);
    assert_int_not_equal(tb_assay_rows_read(&row, &n, path, &mem, &err), TB_OK);
    assert_non_null(strstr(err.msg, path));
    tb_arena_free(&mem);
}

int main(void)
{
#define TEST(name) cmocka_unit_test_setup_teardown(name, afresh, drop)
    const struct CMUnitTest tests[] = {
        TEST(weights_typed_become_percentages_on_each_basis),
        TEST(a_table_and_the_same_readings_typed_come_to_the_same),
        TEST(what_conforms_is_said_for_every_market_asked_for),
        TEST(a_single_determination_without_a_limit_withholds_the_answer),
        TEST(percentages_a_laboratory_reports_are_compared_as_they_are),
        TEST(what_is_missing_or_cannot_be_right_is_named),
        TEST(weights_need_one_mass_a_fibre),
        TEST(figures_out_of_their_range_are_refused),
        TEST(a_table_is_read_row_by_row_and_a_missing_one_is_named),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
