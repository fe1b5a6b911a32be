/*
 * Every rule at work: law_rules.csv says, for a rule and a text made up for it, whether the rule speaks and how
 * loudly. Where a rule has a number, rows stand on both sides of it. The figures come from the rule's own clause.
 */
#include "law_rows.h"

#include "gen/ref_law_rule.h"
#include "law/inside.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <strings.h>

#include <cmocka.h>

/* How loudly the rule speaks in the answer: "fault", "advice", "note", "none". */
static const char *speaks(const struct tb_law_answer *a, const char *rule)
{
    for (size_t i = 0; i < a->n; i++)
        if (strcmp(a->finding[i].rule, rule) == 0)
            return tb_severity_key(a->finding[i].severity);
    return "none";
}

static void each_rule_speaks_where_its_row_says_and_is_silent_where_it_says(void **state)
{
    struct law_rows t = law_read("law_rules.csv");
    struct tb_law *law = tb_law_new();
    size_t wrong = 0;

    (void)state;
    for (size_t i = 1; i < t.n; i++) {
        struct tb_law_answer a;
        const char *said;

        assert_true(law_ask(&a, law, law_at(&t, i, "market"), law_at(&t, i, "text"), law_at(&t, i, "actual"),
                            law_at(&t, i, "options")));
        said = speaks(&a, law_at(&t, i, "rule"));
        if (strcmp(said, law_at(&t, i, "expect")) != 0) {
            wrong++;
            (void)printf("# line %zu, %s in %s: '%s' | '%s' | %s: %s, expected %s\n", i + 1,
                         law_at(&t, i, "rule"), law_at(&t, i, "market"), law_at(&t, i, "text"),
                         law_at(&t, i, "actual"), law_at(&t, i, "options"), said, law_at(&t, i, "expect"));
            law_show(&a);
        }
        tb_law_answer_free(&a);
    }
    (void)printf("# %zu rows\n", t.n - 1);
    assert_int_equal(wrong, 0);
    tb_law_free(law);
    law_rows_free(&t);
}

static char *manual(void)
{
    char path[1024], *text = tb_alloc(1, 1 << 20);
    FILE *f;

    (void)snprintf(path, sizeof path, "%s/docs/law.md", TB_SOURCE_DIR);
    f = fopen(path, "rb");
    assert_non_null(f);
    assert_true(fread(text, 1, (1 << 20) - 1, f) > 0);
    (void)fclose(f);
    return text;
}

/* Is the key in the manual as a word of its own? */
static bool listed(const char *text, const char *id)
{
    size_t n = strlen(id);

    for (const char *at = strstr(text, id); at; at = strstr(at + 1, id))
        if (!strchr("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-", at[n]) && at[-1] == '`')
            return true;
    return false;
}

static void every_rule_is_exercised_on_both_sides_or_listed_as_informational(void **state)
{
    struct law_rows t = law_read("law_rules.csv");
    char *text = manual();
    size_t missing = 0;

    (void)state;
    for (size_t r = 0; r < tb_ref_law_rule_n; r++) {
        const struct tb_ref_law_rule *rule = &tb_ref_law_rule[r];
        bool loud = false, silent = false, inform = strcmp(rule->kind, "inform") == 0;

        for (size_t i = 1; i < t.n; i++)
            if (strcmp(law_at(&t, i, "rule"), rule->id) == 0) {
                bool none = strcmp(law_at(&t, i, "expect"), "none") == 0;

                loud |= !none;
                silent |= none || strcmp(law_at(&t, i, "expect"), rule->severity) != 0;
            }
        if (inform ? !listed(text, rule->id) : !(loud && silent)) {
            missing++;
            (void)printf(
                "# %s: %s\n", rule->id,
                inform
                    ? "docs/law.md does not list it among rules that are read but not checked"
                    : "tests/vectors/law_rules.csv needs a row where it speaks and one where it is silent");
        }
    }
    assert_int_equal(missing, 0);
    free(text);
    law_rows_free(&t);
}

/* A clause is read alone: it names its text, not the row above. What a cell may be, refcheck says when the program is made. */
static void every_clause_names_its_text(void **state)
{
    size_t wrong = 0;

    (void)state;
    for (size_t r = 0; r < tb_ref_law_rule_n; r++) {
        const struct tb_ref_law_rule *rule = &tb_ref_law_rule[r];

        if (strcmp(rule->clause, "same") == 0 || strncasecmp(rule->clause, "art. ", 5) == 0) {
            (void)printf("# %s: the clause is '%s'; it begins with the title of the law\n", rule->id,
                         rule->clause);
            wrong++;
        }
    }
    assert_int_equal(wrong, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_rule_speaks_where_its_row_says_and_is_silent_where_it_says),
        cmocka_unit_test(every_rule_is_exercised_on_both_sides_or_listed_as_informational),
        cmocka_unit_test(every_clause_names_its_text),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
