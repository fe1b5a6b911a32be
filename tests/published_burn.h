/* published_burn.h - what a published description of a burn says, as an observation. */
#ifndef TENTERBOOK_TESTS_PUBLISHED_BURN_H
#define TENTERBOOK_TESTS_PUBLISHED_BURN_H

#include "tenterbook/evidence.h"

#include "gen/ref_burn_profile.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void take_cell(struct tb_observation *o, const char *channel, const char *cell)
{
    char *copy = tb_strdup(cell), *rest = NULL;

    for (char *w = strtok_r(copy, "; ", &rest); w; w = strtok_r(NULL, "; ", &rest)) {
        char key[200];
        int cue;

        (void)snprintf(key, sizeof key, "%s:%s", channel, w[0] == '!' ? w + 1 : w);
        cue = tb_cue_by_key(key);
        if (cue < 0)
            continue;
        if (w[0] != '!')
            tb_observation_see(o, cue);
        else if (o->sight[cue] != TB_SIGHT_SEEN)
            tb_observation_deny(o, cue);
    }
    free(copy);
}

/* Added to what other descriptions said: what anybody saw was seen. */
static void take_profile(struct tb_observation *o, const struct tb_ref_burn_profile *r)
{
    take_cell(o, "approach", r->approach);
    take_cell(o, "in_flame", r->in_flame);
    take_cell(o, "removed", r->removed);
    take_cell(o, "flame_colour", r->flame_colour);
    take_cell(o, "smoke", r->smoke);
    take_cell(o, "odour", r->odour);
    take_cell(o, "residue_form", r->residue_form);
    take_cell(o, "residue_colour", r->residue_colour);
}

#endif
