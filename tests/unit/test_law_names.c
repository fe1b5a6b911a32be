/* What markets call fibres: the names to print are those of the law, and every one of them reads back. */
#include "law/inside.h"

#include "gen/ref_country_name.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static struct tb_law *law;

static const char *name(const char *market, const char *fibre, const char *lang, const char **status)
{
    return tb_law_name(law, tb_law_market(market), tb_fibre_by_key(fibre), lang, status);
}

static void names_to_print_are_those_of_the_law(void **state)
{
    const char *status = NULL;

    (void)state;
    /* Regulation (EU) 1007/2011 Annex I, German, French and English texts */
    assert_string_equal(name("eu", "cotton", "de", &status), "Baumwolle");
    assert_string_equal(status, "seen");
    assert_string_equal(name("eu", "elastane", "fr", NULL), "élasthanne");
    assert_string_equal(name("eu", "hemp", "en", NULL), "true hemp");
    assert_string_equal(name("eu", "nylon", "pl", NULL), "poliamid");
    assert_string_equal(name("eu", "viscose", "hu", &status), "viszkóz");
    assert_string_equal(status, "memory"); /* never to be shown as checked */
    /* 16 CFR 303.7(d); C.R.C. c. 1551 s. 26(2)(c)(ii); the assimilated Regulation keeps the names of the Union */
    assert_string_equal(name("us", "viscose", "en", NULL), "rayon");
    assert_string_equal(name("ca", "viscose", "en", NULL), "viscose");
    assert_string_equal(name("ca", "camel", "fr", NULL), "poil de chameau");
    assert_string_equal(name("gb", "viscose", "en", NULL), "viscose");
}

static void a_fibre_that_is_another_by_law_goes_under_that_name(void **state)
{
    (void)state;
    assert_string_equal(name("eu", "saran", "de", NULL), "Polychlorid");    /* Annex I no. 27 */
    assert_string_equal(name("us", "polypropylene", "en", NULL), "olefin"); /* 16 CFR 303.7(m) */
    assert_true(tb_law_same_name(law, tb_law_market("us"), tb_fibre_by_key("silk"),
                                 tb_fibre_by_key("weighted_silk"), "en"));
    assert_false(tb_law_same_name(law, tb_law_market("eu"), tb_fibre_by_key("polypropylene"),
                                  tb_fibre_by_key("polyethylene"), "en"));
}

static void a_market_has_no_name_in_a_language_it_does_not_use(void **state)
{
    const char *status = "as it was";

    (void)state;
    assert_null(name("eu", "cotton", "xx", &status));
    assert_null(name("eu", "novoloid", "de", &status));
    assert_null(name("us", "cotton", "fr", &status));
    assert_string_equal(status, "as it was");
}

static void every_name_reads_back_as_a_fibre_that_goes_under_it(void **state)
{
    size_t printed = 0;

    (void)state;
    for (size_t i = 0; i < tb_ref_law_name_n; i++) {
        const struct tb_ref_law_name *n = &tb_ref_law_name[i];
        const struct tb_ref_market *m = tb_law_market(n->market);
        int fibre = tb_fibre_by_key(n->fibre);
        const char *status = NULL, *print;
        struct tb_declaration d;

        assert_non_null(m); /* refcheck has seen to it, and to the fibre and the language */
        if (!(print = tb_law_name(law, m, fibre, n->lang, &status)))
            continue;
        printed++;
        tb_declaration_read(&d, print, strlen(print));
        if (d.n || d.comp.n != 1 || d.comp.part[0].share[0].fibre < 0 ||
            !tb_law_same_name(law, m, d.comp.part[0].share[0].fibre, fibre, n->lang))
            fail_msg("%s in %s (%s), '%s', reads otherwise: %s", n->fibre, n->market, n->lang, print,
                     d.n ? d.doubt[0].say : "another fibre");
        tb_declaration_free(&d);
    }
    assert_true(printed > 900);
}

static void every_name_of_a_country_is_read_as_that_country(void **state)
{
    (void)state;
    for (size_t i = 0; i < tb_ref_country_name_n; i++) {
        const struct tb_ref_country_name *c = &tb_ref_country_name[i];
        const char *by_code = tb_law_country(c->code, "en"), *by_name = tb_law_country(c->name, "en");

        if (!by_code || !by_name || strcmp(by_code, by_name) != 0)
            fail_msg("'%s' (%s) is read as %s, not as %s", c->name, c->lang, by_name, by_code);
    }
    assert_true(tb_ref_country_name_n > 6000);
    assert_string_equal(tb_law_country("deutschland", "fr"), "Allemagne");
    assert_string_equal(tb_law_country("土耳其", "en"), "Türkiye");
    assert_null(tb_law_country("Ruritania", "en"));
    assert_null(tb_law_country("Germany", "xx"));
    assert_null(tb_law_country("", "en"));
}

static int begin(void **state)
{
    (void)state;
    law = tb_law_new();
    return 0;
}

static int end(void **state)
{
    (void)state;
    tb_law_free(law);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(names_to_print_are_those_of_the_law),
        cmocka_unit_test(a_fibre_that_is_another_by_law_goes_under_that_name),
        cmocka_unit_test(a_market_has_no_name_in_a_language_it_does_not_use),
        cmocka_unit_test(every_name_of_a_country_is_read_as_that_country),
        cmocka_unit_test(every_name_reads_back_as_a_fibre_that_goes_under_it),
    };

    return cmocka_run_group_tests(tests, begin, end);
}
