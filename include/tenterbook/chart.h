/*
 * chart.h - one drawing of a chart, to PDF, SVG and PNG: for pages, workbooks and case files.
 *
 * Everything is told apart by position, line, hatching and words, never by colour alone: black-and-white print,
 * a fax and a colour-blind reader lose nothing. Values are borrowed for the call. Lengths are points (1/72 inch).
 */
#ifndef TENTERBOOK_CHART_H
#define TENTERBOOK_CHART_H

#include "tenterbook/base.h"

enum tb_chart_kind {
    TB_CHART_BARS,    /* upright bars in the order given, with intervals */
    TB_CHART_RANK,    /* lying bars, a mark at the low end of the interval, counts beside */
    TB_CHART_LINE,    /* lines over x, with limits */
    TB_CHART_MATRIX,  /* counts in rows and columns; the denser the hatching, the more */
    TB_CHART_RELIABLE /* what was said (x, 0..1) against how often it was so (y, 0..1), with intervals */
};

enum tb_chart_line {
    TB_LINE_SOLID,
    TB_LINE_DASHED,
    TB_LINE_DOTTED,
    TB_LINE_POINTS /* marks only */
};

struct tb_chart_point {
    const char *label; /* bars, ranks: under or beside it; NULL else */
    double x;          /* lines; bars and ranks ignore it */
    double y;          /* NAN: nothing known, a gap */
    double lo, hi;     /* interval; NAN: none */
    const char *note;  /* small words beside it: "3 of 17"; NULL: none */
};

struct tb_chart_series {
    const char *name; /* in the key when there are two or more; NULL: none */
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
    const char *title, *note; /* note: small, under the title; NULL: none */
    const char *x_name, *y_name;
    bool x_share, y_share; /* axes in percent; the values are 0..1 */
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

/*
 * tb_chart_write - draw it into a file; its name says how: .pdf, .svg or .png (at 144 dots an inch).
 *
 *   width, height  points, each 120 .. 2000
 *   created        moment for the PDF's properties; NULL: tb_now(). Same chart, same moment: same bytes
 *   fails          TB_EINVAL name or size; TB_EIO
 */
tb_rc tb_chart_write(const char *path, const struct tb_chart *chart, double width, double height,
                     const char *created, struct tb_err *err);

/* tb_chart_words - the chart in words, for those who cannot see it: title, then every value. */
void tb_chart_words(struct tb_text *out, const struct tb_chart *chart);

/* On a cairo context somebody else owns (a page of a case file), the upper left corner at x, y. */
struct _cairo;
void tb_chart_draw(struct _cairo *c, const struct tb_chart *chart, double x, double y, double width,
                   double height);

#endif
