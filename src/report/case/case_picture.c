/*
 * case_picture.c - a photograph as a picture that can be drawn. It is taken to pieces in a process apart, which answers with
 * its width and height and, of a PNG, its pixels.
 */
#include "base/apart.h"
#include "report/case/case_page.h"
#include "report/case/jpeg_head.h"

#include <string.h>

#define PIXELS_MOST 4e7  /* of a picture that is unpacked: a file of a few bytes may say any number */
#define PIECE (1u << 20) /* bytes of pixels at a time */
#define NOT_UNPACKED                                                                                         \
    INT32_MAX /* a JPEG goes into the PDF as it is, byte for byte: its pixels are not needed */

/* The first part of the answer; rows of pixels follow, as cairo lays them out. */
struct size {
    int32_t width, height, format, orientation;
};

struct reader {
    const unsigned char *p;
    size_t left;
};

/* What is read, and what comes of it. */
struct picture {
    const struct tb_attachment *a;
    cairo_surface_t *surface; /* NULL: it is no picture, or not yet */
    size_t filled, room;      /* bytes of its pixels */
    int orientation;
};

/* --- in the child ----------------------------------------------------------------------------------------------- */

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

/* Nothing is sent of what cannot be unpacked: then there is no picture. */
static void send_png(struct tb_apart *to, const struct tb_attachment *a)
{
    struct reader r = { a->bytes, a->size };
    double wide, high;
    cairo_surface_t *s;

    png_size(&wide, &high, a->bytes, a->size);
    if (wide <= 0 || high <= 0 || wide * high > PIXELS_MOST)
        return;
    s = cairo_image_surface_create_from_png_stream(read_bytes, &r);
    if (cairo_surface_status(s) == CAIRO_STATUS_SUCCESS) {
        const struct size size = { cairo_image_surface_get_width(s), cairo_image_surface_get_height(s),
                                   cairo_image_surface_get_format(s), 1 };
        const unsigned char *pixel = cairo_image_surface_get_data(s);
        size_t all = (size_t)cairo_image_surface_get_stride(s) * (size_t)size.height;

        tb_apart_send(to, &size, sizeof size);
        for (size_t at = 0; at < all; at += PIECE)
            tb_apart_send(to, pixel + at, all - at < PIECE ? all - at : PIECE);
    }
    cairo_surface_destroy(s);
}

/* Colours of four inks mean nothing to a paper in red, green and blue: such a picture is not shown. */
static void send_jpeg(struct tb_apart *to, const struct tb_attachment *a)
{
    struct jpeg_head head;
    struct size size = { .format = NOT_UNPACKED };

    jpeg_head_read(&head, a->bytes, a->size);
    if (head.components != 1 && head.components != 3)
        return;
    size.width = head.width;
    size.height = head.height;
    size.orientation = head.orientation;
    tb_apart_send(to, &size, sizeof size);
}

static tb_rc look(struct tb_apart *to, void *arg, struct tb_err *err)
{
    const struct picture *p = arg;

    (void)err;
    if (strcmp(p->a->media, "image/png") == 0)
        send_png(to, p->a);
    else if (strcmp(p->a->media, "image/jpeg") == 0)
        send_jpeg(to, p->a);
    return TB_OK;
}

/* --- in the parent ---------------------------------------------------------------------------------------------- */

static tb_rc no_picture(struct tb_err *err)
{
    return tb_fail(err, TB_EFORMAT, "what was read of the photograph is not a picture");
}

static tb_rc begin(struct picture *p, const struct size *size, struct tb_err *err)
{
    bool jpeg = size->format == NOT_UNPACKED && strcmp(p->a->media, "image/jpeg") == 0;
    cairo_surface_t *s;

    if (size->width <= 0 || size->height <= 0 || (double)size->width * size->height > PIXELS_MOST ||
        size->orientation < 1 || size->orientation > 8 ||
        (!jpeg && size->format != CAIRO_FORMAT_ARGB32 && size->format != CAIRO_FORMAT_RGB24))
        return no_picture(err);
    p->orientation = size->orientation;
    s = p->surface = cairo_image_surface_create(jpeg ? CAIRO_FORMAT_RGB24 : (cairo_format_t)size->format,
                                                size->width, size->height);
    if (jpeg)
        (void)cairo_surface_set_mime_data(s, CAIRO_MIME_TYPE_JPEG, p->a->bytes, p->a->size, NULL, NULL);
    else
        p->room = (size_t)cairo_image_surface_get_stride(s) * (size_t)size->height;
    return cairo_surface_status(s) == CAIRO_STATUS_SUCCESS ? TB_OK : no_picture(err);
}

static tb_rc take(void *arg, const unsigned char *part, size_t n, bool *yes, struct tb_err *err)
{
    struct picture *p = arg;
    struct size size;

    (void)yes;
    if (!p->surface) {
        if (n != sizeof size)
            return no_picture(err);
        memcpy(&size, part, sizeof size);
        return begin(p, &size, err);
    }
    if (n > p->room - p->filled)
        return no_picture(err);
    memcpy(cairo_image_surface_get_data(p->surface) + p->filled, part, n);
    p->filled += n;
    return TB_OK;
}

cairo_surface_t *tb_case_picture(int *orientation, const struct tb_attachment *a)
{
    struct tb_err why = { 0 };
    struct picture p = { .a = a };
    const struct tb_apart_job job = {
        .read = look, .take = take, .arg = &p, .before = tb_late_drawing_before, .file = -1
    };

    if (tb_apart(&job, &why) != TB_OK || (p.surface && p.filled != p.room)) {
        cairo_surface_destroy(p.surface);
        return NULL;
    }
    *orientation = p.orientation;
    if (p.room) /* not of a JPEG, which would lose its bytes */
        cairo_surface_mark_dirty(p.surface);
    return p.surface;
}
