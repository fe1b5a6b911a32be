/* Suppliers' shares where how much suppliers differ is known only roughly (src/sampling/belief.c). */
#include "tenterbook/interval.h"
#include "tenterbook/record.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static struct tb_err err;

#define OK(call) assert_int_equal(call, TB_OK)
#define NEAR(x, y, by) assert_true(fabs((x) - (y)) <= (by))

/* Fifteen suppliers with the same share of 0.174, drawn once: the likeliest law between them has no spread at all. */
static const struct tb_tally alike[] = { { 7, 1 },  { 11, 1 }, { 4, 1 }, { 8, 0 },  { 13, 2 },
                                         { 13, 2 }, { 14, 3 }, { 4, 0 }, { 12, 3 }, { 4, 1 },
                                         { 10, 1 }, { 7, 0 },  { 9, 2 }, { 11, 2 }, { 13, 2 } };

/*
 * Tumours in 71 groups of rats: Tarone (1982), as printed in Gelman and others, Bayesian Data Analysis, 3rd edition, table 5.1;
 * section 5.3 has E(a) = 2.4 and E(b) = 14.3 under the same density (a + b)^-5/2 (from memory).
 */
static const struct tb_tally rats[] = {
    { 20, 0 }, { 20, 0 }, { 20, 0 },  { 20, 0 },  { 20, 0 },  { 20, 0 },  { 20, 0 },  { 19, 0 },  { 19, 0 },
    { 19, 0 }, { 19, 0 }, { 18, 0 },  { 18, 0 },  { 17, 0 },  { 20, 1 },  { 20, 1 },  { 20, 1 },  { 20, 1 },
    { 19, 1 }, { 19, 1 }, { 18, 1 },  { 18, 1 },  { 25, 2 },  { 24, 2 },  { 23, 2 },  { 20, 2 },  { 20, 2 },
    { 20, 2 }, { 20, 2 }, { 20, 2 },  { 20, 2 },  { 10, 1 },  { 49, 5 },  { 19, 2 },  { 46, 5 },  { 27, 3 },
    { 17, 2 }, { 49, 7 }, { 47, 7 },  { 20, 3 },  { 20, 3 },  { 13, 2 },  { 48, 9 },  { 50, 10 }, { 20, 4 },
    { 20, 4 }, { 20, 4 }, { 20, 4 },  { 20, 4 },  { 20, 4 },  { 20, 4 },  { 48, 10 }, { 19, 4 },  { 19, 4 },
    { 19, 4 }, { 22, 5 }, { 46, 11 }, { 49, 12 }, { 20, 5 },  { 20, 5 },  { 23, 6 },  { 19, 5 },  { 22, 6 },
    { 20, 6 }, { 20, 6 }, { 20, 6 },  { 52, 16 }, { 47, 15 }, { 46, 15 }, { 24, 9 },  { 14, 4 },
};

static void the_law_of_seventy_one_groups_of_rats_is_the_published_one(void **state)
{
    struct tb_arena mem = { 0 };
    struct tb_belief b;
    double all = 0, x = 0, y = 0;

    (void)state;
    OK(tb_record_belief(&b, rats, TB_COUNT(rats), &mem, &err));
    for (size_t i = 0; i < b.n; i++) {
        all += b.point[i].share;
        x += b.point[i].share * b.point[i].a;
        y += b.point[i].share * b.point[i].b;
    }
    NEAR(all, 1, 1e-12);
    NEAR(x, 2.4, 0.05);
    NEAR(y, 14.3, 0.05);
    tb_arena_free(&mem);
}

/* Figures: SciPy 1.10, sums over a grid of 4001 spreads and 1401 means, roots by brentq. */
static void shares_of_suppliers_that_seem_alike_agree_with_scipy(void **state)
{
    const double want[][3] = { { 0.1566673009124225, 0.0630681735320297, 0.27750508182243727 },
                               { 0.14772941922031108, 0.05562639971430127, 0.2537210423148536 },
                               { 0.16506762358416815, 0.06940285396400275, 0.30569371991849753 },
                               { 0.13889159006996535, 0.03677678649996294, 0.24396897775039147 } };
    struct tb_arena mem = { 0 };
    struct tb_posterior p;
    struct tb_belief b;

    (void)state;
    OK(tb_record_belief(&b, alike, TB_COUNT(alike), &mem, &err));
    for (size_t i = 0; i < TB_COUNT(want); i++) {
        OK(tb_belief_posterior(&p, &b, &alike[i], 0.95, &err));
        NEAR(p.mean, want[i][0], 1e-6);
        NEAR(p.lo, want[i][1], 1e-6);
        NEAR(p.hi, want[i][2], 1e-6);
    }
    tb_arena_free(&mem);
}

static void no_supplier_has_a_thousand_lots_behind_it_that_nobody_judged(void **state)
{
    struct tb_posterior p, sure, pooled;
    struct tb_arena mem = { 0 };
    struct tb_belief b;

    (void)state;
    OK(tb_record_belief(&b, alike, TB_COUNT(alike), &mem, &err));
    NEAR(b.fit.a + b.fit.b, TB_WEIGHT_MOST, 1); /* the likeliest law by itself says so */
    assert_true(b.lightest < 15 && b.heaviest > 500);
    /* all lots together, as if of one supplier: nobody can know more of any of them */
    OK(tb_record_posterior(&pooled, &(struct tb_beta){ 1, 1 }, &(struct tb_tally){ 140, 21 }, 0.95, &err));
    for (size_t i = 0; i < TB_COUNT(alike); i++) {
        OK(tb_belief_posterior(&p, &b, &alike[i], 0.95, &err));
        OK(tb_record_posterior(&sure, &b.fit, &alike[i], 0.95, &err));
        assert_true(p.hi - p.lo > 3 * (sure.hi - sure.lo));
        assert_true(p.hi - p.lo > pooled.hi - pooled.lo);
    }
    tb_arena_free(&mem);
}

static void an_interval_is_never_narrower_than_the_likeliest_spread_allows(void **state)
{
    const struct {
        const struct tb_tally *of;
        size_t n;
    } sites[] = { { alike, TB_COUNT(alike) }, { rats, TB_COUNT(rats) } };

    (void)state;
    for (size_t s = 0; s < TB_COUNT(sites); s++) {
        struct tb_arena mem = { 0 };
        struct tb_posterior p, sure;
        struct tb_belief b;

        OK(tb_record_belief(&b, sites[s].of, sites[s].n, &mem, &err));
        for (size_t i = 0; i < sites[s].n; i++) {
            OK(tb_belief_posterior(&p, &b, &sites[s].of[i], 0.95, &err));
            OK(tb_record_posterior(&sure, &b.fit, &sites[s].of[i], 0.95, &err));
            assert_true(p.hi - p.lo >= sure.hi - sure.lo);
        }
        tb_arena_free(&mem);
    }
}

static void more_lots_of_its_own_make_a_supplier_speak_for_itself(void **state)
{
    const struct tb_tally t[] = { { 10, 1 }, { 12, 2 }, { 9, 0 }, { 11, 2 }, { 3, 2 }, { 1500, 1000 } };
    struct tb_arena mem = { 0 };
    struct tb_posterior few, many;
    struct tb_belief b;
    double lo, hi;

    (void)state;
    OK(tb_record_belief(&b, t, TB_COUNT(t), &mem, &err));
    OK(tb_belief_posterior(&few, &b, &t[4], 0.95, &err));
    OK(tb_belief_posterior(&many, &b, &t[5], 0.95, &err));
    assert_true(few.mean < 2.0 / 3);
    OK(tb_interval_exact(&lo, &hi, t[5].wrong, t[5].lots, 0.95, &err));
    NEAR(many.lo, lo, 0.002);
    NEAR(many.hi, hi, 0.002);
    tb_arena_free(&mem);
}

static void a_small_record_stands_on_what_was_published_as_it_was_fitted(void **state)
{
    const struct tb_tally t[] = { { 6, 1 }, { 3, 0 } };
    struct tb_beta published = tb_record_published();
    struct tb_arena mem = { 0 };
    struct tb_posterior p, q;
    struct tb_belief b;

    (void)state;
    OK(tb_record_belief(&b, t, TB_COUNT(t), &mem, &err));
    assert_false(b.own);
    assert_int_equal(b.n, 0);
    NEAR(b.lightest, published.a + published.b, 1e-12);
    OK(tb_belief_posterior(&p, &b, &t[0], 0.95, &err));
    OK(tb_record_posterior(&q, &published, &t[0], 0.95, &err));
    assert_true(p.lo == q.lo && p.hi == q.hi && p.mean == q.mean);
    tb_arena_free(&mem);
}

static void what_cannot_be_is_refused_and_leaves_nothing(void **state)
{
    const struct tb_tally odd[] = { { 5, 6 } };
    struct tb_arena mem = { 0 };
    struct tb_posterior p = { .mean = 7 };
    struct tb_belief b = { .n = 7 };

    (void)state;
    assert_int_equal(tb_record_belief(&b, odd, 1, &mem, &err), TB_EINVAL);
    assert_int_equal(b.n, 7);
    OK(tb_record_belief(&b, alike, TB_COUNT(alike), &mem, &err));
    assert_int_equal(tb_belief_posterior(&p, &b, odd, 0.95, &err), TB_EINVAL);
    assert_string_equal(err.msg, "6 wrong lots of 5 is not a possible record");
    assert_int_equal(tb_belief_posterior(&p, &b, &alike[0], 1, &err), TB_EINVAL);
    assert_int_equal(tb_belief_posterior(&p, &b, &alike[0], 0, &err), TB_EINVAL);
    assert_true(p.mean == 7);
    tb_arena_free(&mem);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_law_of_seventy_one_groups_of_rats_is_the_published_one),
        cmocka_unit_test(shares_of_suppliers_that_seem_alike_agree_with_scipy),
        cmocka_unit_test(no_supplier_has_a_thousand_lots_behind_it_that_nobody_judged),
        cmocka_unit_test(an_interval_is_never_narrower_than_the_likeliest_spread_allows),
        cmocka_unit_test(more_lots_of_its_own_make_a_supplier_speak_for_itself),
        cmocka_unit_test(a_small_record_stands_on_what_was_published_as_it_was_fitted),
        cmocka_unit_test(what_cannot_be_is_refused_and_leaves_nothing),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
