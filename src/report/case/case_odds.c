/* case_odds.c - the evidence ratio as a figure and as a sentence, no further than what the model was tested on carries. */
#include "report/case/case_impl.h"

#include <math.h>
#include <stdio.h>

#define RATIO_EVEN 1.1 /* up to here neither side is said to be likelier */

/* Within the limits the verdict was made with; one of an older program has none, and is told with the published ones. */
static bool beyond(double *times, const struct story *s, double log_ratio)
{
    struct tb_bounds most = s->verdict.bounds;

    if (!s->judged_now)
        tb_bounds_published(&most);
    *times = exp(fabs(tb_bounded(&most, log_ratio)));
    return log_ratio <= most.low || log_ratio >= most.high;
}

void tb_story_odds(char out[TB_STORY_ODDS], const struct story *s, double log_ratio, int figures)
{
    double times;

    if (isnan(log_ratio))
        (void)snprintf(out, TB_STORY_ODDS, "-");
    else if (beyond(&times, s, log_ratio))
        (void)snprintf(out, TB_STORY_ODDS, log_ratio > 0 ? _("at least %.0f") : _("1/%.0f or less"), times);
    else
        (void)snprintf(out, TB_STORY_ODDS, "%.*g", figures, exp(log_ratio));
}

void tb_story_ratio(struct tb_text *out, const struct story *s, double log_ratio)
{
    bool there = log_ratio > 0, limit;
    char figure[32];
    double times;

    limit = beyond(&times, s, log_ratio);
    (void)snprintf(figure, sizeof figure, "%.3g", times);
    if (isnan(log_ratio))
        tb_text_add(out, _("How strongly could not be weighed."));
    else if (times < RATIO_EVEN)
        tb_text_add(out,
                    _("What was observed is about as likely whether the declared fibres are there or not."));
    else if (limit)
        tb_text_addf(
            out,
            there
                ? _("What was observed is at least %.0f times likelier if the declared fibres are there than "
                    "if anything else is: the limit of what was tested.")
                : _("What was observed is at least %.0f times likelier if something else is there than if "
                    "the "
                    "declared fibres are: the limit of what was tested."),
            times);
    else
        tb_text_addf(
            out,
            there ? _("What was observed is %s times likelier if the declared fibres are there than if "
                      "anything else is.")
                  : _("What was observed is %s times likelier if something else is there than if the "
                      "declared fibres are."),
            figure);
}
