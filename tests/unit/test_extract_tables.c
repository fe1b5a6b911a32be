/* test_extract_tables.c - no table of facts is left out of case files by oversight. */
#include "book/stmt.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

/* What a case does not hold, and why; the head of sql/query/extract.sql says so too. */
static const struct {
    const char *table, *why;
} left_out[] = {
    { "address", "how to write to both sides: they know it, and nothing that was found rests on it" },
    { "supplier_term", "the buyer's own: the file goes to the other side" },
    { "standing_label", "what a label of our own says: not the supplier's, who has nothing to answer on it" },
    { "draw", "may be of several lots: it would show the other ones" },
    { "draw_bolt", "as the draw" },
    { "drill", "how well testers do, not about a lot" },
    { "drill_card", "as the drill" },
    { "drill_answer", "as the drill" },
    { "signing_key", "of the book, and not about a lot" },
    { "time_stamp", "of the book; those that cover the lot stand in the head" },
};

static bool there_is(const char *prefix, const char *table)
{
    size_t n = strlen(prefix);

    for (int i = 0; i < TB_SQL_COUNT; i++)
        if (strncmp(tb_sql_table[i].name, prefix, n) == 0 && strcmp(tb_sql_table[i].name + n, table) == 0)
            return true;
    return false;
}

static const char *why_not(const char *table)
{
    for (size_t i = 0; i < TB_COUNT(left_out); i++)
        if (strcmp(left_out[i].table, table) == 0)
            return left_out[i].why;
    return NULL;
}

static void each_table_of_facts_is_in_case_files_or_left_out_for_a_reason(void **state)
{
    size_t left = 0;

    (void)state;
    for (int i = 0; i < TB_SQL_COUNT; i++) {
        const char *table = tb_sql_table[i].fact;

        if (!table[0])
            continue;
        if (!there_is("extract_", table) && !why_not(table))
            fail_msg("case files do not hold table %s: write extract_%s in sql/query/extract.sql, or add the "
                     "table with a reason to left_out of %s",
                     table, table, __FILE__);
        if (there_is("extract_", table) && why_not(table))
            fail_msg("table %s is in case files, and left_out of %s says that it is not", table, __FILE__);
        left += why_not(table) != NULL;
    }
    assert_int_equal(left, TB_COUNT(left_out)); /* each of them is a table */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_table_of_facts_is_in_case_files_or_left_out_for_a_reason),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
