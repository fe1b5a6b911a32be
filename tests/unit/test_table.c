/* Tables for a terminal: widths, sides, what is cut, and that a cell stays on its line. Folding: tests/cli/test_screen.sh. */
#include "tenterbook/table.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static void prints(struct tb_table *t, const char *align, size_t widest, const char *want)
{
    char *got = NULL;
    size_t n = 0;
    FILE *out = open_memstream(&got, &n);

    assert_non_null(out);
    tb_table_print(t, out, align, widest);
    assert_int_equal(fclose(out), 0);
    assert_string_equal(got, want);
    assert_null(t->cell);
    free(got);
}

static void columns_are_as_wide_as_their_text_and_stand_left_or_right(void **state)
{
    const char *const head[] = { "LOT", "BOLTS", "WORDS" };
    struct tb_table t;

    (void)state;
    tb_table_head(&t, head, 3);
    tb_table_texts(&t, "W26-001.01");
    tb_table_cell(&t, "%d", 12);
    tb_table_texts(&t, "");
    tb_table_texts(&t, "a", "7", "linen");
    prints(&t, "lrl", 40,
           "LOT         BOLTS  WORDS\n"
           "W26-001.01     12\n"
           "a               7  linen\n");
}

static void text_wider_than_allowed_is_cut_and_counted_in_columns_of_the_terminal(void **state)
{
    struct tb_table t;

    (void)state;
    tb_table_begin(&t, 2);
    tb_table_texts(&t, "100 % cotton", "x", "棉布棉布", "y"); /* each of these signs takes two columns */
    prints(&t, "ll", 6, "100 %…  x\n棉布…   y\n");
}

static void a_cell_is_one_line_whatever_was_written(void **state)
{
    struct tb_table t;

    (void)state;
    tb_table_begin(&t, 1);
    tb_table_texts(&t, "two\nlines\033[31m");
    prints(&t, "l", 40, "two lines [31m\n");
}

static void a_table_that_is_not_printed_is_dropped_once_or_twice(void **state)
{
    struct tb_table t;

    (void)state;
    tb_table_begin(&t, 1);
    tb_table_texts(&t, "x");
    tb_table_drop(&t);
    tb_table_drop(&t);
    assert_int_equal(t.cells, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(columns_are_as_wide_as_their_text_and_stand_left_or_right),
        cmocka_unit_test(text_wider_than_allowed_is_cut_and_counted_in_columns_of_the_terminal),
        cmocka_unit_test(a_cell_is_one_line_whatever_was_written),
        cmocka_unit_test(a_table_that_is_not_printed_is_dropped_once_or_twice),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
