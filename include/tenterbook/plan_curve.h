/*
 * plan_curve.h - the operating characteristic of a draw as a picture: chance that false bolts show, by their number.
 */
#ifndef TENTERBOOK_PLAN_CURVE_H
#define TENTERBOOK_PLAN_CURVE_H

#include "tenterbook/plan.h"

#include <stdio.h>

/*
 * tb_plan_curve_svg - write it as SVG: shapes and words, nothing to fetch, readable aloud.
 *
 *   out        receives the whole document; what it could not take is for the caller to see (ferror, commit)
 *   plan       worked out
 *   statement  what the plan would show, one sentence: the picture in words; borrowed
 *   fails      as tb_plan_curve and tb_chart_svg
 */
tb_rc tb_plan_curve_svg(FILE *out, const struct tb_plan *plan, const char *statement, struct tb_err *err);

#endif
