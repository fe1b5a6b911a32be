/* case_odds.c - the evidence ratio as a figure, no further than what the model was tested on carries. */
#include "report/case/case_impl.h"

#include <math.h>
#include <stdio.h>

void tb_story_odds(char out[TB_STORY_ODDS], enum tb_tongue to, const struct tb_bounds *bounds,
                   double log_ratio, int figures)
{
    double times = exp(fabs(tb_bounded(bounds, log_ratio)));

    if (isnan(log_ratio))
        (void)snprintf(out, TB_STORY_ODDS, "-");
    else if (log_ratio <= bounds->low || log_ratio >= bounds->high)
        (void)snprintf(out, TB_STORY_ODDS,
                       log_ratio > 0 ? tb_tr(to, "at least %.0f") : tb_tr(to, "1/%.0f or less"), times);
    else
        (void)snprintf(out, TB_STORY_ODDS, "%.*g", figures, exp(log_ratio));
    if (!isnan(log_ratio))
        tb_tongue_point(out, to);
}
