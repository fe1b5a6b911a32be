/* range.c - what laboratories and results of one method differ by: published limits, and ranges by chance. */
#include "tenterbook/lab.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

/* P(range of n normal results <= w) - 0.95, by Simpson's rule over the smallest of them. */
static double range_excess(double w, size_t n)
{
    enum { CELLS = 400 };
    double from = -8, step = 16.0 / CELLS, sum = 0;

    for (int i = 0; i <= CELLS; i++) {
        double x = from + i * step;
        double f = exp(-x * x / 2) / sqrt(2 * M_PI) *
                   pow(gsl_cdf_ugaussian_P(x + w) - gsl_cdf_ugaussian_P(x), (double)n - 1);

        sum += f * (i == 0 || i == CELLS ? 1 : i % 2 ? 4 : 2);
    }
    return (double)n * sum * step / 3 - 0.95;
}

/* Bisection: the chance rises with the range, and twelve deviations are beyond any. */
double tb_lab_critical_range(size_t n)
{
    double low = 0, high = 12;

    if (n < 2)
        return INFINITY;
    for (int i = 0; i < 50; i++) {
        double at = (low + high) / 2;

        if (range_excess(at, n) < 0)
            low = at;
        else
            high = at;
    }
    return (low + high) / 2;
}

/* By hand there is no method, and so no published limit. */
void tb_lab_limits(double *out, enum tb_lab_route route, size_t fibres, const double limit[2])
{
    double e1 = limit[0], e2 = limit[1], both = e1 + e2;

    for (size_t i = 0; i < fibres; i++)
        out[i] = e1;
    if (route == TB_LAB_HAND)
        for (size_t i = 0; i < fibres; i++)
            out[i] = NAN;
    if (route < TB_LAB_VARIANT_1 || route > TB_LAB_VARIANT_4)
        return;
    out[0] = e1;
    out[1] = route == TB_LAB_VARIANT_1 ? e2 : both;
    out[2] = route == TB_LAB_VARIANT_2 || route == TB_LAB_VARIANT_3 ? e2 : both;
}
