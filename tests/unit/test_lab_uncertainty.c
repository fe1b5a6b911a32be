/* Analytic uncertainty against Monte Carlo; the decision and its edges. */
#include "tenterbook/lab.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#define RUNS 100000

struct moments {
    double sum, squares;
};

static double deviation(const struct moments *m)
{
    double mean = m->sum / RUNS;

    return sqrt((m->squares / RUNS - mean * mean) * RUNS / (RUNS - 1));
}

/* Draw readings and factors from what is said of their errors; collect the EU percentages of the mean. */
static void simulate(struct moments *out, const struct tb_lab_task *t, const struct tb_lab_det *det,
                     size_t dets, gsl_rng *rng)
{
    for (int run = 0; run < RUNS; run++) {
        double d[TB_LAB_FACTORS_MOST], mean[TB_LAB_FIBRES_MOST] = { 0 };
        struct tb_err err = { 0 };

        for (size_t k = 0; k < TB_LAB_FACTORS_MOST; k++)
            d[k] = t->d[k] + gsl_ran_flat(rng, -t->factor_error, t->factor_error);
        for (size_t i = 0; i < dets; i++) {
            struct tb_lab_det x = det[i];
            double p[TB_LAB_FIBRES_MOST];

            for (size_t k = 0; k < tb_lab_inputs(t->route, t->fibres); k++)
                x.in[k] += gsl_ran_flat(rng, -t->mass_error, t->mass_error) +
                           gsl_ran_flat(rng, -t->mass_error, t->mass_error);
            assert_int_equal(tb_lab_dry(p, t->route, t->fibres, d, &x, &err), TB_OK);
            assert_int_equal(tb_lab_adjust(p, p, t->allowance[TB_LAB_EU], t->loss, t->fibres, &err), TB_OK);
            for (size_t f = 0; f < t->fibres; f++)
                mean[f] += p[f] / (double)dets;
        }
        for (size_t f = 0; f < t->fibres; f++) {
            out[f].sum += mean[f] - 50; /* away from the mean's size, for the digits of the squares */
            out[f].squares += (mean[f] - 50) * (mean[f] - 50);
        }
    }
}

static void analytic_uncertainty_is_within_two_percent_of_monte_carlo(void **state)
{
    static const struct {
        enum tb_lab_route route;
        size_t fibres;
        double d[4];
        struct tb_lab_det det[2];
    } row[] = {
        { TB_LAB_DISSOLVE, 2, { 1.02 }, { { { 1.002, 0.603 } }, { { 0.998, 0.601 } } } },
        { TB_LAB_HAND, 3, { 1 }, { { { 0.5, 0.3, 0.2 } }, { { 0.51, 0.3, 0.2 } } } },
        { TB_LAB_VARIANT_1,
          3,
          { 1, 1.03, 1, 1.02 },
          { { { 1.6, 1.4166, 1.8, 0.9 } }, { { 1.6, 1.41, 1.8, 0.91 } } } },
        { TB_LAB_VARIANT_2, 3, { 1, 1.03, 1, 1.02 }, { { { 1, 0.785, 1, 0.49 } }, { { 1, 0.78, 1, 0.5 } } } },
        { TB_LAB_VARIANT_3,
          3,
          { 1, 1.03, 1.01, 1 },
          { { { 1, 0.485, 1, 0.198 } }, { { 1, 0.48, 1, 0.2 } } } },
        { TB_LAB_VARIANT_4, 3, { 1, 1.03, 0.99 }, { { { 1.6, 1.4166, 0.663 } }, { { 1.6, 1.41, 0.66 } } } },
    };
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);

    (void)state;
    gsl_rng_set(rng, 20261125);
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_lab_task task;
        struct tb_lab_result r;
        struct moments m[TB_LAB_FIBRES_MOST] = { { 0, 0 } };
        struct tb_err err = { 0 };

        tb_lab_task_init(&task, row[i].route, row[i].fibres);
        memcpy(task.d, row[i].d, sizeof task.d);
        memcpy(task.allowance[TB_LAB_EU], (double[]){ 17, 6.25, 8.5 }, 3 * sizeof(double));
        task.loss[1] = 4;
        task.mass_error = 0.001;
        assert_int_equal(tb_lab_compute(&r, &task, row[i].det, 2, &err), TB_OK);
        simulate(m, &task, row[i].det, 2, rng);
        for (size_t f = 0; f < row[i].fibres; f++) {
            const struct tb_lab_share *s = &r.share[TB_LAB_EU][f];
            double analytic = hypot(s->u_weigh, s->u_factor), carlo = deviation(&m[f]);

            if (fabs(analytic / carlo - 1) > 0.02)
                print_message("route %s fibre %zu: %.5f, by Monte Carlo %.5f\n",
                              tb_lab_route_key(row[i].route), f, analytic, carlo);
            assert_true(fabs(analytic / carlo - 1) <= 0.02);
            assert_true(fabs(m[f].sum / RUNS + 50 - s->percent) < 0.02); /* and the mean is the same */
        }
    }
    gsl_rng_free(rng);
}

static void nitrogen_uncertainty_is_within_two_percent_of_monte_carlo(void **state)
{
    struct tb_lab_task task;
    struct tb_lab_result r;
    struct tb_lab_det det = { { 1.0, 12.3, 0.5, 0.02 } };
    struct moments m = { 0, 0 };
    struct tb_err err = { 0 };
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);

    (void)state;
    gsl_rng_set(rng, 7);
    tb_lab_task_init(&task, TB_LAB_NITROGEN, 2);
    assert_int_equal(tb_lab_compute(&r, &task, &det, 1, &err), TB_OK);
    for (int run = 0; run < RUNS; run++) {
        struct tb_lab_det x = det;
        double p[2];

        x.in[0] += gsl_ran_flat(rng, -0.0002, 0.0002) + gsl_ran_flat(rng, -0.0002, 0.0002);
        x.in[1] += gsl_ran_flat(rng, -0.02, 0.02);
        x.in[2] += gsl_ran_flat(rng, -0.02, 0.02);
        x.in[3] += gsl_ran_flat(rng, -0.002 * 0.02, 0.002 * 0.02);
        assert_int_equal(tb_lab_dry(p, TB_LAB_NITROGEN, 2, NULL, &x, &err), TB_OK);
        m.sum += p[0] - 50;
        m.squares += (p[0] - 50) * (p[0] - 50);
    }
    gsl_rng_free(rng);
    assert_true(fabs(r.share[TB_LAB_DRY][0].u_weigh / deviation(&m) - 1) <= 0.02);
}

/*
 * Less nitrogen than jute has: 28 * 0.3 * 0.02 / 1 = 0.168 %, and (0.168 - 0.22) / (16.2 - 0.22) is -0.33 % of animal
 * fibre. The burette explains 0.1 points of it, so that all of the interval lies below 0.
 */
static void an_interval_beyond_the_whole_is_cut_at_both_ends(void **state)
{
    struct tb_lab_task task;
    struct tb_lab_result r;
    struct tb_lab_det det = { { 1, 0.3, 0, 0.02 } };
    const struct tb_lab_share *animal = &r.share[TB_LAB_DRY][0], *jute = &r.share[TB_LAB_DRY][1];
    struct tb_err err = { 0 };

    (void)state;
    tb_lab_task_init(&task, TB_LAB_NITROGEN, 2);
    assert_int_equal(tb_lab_compute(&r, &task, &det, 1, &err), TB_OK);
    assert_true(fabs(animal->percent - -0.3254) < 1e-4 && animal->percent + animal->coverage * animal->u < 0);
    assert_true(animal->low == 0 && animal->high == 0);
    assert_true(jute->low == 100 && jute->high == 100);
    assert_true(r.warnings & TB_LAB_WARN_OUTSIDE);
}

static void the_whole_budget_is_the_root_of_its_squares(void **state)
{
    struct tb_lab_task task;
    struct tb_lab_result r;
    struct tb_lab_det det[3] = { { { 1, 0.60 } }, { { 1, 0.605 } }, { { 1, 0.595 } } };
    const struct tb_lab_share *s = &r.share[TB_LAB_DRY][0];
    struct tb_err err = { 0 };

    (void)state;
    tb_lab_task_init(&task, TB_LAB_DISSOLVE, 2);
    task.limit[0] = 1;
    task.factor_error = 0;
    assert_int_equal(tb_lab_compute(&r, &task, det, 3, &err), TB_OK);
    assert_true(fabs(s->percent - 60) < 1e-9);
    assert_true(fabs(s->spread - 1) < 1e-9);
    assert_true(fabs(s->u_repeat - 0.5 / sqrt(3)) < 1e-9); /* by hand: s = 0.5, n = 3 */
    assert_true(fabs(s->u_method - 1 / 1.959964) < 1e-6);  /* 95 % limit of 1 point */
    assert_true(fabs(s->u - sqrt(pow(s->u_repeat, 2) + pow(s->u_weigh, 2) + pow(s->u_method, 2))) < 1e-12);
    /* Welch-Satterthwaite with one estimated part: 2 u^4 / u_repeat^4 */
    assert_true(fabs(s->freedom - 2 * pow(s->u / s->u_repeat, 4)) < 1e-9);
    assert_true(s->low < 60 && s->high > 60 && s->high - 60 > 1.96 * s->u);
    assert_int_equal(r.warnings, 0);
}

static void a_wide_spread_and_a_single_determination_are_flagged(void **state)
{
    struct tb_lab_task task;
    struct tb_lab_result r;
    struct tb_lab_det det[2] = { { { 1, 0.60 } }, { { 1, 0.62 } } };
    struct tb_err err = { 0 };

    (void)state;
    tb_lab_task_init(&task, TB_LAB_DISSOLVE, 2);
    task.limit[0] = 1;
    assert_int_equal(tb_lab_compute(&r, &task, det, 2, &err), TB_OK);
    assert_true(fabs(r.spread_limit - 1.41421356) < 1e-5); /* 1.96 sqrt 2 / 1.96 */
    assert_true(r.warnings & TB_LAB_WARN_SPREAD);
    det[1].in[1] = 0.614; /* 1.4 points apart: just within */
    assert_int_equal(tb_lab_compute(&r, &task, det, 2, &err), TB_OK);
    assert_false(r.warnings & TB_LAB_WARN_SPREAD);
    assert_int_equal(tb_lab_compute(&r, &task, det, 1, &err), TB_OK);
    assert_int_equal(r.warnings, TB_LAB_WARN_SINGLE);
    task.limit[0] = NAN;
    assert_int_equal(tb_lab_compute(&r, &task, det, 1, &err), TB_OK);
    assert_true(r.warnings & TB_LAB_WARN_NO_LIMIT);
}

static void critical_ranges_are_those_of_the_studentised_range(void **state)
{
    /* upper 5 % points of the range of n normal values, printed to one decimal in ISO 5725-6 (from memory) */
    static const double printed[] = { 2.8, 3.3, 3.6, 3.9, 4.0, 4.2, 4.3, 4.4, 4.5 };

    (void)state;
    for (size_t n = 2; n <= 10; n++)
        assert_true(fabs(tb_lab_critical_range(n) - printed[n - 2]) <= 0.0501);
    assert_true(fabs(tb_lab_critical_range(2) - 1.959963985 * sqrt(2)) < 1e-5); /* two values: exact */
}

static void an_answer_is_given_only_when_it_is_sure(void **state)
{
    static const struct {
        double y, u;
        enum tb_lab_answer answer;
    } row[] = {
        { 40.0, 0.5, TB_LAB_CONFORMS }, { 42.0, 0.5, TB_LAB_CONFORMS }, { 42.5, 0.5, TB_LAB_UNSAID },
        { 43.0, 0.5, TB_LAB_UNSAID },   { 43.5, 0.5, TB_LAB_UNSAID },   { 44.0, 0.5, TB_LAB_FAILS },
        { 36.0, 0.5, TB_LAB_FAILS },    { 40.0, 2.0, TB_LAB_UNSAID },   { 43.0, 0.0, TB_LAB_CONFORMS },
        { 43.1, 0.0, TB_LAB_FAILS },
    };
    struct tb_lab_limit limit = tb_lab_limit_around(40, 3);

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_lab_decision d;
        struct tb_err err = { 0 };

        assert_int_equal(tb_lab_decide(&d, row[i].y, row[i].u, INFINITY, limit, 0.95, &err), TB_OK);
        assert_int_equal(d.answer, row[i].answer);
        if (row[i].u == 0.5) { /* the guard band and the acceptance limits say the same as the answer */
            assert_true(fabs(d.guard - 0.5 * 1.6448536) < 1e-6);
            assert_int_equal(row[i].y >= d.accept.lower && row[i].y <= d.accept.upper,
                             row[i].answer == TB_LAB_CONFORMS);
            assert_true(fabs(d.accept.upper - (43 - d.guard)) < 1e-3);
        }
        if (row[i].u == 2.0)
            assert_true(d.accept.lower > d.accept.upper); /* no result could conform */
    }
}

/* No share lies beyond the ends: pure cloth found pure is pure, what is found otherwise is judged as ever. */
static void pure_cloth_can_be_found_pure(void **state)
{
    struct tb_lab_limit pure = tb_lab_limit_around(100, 0), none = { -INFINITY, 0 };
    struct tb_lab_decision d;
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(tb_lab_decide(&d, 100, 0.5, INFINITY, pure, 0.95, &err), TB_OK);
    assert_int_equal(d.answer, TB_LAB_CONFORMS);
    assert_true(d.probability == 1 && d.accept.lower == 100 && isinf(d.accept.upper));
    assert_int_equal(tb_lab_decide(&d, 0, 0.5, 3, none, 0.95, &err), TB_OK);
    assert_int_equal(d.answer, TB_LAB_CONFORMS);
    assert_true(d.accept.upper == 0);
    assert_int_equal(tb_lab_decide(&d, 99.6, 0.5, INFINITY, pure, 0.95, &err), TB_OK);
    assert_int_equal(d.answer, TB_LAB_UNSAID);
    assert_int_equal(tb_lab_decide(&d, 98, 0.5, INFINITY, pure, 0.95, &err), TB_OK);
    assert_int_equal(d.answer, TB_LAB_FAILS);
    assert_int_equal(tb_lab_decide(&d, 2, 0.5, INFINITY, none, 0.95, &err), TB_OK);
    assert_int_equal(d.answer, TB_LAB_FAILS);
    /* a tolerance leaves the rule as it is */
    assert_int_equal(tb_lab_decide(&d, 100, 0.5, INFINITY, tb_lab_limit_around(97, 3), 0.95, &err), TB_OK);
    assert_true(d.answer == TB_LAB_CONFORMS && d.probability < 1 + 1e-12);
}

static void few_determinations_make_the_answer_more_careful(void **state)
{
    struct tb_lab_limit limit = tb_lab_limit_around(40, 3);

    (void)state;
    assert_true(tb_lab_conformity(41.5, 0.5, 2, limit) < tb_lab_conformity(41.5, 0.5, INFINITY, limit));
    assert_true(tb_lab_guard(0.5, 1, 0.95) > 3 * tb_lab_guard(0.5, INFINITY, 0.95)); /* 6.31 against 1.64 */
    assert_true(isinf(tb_lab_limit_around(98, 3).upper) && isinf(tb_lab_limit_around(2, 3).lower));
}

static void questions_without_sense_are_refused(void **state)
{
    struct tb_lab_limit limit = tb_lab_limit_around(40, 3);
    struct tb_lab_decision d = { .probability = -1 };
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(tb_lab_decide(&d, NAN, 0.5, INFINITY, limit, 0.95, &err), TB_EINVAL);
    assert_int_equal(tb_lab_decide(&d, 40, -1, INFINITY, limit, 0.95, &err), TB_EINVAL);
    assert_int_equal(tb_lab_decide(&d, 40, 1, 0, limit, 0.95, &err), TB_EINVAL);
    assert_int_equal(tb_lab_decide(&d, 40, 1, INFINITY, limit, 0.4, &err), TB_EINVAL);
    assert_true(d.probability == -1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(analytic_uncertainty_is_within_two_percent_of_monte_carlo),
        cmocka_unit_test(nitrogen_uncertainty_is_within_two_percent_of_monte_carlo),
        cmocka_unit_test(an_interval_beyond_the_whole_is_cut_at_both_ends),
        cmocka_unit_test(the_whole_budget_is_the_root_of_its_squares),
        cmocka_unit_test(a_wide_spread_and_a_single_determination_are_flagged),
        cmocka_unit_test(critical_ranges_are_those_of_the_studentised_range),
        cmocka_unit_test(an_answer_is_given_only_when_it_is_sure),
        cmocka_unit_test(pure_cloth_can_be_found_pure),
        cmocka_unit_test(few_determinations_make_the_answer_more_careful),
        cmocka_unit_test(questions_without_sense_are_refused),
    };

    (void)gsl_set_error_handler_off();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
