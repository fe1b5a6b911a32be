/* tags.c - sheets of swatch tags. */
#include "tenterbook/tags.h"
#include "base/say.h"

#include "report/draw/code128.h"
#include "report/draw/paper.h"
#include "report/draw/pen.h"
#include "report/draw/qr.h"
#include "tenterbook/date.h"

#include <math.h>
#include <string.h>

#define MM (72 / 25.4)
#define MODULE_LEAST (0.19 * MM) /* thinner bars do not survive an office printer */
#define MODULE_MOST (0.5 * MM)   /* wider ones only take room */
#define QUIET 10                 /* modules left white beside a bar code */
#define SHEET_DOTS                                                                                           \
    300.0 /* an inch: office printers have so many or a multiple (common practice, no source) */
#define ROLL_DOTS                                                                                            \
    203.0 /* eight a millimetre, the coarse ones of printers of labels (common practice, no source) */
#define QR_LEAST (10.5 * MM) /* a smaller code is not read at 203 dots an inch */
#define GRACE 0.01           /* millimetres: stock is described in rounded measures */

void tb_tag_sheet_usual(struct tb_tag_sheet *out)
{
    *out = (struct tb_tag_sheet){ 210, 297, 70, 37, 0, 0.5, 0, 0, 0, SHEET_DOTS };
}

void tb_tag_sheet_roll(struct tb_tag_sheet *out, double width, double height)
{
    *out = (struct tb_tag_sheet){ width, height, width, height, 0, 0, 0, 0, 0, ROLL_DOTS };
}

/* A hundredth of a millimetre of grace: stock is described in rounded measures. */
static long fit(double room, double size, double gap)
{
    return (long)floor((room + gap + GRACE) / (size + gap));
}

/* What is out of range is refused with its measures, since they are typed from a packet of labels. */
tb_rc tb_tag_sheet_holds(long *out, const struct tb_tag_sheet *s, struct tb_err *err)
{
    long across, down;

    if (!(s->page_width >= 25 && s->page_width <= 500 && s->page_height >= 15 && s->page_height <= 500))
        return tb_fail(err, TB_EINVAL, "a page is 25 to 500 mm wide and 15 to 500 mm high, not %g x %g",
                       s->page_width, s->page_height);
    if (!(s->label_width >= 25 && s->label_height >= 15))
        return tb_fail(err, TB_EINVAL, "a label is at least 25 x 15 mm, not %g x %g", s->label_width,
                       s->label_height);
    if (!(s->left >= 0 && s->top >= 0 && s->gap_x >= 0 && s->gap_y >= 0))
        return tb_fail(err, TB_EINVAL, "a margin or a gap is not below 0");
    if (s->dots > 0 && !(s->dots >= TB_TAG_DOTS_LEAST && s->dots <= TB_TAG_DOTS_MOST))
        return tb_fail(err, TB_EINVAL, "a printer has %g to %g dots an inch, not %g", TB_TAG_DOTS_LEAST,
                       TB_TAG_DOTS_MOST, s->dots);
    across = fit(s->page_width - s->left, s->label_width, s->gap_x);
    down = fit(s->page_height - s->top, s->label_height, s->gap_y);
    if (across < 1 || down < 1)
        return tb_fail(err, TB_EINVAL, "no label of %g x %g mm fits on a page of %g x %g mm", s->label_width,
                       s->label_height, s->page_width, s->page_height);
    *out = across * down;
    if (s->skip < 0 || s->skip >= *out)
        return tb_fail(err, TB_EINVAL, "a page holds %ld labels: %ld cannot be gone already", *out, s->skip);
    return TB_OK;
}

/* Black and nothing near it: printers of labels set grey as scattered dots. */
static void ink(cairo_t *c)
{
    cairo_set_source_rgb(c, 0, 0, 0);
}

/* Down to half, so that a number is not cut off. */
static void shrink_to_fit(cairo_t *c, struct pen_words *how, double width, const char *text)
{
    const double least = how->size / 2;
    struct pen_words whole = *how;
    double wide, high;

    whole.width = 0;
    for (;;) {
        tb_pen_measure(c, &wide, &high, &whole, text);
        if (wide <= width || whole.size * 0.96 < least)
            break;
        whole.size *= 0.96;
    }
    how->size = whole.size;
}

/* --- one tag -------------------------------------------------------------------------------------------------- */

struct bars {
    unsigned char run[TB_CODE128_RUNS];
    size_t n, modules;
    double dot, module; /* points */
};

/*
 * A module is a whole number of the printer's dots, or one bar of two that should be alike comes out wider. False: the label is too
 * narrow for bars a scanner can read, and the QR code, which says the same, stands alone.
 */
static bool plan_bars(struct bars *b, const char *text, double width, double dots)
{
    if (!tb_code128(b->run, &b->n, &b->modules, text))
        return false;
    b->dot = 72 / (dots > 0 ? dots : SHEET_DOTS);
    b->module = floor(fmin(width / (double)(b->modules + 2 * QUIET), MODULE_MOST) / b->dot + 0.01) * b->dot;
    return b->module >= MODULE_LEAST;
}

/*
 * The first edge lies on a dot of the page, and so does each that follows, but for a tenth of a dot within: whether a printer sets each dot
 * that is touched or each whose middle is covered, the bars come out the same.
 */
static void draw_bars(cairo_t *c, double x, double y, double width, double height, const struct bars *b)
{
    x = round((x + (width - b->module * (double)b->modules) / 2) / b->dot) * b->dot;
    for (size_t i = 0; i < b->n; x += b->module * b->run[i++])
        if (i % 2 == 0)
            cairo_rectangle(c, x + 0.1 * b->dot, y, b->module * b->run[i] - 0.2 * b->dot, height);
    ink(c);
    cairo_fill(c);
}

/* Warp runs up and down the cloth, weft across: a double arrow says how the threads of the swatch lie. */
static double draw_arrow(cairo_t *c, double x, double y, double size, enum tb_part_kind part)
{
    bool warp = part == TB_PART_WARP;
    double half = size / 2, head = size * 0.28;

    if (!warp && part != TB_PART_WEFT)
        return 0;
    cairo_save(c);
    cairo_translate(c, x + half, y + half);
    if (!warp)
        cairo_rotate(c, M_PI / 2);
    ink(c);
    tb_pen_line(c, 0, -half, 0, half, size * 0.11);
    for (int end = -1; end <= 1; end += 2) {
        cairo_move_to(c, -head, end * (half - head));
        cairo_line_to(c, 0, end * half);
        cairo_line_to(c, head, end * (half - head));
    }
    cairo_set_line_width(c, size * 0.11);
    cairo_stroke(c);
    cairo_restore(c);
    return size + 2;
}

/* A burnt swatch crumbles and its residue may be sharp: a filled triangle, and words. */
static void draw_caution(cairo_t *c, double x, double y, double size, double width, const char *day)
{
    struct pen_words mark = { .size = size * 0.7, .bold = true, .at = PEN_CENTRE },
                     words = { .size = size * 0.62, .bold = true, .width = width - size - 3, .lines = 1 };
    struct tb_text t = { 0 };

    ink(c);
    cairo_move_to(c, x + size / 2, y);
    cairo_line_to(c, x + size, y + size * 0.9);
    cairo_line_to(c, x, y + size * 0.9);
    cairo_close_path(c);
    cairo_fill(c);
    tb_pen_ink(c, PEN_PAPER);
    (void)tb_pen_text(c, x + size / 2, y + size * 0.06, &mark, "!");
    ink(c);
    tb_text_addf(&t, _("burnt %s"), day);
    (void)tb_pen_text(c, x + size + 3, y + size * 0.1, &words, tb_text_str(&t));
    tb_text_free(&t);
}

/* Whoever stands before the bolt reads it from some metres, and on a photocopy: dark ground against a frame. */
static double draw_standing(cairo_t *c, double x, double y, double w, double h, const struct tb_tag *t)
{
    struct pen_words large = { .size = h, .bold = true, .at = PEN_CENTRE },
                     day = { .size = h * 0.28, .at = PEN_RIGHT };
    double wide, high, room, below = 0;

    tb_pen_measure(c, &wide, &high, &day, t->stood);
    room = w - wide - 8;
    if (room < w / 2) { /* on a narrow label the day stands below the word */
        below = h * 0.3;
        day = (struct pen_words){ .size = h * 0.22, .at = PEN_CENTRE };
        room = w - 6;
    }
    do {
        tb_pen_measure(c, &wide, &high, &large, t->stands);
    } while ((wide > room || high > h - below * 0.8) && (large.size *= 0.95) > 3);
    ink(c);
    if (t->stop) {
        cairo_rectangle(c, x, y, w, h);
        cairo_fill(c);
        tb_pen_ink(c, PEN_PAPER);
    } else {
        tb_pen_box(c, x + 0.5, y + 0.5, w - 1, h - 1, 1);
    }
    (void)tb_pen_text(c, x + 3 + room / 2, y + (h - below - high) / 2, &large, t->stands);
    (void)tb_pen_text(c, below > 0 ? x + w / 2 : x + w - 2, y + h - day.size * 1.4, &day, t->stood);
    return h + 1;
}

/* A bolt tells its number and length, a swatch its part and bolt; a bolt has the room of the line for the day of the cut besides. */
static double draw_goods(cairo_t *c, double x, double y, double w, double size, const struct tb_tag *t)
{
    double arrow = t->cut ? draw_arrow(c, x, y + size * 0.1, size, t->part) : 0;
    struct pen_words line = { .size = size, .width = w - arrow, .lines = t->cut ? 1 : 2 };
    struct tb_text text = { 0 };

    if (!t->cut)
        tb_text_addf(&text, _("bolt %s"), t->bolt);
    else
        tb_text_addf(&text, t->bolt[0] ? _("%s of bolt %s") : "%s", tb_part_key(t->part), t->bolt);
    y = tb_pen_text(c, x + arrow, y, &line, tb_text_str(&text));
    tb_text_free(&text);
    return y;
}

/* Sizes follow the room: eight lines would fit, five are needed. */
static void draw_words(cairo_t *c, double x, double y, double w, double h, double size,
                       const struct tb_tag *t)
{
    double at = y;
    struct pen_words number = { .size = size * 1.25, .bold = true, .mono = true, .width = w, .lines = 1 },
                     line = { .size = size, .width = w, .lines = 1 },
                     words = { .size = size, .width = w, .lines = h > 10 * size ? 4 : 2 };
    struct tb_text text = { 0 };

    ink(c);
    shrink_to_fit(c, &number, w, t->number);
    at += tb_pen_text(c, x, at, &number, t->number) + 0.5;
    at += draw_goods(c, x, at, w, size, t);
    at += tb_pen_text(c, x, at, &words, t->declared);
    if (t->cut) {
        tb_text_addf(&text, _("cut %s"), t->cut);
        at += tb_pen_text(c, x, at, &line, tb_text_str(&text)) + 0.5;
    }
    if (t->burnt)
        draw_caution(c, x, at, size * 1.15, w, t->burnt);
    tb_text_free(&text);
}

/* A label that lies: code left, words right, how the goods stand above them, where it takes a third of the height. */
static bool draw_lying(cairo_t *c, double x, double y, double w, double h, const struct tb_tag *t)
{
    const double pad = 2 * MM, qr = fmin(h, fmax(w * 0.32, QR_LEAST)), words = w - 2 * pad - qr - pad / 2;
    double stands = t->stands ? h * 0.34 : 0;

    if (!tb_qr(c, x + pad / 2, y - pad / 2, qr + pad / 2, t->number))
        return false;
    x += pad + qr + pad / 2;
    if (t->stands)
        stands = draw_standing(c, x, y, words, stands, t);
    draw_words(c, x, y + stands, words, h - stands, fmin(h / (t->stands ? 9.4 : 8), 9), t);
    return true;
}

/* One about as high as wide: how the goods stand over the whole width, the rest below it as on one that lies. */
static bool draw_square(cairo_t *c, double x, double y, double w, double h, const struct tb_tag *t)
{
    const double pad = 2 * MM;
    struct tb_tag rest = *t;
    double stands = 0;

    if (t->stands)
        stands = draw_standing(c, x + pad, y, w - 2 * pad, h * 0.26, t) + pad;
    rest.stands = NULL;
    return draw_lying(c, x, y + stands, w, fmin(h - stands, w * 0.55), &rest);
}

/* One that stands, as labels of a roll do that are longer than wide: all below each other, and how the goods stand over the whole width. */
static bool draw_upright(cairo_t *c, double x, double y, double w, double h, const struct tb_tag *t)
{
    const double pad = 2 * MM, wide = w - 2 * pad;
    double stands = t->stands ? draw_standing(c, x + pad, y, wide, fmin(h * 0.24, wide * 0.4), t) + 2 : 0;
    double left = h - stands, qr = fmin(wide, left * 0.45);

    y += stands;
    if (!tb_qr(c, x + (w - qr) / 2, y, qr, t->number))
        return false;
    left -= qr + 2;
    draw_words(c, x + pad, y + qr + 2, wide, left, fmin(fmin(left / 8.6, 9), t->cut ? wide / 12 : 9), t);
    return true;
}

/* Bars along the foot, where a scanner finds them on a hanging tag; without bars the words have their room. */
static bool draw_tag(cairo_t *c, double x, double y, const struct tb_tag_sheet *s, const struct tb_tag *t)
{
    const double pad = 2 * MM, w = s->label_width * MM, h = s->label_height * MM;
    struct bars b = { 0 };
    bool barred = plan_bars(&b, t->number, w, s->dots);
    double bars = barred ? fmin(h * 0.24, 9 * MM) : 0, upper = h - 2 * pad - bars;

    if (!(upper > w * 1.2                 ? draw_upright
          : t->stands && upper > w * 0.66 ? draw_square
                                          : draw_lying)(c, x, y + pad, w, upper, t))
        return false;
    if (barred)
        draw_bars(c, x, y + h - pad * 0.8 - bars, w, bars - 1, &b);
    return true;
}

/* --- the anchor ------------------------------------------------------------------------------------------------- */

#define WORDS_LEAST (24 * MM) /* narrower, and the code stands alone */

/* A label of its own: on one with a swatch's number a scanner would find two codes, and the number is what it looks for. */
static bool draw_anchor(cairo_t *c, double x, double y, double w, double h, const char *anchor)
{
    const double pad = 2 * MM, side = fmin(h - pad, fmax(TB_QR_ANCHOR, w * 0.48)), left = w - side - 2 * pad;
    struct pen_words heading = { .size = 8, .bold = true, .width = left, .lines = 1 },
                     words = { .size = 5.5, .width = left, .lines = 12 };

    if (!tb_qr(c, x + pad / 2, y + (h - side) / 2, side, anchor))
        return false;
    if (left < WORDS_LEAST)
        return true;
    ink(c);
    x += side + pad;
    y += pad;
    y += tb_pen_text(c, x, y, &heading, _("Anchor of the book")) + 1;
    (void)tb_pen_text(c, x, y, &words, _(TB_ANCHOR_WORDS));
    return true;
}

static tb_rc anchor_fits(const struct tb_tag_sheet *s, struct tb_err *err)
{
    const double least = TB_QR_ANCHOR / MM + 2;

    return s->label_width >= least && s->label_height >= least
               ? TB_OK
               : tb_fail(err, TB_EINVAL,
                         "a label of %g x %g mm has no room for the anchor, which takes %.0f mm each way",
                         s->label_width, s->label_height, ceil(least));
}

/* --- sheets --------------------------------------------------------------------------------------------------- */

/* Before a file is begun: a sheet with a tag nobody can scan is worse than none. */
static tb_rc check(const struct tb_tag *tag, size_t n, struct tb_err *err)
{
    unsigned char run[TB_CODE128_RUNS];
    size_t runs, modules;

    if (n == 0)
        return tb_fail(err, TB_EINVAL, "there is no swatch to print a tag for");
    for (size_t i = 0; i < n; i++)
        if (!tb_code128(run, &runs, &modules, tag[i].number))
            return tb_fail(err, TB_EINVAL, "no code can carry the number '%s'", tag[i].number);
    return TB_OK;
}

struct sheets {
    const struct tb_tag *tag;
    size_t n;
    const struct tb_tag_sheet *sheet;
    const char *anchor; /* NULL: none is printed */
    long holds;
    bool good; /* every code could be made */
};

static bool draw_label(cairo_t *c, const struct sheets *a, size_t i, double x, double y)
{
    double w = a->sheet->label_width * MM, h = a->sheet->label_height * MM;

    return i < a->n ? draw_tag(c, x, y, a->sheet, &a->tag[i]) : draw_anchor(c, x, y, w, h, a->anchor);
}

/* Labels fill rows from the upper left; those that are gone are skipped on the first page only. The anchor comes last. */
static void draw_sheets(cairo_t *c, void *arg)
{
    struct sheets *a = arg;
    const struct tb_tag_sheet *s = a->sheet;
    long across = fit(s->page_width - s->left, s->label_width, s->gap_x), at = s->skip, column, row;

    for (size_t i = 0; i < a->n + (a->anchor != NULL) && a->good; i++, at++) {
        if (at == a->holds) {
            cairo_show_page(c);
            at = 0;
        }
        column = at % across;
        row = at / across;
        cairo_tag_begin(c, "P", NULL);
        a->good = draw_label(c, a, i, (s->left + (double)column * (s->label_width + s->gap_x)) * MM,
                             (s->top + (double)row * (s->label_height + s->gap_y)) * MM);
        cairo_tag_end(c, "P");
    }
    cairo_show_page(c);
}

/* "Swatch tags W26-014.02.03 to W26-014.02.05" among the properties. */
static void name_sheets(struct tb_text *out, const struct tb_tag *tag, size_t n)
{
    const char *what = tag->cut ? _("Swatch tags") : _("Bolt labels");

    if (n == 1)
        tb_text_addf(out, "%s %s", what, tag->number);
    else
        tb_text_addf(out, _("%s %s to %s"), what, tag->number, tag[n - 1].number);
}

tb_rc tb_tags_write(struct tb_outset *files, const char *path, const struct tb_tag *tag, size_t n,
                    const struct tb_tag_sheet *sheet, const char *anchor, const char *created,
                    struct tb_err *err)
{
    struct sheets a = { tag, n, sheet, anchor, 0, true };
    struct paper how = { 0 };
    struct tb_text pdf = { 0 }, title = { 0 };
    char now[TB_MOMENT_LEN + 1];
    tb_rc rc;

    if ((rc = tb_tag_sheet_holds(&a.holds, sheet, err)) != TB_OK || (rc = check(tag, n, err)) != TB_OK ||
        (anchor && (rc = anchor_fits(sheet, err)) != TB_OK))
        return rc;
    tb_paper_now(now);
    name_sheets(&title, tag, n);
    how.title = tb_text_str(&title);
    how.width = sheet->page_width * MM;
    how.height = sheet->page_height * MM;
    how.created = created ? created : now;
    rc = tb_paper_pdf(&pdf, &how, draw_sheets, &a, err);
    if (rc == TB_OK && !a.good)
        rc = tb_fail(err, TB_EIO, "a QR code cannot be made");
    rc = rc == TB_OK ? tb_paper_put(files, path, ".pdf", &pdf, err) : tb_within(err, rc, "%s", path);
    tb_text_free(&pdf);
    tb_text_free(&title);
    return rc;
}
