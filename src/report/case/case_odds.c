/* case_odds.c - the evidence ratio as a figure and as a sentence, without exponents. */
#include "report/case/case_impl.h"

#include <math.h>
#include <stdio.h>

#define RATIO_MOST 1e6 /* the model is not so exact that more than this would mean anything */
#define RATIO_EVEN 1.1 /* up to here neither side is said to be likelier */

/* Three figures, and no exponent in the words: 407123.4 is 407000. */
static double three_figures(double v)
{
    double unit = pow(10, floor(log10(v)) - 2);

    return v < 1000 ? v : round(v / unit) * unit;
}

/* A ratio below 1 is shown as 1 over a figure once it is small: 1/407000 is read more surely than 0.00000246. */
void tb_story_odds(char out[TB_STORY_ODDS], double log_ratio, int figures)
{
    double times = exp(fabs(log_ratio));

    if (isnan(log_ratio))
        (void)snprintf(out, TB_STORY_ODDS, "-");
    else if (times > RATIO_MOST)
        (void)snprintf(out, TB_STORY_ODDS, log_ratio > 0 ? _("above %.0f") : _("below 1/%.0f"), RATIO_MOST);
    else if (times >= 1e4)
        (void)snprintf(out, TB_STORY_ODDS, log_ratio > 0 ? "%.0f" : "1/%.0f", three_figures(times));
    else
        (void)snprintf(out, TB_STORY_ODDS, "%.*g", figures, exp(log_ratio));
}

void tb_story_ratio(struct tb_text *out, double log_ratio)
{
    double times = exp(fabs(log_ratio));
    bool there = log_ratio > 0;
    char figure[32];

    (void)snprintf(figure, sizeof figure, times < 999.5 ? "%.3g" : "%.0f", three_figures(times));
    if (isnan(log_ratio))
        tb_text_add(out, _("How strongly could not be weighed."));
    else if (times < RATIO_EVEN)
        tb_text_add(out,
                    _("What was observed is about as likely whether the declared fibres are there or not."));
    else if (times > RATIO_MOST)
        tb_text_add(
            out, there
                     ? _("What was observed is more than a million times likelier if the declared fibres are "
                         "there than if anything else is.")
                     : _("What was observed is more than a million times likelier if something else is there "
                         "than if the declared fibres are."));
    else
        tb_text_addf(
            out,
            there ? _("What was observed is %s times likelier if the declared fibres are there than if "
                      "anything else is.")
                  : _("What was observed is %s times likelier if something else is there than if the "
                      "declared fibres are."),
            figure);
}
