/* page.c - the flow of a document over its pages. */
#include "report/draw/page.h"
#include "report/draw/qr.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define BODY(p) ((p)->close ? 8.8 : 9.5)
#define APART(p) ((p)->close ? 2.0 : 4.0) /* between blocks */
#define TABLE 8.5
#define CELL_PAD 3.0

const char *tb_page_say(struct tb_text *t, const char *fmt, ...)
{
    va_list ap;

    tb_text_clear(t);
    va_start(ap, fmt);
    tb_text_vaddf(t, fmt, ap);
    va_end(ap);
    return tb_text_str(t);
}

/* Tags are for readers that read aloud and for programs that take the words out again (ISO 32000-1, 14.8). */
static void tag(struct page *p, const char *name)
{
    if (p->tagged)
        cairo_tag_begin(p->c, name, NULL);
}

static void untag(struct page *p, const char *name)
{
    if (p->tagged)
        cairo_tag_end(p->c, name);
}

/* The number of pages is not known on the first drawing, which only counts them. */
static void foot(struct page *p)
{
    const struct pen_words left = { .size = 7, .width = PAGE_ROOM - 70, .lines = 1 },
                           right = { .size = 7, .at = PEN_RIGHT };
    double y = PAGE_HEIGHT - PAGE_BOTTOM + 22;
    char number[48];

    (void)snprintf(number, sizeof number, "%d / %d", p->number, p->total);
    tb_pen_ink(p->c, PEN_THREAD);
    tb_pen_line(p->c, PAGE_LEFT, y - 5, PAGE_WIDTH - PAGE_RIGHT, y - 5, 0.6);
    tb_pen_ink(p->c, PEN_FADED);
    (void)tb_pen_text(p->c, PAGE_LEFT, y, &left, p->foot);
    (void)tb_pen_text(p->c, PAGE_WIDTH - PAGE_RIGHT, y, &right, number);
}

void tb_page_begin(struct page *p)
{
    p->number++;
    p->y = PAGE_TOP;
}

void tb_page_end(struct page *p)
{
    foot(p);
    cairo_show_page(p->c);
}

static void draw_heading(struct page *p, const char *text);
static double heading_height(struct page *p, const char *text);

/* A heading waits for what stands below it: on a new page too it comes first. */
void tb_page_need(struct page *p, double h)
{
    const char *heading = p->heading;

    p->heading = NULL;
    if (p->y + h + (heading ? heading_height(p, heading) : 0) > PAGE_HEIGHT - PAGE_BOTTOM) {
        tb_page_end(p);
        tb_page_begin(p);
    }
    if (heading)
        draw_heading(p, heading);
}

void tb_page_gap(struct page *p, double h)
{
    p->y += h;
}

static double height_of(struct page *p, const struct pen_words *how, const char *text)
{
    double w, h;

    tb_pen_measure(p->c, &w, &h, how, text);
    return h;
}

/* A block of words that may not be torn: moved to the next page when it does not fit. */
static void block(struct page *p, const char *name, double indent, const struct pen_words *how,
                  enum pen_ink ink, const char *text, double keep)
{
    double h = height_of(p, how, text);

    tb_page_need(p, fmin(h + keep, PAGE_HEIGHT - PAGE_TOP - PAGE_BOTTOM));
    tag(p, name);
    tb_pen_ink(p->c, ink);
    p->y += tb_pen_text(p->c, PAGE_LEFT + indent, p->y, how, text);
    untag(p, name);
}

/* Some room is asked for below: a title does not stand alone at the foot. */
void tb_page_title(struct page *p, const char *text)
{
    const struct pen_words how = { .size = 18, .bold = true, .width = PAGE_ROOM };

    block(p, "H1", 0, &how, PEN_MADDER, text, 60);
    p->y += 4;
}

#define ABOVE_HEADING 13.0
#define BELOW_NOTE 96.0 /* the heading of a table and two rows of it, as a rule */
static const struct pen_words heading_words = { .size = 11.5, .bold = true, .width = PAGE_ROOM };

static double heading_height(struct page *p, const char *text)
{
    return ABOVE_HEADING + height_of(p, &heading_words, text) + 6;
}

static void draw_heading(struct page *p, const char *text)
{
    p->y += p->y > PAGE_TOP ? ABOVE_HEADING : 0;
    block(p, "H2", 0, &heading_words, PEN_INK, text, 0);
    tb_pen_ink(p->c, PEN_MADDER);
    tb_pen_line(p->c, PAGE_LEFT, p->y + 1.5, PAGE_WIDTH - PAGE_RIGHT, p->y + 1.5, 1.1);
    p->y += 6;
}

void tb_page_heading(struct page *p, const char *text)
{
    p->heading = text;
}

void tb_page_text(struct page *p, const char *text)
{
    const struct pen_words how = { .size = BODY(p), .width = PAGE_ROOM };

    block(p, "P", 0, &how, PEN_INK, text, 0);
    p->y += APART(p);
}

void tb_page_small(struct page *p, const char *text)
{
    const struct pen_words how = { .size = 7.5, .width = PAGE_ROOM };

    block(p, "P", 0, &how, PEN_FADED, text, p->heading ? BELOW_NOTE : 0);
    p->y += 3;
}

/* The bar is as high as the words, so the room is asked for before either is drawn. */
void tb_page_quote(struct page *p, const char *text)
{
    const struct pen_words how = { .size = BODY(p) + 1, .italic = true, .width = PAGE_ROOM - 14 };
    double h = height_of(p, &how, text);

    tb_page_need(p, h);
    tb_pen_ink(p->c, PEN_THREAD);
    tb_pen_line(p->c, PAGE_LEFT + 4, p->y, PAGE_LEFT + 4, p->y + h, 2.5);
    block(p, "P", 14, &how, PEN_INK, text, 0);
    p->y += APART(p) + 1;
}

/* Label and value may both take several lines; the pair takes the height of the higher. */
void tb_page_pair(struct page *p, const char *label, const char *value)
{
    const struct pen_words left = { .size = BODY(p), .width = 130 },
                           right = { .size = BODY(p), .width = PAGE_ROOM - 138 };
    double h;

    if (!value || !*value)
        return;
    h = fmax(height_of(p, &left, label), height_of(p, &right, value));
    tb_page_need(p, h);
    tag(p, "P");
    tb_pen_ink(p->c, PEN_FADED);
    (void)tb_pen_text(p->c, PAGE_LEFT, p->y, &left, label);
    tb_pen_ink(p->c, PEN_INK);
    (void)tb_pen_text(p->c, PAGE_LEFT + 138, p->y, &right, value);
    untag(p, "P");
    p->y += h + 1.5;
}

void tb_page_beside(struct page *p, const char *left, const char *right)
{
    const struct pen_words big = { .size = BODY(p), .width = PAGE_ROOM / 2 },
                           small = { .size = BODY(p) - 1.5, .width = PAGE_ROOM / 2 - 12 };
    double h = fmax(height_of(p, &big, left), height_of(p, &small, right));

    tb_page_need(p, h);
    tag(p, "P");
    tb_pen_ink(p->c, PEN_INK);
    (void)tb_pen_text(p->c, PAGE_LEFT, p->y, &big, left);
    untag(p, "P");
    tag(p, "P");
    tb_pen_ink(p->c, PEN_FADED);
    (void)tb_pen_text(p->c, PAGE_LEFT + PAGE_ROOM / 2 + 12, p->y, &small, right);
    untag(p, "P");
    p->y += h + APART(p);
}

void tb_page_subject(struct page *p, const char *text)
{
    const struct pen_words how = { .size = 13, .bold = true, .width = PAGE_ROOM };

    p->y += 4;
    block(p, "H1", 0, &how, PEN_MADDER, text, 60);
    p->y += 4;
}

void tb_page_lead(struct page *p, const char *text)
{
    const struct pen_words how = { .size = BODY(p), .bold = true, .width = PAGE_ROOM };

    p->y += APART(p) + 1;
    block(p, "H2", 0, &how, PEN_INK, text, 30);
    p->y += 2;
}

#define SIGN_ROOM 30.0  /* above the line */
#define SIGN_LINE 190.0 /* long */

/* Words of the signature and the code stand side by side, the higher of them below which the page goes on. */
void tb_page_sign(struct page *p, const char *closing, const char *whose, const char *anchor)
{
    const struct pen_words how = { .size = BODY(p), .width = PAGE_ROOM - TB_QR_ANCHOR - 8 };
    double h = height_of(p, &how, closing) + SIGN_ROOM + 2 + height_of(p, &how, whose), y;

    tb_page_need(p, fmax(h, TB_QR_ANCHOR));
    y = p->y;
    if (*anchor)
        p->uncoded =
            p->uncoded || !tb_qr(p->c, PAGE_WIDTH - PAGE_RIGHT - TB_QR_ANCHOR, y, TB_QR_ANCHOR, anchor);
    block(p, "P", 0, &how, PEN_INK, closing, 0);
    p->y += SIGN_ROOM;
    tb_pen_line(p->c, PAGE_LEFT, p->y, PAGE_LEFT + SIGN_LINE, p->y, 0.6);
    p->y += 2;
    block(p, "P", 0, &how, PEN_INK, whose, 0);
    p->y = y + fmax(h, *anchor ? TB_QR_ANCHOR : 0) + 4;
}

void tb_page_label(struct page *p, double x, double y, const struct pen_words *how, const char *text)
{
    tag(p, "P");
    tb_pen_ink(p->c, PEN_FADED);
    (void)tb_pen_text(p->c, x, y, how, text);
    untag(p, "P");
}

/* Code and words together, or on the next page. */
void tb_page_anchor(struct page *p, const char *anchor)
{
    const struct pen_words how = { .size = 8, .width = PAGE_ROOM - TB_QR_ANCHOR - 8 };
    const char *words = tb_tr(p->tongue, TB_ANCHOR_WORDS);
    double y;

    if (!*anchor)
        return;
    tb_page_need(p, TB_QR_ANCHOR);
    y = p->y + fmax(0, (TB_QR_ANCHOR - height_of(p, &how, words)) / 2);
    p->uncoded = p->uncoded || !tb_qr(p->c, PAGE_LEFT, p->y, TB_QR_ANCHOR, anchor);
    tag(p, "P");
    tb_pen_ink(p->c, PEN_FADED);
    (void)tb_pen_text(p->c, PAGE_LEFT + TB_QR_ANCHOR + 8, y, &how, words);
    untag(p, "P");
    p->y += TB_QR_ANCHOR;
}

tb_rc tb_page_coded(const struct page *p, struct tb_err *err)
{
    return p->uncoded ? tb_fail(err, TB_EIO, "a QR code cannot be made") : TB_OK;
}

/* --- tables --------------------------------------------------------------------------------------------------- */

/* Figures stand right, so that their digits stand below each other. */
static struct pen_words cell_words(const struct page_column *c, bool heading)
{
    return (struct pen_words){ .size = TABLE,
                               .bold = heading,
                               .mono = c->mono && !heading,
                               .at = c->right ? PEN_RIGHT : PEN_LEFT,
                               .width = c->share * PAGE_ROOM - 2 * CELL_PAD };
}

/* The text of a cell; without cells that of the heading. */
static const char *cell_text(const struct page *p, const char *const *cell, size_t i)
{
    return cell ? cell[i] : tb_tr(p->tongue, p->column[i].heading);
}

/* All cells of a row are as high as the highest of them. */
static double row_height(struct page *p, const char *const *cell)
{
    double h = 0;

    for (size_t i = 0; i < p->columns; i++) {
        struct pen_words how = cell_words(&p->column[i], !cell);

        h = fmax(h, height_of(p, &how, cell_text(p, cell, i)));
    }
    return h;
}

/* A row without cells is the heading: its rule below is heavier. */
static void draw_row(struct page *p, const char *const *cell, double h)
{
    double x = PAGE_LEFT;

    tag(p, "TR");
    for (size_t i = 0; i < p->columns; i++) {
        struct pen_words how = cell_words(&p->column[i], !cell);
        double w = p->column[i].share * PAGE_ROOM;

        tag(p, cell ? "TD" : "TH");
        tb_pen_ink(p->c, PEN_INK);
        (void)tb_pen_text(p->c, how.at == PEN_RIGHT ? x + w - CELL_PAD : x + CELL_PAD, p->y + 1.5, &how,
                          cell_text(p, cell, i));
        untag(p, cell ? "TD" : "TH");
        x += w;
    }
    untag(p, "TR");
    p->y += h + 3;
    tb_pen_ink(p->c, cell ? PEN_THREAD : PEN_INK);
    tb_pen_line(p->c, PAGE_LEFT, p->y, PAGE_WIDTH - PAGE_RIGHT, p->y, cell ? 0.4 : 0.8);
}

#define PAGE_HIGH (PAGE_HEIGHT - PAGE_TOP - PAGE_BOTTOM)

static double ahead_height(struct page *p, size_t i)
{
    return i < p->aheads ? row_height(p, (const char *const *)p->ahead[i]) + 3 : 0;
}

static bool fits(const struct page *p, double h)
{
    return p->y + h <= PAGE_HEIGHT - PAGE_BOTTOM;
}

/* With the rows that have to stand below it: two, or all three of a table of three. */
static void begin_on_page(struct page *p, bool ended)
{
    double h = row_height(p, NULL), below = 0;

    for (size_t i = 0; i < p->aheads && (i < 2 || ended); i++)
        below += ahead_height(p, i);
    tb_page_need(p, fmin(h + 3 + below, PAGE_HIGH));
    tag(p, "Table");
    tb_pen_ink(p->c, PEN_CLOTH);
    cairo_rectangle(p->c, PAGE_LEFT, p->y, PAGE_ROOM, h + 3);
    cairo_fill(p->c);
    draw_row(p, NULL, h);
    p->begun = true;
}

/* The table is ended and begun again across pages, since a tagged table cannot go on over two of them. */
static void end_on_page(struct page *p)
{
    if (p->begun)
        untag(p, "Table");
    p->begun = false;
}

/* Whether the first row that waits goes on a new page: it has no room, or is the last but one and the last has none. */
static bool goes_over(struct page *p, bool ended)
{
    double h = ahead_height(p, 0);

    if (!fits(p, h))
        return true;
    return ended && p->aheads == 2 && !fits(p, h + ahead_height(p, 1)) &&
           h + ahead_height(p, 1) + row_height(p, NULL) + 3 <= PAGE_HIGH;
}

/* The first row that waits. */
static void draw_ahead(struct page *p, bool ended)
{
    char **cell = p->ahead[0];

    if (p->begun && goes_over(p, ended)) {
        end_on_page(p);
        tb_page_need(p, PAGE_HEIGHT);
    }
    if (!p->begun)
        begin_on_page(p, ended);
    draw_row(p, (const char *const *)cell, row_height(p, (const char *const *)cell));
    p->aheads--;
    memmove(p->ahead, p->ahead + 1, p->aheads * sizeof *p->ahead);
    for (size_t i = 0; i < p->columns; i++)
        free(cell[i]);
    free(cell);
}

void tb_page_table_begin(struct page *p, const struct page_column *column, size_t n)
{
    p->column = column;
    p->columns = n;
    p->aheads = 0;
    p->begun = false;
}

void tb_page_row(struct page *p, const char *const *cell)
{
    char **row = tb_array(char *, p->columns);

    for (size_t i = 0; i < p->columns; i++)
        row[i] = tb_strdup(cell[i] ? cell[i] : "");
    if (p->aheads == PAGE_ROWS_AHEAD)
        draw_ahead(p, false);
    p->ahead[p->aheads++] = row;
}

void tb_page_table_end(struct page *p)
{
    if (!p->aheads && !p->begun)
        begin_on_page(p, true);
    while (p->aheads)
        draw_ahead(p, true);
    end_on_page(p);
    p->y += 6;
}
