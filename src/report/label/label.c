/* label.c - the lawful lines of a label, drawn as large as its size allows: PDF, or a picture. */
#include "base/say.h"
#include "tenterbook/label_page.h"

#include "report/draw/paper.h"
#include "report/draw/pen.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define MM (72 / 25.4)
#define DOTS_AN_INCH 300
#define SIZE_LEAST 4.0 /* points: smaller letters are not legible (common practice, no source) */
#define SIZE_STEP 0.96
#define EDGE 0.05    /* of the shorter side, at least a millimetre */
#define BETWEEN 0.35 /* of a line, between two statements */

#define SIZE_GOOD 6.0 /* points: where this is reached, a figure and its fibre stay on one line */

/* Where a line may be broken, from what reads best on. A figure is never torn off the first word behind it. */
enum breaks {
    BREAK_STATEMENTS, /* behind a comma; of a line without figures, behind a colon or a stroke too */
    BREAK_LANGUAGES,  /* behind a stroke between two languages too; a line without figures between words */
    BREAK_WORDS,      /* between words */
    BREAKS
};

struct drawing {
    const struct tb_label_plan *plan;
    double edge, size; /* points */
    enum breaks breaks;
    bool shown;        /* pages are ended: a PDF; a picture has no pages */
    const char *lacks; /* a line with a letter that no typeface has; NULL: none */
};

/* --- lines ----------------------------------------------------------------------------------------------------- */

/* "80", "12.5", "%", "80%": what belongs to the word behind it. */
static bool is_figure(const char *word, size_t n)
{
    return n && strspn(word, "0123456789.,%") >= n && word[n - 1] != ',';
}

/* Whether the line may end behind the word that ends before the space `at`. */
static bool may_break(const char *line, const char *at, enum breaks how)
{
    bool figures = strchr(line, '%') != NULL;
    const char *word = at;

    while (word > line && word[-1] != ' ')
        word--;
    if (at[-1] == ',')
        return true;
    if (is_figure(word, (size_t)(at - word)) || at[1] == '%' || at[1] == '/' || at[1] == ':')
        return false;
    if (at[-1] == ':' || at[-1] == '/')
        return !figures || how >= BREAK_LANGUAGES;
    return how >= (figures ? BREAK_WORDS : BREAK_LANGUAGES);
}

static double width_of(cairo_t *c, const char *text, size_t n, double size)
{
    const struct pen_words how = { .size = size };
    char *copy = tb_strndup(text, n);
    double w, h;

    tb_pen_measure(c, &w, &h, &how, copy);
    free(copy);
    return w;
}

/* The line with a line feed for each space it is broken at, as full as the room lets it; NULL: a piece is too wide. */
static char *broken(cairo_t *c, const char *line, double size, double room, enum breaks how)
{
    char *out = tb_strdup(line), *from = out, *last = NULL;

    for (char *at = out; *at; at++) {
        const char *end = strchr(at, ' ');

        end = end ? end : at + strlen(at);
        if (width_of(c, from, (size_t)(end - from), size) > room) {
            if (!last) {
                free(out);
                return NULL;
            }
            *last = '\n';
            from = last + 1;
            last = NULL;
            at = from - 1;
            continue;
        }
        at = out + (end - out);
        if (!*at)
            break;
        if (may_break(line, line + (at - out), how))
            last = at;
    }
    return out;
}

/* The height of all lines in this size; more than there is room for where a piece is too wide. */
static double height(cairo_t *c, const struct tb_label_lines *l, double size, double room, enum breaks breaks)
{
    const struct pen_words how = { .size = size };
    double sum = 0, w, h;

    for (size_t i = 0; i < l->n; i++) {
        char *text = broken(c, l->line[i], size, room, breaks);

        if (!text)
            return INFINITY;
        tb_pen_measure(c, &w, &h, &how, text);
        free(text);
        sum += h + (i ? BETWEEN * size : 0);
    }
    return sum;
}

static bool all_fit(cairo_t *c, const struct drawing *d, double size, double wide, double high)
{
    size_t i = 0;

    while (i < d->plan->n && height(c, &d->plan->label[i], size, wide, d->breaks) <= high)
        i++;
    return i == d->plan->n;
}

/* One size for all labels of a file, so that they lie beside each other as a set. 0: none is large enough. */
static double largest(cairo_t *c, const struct drawing *d)
{
    double wide = d->plan->width * MM - 2 * d->edge, high = d->plan->height * MM - 2 * d->edge, size = high;

    while (size >= SIZE_LEAST && !all_fit(c, d, size, wide, high))
        size *= SIZE_STEP;
    return size >= SIZE_LEAST ? size : 0;
}

/* Lines are broken where it reads best, as long as the letters are large enough so. */
static void choose(cairo_t *c, struct drawing *d)
{
    struct drawing best = *d;

    for (int how = 0; how < BREAKS && best.size < SIZE_GOOD; how++) {
        d->breaks = (enum breaks)how;
        d->size = largest(c, d);
        if (d->size > best.size)
            best = *d;
    }
    *d = best;
}

/* The first line that a box would stand in. */
static const char *unprintable(cairo_t *c, const struct tb_label_plan *plan)
{
    for (size_t i = 0; i < plan->n; i++)
        for (size_t k = 0; k < plan->label[i].n; k++)
            if (tb_pen_lacks(c, plan->label[i].line[k]))
                return plan->label[i].line[k];
    return NULL;
}

static void draw_one(cairo_t *c, const struct drawing *d, const struct tb_label_lines *l)
{
    double wide = d->plan->width * MM - 2 * d->edge, high = d->plan->height * MM;
    const struct pen_words how = { .size = d->size };
    double y = (high - height(c, l, d->size, wide, d->breaks)) / 2;

    tb_pen_ink(c, PEN_PAPER);
    cairo_paint(c);
    cairo_set_source_rgb(c, 0, 0, 0);
    for (size_t i = 0; i < l->n; i++) {
        char *text = broken(c, l->line[i], d->size, wide, d->breaks);

        cairo_tag_begin(c, "P", NULL);
        y += tb_pen_text(c, d->edge, y, &how, text ? text : l->line[i]) + BETWEEN * d->size;
        cairo_tag_end(c, "P");
        free(text);
    }
}

static void draw(cairo_t *c, void *arg)
{
    struct drawing *d = arg;

    d->lacks = unprintable(c, d->plan);
    choose(c, d);
    for (size_t i = 0; i < d->plan->n && d->size > 0; i++) {
        draw_one(c, d, &d->plan->label[i]);
        if (d->shown)
            cairo_show_page(c);
    }
}

/* --- a picture ------------------------------------------------------------------------------------------------- */

/*
 * 11,811 dots a metre, behind the header of a PNG (ISO/IEC 15948, 11.3.5.3 pHYs; the last four bytes are its checksum): without it
 * a printer takes another size.
 */
static const unsigned char resolution[] = { 0,    0, 0, 9,    'p',  'H', 'Y',  's',  0,    0,   0x2e,
                                            0x23, 0, 0, 0x2e, 0x23, 1,   0x78, 0xa5, 0x3f, 0x76 };
#define PNG_HEADER 33 /* signature and IHDR */

static tb_rc picture(struct tb_text *out, struct drawing *d, struct tb_err *err)
{
    double scale = DOTS_AN_INCH / 72.0;
    int wide = (int)lround(d->plan->width * MM * scale), high = (int)lround(d->plan->height * MM * scale);
    cairo_surface_t *s = cairo_image_surface_create(CAIRO_FORMAT_RGB24, wide, high);
    struct tb_text png = { 0 };
    tb_rc rc;

    cairo_surface_set_device_scale(s, scale, scale);
    rc = tb_paper_draw(s, draw, d, err);
    if (rc == TB_OK && cairo_surface_write_to_png_stream(s, tb_paper_keep, &png) != CAIRO_STATUS_SUCCESS)
        rc = tb_fail(err, TB_EIO, "the drawing library failed");
    rc = tb_paper_end(s, rc, err);
    if (rc == TB_OK && png.n > PNG_HEADER) {
        tb_text_addn(out, png.s, PNG_HEADER);
        tb_text_addn(out, (const char *)resolution, sizeof resolution);
        tb_text_addn(out, png.s + PNG_HEADER, png.n - PNG_HEADER);
    }
    tb_text_free(&png);
    return rc;
}

/* --- the file -------------------------------------------------------------------------------------------------- */

static tb_rc check(const struct tb_label_plan *p, bool is_picture, struct tb_err *err)
{
    if (!(p->width >= TB_LABEL_LEAST && p->width <= TB_LABEL_MOST_MM && p->height >= TB_LABEL_LEAST &&
          p->height <= TB_LABEL_MOST_MM))
        return tb_fail(err, TB_EINVAL, "a label is %g to %g mm wide and high, not %g x %g", TB_LABEL_LEAST,
                       TB_LABEL_MOST_MM, p->width, p->height);
    if (is_picture && p->n != 1)
        return tb_fail(err, TB_EINVAL,
                       "a picture holds one label, and these are %zu: name one market, or write a PDF", p->n);
    return TB_OK;
}

static tb_rc bytes(struct tb_text *out, struct drawing *d, struct tb_err *err)
{
    const struct tb_label_plan *p = d->plan;
    struct paper how = { .width = p->width * MM, .height = p->height * MM, .language = p->language };
    struct tb_text title = { 0 };
    char now[TB_MOMENT_LEN + 1];
    tb_rc rc;

    tb_paper_now(now);
    tb_text_addf(&title, p->subject ? "%s %s" : "%s", _("Label"), p->subject);
    how.title = tb_text_str(&title);
    how.created = p->created ? p->created : now;
    rc = d->shown ? tb_paper_pdf(out, &how, draw, d, err) : picture(out, d, err);
    tb_text_free(&title);
    return rc;
}

tb_rc tb_label_write(const struct tb_label_plan *plan, struct tb_err *err)
{
    size_t n = strlen(plan->path);
    bool is_picture = n > 4 && strcmp(plan->path + n - 4, ".png") == 0;
    struct drawing d = { .plan = plan,
                         .edge = fmax(EDGE * fmin(plan->width, plan->height), 1) * MM,
                         .shown = !is_picture };
    struct tb_text file = { 0 };
    tb_rc rc = check(plan, is_picture, err);

    if (rc == TB_OK)
        rc = bytes(&file, &d, err);
    if (rc == TB_OK && d.lacks)
        rc = tb_fail(
            err, TB_EINVAL,
            "no typeface of this program has all letters of '%s'; a label with boxes in their place is "
            "not written",
            d.lacks);
    if (rc == TB_OK && d.size <= 0)
        rc = tb_fail(err, TB_EINVAL,
                     "the words do not fit on a label of %g x %g mm in letters that can be read: a larger "
                     "one is needed",
                     plan->width, plan->height);
    if (rc == TB_OK)
        rc = tb_paper_put(plan->files, plan->path, is_picture ? ".png" : ".pdf", &file, err);
    tb_text_free(&file);
    return rc;
}
