/*
 * sheet_pdf.c - PDF with text, by libpoppler-glib: every word with its place.
 *
 * The library comes with twenty others and takes milliseconds to load, so it is loaded where a PDF is read and nowhere else: in
 * the process apart, before that gives up opening files.
 */
#include "base/apart.h"
#include "base/late.h"
#include "base/paper.h"
#include "base/poppler.h"

#include "tenterbook/utf8.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <poppler.h>

#include "gen/late_drawing.h"

#define PAGES_MOST 5000
#define SPACE                                                                                                \
    0.6F /* heights of a line: a space is a quarter of one, in lines set to full width up to a half */
#define NEAR 1.5F  /* points */
#define COVERS 0.8 /* of a page: the picture of a whole page */

static struct {
    const char *(*version)(void);
    GQuark (*quark)(void);
    PopplerDocument *(*open)(int fd, const char *password, GError **err);
    int (*pages)(PopplerDocument *);
    PopplerPage *(*page)(PopplerDocument *, int);
    void (*size)(PopplerPage *, double *width, double *height);
    char *(*text)(PopplerPage *, PopplerRectangle *);
    gboolean (*layout)(PopplerPage *, PopplerRectangle *, PopplerRectangle **, guint *);
    GList *(*images)(PopplerPage *);
    void (*images_free)(GList *);
} lib;

static bool find(void *to, const char *name)
{
    return tb_late_find(to, tb_poppler_library(), name);
}

static bool load(void)
{
    return tb_poppler_library() && find(&lib.version, "poppler_get_version") &&
           find(&lib.quark, "poppler_error_quark") && find(&lib.open, "poppler_document_new_from_fd") &&
           find(&lib.pages, "poppler_document_get_n_pages") && find(&lib.page, "poppler_document_get_page") &&
           find(&lib.size, "poppler_page_get_size") && find(&lib.text, "poppler_page_get_text_for_area") &&
           find(&lib.layout, "poppler_page_get_text_layout_for_area") &&
           find(&lib.images, "poppler_page_get_image_mapping") &&
           find(&lib.images_free, "poppler_page_free_image_mapping");
}

static void before(void)
{
    (void)load();
    tb_poppler_silence();
}

const char *tb_poppler_version(void)
{
    return load() ? lib.version() : NULL;
}

/* ---- one page -------------------------------------------------------------------------------------------------- */

/* A picture that covers the page: what text stands on it, a machine has guessed. */
static bool is_picture(PopplerPage *page)
{
    GList *all = lib.images(page);
    double width, height;
    bool covers = false;

    lib.size(page, &width, &height);
    for (const GList *i = all; i; i = i->next) {
        const PopplerRectangle *r = &((const PopplerImageMapping *)i->data)->area;
        double area = (r->x2 - r->x1) * (r->y2 - r->y1);

        covers = covers || (area < 0 ? -area : area) >= COVERS * width * height;
    }
    lib.images_free(all);
    return covers;
}

static bool is_space(unsigned c)
{
    return c <= ' ' || c == 0xA0 || c == 0x3000 || (c >= 0x2000 && c <= 0x200B) || c == 0xFEFF;
}

static void widen(struct tb_paper_word *w, const PopplerRectangle *r)
{
    w->left = (float)r->x1 < w->left ? (float)r->x1 : w->left;
    w->right = (float)r->x2 > w->right ? (float)r->x2 : w->right;
    w->top = (float)r->y1 < w->top ? (float)r->y1 : w->top;
    w->bottom = (float)r->y2 > w->bottom ? (float)r->y2 : w->bottom;
}

/* Quarter turns with the clock that the lines of a page are turned by: those that most of its characters show. */
static int turns(const char *text, const PopplerRectangle *r, size_t rects)
{
    size_t n = strlen(text), votes[4] = { 0 }, at = 0, most = 0;
    bool beside = false; /* no space since the last one */

    for (size_t i = 0; at < n && i < rects; i++) {
        uint32_t c;
        size_t used = tb_utf8_next(text + at, n - at, &c);
        bool space = is_space(c);

        if (!space && beside) {
            double x = r[i].x1 + r[i].x2 - r[i - 1].x1 - r[i - 1].x2;
            double y = r[i].y1 + r[i].y2 - r[i - 1].y1 - r[i - 1].y2;

            votes[fabs(x) >= fabs(y) ? (x >= 0 ? 0 : 2) : (y >= 0 ? 1 : 3)]++;
        }
        beside = !space;
        at += used;
    }
    for (size_t i = 1; i < 4; i++)
        most = votes[i] > votes[most] ? i : most;
    return (int)most;
}

/* As the page stands when its lines run from left to right. */
static void turn_back(PopplerPage *page, int turned, PopplerRectangle *r, size_t rects)
{
    double width, height;

    lib.size(page, &width, &height);
    for (size_t i = 0; turned && i < rects; i++) {
        const PopplerRectangle of = r[i];

        if (turned == 1)
            r[i] = (PopplerRectangle){ of.y1, width - of.x2, of.y2, width - of.x1 };
        else if (turned == 2)
            r[i] = (PopplerRectangle){ width - of.x2, height - of.y2, width - of.x1, height - of.y1 };
        else
            r[i] = (PopplerRectangle){ height - of.y2, of.x1, height - of.y1, of.x2 };
    }
}

/* Words of a text whose characters have a rectangle each. Where cells touch, a character begins far from the last one. */
static void add_words(struct tb_paper *p, uint32_t page, const char *text, const PopplerRectangle *r,
                      size_t rects)
{
    size_t n = strlen(text), from = 0, at = 0;
    struct tb_paper_word w = { 0 };

    for (size_t i = 0; at < n && i < rects; i++) {
        uint32_t c;
        size_t used = tb_utf8_next(text + at, n - at, &c);
        bool space = is_space(c);

        if (at > from && (space || (float)r[i].x1 > w.right + SPACE * (w.bottom - w.top) ||
                          (float)r[i].x1 < w.left || (float)r[i].y1 > w.bottom)) {
            tb_paper_add(p, w, text + from, at - from);
            from = at;
        }
        if (space)
            from = at + used;
        else if (from == at)
            w = (struct tb_paper_word){
                (float)r[i].x1, (float)r[i].x2, (float)r[i].y1, (float)r[i].y2, page, 0, 0, false
            };
        else
            widen(&w, &r[i]);
        at += used;
    }
    if (at > from)
        tb_paper_add(p, w, text + from, at - from);
}

static tb_rc add_page(struct tb_paper *p, PopplerPage *page, uint32_t i, struct tb_err *err)
{
    PopplerRectangle all_of_it = TB_POPPLER_ALL_OF_IT;
    PopplerRectangle *r = NULL;
    guint rects = 0;
    size_t before_it = p->words;
    char *text;

    if (is_picture(page))
        return tb_fail(err, TB_EFORMAT,
                       "page %u of the PDF is a picture, as a scanner makes it, and what stands on it cannot "
                       "be read for "
                       "certain; ask for the list as XLSX, ODS or CSV, or as a PDF with text",
                       i + 1);
    text = lib.text(page, &all_of_it);
    if (text && tb_utf8_valid(text, strlen(text)) && lib.layout(page, &all_of_it, &r, &rects)) {
        turn_back(page, turns(text, r, rects), r, rects);
        add_words(p, i, text, r, rects);
    }
    g_free(r);
    g_free(text);
    if (p->words > TB_PAPER_WORDS_MOST)
        return tb_fail(err, TB_EFORMAT, "the PDF has more than %d words; split it", TB_PAPER_WORDS_MOST);
    if (p->words == before_it) {
        GList *all = lib.images(page);
        bool pictures = all != NULL;

        lib.images_free(all);
        if (pictures)
            return tb_fail(
                err, TB_EFORMAT,
                "page %u of the PDF holds pictures and no text; ask for the list as XLSX, ODS or CSV, or as "
                "a PDF with text",
                i + 1);
    }
    return TB_OK;
}

/* ---- the document ---------------------------------------------------------------------------------------------- */

static tb_rc add_pages(struct tb_paper *p, PopplerDocument *d, struct tb_err *err)
{
    int n = lib.pages(d);
    tb_rc rc = TB_OK;

    if (n > PAGES_MOST)
        return tb_fail(err, TB_EFORMAT, "the PDF has more than %d pages; split it", PAGES_MOST);
    for (int i = 0; rc == TB_OK && i < n; i++) {
        PopplerPage *page = lib.page(d, i);

        if (!page)
            return tb_fail(
                err, TB_EFORMAT,
                "page %d of the PDF is damaged; ask for it once more, or for the list as XLSX, ODS or CSV",
                i + 1);
        rc = add_page(p, page, (uint32_t)i, err);
        g_object_unref(page);
    }
    if (rc == TB_OK && p->words == 0)
        rc = tb_fail(err, TB_EFORMAT,
                     "the PDF holds no text: what stands in it is drawn; ask for the list as XLSX, ODS or "
                     "CSV, or as a "
                     "PDF with text");
    return rc;
}

static tb_rc not_opened(GError *why, struct tb_err *err)
{
    bool locked = why && why->domain == lib.quark() && why->code == POPPLER_ERROR_ENCRYPTED;

    (void)tb_fail(
        err, TB_EFORMAT,
        locked ? "the PDF is locked with a password; ask for one without, or for the list as XLSX, ODS or CSV"
               : "the PDF is damaged and cannot be read; was it cut short? Ask for it once more, or for the "
                 "list as XLSX, ODS or CSV");
    if (why)
        tb_detail(err, "poppler: %s", why->message);
    g_clear_error(&why);
    return TB_EFORMAT;
}

static tb_rc read_words(struct tb_paper *p, int fd, struct tb_err *err)
{
    GError *why = NULL;
    PopplerDocument *d = fd < 0 ? NULL : lib.open(fd, NULL, &why);
    tb_rc rc = d ? add_pages(p, d, err) : not_opened(why, err);

    if (d)
        g_object_unref(d);
    return rc;
}

static tb_rc pdf_read(FILE *f, const struct tb_sheet_sink *sink, struct tb_err *err)
{
    struct tb_paper p = { .space = SPACE, .near = NEAR };
    tb_rc rc;

    if (!load())
        return tb_fail(
            err, TB_EIO,
            "PDF cannot be read here: the library %s is missing, which the Debian package libpoppler-glib8 "
            "brings",
            TB_POPPLER_LIBRARY);
    rc = read_words(&p, dup(fileno(f)), err);
    if (rc == TB_EFORMAT)
        (void)tb_about(err, rc, "by-hand"); /* where lists can be typed, that is the other way out */
    if (rc == TB_OK)
        rc = tb_paper_rows(&p, false, sink, err);
    tb_paper_free(&p);
    return rc;
}

const struct tb_foreign tb_foreign_pdf = { .read = pdf_read, .before = before };
