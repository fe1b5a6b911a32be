/* case_void.c - what was recorded of the lot by mistake, and what was amended: a case hides neither. */
#include "report/case/case_page.h"
#include "tenterbook/tell.h"

#include <string.h>

/* Line by line, as any other page tells it. */
static void lines(struct page *p, const struct tb_text *words)
{
    struct tb_text one = { 0 };

    for (const char *s = tb_text_str(words); *s; s += strcspn(s, "\n"), s += *s == '\n') {
        tb_text_clear(&one);
        tb_text_addn(&one, s, strcspn(s, "\n"));
        tb_page_text(p, tb_text_str(&one));
    }
    tb_text_free(&one);
}

void tb_case_void(struct case_page *c)
{
    const struct tb_lot_story *of = &c->story->of;
    struct tb_text words = { 0 };

    if (!of->gone.n && !of->amendments)
        return;
    tb_page_heading(&c->page, tb_tr(c->page.tongue, "Recorded by mistake"));
    tb_page_text(&c->page,
                 tb_tr(c->page.tongue,
                       "What was taken back stays in the records attached, and counts nowhere on these "
                       "pages; what was amended counts as it is now."));
    tb_amendments_words(&words, c->page.tongue, of->amendment, of->amendments);
    tb_voidings_words(&words, c->page.tongue, &of->gone);
    lines(&c->page, &words);
    tb_text_free(&words);
}
