/*
 * Any bytes as a photograph or a paper that is put beside a burn: the first chooses JPEG, PNG or PDF. It is walked to its end,
 * and a picture is drawn into a paper as a case does it. The check sums of a PNG are set right, or no change would get
 * beyond the first of them.
 */
#include "report/case/case_page.h"
#include "work/media.h"

#include <cairo-pdf.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <zlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* A picture may have 40 million pixels: few of them are kept after they are freed, or there is soon no memory left. */
const char *__asan_default_options(void);
const char *__asan_default_options(void)
{
    return "quarantine_size_mb=16";
}

static const char *const media[] = { "image/jpeg", "image/png", "application/pdf" };

static uint32_t big_endian(const unsigned char *p)
{
    return (uint32_t)p[0] << 24 | (uint32_t)p[1] << 16 | (uint32_t)p[2] << 8 | p[3];
}

static void set_sums(unsigned char *p, size_t n)
{
    for (size_t at = 8; at + 12 <= n;) {
        size_t length = big_endian(p + at);
        unsigned long sum;

        if (length > n - at - 12)
            return;
        sum = crc32(0, p + at + 4, (uInt)length + 4);
        for (int i = 0; i < 4; i++)
            p[at + 8 + length + (size_t)i] = (unsigned char)(sum >> (24 - 8 * i));
        at += length + 12;
    }
}

static cairo_status_t nowhere(void *arg, const unsigned char *p, unsigned n)
{
    (void)arg;
    (void)p;
    (void)n;
    return CAIRO_STATUS_SUCCESS;
}

static void draw(cairo_surface_t *picture)
{
    cairo_surface_t *paper = cairo_pdf_surface_create_for_stream(nowhere, NULL, 100, 100);
    cairo_t *c = cairo_create(paper);

    cairo_set_source_surface(c, picture, 0, 0);
    cairo_paint(c);
    cairo_destroy(c);
    cairo_surface_destroy(paper);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct tb_attachment a = { 0 };
    struct tb_err err = { 0 };
    unsigned char *exact;
    cairo_surface_t *picture;
    int orientation = 1;
    bool whole = false;

    if (size < 2)
        return 0;
    a.media = media[data[0] % 3];
    a.size = size - 1;
    a.bytes = exact = memcpy(tb_alloc(a.size, 1), data + 1, a.size); /* a step beyond the end is seen */
    if (data[0] % 3 == 1)
        set_sums(exact, a.size);
    if (a.size >= 16 && tb_media_whole(&whole, a.media, a.bytes, a.size, &err) != TB_OK && !err.msg[0])
        abort();
    picture = tb_case_picture(&orientation, &a);
    if (picture) {
        draw(picture);
        cairo_surface_destroy(picture);
    }
    free(exact);
    return 0;
}
