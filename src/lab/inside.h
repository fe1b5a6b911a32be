/* What the files of src/lab share and nobody else needs. */
#ifndef TB_LAB_INSIDE_H
#define TB_LAB_INSIDE_H

#include "tenterbook/lab.h"

#include <complex.h>

/*
 * The formulas are written once, over complex numbers: f(x + i h) gives the value in the real part and h times
 * the derivative by x in the imaginary part, exact to the last digits for a tiny h. All of them are analytic
 * (no absolute value, no branch on a reading), which is what makes this lawful.
 */
typedef double complex tb_lab_z;

void tb_lab_dry_z(tb_lab_z *dry, enum tb_lab_route route, size_t fibres, const tb_lab_z *d,
                  const tb_lab_z *in);
void tb_lab_exact_z(tb_lab_z *dry, const tb_lab_z *d, const tb_lab_z *in);
void tb_lab_adjust_z(tb_lab_z *out, const tb_lab_z *dry, const double *a, const double *b, size_t fibres);
/* Factors and number of fibres are what the route takes. */
tb_rc tb_lab_check_shape(enum tb_lab_route route, size_t fibres, const double *d, struct tb_err *err);

#endif
