/* What a cloth is likeliest to be, and what each of its bolts is where they burn differently. */
#include "tenterbook/stored_verdict.h"
#include "tenterbook/tell.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static struct tb_stored_share polyester[] = { { "polyester", 100 } }, cotton[] = { { "cotton", 100 } };
static struct tb_stored_likely melts[] = { { TB_PART_WHOLE, polyester, 1, 0.94 } },
                               hotter[] = { { TB_PART_WHOLE, polyester, 1, 0.91 } },
                               ash[] = { { TB_PART_WHOLE, cotton, 1, 0.72 } },
                               parts[] = { { TB_PART_WARP, cotton, 1, 0.7 },
                                           { TB_PART_WARP, polyester, 1, 0.2 },
                                           { TB_PART_WEFT, polyester, 1, 0.9 } };

static struct tb_stored_bolt bolt(const char *number, enum tb_verdict_kind kind, struct tb_stored_likely *l,
                                  size_t n)
{
    return (struct tb_stored_bolt){ .number = number, .kind = kind, .likely = l, .n_likely = n };
}

static void says(const struct tb_stored_verdict *v, const char *want)
{
    struct tb_text t = { 0 };

    tb_likely_words(&t, TB_ENGLISH, v);
    assert_string_equal(tb_text_str(&t), want);
    tb_text_free(&t);
}

static void bolts_that_burn_alike_are_one_cloth(void **state)
{
    struct tb_stored_bolt b[] = { bolt("R1", TB_CONTRADICTS, melts, 1),
                                  bolt("R2", TB_CONTRADICTS, hotter, 1) };
    struct tb_stored_verdict v = { .likely = melts, .n_likely = 1, .bolt = b, .n_bolt = 2 };

    (void)state;
    assert_false(tb_bolts_differ(&v));
    says(&v, "polyester 100 % (94 in 100)");
}

static void each_part_is_told_by_its_first(void **state)
{
    struct tb_stored_verdict v = { .likely = parts, .n_likely = 3 };

    (void)state;
    says(&v, "warp: cotton 100 % (70 in 100), weft: polyester 100 % (90 in 100)");
}

static void bolts_that_burn_differently_are_told_apart(void **state)
{
    struct tb_stored_bolt b[] = { bolt("R1", TB_FITS, ash, 1), bolt("R2", TB_CONTRADICTS, melts, 1),
                                  bolt("R3", TB_CONTRADICTS, melts, 1), bolt("R4", TB_UNDECIDED, ash, 1) };
    struct tb_stored_verdict v = { .likely = melts, .n_likely = 1, .bolt = b, .n_bolt = 4 };

    (void)state;
    assert_true(tb_bolts_differ(&v));
    says(&v, "bolt R1: fits the declaration; bolts R2, R3: polyester 100 % (94 in 100); bolt R4: "
             "cotton 100 % (72 in 100)");
}

/* One burn was looked at more closely than the other: both are of the same cloth. */
static void a_bolt_that_fits_beside_one_undecided_is_no_other_cloth(void **state)
{
    struct tb_stored_bolt b[] = { bolt("R1", TB_FITS, ash, 1), bolt("R2", TB_UNDECIDED, ash, 1) };
    struct tb_stored_verdict v = { .likely = ash, .n_likely = 1, .bolt = b, .n_bolt = 2 };

    (void)state;
    assert_false(tb_bolts_differ(&v));
}

static void bolts_that_all_fit_do_not_differ(void **state)
{
    struct tb_stored_bolt b[] = { bolt("R1", TB_FITS, ash, 1), bolt("R2", TB_FITS, melts, 1) };
    struct tb_stored_verdict v = { .likely = ash, .n_likely = 1, .bolt = b, .n_bolt = 2 };

    (void)state;
    assert_false(tb_bolts_differ(&v));
}

static void a_verdict_that_kept_no_bolts_names_no_cloth_for_all(void **state)
{
    struct tb_stored_bolt b[] = { bolt("R1", TB_FITS, NULL, 0), bolt("R2", TB_CONTRADICTS, NULL, 0) };
    struct tb_stored_verdict v = { .likely = melts, .n_likely = 1, .bolt = b, .n_bolt = 2 };

    (void)state;
    says(&v, "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bolts_that_burn_alike_are_one_cloth),
        cmocka_unit_test(each_part_is_told_by_its_first),
        cmocka_unit_test(bolts_that_burn_differently_are_told_apart),
        cmocka_unit_test(a_bolt_that_fits_beside_one_undecided_is_no_other_cloth),
        cmocka_unit_test(bolts_that_all_fit_do_not_differ),
        cmocka_unit_test(a_verdict_that_kept_no_bolts_names_no_cloth_for_all),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
