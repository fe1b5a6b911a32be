/*
 * agree.c - bench tests of several kinds agree with the declaration, and one channel of the burns alone is against it.
 *
 * A test asks the fibre itself. Where two of them say the same on several swatches, a bead that is harder than is published of the
 * fibre is a question for a laboratory, and no reason to speak against the supplier.
 */
#include "evidence/some.h"

#include <math.h>
#include <stdlib.h>

#define KINDS_LEAST 2
#define SWATCHES_LEAST 2

/* How many swatches the test was made of; each person's tests repeat in patterns of more and more steps. */
static size_t swatches_of(const struct tb_question *q, const struct tb_group *g, int test)
{
    size_t all = 0;

    for (size_t i = 0; i < g->n; i++) {
        size_t most = 0;

        for (size_t k = i; k < g->n && tb_first_of_person(g, i) == i; k++)
            for (size_t t = 0; t < g->pattern[k].terms->n; t++)
                if (g->pattern[k].person == g->pattern[i].person && g->pattern[k].times > most &&
                    q->ev->cue[g->pattern[k].terms->term[t].cue].channel == test)
                    most = g->pattern[k].times;
        all += most;
    }
    return all;
}

/* What these channels (bits) say together of the pure cloths, over all observations: natural logarithm of the ratio. */
static double says(const struct tb_question *q, const struct tb_group *g, unsigned channels)
{
    unsigned *keep = tb_array(unsigned, g->n);
    double ratio;

    for (size_t i = 0; i < g->n; i++)
        keep[i] = channels;
    ratio = tb_log_ratio_of_channels(q, g, keep);
    free(keep);
    return ratio;
}

/* Two kinds of test or more, each of several swatches, and none that is against it. */
static bool tests_agree(const struct tb_question *q, const struct tb_group *g)
{
    size_t kinds = 0;

    for (int c = 0; c < q->ev->channels; c++) {
        size_t swatches = q->ev->channel[c].bench ? swatches_of(q, g, c) : 0;
        double ratio = swatches ? says(q, g, 1u << c) : 0;

        if (ratio <= -log(q->ev->fig.rest_against))
            return false;
        kinds += swatches >= SWATCHES_LEAST && ratio >= log(q->ev->fig.rest_against);
    }
    return kinds >= KINDS_LEAST;
}

/* The channel of the burns that is most against the declaration by itself; -1: none is. */
static int most_against(const struct tb_question *q, const struct tb_group *g)
{
    double least = -log(q->ev->fig.rest_against);
    int most = -1;

    for (int c = 0; c < q->ev->channels; c++) {
        double ratio = q->ev->channel[c].bench ? 0 : says(q, g, 1u << c);

        if (ratio <= least) {
            least = ratio;
            most = c;
        }
    }
    return most;
}

int tb_lone_channel(const struct tb_question *q)
{
    int c = q->n == 1 ? most_against(q, &q->group[0]) : -1;

    return c >= 0 && says(q, &q->group[0], ~(1u << c)) >= log(q->ev->fig.rest_against) ? c : -1;
}

bool tb_tests_agree(struct tb_verdict *v, const struct tb_question *q)
{
    int lone = q->n == 1 && tests_agree(q, &q->group[0]) ? tb_lone_channel(q) : -1;

    if (lone < 0)
        return false;
    tb_verdict_note(
        v,
        "Bench tests of two kinds or more, each on several swatches, agree with the declaration; what speaks "
        "against it is one channel of the burns alone, %s. So it is left undecided: a finish, a way of "
        "burning that nobody has published, or a small part of another fibre may do that, and a laboratory "
        "has to say which.",
        q->ev->channel[lone].name);
    return true;
}

bool tb_two_agree(const struct tb_question *q, enum tb_part_kind part, int channel)
{
    size_t persons = 0;

    for (size_t k = 0; k < q->n; k++) {
        const struct tb_group *g = &q->group[k];
        struct tb_some l = tb_some_open(g);

        for (size_t i = 0; i < g->n && g->part == part; i++) {
            if (tb_first_of_person(g, i) != i)
                continue;
            tb_some_take(&l, q->ev, g, g->pattern[i].person, channel, false);
            tb_some_as_one(&l);
            persons += tb_some_log_ratio(q, g, &l) <= -log(q->ev->fig.rest_against);
        }
        tb_some_free(&l);
    }
    return persons >= 2;
}

bool tb_two_agree_against(const struct tb_question *q)
{
    for (size_t k = 0; k < q->n; k++) {
        int c = most_against(q, &q->group[k]);

        if (c >= 0 && tb_two_agree(q, q->group[k].part, c))
            return true;
    }
    return false;
}
