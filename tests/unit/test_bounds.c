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

    (void)tb_bounds_make(&b, &(struct tb_site_lots){ .lot = lot, .n = n });
    return b;
}

static bool same(const struct tb_bounds *a, const struct tb_bounds *b)
{
    return a->low >= b->low && a->low <= b->low && a->high >= b->high && a->high <= b->high;
}

/* Fills n lots of that side and ratio, each of a unit of its own; nobody counted those that were not sent. */
static void fill(struct tb_settled_ratio *lot, size_t n, bool as_declared, double ratio)
{
    for (size_t i = 0; i < n; i++)
        lot[i] = (struct tb_settled_ratio){ .as_declared = as_declared, .log_ratio = log(ratio) };
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
        told = (struct tb_bounds){ .low = log(strtod(low, NULL)), .high = log(strtod(high, NULL)) };
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

/* What lots count, of a site that judged so many of each grade. */
static double weigh(double weight[LOTS], const struct tb_settled_ratio *lot, size_t n, double fits,
                    double against)
{
    struct tb_site_lots s = { .lot = lot, .n = n };

    s.judged[TB_GRADE_FITS] = fits;
    s.judged[TB_GRADE_CONTRADICTS] = against;
    return tb_sent_weigh(weight, &s);
}

static bool is(double a, double b)
{
    return fabs(a - b) < 1e-12;
}

/* Begg and Greenes 1983: each verified case stands for those of its test result that were not verified. */
static void a_lot_counts_by_the_share_of_its_grade_that_was_sent(void **state)
{
    struct tb_settled_ratio lot[LOTS];
    double weight[LOTS];

    (void)state;
    fill(lot, 4, true, 1);
    lot[0].grade = lot[1].grade = TB_GRADE_CONTRADICTS;
    lot[2].grade = lot[3].grade = TB_GRADE_FITS;
    assert_true(is(weigh(weight, lot, 4, 2, 2), 4)); /* all were sent */
    assert_true(is(weight[0], 1) && is(weight[3], 1));
    (void)weigh(weight, lot, 4, 200, 4); /* half of the doubted, a hundredth of the others */
    assert_true(is(weight[0], 0.01 / 0.5) && is(weight[3], 1));
    (void)weigh(weight, lot, 2, 99, 2); /* none of the others: one more might have been the first */
    assert_true(is(weight[0], 1.0 / 100));
    (void)weigh(weight, lot, 2, 0, 2); /* there are no others */
    assert_true(is(weight[0], 1));
    (void)weigh(weight, lot, 4, 0, 0); /* nobody counted */
    assert_true(is(weight[0], 1) && is(weight[3], 1));
}

/* Of a delivery of five lots one was sent: that is a fifth of the case that all five are together. */
static void lots_of_a_unit_that_were_not_sent_are_of_the_same_case(void **state)
{
    struct tb_settled_ratio lot[LOTS];
    double weight[LOTS];

    (void)state;
    fill(lot, 2, true, 1);
    for (int i = 0; i < 2; i++) {
        lot[i].unit = unit[0];
        lot[i].grade = TB_GRADE_CONTRADICTS;
        lot[i].judged[TB_GRADE_CONTRADICTS] = 5;
    }
    assert_true(is(weigh(weight, lot, 1, 0, 1), 1.0 / 5));
    assert_true(is(weigh(weight, lot, 2, 0, 2), 2.0 / 5));
    lot[1].as_declared = false; /* so the three others count on either side */
    (void)weigh(weight, lot, 2, 0, 2);
    assert_true(is(weight[0], 1.0 / 4) && is(weight[1], 1.0 / 4));
}

/* A site that sends only what its burns speak against learns next to nothing of its bounds. */
static void a_doubted_lot_that_was_cleared_hardly_moves_the_bounds_of_a_site_that_sends_no_other(void **state)
{
    struct tb_settled_ratio lot[LOTS];
    struct tb_bounds none = bounds(NULL, 0), full, sent;
    struct tb_site_lots s = { .lot = lot, .n = 1 };

    (void)state;
    fill(lot, 1, true, 0.001);
    lot[0].grade = TB_GRADE_CONTRADICTS;
    full = bounds(lot, 1);
    assert_true(full.low > log(1.0 / 20)); /* no burn contradicts from then on */
    s.judged[TB_GRADE_CONTRADICTS] = 1;
    s.judged[TB_GRADE_FITS] = 60;
    (void)tb_bounds_make(&sent, &s);
    assert_true(sent.low < log(1.0 / 20));
    assert_true(sent.low - none.low <= log(10) / 50 + 1e-12); /* a step of the table at most */
}

/* The counts of a unit go with its lots. */
static void a_unit_is_judged_without_what_was_judged_of_it(void **state)
{
    struct tb_settled_ratio lot[2];
    struct tb_evidence_settings set;
    struct tb_evidence *ev, *apart;
    struct tb_err err;

    (void)state;
    fill(lot, 2, true, 1000);
    for (int i = 0; i < 2; i++) {
        lot[i].unit = unit[i];
        lot[i].grade = TB_GRADE_FITS;
        lot[i].judged[TB_GRADE_FITS] = 3 + i;
    }
    tb_evidence_defaults(&set);
    set.fibres_most = 1;
    set.settled = lot;
    set.n_settled = 2;
    set.judged[TB_GRADE_FITS] = 7;
    assert_int_equal(tb_evidence_new(&ev, &set, NULL, 0, &err), TB_OK);
    assert_true(is(ev->settled_cases, 1.0 / 3 + 1.0 / 4));
    apart = tb_evidence_apart(ev, unit[0]);
    assert_true(is(apart->site.judged[TB_GRADE_FITS], 4) && is(apart->settled_cases, 1.0 / 4));
    tb_evidence_free(apart);
    tb_evidence_free(ev);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lots_that_came_out_as_their_burns_said_widen_the_limit_of_their_side),
        cmocka_unit_test(a_lot_whose_burns_misled_narrows_them),
        cmocka_unit_test(lots_of_one_unit_count_as_one_lot),
        cmocka_unit_test(a_unit_is_judged_without_its_own_lots),
        cmocka_unit_test(a_lot_counts_by_the_share_of_its_grade_that_was_sent),
        cmocka_unit_test(lots_of_a_unit_that_were_not_sent_are_of_the_same_case),
        cmocka_unit_test(
            a_doubted_lot_that_was_cleared_hardly_moves_the_bounds_of_a_site_that_sends_no_other),
        cmocka_unit_test(a_unit_is_judged_without_what_was_judged_of_it),
        cmocka_unit_test(bounds_that_were_told_are_those_they_were_computed_as),
        cmocka_unit_test(a_model_made_with_told_bounds_has_the_digest_of_the_one_that_made_them),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
