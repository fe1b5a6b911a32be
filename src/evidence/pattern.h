/*
 * pattern.h - inside the evidence module: observations that say the same, so that they are weighed once.
 *
 * Two hundred swatches of one lot mostly do the same. A *reading* is what an observation says, or its burn with the first few of
 * its bench tests; burns of one part by one person with the same reading are a *pattern*.
 */
#ifndef TENTERBOOK_EVIDENCE_PATTERN_H
#define TENTERBOOK_EVIDENCE_PATTERN_H

#include "evidence/likelihood.h"

#define TB_READ_NOTHING ((size_t)-1)

#define TB_STEP_BURN (-1)

/* What was done to a swatch, one thing after the other: its burn, then its bench tests in the order of the table. */
struct tb_step {
    int channel;    /* of the bench test; TB_STEP_BURN */
    size_t reading; /* of all that was done up to here */
};

/* The distinct readings of some observations. */
struct tb_readings {
    struct tb_terms *terms;
    struct tb_strange *strange; /* of each reading that was asked for; tb_reading_strange */
    bool *made;
    size_t n;
    size_t *of;     /* of each observation; TB_READ_NOTHING: nothing looked at, or a test without a result */
    size_t *person; /* who made each observation: the number of that person's first one */
    struct tb_step *step; /* those of observation i are step[from[i]] to step[from[i + 1] - 1] */
    size_t *from;
};
/* Free with tb_readings_free. */
void tb_readings_make(struct tb_readings *out, const struct tb_evidence *ev, const struct tb_observation *obs,
                      size_t n);
/* Free the readings; the patterns made of them borrow their terms. */
void tb_readings_free(struct tb_readings *r);

struct tb_pattern {
    const struct tb_terms *terms; /* borrowed from the readings */
    struct tb_strange strange;    /* of one observation */
    double
        power; /* what all of them count; below 0 where a test counts more than the burn it is told beside */
    size_t times; /* so many observations */
    size_t person, reading;
    const char *by;     /* that person; borrowed, NULL: not said */
    const char *swatch; /* of the first of them; borrowed, NULL: not said */
};
/* log P(observations of n patterns | blend). */
double tb_patterns_log(const struct tb_evidence *ev, const struct tb_blend *b,
                       const struct tb_pattern *pattern, size_t n);
/* Burns and bench tests, and what they count together. */
struct tb_counted {
    size_t acts;
    double as;
};
/*
 * tb_patterns_take - the patterns of some observations of one part, into *list, which is yours to free.
 *
 *   which    numbers of n of the observations, each of which says something
 *   returns  what they count: docs/method.md, section 6
 */
struct tb_counted tb_patterns_take(struct tb_pattern **list, size_t *n_list, const struct tb_evidence *ev,
                                   const struct tb_readings *r, const struct tb_observation *obs,
                                   const size_t *which, size_t n);

#endif
