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
#define MIDDLE 0.4999           /* scaling moves what is below 10^9 by less than the rest to a half */
#define NOISE (8 * DBL_EPSILON) /* what a sum of a few figures is off by */

static bool whole; /* asked for with all digits */

static double by_text(double v, int digits)
{
    char text[32];

    (void)snprintf(text, sizeof text, "%.*g", digits, v);
    return strtod(text, NULL);
}

/*
 * The last bit included: a whole number below 2^53 and a power of ten up to
 * 10^22 are exact, and one division of them rounds once. What is too near to the middle between two figures goes by its text.
 */
double tb_to_digits(double v, int digits)
{
    static const double ten[] = { 1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
                                  1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22 };
    double places = digits - 1 - floor(log10(fabs(v))), scaled, near;

    if (!(places >= 0 && places < (int)TB_COUNT(ten)))
        return by_text(v, digits);
    scaled = fabs(v) * ten[(int)places];
    near = round(scaled);
    if (fabs(scaled - near) > MIDDLE || near < ten[digits - 1] || near >= ten[digits])
        return by_text(v, digits);
    return copysign(near / ten[(int)places], v);
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
    digits = tb_to_digits(v, TYPED_DIGITS);
    if (is(v, digits))
        return digits;
    return fabs(v) < LONG_FROM ? tb_to_digits(v, COMPUTED_DIGITS) : round(v * 100) / 100;
}

double tb_rounded(double v, int places)
{
    static const double ten[] = { 1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9 };

    if (!isfinite(v) || fabs(v) > DECIMALS_MOST || places < 0 || places >= (int)TB_COUNT(ten))
        return v;
    return copysign(round(fabs(v) * ten[places] * (1 + NOISE)) / ten[places], v);
}

double tb_cents(double v)
{
    return tb_rounded(v, 2);
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
