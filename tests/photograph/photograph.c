/*
 * photograph.c - draws the photographs that the demonstration keeps with its swatches. Nobody took them.
 *
 * A strip of cloth with pinked edges on a slate, a paper ticket with its number, and a rule in centimetres.
 */
#include "jpeg.h"

#include <cairo.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { WIDTH = 640, HEIGHT = 480 };

/* The strip, and where the flame stopped. */
static const double left = 70, top = 120, right = 500, bottom = 330, flame = 372;

struct shot {
    double r, g, b; /* of the cloth, 0 to 1 */
    const char *ticket;
    bool burnt, ash; /* ash: it burned away and left some; else it melted into beads */
};

/* The same "random" numbers every time, from 0 to 1. */
static double chance(void)
{
    static uint32_t seed = 2610;

    seed = seed * 1664525u + 1013904223u;
    return (double)(seed >> 8) / 0x1000000;
}

static void slate(cairo_t *c)
{
    cairo_pattern_t *light = cairo_pattern_create_linear(0, 0, WIDTH, HEIGHT);

    cairo_pattern_add_color_stop_rgb(light, 0, 0.36, 0.38, 0.40);
    cairo_pattern_add_color_stop_rgb(light, 1, 0.20, 0.21, 0.23);
    cairo_set_source(c, light);
    cairo_paint(c);
    cairo_pattern_destroy(light);
    for (int i = 0; i < 900; i++) {
        cairo_set_source_rgba(c, 1, 1, 1, 0.05 * chance());
        cairo_rectangle(c, WIDTH * chance(), HEIGHT * chance(), 1 + 14 * chance(), 1);
        cairo_fill(c);
    }
}

/* The outline: teeth of pinking shears around, and a ragged end where it burned. */
static void outline(cairo_t *c, const struct shot *s)
{
    double end = s->burnt ? flame : right, tooth = 10;

    cairo_new_path(c);
    for (double x = left; x < end; x += tooth) {
        cairo_line_to(c, x, top);
        cairo_line_to(c, x + tooth / 2, top - 5);
    }
    for (double y = top; y < bottom; y += s->burnt ? 6 : tooth) {
        cairo_line_to(c, end + (s->burnt ? 34 * (chance() - 0.6) : 0), y);
        cairo_line_to(c, end + (s->burnt ? 22 * (chance() - 0.5) : 5), y + tooth / 2);
    }
    for (double x = end - tooth; x > left; x -= tooth) {
        cairo_line_to(c, x, bottom);
        cairo_line_to(c, x - tooth / 2, bottom + 5);
    }
    for (double y = bottom; y > top; y -= tooth) {
        cairo_line_to(c, left, y);
        cairo_line_to(c, left - 5, y - tooth / 2);
    }
    cairo_close_path(c);
}

/* Warp and weft over and under each other, in light and shade of the colour. */
static void weave(cairo_t *c, const struct shot *s)
{
    for (int j = 0; j < 60; j++)
        for (int i = 0; i < 120; i++) {
            double light = ((i + 2 * j) % 5 < 2 ? 1.12 : 0.86) + 0.10 * chance();

            cairo_set_source_rgb(c, s->r * light, s->g * light, s->b * light);
            cairo_rectangle(c, left - 6 + i * 4, top - 6 + j * 4, 3.4, 3.4);
            cairo_fill(c);
        }
}

/* Browned towards the end. */
static void scorch(cairo_t *c, const struct shot *s)
{
    cairo_pattern_t *brown = cairo_pattern_create_linear(flame - (s->ash ? 90 : 46), 0, flame + 6, 0);

    cairo_pattern_add_color_stop_rgba(brown, 0, 0.22, 0.13, 0.06, 0);
    cairo_pattern_add_color_stop_rgba(brown, 0.7, 0.16, 0.09, 0.04, 0.75);
    cairo_pattern_add_color_stop_rgba(brown, 1, 0.04, 0.03, 0.02, 1);
    cairo_set_source(c, brown);
    cairo_paint(c);
    cairo_pattern_destroy(brown);
}

static void dot(cairo_t *c, double x, double y, double r, double grey, double opaque)
{
    cairo_set_source_rgba(c, grey, grey, grey, opaque);
    cairo_arc(c, x, y, r, 0, 6.2832);
    cairo_fill(c);
}

/* What is left: grey flakes of ash, or hard beads along the edge and drops that fell from it. */
static void residue(cairo_t *c, const struct shot *s)
{
    for (int i = 0; i < (s->ash ? 420 : 46); i++) {
        double y = top + (bottom - top) * chance(), x = flame - 10 + (s->ash ? 70 : 16) * chance();

        if (s->ash) {
            dot(c, x, y, 1 + 3 * chance(), 0.45 + 0.35 * chance(), 0.55);
            continue;
        }
        dot(c, x + 2, y + 3, 9, 0.02, 0.35);
        dot(c, x, y, 5 + 4 * chance(), 0.07, 1);
        dot(c, x - 2, y - 3, 1.6, 0.8, 0.8);
    }
    for (int i = 0; !s->ash && i < 9; i++) {
        double x = flame + 40 + 90 * chance(), y = top + 30 + 150 * chance();

        dot(c, x + 1, y + 2, 7, 0.02, 0.4);
        dot(c, x, y, 4 + 2 * chance(), 0.08, 1);
        dot(c, x - 1.5, y - 2, 1.3, 0.85, 0.8);
    }
}

static void cloth(cairo_t *c, const struct shot *s)
{
    cairo_save(c);
    cairo_translate(c, 5, 7);
    outline(c, s);
    cairo_set_source_rgba(c, 0, 0, 0, 0.45);
    cairo_fill(c);
    cairo_restore(c);
    cairo_save(c);
    outline(c, s);
    cairo_clip(c);
    weave(c, s);
    if (s->burnt)
        scorch(c, s);
    cairo_restore(c);
    if (s->burnt)
        residue(c, s);
}

static void words(cairo_t *c, double x, double y, double size, const char *text)
{
    cairo_set_source_rgb(c, 0.1, 0.1, 0.12);
    cairo_select_font_face(c, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL, CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(c, size);
    cairo_move_to(c, x, y);
    cairo_show_text(c, text);
}

static void paper(cairo_t *c, double x, double y, double w, double h)
{
    cairo_set_source_rgba(c, 0, 0, 0, 0.4);
    cairo_rectangle(c, x + 3, y + 4, w, h);
    cairo_fill(c);
    cairo_set_source_rgb(c, 0.95, 0.94, 0.88);
    cairo_rectangle(c, x, y, w, h);
    cairo_fill(c);
}

static void ticket_and_rule(cairo_t *c, const struct shot *s)
{
    char figure[12];

    paper(c, 70, 34, 250, 50);
    words(c, 84, 67, 24, s->ticket);
    paper(c, 60, 390, 550, 44);
    for (int mm = 0; mm <= 100; mm++) {
        cairo_rectangle(c, 70 + 5 * mm, 390, mm % 10 ? 0.8 : 1.4, mm % 10 ? 8 : 16);
        cairo_set_source_rgb(c, 0.1, 0.1, 0.12);
        cairo_fill(c);
        snprintf(figure, sizeof figure, "%d", mm / 10);
        if (mm % 10 == 0)
            words(c, 66 + 5 * mm, 424, 13, figure);
    }
    words(c, 588, 424, 11, "cm");
}

static bool draw(const struct shot *s, const char *path, int orientation)
{
    cairo_surface_t *picture = cairo_image_surface_create(CAIRO_FORMAT_RGB24, WIDTH, HEIGHT);
    cairo_t *c = cairo_create(picture);
    bool good;

    slate(c);
    cloth(c, s);
    ticket_and_rule(c, s);
    cairo_surface_flush(picture);
    good = cairo_status(c) == CAIRO_STATUS_SUCCESS && cairo_image_surface_get_stride(picture) == WIDTH * 4 &&
           jpeg_write(path, (const uint32_t *)(const void *)cairo_image_surface_get_data(picture), WIDTH,
                      HEIGHT, orientation);
    cairo_destroy(c);
    cairo_surface_destroy(picture);
    return good;
}

int main(int argc, char **argv)
{
    struct shot s = { 0 };
    unsigned colour;
    bool unburnt, turned;

    if (argc < 5 || argc > 6 || sscanf(argv[2], "%6x", &colour) != 1)
        goto usage;
    unburnt = strcmp(argv[3], "unburnt") == 0;
    turned = argc == 6 && strcmp(argv[5], "turned") == 0;
    s.burnt = !unburnt;
    s.ash = strcmp(argv[3], "ash") == 0;
    if ((s.burnt && !s.ash && strcmp(argv[3], "beads") != 0) || (argc == 6 && !turned))
        goto usage;
    s.r = (colour >> 16 & 255) / 255.0;
    s.g = (colour >> 8 & 255) / 255.0;
    s.b = (colour & 255) / 255.0;
    s.ticket = argv[4];
    if (draw(&s, argv[1], turned ? 6 : 1))
        return 0;
    fprintf(stderr, "photograph: %s cannot be written\n", argv[1]);
    return 1;
usage:
    fprintf(stderr, "usage: photograph FILE.jpg RRGGBB unburnt|beads|ash TICKET [turned]\n");
    return 2;
}
