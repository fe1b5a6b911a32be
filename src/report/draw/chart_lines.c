/* chart_lines.c - values over x: the operating characteristic of a draw, and what else runs along a line. */
#include "report/draw/chart_impl.h"

#include <math.h>

/* Lines differ by pattern, so that a copy without colour keeps them apart. */
static void set_line(cairo_t *c, enum tb_chart_line line)
{
    const double dashed[] = { 6, 3 }, dotted[] = { 1.2, 2.6 };

    if (line == TB_LINE_DASHED)
        cairo_set_dash(c, dashed, 2, 0);
    else if (line == TB_LINE_DOTTED)
        cairo_set_dash(c, dotted, 2, 0);
    else
        cairo_set_dash(c, NULL, 0, 0);
}

/* All series share one axis. A single point, or none, still gets an axis with a width. */
static void x_range(const struct tb_chart *k, struct field *f)
{
    f->x_from = INFINITY;
    f->x_to = -INFINITY;
    for (size_t s = 0; s < k->n; s++)
        for (size_t i = 0; i < k->series[s].n; i++) {
            f->x_from = fmin(f->x_from, k->series[s].point[i].x);
            f->x_to = fmax(f->x_to, k->series[s].point[i].x);
        }
    if (!(f->x_from < f->x_to)) {
        double at = isfinite(f->x_from) ? f->x_from : 0;

        f->x_from = at - 0.5;
        f->x_to = at + 0.5;
    }
}

/* Marks only where the field has room for their figures, and none between things that are counted. */
static void x_axis(cairo_t *c, const struct tb_chart *k, const struct field *f)
{
    double step = tb_nice_step(f->x_from, f->x_to, f->w > 260 ? 6 : 4);

    tb_pen_ink(c, PEN_INK);
    tb_pen_line(c, f->x, f->y + f->h, f->x + f->w, f->y + f->h, 1);
    tb_field_x_axis(c, f, k->x_whole ? fmax(step, 1) : step, k->x_share, false, k->x_name);
}

/*
 * A gap in the values is a gap in the line: nobody is told a value that is not known. Few points get a mark each, many
 * would run together.
 */
static void draw_series(cairo_t *c, const struct field *f, const struct tb_chart_series *s)
{
    bool marks = s->line == TB_LINE_POINTS || s->n <= 15, down = false;

    tb_pen_ink(c, PEN_INK);
    if (s->line != TB_LINE_POINTS) {
        set_line(c, s->line);
        cairo_set_line_width(c, 1.4);
        for (size_t i = 0; i < s->n; i++) {
            const struct tb_chart_point *p = &s->point[i];

            if (!isfinite(p->y)) {
                down = false;
                continue;
            }
            (down ? cairo_line_to : cairo_move_to)(c, tb_field_x(f, p->x), tb_field_y(f, p->y));
            down = true;
        }
        cairo_stroke(c);
        set_line(c, TB_LINE_SOLID);
    }
    for (size_t i = 0; i < s->n; i++) {
        const struct tb_chart_point *p = &s->point[i];
        double x = tb_field_x(f, p->x);

        if (isfinite(p->lo) && isfinite(p->hi))
            tb_whisker(c, x, tb_field_y(f, fmax(p->lo, f->y_from)), tb_field_y(f, fmin(p->hi, f->y_to)),
                       true);
        if (!marks || !isfinite(p->y))
            continue;
        tb_pen_ink(c, s->line == TB_LINE_SOLID || s->line == TB_LINE_POINTS ? PEN_MADDER : PEN_PAPER);
        cairo_arc(c, x, tb_field_y(f, p->y), 2.6, 0, 2 * M_PI);
        cairo_fill_preserve(c);
        tb_pen_ink(c, PEN_INK);
        cairo_set_line_width(c, 0.9);
        cairo_stroke(c);
    }
}

/* One series needs no key: the title names it. */
static void draw_key(cairo_t *c, const struct tb_chart *k, const struct field *f)
{
    const struct pen_words small = { .size = 7.5 };
    double x = f->x + 6, y = f->y - 2;

    for (size_t i = 0; i < k->n && k->n > 1; i++) {
        double w, h;

        if (!k->series[i].name)
            continue;
        tb_pen_ink(c, PEN_INK);
        set_line(c, k->series[i].line);
        if (k->series[i].line != TB_LINE_POINTS)
            tb_pen_line(c, x, y - 6, x + 22, y - 6, 1.4);
        set_line(c, TB_LINE_SOLID);
        if (k->series[i].line == TB_LINE_POINTS) {
            cairo_arc(c, x + 11, y - 6, 2.6, 0, 2 * M_PI);
            cairo_fill(c);
        }
        (void)tb_pen_text(c, x + 26, y - 11, &small, k->series[i].name);
        tb_pen_measure(c, &w, &h, &small, k->series[i].name);
        x += w + 40;
    }
}

/* The axis of values begins at 0: a line that begins higher makes small changes look large. */
void tb_chart_lines(cairo_t *c, const struct tb_chart *k, struct field f)
{
    bool key = k->n > 1;

    f.x += 44;
    f.w -= 60;
    f.h -= 30;
    f.y += key ? 12 : 2;
    f.h -= key ? 12 : 2;
    x_range(k, &f);
    f.y_from = 0;
    f.y_to = k->y_most > 0 ? k->y_most : tb_chart_top(k) * 1.08;
    tb_field_y_axis(c, k, &f);
    x_axis(c, k, &f);
    tb_field_limits(c, k, &f);
    for (size_t i = 0; i < k->n; i++)
        draw_series(c, &f, &k->series[i]);
    draw_key(c, k, &f);
}
