/* Sampling: exact on small lots by counting every case, and the refusals. */
#include "gen/ref_base_rate.h"
#include "tenterbook/interval.h"
#include "tenterbook/sampling.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static struct tb_err err;

#define OK(call) assert_int_equal((call), TB_OK)
#define NEAR(a, b, slack) assert_true(fabs((a) - (b)) <= (slack))

static double choose(long n, long k)
{
    double c = 1;

    if (k < 0 || k > n)
        return 0;
    for (long i = 0; i < k; i++)
        c = c * (double)(n - i) / (double)(i + 1);
    return c;
}

/* P(exactly x shown): false ones drawn, then each caught or not, term by term. */
static double shown(long x, long lot, long bad, long drawn, double s)
{
    double sum = 0;

    for (long j = x; j <= bad; j++)
        sum += choose(bad, j) * choose(lot - bad, drawn - j) / choose(lot, drawn) * choose(j, x) *
               pow(s, (double)x) * pow(1 - s, (double)(j - x));
    return sum;
}

/* --- discovery and proof --- */

static void the_chance_to_see_one_is_that_of_counting_every_case(void **state)
{
    (void)state;
    for (long lot = 1; lot <= 12; lot++)
        for (long bad = 0; bad <= lot; bad++)
            for (long drawn = 0; drawn <= lot; drawn++)
                for (int c = 1; c <= 4; c++) {
                    double chance, miss, want = shown(0, lot, bad, drawn, c / 4.0);

                    OK(tb_discovery_chance(&chance, &miss, lot, bad, drawn, c / 4.0, &err));
                    NEAR(miss, want, 1e-13);
                    NEAR(chance, 1 - want, 1e-13);
                }
}

static void a_tie_counts_as_reached(void **state)
{
    long cut;

    (void)state;
    OK(tb_discovery_cut(&cut, 20, 1, 0.95, 1, &err)); /* one of twenty is missed exactly once in twenty */
    assert_int_equal(cut, 19);
    OK(tb_discovery_cut(&cut, 1000000, 1, 0.95, 1, &err));
    assert_int_equal(cut, 950000);
    OK(tb_discovery_cut(&cut, 10, 1, 0.95, 0.9, &err));
    assert_int_equal(cut, -1);
}

/* For every number of false bolts, how often the bound lies below it: no more than 1 - conf. */
static void the_bound_covers_as_often_as_it_says(void **state)
{
    const double conf[] = { 0.5, 0.9, 0.95 }, s[] = { 1, 0.7 };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(conf); i++)
        for (size_t k = 0; k < TB_COUNT(s); k++)
            for (long drawn = 0; drawn <= 14; drawn += 7)
                for (long bad = 0; bad <= 18; bad++) {
                    double wrong = 0;

                    for (long x = 0; x <= drawn; x++) {
                        long most;

                        OK(tb_proof_most(&most, 18, drawn, x, s[k], conf[i], &err));
                        if (most < bad)
                            wrong += shown(x, 18, bad, drawn, s[k]);
                    }
                    assert_true(wrong <= 1 - conf[i] + 1e-12);
                }
}

/* Nor how often the least lies above it; and of what nothing was found nothing is said. */
static void the_least_covers_as_often_as_it_says_and_is_no_more_than_the_most(void **state)
{
    const double conf[] = { 0.5, 0.9, 0.95 }, s[] = { 1, 0.7 };
    long least, most;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(conf); i++)
        for (size_t k = 0; k < TB_COUNT(s); k++)
            for (long drawn = 0; drawn <= 14; drawn += 7)
                for (long bad = 0; bad <= 18; bad++) {
                    double wrong = 0;

                    for (long x = 0; x <= drawn; x++) {
                        OK(tb_proof_least(&least, 18, drawn, x, conf[i], &err));
                        OK(tb_proof_most(&most, 18, drawn, x, s[k], conf[i], &err));
                        assert_true(x <= least && least <= most);
                        if (least > bad)
                            wrong += shown(x, 18, bad, drawn, s[k]);
                    }
                    assert_true(wrong <= 1 - conf[i] + 1e-12);
                }
    OK(tb_proof_least(&least, 18, 7, 0, 0.95, &err));
    assert_int_equal(least, 0);
    OK(tb_proof_least(&least, 18, 18, 5, 0.95, &err));
    assert_int_equal(least, 5); /* all were looked at, and none is missed */
    assert_int_equal(tb_proof_least(&least, 18, 4, 5, 0.95, &err), TB_EINVAL);
}

static void metres_are_bounded_by_the_longest_bolts(void **state)
{
    const double found[] = { 30 };
    double other[] = { 40, 60, 50 }, metres = -1;

    (void)state;
    OK(tb_proof_metres(&metres, 3, found, 1, other, 3, &err));
    assert_true(metres == 30 + 60 + 50);
    OK(tb_proof_metres(&metres, 9, found, 1, other, 3, &err));
    assert_true(metres == 180);
    assert_int_equal(tb_proof_metres(&metres, 0, found, 1, other, 3, &err), TB_EINVAL);
    assert_string_equal(err.msg, "at most 0 false bolts is not possible; 1 were found");
}

/* --- spread draws --- */

/* Largest chance of a miss over every placing of the false bolts. */
static double worst(const struct tb_stratum *s, size_t n, long bad, double catch_chance)
{
    double most = 0;

    if (n == 1)
        return bad <= s->bolts ? shown(0, s->bolts, bad, s->cut, catch_chance) : 0;
    for (long here = 0; here <= bad && here <= s->bolts; here++) {
        double miss =
            shown(0, s->bolts, here, s->cut, catch_chance) * worst(s + 1, n - 1, bad - here, catch_chance);

        most = fmax(most, miss);
    }
    return most;
}

static void a_spread_draw_holds_for_the_worst_placing(void **state)
{
    struct tb_stratum s[] = { { 9, 0 }, { 4, 0 }, { 2, 0 } };
    const double catch_chance[] = { 1, 0.9, 0.6, 0.2 };

    (void)state;
    for (long cut = 0; cut <= 15; cut++) {
        OK(tb_spread(s, 3, cut, &err));
        for (size_t c = 0; c < TB_COUNT(catch_chance); c++)
            for (long bad = 0; bad <= 15; bad++) {
                double miss;

                OK(tb_spread_chance(NULL, &miss, s, 3, bad, catch_chance[c], &err));
                NEAR(miss, worst(s, 3, bad, catch_chance[c]), 1e-12);
            }
    }
}

static void spreading_gives_every_dye_lot_one_before_any_gets_two_and_never_takes_back(void **state)
{
    struct tb_stratum s[] = { { 50, 0 }, { 30, 0 }, { 20, 0 }, { 1, 0 } }, before[4];
    long sum;

    (void)state;
    memset(before, 0, sizeof before);
    for (long cut = 0; cut <= 101; cut++) {
        OK(tb_spread(s, 4, cut, &err));
        sum = 0;
        for (size_t i = 0; i < 4; i++) {
            assert_true(s[i].cut >= before[i].cut && s[i].cut <= s[i].bolts);
            assert_true(cut < 4 ? s[i].cut <= 1 : s[i].cut >= 1);
            sum += s[i].cut;
        }
        assert_int_equal(sum, cut);
        memcpy(before, s, sizeof s);
    }
}

static void a_spread_plan_is_the_smallest_that_holds(void **state)
{
    struct tb_stratum s[] = { { 12, 0 }, { 7, 0 }, { 5, 0 } };
    long cut;

    (void)state;
    for (long bad = 1; bad <= 6; bad++) {
        OK(tb_spread_cut(&cut, s, 3, bad, 0.9, 0.95, &err));
        if (cut < 0)
            continue;
        assert_true(worst(s, 3, bad, 0.95) <= 0.1 + 1e-12);
        OK(tb_spread(s, 3, cut - 1, &err));
        assert_true(worst(s, 3, bad, 0.95) > 0.1);
    }
}

/* P(count shown = x) for a placing: the strata are convolved. */
static void shown_in(double *p, const struct tb_stratum *s, const long *bad, double catch_chance)
{
    double a[32] = { 0 }, b[32] = { 0 };

    memset(p, 0, 32 * sizeof *p);
    for (long x = 0; x <= s[0].cut; x++)
        a[x] = shown(x, s[0].bolts, bad[0], s[0].cut, catch_chance);
    for (long x = 0; x <= s[1].cut; x++)
        b[x] = shown(x, s[1].bolts, bad[1], s[1].cut, catch_chance);
    for (long x = 0; x <= s[0].cut; x++)
        for (long y = 0; y <= s[1].cut; y++)
            p[x + y] += a[x] * b[y];
}

static void the_bound_of_a_spread_draw_covers_wherever_the_false_bolts_are(void **state)
{
    const struct tb_stratum s[] = { { 10, 5 }, { 6, 4 } };
    const double catch_chance[] = { 1, 0.75 };

    (void)state;
    for (size_t c = 0; c < 2; c++)
        for (long one = 0; one <= 10; one++)
            for (long two = 0; two <= 6; two++) {
                const long bad[] = { one, two };
                double p[32], wrong = 0;

                shown_in(p, s, bad, catch_chance[c]);
                for (long x = 0; x <= 9; x++) {
                    long most;

                    OK(tb_proof_most_spread(&most, s, 2, x, catch_chance[c], 0.9, &err));
                    if (most < one + two)
                        wrong += p[x];
                }
                assert_true(wrong <= 0.1 + 1e-12);
            }
}

/* --- acceptance --- */

static void a_lot_smaller_than_the_plan_is_looked_at_whole(void **state)
{
    struct tb_acceptance p;

    (void)state;
    OK(tb_acceptance_plan(&p, 40, TB_LEVEL_II, 0.25, TB_NORMAL, &err)); /* code D, arrow to H: 50 bolts */
    assert_string_equal(p.code, "D");
    assert_string_equal(p.use_code, "H");
    assert_int_equal(p.table_n, 50);
    assert_int_equal(p.cut, 40);
    OK(tb_acceptance_plan(&p, 1, TB_LEVEL_II, 6.5, TB_NORMAL, &err));
    assert_int_equal(p.cut, 1);
}

static void what_cannot_be_is_refused_with_a_sentence(void **state)
{
    struct tb_acceptance p = { 0 };
    double x = -1;
    long n = -5;

    (void)state;
    assert_int_equal(tb_acceptance_plan(&p, 0, TB_LEVEL_II, 1, TB_NORMAL, &err), TB_EINVAL);
    assert_string_equal(err.msg, "a lot of 0 bolts cannot be sampled; it holds at least one");
    assert_int_equal(tb_acceptance_plan(&p, 9, TB_LEVEL_II, 3, TB_NORMAL, &err), TB_EINVAL);
    assert_string_equal(err.msg, "an AQL of 3 % is not in the standard's table; take 2.5 or 4");
    assert_int_equal(tb_discovery_cut(&n, 9, 1, 1, 1, &err), TB_EINVAL);
    assert_string_equal(err.msg, "being 1 sure is not possible by sampling; it lies above 0 and below 1");
    assert_int_equal(tb_discovery_cut(&n, 9, 0, 0.9, 1, &err), TB_EINVAL);
    assert_int_equal(tb_discovery_cut(&n, 9, 1, 0.9, 0, &err), TB_EINVAL);
    assert_int_equal(tb_binomial_p(&x, NULL, NULL, 1, 5, -0.1, &err), TB_EINVAL);
    assert_string_equal(err.msg, "a share of -0.1 is not possible; it lies between 0 and 1");
    assert_int_equal(tb_proof_most(&n, 9, 10, 0, 1, 0.9, &err), TB_EINVAL);
    assert_string_equal(err.msg, "10 burned bolts of 9 is not possible; it is a number from 0 to 9");
    assert_int_equal(tb_cusum_design(&(struct tb_cusum){ 0 }, 0.2, 0.1, 100, &err), TB_EINVAL);
    assert_int_equal(tb_pchart_limits(&n, &n, 0.1, 10, 0.6, &err), TB_EINVAL);
    assert_true(n == -5 && x == -1 && p.code == NULL);
}

/* --- switching; the names are those of sql/reference/switching_rule.csv --- */

static const struct tb_lot_outcome good = { .steady = true, .accept_number_small = true };
static const struct tb_lot_outcome bad = { .steady = true, .accept_number_small = true, .refused = true };

static void lots(struct tb_switching *s, const struct tb_lot_outcome *lot, int n)
{
    while (n-- > 0)
        (void)tb_switching_step(s, lot);
}

static void rule_S1_two_of_five_lots_refused_tighten(void **state)
{
    struct tb_switching s;

    (void)state;
    for (int between = 0; between <= 3; between++) { /* two of 2, 3, 4, 5 */
        tb_switching_start(&s, TB_RULES_2859);
        lots(&s, &bad, 1);
        lots(&s, &good, between);
        assert_int_equal(s.now, TB_NORMAL);
        assert_true(tb_switching_step(&s, &bad));
        assert_int_equal(s.now, TB_TIGHTENED);
    }
    tb_switching_start(&s, TB_RULES_2859); /* two of six do not */
    lots(&s, &bad, 1);
    lots(&s, &good, 4);
    lots(&s, &bad, 1);
    assert_int_equal(s.now, TB_NORMAL);
}

static void rule_S1_a_lot_offered_again_is_not_counted(void **state)
{
    const struct tb_lot_outcome again = { .steady = true, .refused = true, .resubmitted = true };
    struct tb_switching s;

    (void)state;
    tb_switching_start(&s, TB_RULES_2859);
    lots(&s, &bad, 1);
    lots(&s, &again, 3);
    assert_int_equal(s.now, TB_NORMAL);
}

static void rule_S2_five_lots_accepted_loosen_tightened_inspection(void **state)
{
    struct tb_switching s;

    (void)state;
    tb_switching_start(&s, TB_RULES_105E);
    lots(&s, &bad, 2);
    lots(&s, &good, 4);
    lots(&s, &bad, 1);
    lots(&s, &good, 4);
    assert_int_equal(s.now, TB_TIGHTENED);
    lots(&s, &good, 1);
    assert_int_equal(s.now, TB_NORMAL);
}

static void rule_S3_ten_good_lots_below_the_limit_allow_reduced_inspection(void **state)
{
    struct tb_lot_outcome fine = good;
    struct tb_switching s;

    (void)state;
    tb_switching_start(&s, TB_RULES_105E);
    lots(&s, &fine, 12);
    assert_int_equal(s.now, TB_NORMAL); /* the limit number was not met */
    fine.below_limit = true;
    tb_switching_start(&s, TB_RULES_105E);
    lots(&s, &fine, 9);
    assert_int_equal(s.now, TB_NORMAL);
    lots(&s, &fine, 1);
    assert_int_equal(s.now, TB_REDUCED);
}

static void rule_S4_reduced_inspection_ends_with_a_refusal_a_gap_or_unsteadiness(void **state)
{
    const struct tb_lot_outcome ends[] = { bad, { .steady = true, .between = true }, { .steady = false } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(ends); i++) {
        struct tb_switching s = { .rules = TB_RULES_105E, .now = TB_REDUCED };

        lots(&s, &good, 3);
        assert_int_equal(s.now, TB_REDUCED);
        assert_true(tb_switching_step(&s, &ends[i]));
        assert_int_equal(s.now, TB_NORMAL);
    }
}

static void rule_S5_five_lots_refused_under_tightened_inspection_stop_the_supplier(void **state)
{
    struct tb_switching s;

    (void)state;
    tb_switching_start(&s, TB_RULES_105E);
    lots(&s, &bad, 2);
    for (int i = 0; i < 4; i++) {
        lots(&s, &bad, 1);
        lots(&s, &good, 2);
    }
    assert_false(s.stopped);
    lots(&s, &bad, 1);
    assert_true(s.stopped);
    assert_false(tb_switching_step(&s, &good));
    tb_switching_resume(&s);
    assert_false(s.stopped);
    assert_int_equal(s.now, TB_TIGHTENED);
}

static void rules_I3_I6_I7_a_switching_score_of_thirty_allows_reduced_inspection(void **state)
{
    const struct tb_lot_outcome wide = { .steady = true, .would_pass_tighter = true };
    const struct tb_lot_outcome tight = { .steady = true };
    struct tb_switching s;

    (void)state;
    tb_switching_start(&s, TB_RULES_2859);
    lots(&s, &good, 14); /* two each */
    assert_int_equal(s.score, 28);
    lots(&s, &good, 1);
    assert_int_equal(s.now, TB_REDUCED);
    tb_switching_start(&s, TB_RULES_2859);
    lots(&s, &wide, 9); /* three each */
    assert_int_equal(s.score, 27);
    lots(&s, &tight, 1); /* accepted, but not one step tighter */
    assert_int_equal(s.score, 0);
    lots(&s, &wide, 10);
    assert_int_equal(s.now, TB_REDUCED);
}

/* --- which bolts --- */

static void a_draw_is_the_same_on_every_machine(void **state)
{
    /* with sha256sum and python3: docs/sampling.md, "Drawing again by hand" */
    const long want[] = { 1, 8, 10 };
    long place[3];

    (void)state;
    OK(tb_pick(place, 10, 3, "W26", "W26-014.02", &err));
    for (size_t i = 0; i < 3; i++)
        assert_int_equal(place[i], want[i]);
}

static void every_bolt_is_drawn_equally_often(void **state)
{
    long count[7] = { 0 }, place[7];
    char seed[16];

    (void)state;
    for (int i = 0; i < 7000; i++) {
        long cut = i % 7;

        (void)snprintf(seed, sizeof seed, "s%d", i);
        OK(tb_pick(place, 7, cut, seed, "", &err));
        for (long k = 0; k < cut; k++) {
            assert_true(place[k] >= 1 && place[k] <= 7 && (k == 0 || place[k] > place[k - 1]));
            count[place[k] - 1]++;
        }
    }
    for (size_t i = 0; i < 7; i++) /* 3000 expected, deviation 37 */
        assert_true(labs(count[i] - 3000) < 190);
}

static void a_seed_that_cannot_be_written_down_is_refused(void **state)
{
    long place[1];

    (void)state;
    assert_int_equal(tb_pick(place, 5, 1, "", "", &err), TB_EINVAL);
    assert_int_equal(tb_pick(place, 5, 1, "a/b", "", &err), TB_EINVAL);
    assert_string_equal(err.msg,
                        "a seed consists of letters, digits and signs without spaces or '/'; 'a/b' does not");
    assert_int_equal(tb_pick(place, 5, 6, "a", "", &err), TB_EINVAL);
}

/* --- records --- */

static void the_published_rates_give_the_published_prior(void **state)
{
    struct tb_tally t[64];
    struct tb_beta b, again;

    (void)state;
    assert_true(tb_ref_base_rate_n <= TB_COUNT(t));
    for (size_t i = 0; i < tb_ref_base_rate_n; i++)
        t[i] = (struct tb_tally){ tb_ref_base_rate[i].tested, tb_ref_base_rate[i].wrong };
    OK(tb_record_fit(&again, NULL, NULL, t, tb_ref_base_rate_n, &err));
    b = tb_record_published();
    NEAR(b.a, again.a, 1e-6);
    NEAR(b.b, again.b, 1e-6);
    NEAR(b.a / (b.a + b.b), 0.27, 0.005); /* mean 0.27, weight about 3 lots */
    NEAR(b.a + b.b, 3.3, 0.05);
}

static void a_site_speaks_for_itself_once_it_has_a_record(void **state)
{
    struct tb_tally t[] = { { 10, 1 }, { 10, 0 }, { 10, 4 }, { 10, 1 }, { 2, 0 }, { 0, 0 } };
    struct tb_beta b;
    bool own = true;

    (void)state;
    OK(tb_record_prior(&b, &own, t, 3, &err)); /* three suppliers are too few */
    assert_false(own);
    OK(tb_record_prior(&b, &own, t, 6, &err));
    assert_true(own);
    NEAR(b.a / (b.a + b.b), 6.0 / 42, 0.05);
}

static void a_supplier_with_few_lots_leans_on_the_others(void **state)
{
    const struct tb_beta prior = { 1, 9 };
    const struct tb_tally few = { 1, 1 }, many = { 100, 100 };
    struct tb_posterior p, q;

    (void)state;
    OK(tb_record_posterior(&p, &prior, &few, 0.95, &err));
    NEAR(p.mean, 2.0 / 11, 1e-15); /* by hand: (1 + 1) / (1 + 9 + 1) */
    assert_true(p.lo < p.mean && p.mean < p.hi);
    OK(tb_record_posterior(&q, &prior, &many, 0.95, &err));
    NEAR(q.mean, 101.0 / 110, 1e-15);
}

static void a_record_that_tells_nothing_is_refused(void **state)
{
    struct tb_tally none[] = { { 5, 0 }, { 7, 0 } }, odd[] = { { 5, 6 } };
    struct tb_beta b = { 7, 7 };

    (void)state;
    assert_int_equal(tb_record_fit(&b, NULL, NULL, none, 2, &err), TB_EINVAL);
    assert_string_equal(err.msg, "0 wrong lots of 12 tell nothing of how suppliers differ");
    assert_int_equal(tb_record_fit(&b, NULL, NULL, odd, 1, &err), TB_EINVAL);
    assert_true(b.a == 7);
}

static void equal_suppliers_are_told_to_differ_by_no_more_than_chance(void **state)
{
    struct tb_tally t[12];
    struct tb_beta b;
    bool edge = false;

    (void)state;
    for (size_t i = 0; i < 12; i++)
        t[i] = (struct tb_tally){ 20, 4 };
    OK(tb_record_fit(&b, NULL, &edge, t, 12, &err));
    assert_true(edge);
    NEAR(b.a + b.b, TB_WEIGHT_MOST, 1);
    NEAR(b.a / (b.a + b.b), 0.2, 1e-3);
}

static void very_many_lots_are_fitted_by_the_closed_form_of_the_same_sums(void **state)
{
    const struct tb_tally t[] = { { 2000, 300 }, { 2000, 100 }, { 2000, 500 } };
    const struct tb_tally more[] = { { 2001, 300 }, { 2001, 100 }, { 2001, 500 } };
    const struct tb_tally most[] = { { 1000000, 300000 }, { 1000000, 100000 }, { 900000, 500000 } };
    struct tb_beta b, c;

    (void)state;
    OK(tb_record_fit(&b, NULL, NULL, t, 3, &err));
    OK(tb_record_fit(&c, NULL, NULL, more, 3, &err));
    NEAR(c.a / b.a, 1, 2e-3); /* one lot in two thousand more */
    OK(tb_record_fit(&b, NULL, NULL, most, 3, &err));
    NEAR(b.a / (b.a + b.b), 0.32, 0.02);
}

static void exact_tests_of_a_share_agree_with_published_ones(void **state)
{
    /* tests/vectors/intervals.csv, pv_*: SciPy's test suite, from R binom.test */
    static const struct {
        long k, n;
        double p, want;
    } row[] = { { 682, 925, 0.75, 0.38249155957481695 },
                { 9, 21, 0.48, 0.6689672431939 },
                { 7, 21, 0.48, 0.1966772901718 },
                { 3, 10, 0.5, 0.34375 },
                { 2, 2, 0.4, 0.16 },
                { 2, 4, 0.3, 0.5884 } };
    double p, below;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        OK(tb_binomial_p(&p, NULL, NULL, row[i].k, row[i].n, row[i].p, &err));
        NEAR(p, row[i].want, 1e-12);
    }
    OK(tb_binomial_p(NULL, &below, NULL, 51, 235, 1.0 / 6, &err));
    NEAR(below, 0.982022657605858, 1e-12);
}

static void a_sum_is_tuned_to_the_run_that_was_chosen(void **state)
{
    struct tb_cusum c, shorter;
    const long step[] = { 0, -1 };
    double arl;

    (void)state;
    OK(tb_cusum_design(&c, 0.1, 0.2, 200, &err));
    assert_true(c.run_usual >= 200 && c.run_found < c.run_usual / 4);
    shorter = c;
    shorter.alarm--;
    OK(tb_cusum_lattice(&arl, (const long[]){ c.up, -1 }, (const double[]){ 0.1, 0.9 }, 2, shorter.alarm, 0,
                        &err));
    assert_true(arl < 200); /* one step less would alarm too often */
    assert_int_equal(tb_cusum_lattice(&arl, step, (const double[]){ 0.5, 0.5 }, 2, 5, 0, &err), TB_EINVAL);
}

static void a_change_is_noticed_and_dated(void **state)
{
    bool wrong[60] = { false };
    struct tb_cusum c;
    size_t at, since;

    (void)state;
    OK(tb_cusum_design(&c, 0.05, 0.1, 100, &err));
    tb_cusum_run(&at, &since, &c, wrong, 60);
    assert_true(at == 60 && since == 60);
    for (size_t i = 40; i < 60; i += 2)
        wrong[i] = true;
    tb_cusum_run(&at, &since, &c, wrong, 60);
    assert_int_equal(since, 40);
    assert_true(at > 40 && at < 60);
}

/* --- testers --- */

static void perfect_agreement_is_one_and_one_answer_only_is_not_a_number(void **state)
{
    const double same[] = { 5, 0, 0, 7 }, one[] = { 9, 0, 0, 0 };
    struct tb_kappa k;

    (void)state;
    OK(tb_kappa_cohen(&k, same, 2, 0.95, &err));
    assert_true(k.kappa == 1 && k.agreement == 1);
    NEAR(k.error, 0, 1e-12);
    OK(tb_kappa_cohen(&k, one, 2, 0.95, &err));
    assert_true(isnan(k.kappa) && k.agreement == 1);
}

static void answers_that_never_vary_have_no_error_and_no_kappa(void **state)
{
    /* by hand: one column only, so agreement and chance are both the share of that row */
    const double table[][4] = { { 5, 0, 1, 0 }, { 0, 7, 0, 6 }, { 5, 0, 6, 0 }, { 12, 0, 1, 0 } };
    struct tb_kappa k;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(table); i++) {
        OK(tb_kappa_cohen(&k, table[i], 2, 0.95, &err));
        assert_true(k.kappa == 0 && !signbit(k.kappa));
        assert_true(k.error == 0 && k.error_h0 == 0 && isnan(k.z));
    }
}

static void a_limit_met_exactly_signals(void **state)
{
    long low, high;

    (void)state;
    /* by hand: P(X >= 2) of two at a tenth is 1/100, P(X >= 1) of one at a hundredth too */
    OK(tb_pchart_limits(&low, &high, 0.1, 2, 0.01, &err));
    assert_int_equal(high, 2);
    OK(tb_pchart_limits(&low, &high, 0.01, 1, 0.01, &err));
    assert_int_equal(high, 1);
    OK(tb_pchart_limits(&low, &high, 0.9, 2, 0.01, &err));
    assert_int_equal(low, 0);
}

static void a_beta_interval_leaves_equal_tails(void **state)
{
    double lo, hi;

    (void)state;
    /* by hand: beta(1/2, 1) has P(X <= x) = sqrt(x), beta(1, 1/2) is its mirror image */
    OK(tb_interval_beta(&lo, &hi, 0.5, 1, 0.8, &err));
    NEAR(lo, 0.01, 1e-12);
    NEAR(hi, 0.81, 1e-12);
    OK(tb_interval_beta(&lo, &hi, 1, 0.5, 0.8, &err));
    NEAR(lo, 0.19, 1e-12);
    NEAR(hi, 0.99, 1e-12);
}

static void swatches_with_unequal_numbers_of_answers_are_refused(void **state)
{
    const double counts[] = { 3, 0, 2, 0 };
    struct tb_fleiss f;

    (void)state;
    assert_int_equal(tb_kappa_fleiss(&f, counts, 2, 2, 0.95, &err), TB_EINVAL);
    assert_string_equal(err.msg, "swatch 2 has 2 answers; all must have the same number, 2 or more");
}

/* --- the day --- */

static unsigned long dice = 20261125;

static double roll(double most)
{
    dice = (dice * 6364136223846793005UL + 1442695040888963407UL);
    return (double)(dice >> 40) / 16777216.0 * most;
}

static double best_choice(const struct tb_task *t, size_t n, double minutes)
{
    double best = 0;

    for (unsigned mask = 0; mask < 1u << n; mask++) {
        double used = 0, gain = 0;

        for (size_t i = 0; i < n; i++)
            if (mask & 1u << i) {
                used += t[i].minutes;
                gain += t[i].value * t[i].chance * t[i].catch_;
            }
        if (used <= minutes)
            best = fmax(best, gain);
    }
    return best;
}

static void the_day_is_never_worth_less_than_half_of_the_best_and_its_bound_is_true(void **state)
{
    double short_of = 1;

    (void)state;
    for (int round = 0; round < 300; round++) {
        struct tb_task t[9];
        size_t n = 1 + (size_t)roll(8.99);
        double minutes = 20 + roll(120), best;
        struct tb_day d;

        for (size_t i = 0; i < n; i++)
            t[i] = (struct tb_task){ roll(1000), roll(1), roll(1), 1 + roll(90) };
        best = best_choice(t, n, minutes);
        OK(tb_day_plan(&d, t, n, minutes, &err));
        assert_true(d.minutes <= minutes * (1 + 1e-9));
        assert_true(d.gain >= best / 2 - 1e-9 && d.gain <= best + 1e-9);
        assert_true(d.most >= best - 1e-9);
        if (best > 0)
            short_of = fmin(short_of, d.gain / best);
        tb_day_free(&d);
    }
    assert_true(short_of < 1); /* the cases are hard enough to tell greedy from best */
}

static void one_great_lot_is_taken_before_many_small_ones(void **state)
{
    const struct tb_task t[] = { { 10, 1, 1, 1 }, { 500, 1, 1, 60 } };
    struct tb_day d;

    (void)state;
    OK(tb_day_plan(&d, t, 2, 60, &err)); /* by worth a minute the small one stands first and leaves no room */
    assert_int_equal(d.n, 1);
    assert_int_equal(d.order[0], 1);
    tb_day_free(&d);
    assert_int_equal(tb_day_plan(&d, t, 2, 0, &err), TB_EINVAL);
    assert_string_equal(err.msg, "a day of 0 minutes at the bench cannot be planned");
}

/* Where there are fewer cuts than strata the largest are looked at first, of equals the first; then the least looked at. */
static void few_cuts_go_to_the_largest_strata(void **state)
{
    static const long bolts[] = { 5, 20, 10, 20 };
    static const struct {
        long cut, of[4];
    } row[] = {
        { 0, { 0, 0, 0, 0 } }, { 1, { 0, 1, 0, 0 } }, { 2, { 0, 1, 0, 1 } },
        { 3, { 0, 1, 1, 1 } }, { 4, { 1, 1, 1, 1 } }, { 55, { 5, 20, 10, 20 } },
    };

    (void)state;
    for (size_t r = 0; r < TB_COUNT(row); r++) {
        struct tb_stratum s[4];

        for (size_t i = 0; i < 4; i++)
            s[i] = (struct tb_stratum){ bolts[i], 99 };
        OK(tb_spread(s, 4, row[r].cut, &err));
        for (size_t i = 0; i < 4; i++)
            assert_int_equal(s[i].cut, row[r].of[i]);
    }
    assert_int_equal(tb_spread(&(struct tb_stratum){ 5, 0 }, 1, 6, &err), TB_EINVAL);
    assert_int_equal(tb_spread(&(struct tb_stratum){ 5, 0 }, 1, -1, &err), TB_EINVAL);
    assert_int_equal(tb_spread(&(struct tb_stratum){ 0, 0 }, 1, 0, &err), TB_EINVAL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(few_cuts_go_to_the_largest_strata),
        cmocka_unit_test(the_chance_to_see_one_is_that_of_counting_every_case),
        cmocka_unit_test(a_tie_counts_as_reached),
        cmocka_unit_test(the_bound_covers_as_often_as_it_says),
        cmocka_unit_test(the_least_covers_as_often_as_it_says_and_is_no_more_than_the_most),
        cmocka_unit_test(metres_are_bounded_by_the_longest_bolts),
        cmocka_unit_test(a_spread_draw_holds_for_the_worst_placing),
        cmocka_unit_test(spreading_gives_every_dye_lot_one_before_any_gets_two_and_never_takes_back),
        cmocka_unit_test(a_spread_plan_is_the_smallest_that_holds),
        cmocka_unit_test(the_bound_of_a_spread_draw_covers_wherever_the_false_bolts_are),
        cmocka_unit_test(a_lot_smaller_than_the_plan_is_looked_at_whole),
        cmocka_unit_test(what_cannot_be_is_refused_with_a_sentence),
        cmocka_unit_test(rule_S1_two_of_five_lots_refused_tighten),
        cmocka_unit_test(rule_S1_a_lot_offered_again_is_not_counted),
        cmocka_unit_test(rule_S2_five_lots_accepted_loosen_tightened_inspection),
        cmocka_unit_test(rule_S3_ten_good_lots_below_the_limit_allow_reduced_inspection),
        cmocka_unit_test(rule_S4_reduced_inspection_ends_with_a_refusal_a_gap_or_unsteadiness),
        cmocka_unit_test(rule_S5_five_lots_refused_under_tightened_inspection_stop_the_supplier),
        cmocka_unit_test(rules_I3_I6_I7_a_switching_score_of_thirty_allows_reduced_inspection),
        cmocka_unit_test(a_draw_is_the_same_on_every_machine),
        cmocka_unit_test(every_bolt_is_drawn_equally_often),
        cmocka_unit_test(a_seed_that_cannot_be_written_down_is_refused),
        cmocka_unit_test(the_published_rates_give_the_published_prior),
        cmocka_unit_test(a_site_speaks_for_itself_once_it_has_a_record),
        cmocka_unit_test(a_supplier_with_few_lots_leans_on_the_others),
        cmocka_unit_test(a_record_that_tells_nothing_is_refused),
        cmocka_unit_test(equal_suppliers_are_told_to_differ_by_no_more_than_chance),
        cmocka_unit_test(very_many_lots_are_fitted_by_the_closed_form_of_the_same_sums),
        cmocka_unit_test(exact_tests_of_a_share_agree_with_published_ones),
        cmocka_unit_test(a_sum_is_tuned_to_the_run_that_was_chosen),
        cmocka_unit_test(a_change_is_noticed_and_dated),
        cmocka_unit_test(perfect_agreement_is_one_and_one_answer_only_is_not_a_number),
        cmocka_unit_test(answers_that_never_vary_have_no_error_and_no_kappa),
        cmocka_unit_test(a_limit_met_exactly_signals),
        cmocka_unit_test(a_beta_interval_leaves_equal_tails),
        cmocka_unit_test(swatches_with_unequal_numbers_of_answers_are_refused),
        cmocka_unit_test(the_day_is_never_worth_less_than_half_of_the_best_and_its_bound_is_true),
        cmocka_unit_test(one_great_lot_is_taken_before_many_small_ones),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
