/* case_photos.c - photographs and papers: pictures as they were taken in, anything else by name. */
#include "report/case/case_page.h"

#include <math.h>
#include <string.h>

#define WIDTH_MOST 300.0 /* points */
#define HEIGHT_MOST 210.0

/* Scaled down to fit, never up: enlarging shows no more. */
static void draw_picture(struct page *p, cairo_surface_t *s)
{
    double w = cairo_image_surface_get_width(s), h = cairo_image_surface_get_height(s);
    double scale = fmin(fmin(WIDTH_MOST / w, HEIGHT_MOST / h), 1);

    tb_page_need(p, h * scale + 34); /* with its words below */
    cairo_save(p->c);
    cairo_translate(p->c, PAGE_LEFT, p->y);
    cairo_scale(p->c, scale, scale);
    cairo_set_source_surface(p->c, s, 0, 0);
    cairo_rectangle(p->c, 0, 0, w, h);
    cairo_fill(p->c);
    cairo_restore(p->c);
    p->y += h * scale + 3;
}

/* What cannot be drawn is named with its digest, so that it can be found in the attached data. */
void tb_case_photos(struct case_page *c)
{
    struct page *p = &c->page;
    struct tb_text *t = &c->text;
    const struct story *story = c->story;

    tb_page_heading(p, _("Photographs and papers"));
    if (!story->photos)
        tb_page_text(p, _("None were recorded."));
    for (size_t i = 0; i < story->photos; i++) {
        const struct tb_attachment *a = &story->photo[i];
        cairo_surface_t *s = tb_case_picture(a);

        if (s)
            draw_picture(p, s);
        else if (a->size == 0)
            tb_page_text(p, tb_page_say(t, _("%s (%s) was left out for its size; its digest is below."),
                                        a->name, a->media));
        else
            tb_page_text(p, tb_page_say(t, _("%s (%s) is in the attached data; it cannot be shown here."),
                                        a->name, a->media));
        cairo_surface_destroy(s);
        tb_page_small(p, tb_page_say(t, _("%s, of a %s, SHA-256 %s"), a->name, a->about, a->sha256));
    }
}
