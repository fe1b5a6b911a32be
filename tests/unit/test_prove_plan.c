/* test_prove_plan.c - facts with long rows are read for the proof as they lie: sorting them would hold every photograph in memory. */
#include "book/sqlite/sqlite_impl.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <string.h>

#include <cmocka.h>

static struct tb_err err;

/* Does the plan of a statement sort what it reads? */
static bool sorts(struct tb_book *b, enum tb_sql sql)
{
    struct tb_text text = { 0 };
    sqlite3_stmt *q = NULL;
    bool out = false;
    int steps = 0;

    tb_text_addf(&text, "EXPLAIN QUERY PLAN %s", tb_sql_table[sql].text);
    assert_int_equal(sqlite3_prepare_v2(b->db->db, text.s, -1, &q, NULL), SQLITE_OK);
    for (; sqlite3_step(q) == SQLITE_ROW; steps++)
        out = out || strstr((const char *)sqlite3_column_text(q, 3), "TEMP B-TREE");
    assert_true(steps > 0);
    (void)sqlite3_finalize(q);
    tb_text_free(&text);
    return out;
}

static void verdicts_and_photographs_are_not_sorted_to_be_proved(void **state)
{
    struct tb_book *b = NULL;

    (void)state;
    assert_int_equal(tb_book_in_memory(&b, &err), TB_OK);
    assert_false(sorts(b, TB_SQL_FACTS_VERDICT));
    assert_false(sorts(b, TB_SQL_FACTS_ATTACHMENT));
    assert_true(sorts(b, TB_SQL_FACTS_SITE)); /* one row: the plan of what is sorted says so */
    tb_book_close(b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(verdicts_and_photographs_are_not_sorted_to_be_proved),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
