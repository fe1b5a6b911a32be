/*
 * chart.h - one drawing of a chart, for pages, papers and pictures.
 *
 * Everything is told apart by position, line, hatching and words, never by colour alone: black-and-white print,
 * a fax and a colour-blind reader lose nothing. Values are borrowed for the call. Lengths are points (1/72 inch).
 */
#ifndef TENTERBOOK_CHART_H
#define TENTERBOOK_CHART_H

#include "tenterbook/base.h"

enum tb_chart_kind {
    TB_CHART_BARS,  /* upright bars in the order given, with intervals */
    TB_CHART_RANK,  /* lying bars, a mark at the low end of the interval, counts beside */
    TB_CHART_LINE,  /* lines over x, with limits */
    TB_CHART_MATRIX /* counts in rows and columns; the denser the hatching, the more */
};

enum tb_chart_line {
    TB_LINE_SOLID,
    TB_LINE_DASHED,
    TB_LINE_DOTTED,
    TB_LINE_POINTS /* marks only */
};

struct tb_chart_point {
    const char *label; /* bars, ranks: under or beside it; NULL for lines */
    double x;          /* lines; bars and ranks ignore it */
    double y;          /* NAN: nothing known, a gap */
    double lo, hi;     /* interval; NAN: there is no interval */
    const char *note;  /* small words beside it: "3 of 17"; NULL: nothing */
    double aim; /* upright bars: the level that was aimed at here, a line across the bar; 0: none was */
};

struct tb_chart_series {
    const char *name; /* in the key when there are two or more; NULL: not named */
    enum tb_chart_line line;
    const struct tb_chart_point *point;
    size_t n;
};

/* A level across the whole chart: a limit, a mean. */
struct tb_chart_limit {
    double at;
    const char *label;
};

struct tb_chart {
    enum tb_chart_kind kind;
    const char *title, *note; /* note: small, under the title; NULL: nothing */
    const char *empty; /* stands in place of note and axes where there is no value to draw; NULL: they stay */
    const char *x_name, *y_name;
    bool x_share, y_share; /* axes in percent; the values are 0..1 */
    bool x_whole;          /* x counts things: no marks between whole numbers */
    double y_most;         /* top of the axis; NAN or 0: as the values need */
    const struct tb_chart_series *series;
    size_t n;
    const struct tb_chart_limit *limit;
    size_t limits;
    /* TB_CHART_MATRIX: cell[row * columns + column], NAN empty */
    const char *const *row, *const *column;
    size_t rows, columns;
    const double *cell;
    bool same_framed; /* a heavy frame where row and column bear one name */
};

#define TB_CHART_LEAST 120 /* points a picture is wide and high */
#define TB_CHART_MOST 2000

/*
 * tb_chart_svg - a picture of the chart; same chart, same bytes. Letters are outlines, so that it looks alike
 * everywhere; a title and all values are in it as words.
 *
 *   out            the picture is added
 *   width, height  points, each TB_CHART_LEAST .. TB_CHART_MOST
 *   fails          TB_EINVAL: the size; TB_EIO: a font is missing, or the drawing library failed
 */
tb_rc tb_chart_svg(struct tb_text *out, const struct tb_chart *chart, double width, double height,
                   struct tb_err *err);

/* tb_chart_words - add the chart in words, for those who cannot see it: title, note, then every value. */
void tb_chart_words(struct tb_text *out, const struct tb_chart *chart);

struct _cairo;
/*
 * tb_chart_draw - draw on a cairo context somebody else owns, such as a page. The fonts must be ready
 * (report/draw/fonts.h). What fails is noted in the context, as everything drawn there.
 *
 *   x, y           upper left corner
 *   width, height  room for title, note, axes and values together
 */
void tb_chart_draw(struct _cairo *c, const struct tb_chart *chart, double x, double y, double width,
                   double height);

#endif
