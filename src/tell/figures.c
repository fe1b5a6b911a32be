/* Figures in words: evidence ratios, counts, and a moment that comes too early. */
#include "base/say.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <stdio.h>

/* No further than the verdict itself went: whoever compares two pages finds one figure. */
static void bounded_words(struct tb_text *out, enum tb_tongue to, double log_ratio,
                          const struct tb_bounds *most)
{
    double odds = exp(fabs(tb_bounded(most, log_ratio)));
    char times[TB_TIMES];

    (void)tb_times(times, odds);
    tb_tongue_point(times, to);

    if (isnan(log_ratio))
        tb_text_add(out, tb_tr(to, "not judged"));
    else if (odds < TB_TIMES_EVEN)
        tb_text_add(out, tb_tr(to, "about even"));
    else if (tb_bounds_reached(most, log_ratio))
        tb_text_addf(out,
                     log_ratio > 0 ? tb_tr(to, "at least %s to 1 for it")
                                   : tb_tr(to, "at least %s to 1 against it"),
                     times);
    else
        tb_text_addf(out, log_ratio > 0 ? tb_tr(to, "%s to 1 for it") : tb_tr(to, "%s to 1 against it"),
                     times);
}

void tb_argued_words(struct tb_text *out, enum tb_tongue to, const char *ratio, bool argued)
{
    if (argued)
        tb_text_addf(out, tb_tr(to, "%s (limit not tested)"), ratio);
    else
        tb_text_add(out, ratio);
}

void tb_ratio_words(struct tb_text *out, enum tb_tongue to, double log_ratio, const struct tb_bounds *of)
{
    struct tb_text ratio = { 0 };
    struct tb_bounds most;

    tb_bounds_published(&most);
    if (of)
        most = *of;
    bounded_words(&ratio, to, log_ratio, &most);
    tb_argued_words(out, to, tb_text_str(&ratio), tb_bounds_argued(&most, log_ratio));
    tb_text_free(&ratio);
}

void tb_strength_words(struct tb_text *out, enum tb_tongue to, double log_ratio, const struct tb_bounds *of,
                       bool at_odds)
{
    if (at_odds)
        tb_text_add(out, tb_tr(to, "what was seen contradicts itself"));
    else
        tb_ratio_words(out, to, log_ratio, of);
}

static bool early(struct tb_text *out, const char *moment, const struct tb_lot *lot)
{
    if (tb_before_arrival(moment, lot))
        tb_text_say(
            out,
            "%.10s is before delivery %s arrived (%s): one of the two days is wrong, unless the cloth came "
            "ahead of the delivery.",
            moment, lot->delivery_ref, lot->arrived);
    return out->n > 0;
}

void tb_early_words(struct tb_text *out, const char *moment, const struct tb_lot *lot)
{
    struct tb_text t = { 0 };

    if (early(&t, moment, lot))
        tb_text_say(out, "Note: %s\n", t.s);
    tb_text_free(&t);
}

void tb_json_put_early(json_t *j, const char *moment, const struct tb_lot *lot)
{
    struct tb_text t = { 0 };

    if (early(&t, moment, lot))
        tb_json_put(j, "note", tb_json_text(t.s));
    tb_text_free(&t);
}

const char *tb_counted(char out[TB_COUNTED], size_t n, const char *word)
{
    (void)snprintf(out, TB_COUNTED, "%zu %s", n, word);
    return out;
}
