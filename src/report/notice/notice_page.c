/* notice_page.c - a notice on one page, and both its files. */
#include "report/notice/notice_impl.h"

#include "report/draw/page.h"
#include "report/draw/paper.h"

#include <string.h>

#define SEEN_MOST 40 /* sentences, bolts: more never fit */
#define BOLTS_MOST 120

/* Each kind of block has one form on paper. */
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

struct drawing {
    const struct tb_notice *notice;
    struct page page;
};

static void draw_notice(cairo_t *c, void *arg)
{
    struct drawing *d = arg;

    d->page.c = c;
    tb_page_begin(&d->page);
    tb_notice_walk(d->notice, as_page, &d->page);
    tb_page_anchor(&d->page, d->notice->anchor);
    tb_page_end(&d->page);
}

/* One drawing; without a place for the bytes it counts the pages only. */
static tb_rc draw(struct tb_text *out, int *pages, const struct tb_notice *n, struct tb_err *err)
{
    struct tb_text title = { 0 }, foot = { 0 }, made = { 0 };
    struct drawing d = { n, { .total = 1, .tagged = true } };
    struct paper how = { .width = PAGE_WIDTH, .height = PAGE_HEIGHT };
    tb_rc rc;

    tb_text_addf(&title, _("Notice %s, %s"), n->lot, n->supplier);
    tb_text_addf(&foot, _("Notice %s \xC2\xB7 %s"), n->lot, n->state);
    tb_text_addf(&made, "%sT00:00:00Z", n->day);
    how.title = title.s;
    how.created = made.s;
    d.page.foot = foot.s;
    if ((rc = tb_paper_pdf(out, &how, draw_notice, &d, err)) == TB_OK)
        rc = tb_page_coded(&d.page, err);
    *pages = d.page.number;
    tb_text_free(&title);
    tb_text_free(&foot);
    tb_text_free(&made);
    return rc == TB_OK ? TB_OK : tb_within(err, rc, _("notice on lot %s"), n->lot);
}

/* Large steps first: every try draws the page again. */
static size_t fewer(size_t n)
{
    return n > 8 ? n * 3 / 4 : n - 1;
}

/* The longest lists that leave the notice on one page: the case file has the rest. */
static tb_rc fit(int *pages, struct tb_notice *n, struct tb_err *err)
{
    tb_rc rc;

    n->seen_shown = n->seens < SEEN_MOST ? n->seens : SEEN_MOST;
    n->bolts_shown = n->bolts < BOLTS_MOST ? n->bolts : BOLTS_MOST;
    while ((rc = draw(NULL, pages, n, err)) == TB_OK && *pages > 1) {
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
    return rc;
}

tb_rc tb_notice_pdf(struct tb_text *out, struct tb_notice *n, struct tb_err *err)
{
    int pages = 0;
    tb_rc rc = fit(&pages, n, err);

    if (rc == TB_OK && pages > 1)
        return tb_fail(err, TB_EINVAL,
                       "the notice on lot %s does not go on one page: what is declared or asked is too long",
                       n->lot);
    return rc == TB_OK ? draw(out, &pages, n, err) : rc;
}

/* Another ending is refused by the set, before anything is cut off it. */
tb_rc tb_notice_write(struct tb_outset *files, const char *path, struct tb_notice *n, struct tb_err *err)
{
    struct tb_text pdf = { 0 }, text = { 0 }, beside = { 0 };
    tb_rc rc = tb_notice_pdf(&pdf, n, err);

    /* the page first: it decides how much both say */
    if (rc == TB_OK && (rc = tb_paper_put(files, path, ".pdf", &pdf, err)) == TB_OK) {
        tb_notice_text(&text, n);
        tb_text_addn(&beside, path, strlen(path) - strlen(".pdf"));
        tb_text_add(&beside, ".txt");
        rc = tb_paper_put(files, beside.s, ".txt", &text, err);
    }
    tb_text_free(&pdf);
    tb_text_free(&text);
    tb_text_free(&beside);
    return rc;
}
