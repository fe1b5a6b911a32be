/* chart_svg.c - a chart as an SVG picture, with its words for those who listen. */
#include "report/draw/paper.h"
#include "report/draw/pen.h"
#include "tenterbook/chart.h"

#include "gen/late_drawing.h"
#include <string.h>

struct sheet {
    const struct tb_chart *chart;
    double width, height;
};

/* White paper is painted first: a page with a dark ground would swallow the words. */
static void draw(cairo_t *c, void *arg)
{
    const struct sheet *a = arg;

    tb_pen_ink(c, PEN_PAPER);
    cairo_paint(c);
    tb_chart_draw(c, a->chart, 0, 0, a->width, a->height);
}

/* Escaped as text of an element; control characters, which XML does not allow, are left out. */
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

tb_rc tb_chart_svg(struct tb_text *out, const struct tb_chart *k, double w, double h, struct tb_err *err)
{
    struct sheet a = { k, w, h };
    struct tb_text raw = { 0 };
    cairo_surface_t *s;
    tb_rc rc;

    if (!(w >= TB_CHART_LEAST && w <= TB_CHART_MOST && h >= TB_CHART_LEAST && h <= TB_CHART_MOST))
        return tb_fail(err, TB_EINVAL, "a chart is %d to %d points wide and high, not %.0f by %.0f",
                       TB_CHART_LEAST, TB_CHART_MOST, w, h);
    s = cairo_svg_surface_create_for_stream(tb_paper_keep, &raw, w, h);
    rc = tb_paper_end(s, tb_paper_draw(s, draw, &a, err), err);
    if (rc == TB_OK)
        add_words(out, tb_text_str(&raw), k);
    tb_text_free(&raw);
    return rc;
}
