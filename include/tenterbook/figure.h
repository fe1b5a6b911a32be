/*
 * figure.h - how many digits a figure has that is printed for a reader: in JSON, in CSV and in the cells of a workbook.
 *
 * What was typed or counted stays as it is: at most nine significant digits, or at most four decimals. What was computed (a ratio,
 * a chance, a share, a logarithm, a mean) has six significant digits, and never fewer than two decimals.
 */
#ifndef TENTERBOOK_FIGURE_H
#define TENTERBOOK_FIGURE_H

#include "tenterbook/base.h"

/* The figure as it is printed: what was typed is it, what was computed is rounded. What is not finite stays so. */
double tb_figure(double v);
/*
 * tb_rounded - what is printed with so many decimals, 0 to 9: halves go away from zero, as a person with a pencil and a spreadsheet round
 * them, and 486.765 is such a half though no double is exactly that. What is not finite, or too large for it, stays as it is.
 */
double tb_rounded(double v, int places);
/* The same of an amount of money, in hundredths. */
double tb_cents(double v);
/* What v reads back as from so many significant digits, 1 to 9; what is not finite stays as it is. */
double tb_to_digits(double v, int digits);
/* How many digits to write so that none of it is lost: 15, which keep a decimal figure as it is, or 17 where all were asked for. */
int tb_figure_digits(void);
/*
 * Whoever computes our figures again with a program of their own may ask for all digits: TENTERBOOK_DIGITS=17. Read once, before
 * there is any thread. TB_EINVAL for any other value.
 */
tb_rc tb_figures_asked(struct tb_err *err);

#endif
