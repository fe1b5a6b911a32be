/* jpeg.c - the smallest writer of JPEG that shows a photograph: no colour is halved, and two short tables of codes serve all. */
#include "jpeg.h"

#include <math.h>
#include <stdio.h>

/* One table of Huffman codes for differences of level: 12 sizes of 4 bits. One for the rest: "end of block" has 2 bits, all others 8. */
enum { END_BITS = 2, FIRST_LONG = 0x40, LONG_BITS = 8, DC_BITS = 4, SIZES = 10, RUN_OF_16 = 0xF0 };

struct picture {
    FILE *f;
    const uint32_t *pixels;
    int width, height; /* as they are written */
    int seen_width;    /* of a row of pixels */
    bool turned;
    uint32_t bits;
    int n;       /* bits that wait for their byte */
    int last[3]; /* level of the block before, of each component */
};

/* A step of the quantiser for the frequency u, v: finer for the slow ones. */
static int step(int u, int v)
{
    return 3 + 2 * (u + v);
}

static const int zigzag[64] = {
    0,  1,  8,  16, 9,  2,  3,  10, 17, 24, 32, 25, 18, 11, 4,  5,  12, 19, 26, 33, 40, 48,
    41, 34, 27, 20, 13, 6,  7,  14, 21, 28, 35, 42, 49, 56, 57, 50, 43, 36, 29, 22, 15, 23,
    30, 37, 44, 51, 58, 59, 52, 45, 38, 31, 39, 46, 53, 60, 61, 54, 47, 55, 62, 63,
};

static void two(FILE *f, int v)
{
    fputc(v >> 8 & 255, f);
    fputc(v & 255, f);
}

static void segment(FILE *f, int mark, int bytes)
{
    fputc(0xFF, f);
    fputc(mark, f);
    two(f, bytes + 2);
}

static void put(struct picture *p, unsigned value, int bits)
{
    p->bits = p->bits << bits | (value & ((1u << bits) - 1));
    for (p->n += bits; p->n >= 8; p->n -= 8) {
        int byte = (int)(p->bits >> (p->n - 8) & 255);

        fputc(byte, p->f);
        if (byte == 0xFF) /* no mark begins inside */
            fputc(0, p->f);
    }
}

/* The word of a run of zeros and the size of what follows: 0x00 to 0xFA as the tables below list them. */
static void put_long(struct picture *p, int run, int size)
{
    put(p, (unsigned)(FIRST_LONG + (size ? run * SIZES + size - 1 : 16 * SIZES)), LONG_BITS);
}

static int size_of(int v)
{
    int n = 0;

    for (v = v < 0 ? -v : v; v; v >>= 1)
        n++;
    return n;
}

static void put_value(struct picture *p, int v, int size)
{
    if (size)
        put(p, (unsigned)(v > 0 ? v : v + (1 << size) - 1), size);
}

static void put_block(struct picture *p, const int *q, int component)
{
    int d = q[0] - p->last[component], run = 0;

    p->last[component] = q[0];
    put(p, (unsigned)size_of(d), DC_BITS);
    put_value(p, d, size_of(d));
    for (int i = 1; i < 64; i++) {
        int v = q[zigzag[i]];

        if (v == 0) {
            run++;
            continue;
        }
        for (; run > 15; run -= 16)
            put_long(p, 15, 0);
        put_long(p, run, size_of(v));
        put_value(p, v, size_of(v));
        run = 0;
    }
    if (run)
        put(p, 0, END_BITS);
}

/* ITU-T T.81, A.3.3: the cosine transform of 8 by 8, one direction after the other. */
static void transform(int *q, const double *in)
{
    double half[64];
    const double pi = acos(-1);

    for (int v = 0; v < 8; v++)
        for (int x = 0; x < 8; x++) {
            half[8 * v + x] = 0;
            for (int y = 0; y < 8; y++)
                half[8 * v + x] += in[8 * y + x] * cos((2 * y + 1) * v * pi / 16) * (v ? 0.5 : sqrt(0.125));
        }
    for (int v = 0; v < 8; v++)
        for (int u = 0; u < 8; u++) {
            double sum = 0;

            for (int x = 0; x < 8; x++)
                sum += half[8 * v + x] * cos((2 * x + 1) * u * pi / 16) * (u ? 0.5 : sqrt(0.125));
            q[8 * v + u] = (int)lround(sum / step(u, v));
        }
}

static uint32_t pixel(const struct picture *p, int x, int y)
{
    x = x < p->width ? x : p->width - 1;
    y = y < p->height ? y : p->height - 1;
    /* turned: a quarter against the clock, which whoever shows it turns back (orientation 6) */
    return p->turned ? p->pixels[x * p->seen_width + p->seen_width - 1 - y]
                     : p->pixels[y * p->seen_width + x];
}

/* JFIF: luminance and two differences of colour from red, green and blue. */
static double component(uint32_t rgb, int i)
{
    static const double weight[3][3] = { { 0.299, 0.587, 0.114 },
                                         { -0.168736, -0.331264, 0.5 },
                                         { 0.5, -0.418688, -0.081312 } };

    return weight[i][0] * (rgb >> 16 & 255) + weight[i][1] * (rgb >> 8 & 255) + weight[i][2] * (rgb & 255) -
           (i ? 0 : 128);
}

static void put_picture(struct picture *p)
{
    for (int y = 0; y < p->height; y += 8)
        for (int x = 0; x < p->width; x += 8)
            for (int c = 0; c < 3; c++) {
                double in[64];
                int q[64];

                for (int i = 0; i < 64; i++)
                    in[i] = component(pixel(p, x + i % 8, y + i / 8), c);
                transform(q, in);
                put_block(p, q, c);
            }
    if (p->n)
        put(p, 0xFF, 8 - p->n);
}

static void put_exif(FILE *f, int orientation)
{
    static const unsigned char head[] = { 'E', 'x', 'i', 'f', 0, 0,    'M', 'M', 0, 42, 0, 0,
                                          0,   8,   0,   1,   1, 0x12, 0,   3,   0, 0,  0, 1 };

    segment(f, 0xE1, (int)sizeof head + 8);
    fwrite(head, 1, sizeof head, f);
    two(f, orientation);
    for (int i = 0; i < 6; i++)
        fputc(0, f);
}

static void put_codes(FILE *f)
{
    segment(f, 0xC4, 17 + 12);
    for (int i = 0; i <= 16; i++)
        fputc(i == DC_BITS ? 12 : 0, f);
    for (int i = 0; i < 12; i++)
        fputc(i, f);
    segment(f, 0xC4, 17 + 2 + 16 * SIZES);
    fputc(0x10, f);
    for (int i = 1; i <= 16; i++)
        fputc(i == END_BITS ? 1 : i == LONG_BITS ? 16 * SIZES + 1 : 0, f);
    fputc(0, f);
    for (int run = 0; run < 16; run++)
        for (int size = 1; size <= SIZES; size++)
            fputc(run << 4 | size, f);
    fputc(RUN_OF_16, f);
}

static void put_head(const struct picture *p, int orientation)
{
    FILE *f = p->f;

    two(f, 0xFFD8);
    put_exif(f, orientation);
    segment(f, 0xDB, 65);
    fputc(0, f);
    for (int i = 0; i < 64; i++)
        fputc(step(zigzag[i] % 8, zigzag[i] / 8), f);
    segment(f, 0xC0, 6 + 3 * 3);
    fputc(8, f);
    two(f, p->height);
    two(f, p->width);
    fputc(3, f);
    for (int i = 1; i <= 3; i++) {
        fputc(i, f);
        two(f, 0x1100);
    }
    put_codes(f);
    segment(f, 0xDA, 4 + 2 * 3);
    fputc(3, f);
    for (int i = 1; i <= 3; i++)
        two(f, i << 8);
    fputc(0, f);
    two(f, 63 << 8);
}

bool jpeg_write(const char *path, const uint32_t *pixels, int width, int height, int orientation)
{
    struct picture p = { .pixels = pixels, .seen_width = width, .turned = orientation == 6 };
    bool bad;

    p.width = p.turned ? height : width;
    p.height = p.turned ? width : height;
    if (!(p.f = fopen(path, "wb")))
        return false;
    put_head(&p, orientation);
    put_picture(&p);
    two(p.f, 0xFFD9);
    bad = ferror(p.f) != 0;
    if (fclose(p.f) != 0 || bad) {
        remove(path);
        return false;
    }
    return true;
}
