/* Published figures on conformity and risk, tests/vectors/jcgm106.csv. */
#include "tenterbook/lab.h"

#include "vectors/stats_rows.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_randist.h>

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

struct normal {
    double mean, sd;
};

static double normal_density(double value, const void *with)
{
    const struct normal *n = with;

    return gsl_ran_gaussian_pdf(value - n->mean, n->sd);
}

struct gamma {
    double a, scale;
};

static double gamma_density(double value, const void *with)
{
    const struct gamma *g = with;

    return gsl_ran_gamma_pdf(value, g->a, g->scale);
}

static bool starts(const struct stats_row *r, const char *with)
{
    return strncmp(r->cell[0], with, strlen(with)) == 0;
}

static struct tb_lab_limit limit_of(const struct stats_row *r)
{
    return (struct tb_lab_limit){ stats_number(r, "TL", -INFINITY), stats_number(r, "TU", INFINITY) };
}

/* --- chance that one result conforms ----------------------------------------------------------------------- */
static double speed_limit(const struct stats_row *r)
{
    double y = stats_number(r, "TU", 0);

    for (int i = 0; i < 200; i++) /* the uncertainty grows with the reading */
        y = stats_number(r, "TU", 0) +
            tb_lab_guard(stats_number(r, "urel", 0) * y, INFINITY, stats_number(r, "pc", 0));
    return y;
}

static double one_result(const struct stats_row *r)
{
    double p = tb_lab_conformity(stats_number(r, "y", NAN), stats_number(r, "u", NAN), INFINITY, limit_of(r));

    if (starts(r, "t1_"))
        return tb_lab_guard(1, INFINITY, stats_number(r, "pc", NAN));
    if (starts(r, "speed"))
        return speed_limit(r);
    return starts(r, "m_spec") ? 1 - p : p;
}

/* --- risks over a stream of items ---------------------------------------------------------------------------- */
static double risk(double *producer, const struct tb_lab_prior *prior, double u, struct tb_lab_limit limit,
                   struct tb_lab_limit accept)
{
    double consumer = NAN;
    struct tb_err err = { 0 };

    assert_int_equal(tb_lab_risks(&consumer, producer, prior, u, limit, accept, &err), TB_OK);
    return consumer;
}

/* Guard band that makes the consumer's risk the target: both ends, or the upper one only. */
static double band_for(double target, const struct tb_lab_prior *prior, double u, struct tb_lab_limit limit,
                       bool both)
{
    double low = 0, high = limit.upper - (isinf(limit.lower) ? prior->low : limit.lower), producer;

    if (both)
        high /= 2;
    for (int i = 0; i < 60; i++) {
        double w = (low + high) / 2;
        struct tb_lab_limit accept = { both ? limit.lower + w : -INFINITY, limit.upper - w };

        if (risk(&producer, prior, u, limit, accept) > target)
            low = w;
        else
            high = w;
    }
    return (low + high) / 2;
}

static double bearing(const struct stats_row *r)
{
    struct gamma g = { stats_number(r, "a", 0), stats_number(r, "scale", 0) };
    struct tb_lab_prior prior = { gamma_density, &g, 0, 20 };
    struct tb_lab_limit limit = { -INFINITY, stats_number(r, "TU", 2) }, accept = { -INFINITY, INFINITY };
    double um = stats_number(r, "um", 0.25), producer, consumer;

    if (starts(r, "bb_mean"))
        return g.a * g.scale;
    if (starts(r, "bb_out"))
        return risk(&producer, &prior, um, limit, accept);
    if (starts(r, "bb_rc0"))
        return risk(&producer, &prior, um, limit, (struct tb_lab_limit){ 0, 2 });
    if (starts(r, "bb_w"))
        return band_for(stats_number(r, "target", 0), &prior, um, limit, false);
    if (starts(r, "bb_AU"))
        return limit.upper - band_for(stats_number(r, "target", 0), &prior, um, limit, false);
    accept.upper = stats_number(r, "AU", 2);
    consumer = risk(&producer, &prior, um, limit, accept);
    (void)consumer;
    return producer;
}

static double machine(const struct stats_row *r)
{
    struct normal n = { stats_number(r, "mean", 0), stats_number(r, "sd", 1) };
    struct tb_lab_prior prior = { normal_density, &n, n.mean - 12 * n.sd, n.mean + 12 * n.sd };
    double um = stats_number(r, "um", 0), producer;

    if (starts(r, "m_gb"))
        return band_for(stats_number(r, "target", 0), &prior, um, limit_of(r), true);
    (void)risk(&producer, &prior, um, limit_of(r), limit_of(r));
    return producer;
}

/* A centred process of which `itp` lies within +-1; or one of deviation 1 with limits at SL. */
static double process(const struct stats_row *r)
{
    double itp = stats_number(r, "itp", 0.9), tolerance = stats_number(r, "SL", 1);
    struct normal n = { 0, stats_input(r, "SL") ? 1 : 1 / gsl_cdf_ugaussian_Pinv((1 + itp) / 2) };
    struct tb_lab_prior prior = { normal_density, &n, -12 * n.sd, 12 * n.sd };
    /* the ratio is of the process to the measurement in two of the sources, of the tolerance in the other */
    double um = stats_input(r, "ratio") ? n.sd / stats_number(r, "ratio", 4)
                : stats_input(r, "SL")  ? n.sd / stats_number(r, "TUR", 4)
                                        : tolerance / (2 * stats_number(r, "TUR", 4));
    double at = tolerance * stats_number(r, "GB", 1), producer;
    double consumer = risk(&producer, &prior, um, (struct tb_lab_limit){ -tolerance, tolerance },
                           (struct tb_lab_limit){ -at, at });

    if (starts(r, "rp_u_"))
        return 100 * consumer;
    if (starts(r, "rp_c_"))
        return 100 * consumer / (consumer + itp - producer);
    return consumer;
}

static double answer(const struct stats_row *r)
{
    if (starts(r, "bb_"))
        return bearing(r);
    if (starts(r, "m_pfr") || starts(r, "m_gb"))
        return machine(r);
    if (starts(r, "itp_") || starts(r, "rp_") || starts(r, "de_"))
        return process(r);
    return one_result(r);
}

static void every_published_probability_and_risk_is_met(void **state)
{
    struct stats_rows t = stats_read("jcgm106");
    size_t met = 0, failed = 0;

    (void)state;
    for (size_t i = 1; i < t.n; i++) {
        double got = answer(&t.row[i]), exact = strtod(t.row[i].cell[4], NULL);
        bool ok = fabs(got - exact) <= 1e-9 * fmax(1, fabs(exact));

        if (*t.row[i].cell[3])
            ok = ok && fabs(got - strtod(t.row[i].cell[3], NULL)) <= strtod(t.row[i].cell[5], NULL);
        if (ok)
            met++;
        else {
            print_message("%s: got %.13g, exact %s, published %s\n", t.row[i].cell[0], got, t.row[i].cell[4],
                          t.row[i].cell[3]);
            failed++;
        }
    }
    stats_free(&t);
    assert_int_equal(failed, 0);
    assert_int_equal(met, 34);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_published_probability_and_risk_is_met),
    };

    (void)gsl_set_error_handler_off();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
