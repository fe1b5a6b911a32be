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

/* What came later than that record, or by somebody else, says so: nobody took it to be of that day. */
static void kept_later(struct tb_text *out, const struct story *s, const struct tb_attachment *a,
                       const char *at, const char *by)
{
    char on[TB_PLAIN];

    if (strncmp(at, a->kept_at, TB_DAY_LEN) == 0 && strcmp(by, a->kept_by) == 0)
        return;
    tb_text_addf(out, tb_tr(s->tongue, "; this file was recorded on %s by %s"),
                 tb_tongue_date(on, s->tongue, a->kept_at), a->kept_by);
}

/* Of what it is, whose bolt, when and by whom: from the record it is kept with. */
static void caption(struct tb_text *out, const struct story *s, const struct tb_attachment *a)
{
    const char *at = "", *by = ""; /* of that record */
    char on[TB_PLAIN];

    for (size_t i = 0; i < s->of.burns; i++)
        if (strcmp(s->of.burn[i].id, a->subject) == 0)
            tb_text_addf(out, tb_tr(s->tongue, "burn of swatch %s, bolt %s, %s, %s"), s->of.burn[i].tag,
                         s->of.burn[i].bolt_number,
                         tb_tongue_date(on, s->tongue, at = s->of.burn[i].burned_at),
                         by = s->of.burn[i].burned_by);
    for (size_t i = 0; i < s->of.tests; i++)
        if (strcmp(s->of.test[i].id, a->subject) == 0)
            tb_text_addf(out, tb_tr(s->tongue, "bench test of swatch %s, bolt %s, %s, %s"), s->of.test[i].tag,
                         s->of.test[i].bolt_number,
                         tb_tongue_date(on, s->tongue, at = s->of.test[i].tested_at),
                         by = s->of.test[i].tested_by);
    for (size_t i = 0; i < s->swatches; i++)
        if (strcmp(s->swatch[i].id, a->subject) == 0)
            tb_text_addf(out, tb_tr(s->tongue, "swatch %s of bolt %s, unburnt, cut %s by %s"),
                         s->swatch[i].tag, s->swatch[i].bolt_number,
                         tb_tongue_date(on, s->tongue, at = s->swatch[i].cut_at), by = s->swatch[i].cut_by);
    if (strcmp(a->subject, s->of.lot.id) == 0)
        tb_text_addf(out, tb_tr(s->tongue, "of lot %s, not of one swatch"), s->of.lot.ref);
    if (strcmp(a->subject, s->delivery.id) == 0)
        tb_text_addf(out, tb_tr(s->tongue, "of delivery %s as it came in, %s, recorded by %s"),
                     s->delivery.ref, tb_tongue_date(on, s->tongue, at = s->delivery.arrived),
                     by = s->delivery.received_by);
    kept_later(out, s, a, at, by);
}

static void photograph(struct case_page *c, const struct tb_attachment *a)
{
    struct page *p = &c->page;
    struct tb_text what = { 0 };
    int orientation = 1;
    cairo_surface_t *s = tb_case_picture(&orientation, a);

    if (s)
        draw_picture(p, s, orientation);
    else if (a->size == 0)
        tb_page_text(p,
                     tb_page_say(&c->text,
                                 tb_tr(p->tongue, "%s (%s) was left out for its size; its digest is below."),
                                 a->name, a->media));
    else
        tb_page_text(
            p, tb_page_say(&c->text,
                           tb_tr(p->tongue, "%s (%s) is in the attached data; it cannot be shown here."),
                           a->name, a->media));
    cairo_surface_destroy(s);
    caption(&what, c->story, a);
    tb_page_small(p, tb_page_say(&c->text, tb_tr(p->tongue, "%s: %s. SHA-256 %s"), a->name,
                                 tb_text_str(&what), a->sha256));
    tb_page_gap(p, 5);
    tb_text_free(&what);
}

/* What cannot be drawn is named with its digest, so that it can be found in the attached data. */
void tb_case_photos(struct case_page *c)
{
    const struct story *story = c->story;

    tb_page_heading(&c->page, tb_tr(story->tongue, "Photographs and papers"));
    if (!story->photos)
        tb_page_text(&c->page, tb_tr(story->tongue, "None were recorded."));
    for (size_t i = 0; i < story->photos; i++)
        photograph(c, &story->photo[i]);
}
