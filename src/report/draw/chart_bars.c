/* chart_bars.c - bars with intervals: upright in the order given, or lying and ranked. */
#include "report/draw/chart_impl.h"

#include <math.h>

/* Cloth colour and hatching together: on screen and on paper, in colour and without. */
static void fill_bar(cairo_t *c, double x, double y, double w, double h)
{
    tb_pen_ink(c, PEN_CLOTH);
    cairo_rectangle(c, x, y, w, h);
    cairo_fill(c);
    tb_pen_ink(c, PEN_MADDER);
    tb_pen_hatch(c, x, y, w, h, 0.35);
    tb_pen_ink(c, PEN_INK);
    tb_pen_box(c, x, y, w, h, 0.8);
}

/*
 * Room is kept left for the figures of the axis and below for two lines of label and one of note. The axis ends above the
 * highest value, so that the end of an interval does not touch the title.
 */
void tb_chart_bars(cairo_t *c, const struct tb_chart *k, struct field f)
{
    const struct tb_chart_series *s = k->n ? &k->series[0] : NULL;
    size_t n = s ? s->n : 0;
    double slot;

    f.x += 44;
    f.w -= 50;
    f.h -= 34;
    f.y_from = 0;
    f.y_to = k->y_most > 0 ? k->y_most : tb_chart_top(k) * 1.12;
    tb_field_y_axis(c, k, &f);
    slot = n ? f.w / (double)n : f.w;
    for (size_t i = 0; i < n; i++) {
        const struct tb_chart_point *p = &s->point[i];
        const struct pen_words label = { .size = 8, .at = PEN_CENTRE, .width = slot - 2, .lines = 2 },
                               note = { .size = 7, .at = PEN_CENTRE, .width = slot - 2, .lines = 1 };
        double mid = f.x + slot * ((double)i + 0.5), w = fmin(slot * 0.56, 46);

        if (isfinite(p->y) && p->y > 0)
            fill_bar(c, mid - w / 2, tb_field_y(&f, p->y), w, f.y + f.h - tb_field_y(&f, p->y));
        if (isfinite(p->lo) && isfinite(p->hi))
            tb_whisker(c, mid, tb_field_y(&f, p->lo), tb_field_y(&f, fmin(p->hi, f.y_to)), true);
        tb_pen_ink(c, PEN_INK);
        if (p->label)
            (void)tb_pen_text(c, mid, f.y + f.h + 3, &label, p->label);
        tb_pen_ink(c, PEN_FADED);
        if (p->note)
            (void)tb_pen_text(c, mid, f.y + f.h + 23, &note, p->note);
    }
    tb_pen_ink(c, PEN_INK);
    tb_pen_line(c, f.x, f.y + f.h, f.x + f.w, f.y + f.h, 1);
    tb_field_limits(c, k, &f);
}

/* How wide the widest word beside the bars is, at most `most`. */
static double widest(cairo_t *c, const struct tb_chart_series *s, double size, bool notes, double most)
{
    const struct pen_words how = { .size = size };
    double all = 0, w, h;

    for (size_t i = 0; s && i < s->n; i++) {
        const char *one = notes ? s->point[i].note : s->point[i].label;

        if (!one)
            continue;
        tb_pen_measure(c, &w, &h, &how, one);
        all = fmax(all, w);
    }
    return fmin(all, most);
}

/* In one line where it fits; else in two, smaller where the bars stand close: a name that is cut may be another supplier's. */
static void put_name(cairo_t *c, double x, double mid, double slot, double width, const char *name)
{
    const double size = fmin(8.5, slot * 0.6), small = fmin(8.5, slot * 0.42);
    const struct pen_words one = { .size = size, .at = PEN_RIGHT, .width = width, .lines = 1 },
                           two = { .size = small, .at = PEN_RIGHT, .width = width, .lines = 2 },
                           whole = { .size = size };
    double w, h;

    tb_pen_measure(c, &w, &h, &whole, name);
    if (w <= width || small < 6) {
        (void)tb_pen_text(c, x, mid - size * 0.72, &one, name);
        return;
    }
    tb_pen_measure(c, &w, &h, &two, name);
    (void)tb_pen_text(c, x, mid - h / 2, &two, name);
}

/*
 * Names stand left of the bars and counts right of them, as wide as the widest needs; what is left is for the bars. They
 * are not spread over a high field: a few suppliers stand close together, where they can be compared.
 */
void tb_chart_rank(cairo_t *c, const struct tb_chart *k, struct field f)
{
    const struct tb_chart_series *s = k->n ? &k->series[0] : NULL;
    size_t n = s ? s->n : 0;
    double names = widest(c, s, 8.5, false, f.w * 0.46) + 9, notes = widest(c, s, 7.5, true, 62) + 10, slot;

    f.x += names;
    f.w -= names + notes;
    f.h -= 26;
    f.x_from = 0;
    f.x_to = k->y_most > 0 ? k->y_most : tb_chart_top(k) * 1.02;
    slot = n ? fmin(f.h / (double)n, 24) : f.h;
    f.h = n ? slot * (double)n : f.h;
    /* the values of lying bars run along x, so the axis of values is the lower edge */
    tb_field_x_axis(c, &f, tb_nice_step(f.x_from, f.x_to, f.w > 130 ? 5 : 2), k->y_share, true, k->y_name);
    for (size_t i = 0; i < n; i++) {
        const struct tb_chart_point *p = &s->point[i];
        const struct pen_words note = { .size = fmin(7.5, slot * 0.55) };
        double mid = f.y + slot * ((double)i + 0.5), h = slot * 0.5;

        if (isfinite(p->y) && p->y > 0)
            fill_bar(c, f.x, mid - h / 2, tb_field_x(&f, p->y) - f.x, h);
        if (isfinite(p->lo) && isfinite(p->hi)) {
            tb_whisker(c, mid, tb_field_x(&f, p->lo), tb_field_x(&f, fmin(p->hi, f.x_to)), false);
            tb_pen_ink(c, PEN_INK); /* the low end is what the order goes by: a heavy mark */
            cairo_arc(c, tb_field_x(&f, p->lo), mid, 3.2, 0, 2 * M_PI);
            cairo_fill(c);
        }
        tb_pen_ink(c, PEN_INK);
        if (p->label)
            put_name(c, f.x - 6, mid, slot, names - 8, p->label);
        tb_pen_ink(c, PEN_FADED);
        if (p->note)
            (void)tb_pen_text(c, f.x + f.w + 6, mid - note.size * 0.72, &note, p->note);
    }
    tb_pen_ink(c, PEN_INK);
    tb_pen_line(c, f.x, f.y, f.x, f.y + f.h, 1);
}
