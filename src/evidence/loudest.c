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

/* Of the persons who looked in the channel of a cue, how many saw it, in most of their burns. */
struct seers {
    size_t saw, looked;
};

static bool is_of(const struct tb_question *q, const struct tb_term *t, int channel)
{
    return q->ev->cue[t->cue].channel == channel;
}

/* The same of one person, whose first pattern is i. */
static void count_person(struct seers *out, const struct tb_question *q, const struct tb_group *g, size_t i,
                         int cue)
{
    size_t saw = 0, looked = 0;

    for (size_t k = i; k < g->n; k++) {
        const struct tb_pattern *p = &g->pattern[k];
        bool look = false;

        for (size_t t = 0; t < p->terms->n && p->person == g->pattern[i].person; t++) {
            look |= is_of(q, &p->terms->term[t], q->ev->cue[cue].channel);
            saw += p->terms->term[t].cue == cue && p->terms->term[t].seen ? p->times : 0;
        }
        looked += look ? p->times : 0;
    }
    out->looked += looked > 0;
    out->saw += 2 * saw > looked;
}

/* What most of those who looked in a channel saw there, in the order of the table; false: nothing. */
static bool seen_in(struct tb_text *out, const struct tb_question *q, const struct tb_group *g, int channel)
{
    for (int c = 0; c < q->ev->cues; c++) {
        struct seers n = { 0 };
        struct tb_cue cue;

        for (size_t i = 0; i < g->n && q->ev->cue[c].channel == channel; i++)
            if (tb_first_of_person(g, i) == i)
                count_person(&n, q, g, i, c);
        if (2 * n.saw <= n.looked)
            continue;
        tb_cue_at(&cue, c);
        tb_text_addf(out, "%s", out->n ? ", " : "");
        if (n.saw == n.looked)
            tb_text_say(out, "%s (%s)", cue.meaning, cue.key);
        else
            tb_text_say(out, "%s (%s), seen by %zu of %zu persons", cue.meaning, cue.key, n.saw, n.looked);
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
    tb_verdict_note(
        v,
        side > 0 ? TR_("Over all burns and by itself, what speaks most for the declaration is %s, with "
                       "%s to 1: %s.")
                 : TR_("Over all burns and by itself, what speaks most against the declaration is %s, "
                       "with %s to 1: %s."),
        q->ev->channel[c].name, times, seen.s);
    tb_text_free(&seen);
}
