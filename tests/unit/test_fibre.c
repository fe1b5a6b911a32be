/* Fibres and declarations: what the table knows and how a supplier's words are read. */
#include "tenterbook/fibre.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static void every_entry_of_annex_one_has_a_fibre(void **state)
{
    (void)state;
    for (int number = 1; number <= 50; number++) {
        bool found = false;

        for (int f = 0; (size_t)f < tb_fibre_count(); f++)
            found |= tb_fibre_at(f)->eu_number == number;
        if (!found)
            fail_msg("entry %d of Annex I has no fibre", number);
    }
}

static void keys_are_unique_and_found(void **state)
{
    (void)state;
    for (int f = 0; (size_t)f < tb_fibre_count(); f++)
        assert_int_equal(tb_fibre_by_key(tb_fibre_at(f)->key), f);
    assert_int_equal(tb_fibre_by_key("linoleum"), -1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_entry_of_annex_one_has_a_fibre),
        cmocka_unit_test(keys_are_unique_and_found),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
