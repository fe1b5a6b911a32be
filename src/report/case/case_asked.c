/* case_asked.c - what the supplier is asked, and who signs for it. */
#include "report/case/case_page.h"

#define LINE_ROOM 34.0 /* points above the line that is signed on */

/* A line for each: whoever prints the file signs it by hand. */
static void signature(struct case_page *c)
{
    struct page *p = &c->page;
    const char *const below[] = { _("Place, day"), _("Name, for the buyer"), _("Signature") };
    const struct pen_words how = { .size = 7.5, .width = PAGE_ROOM / 3 - 16 };
    double y;

    tb_page_need(p, LINE_ROOM + 16);
    y = p->y + LINE_ROOM;
    for (size_t i = 0; i < TB_COUNT(below); i++) {
        double x = PAGE_LEFT + (double)i * PAGE_ROOM / 3;

        tb_pen_ink(p->c, PEN_INK);
        tb_pen_line(p->c, x, y, x + PAGE_ROOM / 3 - 16, y, 0.6);
        tb_page_label(p, x, y + 3, &how, below[i]);
    }
    p->y = y + 16;
}

/* Without words of the buyer a question that leads on: records, and a joint sample where there is none yet. */
void tb_case_asked(struct case_page *c)
{
    struct page *p = &c->page;
    const char *words = c->story->asked, *day = c->story->answer_by;

    tb_page_heading(p, _("What is asked"));
    if (words[0])
        tb_page_text(p, words);
    else if (c->story->of.joints)
        tb_page_text(
            p, _("Please say what you know of this cloth: the yarn and its maker, the records of this lot, "
                 "any analysis you hold."));
    else
        tb_page_text(
            p, _("Please say what you know of this cloth: the yarn and its maker, the records of this lot, "
                 "any analysis you hold. Please say whether you agree to a joint sample, drawn from bolts "
                 "both sides choose, sealed before both, and analysed by a laboratory both accept."));
    if (day[0])
        tb_page_pair(p, _("Answer asked by"), day);
    signature(c);
}
