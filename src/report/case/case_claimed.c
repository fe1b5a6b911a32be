/* case_claimed.c - the page's first question: what is claimed, and by whom. */
#include "report/case/case_page.h"
#include "tenterbook/fibre_words.h"

#include "tenterbook/tell.h"

#include <string.h>

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
    char on[TB_PLAIN];

    tb_page_need(p, WORDS_ROOM);
    tb_page_heading(p, tb_tr(s->tongue, "What is claimed, and by whom"));
    if (s->of.declareds)
        tb_page_text(
            p, tb_page_say(t, tb_tr(s->tongue, "%s declares of this cloth, in these words:"), d->written_as));
    else
        tb_page_text(p, tb_page_say(t, tb_tr(s->tongue, "%s declares nothing of what this cloth is made of."),
                                    d->written_as));
    if (strcmp(d->written_as, s->of.lot.supplier_name) != 0)
        tb_page_small(p, tb_page_say(t, tb_tr(s->tongue, "By our records %s and %s are one supplier."),
                                     d->written_as, s->of.lot.supplier_name));
    for (size_t i = 0; i < s->of.declareds; i++) {
        const struct tb_declared *one = &s->of.declared[i];
        struct tb_text reading = { 0 };

        if (one->origin == TB_ORIGIN_RELABEL) /* ours: the other side said no such thing */
            continue;
        (void)tb_tongue_date(on, s->tongue, one->at);
        tb_composition_in(&reading, s->tongue, one->reading);
        tb_page_quote(p, one->text[0] ? one->text : tb_tr(s->tongue, "(nothing was declared)"));
        tb_page_small(
            p,
            one->reading[0]
                ? tb_page_say(t, tb_tr(s->tongue, "recorded %s by %s; read as: %s"), on, one->person,
                              tb_text_str(&reading))
                : tb_page_say(
                      t, tb_tr(s->tongue, "recorded %s by %s; read as: nothing that can be read for certain"),
                      on, one->person));
        tb_text_free(&reading);
        if (tb_story_slip(&s->of, i))
            tb_page_small(p, tb_page_say(t, tb_tr(s->tongue, "These words were typed here by mistake: %s"),
                                         tb_story_slip(&s->of, i)));
    }
    if (s->of.lot.own_words)
        tb_page_small(
            p, tb_tr(s->tongue, "Since then the cloth carries a label of ours. Nothing here rests on it."));
    tb_page_pair(p, tb_tr(s->tongue, "Delivery"),
                 d->note[0] ? tb_page_say(t, tb_tr(s->tongue, "%s, note %s"), d->ref, d->note) : d->ref);
    tb_page_pair(p, tb_tr(s->tongue, "Order"), d->order_no);
    tb_page_pair(p, tb_tr(s->tongue, "Date of the note"),
                 tb_tongue_date(on, s->tongue, d->note_day ? d->note_day : ""));
    tb_page_pair(p, tb_tr(s->tongue, "Arrived"), tb_tongue_date(on, s->tongue, d->arrived));
    tb_page_pair(p, tb_tr(s->tongue, "Article"), s->of.lot.article);
    tb_page_pair(p, tb_tr(s->tongue, "Colour, dye lot"),
                 s->of.lot.dye_lot[0]
                     ? tb_page_say(t, tb_tr(s->tongue, "%s, %s"), s->of.lot.colour, s->of.lot.dye_lot)
                     : s->of.lot.colour);
    tb_page_pair(p, tb_tr(s->tongue, "Origin as stated"), s->of.lot.origin);
    tb_text_clear(t);
    tb_remark_words(t, s->tongue, d->remark);
    tb_page_pair(p, tb_tr(s->tongue, "Remark at the door"), tb_text_str(t));
    if (d->file_digest[0])
        tb_page_small(
            p, tb_page_say(t, tb_tr(s->tongue, "The supplier's file %s was taken in unchanged; SHA-256 %s"),
                           d->file_name, d->file_digest));
}
