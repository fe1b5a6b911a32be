/* case_photos.c - photographs and papers: pictures as they were taken in, anything else by name. */
#include "report/case/case_page.h"

#include <math.h>
#include <string.h>

#define WIDTH_MOST 300.0 /* points */
#define HEIGHT_MOST 210.0

/*
 * A camera writes the rows as they lay on its sensor, and says how they have to be turned: x and y on the page from those of the picture,
 * of which w and h are the width and the height. Source: CIPA DC-008, tag 0x0112.
 */
static void upright(cairo_matrix_t *m, int orientation, double w, double h)
{
    /* xx, yx, xy, yy; x0 and y0 in widths and heights of the picture */
    static const struct {
        double xx, yx, xy, yy, x0w, x0h, y0w, y0h;
    } turn[] = {
        { 1, 0, 0, 1, 0, 0, 0, 0 },   /* 1: as it is */
        { -1, 0, 0, 1, 1, 0, 0, 0 },  /* 2: as in a mirror */
        { -1, 0, 0, -1, 1, 0, 0, 1 }, /* 3: upside down */
        { 1, 0, 0, -1, 0, 0, 0, 1 },  /* 4: upside down in a mirror */
        { 0, 1, 1, 0, 0, 0, 0, 0 },   /* 5: rows are columns */
        { 0, 1, -1, 0, 0, 1, 0, 0 },  /* 6: a quarter clockwise */
        { 0, -1, -1, 0, 0, 1, 1, 0 }, /* 7: rows are columns, from the other corner */
        { 0, -1, 1, 0, 0, 0, 1, 0 },  /* 8: a quarter the other way */
    };
    size_t i = (size_t)orientation - 1;

    cairo_matrix_init(m, turn[i].xx, turn[i].yx, turn[i].xy, turn[i].yy, turn[i].x0w * w + turn[i].x0h * h,
                      turn[i].y0w * w + turn[i].y0h * h);
}

/* Scaled down to fit, never up: enlarging shows no more. */
static void draw_picture(struct page *p, cairo_surface_t *s, int orientation)
{
    double w = cairo_image_surface_get_width(s), h = cairo_image_surface_get_height(s);
    double wide = orientation > 4 ? h : w, high = orientation > 4 ? w : h;
    double scale = fmin(fmin(WIDTH_MOST / wide, HEIGHT_MOST / high), 1);
    cairo_matrix_t turned;

    upright(&turned, orientation, w, h);
    tb_page_need(p, high * scale + 34); /* with its words below */
    cairo_save(p->c);
    cairo_translate(p->c, PAGE_LEFT, p->y);
    cairo_scale(p->c, scale, scale);
    cairo_transform(p->c, &turned);
    cairo_set_source_surface(p->c, s, 0, 0);
    cairo_rectangle(p->c, 0, 0, w, h);
    cairo_fill(p->c);
    cairo_restore(p->c);
    p->y += high * scale + 3;
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
        int orientation = 1;
        cairo_surface_t *s = tb_case_picture(&orientation, a);

        if (s)
            draw_picture(p, s, orientation);
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
