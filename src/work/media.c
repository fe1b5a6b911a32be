/* Whether a photograph or a paper is all there: its parts are walked to the one that ends it. */
#include "work/media.h"

#include "base/apart.h"

#include <string.h>

#define PNG_SIGNATURE 8
#define PNG_AROUND 12       /* length, type and check sum of a chunk */
#define PDF_END_WITHIN 1024 /* readers look for the end mark in so many last bytes */

static size_t big_endian(const unsigned char *p, size_t n)
{
    size_t v = 0;

    for (size_t i = 0; i < n; i++)
        v = v << 8 | p[i];
    return v;
}

/* Chunk by chunk to IEND. */
static bool png_whole(const unsigned char *p, size_t n)
{
    for (size_t at = PNG_SIGNATURE; n - at >= PNG_AROUND;) {
        size_t length = big_endian(p + at, 4);

        if (length > n - at - PNG_AROUND)
            return false;
        if (memcmp(p + at + 4, "IEND", 4) == 0)
            return true;
        at += length + PNG_AROUND;
    }
    return false;
}

/* The picture itself: bytes of it never look like the mark that ends it, since FF is followed by 00 there. */
static bool jpeg_ends(const unsigned char *p, size_t n, size_t at)
{
    for (; at + 1 < n; at++)
        if (p[at] == 0xFF && p[at + 1] == 0xD9)
            return true;
    return false;
}

/* Segment by segment to the start of the picture: a preview among them has an end mark of its own. */
static bool jpeg_whole(const unsigned char *p, size_t n)
{
    for (size_t at = 2; n - at >= 4;) {
        size_t length = big_endian(p + at + 2, 2);

        if (p[at] != 0xFF)
            return false;
        if (p[at + 1] == 0xFF) { /* fill */
            at++;
            continue;
        }
        if (length < 2 || length > n - at - 2)
            return false;
        at += 2 + length;
        if (p[at - length - 1] == 0xDA)
            return jpeg_ends(p, n, at);
    }
    return false;
}

static bool pdf_whole(const unsigned char *p, size_t n)
{
    static const char mark[] = "%%EOF";
    size_t from = n > PDF_END_WITHIN ? n - PDF_END_WITHIN : 0;

    for (size_t at = from; at + sizeof mark - 1 <= n; at++)
        if (memcmp(p + at, mark, sizeof mark - 1) == 0)
            return true;
    return false;
}

struct walk {
    const char *media;
    const void *bytes;
    size_t n;
    bool whole;
};

static tb_rc walk(struct tb_apart *to, void *arg, struct tb_err *err)
{
    const struct walk *w = arg;
    bool whole;

    (void)err;
    if (strcmp(w->media, "image/png") == 0)
        whole = w->n > PNG_SIGNATURE && png_whole(w->bytes, w->n);
    else if (strcmp(w->media, "image/jpeg") == 0)
        whole = w->n > 2 && jpeg_whole(w->bytes, w->n);
    else
        whole = pdf_whole(w->bytes, w->n);
    tb_apart_send(to, whole ? "y" : "n", 1);
    return TB_OK;
}

static tb_rc hear(void *arg, const unsigned char *part, size_t n, bool *yes, struct tb_err *err)
{
    (void)yes;
    (void)err;
    ((struct walk *)arg)->whole = n == 1 && *part == 'y';
    return TB_OK;
}

tb_rc tb_media_whole(bool *whole, const char *media, const void *bytes, size_t n, struct tb_err *err)
{
    struct walk w = { media, bytes, n, false };
    const struct tb_apart_job job = { .read = walk, .take = hear, .arg = &w, .file = -1 };
    tb_rc rc = tb_apart(&job, err);

    if (rc == TB_OK)
        *whole = w.whole;
    return rc;
}
