/* notice_page.c - a notice on its pages, and all its files. */
#include "report/notice/notice_impl.h"

#include "report/draw/page.h"
#include "report/draw/paper.h"
#include "report/draw/qr.h"

#include <string.h>

#define SEEN_MOST 40 /* sentences, bolts: more never fit */
#define BOLTS_MOST 120

/* How it is drawn, and what that came to. */
struct form {
    int pages;     /* as many as were counted; 0: not yet */
    bool close;    /* words a little smaller */
    bool together; /* what is asked for begins a page, with all that comes after */
    bool alone;    /* the signature stands on another page than the words above it */
};

struct drawing {
    const struct tb_notice *notice;
    struct page page;
    const char *reach; /* how to reach the sender: the lines below its name */
    struct form *form;
};

/* The name of the sender over a rule, as on writing paper; the lines below it go beside the recipient. */
static void sender(struct drawing *d, const char *lines)
{
    struct tb_text name = { 0 };
    size_t n = strcspn(lines, "\n");

    tb_text_addn(&name, lines, n);
    tb_page_heading(&d->page, name.s);
    tb_page_need(&d->page, 0); /* drawn now: the page keeps no words of its own */
    d->reach = lines + n + (lines[n] == '\n');
    tb_text_free(&name);
}

static void item(struct page *p, const char *text)
{
    struct tb_text t = { 0 };

    tb_text_addf(&t, "\xE2\x80\xA2 %s", text);
    tb_page_text(p, t.s);
    tb_text_free(&t);
}

/* The heading of what is asked for. */
static const struct notice_block *last_heading(const struct tb_notice *n)
{
    for (size_t i = n->tails; i > 0; i--)
        if (n->tail[i - 1].kind == NOTICE_HEADING)
            return &n->tail[i - 1];
    return NULL;
}

/* Each kind of block has one form on paper. */
static void as_page(void *arg, const struct notice_block *b)
{
    struct drawing *d = arg;
    struct page *p = &d->page;
    int words_on;

    switch (b->kind) {
    case NOTICE_SENDER:
        sender(d, b->text);
        return;
    case NOTICE_ADDRESS:
        tb_page_gap(p, 4);
        tb_page_beside(p, b->text, d->reach);
        tb_page_gap(p, 6);
        return;
    case NOTICE_TITLE:
        tb_page_subject(p, b->text);
        return;
    case NOTICE_PAIR:
        tb_page_pair(p, b->label, b->text);
        return;
    case NOTICE_GREETING:
        tb_page_gap(p, 6);
        tb_page_text(p, b->text);
        return;
    case NOTICE_HEADING:
        if (d->form->together && b == last_heading(d->notice))
            tb_page_need(p, PAGE_HEIGHT);
        tb_page_lead(p, b->text);
        return;
    case NOTICE_QUOTE:
        tb_page_quote(p, b->text);
        return;
    case NOTICE_ITEM:
        item(p, b->text);
        return;
    case NOTICE_SIGN:
        words_on = p->number;
        tb_page_gap(p, 4);
        tb_page_sign(p, b->label, b->text, d->notice->anchor);
        d->form->alone = p->number > words_on;
        return;
    case NOTICE_SMALL:
        tb_page_small(p, b->text);
        return;
    default:
        tb_page_text(p, b->text);
    }
}

static void draw_notice(cairo_t *c, void *arg)
{
    struct drawing *d = arg;

    d->page.c = c;
    tb_page_begin(&d->page);
    tb_notice_walk(d->notice, as_page, d);
    tb_page_small(&d->page, tb_tr(d->notice->tongue, TB_ANCHOR_WORDS));
    tb_page_end(&d->page);
}

/* One drawing; without a place for the bytes it counts the pages only. */
static tb_rc draw(struct tb_text *out, struct form *form, const struct tb_notice *n, struct tb_err *err)
{
    struct tb_text title = { 0 }, foot = { 0 }, made = { 0 };
    struct drawing d = {
        .notice = n,
        .form = form,
        .page = { .total = form->pages, .tagged = true, .close = form->close, .tongue = n->tongue }
    };
    struct paper how = { .width = PAGE_WIDTH,
                         .height = PAGE_HEIGHT,
                         .language = tb_word(&tb_tongue_words, (int)n->tongue) };
    tb_rc rc;

    tb_text_addf(&title, "%s, %s", n->subject, n->to_name);
    tb_text_addf(&foot, "%s \xC2\xB7 %s", n->subject, n->state);
    tb_text_addf(&made, "%sT00:00:00Z", n->day);
    how.title = title.s;
    how.created = made.s;
    d.page.foot = foot.s;
    if ((rc = tb_paper_pdf(out, &how, draw_notice, &d, err)) == TB_OK)
        rc = tb_page_coded(&d.page, err);
    form->pages = d.page.number;
    tb_text_free(&title);
    tb_text_free(&foot);
    tb_text_free(&made);
    return rc == TB_OK ? TB_OK : tb_within(err, rc, "notice on lot %s", n->now.lot.ref);
}

/* Large steps first: every try draws the page again. */
static size_t fewer(size_t n)
{
    return n > 8 ? n * 3 / 4 : n - 1;
}

/* The longest lists that leave the notice on its pages: the case file has the rest. */
static tb_rc shorten(struct form *form, struct tb_notice *n, struct tb_err *err)
{
    tb_rc rc;

    n->seen_shown = n->seens < SEEN_MOST ? n->seens : SEEN_MOST;
    n->bolts_shown = n->bolts < BOLTS_MOST ? n->bolts : BOLTS_MOST;
    while ((rc = draw(NULL, form, n, err)) == TB_OK && form->pages > TB_NOTICE_PAGES) {
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

/* Set closer where that saves a page; where it does not, a signature does not stand alone on the last. */
static tb_rc fit(struct form *form, struct tb_notice *n, struct tb_err *err)
{
    struct form closer = { .close = true }, together = { .together = true };
    tb_rc rc = shorten(form, n, err);

    if (rc != TB_OK || form->pages < 2)
        return rc;
    if ((rc = draw(NULL, &closer, n, err)) == TB_OK && closer.pages < form->pages)
        *form = closer;
    else if (rc == TB_OK && form->alone && (rc = draw(NULL, &together, n, err)) == TB_OK &&
             together.pages == form->pages)
        *form = together;
    return rc;
}

tb_rc tb_notice_pdf(struct tb_text *out, struct tb_notice *n, struct tb_err *err)
{
    struct form form = { 0 };
    tb_rc rc = fit(&form, n, err);

    if (rc == TB_OK && form.pages > TB_NOTICE_PAGES)
        return tb_fail(err, TB_EINVAL,
                       "the notice on lot %s does not go on %d pages: what is declared or asked is too long",
                       n->now.lot.ref, TB_NOTICE_PAGES);
    return rc == TB_OK ? draw(out, &form, n, err) : rc;
}

/* The name in the end of a path, of the file that is attached. */
static const char *last_name(const char *path)
{
    const char *slash = strrchr(path, '/');

    return slash ? slash + 1 : path;
}

/* The same name with another ending; what is empty is not written. */
static tb_rc put_beside(struct tb_outset *files, const char *path, const char *ending,
                        const struct tb_text *bytes, struct tb_err *err)
{
    struct tb_text beside = { 0 };
    tb_rc rc = TB_OK;

    tb_text_addn(&beside, path, strlen(path) - strlen(".pdf"));
    tb_text_add(&beside, ending);
    if (bytes->n)
        rc = tb_paper_put(files, beside.s, ending, bytes, err);
    tb_text_free(&beside);
    return rc;
}

/* Another ending is refused by the set, before anything is cut off it. */
tb_rc tb_notice_write(struct tb_outset *files, const char *path, struct tb_notice *n, struct tb_err *err)
{
    struct tb_text pdf = { 0 }, text = { 0 }, mail = { 0 };
    tb_rc rc = tb_notice_pdf(&pdf, n, err);

    /* the page first: it decides how much the others say */
    if (rc == TB_OK && (rc = tb_paper_put(files, path, ".pdf", &pdf, err)) == TB_OK) {
        tb_notice_text(&text, n);
        tb_notice_mail(&mail, n, &pdf, last_name(path));
        rc = put_beside(files, path, ".txt", &text, err);
        if (rc == TB_OK)
            rc = put_beside(files, path, ".eml", &mail, err);
    }
    tb_text_free(&pdf);
    tb_text_free(&text);
    tb_text_free(&mail);
    return rc;
}
