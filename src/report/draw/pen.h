/* pen.h - small helpers over cairo and pango shared by charts, tags and case files. */
#ifndef TENTERBOOK_REPORT_PEN_H
#define TENTERBOOK_REPORT_PEN_H

#include "tenterbook/base.h"

#include <cairo.h>

#define PEN_FACE "DejaVu Sans"

enum pen_ink { PEN_INK, PEN_FADED, PEN_THREAD, PEN_CLOTH, PEN_MADDER, PEN_PAPER };
void tb_pen_ink(cairo_t *c, enum pen_ink ink);

enum pen_at { PEN_LEFT, PEN_CENTRE, PEN_RIGHT };

struct pen_words {
    double size; /* points */
    bool bold, italic;
    bool mono;
    enum pen_at at; /* how x is meant */
    double width;   /* lines are broken to fit; 0: one line, however long */
    int lines;      /* with a width: cut with an ellipsis after so many; 0: as many as it takes */
};
/* Draw text with its top at y; gives the height it took. text may be any UTF-8. */
double tb_pen_text(cairo_t *c, double x, double y, const struct pen_words *how, const char *text);
/* Its size, without drawing. */
void tb_pen_measure(cairo_t *c, double *width, double *height, const struct pen_words *how, const char *text);
/* The same turned a quarter to the left; x, y is the middle of its base. */
void tb_pen_upright(cairo_t *c, double x, double y, const struct pen_words *how, const char *text);

void tb_pen_line(cairo_t *c, double x0, double y0, double x1, double y1, double width);
void tb_pen_box(cairo_t *c, double x, double y, double w, double h, double width);
/* Fill a box by hatching, density 0 (white) .. 1 (dark): the share of ink on paper follows it. */
void tb_pen_hatch(cairo_t *c, double x, double y, double w, double h, double density);

/* What draws here: libraries and type faces. Where it differs, the same drawing may give other bytes. */
void tb_pen_maker(struct tb_text *out);

#endif
