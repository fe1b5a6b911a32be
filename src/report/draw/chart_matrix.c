/* chart_matrix.c - counts in rows and columns; hatching shows how many, the figure says it. */
#include "report/draw/chart_impl.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define UPRIGHT_BELOW 44 /* points */
#define UPRIGHT_HIGH 96  /* room for upright heads, where none is longer */
#define UPRIGHT_FREE 14  /* of it above and below the words */

/* The densest hatching is that of the largest cell; 1 where all are empty, so that nothing is divided by 0. */
static double most_of(const struct tb_chart *k)
{
    double most = 0;

    for (size_t i = 0; i < k->rows * k->columns; i++)
        most = fmax(most, k->cell[i]);
    return most > 0 ? most : 1;
}

/* Even the smallest count is hatched enough to be seen, and an empty cell stays white. */
static void cell(cairo_t *c, double x, double y, double w, double h, double v, double most)
{
    const struct pen_words figure = { .size = fmin(9, h * 0.62), .bold = true, .at = PEN_CENTRE };
    char words[32];
    double tw, th;

    tb_pen_ink(c, PEN_THREAD);
    tb_pen_box(c, x, y, w, h, 0.5);
    if (!isfinite(v) || v <= 0)
        return;
    tb_pen_ink(c, PEN_MADDER);
    tb_pen_hatch(c, x + 0.5, y + 0.5, w - 1, h - 1, 0.12 + 0.73 * v / most);
    (void)snprintf(words, sizeof words, "%.6g", v);
    tb_pen_measure(c, &tw, &th, &figure, words);
    tb_pen_ink(c, PEN_PAPER); /* the figure on a white ground, whatever is behind it */
    cairo_rectangle(c, x + w / 2 - tw / 2 - 2.5, y + h / 2 - th / 2, tw + 5, th);
    cairo_fill(c);
    tb_pen_ink(c, PEN_INK);
    (void)tb_pen_text(c, x + w / 2, y + h / 2 - th / 2, &figure, words);
}

/* Drawn over all cells, whose own thin frames would cut into it. */
static void frame_same(cairo_t *c, const struct tb_chart *k, double x, double y, double w, double h)
{
    tb_pen_ink(c, PEN_INK);
    for (size_t r = 0; r < k->rows; r++)
        for (size_t i = 0; i < k->columns; i++)
            if (strcmp(k->row[r], k->column[i]) == 0)
                tb_pen_box(c, x + w * (double)i, y + h * (double)r, w, h, 1.8);
}

/* How a head is set upright: smaller rather than cut, as far as it can be read. */
static struct pen_words upright(cairo_t *c, double w, double room, const char *words)
{
    struct pen_words how = { .size = fmin(8, w * 0.7) };
    double tw, th;

    do {
        tb_pen_measure(c, &tw, &th, &how, words);
    } while (tw > room && (how.size -= 0.25) > 5.5);
    how.width = room;
    how.lines = 1;
    return how;
}

/* Room above the cells: as high as the longest head, and never more than half of the chart. */
static double heads_high(cairo_t *c, const struct tb_chart *k, double w, double h)
{
    const struct pen_words how = { .size = fmin(8, w * 0.7) };
    double high = UPRIGHT_HIGH, tw, th;

    if (w >= UPRIGHT_BELOW)
        return 46;
    for (size_t i = 0; i < k->columns; i++) {
        tb_pen_measure(c, &tw, &th, &how, k->column[i]);
        high = fmax(high, ceil(tw) + UPRIGHT_FREE + 1);
    }
    return fmin(high, h / 2);
}

/* Heads stand upright over narrow columns, so that their words stay whole. */
static void draw_heads(cairo_t *c, const struct tb_chart *k, double x, double y, double w, double heads)
{
    tb_pen_ink(c, PEN_INK);
    for (size_t i = 0; i < k->columns; i++) {
        const struct pen_words flat = { .size = 8, .at = PEN_CENTRE, .width = w - 3, .lines = 3 },
                               turned = upright(c, w, heads - UPRIGHT_FREE, k->column[i]);
        double mid = x + w * ((double)i + 0.5), tw, th;

        if (w >= UPRIGHT_BELOW) {
            (void)tb_pen_text(c, mid, y + 12, &flat, k->column[i]);
            continue;
        }
        tb_pen_measure(c, &tw, &th, &turned, k->column[i]);
        cairo_save(c);
        cairo_translate(c, mid, y + heads - 3);
        cairo_rotate(c, -M_PI / 2);
        (void)tb_pen_text(c, 0, -th / 2, &turned, k->column[i]);
        cairo_restore(c);
    }
}

/* Rows and columns grow to a size that reads well and no further: a small matrix stays compact. */
void tb_chart_matrix(cairo_t *c, const struct tb_chart *k, struct field f)
{
    const double names = fmin(f.w * 0.32, 130);
    double w, h, heads, most = most_of(k);

    if (!k->rows || !k->columns)
        return;
    w = fmin((f.w - names) / (double)k->columns, 90);
    heads = heads_high(c, k, w, f.h);
    h = fmin((f.h - heads - 12) / (double)k->rows, 34);
    tb_pen_ink(c, PEN_FADED);
    if (k->x_name) {
        const struct pen_words axis = { .size = 7.5, .italic = true };

        (void)tb_pen_text(c, f.x + names, f.y, &axis, k->x_name);
    }
    if (k->y_name) {
        const struct pen_words axis = { .size = 7.5, .italic = true, .at = PEN_RIGHT };

        (void)tb_pen_text(c, f.x + names - 6, f.y + heads - 11, &axis, k->y_name);
    }
    draw_heads(c, k, f.x + names, f.y, w, heads);
    for (size_t r = 0; r < k->rows; r++) {
        const struct pen_words name = {
            .size = fmin(8, h * 0.68), .at = PEN_RIGHT, .width = names - 8, .lines = 1
        };
        double y = f.y + heads + h * (double)r;

        tb_pen_ink(c, PEN_INK);
        (void)tb_pen_text(c, f.x + names - 6, y + h / 2 - name.size * 0.7, &name, k->row[r]);
        for (size_t i = 0; i < k->columns; i++)
            cell(c, f.x + names + w * (double)i, y, w, h, k->cell[r * k->columns + i], most);
    }
    if (k->same_framed)
        frame_same(c, k, f.x + names, f.y + heads, w, h);
}
