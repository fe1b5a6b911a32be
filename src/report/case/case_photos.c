/* case_photos.c - photographs and papers: pictures as they were taken in, anything else by name. */
#include "report/case/case_page.h"

#include <math.h>
#include <string.h>

#define WIDTH_MOST 300.0 /* points */
#define HEIGHT_MOST 210.0
#define PIXELS_MOST 4e7 /* of a picture that is unpacked: a file of a few bytes may say any number */

struct reader {
    const unsigned char *p;
    size_t left;
};

/* For the library, which reads a PNG from a stream. */
static cairo_status_t read_bytes(void *arg, unsigned char *out, unsigned n)
{
    struct reader *r = arg;

    if (n > r->left)
        return CAIRO_STATUS_READ_ERROR;
    memcpy(out, r->p, n);
    r->p += n;
    r->left -= n;
    return CAIRO_STATUS_SUCCESS;
}

/* Width and height of a PNG, from the chunk that is always its first; 0 when it has none. */
static void png_size(double *w, double *h, const unsigned char *p, size_t n)
{
    *w = *h = 0;
    if (n < 24 || memcmp(p + 12, "IHDR", 4) != 0)
        return;
    for (int i = 16; i < 20; i++) {
        *w = *w * 256 + p[i];
        *h = *h * 256 + p[i + 4];
    }
}

/* Width and height of a JPEG, from its frame header; 0 when it has none. */
static void jpeg_size(int *w, int *h, const unsigned char *p, size_t n)
{
    size_t i = 2;

    *w = *h = 0;
    while (i + 9 < n && p[i] == 0xFF) {
        unsigned char m = p[i + 1];
        size_t length = (size_t)p[i + 2] << 8 | p[i + 3];

        if (m >= 0xC0 && m <= 0xCF && m != 0xC4 && m != 0xC8 && m != 0xCC) {
            *h = p[i + 5] << 8 | p[i + 6];
            *w = p[i + 7] << 8 | p[i + 8];
            return;
        }
        i += 2 + length;
    }
}

/* A JPEG goes into the PDF as it is, byte for byte: nothing is decoded. */
static cairo_surface_t *picture(const struct tb_attachment *a)
{
    cairo_surface_t *s = NULL;
    int w, h;

    if (strcmp(a->media, "image/png") == 0) {
        struct reader r = { a->bytes, a->size };
        double wide, high;

        png_size(&wide, &high, a->bytes, a->size);
        if (wide <= 0 || high <= 0 || wide * high > PIXELS_MOST)
            return NULL;
        s = cairo_image_surface_create_from_png_stream(read_bytes, &r);
    } else if (strcmp(a->media, "image/jpeg") == 0) {
        jpeg_size(&w, &h, a->bytes, a->size);
        if (w <= 0 || h <= 0 || (double)w * h > PIXELS_MOST)
            return NULL;
        s = cairo_image_surface_create(CAIRO_FORMAT_RGB24, w, h);
        if (cairo_surface_set_mime_data(s, CAIRO_MIME_TYPE_JPEG, a->bytes, a->size, NULL, NULL) !=
            CAIRO_STATUS_SUCCESS) {
            cairo_surface_destroy(s);
            return NULL;
        }
    }
    if (s && cairo_surface_status(s) != CAIRO_STATUS_SUCCESS) {
        cairo_surface_destroy(s);
        return NULL;
    }
    return s;
}

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
        cairo_surface_t *s = picture(a);

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
