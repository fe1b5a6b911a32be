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
    (void)fread(text, 1, (1 << 20) - 1, f);
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
            (void)printf("# %s: %s\n", rule->id,
                         inform ? "not in docs/law.md" : "not exercised on both sides");
        }
    }
    assert_int_equal(missing, 0);
    free(text);
    law_rows_free(&t);
}

static void every_rule_names_a_known_market_and_kind_and_has_a_source(void **state)
{
    (void)state;
    for (size_t r = 0; r < tb_ref_law_rule_n; r++) {
        const struct tb_ref_law_rule *rule = &tb_ref_law_rule[r];
        struct tb_market m;

        assert_true(strcmp(rule->market, "common") == 0 || tb_market_find(&m, rule->market));
        assert_true(strcmp(rule->kind, "inform") == 0 || tb_law_kind_of(rule->kind) >= 0);
        assert_true(rule->clause[0] && rule->says[0] && rule->source[0]);
        /* a clause is read alone: it names its text, not the row above */
        assert_true(strcmp(rule->clause, "same") != 0 && strncasecmp(rule->clause, "art. ", 5) != 0);
        assert_true(tb_law_list_has("seen|second-hand|reading|memory", rule->status) ||
                    strcmp(rule->status, "common practice") == 0);
        assert_true(tb_law_list_has("fault|advice|note", rule->severity));
        for (size_t k = 0; k < r; k++)
            assert_string_not_equal(rule->id, tb_ref_law_rule[k].id);
    }
}

static void every_fibre_a_table_of_the_law_names_is_in_the_table_of_fibres(void **state)
{
    (void)state;
    for (size_t i = 0; i < tb_ref_law_group_n; i++)
        assert_true(tb_fibre_by_key(tb_ref_law_group[i].fibre) >= 0);
    for (size_t i = 0; i < tb_ref_law_word_n; i++)
        assert_true(!tb_ref_law_word[i].fibre[0] || tb_fibre_by_key(tb_ref_law_word[i].fibre) >= 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_rule_speaks_where_its_row_says_and_is_silent_where_it_says),
        cmocka_unit_test(every_rule_is_exercised_on_both_sides_or_listed_as_informational),
        cmocka_unit_test(every_rule_names_a_known_market_and_kind_and_has_a_source),
        cmocka_unit_test(every_fibre_a_table_of_the_law_names_is_in_the_table_of_fibres),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
