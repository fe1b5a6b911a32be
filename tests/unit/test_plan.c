/* A draw planned: defaults, each way to plan, what it shows, its curve, and what is refused. */
#include "tenterbook/plan.h"
#include "tenterbook/plan_curve.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static struct tb_err err;

#define OK(call)                                                                                             \
    do {                                                                                                     \
        if ((call) != TB_OK)                                                                                 \
            fail_msg("%s: %s", #call, err.msg);                                                              \
    } while (0)

#define NEAR(a, b) assert_true(fabs((a) - (b)) < 1e-12)

static struct tb_plan planned(long bolts, const struct tb_plan_wish *want)
{
    struct tb_plan p = { .want = *want, .bolts = bolts };

    OK(tb_plan_work_out(&p, &err));
    return p;
}
#define PLAN(bolts, ...) planned(bolts, &(struct tb_plan_wish){ __VA_ARGS__ })

/* docs/sampling.md, "Defaults" */
static void what_is_not_asked_takes_the_defaults(void **state)
{
    struct tb_plan p = PLAN(41, .kind = TB_PLAN_DISCOVERY);

    (void)state;
    NEAR(p.want.sure, 0.95);
    NEAR(p.want.catch_one, 0.8);
    assert_int_equal(p.want.bad, 5); /* a tenth, and what is over counts */
    assert_int_equal(PLAN(40, .kind = TB_PLAN_DISCOVERY).want.bad, 4);
    assert_int_equal(PLAN(1, .kind = TB_PLAN_DISCOVERY, .catch_one = 1).want.bad, 1);
}

/* tests/vectors/discovery.csv; one of twenty by hand: nineteen miss it once in twenty, which is a tie */
static void discovery_cuts_as_few_as_show_it(void **state)
{
    struct tb_plan p = PLAN(100, .bad = 5, .catch_one = 1);

    (void)state;
    assert_int_equal(p.cut, 45);
    assert_true(p.chance >= 0.95 && p.chance < 0.96);
    p = PLAN(20, .bad = 1, .catch_one = 1);
    assert_int_equal(p.cut, 19);
    NEAR(p.chance, 0.95);
    p = PLAN(5, .bad = 2, .catch_one = 1, .sure = 0.7); /* by hand: C(3,2)/C(5,2) = 0.3 is missed */
    assert_int_equal(p.cut, 2);
    NEAR(p.chance, 0.7);
}

static void where_every_bolt_is_not_enough_no_number_is_given(void **state)
{
    struct tb_plan p = PLAN(10, .bad = 1);

    (void)state;
    assert_int_equal(p.cut, -1);
    NEAR(p.chance, 0.8); /* one false bolt, burned, is recognised with this chance */
}

static void a_share_is_rounded_up_and_never_none(void **state)
{
    (void)state;
    assert_int_equal(PLAN(100, .kind = TB_PLAN_SHARE, .share = 0.1).cut, 10);
    assert_int_equal(PLAN(100, .kind = TB_PLAN_SHARE, .share = 0.07).cut,
                     7); /* the double is a little above */
    assert_int_equal(PLAN(11, .kind = TB_PLAN_SHARE, .share = 0.5).cut, 6);
    assert_int_equal(PLAN(10, .kind = TB_PLAN_SHARE, .share = 0.001).cut, 1);
    assert_int_equal(PLAN(10, .kind = TB_PLAN_SHARE, .share = 1).cut, 10);
}

/* Two of ten cut show one of k false with 1 - C(10-k,2)/45: k = 7 gives 42/45 = 0.933, k = 8 gives 44/45. By hand. */
static void a_plan_without_a_number_says_the_smallest_it_shows(void **state)
{
    struct tb_plan p = PLAN(10, .kind = TB_PLAN_SHARE, .share = 0.2, .catch_one = 1);

    (void)state;
    assert_int_equal(p.want.bad, 8);
    NEAR(p.chance, 44.0 / 45);
    p = PLAN(10, .kind = TB_PLAN_SHARE, .share = 0.2, .catch_one = 1, .sure = 0.93);
    assert_int_equal(p.want.bad, 7);
    p = PLAN(10, .kind = TB_PLAN_EVERY); /* two burns of chance 0.8 miss one in twenty-five */
    assert_int_equal(p.cut, 10);
    assert_int_equal(p.want.bad, 2);
    NEAR(p.chance, 0.96);
    p = PLAN(3, .kind = TB_PLAN_SHARE, .share = 0.1, .catch_one = 0.5); /* none is sure: all of them */
    assert_int_equal(p.want.bad, 3);
    NEAR(p.chance, 0.5);
}

/* MIL-STD-105E, Tables I and II: letter J, 80 bolts, 5 and 6; reduced at 5000: 80, 5 and 8 with a gap */
static void acceptance_takes_the_table_and_passes_a_lot_in_the_gap(void **state)
{
    struct tb_plan p =
        PLAN(1000, .kind = TB_PLAN_ACCEPTANCE, .aql = 2.5, .level = TB_LEVEL_II, .catch_one = 1);
    double accepted = 0;

    (void)state;
    assert_string_equal(p.acceptance.code, "J");
    assert_int_equal(p.cut, 80);
    assert_int_equal(p.accept, 5);
    OK(tb_accept_lot(&accepted, 1000, p.want.bad, 80, 5, 1, &err));
    NEAR(p.chance, 1 - accepted);
    assert_true(p.chance >= 0.95);
    p = PLAN(5000, .kind = TB_PLAN_ACCEPTANCE, .aql = 2.5, .level = TB_LEVEL_II, .inspection = TB_REDUCED);
    assert_int_equal(p.acceptance.accept, 5);
    assert_int_equal(p.acceptance.refuse, 8);
    assert_int_equal(p.accept, 7);
}

static void bolts_of_several_lots_are_spread_over_them(void **state)
{
    struct tb_stratum lot[] = { { .bolts = 12 }, { .bolts = 6 } };
    struct tb_plan p = { .bolts = 18, .strata = lot, .n_strata = 2 };
    double chance = 0;

    (void)state;
    p.want = (struct tb_plan_wish){ .kind = TB_PLAN_SHARE, .share = 0.5, .catch_one = 1, .bad = 1 };
    OK(tb_plan_work_out(&p, &err));
    assert_int_equal(p.cut, 9);
    assert_int_equal(lot[0].cut, 6);
    assert_int_equal(lot[1].cut, 3);
    NEAR(p.chance, 0.5); /* wherever the false one is, half of its lot is cut */
    p.want = (struct tb_plan_wish){ .kind = TB_PLAN_DISCOVERY, .catch_one = 1, .bad = 6, .sure = 0.9 };
    OK(tb_plan_work_out(&p, &err));
    assert_int_equal(lot[0].cut + lot[1].cut, p.cut);
    OK(tb_spread_chance(&chance, NULL, lot, 2, 6, 1, &err));
    NEAR(p.chance, chance);
    assert_true(p.chance >= 0.9);
}

static void what_cannot_be_is_refused(void **state)
{
    static const struct {
        long bolts;
        struct tb_plan_wish want;
        const char *say;
    } wrong[] = {
        { 0, { .bad = 1 }, "a lot of 0 bolts cannot be sampled" },
        { 10, { .bad = 11 }, "11 false bolts of 10 is not possible" },
        { 10, { .bad = -1 }, "-1 false bolts of 10 is not possible" },
        { 10, { .sure = 1 }, "being 1 sure is not possible" },
        { 10, { .kind = TB_PLAN_EVERY, .sure = 1.5 }, "being 1.5 sure is not possible" },
        { 10, { .catch_one = 1.5 }, "a chance of 1.5 to catch" },
        { 10, { .kind = TB_PLAN_SHARE }, "a share of nothing" },
        { 10, { .kind = TB_PLAN_SHARE, .share = 1.1 }, "a share of 1.1 is not possible" },
        { 10, { .kind = TB_PLAN_ACCEPTANCE, .aql = 3 }, "an AQL of 3 % is not in the standard's table" },
    };
    struct tb_plan p = PLAN(10, .bad = 2, .catch_one = 1);
    double chance = 7;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(wrong); i++) {
        struct tb_plan no = { .want = wrong[i].want, .bolts = wrong[i].bolts };

        assert_int_equal(tb_plan_work_out(&no, &err), TB_EINVAL);
        if (!strstr(err.msg, wrong[i].say))
            fail_msg("'%s' does not say '%s'", err.msg, wrong[i].say);
    }
    assert_int_equal(tb_plan_shows(&chance, &p, 11, &err), TB_EINVAL);
    assert_true(chance == 7);
}

static void a_curve_rises_and_ends_where_nearly_all_shows(void **state)
{
    static const struct tb_plan_wish ways[] = {
        { .kind = TB_PLAN_DISCOVERY, .catch_one = 1 },
        { .kind = TB_PLAN_SHARE, .share = 0.02 },
        { .kind = TB_PLAN_ACCEPTANCE, .aql = 4, .level = TB_LEVEL_II },
    };

    (void)state;
    for (size_t w = 0; w < TB_COUNT(ways); w++)
        for (size_t most = 2; most <= TB_PLAN_POINTS_MOST; most += 19) {
            struct tb_plan p = planned(2000, &ways[w]);
            struct tb_plan_point at[TB_PLAN_POINTS_MOST];
            double shown = 0;
            size_t n = 0;

            OK(tb_plan_curve(at, &n, most, &p, &err));
            assert_in_range(n, 2, most);
            for (size_t i = 0; i < n; i++) {
                OK(tb_plan_shows(&shown, &p, at[i].bad, &err));
                NEAR(at[i].chance, shown);
                assert_true(i == 0 || at[i].bad > at[i - 1].bad);
                assert_true(i == 0 || at[i].chance >= at[i - 1].chance);
            }
            assert_true(at[n - 1].chance > 0.99 && at[n - 1].bad <= 2000);
        }
}

/* Two of four cut show one of k: 1/2, 5/6, 1, 1; by hand, 1 - C(4-k,2)/6. */
static void a_small_lot_has_a_point_for_every_number(void **state)
{
    struct tb_plan p = PLAN(4, .kind = TB_PLAN_SHARE, .share = 0.5, .catch_one = 1);
    struct tb_plan_point at[12];
    const double want[] = { 1.0 / 2, 5.0 / 6, 1, 1 };
    size_t n = 0;

    (void)state;
    OK(tb_plan_curve(at, &n, 12, &p, &err));
    assert_int_equal(n, 4);
    for (size_t i = 0; i < n; i++) {
        assert_int_equal(at[i].bad, i + 1);
        NEAR(at[i].chance, want[i]);
    }
}

/* One false bolt shows for certain when every bolt is cut: there is nothing to draw beyond it. */
static void a_curve_ends_with_the_first_number_that_shows_nearly_always(void **state)
{
    struct tb_plan p = PLAN(1000, .kind = TB_PLAN_EVERY, .catch_one = 1);
    struct tb_plan_point at[12];
    size_t n = 0;

    (void)state;
    OK(tb_plan_curve(at, &n, 12, &p, &err));
    assert_int_equal(n, 1);
    assert_int_equal(at[0].bad, 1);
    NEAR(at[0].chance, 1);
    /* five burns of chance 0.8 miss 0.00032, four 0.0016: of 1, 2, 4, 8 the eight are the first above 0.999 */
    p = PLAN(1000, .kind = TB_PLAN_EVERY, .catch_one = 0.8);
    OK(tb_plan_curve(at, &n, 12, &p, &err));
    assert_int_equal(n, 8);
    assert_int_equal(at[7].bad, 8);
    /* by equal factors where none may be false: of 64 among 1000 a tenth misses all with
     * C(936,100)/C(1000,100) = 0.0009, of 32 with 0.03 */
    p = PLAN(1000, .kind = TB_PLAN_SHARE, .share = 0.1, .catch_one = 1);
    OK(tb_plan_curve(at, &n, 3, &p, &err));
    assert_int_equal(n, 3);
    assert_int_equal(at[0].bad, 1);
    assert_int_equal(at[1].bad, 8); /* the root of 64 */
    assert_int_equal(at[2].bad, 64);
}

static void the_picture_says_what_it_shows_and_has_every_point(void **state)
{
    struct tb_plan p = PLAN(4, .kind = TB_PLAN_SHARE, .share = 0.5, .catch_one = 1);
    char *text = NULL;
    size_t size = 0;
    FILE *f = open_memstream(&text, &size);

    (void)state;
    OK(tb_plan_curve_svg(f, &p, &err));
    assert_int_equal(fclose(f), 0);
    assert_non_null(strstr(text, "<title>Chance that false bolts show, by their number</title>"));
    /* every point by its value: no false bolt shows nothing, and the four of the test above */
    assert_non_null(strstr(
        text, "<desc>Chance that false bolts show, by their number. 2 of 4 bolts cut. If 3 or more of the "
              "4 bolts were false, this would show it with a chance of 100 %. 0: 0.0 %; 1: 50.0 %; 2: 83.3 "
              "%; 3: 100.0 %; 4: 100.0 %;</desc>"));
    assert_string_equal(text + size - 7, "</svg>\n");
    free(text);
}

static void stated(const struct tb_plan *p, const char *want)
{
    struct tb_text got = { 0 };

    tb_plan_shows_words(&got, p);
    assert_string_equal(got.s, want);
    tb_text_free(&got);
}

/* Chances by hand: two of four miss one false bolt in half of all draws; one burn of chance 0.8. */
static void a_statement_says_what_the_plan_would_show(void **state)
{
    struct tb_plan p = PLAN(4, .kind = TB_PLAN_SHARE, .share = 0.5, .catch_one = 1, .bad = 1);

    (void)state;
    stated(&p, "If 1 or more of the 4 bolts were false, this would show it with a chance of 50 %.");
    p = PLAN(1, .kind = TB_PLAN_EVERY, .bad = 1);
    stated(&p, "If the bolt were false, this would show it with a chance of 80 %.");
    p = PLAN(10, .bad = 1);
    stated(
        &p,
        "Even cutting all 10 bolts would show 1 false among them with a chance of only 80 %, below the 95 % "
        "asked for.");
    p = PLAN(1, .bad = 1);
    stated(&p,
           "Even cutting the 1 bolt would show 1 false among them with a chance of only 80 %, below the 95 % "
           "asked for.");
    p = PLAN(1000, .kind = TB_PLAN_ACCEPTANCE, .aql = 2.5, .level = TB_LEVEL_II, .catch_one = 1, .bad = 1000);
    stated(&p,
           "If 1000 or more of the 1000 bolts were false, this would refuse the lot with a chance of 100 %.");
}

/* What is not certain is never printed as a certainty. */
static void a_share_in_words_keeps_away_from_none_and_all(void **state)
{
    static const struct {
        double share;
        const char *say;
    } rows[] = { { 0, "0 %" },        { 1, "100 %" },        { 0.5, "50 %" },
                 { 0.955, "95.5 %" }, { 1.0 / 3, "33.3 %" }, { 0.0004, "less than 0.1 %" },
                 { 0.0006, "0.1 %" }, { 0.9994, "99.9 %" },  { 0.9996, "more than 99.9 %" } };
    char out[TB_PERCENT];

    (void)state;
    for (size_t i = 0; i < TB_COUNT(rows); i++)
        assert_string_equal(tb_percent(out, rows[i].share), rows[i].say);
}

static void the_names_of_plans_are_those_of_the_book(void **state)
{
    (void)state;
    assert_string_equal(tb_plan_key(TB_PLAN_DISCOVERY), "discovery");
    assert_string_equal(tb_plan_key(TB_PLAN_ACCEPTANCE), "acceptance");
    assert_string_equal(tb_plan_key(TB_PLAN_SHARE), "share");
    assert_string_equal(tb_plan_key(TB_PLAN_EVERY), "every");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_not_asked_takes_the_defaults),
        cmocka_unit_test(discovery_cuts_as_few_as_show_it),
        cmocka_unit_test(where_every_bolt_is_not_enough_no_number_is_given),
        cmocka_unit_test(a_share_is_rounded_up_and_never_none),
        cmocka_unit_test(a_plan_without_a_number_says_the_smallest_it_shows),
        cmocka_unit_test(acceptance_takes_the_table_and_passes_a_lot_in_the_gap),
        cmocka_unit_test(bolts_of_several_lots_are_spread_over_them),
        cmocka_unit_test(what_cannot_be_is_refused),
        cmocka_unit_test(a_curve_rises_and_ends_where_nearly_all_shows),
        cmocka_unit_test(a_small_lot_has_a_point_for_every_number),
        cmocka_unit_test(a_curve_ends_with_the_first_number_that_shows_nearly_always),
        cmocka_unit_test(the_picture_says_what_it_shows_and_has_every_point),
        cmocka_unit_test(a_statement_says_what_the_plan_would_show),
        cmocka_unit_test(a_share_in_words_keeps_away_from_none_and_all),
        cmocka_unit_test(the_names_of_plans_are_those_of_the_book),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
