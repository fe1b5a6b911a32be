/* How far a ratio goes with lots of the site that a laboratory settled, and that no lot vouches for itself. */
#include "evidence/bounds.h"
#include "evidence/model.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#define LOTS 40
static const char *const unit[] = { "a", "b", "c", "d", "e", "f", "g", "h", "i", "j" };

static struct tb_bounds bounds(const struct tb_settled_ratio *lot, size_t n)
{
    struct tb_bounds b;

    tb_bounds_make(&b, lot, n);
    return b;
}

static bool same(const struct tb_bounds *a, const struct tb_bounds *b)
{
    return a->low >= b->low && a->low <= b->low && a->high >= b->high && a->high <= b->high;
}

/* Fills n lots of that side and ratio, each of a unit of its own. */
static void fill(struct tb_settled_ratio *lot, size_t n, bool as_declared, double ratio)
{
    for (size_t i = 0; i < n; i++)
        lot[i] = (struct tb_settled_ratio){ NULL, as_declared, log(ratio) };
}

/* The rule of Vergeer et al. 2016: what the lowest ratio rests on is the number of true cases, and the highest on false ones. */
static void lots_that_came_out_as_their_burns_said_widen_the_limit_of_their_side(void **state)
{
    struct tb_settled_ratio lot[LOTS];
    struct tb_bounds none = bounds(NULL, 0), more;

    (void)state;
    fill(lot, 10, true, 1000);
    more = bounds(lot, 10);
    assert_true(more.low < none.low);
    fill(lot, 10, false, 0.001);
    more = bounds(lot, 10);
    assert_true(more.high > none.high);
}

static void a_lot_whose_burns_misled_narrows_them(void **state)
{
    struct tb_settled_ratio lot[LOTS];
    struct tb_bounds none = bounds(NULL, 0), more;

    (void)state;
    fill(lot, 2, true, 0.001); /* two true declarations that the burns called false */
    more = bounds(lot, 2);
    assert_true(more.low > none.low);
    fill(lot, 2, false, 1000);
    more = bounds(lot, 2);
    assert_true(more.high < none.high);
}

static void lots_of_one_unit_count_as_one_lot(void **state)
{
    struct tb_settled_ratio lot[LOTS], one;
    struct tb_bounds together, alone;

    (void)state;
    fill(lot, LOTS, true, 1000);
    one = lot[0];
    for (size_t i = 0; i < LOTS; i++)
        lot[i].unit = unit[0];
    together = bounds(lot, LOTS);
    alone = bounds(&one, 1);
    assert_true(same(&together, &alone));
}

static void a_unit_is_judged_without_its_own_lots(void **state)
{
    struct tb_settled_ratio lot[TB_COUNT(unit)];
    struct tb_evidence_settings set;
    struct tb_evidence *ev, *apart;
    struct tb_bounds others;
    struct tb_err err;

    (void)state;
    fill(lot, TB_COUNT(unit), true, 1000);
    for (size_t i = 0; i < TB_COUNT(unit); i++)
        lot[i].unit = unit[i % 2]; /* two units: without one of them there is half as much */
    tb_evidence_defaults(&set);
    set.fibres_most = 1;
    set.settled = lot;
    set.n_settled = TB_COUNT(lot);
    assert_int_equal(tb_evidence_new(&ev, &set, NULL, 0, &err), TB_OK);
    assert_null(tb_evidence_apart(ev, "z"));
    assert_null(tb_evidence_apart(ev, NULL));
    apart = tb_evidence_apart(ev, unit[0]);
    assert_non_null(apart);
    others = bounds(&lot[1], 1);
    assert_true(same(&apart->bounds, &others));
    assert_int_equal(apart->settled_lots, TB_COUNT(unit) / 2);
    assert_int_equal(ev->settled_lots, TB_COUNT(unit));
    tb_evidence_free(apart);
    tb_evidence_free(ev);
}

/* As a verdict keeps them: text with 17 digits of the ratios. */
static void bounds_that_were_told_are_those_they_were_computed_as(void **state)
{
    struct tb_settled_ratio lot[LOTS];
    struct tb_bounds made, told, near;

    (void)state;
    for (size_t n = 0; n <= LOTS; n += 4) {
        char low[40], high[40];

        fill(lot, n, n % 8 == 0, n % 8 == 0 ? 1000 : 0.001);
        made = bounds(lot, n);
        (void)snprintf(low, sizeof low, "%.17g", exp(made.low));
        (void)snprintf(high, sizeof high, "%.17g", exp(made.high));
        told = (struct tb_bounds){ log(strtod(low, NULL)), log(strtod(high, NULL)) };
        tb_bounds_near(&near, &told);
        assert_true(same(&near, &made));
    }
}

static void a_model_made_with_told_bounds_has_the_digest_of_the_one_that_made_them(void **state)
{
    struct tb_settled_ratio lot[LOTS];
    struct tb_evidence_settings set;
    struct tb_evidence *site, *told, *none;
    struct tb_err err;

    (void)state;
    fill(lot, LOTS, true, 1000);
    tb_evidence_defaults(&set);
    set.fibres_most = 1;
    assert_int_equal(tb_evidence_new(&none, &set, NULL, 0, &err), TB_OK);
    set.settled = lot;
    set.n_settled = LOTS;
    assert_int_equal(tb_evidence_new(&site, &set, NULL, 0, &err), TB_OK);
    set.settled = NULL;
    set.bounds = &site->bounds;
    assert_int_equal(tb_evidence_new(&told, &set, NULL, 0, &err), TB_OK);
    assert_string_equal(told->digest, site->digest);
    assert_int_equal(told->settled_lots, LOTS);
    assert_string_not_equal(none->digest, site->digest);
    tb_evidence_free(site);
    tb_evidence_free(told);
    tb_evidence_free(none);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lots_that_came_out_as_their_burns_said_widen_the_limit_of_their_side),
        cmocka_unit_test(a_lot_whose_burns_misled_narrows_them),
        cmocka_unit_test(lots_of_one_unit_count_as_one_lot),
        cmocka_unit_test(a_unit_is_judged_without_its_own_lots),
        cmocka_unit_test(bounds_that_were_told_are_those_they_were_computed_as),
        cmocka_unit_test(a_model_made_with_told_bounds_has_the_digest_of_the_one_that_made_them),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
