/* inside.h - what the files of src/lab share and nobody else needs. */
#ifndef TENTERBOOK_LAB_INSIDE_H
#define TENTERBOOK_LAB_INSIDE_H

#include "tenterbook/lab.h"

#include <complex.h>

/*
 * The formulas are written once, over complex numbers: f(x + i h) gives the value in the real part and h times
 * the derivative by x in the imaginary part, exact to the last digits for a tiny h. All of them are analytic
 * (no absolute value, no branch on a reading), without which the imaginary part would be no derivative.
 */
typedef double complex tb_lab_z;

/* Nitrogen contents the Regulation uses in method 12, percent. */
#define TB_LAB_N_JUTE 0.22
#define TB_LAB_N_ANIMAL 16.2
/* 14 mg a milliequivalent, a twentieth of the digest distilled, percent of grams: 14 * 20 * 100 / 1000. */
#define TB_LAB_N_FACTOR 28.0

/* Readings are never exact: a share may come out up to a point beyond 0 and 100. */
#define TB_LAB_SHARE_LEAST (-1)
#define TB_LAB_SHARE_MOST 101

/* Dry percentages of one determination, by the formulas of the Regulation; d and `in` as the route has them. */
void tb_lab_dry_z(tb_lab_z *dry, enum tb_lab_route route, size_t fibres, const tb_lab_z *d,
                  const tb_lab_z *in);
/* The same of variant 1 from its mass balance. */
void tb_lab_exact_z(tb_lab_z *dry, const tb_lab_z *d, const tb_lab_z *in);
/* Percentages with allowances a and losses b, percent. */
void tb_lab_adjust_z(tb_lab_z *out, const tb_lab_z *dry, const double *a, const double *b, size_t fibres);
/* Factors and number of fibres are what the route takes. */
tb_rc tb_lab_check_shape(enum tb_lab_route route, size_t fibres, const double *d, struct tb_err *err);

/* Percentages on one basis with their budgets, into out->share[basis]; the basis is known. */
void tb_lab_one_basis(struct tb_lab_result *out, const struct tb_lab_task *t, enum tb_lab_basis basis,
                      const struct tb_lab_det *det, size_t dets);

#endif
