/* again.c - what is judged again: all that was observed, with one result of a test more. */
#include "evidence/outcome.h"

#include "base/say.h"

#include <stdlib.h>
#include <string.h>

#define SOMEBODY_ELSE "\t" /* no tester is called so */
#define SHOWN_LEAST 0.5 /* chance from which a published cue is taken to be what the declared cloth shows */

struct tb_again tb_again_of(const struct tb_subject *s)
{
    struct tb_again a = { .obs = tb_array(struct tb_observation, s->n + 1),
                          .set = tb_array(size_t, s->n + 1),
                          .n = s->n };

    if (s->n)
        memcpy(a.obs, s->obs, s->n * sizeof *a.obs);
    if (s->n && s->set)
        memcpy(a.set, s->set, s->n * sizeof *a.set);
    return a;
}

void tb_again_free(struct tb_again *a)
{
    free(a->obs);
    free(a->set);
}

/* The part that what is tried is of. */
static const struct tb_group *trying_group(const struct tb_question *q, const struct tb_trying *t)
{
    size_t g = 0;

    while (g + 1 < q->n && q->group[g].part != t->part)
        g++;
    return &q->group[g];
}

/* Of another swatch of the same bolt, by somebody who has not seen the cloth yet: whoever has would add nothing. */
static struct tb_observation *one_more(struct tb_again *a, const struct tb_trying *t)
{
    struct tb_observation *o = &a->obs[a->n];

    *o = (struct tb_observation){ .part = t->part, .person = SOMEBODY_ELSE };
    a->set[a->n] = t->at[0] < t->s->n ? a->set[t->at[0]] : 0;
    a->n++;
    return o;
}

/* A bench test is of a swatch that was burned, if there is one: src/work/observe.c joins them the same way. */
static struct tb_observation *swatch(struct tb_again *a, const struct tb_trying *t, size_t nth)
{
    return t->at[nth] < t->s->n ? &a->obs[t->at[nth]] : one_more(a, t);
}

void tb_again_result(struct tb_again *a, struct tb_outcome *o, const struct tb_trying *t, int cue)
{
    struct tb_cue c;

    tb_cue_at(&c, cue);
    for (size_t i = 0; i < t->n_at; i++)
        tb_observation_see(swatch(a, t, i), cue);
    *o = (struct tb_outcome){ .result = c.key, .meaning = c.meaning };
}

size_t tb_kinds_declared(bool kind[TB_CUES_MOST], const struct tb_question *q, const struct tb_trying *t,
                         const struct tb_channel *ch)
{
    const struct tb_blend *b = &trying_group(q, t)->declared.blend;
    size_t n = 0;

    for (int c = ch->first; c < ch->first + ch->n; c++) {
        kind[c] = false;
        for (int i = 0; i < b->n && ch->bench && !ch->exclusive; i++)
            kind[c] |=
                tb_cue_chance(q->ev, &(struct tb_blend){ .n = 1, .fibre = { b->fibre[i] }, .share = { 1 } },
                              c) >= SHOWN_LEAST;
        n += kind[c];
    }
    return n;
}

void tb_again_kinds(struct tb_again *a, struct tb_outcome *o, const struct tb_trying *t,
                    const bool kind[TB_CUES_MOST])
{
    for (size_t i = 0; i < t->n_at; i++) {
        struct tb_observation *to = swatch(a, t, i);

        for (int c = 0; c < t->s->ev->cues; c++)
            if (kind[c])
                tb_observation_see(to, c);
    }
    *o = (struct tb_outcome){ .result = "as_declared",
                              .meaning = TR_("each kind of fibre that is declared, and no other") };
}

/* Every channel of a burn looked at, and what the published descriptions of the declared cloth mostly say. */
static void as_published(struct tb_observation *o, const struct tb_evidence *ev,
                         const struct tb_blend *declared)
{
    for (int c = 0; c < ev->channels; c++)
        if (!ev->channel[c].bench)
            tb_observation_look(o, c);
    for (int c = 0; c < ev->cues; c++)
        if (!ev->channel[ev->cue[c].channel].bench && tb_cue_chance(ev, declared, c) >= SHOWN_LEAST)
            tb_observation_see(o, c);
}

/* What the swatch did in the flame; its bench tests are not made again. */
static void as_before(struct tb_observation *o, const struct tb_evidence *ev,
                      const struct tb_observation *burn)
{
    for (int c = 0; c < ev->channels; c++)
        if (!ev->channel[c].bench)
            o->looked[c] = burn->looked[c];
    for (int c = 0; c < ev->cues; c++)
        if (!ev->channel[ev->cue[c].channel].bench)
            o->sight[c] = burn->sight[c];
}

void tb_again_burn(struct tb_again *a, struct tb_outcome *o, const struct tb_question *q,
                   const struct tb_trying *t, bool same)
{
    struct tb_observation *more = one_more(a, t);

    *o = same ? (struct tb_outcome){ .result = "again",
                                     .meaning = TR_("it burns the same for another person") }
              : (struct tb_outcome){ .result = "as_declared",
                                     .meaning = TR_(
                                         "for another person it burns as is published of what is declared") };
    if (same)
        as_before(more, q->ev, &a->obs[t->at[0]]);
    else
        as_published(more, q->ev, &trying_group(q, t)->declared.blend);
}
