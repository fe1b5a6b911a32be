/* bench_helper.h - swatches and burns for the tests of the bench's acts. */
#ifndef TENTERBOOK_TESTS_BENCH_HELPER_H
#define TENTERBOOK_TESTS_BENCH_HELPER_H

#include "unit/act_helper.h"

#include "tenterbook/act_bench.h"

/* A burn as cotton and one as polyester does it, in cues that every published description of them shares. */
#define AS_COTTON "odour:burning_paper residue_form:light_fluffy_ash in_flame:burns_fast"
#define AS_POLYESTER "approach:shrinks_away smoke:black residue_form:hard_bead odour:sweet"

static inline const char *cut_one(struct scene *s, const char *bolt, enum tb_part_kind part)
{
    struct tb_cut_outcome cut;

    OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .bolt = bolt, .part = part }, &s->mem, &err));
    return cut.swatch.tag;
}

static inline struct tb_observation seen_as(const char *cues)
{
    struct tb_observation o = { 0 };

    OK(tb_observation_read(&o, cues, NULL, NULL, &err));
    return o;
}

/* Burn a swatch; answers the outcome, to be freed. */
static inline struct tb_burn_outcome burn_one(struct scene *s, const char *tag, const char *cues)
{
    struct tb_observation seen = seen_as(cues);
    struct tb_burn_outcome out;

    OK(tb_act_burn(&out, &s->actor,
                   &(struct tb_burn_request){ .swatch = tag, .seen = &seen, .sample_mm = (double)NAN },
                   &s->mem, &err));
    return out;
}

#endif
