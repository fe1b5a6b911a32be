#include "tenterbook/evidence.h"

#include "gen/ref_cue.h"

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

/* "No smoke" beside "black smoke": one of them is a slip, and only who saw it knows which. */
static tb_rc check_nothing(const struct tb_observation *o, struct tb_err *err)
{
    for (size_t i = 0; i < tb_cue_count(); i++) {
        struct tb_cue none, other;

        if (!tb_ref_cue[i].nothing || o->sight[i] != TB_SIGHT_SEEN)
            continue;
        tb_cue_at(&none, (int)i);
        for (size_t k = 0; k < tb_cue_count(); k++) {
            tb_cue_at(&other, (int)k);
            if (k != i && other.channel == none.channel && o->sight[k] == TB_SIGHT_SEEN)
                return tb_fail(err, TB_EINVAL, "%s (%s) and %s (%s) cannot both be seen in one burn",
                               none.key, none.meaning, other.key, other.meaning);
        }
    }
    return TB_OK;
}

/* A solvent dissolves or does not: two results of one test are two tests, or a slip. */
static tb_rc check_exclusive(const struct tb_observation *o, struct tb_err *err)
{
    for (size_t i = 0; i < tb_channel_count(); i++) {
        struct tb_channel ch;
        int seen = 0;

        tb_channel_at(&ch, (int)i);
        for (int c = ch.first; ch.exclusive && c < ch.first + ch.n; c++)
            seen += o->sight[c] == TB_SIGHT_SEEN;
        if (seen > 1)
            return tb_fail(err, TB_EINVAL, "%s can have one result only; a second test is recorded by itself",
                           ch.key);
    }
    return TB_OK;
}

tb_rc tb_observation_read(struct tb_observation *out, const char *saw, const char *not_seen,
                          const char *looked, struct tb_err *err)
{
    struct tb_observation o = { .part = out->part, .swatch = out->swatch };
    tb_rc rc;

    if ((rc = take_list(&o, saw, TB_SIGHT_SEEN, err)) != TB_OK ||
        (rc = take_list(&o, not_seen, TB_SIGHT_DENIED, err)) != TB_OK ||
        (rc = take_list(&o, looked, TB_SIGHT_NONE, err)) != TB_OK || (rc = check_nothing(&o, err)) != TB_OK ||
        (rc = check_exclusive(&o, err)) != TB_OK)
        return rc;
    *out = o;
    return TB_OK;
}
