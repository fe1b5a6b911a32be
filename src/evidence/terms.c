/*
 * terms.c - what an observation says, cue by cue.
 *
 * A channel nobody looked at says nothing. Of a channel that was looked at, a cue that was not seen says something
 * too, unless it is left open by what else was said.
 */
#include "evidence/likelihood.h"

static bool seen(const struct tb_observation *o, int cue)
{
    return o->sight[cue] == TB_SIGHT_SEEN;
}

/* True when some kind of this general cue was seen. */
bool tb_kind_seen(const struct tb_evidence *ev, const struct tb_observation *o, int cue)
{
    const struct tb_channel *ch = &ev->channel[ev->cue[cue].channel];

    for (int c = ch->first; c < ch->first + ch->n; c++)
        if (ev->cue[c].general == cue && seen(o, c))
            return true;
    return false;
}

static signed char implies(const struct tb_implied *i, const struct tb_observation *o)
{
    return i->there && o->sight[i->cue] == TB_SIGHT_DENIED ? 0 : i->there ? 1 : -1;
}

int tb_cue_implied(const struct tb_evidence *ev, const struct tb_observation *o, int cue)
{
    for (int i = 0; i < ev->n_implied && ev->cue[cue].implied; i++)
        if (ev->implied[i].cue == cue && seen(o, ev->implied[i].by))
            return implies(&ev->implied[i], o);
    return 0;
}

/* The same of every cue at once. Of several that were seen the first of the table decides, so it is asked last. */
static void take_implied(signed char implied[TB_CUES_MOST], const struct tb_evidence *ev,
                         const struct tb_observation *o)
{
    for (int c = 0; c < ev->cues; c++)
        implied[c] = 0;
    for (int i = ev->n_implied; i-- > 0;)
        if (seen(o, ev->implied[i].by))
            implied[ev->implied[i].cue] = implies(&ev->implied[i], o);
}

/*
 * "A bead" may be any bead: its kinds are then open, not absent. A kind that was seen says all that the general
 * cue could say; and where neither was seen the kinds' absence says it.
 */
static bool says_something(const struct tb_evidence *ev, const struct tb_observation *o,
                           const signed char *implied, int cue)
{
    int general = ev->cue[cue].general;

    if (!seen(o, cue) && implied[cue])
        return false;
    if (general >= 0 && !seen(o, cue) && o->sight[cue] != TB_SIGHT_DENIED)
        return !seen(o, general) || tb_kind_seen(ev, o, general);
    if (tb_cue_general(ev, cue))
        return seen(o, cue) ? !tb_kind_seen(ev, o, cue)
                            : o->sight[cue] == TB_SIGHT_DENIED && !tb_kind_seen(ev, o, cue);
    return true;
}

/* A test has one result: where it is seen, the others are ruled out by it and say nothing more. */
static void add_exclusive(struct tb_terms *out, const struct tb_observation *o, const struct tb_channel *ch)
{
    bool one = false;

    for (int c = ch->first; c < ch->first + ch->n; c++)
        one |= seen(o, c);
    for (int c = ch->first; c < ch->first + ch->n; c++)
        if (seen(o, c) || (!one && o->sight[c] == TB_SIGHT_DENIED))
            out->term[out->n++] = (struct tb_term){ c, seen(o, c), o->sight[c] == TB_SIGHT_DENIED };
}

/* A finer word that nobody published apart says what its general cue says; that it was denied says nothing. */
void tb_observation_known(struct tb_observation *out, const struct tb_evidence *ev,
                          const struct tb_observation *o)
{
    *out = *o;
    for (int c = 0; c < ev->cues; c++)
        if (ev->cue[c].counts_as >= 0) {
            if (seen(o, c))
                out->sight[ev->cue[c].counts_as] = TB_SIGHT_SEEN;
            out->sight[c] = TB_SIGHT_NONE;
        }
}

/* In the order of the table, so that equal observations have equal terms. */
void tb_terms_of(struct tb_terms *out, const struct tb_evidence *ev, const struct tb_observation *as_seen)
{
    struct tb_observation known, *o = &known;
    signed char implied[TB_CUES_MOST];

    tb_observation_known(&known, ev, as_seen);
    take_implied(implied, ev, o);
    out->n = 0;
    for (int i = 0; i < ev->channels; i++) {
        const struct tb_channel *ch = &ev->channel[i];

        if (!o->looked[i])
            continue;
        if (ch->exclusive) {
            add_exclusive(out, o, ch);
            continue;
        }
        for (int c = ch->first; c < ch->first + ch->n; c++)
            if (ev->cue[c].counts_as < 0 && says_something(ev, o, implied, c))
                out->term[out->n++] = (struct tb_term){ c, seen(o, c), o->sight[c] == TB_SIGHT_DENIED };
    }
}

/* The next term of the burn from number i on; NULL: there is none. */
static const struct tb_term *burn_term(const struct tb_terms *t, size_t *i, const struct tb_evidence *ev)
{
    while (*i < t->n && ev->channel[ev->cue[t->term[*i].cue].channel].bench)
        ++*i;
    return *i < t->n ? &t->term[(*i)++] : NULL;
}

bool tb_terms_same_burn(const struct tb_terms *a, const struct tb_terms *b, const struct tb_evidence *ev)
{
    size_t i = 0, k = 0;
    const struct tb_term *x, *y;

    do {
        x = burn_term(a, &i, ev);
        y = burn_term(b, &k, ev);
    } while (x && y && x->cue == y->cue && x->seen == y->seen);
    return !x && !y;
}
