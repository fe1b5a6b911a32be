/* Libraries that are loaded while the program runs. */
#include "base/late.h"

#include "gen/late_letters.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>

#include <cmocka.h>

struct table {
    double (*cosine)(double), (*root)(double);
};

static const char *const maths[] = { "libm.so.6" };

static void functions_are_called_by_the_table(void **state)
{
    static const char *const name[] = { "cos", "sqrt" };
    struct table t = { 0 };
    struct tb_late late = { maths, 1, name, 2, &t, PTHREAD_MUTEX_INITIALIZER, false };
    struct tb_err err;

    (void)state;
    assert_int_equal(tb_late_load(&late, &err), TB_OK);
    assert_true(t.cosine(0) == 1);
    assert_true(t.root(9) == 3);
    tb_late_need(&late); /* there already */
}

static void a_library_that_is_not_there_is_named(void **state)
{
    static const char *const library[] = { "libm.so.6", "libno-such-library.so.1" };
    static const char *const name[] = { "cos", "sqrt" };
    struct table t = { 0 };
    struct tb_late late = { library, 2, name, 2, &t, PTHREAD_MUTEX_INITIALIZER, false };
    struct tb_err err;

    (void)state;
    assert_int_equal(tb_late_load(&late, &err), TB_EIO);
    assert_string_equal(err.msg,
                        "the library libno-such-library.so.1 is not on this machine or cannot be loaded");
    assert_int_equal(tb_late_load(&late, &err), TB_EIO); /* it is not taken to be loaded */
}

static void a_function_that_a_library_lacks_is_named(void **state)
{
    static const char *const name[] = { "cos", "cosine_of_a_burn" };
    struct table t = { 0 };
    struct tb_late late = { maths, 1, name, 2, &t, PTHREAD_MUTEX_INITIALIZER, false };
    struct tb_err err;

    (void)state;
    assert_int_equal(tb_late_load(&late, &err), TB_EIO);
    assert_string_equal(err.msg,
                        "the library libm.so.6 on this machine is too old: it has no cosine_of_a_burn");
}

/* ICU gives its functions the number of its version: uspoof_open_72. */
static void a_function_is_looked_up_by_the_name_its_header_gives_it(void **state)
{
    struct tb_err err;

    (void)state;
    assert_int_equal(tb_late_letters_load(&err), TB_OK);
    assert_non_null(tb_late_letters()->late_uspoof_open);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(functions_are_called_by_the_table),
        cmocka_unit_test(a_library_that_is_not_there_is_named),
        cmocka_unit_test(a_function_that_a_library_lacks_is_named),
        cmocka_unit_test(a_function_is_looked_up_by_the_name_its_header_gives_it),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
