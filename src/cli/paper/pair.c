/* pair.c - two measures in millimetres, as people type the size of a label: 70x37. */
#include "cli/show.h"

#include <stdlib.h>

tb_rc tb_opt_pair(double *a, double *b, const struct tb_ctx *ctx, const char *option, struct tb_err *err)
{
    const char *s = tb_opt(ctx, option);
    char *end = NULL;
    double x, y = 0;
    bool good;

    if (!s)
        return TB_OK;
    x = strtod(s, &end);
    good = end != s && (*end == 'x' || *end == 'X');
    if (good) {
        const char *second = end + 1;

        y = strtod(second, &end);
        good = end != second && !*end;
    }
    if (!good)
        return tb_misuse(err, "--%s: '%s' is not a pair of millimetres; write it like 70x37", option, s);
    *a = x;
    *b = y;
    return TB_OK;
}
