/* Published and derived label texts with the verdict the law gives them: label_examples.csv. */
#include "law_rows.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static void at_least_95_of_100_published_label_texts_are_judged_as_their_source_says(void **state)
{
    struct law_rows t = law_read("label_examples.csv");
    struct tb_law *law = tb_law_new();
    size_t run = 0, agree = 0, skipped = 0;

    (void)state;
    for (size_t i = 1; i < t.n; i++) {
        struct tb_law_answer a;
        bool ok = strcmp(law_at(&t, i, "verdict"), "ok") == 0;
        const char *clause = law_at(&t, i, "clause_of_fault");

        if (strcmp(law_at(&t, i, "run"), "yes") != 0) {
            (void)printf("# skipped %s: %s\n", law_at(&t, i, "id"), law_at(&t, i, "why_not"));
            assert_true(law_at(&t, i, "why_not")[0] != '\0');
            skipped++;
            continue;
        }
        run++;
        assert_true(law_ask(&a, law, law_at(&t, i, "market"), law_at(&t, i, "text"), law_at(&t, i, "actual"),
                            law_at(&t, i, "options")));
        /* a market that is known in part finds faults and gives no leave */
        if (ok ? a.ok || !a.known : a.known && !a.ok && law_faults_by(&a, clause))
            agree++;
        else {
            (void)printf("# %s: '%s' should be %s by %s\n", law_at(&t, i, "id"), law_at(&t, i, "text"),
                         law_at(&t, i, "verdict"), ok ? law_at(&t, i, "clause") : clause);
            law_show(&a);
        }
        tb_law_answer_free(&a);
    }
    (void)printf("# %zu rows run, %zu agree in verdict and clause, %zu skipped\n", run, agree, skipped);
    assert_int_equal(run + skipped, 128);
    assert_true(run >= 110);
    assert_true((double)agree >= 0.95 * (double)run);
    tb_law_free(law);
    law_rows_free(&t);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(at_least_95_of_100_published_label_texts_are_judged_as_their_source_says),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
