#include "tenterbook/tolerance.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static void tolerances_are_those_of_the_rule_table(void **state)
{
    /* the clauses stand in sql/reference/law_rule.csv */
    static const struct {
        const char *market, *first, *second;
        double percent, points;
    } row[] = {
        { "us", "cotton", "polyester", 60, 3 }, { "us", "cotton", NULL, 100, 0 },
        { "us", "wool", "nylon", 80, 3 },       { "ca", "cotton", "polyester", 60, 5 },
        { "ca", "cotton", NULL, 100, 0 },       { "eu", "cotton", "polyester", 60, 3 },
        { "gb", "cotton", "polyester", 60, 3 }, { "jp", "wool", NULL, 100, 3 },
        { "jp", "cotton", NULL, 100, 1 },       { "jp", "cotton", "polyester", 60, 5 },
        { "jp", "cotton", "polyester", 63, 4 }, { "cn", "cotton", "polyester", 8, 3 },
        { "cn", "cotton", "polyester", 60, 5 }, { "nz", "cotton", "polyester", 60, 5 },
        { "ca", "down", "feather", 80, 0 },     { "ca", "down", "polyester", 80, 5 }, /* s. 30(2) */
        { "jp", "wool", "cashmere", 73, 5 },    { "jp", "wool", "nylon", 73, 4 },     /* art. 9 */
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_share share[2] = { { tb_fibre_by_key(row[i].first), row[i].percent, NAN, 0, 0 },
                                     { row[i].second ? tb_fibre_by_key(row[i].second) : -1,
                                       100 - row[i].percent, NAN, 0, 0 } };
        struct tb_part part = { .share = share, .n = row[i].second ? 2 : 1 };
        struct tb_tolerance t = { .points = -1 };

        assert_true(tb_tolerance_find(&t, row[i].market, &part, 0, &(struct tb_tolerance_facts){ 0 }));
        assert_true(t.points == row[i].points);
        assert_true(t.clause[0] && t.status[0]);
    }
}

/* GB/T 29862-2013 cl. 7.2 and 7.4: a filling has wider tolerances than a cloth. */
static void a_filling_has_tolerances_of_its_own_in_china(void **state)
{
    struct tb_share share[2] = { { tb_fibre_by_key("down"), 79, NAN, 0, 0 },
                                 { tb_fibre_by_key("feather"), 21, NAN, 0, 0 } };
    struct tb_part part = { .kind = TB_PART_FILLING, .share = share, .n = 2 };
    struct tb_tolerance t;

    (void)state;
    assert_true(tb_tolerance_find(&t, "cn", &part, 1, &(struct tb_tolerance_facts){ 0 }) && t.points == 10);
    share[1].percent = 20;
    assert_true(tb_tolerance_find(&t, "cn", &part, 1, &(struct tb_tolerance_facts){ 0 }) && t.points == 5);
    part.kind = TB_PART_SHELL;
    assert_true(tb_tolerance_find(&t, "cn", &part, 1, &(struct tb_tolerance_facts){ 0 }) && t.points == 5);
    share[1].percent = 10;
    assert_true(tb_tolerance_find(&t, "cn", &part, 1, &(struct tb_tolerance_facts){ 0 }) && t.points == 3);
}

/* 15 USC 68(b): the hair of the Angora rabbit is no wool, that of the Cashmere goat is. */
static void the_wool_act_is_quoted_for_its_own_fibres_only(void **state)
{
    struct tb_share share[2] = { { tb_fibre_by_key("angora"), 80, NAN, 0, 0 },
                                 { tb_fibre_by_key("nylon"), 20, NAN, 0, 0 } };
    struct tb_part part = { .share = share, .n = 2 };
    struct tb_tolerance t;

    (void)state;
    assert_true(tb_tolerance_find(&t, "us", &part, 0, &(struct tb_tolerance_facts){ 0 }));
    assert_non_null(strstr(t.clause, "70b"));
    share[0].fibre = tb_fibre_by_key("cashmere");
    assert_true(tb_tolerance_find(&t, "us", &part, 0, &(struct tb_tolerance_facts){ 0 }));
    assert_non_null(strstr(t.clause, "68b"));
}

static void undeclared_fibre_passes_by_the_european_rows_only(void **state)
{
    struct tb_share share[2] = { { tb_fibre_by_key("wool"), 80, NAN, 0, 0 },
                                 { tb_fibre_by_key("nylon"), 20, NAN, 0, 0 } };
    struct tb_part blend = { .share = share, .n = 2 }, pure = { .share = share, .n = 1 };
    struct tb_tolerance_facts plain = { 0 }, carded = { .carded = true }, virgin = { .virgin = true };
    struct tb_tolerance t;

    (void)state;
    assert_true(tb_extraneous_find(&t, "eu", &blend, &plain) && t.points == 2 && t.strict);
    assert_true(tb_extraneous_find(&t, "gb", &blend, &carded) && t.points == 5 && t.strict);
    assert_true(tb_extraneous_find(&t, "eu", &pure, &plain) && t.points == 2 && !t.strict);
    assert_true(tb_extraneous_find(&t, "eu", &pure, &carded) && t.points == 5 && !t.strict);
    assert_true(tb_extraneous_find(&t, "eu", &blend, &virgin) && t.points == 0.3 && !t.strict);
    assert_false(tb_extraneous_find(&t, "us", &blend, &plain));
    assert_false(tb_tolerance_find(&t, "eu", &pure, 0, &plain));
    assert_false(tb_tolerance_find(&t, "nowhere", &pure, 0, &plain));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tolerances_are_those_of_the_rule_table),
        cmocka_unit_test(a_filling_has_tolerances_of_its_own_in_china),
        cmocka_unit_test(the_wool_act_is_quoted_for_its_own_fibres_only),
        cmocka_unit_test(undeclared_fibre_passes_by_the_european_rows_only),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
