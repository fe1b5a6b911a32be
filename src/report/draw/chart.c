/* chart.c - title, axes, output: PDF, SVG, PNG from one drawing. */
#include "report/draw/chart_impl.h"

#include "tenterbook/date.h"
#include "tenterbook/outfile.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DOTS_A_POINT 2.0

double tb_field_x(const struct field *f, double x)
{
    return f->x + (x - f->x_from) / (f->x_to - f->x_from) * f->w;
}

double tb_field_y(const struct field *f, double y)
{
    return f->y + f->h - (y - f->y_from) / (f->y_to - f->y_from) * f->h;
}

double tb_nice_step(double from, double to, int about)
{
    double raw = (to - from) / about, ten = pow(10, floor(log10(raw))), m = raw / ten;

    return ten * (m < 1.5 ? 1 : m < 3.5 ? 2 : m < 7.5 ? 5 : 10);
}

void tb_axis_words(char out[32], double v, double step, bool share)
{
    double shown = share ? v * 100 : v, s = share ? step * 100 : step;
    int decimals = s >= 1 ? 0 : (int)ceil(-log10(s) - 1e-9);

    (void)snprintf(out, 32, share ? "%.*f %%" : "%.*f", decimals > 6 ? 6 : decimals, shown + 0.0);
}

double tb_chart_top(const struct tb_chart *k)
{
    double top = -INFINITY;

    for (size_t s = 0; s < k->n; s++)
        for (size_t i = 0; i < k->series[s].n; i++) {
            const struct tb_chart_point *p = &k->series[s].point[i];

            top = fmax(top, fmax(p->y, p->hi)); /* fmax leaves NAN aside */
        }
    for (size_t i = 0; i < k->limits; i++)
        top = fmax(top, k->limit[i].at);
    return top > 0 && isfinite(top) ? top : 1;
}

void tb_field_y_axis(cairo_t *c, const struct tb_chart *k, const struct field *f)
{
    const struct pen_words small = { .size = 8, .at = PEN_RIGHT }, name = { .size = 8 };
    double step = tb_nice_step(f->y_from, f->y_to, f->h > 160 ? 5 : 3);

    int ticks = (int)floor((f->y_to - f->y_from) / step + 1e-6);

    for (int i = 0; i <= ticks; i++) {
        double v = f->y_from + i * step, y = tb_field_y(f, v);
        char words[32];

        tb_axis_words(words, v, step, k->y_share);
        tb_pen_ink(c, PEN_THREAD);
        tb_pen_line(c, f->x, y, f->x + f->w, y, 0.5);
        tb_pen_ink(c, PEN_INK);
        (void)tb_pen_text(c, f->x - 4, y - 5, &small, words);
    }
    if (k->y_name)
        tb_pen_upright(c, f->x - 36, f->y + f->h / 2, &name, k->y_name);
}

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

void tb_chart_draw(cairo_t *c, const struct tb_chart *k, double x, double y, double width, double height)
{
    const struct pen_words title = { .size = 11, .bold = true, .width = width - 8 },
                           note = { .size = 8, .width = width - 8 };
    struct field box = { .x = x + 4, .w = width - 8 };
    double at = y + 4;

    cairo_save(c);
    tb_pen_ink(c, PEN_INK);
    if (k->title)
        at += tb_pen_text(c, x + 4, at, &title, k->title) + 1;
    tb_pen_ink(c, PEN_FADED);
    if (k->note)
        at += tb_pen_text(c, x + 4, at, &note, k->note);
    box.y = at + 8;
    box.h = y + height - 4 - box.y;
    switch (k->kind) {
    case TB_CHART_BARS:
        tb_chart_bars(c, k, box);
        break;
    case TB_CHART_RANK:
        tb_chart_rank(c, k, box);
        break;
    case TB_CHART_LINE:
    case TB_CHART_RELIABLE:
        tb_chart_lines(c, k, box);
        break;
    case TB_CHART_MATRIX:
        tb_chart_matrix(c, k, box);
        break;
    }
    cairo_restore(c);
}

/* --- words ---------------------------------------------------------------------------------------------------- */

static void value_words(struct tb_text *out, double v, bool share)
{
    if (!isfinite(v))
        tb_text_add(out, "-");
    else if (share)
        tb_text_addf(out, "%.1f %%", v * 100);
    else
        tb_text_addf(out, "%.6g", v);
}

static void point_words(struct tb_text *out, const struct tb_chart *k, const struct tb_chart_point *p)
{
    if (p->label)
        tb_text_addf(out, " %s: ", p->label);
    else {
        tb_text_add(out, " ");
        value_words(out, p->x, k->x_share);
        tb_text_add(out, ": ");
    }
    value_words(out, p->y, k->y_share);
    if (isfinite(p->lo) && isfinite(p->hi)) {
        tb_text_add(out, " (");
        value_words(out, p->lo, k->y_share);
        tb_text_add(out, " .. ");
        value_words(out, p->hi, k->y_share);
        tb_text_add(out, ")");
    }
    if (p->note)
        tb_text_addf(out, ", %s", p->note);
    tb_text_add(out, ";");
}

void tb_chart_words(struct tb_text *out, const struct tb_chart *k)
{
    tb_text_addf(out, "%s.", k->title ? k->title : "");
    if (k->note)
        tb_text_addf(out, " %s.", k->note);
    for (size_t s = 0; s < k->n; s++) {
        if (k->series[s].name)
            tb_text_addf(out, " %s:", k->series[s].name);
        for (size_t i = 0; i < k->series[s].n; i++)
            point_words(out, k, &k->series[s].point[i]);
    }
    for (size_t r = 0; r < k->rows && k->kind == TB_CHART_MATRIX; r++)
        for (size_t i = 0; i < k->columns; i++)
            if (isfinite(k->cell[r * k->columns + i]))
                tb_text_addf(out, " %s / %s: %.6g;", k->row[r], k->column[i], k->cell[r * k->columns + i]);
}

/* --- files ---------------------------------------------------------------------------------------------------- */

static cairo_status_t to_stream(void *arg, const unsigned char *p, unsigned n)
{
    return fwrite(p, 1, n, arg) == n ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_WRITE_ERROR;
}

static cairo_status_t to_text(void *arg, const unsigned char *p, unsigned n)
{
    tb_text_addn(arg, (const char *)p, n);
    return CAIRO_STATUS_SUCCESS;
}

static cairo_status_t draw_on(cairo_surface_t *s, const struct tb_chart *k, double w, double h, double scale)
{
    cairo_t *c = cairo_create(s);
    cairo_status_t st;

    cairo_scale(c, scale, scale);
    tb_pen_ink(c, PEN_PAPER);
    cairo_paint(c);
    tb_chart_draw(c, k, 0, 0, w, h);
    st = cairo_status(c);
    cairo_destroy(c);
    return st;
}

static cairo_status_t finish(cairo_surface_t *s, cairo_status_t st)
{
    cairo_surface_finish(s);
    if (st == CAIRO_STATUS_SUCCESS)
        st = cairo_surface_status(s);
    cairo_surface_destroy(s);
    return st;
}

static cairo_status_t write_pdf(FILE *f, const struct tb_chart *k, double w, double h, const char *created)
{
    cairo_surface_t *s = cairo_pdf_surface_create_for_stream(to_stream, f, w, h);

    cairo_pdf_surface_set_metadata(s, CAIRO_PDF_METADATA_CREATE_DATE, created);
    cairo_pdf_surface_set_metadata(s, CAIRO_PDF_METADATA_TITLE, k->title ? k->title : "");
    return finish(s, draw_on(s, k, w, h, 1));
}

static cairo_status_t write_png(FILE *f, const struct tb_chart *k, double w, double h)
{
    cairo_surface_t *s = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)ceil(w * DOTS_A_POINT),
                                                    (int)ceil(h * DOTS_A_POINT));
    cairo_status_t st = draw_on(s, k, w, h, DOTS_A_POINT);

    if (st == CAIRO_STATUS_SUCCESS)
        st = cairo_surface_write_to_png_stream(s, to_stream, f);
    return finish(s, st);
}

static void xml_text(struct tb_text *out, const char *s)
{
    for (; *s; s++) {
        const char *code = *s == '&' ? "&amp;" : *s == '<' ? "&lt;" : *s == '>' ? "&gt;" : NULL;

        if (code)
            tb_text_add(out, code);
        else if ((unsigned char)*s >= 0x20)
            tb_text_addc(out, *s);
    }
}

/* The library numbers its surfaces through the life of the program: the same chart would differ each time. */
static void add_body(struct tb_text *out, const char *body)
{
    static const char mark[] = "id=\"surface";
    const char *at;

    while ((at = strstr(body, mark))) {
        tb_text_addn(out, body, (size_t)(at - body));
        tb_text_add(out, "id=\"chart");
        body = at + strlen(mark);
        body += strspn(body, "0123456789");
    }
    tb_text_add(out, body);
}

/* The library draws letters as outlines: title and values are added as words for those who listen. */
static void add_words(struct tb_text *out, const char *svg, const struct tb_chart *k)
{
    const char *root = strstr(svg, "<svg "), *body = root ? strchr(root, '>') : NULL;
    struct tb_text words = { 0 };

    if (!body) {
        tb_text_add(out, svg);
        return;
    }
    tb_chart_words(&words, k);
    tb_text_addn(out, svg, (size_t)(root + 5 - svg));
    tb_text_add(out, "role=\"img\" ");
    tb_text_addn(out, root + 5, (size_t)(body + 1 - (root + 5)));
    tb_text_add(out, "\n<title>");
    xml_text(out, k->title ? k->title : "");
    tb_text_add(out, "</title>\n<desc>");
    xml_text(out, tb_text_str(&words));
    tb_text_add(out, "</desc>");
    add_body(out, body + 1);
    tb_text_free(&words);
}

static cairo_status_t write_svg(FILE *f, const struct tb_chart *k, double w, double h)
{
    struct tb_text raw = { 0 }, svg = { 0 };
    cairo_surface_t *s = cairo_svg_surface_create_for_stream(to_text, &raw, w, h);
    cairo_status_t st = finish(s, draw_on(s, k, w, h, 1));

    if (st == CAIRO_STATUS_SUCCESS) {
        add_words(&svg, tb_text_str(&raw), k);
        if (fwrite(tb_text_str(&svg), 1, svg.n, f) != svg.n)
            st = CAIRO_STATUS_WRITE_ERROR;
    }
    tb_text_free(&raw);
    tb_text_free(&svg);
    return st;
}

tb_rc tb_chart_write(const char *path, const struct tb_chart *k, double w, double h, const char *created,
                     struct tb_err *err)
{
    const char *dot = strrchr(path, '.');
    struct tb_outfile out = { 0 };
    char now[TB_MOMENT_LEN + 1];
    cairo_status_t st;
    tb_rc rc;

    if (!(w >= 120 && w <= 2000 && h >= 120 && h <= 2000))
        return tb_fail(err, TB_EINVAL, "a chart is 120 to 2000 points wide and high, not %.0f by %.0f", w, h);
    if (!dot || (strcmp(dot, ".pdf") != 0 && strcmp(dot, ".svg") != 0 && strcmp(dot, ".png") != 0))
        return tb_fail(err, TB_EINVAL, "%s: a chart is written as .pdf, .svg or .png", path);
    tb_now(now);
    if ((rc = tb_outfile_open(&out, path, err)) != TB_OK)
        return rc;
    st = strcmp(dot, ".pdf") == 0   ? write_pdf(out.f, k, w, h, created ? created : now)
         : strcmp(dot, ".svg") == 0 ? write_svg(out.f, k, w, h)
                                    : write_png(out.f, k, w, h);
    if (st == CAIRO_STATUS_SUCCESS)
        return tb_outfile_commit(&out, err);
    tb_outfile_drop(&out);
    (void)tb_fail(err, TB_EIO, "%s cannot be drawn", path);
    tb_detail(err, "cairo: %s", cairo_status_to_string(st));
    return TB_EIO;
}
