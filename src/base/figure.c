/* How many digits a figure has that is printed for a reader. */
#include "tenterbook/figure.h"

#include <float.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define TYPED_DIGITS 9
#define COMPUTED_DIGITS 6
#define LONG_FROM 1e4           /* from here on, six digits would leave less than two decimals */
#define DECIMALS_MOST 1e11      /* beyond it a double has no four decimals */
#define NOISE (8 * DBL_EPSILON) /* what a sum of a few figures is off by */

static bool whole; /* asked for with all digits */

static double to_digits(double v, int digits)
{
    char text[32];

    (void)snprintf(text, sizeof text, "%.*g", digits, v);
    return strtod(text, NULL);
}

static bool is(double v, double figure)
{
    return fabs(v - figure) <= NOISE * fabs(v);
}

double tb_figure(double v)
{
    double decimals, digits;

    if (whole || !isfinite(v) || fabs(v) > DECIMALS_MOST)
        return v;
    decimals = round(v * 10000) / 10000;
    if (is(v, decimals))
        return decimals;
    digits = to_digits(v, TYPED_DIGITS);
    if (is(v, digits))
        return digits;
    return fabs(v) < LONG_FROM ? to_digits(v, COMPUTED_DIGITS) : round(v * 100) / 100;
}

int tb_figure_digits(void)
{
    return whole ? DBL_DECIMAL_DIG : DBL_DIG;
}

tb_rc tb_figures_asked(struct tb_err *err)
{
    const char *asked = getenv("TENTERBOOK_DIGITS");

    if (asked && strcmp(asked, "17") != 0)
        return tb_fail(err, TB_EINVAL,
                       "TENTERBOOK_DIGITS is '%s'; it takes 17, which prints all digits of a figure", asked);
    whole = asked != NULL;
    return TB_OK;
}
