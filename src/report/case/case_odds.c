/* case_odds.c - the evidence ratio as a figure, no further than what the model was tested on carries. */
#include "report/case/case_impl.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <stdio.h>

void tb_story_odds(char out[TB_STORY_ODDS], enum tb_tongue to, const struct tb_bounds *bounds,
                   double log_ratio, int figures)
{
    double within = tb_bounded(bounds, log_ratio), times = exp(fabs(within));
    char figure[TB_STORY_ODDS];
    struct tb_text said = { 0 };

    if (tb_bounds_reached(bounds, log_ratio))
        (void)snprintf(figure, sizeof figure,
                       log_ratio > 0 ? tb_tr(to, "at least %.0f") : tb_tr(to, "1/%.0f or less"), times);
    else if (within >= bounds->high)
        (void)snprintf(figure, sizeof figure, "%.0f", times);
    else if (within <= bounds->low)
        (void)snprintf(figure, sizeof figure, "1/%.0f", times);
    else
        (void)snprintf(figure, sizeof figure, "%.*g", figures, exp(log_ratio));
    tb_tongue_point(figure, to);
    tb_argued_words(&said, to, figure, tb_bounds_argued(bounds, log_ratio));
    (void)snprintf(out, TB_STORY_ODDS, "%s", isnan(log_ratio) ? "-" : tb_text_str(&said));
    tb_text_free(&said);
}
