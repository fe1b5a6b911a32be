/* case_claimed.c - the page's first question: what is claimed, and by whom. */
#include "report/case/case_page.h"

#define WORDS_ROOM                                                                                           \
    110 /* points: the heading, the sentence below it and the words, which are not torn apart */

/*
 * The supplier's own words come first and whole; how they were read stands below in small letters, since a reading is ours.
 */
void tb_case_claimed(struct case_page *c)
{
    struct page *p = &c->page;
    struct tb_text *t = &c->text;
    const struct story *s = c->story;
    const struct tb_delivery *d = &s->delivery;

    tb_page_need(p, WORDS_ROOM);
    tb_page_heading(p, _("What is claimed, and by whom"));
    if (s->of.declareds)
        tb_page_text(
            p, tb_page_say(t, _("%s declares of this cloth, in these words:"), s->of.lot.supplier_name));
    else
        tb_page_text(p, tb_page_say(t, _("%s declares nothing of what this cloth is made of."),
                                    s->of.lot.supplier_name));
    for (size_t i = 0; i < s->of.declareds; i++) {
        const struct tb_declared *one = &s->of.declared[i];

        if (one->origin == TB_ORIGIN_RELABEL) /* ours: the other side said no such thing */
            continue;
        tb_page_quote(p, one->text[0] ? one->text : _("(nothing was declared)"));
        tb_page_small(
            p, one->reading[0]
                   ? tb_page_say(t, _("recorded %.*s by %s; read as: %s"), DAY(one->at), one->person,
                                 one->reading)
                   : tb_page_say(t, _("recorded %.*s by %s; read as: nothing that can be read for certain"),
                                 DAY(one->at), one->person));
    }
    if (s->of.lot.own_words)
        tb_page_small(
            p, tb_page_say(
                   t, _("Since then the cloth carries a label of ours: \"%s\". Nothing here rests on it."),
                   s->of.lot.declared));
    tb_page_pair(p, _("Delivery"), d->note[0] ? tb_page_say(t, _("%s, note %s"), d->ref, d->note) : d->ref);
    tb_page_pair(p, _("Order"), d->order_no);
    tb_page_pair(p, _("Date of the note"), d->note_day ? d->note_day : "");
    tb_page_pair(p, _("Arrived"), d->arrived);
    tb_page_pair(p, _("Article"), s->of.lot.article);
    tb_page_pair(p, _("Colour, dye lot"),
                 s->of.lot.dye_lot[0] ? tb_page_say(t, "%s, %s", s->of.lot.colour, s->of.lot.dye_lot)
                                      : s->of.lot.colour);
    tb_page_pair(p, _("Origin as stated"), s->of.lot.origin);
    tb_page_pair(p, _("Remark at the door"), d->remark);
    if (d->file_digest[0])
        tb_page_small(p, tb_page_say(t, _("The supplier's file %s was taken in unchanged; SHA-256 %s"),
                                     d->file_name, d->file_digest));
}
