/*
 * pattern.h - inside the evidence module: observations that say the same, so that they are weighed once.
 *
 * Two hundred swatches of one lot mostly do the same. A *reading* is what an observation says; burns of one part
 * with the same reading that count the same are a *pattern*.
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
    size_t *of;    /* of each observation; TB_READ_NOTHING: nothing looked at, or a test without a result */
    double *power; /* of each observation within its swatch: 1; less for repeats */
};
/* Free with tb_readings_free. */
void tb_readings_make(struct tb_readings *out, const struct tb_evidence *ev, const struct tb_observation *obs,
                      size_t n);
/* Free the readings; the patterns made of them borrow their terms. */
void tb_readings_free(struct tb_readings *r);

struct tb_pattern {
    const struct tb_terms *terms; /* borrowed from the readings */
    struct tb_strange strange;    /* of one observation */
    double power;                 /* the same: its share within its swatch */
    double exponent;              /* of the lot: what a swatch counts beside others */
    size_t times;                 /* so many observations */
    size_t reading;
};
/* What all observations of a pattern count. */
static inline double tb_pattern_power(const struct tb_pattern *p)
{
    return p->power * p->exponent * (double)p->times;
}
/*
 * What every swatch of n observations of one part counts beside the others: m swatches together count as
 * m / (1 + (m - 1) icc), docs/method.md, section 6.
 */
double tb_lot_exponent(const struct tb_evidence *ev, const struct tb_observation *obs, const double *share,
                       size_t n);
/* Observation obs into the list of n patterns, which grows where it has none like it. */
void tb_pattern_add(struct tb_pattern **list, size_t *n, const struct tb_readings *r, size_t obs);

#endif
