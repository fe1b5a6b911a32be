/* jpeg_head.c - size, colours and orientation of a JPEG. */
#include "report/case/jpeg_head.h"

#include <stdbool.h>
#include <string.h>

#define ORIENTATION 0x0112
#define ENTRY 12 /* bytes of one in the directory of a TIFF */

/* A TIFF inside a segment: its numbers stand in the order it names. */
struct tiff {
    const unsigned char *p;
    size_t n;
    bool big; /* the high byte first */
};

static uint32_t number(const struct tiff *t, size_t at, size_t bytes)
{
    uint32_t v = 0;

    for (size_t i = 0; i < bytes && at + bytes <= t->n; i++)
        v = v << 8 | t->p[t->big ? at + i : at + bytes - 1 - i];
    return v;
}

/* 1 to 8; 0: it says none, or what is none. */
static int orientation(const unsigned char *p, size_t n)
{
    struct tiff t = { p + 6, n - 6, false };
    size_t at, entries;

    if (n < 6 + 8 || memcmp(p, "Exif\0", 6) != 0)
        return 0;
    t.big = t.p[0] == 'M';
    at = number(&t, 4, 4);
    if (number(&t, 2, 2) != 42 || at + 2 > t.n)
        return 0;
    entries = number(&t, at, 2);
    for (size_t i = 0; i < entries && at + 2 + (i + 1) * ENTRY <= t.n; i++) {
        size_t entry = at + 2 + i * ENTRY;
        uint32_t value = number(&t, entry + 8, 2);

        if (number(&t, entry, 2) == ORIENTATION && number(&t, entry + 2, 2) == 3)
            return value >= 1 && value <= 8 ? (int)value : 0;
    }
    return 0;
}

static bool is_frame(unsigned char mark)
{
    return mark >= 0xC0 && mark <= 0xCF && mark != 0xC4 && mark != 0xC8 && mark != 0xCC;
}

/* Segment by segment up to the frame; of several orientations the first counts. */
void jpeg_head_read(struct jpeg_head *out, const unsigned char *p, size_t n)
{
    size_t i = 2;
    int turned = 0;

    *out = (struct jpeg_head){ 0 };
    while (i + 9 < n && p[i] == 0xFF) {
        size_t length = (size_t)p[i + 2] << 8 | p[i + 3];

        if (is_frame(p[i + 1])) {
            *out = (struct jpeg_head){ .width = p[i + 7] << 8 | p[i + 8],
                                       .height = p[i + 5] << 8 | p[i + 6],
                                       .components = p[i + 9],
                                       .orientation = turned ? turned : 1 };
            return;
        }
        if (p[i + 1] == 0xE1 && !turned && length >= 2 && i + 2 + length <= n)
            turned = orientation(p + i + 4, length - 2);
        i += 2 + length;
    }
}
