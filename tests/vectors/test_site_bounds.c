/* The bounds of a site by lots that a laboratory settled, beside those of another program: tests/oracle/test_bounds.py. */
#include "evidence/bounds.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

static double number(const json_t *list, size_t at)
{
    return json_number_value(json_array_get(list, at));
}

/* Grades in the order of the enumeration, without that of no grade. */
static void take_judged(double judged[TB_GRADES], const json_t *list)
{
    for (size_t g = TB_GRADE_FITS; g < TB_GRADES; g++)
        judged[g] = number(list, g - 1);
}

static void take_lot(struct tb_settled_ratio *out, const json_t *one)
{
    *out = (struct tb_settled_ratio){ .unit = json_string_value(json_array_get(one, 0)),
                                      .as_declared = json_is_true(json_array_get(one, 1)),
                                      .log_ratio = number(one, 2) * log(10),
                                      .grade = (enum tb_grade)json_integer_value(json_array_get(one, 3)) };
    take_judged(out->judged, json_array_get(one, 4));
}

static void near(size_t site, const char *what, double got, double said)
{
    if (!(fabs(got - said) < 1e-8))
        fail_msg("site %zu: %s is %.10g, and %.10g by the oracle", site + 1, what, got, said);
}

static void the_bounds_of_sixty_sites_are_those_of_the_oracle(void **state)
{
    json_t *sites = json_load_file(TB_SOURCE_DIR "/tests/vectors/site_bounds.json", 0, NULL);

    (void)state;
    assert_int_equal(json_array_size(sites), 60);
    for (size_t i = 0; i < json_array_size(sites); i++) {
        const json_t *site = json_array_get(sites, i), *lots = json_object_get(site, "lots");
        struct tb_site_lots s = { .n = json_array_size(lots) };
        struct tb_settled_ratio *lot = tb_array(struct tb_settled_ratio, s.n + 1);
        struct tb_bounds b;

        for (size_t k = 0; k < s.n; k++)
            take_lot(&lot[k], json_array_get(lots, k));
        s.lot = lot;
        take_judged(s.judged, json_object_get(site, "judged"));
        near(i, "the number of cases", tb_bounds_make(&b, &s),
             json_number_value(json_object_get(site, "cases")));
        near(i, "the lower bound", b.low / log(10), json_number_value(json_object_get(site, "low")));
        near(i, "the upper bound", b.high / log(10), json_number_value(json_object_get(site, "high")));
        free(lot);
    }
    json_decref(sites);
}

int main(void)
{
    const struct CMUnitTest tests[] = { cmocka_unit_test(the_bounds_of_sixty_sites_are_those_of_the_oracle) };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
