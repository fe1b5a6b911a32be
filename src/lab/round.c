/* round.c - rounding a composition so that what is printed still sums to the whole. */
#include "tenterbook/lab.h"

#include <math.h>

#define UNIT_SLACK 1e-9 /* 48.4 is 48.39999... in binary: a share this close to a unit counts as that unit */

void tb_lab_round(double *out, const double *in, size_t n, int decimals)
{
    double unit = pow(10, decimals), rest[TB_LAB_FIBRES_MOST], sum = 0, floors = 0;
    long left;

    if (n > TB_LAB_FIBRES_MOST)
        n = TB_LAB_FIBRES_MOST;
    for (size_t i = 0; i < n; i++) {
        double whole = floor(in[i] * unit + UNIT_SLACK);

        sum += in[i]; /* read before written: both may be one array */
        rest[i] = in[i] * unit - whole;
        out[i] = whole;
        floors += whole;
    }
    left = lround(sum * unit) - lround(floors);
    for (; left > 0 && n > 0; left--) {
        size_t most = 0;

        for (size_t i = 1; i < n; i++)
            if (rest[i] > rest[most])
                most = i;
        out[most]++;
        rest[most] -= 1;
    }
    for (size_t i = 0; i < n; i++)
        out[i] /= unit;
}
