/*
 * Labels with what is said of them: law_cases.csv has the answer (yes, no, not known), a piece of one finding ("none: ..." where no finding
 * may say it), the lines a label may carry, separated by bars, and the clause or sum each stands on.
 */
#include "law_rows.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

/* "fault: piece": a finding of that severity says it; "none: piece": none does, by its message or its clause. */
static bool found_as(const struct tb_law_answer *a, const char *expected)
{
    const char *piece = strchr(expected, ' ') + 1;
    size_t n = strcspn(expected, ":");

    for (size_t i = 0; i < a->n; i++) {
        const char *severity = tb_severity_key(a->finding[i].severity);

        if (strstr(a->finding[i].message, piece) || strstr(a->finding[i].clause, piece))
            if (strncmp(expected, "none", n) == 0 || strncmp(severity, expected, n) == 0)
                return strncmp(expected, "none", n) != 0;
    }
    return strncmp(expected, "none", n) == 0;
}

static void join_wording(struct tb_text *out, const struct tb_law_answer *a)
{
    for (size_t i = 0; i < a->wordings; i++)
        tb_text_addf(out, "%s%s", i ? " | " : "", a->wording[i]);
}

static void each_label_is_judged_and_worded_as_its_row_says(void **state)
{
    struct law_rows t = law_read("law_cases.csv");
    struct tb_law *law = tb_law_new();
    size_t wrong = 0;

    (void)state;
    for (size_t i = 1; i < t.n; i++) {
        struct tb_law_answer a;
        struct tb_text wording = { 0 };
        const char *ok;

        assert_true(law_at(&t, i, "source")[0] != '\0');
        assert_true(law_ask(&a, law, law_at(&t, i, "market"), law_at(&t, i, "text"), law_at(&t, i, "actual"),
                            law_at(&t, i, "options")));
        ok = !a.known ? "not known" : a.ok ? "yes" : "no";
        join_wording(&wording, &a);
        if (strcmp(ok, law_at(&t, i, "ok")) != 0 || (a.ok && !a.known) ||
            !found_as(&a, law_at(&t, i, "finding")) ||
            strcmp(tb_text_str(&wording), law_at(&t, i, "wording")) != 0) {
            wrong++;
            (void)printf("# line %zu: '%s' in %s: %s, %s, '%s'\n", i + 1, law_at(&t, i, "text"),
                         law_at(&t, i, "market"), ok, law_at(&t, i, "finding"), tb_text_str(&wording));
            for (size_t k = 0; k < a.n; k++)
                (void)printf("#     %s %s: %s\n", tb_severity_key(a.finding[k].severity), a.finding[k].clause,
                             a.finding[k].message);
        }
        tb_text_free(&wording);
        tb_law_answer_free(&a);
    }
    assert_true(t.n > 40);
    assert_int_equal(wrong, 0);
    tb_law_free(law);
    law_rows_free(&t);
}

/*
 * Words that may stand are worded, or it is said why not; and the reason is none that a clause would give, with a figure: then the clause should
 * have given it.
 */
static void what_may_stand_is_worded_or_says_why_not(void **state)
{
    static const char *const markets[] = { "us", "ca", "eu", "gb" };
    struct law_rows t = law_read("label_texts.csv");
    struct tb_law *law = tb_law_new();
    size_t stand = 0, worded = 0, wrong = 0;

    (void)state;
    for (size_t i = 1; i < t.n; i++)
        for (size_t k = 0; k < TB_COUNT(markets); k++) {
            struct tb_law_answer a;

            assert_true(law_ask(&a, law, markets[k], law_at(&t, i, "text"), "", ""));
            stand += a.known && a.ok;
            worded += a.known && a.ok && a.wordings;
            if (a.known && a.ok && !a.wordings && (!a.refusal || strchr(a.refusal, '%'))) {
                wrong++;
                (void)printf("# '%s' in %s may stand, but: %s\n", law_at(&t, i, "text"), markets[k],
                             a.refusal ? a.refusal : "no word");
            }
            tb_law_answer_free(&a);
        }
    (void)printf("# %zu stand, %zu of them worded\n", stand, worded);
    assert_true(worded > 100);
    assert_int_equal(wrong, 0);
    tb_law_free(law);
    law_rows_free(&t);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_label_is_judged_and_worded_as_its_row_says),
        cmocka_unit_test(what_may_stand_is_worded_or_says_why_not),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
