/* pen.c - ink, words, lines and hatching. */
#include "report/draw/pen.h"

#include "report/draw/fonts.h"
#include "report/draw/qpdf_load.h"

#include <math.h>
#include <string.h>

/* Colours of undyed linen, walnut ink and madder: each is told from the others in grey. */
void tb_pen_ink(cairo_t *c, enum pen_ink ink)
{
    static const unsigned rgb[] = { 0x1F2933, 0x6B7280, 0xC9C2B4, 0xF4F0E6, 0x7A1F2B, 0xFFFFFF };
    unsigned v = rgb[ink];

    cairo_set_source_rgb(c, (v >> 16) / 255.0, ((v >> 8) & 255) / 255.0, (v & 255) / 255.0);
}

/*
 * Everything that could follow the machine is set: size in points of the paper, no hinting, grey edges, 72 dots an inch.
 * What is left to the library is the order of writing and the choice of letters among the fonts that are ready.
 */
static PangoLayout *lay_out(cairo_t *c, const struct pen_words *how, const char *text)
{
    PangoLayout *l = pango_cairo_create_layout(c);
    PangoFontDescription *d = pango_font_description_new();
    cairo_font_options_t *o = cairo_font_options_create();
    PangoAttrList *attributes = pango_attr_list_new();

    pango_font_description_set_family(d, how->mono ? PEN_FACE " Mono" : PEN_FACE);
    pango_font_description_set_absolute_size(d, how->size * PANGO_SCALE);
    pango_font_description_set_weight(d, how->bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_style(d, how->italic ? PANGO_STYLE_OBLIQUE : PANGO_STYLE_NORMAL);
    /* the same letters at the same places on every machine, whatever its screen */
    cairo_font_options_set_hint_style(o, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(o, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(o, CAIRO_ANTIALIAS_GRAY);
    pango_cairo_context_set_font_options(pango_layout_get_context(l), o);
    pango_cairo_context_set_resolution(pango_layout_get_context(l), 72);
    pango_layout_set_font_description(l, d);
    pango_attr_list_insert(attributes,
                           pango_attr_insert_hyphens_new(FALSE)); /* none into a digest that is broken */
    pango_layout_set_attributes(l, attributes);
    pango_attr_list_unref(attributes);
    /* papers run from left to right: a name that runs the other way does not turn the sentence it stands in */
    pango_layout_set_auto_dir(l, FALSE);
    pango_layout_set_text(l, text, -1);
    if (how->width > 0) {
        pango_layout_set_width(l, (int)(how->width * PANGO_SCALE));
        pango_layout_set_wrap(l, PANGO_WRAP_WORD_CHAR);
        if (how->lines > 0) {
            pango_layout_set_height(l, -how->lines);
            pango_layout_set_ellipsize(l, PANGO_ELLIPSIZE_END);
        }
        pango_layout_set_alignment(l, how->at == PEN_CENTRE  ? PANGO_ALIGN_CENTER
                                      : how->at == PEN_RIGHT ? PANGO_ALIGN_RIGHT
                                                             : PANGO_ALIGN_LEFT);
    }
    cairo_font_options_destroy(o);
    pango_font_description_free(d);
    return l;
}

static void extent(PangoLayout *l, double *w, double *h)
{
    int pw, ph;

    pango_layout_get_size(l, &pw, &ph);
    *w = (double)pw / PANGO_SCALE;
    *h = (double)ph / PANGO_SCALE;
}

double tb_pen_text(cairo_t *c, double x, double y, const struct pen_words *how, const char *text)
{
    PangoLayout *l = lay_out(c, how, text);
    double w, h;

    extent(l, &w, &h);
    if (how->width > 0)
        w = how->width;
    x -= how->at == PEN_CENTRE ? w / 2 : how->at == PEN_RIGHT ? w : 0;
    cairo_move_to(c, x, y);
    pango_cairo_show_layout(c, l);
    g_object_unref(l);
    return h;
}

void tb_pen_measure(cairo_t *c, double *width, double *height, const struct pen_words *how, const char *text)
{
    PangoLayout *l = lay_out(c, how, text);

    extent(l, width, height);
    g_object_unref(l);
}

bool tb_pen_lacks(cairo_t *c, const char *text)
{
    PangoLayout *l = lay_out(c, &(struct pen_words){ .size = 10 }, text);
    bool lacks = pango_layout_get_unknown_glyphs_count(l) > 0;

    g_object_unref(l);
    return lacks;
}

/* Drawn flat around the origin of a turned field: pango turns no words itself. */
void tb_pen_upright(cairo_t *c, double x, double y, const struct pen_words *how, const char *text)
{
    struct pen_words flat = *how;
    double w, h;

    flat.at = PEN_CENTRE;
    tb_pen_measure(c, &w, &h, &flat, text);
    cairo_save(c);
    cairo_translate(c, x, y);
    cairo_rotate(c, -G_PI / 2);
    (void)tb_pen_text(c, 0, -h, &flat, text);
    cairo_restore(c);
}

void tb_pen_line(cairo_t *c, double x0, double y0, double x1, double y1, double width)
{
    cairo_set_line_width(c, width);
    cairo_move_to(c, x0, y0);
    cairo_line_to(c, x1, y1);
    cairo_stroke(c);
}

void tb_pen_box(cairo_t *c, double x, double y, double w, double h, double width)
{
    cairo_set_line_width(c, width);
    cairo_rectangle(c, x, y, w, h);
    cairo_stroke(c);
}

/* Slanting lines, closer with density; crossed lines from the middle on. */
void tb_pen_hatch(cairo_t *c, double x, double y, double w, double h, double density)
{
    double line = 0.8, gap;
    int strokes;

    if (!(density > 0))
        return;
    density = density > 0.9 ? 0.9 : density;
    gap = line * (density > 0.45 ? 2 : 1) / density;
    cairo_save(c);
    cairo_rectangle(c, x, y, w, h);
    cairo_clip(c);
    cairo_set_line_width(c, line);
    strokes = (int)ceil((w + h) / (gap * sqrt(2)));
    for (int i = 0; i < strokes; i++) {
        double d = i * gap * sqrt(2) - h;

        cairo_move_to(c, x + d, y + h);
        cairo_line_to(c, x + d + h, y);
        if (density > 0.45) {
            cairo_move_to(c, x + d, y);
            cairo_line_to(c, x + d + h, y + h);
        }
    }
    cairo_stroke(c);
    cairo_restore(c);
}

void tb_pen_maker(struct tb_text *out)
{
    /* one letter of East Asia too: its size tells one version of the fallback from another */
    static const char sample[] = "Hamburgefonstiv 0123456789 \xC3\xA4\xCE\xA9\xD0\x96 m\xC2\xB2 \xE6\xA3\x89";
    cairo_surface_t *s = cairo_image_surface_create(CAIRO_FORMAT_A8, 8, 8);
    cairo_t *c = cairo_create(s);
    struct tb_err err;
    bool ready = tb_fonts_ready(&err) == TB_OK;

    tb_text_addf(out, "cairo %s, pango %s, qpdf %s, %s", cairo_version_string(), pango_version_string(),
                 tb_qpdf_version(), ready ? PEN_FACE : "no font");
    for (int i = 0; i < 4 && ready; i++) {
        const struct pen_words how = { .size = 1000, .bold = i == 1, .italic = i == 2, .mono = i == 3 };
        double w, h;

        tb_pen_measure(c, &w, &h, &how, sample);
        tb_text_addf(out, " %.0fx%.0f", w, h);
    }
    cairo_destroy(c);
    cairo_surface_destroy(s);
}
