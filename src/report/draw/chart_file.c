/* chart_file.c - a chart as a file: PDF, SVG or PNG from one drawing. */
#include "report/draw/paper.h"
#include "report/draw/pen.h"
#include "tenterbook/chart.h"
#include "tenterbook/date.h"

#include <cairo-svg.h>
#include <math.h>
#include <string.h>

#define DOTS_A_POINT 2.0

struct sheet {
    const struct tb_chart *chart;
    double width, height, scale;
};

static void draw(cairo_t *c, void *arg)
{
    const struct sheet *a = arg;

    cairo_scale(c, a->scale, a->scale);
    tb_pen_ink(c, PEN_PAPER);
    cairo_paint(c);
    tb_chart_draw(c, a->chart, 0, 0, a->width, a->height);
}

static tb_rc make_pdf(struct tb_text *out, struct sheet *a, const char *created, struct tb_err *err)
{
    const struct paper how = { a->width, a->height, a->chart->title ? a->chart->title : "", created };

    return tb_paper_pdf(out, &how, draw, a, err);
}

static tb_rc make_png(struct tb_text *out, struct sheet *a, struct tb_err *err)
{
    cairo_surface_t *s = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)ceil(a->width * DOTS_A_POINT),
                                                    (int)ceil(a->height * DOTS_A_POINT));
    tb_rc rc;

    a->scale = DOTS_A_POINT;
    rc = tb_paper_draw(s, draw, a, err);
    if (rc == TB_OK && cairo_surface_write_to_png_stream(s, tb_paper_keep, out) != CAIRO_STATUS_SUCCESS)
        rc = tb_fail(err, TB_EIO, "the drawing library failed");
    return tb_paper_end(s, rc, err);
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

static tb_rc make_svg(struct tb_text *out, struct sheet *a, struct tb_err *err)
{
    struct tb_text raw = { 0 };
    cairo_surface_t *s = cairo_svg_surface_create_for_stream(tb_paper_keep, &raw, a->width, a->height);
    tb_rc rc = tb_paper_end(s, tb_paper_draw(s, draw, a, err), err);

    if (rc == TB_OK)
        add_words(out, tb_text_str(&raw), a->chart);
    tb_text_free(&raw);
    return rc;
}

tb_rc tb_chart_write(const char *path, const struct tb_chart *k, double w, double h, const char *created,
                     struct tb_err *err)
{
    struct sheet a = { k, w, h, 1 };
    const char *dot = strrchr(path, '.');
    struct tb_outfile out = { 0 };
    struct tb_text bytes = { 0 };
    char now[TB_MOMENT_LEN + 1];
    tb_rc rc;

    if (!(w >= 120 && w <= 2000 && h >= 120 && h <= 2000))
        return tb_fail(err, TB_EINVAL, "a chart is 120 to 2000 points wide and high, not %.0f by %.0f", w, h);
    if (!dot || (strcmp(dot, ".pdf") != 0 && strcmp(dot, ".svg") != 0 && strcmp(dot, ".png") != 0))
        return tb_fail(err, TB_EINVAL, "%s: a chart is written as .pdf, .svg or .png", path);
    tb_now(now);
    rc = strcmp(dot, ".pdf") == 0   ? make_pdf(&bytes, &a, created ? created : now, err)
         : strcmp(dot, ".svg") == 0 ? make_svg(&bytes, &a, err)
                                    : make_png(&bytes, &a, err);
    if (rc != TB_OK)
        rc = tb_within(err, rc, "%s", path);
    else if ((rc = tb_paper_put(&out, path, &bytes, err)) == TB_OK)
        rc = tb_outfile_commit(&out, err);
    tb_text_free(&bytes);
    return rc;
}
