/* case_asked.c - what is at stake, and what the supplier is asked. */
#include "report/case/case_page.h"
#include "tenterbook/tell.h"

#include <math.h>

/* As declared, since nobody measured it here; a value only where a price is recorded. */
void tb_case_stake(struct case_page *c)
{
    struct page *p = &c->page;
    struct tb_text *t = &c->text;
    const struct tb_lot *lot = &c->story->of.lot;
    struct tb_lengths lengths = tb_lengths_of(lot);
    struct tb_text length = { 0 };

    tb_page_heading(p, _("What is at stake"));
    tb_page_pair(p, _("Bolts"), tb_page_say(t, "%lld", (long long)lot->bolts));
    lengths.tenths = true;
    tb_length_words(&length, &lengths);
    tb_page_pair(p, _("Length"), tb_page_say(t, _("%s as declared"), length.s));
    tb_text_free(&length);
    if (isfinite(lot->unit_price)) {
        tb_page_pair(p, _("Price"), tb_page_say(t, _("%.2f %s a metre"), lot->unit_price, lot->currency));
        tb_page_pair(p, _("Value"),
                     isnan(lot->metres) || lot->unknown
                         ? _("not known: goods counted in kilograms, whose length is not known")
                         : tb_page_say(t, "%.2f %s", lot->unit_price * lot->metres, lot->currency));
    } else {
        tb_page_pair(p, _("Value"), _("no price is recorded"));
    }
}

/* Without words of the buyer a question that leads on: records, and a joint sample. */
void tb_case_asked(struct case_page *c)
{
    struct page *p = &c->page;
    const char *words = c->story->asked, *day = c->story->answer_by;

    tb_page_heading(p, _("What is asked"));
    tb_page_text(
        p, words[0]
               ? words
               : _("Please say what you know of this cloth: the yarn and its maker, the records of this lot, "
                   "any analysis you hold. Please say whether you agree to a joint sample, drawn from bolts "
                   "both sides choose, sealed before both, and analysed by a laboratory both accept."));
    if (day[0])
        tb_page_pair(p, _("Answer asked by"), day);
}
