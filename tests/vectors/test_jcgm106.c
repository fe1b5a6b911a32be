/* Published figures on conformity, tests/vectors/jcgm106.csv. */
#include "tenterbook/lab.h"

#include "vectors/stats_rows.h"

#include <gsl/gsl_errno.h>

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static bool starts(const struct stats_row *r, const char *with)
{
    return strncmp(r->cell[0], with, strlen(with)) == 0;
}

static struct tb_lab_limit limit_of(const struct stats_row *r)
{
    return (struct tb_lab_limit){ stats_number(r, "TL", -INFINITY), stats_number(r, "TU", INFINITY) };
}

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

static void every_published_probability_is_met(void **state)
{
    struct stats_rows t = stats_read("jcgm106");
    size_t met = 0, failed = 0;

    (void)state;
    for (size_t i = 1; i < t.n; i++) {
        double got = one_result(&t.row[i]), exact = strtod(t.row[i].cell[4], NULL);
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
    assert_int_equal(met, 12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_published_probability_is_met),
    };

    (void)gsl_set_error_handler_off();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
