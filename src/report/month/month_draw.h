/* month_draw.h - the charts of the page of a month. Internal. */
#ifndef TENTERBOOK_REPORT_MONTH_DRAW_H
#define TENTERBOOK_REPORT_MONTH_DRAW_H

#include "report/month/month_impl.h"

#include <cairo.h>

/* box: left, top, width, height in points. */
void tb_month_draw_trend(cairo_t *c, const struct month *m, const double box[4]);
void tb_month_draw_ranks(cairo_t *c, const struct month *m, const double box[4]);
void tb_month_draw_matrix(cairo_t *c, const struct month *m, const double box[4]);
void tb_month_draw_stakes(cairo_t *c, const struct month *m, const double box[4]);

#endif
