/*
 * chart.c - one drawing of a chart: its title and note, axes, limits, and the kind of picture between them.
 *
 * Sizes are points on paper. They are chosen for an A4 page looked at from arm's length and for its photocopy: letters of
 * 7 points and more, lines of half a point and more, no tone of grey that carries a meaning.
 */
#include "report/draw/chart_impl.h"

#include <math.h>
#include <stdio.h>

double tb_field_x(const struct field *f, double x)
{
    return f->x + (x - f->x_from) / (f->x_to - f->x_from) * f->w;
}

/* Upwards on the chart is downwards in cairo, whose y grows towards the foot of the page. */
double tb_field_y(const struct field *f, double y)
{
    return f->y + f->h - (y - f->y_from) / (f->y_to - f->y_from) * f->h;
}

/* Steps a reader counts in: 1, 2, 5 or 10 times a power of ten, whichever comes nearest to the number asked for. */
double tb_nice_step(double from, double to, int about)
{
    double raw = (to - from) / about, ten = pow(10, floor(log10(raw))), m = raw / ten;

    return ten * (m < 1.5 ? 1 : m < 3.5 ? 2 : m < 7.5 ? 5 : 10);
}

/* "20 %", "1,500", "0.25": as many decimals as the step needs to tell two marks apart, and none that are always 0. */
static void axis_words(char out[32], double v, double step, bool share)
{
    double shown = share ? v * 100 : v, s = share ? step * 100 : step;
    int decimals = s >= 1 ? 0 : (int)ceil(-log10(s) - TB_CHART_SLACK);

    (void)snprintf(out, 32, share ? "%.*f %%" : "%.*f", decimals > 6 ? 6 : decimals, shown + 0.0);
}

double tb_chart_top(const struct tb_chart *k)
{
    double top = -INFINITY;

    for (size_t s = 0; s < k->n; s++)
        for (size_t i = 0; i < k->series[s].n; i++) {
            const struct tb_chart_point *p = &k->series[s].point[i];

            top = fmax(top, fmax(fmax(p->y, p->hi), p->aim)); /* fmax leaves NAN aside */
        }
    for (size_t i = 0; i < k->limits; i++)
        top = fmax(top, k->limit[i].at);
    return top > 0 && isfinite(top) ? top : 1;
}

/* A low field gets fewer marks, so that their figures do not touch. */
void tb_field_y_axis(cairo_t *c, const struct tb_chart *k, const struct field *f)
{
    const struct pen_words small = { .size = 8, .at = PEN_RIGHT }, name = { .size = 8 };
    double step = tb_nice_step(f->y_from, f->y_to, f->h > 160 ? 5 : 3);
    int ticks = (int)floor((f->y_to - f->y_from) / step + TB_CHART_SLACK);

    for (int i = 0; i <= ticks; i++) {
        double v = f->y_from + i * step, y = tb_field_y(f, v);
        char words[32];

        axis_words(words, v, step, k->y_share);
        tb_pen_ink(c, PEN_THREAD);
        tb_pen_line(c, f->x, y, f->x + f->w, y, 0.5);
        tb_pen_ink(c, PEN_INK);
        (void)tb_pen_text(c, f->x - 4, y - 5, &small, words);
    }
    if (k->y_name)
        tb_pen_upright(c, f->x - 36, f->y + f->h / 2, &name, k->y_name);
}

void tb_field_x_axis(cairo_t *c, const struct field *f, double step, bool share, bool grid, const char *name)
{
    const struct pen_words small = { .size = 8, .at = PEN_CENTRE };
    const double foot = f->y + f->h, below = foot + (grid ? 2 : 4);

    tb_pen_ink(c, PEN_INK);
    if (name)
        (void)tb_pen_text(c, f->x + f->w / 2, below + 11, &small, name);
    for (int i = (int)ceil(f->x_from / step); i <= (int)floor(f->x_to / step + TB_CHART_SLACK); i++) {
        double x = tb_field_x(f, i * step);
        char words[32];

        axis_words(words, i * step, step, share);
        tb_pen_ink(c, grid ? PEN_THREAD : PEN_INK);
        tb_pen_line(c, x, grid ? f->y : foot + 3, x, foot, grid ? 0.5 : 0.8);
        tb_pen_ink(c, PEN_INK);
        (void)tb_pen_text(c, x, below, &small, words);
    }
}

/* A pattern of dash and dot that no series has: a limit is not taken for a line of values. */
void tb_field_limits(cairo_t *c, const struct tb_chart *k, const struct field *f)
{
    const struct pen_words small = { .size = 7.5, .italic = true, .at = PEN_RIGHT };
    const double dash[] = { 5, 2, 1, 2 };

    for (size_t i = 0; i < k->limits; i++) {
        double y = tb_field_y(f, k->limit[i].at);

        if (y < f->y - 0.5 || y > f->y + f->h + 0.5)
            continue;
        tb_pen_ink(c, PEN_MADDER);
        cairo_set_dash(c, dash, 4, 0);
        tb_pen_line(c, f->x, y, f->x + f->w, y, 1);
        cairo_set_dash(c, NULL, 0, 0);
        if (k->limit[i].label)
            (void)tb_pen_text(c, f->x + f->w, y - 11, &small, k->limit[i].label);
    }
}

/* Ends as well as a line: where the interval is short, the ends still show that it is one. */
void tb_whisker(cairo_t *c, double at, double lo, double hi, bool upright)
{
    const double end = 3.5;

    tb_pen_ink(c, PEN_INK);
    if (upright) {
        tb_pen_line(c, at, lo, at, hi, 1.1);
        tb_pen_line(c, at - end, lo, at + end, lo, 1.1);
        tb_pen_line(c, at - end, hi, at + end, hi, 1.1);
    } else {
        tb_pen_line(c, lo, at, hi, at, 1.1);
        tb_pen_line(c, lo, at - end, lo, at + end, 1.1);
        tb_pen_line(c, hi, at - end, hi, at + end, 1.1);
    }
}

bool tb_chart_valued(const struct tb_chart *k)
{
    for (size_t i = 0; k->n && i < k->series[0].n; i++)
        if (isfinite(k->series[0].point[i].y))
            return true;
    return k->kind == TB_CHART_MATRIX && k->rows && k->columns;
}

/* Title and note take the height their words need; the values get what is left. */
void tb_chart_draw(cairo_t *c, const struct tb_chart *k, double x, double y, double width, double height)
{
    static void (*const draw[])(cairo_t *, const struct tb_chart *, struct field) = {
        [TB_CHART_BARS] = tb_chart_bars,
        [TB_CHART_RANK] = tb_chart_rank,
        [TB_CHART_LINE] = tb_chart_lines,
        [TB_CHART_MATRIX] = tb_chart_matrix,
    };
    const struct pen_words title = { .size = 11, .bold = true, .width = width - 8 },
                           note = { .size = 8, .width = width - 8 };
    struct field box = { .x = x + 4, .w = width - 8 };
    bool empty = k->empty && !tb_chart_valued(k);
    const char *below = empty ? k->empty : k->note;
    double at = y + 4;

    cairo_save(c);
    tb_pen_ink(c, PEN_INK);
    if (k->title)
        at += tb_pen_text(c, x + 4, at, &title, k->title) + 1;
    tb_pen_ink(c, PEN_FADED);
    if (below)
        at += tb_pen_text(c, x + 4, at, &note, below);
    box.y = at + 8;
    box.h = y + height - 4 - box.y;
    if (!empty)
        draw[k->kind](c, k, box);
    cairo_restore(c);
}
