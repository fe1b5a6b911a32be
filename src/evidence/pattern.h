/*
 * pattern.h - inside the evidence module: observations that say the same, so that they are weighed once.
 *
 * Two hundred swatches of one lot mostly do the same. A *reading* is what an observation says; burns of one part
 * by one person with the same reading are a *pattern*.
 */
#ifndef TENTERBOOK_EVIDENCE_PATTERN_H
#define TENTERBOOK_EVIDENCE_PATTERN_H

#include "evidence/likelihood.h"

#define TB_READ_NOTHING ((size_t)-1)

/* The distinct readings of some observations. */
struct tb_readings {
    struct tb_terms *terms;
    struct tb_strange *strange; /* of each reading */
    size_t n;
    size_t *of;     /* of each observation; TB_READ_NOTHING: nothing looked at, or a test without a result */
    size_t *person; /* who made each observation: the number of that person's first one */
};
/* Free with tb_readings_free. */
void tb_readings_make(struct tb_readings *out, const struct tb_evidence *ev, const struct tb_observation *obs,
                      size_t n);
/* Free the readings; the patterns made of them borrow their terms. */
void tb_readings_free(struct tb_readings *r);

struct tb_pattern {
    const struct tb_terms *terms; /* borrowed from the readings */
    struct tb_strange strange;    /* of one observation */
    double power;                 /* the same: its share of what its person saw */
    double exponent;              /* what a person counts beside others */
    size_t times;                 /* so many observations */
    size_t person, reading;
};
/* What all observations of a pattern count. */
static inline double tb_pattern_power(const struct tb_pattern *p)
{
    return p->power * p->exponent * (double)p->times;
}
/* log P(observations of n patterns | blend). */
double tb_patterns_log(const struct tb_evidence *ev, const struct tb_blend *b,
                       const struct tb_pattern *pattern, size_t n);
/* What observations of one part count; free with tb_counting_free. */
struct tb_counting {
    double *share;   /* of each: burns of one person, and the same test by one person, share 1 */
    double exponent; /* m persons count as m / (1 + (m - 1) icc) */
};
/* Of n observations that say something; docs/method.md, section 6. */
void tb_share_out(struct tb_counting *out, const struct tb_evidence *ev, const struct tb_observation *obs,
                  size_t n);
/* Free the shares. */
void tb_counting_free(struct tb_counting *c);
/* Observation obs, which counts power * exponent, into the list of n patterns, which grows where it has none like it. */
void tb_pattern_add(struct tb_pattern **list, size_t *n, const struct tb_readings *r, size_t obs,
                    double power, double exponent);

#endif
