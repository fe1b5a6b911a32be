/* A share in words. */
#include "tenterbook/base.h"

#include "base/say.h"

#include <math.h>
#include <stdio.h>

/* Below and above these a share printed with one decimal would look like none, or like all. */
#define HARDLY_ANY 0.0005
#define NEARLY_ALL 0.9995
#define ROUNDING 1e-6

const char *tb_percent(char out[TB_PERCENT], double share)
{
    bool whole = fabs(1000 * share - 10 * round(100 * share)) < ROUNDING;

    if (share > 0 && share < HARDLY_ANY)
        (void)snprintf(out, TB_PERCENT, "%s", _("less than 0.1 %"));
    else if (share < 1 && share > NEARLY_ALL)
        (void)snprintf(out, TB_PERCENT, "%s", _("more than 99.9 %"));
    else
        (void)snprintf(out, TB_PERCENT, whole ? "%.0f %%" : "%.1f %%", 100 * share);
    return out;
}
