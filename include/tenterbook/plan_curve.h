/*
 * plan_curve.h - what a draw would show, as a picture: the chance that false bolts show, by their number (the operating
 * characteristic).
 */
#ifndef TENTERBOOK_PLAN_CURVE_H
#define TENTERBOOK_PLAN_CURVE_H

#include "tenterbook/plan.h"

#include <stdio.h>

/*
 * tb_plan_curve_svg - write the picture as SVG: shapes and words, nothing to fetch, readable aloud.
 *
 *   out        receives the whole document; what it could not take is for the caller to see (ferror, commit)
 *   plan       worked out
 *   fails      as tb_plan_curve and tb_chart_svg
 */
tb_rc tb_plan_curve_svg(FILE *out, const struct tb_plan *plan, struct tb_err *err);

#endif
