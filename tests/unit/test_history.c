/* A supplier's judged lots: the switching rules replayed, a change dated, the advice and what it rests on. */
#include "tenterbook/record.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

static struct tb_err err;

#define OK(call)                                                                                             \
    do {                                                                                                     \
        if ((call) != TB_OK)                                                                                 \
            fail_msg("%s: %s", #call, err.msg);                                                              \
    } while (0)

#define NEAR(a, b, by) assert_true(fabs((a) - (b)) < (by))

/* "rrwww": a lot a letter, right or wrong; lot k arrives on day k of October, '|' leaves a day out. */
struct story {
    struct tb_record_lot lot[32];
    char ref[32][32], day[32][32];
    size_t n;
};

static const struct story *told(struct story *s, const char *letters)
{
    s->n = 0;
    for (size_t i = 0; letters[i]; i++) {
        if (letters[i] == '|')
            continue;
        (void)snprintf(s->ref[s->n], sizeof s->ref[0], "lot%zu", s->n);
        (void)snprintf(s->day[s->n], sizeof s->day[0], "2026-10-%02zu", i + 1);
        s->lot[s->n] = (struct tb_record_lot){ s->ref[s->n], s->day[s->n], letters[i] == 'w' };
        s->n++;
    }
    return s;
}

static struct tb_switching after(const char *letters, const char *resumed)
{
    struct story s;
    struct tb_switching state;

    (void)told(&s, letters);
    tb_switching_replay(&state, s.lot, s.n, resumed);
    return state;
}

static struct tb_record worked_out(const struct story *s, const struct tb_record *given)
{
    struct tb_record r = *given;

    r.lot = s->lot;
    r.n = s->n;
    r.own = (struct tb_tally){ (long)s->n, 0 };
    for (size_t i = 0; i < s->n; i++)
        r.own.wrong += s->lot[i].wrong;
    OK(tb_record_work_out(&r, &err));
    return r;
}

/* ISO 2859-1 as docs/sampling.md, "Switching", has it: two of five, then five under tightened inspection */
static void wrong_lots_tighten_the_inspection_and_then_stop_the_supplier(void **state)
{
    (void)state;
    assert_int_equal(after("", "").now, TB_NORMAL);
    assert_int_equal(after("rw", "").now, TB_NORMAL);
    assert_int_equal(after("wrrrrw", "").now, TB_NORMAL);
    assert_int_equal(after("wrrrw", "").now, TB_TIGHTENED);
    assert_false(after("wwwwww", "").stopped);
    assert_true(after("wwwwwww", "").stopped);
    assert_int_equal(after("wwrrrrr", "").now, TB_NORMAL);
    assert_int_equal(after("rrrrrrrrrrrrrr", "").now, TB_NORMAL); /* two points each: fifteen make thirty */
    assert_int_equal(after("rrrrrrrrrrrrrrr", "").now, TB_REDUCED);
}

/* The seventh lot, of 7 October, stops it. */
static void a_resumption_ends_the_stop_of_its_day_and_no_later_one(void **state)
{
    struct tb_switching s = after("wwwwwww", "2026-10-07");

    (void)state;
    assert_false(s.stopped); /* let in again on the very day */
    assert_int_equal(s.now, TB_TIGHTENED);
    assert_false(after("wwwwwww", "2026-10-20").stopped);
    assert_true(after("wwwwwww", "2026-10-06").stopped); /* the day before, it was not stopped yet */
    /* the next lot after the resumption is counted again */
    assert_false(after("wwwwwww|||wwww", "2026-10-08").stopped);
    assert_true(after("wwwwwww|||wwwww", "2026-10-08").stopped);
    assert_int_equal(after("wwwwwww|||rrrrr", "2026-10-08").now, TB_NORMAL);
    /* lots that came before the resumption stand under the stop */
    assert_int_equal(after("wwwwwwwrrrrr", "2026-10-20").now, TB_TIGHTENED);
    assert_int_equal(after("wwwwwwwrrrrr|", "2026-10-08").now, TB_NORMAL);
}

/* The sum begins again after its first alarm, of the third lot at 5 % usual; the change did not. */
static void a_change_that_goes_on_is_dated_by_its_beginning(void **state)
{
    static const struct tb_record usual = { .prior = { 1, 19 }, .usual = 0.05 };
    struct story s;
    struct tb_record r = worked_out(told(&s, "wwwwwwwwwwwwwwwwww"), &usual);
    size_t noticed = r.alarm_at;

    (void)state;
    assert_int_equal(r.since, 0);
    assert_true(noticed < 17);
    r = worked_out(told(&s, "rrrrwwwwwwwwwwwwwwww"), &usual);
    assert_int_equal(r.since, 4);
    assert_int_equal(r.alarm_at, 4 + noticed);
    /* right lots brought the sum down to 0: what came after is another change */
    r = worked_out(told(&s, "wwwwrrrrrrrrrrrrrrrrrrrwwww"), &usual);
    assert_true(r.since > 4);
}

static void without_a_lot_the_prior_is_all_there_is(void **state)
{
    struct story s = { .n = 0 };
    struct tb_record r = worked_out(&s, &(struct tb_record){ .prior = { 1, 9 } });

    (void)state;
    assert_int_equal(r.advice, TB_ADVICE_KEEP);
    assert_int_equal(r.ground, TB_GROUND_NOT_JUDGED);
    NEAR(r.post.mean, 0.1, 1e-12);
    NEAR(r.usual, 0.1, 1e-12);
    NEAR(r.conf, 0.95, 1e-12);
    NEAR(r.run, 200, 1e-12);
    assert_true(r.exact[0] == 0 && r.exact[1] == 0);
    assert_int_equal(r.alarm_at, 0);
}

/* 3 of 20: tests/vectors/intervals.csv has 0.0321 .. 0.3789 for the exact interval */
static void a_tally_alone_gives_its_share_and_intervals(void **state)
{
    struct tb_record r = { .own = { 20, 3 }, .prior = { 1, 9 } };

    (void)state;
    OK(tb_record_work_out(&r, &err));
    NEAR(r.post.mean, 4.0 / 30, 1e-12);
    NEAR(r.exact[0], 0.0321, 5e-5);
    NEAR(r.exact[1], 0.3789, 5e-5);
    assert_true(r.jeffreys[0] > r.exact[0] && r.jeffreys[1] < r.exact[1]);
    assert_int_equal(r.ground, TB_GROUND_NOTHING);
}

static void the_strictest_rule_is_the_advice(void **state)
{
    struct story s;
    struct tb_record r = worked_out(told(&s, "rrww"), &(struct tb_record){ .prior = { 1, 9 } });

    (void)state;
    assert_int_equal(r.advice, TB_ADVICE_TIGHTEN);
    assert_int_equal(r.ground, TB_GROUND_RULE);
    assert_string_equal(r.state.why, "two of five or fewer lots in a row were refused");
    assert_int_equal(r.right_run, 0);
    r = worked_out(told(&s, "wwwwwww"), &(struct tb_record){ .prior = { 1, 9 } });
    assert_int_equal(r.advice, TB_ADVICE_STOP);
    assert_int_equal(r.ground, TB_GROUND_RULE);
    r = worked_out(&s, &(struct tb_record){ .prior = { 1, 9 }, .resumed = "2026-10-07" });
    assert_int_equal(r.advice, TB_ADVICE_TIGHTEN);
}

/* After fifteen right lots beta(1, 9) is beta(1, 24), whose upper end is 1 - 0.025^(1/24) = 0.142. By hand. */
static void reduced_inspection_takes_a_share_that_is_small_for_certain(void **state)
{
    struct story s;
    struct tb_record r = worked_out(told(&s, "rrrrrrrrrrrrrrr"), &(struct tb_record){ .prior = { 1, 9 } });

    (void)state;
    NEAR(r.post.hi, 1 - pow(0.025, 1.0 / 24), 1e-9);
    assert_int_equal(r.advice, TB_ADVICE_REDUCE);
    assert_int_equal(r.ground, TB_GROUND_RULE);
    assert_int_equal(r.right_run, 15);
    r = worked_out(&s, &(struct tb_record){ .prior = { 1, 9 }, .usual = 0.07 });
    assert_int_equal(r.advice, TB_ADVICE_KEEP); /* twice 0.07 is below the upper end */
    assert_int_equal(r.ground, TB_GROUND_NOTHING);
}

/* A false alarm in two lots is allowed: the sum calls at the first wrong lot, which no switching rule does. */
static void a_change_tightens_until_five_lots_in_a_row_were_right(void **state)
{
    const struct tb_record given = { .prior = { 1, 9 }, .usual = 0.01, .run = 2 };
    struct story s;
    struct tb_record r = worked_out(told(&s, "rrwrrrr"), &given);

    (void)state;
    assert_int_equal(r.state.now, TB_NORMAL);
    assert_int_equal(r.alarm_at, 2);
    assert_int_equal(r.since, 2);
    assert_int_equal(r.right_run, 4);
    assert_int_equal(r.advice, TB_ADVICE_TIGHTEN);
    assert_int_equal(r.ground, TB_GROUND_CHANGE);
    r = worked_out(told(&s, "rrwrrrrr"), &given);
    assert_int_equal(r.alarm_at, 2);
    assert_int_equal(r.advice, TB_ADVICE_KEEP);
}

/* The sum begins again after an alarm; with the same design, the second wrong lot is the last alarm. */
static void the_last_alarm_counts(void **state)
{
    struct story s;
    struct tb_record r =
        worked_out(told(&s, "rwrrrrrrwr"), &(struct tb_record){ .prior = { 1, 9 }, .usual = 0.01, .run = 2 });

    (void)state;
    assert_int_equal(r.alarm_at, 8);
    assert_int_equal(r.since, 8);
}

/* A share outside of 0.005 .. 0.4 would make a sum that calls always or never. */
static void the_share_called_usual_is_kept_in_bounds(void **state)
{
    struct story s;
    struct tb_record r = worked_out(told(&s, "rw"), &(struct tb_record){ .prior = { 1, 9 }, .usual = 0.7 });

    (void)state;
    NEAR(r.cusum.p0, 0.4, 1e-12);
    NEAR(r.cusum.p1, 0.8, 1e-12);
    r = worked_out(&s, &(struct tb_record){ .prior = { 1, 9 }, .usual = 0.0001 });
    NEAR(r.cusum.p0, 0.005, 1e-12);
    NEAR(r.cusum.p1, 0.01, 1e-12);
}

/* Of three lots at a usual share of 0.1 all are wrong with 0.001, none with 0.729: an alarm at three, none below. */
static void months_have_exact_limits(void **state)
{
    const struct tb_record_lot lot[] = {
        { "a", "2026-09-01", false },
        { "b", "2026-09-30", true },
        { "c", "2026-09-30", false },
        { "d", "2026-11-02", true },
    };
    struct tb_record r = { .own = { 4, 2 }, .lot = lot, .n = 4, .prior = { 1, 9 } };
    struct tb_record_month m[4];
    size_t n = 0;

    (void)state;
    OK(tb_record_work_out(&r, &err));
    OK(tb_record_months(m, &n, &r, &err));
    assert_int_equal(n, 2);
    assert_string_equal(m[0].month, "2026-09");
    assert_int_equal(m[0].lots, 3);
    assert_int_equal(m[0].wrong, 1);
    assert_int_equal(m[0].high, 3);
    assert_int_equal(m[0].low, -1);
    assert_string_equal(m[1].month, "2026-11");
    assert_int_equal(m[1].lots, 1);
    assert_int_equal(m[1].wrong, 1);
    assert_int_equal(m[1].high, 2); /* one lot is never an alarm */
}

static void what_cannot_be_is_refused(void **state)
{
    struct tb_record r = { .own = { 3, 4 }, .prior = { 1, 9 } };

    (void)state;
    assert_int_equal(tb_record_work_out(&r, &err), TB_EINVAL);
    r = (struct tb_record){ .own = { 4, 3 }, .prior = { 1, 9 }, .conf = 1 };
    assert_int_equal(tb_record_work_out(&r, &err), TB_EINVAL);
    r = (struct tb_record){ .own = { 4, 3 }, .prior = { 1, 9 }, .run = 0.5 };
    assert_int_equal(tb_record_work_out(&r, &err), TB_EINVAL);
}

static void suppliers_borrow_strength_from_one_another(void **state)
{
    const struct tb_tally t[] = { { 12, 1 }, { 9, 0 }, { 20, 6 }, { 7, 1 }, { 4, 0 } };
    struct tb_arena mem = { 0 };
    struct tb_posterior p[5], one;
    struct tb_belief belief;
    struct tb_beta alone;

    (void)state;
    OK(tb_record_all(p, &belief, t, 5, 0, &mem, &err));
    assert_true(belief.own);
    OK(tb_belief_posterior(&one, &belief, &t[2], 0.95, &err));
    NEAR(p[2].mean, one.mean, 1e-12);
    NEAR(p[2].hi, one.hi, 1e-12);
    assert_true(p[2].mean < 6.0 / 20 && p[2].mean > p[0].mean);
    OK(tb_record_all(p, &belief, t, 1, 0, &mem, &err)); /* one supplier has nobody to borrow from */
    alone = tb_record_published();
    assert_false(belief.own);
    assert_true(belief.fit.a == alone.a && belief.fit.b == alone.b);
    assert_int_equal(tb_record_all(p, &belief, t, 5, 1, &mem, &err), TB_EINVAL);
    tb_arena_free(&mem);
}

static void the_names_of_advice_are_those_of_the_commands(void **state)
{
    (void)state;
    assert_string_equal(tb_advice_key(TB_ADVICE_KEEP), "keep");
    assert_string_equal(tb_advice_key(TB_ADVICE_TIGHTEN), "tighten");
    assert_string_equal(tb_advice_key(TB_ADVICE_REDUCE), "reduce");
    assert_string_equal(tb_advice_key(TB_ADVICE_STOP), "stop");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wrong_lots_tighten_the_inspection_and_then_stop_the_supplier),
        cmocka_unit_test(a_resumption_ends_the_stop_of_its_day_and_no_later_one),
        cmocka_unit_test(a_change_that_goes_on_is_dated_by_its_beginning),
        cmocka_unit_test(without_a_lot_the_prior_is_all_there_is),
        cmocka_unit_test(a_tally_alone_gives_its_share_and_intervals),
        cmocka_unit_test(the_strictest_rule_is_the_advice),
        cmocka_unit_test(reduced_inspection_takes_a_share_that_is_small_for_certain),
        cmocka_unit_test(a_change_tightens_until_five_lots_in_a_row_were_right),
        cmocka_unit_test(the_last_alarm_counts),
        cmocka_unit_test(the_share_called_usual_is_kept_in_bounds),
        cmocka_unit_test(months_have_exact_limits),
        cmocka_unit_test(what_cannot_be_is_refused),
        cmocka_unit_test(suppliers_borrow_strength_from_one_another),
        cmocka_unit_test(the_names_of_advice_are_those_of_the_commands),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
