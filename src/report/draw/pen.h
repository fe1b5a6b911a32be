/* pen.h - small helpers over cairo and pango shared by charts, tags and papers. Internal. Lengths are points. */
#ifndef TENTERBOOK_REPORT_PEN_H
#define TENTERBOOK_REPORT_PEN_H

#include "tenterbook/base.h"

#include "gen/late_drawing.h"

#define PEN_FACE "DejaVu Sans" /* one of the fonts of fonts.h */

/*
 * What is drawn, each with its colour; on paper without colour they stay apart by how dark they are.
 * INK words and lines, FADED what is beside them, THREAD grids and rules, CLOTH grounds, MADDER what matters.
 */
enum pen_ink { PEN_INK, PEN_FADED, PEN_THREAD, PEN_CLOTH, PEN_MADDER, PEN_PAPER };
/* tb_pen_ink - what is drawn from here on has this colour. */
void tb_pen_ink(cairo_t *c, enum pen_ink ink);

enum pen_at { PEN_LEFT, PEN_CENTRE, PEN_RIGHT };

/* How words are set. Letters are not hinted: they stand at the same places whatever the screen or printer. */
struct pen_words {
    double size; /* points */
    bool bold, italic;
    bool mono;      /* figures and numbers that are compared letter by letter */
    enum pen_at at; /* how x is meant */
    double width;   /* lines are broken to fit; 0: one line, however long */
    int lines;      /* with a width: cut with an ellipsis after so many; 0: as many as it takes */
};
/*
 * tb_pen_text - draw words with their top at y; answers the height they took.
 *   text    any UTF-8, in any direction of writing; the fonts must be ready
 */
double tb_pen_text(cairo_t *c, double x, double y, const struct pen_words *how, const char *text);
/* tb_pen_measure - the size the words would take, without drawing. */
void tb_pen_measure(cairo_t *c, double *width, double *height, const struct pen_words *how, const char *text);
/* tb_pen_lacks - whether the typefaces lack a letter of these words; a box stands for it where they are drawn. */
bool tb_pen_lacks(cairo_t *c, const char *text);
/* tb_pen_upright - the same turned a quarter to the left; x, y is the middle of its base. */
void tb_pen_upright(cairo_t *c, double x, double y, const struct pen_words *how, const char *text);

/* tb_pen_line, tb_pen_box - a line, a frame, `width` points thick. */
void tb_pen_line(cairo_t *c, double x0, double y0, double x1, double y1, double width);
void tb_pen_box(cairo_t *c, double x, double y, double w, double h, double width);
/* tb_pen_hatch - fill a box by hatching, density 0 (white) .. 1 (dark): the share of ink on paper follows it. */
void tb_pen_hatch(cairo_t *c, double x, double y, double w, double h, double density);

/*
 * tb_pen_maker - add what draws here: libraries and the sizes of sample words in each face. Where it differs, the same
 * drawing may give other bytes, so pages are compared only where it is the same.
 */
void tb_pen_maker(struct tb_text *out);

#endif
