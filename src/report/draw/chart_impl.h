/* chart_impl.h - what the kinds of chart share: the field inside the axes, and the axes. */
#ifndef TENTERBOOK_REPORT_CHART_IMPL_H
#define TENTERBOOK_REPORT_CHART_IMPL_H

#include "report/draw/pen.h"
#include "tenterbook/chart.h"

/* Of a step of an axis: what divisions that come out even may lose. */
#define TB_CHART_SLACK 1e-6

/* The part of the drawing the values go into, and what its edges mean. */
struct field {
    double x, y, w, h;
    double x_from, x_to, y_from, y_to;
};

/* Draw the values in the box that is left under the title. */
void tb_chart_bars(cairo_t *c, const struct tb_chart *k, struct field box);
void tb_chart_rank(cairo_t *c, const struct tb_chart *k, struct field box);
void tb_chart_lines(cairo_t *c, const struct tb_chart *k, struct field box);
void tb_chart_matrix(cairo_t *c, const struct tb_chart *k, struct field box);

/* Where a value stands on the paper. */
double tb_field_x(const struct field *f, double x);
double tb_field_y(const struct field *f, double y);
/* Round steps for an axis from..to, about `about` of them. */
double tb_nice_step(double from, double to, int about);
/* There is a value to draw. */
bool tb_chart_valued(const struct tb_chart *k);
/* Highest value, interval end or limit of all series; 1 when there is nothing above 0. */
double tb_chart_top(const struct tb_chart *k);
/* The upright axis with its grid, its figures and its name. */
void tb_field_y_axis(cairo_t *c, const struct tb_chart *k, const struct field *f);
/* The figures of the lower edge, every `step`, under lines across the field (grid) or short marks; then its name or NULL. */
void tb_field_x_axis(cairo_t *c, const struct field *f, double step, bool share, bool grid, const char *name);
/* The levels across the chart that lie within the field, each with its label. */
void tb_field_limits(cairo_t *c, const struct tb_chart *k, const struct field *f);
/* A line from lo to hi with short ends; upright, or lying. */
void tb_whisker(cairo_t *c, double at, double lo, double hi, bool upright);

#endif
