/* observation.c - what was seen in one burn, set cue by cue or read from lists of words. */
#include "tenterbook/evidence.h"
#include "tenterbook/words.h"

#include "gen/ref_cue.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char separators[] = ",; \t\r\n";

static int channel_of(int cue)
{
    struct tb_cue c;

    tb_cue_at(&c, cue);
    return c.channel;
}

void tb_observation_see(struct tb_observation *o, int cue)
{
    o->sight[cue] = TB_SIGHT_SEEN;
    o->looked[channel_of(cue)] = 1;
}

void tb_observation_deny(struct tb_observation *o, int cue)
{
    o->sight[cue] = TB_SIGHT_DENIED;
    o->looked[channel_of(cue)] = 1;
}

void tb_observation_look(struct tb_observation *o, int channel)
{
    o->looked[channel] = 1;
}

bool tb_observation_empty(const struct tb_observation *o)
{
    for (size_t i = 0; i < TB_CHANNELS_MOST; i++)
        if (o->looked[i])
            return false;
    return true;
}

/* One word of a list: what it does to the observation. */
static tb_rc take_cue(struct tb_observation *o, const char *word, enum tb_sight sight, struct tb_err *err)
{
    int cue;
    tb_rc rc;

    if (word[0] == '!') {
        sight = TB_SIGHT_DENIED;
        word++;
    }
    if ((rc = tb_cue_find(&cue, word, err)) != TB_OK)
        return rc;
    if (o->sight[cue] != TB_SIGHT_NONE && o->sight[cue] != (unsigned char)sight)
        return tb_fail(err, TB_EINVAL, "'%s' is given both as seen and as absent", word);
    if (sight == TB_SIGHT_SEEN)
        tb_observation_see(o, cue);
    else
        tb_observation_deny(o, cue);
    return TB_OK;
}

/* The same reader for three lists; what a word does depends on the list it stands in. */
static tb_rc take_list(struct tb_observation *o, const char *list, enum tb_sight what, struct tb_err *err)
{
    char *copy = tb_strdup(list ? list : ""), *rest = NULL;
    tb_rc rc = TB_OK;

    for (char *w = strtok_r(copy, separators, &rest); w && rc == TB_OK;
         w = strtok_r(NULL, separators, &rest)) {
        int channel;

        if (what != TB_SIGHT_NONE)
            rc = take_cue(o, w, what, err);
        else if ((rc = tb_channel_find(&channel, w, err)) == TB_OK)
            tb_observation_look(o, channel);
    }
    free(copy);
    return rc;
}

/*
 * Two cues of one channel that cannot both be: of a test with one result (a second test is recorded by itself), or
 * "no smoke" beside "black smoke", where one is a slip and only who saw it knows which.
 */
static tb_rc check_pair(int one, int other, const struct tb_channel *ch, struct tb_err *err)
{
    struct tb_cue none, some;

    if (ch->exclusive)
        return tb_fail(err, TB_EINVAL, "%s can have one result only; a second test is recorded by itself",
                       ch->key);
    if (!tb_ref_cue[one].nothing && !tb_ref_cue[other].nothing)
        return TB_OK;
    tb_cue_at(&none, tb_ref_cue[one].nothing ? one : other);
    tb_cue_at(&some, tb_ref_cue[one].nothing ? other : one);
    return tb_fail(err, TB_EINVAL, "%s (%s) and %s (%s) cannot both be seen in one burn", none.key,
                   none.meaning, some.key, some.meaning);
}

/* Every pair is looked at, so that the sentence can name both. */
static tb_rc check_channel(const struct tb_observation *o, const struct tb_channel *ch, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (int c = ch->first; c < ch->first + ch->n; c++)
        for (int d = c + 1; d < ch->first + ch->n && o->sight[c] == TB_SIGHT_SEEN && rc == TB_OK; d++)
            if (o->sight[d] == TB_SIGHT_SEEN)
                rc = check_pair(c, d, ch, err);
    return rc;
}

static tb_rc check_channels(const struct tb_observation *o, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < tb_channel_count() && rc == TB_OK; i++) {
        struct tb_channel ch;

        tb_channel_at(&ch, (int)i);
        rc = check_channel(o, &ch, err);
    }
    return rc;
}

/* Is this word in the column `implies` of a cue? */
static bool says(int cue, const char *mark, const char *key)
{
    char word[80];
    const char *list = tb_ref_cue[cue].implies;

    (void)snprintf(word, sizeof word, "%s%s", mark, key);
    return tb_word_listed(list, word, strlen(word), " ");
}

bool tb_cue_implies(int seen, int other)
{
    int general = *tb_ref_cue[seen].kind_of ? tb_cue_by_key(tb_ref_cue[seen].kind_of) : -1;

    return general == other || says(seen, "", tb_ref_cue[other].key) ||
           (general >= 0 && tb_cue_implies(general, other));
}

/* Whether a cue that was seen says by its meaning that the other one cannot have been there: column `implies` too. */
static bool rules_out(int seen, int other)
{
    return says(seen, "!", tb_ref_cue[other].key);
}

/* What was seen may mean that something else was there, or was not: the other way round one of the two is a slip. */
static tb_rc check_meaning(const struct tb_observation *o, int seen, int other, struct tb_err *err)
{
    struct tb_cue one, two;
    bool denied = o->sight[other] == TB_SIGHT_DENIED && tb_cue_implies(seen, other);

    if (!denied && !(o->sight[other] == TB_SIGHT_SEEN && rules_out(seen, other)))
        return TB_OK;
    tb_cue_at(&one, seen);
    tb_cue_at(&two, other);
    return denied ? tb_fail(err, TB_EINVAL,
                            "%s (%s) was seen, and that means %s (%s): it cannot be said not to be there",
                            one.key, one.meaning, two.key, two.meaning)
                  : tb_fail(err, TB_EINVAL, "%s (%s) and %s (%s) cannot both be seen in one burn", one.key,
                            one.meaning, two.key, two.meaning);
}

static tb_rc check_meanings(const struct tb_observation *o, struct tb_err *err)
{
    int n = (int)tb_cue_count();
    tb_rc rc = TB_OK;

    for (int c = 0; c < n; c++)
        for (int d = 0; d < n && o->sight[c] == TB_SIGHT_SEEN && rc == TB_OK; d++)
            rc = d == c ? TB_OK : check_meaning(o, c, d, err);
    return rc;
}

/* Into a copy: an observation that is refused leaves the caller's as it was. */
tb_rc tb_observation_read(struct tb_observation *out, const char *saw, const char *not_seen,
                          const char *looked, struct tb_err *err)
{
    struct tb_observation o = { .part = out->part, .swatch = out->swatch, .person = out->person };
    tb_rc rc;

    if ((rc = take_list(&o, saw, TB_SIGHT_SEEN, err)) != TB_OK ||
        (rc = take_list(&o, not_seen, TB_SIGHT_DENIED, err)) != TB_OK ||
        (rc = take_list(&o, looked, TB_SIGHT_NONE, err)) != TB_OK ||
        (rc = check_channels(&o, err)) != TB_OK || (rc = check_meanings(&o, err)) != TB_OK)
        return rc;
    *out = o;
    return TB_OK;
}

tb_rc tb_observation_could_not(struct tb_observation *o, const char *list, struct tb_err *err)
{
    char *copy = tb_strdup(list ? list : ""), *rest = NULL;
    struct tb_observation marked = *o;
    tb_rc rc = TB_OK;

    for (char *w = strtok_r(copy, separators, &rest); w && rc == TB_OK;
         w = strtok_r(NULL, separators, &rest)) {
        int channel;

        if ((rc = tb_channel_find(&channel, w, err)) != TB_OK)
            continue;
        if (o->looked[channel])
            rc = tb_fail(err, TB_EINVAL,
                         "'%s' is given both as looked at (saw, not, looked) and as what could not be judged",
                         w);
        marked.could_not[channel] = 1;
    }
    if (rc == TB_OK)
        *o = marked;
    free(copy);
    return rc;
}
