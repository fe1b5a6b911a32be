/*
 * loudest.c - of several burns the channel that carries the verdict, all of them together.
 *
 * A cue is weighed by taking it out of one burn: where five persons smelled hair, no one of them is missed, and the smell that the
 * verdict rests on weighs nothing. So the channels are weighed once more, each by itself over all burns.
 */
#include "evidence/judge.h"

#include "base/say.h"

#include <math.h>
#include <stdlib.h>

#define LOUD 3.0 /* to one: less carries nothing */

/* What was seen in a channel, each once, in the order of the table; false: nothing was. */
static bool seen_in(struct tb_text *out, const struct tb_question *q, const struct tb_group *g, int channel)
{
    for (int c = 0; c < q->ev->cues; c++) {
        bool seen = false;
        struct tb_cue cue;

        for (size_t i = 0; i < g->n && q->ev->cue[c].channel == channel; i++)
            for (size_t t = 0; t < g->pattern[i].terms->n; t++)
                seen |= g->pattern[i].terms->term[t].cue == c && g->pattern[i].terms->term[t].seen;
        if (!seen)
            continue;
        tb_cue_at(&cue, c);
        tb_text_addf(out, "%s%s (%s)", out->n ? ", " : "", cue.meaning, cue.key);
    }
    return out->n > 0;
}

/* The channel whose looks, all together and nothing else, say most for the declaration (side 1) or against it (-1); -1: none says enough. */
static int loudest_of(double *most, const struct tb_question *q, const struct tb_group *g, int side)
{
    unsigned *keep = tb_array(unsigned, g->n);
    int loudest = -1;

    *most = log(LOUD);
    for (int c = 0; c < q->ev->channels; c++) {
        double says;

        for (size_t i = 0; i < g->n; i++)
            keep[i] = 1u << c;
        says = side * tb_log_ratio_of_channels(q, g, keep);
        if (says <= *most)
            continue;
        *most = says;
        loudest = c;
    }
    free(keep);
    return loudest;
}

void tb_note_loudest(struct tb_verdict *v, const struct tb_question *q, const struct tb_group *g)
{
    int side = v->grade == TB_GRADE_FITS ? 1 : -1;
    struct tb_text seen = { 0 };
    char times[TB_TIMES];
    double most;
    int c;

    if (g->n < 2 || v->grade == TB_GRADE_UNDECIDED)
        return;
    c = loudest_of(&most, q, g, side);
    if (c < 0 || !seen_in(&seen, q, g, c)) {
        tb_text_free(&seen);
        return;
    }
    (void)tb_times(times, exp(fmin(most, side > 0 ? v->bounds.high : -v->bounds.low)));
    tb_verdict_note(v,
                    side > 0
                        ? "Over all burns and by itself, what speaks most for the declaration is %s, with "
                          "%s to 1: %s."
                        : "Over all burns and by itself, what speaks most against the declaration is %s, "
                          "with %s to 1: %s.",
                    q->ev->channel[c].name, times, seen.s);
    tb_text_free(&seen);
}
