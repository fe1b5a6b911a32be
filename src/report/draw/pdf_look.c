/*
 * pdf_look.c - whether two PDF files have the same words on their pages, and look the same.
 *
 * A program that writes pages anew from what they show (a gateway that makes files smaller, a printer of PDF) takes other steps to the same
 * picture. Both are drawn here by one library, at a dot a point, and compared in small squares: a letter that another hand changed, or
 * a box over one, is seen; the rounding of such a program is not.
 */
#include "report/draw/pdf_compare.h"

#include "base/late.h"
#include "base/poppler.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <poppler.h>

#include "gen/late_drawing.h"

/*
 * Dots. On the average of such a square, letters that programs moved by less than a dot differ by up to 16 of 255, and an empty box
 * over small grey words by 22 and more (measured with two such programs).
 */
#define SQUARE 12
#define DIFFERS 20.0
#define MOVED 3.0      /* points: less than the width of a figure in the smallest words */
#define SIDE_MOST 2000 /* points: a page is not drawn beyond that */

static struct {
    PopplerDocument *(*open)(GBytes *bytes, const char *password, GError **err);
    int (*pages)(PopplerDocument *);
    PopplerPage *(*page)(PopplerDocument *, int);
    void (*size)(PopplerPage *, double *width, double *height);
    char *(*text)(PopplerPage *, PopplerRectangle *);
    gboolean (*layout)(PopplerPage *, PopplerRectangle *, PopplerRectangle **, guint *);
    void (*render)(PopplerPage *, cairo_t *);
} lib;

static bool find(void *to, const char *name)
{
    return tb_late_find(to, tb_poppler_library(), name);
}

static bool load(void)
{
    return tb_poppler_library() && find(&lib.open, "poppler_document_new_from_bytes") &&
           find(&lib.pages, "poppler_document_get_n_pages") && find(&lib.page, "poppler_document_get_page") &&
           find(&lib.size, "poppler_page_get_size") && find(&lib.text, "poppler_page_get_text_for_area") &&
           find(&lib.layout, "poppler_page_get_text_layout_for_area") &&
           find(&lib.render, "poppler_page_render");
}

void tb_pdf_look_before(void)
{
    (void)load(); /* where it is not there, whoever needs it says so */
    tb_poppler_silence();
}

/* --- words ------------------------------------------------------------------------------------------------------ */

/* Where words end and which is read first is guessed by whoever reads the page; what stands where is not. */
struct letter {
    gunichar c;
    double x, y; /* its middle */
    bool met;    /* it is on the other page too */
};
struct letters {
    struct letter *letter;
    size_t n, cap;
};

/* Letters drawn as one shape ("ffi") may come back as one letter: they are taken apart, as Unicode says (NFKC), each with its share. */
static void add_letter(struct letters *all, const char *at, const PopplerRectangle *r)
{
    char *plain = g_utf8_normalize(at, g_utf8_find_next_char(at, NULL) - at, G_NORMALIZE_ALL_COMPOSE);

    double shares = plain ? (double)g_utf8_strlen(plain, -1) : 1, share = 0.5;

    for (const char *p = plain; p && *p; p = g_utf8_find_next_char(p, NULL), share++) {
        gunichar c = g_utf8_get_char(p);

        if (g_unichar_isspace(c) || g_unichar_iscntrl(c))
            continue;
        TB_PUSH_ROOM(all->letter, all->n, all->cap);
        all->letter[all->n++] =
            (struct letter){ c, r->x1 + (r->x2 - r->x1) * share / shares, (r->y1 + r->y2) / 2, false };
    }
    g_free(plain);
}

static int by_letter(const void *a, const void *b)
{
    const struct letter *x = a, *y = b;

    return (x->c > y->c) - (x->c < y->c);
}

/* False: the page does not say where its letters are. */
static bool read_letters(struct letters *out, PopplerPage *page)
{
    PopplerRectangle all_of_it = TB_POPPLER_ALL_OF_IT, *r = NULL;
    char *text = lib.text(page, &all_of_it);
    guint rects = 0, i = 0;
    bool good = text && lib.layout(page, &all_of_it, &r, &rects);

    for (const char *at = text; good && *at && i < rects; at = g_utf8_find_next_char(at, NULL))
        add_letter(out, at, &r[i++]);
    good = text && (good || !*text);
    if (out->n)
        qsort(out->letter, out->n, sizeof *out->letter, by_letter);
    g_free(r);
    g_free(text);
    return good;
}

/* The nearest of the same letters that is not taken yet. */
static bool meet(const struct letter *a, struct letter *same, size_t n)
{
    struct letter *best = NULL;
    double nearest = 0;

    for (size_t i = 0; i < n; i++) {
        double dx = fabs(same[i].x - a->x), dy = fabs(same[i].y - a->y);

        if (!same[i].met && dx < MOVED && dy < MOVED && (!best || dx + dy < nearest)) {
            best = &same[i];
            nearest = dx + dy;
        }
    }
    if (best)
        best->met = true;
    return best != NULL;
}

/* Both lists are in the order of letters, so those of one kind stand together. */
static bool same_letters(const struct letters *a, const struct letters *b)
{
    size_t from = 0, to = 0;

    if (a->n != b->n)
        return false;
    for (size_t i = 0; i < a->n; i++) {
        if (a->letter[i].c != b->letter[i].c)
            return false;
        if (i >= to)
            for (from = i, to = i; to < b->n && b->letter[to].c == b->letter[from].c;)
                to++;
        if (!meet(&a->letter[i], b->letter + from, to - from))
            return false;
    }
    return true;
}

static bool same_words(PopplerPage *a, PopplerPage *b)
{
    struct letters one = { 0 }, two = { 0 };
    bool good = read_letters(&one, a) && read_letters(&two, b) && same_letters(&one, &two);

    free(one.letter);
    free(two.letter);
    return good;
}

/* --- look ------------------------------------------------------------------------------------------------------- */

static cairo_surface_t *drawn(PopplerPage *page, int width, int height)
{
    cairo_surface_t *s = cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height);
    cairo_t *c = cairo_create(s);

    cairo_set_source_rgb(c, 1, 1, 1);
    cairo_paint(c);
    lib.render(page, c);
    cairo_destroy(c);
    cairo_surface_flush(s);
    return s;
}

/* The average difference of a square, over the colour that differs most. */
static double difference(const unsigned char *a, const unsigned char *b, int stride, int x, int y, int w,
                         int h)
{
    double sum[3] = { 0 };
    int n = 0;

    for (int i = y; i < y + SQUARE && i < h; i++)
        for (int k = x; k < x + SQUARE && k < w; k++, n++)
            for (int c = 0; c < 3; c++)
                sum[c] += a[i * stride + 4 * k + c] - b[i * stride + 4 * k + c];
    return fmax(fabs(sum[0]), fmax(fabs(sum[1]), fabs(sum[2]))) / n;
}

static bool same_picture(cairo_surface_t *a, cairo_surface_t *b)
{
    int w = cairo_image_surface_get_width(a), h = cairo_image_surface_get_height(a),
        stride = cairo_image_surface_get_stride(a);
    const unsigned char *p = cairo_image_surface_get_data(a), *q = cairo_image_surface_get_data(b);

    if (!p || !q)
        return false;
    for (int y = 0; y < h; y += SQUARE / 2) /* they overlap: none is cut by the edge of one */
        for (int x = 0; x < w; x += SQUARE / 2)
            if (difference(p, q, stride, x, y, w, h) > DIFFERS)
                return false;
    return true;
}

static bool same_look(PopplerPage *a, PopplerPage *b)
{
    double w, h, v, g;
    cairo_surface_t *one, *two;
    bool good;

    lib.size(a, &w, &h);
    lib.size(b, &v, &g);
    if (!(w >= 1 && h >= 1 && w <= SIDE_MOST && h <= SIDE_MOST) || fabs(w - v) > 1 || fabs(h - g) > 1)
        return false;
    one = drawn(a, (int)w, (int)h);
    two = drawn(b, (int)w, (int)h);
    good = same_picture(one, two);
    cairo_surface_destroy(one);
    cairo_surface_destroy(two);
    return good;
}

/* The first page that differs by `same`, from 1; 0: none does. */
static int first_other(PopplerDocument *a, PopplerDocument *b, int n,
                       bool (*same)(PopplerPage *, PopplerPage *))
{
    int other = 0;

    for (int i = 0; i < n && !other; i++) {
        PopplerPage *one = lib.page(a, i), *two = lib.page(b, i);

        if (!one || !two || !same(one, two))
            other = i + 1;
        g_clear_object(&one);
        g_clear_object(&two);
    }
    return other;
}

static PopplerDocument *open(const char *pdf, size_t n)
{
    GBytes *bytes = g_bytes_new_static(pdf, n);
    GError *why = NULL;
    PopplerDocument *d = lib.open(bytes, NULL, &why);

    g_clear_error(&why);
    g_bytes_unref(bytes);
    /* cppcheck-suppress returnDanglingLifetime ; the library keeps no pointer to the error */
    return d;
}

tb_rc tb_pdf_same_look(enum pdf_likeness *out, int *page, const struct pdf_pair *pair, struct tb_err *err)
{
    PopplerDocument *a, *b;
    int n;

    *out = PDF_OTHER;
    *page = 0;
    if (!load())
        return tb_fail(err, TB_EIO,
                       "the library %s is not on this machine; install the package libpoppler-glib8",
                       TB_POPPLER_LIBRARY);
    a = open(pair->file, pair->file_n);
    b = open(pair->made, pair->made_n);
    n = a && b ? lib.pages(b) : 0;
    if (n > 0 && lib.pages(a) == n) {
        if ((*page = first_other(a, b, n, same_words)) == 0)
            *out = (*page = first_other(a, b, n, same_look)) == 0 ? PDF_LOOKS : PDF_WORDS;
    }
    g_clear_object(&a);
    g_clear_object(&b);
    return n > 0 ? TB_OK : tb_fail(err, TB_EFORMAT, "this PDF is damaged: its pages cannot be drawn");
}
