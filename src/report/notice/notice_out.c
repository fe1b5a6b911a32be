/* notice_out.c - a notice on one page, and as plain text for a mail. */
#include "report/notice/notice_impl.h"

#include "report/draw/page.h"
#include "tenterbook/outfile.h"
#include "tenterbook/utf8.h"

#include <cairo-pdf.h>
#include <stdlib.h>
#include <string.h>

#define TEXT_COLUMNS 78

/* --- plain text ------------------------------------------------------------------------------------------------- */

/* Words set into lines; continued lines are indented. Line breaks of the text itself are kept. */
static void wrap(struct tb_text *out, const char *text, size_t at, size_t indent)
{
    for (const char *p = text; *p;) {
        size_t n = strcspn(p, " \n");
        char *word = tb_strndup(p, n);
        size_t columns = tb_utf8_columns(word);

        if (at > indent && at + columns + 1 > TEXT_COLUMNS) {
            tb_text_addf(out, "\n%*s", (int)indent, "");
            at = indent;
        } else if (at > indent && n) {
            tb_text_addc(out, ' ');
            at++;
        }
        tb_text_add(out, word);
        at += columns;
        free(word);
        p += n;
        if (*p == '\n') {
            tb_text_addf(out, "\n%*s", (int)indent, "");
            at = indent;
        }
        p += *p != '\0';
    }
    tb_text_addc(out, '\n');
}

static void as_text(void *arg, const struct notice_block *b)
{
    struct tb_text *out = arg;

    switch (b->kind) {
    case NOTICE_TITLE:
        tb_text_addf(out, "%s\n\n", b->text);
        return;
    case NOTICE_PAIR:
        if (!*b->text)
            return;
        tb_text_addf(out, "%s:%*s", b->label,
                     tb_utf8_columns(b->label) < 19 ? (int)(19 - tb_utf8_columns(b->label)) : 1, "");
        wrap(out, b->text, 20, 20);
        return;
    case NOTICE_HEADING:
        tb_text_addf(out, "\n%s\n", b->text);
        return;
    case NOTICE_QUOTE:
        tb_text_addf(out, "  \"%s\"\n", b->text); /* word for word: never broken */
        return;
    case NOTICE_ITEM:
        tb_text_add(out, "- ");
        wrap(out, b->text, 2, 2);
        return;
    default:
        if (b->kind == NOTICE_SMALL)
            tb_text_addc(out, '\n');
        wrap(out, b->text, 0, 0);
    }
}

void tb_notice_text(struct tb_text *out, const struct tb_notice *n)
{
    tb_notice_walk(n, as_text, out);
    tb_text_addf(out, _("\nLot %s, %s\n"), n->lot, n->state);
}

/* --- the page --------------------------------------------------------------------------------------------------- */

static void as_page(void *arg, const struct notice_block *b)
{
    struct page *p = arg;
    struct tb_text t = { 0 };

    switch (b->kind) {
    case NOTICE_TITLE:
        tb_page_title(p, b->text);
        break;
    case NOTICE_PAIR:
        tb_page_pair(p, b->label, b->text);
        break;
    case NOTICE_HEADING:
        tb_page_heading(p, b->text);
        break;
    case NOTICE_QUOTE:
        tb_page_quote(p, b->text);
        break;
    case NOTICE_SMALL:
        tb_page_gap(p, 4);
        tb_page_small(p, b->text);
        break;
    case NOTICE_ITEM:
        tb_text_addf(&t, "\xE2\x80\xA2 %s", b->text);
        tb_page_text(p, t.s);
        break;
    default:
        tb_page_text(p, b->text);
    }
    tb_text_free(&t);
}

static cairo_status_t to_text(void *arg, const unsigned char *p, unsigned n)
{
    if (arg)
        tb_text_addn(arg, (const char *)p, n);
    return CAIRO_STATUS_SUCCESS;
}

/* One drawing; without a place for the bytes it counts the pages only. */
static cairo_status_t draw(struct tb_text *out, int *pages, const struct tb_notice *n)
{
    cairo_surface_t *pdf = cairo_pdf_surface_create_for_stream(to_text, out, PAGE_WIDTH, PAGE_HEIGHT);
    struct tb_text title = { 0 }, foot = { 0 }, made = { 0 };
    struct page p = { .total = 1, .tagged = true };
    cairo_status_t st;

    tb_text_addf(&title, _("Notice %s, %s"), n->lot, n->supplier);
    tb_text_addf(&foot, _("Notice %s \xC2\xB7 %s"), n->lot, n->state);
    tb_text_addf(&made, "%sT00:00:00Z", n->day);
    cairo_pdf_surface_set_metadata(pdf, CAIRO_PDF_METADATA_TITLE, title.s);
    cairo_pdf_surface_set_metadata(pdf, CAIRO_PDF_METADATA_CREATE_DATE, made.s);
    p.foot = foot.s;
    p.c = cairo_create(pdf);
    tb_page_begin(&p);
    tb_notice_walk(n, as_page, &p);
    tb_page_end(&p);
    *pages = p.number;
    st = cairo_status(p.c);
    cairo_destroy(p.c);
    cairo_surface_finish(pdf);
    if (st == CAIRO_STATUS_SUCCESS)
        st = cairo_surface_status(pdf);
    cairo_surface_destroy(pdf);
    tb_text_free(&title);
    tb_text_free(&foot);
    tb_text_free(&made);
    return st;
}

static size_t fewer(size_t n)
{
    return n > 8 ? n * 3 / 4 : n - 1;
}

/* The longest lists that leave the notice on one page: the case file has the rest. */
static cairo_status_t fit(int *pages, struct tb_notice *n)
{
    cairo_status_t st;

    n->seen_shown = n->seens < 40 ? n->seens : 40;
    n->bolts_shown = n->bolts < 120 ? n->bolts : 120;
    while ((st = draw(NULL, pages, n)) == CAIRO_STATUS_SUCCESS && *pages > 1) {
        if (n->seen_shown > 6)
            n->seen_shown = fewer(n->seen_shown);
        else if (n->bolts_shown > 24)
            n->bolts_shown = fewer(n->bolts_shown);
        else if (n->seen_shown > 1)
            n->seen_shown = fewer(n->seen_shown);
        else if (n->bolts_shown > 1)
            n->bolts_shown = fewer(n->bolts_shown);
        else
            break;
    }
    return st;
}

tb_rc tb_notice_pdf(struct tb_text *out, struct tb_notice *n, struct tb_err *err)
{
    int pages = 0;
    cairo_status_t st = fit(&pages, n);

    if (st == CAIRO_STATUS_SUCCESS && pages > 1)
        return tb_fail(err, TB_EINVAL,
                       "the notice on lot %s does not go on one page: what is declared or asked is too long",
                       n->lot);
    if (st == CAIRO_STATUS_SUCCESS)
        st = draw(out, &pages, n);
    if (st == CAIRO_STATUS_SUCCESS)
        return TB_OK;
    (void)tb_fail(err, TB_EIO, "the notice on lot %s cannot be drawn", n->lot);
    tb_detail(err, "cairo: %s", cairo_status_to_string(st));
    return TB_EIO;
}

static tb_rc write_part(struct tb_outfile *out, const char *path, const struct tb_text *t, struct tb_err *err)
{
    tb_rc rc = tb_outfile_open(out, path, err);

    if (rc == TB_OK && fwrite(t->s, 1, t->n, out->f) != t->n)
        rc = tb_fail(err, TB_EIO, "%s cannot be written: the disk is full or failed", path);
    return rc == TB_OK ? tb_outfile_settle(out, err) : rc;
}

tb_rc tb_notice_write(const char *path, struct tb_notice *n, struct tb_err *err)
{
    struct tb_text pdf = { 0 }, text = { 0 }, beside = { 0 };
    struct tb_outfile a = { 0 }, b = { 0 };
    size_t len = strlen(path);
    tb_rc rc;

    if (len < 5 || strcmp(path + len - 4, ".pdf") != 0)
        return tb_fail(err, TB_EINVAL, "%s: the name of a notice ends in .pdf", path);
    tb_text_addn(&beside, path, len - 4);
    tb_text_add(&beside, ".txt");
    /* the page first: it decides how much both say */
    if ((rc = tb_notice_pdf(&pdf, n, err)) == TB_OK) {
        tb_notice_text(&text, n);
        if ((rc = write_part(&a, path, &pdf, err)) == TB_OK &&
            (rc = write_part(&b, beside.s, &text, err)) == TB_OK &&
            (rc = tb_outfile_commit(&b, err)) == TB_OK)
            rc = tb_outfile_commit(&a, err);
    }
    tb_outfile_drop(&a);
    tb_outfile_drop(&b);
    tb_text_free(&pdf);
    tb_text_free(&text);
    tb_text_free(&beside);
    return rc;
}
