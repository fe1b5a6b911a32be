/*
 * A planted fault: memory of the project's own functions is lost on a failure.
 * cppcheck: memleak
 */
#include "tenterbook/base.h"

#include <stdlib.h>

tb_rc planted_own_leak(size_t n, struct tb_err *err);

tb_rc planted_own_leak(size_t n, struct tb_err *err)
{
    char *copy = tb_alloc(n, 1);

    if (n > 100)
        return tb_fail(err, TB_EINVAL, "too much");
    free(copy);
    return TB_OK;
}
