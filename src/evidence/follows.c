/* follows.c - whether a verdict that was kept still follows from the model in force, as far as that is seen without weighing. */
#include "tenterbook/follows.h"
#include "evidence/bounds.h"
#include "evidence/counts.h"

#include <math.h>
#include <string.h>

/* By the digest: what a verdict was made with, were its limits those that it tells, and all other figures those of today. */
static bool of_these_figures(const struct tb_evidence *ev, const struct tb_once *v)
{
    char digest[TB_REFERENCE];
    struct tb_bounds then;

    tb_bounds_near(&then, &v->full_bounds);
    tb_digest_within(digest, ev, &then);
    return strcmp(digest, v->reference) == 0;
}

/* A grade that nothing hindered goes with the ratio; what hindered one once is taken to do so still. */
static bool keeps_grade(const struct tb_evidence *ev, const struct tb_once *v)
{
    const double contradicts = ev->set.contradicts_below, speaks = fmax(ev->set.speaks_below, contradicts);
    struct tb_bounds now;
    double ratio;

    tb_bounds_of_looks(&now, &ev->bounds, v->looks ? v->looks : TB_FULL_LOOKS);
    ratio = exp(tb_bounded(&now, v->log_ratio));
    if (v->at_odds)
        return v->grade == TB_GRADE_UNDECIDED;
    switch (v->grade) {
    case TB_GRADE_CONTRADICTS:
        return ratio < contradicts;
    case TB_GRADE_SPEAKS_AGAINST:
        return ratio < speaks && (ratio >= contradicts || v->hindered);
    case TB_GRADE_FITS:
        return ratio > ev->set.fits_above;
    default:
        return ratio >= speaks && (ratio <= ev->set.fits_above || v->hindered);
    }
}

enum tb_follows tb_evidence_follows(const struct tb_evidence *ev, const struct tb_once *v)
{
    if (isnan(v->log_ratio))
        return TB_FOLLOWS; /* nothing was weighed, whatever the limits are */
    if (strcmp(ev->digest, v->reference) != 0 && !of_these_figures(ev, v))
        return TB_FOLLOWS_UNSEEN;
    return keeps_grade(ev, v) ? TB_FOLLOWS : TB_FOLLOWS_NOT;
}
