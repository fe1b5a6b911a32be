/* case_pages.c - the pages of a case as a PDF: the order a reader asks in, and the data attached. */
#include "report/case/case_page.h"
#include "report/draw/paper.h"

#include <stdlib.h>
#include <string.h>

static case_section *const order[] = {
    tb_case_front, tb_case_dispute, tb_case_joint, tb_case_asked,  tb_case_claimed, tb_case_found,
    tb_case_bench, tb_case_cues,    tb_case_burns, tb_case_photos, tb_case_limits,  tb_case_coverage,
    tb_case_void,  tb_case_custody, tb_case_words, tb_case_check,
};

/* One drawing from the first page to the last; it is done twice, so nothing in it may change the story. */
static void draw_all(cairo_t *cairo, void *arg)
{
    struct case_page *c = arg;
    struct story *s = c->story;
    struct page *p = &c->page;
    char arrived[TB_PLAIN], made[TB_PLAIN];

    (void)tb_tongue_date(arrived, s->tongue, s->of.lot.arrived);
    (void)tb_tongue_date(made, s->tongue, s->made);
    p->c = cairo;
    tb_page_begin(p);
    tb_page_title(p, tb_page_say(&c->text, tb_tr(s->tongue, "Case %s"), s->of.lot.ref));
    if (tb_book_site(s->book)->name[0])
        tb_page_text(p,
                     tb_page_say(&c->text, tb_tr(s->tongue, "Cloth of %s, received %s at %s. Made %s by %s."),
                                 s->of.lot.supplier_name, arrived, tb_book_site(s->book)->name, made, s->by));
    else
        tb_page_text(p, tb_page_say(&c->text, tb_tr(s->tongue, "Cloth of %s, received %s. Made %s by %s."),
                                    s->of.lot.supplier_name, arrived, made, s->by));
    for (size_t i = 0; i < TB_COUNT(order); i++)
        order[i](c);
    tb_page_end(p);
}

/* One drawing; total 0 counts the pages only. */
static tb_rc draw_on(struct tb_text *out, int *pages, struct story *s, int total,
                     const struct pdf_attached *attached, struct tb_err *err)
{
    struct tb_text title = { 0 }, foot = { 0 };
    struct case_page c = { .page = { .total = total, .tagged = true, .tongue = s->tongue }, .story = s };
    struct paper how = { .width = PAGE_WIDTH,
                         .height = PAGE_HEIGHT,
                         .created = s->made,
                         .attached = attached,
                         .language = tb_word(&tb_tongue_words, (int)s->tongue) };
    tb_rc rc;

    how.title = tb_page_say(&title, tb_tr(s->tongue, "Case %s, %s"), s->of.lot.ref, s->of.lot.supplier_name);
    c.page.foot = tb_page_say(&foot, tb_tr(s->tongue, "Case %s \xC2\xB7 data SHA-256 %.32s..."),
                              s->of.lot.ref, s->sha256);
    if ((rc = tb_paper_pdf(out, &how, draw_all, &c, err)) == TB_OK)
        rc = tb_page_coded(&c.page, err);
    *pages = c.page.number;
    tb_text_free(&c.text);
    tb_text_free(&title);
    tb_text_free(&foot);
    return rc;
}

/* Drawn twice: "page 2 of 7" can be written only once the pages are counted. */
static tb_rc draw_with(struct tb_text *out, struct story *s, const struct pdf_attached *attached,
                       struct tb_err *err)
{
    int pages = 0;
    tb_rc rc = draw_on(NULL, &pages, s, 0, NULL, err);

    return rc == TB_OK ? draw_on(out, &pages, s, pages, attached, err) : rc;
}

/* The data under a name that tells the lot, so that several cases can be saved side by side. */
tb_rc tb_case_pdf(struct tb_text *out, const json_t *data, struct tb_err *err)
{
    struct story s;
    struct tb_text name = { 0 };
    struct pdf_attached attached = { .media = "application/json" };
    char *text = NULL;
    tb_rc rc = tb_story_open(&s, data, err);

    if (rc != TB_OK)
        return rc;
    text = tb_case_text(data);
    attached.data = text;
    attached.size = strlen(text);
    attached.about = tb_tr(s.tongue, "the records behind the pages");
    tb_text_addf(&name, "case-%s.json", s.of.lot.ref);
    attached.name = tb_text_str(&name);
    if ((rc = tb_case_fits_a_file(text, err)) == TB_OK)
        rc = draw_with(out, &s, &attached, err);
    if (rc != TB_OK)
        rc = tb_within(err, rc, "case of lot %s", s.of.lot.ref);
    free(text);
    tb_text_free(&name);
    tb_story_close(&s);
    return rc;
}

tb_rc tb_case_write(struct tb_outset *files, const char *path, const json_t *data, struct tb_err *err)
{
    struct tb_text pdf = { 0 };
    tb_rc rc = tb_case_pdf(&pdf, data, err);

    if (rc == TB_OK)
        rc = tb_paper_put(files, path, ".pdf", &pdf, err);
    tb_text_free(&pdf);
    return rc;
}
