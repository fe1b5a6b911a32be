/* chart_bars.c - bars with intervals: upright in the order given, or lying and ranked. */
#include "report/draw/chart_impl.h"

#include <math.h>
#include <string.h>

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

/* A piece of a line across the chart, in the pattern of a limit: where the level changes, the line does. */
static void put_aim(cairo_t *c, double from, double to, double y)
{
    const double dash[] = { 5, 2, 1, 2 };

    tb_pen_ink(c, PEN_MADDER);
    cairo_set_dash(c, dash, 4, 0);
    tb_pen_line(c, from, y, to, y, 1.2);
    cairo_set_dash(c, NULL, 0, 0);
}

/* Smaller letters where the words need them, down to `least`: of a figure that is cut nobody knows what it was. */
static void fit(cairo_t *c, struct pen_words *how, double least, const char *text)
{
    const struct pen_words free = { .size = how->size };
    double w, h;

    tb_pen_measure(c, &w, &h, &free, text);
    if (w > how->width)
        how->size = fmax(least, how->size * how->width / w);
}

/* "12/34" in two lines, "12" over "/34", where the letters would be too small in one. */
static void put_note(cairo_t *c, double mid, double y, double width, const char *note)
{
    struct pen_words how = { .size = 7, .at = PEN_CENTRE, .width = width, .lines = 2 };
    const char *stroke = strchr(note, '/');
    struct tb_text t = { 0 };
    double w, h;

    tb_pen_measure(c, &w, &h, &(struct pen_words){ .size = 6 }, note);
    if (w > width && stroke)
        tb_text_addf(&t, "%.*s\n%s", (int)(stroke - note), note, stroke);
    else
        tb_text_add(&t, note);
    fit(c, &how, 5, tb_text_str(&t));
    (void)tb_pen_text(c, mid, y, &how, tb_text_str(&t));
    tb_text_free(&t);
}

/*
 * Room is kept left for the figures of the axis and below for two lines of label and two of note. The axis ends above the
 * highest value, so that the end of an interval does not touch the title.
 */
void tb_chart_bars(cairo_t *c, const struct tb_chart *k, struct field f)
{
    const struct tb_chart_series *s = k->n ? &k->series[0] : NULL;
    size_t n = s ? s->n : 0;
    double slot;

    f.x += k->y_name ? 44 : 32;
    f.w -= k->y_name ? 50 : 36;
    f.h -= 40;
    f.y_from = 0;
    f.y_to = k->y_most > 0 ? k->y_most : tb_chart_top(k) * 1.12;
    tb_field_y_axis(c, k, &f);
    slot = n ? f.w / (double)n : f.w;
    for (size_t i = 0; i < n; i++) {
        const struct tb_chart_point *p = &s->point[i];
        struct pen_words label = { .size = 8, .at = PEN_CENTRE, .width = slot - 2, .lines = 2 };
        double mid = f.x + slot * ((double)i + 0.5), w = fmin(slot * 0.56, 46);

        if (isfinite(p->y) && p->y > 0)
            fill_bar(c, mid - w / 2, tb_field_y(&f, p->y), w, f.y + f.h - tb_field_y(&f, p->y));
        if (isfinite(p->lo) && isfinite(p->hi))
            tb_whisker(c, mid, tb_field_y(&f, p->lo), tb_field_y(&f, fmin(p->hi, f.y_to)), true);
        if (p->aim > 0 && p->aim <= f.y_to)
            put_aim(c, mid - slot / 2, mid + slot / 2, tb_field_y(&f, p->aim));
        tb_pen_ink(c, PEN_INK);
        if (p->label) {
            fit(c, &label, 5, p->label);
            (void)tb_pen_text(c, mid, f.y + f.h + 3, &label, p->label);
        }
        tb_pen_ink(c, PEN_FADED);
        if (p->note)
            put_note(c, mid, f.y + f.h + 23, slot - 1, p->note);
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
