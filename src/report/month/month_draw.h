/* month_draw.h - the charts of the page of a month. Internal. */
#ifndef TENTERBOOK_REPORT_MONTH_DRAW_H
#define TENTERBOOK_REPORT_MONTH_DRAW_H

#include "report/month/month_impl.h"

#include "gen/late_drawing.h"

/*
 * Each draws one chart in a box (left, top, width, height in points); where there is nothing to draw, its title and a
 * sentence that says so. They show: the share that contradicts by month, the same by supplier, what was found instead of
 * what was declared, and what is held of what came in.
 */
void tb_month_draw_trend(cairo_t *c, const struct month *m, const double box[4], struct tb_text *told);
void tb_month_draw_ranks(cairo_t *c, const struct month *m, const double box[4], struct tb_text *told);
void tb_month_draw_matrix(cairo_t *c, const struct month *m, const double box[4], struct tb_text *told);
void tb_month_draw_stakes(cairo_t *c, const struct month *m, const double box[4], struct tb_text *told);

#endif
